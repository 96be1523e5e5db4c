package groundin

import (
	"fmt"
	"io"
	"path"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/place/ground"
	"trenchwright/place/route"
	"trenchwright/view/points"
)

func fromPoints(r io.Reader, w Want) (Ground, finding.List) {
	columns := strings.NewReplacer(",", "", " ", "", ";", "").Replace(w.Columns)
	t, found := points.Read(r, points.Options{Columns: columns, Unit: w.Unit, Levels: true, File: w.File})
	if found.Any(finding.Fault) {
		return Ground{}, found
	}
	if len(t.Points) == 0 {
		return Ground{}, fault(w, "no-points", "it holds no point", "the points of the survey, with their levels")
	}
	out := Ground{Unit: t.Unit, Origin: route.OriginNear(t.Points[0].At)}
	if w.Origin != nil {
		out.Origin = *w.Origin
	}
	v := ground.Survey{LongestEdge: w.Edge.Metres(), Source: ground.Source{Name: named(w.File), Origin: out.Origin, Speech: w.Speech,
		Where: finding.Where{File: w.File}, Point: func(i int) finding.Where { return finding.Where{File: w.File, Line: t.Points[i].Line} }}}
	for _, p := range t.Points {
		v.Points = append(v.Points, ground.Recorded(out.Origin, p.At, p.Level))
	}
	lines := append(t.Breaklines(), t.ByCode(w.Lines...)...)
	for _, l := range lines {
		line := ground.Line{Name: l.Name}
		for _, i := range l.Points {
			line.Points = append(line.Points, v.Points[i])
		}
		v.Lines = append(v.Lines, line)
	}
	s, more := ground.Triangulate(v)
	found = append(found, more...)
	if s == nil {
		return Ground{}, found
	}
	out.Surfaces = []*ground.Surface{s}
	out.Heard = []string{heard(s, fmt.Sprintf(" triangulated with %s", plural(len(lines), "breakline", "breaklines")))}
	return out, found
}

// named is what a surface is called whose file gives it no name: the file without its ending.
func named(file string) string {
	base := path.Base(strings.ReplaceAll(file, "\\", "/"))
	return strings.TrimSuffix(base, path.Ext(base))
}
