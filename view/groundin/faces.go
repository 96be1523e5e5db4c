package groundin

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/place/ground"
	"trenchwright/place/route"
	"trenchwright/view/landxml"
)

func fromLandXML(r io.Reader, w Want) (Ground, finding.List) {
	f, err := landxml.Read(r, landxml.Options{Surfaces: true, NoLines: true, Unit: w.Unit, Origin: w.Origin, File: w.File})
	if err != nil {
		return Ground{}, refused(f.Notes, err, w)
	}
	all, faults := pick(f, w)
	if len(faults) > 0 {
		return Ground{}, append(faults, f.Notes...)
	}
	out := Ground{Origin: originOf(f, w), Unit: f.Unit}
	found := slices.DeleteFunc(slices.Clone(f.Notes), func(n finding.Finding) bool { return n.ID == "landxml.surface" }) // heard says it
	for i := range all {
		s, how, notes := surfaceOf(&all[i], out.Origin, w)
		found = append(found, notes...)
		if s != nil {
			out.Surfaces = append(out.Surfaces, s)
			out.Heard = append(out.Heard, heard(s, how))
		}
	}
	if len(out.Surfaces) == 0 && !found.Any(finding.Fault) {
		found = append(found, fault(w, "no-faces", "none of its surfaces has a face", "an export of the surface with its triangles")...)
	}
	return out, found
}

// originOf is the origin that was asked for, else one near the first surface.
func originOf(f landxml.File, w Want) route.Origin {
	if w.Origin != nil {
		return *w.Origin
	}
	for _, s := range f.Surfaces {
		for _, list := range [][]landxml.Vertex{s.Points, s.Spots} {
			if len(list) > 0 {
				return route.OriginNear(list[0].At)
			}
		}
		for _, l := range s.Breaklines {
			return route.OriginNear(l.Points[0].At)
		}
	}
	return f.Origin
}

const anotherExport = "an export of the surface, with its triangles, as LandXML 1.2"

// refused is why nothing of a file can be used.
func refused(notes finding.List, err error, w Want) finding.List {
	var out finding.List
	for _, f := range notes {
		if f.Kind == finding.Fault {
			if f.Try == "" {
				f.Try = anotherExport
			}
			out = append(out, f)
		}
	}
	if len(out) > 0 {
		return out
	}
	out = fault(w, "landxml", err.Error(), anotherExport)
	if r, ok := err.(*landxml.Refusal); ok {
		out[0].Text, out[0].Where.Line = r.Text, r.Where.Line
		if r.Try != "" {
			out[0].Try = r.Try
		}
	}
	return out
}

// pick finds the surface that is wanted; without a name all are.
func pick(f landxml.File, w Want) ([]landxml.Surface, finding.List) {
	var names []string
	for i, s := range f.Surfaces {
		if s.Name == w.Surface {
			return f.Surfaces[i : i+1], nil
		}
		names = append(names, fmt.Sprintf("%q", s.Name))
	}
	switch {
	case len(f.Surfaces) == 0:
		return nil, fault(w, "no-surface", "it holds no surface", "an export with the surface, or the points of the survey as a list")
	case w.Surface != "":
		return nil, fault(w, "no-such-surface", fmt.Sprintf("no surface in it is called %q; there is %s", w.Surface, strings.Join(names, ", ")), "one of these names")
	}
	return f.Surfaces, nil
}

// surfaceOf takes a surface's own faces, else triangulates the survey that it was made of.
func surfaceOf(s *landxml.Surface, o route.Origin, w Want) (*ground.Surface, string, finding.List) {
	source := ground.Source{Name: s.Name, Origin: o, Speech: w.Speech, Where: finding.Where{File: w.File, Line: s.At}}
	if len(s.Faces) > 0 {
		m := ground.Mesh{Source: source, Points: vertices(o, s.Points), Hidden: s.Hidden, Faces: make([][3]int, len(s.Faces))}
		for i, f := range s.Faces {
			m.Faces[i] = [3]int{int(f[0]), int(f[1]), int(f[2])}
		}
		out, found := ground.FromMesh(m)
		return out, " of its own", found
	}
	v := ground.Survey{Source: source, Points: vertices(o, s.Spots), LongestEdge: w.Edge.Metres()}
	var found finding.List
	for _, l := range s.Breaklines {
		if l.Flat {
			found = append(found, finding.Finding{ID: "groundin.flat-line", Kind: finding.Note, Where: finding.Where{File: w.File, Line: l.At},
				Text: fmt.Sprintf("breakline %q has no levels and is left out", l.Name)})
			continue
		}
		v.Lines = append(v.Lines, ground.Line{Name: l.Name, Points: vertices(o, l.Points)})
	}
	for _, b := range s.Boundaries {
		ring := plan(o, b.Points)
		switch b.Kind {
		case "outer":
			v.Outer = ring
		case "void":
			v.Holes = append(v.Holes, ring)
		case "island":
			v.Islands = append(v.Islands, ring)
		default:
			found = append(found, finding.Finding{ID: "groundin.boundary", Kind: finding.Attention, Where: finding.Where{File: w.File, Line: b.At},
				Text: fmt.Sprintf("boundary %q is of the kind %q, which the standard does not know, and is left out", b.Name, b.Kind), Try: "outer, void or island"})
		}
	}
	out, more := ground.Triangulate(v)
	return out, " triangulated from its survey", append(found, more...)
}

func vertices(o route.Origin, list []landxml.Vertex) []ground.Point {
	out := make([]ground.Point, len(list))
	for i, v := range list {
		out[i] = ground.Recorded(o, v.At, v.Level)
	}
	return out
}

func plan(o route.Origin, list []landxml.Vertex) []route.Point {
	out := make([]route.Point, len(list))
	for i, v := range list {
		out[i] = o.Point(v.At)
	}
	return out
}
