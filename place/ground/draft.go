package ground

import (
	"fmt"
	"math"

	"trenchwright/base/finding"
	"trenchwright/place/ground/delaunay"
	"trenchwright/place/ground/exact"
)

// draft is a surface in the making.
type draft struct {
	*teller
	survey   Survey
	points   int      // usable ones; before them stand no others in vertices
	vertices []vertex // usable points, then the lines' points, then crossings
	given    []int32  // of each vertex the point or the line's point it was, counted over all of them; crossings have none
	chains   []chain
	edges    []held           // of the mesh, that lie on lines
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
				Text:  d.say("breakline %q has fewer than two usable points; it is no line", l.Name),
				Limit: "2 points", Value: fmt.Sprint(len(c.through)),
				Try: "give it two points or more, or leave it out"}, d.whole())
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
		d.sortEdges()
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
		return d.say("a surface needs three points in different places, and there are so many that can be used: %d", apart)
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
	d.edges = d.edges[:0]
	for l, c := range d.chains {
		for k := 1; k < len(c.through); k++ {
			from, to := same[c.through[k-1]], same[c.through[k]]
			parting, crossed := mesh.Force(from, to)
			for _, x := range crossed {
				meetings = append(meetings, meeting{line: l, leg: k, other: x.Edge})
			}
			last := from
			for _, p := range parting {
				d.hold(last, p, l, k)
				last = p
				if tell {
					d.offLine(c.name, from, to, p)
				}
			}
			d.hold(last, to, l, k)
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
