package main

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"time"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/bench/process"
	"trenchwright/place/ground"
	"trenchwright/place/route"
	"trenchwright/solve/earthwork"
)

// digging is a straight dig along made-up ground, a place a square metre, in units of 3 m.
type digging struct {
	Metres int
	Seed   uint64
}

// digAnswer is what a worker says of a digging; times are processor time.
type digAnswer struct {
	Faces, Spans int
	Exact        time.Duration
	Dug          float64      // m³
	Plain        [2]plainSums // to a millionth of a span, and to a billionth
}

// plainSums are sections added up.
type plainSums struct {
	Each int // in each span
	Took time.Duration
	Off  float64 // where it is furthest off: of what a span holds on average
}

const (
	digBottom = 0.75 // m, half the bottom of the dig
	digReach  = 6.0  // m to either side, as far as the plain way looks
	digUnit   = 3    // m
)

func (d digging) length() float64 { return float64(d.Metres) }

// digFloor is how high the bottom of the dig lies.
func digFloor(x float64) float64 {
	return level(route.Point{E: math.Floor(x/digUnit) * digUnit}) - 1.4 + 0.002*math.Mod(x, digUnit)
}

// surface is the ground: 25 m to either side.
func (d digging) surface() (*ground.Surface, error) {
	r := rand.New(rand.NewPCG(d.Seed, 2))
	s := ground.Survey{Role: ground.Existing, Points: make([]ground.Point, 50*int(d.length()))}
	for i := range s.Points {
		p := route.Point{E: (d.length()+20)*r.Float64() - 10, N: 50*r.Float64() - 25}
		s.Points[i] = ground.Point{E: p.E, N: p.N, Z: level(p)}
	}
	out, said := ground.Triangulate(s)
	if out == nil {
		return nil, fmt.Errorf("the ground of the dig is none: %v", said)
	}
	return out, nil
}

// problem is the same for the solver.
func (d digging) problem(s *ground.Surface) (*earthwork.Problem, error) {
	line, err := route.Polyline([]route.Vertex{{At: route.Point{}}, {At: route.Point{E: d.length()}}})
	if err != nil {
		return nil, err
	}
	room := measure.FromMetres(0.3)
	leg := earthwork.Leg{Name: "A", Line: line}
	section := earthwork.Section{Unit: measure.FromMetres(2*digBottom) - 2*room, Room: &room,
		Sides: earthwork.Sides{Form: earthwork.Sloped, Slope: &measure.Grade{Rise: 1, Run: 1}}}
	at := func(floor float64) earthwork.Levels {
		f := measure.FromMetres(floor)
		return earthwork.Levels{Formation: f, Underside: f + measure.FromMetres(0.15), Top: f + measure.FromMetres(1.2)}
	}
	for x := 0.0; x < d.length(); x += digUnit {
		to := min(x+digUnit, d.length())
		leg.Spans = append(leg.Spans, earthwork.Span{From: measure.FromMetres(x), To: measure.FromMetres(to), Section: section,
			Start: at(digFloor(x)), End: at(digFloor(x) + 0.002*(to-x))})
	}
	return &earthwork.Problem{Ground: earthwork.Of(s), Legs: []earthwork.Leg{leg}}, nil
}

// plain adds up so many sections in each span, each for the length in its middle.
func (d digging) plain(s *ground.Surface, each int) []float64 {
	var out []float64
	for from := 0.0; from < d.length(); from += digUnit {
		sum, apart := 0.0, (min(from+digUnit, d.length())-from)/float64(each)
		for i := range each {
			x := from + (float64(i)+0.5)*apart
			for _, st := range s.Section([]route.Point{{E: x, N: digReach}, {E: x, N: -digReach}}).Stretches {
				sum += dugArea(st, digFloor(x)) * apart
			}
		}
		out = append(out, sum)
	}
	return out
}

// dugArea is the area between ground and a floor with sides of 1:1.
func dugArea(st []ground.Cut, floor float64) float64 {
	sum := 0.0
	for i := 1; i < len(st); i++ {
		a, b := st[i-1], st[i]
		from := a
		for _, corner := range [...]float64{digReach - digBottom, digReach + digBottom, b.Along} {
			if corner <= from.Along || corner > b.Along {
				continue
			}
			to := ground.Cut{Along: corner, Level: a.Level + (b.Level-a.Level)*(corner-a.Along)/(b.Along-a.Along)}
			sum += above(from, to, floor)
			from = to
		}
	}
	return sum
}

// above is what of a straight piece of ground lies above the dig's line.
func above(a, b ground.Cut, floor float64) float64 {
	over := func(c ground.Cut) float64 { return c.Level - floor - max(0, math.Abs(c.Along-digReach)-digBottom) }
	p, q, wide := over(a), over(b), b.Along-a.Along
	switch {
	case p >= 0 && q >= 0:
		return wide * (p + q) / 2
	case p <= 0 && q <= 0:
		return 0
	case p > 0:
		return wide * p / (p - q) * p / 2
	}
	return wide * q / (q - p) * q / 2
}

func digWorker(file string) (any, error) {
	var d digging
	if err := readJSON(file, &d); err != nil {
		return nil, err
	}
	s, err := d.surface()
	if err != nil {
		return nil, err
	}
	p, err := d.problem(s)
	if err != nil {
		return nil, err
	}
	a := digAnswer{Faces: s.FaceCount(), Spans: len(p.Legs[0].Spans)}
	before := cpuTime()
	out := earthwork.Solve(p)
	a.Exact, a.Dug = cpuTime()-before, float64(out.Total.Dug())
	if out.Findings.Any(finding.Fault) {
		return nil, fmt.Errorf("the dig has faults: %v", out.Findings)
	}
	a.Plain[0] = d.sums(s, &out, 1e-6, 8)
	a.Plain[1] = d.sums(s, &out, 1e-9, 2*a.Plain[0].Each)
	return a, nil
}

// sums is the plain way with twice as many sections from time to time, until each span is known that well.
func (d digging) sums(s *ground.Surface, exact *earthwork.Solution, close float64, each int) plainSums {
	const most = 4096
	spans := exact.Legs[0].Spans
	mean := float64(exact.Total.Dug()) / float64(len(spans))
	for out := (plainSums{Each: each}); ; out.Each *= 2 {
		before := cpuTime()
		dug := d.plain(s, out.Each)
		out.Took, out.Off = cpuTime()-before, 0
		for i, v := range dug {
			out.Off = max(out.Off, math.Abs(v-float64(spans[i].Dug()))/mean)
		}
		if out.Off <= close || out.Each >= most {
			return out
		}
	}
}

// dig is the volume of a dig over a large surface, beside plain sections added up.
func (b *bench) dig() error {
	d, runs := digging{Metres: 10_000, Seed: 1}, 3
	if b.quick {
		d.Metres, runs = 1000, 1
	}
	file, err := b.file("dig.json", d)
	if err != nil {
		return err
	}
	var answers []digAnswer
	var costs []process.Cost
	for range runs {
		var a digAnswer
		cost, err := hire("dig", file, &a)
		if err != nil {
			return err
		}
		answers, costs = append(answers, a), append(costs, cost)
	}
	slices.SortFunc(answers, func(a, b digAnswer) int { return cmp.Compare(a.Exact, b.Exact) })
	a := answers[(runs-1)/2]
	of := fmt.Sprintf("%d km in %s spans, %s triangles", d.Metres/1000, count(a.Spans), count(a.Faces))
	for i, to := range [...]string{"a millionth", "a billionth"} {
		p := a.Plain[i]
		b.report.row(row{what: "volumes of a dig, exactly, beside plain sections that come to " + to, size: of, ours: secs(a.Exact), peer: secs(p.Took), ratio: times(p.Took, a.Exact)})
		if p.Off > 1e-5 {
			b.report.wrong = append(b.report.wrong, fmt.Sprintf("dig: %d plain sections in each span are off by %.1e of a span", p.Each, p.Off))
		}
	}
	b.report.row(row{what: "memory of its process, with the surface", size: of, ours: size(process.Median(costs).Peak) + " at most"})
	b.report.note("Dig: one thread, processor time, median of %d processes. Ours gives everything that is dug, filled and laid in each span. Plain are sections of the same surface with nothing but the area dug, added up: %d in each span are off by %.0e of a span where it is most, %d by %.0e.",
		runs, a.Plain[0].Each, a.Plain[0].Off, a.Plain[1].Each, a.Plain[1].Off)
	return nil
}
