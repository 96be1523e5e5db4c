package ground

import (
	"math"

	"trenchwright/base/finding"
	"trenchwright/place/ground/delaunay"
	"trenchwright/place/ground/exact"
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
	// Outer and Holes are rings in plan, closed by themselves. A face belongs to the ground where its centre of area lies
	// inside Outer and in no hole; a ring whose line is also a breakline is kept to exactly. No Outer: the convex hull.
	Outer []route.Point
	Holes [][]route.Point
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

// draft is a surface in the making.
type draft struct {
	*teller
	survey   Survey
	points   int      // usable ones; before them stand no others in vertices
	vertices []vertex // usable points, then the lines' points, then crossings
	given    []int32  // of each vertex the point or the line's point it was, counted over all of them; crossings have none
	chains   []chain
	seen     map[meeting]bool // crossings that were told
}

// chain is a breakline as vertices.
type chain struct {
	name    string
	through []int32
}

func newDraft(s Survey) *draft {
	d := &draft{teller: newTeller(s.Source), survey: s, seen: map[meeting]bool{}}
	d.vertices = make([]vertex, 0, len(s.Points))
	for i, p := range s.Points {
		if d.take(p, i, "") {
			d.points++
		}
	}
	n := len(s.Points)
	for _, l := range s.Lines {
		c := chain{name: l.Name}
		for k, p := range l.Points {
			if d.take(p, n+k, l.Name) {
				c.through = append(c.through, int32(len(d.vertices)-1))
			}
		}
		n += len(l.Points)
		if len(c.through) < 2 {
			d.add(finding.Finding{ID: "ground.line-short", Kind: finding.Fault,
				Text: d.say("breakline %q has %d usable points", l.Name, len(c.through)),
				Try:  "give it two points or more, or leave it out"}, d.whole())
		}
		d.chains = append(d.chains, c)
	}
	return d
}

// take makes a vertex of a point that is one.
func (d *draft) take(p Point, number int, line string) bool {
	if p.Usable() {
		d.vertices, d.given = append(d.vertices, p.vertex()), append(d.given, int32(number))
		return true
	}
	d.add(unusable(d.teller, p, number, line), d.place(number))
	return false
}

// unusable says why a point is left out.
func unusable(t *teller, p Point, number int, line string) finding.Finding {
	who := t.say("point %d", number+1)
	if line != "" {
		who = t.say("a point of breakline %q", line)
	}
	f := finding.Finding{ID: "ground.no-number", Kind: finding.Fault, Text: who + " has a coordinate that is no number; it is left out",
		Try: "correct the point or leave it out"}
	if !math.IsNaN(p.E) && !math.IsNaN(p.N) && !math.IsNaN(p.Z) {
		f.ID = "ground.out-of-reach"
		f.Text = who + " lies out of reach; it is left out"
		f.Limit = t.say("%.0f km in plan, %.0f km in level", Reach/1000, Highest/1000)
		f.Value = t.say("E %.0f km, N %.0f km, level %.0f km from the origin", p.E/1000, p.N/1000, p.Z/1000)
	}
	return f
}

// place is where a vertex was given: a point by itself, a line's point with the whole.
func (d *draft) place(number int) finding.Where {
	if number < len(d.survey.Points) {
		return d.point(number)
	}
	return d.whole()
}

// called is what a vertex is called in a sentence.
func (d *draft) called(v int32) string {
	if int(v) >= len(d.given) {
		return "a crossing"
	}
	n := int(d.given[v])
	if n < len(d.survey.Points) {
		return d.say("point %d", n+1)
	}
	n -= len(d.survey.Points)
	for _, l := range d.survey.Lines {
		if n < len(l.Points) {
			return d.say("point %d of breakline %q", n+1, l.Name)
		}
		n -= len(l.Points)
	}
	panic("ground: a vertex that nobody gave")
}

// rounds is how often breaklines are parted where they cross before the rest is refused: once is enough unless the parts
// cross anew within the nanometre that the crossing was rounded by.
const rounds = 6

// build triangulates with all lines, and does so again while crossings part lines.
func (d *draft) build() *delaunay.Mesh {
	for round := 0; ; round++ {
		plan := make([]exact.XY, len(d.vertices))
		for i, v := range d.vertices {
			plan[i] = v.XY
		}
		mesh, same := delaunay.Build(plan)
		if round == 0 {
			d.twice(same)
		}
		if mesh == nil {
			d.add(finding.Finding{ID: "ground.one-line", Kind: finding.Fault,
				Text: d.flat(same), Try: "give at least three points that are not on one line"}, d.whole())
			return nil
		}
		meetings := d.force(mesh, same, round == 0)
		if len(meetings) == 0 {
			return mesh
		}
		if round == rounds {
			d.refuse(meetings)
			return mesh
		}
		d.part(meetings)
	}
}

// flat says why nothing can be triangulated.
func (d *draft) flat(same []int32) string {
	apart := 0
	for i, s := range same {
		if int(s) == i {
			apart++
		}
	}
	if apart < 3 {
		return d.say("there are %d usable points in different places, and a surface needs three", apart)
	}
	return d.say("all %d points lie on one line in plan", apart)
}

// twice tells of points that coincide in plan and not in level. Equal ones are merged without a word.
func (d *draft) twice(same []int32) {
	for i, s := range same {
		v, first := d.vertices[i], d.vertices[s]
		if int(s) == i || v.Z == first.Z {
			continue
		}
		d.add(finding.Finding{ID: "ground.two-levels", Kind: finding.Attention,
			Text: d.say("%s and %s lie in one place, %s, at levels %s and %s; the first holds", d.called(s), d.called(int32(i)), d.at(v), level(first.Z), level(v.Z)),
			Rule: "of two points in one place the first one given holds",
			Try:  "leave out the one that is wrong; give a wall as two lines that lie apart"}, d.place(int(d.given[i])))
	}
}

// force puts the lines into the mesh and gives back where they would cross.
func (d *draft) force(mesh *delaunay.Mesh, same []int32, tell bool) []meeting {
	var meetings []meeting
	for l, c := range d.chains {
		for k := 1; k < len(c.through); k++ {
			from, to := same[c.through[k-1]], same[c.through[k]]
			parting, crossed := mesh.Force(from, to)
			for _, x := range crossed {
				meetings = append(meetings, meeting{line: l, leg: k, other: x.Edge})
			}
			if tell {
				for _, p := range parting {
					d.offLine(c.name, from, to, p)
				}
			}
		}
	}
	return meetings
}

// offLine tells of a point that lies on a breakline in plan and off it in level.
func (d *draft) offLine(line string, from, to, p int32) {
	a, b, v := d.vertices[from], d.vertices[to], d.vertices[p]
	share := exact.Dot(a.XY, b.XY, v.XY).Float() / exact.Dot(a.XY, b.XY, b.XY).Float()
	z := a.Z + int64(math.Round(float64(share*float64(b.Z-a.Z))))
	if off := v.Z - z; off > OffLine || off < -OffLine {
		d.add(finding.Finding{ID: "ground.off-line", Kind: finding.Attention,
			Text:  d.say("%s lies on breakline %q in plan, %s, and %s off it in level; the line goes through the point", d.called(p), line, d.at(v), level(off)),
			Limit: d.say("%s", level(OffLine)), Value: d.say("%s", level(off)),
			Rule: "a point on a breakline parts it with its own level; 1 mm is common practice, no source",
			Try:  "leave the point out, or give the line a point there"}, d.whole())
	}
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
