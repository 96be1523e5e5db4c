package layout

import (
	"math/rand/v2"
	"testing"
)

// No layout of the same cost keeps its joints further from zones: with zones one millimetre wider on either side than the
// clearance found, the twin finds nothing as good.
func TestClearanceIsTheGreatest(t *testing.T) {
	from := seed()
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
