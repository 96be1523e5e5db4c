package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// plot is one window being drawn: its sheet, its view, and what is taken on it.
type plot struct {
	*sheet
	window
	v        view
	overview bool // the whole run, without what lies along it
	room     room
	body     []scene.Mark // clipped to the drawing
	labels   []scene.Mark // over it
	named    map[int]bool // plain units whose place is on the sheet
	sized    map[int]bool // legs with a dimension
	lost     []string     // labels that found no room beside what they speak of
	edges    [][]scene.Point
	points   []surveyLabel // benchmarks and control points on the sheet
	away     []string      // and those beyond it
}

// windowPage draws window i of several.
func (d *draft) windowPage(windows []window, i, n int) scene.Page {
	w := windows[i]
	s := d.planSheet(d.windowTitle(w, n, len(windows)+1), d.planNote(w), d.shownIn(w), n)
	p := plot{sheet: s, window: w, named: map[int]bool{}, sized: map[int]bool{}}
	frame := s.free
	frame.Bottom -= d.style.planFoot()
	p.room.within = frame
	p.v = view{centre: w.centre, middle: frame.Centre(), denominator: w.denominator, turn: w.turn}
	p.digEdges()
	p.surveyPoints()
	p.foot()
	p.neighbours(frame)
	p.nodes()
	for _, u := range w.units {
		p.unit(d.plan.Units[u])
	}
	p.things()
	p.pegs()
	p.matchLines(windows, i)
	p.nodeLabels()
	p.branchLabels(windows, i)
	p.specialLabels()
	p.thingLabels("entry") // close to the run, so that a dimension keeps off them
	p.legDimensions()
	p.placesBeside()
	p.placesLeft()
	p.legLabels()
	p.thingLabels("crossing", "service", "support", "zone", "tee", "joint")
	p.keepOffEdges()
	p.pointLabels()
	p.lostLabels()
	p.gridLabels(p.grid(frame))
	s.add(scene.Group{Name: "plan", Clip: scene.Rectangle(frame), Marks: p.body})
	s.add(p.labels...)
	return s.page
}

// foot is the scale bar with its key along the lower edge, and the north arrow in a corner that no unit reaches.
func (p *plot) foot() {
	y := p.free.Bottom - p.style.planFoot() + 6.5
	bar := p.scaleBar(scene.Point{X: p.free.Left + 2, Y: y}, p.v.denominator, 70, p.size)
	p.add(bar...)
	x := p.free.Left + 80
	words := "scale " + p.scaleWords(p.v.denominator) + " on " + p.style.Size.String()
	p.add(scene.Text{At: scene.Point{X: x, Y: y}, String: words, Size: p.size, VAlign: scene.Middle})
	p.key(scene.Point{X: x + scene.TextWidth(words, p.size, scene.Regular) + 6, Y: y - keyHigh/2})
	corner := p.corner(22)
	north := scene.Direction(p.v.north())
	p.add(northArrow(corner.Centre().Sub(north.Times(6.5)), p.v.north(), p.size)...)
	p.room.words = append(p.room.words, boxShape(corner))
}

// corner is the first corner of the drawing where no unit lies, clockwise from the upper right.
func (p *plot) corner(size float64) scene.Box {
	f := p.room.within
	corners := []scene.Box{
		{Left: f.Right - size, Top: f.Top, Right: f.Right, Bottom: f.Top + size},
		{Left: f.Right - size, Top: f.Bottom - size, Right: f.Right, Bottom: f.Bottom},
		{Left: f.Left, Top: f.Bottom - size, Right: f.Left + size, Bottom: f.Bottom},
		{Left: f.Left, Top: f.Top, Right: f.Left + size, Bottom: f.Top + size},
	}
	var units []shape
	for _, u := range p.plan.Units {
		units = append(units, convex(p.v.unit(p.draft, u)...))
	}
	for _, c := range corners {
		if !boxShape(c).meetsAny(units) {
			return c
		}
	}
	return corners[0]
}

// key explains the signs of this window.
func (p *plot) key(at scene.Point) {
	here := func(kind func(planner.Unit) bool) bool {
		return slices.ContainsFunc(p.units, func(i int) bool { return kind(p.plan.Units[i]) })
	}
	kinds := map[string]bool{}
	for _, t := range p.draft.things {
		kinds[t.kind] = kinds[t.kind] || p.inWindow(t.leg, t.at) && !p.overview
	}
	p.keyRows(at, p.free.Right, keyHigh+1, append([]keyItem{
		{"cut", here(func(u planner.Unit) bool { return u.Cut }), swatch(scene.Diagonal, scene.Medium)},
		{p.words.closer + " on hold", here(func(u planner.Unit) bool { return u.Hold }), swatch(scene.Stone, scene.Medium)},
		{"another supply", here(func(u planner.Unit) bool { return u.Supply != p.legSupply(u.Leg) }), swatch(scene.NoHatch, scene.Broad)},
		{"on another sheet", !p.whole, func(b scene.Box) []scene.Mark {
			return []scene.Mark{scene.Path{Outline: scene.Rectangle(b), Stroke: otherSheetPen()}}
		}},
		{"edge of a crossing", kinds["crossing"], level(crossingPen())},
		{p.words.service, kinds["service"], level(servicePen())},
		{"conduit", kinds["entry"], conduitSign},
	}, p.groundKey()...))
}

func otherSheetPen() scene.Stroke { return scene.Pen(scene.Fine).Dashed(1.2, 0.7) }

// neighbours are the units of other windows that lie on this sheet too, thin.
func (p *plot) neighbours(frame scene.Box) {
	mine := map[int]bool{}
	for _, u := range p.units {
		mine[u] = true
	}
	area := boxShape(frame)
	for i, u := range p.plan.Units {
		if mine[i] {
			continue
		}
		c := convex(p.v.unit(p.draft, u)...)
		if !c.meets(area) {
			continue
		}
		p.body = append(p.body, scene.Path{Outline: scene.Polygon(c.points...), Stroke: otherSheetPen()})
		p.room.things = append(p.room.things, c)
	}
}

// unit draws one unit, true to scale.
func (p *plot) unit(u planner.Unit) {
	c := p.v.unit(p.draft, u)
	o := scene.Polygon(c...)
	p.body = append(p.body, scene.Path{Outline: o, Fill: scene.White})
	if h := unitHatch(u); h != scene.NoHatch {
		p.body = append(p.body, scene.Hatch{Area: o, Pattern: h, Spacing: 1.1})
	}
	pen := scene.Pen(scene.Medium)
	if u.Supply != p.legSupply(u.Leg) {
		pen = scene.Pen(scene.Broad)
	}
	p.body = append(p.body, scene.Path{Outline: o, Stroke: pen})
	p.room.things = append(p.room.things, convex(c...))
}

// here reports whether a node touches this window.
func (p *plot) here(n planner.Node) bool {
	if p.whole {
		return true
	}
	for _, leg := range n.Legs {
		i, ok := p.legs[leg]
		if !ok || len(p.of[i]) == 0 {
			continue
		}
		l, units := p.plan.Legs[i], p.of[i]
		if l.From == n.ID && slices.Contains(p.units, units[0]) || l.To == n.ID && slices.Contains(p.units, units[len(units)-1]) {
			return true
		}
	}
	return false
}

// nodes draws castings and ends.
func (p *plot) nodes() {
	for _, n := range p.plan.Nodes {
		if !p.here(n) {
			continue
		}
		switch {
		case n.Made == "casting":
			marks, bodies := p.v.casting(n, p.arms(n), scene.Thick)
			p.body = append(p.body, marks...)
			p.room.things = append(p.room.things, bodies...)
		case n.Kind == "end" && len(n.Headings) > 0:
			p.body = append(p.body, p.endMark(n)...)
		}
	}
}

// endMark is what stands at the end of a leg, across it.
func (p *plot) endMark(n planner.Node) []scene.Mark {
	half := 0.5
	if i, ok := p.legs[n.Legs[0]]; ok {
		half = p.unitWidth(p.plan.Legs[i].Supply)/2000 + 0.6*p.v.denominator/1000
	}
	out := heading(n.Headings[0]).times(-1)
	across := out.left().times(half)
	node := at(n.At)
	deep := out.times(2.2 * p.v.denominator / 1000)
	near := p.v.points(node.add(across), node.sub(across))
	far := p.v.points(node.add(across).add(deep), node.sub(across).add(deep))
	switch n.Made {
	case "end plate":
		return []scene.Mark{scene.Line(near[0], near[1], scene.Pen(1.1))}
	case "building":
		o := scene.Polygon(near[0], far[0], far[1], near[1])
		return []scene.Mark{scene.Hatch{Area: o, Pattern: scene.Backward, Spacing: 0.9}, scene.Path{Outline: o, Stroke: scene.Pen(scene.Medium)}}
	case "temporary":
		return []scene.Mark{scene.Line(near[0], near[1], scene.Pen(scene.Broad).Dashed(1.2, 0.8))}
	case "existing":
		return []scene.Mark{scene.Path{Outline: scene.Polygon(near[0], far[0], far[1], near[1]), Stroke: scene.Pen(scene.Medium).Dashed(1.2, 0.8)}}
	}
	return nil
}

// inWindow reports whether a station of a leg lies on one of the window's units, or within a metre of their ends.
func (p *plot) inWindow(leg int, station float64) bool {
	for _, i := range p.units {
		u := p.plan.Units[i]
		if p.legs[u.Leg] == leg && station >= mm(u.Start)-1000 && station <= mm(u.Start)+mm(u.Length)+1000 {
			return true
		}
	}
	return false
}

// things draws what lies across the run: edges of a crossing, the line of a service, a ring where a conduit enters.
func (p *plot) things() {
	for _, t := range p.draft.things {
		if !p.inWindow(t.leg, t.at) {
			continue
		}
		l := p.plan.Legs[t.leg]
		half := p.unitWidth(l.Supply) / 2000
		switch t.kind {
		case "crossing":
			along := t.wide / 2 / math.Max(0.2, math.Sin(t.skew*math.Pi/180))
			for _, s := range []float64{t.at - along, t.at + along} {
				p.across(t, s, half+14*p.v.denominator/1000, crossingPen())
			}
		case "service":
			p.across(t, t.at, half+12*p.v.denominator/1000, servicePen())
		case "entry":
			where, way := onAxis(l, chainageAt(l, t.at))
			out := sideways(way, t.side)
			ring := p.v.point(where.add(out.times(half)))
			p.body = append(p.body, scene.Path{Outline: scene.Circle(ring, 0.8), Fill: scene.White, Stroke: scene.Pen(scene.Medium)})
			if out != (spot{}) { // the conduit itself; it keeps its way out free of words
				away := scene.Direction(p.v.direction(out))
				end, beside := ring.Add(away.Times(4)), away.Left().Times(0.4)
				p.body = append(p.body, scene.Line(ring.Add(away.Times(0.8)), end, scene.Pen(scene.Medium)))
				p.room.things = append(p.room.things, convex(ring.Add(beside), end.Add(beside), end.Sub(beside), ring.Sub(beside)))
			}
		}
	}
}

// sideways is the unit vector to a side of the run; none for the floor.
func sideways(way spot, side string) spot {
	switch side {
	case "left":
		return way.left()
	case "right":
		return way.left().times(-1)
	}
	return spot{}
}

// across draws a line over the run at a station, turned clockwise from the run by the thing's skew.
func (p *plot) across(t thing, station, reach float64, pen scene.Stroke) {
	l := p.plan.Legs[t.leg]
	where, way := onAxis(l, chainageAt(l, station))
	out := turned(way, -t.skew*math.Pi/180).times(reach)
	ends := p.v.points(where.add(out), where.sub(out))
	p.body = append(p.body, scene.Line(ends[0], ends[1], pen))
	p.room.line(ends[0], ends[1])
}

// matchLines stand at both ends of a window where the run goes on, with the sheet and the place that follow.
func (p *plot) matchLines(windows []window, i int) {
	if p.whole {
		return
	}
	sheetOf := func(k int) string { return fmt.Sprintf("plan %d", k+2) }
	from, to := p.ends()
	first, last := p.plan.Units[from], p.plan.Units[to]
	if i > 0 && windows[i-1].chain == p.chain {
		_, to := windows[i-1].ends()
		before := p.plan.Units[to]
		p.matchLine(at(first.Axis[0]), at(first.Axis[0]).sub(at(first.Axis[1])), fmt.Sprintf("from %s, %s", sheetOf(i-1), before.Mark))
	}
	if i+1 < len(windows) && windows[i+1].chain == p.chain {
		next := p.plan.Units[windows[i+1].units[0]]
		p.matchLine(at(last.Axis[1]), at(last.Axis[1]).sub(at(last.Axis[0])), fmt.Sprintf("to %s, %s", sheetOf(i+1), next.Mark))
	}
}

// matchLine is a broad dashed line across the run; outward is the way that the run goes on.
func (p *plot) matchLine(where, outward spot, text string) {
	at, towards := p.v.point(where), scene.Direction(p.v.direction(outward))
	side := towards.Left()
	from, to := at.Add(side.Times(9)), at.Sub(side.Times(9))
	p.body = append(p.body, scene.Line(from, to, scene.Pen(scene.Broad).Dashed(4, 1.2)))
	p.room.line(from, to)
	var all []candidate
	for _, end := range []scene.Point{from, to} {
		for _, out := range []float64{2, 3.5, 5, 8} {
			for _, align := range []scene.Align{scene.Left, scene.Right, scene.Centre} {
				away := end.Sub(at).Unit()
				all = append(all, candidate{marks: []scene.Mark{scene.Text{At: end.Add(away.Times(out)), String: text, Size: p.size, Weight: scene.Bold, Align: align, VAlign: scene.Middle, Halo: 0.4}}})
			}
		}
	}
	p.set(all...)
}

// any reports whether the plan has a unit of a kind.
func (d *draft) any(kind func(planner.Unit) bool) bool {
	return slices.ContainsFunc(d.plan.Units, kind)
}

// set puts a label down if there is room for it.
func (p *plot) set(all ...candidate) bool {
	marks, ok := p.room.put(all...)
	p.labels = append(p.labels, marks...)
	return ok
}

// keep is set for what must not be lost: without room it goes to the list of lostLabels, in the words given.
func (p *plot) keep(words string, all ...candidate) {
	if !p.set(all...) {
		p.lost = append(p.lost, words)
	}
}

// lostLabels lists what found no room beside the run.
func (p *plot) lostLabels() {
	if len(p.lost) == 0 {
		return
	}
	p.list("also here, without room beside it:\n" + strings.Join(p.lost, "\n"))
}

// list sets lines down in a corner, or wherever else there is room.
func (p *plot) list(text string) {
	f := p.room.within.Inset(2)
	var all []candidate
	for _, down := range []float64{1, 0, 0.5, 0.25, 0.75} {
		for _, right := range []float64{0, 1, 0.5, 0.25, 0.75} {
			at := scene.Point{X: f.Left + float64(f.Width()*right), Y: f.Top + float64(f.Height()*down)}
			t := scene.Text{At: at, String: text, Size: p.size, Halo: 0.4, VAlign: scene.Middle, Align: scene.Centre}
			switch right {
			case 0:
				t.Align = scene.Left
			case 1:
				t.Align = scene.Right
			}
			switch down {
			case 0:
				t.VAlign = scene.Top
			case 1:
				t.VAlign = scene.Bottom
			}
			all = append(all, candidate{marks: []scene.Mark{t}})
		}
	}
	p.set(all...)
}
