package ground

import (
	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// Gap is a part of a line without ground: metres along it.
type Gap struct{ From, To float64 }

// Gaps are the parts of the line without ground, in order.
func (s Section) Gaps() []Gap {
	var out []Gap
	from := 0.0
	for _, st := range s.Stretches {
		if st[0].Along-from > thread {
			out = append(out, Gap{from, st[0].Along})
		}
		from = st[len(st)-1].Along
	}
	if s.Length-from > thread {
		out = append(out, Gap{from, s.Length})
	}
	return out
}

// Bare is the shortest gap in the ground under a run that is told, in metres: 1 mm, to which surveys are mostly given.
// Common practice, no source.
const Bare = 0.001

// Covered tells where a leg has no ground: one finding for each gap.
func Covered(leg string, s Section, src Source) finding.List {
	t := newTeller(src)
	for _, g := range s.Gaps() {
		if g.To-g.From < Bare {
			continue
		}
		at := measure.Length(Record(g.From))
		t.add(finding.Finding{ID: "ground.bare", Kind: finding.Attention,
			Text:  t.say("no ground %q under leg %s from %s to %s along its line", src.Name, leg, metre(g.From), metre(g.To)),
			Limit: t.say("%s of leg", metre(s.Length)), Value: t.say("%s with ground, %s without here", metre(s.Ground()), metre(g.To-g.From)),
			Rule: "where there is no ground there is no level", Ask: "the surveyor",
			Try: t.say("survey this part, or move the %s", wording.Centreline)}, finding.Where{Leg: leg, Chainage: &at})
	}
	return t.all()
}
