package dossier

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// movedBy is by how much a unit lies off the place that whoever measured it held it against: along its leg up-chainage, and to the
// right; held is how far that place is from where this plan has it. ok is false where nobody measured either.
func (d *Dossier) movedBy(leg field.LegState, u *field.UnitState) (held, along, right measure.Length, ok bool) {
	end := farEnd{sign: 1}
	if d.back[leg.ID] {
		end.sign = -1
	}
	if known(u.End) {
		held, along = end.moved(u)
		ok = true
	}
	if known(u.Line) {
		right, ok = u.Line.Value, true
	}
	return held, along, right, ok
}

// largestMove is the most that any unit lies off its place.
func (d *Dossier) largestMove() measure.Length {
	most := measure.Length(0)
	for _, l := range d.state.Legs {
		for _, u := range l.Units {
			_, along, right, _ := d.movedBy(l, u)
			most = max(most, along.Abs(), right.Abs())
		}
	}
	return most
}

// planBand is one stretch in plan, turned so that it runs to the right.
type planBand struct {
	d           *Dossier
	s           stretchOf
	denominator float64
	times       float64 // by which differences are drawn too large
	turn        scene.Transform
	origin      scene.Point // of the turned ground, in mm of paper, that comes to the band's corner
	high        float64
	lanes       float64 // height of the words of services above the units
	words       []laneWord
}

// laneWord is one line of words over the units with the line that leads down from it.
type laneWord struct {
	x    float64
	lane int
	c    crossing
}

const (
	bandTitle = 4.6
	laneStep  = 2.9
	nameRoom  = 3.4 // for names above units
	figRoom   = 7.2 // for figures under them
)

func (d *Dossier) planBand(s stretchOf, denominator, times float64) *planBand {
	b := &planBand{d: d, s: s, denominator: denominator, times: times}
	var units []planner.Unit
	for _, u := range s.leg.Units[s.first : s.last+1] {
		units = append(units, d.units[u.Place])
	}
	a, _ := axisOf(units[0])
	_, z := axisOf(units[len(units)-1])
	if a2, _ := axisOf(units[len(units)-1]); units[0].Chainage > units[len(units)-1].Chainage {
		_, z2 := axisOf(units[0])
		a, z = a2, z2
	}
	b.turn = scene.Turn(-z.Sub(a).Angle())
	b.turn = b.turn.Then(scene.Stretch(1000/denominator, 1000/denominator))
	low, high := scene.Point{X: math.Inf(1), Y: math.Inf(1)}, scene.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, u := range units {
		for _, c := range d.cornersOf(u, scene.Point{}) {
			p := b.turn.Apply(c)
			low, high = scene.Point{X: math.Min(low.X, p.X), Y: math.Min(low.Y, p.Y)}, scene.Point{X: math.Max(high.X, p.X), Y: math.Max(high.Y, p.Y)}
		}
	}
	b.layWords(units, low.X)
	room := float64(times*d.largestMove().Millimetres()) / denominator
	b.origin = scene.Point{X: low.X - 3, Y: low.Y - bandTitle - b.lanes - nameRoom - room}
	b.high = high.Y - low.Y + bandTitle + b.lanes + nameRoom + figRoom + 2*room + 3
	return b
}

// layWords gives each service that crosses the stretch a lane where its words run over no others.
func (b *planBand) layWords(units []planner.Unit, left float64) {
	var ends []float64
	all := b.d.crossings(b.s.leg.ID)
	slices.SortStableFunc(all, func(p, q crossing) int { return int(p.at/measure.Millimetre) - int(q.at/measure.Millimetre) })
	for _, c := range all {
		at, _, ok := b.d.lies(c.leg, c.at)
		inside := slices.ContainsFunc(units, func(u planner.Unit) bool {
			return measure.Length(u.Chainage)-20*measure.Millimetre <= c.at && c.at <= measure.Length(u.Chainage+u.Length)+20*measure.Millimetre
		})
		if !ok || !inside {
			continue
		}
		w := laneWord{x: b.turn.Apply(at).X - left + 3, c: c}
		from, to := b.span(w)
		for w.lane < len(ends) && ends[w.lane] > from {
			w.lane++
		}
		if w.lane == len(ends) {
			ends = append(ends, 0)
		}
		ends[w.lane] = to + 3
		b.words = append(b.words, w)
	}
	b.lanes = laneStep * float64(len(ends))
}

// span is where the words of a lane stand, from the corner of the band.
func (b *planBand) span(w laneWord) (from, to float64) {
	wide := scene.TextWidth(w.c.words, small, scene.Regular) + 1.2
	from = math.Max(0, math.Min(w.x, frame().Width()-wide))
	return from, from + wide
}

// at is a place of the ground on the paper of the band.
func (b *planBand) at(p scene.Point) scene.Point { return b.turn.Apply(p).Sub(b.origin) }

// marks are the band from its upper left corner.
func (b *planBand) marks() []scene.Mark {
	d := b.d
	title := b.s.title()
	marks := []scene.Mark{scene.Text{String: title, Size: 2.2, Weight: scene.Bold, VAlign: scene.Top},
		scene.Link{Area: scene.BoxAt(scene.Point{Y: -0.5}, scene.TextWidth(title, 2.2, scene.Bold), 3.6), To: "#built-" + b.s.leg.ID + "-1"}}
	marks = append(marks, b.northArrow(scene.TextWidth(title, 2.2, scene.Bold)+6)...)
	marks = append(marks, b.nodes(scene.TextWidth(title, 2.2, scene.Bold)+16)...)
	for _, w := range b.words {
		at, way, _ := d.lies(w.c.leg, w.c.at)
		foot := b.at(at)
		from, _ := b.span(w)
		y := bandTitle + float64(float64(w.lane)*laneStep)
		reach := 1000/b.denominator*d.halfWidth(d.units[b.s.leg.Units[b.s.first].Place].Supply) + 2.2
		pen := plannedPen()
		if w.c.found {
			pen = measuredPen()
		}
		across := scene.Turn(90 - w.c.skew).Apply(b.turn.Apply(way).Unit().Left()).Times(reach)
		marks = append(marks, scene.Line(foot.Add(across), foot.Sub(across), pen),
			scene.Path{Outline: scene.Polyline(scene.Point{X: w.x, Y: y + 2.2}, foot.Add(across)), Stroke: scene.Pen(scene.Fine)},
			scene.Text{At: scene.Point{X: from, Y: y}, String: w.c.words, Size: small, VAlign: scene.Top, Halo: 0.3})
	}
	for _, u := range b.s.leg.Units[b.s.first : b.s.last+1] {
		marks = append(marks, scene.Group{Name: u.Place, Marks: b.unit(u)})
	}
	return append(marks, b.shots()...)
}

// northArrow is a short arrow in the line of the title.
func (b *planBand) northArrow(x float64) []scene.Mark {
	up := b.turn.Apply(scene.Point{Y: -1}).Unit()
	middle := scene.Point{X: x, Y: 1.2}
	return []scene.Mark{scene.Path{Outline: scene.Polyline(middle.Sub(up.Times(2)), middle.Add(up.Times(2))), Stroke: scene.Pen(scene.Thin), End: scene.Arrow},
		scene.Text{At: scene.Point{X: x + 3, Y: 0}, String: "N", Size: small, VAlign: scene.Top}}
}

// nodes say what the bends at the ends of the leg were planned and measured at.
func (b *planBand) nodes(x float64) []scene.Mark {
	if b.s.first > 0 && b.s.last < len(b.s.leg.Units)-1 {
		return nil
	}
	var said []string
	for _, l := range b.d.Plan.Legs {
		if l.Name != b.s.leg.ID {
			continue
		}
		for k, id := range []string{l.From, l.To} {
			if s := b.d.bendSaid(id); s != "" && b.d.reaches(l.Name, k == 0) {
				said = append(said, s)
			}
		}
	}
	return []scene.Mark{scene.Text{At: scene.Point{X: x, Y: 0}, String: strings.Join(said, " · "), Size: small, VAlign: scene.Top}}
}

// bendSaid is a node's angle: planned, measured.
func (d *Dossier) bendSaid(id string) string {
	for _, n := range d.Plan.Nodes {
		if n.ID != id || n.Kind != "bend" {
			continue
		}
		measured := "nothing measured"
		for _, a := range d.state.Angles {
			switch {
			case a.Node != id:
			case a.Known:
				measured = fmt.Sprintf("measured %.2f°", a.Angle.Degrees())
			default:
				measured = "measured: " + string(field.CantSay)
			}
		}
		side := "right"
		if n.Deflection < 0 {
			side = "left"
		}
		return fmt.Sprintf("bend %s, %s: planned %.2f°, %s", id, side, math.Abs(n.Deflection), measured)
	}
	return ""
}

// unit draws one unit: broken where it was planned, full where it lies by what was measured, with its name and its figures.
func (b *planBand) unit(u *field.UnitState) []scene.Mark {
	d := b.d
	was := d.units[u.Place]
	planned := d.cornersOf(was, scene.Point{})
	points := func(c [4]scene.Point) []scene.Point {
		var out []scene.Point
		for _, p := range c {
			out = append(out, b.at(p))
		}
		return out
	}
	from, to := axisOf(was)
	way := to.Sub(from).Unit()
	held, along, right, measured := d.movedBy(b.s.leg, u)
	thereBy := way.Times(held.Metres())
	planned = d.cornersOf(was, thereBy)
	marks := []scene.Mark{scene.Path{Outline: scene.Polygon(points(planned)...), Stroke: plannedPen()}}
	figures := "no figure"
	switch {
	case u.Set.Is != field.Yes:
		figures = "not set"
		marks = append(marks, scene.Hatch{Area: scene.Polygon(points(planned)...), Pattern: scene.Stone, Spacing: 1.6})
	case measured:
		by := thereBy.Add(way.Times(float64(b.times * along.Metres()))).Sub(way.Left().Times(float64(b.times * right.Metres())))
		marks = append(marks, scene.Path{Outline: scene.Polygon(points(d.cornersOf(was, by))...), Stroke: measuredPen()})
		figures = d.off(along)
		if !known(u.End) {
			figures = "–"
		}
		if known(u.Line) {
			figures += "\n" + d.off(right)
		}
	case u.Within:
		marks = append(marks, scene.Path{Outline: scene.Polygon(points(planned)...), Stroke: scene.Pen(scene.Thin)})
		figures = "within"
	}
	middle := b.at(planned[0]).Add(b.at(planned[2])).Times(0.5)
	half := 1000/b.denominator*d.halfWidth(was.Supply) + float64(b.times*d.largestMove().Millimetres())/b.denominator
	direction := b.turn.Apply(way).Unit()
	if direction.X < 0 {
		direction = direction.Times(-1)
	}
	angle, up := direction.Angle(), direction.Left()
	weight := scene.Regular
	if m := d.missedBy()[u.Place]; m["end"] || m["line"] {
		weight = scene.Bold
		marks = append(marks, missSign(middle))
	}
	room := d.long(u.Place)/b.denominator - 0.6
	name := placeIn(u.Place, room)
	marks = append(marks, scene.Text{At: middle.Add(up.Times(half + 0.9)), String: name, Size: small, Align: scene.Centre, Angle: angle, Halo: 0.3})
	for i, f := range strings.Split(figures, "\n") {
		size := small
		for size > 1.2 && scene.TextWidth(f, size, weight) > room {
			size -= 0.1
		}
		if scene.TextWidth(f, size, weight) > room {
			f = cmp.Or(map[string]string{"no figure": "–", "not set": "×", "within": "w"}[f], f)
		}
		marks = append(marks, scene.Text{At: middle.Sub(up.Times(half + 1 + float64(2.9*float64(i)))), String: f, Size: size, Weight: weight, Align: scene.Centre, VAlign: scene.Top, Angle: angle, Halo: 0.3})
	}
	return marks
}

// placeIn is a place's name where there is so much room: without its leg where the whole of it is too long.
func placeIn(place string, room float64) string {
	if scene.TextWidth(place, small, scene.Regular) <= room {
		return place
	}
	_, number, _ := strings.Cut(place, "-")
	if scene.TextWidth(number, small, scene.Regular) <= room {
		return number
	}
	return ""
}

// shots are surveyed places that lie on the band.
func (b *planBand) shots() []scene.Mark {
	var marks []scene.Mark
	area := scene.Box{Top: bandTitle, Right: frame().Width(), Bottom: b.high}
	origin := b.d.Plan.Job.Origin
	for _, s := range b.d.state.Shots {
		if b.d.units[s.Place].Leg != b.s.leg.ID {
			continue
		}
		p := b.at(scene.Point{X: s.Easting.Metres() - origin[0], Y: origin[1] - s.Northing.Metres()})
		if p.X < area.Left || p.X > area.Right || p.Y < area.Top || p.Y > area.Bottom {
			continue
		}
		for _, way := range []scene.Point{{X: 1, Y: 1}, {X: 1, Y: -1}} {
			marks = append(marks, scene.Line(p.Sub(way), p.Add(way), scene.Pen(scene.Medium)))
		}
	}
	return marks
}

// planPages are the run as built in plan: an overview, then stretch by stretch.
func (d *Dossier) planPages() []scene.Page {
	denominator := d.alongScale()
	most := d.largestMove()
	times := exaggerated(most, denominator, 2.2)
	notes := fmt.Sprintf("Scale %s. Broken: as planned. Full: where it lies by what was measured, its difference %s; %s of their planned length. Names are left out or cut to their number where they find no room. Under each: its end ahead (+) or behind (−) %s; below that off the line, + to the right. In %s%s.",
		d.scaleSaid(denominator), enlarged(times), d.word(wording.Units), d.word(wording.UpChainage), d.offUnit(), d.widthsSaid())
	head, high, _ := scene.Paragraph{String: notes, Size: small, Space: 2}.Take(frame().Width(), 40, true)
	key, keyHigh := keyRow(scene.Point{Y: high}, frame().Width(), []keyEntry{
		{"as planned", lineSign(plannedPen())}, {"as measured", lineSign(measuredPen())},
		{"not set, by the records", func(b scene.Box) []scene.Mark {
			return []scene.Mark{scene.Hatch{Area: scene.Rectangle(b), Pattern: scene.Stone, Spacing: 1.6}, scene.Path{Outline: scene.Rectangle(b), Stroke: plannedPen()}}
		}},
		{"does not meet its figure, or cannot say", missKey}, {"surveyed", func(b scene.Box) []scene.Mark {
			p := b.Centre()
			return []scene.Mark{scene.Line(p.Add(scene.Point{X: -1, Y: -1}), p.Add(scene.Point{X: 1, Y: 1}), scene.Pen(scene.Medium)), scene.Line(p.Add(scene.Point{X: -1, Y: 1}), p.Add(scene.Point{X: 1, Y: -1}), scene.Pen(scene.Medium))}
		}},
		{"within: said to be within its rule, without a figure · no figure: set, nothing measured", func(scene.Box) []scene.Mark { return nil }},
	})
	var blocks []scene.Block
	for _, s := range d.stretches(denominator, frame().Width()-8) {
		b := d.planBand(s, denominator, times)
		blocks = append(blocks, scene.Picture{Height: b.high, Marks: b.marks()})
	}
	return d.drawnPages("plan", "As built, in plan", append(head, key...), high+keyHigh+2, blocks)
}

// drawnPages are pictures one below the other, below notes that every page has.
func (d *Dossier) drawnPages(name, title string, head []scene.Mark, high float64, blocks []scene.Block) []scene.Page {
	box := frame()
	below := box
	below.Top += high
	var pages []scene.Page
	for i, marks := range scene.Flow(func(int) scene.Box { return below }, blocks...) {
		p := scene.Page{Width: pageWidth, Height: pageHeight, Title: title, Name: fmt.Sprintf("%s-%d", name, i+1), Level: -1,
			Marks: append([]scene.Mark{scene.Group{Transform: scene.Shift(box.Left, box.Top), Marks: head}}, marks...)}
		if i == 0 {
			p.Level = 0
		} else {
			p.Title += ", goes on"
		}
		pages = append(pages, p)
	}
	return pages
}
