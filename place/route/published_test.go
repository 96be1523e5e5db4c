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

// published.md 3.13 and 3.14: an arc between two tangents. Feet in, feet out; the numbers are unit-free.
func TestHorizontalCurveAsPublished(t *testing.T) {
	for _, v := range published.Values(t, "horizontal_curve", 2) {
		var in struct {
			PI, R float64
			Da    float64 `json:"Da_deg"`
			I     float64 `json:"I_deg"`
		}
		want := map[string]float64{}
		published.Decode(t, v.Input, &in)
		published.Decode(t, v.Expect, &want)
		if in.Da > 0 { // degree of curve by arc: the angle that 100 ft of arc turn
			in.R = 100 / (in.Da * math.Pi / 180)
			if math.Abs(in.R-want["R"]) > v.Tol {
				t.Errorf("%s: radius %v, published %v", v.ID, in.R, want["R"])
			}
		}
		pi := Point{0, in.PI}
		line := mustPolyline(t, Vertex{At: Point{}}, Vertex{At: pi, Radius: in.R},
			Vertex{At: pi.Plus(Towards(measure.FromDegrees(in.I)).Times(2 * in.PI))})
		arc := line.Elements()[1]
		chord, middle := arc.From.Distance(arc.To), line.At(arc.Start+arc.Length/2).At
		half := Point{(arc.From.E + arc.To.E) / 2, (arc.From.N + arc.To.N) / 2}
		got := map[string]float64{
			"R": arc.Radius, "T": arc.From.Distance(pi), "L": arc.Length.Metres(), "PC": arc.Start.Metres(), "PT": arc.End().Metres(),
			"E": pi.Distance(middle), "M": middle.Distance(half), "LC": chord,
		}
		for name, w := range want {
			if g, ok := got[name]; !ok || math.Abs(g-w) > v.Tol {
				t.Errorf("%s: %s = %v, published %v ± %v", v.ID, name, got[name], w, v.Tol)
			}
		}
	}
}

// published.md 3.15, recomputed there: 6° by arc, I 15°30', in feet.
func TestHorizontalCurveRecomputed(t *testing.T) {
	const tol = 0.006
	r := 100 / (6 * math.Pi / 180)
	pi := Point{0, 1922}
	line := mustPolyline(t, Vertex{At: Point{}}, Vertex{At: pi, Radius: r}, Vertex{At: pi.Plus(Towards(measure.FromDegrees(15.5)).Times(1000))})
	arc := line.Elements()[1]
	middle := line.At(arc.Start + arc.Length/2).At
	half := Point{(arc.From.E + arc.To.E) / 2, (arc.From.N + arc.To.N) / 2}
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"R", arc.Radius, 954.93}, {"T", arc.From.Distance(pi), 129.96}, {"L", arc.Length.Metres(), 258.33},
		{"LC", arc.From.Distance(arc.To), 257.55}, {"E", pi.Distance(middle), 8.80}, {"M", middle.Distance(half), 8.72},
		{"PC", arc.Start.Metres(), 1792.04}, {"PT", arc.End().Metres(), 2050.37},
	} {
		if math.Abs(c.got-c.want) > tol {
			t.Errorf("%s = %v, published %v", c.name, c.got, c.want)
		}
	}
}

// published.md 3.13 (R inputs, closed form): PC 16+42.00, 2° by arc: the deflection from the tangent to 17+00 is 58/100 of 1°,
// 0°34'48".
func TestDeflectionToAStationAsPublished(t *testing.T) {
	r := 100 / (2 * math.Pi / 180)
	pi := Point{0, 3840.23}
	line := mustPolyline(t, Vertex{At: Point{}}, Vertex{At: pi, Radius: r}, Vertex{At: pi.Plus(Towards(measure.FromDegrees(75)).Times(4000))})
	arc := line.Elements()[1]
	if pc := arc.Start.Metres(); math.Abs(pc-1642) > 0.01 {
		t.Errorf("PC at %v, published 1642.00", pc)
	}
	to := line.At(arc.Start + measure.FromMetres(58)).At.Minus(arc.From)
	if got, want := to.Bearing().Degrees(), 34.0/60+48.0/3600; math.Abs(got-want) > 1e-7 {
		t.Errorf("deflection %v°, published %v°", got, want)
	}
}

// published.md 8.6 (closed form): a chord of 1.5 m on a radius of 10 m turns 8.602° a joint, sagitta 0.0282 m.
func TestChordOnArcAsPublished(t *testing.T) {
	arc, err := Chain([]Element{Arc(Point{-10, 0}, Point{10, 0}, Point{}, true)}, 1e-9)
	if err != nil {
		t.Fatal(err)
	}
	advance := measure.FromMetres(2 * 10 * math.Asin(1.5/20))
	a, b := arc.At(0), arc.At(advance)
	if d := a.At.Distance(b.At); math.Abs(d-1.5) > 1e-9 {
		t.Errorf("chord %v m, want 1.5", d)
	}
	if turn := (b.Bearing() - a.Bearing()).Degrees(); math.Abs(turn-8.602) > 5e-4 {
		t.Errorf("turn a joint %v°, published 8.602", turn)
	}
	middle := arc.At(advance / 2).At
	half := Point{(a.At.E + b.At.E) / 2, (a.At.N + b.At.N) / 2}
	if s := middle.Distance(half); math.Abs(s-0.0282) > 5e-5 {
		t.Errorf("sagitta %v m, published 0.0282", s)
	}
}
