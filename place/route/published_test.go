package route

import (
	"encoding/json"
	"math"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/tools/published"
)

func mustPolyline(t testing.TB, vertices ...Vertex) Line {
	t.Helper()
	l, err := Polyline(vertices)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// published.md 3.16 (closed form): chainage and offset of points beside a corner.
func TestChainageAndOffsetAsPublished(t *testing.T) {
	for _, v := range published.Values(t, "chainage_offset", 1) {
		var in struct {
			Line, Pts [][2]float64
			Right     string
		}
		var want struct {
			ChOff          []json.RawMessage `json:"ch_off"`
			VertexDistance float64           `json:"vertex_distance"`
		}
		published.Decode(t, v.Input, &in)
		published.Decode(t, v.Expect, &want)
		if in.Right != "+" {
			t.Fatalf("the source counts right as %q", in.Right)
		}
		var corners []Vertex
		for _, p := range in.Line {
			corners = append(corners, Vertex{At: Point{p[0], p[1]}})
		}
		line := mustPolyline(t, corners...)
		for i, p := range in.Pts {
			checkFeet(t, line.Nearest(Point{p[0], p[1]}, measure.Micrometre), want.ChOff[i], want.VertexDistance, v.Tol)
		}
	}
}

func checkFeet(t *testing.T, feet []Foot, raw json.RawMessage, vertexDistance, tol float64) {
	t.Helper()
	var many [][]*float64
	if json.Unmarshal(raw, &many) != nil {
		var one []*float64
		published.Decode(t, raw, &one)
		many = [][]*float64{one}
	}
	if len(feet) != len(many) {
		t.Fatalf("feet %+v, published %s", feet, raw)
	}
	for i, w := range many {
		f := feet[i]
		if math.Abs(f.Chainage.Metres()-*w[0]) > tol {
			t.Errorf("chainage %v, published %v", f.Chainage.Metres(), *w[0])
		}
		if w[1] == nil {
			if f.Kind != AtVertex || math.Abs(f.Distance.Metres()-vertexDistance) > tol {
				t.Errorf("foot %+v, published: outside the wedge, %v away", f, vertexDistance)
			}
		} else if f.Kind != OnLine || math.Abs(f.Offset.Metres()-*w[1]) > tol {
			t.Errorf("foot %+v, published offset %v", f, *w[1])
		}
	}
}

// An arc between two tangents. Feet in, feet out; the numbers are unit-free.
func TestHorizontalCurveAsPublished(t *testing.T) {
	curve := func(g published.Given, radius float64) Line {
		pi := Point{0, g.N(0)}
		return mustPolyline(t, Vertex{At: Point{}}, Vertex{At: pi, Radius: radius}, Vertex{At: pi.Plus(Towards(measure.FromDegrees(g.N(2))).Times(2 * g.N(0)))})
	}
	byDegree := func(g published.Given) float64 { return 100 / (g.N(1) * math.Pi / 180) }
	arc := func(g published.Given, radius float64) map[string]float64 {
		line, pi := curve(g, radius), Point{0, g.N(0)}
		arc := line.Elements()[1]
		middle := line.At(arc.Start + arc.Length/2).At
		half := Point{(arc.From.E + arc.To.E) / 2, (arc.From.N + arc.To.N) / 2}
		return map[string]float64{
			"R": arc.Radius, "T": arc.From.Distance(pi), "L": arc.Length.Metres(), "PC": arc.Start.Metres(), "PT": arc.End().Metres(),
			"E": pi.Distance(middle), "M": middle.Distance(half), "LC": arc.From.Distance(arc.To),
		}
	}
	published.Hold(t, "curve.horizontal", func(g published.Given) []float64 {
		c := arc(g, byDegree(g))
		return []float64{c["R"], c["T"], c["L"], c["PC"], c["PT"], c["E"], c["M"], c["LC"]}
	})
	published.Hold(t, "curve.horizontal-radius", func(g published.Given) []float64 {
		c := arc(g, g.N(1))
		return []float64{c["T"], c["PC"], c["L"]}
	})
	published.Hold(t, "curve.horizontal-recomputed", func(g published.Given) []float64 {
		c := arc(g, byDegree(g))
		return []float64{c["R"], c["T"], c["L"], c["E"], c["M"], c["LC"], c["PC"], c["PT"]}
	})
	published.Hold(t, "curve.deflection", func(g published.Given) []float64 {
		line := curve(g, byDegree(g))
		arc := line.Elements()[1]
		return []float64{line.At(arc.Start + measure.FromMetres(g.N(3))).At.Minus(arc.From).Bearing().Degrees()}
	})
}

// A chord in an arc: what each joint turns, and how far the arc stands off its middle.
func TestChordOnArcAsPublished(t *testing.T) {
	published.Hold(t, "corner.chord", func(g published.Given) []float64 {
		chord, r := g.N(0), g.N(1)
		arc, err := Chain([]Element{Arc(Point{-r, 0}, Point{r, 0}, Point{}, true)}, 1e-9)
		if err != nil {
			t.Fatal(err)
		}
		advance := measure.FromMetres(2 * r * math.Asin(chord/(2*r)))
		a, b := arc.At(0), arc.At(advance)
		if d := a.At.Distance(b.At); math.Abs(d-chord) > 1e-9 {
			t.Errorf("chord %v m, want %v", d, chord)
		}
		half := Point{(a.At.E + b.At.E) / 2, (a.At.N + b.At.N) / 2}
		return []float64{(b.Bearing() - a.Bearing()).Degrees(), arc.At(advance / 2).At.Distance(half)}
	})
}
