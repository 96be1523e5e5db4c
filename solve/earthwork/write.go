package earthwork

import (
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// record is a length of record. Here, and nowhere else in this package, metres are rounded: to the nanometre.
func record(metres float64) measure.Length { return measure.FromMetres(metres) }

// say words a sentence of the job.
func (p *Problem) say(form string, args ...any) string { return p.Words.Say(form, args...) }

// far is a distance along the run, or a level, for a sentence; tape one that is measured on site.
func far(m float64) wording.Far   { return wording.Far(record(m)) }
func tape(m float64) wording.Tape { return wording.Tape(record(m)) }

func at(leg *Leg, x float64) finding.Where {
	return finding.Where{Leg: leg.Name, Chainage: new(record(x))}
}

// findings are what the walk along a leg came upon.
func (w *walker) findings(leg *Leg) finding.List {
	var out finding.List
	p := w.p
	tell := func(list []stretch, f finding.Finding, words ...any) {
		for _, s := range joined(list) {
			one := f
			one.Where = at(leg, s.from)
			one.Text = p.say(f.Text, append([]any{far(s.to - s.from)}, words...)...)
			out = append(out, one)
		}
	}
	tell(w.told.bare, finding.Finding{ID: "earthwork.no-ground", Kind: finding.NotChecked,
		Text: "NOT CHECKED: no ground on file over the width of the dig for %s; nothing is counted there", Ask: "the surveyor", Try: "a survey that reaches both edges of the dig"})
	tell(w.told.endless, finding.Finding{ID: "earthwork.endless-side", Kind: finding.Attention,
		Text: fmt.Sprintf("for %%s a side of the dig does not meet the ground within %d m; nothing is counted there", furthestReach),
		Try:  "look at the slope of the sides and at the levels, or support the sides here"})
	tell(w.told.lent, finding.Finding{ID: "earthwork.no-finished", Kind: finding.NotChecked,
		Text: "NOT CHECKED: no finished ground on file for %s; there the fill ends at the ground as it is", Ask: "whoever designed the finished ground"})
	tell(w.told.noRock, finding.Finding{ID: "earthwork.no-rock", Kind: finding.NotChecked,
		Text: "NOT CHECKED: no rock on file for %s; what is dug there is counted as soil", Ask: "the engineer who looked at the ground"})
	tell(w.told.above, finding.Finding{ID: "earthwork.above-ground", Kind: finding.Attention,
		Text: "for %s the %s lies above the ground as it is: nothing is dug, and what carries the run there is not counted",
		Ask:  "the engineer", Try: "look at the levels, or at the survey"}, wording.Formation)
	tell(w.told.inward, finding.Finding{ID: "earthwork.past-centre", Kind: finding.Attention,
		Text: "for %s the dig reaches past the centre of the curve, and volumes there are not right", Try: "steeper or supported sides on this curve"})
	for i, t := range w.spans {
		if pipe := leg.Spans[i].Section.Pipe; t.sinks() > 0 && pipe.Trench == nil { // counted as wide as the pipe
			out = append(out, finding.NoneOnFile("width of the drain's trench", "the engineer", at(leg, t.from)))
			break
		}
	}
	return out
}

// joined are stretches by rising chainage, what touches put together.
func joined(list []stretch) []stretch {
	var out []stretch
	for _, s := range list {
		k := len(out)
		for k > 0 && out[k-1].to >= s.from-1e-3 && out[k-1].from <= s.to+1e-3 {
			s.from, s.to = min(s.from, out[k-1].from), max(s.to, out[k-1].to)
			k--
		}
		out = append(out[:k], s)
	}
	return out
}
