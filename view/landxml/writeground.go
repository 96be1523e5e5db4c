package landxml

import (
	"slices"
	"strconv"
)

func (w *writer) surfaces(all []Surface) {
	if len(all) == 0 {
		return
	}
	w.start("Surfaces")
	for _, s := range all {
		w.start("Surface", "name", s.Name, "desc", s.Desc, "state", s.State)
		w.source(s)
		w.triangles(s)
		w.end("Surface")
	}
	w.end("Surfaces")
}

func (w *writer) triangles(s Surface) {
	if len(s.Faces) == 0 {
		return
	}
	w.start("Definition", "surfType", "TIN")
	w.start("Pnts")
	for i, p := range s.Points {
		w.text("P", w.vertex(p), "id", strconv.Itoa(i+1))
	}
	w.end("Pnts")
	w.start("Faces")
	for i, f := range s.Faces {
		hides := ""
		if s.Hidden != nil && s.Hidden[i] {
			hides = "1"
		}
		w.text("F", strconv.Itoa(int(f[0])+1)+" "+strconv.Itoa(int(f[1])+1)+" "+strconv.Itoa(int(f[2])+1), "i", hides)
	}
	w.end("Faces")
	w.end("Definition")
}

// source writes the survey that a surface was made of.
func (w *writer) source(s Surface) {
	if len(s.Spots)+len(s.Breaklines)+len(s.Boundaries) == 0 {
		return
	}
	w.start("SourceData")
	if len(s.Boundaries) > 0 {
		w.start("Boundaries")
		for _, b := range s.Boundaries {
			w.start("Boundary", "bndType", b.Kind, "edgeTrim", strconv.FormatBool(b.Trim), "desc", b.Desc, "name", b.Name)
			w.list(b.Points, b.Flat)
			w.end("Boundary")
		}
		w.end("Boundaries")
	}
	if len(s.Breaklines) > 0 {
		w.start("Breaklines")
		for _, b := range s.Breaklines {
			kind := b.Kind
			if !slices.Contains(breaklineKinds, kind) {
				kind = ""
			}
			w.start("Breakline", "brkType", kind, "desc", b.Desc, "name", b.Name)
			w.list(b.Points, b.Flat)
			w.end("Breakline")
		}
		w.end("Breaklines")
	}
	if len(s.Spots) > 0 {
		w.start("DataPoints")
		for _, p := range s.Spots {
			w.text("PntList3D", w.vertex(p))
		}
		w.end("DataPoints")
	}
	w.end("SourceData")
}

// list writes the points of a line, one a text line.
func (w *writer) list(points []Vertex, flat bool) {
	name := "PntList3D"
	if flat {
		name = "PntList2D"
	}
	w.tag(name, ">\n", nil)
	w.depth++
	for _, p := range points {
		w.indent()
		if flat {
			w.put(w.place(p.At), "\n")
		} else {
			w.put(w.vertex(p), "\n")
		}
	}
	w.end(name)
}

// The words that the schema knows.
var (
	breaklineKinds = []string{"standard", "wall", "proximity", "nondestructive"}
	boundaryKinds  = []string{"outer", "void", "island"}
	states         = []string{"", "abandoned", "destroyed", "existing", "proposed"}
)
