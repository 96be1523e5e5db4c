package drawing

import (
	"fmt"
	"math"

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
			text += " " + p.figure(u.Length)
		}
		if u.Hold {
			text += " HOLD"
		}
		all := p.beside(u, text, scene.Bold, false)
		all = append(all, p.beside(u, text, scene.Bold, true)...)
		middle := at(u.Axis[0]).to(at(u.Axis[1]), 0.5)
		all = append(all, note(p.v.point(middle), text, p.size, scene.Bold, p.v.direction(heading(u.Bearing+90)), scene.Dot)...)
		p.keep(text, all...)
	}
}

// placeLabels are the places of plain units, left out where there is no room.
func (p *plot) placeLabels() {
	for _, i := range p.units {
		if u := p.plan.Units[i]; !p.special(u) {
			marks, _ := p.room.putWithin(liesOverThings, p.beside(u, u.Mark, scene.Regular, false)...)
			p.labels = append(p.labels, marks...)
		}
	}
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

// legLabels give each leg's clear length: as a dimension where the whole leg is straight and here, else in words.
func (p *plot) legLabels() {
	for _, name := range p.legsIn(p.window) {
		i := p.legs[name]
		l, units := p.plan.Legs[i], p.of[i]
		whole := true
		for _, u := range []int{units[0], units[len(units)-1]} {
			whole = whole && p.holds(u)
		}
		text := fmt.Sprintf("leg %s, %s to %s, %s clear", l.Name, l.From, l.To, p.along(l.ClearLength))
		if whole && len(l.Axis) == 1 && l.Axis[0].Radius == 0 {
			if marks, ok := p.room.putWithin(liesOverLines, p.legDimension(l, text)...); ok {
				p.labels = append(p.labels, marks...)
				continue
			}
		}
		var all []candidate
		for _, u := range p.middleFirst(units) {
			u := p.plan.Units[u]
			all = append(all, note(p.v.point(at(u.Axis[0])), text, p.size, scene.Bold, p.v.direction(heading(u.Bearing-90)), scene.OpenArrow)...)
		}
		p.keep(text, all...)
		p.curveLabels(i, l)
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

// legDimension are the ways to dimension a straight leg: left of it, right of it, further out.
func (p *plot) legDimension(l planner.Leg, text string) []candidate {
	half := p.unitWidth(l.Supply) / 2000
	a, way := onAxis(l, chainageAt(l, 0))
	b, _ := onAxis(l, chainageAt(l, mm(l.ClearLength)))
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
		inside := way.left()
		if part.Radius > 0 {
			inside = inside.times(-1)
		}
		radius := p.along(measure.MM(measure.FromMetres(math.Abs(part.Radius))))
		text := fmt.Sprintf("curve to the %s, R %s, %s long", hand(part.Radius), radius, p.along(part.ToChainage-part.FromChainage))
		p.keep(text, note(p.v.point(where), text, p.size, scene.Regular, p.v.direction(inside), scene.OpenArrow)...)
	}
}

// thingLabels name what lies along the run.
func (p *plot) thingLabels() {
	for _, t := range p.draft.things {
		l := p.plan.Legs[t.leg]
		station := t.at
		if !p.inWindow(t.leg, station) && len(t.spans) > 0 {
			station = (t.spans[0].from + t.spans[0].to) / 2
		}
		if !p.inWindow(t.leg, station) {
			continue
		}
		where, way := onAxis(l, chainageAt(l, station))
		half := p.unitWidth(l.Supply) / 2000
		out, reach := way.left(), 0.0
		switch t.kind {
		case "crossing":
			edge := station + t.wide/2/math.Max(0.2, math.Sin(t.skew*math.Pi/180))
			where, way = onAxis(l, chainageAt(l, edge))
			out, reach = turned(way, -t.skew*math.Pi/180), half+9*p.v.denominator/1000
		case "service":
			out, reach = turned(way, -t.skew*math.Pi/180), half+9*p.v.denominator/1000
		case "entry":
			if s := sideways(way, t.side); s != (spot{}) {
				out, reach = s, half+4*p.v.denominator/1000
			}
		}
		to := p.v.point(where.add(out.times(reach)))
		all := note(to, t.words, p.size, scene.Regular, p.v.direction(out), scene.Arrow)
		p.keep(fmt.Sprintf("%s, leg %s at %s", t.words, l.Name, p.chainage(length(chainageAt(l, station)))), all...)
	}
}

// gridMark is one tick of the coordinate grid.
type gridMark struct {
	at   scene.Point
	e, n float64 // in the job's unit
}

// grid draws ticks where whole coordinates cross, some 70 mm of paper apart, on every second crossing.
func (p *plot) grid(frame scene.Box) []gridMark {
	unit, _, _ := p.coordinateUnit()
	step := niceStep(50 * p.v.denominator / 1000 / unit)
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
		for _, quarter := range []float64{-45, 45} {
			u := scene.Direction(angle + quarter).Times(1.4)
			v := scene.Top
			if quarter > 0 {
				v = scene.Bottom
			}
			all = append(all, candidate{marks: []scene.Mark{scene.Text{At: g.at.Add(u), String: text, Size: p.size * 0.8, Angle: angle, VAlign: v}}})
		}
		marks, _ := p.room.putWithin(touchesNothing+1, all...)
		p.labels = append(p.labels, marks...)
	}
}
