package drawing

import (
	"fmt"
	"math"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
	"trenchwright/view/schedule"
)

// ProgrammeSheets are time against chainage: each leg on its own chainage, beside the others on one axis of days that runs down the page.
// A line is the front of one work; what decides the end is heavy; each line is named where the leg ends; then the days ahead. There are
// none where the job has no programme.
func ProgrammeSheets(p planner.Plan, j job.Job, style Style) []scene.Page {
	d := newDraft(p, j, style)
	o := p.Timed(j)
	if o == nil {
		return nil
	}
	if len(o.Activities) == 0 {
		s := &sheet{draft: d, kind: "programme", title: "Programme", note: "nothing has dates yet", start: d.programmeSays(o), general: d.concerns(general)}
		s.frame(1)
		return []scene.Page{s.page}
	}
	c := newTimeChart(d, o)
	note := "down the page: days on which somebody works, from " + c.hour(c.opens) + " to " + c.hour(c.shuts) + "; across it: " + d.words.chainage + " of each leg. A line is the front of a work, heavy where it decides the end; behind the name of a work stands its gang"
	sheetOf := func(i, n int) *sheet {
		title := "Programme, time against " + d.words.chainage
		if n > 1 {
			title = fmt.Sprintf("%s, %d of %d", title, i+1, n)
		}
		s := &sheet{draft: d, kind: "programme", title: title, note: note, start: d.programmeSays(o), general: d.concerns(general)}
		s.frame(i + 1)
		return s
	}
	box := sheetOf(0, 1).free
	rows := c.rows(box.Width())
	var pages []scene.Page
	for i, legs := range rows {
		s := sheetOf(i, len(rows))
		s.add(c.drawn(s.free, legs)...)
		pages = append(pages, s.page)
	}
	return append(pages, d.listed(d.aheadListing())...)
}

// programmeSays are the lines under the head: when it ends, what is proven, what has no dates.
func (d *draft) programmeSays(o *planner.Programme) []string {
	var out []string
	if len(o.Activities) > 0 {
		out = append(out, fmt.Sprintf("from %s to %s; %s", o.Start, o.End, o.Claim))
	}
	told := map[string]bool{}
	for _, u := range o.Undated {
		text := u.Why
		if !strings.HasPrefix(text, notChecked) {
			text = u.Work + ": no dates, " + u.Why
		}
		if !told[text] {
			told[text] = true
			out = append(out, text)
		}
	}
	return out
}

// timeChart is the axis of days and the panels of legs.
type timeChart struct {
	d            *draft
	o            *planner.Programme
	days         []string // on which somebody works, in order
	at           map[string]int
	size         float64
	k            float64
	label        float64 // room for names beside a panel, mm
	axis         float64 // room for dates, mm
	opens, shuts int     // minutes of the day between which anybody works
}

// timePanel is one leg on a sheet.
type timePanel struct {
	leg       string
	low, high measure.MM
	wide      float64 // of its frame, mm
}

func newTimeChart(d *draft, o *planner.Programme) *timeChart {
	c := &timeChart{d: d, o: o, at: map[string]int{}, size: d.style.Size.small(), opens: 1440}
	c.k = c.size / 1.8
	for i := range o.Activities {
		a := &o.Activities[i]
		for n := 1; n < len(a.Front); n++ {
			if a.Front[n].Chainage != a.Front[n-1].Chainage {
				from, to := a.Front[n-1].At, a.Front[n].At
				c.at[from[:10]], c.at[to[:10]] = 0, 0
				c.opens, c.shuts = min(c.opens, minutes(from)), max(c.shuts, minutes(to))
				if from[:10] != to[:10] { // over midnight
					c.opens, c.shuts = 0, 1440
				}
			}
		}
		c.label = math.Max(c.label, scene.TextWidth(a.Work+" "+a.Gang, c.size, scene.Bold))
	}
	for _, l := range o.Loads {
		c.label = math.Max(c.label, scene.TextWidth("load "+l.ID, c.size, scene.Bold))
		if day := l.Comes[:10]; day <= o.End[:10] && day >= o.Start {
			c.at[day] = 0
		}
	}
	for day := range c.at { // sorted below
		c.days = append(c.days, day)
	}
	sorting.Ascending(c.days)
	for i, day := range c.days {
		c.at[day] = i
	}
	c.label += 6
	c.axis = scene.TextWidth("2026-04-07", c.size, scene.Regular) + float64(3*c.k)
	return c
}

// rows puts legs side by side on sheets: as wide as they are long, but none narrower than names and figures need.
func (c *timeChart) rows(width float64) [][]timePanel {
	var legs []timePanel
	long := measure.MM(0)
	for i := range c.o.Activities {
		a := &c.o.Activities[i]
		if n := len(legs); n == 0 || legs[n-1].leg != a.Leg {
			legs = append(legs, timePanel{leg: a.Leg, low: a.From, high: a.To})
		}
		l := &legs[len(legs)-1]
		l.low, l.high = min(l.low, a.From), max(l.high, a.To)
	}
	for _, l := range legs {
		long = max(long, l.high-l.low)
	}
	least, most := float64(34*c.k), float64(90*c.k)
	var out [][]timePanel
	left := 0.0
	for _, l := range legs {
		l.wide = math.Max(least, float64(most*float64(l.high-l.low)/float64(long)))
		need := l.wide + c.label
		if len(out) == 0 || need > left {
			out, left = append(out, nil), width-c.axis
		}
		out[len(out)-1] = append(out[len(out)-1], l)
		left -= need
	}
	for _, row := range out { // what is left over makes all of a sheet wider alike
		used, frames := c.axis, 0.0
		for _, l := range row {
			used, frames = used+l.wide+c.label, frames+l.wide
		}
		for i := range row {
			row[i].wide *= 1 + (width-used)/frames
		}
	}
	return out
}

// down is where a moment lies below the top of a frame: every day that is worked is as high as the others.
func (c *timeChart) down(f scene.Box, at string) float64 {
	each := f.Height() / float64(len(c.days))
	day, ok := c.at[at[:10]]
	if !ok { // a day on which nothing moves: at the end of the last one that is drawn before it
		for day = 0; day < len(c.days) && c.days[day] < at[:10]; day++ {
		}
		return f.Top + float64(float64(day)*each)
	}
	part := float64(min(max(minutes(at), c.opens), c.shuts)-c.opens) / float64(max(c.shuts-c.opens, 1))
	return f.Top + float64((float64(day)+part)*each)
}

// hour is an hour of the day as it is printed.
func (c *timeChart) hour(m int) string { return fmt.Sprintf("%02d:%02d", m/60, m%60) }

// minutes are those of the day at a moment.
func minutes(at string) int {
	var h, m int
	fmt.Sscanf(at[11:], "%d:%d", &h, &m)
	return h*60 + m
}

// drawn are the panels of one sheet.
func (c *timeChart) drawn(box scene.Box, legs []timePanel) []scene.Mark {
	f := scene.Box{Left: box.Left + c.axis, Top: box.Top + float64(14*c.k), Right: box.Right, Bottom: box.Bottom - float64(2*c.k)}
	marks := c.axisMarks(f)
	x := f.Left
	for _, l := range legs {
		marks = append(marks, c.panel(scene.Box{Left: x, Top: f.Top, Right: x + l.wide, Bottom: f.Bottom}, l)...)
		x += l.wide + c.label
	}
	return marks
}

// axisMarks name the days, as many as find room.
func (c *timeChart) axisMarks(f scene.Box) []scene.Mark {
	each := f.Height() / float64(len(c.days))
	every := max(1, int(math.Ceil(scene.LineStep(c.size)/each)))
	var marks []scene.Mark
	for i := 0; i < len(c.days); i += every {
		y := f.Top + float64(float64(i)*each)
		marks = append(marks, scene.Text{At: scene.Point{X: f.Left - float64(2*c.k), Y: y + float64(0.3*c.k)}, String: c.days[i], Size: c.size, Align: scene.Right, VAlign: scene.Top})
	}
	return marks
}

// panel is one leg: its ruler, the days, its lines and their names.
func (c *timeChart) panel(f scene.Box, l timePanel) []scene.Mark {
	thin, fine := scene.Pen(scene.Thin), scene.Pen(scene.Fine)
	x := func(at measure.MM) float64 {
		return f.Left + float64(f.Width()*float64(at-l.low)/math.Max(float64(l.high-l.low), 1))
	}
	marks := []scene.Mark{scene.Text{At: scene.Point{X: f.Left, Y: f.Top - float64(10.6*c.k)}, String: "Leg " + l.leg, Size: 1.3 * c.size, Weight: scene.Bold}}
	each := f.Height() / float64(len(c.days))
	for i := range len(c.days) + 1 {
		y := f.Top + float64(float64(i)*each)
		marks = append(marks, scene.Line(scene.Point{X: f.Left, Y: y}, scene.Point{X: f.Right, Y: y}, fine.Dashed(0.4, 1.6)))
	}
	marks = append(marks, scene.Line(scene.Point{X: f.Left, Y: f.Top}, scene.Point{X: f.Right, Y: f.Top}, thin), scene.Line(scene.Point{X: f.Left, Y: f.Top}, scene.Point{X: f.Left, Y: f.Bottom}, thin), scene.Line(scene.Point{X: f.Right, Y: f.Top}, scene.Point{X: f.Right, Y: f.Bottom}, thin))
	marks = append(marks, c.ruler(f, l, x)...)
	lines, ends, names := c.lines(f, l, x)
	marks = append(marks, lines...)
	return append(marks, endLabels(f.Right, ends, names, scene.LineStep(c.size), c.size, f)...)
}

// ruler is the chainage of a leg above its frame, with its unit.
func (c *timeChart) ruler(f scene.Box, l timePanel, x func(measure.MM) float64) []scene.Mark {
	metre, name := 1000.0, "m"
	if c.d.style.Format.System == measure.Imperial {
		metre, name = 304.8, "ft"
	}
	unit := c.d.words.chainage + ", " + name
	marks := []scene.Mark{scene.Text{At: scene.Point{X: f.Left, Y: f.Top - float64(7*c.k)}, String: unit, Size: c.size}}
	low, high := mm(l.low)/metre, mm(l.high)/metre
	step := wholeStep((high - low) / f.Width() * float64(11*c.k))
	for n := math.Ceil(low/step - 1e-9); float64(n*step) <= high; n++ {
		at := x(measure.MM(math.Round(float64(n*step) * metre * float64(measure.Millimetre))))
		marks = append(marks, scene.Line(scene.Point{X: at, Y: f.Top}, scene.Point{X: at, Y: f.Top - 1.2}, scene.Pen(scene.Thin)),
			scene.Text{At: scene.Point{X: at, Y: f.Top - 2}, String: axisFigure(float64(n*step), step), Size: c.size, Align: scene.Centre})
	}
	return marks
}

// lines are the fronts of a leg, with where each work passes the end of the leg, for its name.
func (c *timeChart) lines(f scene.Box, l timePanel, x func(measure.MM) float64) (marks []scene.Mark, ends []float64, names []string) {
	var fronts []front
	for i := range c.o.Activities {
		a := &c.o.Activities[i]
		if a.Leg != l.leg {
			continue
		}
		pen := scene.Pen(scene.Medium)
		if a.Critical {
			pen = scene.Pen(scene.Broad)
		}
		var points []scene.Point
		for _, corner := range a.Front {
			points = append(points, scene.Point{X: x(corner.Chainage), Y: c.down(f, corner.At)})
		}
		marks = append(marks, scene.Path{Outline: scene.Polyline(points...), Stroke: pen})
		fronts = append(fronts, front{a.Work, points, a.To == l.high})
		if a.To == l.high {
			last := points[len(points)-1]
			if a.Down {
				last = points[0]
			}
			ends, names = append(ends, last.Y), append(names, a.Work+" "+a.Gang)
		}
	}
	for _, load := range c.d.job.Programme.Loads {
		at := strings.TrimSpace(load.On + " " + hourOf(load.At))
		if load.Leg != l.leg || load.On > c.o.End[:10] || load.On < c.o.Start {
			continue
		}
		from, to := max(measure.MM(load.From), l.low), l.high
		if load.To > 0 {
			to = min(to, measure.MM(load.To))
		}
		y := c.down(f, at)
		fronts = append(fronts, front{points: []scene.Point{{X: x(from), Y: y}, {X: x(to), Y: y}}, named: true})
		marks = append(marks, scene.Line(scene.Point{X: x(from), Y: y}, scene.Point{X: x(to), Y: y}, scene.Pen(scene.Thick).Dashed(1.6, 1)))
		ends, names = append(ends, y), append(names, "load "+load.ID)
	}
	return append(marks, c.namedWithin(f, fronts)...), ends, names
}

// hourOf is the hour at which a load comes; the beginning of its day where none is stated.
func hourOf(at string) string {
	if at == "" {
		return "00:00"
	}
	return at
}

// aheadListing is what every gang does on the first days.
func (d *draft) aheadListing() listing {
	set := schedule.Of(d.plan, d.job).Programme()
	ahead := d.ledgerOf(set[1])
	ahead.most = mostSheets
	return listing{kind: "ahead", title: "Days ahead, gang by gang", note: "what each gang does on the first days, from where to where, and what must be there before", ledgers: []ledger{ahead}}
}
