package layout

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
)

// Malformed is a Problem that contradicts itself or is not complete: every fault with the field that it is in.
type Malformed struct{ Faults []string }

func (m Malformed) Error() string { return "layout: " + strings.Join(m.Faults, "; ") }

type faults []string

func (f *faults) addf(format string, args ...any) { *f = append(*f, fmt.Sprintf(format, args...)) }

// inMM writes a length for a sentence: exact, in millimetres.
func inMM(l nm) string { return l.String() }

// say writes a length for the people of this job; in feet and inches exact millimetres stand behind it where rounding hides something.
func (p *Problem) say(l nm) string {
	switch {
	case p.Show == nil:
		return l.String()
	case p.Show.System == measure.Metric: // a hundredth of a millimetre tells any two lengths of the trade apart
		return ((l + hundredth/2) / hundredth * hundredth).String()
	case p.Words.Imperial:
		return p.Words.Length(l)
	case p.Show.Exact(l):
		return p.Show.Length(l)
	}
	return p.Show.Length(l) + " (" + l.String() + ")"
}

const hundredth = measure.Millimetre / 100

// tell is a sentence in the words of this job; lengths are said first.
func (p *Problem) tell(form string, args ...any) string { return p.Words.Say(form, args...) }

const mostLength = nm(1) << 54 // 18,000 km

// faults says what a Problem contradicts itself in; nil if in nothing.
func (p *Problem) faults() error {
	var f faults
	if p.Length <= 0 || p.Length > mostLength {
		f.addf("Length: %s; a leg is longer than 0 and shorter than 18 000 km", inMM(p.Length))
	}
	if len(p.Supplies) == 0 {
		f.addf("Supplies: none; at least one is needed")
	}
	for i := range p.Supplies {
		p.Supplies[i].faults(&f, fmt.Sprintf("Supplies[%d]", i))
	}
	p.endFaults(&f, p.Start, "Start")
	p.endFaults(&f, p.End, "End")
	p.stretchFaults(&f)
	p.zoneFaults(&f)
	for i, l := range p.First {
		if l <= 0 {
			f.addf("First[%d]: %s; a unit is longer than 0", i, inMM(l))
		}
	}
	if p.Drift.Scatter < 0 || p.Drift.Bias < 0 || p.Clear < 0 || p.Prefer.Step < 0 {
		f.addf("Drift, Clear and Prefer.Step: none may be below 0")
	}
	if len(f) == 0 {
		return nil
	}
	return Malformed{f}
}

func (s *Supply) faults(f *faults, at string) {
	if len(s.Stocks) == 0 {
		f.addf("%s.Stocks: none; at least one length is needed", at)
	}
	for i, k := range s.Stocks {
		if k.Length <= 0 || k.Length > mostLength {
			f.addf("%s.Stocks[%d].Length: %s; it must be more than 0", at, i, inMM(k.Length))
		}
		if slices.ContainsFunc(s.Stocks[:i], func(o Stock) bool { return o.Length == k.Length }) {
			f.addf("%s.Stocks[%d].Length: %s stands there twice; a length that may be sawn otherwise is a supply of its own", at, i, inMM(k.Length))
		}
		for j, n := range k.NoCut {
			if n.From >= n.To {
				f.addf("%s.Stocks[%d].NoCut[%d]: from %s to %s; it must end behind its start", at, i, j, inMM(n.From), inMM(n.To))
			}
		}
	}
	windowFaults(f, s.Gap.Nominal, s.Gap.Min, s.Gap.Max, at+".Gap")
	if s.ShortestCut <= 0 {
		f.addf("%s.ShortestCut: %s; it must be more than 0", at, inMM(s.ShortestCut))
	}
	if s.Kerf < 0 || s.LeastSlice < 0 || s.Width < 0 {
		f.addf("%s.Kerf, LeastSlice and Width: none may be below 0", at)
	}
	if len(s.Covers.Lengths) > 0 && len(*f) == 0 {
		s.coverFaults(f, at+".Covers")
	}
}

func windowFaults(f *faults, nominal, least, most nm, at string) {
	if least < 0 || nominal < least || most < nominal {
		f.addf("%s: nominal %s in a window of %s to %s; it must lie in it, and the window not below 0", at, inMM(nominal), inMM(least), inMM(most))
	}
}

func (s *Supply) coverFaults(f *faults, at string) {
	c := s.Covers
	windowFaults(f, c.Gap.Nominal, c.Gap.Min, c.Gap.Max, at+".Gap")
	if c.ShortestCut <= 0 || c.LeastSlice < 0 || c.Width < 0 {
		f.addf("%s.ShortestCut %s, LeastSlice %s, Width %s: the first must be more than 0, the others not less", at,
			inMM(c.ShortestCut), inMM(c.LeastSlice), inMM(c.Width))
		return
	}
	for i, l := range c.Lengths {
		if l <= 0 || s.longest()/l > 100 {
			f.addf("%s.Lengths[%d]: %s; it must be more than 0, and no more than 100 covers lie on a unit of %s", at, i, inMM(l), inMM(s.longest()))
			return
		}
	}
	whole := c.levels(shape{}, s.longest())[0]
	for i, k := range s.Stocks {
		if !whole.holds(k.Length) {
			f.addf("%s.Lengths: no whole number of covers with gaps of %s to %s fills Stocks[%d], %s", at,
				inMM(c.Gap.Min), inMM(c.Gap.Max), i, inMM(k.Length))
		}
	}
}

func (p *Problem) endFaults(f *faults, e End, at string) {
	if math.IsNaN(e.Tan) || math.Abs(e.Tan) > 1000 || e.Seam < 0 || e.Mitred != (e.Tan != 0) {
		f.addf("%s: Mitred %v with Tan %v and Seam %s; a mitre has a Tan of at most 1000 that is not 0, and a square end none", at, e.Mitred, e.Tan, inMM(e.Seam))
	}
	for i, s := range p.Supplies {
		if e.Mitred && s.Width == 0 {
			f.addf("Supplies[%d].Width: 0; a mitred end needs the width", i)
		}
	}
}

func (p *Problem) stretchFaults(f *faults) {
	at := nm(0)
	for i, s := range p.Stretches {
		if s.From != at || s.To <= s.From {
			f.addf("Stretches[%d]: from %s to %s; stretches follow each other from 0 to Length", i, inMM(s.From), inMM(s.To))
			return
		}
		if s.Radius < 0 || s.MaxUnit < 0 || s.Run == 0 && s.Rise != 0 {
			f.addf("Stretches[%d]: Radius %s, MaxUnit %s, slope %s in %s; none may be below 0, and a rise needs a run", i,
				inMM(s.Radius), inMM(s.MaxUnit), inMM(s.Rise), inMM(s.Run))
		}
		for j, u := range p.Supplies {
			if l := u.longest(); s.Radius != 0 && 2*s.Radius <= l && (s.MaxUnit == 0 || 2*s.Radius <= s.MaxUnit) {
				f.addf("Stretches[%d].Radius: %s; Supplies[%d] has units of %s, too long for a chord", i, inMM(s.Radius), j, inMM(u.longest()))
			}
		}
		windowFaults(f, s.Gap.Nominal, s.Gap.Min, s.Gap.Max, fmt.Sprintf("Stretches[%d].Gap", i))
		at = s.To
	}
	if len(p.Stretches) > 0 && at != p.Length {
		f.addf("Stretches: they end at %s, the leg at %s", inMM(at), inMM(p.Length))
	}
}

func (p *Problem) zoneFaults(f *faults) {
	for i, z := range p.Zones {
		if z.From >= z.To {
			f.addf("Zones[%d]: from %s to %s; it must end behind its start", i, inMM(z.From), inMM(z.To))
		}
	}
	for i, z := range p.NoCut {
		if z.From >= z.To {
			f.addf("NoCut[%d]: from %s to %s; it must end behind its start", i, inMM(z.From), inMM(z.To))
		}
	}
	for i, j := range p.Joints {
		if j.Tolerance < 0 || j.At-j.Tolerance <= 0 || j.At+j.Tolerance >= p.Length {
			f.addf("Joints[%d]: at %s within %s; it must lie inside the leg", i, inMM(j.At), inMM(j.Tolerance))
		}
	}
	order := slices.Clone(p.Demands)
	sorting.By(order, func(a, b Demand) int { return int(min(1, max(-1, a.From-b.From))) })
	for i, d := range order {
		if d.From >= d.To || d.To <= 0 || d.From >= p.Length || d.Supply < 0 || d.Supply >= len(p.Supplies) {
			f.addf("Demands: from %s to %s for supply %d; it must end behind its start, meet the leg and name one of %d supplies",
				inMM(d.From), inMM(d.To), d.Supply, len(p.Supplies))
		}
		if i > 0 && d.From < order[i-1].To {
			f.addf("Demands: %s to %s overlaps %s to %s", inMM(order[i-1].From), inMM(order[i-1].To), inMM(d.From), inMM(d.To))
		}
	}
}
