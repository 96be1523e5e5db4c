package layout

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"trenchwright/tools/seed"
)

// The twin is the slow and obvious programme: every quantity is a whole number of ticks, every start, every length and every
// gap is tried in turn, and a rule is looked up where it is met. It shares no idea with the interval programme.

const never = math.MaxInt / 4

type twin struct {
	p      Problem
	tick   nm
	length int
	most   int        // longest stock
	price  [4][][]int // by shape (inner, last, first, only), supply, length
	best   [][]int    // by supply and start: what is still to be laid
	after  [][]int    // by supply and end, when no joint is forced
}

func (w *twin) t(l nm) int {
	if l%w.tick != 0 {
		panic(fmt.Sprintf("twin: %d is no whole number of ticks of %d", l, w.tick))
	}
	return int(l / w.tick)
}

const (
	unitPrice = 1 << 40
	cutPrice  = 1 << 20
)

func solveTwin(p Problem, tick nm) (Count, bool) {
	w := &twin{p: p, tick: tick}
	w.length = w.t(p.Length)
	for _, s := range p.Supplies {
		for _, k := range s.Stocks {
			w.most = max(w.most, w.t(k.Length))
		}
	}
	for i, ends := range [][2]bool{{false, false}, {false, true}, {true, false}, {true, true}} {
		for _, s := range p.Supplies {
			w.price[i] = append(w.price[i], w.prices(s, ends[0] && p.Start.Mitred, ends[1] && p.End.Mitred))
		}
	}
	for range p.Supplies {
		w.best = append(w.best, slices.Repeat([]int{never}, w.length+1))
		w.after = append(w.after, slices.Repeat([]int{never}, w.length+1))
	}
	for x := w.length - 1; x > 0; x-- {
		for k := range p.Supplies {
			w.best[k][x] = w.from(k, x)
		}
		for k := range p.Supplies {
			w.after[k][x] = w.behind(k, x, -1)
		}
	}
	least := never
	for k := range p.Supplies {
		least = min(least, w.first(k, 0, 0))
	}
	if least >= never {
		return Count{}, false
	}
	return Count{least / unitPrice, least % unitPrice / cutPrice, least % cutPrice}, true
}

// from is the least from a unit of supply k at x.
func (w *twin) from(k, x int) int {
	least := never
	for l := 1; l <= w.most && x+l <= w.length; l++ {
		if x+l == w.length {
			if c := w.price[1][k][l]; c < never && w.lies(k, x, l, c) && w.keepsJoint(x, w.length) {
				least = min(least, c)
			}
			continue
		}
		c := w.price[0][k][l]
		if c >= never || !w.lies(k, x, l, c) {
			continue
		}
		rest := w.after[k][x+l]
		if len(w.p.Joints) > 0 {
			rest = w.behind(k, x+l, x)
		}
		least = min(least, c+rest)
	}
	return least
}

// behind is the least from the end of a unit of supply k at e that started at x.
func (w *twin) behind(k, e, x int) int {
	least := never
	gap := w.p.Supplies[k].Gap
	if len(w.p.Stretches) > 0 && w.p.Stretches[0].Gap.Max > 0 {
		gap = w.p.Stretches[0].Gap
	}
	for g := w.t(gap.Min); g <= w.t(gap.Max) && e+g < w.length; g++ {
		if x >= 0 && !w.keepsJoint(x, e+g) {
			continue
		}
		for k2 := range w.p.Supplies {
			if w.best[k2][e+g] < least && w.jointLies(k, k2, e, e+g) {
				least = w.best[k2][e+g]
			}
		}
	}
	return least
}

func (w *twin) keepsJoint(x, next int) bool {
	for _, j := range w.p.Joints {
		if x < w.t(j.At-j.Tolerance) && next > w.t(j.At+j.Tolerance) {
			return false
		}
	}
	return true
}

func (w *twin) jointLies(k, k2, e, x int) bool {
	for _, z := range w.p.Zones {
		if e < w.t(z.To) && x > w.t(z.From) {
			return false
		}
	}
	for _, d := range w.p.Demands {
		from, to := w.t(d.From), w.t(d.To)
		if e < from && from < x || e < to && to < x || e < to && x > from && (k != d.Supply || k2 != d.Supply) {
			return false
		}
	}
	return true
}

func (w *twin) lies(k, x, l, c int) bool {
	e, cut := x+l, c%unitPrice/cutPrice > 0
	wanted := k == 0
	for _, d := range w.p.Demands {
		if k != d.Supply && e > w.t(d.From) && x < w.t(d.To) {
			return false
		}
		wanted = wanted || k == d.Supply && e >= w.t(d.From) && x <= w.t(d.To)
	}
	for _, z := range w.p.NoCut {
		if cut && e > w.t(z.From) && x < w.t(z.To) {
			return false
		}
	}
	return wanted
}

// first is the least from x, where unit number done starts; the given first units come before any choice.
func (w *twin) first(k, done, x int) int {
	if done > 0 && done >= len(w.p.First) {
		return w.best[k][x]
	}
	inner, last := w.price[0][k], w.price[1][k]
	if done == 0 {
		inner, last = w.price[2][k], w.price[3][k]
	}
	least := never
	for l := 1; l <= w.most && x+l <= w.length; l++ {
		if done < len(w.p.First) && l != w.t(w.p.First[done]) {
			continue
		}
		if x+l == w.length {
			if c := last[l]; c < never && done >= len(w.p.First)-1 && w.lies(k, x, l, c) && w.keepsJoint(x, x+l) {
				least = min(least, c)
			}
			continue
		}
		c := inner[l]
		if c >= never || !w.lies(k, x, l, c) {
			continue
		}
		if done+1 >= len(w.p.First) {
			least = min(least, c+w.behind(k, x+l, x))
			continue
		}
		gap := w.p.Supplies[k].Gap
		if len(w.p.Stretches) > 0 && w.p.Stretches[0].Gap.Max > 0 {
			gap = w.p.Stretches[0].Gap
		}
		for g := w.t(gap.Min); g <= w.t(gap.Max) && x+l+g < w.length; g++ {
			for k2 := range w.p.Supplies {
				if w.keepsJoint(x, x+l+g) && w.jointLies(k, k2, x+l, x+l+g) {
					least = min(least, c+w.first(k2, done+1, x+l+g))
				}
			}
		}
	}
	return least
}

// prices is what each length costs, never if it cannot be had.
func (w *twin) prices(s Supply, start, end bool) []int {
	out := slices.Repeat([]int{never}, w.most+1)
	limit := w.most
	if len(w.p.Stretches) > 0 && w.p.Stretches[0].MaxUnit > 0 {
		limit = min(limit, w.t(w.p.Stretches[0].MaxUnit))
	}
	fills := w.fills(s.Covers)
	for l := 1; l <= limit; l++ {
		for _, k := range s.Stocks {
			if !start && !end && w.t(k.Length) == l {
				out[l] = unitPrice
			}
			if w.sawn(s, k, l, start, end) {
				if m := w.cutCovers(s.Covers, fills, l, start, end); m >= 0 {
					out[l] = min(out[l], unitPrice+cutPrice+m)
				}
			}
		}
	}
	return out
}

// sawn tries both ends of the stock, either way round.
func (w *twin) sawn(s Supply, k Stock, l int, start, end bool) bool {
	ha, hz := 0, 0 // all mitres here have |tan| = 3/4
	if start {
		ha = w.t(s.Width) * 3 / 8
	}
	if end {
		hz = w.t(s.Width) * 3 / 8
	}
	stock, lean := w.t(k.Length), ha+hz
	if start && end {
		lean = w.t(s.Width) * 3 / 8 * int(math.Abs(w.p.End.Tan-w.p.Start.Tan)/0.75)
		if s.KeepFactoryEnd || l-lean < w.t(s.ShortestCut) {
			return false
		}
		kerf := w.t(s.Kerf) * 5 / 4
		for a := ha; a+l+hz <= stock; a++ { // where in the stock it begins
			if !slices.ContainsFunc(k.NoCut, func(n Span) bool {
				from, to := w.t(n.From), w.t(n.To)
				return a-ha-kerf < to && a+ha > from || a+l-hz < to && a+l+hz+kerf > from
			}) {
				return true
			}
		}
		return false
	}
	if l-lean < w.t(s.ShortestCut) || l+lean > stock || lean == 0 && stock-l < w.t(s.LeastSlice) {
		return false
	}
	kerf := w.t(s.Kerf)
	if lean > 0 {
		kerf = kerf * 5 / 4
	}
	for _, turned := range []bool{false, true} {
		for _, keepA := range []bool{true, false} {
			if turned && !s.MayTurn || start && keepA != turned || end && keepA == turned {
				continue
			}
			lo, hi := l-lean, l+lean+kerf
			if !keepA {
				lo, hi = stock-hi, stock-lo
			}
			if !slices.ContainsFunc(k.NoCut, func(n Span) bool { return lo < w.t(n.To) && hi > w.t(n.From) }) {
				return true
			}
		}
	}
	return false
}

// fills tells which sums of covers with a gap each there are, with 0, 1 and 2 cut ones.
func (w *twin) fills(c Covers) [3][]bool {
	var out [3][]bool
	if len(c.Lengths) == 0 {
		return out
	}
	top := w.most + w.t(c.Gap.Max)
	for m := range out {
		out[m] = make([]bool, top+1)
		out[0][0] = true
		for t := 0; t <= top; t++ {
			for g := w.t(c.Gap.Min); g <= w.t(c.Gap.Max); g++ {
				for _, l := range c.Lengths {
					if b := t - g - w.t(l); b >= 0 && out[m][b] {
						out[m][t] = true
					}
				}
				if m == 0 {
					continue
				}
				for l := w.t(c.ShortestCut); l <= w.t(slices.Max(c.Lengths)-c.LeastSlice); l++ {
					if b := t - g - l; b >= 0 && out[m-1][b] {
						out[m][t] = true
					}
				}
			}
		}
	}
	return out
}

func (w *twin) cutCovers(c Covers, fills [3][]bool, l int, start, end bool) int {
	if len(c.Lengths) == 0 || c.Width == 0 && (start || end) {
		return 0
	}
	if !start && !end {
		return slices.IndexFunc(fills[:], func(f []bool) bool { return f[l] })
	}
	longest, short, h := w.t(slices.Max(c.Lengths)), w.t(c.ShortestCut), w.t(c.Width)*3/8
	back := func(e End) int { return w.t(e.Seam) * 5 / 8 }
	if start && end {
		rest := l - back(w.p.Start) - back(w.p.End)
		lean := h * int(math.Abs(w.p.End.Tan-w.p.Start.Tan)/0.75)
		if rest >= short+lean && rest <= longest-2*h {
			return 1
		}
		for m := 0; m < 2; m++ {
			for a := 2 * (short + h); a <= 2*(longest-h); a++ {
				for g := w.t(c.Gap.Min); g <= w.t(c.Gap.Max); g++ {
					if b := rest - a - g; b >= 0 && short+h <= longest-h && fills[m][b] {
						return m + 2
					}
				}
			}
		}
		return -1
	}
	e := w.p.Start
	if end {
		e = w.p.End
	}
	rest := l - back(e) - w.t(c.Gap.Nominal)/2
	for m := 0; m < 2; m++ {
		for a := short + h; a <= longest-h; a++ {
			if b := rest - a; b >= 0 && fills[m][b] {
				return m + 1
			}
		}
	}
	return -1
}

// randomLeg makes a leg of whole ticks.
func randomLeg(r *rand.Rand) (Problem, nm) {
	tick := nm(1 + r.IntN(5_000_000))
	n := func(lo, hi int) nm { return nm(lo+r.IntN(hi-lo+1)) * tick }
	maybe := func(percent int) bool { return r.IntN(100) < percent }
	var p Problem
	size := 20 + r.IntN(180)
	if maybe(4) {
		size = 200 + r.IntN(2300)
	}
	p.Length = nm(size) * tick
	some := 1
	if maybe(25) {
		some = 2
	}
	for range some {
		p.Supplies = append(p.Supplies, randomSupply(r, tick, n, maybe))
	}
	if some == 2 && maybe(70) {
		p.Supplies[1].Gap = p.Supplies[0].Gap
	}
	for range r.IntN(4) {
		from := n(-10, size)
		p.Zones = append(p.Zones, Zone{from, from + n(1, 25), "a zone"})
	}
	if maybe(20) {
		from := n(0, size)
		p.NoCut = append(p.NoCut, Zone{from, from + n(1, 20), "a crossing"})
	}
	if some == 2 {
		at := 0
		for range 1 + r.IntN(2) {
			from := at + r.IntN(size)
			to := from + 1 + r.IntN(40)
			if from < size {
				p.Demands = append(p.Demands, Demand{nm(from) * tick, nm(to) * tick, r.IntN(4) & 1, "a demand"})
			}
			at = to
		}
	}
	if maybe(10) && size > 30 {
		p.Joints = append(p.Joints, ForcedJoint{n(10, size-10), n(0, 4), "a joint"})
	}
	for maybe(6) && len(p.First) < 2 {
		p.First = append(p.First, p.Supplies[0].Stocks[0].Length-n(0, 8)/2/tick*tick)
	}
	randomEnds(r, &p, tick, n, maybe)
	return p, tick
}

func randomEnds(r *rand.Rand, p *Problem, tick nm, n func(lo, hi int) nm, maybe func(int) bool) {
	if maybe(15) {
		s := Stretch{To: p.Length}
		if maybe(50) {
			s.MaxUnit = n(10, 100)
		}
		if maybe(50) {
			s.Gap.Min = n(0, 4)
			s.Gap.Nominal, s.Gap.Max = s.Gap.Min+tick, s.Gap.Min+2*tick
		}
		p.Stretches = []Stretch{s}
	}
	tans := []float64{0.75, -0.75}
	if maybe(25) {
		p.Start = End{Mitred: true, Tan: tans[r.IntN(2)], Seam: 16 * n(1, 1)}
	}
	if maybe(25) {
		p.End = End{Mitred: true, Tan: tans[r.IntN(2)], Seam: 16 * n(1, 1)}
	}
}

func randomSupply(r *rand.Rand, tick nm, n func(lo, hi int) nm, maybe func(int) bool) Supply {
	s := Supply{Width: 8 * n(1, 2), Kerf: 4 * n(0, 1), KeepFactoryEnd: maybe(60), MayTurn: maybe(50)}
	s.Gap = tight(n(0, 6))
	if maybe(40) {
		s.Gap.Min -= min(s.Gap.Min, n(0, 2))
		s.Gap.Max += n(0, 3)
	}
	gap := 2 * n(0, 2)
	pitch := gap + n(6, 30)
	for range 1 + r.IntN(3) {
		k := Stock{Length: nm(1+r.IntN(5)) * pitch}
		if !slices.ContainsFunc(s.Stocks, func(o Stock) bool { return o.Length == k.Length }) {
			s.Stocks = append(s.Stocks, k)
		}
	}
	longest := s.longest()
	if maybe(15) {
		k := &s.Stocks[r.IntN(len(s.Stocks))]
		from := n(0, int(k.Length/tick)-1)
		k.NoCut = append(k.NoCut, Span{from, from + n(1, 10)})
	}
	s.ShortestCut = n(3, max(4, int(longest/tick)/2))
	s.LeastSlice = n(0, 4)
	if maybe(20) {
		return s
	}
	s.Covers = Covers{Lengths: []nm{pitch - gap}, Gap: tight(gap), ShortestCut: n(1, int((pitch-gap)/tick)), LeastSlice: n(0, 2), Width: 8 * n(0, 2)}
	if maybe(30) {
		s.Covers.Gap.Min -= min(gap, n(0, 2))
		s.Covers.Gap.Max += n(0, 1)
	}
	if maybe(30) {
		s.Covers.Lengths = append(s.Covers.Lengths, n(5, 25))
	}
	return s
}

var (
	legsFlag = flag.Int("legs", 0, "how many random legs")
)

func TestAgreesWithTwin(t *testing.T) {
	legs, from := 10_000, seed.Of(t)
	if testing.Short() {
		legs = 1_000
	}
	if *legsFlag > 0 {
		legs = *legsFlag
	}
	impossible, opened := 0, 0
	for i := range legs {
		r := rand.New(rand.NewPCG(from, uint64(i)))
		p, tick := randomLeg(r)
		want, possible := solveTwin(p, tick)
		got, err := Solve(p)
		if err != nil {
			t.Fatalf("seed %d leg %d: %v\n%s", from, i, err, inTicks(p, tick))
		}
		if possible != (got.Verdict == Found) || possible && got.Count != want {
			t.Fatalf("seed %d leg %d: the twin says %v %v, Solve %s %v\n%s%s", from, i, possible, want, got.Verdict, got.Count, inTicks(p, tick), unitsInTicks(got.Units, tick))
		}
		if said := Check(p, got); len(said) > 0 {
			t.Fatalf("seed %d leg %d: %s\n%s%s", from, i, said[0].Text, inTicks(p, tick), unitsInTicks(got.Units, tick))
		}
		if !possible {
			impossible++
		}
		if got.Opened {
			opened++
		}
	}
	t.Logf("seed %d: %d legs agree, %d of them impossible, %d with gaps opened", from, legs, impossible, opened)
}

// inTicks writes a leg in ticks, for reading.
func inTicks(p Problem, tick nm) string {
	t := func(l nm) float64 { return float64(l) / float64(tick) }
	out := fmt.Sprintf("tick %d, length %v", int64(tick), t(p.Length))
	for i, s := range p.Supplies {
		out += fmt.Sprintf("\nsupply %d gap %v..%v..%v cut %v kerf %v slice %v width %v factory %v turn %v stocks", i, t(s.Gap.Min), t(s.Gap.Nominal), t(s.Gap.Max),
			t(s.ShortestCut), t(s.Kerf), t(s.LeastSlice), t(s.Width), s.KeepFactoryEnd, s.MayTurn)
		for _, k := range s.Stocks {
			out += fmt.Sprintf(" %v", t(k.Length))
			for _, n := range k.NoCut {
				out += fmt.Sprintf(" (not %v..%v)", t(n.From), t(n.To))
			}
		}
		c := s.Covers
		out += fmt.Sprintf("\n  covers gap %v..%v..%v cut %v slice %v width %v lengths", t(c.Gap.Min), t(c.Gap.Nominal), t(c.Gap.Max), t(c.ShortestCut), t(c.LeastSlice), t(c.Width))
		for _, l := range c.Lengths {
			out += fmt.Sprintf(" %v", t(l))
		}
	}
	for _, z := range p.Zones {
		out += fmt.Sprintf("\nzone %v..%v", t(z.From), t(z.To))
	}
	for _, z := range p.NoCut {
		out += fmt.Sprintf("\nnocut %v..%v", t(z.From), t(z.To))
	}
	for _, d := range p.Demands {
		out += fmt.Sprintf("\ndemand %d %v..%v", d.Supply, t(d.From), t(d.To))
	}
	for _, j := range p.Joints {
		out += fmt.Sprintf("\njoint %v±%v", t(j.At), t(j.Tolerance))
	}
	for _, l := range p.First {
		out += fmt.Sprintf("\nfirst %v", t(l))
	}
	for _, s := range p.Stretches {
		out += fmt.Sprintf("\nstretch %v..%v max %v gap %v..%v..%v", t(s.From), t(s.To), t(s.MaxUnit), t(s.Gap.Min), t(s.Gap.Nominal), t(s.Gap.Max))
	}
	return out + fmt.Sprintf("\nstart %v end %v seams %v %v", p.Start.Tan, p.End.Tan, t(p.Start.Seam), t(p.End.Seam))
}

func unitsInTicks(units []Unit, tick nm) string {
	out := ""
	for _, u := range units {
		out += fmt.Sprintf("\n%v+%v (%v) supply %d cut %v", float64(u.Start)/float64(tick), float64(u.Length)/float64(tick), float64(u.GapAfter)/float64(tick), u.Supply, u.Cut)
		for _, k := range u.Covers {
			out += fmt.Sprintf(" [%v+%v]", float64(k.Start)/float64(tick), float64(k.Length)/float64(tick))
		}
	}
	return out
}
