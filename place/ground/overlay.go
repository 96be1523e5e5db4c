package ground

import (
	"math"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/place/ground/exact"
	"trenchwright/place/route"
)

// Volumes are what lies between two surfaces a and b, or between a surface and a plane. What lies on either side is kept
// apart and never made up for one by the other.
type Volumes struct {
	Cut, Fill         measure.Volume // where a lies above b, and where b lies above a
	CutArea, FillArea float64        // m² in plan
	LevelArea         float64        // m² where the two are one
	Common            float64        // m²: where both have ground, and inside the outline
	Outline           float64        // m² of the outline; 0: none was given
	Deepest, Highest  float64        // m: the most that a lies above b, and b above a
}

// Net is Cut − Fill.
func (v Volumes) Net() measure.Volume { return v.Cut - v.Fill }

// Missing is how much of the outline has no ground in one or the other, in m²; what rounding can make is nothing.
func (v Volumes) Missing() float64 {
	if m := v.Outline - v.Common; m > 1e-9*v.Outline {
		return m
	}
	return 0
}

// Between is the volume between two surfaces over what they have in common, inside an outline in plan (nil: all of it), by
// laying one triangulation over the other: exact but for the rounding of float64. Both surfaces have one origin.
func Between(a, b *Surface, outline []route.Point) (Volumes, finding.List) {
	t := newTeller(Source{Name: a.Name, Origin: a.Origin})
	for _, s := range [2]*Surface{a, b} {
		if s.Overlaps() {
			t.add(finding.Finding{ID: "ground.volume-overlap", Kind: finding.Fault,
				Text: t.say("surface %q has faces that lie over each other; no volume is given", s.Name),
				Try:  "export the surface anew, or make it from its points and breaklines"}, t.whole())
		}
	}
	if a.Origin != b.Origin {
		t.add(finding.Finding{ID: "ground.two-origins", Kind: finding.Fault,
			Text: t.say("surfaces %q and %q have their coordinates from two origins; no volume is given", a.Name, b.Name),
			Try:  "read both with the job's origin"}, t.whole())
	}
	o := t.newOverlay(a, outline)
	if len(t.list) > 0 {
		return Volumes{}, t.all()
	}
	o.b = b
	o.seen = newSeen(b)
	v := o.run()
	t.tell(a.Name, b.Name, v)
	return v, t.all()
}

// ToPlane is the volume between a surface and the plane that has level z at a place and rises so much for each metre east
// and north.
func (s *Surface) ToPlane(at route.Point, z, east, north float64, outline []route.Point) (Volumes, finding.List) {
	t := newTeller(Source{Name: s.Name, Origin: s.Origin})
	if s.Overlaps() {
		t.add(finding.Finding{ID: "ground.volume-overlap", Kind: finding.Fault,
			Text: t.say("surface %q has faces that lie over each other; no volume is given", s.Name),
			Try:  "export the surface anew, or make it from its points and breaklines"}, t.whole())
	}
	if bad := math.Abs(z) + math.Abs(east) + math.Abs(north); !usable(at) || !(bad <= Highest) {
		t.add(finding.Finding{ID: "ground.plane", Kind: finding.Fault,
			Text: "the plane is no plane: a coordinate or a slope is no number within reach", Try: "give its level and slopes in metres"}, t.whole())
	}
	o := t.newOverlay(s, outline)
	if len(t.list) > 0 {
		return Volumes{}, t.all()
	}
	o.plane = plane{z, east, north}
	o.from = place(at)
	v := o.run()
	t.tell(s.Name, "plane", v)
	return v, t.all()
}

// tell says what of the outline had no ground. Where one surface lies on both sides of the other is for whoever asked to
// show: both figures are in v.
func (t *teller) tell(a, b string, v Volumes) {
	if m := v.Missing(); m > 0 {
		t.add(finding.Finding{ID: "ground.outline-bare", Kind: finding.Attention,
			Text:  t.say("inside the outline %q and %q have no ground in common over part of it: no volume is given there", a, b),
			Limit: t.say("%.3f m² of outline", v.Outline), Value: t.say("%.3f m² in common, %.3f m² without", v.Common, m),
			Rule: "where there is no ground there is no volume", Try: "draw the outline inside both surfaces"}, t.whole())
	}
}

// overlay is the work of one volume.
type overlay struct {
	a, b    *Surface
	outline *Surface // its triangles; nil: none
	plane   plane    // where b is nil, relative to from
	from    exact.XY

	seen, inside seen
	cut, fill    sum
	cutA, fillA  sum
	levelA       sum
	area         sum
	volumes      Volumes
}

// seen is which faces of a surface were met on behalf of which piece.
type seen struct {
	stamp []int32
	now   int32
}

func newSeen(s *Surface) seen { return seen{stamp: make([]int32, len(s.faces))} }

// first tells whether f is met for the first time since next.
func (n *seen) first(f int32) bool {
	if n.stamp[f] == n.now {
		return false
	}
	n.stamp[f] = n.now
	return true
}

func (n *seen) next() { n.now++ }

// run goes over the faces of a.
func (o *overlay) run() Volumes {
	for f := range o.a.faces {
		a, b, c := o.a.corners(int32(f))
		local := frame{a.XY}
		p := polygon{n: 3}
		p.at[0], p.at[1], p.at[2] = local.at(a.XY), local.at(b.XY), local.at(c.XY)
		top := local.plane(a, b, c)
		if o.outline == nil {
			o.piece(local, &p, top)
			continue
		}
		o.inside.next()
		for g := range o.outline.over3(a.XY, b.XY, c.XY) {
			if o.inside.first(g) {
				q := p
				q.clip(local.triangle(o.outline, g))
				o.piece(local, &q, top)
			}
		}
	}
	v := &o.volumes
	v.Cut, v.Fill = measure.Volume(o.cut.total()), measure.Volume(o.fill.total())
	v.CutArea, v.FillArea, v.LevelArea, v.Common = o.cutA.total(), o.fillA.total(), o.levelA.total(), o.area.total()
	if o.outline != nil {
		v.Outline = o.outline.measures.Area2D
	}
	return *v
}

// piece lays the faces of b, or the plane, over a piece of a face of a.
func (o *overlay) piece(local frame, p *polygon, top plane) {
	if p.n < 3 {
		return
	}
	if o.b == nil {
		base := o.plane
		base.z = base.over(local.at(o.from).negative())
		o.book(p, top.minus(base))
		return
	}
	low, high := p.box()
	o.seen.next()
	for g := range o.b.index.box(local.back(low, -1), local.back(high, 1)) {
		if !o.seen.first(g) {
			continue
		}
		q := *p
		q.clip(local.triangle(o.b, g))
		if q.n >= 3 {
			a, b, c := o.b.corners(g)
			o.book(&q, top.minus(local.plane(a, b, c)))
		}
	}
}

// book adds a piece to the sums, d being how much a lies above b over it.
func (o *overlay) book(p *polygon, d plane) {
	area, volume := p.integrate(d)
	if area <= 0 {
		return
	}
	o.area.add(area)
	up, down := 0, 0
	for i := range p.n {
		switch h := d.over(p.at[i]); {
		case h > level0:
			up++
			o.volumes.Deepest = math.Max(o.volumes.Deepest, h)
		case h < -level0:
			down++
			o.volumes.Highest = math.Max(o.volumes.Highest, -h)
		}
	}
	switch {
	case up == 0 && down == 0:
		o.levelA.add(area)
	case down == 0:
		o.cut.add(volume)
		o.cutA.add(area)
	case up == 0:
		o.fill.add(-volume)
		o.fillA.add(area)
	default:
		part := p.above(d)
		a, v := part.integrate(d)
		o.cut.add(v)
		o.cutA.add(a)
		o.fill.add(v - volume)
		o.fillA.add(area - a)
	}
}

// level0 is the height below which two surfaces are one at a place, in metres: ten nanometres, since levels are whole
// nanometres and places between corners are worked out in float64.
const level0 = 1e-8

// frame is coordinates in metres relative to a corner nearby.
type frame struct{ origin exact.XY }

func (l frame) at(p exact.XY) xy { return xy{metres(p.X - l.origin.X), metres(p.Y - l.origin.Y)} }

// back is q in nanometres, moved by a few of them outwards.
func (l frame) back(q xy, outwards int64) exact.XY {
	return exact.XY{X: l.origin.X + nanometres(q.x) + 4*outwards, Y: l.origin.Y + nanometres(q.y) + 4*outwards}
}

func (l frame) triangle(s *Surface, f int32) *[3]xy {
	a, b, c := s.corners(f)
	return &[3]xy{l.at(a.XY), l.at(b.XY), l.at(c.XY)}
}

// plane is the plane through three points.
func (l frame) plane(a, b, c *vertex) plane {
	east, north := slope(a, b, c)
	q := l.at(a.XY)
	return plane{metres(a.Z) - float64(east*q.x) - float64(north*q.y), east, north}
}

func (p plane) minus(q plane) plane { return plane{p.z - q.z, p.east - q.east, p.north - q.north} }

func (p xy) negative() xy { return xy{-p.x, -p.y} }
