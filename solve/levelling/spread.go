package levelling

import (
	"fmt"
	"math/big"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// Share is by what a misclosure is shared out. There is no default.
type Share string

// The ways of sharing out.
const (
	BySetups    Share = "set-ups"
	ByDistances Share = "distances"
)

// Adjusted levels of one book.
type Spread struct {
	Levels      []measure.Length // one for each line of the book
	Corrections []measure.Length // adjusted less reduced
	Share       Share
}

// SpreadOut shares the closing misclosure of each stretch over its lines. A stretch that does not close within t is refused,
// not spread: then there are no levels. Where nothing says whether it closes, the levels come with that finding beside
// them. A stretch without a known end keeps its levels, and that is said.
//
// A line gets the part of the misclosure that its set-ups, or its distance, are of the whole; an intermediate sight the same
// as the foresight of its set-up (common practice, no source). Corrections are rounded to what the readings were read to,
// half away from nought, except where the stretch ends: there it ends on the known level exactly.
func SpreadOut(b Book, r Reduced, share Share, t Tolerance) (Spread, finding.List) {
	out := Spread{Share: share, Levels: make([]measure.Length, len(r.Rows)), Corrections: make([]measure.Length, len(r.Rows))}
	var said finding.List
	for si, s := range r.Stretches {
		tie, known := r.closing(si)
		if !known {
			said = append(said, finding.NoneOnFile(fmt.Sprintf("level of %q, the end of a stretch,", r.Rows[s.To].Point), "whoever keeps the benchmarks", b.at(s.To)))
			continue
		}
		switch c := t.Close(tie.Misclosure, tie.Distance, tie.Setups, b.at(tie.Row)); {
		case c.Verdict == DoesNot:
			said = append(said, DoesNotClose(b, tie, t, *c.Allowed))
			continue
		case c.Missing != nil:
			said = append(said, *c.Missing)
		}
		if share == ByDistances && !(s.AllDistances && s.Distance > 0) {
			said = append(said, finding.Finding{ID: "levelling.no-distance", Kind: finding.Fault, Where: b.at(s.To),
				Text: fmt.Sprintf("the misclosure at %q cannot be shared by distance: not every foresight has one", r.Rows[s.To].Point), Try: "a distance for each foresight, or share it by set-ups"})
			continue
		}
		for i := s.From + 1; i <= s.To; i++ {
			out.Corrections[i] = correction(b, r, i, s, tie.Misclosure, share)
		}
	}
	if said.Any(finding.Fault) {
		return Spread{}, said
	}
	for i, at := range r.Rows {
		out.Levels[i] = at.Level + out.Corrections[i]
	}
	return out, said
}

// closing is the tie that ends stretch si.
func (r Reduced) closing(si int) (Tie, bool) {
	for _, t := range r.Ties {
		if t.Row == r.Stretches[si].To {
			return t, true
		}
	}
	return Tie{}, false
}

// correction is what line i of stretch s gets of a misclosure.
func correction(b Book, r Reduced, i int, s Stretch, misclosure measure.Length, share Share) measure.Length {
	if i == s.To {
		return -misclosure
	}
	part, whole := int64(r.Rows[i].Setup), int64(s.Setups)
	if share == ByDistances {
		part, whole = int64(foreRun(b, r, i, s)), int64(s.Distance)
	}
	step := int64(max(b.Step, 1))
	n := new(big.Int).Mul(big.NewInt(int64(-misclosure)), big.NewInt(part))
	steps := rounded(n, new(big.Int).Mul(big.NewInt(whole), big.NewInt(step)))
	return measure.Length(steps.Int64() * step)
}

// foreRun is the distance levelled when the set-up of line i was done.
func foreRun(b Book, r Reduced, i int, s Stretch) measure.Length {
	for ; b.Rows[i].Fore == nil && i < s.To; i++ {
	}
	return r.Rows[i].Run
}

// DoesNotClose is the finding that a stretch is refused.
func DoesNotClose(b Book, tie Tie, t Tolerance, allowed measure.Length) finding.Finding {
	f := finding.Finding{ID: "levelling.does-not-close", Kind: finding.Fault, Where: b.at(tie.Row), Limit: b.Figures.AtLeast(4).Say(allowed), Value: b.Figures.Signed(tie.Misclosure),
		Text: fmt.Sprintf("the levels do not close on %q: found %s, known %s. They are refused, not spread", tie.Point, b.Figures.Say(tie.Found), b.Figures.Say(tie.Known)),
		Rule: t.String(), Try: "level the stretch again, or find the reading that is off; check the level of the benchmark"}
	if t.Source != "" {
		f.Rule += " (" + t.Source + ")"
	}
	return f
}
