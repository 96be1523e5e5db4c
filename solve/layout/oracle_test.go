//go:build !js

package layout_test

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"trenchwright/base/measure"
	"trenchwright/bench/peer"
	"trenchwright/solve/layout"
)

var oracleSeed = flag.Uint64("oracle", 41_500, "seed of the legs that an outside solver lays out too")

// squareLeg is a leg with square ends in ticks: nothing in it that cannot be said in a few lines of an integer programme.
type squareLeg struct {
	length                     int
	stocks                     []int
	gapMin, gapAim, gapMax     int
	shortest, slice            int // of a cut unit
	cover, coverGap, coverLeft int // length, gap, shortest cut; cover 0: no covers
	zones                      [][2]int
}

func randomSquareLeg(r *rand.Rand) squareLeg {
	pitch := 6 + r.IntN(8)
	l := squareLeg{
		length: 40 + r.IntN(100), gapAim: r.IntN(4), shortest: 1 + r.IntN(16), slice: r.IntN(4), coverGap: 2 * r.IntN(2),
		stocks: []int{pitch * (2 + r.IntN(2)), pitch}[:1+r.IntN(2)],
	}
	l.gapMin, l.gapMax = l.gapAim-r.IntN(l.gapAim+1)*r.IntN(2), l.gapAim+r.IntN(3)*r.IntN(2)
	if r.IntN(5) > 0 {
		l.cover = pitch - l.coverGap
		l.coverLeft = 1 + r.IntN(l.cover-1)
	}
	for range r.IntN(5) {
		from := r.IntN(l.length)
		l.zones = append(l.zones, [2]int{from, from + 1 + r.IntN(25)})
	}
	return l
}

// problem says the leg to our solver.
func (l squareLeg) problem(tick measure.Length) layout.Problem {
	t := func(n int) measure.Length { return measure.Length(n) * tick }
	s := layout.Supply{
		Gap: measure.Window{Min: t(l.gapMin), Nominal: t(l.gapAim), Max: t(l.gapMax)}, ShortestCut: t(l.shortest), LeastSlice: t(l.slice),
		KeepFactoryEnd: true, Width: t(10),
	}
	for _, k := range l.stocks {
		s.Stocks = append(s.Stocks, layout.Stock{Length: t(k)})
	}
	if l.cover > 0 {
		gap := measure.Window{Min: t(l.coverGap), Nominal: t(l.coverGap), Max: t(l.coverGap)}
		s.Covers = layout.Covers{Lengths: []measure.Length{t(l.cover)}, Gap: gap, ShortestCut: t(l.coverLeft), Width: t(10)}
	}
	p := layout.Problem{Length: t(l.length), Supplies: []layout.Supply{s}}
	for _, z := range l.zones {
		p.Zones = append(p.Zones, layout.Zone{From: t(z[0]), To: t(z[1]), Why: "a zone"})
	}
	return p
}

// price of a unit of a length; units come first, then cuts, then cut covers. Not every length can be had.
func (l squareLeg) price(length int) (int64, bool) {
	const unit, cut = 1_000_000, 1_000
	whole, sawn := false, false
	for _, k := range l.stocks {
		whole = whole || length == k
		sawn = sawn || length >= l.shortest && k-length >= max(l.slice, 1)
	}
	if whole {
		return unit, true // its covers are whole too
	}
	cutCovers, ok := l.cutCovers(length)
	return unit + cut + int64(cutCovers), sawn && ok
}

// cutCovers by the rule for covers of one length: none cut, one, or two that share what is left.
func (l squareLeg) cutCovers(length int) (int, bool) {
	if l.cover == 0 {
		return 0, true
	}
	pitch := l.cover + l.coverGap
	rest := length % pitch
	switch {
	case rest == 0:
		return 0, true
	case rest-l.coverGap >= l.coverLeft:
		return 1, true
	case length >= pitch && pitch+rest-2*l.coverGap >= 2*l.coverLeft:
		return 2, true
	}
	return 0, false
}

func (l squareLeg) jointAt(from, to int) bool {
	for _, z := range l.zones {
		if from < z[1] && to > z[0] {
			return false
		}
	}
	return true
}

// model is the leg as one thing that flows from its start to its end: along units from where they start to where they
// end, and across joints from there to where the next unit starts.
func (l squareLeg) model() *peer.Model {
	m := &peer.Model{}
	starts, ends := make([]int, l.length+1), make([]int, l.length+1)
	for x := range starts {
		starts[x], ends[x] = m.Row(peer.Equal, 0), m.Row(peer.Equal, 0)
	}
	arc := func(from, to int, price int64) {
		x := m.Column(price)
		m.Term(from, x, -1)
		m.Term(to, x, 1)
	}
	for x := range l.length {
		for length := 1; x+length <= l.length; length++ {
			if price, ok := l.price(length); ok {
				arc(starts[x], ends[x+length], price)
			}
		}
		for gap := l.gapMin; gap <= l.gapMax && x+gap < l.length; gap++ {
			if x > 0 && l.jointAt(x, x+gap) {
				arc(ends[x], starts[x+gap], 0)
			}
		}
	}
	back := m.Column(0) // once round
	m.Term(ends[l.length], back, -1)
	m.Term(starts[0], back, 1)
	m.Term(m.Row(peer.Equal, 1), back, 1)
	return m
}

// cbc (coin-or.org) lays the same legs out on a grid of ticks, and says the same units, cuts and cut covers.
func TestAnOutsideSolverLaysTheSameLegs(t *testing.T) {
	cbc, err := peer.CBC()
	if err != nil {
		t.Skip("SKIPPED: legs are not compared with an outside solver's: ", err)
	}
	found, none := 0, 0
	for i := range uint64(40) {
		r := rand.New(rand.NewPCG(*oracleSeed, i))
		l := randomSquareLeg(r)
		got, err := layout.Solve(l.problem(measure.Length(1 + r.IntN(5_000_000))))
		if err != nil {
			t.Fatalf("-oracle %d, leg %d: %v\n%+v", *oracleSeed, i, err, l)
		}
		want, err := cbc.Ask(l.model(), time.Minute)
		if err != nil || want.Verdict == peer.NotEnded {
			t.Fatalf("-oracle %d, leg %d: cbc: %s %v", *oracleSeed, i, want.Verdict, err)
		}
		ours, theirs := fmt.Sprint(got.Verdict, " ", got.Count), fmt.Sprint(layout.Impossible, " ", layout.Count{})
		if want.Verdict == peer.Best {
			n := int(want.Least)
			theirs = fmt.Sprint(layout.Found, " ", layout.Count{Units: n / 1_000_000, Cuts: n / 1_000 % 1_000, CutCovers: n % 1_000})
			found++
		} else {
			none++
		}
		if ours != theirs {
			t.Errorf("-oracle %d, leg %d: %s, cbc %s\n%+v", *oracleSeed, i, ours, theirs, l)
		}
	}
	t.Logf("seed %d: %d legs laid out alike, %d impossible for both", *oracleSeed, found, none)
	if found < 10 || none == 0 {
		t.Errorf("%d found and %d impossible: too one-sided to say much", found, none)
	}
}
