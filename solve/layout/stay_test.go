package layout

import (
	"math/rand/v2"
	"slices"
	"testing"

	"trenchwright/tools/seed"
)

// No answer has fewer changed places: against a twin that tries every gap and every length of small legs in whole ticks. And what is
// answered fits, and changes just as many places as it says.
func TestStayChangesLeast(t *testing.T) {
	from := seed.Of(t)
	ways, none, byChanges := 0, 0, map[int]int{}
	for i := range 4000 {
		r := rand.New(rand.NewPCG(from, uint64(i)))
		p, tick := randomLeg(r)
		p.First, p.Joints = nil, nil // the twin would have to remember where the piece before a forced joint started
		if p.Length/tick > 110 {
			continue
		}
		p.Prefer = Prefer{Step: tick}
		s := solved(t, p)
		off := func(u Unit) bool { return u.Length%tick != 0 || u.Start%tick != 0 } // openings are spread to the nanometre
		if slices.ContainsFunc(s.Units, off) {
			continue
		}
		if s.Verdict != Found || len(s.Units) < 3 {
			continue
		}
		n := 1 + r.IntN(len(s.Units)-1)
		last := s.Units[n-1]
		end := last.Start + last.Advance + nm(r.IntN(13)-6)*tick
		if end < tick {
			continue
		}
		beside := func(d Demand) bool { return d.From <= end+9*tick && d.To >= end } // what lies reaches into it, or on its edge
		if slices.ContainsFunc(p.Demands, beside) {
			continue
		}
		var planned []Placed
		for _, u := range s.Units[n:] {
			planned = append(planned, Placed{u.Supply, u.Length, u.Cut})
		}
		const most = 4
		want := newStayTwin(p, tick, planned).least(0, last.Supply, int(end/tick))
		units, got, ok := p.Stay(end, last.Supply, planned, most)
		if !ok {
			if none++; want <= most {
				t.Fatalf("seed %d leg %d: no way, and one with %d changes, behind %d units at %d, supply %d, %v\n%s", from, i, want, n, end/tick, last.Supply, planned, inTicks(p, tick))
			}
			continue
		}
		ways++
		byChanges[got]++
		if got != want {
			t.Fatalf("seed %d leg %d: %d changes, the least are %d, behind %d of %d units, %d ticks\n%s", from, i, got, want, n, len(s.Units), end/tick, inTicks(p, tick))
		}
		rest := p.Behind(units[0].Start)
		moved := append([]Unit{}, units...)
		for k := range moved {
			moved[k].Start -= units[0].Start
		}
		if bad := CheckLaid(rest, moved); len(bad) > 0 || !p.MayOpen(end, units[0].Start, last.Supply) {
			t.Fatalf("seed %d leg %d: %v", from, i, bad)
		}
		if d := changesBetween(planned, units); d != got {
			t.Fatalf("seed %d leg %d: %d changes are said, counted are %d", from, i, got, d)
		}
	}
	t.Logf("seed %d: %d ways %v, none for %d", from, ways, byChanges, none)
	if ways < 30 || none < 2 || len(byChanges) < 2 {
		t.Error("too few to say anything")
	}
}

// changesBetween is how few places change from one list to the other, by trying every pairing.
func changesBetween(planned []Placed, units []Unit) int {
	type key struct{ i, k int }
	seen := map[key]int{}
	var least func(i, k int) int
	least = func(i, k int) int {
		if i == len(planned) || k == len(units) {
			return len(planned) - i + len(units) - k
		}
		if n, ok := seen[key{i, k}]; ok {
			return n
		}
		u := units[k]
		n := least(i+1, k+1)
		if planned[i] != (Placed{u.Supply, u.Length, u.Cut}) {
			n++
		}
		n = min(n, 1+least(i+1, k), 1+least(i, k+1))
		seen[key{i, k}] = n
		return n
	}
	return least(0, 0)
}

type stayTwin struct {
	*twin
	planned []Placed
	seen    map[[3]int]int
}

func newStayTwin(p Problem, tick nm, planned []Placed) *stayTwin {
	w := &twin{p: p, tick: tick}
	w.length = w.t(p.Length)
	for _, s := range p.Supplies {
		for _, k := range s.Stocks {
			w.most = max(w.most, w.t(k.Length))
		}
	}
	for i, ends := range [][2]bool{{false, false}, {false, true}} {
		for _, s := range p.Supplies {
			w.price[i] = append(w.price[i], w.prices(s, ends[0] && p.Start.Mitred, ends[1] && p.End.Mitred))
		}
	}
	return &stayTwin{w, planned, map[[3]int]int{}}
}

// least is how few changes lead on from the end of a unit of supply k at e, with so many planned pieces done with.
func (w *stayTwin) least(done, k, e int) int {
	key := [3]int{done, k, e}
	if n, ok := w.seen[key]; ok {
		return n
	}
	least := never
	if done < len(w.planned) {
		least = 1 + w.least(done+1, k, e) // withdrawn
	}
	gap := w.p.Supplies[k].Gap
	if len(w.p.Stretches) > 0 && w.p.Stretches[0].Gap.Max > 0 {
		gap = w.p.Stretches[0].Gap
	}
	for g := w.t(gap.Min); g <= w.t(gap.Max) && e+g < w.length; g++ {
		x := e + g
		for k2 := range w.p.Supplies {
			if x < 1 || !w.jointLies(k, k2, e, x) {
				continue
			}
			for l := 1; l <= w.most && x+l <= w.length; l++ {
				inner, rest := w.price[0][k2][l], 0
				left := len(w.planned) - done
				if x+l == w.length {
					inner = w.price[1][k2][l]
				}
				if inner >= never || !w.lies(k2, x, l, inner) {
					continue
				}
				now := Placed{k2, nm(l) * w.tick, inner%unitPrice/cutPrice > 0}
				if x+l == w.length {
					rest = max(left, 1)
					if left > 0 && w.planned[done] == now {
						rest = left - 1
					}
					least = min(least, rest)
					continue
				}
				least = min(least, 1+w.least(done, k2, x+l))
				if left > 0 {
					change := 1
					if w.planned[done] == now {
						change = 0
					}
					least = min(least, change+w.least(done+1, k2, x+l))
				}
			}
		}
	}
	w.seen[key] = least
	return least
}
