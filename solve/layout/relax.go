package layout

import (
	"fmt"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// What would make an impossible leg possible is found by solving it again with one figure moved, no further than needed.

// mostTries is how many ways are offered.
const mostTries = 5

// remedies lists changes that make the leg possible, the smallest first to be thought of: what stands in the way along the
// leg, then the saw, the joints, the covers and the length.
func (p *Problem) remedies() []string {
	if p.leastUnits() > mostTried {
		return nil
	}
	var out []string
	add := func(text string, ok bool) {
		if ok && len(out) < mostTries && !slices.Contains(out, text) {
			out = append(out, text)
		}
	}
	for _, w := range p.conflict() {
		add(p.without(w))
	}
	for _, t := range p.mitreTries() {
		add(t, true)
	}
	if unit := newGround(p, false).newSpans().missing(); unit > 0 && unit < 2*p.longest() && p.mitreReason() == "" {
		add(p.longer(lack{unit: unit}))
	}
	add(p.shorterCut())
	add(p.thinnerSlice())
	add(p.widerGap())
	add(p.anyEnd())
	add(p.shorterCover())
	for _, l := range p.otherLengths() {
		add(l, true)
	}
	return out
}

// comesTo says what a changed problem costs.
func (p *Problem) comesTo() (string, bool) {
	v, ok, _ := p.possible()
	if !ok {
		return "", false
	}
	c := v.count()
	return p.counted(c), true
}

// counted is a count in words.
func (p *Problem) counted(c Count) string {
	return fmt.Sprintf("%s, %s, %s", counted(c.Units, p.Words.Word(wording.Unit)), counted(c.Cuts, "cut"), counted(c.CutCovers, "cut cover"))
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// furthest is the value from good towards bad that is nearest to bad and still makes the changed problem possible, in steps;
// false if good does not.
func furthest(good, bad, step nm, change func(nm) Problem) (nm, bool) {
	try := func(v nm) bool { q := change(v); _, ok, _ := q.possible(); return ok }
	if !try(good) {
		return 0, false
	}
	for n := (bad - good).Abs() / step; n > 1; n = (bad - good).Abs() / step {
		mid := good + (bad-good)/step/2*step
		if try(mid) {
			good = mid
		} else {
			bad = mid
		}
	}
	return good, true
}

const millimetre = nm(1_000_000)

// step is what lengths that are offered are rounded to: the millimetre, or what feet and inches are shown to.
func (p *Problem) step() nm {
	if p.Show != nil && p.Show.System == measure.Imperial {
		return p.Show.Step()
	}
	return millimetre
}

// without leaves a wish out; a zone is rather made shorter at one of its ends, if that is enough.
func (p *Problem) without(w wish) (string, bool) {
	if w.kind == curveWish { // it stays where it is
		return "", false
	}
	q := p.with(leftOut(p.wishes(), w))
	text, ok := q.comesTo()
	if !ok {
		return "", false
	}
	if w.kind != zoneWish {
		return fmt.Sprintf("without this: %s (%s)", w.name, text), true
	}
	z := p.Zones[w.at]
	shorten := func(from, to nm) Problem {
		q := *p
		q.Zones = slices.Clone(p.Zones)
		q.Zones[w.at].From, q.Zones[w.at].To = from, to
		if from >= to {
			q.Zones = slices.Delete(q.Zones, w.at, w.at+1)
		}
		return q
	}
	to, ok1 := furthest(z.From, z.To, p.step(), func(v nm) Problem { return shorten(z.From, v) })
	from, ok2 := furthest(z.To, z.From, p.step(), func(v nm) Problem { return shorten(v, z.To) })
	switch {
	case ok1 && (!ok2 || z.To-to <= from-z.From) && to > z.From:
		q = shorten(z.From, to)
		text, _ = q.comesTo()
		return fmt.Sprintf("%s ending at %s instead of %s (%s)", w.name, p.say(to), p.say(z.To), text), true
	case ok2 && from < z.To:
		q = shorten(from, z.To)
		text, _ = q.comesTo()
		return fmt.Sprintf("%s beginning at %s instead of %s (%s)", w.name, p.say(from), p.say(z.From), text), true
	}
	return fmt.Sprintf("without this: %s (%s)", w.name, text), true
}

// eachSupply is the problem with every supply changed.
func (p *Problem) eachSupply(change func(*Supply)) Problem {
	q := *p
	q.Supplies = slices.Clone(p.Supplies)
	for i := range q.Supplies {
		change(&q.Supplies[i])
	}
	return q
}

// moved looks for the furthest value and puts it into a sentence, with the present one and what the leg comes to.
func (p *Problem) moved(sentence string, good, bad, step nm, change func(nm) Problem) (string, bool) {
	v, ok := furthest(good, bad, step, change)
	if !ok {
		return "", false
	}
	q := change(v)
	text, _ := q.comesTo()
	return fmt.Sprintf(sentence, p.say(v), p.say(bad), text), true
}

func (p *Problem) shorterCut() (string, bool) {
	now := p.Supplies[0].ShortestCut
	change := func(v nm) Problem {
		return p.eachSupply(func(s *Supply) { s.ShortestCut = min(s.ShortestCut, v) })
	}
	return p.moved(p.tell("a cut %s of", wording.Unit)+" %s, if the supplier allows one (now %s; %s)", min(10*p.step(), now), now, p.step(), change)
}

func (p *Problem) thinnerSlice() (string, bool) {
	now := p.Supplies[0].LeastSlice
	if now == 0 {
		return "", false
	}
	change := func(v nm) Problem {
		return p.eachSupply(func(s *Supply) { s.LeastSlice = min(s.LeastSlice, v) })
	}
	return p.moved("a saw that takes a slice of %s (now %s; %s)", 0, now, p.step()/10, change)
}

func (p *Problem) widerGap() (string, bool) {
	now := p.Supplies[0].Gap.Max
	change := func(v nm) Problem {
		q := p.eachSupply(func(s *Supply) { s.Gap.Max = max(s.Gap.Max, v) })
		q.Stretches = slices.Clone(p.Stretches)
		for i := range q.Stretches {
			if g := &q.Stretches[i].Gap; g.Max > 0 {
				g.Max = max(g.Max, v)
			}
		}
		return q
	}
	return p.moved("joints that may open to %s, if the supplier allows it (now %s; %s)", now+max(now, 10*millimetre), now, p.step(), change)
}

func (p *Problem) anyEnd() (string, bool) {
	q := p.eachSupply(func(s *Supply) { s.KeepFactoryEnd = false })
	text, ok := q.comesTo()
	return fmt.Sprintf("a piece without a factory end, if the supplier allows one (%s)", text), ok
}

func (p *Problem) shorterCover() (string, bool) {
	now := p.Supplies[0].Covers.ShortestCut
	if now == 0 {
		return "", false
	}
	change := func(v nm) Problem {
		return p.eachSupply(func(s *Supply) {
			if s.Covers.ShortestCut > 0 {
				s.Covers.ShortestCut = min(s.Covers.ShortestCut, v)
			}
		})
	}
	return p.moved("a cut cover of %s, if the supplier allows one (now %s; %s)", min(10*p.step(), now), now, p.step(), change)
}

// otherLengths are the nearest lengths of the leg that can be laid, everything on it staying where it is.
func (p *Problem) otherLengths() []string {
	if len(p.Stretches) > 0 {
		return nil
	}
	var out []string
	below, above, _ := newGround(p, false).nearestLengths() // each is tried
	for _, l := range []nm{below, above} {
		q := *p
		q.Length = l
		if l <= 0 || l == forever || l == p.Length || q.faults() != nil {
			continue
		}
		if text, ok := q.comesTo(); ok {
			out = append(out, fmt.Sprintf("a leg of %s (%s)", p.say(l), text))
		}
	}
	return out
}
