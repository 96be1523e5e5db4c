package drawing

import (
	"math"
	"strings"
	"testing"

	"trenchwright/demo"
	"trenchwright/view/scene"
)

// A plan shows what the run is set out from and what stands beside it: every benchmark and control point by its name on
// every sheet, every peg at its place and to scale (distances by the coordinates, closed form), the edges of the dig.
func TestThePlanShowsWhatItIsSetOutFrom(t *testing.T) {
	for _, name := range demo.Names() {
		p, j := planned(t, name)
		drawn := 0
		for _, page := range PlanSheets(p, j, StyleFor(j, A3)) {
			text := printed(t, page)
			for _, s := range append(p.Benchmarks, p.Control...) {
				if !strings.Contains(text, s.ID) {
					t.Errorf("%s, %s: %s is not on it", name, page.Name, s.ID)
				}
			}
			drawn += len(pegsOn(page))
		}
		if drawn < len(p.Pegs) {
			t.Errorf("%s: %d pegs drawn of %d", name, drawn, len(p.Pegs))
		}
	}
	p, j := planned(t, "battery-yard") // 1 in = 20 ft on one sheet
	pages := PlanSheets(p, j, StyleFor(j, A3))
	at := pegsOn(pages[0])
	if len(pages) != 1 || len(at) != len(p.Pegs) {
		t.Fatalf("%d sheets with %d pegs of %d", len(pages), len(at), len(p.Pegs))
	}
	for k, g := range p.Pegs {
		want := math.Hypot(g.E-p.Pegs[0].E, g.N-p.Pegs[0].N) * 1000 / 240
		if got := at[k].Sub(at[0]).Length(); math.Abs(got-want) > 0.01 {
			t.Errorf("peg %s %s lies %.3f mm from the first on paper, by its coordinates %.3f mm", g.Leg, g.Place, got, want)
		}
	}
}

// pegsOn are the middles of the small squares of a plan.
func pegsOn(page scene.Page) []scene.Point {
	var out []scene.Point
	for _, m := range page.Marks {
		g, ok := m.(scene.Group)
		if !ok || g.Name != "plan" {
			continue
		}
		for _, one := range g.Marks {
			if path, ok := one.(scene.Path); ok && len(path.Outline) > 3 {
				a, c := path.Outline[0].To, path.Outline[2].To
				if math.Abs(c.X-a.X-0.9) < 1e-9 && math.Abs(c.Y-a.Y-0.9) < 1e-9 {
					out = append(out, a.Add(c).Times(0.5))
				}
			}
		}
	}
	return out
}
