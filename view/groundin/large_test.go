package groundin

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/place/route"
)

// A surface of 22,052 points with holes: one left open, one of faces that are there and invisible. Its measures are those of
// the plane z = 100 + e/50 that it was drawn on, and in a hole there is no ground. Closed form.
func TestLargeSurfaceWithHoles(t *testing.T) {
	const columns, rows, step = 148, 149, 2.0
	open := func(i, k int) bool { return i >= 20 && i < 40 && k >= 30 && k < 60 }
	hidden := func(i, k int) bool { return i >= 100 && i < 110 && k >= 100 && k < 120 }
	var text strings.Builder
	text.WriteString(`<?xml version="1.0"?><LandXML xmlns="http://www.landxml.org/schema/LandXML-1.2" version="1.2"><Units><Metric linearUnit="meter"/></Units>
<Surfaces><Surface name="field"><Definition surfType="TIN"><Pnts>`)
	for k := range rows {
		for i := range columns {
			e, n := step*float64(i), step*float64(k)
			fmt.Fprintf(&text, "<P id=\"%d\">%v %v %v</P>", k*columns+i+1, 6_783_000+n, 430_000+e, 100+e/50)
		}
	}
	text.WriteString("</Pnts><Faces>")
	cells, unseen := 0, 0
	for k := range rows - 1 {
		for i := range columns - 1 {
			if open(i, k) {
				continue
			}
			mark := ""
			if cells++; hidden(i, k) {
				mark, unseen = ` i="1"`, unseen+1
			}
			a := k*columns + i + 1
			fmt.Fprintf(&text, "<F%s>%d %d %d</F><F%s>%d %d %d</F>", mark, a, a+1, a+columns+1, mark, a, a+columns+1, a+columns)
		}
	}
	text.WriteString("</Faces></Definition></Surface></Surfaces></LandXML>")
	g, found := Read(strings.NewReader(text.String()), Want{File: "field.xml"})
	if found.Any(finding.Fault) || len(g.Surfaces) != 1 {
		t.Fatal(found)
	}
	s := g.Surfaces[0]
	m := s.Measures()
	area := float64(cells-unseen) * step * step
	slope := math.Sqrt(1 + 1.0/2500)
	if m.Points != columns*rows || m.Faces != 2*(cells-unseen) || m.Invisible != 2*unseen || math.Abs(m.Area2D-area) > 1e-6*area || math.Abs(m.Area3D-area*slope) > 1e-6*area {
		t.Errorf("%+v; drawn were %d points, %d faces of %v m², %d unseen", m, columns*rows, 2*(cells-unseen), area, 2*unseen)
	}
	t.Logf("%d points, %d faces, %d invisible, %.1f m² in plan", m.Points, m.Faces, m.Invisible, m.Area2D)
	for _, c := range []struct {
		what string
		e, n float64
		bare bool
	}{{"ground", 11, 7, false}, {"the open hole", 61, 81, true}, {"the unseen faces", 211, 211, true}, {"beside the hole", 39, 81, false}, {"outside", -1, 5, true}} {
		z, ok := s.At(g.Origin.Point(route.Coordinates{E: measure.FromMetres(430_000 + c.e), N: measure.FromMetres(6_783_000 + c.n)}))
		if ok == c.bare || ok && math.Abs(z.Z-(100+c.e/50)) > 1e-6 {
			t.Errorf("%s: level %v, %v", c.what, z.Z, ok)
		}
	}
}
