// Package ground is the ground as triangulated surfaces: made from a survey or from a mesh that exists, asked for levels,
// sections and volumes.
//
// Plan coordinates come in as float64 metres relative to the job's origin and are rounded once, to the nanometre
// (vertex.go); from there on every decision about them is exact, so that a point on an edge is on it and a line through a
// corner passes through it. Where a surface has no ground the answer is "no ground here", never a level. What is wrong with
// the input is a finding and has a stated rule; nothing is mended in silence.
//
// Map of the package:
//
//	ground.go    Surface, Role, Ground, Measures; vertex.go: points in, rounded; speech.go: how findings are worded
//	survey.go    Triangulate: from points and breaklines; draft.go: on the way there; cross.go: breaklines that cross
//	trim.go      outer boundary, holes, longest edge; spike.go: points that stand out of all their neighbours
//	mesh.go      FromMesh: from faces that somebody else made; overlap.go: faces that lie over each other
//	index.go     which faces lie where
//	at.go        At: level and slope; section.go, walk.go, heap.go: Section: the ground along a line
//	overlay.go   Between, ToPlane: volumes; convex.go: cutting polygons and integrating over them; outline.go: within what
//	clip.go      Clip: what lies along a run; encode.go, decode.go: a surface as bytes that are the same everywhere
//	stray.go     Stray: whether a run and a ground belong to each other; covered.go: where a run has no ground
//	exact/, delaunay/  decisions without rounding, and the triangulation; local/: a grid for WGS 84
package ground

import (
	"trenchwright/base/measure"
	"trenchwright/place/ground/exact"
	"trenchwright/place/route"
)

// Role is what a surface is the top of.
type Role string

// The roles. The zero value is a surface that nobody has given one.
const (
	Existing Role = "existing"
	Finished Role = "finished"
	Rock     Role = "rock"
	Water    Role = "water"
)

// Ground is all surfaces of a job.
type Ground []*Surface

// Of is the first surface of a role, nil where there is none.
func (g Ground) Of(r Role) *Surface {
	for _, s := range g {
		if s.Role == r {
			return s
		}
	}
	return nil
}

// Surface is triangles over the plan that do not change once they are made. The zero value is no ground anywhere.
type Surface struct {
	Name   string
	Role   Role
	Origin route.Origin // that coordinates are relative to

	vertices []vertex
	faces    []face
	tidy     bool // no two faces overlap, and faces beside each other know it: a section can walk
	measures Measures
	index    index
}

// face is a triangle with area in plan: its corners counterclockwise, and beyond the edge opposite each corner the face
// there.
type face struct {
	corner [3]int32
	beyond [3]int32
}

const none int32 = -1

var (
	after  = [3]int{1, 2, 0}
	before = [3]int{2, 0, 1}
)

// Measures are a surface in figures.
type Measures struct {
	Points    int     // in the surface, used by a face or not
	Faces     int     // that are visible, upright and degenerate ones too
	Invisible int     // faces marked as such: no ground there
	Area2D    float64 // m², in plan
	Area3D    float64 // m², along the slope
	ZMin      float64 // m, of the points of visible faces
	ZMax      float64
	Min, Max  route.Point // the box that holds those points
}

// Measures are s in figures; without faces all are nought.
func (s *Surface) Measures() Measures { return s.measures }

// Overlaps tells whether faces lie over each other: then the first one given holds, and no volume is given.
func (s *Surface) Overlaps() bool { return len(s.faces) > 0 && !s.tidy }

// FaceCount is how many faces have an area in plan.
func (s *Surface) FaceCount() int { return len(s.faces) }

// Corners are the three corners of a face, counterclockwise.
func (s *Surface) Corners(face int) [3]Point {
	c := s.faces[face].corner
	return [3]Point{s.vertices[c[0]].point(), s.vertices[c[1]].point(), s.vertices[c[2]].point()}
}

// corners are the three vertices of a face.
func (s *Surface) corners(f int32) (a, b, c *vertex) {
	k := &s.faces[f].corner
	return &s.vertices[k[0]], &s.vertices[k[1]], &s.vertices[k[2]]
}

// measure adds up what s is in figures; points and invisible are counted by whoever made it, upright are faces without
// area in plan.
func (s *Surface) measure(points, invisible int, upright [][3]int32) {
	m := Measures{Points: points, Faces: len(s.faces) + len(upright), Invisible: invisible}
	var flat, sloped sum
	low, high := vertex{}, vertex{}
	first := true
	add := func(corner [3]int32) {
		a, b, c := &s.vertices[corner[0]], &s.vertices[corner[1]], &s.vertices[corner[2]]
		plan := exact.Cross(a.XY, b.XY, c.XY).Float() * 1e-18
		flat.add(float64(plan / 2))
		sloped.add(float64(norm3(plan, a, b, c) / 2))
		for _, v := range [3]*vertex{a, b, c} {
			if first {
				low, high, first = *v, *v, false
			}
			low.X, low.Y, low.Z = min(low.X, v.X), min(low.Y, v.Y), min(low.Z, v.Z)
			high.X, high.Y, high.Z = max(high.X, v.X), max(high.Y, v.Y), max(high.Z, v.Z)
		}
	}
	for i := range s.faces {
		add(s.faces[i].corner)
	}
	for _, c := range upright {
		add(c)
	}
	m.Area2D, m.Area3D = flat.total(), sloped.total()
	l, h := low.point(), high.point()
	m.ZMin, m.ZMax, m.Min, m.Max = l.Z, h.Z, route.Point{E: l.E, N: l.N}, route.Point{E: h.E, N: h.N}
	s.measures = m
}

// Record is a level of record: z metres rounded to the nanometre. Here, and nowhere else in this package, levels are
// rounded on the way out.
func Record(z float64) measure.Length { return measure.FromMetres(z) }
