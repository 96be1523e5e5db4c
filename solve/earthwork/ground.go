package earthwork

import (
	"math"
	"slices"

	"trenchwright/base/sorting"
	"trenchwright/place/ground"
	"trenchwright/place/route"
)

// Ground is a surface that is flat between its corners. It is asked by several legs at once.
type Ground interface {
	// Section is the ground along the straight from one place to another: between the cuts of a stretch it is straight,
	// between two stretches there is none.
	Section(from, to route.Point) []Stretch
	// Corners are all corners of its faces in a box; more does no harm.
	Corners(low, high route.Point) []route.Point
}

// Stretch is ground without a gap.
type Stretch []Cut

// Cut is a point of a section: grid metres along the line, and the level there.
type Cut struct{ Along, Level float64 }

// surface is a triangulated surface with its corners sorted into square cells.
type surface struct {
	*ground.Surface
	low     route.Point
	cell    float64
	columns int
	rows    int
	from    []int // by cell: where its corners start
	corners []route.Point
}

// Of is the ground of a triangulated surface; nil of nil.
func Of(s *ground.Surface) Ground {
	if s == nil {
		return nil
	}
	out := &surface{Surface: s}
	for f := range s.FaceCount() {
		for _, p := range s.Corners(f) {
			out.corners = append(out.corners, route.Point{E: p.E, N: p.N})
		}
	}
	sorting.By(out.corners, byPlace)
	out.corners = slices.Compact(out.corners)
	out.sort()
	return out
}

func byPlace(a, b route.Point) int {
	switch {
	case a.E < b.E || a.E == b.E && a.N < b.N:
		return -1
	case a == b:
		return 0
	}
	return 1
}

// sort puts the corners into cells, about one to a cell.
func (s *surface) sort() {
	n := len(s.corners)
	if n == 0 {
		return
	}
	low, high := s.corners[0], s.corners[0]
	for _, p := range s.corners {
		low, high = lower(low, p), upper(high, p)
	}
	wide, deep := high.E-low.E, high.N-low.N
	s.low, s.cell = low, max(math.Sqrt(float64(wide*deep)/float64(n)), wide/float64(4*n), deep/float64(4*n), 1e-3)
	s.columns, s.rows = int(wide/s.cell)+1, int(deep/s.cell)+1
	s.from = make([]int, s.columns*s.rows+1)
	cellOf := func(p route.Point) int {
		c, r := s.at(p)
		return r*s.columns + c
	}
	for _, p := range s.corners {
		s.from[cellOf(p)+1]++
	}
	for i := 1; i < len(s.from); i++ {
		s.from[i] += s.from[i-1]
	}
	next, sorted := slices.Clone(s.from), make([]route.Point, n)
	for _, p := range s.corners {
		c := cellOf(p)
		sorted[next[c]] = p
		next[c]++
	}
	s.corners = sorted
}

// at is the cell of a place, that of the rim for a place outside.
func (s *surface) at(p route.Point) (column, row int) {
	within := func(x float64, n int) int { return int(min(max(x/s.cell, 0), float64(n-1))) }
	return within(p.E-s.low.E, s.columns), within(p.N-s.low.N, s.rows)
}

func (s *surface) Corners(low, high route.Point) []route.Point {
	if len(s.corners) == 0 {
		return nil
	}
	var out []route.Point
	c0, r0 := s.at(low)
	c1, r1 := s.at(high)
	for r := r0; r <= r1; r++ {
		for _, p := range s.corners[s.from[r*s.columns+c0]:s.from[r*s.columns+c1+1]] {
			if p.E >= low.E && p.E <= high.E && p.N >= low.N && p.N <= high.N {
				out = append(out, p)
			}
		}
	}
	return out
}

func (s *surface) Section(from, to route.Point) []Stretch {
	found := s.Surface.Section([]route.Point{from, to}).Stretches
	out := make([]Stretch, len(found))
	for i, st := range found {
		out[i] = make(Stretch, len(st))
		for k, c := range st {
			out[i][k] = Cut(c)
		}
	}
	return out
}

func lower(a, b route.Point) route.Point {
	return route.Point{E: min(a.E, b.E), N: min(a.N, b.N)}
}

func upper(a, b route.Point) route.Point {
	return route.Point{E: max(a.E, b.E), N: max(a.N, b.N)}
}
