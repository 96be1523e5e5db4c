package profile

import (
	"math"
	"math/big"
	"slices"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// What lies already does not move. Its levels come as pins and its grade is stated, so that a unit whose place was written to the
// nanometre lies on the grade that a laser was set to. No limit holds for it, nor where it meets another that lies; where what is to
// come meets it, all limits hold. What it passes is told.
//
// Two things that lie can leave what is to come between them one grade alone, and their levels are whole nanometres: so where anything
// lies, limits of grade are held to within rounded. In a metre that is a fifth of a micrometre.

// rounded is by how much, of grade, levels in whole nanometres may pass limits that leave them no room: some hairs, so that float64 has
// room to find them in.
const rounded = 10 * hair

// wider is a limit of grade that gives way by rounded, on a grade of whole billionths.
func wider(g *measure.Grade, sign float64) *measure.Grade {
	if g == nil {
		return nil
	}
	const parts = 1e9
	return &measure.Grade{Rise: measure.Length(sign * math.Ceil(float64(sign*ratio(*g)*parts)+rounded*parts)), Run: parts}
}

// nought tells whether a limit of change lets no grade change, but for rounding.
func nought(g measure.Grade) bool { return math.Abs(ratio(g)) <= 2*rounded }

// toCome is the problem with no limit but those of what is to come; itself where nothing lies.
func (p Problem) toCome() Problem {
	if !slices.ContainsFunc(p.Legs, func(l Leg) bool { return slices.ContainsFunc(l.Units, func(u Unit) bool { return u.Lies != nil }) }) {
		return p
	}
	p.Legs, p.Nodes = slices.Clone(p.Legs), slices.Clone(p.Nodes)
	for i := range p.Legs {
		l := &p.Legs[i]
		l.Joints, l.Units = slices.Clone(l.Joints), slices.Clone(l.Units)
		for j := range l.Joints {
			if l.Joints[j].Pin == nil { // a unit that is pinned between its joints stays straight
				l.Joints[j].Change = wider(l.Joints[j].Change, 1)
			}
		}
		for k := range l.Units {
			u := &l.Units[k]
			if u.Least, u.Most = wider(u.Least, -1), wider(u.Most, 1); u.Lies != nil {
				u.Least, u.Most = nil, nil
				l.Joints[k].Low, l.Joints[k].High = nil, nil
				l.Joints[k+1].Low, l.Joints[k+1].High = nil, nil
				if l.lies(k - 1) {
					l.Joints[k].Change, l.Joints[k].Break = nil, 0
				}
			}
		}
	}
	for n := range p.Nodes {
		node := &p.Nodes[n]
		node.Arms, node.Throughs = slices.Clone(node.Arms), slices.Clone(node.Throughs)
		for k := range node.Arms {
			if a := &node.Arms[k]; a.Cast != nil {
				cast := *a.Cast
				if cast.Change = wider(cast.Change, 1); p.laidAt(*a) {
					cast.Change = nil
				}
				a.Cast = &cast
			}
		}
		for k := range node.Throughs {
			t := &node.Throughs[k]
			t.Change = wider(t.Change, 1)
			if !p.laidAt(node.Arms[t.In]) || !p.laidAt(node.Arms[t.Out]) {
				continue
			}
			if t.Change, t.Break = nil, 0; t.Bend != nil {
				bend := *t.Bend
				bend.Lip, t.Bend = nil, &bend
			}
		}
	}
	return p
}

// lies tells whether a unit of a leg lies; one that is none does not.
func (l *Leg) lies(unit int) bool {
	return unit >= 0 && unit < len(l.Units) && l.Units[unit].Lies != nil
}

// laidAt tells whether the unit of an arm at its node lies.
func (p *Problem) laidAt(a Arm) bool { return p.Legs[a.Leg].lies(p.unit(a)) }

// OnGrade tells whether two levels lie so on a grade: within a nanometre, as all levels of record do.
func OnGrade(g measure.Grade, up, along measure.Length) bool {
	off := new(big.Rat).Mul(fraction(g), big.NewRat(int64(along), 1))
	off.Sub(off, big.NewRat(int64(up), 1))
	return off.Abs(off).Cmp(big.NewRat(1, 1)) <= 0
}

// lieFindings says which limits what lies passes: they are not held, for nothing can be done about them with levels alone.
func (p *Problem) lieFindings(s *Solution) finding.List {
	var out finding.List
	say := func(leg, from, to int, value, limit measure.Grade, text string) {
		at := p.Legs[leg].Joints[from].At
		out = append(out, finding.Finding{ID: "profile.lies", Kind: finding.Attention, Where: finding.Where{Leg: p.Legs[leg].Name, Chainage: &at},
			Text: text + ": it lies so, or fits so between what lies", Value: grade(value), Limit: grade(limit), Rule: "what lies does not move",
			Try: "have whoever asks for this limit agree to it in writing; or lift what lies, and lay it anew"})
	}
	for _, r := range s.Runs {
		l := &p.Legs[r.Leg]
		for _, least := range []bool{true, false} {
			from := -1
			var limit *measure.Grade
			for k := r.From; k <= r.To; k++ {
				var g *measure.Grade
				if k < r.To {
					if g = l.Units[k].Most; least {
						g = l.Units[k].Least
					}
				}
				passed := g != nil && l.lies(k) && (least && r.Grade.Cmp(*g) < 0 || !least && r.Grade.Cmp(*g) > 0)
				if from >= 0 && (!passed || g.Cmp(*limit) != 0) {
					text := "at most %s is asked for"
					if least {
						text = "at least %s is asked for"
					}
					say(r.Leg, from, k, r.Grade, *limit, p.Words.Say("the grade %s %s, where "+text, grade(r.Grade), p.span(r.Leg, from, k), grade(*limit)))
					from = -1
				}
				if passed && from < 0 {
					from, limit = k, g
				}
			}
		}
	}
	for k := 1; k < len(s.Runs); k++ {
		a, b := s.Runs[k-1], s.Runs[k]
		if a.Leg != b.Leg || a.Stepped || b.Stepped || !p.Legs[a.Leg].lies(b.From-1) || !p.Legs[a.Leg].lies(b.From) {
			continue
		}
		if most := p.Legs[a.Leg].Joints[b.From].Change; most != nil && !within(a.Grade, b.Grade, *most) {
			d := new(big.Rat).Sub(fraction(b.Grade), fraction(a.Grade))
			change, _ := d.Abs(d).Float64()
			say(a.Leg, b.From, b.From, measure.Grade{Rise: measure.Length(change * 1e9), Run: 1e9}, *most,
				p.Words.Say("the grade changes from %s to %s at %s, where the joint has room for %s", grade(a.Grade), grade(b.Grade), p.named(a.Leg, b.From), grade(*most)))
		}
	}
	return out
}
