package earthwork

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/place/route"
)

// fine adds a leg up in thin slices and narrow strips, looking outward from the bottom step by step: no event, no formula.
type fine struct {
	dug, stone, width float64
}

// height of a section at an offset.
func height(st []Stretch, along float64) (float64, bool) {
	for _, s := range st {
		for i := 1; i < len(s); i++ {
			if a, b := s[i-1], s[i]; along >= a.Along && along <= b.Along && b.Along > a.Along {
				return a.Level + (b.Level-a.Level)*(along-a.Along)/(b.Along-a.Along), true
			}
		}
	}
	return 0, false
}

// level is the dig at an offset, straight from the Problem.
func digLevel(s *Span, x, y float64) float64 {
	w := (x - s.From.Metres()) / (s.To - s.From).Metres()
	at := func(a, b measure.Length) float64 { return a.Metres() + (b-a).Metres()*w }
	half := s.Section.Unit.Metres()/2 + s.Section.Room.Metres()
	f := at(s.Start.Formation, s.End.Formation)
	cross := ratio(s.Cross)
	out := math.Abs(y) - half
	if out <= 0 {
		z := f - cross*y
		if p := s.Section.Pipe; p != nil && math.Abs(y-p.Offset.Metres()) < p.Trench.Metres()/2 {
			z = min(z, at(*s.Start.Drain, *s.End.Drain)-p.Bedding.Metres())
		}
		return z
	}
	z := f - cross*math.Copysign(half, y)
	switch sides := s.Section.Sides; sides.Form {
	case Sloped:
		return z + sides.Plumb.Metres() + out*ratio(*sides.Slope)
	case Benched:
		return z + (1+math.Floor(out/sides.Bench.Width.Metres()))*sides.Bench.Height.Metres()
	}
	return math.Inf(1)
}

func (f *fine) leg(p *Problem, l *Leg, slices int) {
	long, curve := l.Line.Length().Metres(), 0.0
	if st := l.Line.Stretches(); st[0].Radius != 0 {
		curve = 1 / st[0].Radius.Metres()
	}
	s := &l.Spans[0]
	const reach = 12.0
	half := s.Section.Unit.Metres()/2 + s.Section.Room.Metres()
	strips := half / math.Ceil(half/0.002)
	for i := range slices {
		x := long * (float64(i) + 0.5) / float64(slices)
		pose := l.Line.At(measure.FromMetres(x))
		st := p.Ground.Section(pose.Beside(-reach), pose.Beside(reach))
		w := (x - s.From.Metres()) / long
		under := s.Start.Underside.Metres() + (s.End.Underside-s.Start.Underside).Metres()*w
		for _, side := range []float64{-1, 1} {
			for k := 0; ; k++ {
				y := side * (float64(k) + 0.5) * strips
				g, ok := height(st, y+reach)
				t := digLevel(s, x, y)
				if !ok || g <= t && math.Abs(y) > half {
					break
				}
				area := strips * long / float64(slices) * (1 - curve*y)
				f.dug += max(0, g-t) * area
				f.stone += max(0, min(under-ratio(s.Cross)*y, g)-t) * area
				f.width += area
			}
		}
	}
}

// Rough ground, steep beside flat sides, curves either way, benches, and drains that leave the formation within the leg.
func TestAgainstFineIntegration(t *testing.T) {
	for seed := uint64(1); seed <= 24; seed++ {
		r := rand.New(rand.NewPCG(seed, 11))
		s := randomSmall(seed)
		p, l := s.p, &s.p.Legs[0]
		p.Finished, p.Rock, p.Topsoil = nil, nil, nil
		p.Ground = field(r, -16, -16, 16, 16, 3, func(e, n float64) float64 { return 100 + 0.15*e - 0.1*n + 0.5*(r.Float64()-0.5) })
		span := &l.Spans[0]
		if seed%4 == 1 {
			span.Section.Sides = Sides{Form: Benched, Bench: &Bench{Height: mm(600), Width: mm(400)}}
		}
		if seed%2 == 0 {
			radius := []float64{9, -9}[seed/2%2]
			arc := route.ArcFrom(route.Point{E: -4, N: -2}, route.Vector{N: 1}, route.Point{E: -4 + radius*(1-math.Cos(0.7)), N: -2 + math.Abs(radius)*math.Sin(0.7)})
			line, err := route.Chain([]route.Element{arc}, 0)
			if err != nil {
				t.Fatal(err)
			}
			l.Line, span.To = line, line.Length()
		}
		got := Solve(p)
		none(t, got.Findings)
		if err := Check(p, &got); err != nil {
			t.Error(err)
		}
		var f fine
		f.leg(p, l, 200)
		what := fmt.Sprintf("seed %d %s", seed, span.Section.Sides.Form)
		near(t, what+" dug", float64(got.Total.Dug()), f.dug, 2e-3*f.dug)
		near(t, what+" stone", float64(got.Total.Stone+got.Total.Pipe), f.stone, 3e-3*f.stone)
		near(t, what+" opened", got.Total.Width, f.width, 3e-3*f.width)
	}
}

// Legs that meet on rough ground, by summing the plan point by point: each point belongs to the arm that it lies nearest to
// in angle.
func TestNodesOnRoughGround(t *testing.T) {
	for seed := uint64(1); seed <= 8; seed++ {
		r := rand.New(rand.NewPCG(seed, 5))
		ground := field(r, -16, -16, 16, 16, 4, func(e, n float64) float64 { return 100 + 0.1*e + 0.4*(r.Float64()-0.5) })
		n := 2 + int(seed%3)
		sides := Sides{Form: Sloped, Slope: oneTo(1)}
		if seed > 4 {
			sides = Sides{Form: Vertical}
		}
		p := &Problem{Ground: ground, Nodes: []Node{{Name: "N"}}}
		var away []route.Vector
		start := r.Float64() * 6
		for i := range n {
			a := start + 2*math.Pi*(float64(i)+0.5*r.Float64())/float64(n)
			d := route.Vector{E: math.Cos(a), N: math.Sin(a)}
			from, to := route.Point{}, route.Point{E: 9 * d.E, N: 9 * d.N}
			end := i%2 == 1
			if end {
				from, to = to, from
			}
			line, err := route.Polyline([]route.Vertex{{At: from}, {At: to}})
			if err != nil {
				t.Fatal(err)
			}
			one := trench(1.6, sides, 1.5, 1.5, 9).Legs[0]
			one.Line, one.Spans[0].To = line, line.Length()
			p.Legs = append(p.Legs, one)
			p.Nodes[0].Arms = append(p.Nodes[0].Arms, Arm{Leg: i, End: end})
			away = append(away, d)
		}
		got := Solve(p)
		none(t, got.Findings)
		const step = 0.02
		sum := 0.0
		for e := -13 + step/2; e < 13; e += step {
			st := ground.Section(route.Point{E: e, N: -15}, route.Point{E: e, N: 15})
			for y := -13 + step/2; y < 13; y += step {
				best, along, off := -2.0, 0.0, 0.0
				long := math.Hypot(e, y)
				for _, d := range away {
					if c := (e*d.E + y*d.N) / long; c > best {
						best, along, off = c, e*d.E+y*d.N, math.Abs(e*d.N-y*d.E)
					}
				}
				t := 98.5 + max(0, off-0.8)
				if along > 9 || off > 0.8 && sides.Form == Vertical {
					continue
				}
				if g, ok := height(st, y+15); ok && g > t {
					sum += (g - t) * step * step
				}
			}
		}
		near(t, fmt.Sprintf("seed %d, %d arms, %s", seed, n, sides.Form), float64(got.Total.Dug()), sum, 4e-3*sum)
	}
}
