package delivery

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/tools/published"
)

const (
	mm = measure.Millimetre
	kg = measure.Mass(1000)
)

// units is n units of one kind, one behind another.
func units(n int, k Kind) Problem {
	p := Problem{Kinds: []Kind{k}}
	for i := range n {
		p.Pieces = append(p.Pieces, Piece{Name: fmt.Sprintf("A-%03d", i+1), Turn: measure.Length(i) * k.Length, At: measure.Length(i) * k.Length})
	}
	return p
}

func solved(t *testing.T, p Problem) Solution {
	t.Helper()
	s, bad := Solve(p)
	if len(bad) > 0 {
		t.Fatal(bad.Render(measure.Metric))
	}
	if bad := Check(&p, &s); len(bad) > 0 {
		t.Fatal(bad[0].Text)
	}
	return s
}

// Worked by hand: nine units of 2670 kg make 24 030 kg, so that eight go on 24 t; on a deck of 13.6 m four stand behind one another
// and, 780 mm wide on 2.4 m, three beside one another.
func TestLoadsByHand(t *testing.T) {
	unit := Kind{Name: "unit 3000", Length: 3000 * mm, Width: 780 * mm, Height: 600 * mm, Mass: 2670 * kg}
	truck := Vehicle{Name: "truck", Payload: 24_000 * kg, Deck: &Deck{13_600 * mm, 2400 * mm, 2500 * mm}}
	p := units(20, unit)
	p.Vehicles = []Vehicle{truck}
	s := solved(t, p)
	if len(s.Loads) != 3 || s.Loads[0].Mass != 8*2670*kg || s.Bound.Loads != 3 || s.Bound.By != "mass" {
		t.Errorf("got %d loads, the first of %s, bound %+v", len(s.Loads), s.Loads[0].Mass, s.Bound)
	}
	if first := s.Loads[0].Placed; len(first) != 8 {
		t.Errorf("the first load has %d", len(first))
	}
	light := p
	light.Kinds = []Kind{unit}
	light.Kinds[0].Mass = 1000 * kg
	if s := solved(t, light); len(s.Loads) != 2 || len(s.Loads[0].Placed) != 12 || s.Bound.Loads != 2 || s.Bound.By != "deck" {
		t.Errorf("by deck: got %d loads of %d, bound %+v", len(s.Loads), len(s.Loads[0].Placed), s.Bound)
	}
	two := light
	two.Kinds = []Kind{light.Kinds[0]}
	two.Kinds[0].High, two.Kinds[0].On = 2, []int{0}
	if s := solved(t, two); len(s.Loads) != 1 {
		t.Errorf("on one another: got %d loads", len(s.Loads))
	}
}

// Bundles of four, two side by side, on bearers of 100 mm, with 30 kg of packing; the last one has a single layer of one.
func TestBundlesByHand(t *testing.T) {
	p := units(9, Kind{Name: "unit 3000", Length: 3000 * mm, Width: 780 * mm, Height: 600 * mm, Mass: 500 * kg, Bundle: 4, Wide: 2, Bearer: 100 * mm, Tare: 30 * kg})
	p.Vehicles = []Vehicle{{Name: "truck", Payload: 24_000 * kg, Deck: &Deck{13_600 * mm, 2400 * mm, 2500 * mm}}}
	s := solved(t, p)
	want := []Bundle{{0, []int{0, 1, 2, 3}, 0, 3000 * mm, 1560 * mm, 1400 * mm, 2030 * kg}, {0, []int{4, 5, 6, 7}, 12_000 * mm, 3000 * mm, 1560 * mm, 1400 * mm, 2030 * kg}, {0, []int{8}, 24_000 * mm, 3000 * mm, 780 * mm, 700 * mm, 530 * kg}}
	if !slices.EqualFunc(s.Bundles, want, func(a, b Bundle) bool { return fmt.Sprint(a) == fmt.Sprint(b) }) {
		t.Errorf("got %v", s.Bundles)
	}
}

// A vehicle is a beam on two supports: each bears the load in proportion to the distance from the other.
func TestTwoSupportsAsPublished(t *testing.T) {
	published.Hold(t, "lifting.supports", func(g published.Given) []float64 {
		span, load := measure.FromMetres(g.N(1)), measure.Mass(g.N(0))*kg
		axles := &Axles{Apart: span, Limit: [2]measure.Mass{load, load}}
		bear := axles.bear(load, int64(load)*tenths(span-measure.FromMetres(g.N(2))))
		return []float64{bear[0].Kilograms(), bear[1].Kilograms()}
	})
}

// Statics by hand: 10 t with its middle 4 m behind the front axles, which stand 5 m before the rear ones: 8 t come on the rear ones and
// 2 t on the front ones. Where the rear ones bear 6 t more at most, 7.5 t is all that can stand there. With the deck beginning 0.3 m behind
// the front axles, which bear 5 t more, half of it has to come on the rear ones: its middle stands 2.5 m behind the front ones, 1.2 m from
// the front of the deck.
func TestAxlesByHand(t *testing.T) {
	piece := Kind{Name: "piece", Length: 2000 * mm, Width: 2000 * mm, Height: 500 * mm, Mass: 10_000 * kg}
	p := units(1, piece)
	axles := &Axles{Ahead: 3000 * mm, Apart: 5000 * mm, Empty: [2]measure.Mass{4000 * kg, 3000 * kg}, Limit: [2]measure.Mass{9000 * kg, 12_000 * kg}}
	p.Vehicles = []Vehicle{{Name: "truck", Payload: 12_000 * kg, Deck: &Deck{6000 * mm, 2400 * mm, 2000 * mm}, Axles: axles}}
	s := solved(t, p)
	if got := *s.Loads[0].Axles; got != [2]measure.Mass{6000 * kg, 11_000 * kg} {
		t.Errorf("the axles bear %v", got)
	}
	axles.Limit[1] = 9000 * kg
	if s := solved(t, p); len(s.Left) != 1 || len(s.Findings) != 1 || s.Findings[0].Kind != finding.Impossible {
		t.Errorf("a load that overloads the rear axles is brought: %+v", s)
	}
	axles.Ahead = 300 * mm
	if s := solved(t, p); len(s.Loads) != 1 || s.Loads[0].Placed[0].X != 1200*mm || *s.Loads[0].Axles != [2]measure.Mass{9000 * kg, 8000 * kg} {
		t.Errorf("further in front: %+v", s.Loads)
	}
}

// What is laid first comes first: nothing waits for what is laid later, and with room for 6 m of run a short one fills a load up.
func TestOrder(t *testing.T) {
	p := Problem{Kinds: []Kind{{Name: "long", Mass: 6000 * kg}, {Name: "short", Mass: 2000 * kg}}, Vehicles: []Vehicle{{Name: "truck", Payload: 8000 * kg}}}
	for i, k := range []int{0, 0, 1, 1} {
		p.Pieces = append(p.Pieces, Piece{Name: fmt.Sprint(i), Kind: k, Turn: measure.Length(3*i) * measure.Metre})
	}
	if s := solved(t, p); len(s.Loads) != 3 || s.Sized {
		t.Errorf("in order: %d loads", len(s.Loads))
	}
	p.Ahead = 6 * measure.Metre
	if s := solved(t, p); len(s.Loads) != 2 || s.Bound.Loads != 2 {
		t.Errorf("6 m ahead: %d loads, bound %d", len(s.Loads), s.Bound.Loads)
	}
}

// What cannot be is said with its figure and limit, and nothing is made of it.
func TestFaults(t *testing.T) {
	good := units(2, Kind{Name: "unit", Length: 3000 * mm, Width: 700 * mm, Height: 500 * mm, Mass: 900 * kg})
	good.Vehicles = []Vehicle{{Name: "truck", Payload: 12_000 * kg, Deck: &Deck{6000 * mm, 2400 * mm, 2000 * mm}, Axles: &Axles{Apart: 5000 * mm, Limit: [2]measure.Mass{9000 * kg, 9000 * kg}}}}
	for name, spoil := range map[string]func(*Problem){
		"payload":  func(p *Problem) { p.Vehicles[0].Payload = 0 },
		"negative": func(p *Problem) { p.Vehicles[0].Payload = -5 * kg },
		"deck":     func(p *Problem) { p.Vehicles[0].Deck = &Deck{-1, 2400 * mm, 2000 * mm} },
		"apart":    func(p *Problem) { p.Vehicles[0].Axles = &Axles{Limit: [2]measure.Mass{1, 1}} },
		"limit": func(p *Problem) {
			p.Vehicles[0].Axles = &Axles{Apart: 1, Empty: [2]measure.Mass{5, 5}, Limit: [2]measure.Mass{5, 9}}
		},
		"mass":   func(p *Problem) { p.Kinds[0].Mass = -1 },
		"bundle": func(p *Problem) { p.Kinds[0].Bundle, p.Kinds[0].Wide = 2, 3 },
		"ahead":  func(p *Problem) { p.Ahead = -1 },
		"turn":   func(p *Problem) { p.Pieces[0].Turn = 9 * measure.Metre },
		"kind":   func(p *Problem) { p.Pieces[0].Kind = 7 },
		"on":     func(p *Problem) { p.Kinds[0].On = []int{3} },
	} {
		p := good
		p.Kinds, p.Pieces, p.Vehicles = slices.Clone(good.Kinds), slices.Clone(good.Pieces), slices.Clone(good.Vehicles)
		spoil(&p)
		s, bad := Solve(p)
		if len(bad) == 0 || len(s.Loads) > 0 {
			t.Errorf("%s: no fault, %d loads", name, len(s.Loads))
		}
		for _, f := range bad {
			for _, broken := range finding.Speech(f) {
				t.Errorf("%s: %s: %s", name, f.Text, broken)
			}
		}
	}
	for name, spoil := range map[string]func(*Problem){
		"heavier": func(p *Problem) { p.Kinds[0].Mass = 13_000 * kg },
		"longer":  func(p *Problem) { p.Kinds[0].Length = 7000 * mm },
		"overloads": func(p *Problem) {
			p.Kinds[0].Mass = 11_000 * kg
			p.Vehicles[0].Axles = &Axles{Apart: 5000 * mm, Limit: [2]measure.Mass{2000 * kg, 2000 * kg}}
		},
	} {
		p := good
		p.Kinds, p.Vehicles = slices.Clone(good.Kinds), slices.Clone(good.Vehicles)
		spoil(&p)
		s := solved(t, p)
		if len(s.Loads) > 0 || len(s.Left) != 2 || len(s.Findings) != 1 || !strings.Contains(s.Findings[0].Text, name) {
			t.Errorf("%s: %+v", name, s)
		}
		for _, f := range s.Findings {
			for _, broken := range finding.Speech(f) {
				t.Errorf("%s: %s: %s", name, f.Text, broken)
			}
		}
	}
}

// A piece without a mass is on no load; where a size is missing, loads go by mass and nothing is placed.
func TestWhatIsNotOnFile(t *testing.T) {
	p := units(3, Kind{Name: "unit", Length: 3000 * mm, Mass: 900 * kg})
	p.Vehicles = []Vehicle{{Name: "truck", Payload: 2000 * kg, Deck: &Deck{6000 * mm, 2400 * mm, 2000 * mm}, Axles: &Axles{Apart: 5000 * mm, Limit: [2]measure.Mass{9000 * kg, 9000 * kg}}}}
	if s := solved(t, p); s.Sized || len(s.Loads) != 2 || s.Loads[0].Axles != nil || s.Loads[0].Used != 0 {
		t.Errorf("without a width: %+v", s)
	}
	p.Kinds[0].Mass = 0
	if s := solved(t, p); len(s.Loads) != 0 || len(s.Left) != 3 {
		t.Errorf("without a mass: %+v", s)
	}
}

// Two loads at once lie on two places: the nearest one that has room, never more than it bears, then the other.
func TestLaydown(t *testing.T) {
	p := units(8, Kind{Name: "unit", Length: 3000 * mm, Width: 700 * mm, Height: 500 * mm, Mass: 1000 * kg, Bearers: 2})
	p.Vehicles = []Vehicle{{Name: "truck", Payload: 2000 * kg, Deck: &Deck{6000 * mm, 2400 * mm, 2000 * mm}}}
	s := solved(t, p)
	area, _ := measure.AreaOf(3000*mm, 2100*mm)
	places := []Place{{Name: "gate", From: 0, To: 6 * measure.Metre, Bears: new(3000 * kg), Area: &area, Edge: new(1200 * mm), Supports: new(6)}, {Name: "yard", From: 20 * measure.Metre, To: 30 * measure.Metre}}
	l := Lay(&p, &s, places, 2, new(1000*mm))
	if len(l.Nowhere) != 0 || l.At[0].Mass != 3000*kg || l.At[0].Most != 3 || l.At[0].Held != [3]finding.Verdict{finding.Meets, finding.Meets, finding.Meets} || l.At[0].KeptAway != finding.Meets {
		t.Errorf("at the gate: %+v", l.At[0])
	}
	if l.At[1].Held != [3]finding.Verdict{} || l.At[1].KeptAway != "" || len(l.At[1].Bundles) == 0 {
		t.Errorf("at the yard: %+v", l.At[1])
	}
	if l := Lay(&p, &s, places[:1], 0, nil); len(l.Nowhere) != 5 || l.At[0].KeptAway != "" {
		t.Errorf("all at once at the gate: %d nowhere", len(l.Nowhere))
	}
	if l := Lay(&p, &s, places[:1], 2, new(1500*mm)); l.At[0].KeptAway != finding.DoesNot {
		t.Errorf("too near: %v", l.At[0].KeptAway)
	}
}

// A special piece ends its leg; a plain one that is missing ends a leg only where the last one of its kind is used up.
func TestShort(t *testing.T) {
	leg := func(kinds ...int) (out []Due) {
		for i, k := range kinds {
			out = append(out, Due{fmt.Sprint(i), k})
		}
		return out
	}
	legs := [][]Due{leg(0, 0, 1, 0), leg(0, 0)}
	for _, c := range []struct {
		there []int
		want  []Stretch
	}{
		{[]int{5, 1}, []Stretch{{4, -1, 4}, {2, -1, 2}}},
		{[]int{5, 0}, []Stretch{{2, 2, 2}, {2, -1, 2}}},
		{[]int{4, 1}, []Stretch{{4, -1, 4}, {1, 1, 2}}},
		{[]int{1, 1}, []Stretch{{1, 1, 1}, {0, 0, 1}}},
		{[]int{0, 0}, []Stretch{{0, 0, 0}, {0, 0, 0}}},
	} {
		if got := Short(legs, c.there); !slices.Equal(got, c.want) {
			t.Errorf("%v: got %v, want %v", c.there, got, c.want)
		}
	}
}

// Whatever is asked, what is answered passes its check, and the same is answered again.
func TestAnyProblemPassesItsCheck(t *testing.T) {
	t.Logf("seed %d", *seed)
	for n := range *random {
		one := *seed + uint64(n)
		r := rand.New(rand.NewPCG(one, 2))
		p := made(r)
		for i := range p.Kinds {
			k := &p.Kinds[i]
			k.Bundle, k.Wide, k.Bearer, k.Tare, k.High = r.IntN(5), r.IntN(3), measure.Length(r.IntN(3)*50)*mm, measure.Mass(r.IntN(2)*20)*kg, r.IntN(4)
			k.Wide = min(k.Wide, k.Bundle)
			for on := range p.Kinds {
				if r.IntN(2) == 0 {
					k.On = append(k.On, on)
				}
			}
			k.Mass /= 4
		}
		for range r.IntN(60) {
			last := p.Pieces[len(p.Pieces)-1]
			p.Pieces = append(p.Pieces, Piece{Name: "more", Kind: r.IntN(len(p.Kinds)), Turn: last.Turn + measure.Length(r.IntN(3000))*mm})
		}
		s, bad := Solve(p)
		if len(bad) > 0 {
			t.Fatalf("seed %d: %s", one, bad[0].Text)
		}
		if bad := Check(&p, &s); len(bad) > 0 {
			t.Fatalf("seed %d: %s", one, bad[0].Text)
		}
		again, _ := Solve(p)
		if fmt.Sprint(again.Loads) != fmt.Sprint(s.Loads) {
			for i := range s.Loads {
				if a, b := s.Loads[i], again.Loads[i]; a.Mass != b.Mass || !slices.Equal(a.Placed, b.Placed) {
					t.Fatalf("seed %d: load %d comes out another way", one, i)
				}
			}
		}
	}
}

// The check sees what is wrong with an answer.
func TestCheckSeesSlips(t *testing.T) {
	p := long(300, 5)
	for name, spoil := range map[string]func(*Solution){
		"twice":      func(s *Solution) { s.Loads[0].Placed[1].Bundle = s.Loads[0].Placed[0].Bundle },
		"overhang":   func(s *Solution) { s.Loads[0].Placed[0].X = 20 * measure.Metre },
		"in another": func(s *Solution) { x := s.Loads[0].Placed; x[1].X, x[1].Y, x[1].Z = x[0].X, x[0].Y, x[0].Z },
		"in the air": func(s *Solution) { s.Loads[0].Placed[0].Z = 40 * mm },
		"mass":       func(s *Solution) { s.Loads[0].Mass++ },
		"axles":      func(s *Solution) { s.Loads[0].Axles[0] += 10 },
		"order":      func(s *Solution) { slices.Reverse(s.Loads) },
		"bound":      func(s *Solution) { s.Bound.Loads++ },
		"sum":        func(s *Solution) { s.Bound.Sum++ },
		"lost":       func(s *Solution) { s.Loads = s.Loads[1:] },
		"bundle":     func(s *Solution) { s.Bundles[0].Mass++ },
	} {
		s := solved(t, p)
		spoil(&s)
		if len(Check(&p, &s)) == 0 {
			t.Errorf("%s: nothing was said", name)
		}
	}
}
