package layout

import (
	"math/rand/v2"
	"testing"

	"trenchwright/tools/seed"
)

// No layout of the same cost keeps its joints further from zones: with zones one millimetre wider on either side than the
// clearance found, the twin finds nothing as good.
func TestClearanceIsTheGreatest(t *testing.T) {
	from := seed.Of(t)
	tried, gained := 0, 0
	for i := range 1_500 {
		r := rand.New(rand.NewPCG(from, uint64(i)))
		p, tick := randomLeg(r)
		if len(p.Zones) == 0 || len(p.First) > 0 {
			continue
		}
		for l := range lengthsOf(&p) { // the same leg, a tick being a whole millimetre
			*l = *l / tick * 1_000_000
		}
		tick = 1_000_000
		s := solved(t, p)
		if s.Verdict != Found || !s.Clearance.Known || !s.Clearance.Best {
			continue
		}
		tried++
		if s.Clearance.Least > 0 {
			gained++
		}
		wider, keep := p, s.Clearance.Least/tick*tick+tick
		wider.Zones = nil
		for _, z := range p.Zones {
			wider.Zones = append(wider.Zones, Zone{z.From - keep, z.To + keep, ""})
		}
		if !s.Opened { // gaps as aimed at come first
			wider.Supplies = nil
			for _, u := range p.Supplies {
				u.Gap = tight(u.Gap.Nominal)
				wider.Supplies = append(wider.Supplies, u)
			}
			for i := range wider.Stretches {
				wider.Stretches[i].Gap = tight(wider.Stretches[i].Gap.Nominal)
			}
		}
		if most := p.notch().most(&p); s.Clearance.Least >= nm(most)*1_000_000 {
			continue
		}
		if n, ok := solveTwin(wider, tick); ok && n == s.Count {
			t.Fatalf("seed %d leg %d: clearance %s, and more is to be had at %v\n%s%s", from, i, inMM(s.Clearance.Least), n, inTicks(p, tick), unitsInTicks(s.Units, tick))
		}
	}
	t.Logf("seed %d: %d legs with zones, %d with clearance", from, tried, gained)
}

// lengthsOf yields every length of a problem.
func lengthsOf(p *Problem) func(func(*nm) bool) {
	return func(yield func(*nm) bool) {
		all := []*nm{&p.Length, &p.Start.Seam, &p.End.Seam}
		for i := range p.Supplies {
			s := &p.Supplies[i]
			all = append(all, &s.Gap.Nominal, &s.Gap.Min, &s.Gap.Max, &s.ShortestCut, &s.Kerf, &s.LeastSlice, &s.Width)
			c := &s.Covers
			all = append(all, &c.Gap.Nominal, &c.Gap.Min, &c.Gap.Max, &c.ShortestCut, &c.LeastSlice, &c.Width)
			for j := range c.Lengths {
				all = append(all, &c.Lengths[j])
			}
			for j := range s.Stocks {
				all = append(all, &s.Stocks[j].Length)
				for k := range s.Stocks[j].NoCut {
					all = append(all, &s.Stocks[j].NoCut[k].From, &s.Stocks[j].NoCut[k].To)
				}
			}
		}
		for i := range p.Zones {
			all = append(all, &p.Zones[i].From, &p.Zones[i].To)
		}
		for i := range p.NoCut {
			all = append(all, &p.NoCut[i].From, &p.NoCut[i].To)
		}
		for i := range p.Demands {
			all = append(all, &p.Demands[i].From, &p.Demands[i].To)
		}
		for i := range p.Joints {
			all = append(all, &p.Joints[i].At, &p.Joints[i].Tolerance)
		}
		for i := range p.First {
			all = append(all, &p.First[i])
		}
		for i := range p.Stretches {
			s := &p.Stretches[i]
			all = append(all, &s.From, &s.To, &s.MaxUnit, &s.Gap.Nominal, &s.Gap.Min, &s.Gap.Max)
		}
		for _, l := range all {
			if !yield(l) {
				return
			}
		}
	}
}

// Free cut lengths are whole steps: of a layout whose joints stay as aimed at, no cut length that is none could be one while
// the others stay, and rounding costs nothing.
func TestFreeCutsAreWholeSteps(t *testing.T) {
	from := seed.Of(t)
	legs, round, left := 0, 0, 0
	for i := range 700 {
		r := rand.New(rand.NewPCG(from, uint64(i)))
		p, tick := randomLeg(r)
		p.First = nil
		if i%3 == 0 {
			p.Stretches = nil
		}
		plain := solved(t, p)
		p.Prefer.Step = nm(2+r.IntN(30)) * tick
		s := solved(t, p)
		if s.Count != plain.Count || s.Clearance.Best && s.Clearance.Least <= plain.Clearance.Least-mm(1) {
			t.Fatalf("seed %d leg %d: %v with %v, and %v with %v where lengths are free\n%s", from, i, s.Count, s.Clearance, plain.Count, plain.Clearance, inTicks(p, tick))
		}
		if said := Check(p, s); len(said) > 0 {
			t.Fatalf("seed %d leg %d: %v\n%s", from, i, said, inTicks(p, tick))
		}
		if s.Verdict != Found || s.Opened || s.Clearance.Known || s.Count.Cuts == 0 {
			continue
		}
		legs++
		round, left = countSteps(t, p, s, round, left)
	}
	t.Logf("seed %d: %d legs, %d cut lengths are whole steps, %d cannot be", from, legs, round, left)
	if round == 0 {
		t.Error("no length is rounded")
	}
}

// A leg between two mitres whose length is no round figure has two cut units or more: all but the last of them are whole
// millimetres wherever what is left between the longest stock and the leg's end holds one, on straights, slopes and curves,
// as laid out first and when the cutting has asked for a length.
func TestAllButOneCutAreRound(t *testing.T) {
	from := seed.Of(t)
	legs, tight := 0, 0
	for i := range 400 {
		r := rand.New(rand.NewPCG(from, uint64(i)))
		p := leg(t, "1 | nocover | mitre start 0.4142135 | mitre end -1.7320508")
		p.Length = mm(9000) + nm(r.Int64N(30_000_000_000))
		p.Prefer.Step = []nm{mm(1), 1_587_500}[i%2] // 1/16 in
		if i%3 > 0 {
			half := p.Length / 2
			p.Stretches = []Stretch{{To: half, Radius: mm(200_000) * nm(i%3-1), Rise: nm(r.IntN(5_000_000)), Run: mm(100)}, {From: half, To: p.Length}}
		}
		s := solved(t, p)
		if s.Count.Cuts < 2 {
			continue
		}
		legs++
		spare := unrounded(t, p, s)
		if spare > 0 {
			tight++
		}
		if n := uneven(p, s); n > 1+spare {
			t.Fatalf("seed %d leg %d: %d of %d cuts are no whole steps of %s: %s", from, i, n, s.Count.Cuts, inMM(p.Prefer.Step), shown(s))
		}
		slack, err := Freedom(p, s, nil, false)
		if err != nil {
			t.Fatal(err)
		}
		lengths := make([]nm, len(slack))
		v := slack[0].Lengths[0]
		lengths[0] = v.Min + nm(r.Int64N(int64(v.Max-v.Min+1)))
		got, err := Refit(p, s, s.Units, lengths, false)
		if err != nil {
			t.Fatal(err)
		}
		if said := Check(p, got); len(said) > 0 {
			t.Fatal(said[0].Text)
		}
		if n := uneven(p, got); n > 2 || got.Units[0].Length != lengths[0] {
			t.Fatalf("seed %d leg %d: %s was asked for, and %d cuts are no whole steps: %s", from, i, inMM(lengths[0]), n, shown(got))
		}
	}
	t.Logf("seed %d: %d legs, %d too tight for a whole step", from, legs, tight)
	if legs < 100 || tight > 10 {
		t.Error("hardly a leg has two cuts, or many have no whole step to choose")
	}
}

// unrounded is how many cut units but the last have no whole step to choose: with those before them as they are and those
// behind them free, no length that they may have is one.
func unrounded(t *testing.T, p Problem, s Solution) int {
	t.Helper()
	n, given := 0, make([]nm, s.Count.Cuts)
	for k, at := 0, 0; k < s.Count.Cuts-1; k, at = k+1, at+1 {
		for !s.Units[at].Cut {
			at++
		}
		slack, err := Freedom(p, s, given, false)
		if err != nil {
			t.Fatal(err)
		}
		whole := false
		for _, v := range slack[k].Lengths {
			whole = whole || (v.Max/p.Prefer.Step)*p.Prefer.Step >= v.Min
		}
		if !whole {
			n++
		}
		given[k] = s.Units[at].Length
	}
	return n
}

// uneven is how many cut units are no whole number of steps long.
func uneven(p Problem, s Solution) int {
	n := 0
	for _, u := range s.Units {
		if u.Cut && u.Length%p.Prefer.Step != 0 {
			n++
		}
	}
	return n
}

// countSteps counts the cut lengths that are whole steps and those that are not, and holds that the latter could not be.
func countSteps(t *testing.T, p Problem, s Solution, round, left int) (int, int) {
	t.Helper()
	var cuts []nm
	for _, u := range s.Units {
		if u.Cut {
			cuts = append(cuts, u.Length)
		}
	}
	for k, l := range cuts {
		if l%p.Prefer.Step == 0 {
			round++
			continue
		}
		left++
		others := append([]nm{}, cuts...)
		others[k] = 0
		slack, err := Freedom(p, s, others, false)
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range slack[k].Lengths {
			if (v.Max/p.Prefer.Step)*p.Prefer.Step >= v.Min {
				t.Fatalf("%s of steps of %s could be a whole number of them in %v", inMM(l), inMM(p.Prefer.Step), v)
			}
		}
	}
	return round, left
}
