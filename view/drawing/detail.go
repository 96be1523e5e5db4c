package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// Details shows every bend, tee, cross and transition at a large scale, several to a sheet, each turned so that its first
// leg comes in from the left.
func Details(p planner.Plan, j job.Job, style Style) []scene.Page {
	d := newDraft(p, j, style)
	var nodes []planner.Node
	for _, n := range p.Nodes {
		if d.hasDetail(n) {
			nodes = append(nodes, n)
		}
	}
	var pages []scene.Page
	for len(nodes) > 0 {
		s := d.detailSheet(nil, 1)
		columns, rows := detailGrid(s.free, s.size, len(nodes))
		part := nodes[:min(len(nodes), columns*rows)]
		nodes = nodes[len(part):]
		pages = append(pages, d.detailPage(part, len(pages)+1))
	}
	return pages
}

// hasDetail reports whether something at a node has to be built with care.
func (d *draft) hasDetail(n planner.Node) bool {
	switch n.Kind {
	case "bend", "tee", "cross", "transition":
		return n.Made != "joint" && n.Made != "open"
	}
	return false
}

// detailGrid is how many details stand side by side and one above the other: as many as there is room for, and of the grids
// that hold all that are left the one that leaves each drawing most room beside its words, or above them.
func detailGrid(free scene.Box, size float64, nodes int) (columns, rows int) {
	k := size / 1.8
	most := max(1, int(math.Round(free.Width()/(165*k))))
	deep := max(1, int(math.Round(free.Height()/(100*k))))
	columns, rows = most, deep
	best := 0.0
	for c := 1; c <= most; c++ {
		r := (nodes + c - 1) / c
		width, height := free.Width()/float64(c), free.Height()/float64(r)
		beside, above := math.Min(width-float64(factWidth*k), height), math.Min(width, height-float64(32*k))
		if room := math.Max(beside, above); r <= deep && room > best {
			columns, rows, best = c, r, room
		}
	}
	return columns, rows
}

// factWidth is how wide the words beside a drawing stand on A3, in mm.
const factWidth = 66.0

func (d *draft) detailSheet(nodes []planner.Node, n int) *sheet {
	s := &sheet{draft: d, kind: "detail", title: detailTitle(nodes),
		note: "each seen from above and turned so that its first leg comes in from the left; left and right are those of somebody looking " + d.words.upChainage}
	for _, node := range nodes {
		s.shown = append(s.shown, d.around(node)...)
	}
	s.general = d.concerns(general)
	s.concerns = d.concerns(func(f finding.Finding) bool {
		for _, node := range nodes {
			if strings.HasSuffix(f.Where.Path, "nodes."+node.ID) || d.besideNode(f.Where.Place, node) {
				return true
			}
		}
		return false
	})
	s.frame(n)
	s.detailKey()
	return s
}

// detailTitle names what a sheet shows: Bends, tees and crosses.
func detailTitle(nodes []planner.Node) string {
	var kinds []string
	for _, k := range []struct{ kind, word string }{{"bend", "bends"}, {"tee", "tees"}, {"cross", "crosses"}, {"transition", "transitions"}} {
		if slices.ContainsFunc(nodes, func(n planner.Node) bool { return n.Kind == k.kind }) {
			kinds = append(kinds, k.word)
		}
	}
	last := len(kinds) - 1
	if last < 1 {
		return capital(strings.Join(kinds, ""))
	}
	return capital(strings.Join(kinds[:last], ", ") + " and " + kinds[last])
}

// detailKey explains the lines of the drawings along the lower edge and takes its height off the free room.
func (s *sheet) detailKey() {
	s.free.Bottom -= keyHigh + 1
	s.keyRows(scene.Point{X: s.free.Left, Y: s.free.Bottom + 1}, s.free.Right, keyHigh, []keyItem{
		{"outside of a " + s.words.unit, true, level(scene.Pen(scene.Medium))}, {"inside of its walls", true, level(scene.Pen(scene.Thin))},
		{"casting", s.casts(), level(scene.Pen(scene.Thick))}, {s.words.cover, true, level(seamPen())},
		{s.words.pad, s.onPads(), level(mitrePadPen())}, {s.words.centreline, true, level(axisPen())},
	})
}

func (s *sheet) casts() bool {
	return slices.ContainsFunc(s.plan.Nodes, func(n planner.Node) bool { return n.Made == "casting" })
}

// The pens of a detail.
func seamPen() scene.Stroke     { return scene.Pen(scene.Thin).Dashed(2, 1) }
func mitrePadPen() scene.Stroke { return scene.Pen(scene.Medium).Dashed(0.9, 0.7) }
func axisPen() scene.Stroke     { return scene.Pen(scene.Thin).Dashed(5, 1, 1, 1) }

// around are the last units of the legs at a node, for the line at the foot.
func (d *draft) around(n planner.Node) []shown {
	var out []shown
	for _, e := range d.endsAt(n) {
		out = append(out, shown{d.legs[e.unit.Leg], mm(e.unit.Start), mm(e.unit.Start) + mm(e.unit.Length)})
	}
	return out
}

func (d *draft) besideNode(place string, n planner.Node) bool {
	for _, e := range d.endsAt(n) {
		if place != "" && e.unit.Mark == place {
			return true
		}
	}
	return false
}

func (d *draft) detailPage(nodes []planner.Node, n int) scene.Page {
	s := d.detailSheet(nodes, n)
	columns, rows := detailGrid(s.free, s.size, len(nodes))
	gap := 6.0
	width := (s.free.Width() - float64(gap*float64(columns-1))) / float64(columns)
	height := (s.free.Height() - float64(gap*float64(rows-1))) / float64(rows)
	for i, node := range nodes {
		at := scene.Point{X: s.free.Left + float64((width+gap)*float64(i%columns)), Y: s.free.Top + float64((height+gap)*float64(i/columns))}
		s.detail(node, scene.BoxAt(at, width, height))
	}
	return s.page
}

// legEnd is the unit of a leg that stands nearest to a node.
type legEnd struct {
	unit  planner.Unit
	first bool // the leg begins at the node
}

// face is the axis point of the unit's end at the node, and the way from there along the unit.
func (e legEnd) face() (spot, spot) {
	a, b := at(e.unit.Axis[0]), at(e.unit.Axis[1])
	if e.first {
		return a, unitVector(b.sub(a))
	}
	return b, unitVector(a.sub(b))
}

// endsAt are the units beside a node: those of legs that arrive first, then those of legs that leave, each in the plan's
// order.
func (d *draft) endsAt(n planner.Node) []legEnd {
	var arriving, leaving []legEnd
	for i, l := range d.plan.Legs {
		units := d.of[i]
		if len(units) == 0 {
			continue
		}
		if l.To == n.ID {
			arriving = append(arriving, legEnd{d.plan.Units[units[len(units)-1]], false})
		}
		if l.From == n.ID {
			leaving = append(leaving, legEnd{d.plan.Units[units[0]], true})
		}
	}
	return append(arriving, leaving...)
}

// zoom is one detail being drawn.
type zoom struct {
	*sheet
	n     planner.Node
	ends  []legEnd
	turn  float64 // of a bend, from its first unit to its second, right positive
	v     view
	room  room
	reach float64 // how much of each unit is shown, in metres
	under []scene.Mark
	over  []scene.Mark

	seamLines []shape // across the units, where covers meet
}

// detail draws one node in a box: the drawing on the left and what has to be known on the right, or below it in a box that
// is not much wider than high.
func (s *sheet) detail(n planner.Node, box scene.Box) {
	z := zoom{sheet: s, n: n, ends: s.endsAt(n)}
	if n.Kind == "bend" && len(z.ends) > 1 {
		_, in := z.ends[0].face()
		_, out := z.ends[1].face()
		z.turn = math.Mod(out.bearing()-in.times(-1).bearing()+540, 360) - 180
	}
	s.add(scene.Line(box.Corner(), scene.Point{X: box.Right, Y: box.Top}, scene.Pen(scene.Fine)))
	box.Top += 2.5
	title := z.n.ID + "  " + z.kindWords()
	head, size, _ := scene.Fit(title, s.size*1.35, s.size, scene.Bold, box.Width())
	s.add(scene.Text{At: box.Corner(), String: head, Size: size, Weight: scene.Bold, VAlign: scene.Top})
	box.Top += scene.LineStep(s.size*1.35) + 0.8
	facts := append(s.nodeFacts(z), fact{"scale", "1 in = 10 ft on A3"}) // the scale takes one line, whichever it comes to be
	picture, text, columns := s.halves(box, facts)
	z.look(picture)
	z.room.within = picture
	z.draw()
	s.add(scene.Group{Name: n.ID, Clip: scene.Rectangle(picture), Marks: z.under})
	s.add(z.over...)
	facts[len(facts)-1].text = s.scaleWords(z.v.denominator) + " on " + s.style.Size.String()
	s.detailFacts(facts, text, columns)
}

// halves parts a box into the drawing and the words, which stand in one column beside it or in two below.
func (s *sheet) halves(box scene.Box, facts []fact) (picture, text scene.Box, columns int) {
	step := scene.LineStep(s.size)
	picture, text = box, box
	if box.Width() > 1.3*box.Height() {
		picture.Right -= math.Min(factWidth*s.size/1.8, box.Width()*0.44) + 3
		text.Left = picture.Right + 3
		if _, depth := s.factCells(facts, text.Width(), 1); step*float64(depth) <= text.Height() {
			return picture, text, 1
		}
		picture, text = box, box
	}
	_, depth := s.factCells(facts, text.Width(), 2)
	text.Top = box.Bottom - float64(step*float64(depth))
	picture.Bottom = text.Top - 2
	return picture, text, 2
}

// look chooses the view: first leg from the left, everything near the node inside the picture.
func (z *zoom) look(picture scene.Box) {
	widest := 0.3
	for _, e := range z.ends {
		widest = math.Max(widest, z.unitWidth(e.unit.Supply)/1000)
	}
	z.reach = 1.7 * widest
	if z.n.Made == "casting" {
		z.reach = 1.35 * widest // its own arms are what counts
	}
	node := at(z.n.At)
	if len(z.ends) > 0 {
		_, way := z.ends[0].face()
		z.v.turn = way.times(-1).bearing() - 90
	}
	var spots []spot
	for _, e := range z.ends {
		c, _ := z.stub(e)
		spots = append(spots, c[:]...)
	}
	if z.n.Made == "casting" {
		for _, c := range castBody(node, z.arms(z.n)) {
			spots = append(spots, c[:]...)
		}
	}
	if z.turn != 0 {
		_, way := z.ends[0].face()
		for _, part := range []float64{0, 0.3, 0.6} {
			spots = append(spots, node.sub(turned(way, -z.turn*part*math.Pi/180).times(z.reach*0.7)))
		}
	}
	if len(spots) == 0 {
		spots = []spot{node}
	}
	inner := picture.Inset(9 * z.size / 1.8)
	width, height, middle := extent(z.v.turn, spots)
	z.v.centre, z.v.denominator = middle, math.Max(z.detailScale(width*1000, inner.Width()), z.detailScale(height*1000, inner.Height()))
	z.v.middle = inner.Centre()
}

// detailScale is the largest scale of a finer row at which a length takes no more than room mm.
func (d *draft) detailScale(length, room float64) float64 {
	row := []float64{2, 2.5, 5, 10, 15, 20, 25, 30, 40, 50, 75, 100}
	if d.style.Format.System == measure.Imperial {
		row = []float64{3, 4, 6, 8, 12, 16, 24, 32, 48, 64, 96} // 4 in to 1/8 in a foot
	}
	for _, s := range row {
		if length/s <= room {
			return s
		}
	}
	return row[len(row)-1]
}

// stub is the part of a unit that is shown, as corners from the left start round, and whether its far end is broken off.
func (z *zoom) stub(e legEnd) ([4]spot, bool) {
	half := z.unitWidth(e.unit.Supply) / 2000
	return z.part(e, half, 0, mm(e.unit.Length)/1000, e.unit.StartAngle, e.unit.EndAngle)
}

// part is the stretch from..to of a unit, in metres from its start, as far as it is shown.
func (z *zoom) part(e legEnd, half, from, to, startAngle, endAngle float64) ([4]spot, bool) {
	a, b := at(e.unit.Axis[0]), at(e.unit.Axis[1])
	long := mm(e.unit.Length) / 1000
	broken := false
	if e.first && to > z.reach {
		to, endAngle, broken = z.reach, 0, true
	}
	if !e.first && from < long-z.reach {
		from, startAngle, broken = long-z.reach, 0, true
	}
	if long <= 0 || to <= from {
		return [4]spot{a, a, a, a}, broken
	}
	return footprint(a.to(b, from/long), a.to(b, to/long), half, startAngle, endAngle), broken
}

// draw puts the node together: what lies below first, lettering last.
func (z *zoom) draw() {
	switch z.n.Made {
	case "casting":
		marks, bodies := z.v.casting(z.n, z.arms(z.n), scene.Thick)
		z.under = append(z.under, marks...)
		z.room.things = append(z.room.things, bodies...)
		for _, b := range bodies {
			for i, p := range b.points {
				q := b.points[(i+1)%len(b.points)]
				pen := q.Sub(p).Unit().Left().Times(scene.Thick)
				z.room.lines = append(z.room.lines, convex(p.Add(pen), q.Add(pen), q.Sub(pen), p.Sub(pen)))
			}
		}
	case "sawn":
		z.host()
	}
	for _, e := range z.ends {
		z.body(e)
	}
	z.pad()
	z.axes()
	if z.n.Bend != nil {
		z.mitreMeasures()
	}
	if z.n.Made == "casting" {
		z.armMeasures()
	}
	z.widths()
	z.unitNames()
	z.upChainage()
	z.north()
	z.bar()
}

// body is one unit with its walls and its covers, broken off where it goes on.
func (z *zoom) body(e legEnd) {
	c, broken := z.stub(e)
	p := z.v.points(c[:]...)
	z.under = append(z.under, scene.Path{Outline: scene.Polygon(p...), Fill: scene.White})
	z.room.things = append(z.room.things, convex(p...))
	z.walls(e)
	z.seams(e)
	if !broken {
		z.under = append(z.under, scene.Path{Outline: scene.Polygon(p...), Stroke: scene.Pen(scene.Medium)})
		return
	}
	near, far := []int{1, 0, 3, 2}, [2]scene.Point{p[1], p[2]}
	if !e.first {
		near, far = []int{0, 1, 2, 3}, [2]scene.Point{p[0], p[3]}
	}
	goesOn := breakLine(far[0], far[1])
	z.room.lines = append(z.room.lines, noted(0, goesOn).strokes...)
	z.under = append(z.under, scene.Path{Outline: scene.Polyline(p[near[0]], p[near[1]], p[near[2]], p[near[3]]), Stroke: scene.Pen(scene.Medium)}, goesOn)
}

// breakLine is a long line with one zigzag: the unit goes on.
func breakLine(from, to scene.Point) scene.Mark {
	way := to.Sub(from)
	u, side := way.Unit(), way.Unit().Left()
	over, k := u.Times(2.5), float64(way.Length()/2)
	at := func(along, out float64) scene.Point { return from.Add(u.Times(along)).Add(side.Times(out)) }
	return scene.Path{Outline: scene.Polyline(from.Sub(over), at(k-1.6, 0), at(k-0.6, 1.6), at(k+0.6, -1.6), at(k+1.6, 0), to.Add(over)), Stroke: scene.Pen(scene.Thin)}
}

// walls are the inner faces of a unit, where its inner width is on file.
func (z *zoom) walls(e legEnd) {
	inner := millimetres(z.made[e.unit.Supply].head.InnerWidth) / 2000
	if inner <= 0 {
		return
	}
	c, _ := z.part(e, inner, 0, mm(e.unit.Length)/1000, e.unit.StartAngle, e.unit.EndAngle)
	p := z.v.points(c[:]...)
	z.under = append(z.under, scene.Line(p[0], p[1], scene.Pen(scene.Thin)), scene.Line(p[3], p[2], scene.Pen(scene.Thin)))
}

// seams are the outlines of the covers on a unit, dashed.
func (z *zoom) seams(e legEnd) {
	half := z.made[e.unit.Supply].cover / 2000
	if half <= 0 {
		return
	}
	long := mm(e.unit.Length) / 1000
	for _, i := range z.covers[e.unit.Mark] {
		v := z.plan.Covers[i]
		from, to := mm(v.Start)/1000, mm(v.Start)/1000+mm(v.Length)/1000
		if e.first && from >= z.reach || !e.first && to <= long-z.reach {
			continue
		}
		c, _ := z.part(e, half, from, to, v.StartAngle, v.EndAngle)
		o := scene.Polygon(z.v.points(c[:]...)...)
		z.under = append(z.under, scene.Path{Outline: o, Stroke: seamPen()})
		p := z.v.points(c[:]...)
		z.seamLines = append(z.seamLines, convex(p[0], p[3]), convex(p[1], p[2]))
	}
}

// pad is what carries both faces of a mitre, in the depth that the supplier's pads have.
func (z *zoom) pad() {
	if z.n.Bend == nil || len(z.ends) == 0 || !z.made[z.ends[0].unit.Supply].pads {
		return
	}
	along := z.made[z.ends[0].unit.Supply].job.Bearing.PadAlong
	if !along.Known {
		return
	}
	_, in := z.ends[0].face()
	way := turned(in.times(-1), -z.turn/2*math.Pi/180) // square to the mitre
	half := way.left().times(mm(z.n.Bend.PadAcross) / 2000)
	deep := way.times(along.Value.Metres() / 2)
	node := at(z.n.At)
	p := z.v.points(node.add(half).sub(deep), node.add(half).add(deep), node.sub(half).add(deep), node.sub(half).sub(deep))
	z.under = append(z.under, scene.Path{Outline: scene.Polygon(p...), Stroke: mitrePadPen()})
	for i := range p {
		z.room.line(p[i], p[(i+1)%4])
	}
}

// axes are the centrelines, and the first leg's carried on past the bend with the angle that is turned.
func (z *zoom) axes() {
	node := at(z.n.At)
	pen := axisPen()
	for _, e := range z.ends {
		f, way := e.face()
		far := f.add(way.times(math.Min(z.reach, mm(e.unit.Length)/1000)))
		p := z.v.points(node, far)
		z.under = append(z.under, scene.Line(p[0], p[1], pen))
	}
	if z.turn == 0 {
		return
	}
	_, in := z.ends[0].face()
	ahead := in.times(-z.reach * 0.7)
	p := z.v.points(node, node.add(ahead))
	z.under = append(z.under, scene.Line(p[0], p[1], scene.Pen(scene.Thin)))
	z.room.line(p[0], p[1])
	start := p[1].Sub(p[0]).Angle()
	radius := p[1].Sub(p[0]).Length() * 0.9
	if arms := z.arms(z.n); z.n.Made == "casting" && len(arms) > 0 {
		radius = 0.75 * arms[0].half * 1000 / z.v.denominator // inside the casting, off the measures of its arms
	}
	var arc scene.Outline
	arc.Arc(p[0], radius, start, -z.turn)
	z.under = append(z.under, scene.Path{Outline: arc, Stroke: scene.Pen(scene.Thin), End: scene.Arrow})
	for _, c := range arc.Flat(0.2) {
		for i := 1; i < len(c.Points); i++ {
			z.room.line(c.Points[i-1], c.Points[i])
		}
	}
	middle := p[0].Add(scene.Direction(start - float64(z.turn/2)).Times(radius))
	z.set(note(middle, angle(z.turn), z.size*1.2, scene.Bold, start-float64(z.turn/2), scene.Dot)...)
}

func (z *zoom) set(all ...candidate) {
	marks, _ := z.room.put(all...)
	z.over = append(z.over, marks...)
}

// length of a drawn distance.
func (z *zoom) metres(m float64) string { return z.length(measure.MM(measure.FromMetres(m))) }

const factColumnGap = 4.0

// factCells sets facts in columns: each a bold word over its text.
func (s *sheet) factCells(facts []fact, width float64, columns int) ([]bandCell, int) {
	width = (width - float64(factColumnGap*float64(columns-1))) / float64(columns)
	var rows []bandRow
	for _, f := range facts {
		var lines []string
		if f.name != "" {
			lines = append(lines, "")
		}
		rows = append(rows, bandRow{f.name, append(lines, wrapped(f.text, s.size, width)...)})
	}
	const all = 1000
	return flow(rows, columns, all)
}

// detailFacts are the words beside or below a drawing.
func (s *sheet) detailFacts(facts []fact, box scene.Box, columns int) {
	step := scene.LineStep(s.size)
	cells, _ := s.factCells(facts, box.Width(), columns)
	width := (box.Width() + factColumnGap) / float64(columns)
	for _, c := range cells {
		at := scene.Point{X: box.Left + float64(width*float64(c.column)), Y: box.Top + float64(step*float64(c.line))}
		s.add(scene.Text{At: at, String: c.word, Size: s.size, Weight: scene.Bold, VAlign: scene.Top},
			scene.Text{At: at, String: strings.Join(c.lines, "\n"), Size: s.size, VAlign: scene.Top})
	}
}

// kindWords is what a node is, with its hand.
func (z *zoom) kindWords() string {
	switch z.n.Kind {
	case "bend":
		words := fmt.Sprintf("bend of %s to the %s", angle(z.turn), hand(z.turn))
		if len(z.ends) == 2 && !z.ends[0].first && z.ends[1].first {
			return words + ", looking " + z.words.upChainage
		}
		if len(z.ends) == 0 { // nothing could be laid on either side
			return words + ", following the leg that runs to it"
		}
		return words + ", seen along " + z.ends[0].unit.Mark
	case "transition":
		return z.words.transition
	}
	if z.n.Made == "casting" {
		return z.n.Kind + ", cast"
	}
	return z.n.Kind + ", " + z.n.Made
}
