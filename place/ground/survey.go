package ground

import (
	"trenchwright/base/finding"
	"trenchwright/place/ground/delaunay"
	"trenchwright/place/route"
)

// Line is a breakline: the ground runs straight from each of its points to the next.
type Line struct {
	Name   string
	Points []Point
}

// Survey is what a surface is made of.
type Survey struct {
	Source
	Role   Role
	Points []Point
	Lines  []Line
	// Outer, Holes and Islands are rings in plan, closed by themselves. A face belongs to the ground where its centre of
	// area lies inside Outer and in no hole, or in an island in a hole; a ring whose line is also a breakline is kept to
	// exactly. No Outer: the convex hull.
	Outer          []route.Point
	Holes, Islands [][]route.Point
	// LongestEdge in metres: from outside inwards, faces with a longer edge are taken away until a shorter edge or a
	// breakline stops it; 0: none are.
	LongestEdge float64
	// SpikeSlope is the rise per metre from which a point that rises above all of its neighbours, or falls below all, is
	// told as a spike; 0: SpikeSlope.
	SpikeSlope float64
}

// SpikeSlope is the slope from which a point above all of its neighbours is a spike: 1 in 1. Common practice, no source.
const SpikeSlope = 1.0

// OffLine is how far a point that lies on a breakline in plan may lie off it in level before that is told, in nanometres:
// 1 mm, to which levels are mostly given. Common practice, no source.
const OffLine = 1_000_000

// Triangulate makes a surface: Delaunay's triangles with breaklines kept as edges. Rules for what does not fit together:
// of two points in one place with two levels the first one given holds; where breaklines cross, both get a point there
// with the level of the one given first; a point on a breakline parts it with its own level. Each is a finding. Without
// three points off one line there is no surface.
func Triangulate(s Survey) (*Surface, finding.List) {
	d := newDraft(s)
	mesh := d.build()
	if mesh == nil {
		return nil, d.all()
	}
	faces := mesh.Faces()
	keep := d.trim(faces)
	out := d.surface(faces, keep, mesh.Order())
	d.spikes(out)
	if len(out.faces) == 0 {
		d.add(finding.Finding{ID: "ground.nothing-left", Kind: finding.Fault,
			Text: "the outer boundary, the holes and the longest edge leave no face of the ground",
			Try:  "look at the outer boundary and the longest edge"}, d.whole())
		return nil, d.all()
	}
	return out, d.all()
}

// surface puts the faces that are kept together, and the points that they are of in an order.
func (d *draft) surface(faces []delaunay.Face, keep []bool, order []int32) *Surface {
	s := &Surface{Name: d.Name, Role: d.survey.Role, Origin: d.Origin, tidy: true}
	number := make([]int32, len(d.vertices))
	s.vertices = make([]vertex, len(order))
	for i, v := range order {
		number[v], s.vertices[i] = int32(i), d.vertices[v]
	}
	along, renumber := inOrder(faces, keep, number)
	s.faces = make([]face, len(along))
	for i, j := range along {
		f, g := &faces[j], &s.faces[i]
		for k := range 3 {
			g.corner[k], g.beyond[k] = number[f.Corner[k]], none
			if f.Beyond[k] != delaunay.None {
				g.beyond[k] = renumber[f.Beyond[k]]
			}
		}
	}
	s.measure(len(s.vertices), 0, nil)
	s.index = newIndex(s)
	return s
}

// inOrder are the faces that are kept, by the least of their corners' numbers, so that what lies near in the plan lies
// near in memory; and the place of each in that order, none for those that are not kept.
func inOrder(faces []delaunay.Face, keep []bool, number []int32) (along, renumber []int32) {
	begins := make([]int32, len(number)+1)
	least := func(f *delaunay.Face) int32 {
		return min(number[f.Corner[0]], number[f.Corner[1]], number[f.Corner[2]])
	}
	renumber = make([]int32, len(faces))
	for i := range faces {
		renumber[i] = none
		if keep[i] {
			renumber[i] = least(&faces[i])
			begins[renumber[i]+1]++
		}
	}
	for i := 1; i < len(begins); i++ {
		begins[i] += begins[i-1]
	}
	along = make([]int32, begins[len(begins)-1])
	for i, l := range renumber {
		if l != none {
			renumber[i] = begins[l]
			along[begins[l]] = int32(i)
			begins[l]++
		}
	}
	return along, renumber
}
