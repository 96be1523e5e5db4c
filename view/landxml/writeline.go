package landxml

import (
	"math"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/place/route"
)

func (w *writer) alignments(d Document) {
	if len(d.Alignments) == 0 {
		return
	}
	w.start("Alignments")
	for _, a := range d.Alignments {
		whole := 0.0
		for _, e := range a.Line.Elements() {
			whole += gridLength(e)
		}
		w.start("Alignment", "name", a.Name, "length", w.figure(rounded(whole)), "staStart", w.figure(a.StaStart), "desc", a.Desc, "state", a.State)
		w.start("CoordGeom")
		for _, e := range a.Line.Elements() {
			w.element(e, d.Origin)
		}
		w.end("CoordGeom")
		if len(a.Profiles)+len(a.Ground) > 0 {
			w.start("Profile", "name", a.Name)
			for _, p := range a.Profiles {
				w.profile(p, a)
			}
			for _, s := range a.Ground {
				w.sampled(s, a)
			}
			w.end("Profile")
		}
		w.end("Alignment")
	}
	w.end("Alignments")
}

func (w *writer) element(e route.Element, origin route.Origin) {
	long := w.figure(rounded(gridLength(e)))
	name := "Line"
	if e.Radius == 0 {
		w.start(name, "length", long)
	} else {
		name = "Curve"
		rot := "cw"
		if e.Radius < 0 {
			rot = "ccw"
		}
		w.start(name, "rot", rot, "crvType", "arc", "length", long, "radius", w.figure(rounded(math.Abs(e.Radius))))
	}
	w.text("Start", w.place(origin.Coordinates(e.From)))
	if e.Radius != 0 {
		w.text("Center", w.place(origin.Coordinates(e.Centre)))
	}
	w.text("End", w.place(origin.Coordinates(e.To)))
	w.end(name)
}

// grid is a ground length as a grid length, by which stations count.
func (a Alignment) grid(l measure.Length) measure.Length {
	if a.Line.Scale() == 1 {
		return l
	}
	return rounded(float64(l.Metres() * a.Line.Scale()))
}

// profile writes levels by station. Chainages are ground lengths and stations grid lengths.
func (w *writer) profile(p Profile, a Alignment) {
	w.start("ProfAlign", "name", p.Name)
	for i, v := range p.PVIs {
		at := w.figure(a.StaStart+a.grid(v.Chainage)) + " " + w.figure(v.Level)
		in, out := a.grid(v.In), a.grid(v.Out)
		switch {
		case v.Curve == Circular:
			t, before, behind := p.tangent(i)
			turn := math.Abs(math.Atan(behind) - math.Atan(before))
			if t == 0 { // no change of grade, no curve
				w.text("PVI", at)
				continue
			}
			w.text("CircCurve", at, "length", w.figure(rounded(float64(v.Radius.Metres()*turn))), "radius", w.figure(v.Radius))
		case v.Curve == Parabola && out-in >= 0 && out-in <= 1: // as Read halves a length
			w.text("ParaCurve", at, "length", w.figure(in+out))
		case v.Curve == Parabola:
			w.text("UnsymParaCurve", at, "lengthIn", w.figure(in), "lengthOut", w.figure(out))
		default:
			w.text("PVI", at)
		}
	}
	w.end("ProfAlign")
}

// group is one CgPoints: its points, and the groups in it, in the order in which they first came.
type group struct {
	name   string
	points []Point
	inner  []*group
	at     map[string]*group
}

// groups writes the points in their groups; points without a group come first.
func (w *writer) groups(points []Point) {
	if len(points) == 0 {
		return
	}
	top := tree(points)
	if len(top.points) > 0 {
		w.group(&group{points: top.points})
	}
	for _, g := range top.inner {
		w.group(g)
	}
}

func tree(points []Point) *group {
	top := &group{at: map[string]*group{}}
	for _, p := range points {
		g := top
		for _, name := range p.Groups {
			if g.at[name] == nil {
				g.at[name] = &group{name: name, at: map[string]*group{}}
				g.inner = append(g.inner, g.at[name])
			}
			g = g.at[name]
		}
		g.points = append(g.points, p)
	}
	return top
}

func (w *writer) group(g *group) {
	w.start("CgPoints", "name", g.name)
	for _, p := range g.points {
		at := w.place(p.At)
		if p.HasLevel {
			at += " " + w.figure(p.Level)
		}
		w.text("CgPoint", at, "name", p.Name, "desc", p.Desc, "code", p.Code)
	}
	for _, inner := range g.inner {
		w.group(inner)
	}
	w.end("CgPoints")
}

// twice is a name that two points of one group have; the schema refuses that.
func (g *group) twice() (point, in string, found bool) {
	names := make([]string, 0, len(g.points))
	for _, p := range g.points {
		if p.Name != "" {
			names = append(names, p.Name)
		}
	}
	slices.Sort(names)
	for i := 1; i < len(names); i++ {
		if names[i] == names[i-1] {
			return names[i], g.name, true
		}
	}
	for _, inner := range g.inner {
		if point, in, found = inner.twice(); found {
			return point, in, true
		}
	}
	return "", "", false
}
