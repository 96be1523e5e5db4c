package ground

import (
	"slices"

	"trenchwright/base/finding"
	"trenchwright/place/ground/delaunay"
	"trenchwright/place/ground/exact"
	"trenchwright/place/route"
)

// trim tells which faces belong to the ground.
func (d *draft) trim(faces []delaunay.Face) []bool {
	keep := make([]bool, len(faces))
	for i := range keep {
		keep[i] = true
	}
	outer := d.rings("the outer boundary", [][]route.Point{d.survey.Outer})
	holes, islands := d.rings("a hole", d.survey.Holes), d.rings("an island", d.survey.Islands)
	if len(outer)+len(holes) > 0 {
		for i, f := range faces {
			a, b, c := d.vertices[f.Corner[0]], d.vertices[f.Corner[1]], d.vertices[f.Corner[2]]
			p := exact.XY{X: (a.X + b.X + c.X) / 3, Y: (a.Y + b.Y + c.Y) / 3}
			keep[i] = (len(outer) == 0 || anyHolds(outer, p)) && (!anyHolds(holes, p) || anyHolds(islands, p))
		}
	}
	if d.survey.LongestEdge > 0 {
		d.peel(faces, keep)
	}
	return keep
}

// rings makes rings of some; one that is none is told and left out.
func (d *draft) rings(name string, some [][]route.Point) []*ring {
	var out []*ring
	for _, places := range some {
		if len(places) == 0 {
			continue
		}
		r, wrong := newRing(places)
		if wrong != "" {
			d.add(finding.Finding{ID: "ground.ring", Kind: finding.Fault, Text: name + " is left out: it " + wrong,
				Try: "give it three places or more"}, d.whole())
			continue
		}
		out = append(out, r)
	}
	return out
}

func anyHolds(rings []*ring, p exact.XY) bool {
	return slices.ContainsFunc(rings, func(r *ring) bool { return r.holds(p) })
}

// peel takes faces with too long an edge away from outside inwards. Breaklines hold: the faces behind them stay.
func (d *draft) peel(faces []delaunay.Face, keep []bool) {
	limit := d.survey.LongestEdge * 1e9
	long := func(f *delaunay.Face, k int) bool {
		a, b := d.vertices[f.Corner[after[k]]], d.vertices[f.Corner[before[k]]]
		return !f.Fixed[k] && exact.Dot(a.XY, b.XY, b.XY).Float() > float64(limit*limit)
	}
	bare := func(j int32) bool { return j == delaunay.None || !keep[j] }
	var waiting []int32
	for i := range faces {
		waiting = append(waiting, int32(i))
	}
	for len(waiting) > 0 {
		i := waiting[len(waiting)-1]
		waiting = waiting[:len(waiting)-1]
		f := &faces[i]
		for k := range 3 {
			if keep[i] && bare(f.Beyond[k]) && long(f, k) {
				keep[i] = false
			}
		}
		if keep[i] {
			continue
		}
		for _, j := range f.Beyond {
			if j != delaunay.None && keep[j] {
				waiting = append(waiting, j)
			}
		}
	}
}

// ring is a closed line in plan, its edges sorted into strips from south to north.
type ring struct {
	places []exact.XY
	south  int64
	shift  uint
	strips [][]int32 // edges by their first place
}

// newRing makes a ring of places; the last is joined to the first. It says what is wrong with it.
func newRing(places []route.Point) (*ring, string) {
	r := &ring{}
	for _, p := range places {
		if !usable(p) {
			return nil, "has a coordinate that is no number within reach"
		}
		if q := place(p); len(r.places) == 0 || r.places[len(r.places)-1] != q {
			r.places = append(r.places, q)
		}
	}
	for n := len(r.places); n > 1 && r.places[n-1] == r.places[0]; n = len(r.places) {
		r.places = r.places[:n-1]
	}
	if len(r.places) < 3 {
		return nil, "has fewer than three places"
	}
	south := slices.MinFunc(r.places, func(a, b exact.XY) int { return compareY(a, b) })
	north := slices.MaxFunc(r.places, func(a, b exact.XY) int { return compareY(a, b) })
	r.south = south.Y
	for (north.Y-south.Y)>>r.shift > 4*int64(len(r.places)) {
		r.shift++
	}
	r.strips = make([][]int32, (north.Y-south.Y)>>r.shift+1)
	for i := range r.places {
		a, b := r.edge(int32(i))
		for k := (min(a.Y, b.Y) - r.south) >> r.shift; k <= (max(a.Y, b.Y)-r.south)>>r.shift; k++ {
			r.strips[k] = append(r.strips[k], int32(i))
		}
	}
	return r, ""
}

func compareY(a, b exact.XY) int { return exact.XY{X: a.Y}.Compare(exact.XY{X: b.Y}) }

func (r *ring) edge(i int32) (a, b exact.XY) { return r.places[i], r.places[(int(i)+1)%len(r.places)] }

// holds tells whether a place lies inside: a ray east of it crosses the ring an odd number of times.
func (r *ring) holds(p exact.XY) bool {
	k := (p.Y - r.south) >> r.shift
	if k < 0 || k >= int64(len(r.strips)) {
		return false
	}
	odd := false
	for _, i := range r.strips[k] {
		a, b := r.edge(i)
		if a.Y > b.Y {
			a, b = b, a
		}
		if a.Y <= p.Y && p.Y < b.Y && exact.Side(a, b, p) > 0 {
			odd = !odd
		}
	}
	return odd
}
