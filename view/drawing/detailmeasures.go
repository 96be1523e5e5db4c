package drawing

import (
	"fmt"
	"math"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// mitreMeasures are the figures that a mitre is sawn and set by: how far the long side reaches past the short one, the
// saw angle, the gap and the pad.
func (z *zoom) mitreMeasures() {
	b := z.n.Bend
	if len(z.ends) < 2 {
		return
	}
	outside := -1.0 // of a right bend: the left
	if z.turn < 0 {
		outside = 1
	}
	for i, e := range z.ends[:2] {
		if i == 0 || mm(b.LongShort)/z.v.denominator > 9 {
			z.longShort(e, outside)
		}
	}
	node := at(z.n.At)
	_, in := z.ends[0].face()
	way := turned(in.times(-1), -z.turn/2*math.Pi/180)
	out := way.left().times(-outside)
	corner := z.v.point(node.add(out.times(mm(b.PadAcross) / 2000)))
	towards := z.v.direction(out)
	gap := fmt.Sprintf("gap %s", z.length(b.Gap))
	z.set(note(corner, gap, z.size, scene.Regular, towards, scene.Arrow)...)
	if z.made[z.ends[0].unit.Supply].pads && z.made[z.ends[0].unit.Supply].job.Bearing.PadAlong.Known {
		inner := z.v.point(node.sub(out.times(mm(b.PadAcross) / 2000)))
		z.set(note(inner, z.words.pad+" "+z.atLeast(b.PadAcross), z.size, scene.Regular, towards+180, scene.Arrow)...)
	}
}

// longShort dimensions what the saw takes off at an angle: on the long side, from the foot of the short corner to the long
// corner, with the angle at the long corner's foot.
func (z *zoom) longShort(e legEnd, outside float64) {
	f, way := e.face()
	half := z.unitWidth(e.unit.Supply) / 2000
	long := half * math.Tan(z.n.Bend.SawAngle*math.Pi/180)
	side := way.left().times(outside) // of somebody looking away from the node, along the unit that comes in
	if e.unit.Mark != z.ends[0].unit.Mark {
		side = side.times(-1)
	}
	corner := f.add(side.times(half)).sub(way.times(long))
	foot := f.add(side.times(half)).add(way.times(long))
	short := f.sub(side.times(half)).add(way.times(long))
	p := z.v.points(foot, corner, short)
	z.under = append(z.under, scene.Line(p[2], p[0], scene.Pen(scene.Thin).Dashed(1.5, 1)))
	from, to := p[0], p[1]
	away := z.v.point(f.add(side)).Sub(z.v.point(f)).Unit()
	var over, past []candidate
	for _, off := range []float64{5, 8, 11, 14, 17} {
		if left := to.Sub(from).Left(); float64(left.X*away.X)+float64(left.Y*away.Y) < 0 {
			off = -off
		}
		text := z.length(z.n.Bend.LongShort)
		over = append(over, measured(from, to, off, text, z.size, scene.Regular))
		past = append(past, beyond(from, to, off, text, z.size), beyond(to, from, -off, text, z.size))
	}
	if e.unit.Mark == z.ends[0].unit.Mark { // of the second face, which measures the same, no figure off its line
		over = append(over, past...)
	}
	z.measure(over...)
	z.sawAngle(p[2], p[0], p[1])
}

// sawAngle is the arc between the square line and the cut about the short corner.
func (z *zoom) sawAngle(short, foot, corner scene.Point) {
	a, b := foot.Sub(short), corner.Sub(short)
	sweep := math.Mod(b.Angle()-a.Angle()+540, 360) - 180
	radius := a.Length() * 0.8
	var arc scene.Outline
	arc.Arc(short, radius, a.Angle(), sweep)
	z.under = append(z.under, scene.Path{Outline: arc, Stroke: scene.Pen(scene.Thin)})
	middle := short.Add(scene.Direction(a.Angle() + float64(sweep/2)).Times(radius))
	towards := b.Sub(a).Times(-1).Angle() // back over the unit that is cut
	text := "saw " + angle(z.n.Bend.SawAngle)
	var all []candidate
	for _, reach := range []float64{3, 5, 8, 11} {
		for _, turn := range []float64{0, 20, -20, 40, -40} {
			all = append(all, leaderTo(middle, middle.Add(scene.Direction(towards+turn).Times(reach)), text, z.size, scene.Regular, scene.Dot))
		}
	}
	marks, ok := z.room.onThings(all...)
	if !ok {
		marks, _ = z.room.put(note(middle, text, z.size, scene.Regular, towards, scene.Dot)...)
	}
	z.over = append(z.over, marks...)
}

// measure sets a dimension where no stroke runs through its figure; the words say it in any case.
func (z *zoom) measure(all ...candidate) {
	marks, _ := z.room.putWithin(liesOverLines, all...)
	z.over = append(z.over, marks...)
}

// armMeasures dimension a casting's arms from the node to each face.
func (z *zoom) armMeasures() {
	node := at(z.n.At)
	for _, a := range z.arms(z.n) {
		if a.length <= 0 {
			continue
		}
		far := node.add(a.out.times(a.length))
		var all []candidate
		for _, side := range []float64{1, -1} {
			shift := a.out.left().times(side * a.half)
			from, to := z.v.point(node.add(shift)), z.v.point(far.add(shift))
			for _, off := range []float64{5, 9, 13} {
				text := z.metres(a.length)
				all = append(all, measured(from, to, side*off, text, z.size, scene.Regular), beyond(from, to, side*off, text, z.size), beyond(to, from, -side*off, text, z.size))
			}
		}
		z.measure(all...)
	}
}

// widths dimension the outer width across the far end of each unit, once for each supply.
func (z *zoom) widths() {
	seen := map[string]bool{}
	for _, e := range z.ends {
		if seen[e.unit.Supply] || z.made[e.unit.Supply].width <= 0 {
			continue
		}
		seen[e.unit.Supply] = true
		c, _ := z.stub(e)
		p := z.v.points(c[:]...)
		from, to, side := p[0], p[3], -1.0
		if e.first {
			from, to, side = p[1], p[2], 1
		}
		var all []candidate
		for _, off := range []float64{6, 9} {
			all = append(all, measured(from, to, side*off, z.rounded(z.made[e.unit.Supply].width), z.size, scene.Regular))
		}
		z.measure(all...)
	}
}

// unitNames stand on the units, beside the axis and towards the far end.
func (z *zoom) unitNames() {
	for _, e := range z.ends {
		f, way := e.face()
		half := z.unitWidth(e.unit.Supply) / 2000
		shown := math.Min(z.reach, mm(e.unit.Length)/1000)
		along := scene.Upright(z.v.direction(way))
		var all []candidate
		for _, far := range []float64{0.74, 0.6, 0.82, 0.5} {
			for _, side := range []float64{0.42, -0.42, 0} {
				at := z.v.point(f.add(way.times(shown * far)).add(way.left().times(side * half)))
				all = append(all, candidate{marks: []scene.Mark{scene.Text{At: at, String: e.unit.Mark, Size: z.size * 1.35, Weight: scene.Bold,
					Align: scene.Centre, VAlign: scene.Middle, Angle: along, Halo: 0.6}}})
			}
		}
		lines := z.room.lines
		z.room.lines = append(slices.Clone(lines), z.seamLines...)
		marks, ok := z.room.onThings(all...)
		if z.room.lines = lines; !ok {
			marks, ok = z.room.onThings(all...)
		}
		if !ok {
			marks, _ = z.room.put(note(z.v.point(f.add(way.times(shown/2))), e.unit.Mark, z.size*1.35, scene.Bold, z.v.direction(way.left()), scene.Dot)...)
		}
		z.over = append(z.over, marks...)
	}
}

// upChainage is the arrow of the way in which the chainage of the first leg grows, beside its unit.
func (z *zoom) upChainage() {
	if len(z.ends) == 0 || z.ends[0].first {
		return // the first leg leaves the node: its chainage grows against the arrow
	}
	c, _ := z.stub(z.ends[0])
	p := z.v.points(c[:]...)
	text := "looking " + z.words.upChainage
	width := scene.TextWidth(text, z.size, scene.Regular)
	left := math.Min(p[0].X, p[3].X)
	var all []candidate
	for _, y := range []float64{p[3].Y + 7, p[3].Y + 11, p[3].Y + 16, p[0].Y - 6, p[0].Y - 11, p[0].Y - 16, z.room.within.Bottom - 2, z.room.within.Top + 3} {
		from := scene.Point{X: left + width + 1.5, Y: y - float64(z.size/2)}
		all = append(all, candidate{
			marks: []scene.Mark{scene.Text{At: scene.Point{X: left, Y: y}, String: text, Size: z.size},
				scene.Path{Outline: scene.Polyline(from, from.Add(scene.Point{X: 9})), Stroke: scene.Pen(scene.Medium), End: scene.Arrow}},
			lines: []shape{convex(from, from.Add(scene.Point{X: 9}))},
		})
	}
	z.measure(all...)
}

// north is a small arrow in the first corner of the picture that is free.
func (z *zoom) north() {
	b := z.room.within
	const size = 17.0
	for _, c := range []scene.Box{
		{Left: b.Right - size, Top: b.Top + 1, Right: b.Right, Bottom: b.Top + 1 + size},
		{Left: b.Right - size, Top: b.Bottom - size, Right: b.Right, Bottom: b.Bottom},
		{Left: b.Left, Top: b.Top + 1, Right: b.Left + size, Bottom: b.Top + 1 + size},
		{Left: b.Left, Top: b.Bottom - size, Right: b.Left + size, Bottom: b.Bottom},
	} {
		s := boxShape(c)
		if s.meetsAny(z.room.words) || s.meetsAny(z.room.things) || s.meetsAny(z.room.lines) {
			continue
		}
		up := scene.Direction(z.v.north())
		z.over = append(z.over, northArrow(c.Centre().Sub(up.Times(6.5)), z.v.north(), z.size)...)
		return
	}
}

// bar is a small scale bar in the lower part of the picture, where there is room.
func (z *zoom) bar() {
	b := z.room.within
	var all []candidate
	for _, x := range []float64{0, 0.3, 0.6} {
		at := scene.Point{X: b.Left + 3 + float64(x*b.Width()), Y: b.Bottom - 2.5}
		marks := z.scaleBar(at, z.v.denominator, 40, z.size)
		all = append(all, candidate{marks: marks, lines: noted(0, marks...).strokes})
	}
	z.measure(all...)
}

// host is the leg that goes on unbroken where a branch is sawn into its wall, with the opening.
func (z *zoom) host() {
	sawn := z.sawnHere()
	if sawn == nil {
		return
	}
	leg, ok := z.legs[sawn.Into]
	if !ok {
		return
	}
	node := at(z.n.At)
	best, near := -1, math.Inf(1)
	for _, i := range z.of[leg] {
		u := z.plan.Units[i]
		if far := at(u.Axis[0]).to(at(u.Axis[1]), 0.5).sub(node).length(); far < near {
			best, near = i, far
		}
	}
	if best < 0 {
		return
	}
	u := z.plan.Units[best]
	p := z.v.unit(z.draft, u)
	z.under = append(z.under, scene.Path{Outline: scene.Polygon(p...), Fill: scene.White, Stroke: scene.Pen(scene.Thick)})
	z.room.things = append(z.room.things, convex(p...))
	way := unitVector(at(u.Axis[1]).sub(at(u.Axis[0])))
	half := z.unitWidth(u.Supply) / 2000
	side := way.left()
	if len(z.ends) > 0 {
		if f, _ := z.ends[0].face(); float64(f.sub(node).e*side.e)+float64(f.sub(node).n*side.n) < 0 {
			side = side.times(-1)
		}
	}
	open := way.times(sawn.Opening.Metres() / 2)
	edge := node.add(side.times(half))
	q := z.v.points(edge.sub(open), edge.add(open))
	z.under = append(z.under, scene.Line(q[0], q[1], scene.Stroke{Width: 1.4, Colour: scene.White}), scene.Line(q[0], q[1], scene.Pen(scene.Medium).Dashed(1, 0.8)))
	z.set(note(q[1], "opening "+z.style.Format.Length(sawn.Opening), z.size, scene.Regular, z.v.direction(side), scene.Arrow)...)
}

func (z *zoom) sawnHere() *job.SawnTee {
	for _, n := range z.job.Route.Nodes {
		if n.ID == z.n.ID {
			return n.Sawn
		}
	}
	return nil
}

// nodeFacts are what has to be known at a node.
func (s *sheet) nodeFacts(z zoom) []fact {
	var out []fact
	add := func(name, text string) {
		if text != "" {
			out = append(out, fact{name, text})
		}
	}
	if b := z.n.Bend; b != nil {
		add("saw", fmt.Sprintf("each face %s from square; long side less short side %s", angle(b.SawAngle), s.length(b.LongShort)))
		add("gap", fmt.Sprintf("%s square to the faces; each face stands back %s from the node on its axis", s.length(b.Gap), s.length(b.Setback)))
		add(s.words.pad, s.padFact(z, *b))
	}
	add("fitting", s.fittingFact(z.n))
	if z.n.Made == "casting" && len(z.ends) > 0 {
		add("gap", s.rounded(s.endGap(z.ends[0].unit.Supply))+" between its faces and the "+s.words.units)
	}
	for _, e := range z.ends {
		add(e.unit.Mark, s.unitFact(e.unit))
	}
	add(s.words.covers, s.coverFact(z))
	add("", z.n.Note)
	if z.n.Level != nil {
		unit, name, places := s.coordinateUnit()
		add("level", fmt.Sprintf("wall top %.*f %s", places, *z.n.Level/unit, name))
	}
	return out
}

// padFact is how far the pads of a mitre have to reach, and whether those on file do.
func (s *sheet) padFact(z zoom, b planner.BendDetail) string {
	if len(z.ends) == 0 || !s.made[z.ends[0].unit.Supply].pads {
		return ""
	}
	text := "two, or one slab, under both faces, reaching " + s.atLeast(b.PadAcross) + " along the joint"
	if own := s.made[z.ends[0].unit.Supply].job.Bearing.PadAcross; own.Known {
		does := "reaches"
		if own.Value < measure.Length(b.PadAcross) {
			does = "does not reach"
		}
		text += fmt.Sprintf("; the %s on file, %s across, %s", s.words.pad, s.style.Format.Length(own.Value), does)
	}
	return text
}

// unitFact is a unit beside a node: its lengths, its long side, what of it stays as cast.
func (s *sheet) unitFact(u planner.Unit) string {
	text := s.length(u.Length) + " on the axis"
	if u.Hold {
		text = "HOLD, cut from measurement. Planned: " + text
	}
	if u.Piece == nil {
		return text + ", plain"
	}
	left, right := u.Piece.LeftSide, u.Piece.RightSide
	switch {
	case left > right:
		text += fmt.Sprintf("; left side long %s, right side short %s", s.length(left), s.length(right))
	case right > left:
		text += fmt.Sprintf("; left side short %s, right side long %s", s.length(left), s.length(right))
	}
	return text + fmt.Sprintf("; as cast: %s", keptWords(u.Piece.KeptEnd))
}

func keptWords(kept string) string {
	switch kept {
	case "start", "end":
		return "its " + kept
	}
	return "no end"
}

// coverFact says what the covers do at a node.
func (s *sheet) coverFact(z zoom) string {
	if b := z.n.Bend; b != nil {
		text := joined(" ", capital(suffixed(b.Seams, ".")))
		for _, mark := range []string{b.CoverIn, b.CoverOut} {
			for _, c := range s.plan.Covers {
				if mark != "" && c.Mark == mark {
					text = joined(" ", text, fmt.Sprintf("%s: left %s, right %s.", c.Mark, s.length(c.LeftSide), s.length(c.RightSide)))
				}
			}
		}
		return text
	}
	if f, ok := s.fitting(z.n.Fitting); ok && len(f.Covers) > 0 {
		text := ""
		for _, k := range f.Covers {
			mass := ""
			if k.Mass.Known {
				mass = ", " + s.style.Format.Mass(k.Mass.Value) + " each"
			}
			text = joined("; ", text, fmt.Sprintf("%d × %s%s", k.Count, k.Name, mass))
		}
		return text
	}
	if z.n.Made == "casting" {
		return notChecked + ": no drawing of this fitting's cover kit on file. Ask: the supplier"
	}
	return ""
}

func (s *sheet) fitting(id string) (job.Fitting, bool) {
	for _, sup := range s.job.Supplies {
		for _, f := range sup.Fittings {
			if f.ID == id && id != "" {
				return f, true
			}
		}
	}
	return job.Fitting{}, false
}

func (s *sheet) fittingFact(n planner.Node) string {
	if n.Made != "casting" {
		return ""
	}
	f, ok := s.fitting(n.Fitting)
	if !ok {
		return joined(", ", n.Fitting, "its drawing is not on file")
	}
	title := f.Title
	if title == "" {
		title = f.ID
	}
	mass := notChecked + ": no mass on file. Ask: the supplier"
	if f.Mass.Known {
		mass = s.style.Format.Mass(f.Mass.Value)
	}
	return joined("; ", title, mass, prefixed("document ", f.From))
}
