package planner

import (
	"math/rand/v2"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/solve/layout"
	"trenchwright/tools/seed"
)

// A gap between two faces that lie, as the leg programme closes it, against a slow walk through every length and every gap of small
// legs: the same fewest units, then cuts, or neither finds a way. What lies beyond comes out where it lies, and what is behind it is laid
// on from there.
func TestGapsAreClosedAsByEveryWay(t *testing.T) {
	seed := seed.Of(t)
	r := rand.New(rand.NewPCG(seed, 17))
	yes, no := 0, 0
	for range 3000 {
		var s layout.Supply
		long := measure.Length(6 + r.IntN(6))
		s.Stocks = []layout.Stock{{Length: long}}
		if r.IntN(2) == 0 {
			s.Stocks = append(s.Stocks, layout.Stock{Length: long - 2})
		}
		least := measure.Length(1 + r.IntN(2)) // where joints close up a face is met to the nanometre, which is much here
		most := least + measure.Length(r.IntN(3))
		s.Gap = measure.Window{Min: least, Max: most, Nominal: least + measure.Length(r.IntN(int(most-least)+1))}
		s.ShortestCut, s.LeastSlice, s.Kerf, s.Width, s.MayTurn = measure.Length(2+r.IntN(3)), measure.Length(1+r.IntN(2)), 1, 4, true
		end := measure.Length(3 + r.IntN(5))
		at := end + measure.Length(1+r.IntN(28))
		last := r.IntN(2) == 0
		lies := measure.Length(5 + r.IntN(40))
		p := layout.Problem{Length: at + lies, Supplies: []layout.Supply{s}}
		g := gang{from: 2, to: 3, place: "A-003", at: at, end: at + lies, last: last}
		if !last {
			p.Length += measure.Length(1 + r.IntN(20))
		}
		for range r.IntN(3) {
			from := end + measure.Length(r.IntN(int(at-end)))
			p.Zones = append(p.Zones, layout.Zone{From: from, To: from + measure.Length(1+r.IntN(3)), Why: "zone"})
		}
		beyond := []gang{g}
		q := closed(p, beyond)
		q.Zones = p.Zones
		costs := layout.Costs(q)
		if costs == nil {
			t.Fatalf("%+v: no costs", q)
		}
		start, count, ok := costs.After(end, 0)
		w := walk{p: &p, at: at, beyond: beyond[0].end, last: last}
		want, found := w.best(end)
		if ok != found || ok && (count.Units-1 != want[0] || count.Cuts != want[1]) {
			t.Fatalf("%+v from %d to %d, last %t: %v %+v, by every way %v %v", p, end, at, last, ok, count, found, want)
		}
		if !ok {
			no++
			continue
		}
		yes++
		units, _, ok := costs.Ahead(start, 0)
		if !ok {
			t.Fatal("what has a cost has no units")
		}
		met := false
		for _, u := range units {
			if u.Supply == 1 {
				met = u.Start == at && u.Advance == beyond[0].seen()
			}
		}
		if !met {
			t.Fatalf("%+v: what lies at %d does not lie there: %+v", p, at, units)
		}
	}
	if yes < 300 || no < 300 {
		t.Errorf("%d could be closed, %d could not: too few of one to say anything", yes, no)
	}
}

// walk tries every way.
type walk struct {
	p          *layout.Problem
	at, beyond measure.Length // the face that lies, and the end of what lies
	last       bool
}

// best are the fewest units, and the fewest cuts with those.
func (w *walk) best(end measure.Length) (best [2]int, ok bool) {
	type key struct {
		end   measure.Length
		phase int
	}
	known := map[key]*[2]int{}
	var from func(k key) *[2]int
	better := func(b, c *[2]int) *[2]int {
		if b == nil || c != nil && (c[0] < b[0] || c[0] == b[0] && c[1] < b[1]) {
			return c
		}
		return b
	}
	s := &w.p.Supplies[0]
	open := func(from, to measure.Length) bool {
		if to-from < s.Gap.Min || to-from > s.Gap.Max {
			return false
		}
		for _, z := range w.p.Zones {
			if from < z.To && to > z.From {
				return false
			}
		}
		return true
	}
	from = func(k key) *[2]int {
		if b, seen := known[k]; seen {
			return b
		}
		var b *[2]int
		to := w.at
		if k.phase == 1 {
			to = w.p.Length
		}
		if k.phase == 0 && open(k.end, w.at) {
			if w.last {
				b = &[2]int{0, 0}
			} else {
				b = from(key{w.beyond, 1})
			}
		}
		for gap := s.Gap.Min; gap <= s.Gap.Max; gap++ {
			start := k.end + gap
			if !open(k.end, start) {
				continue
			}
			lay := func(l measure.Length, cuts int) {
				var next *[2]int
				switch e := start + l; {
				case k.phase == 1 && e == to:
					next = &[2]int{0, 0}
				case e < to || k.phase == 0 && e == to:
					next = from(key{e, k.phase})
				}
				if next != nil {
					b = better(b, &[2]int{next[0] + 1, next[1] + cuts})
				}
			}
			for _, o := range s.Stocks {
				lay(o.Length, 0)
				for l := s.ShortestCut; l <= o.Length-s.LeastSlice; l++ {
					lay(l, 1)
				}
			}
		}
		known[k] = b
		return b
	}
	b := from(key{end, 0})
	if b == nil {
		return best, false
	}
	return *b, true
}
