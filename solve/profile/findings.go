package profile

import (
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/base/wording"
)

// Said is what has to be said of levels that hold this Problem's limits, though they were found for tighter ones.
func (p Problem) Said(s Solution) finding.List { return p.findings(&s) }

// findings is what has to be said of levels that were found.
func (p *Problem) findings(s *Solution) finding.List {
	var out finding.List
	for _, l := range s.Lips {
		out = append(out, p.lipFinding(l)...)
	}
	for _, l := range s.Lows {
		if l.Outlet != "" {
			continue
		}
		at := p.Legs[l.Leg].Joints[l.From].At
		where := finding.Where{Leg: p.Legs[l.Leg].Name, Chainage: &at}
		text := p.Words.Say("%s drain to a low of %s with no outlet named, at %s", p.level(l.Drains), p.level(l.Level), p.named(l.Leg, l.From))
		if l.To > l.From {
			text = p.Words.Say("%s drain to a low of %s with no outlet named, %s", p.level(l.Drains), p.level(l.Level), p.span(l.Leg, l.From, l.To))
		}
		out = append(out, finding.Finding{ID: "profile.low", Kind: finding.Attention, Text: text, Where: where,
			Rule: "every low has a named outlet or sump", Try: "name an outlet or a sump there, or a least fall that leads the water on"})
	}
	if !s.Proven {
		at := p.Legs[0].Joints[0].At
		out = append(out, finding.Finding{ID: "profile.unproven", Kind: finding.Attention, Where: finding.Where{Leg: p.Legs[0].Name, Chainage: &at},
			Text: "the levels hold every limit; that there are none better could not be proven to a millionth", Rule: "what is called best is proven",
			Value: fmt.Sprintf("they cost %.3f at the best", s.Least), Limit: fmt.Sprintf("none cost less than %.3f", s.Bound),
			Try: p.Words.Say("prices that differ by less than a million times, and %s that differ by less than a thousand times in length", wording.Units)})
	}
	out = append(out, p.lieFindings(s)...)
	out = append(out, p.stepFindings(s)...)
	out = append(out, p.apartFindings(s)...)
	out = append(out, p.limitFindings()...)
	return out
}

func (p *Problem) lipFinding(l Lip) []finding.Finding {
	where, what := finding.Where{}, ""
	if l.Node >= 0 {
		arm := p.Nodes[l.Node].Arms[p.Nodes[l.Node].Throughs[l.Through].In]
		at, _ := p.ends(arm)
		chainage := p.Legs[arm.Leg].Joints[at].At
		where = finding.Where{Leg: p.Legs[arm.Leg].Name, Chainage: &chainage, Place: p.node(l.Node)}
		what = "lip at a bend"
	} else {
		chainage := p.Legs[l.Leg].Joints[l.Joint].At
		where = finding.Where{Leg: p.Legs[l.Leg].Name, Chainage: &chainage}
		what = "lip at a change of crossfall"
	}
	switch {
	case l.Most == nil:
		f := finding.NoneOnFile(what, "whoever wrote the contract", where)
		f.Text = "NOT CHECKED: no " + what + " on file; " + p.say(l.Lip) + " comes of these grades. Ask: whoever wrote the contract"
		return []finding.Finding{f}
	case l.Lip > *l.Most:
		return []finding.Finding{{ID: "profile.lip", Kind: finding.Attention, Text: "the " + what + " does not meet the stated figure", Where: where,
			Limit: p.say(*l.Most), Value: p.say(l.Lip), Rule: "the lip that the contract states", Try: "equal crossfalls, or a change in two places"}}
	}
	return nil
}

// stepFindings is where grades could not be put on their step, but for one run between two pins, which closes.
func (p *Problem) stepFindings(s *Solution) finding.List {
	var out finding.List
	if p.Step.Rise == 0 {
		return nil
	}
	for k, run := range s.Runs {
		beside := k > 0 && s.Runs[k-1].Leg == run.Leg && !s.Runs[k-1].OnStep && !s.Runs[k-1].Stepped && p.Legs[run.Leg].Joints[run.From].Pin == nil
		if run.OnStep || run.Stepped || !beside {
			continue
		}
		at := p.Legs[run.Leg].Joints[run.From].At
		out = append(out, finding.Finding{ID: "profile.step", Kind: finding.Attention,
			Text:  p.Words.Say("the grade %s %s is no whole number of steps: none was found that keeps every limit", grade(run.Grade), p.span(run.Leg, run.From, run.To)),
			Where: finding.Where{Leg: p.Legs[run.Leg].Name, Chainage: &at}, Limit: grade(p.Step), Value: grade(run.Grade),
			Rule: "grades are printed in whole steps", Try: "a finer step, or wider limits there"})
	}
	return out
}

// apartFindings is where breaks of grade in straight stretches stand closer than was asked: the change needs them all.
func (p *Problem) apartFindings(s *Solution) finding.List {
	var out finding.List
	leg, last, near, first := -1, -1, 0, 0
	say := func() {
		if near == 0 || p.Apart < 2 {
			return
		}
		at := p.Legs[leg].Joints[first].At
		places, which := "breaks of grade stand nearer than %d %s to the one before in %d places", "first at "
		if near == 1 {
			places, which = "a break of grade stands nearer than %d %s to the one before in %d place", "at "
		}
		out = append(out, finding.Finding{ID: "profile.apart", Kind: finding.Attention, Where: finding.Where{Leg: p.Legs[leg].Name, Chainage: &at},
			Text: p.Words.Say("%s, %s: the limits on grades and on changes of grade leave no other way", p.Words.Say(places, p.Apart, wording.Units, near), which+p.named(leg, first)),
			Rule: p.Words.Say("the least number of %s between breaks that the job asks for", wording.Units), Try: "a gentler change of the ground, joints that may turn more, or fewer between breaks"})
	}
	for k, run := range s.Runs {
		if run.Leg != leg {
			say()
			leg, last, near = run.Leg, -1, 0
			continue
		}
		before := s.Runs[k-1]
		if before.Stepped || run.Stepped || p.Legs[leg].Joints[run.From].Break == 0 || before.Grade.Cmp(run.Grade) == 0 {
			continue
		}
		if last >= 0 && p.Legs[leg].unitsBetween(last, run.From) < p.Apart {
			if near++; near == 1 {
				first = run.From
			}
		}
		last = run.From
	}
	say()
	return out
}

// unitsBetween counts the units between two joints; where the grade may not change at all, none ends.
func (l *Leg) unitsBetween(from, to int) int {
	n := 0
	for j := from + 1; j <= to; j++ {
		if c := l.Joints[j].Change; c == nil || !nought(*c) {
			n++
		}
	}
	return n
}

// limitFindings is what is not on file.
func (p *Problem) limitFindings() finding.List {
	var out finding.List
	for i := range p.Legs {
		l := &p.Legs[i]
		change, fall, step := 0, 0, 0
		first := [3]int{-1, -1, -1}
		note := func(n *int, which, j int) {
			if *n++; first[which] < 0 {
				first[which] = j
			}
		}
		for j := 1; j < len(l.Units); j++ {
			if l.Joints[j].Change == nil && l.bends(j) && !(l.lies(j-1) && l.lies(j)) {
				note(&change, 0, j)
			}
		}
		for k := range l.Units {
			switch u := &l.Units[k]; {
			case u.Step != nil && u.Step.Most == nil:
				note(&step, 2, k)
			case u.Step == nil && u.Lies == nil && u.Least == nil && u.Most == nil:
				note(&fall, 1, k)
			}
		}
		for which, what := range []struct {
			n         int
			text, ask string
		}{
			{change, "limit of the change of grade", "the supplier"}, {fall, "limit of grade", "the designer"}, {step, "limit of steps", "the designer"},
		} {
			if what.n == 0 {
				continue
			}
			at := l.Joints[first[which]].At
			f := finding.NoneOnFile(what.text, what.ask, finding.Where{Leg: l.Name, Chainage: &at})
			kind := wording.Units
			if which == 0 {
				f.Text = p.Words.Say("NOT CHECKED: no %s on file for %d joints. Ask: %s", what.text, what.n, what.ask)
			} else {
				f.Text = p.Words.Say("NOT CHECKED: no %s on file for %d %s. Ask: %s", what.text, what.n, kind, what.ask)
			}
			out = append(out, f)
		}
	}
	return out
}
