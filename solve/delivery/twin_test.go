package delivery

import (
	"flag"
	"fmt"
	"math/bits"
	"math/rand/v2"
	"slices"
	"testing"

	"trenchwright/base/measure"
)

var (
	seed   = flag.Uint64("seed", 20261, "seed of the first random problem")
	random = flag.Int("random", 600, "number of random problems")
)

// twin is the slow and obvious answer: every set of bundles on every vehicle, in every parting into rows and every order of the rows;
// then the fewest loads over all sets that may come first.
type twin struct {
	p    *Problem
	b    []Bundle
	fits []bool
	memo map[int]int
}

func newTwin(p *Problem) *twin {
	t := &twin{p: p, b: bundles(p), memo: map[int]int{}}
	t.fits = make([]bool, 1<<len(t.b))
	for set := range t.fits {
		for v := range p.Vehicles {
			t.fits[set] = t.fits[set] || t.onto(&p.Vehicles[v], set)
		}
	}
	return t
}

// onto tries whether a set goes onto a vehicle, nothing on anything.
func (t *twin) onto(v *Vehicle, set int) bool {
	mass := measure.Mass(0)
	var all []int
	for i := range t.b {
		if set>>i&1 == 1 {
			mass += t.b[i].Mass
			all = append(all, i)
			if t.b[i].Height > v.Deck.Height {
				return false
			}
		}
	}
	if mass > v.Payload {
		return false
	}
	return t.parted(v, all, nil)
}

// parted gives the first of what is left to every row that there is, and to one of its own.
func (t *twin) parted(v *Vehicle, left []int, rows [][]int) bool {
	if len(left) == 0 {
		return t.ordered(v, rows, nil)
	}
	for r := range rows {
		rows[r] = append(rows[r], left[0])
		if t.parted(v, left[1:], rows) {
			return true
		}
		rows[r] = rows[r][:len(rows[r])-1]
	}
	return t.parted(v, left[1:], append(rows, []int{left[0]}))
}

// ordered tries every order of the rows, moved back by as much as the axles ask for.
func (t *twin) ordered(v *Vehicle, left, order [][]int) bool {
	for i := range left {
		rest := slices.Delete(slices.Clone(left), i, i+1)
		if t.ordered(v, rest, append(slices.Clone(order), left[i])) {
			return true
		}
	}
	if len(left) > 0 {
		return false
	}
	x, mass, moment := 0.0, 0.0, 0.0
	for _, row := range order {
		long, wide := measure.Length(0), measure.Length(0)
		for _, i := range row {
			long, wide = max(long, t.b[i].Length), wide+t.b[i].Width
			mass += float64(t.b[i].Mass)
			moment += float64(float64(t.b[i].Mass) * (x + t.b[i].Length.Metres()/2))
		}
		if wide > v.Deck.Width {
			return false
		}
		x += long.Metres()
	}
	slack := v.Deck.Length.Metres() - x
	if slack < -1e-9 {
		return false
	}
	if a := v.Axles; a != nil {
		for _, shift := range []float64{0, t.shift(a, mass, moment), slack} {
			second := (moment + float64(mass*shift) + float64(mass*a.Ahead.Metres())) / a.Apart.Metres()
			front, rear := float64(a.Empty[0])+mass-second, float64(a.Empty[1])+second
			if shift >= 0 && shift <= slack+1e-9 && front <= float64(a.Limit[0])+1 && rear <= float64(a.Limit[1])+1 && front >= -1 && rear >= -1 {
				return true
			}
		}
		return false
	}
	return true
}

// shift is how far back the front axles ask a load to be.
func (t *twin) shift(a *Axles, mass, moment float64) float64 {
	if mass == 0 {
		return 0
	}
	second := float64(a.Empty[0]) + mass - float64(a.Limit[0])
	return (float64(second*a.Apart.Metres()) - moment - float64(mass*a.Ahead.Metres())) / mass
}

// fewest is how many loads bring what is not in the set yet.
func (t *twin) fewest(come int) int {
	all := 1<<len(t.b) - 1
	if come == all {
		return 0
	}
	if n, ok := t.memo[come]; ok {
		return n
	}
	best := 99
	for set := 1; set <= all; set++ {
		if set&come != 0 || !t.fits[set] || !t.mayCome(come|set) {
			continue
		}
		best = min(best, 1+t.fewest(come|set))
	}
	t.memo[come] = best
	return best
}

// mayCome tells whether nothing that has come is laid more than Ahead behind what has not.
func (t *twin) mayCome(set int) bool {
	last, first := measure.Length(-1), measure.Length(-1)
	for i := range t.b {
		if set>>i&1 == 1 {
			last = max(last, t.b[i].Turn)
		} else if first < 0 {
			first = t.b[i].Turn
		}
	}
	return first < 0 || last <= first+t.p.Ahead
}

// made is a random problem of up to seven bundles.
func made(r *rand.Rand) Problem {
	mm := func(from, to, step int) measure.Length {
		return measure.Length(from+step*r.IntN((to-from)/step+1)) * measure.Millimetre
	}
	kg := func(from, to int) measure.Mass { return measure.Mass(from+r.IntN(to-from+1)) * 1000 }
	p := Problem{Ahead: []measure.Length{0, 0, 3 * measure.Metre, 12 * measure.Metre}[r.IntN(4)]}
	for i := range 1 + r.IntN(2) {
		v := Vehicle{Name: fmt.Sprint("vehicle ", i), Payload: kg(4000, 12000), Deck: &Deck{mm(5000, 9000, 500), mm(1800, 2500, 100), 2 * measure.Metre}}
		if r.IntN(2) == 0 {
			v.Axles = &Axles{Ahead: mm(0, 1500, 100), Apart: mm(4000, 6000, 100), Empty: [2]measure.Mass{kg(3000, 4000), kg(2000, 3000)}, Limit: [2]measure.Mass{kg(6000, 8000), kg(9000, 13000)}}
		}
		p.Vehicles = append(p.Vehicles, v)
	}
	for i := range 1 + r.IntN(3) {
		p.Kinds = append(p.Kinds, Kind{Name: fmt.Sprint("kind ", i), Length: mm(1000, 3500, 250), Width: mm(600, 1300, 50), Height: mm(300, 900, 50), Mass: kg(300, 3500)})
	}
	turn := measure.Length(0)
	for i := range 2 + r.IntN(5) {
		p.Pieces = append(p.Pieces, Piece{Name: fmt.Sprint("A-", i), Kind: r.IntN(len(p.Kinds)), Turn: turn})
		turn += mm(1000, 3000, 500)
	}
	return p
}

// Loads are as few as the slow answer has them, or one more where rows could be parted better; the bound is never above it.
func TestAgainstTwin(t *testing.T) {
	t.Logf("seed %d", *seed)
	more, sum, tight := 0, 0, 0
	for n := range *random {
		one := *seed + uint64(n)
		p := made(rand.New(rand.NewPCG(one, 1)))
		s, bad := Solve(p)
		if len(bad) > 0 {
			t.Fatalf("seed %d: %v", one, bad)
		}
		if bad := Check(&p, &s); len(bad) > 0 {
			t.Fatalf("seed %d: %s", one, bad[0].Text)
		}
		tw := newTwin(&p)
		gone := 0
		for _, b := range s.Left {
			if tw.fits[1<<b] {
				t.Fatalf("seed %d: bundle %d goes on a vehicle and was left", one, b)
			}
			gone |= 1 << b
		}
		if gone > 0 { // the twin has no order without them
			continue
		}
		best := tw.fewest(0)
		if s.Bound.Loads > best || len(s.Loads) < best {
			t.Fatalf("seed %d: bound %d, fewest %d, found %d (%d bundles)", one, s.Bound.Loads, best, len(s.Loads), bits.Len(uint(len(tw.fits)-1)))
		}
		if len(s.Loads) > best+1 {
			t.Errorf("seed %d: %d loads, fewest %d", one, len(s.Loads), best)
		}
		sum += best
		more += len(s.Loads) - best
		if s.Bound.Loads == best {
			tight++
		}
	}
	t.Logf("%d loads, %d more than needed; the bound is the fewest in %d of %d", sum, more, tight, *random)
	if more*100 > sum {
		t.Errorf("%d of %d loads too many: more than 1 in 100", more, sum)
	}
}
