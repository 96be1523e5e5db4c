package layout

import (
	"math"
	"slices"
	"sort"
)

// unit checks one unit by itself: its place, the saw and its covers.
func (c *checker) unit(i int) {
	u := c.s.Units[i]
	at := c.on(u.Start)
	if d := math.Abs(at.covers(u.Length) - float64(u.Advance)); d > slack {
		c.say("layout.check.advance", u.Start, "unit %d is %s long and covers %s of the chainage", i+1, inMM(u.Length), inMM(u.Advance))
	}
	end := u.Start + u.Advance
	first := max(0, sort.Search(len(c.p.Stretches), func(i int) bool { return c.p.Stretches[i].From > u.Start })-1)
	for _, s := range c.p.Stretches[min(first, len(c.p.Stretches)):] {
		if s != at && s.From >= end {
			break
		}
		if s.MaxUnit > 0 && u.Length > s.MaxUnit {
			c.say("layout.check.long-on-curve", u.Start, "unit %d is %s long where %s is the most", i+1, inMM(u.Length), inMM(s.MaxUnit))
		}
	}
	for _, z := range c.near(c.p.NoCut, u.Start, end) {
		if u.Cut && u.Start < z.To && end > z.From {
			c.say("layout.check.cut-in-zone", u.Start, "cut unit %d lies in %s, %s to %s", i+1, z.Why, inMM(z.From), inMM(z.To))
		}
	}
	var start, finish float64
	if i == 0 {
		start = c.p.Start.Tan
	}
	if i == len(c.s.Units)-1 {
		finish = c.p.End.Tan
	}
	if u.StartTan != start || u.EndTan != finish {
		c.say("layout.check.mitre", u.Start, "unit %d is cut at %v and %v, its ends ask for %v and %v", i+1, u.StartTan, u.EndTan, start, finish)
		return
	}
	c.saw(i, u)
	c.coversOf(i, u)
}

func (c *checker) saw(i int, u Unit) {
	s := c.p.Supplies[u.Supply]
	at := slices.IndexFunc(s.Stocks, func(k Stock) bool { return k.Length == u.Stock })
	if at < 0 {
		c.say("layout.check.stock", u.Start, "unit %d is of %s, which is no stock length", i+1, inMM(u.Stock))
		return
	}
	if !u.Cut {
		if u.Length != u.Stock || u.StartTan != 0 || u.EndTan != 0 {
			c.say("layout.check.uncut", u.Start, "unit %d is called whole and is %s of %s", i+1, inMM(u.Length), inMM(u.Stock))
		}
		return
	}
	side := float64(u.Length) - float64(math.Abs(u.EndTan-u.StartTan)*float64(s.Width)/2)
	if side < float64(s.ShortestCut)-slack {
		c.say("layout.check.short", u.Start, "the shorter side of cut unit %d is %.6f mm; the shortest cut unit is %s", i+1, side/1e6, inMM(s.ShortestCut))
	}
	mitres := float64((math.Abs(u.StartTan) + math.Abs(u.EndTan)) * float64(s.Width) / 2)
	left := float64(u.Stock-u.Length) - mitres
	if left < -slack || mitres == 0 && u.Stock-u.Length < s.LeastSlice {
		c.say("layout.check.slice", u.Start, "cut unit %d of %s leaves %.6f mm of %s; the saw takes %s at least", i+1, inMM(u.Length), left/1e6, inMM(u.Stock), inMM(s.LeastSlice))
	}
	both := u.StartTan != 0 && u.EndTan != 0
	if both && s.KeepFactoryEnd {
		c.say("layout.check.factory-end", u.Start, "unit %d lies between two mitres and has no factory end", i+1)
	}
	if u.Turned && !s.MayTurn {
		c.say("layout.check.turned", u.Start, "unit %d is turned end for end, which its supply does not allow", i+1)
	}
	c.sawPath(i, u, s, s.Stocks[at])
}

// sawPath checks that face and kerf miss what is cast in, by station from end A.
func (c *checker) sawPath(i int, u Unit, s Supply, k Stock) {
	tan := u.StartTan + u.EndTan // at most one is not nought here
	switch {
	case u.StartTan != 0 && u.EndTan != 0:
		if u.Kept != KeptNone {
			c.say("layout.check.kept", u.Start, "unit %d is cut at both ends and is said to keep one", i+1)
		}
		return // where in its stock such a piece lies is for the cutting
	case u.Kept != KeptA && u.Kept != KeptB:
		c.say("layout.check.kept", u.Start, "cut unit %d does not say which factory end it keeps", i+1)
		return
	case tan != 0 && (u.StartTan != 0) != (u.Turned == (u.Kept == KeptA)):
		c.say("layout.check.kept", u.Start, "unit %d keeps the end at its mitre", i+1)
	}
	lean := float64(math.Abs(tan) * float64(s.Width) / 2)
	kerf := float64(float64(s.Kerf) * math.Sqrt(1+float64(tan*tan)))
	lo, hi := float64(u.Length)-lean, float64(u.Length)+lean+kerf
	if u.Kept == KeptB {
		lo, hi = float64(k.Length)-hi, float64(k.Length)-lo
	}
	for _, n := range k.NoCut {
		if hi > float64(n.From)+slack && lo < float64(n.To)-slack {
			c.say("layout.check.cast-in", u.Start, "the saw meets %s to %s of the stock of cut unit %d", inMM(n.From), inMM(n.To), i+1)
		}
	}
}

func (c *checker) coversOf(i int, u Unit) {
	v := c.p.Supplies[u.Supply].Covers
	if len(v.Lengths) == 0 || v.Width == 0 && (u.StartTan != 0 || u.EndTan != 0) {
		if len(u.Covers) != 0 {
			c.say("layout.check.covers", u.Start, "unit %d has covers, and nothing is on file of them", i+1)
		}
		return
	}
	if len(u.Covers) == 0 {
		c.say("layout.check.covers", u.Start, "unit %d has no covers", i+1)
		return
	}
	for j, k := range u.Covers {
		if j > 0 {
			before := u.Covers[j-1]
			if gap := k.Start - before.Start - before.Length; gap < v.Gap.Min || gap > v.Gap.Max {
				c.say("layout.check.cover-gap", u.Start, "covers %d and %d of unit %d are %s apart; the window is %s to %s", j, j+1, i+1, inMM(gap), inMM(v.Gap.Min), inMM(v.Gap.Max))
			}
		}
		c.cover(i, j, u, v)
	}
	c.coverEnds(i, u, v)
}

func (c *checker) cover(i, j int, u Unit, v Covers) {
	k := u.Covers[j]
	var start, finish float64
	if j == 0 {
		start = u.StartTan
	}
	if j == len(u.Covers)-1 {
		finish = u.EndTan
	}
	if k.StartTan != start || k.EndTan != finish || k.Mitred != (start != 0 || finish != 0) || k.Mitred && !k.Cut {
		c.say("layout.check.cover-mitre", u.Start, "cover %d of unit %d does not follow the mitre of its unit", j+1, i+1)
	}
	if !slices.Contains(v.Lengths, k.Stock) || !k.Cut && k.Length != k.Stock {
		c.say("layout.check.cover-stock", u.Start, "cover %d of unit %d is %s of %s", j+1, i+1, inMM(k.Length), inMM(k.Stock))
	}
	if !k.Cut {
		return
	}
	side := float64(k.Length) - float64(math.Abs(finish-start)*float64(v.Width)/2)
	long := float64(k.Length) + float64((math.Abs(finish)+math.Abs(start))*float64(v.Width)/2)
	if !k.Mitred {
		long += float64(v.LeastSlice)
	}
	if side < float64(v.ShortestCut)-slack || long > float64(k.Stock)+slack {
		c.say("layout.check.cover-cut", u.Start, "cover %d of unit %d is %.6f mm on its shorter side, %s at least, and needs %.6f mm of %s", j+1, i+1,
			side/1e6, inMM(v.ShortestCut), long/1e6, inMM(k.Stock))
	}
}

// coverEnds checks what is left at the unit's ends: one gap of the window between two square ends, half a nominal gap at one
// square end, half a seam at a mitre.
func (c *checker) coverEnds(i int, u Unit, v Covers) {
	last := u.Covers[len(u.Covers)-1]
	head, tail := u.Covers[0].Start, u.Length-last.Start-last.Length
	fits := true
	check := func(got nm, tan float64, e End) {
		want := float64(v.Gap.Nominal) / 2
		if tan != 0 {
			seam := v.Gap.Nominal
			if e.Seam != 0 {
				seam = e.Seam
			}
			want = float64(seam) / 2 * math.Sqrt(1+float64(tan*tan))
		}
		fits = fits && math.Abs(float64(got)-want) <= slack
	}
	if u.StartTan == 0 && u.EndTan == 0 {
		fits = head >= 0 && tail >= 0 && (head-tail).Abs() <= 1 && head+tail >= v.Gap.Min && head+tail <= v.Gap.Max
	} else {
		check(head, u.StartTan, c.p.Start)
		check(tail, u.EndTan, c.p.End)
	}
	if !fits {
		c.say("layout.check.cover-ends", u.Start, "the covers of unit %d leave %s and %s at its ends", i+1, inMM(head), inMM(tail))
	}
}
