package drawing

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// Day is the stretch that a day card is for.
type Day struct {
	Leg      string          // empty: that of From, or all legs
	From, To string          // places in laying order; empty: from the first on, or to the last
	Count    int             // how many places at the most; 0: as many as there are
	HI       *measure.Length // height of the instrument, where it stands already: rod readings are worked out for it
}

// The measures of a day card in mm: A4, or Letter in the United States.
const (
	letterLong, letterShort = 279.4, 215.9
	dayRowHigh              = 8.4
	dayFigures              = 2.5
	dayGroupHigh            = 4.6
	dayFoot                 = 28.0
)

// DayCards are pages for a stretch of a leg to be filled in where it is laid: one row a place in laying order, planned values beside
// empty boxes. Each group of boxes is one record of its kind, so that a row is keyed in as it stands. An error says which place or
// leg there is not.
func DayCards(p planner.Plan, j job.Job, style Style, of Day) ([]scene.Page, error) {
	d := newDraft(p, j, style)
	stretches, err := d.dayStretches(of)
	if err != nil {
		return nil, err
	}
	var forms []*form
	for _, s := range stretches {
		for len(s.units) > 0 {
			f := d.dayForm(s, s.units, of)
			n := min(len(s.units), max(1, int((f.page.Height-formEdge-dayFoot-f.y-dayGroupHigh-d.dayHeads())/dayRowHigh)))
			f = d.dayForm(s, s.units[:n], of)
			f.page.Name, f.page.Title = fmt.Sprintf("day-%d", len(forms)+1), "Day card "+d.dayPlaces(s.units[:n])
			d.dayGrid(f, s, s.units[:n], of)
			d.dayEnd(f)
			forms = append(forms, f)
			s.units = s.units[n:]
		}
	}
	var pages []scene.Page
	for i, f := range forms {
		f.add(scene.Text{At: scene.Point{X: f.right - codeSideDay, Y: formEdge + 5}, String: fmt.Sprintf("card %d of %d", i+1, len(forms)), Size: 2.6, Align: scene.Right})
		f.page.Level = 0
		pages = append(pages, f.page)
	}
	return pages, nil
}

// dayStretch are units of one leg in laying order.
type dayStretch struct {
	leg   int
	units []int // indices of the plan
	back  bool  // the leg is laid against its chainage
}

// dayStretches are what a day card is asked for, leg by leg.
func (d *draft) dayStretches(of Day) ([]dayStretch, error) {
	name := of.Leg
	for _, place := range []string{of.From, of.To} {
		if place == "" {
			continue
		}
		u, ok := d.units[place]
		if !ok {
			return nil, fmt.Errorf("there is no place %q on this run", place)
		}
		if leg := d.plan.Units[u].Leg; name == "" {
			name = leg
		} else if leg != name {
			return nil, fmt.Errorf("%s is not on leg %s: a day card is for places of one leg", place, name)
		}
	}
	var out []dayStretch
	for i, l := range d.plan.Legs {
		if len(d.of[i]) == 0 || name != "" && l.Name != name {
			continue
		}
		s := dayStretch{leg: i, units: slices.Clone(d.of[i]), back: l.LaidFrom == l.To && l.To != l.From}
		if s.back {
			slices.Reverse(s.units)
		}
		at := func(place string, none int) int {
			if place == "" {
				return none
			}
			return slices.Index(s.units, d.units[place])
		}
		from, to := at(of.From, 0), at(of.To, len(s.units)-1)
		from, to = min(from, to), max(from, to)
		s.units = s.units[from : to+1]
		if of.Count > 0 {
			s.units = s.units[:min(of.Count, len(s.units))]
		}
		out = append(out, s)
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("there is no leg %q with %s on this run", name, d.words.units)
	}
	return out, nil
}

func (d *draft) dayPlaces(units []int) string {
	first, last := d.plan.Units[units[0]].Mark, d.plan.Units[units[len(units)-1]].Mark
	if first == last {
		return first
	}
	return first + " to " + last
}

// dayForm is a card down to where its rows begin, its code in the upper right corner.
func (d *draft) dayForm(s dayStretch, units []int, of Day) *form {
	width, height := checkLong, checkShort
	if d.job.Words == job.US {
		width, height = letterLong, letterShort
	}
	stretch := d.dayPlaces(units)
	_, unit, _ := d.coordinateUnit()
	f := newForm(width-codeSideDay, height, "day", "Day card "+stretch, joined(" · ", d.plan.Job.Name, d.stated(), "levels in "+unit+", "+d.plan.Job.HeightDatum), "")
	f.page.Width, f.page.Frame = width, scene.BoxAt(scene.Point{}, width, height).Inset(formEdge-6)
	f.y += 0.6
	f.words(scene.Bold, 2.3, "Code: "+d.code(stretch)+"   ·   laid from "+d.plan.Legs[s.leg].LaidFrom+" on, first row first. Far end: where the next one is laid on. Left and right looking "+d.words.upChainage+".")
	stands := capital(d.words.instrument) + " less the level is what the " + d.words.rod + " is to read; write the reading or the level, and which."
	if of.HI != nil {
		stands = "The " + d.words.rod + " readings hold for a " + d.words.instrument + " of " + d.levelFigure(new(of.HI.Metres())) + " " + unit + " alone: set up anew, work them out anew."
	}
	f.words(scene.Regular, 2, stands+" Off: ahead + of its place along the laying, behind −; off, line and gaps in "+d.bareUnit()+". Leave empty what was not measured; a tick says done, within and no more.")
	f.blanks(blank{"person", 2}, blank{"date", 1}, blank{"instrument, number", 2}, blank{d.words.instrument, 2}, blank{"ground, weather", 3})
	f.right += codeSideDay
	f.add(codeMarks(d.code(stretch), func(module float64) scene.Point {
		return scene.Point{X: f.right + float64(codeQuiet*module) - codeSideDay, Y: formEdge - float64(codeQuiet*module)}
	}, codeSideDay)...)
	f.y = max(f.y+2.5, formEdge+codeSideDay)
	return f
}

// bareUnit is what a small figure without a unit is taken in where the card is keyed in.
func (d *draft) bareUnit() string {
	if d.style.Format.System == measure.Imperial {
		return "inches"
	}
	return "mm"
}

// dayGroup are the boxes that one record comes from.
type dayGroup struct {
	kind    field.Kind
	of      string // what a level is of
	name    string
	columns []formColumn
	figures func(s dayStretch, u int) []string // what is printed in its columns
}

// dayHeads is how high the heads of the columns may stand, mm.
func (d *draft) dayHeads() float64 { return 11 }

func (d *draft) dayGroups(of Day) []dayGroup {
	box := func(head string, width float64) formColumn { return formColumn{head: head, width: width, fill: true} }
	print := func(head string, width float64) formColumn {
		return formColumn{head: head, width: width, bold: true}
	}
	places := d.places()
	groups := []dayGroup{
		{field.Set, "", "SET", []formColumn{box("set", 8), print(d.chainageHead("far end at"), 16), box("off", 11), box("line", 10)}, func(s dayStretch, u int) []string {
			r, ok := d.farRow(places, s, u)
			if !ok {
				return []string{"", ""}
			}
			return []string{"", d.chainageFigure(r.Chainage)}
		}},
		{field.Gap, "", "GAP at the far end", []formColumn{print(d.lengthHead("to hold"), 12), box("left", 11), box("right", 11)}, func(s dayStretch, u int) []string {
			if j := d.farJoint(s, u); j != nil {
				return []string{d.figure(j.Gap)}
			}
			return []string{"none"}
		}},
	}
	if !d.solvedLevels() {
		return append(groups, d.dayCovers())
	}
	wall := []formColumn{print(d.levelHead("wanted"), 15)}
	if of.HI != nil {
		wall = append(wall, print(d.levelHead(d.words.rod+" is to read"), 13))
	}
	wall = append(wall, box("read, or level", 14))
	groups = append(groups, dayGroup{field.Level, "wall", "LEVEL wall top, far end, left", wall, func(s dayStretch, u int) []string {
		_, far := d.dayLevels(places, s, u, func(l *planner.Levels) *float64 { return l.Wall })
		out := []string{d.levelFigure(far)}
		if of.HI != nil && far != nil {
			out = append(out, d.levelFigure(new(d.asPrinted(of.HI.Metres())-d.asPrinted(*far))))
		}
		return out
	}})
	on, stands, top := "bed", d.words.bedTop, func(l *planner.Levels) *float64 { return l.Underside }
	if len(d.plan.SetOut) > 0 && slices.ContainsFunc(d.plan.SetOut, func(r planner.SetOut) bool { return r.Pad != "" }) {
		on, stands, top = "pad", d.words.padTop, padTopOf
	}
	groups = append(groups, dayGroup{field.Level, on, "LEVEL " + stands + ", four corners", []formColumn{
		print(d.levelHead("near"), 15), box("left", 11), box("right", 11), print(d.levelHead("far"), 15), box("left", 11), box("right", 11),
	}, func(s dayStretch, u int) []string {
		near, far := d.dayLevels(places, s, u, top)
		return []string{d.levelFigure(near), "", "", d.levelFigure(far)}
	}})
	return append(groups, d.dayCovers())
}

func (d *draft) dayCovers() dayGroup {
	return dayGroup{field.Cover, "", "COVERS", []formColumn{{head: "laid", width: 11, fill: true}}, func(dayStretch, int) []string { return nil }}
}

// dayGrid is the rows: what is planned in print, boxes empty.
func (d *draft) dayGrid(f *form, s dayStretch, units []int, of Day) {
	groups := d.dayGroups(of)
	columns := []formColumn{{head: "place", width: 15, words: true, bold: true}, {head: "piece", width: 20, words: true}}
	var rows [][]string
	for _, g := range groups {
		columns = append(columns, g.columns...)
	}
	roomy(columns, f.right-f.left)
	for _, u := range units {
		one := d.plan.Units[u]
		piece := d.figure(one.Length)
		switch {
		case one.Hold:
			piece += " HOLD"
		case one.StartAngle != 0 || one.EndAngle != 0:
			piece += " " + d.words.mitred
		case one.Cut:
			piece += " cut"
		}
		row := []string{one.Mark, piece}
		for _, g := range groups {
			figures := g.figures(s, u)
			row = append(row, append(figures, make([]string, len(g.columns)-len(figures))...)...)
		}
		rows = append(rows, row)
	}
	top := f.y
	f.y += dayGroupHigh
	edges := f.grid(columns, rows, dayRowHigh, dayFigures)
	k := 2
	for _, g := range groups {
		left, right := edges[k], edges[k+len(g.columns)]
		k += len(g.columns)
		line, size, _ := scene.Fit(g.name, 1.9, 1.4, scene.Bold, right-left-1.8)
		f.text(left+0.9, top+3.3, size, scene.Bold, line)
		f.add(scene.Line(scene.Point{X: left, Y: top}, scene.Point{X: left, Y: f.y}, scene.Pen(scene.Thick)))
	}
	f.add(scene.Line(scene.Point{X: edges[k], Y: top}, scene.Point{X: edges[k], Y: f.y}, scene.Pen(scene.Thick)))
	f.rule(edges[2], edges[k], top, scene.Thick)
}

// roomy parts what is left of a width among the boxes to be written in.
func roomy(columns []formColumn, width float64) {
	boxes := 0
	for _, c := range columns {
		width -= c.width
		if c.fill {
			boxes++
		}
	}
	for i := range columns {
		if columns[i].fill {
			columns[i].width += width / float64(boxes)
		}
	}
}

// dayEnd is what people write in their own words.
func (d *draft) dayEnd(f *form) {
	f.blanks(blank{"remarks: damage, batches, services found, what waits", 1})
	f.blanks(blank{"", 3}, blank{"keyed in by, and when", 1})
	f.y += 2.6
	f.words(scene.Regular, 1.8, strings.TrimSpace("Each box between strong lines is one record of its kind. Take a picture of the card when it is full: it is kept beside what is keyed in."))
}

// farJoint is the joint at the far end of a unit; nil: nothing follows there.
func (d *draft) farJoint(s dayStretch, u int) *planner.Joint {
	other := u + 1
	if s.back {
		other = u - 1
	}
	if other < 0 || other >= len(d.plan.Units) || d.plan.Units[other].Leg != d.plan.Units[u].Leg {
		return nil
	}
	before, behind := min(u, other), max(u, other)
	name := d.plan.Units[before].Mark + "/" + d.plan.Units[behind].Mark
	if i := slices.IndexFunc(d.plan.Joints, func(j planner.Joint) bool { return j.Name == name }); i >= 0 {
		return &d.plan.Joints[i]
	}
	return nil
}

// farRow is the place of the set-out there.
func (d *draft) farRow(places [][]planner.SetOut, s dayStretch, u int) (planner.SetOut, bool) {
	k := u - d.of[s.leg][0] + 1
	if s.back {
		k--
	}
	if k >= len(places[s.leg]) {
		return planner.SetOut{}, false
	}
	return places[s.leg][k], true
}

// dayLevels are levels of a unit at its near and its far end as it is laid; nil: not known.
func (d *draft) dayLevels(places [][]planner.SetOut, s dayStretch, u int, of func(*planner.Levels) *float64) (near, far *float64) {
	from, to, ok := rigid(places[s.leg], u-d.of[s.leg][0], of)
	switch {
	case !ok:
		return nil, nil
	case s.back:
		return &to, &from
	}
	return &from, &to
}
