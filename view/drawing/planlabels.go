package drawing

import (
	"fmt"
	"math"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// nodeLabels name bends, tees and ends, on the outside of the bend first.
func (p *plot) nodeLabels() {
	for _, n := range p.plan.Nodes {
		if !p.here(n) {
			continue
		}
		var sum spot
		for _, h := range n.Headings {
			sum = sum.add(heading(h))
		}
		away := sum.times(-1) // away from all legs
		if sum.length() < 0.2 && len(n.Headings) > 0 {
			away = heading(n.Headings[0]).left()
		}
		p.keep(p.nodeWords(n), note(p.v.point(at(n.At)), p.nodeWords(n), p.size, scene.Bold, p.v.direction(away), scene.Dot)...)
	}
}

// specialLabels are the places of cut and other special units, with the length of the cut ones. They are never left out
// while there is room anywhere near.
func (p *plot) specialLabels() {
	for _, i := range p.units {
		u := p.plan.Units[i]
		if !p.special(u) {
			continue
		}
		text := u.Mark
		if u.Cut {
			text += ", " + p.length(u.Length)
		}
		if u.Hold {
			text += " HOLD"
		}
		all := append(p.beside(u, text, scene.Bold, false), p.beside(u, text, scene.Bold, true)...)
		if long := p.v.point(at(u.Axis[1])).Sub(p.v.point(at(u.Axis[0]))).Length(); scene.TextWidth(text, p.size, scene.Bold) > 1.25*long {
			all = append(all[2:], all[:2]...) // across a unit that is much shorter than its words
		}
		p.keep(text, append(all, p.fromEdges(u, text, scene.Bold)...)...)
	}
}

// placesBeside write the places of plain units beside them, where nothing is in the way.
func (p *plot) placesBeside() {
	for _, i := range p.units {
		u := p.plan.Units[i]
		if p.special(u) {
			continue
		}
		all := p.beside(u, u.Mark, scene.Regular, false)
		shown := p.v.point(at(u.Axis[1])).Sub(p.v.point(at(u.Axis[0])))
		for _, part := range []float64{-0.2, 0.2, -0.35, 0.35} { // past a line that crosses the unit
			for _, c := range p.beside(u, u.Mark, scene.Regular, false) {
				t := c.marks[0].(scene.Text)
				t.At = t.At.Add(shown.Times(part))
				all = append(all, candidate{marks: []scene.Mark{t}})
			}
		}
		marks, ok := p.room.putWithin(leadsOverThings, all...)
		p.labels, p.named[i] = append(p.labels, marks...), ok
	}
}

// placesLeft are the other ones: across the unit, at the end of a leader, or in the list of what found no room.
func (p *plot) placesLeft() {
	for _, i := range p.units {
		u := p.plan.Units[i]
		if p.special(u) || p.named[i] {
			continue
		}
		all := append(p.beside(u, u.Mark, scene.Regular, true), p.fromEdges(u, u.Mark, scene.Regular)...)
		p.keep(u.Mark, append(all, p.beside(u, u.Mark, scene.Regular, false)...)...)
	}
}

// fromEdges are the ways to lead to a unit from its left, and from its right: to its middle, or off it where something else
// stands there.
func (p *plot) fromEdges(u planner.Unit, text string, weight scene.Weight) []candidate {
	half := p.unitWidth(u.Supply) / 2000
	var all []candidate
	for _, part := range []float64{0.5, 0.25, 0.75} {
		where := at(u.Axis[0]).to(at(u.Axis[1]), part)
		for _, side := range []float64{-90, 90} {
			out := heading(u.Bearing + side)
			all = append(all, note(p.v.point(where.add(out.times(half))), text, p.size, weight, p.v.direction(out), scene.Arrow)...)
		}
	}
	return all
}

// beside are the ways to write along a unit on its right, then on its left; across it where turned.
func (p *plot) beside(u planner.Unit, text string, weight scene.Weight, across bool) []candidate {
	middle := at(u.Axis[0]).to(at(u.Axis[1]), 0.5)
	half := p.unitWidth(u.Supply) / 2000
	var all []candidate
	for _, side := range []float64{90, -90} {
		out := heading(u.Bearing + side)
		edge := p.v.point(middle.add(out.times(half)))
		away := scene.Direction(p.v.direction(out))
		along := p.v.direction(heading(u.Bearing))
		t := scene.Text{String: text, Size: p.size, Weight: weight, Halo: 0.4, VAlign: scene.Middle}
		if across {
			angle := p.v.direction(out)
			t.Angle, t.At, t.Align = scene.Upright(angle), edge.Add(away.Times(1)), scene.Left
			if t.Angle != angle && math.Abs(math.Abs(t.Angle-angle)-180) < 1 {
				t.Align = scene.Right
			}
		} else {
			t.Angle, t.At, t.Align = scene.Upright(along), edge.Add(away.Times(1+float64(p.size/2))), scene.Centre
		}
		all = append(all, candidate{marks: []scene.Mark{t}})
	}
	return all
}

// legDimensions give the clear length of each leg that is straight and here from end to end, where there is room.
func (p *plot) legDimensions() {
	for _, name := range p.legsIn(p.window) {
		i := p.legs[name]
		l, units := p.plan.Legs[i], p.of[i]
		if !p.holds(units[0]) || !p.holds(units[len(units)-1]) || len(l.Axis) != 1 || l.Axis[0].Radius != 0 {
			continue
		}
		marks, ok := p.room.putWithin(leadsOverThings, p.legDimension(l, p.legText(l))...)
		p.labels, p.sized[i] = append(p.labels, marks...), ok
	}
}

func (p *plot) legText(l planner.Leg) string {
	return fmt.Sprintf("leg %s, %s to %s, %s between its ends", l.Name, l.From, l.To, p.along(l.ClearLength))
}

// legLabels say in words what no dimension says: the clear length of each other leg, and the radius of each curve.
func (p *plot) legLabels() {
	for _, name := range p.legsIn(p.window) {
		i := p.legs[name]
		if l := p.plan.Legs[i]; !p.sized[i] {
			var all []candidate
			for _, u := range p.middleFirst(p.of[i]) {
				all = append(all, p.fromEdges(p.plan.Units[u], p.legText(l), scene.Bold)...)
			}
			p.keep(p.legText(l), all...)
		}
		p.curveLabels(i, p.plan.Legs[i])
	}
}

func (p *plot) holds(unit int) bool {
	for _, u := range p.units {
		if u == unit {
			return true
		}
	}
	return false
}

// middleFirst are a leg's units that the window holds, the middle one first and then to both sides, five at the most.
func (p *plot) middleFirst(units []int) []int {
	var here, out []int
	for _, u := range units {
		if p.holds(u) {
			here = append(here, u)
		}
	}
	for k := 0; k < len(here) && len(out) < 5; k++ {
		i := len(here)/2 + (k+1)/2
		if k%2 == 0 {
			i = len(here)/2 - k/2
		}
		if i >= 0 && i < len(here) {
			out = append(out, here[i])
		}
	}
	return out
}

// legDimension are the ways to dimension a straight leg that is longer than its figure: left of it, right of it, further
// out.
func (p *plot) legDimension(l planner.Leg, text string) []candidate {
	half := p.unitWidth(l.Supply) / 2000
	a, way := onAxis(l, chainageAt(l, 0))
	b, _ := onAxis(l, chainageAt(l, mm(l.ClearLength)))
	if p.v.point(b).Sub(p.v.point(a)).Length() < scene.TextWidth(text, p.size, scene.Bold)+2 {
		return nil
	}
	var all []candidate
	for _, off := range []float64{6, 9, 13, 18} {
		for _, side := range []float64{1, -1} {
			shift := way.left().times(side * half)
			from, to := p.v.point(a.add(shift)), p.v.point(b.add(shift))
			all = append(all, measured(from, to, side*off, text, p.size, scene.Bold))
		}
	}
	return all
}

// curveLabels give the radius of each curve.
func (p *plot) curveLabels(leg int, l planner.Leg) {
	for _, part := range l.Axis {
		if part.Radius == 0 {
			continue
		}
		middle := (mm(part.FromChainage) + mm(part.ToChainage)) / 2
		if !p.inWindow(leg, stationAt(l, middle)) {
			continue
		}
		where, way := onAxis(l, middle)
		half := p.unitWidth(l.Supply) / 2000
		text := fmt.Sprintf("curve to the %s, R %s, %s long", hand(part.Radius), p.along(groundRadius(part)), p.along(part.ToChainage-part.FromChainage))
		var all []candidate
		for _, out := range []spot{way.left(), way.left().times(-1)} {
			all = append(all, note(p.v.point(where.add(out.times(half))), text, p.size, scene.Regular, p.v.direction(out), scene.Arrow)...)
		}
		p.keep(text, all...)
	}
}

// groundRadius is the radius of an arc on the ground. Its ends are coordinates, its chainages ground lengths, and a radius
// between coordinates is as much shorter as they are; to the nearest micrometre.
func groundRadius(part planner.AxisPart) measure.MM {
	grid := math.Abs(part.Radius)
	chord := at(part.End).sub(at(part.Start)).length()
	sweep := 2 * math.Asin(math.Min(1, chord/2/grid))
	return length(math.Round(mm(part.ToChainage-part.FromChainage)/sweep*1000) / 1000)
}

// thingLabels name what lies along the run and is of one of some kinds.
func (p *plot) thingLabels(kinds ...string) {
	for _, t := range p.draft.things {
		if !slices.Contains(kinds, t.kind) {
			continue
		}
		l := p.plan.Legs[t.leg]
		station := t.at
		if !p.inWindow(t.leg, station) && len(t.spans) > 0 {
			station = (t.spans[0].from + t.spans[0].to) / 2
		}
		if !p.inWindow(t.leg, station) {
			continue
		}
		var all []candidate
		for _, end := range p.thingEnds(t, l, station) {
			all = append(all, note(p.v.point(end.at), t.words, p.size, scene.Regular, p.v.direction(end.out), scene.Arrow)...)
		}
		p.keep(fmt.Sprintf("%s, leg %s at %s", t.words, l.Name, p.chainage(length(chainageAt(l, station)))), all...)
	}
}

// outwards is a place that a leader may point at, and the way from there away from the run.
type outwards struct{ at, out spot }

// thingEnds are where leaders to a thing may end: on the lines of what crosses the run, right and left of it, at the outer
// end of a conduit, on the edges of the units for whatever else.
func (p *plot) thingEnds(t thing, l planner.Leg, station float64) []outwards {
	half, paper := p.unitWidth(l.Supply)/2000, p.v.denominator/1000 // m; m on the ground for a mm of paper
	where, way := onAxis(l, chainageAt(l, station))
	both := func(where, out spot, reach float64) []outwards {
		return []outwards{{where.add(out.times(reach)), out}, {where.sub(out.times(reach)), out.times(-1)}}
	}
	switch t.kind {
	case "crossing":
		var all []outwards
		for _, edge := range []float64{1, -1} {
			where, way := onAxis(l, chainageAt(l, station+edge*t.wide/2/math.Max(0.2, math.Sin(t.skew*math.Pi/180))))
			all = append(all, both(where, turned(way, -t.skew*math.Pi/180), half+float64(9*paper))...)
		}
		return all
	case "service":
		return both(where, turned(way, -t.skew*math.Pi/180), half+float64(9*paper))
	case "entry":
		if out := sideways(way, t.side); out != (spot{}) {
			return []outwards{{where.add(out.times(half + float64(4*paper))), out}}
		}
		return both(where, way.left(), 0)
	}
	return both(where, way.left(), half)
}

// gridMark is one tick of the coordinate grid.
type gridMark struct {
	at   scene.Point
	e, n float64 // in the job's unit
}

// grid draws ticks where whole coordinates cross, on every second crossing, so that some six to twelve stand along a sheet.
func (p *plot) grid(frame scene.Box) []gridMark {
	unit, _, _ := p.coordinateUnit()
	step := niceStep(p.page.Width / 8.4 * p.v.denominator / 1000 / unit)
	origin := spot{p.plan.Job.Origin[0], p.plan.Job.Origin[1]}
	corners := p.v.ground(frame.Inset(4))
	low, high := spot{math.Inf(1), math.Inf(1)}, spot{math.Inf(-1), math.Inf(-1)}
	for _, c := range corners {
		c = c.add(origin).times(1 / unit)
		low = spot{math.Min(low.e, c.e), math.Min(low.n, c.n)}
		high = spot{math.Max(high.e, c.e), math.Max(high.n, c.n)}
	}
	var out []gridMark
	for e := math.Ceil(low.e / step); e*step <= high.e; e++ {
		for n := math.Ceil(low.n / step); n*step <= high.n; n++ {
			g := gridMark{e: float64(e * step), n: float64(n * step)}
			g.at = p.v.point(spot{float64(g.e * unit), float64(g.n * unit)}.sub(origin))
			c := boxShape(scene.BoxAt(g.at.Sub(scene.Point{X: 1.5, Y: 1.5}), 3, 3))
			if math.Mod(e+n, 2) != 0 || !c.inside(frame.Inset(2)) || c.meetsAny(p.room.words) || c.meetsAny(p.room.things) || c.meetsAny(p.room.lines) {
				continue
			}
			out = append(out, g)
			for _, way := range []float64{p.v.turn, p.v.turn + 90} {
				u := scene.Direction(way).Times(1.8)
				p.body = append(p.body, scene.Line(g.at.Sub(u), g.at.Add(u), scene.Pen(scene.Thin)))
				p.room.line(g.at.Sub(u), g.at.Add(u))
			}
		}
	}
	return out
}

// gridLabels write the coordinates beside ticks that have room.
func (p *plot) gridLabels(grid []gridMark) {
	_, unit, _ := p.coordinateUnit()
	for _, g := range grid {
		text := fmt.Sprintf("%s %s E\n%s %s N", plainNumber(g.e), unit, plainNumber(g.n), unit)
		angle := scene.Upright(p.v.turn)
		var all []candidate
		for _, quarter := range []float64{-45, 45, -135, 135} {
			t := scene.Text{At: g.at.Add(scene.Direction(angle + quarter).Times(1.4)), String: text, Size: p.size, Angle: angle, VAlign: scene.Top}
			if quarter > 0 {
				t.VAlign = scene.Bottom
			}
			if math.Abs(quarter) > 90 {
				t.Align = scene.Right
			}
			all = append(all, candidate{marks: []scene.Mark{t}})
		}
		marks, _ := p.room.putWithin(touchesNothing+1, all...)
		p.labels = append(p.labels, marks...)
	}
}
