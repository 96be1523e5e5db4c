package profile

import (
	"fmt"
	"math"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// impossible is the answer for a conflict.
func (p *Problem) impossible(c *Conflict) Solution {
	s := Solution{Verdict: Impossible, Why: p.reason(c), Try: p.remedies(c), Reason: c}
	s.Findings = append(s.Findings, p.refusal(c, s.Why, s.Try))
	return s
}

// reason is a conflict in words.
func (p *Problem) reason(c *Conflict) string {
	for _, tell := range []func([]Limit) string{p.sameplace, p.slopes, p.turns} {
		if text := tell(c.Limits); text != "" {
			return text
		}
	}
	return p.together(c.Limits)
}

// together is any conflict.
func (p *Problem) together(limits []Limit) string {
	var all []string
	for _, l := range limits {
		all = append(all, p.limit(l))
	}
	if len(all) == 1 {
		return "this cannot be met: " + all[0]
	}
	return "these cannot be met together: " + strings.Join(all[:len(all)-1], "; ") + "; and " + all[len(all)-1]
}

// sameplace is two limits of one joint, unit or node.
func (p *Problem) sameplace(limits []Limit) string {
	if len(limits) != 2 {
		return ""
	}
	a, b := limits[0], limits[1]
	joints := func(kinds ...Kind) bool {
		return a.Kind == kinds[0] && b.Kind == kinds[1] && a.Leg == b.Leg && a.From == b.From && a.To == b.To
	}
	switch {
	case joints(PinLimit, LowLimit):
		joint := &p.Legs[a.Leg].Joints[a.From]
		return fmt.Sprintf("the pin at %s is at %s, %s below the %s that the level there may not go under",
			p.named(a.Leg, a.From), p.level(*joint.Pin), p.say(*joint.Low-*joint.Pin), p.level(*joint.Low))
	case joints(PinLimit, HighLimit):
		joint := &p.Legs[a.Leg].Joints[a.From]
		return fmt.Sprintf("the pin at %s is at %s, %s above the %s that the level there may not go over",
			p.named(a.Leg, a.From), p.level(*joint.Pin), p.say(*joint.Pin-*joint.High), p.level(*joint.High))
	case joints(LowLimit, HighLimit):
		joint := &p.Legs[a.Leg].Joints[a.From]
		return fmt.Sprintf("the level at %s may not go under %s and not over %s", p.named(a.Leg, a.From), p.level(*joint.Low), p.level(*joint.High))
	case joints(LeastLimit, MostLimit) && a.From == a.To:
		u := &p.Legs[a.Leg].Units[a.From]
		return p.Words.Say("the %s at %s is asked for %s and for %s", wording.Unit, p.at(a.Leg, a.From), p.bounded(*u.Least, true), p.bounded(*u.Most, false))
	case a.Kind == PinLimit && b.Kind == PinLimit:
		return p.twoPins(a, b)
	}
	return ""
}

func (p *Problem) twoPins(a, b Limit) string {
	for n, node := range p.Nodes {
		var off [2]*measure.Length
		for _, arm := range node.Arms {
			at, _ := p.ends(arm)
			for k, l := range []Limit{a, b} {
				if l.Leg == arm.Leg && l.From == at {
					level := *p.Legs[l.Leg].Joints[at].Pin - arm.Rise
					off[k] = &level
				}
			}
		}
		if off[0] != nil && off[1] != nil {
			return fmt.Sprintf("%s and %s meet at %s, and are off by %s there", p.limit(a), p.limit(b), p.node(n), p.say((*off[0] - *off[1]).Abs()))
		}
	}
	return ""
}

// slopes is two levels that limits of grade between them do not join.
func (p *Problem) slopes(limits []Limit) string {
	if len(limits) < 3 {
		return ""
	}
	a, b := limits[0], limits[1]
	if a.Kind != PinLimit || b.Kind != PinLimit || a.Leg != b.Leg || a.From == b.From {
		return ""
	}
	kind, leg := limits[2].Kind, &p.Legs[a.Leg]
	next := a.From
	sum := 0.0
	for _, l := range limits[2:] {
		if l.Kind != kind || l.Leg != a.Leg || l.From != next || kind != LeastLimit && kind != MostLimit {
			return ""
		}
		next = l.To + 1
		for k := l.From; k <= l.To; k++ {
			sum += float64(ratio(*leg.Units[k].bound(kind)) * float64(leg.length(k)))
		}
	}
	if next != b.From {
		return ""
	}
	have := *leg.Joints[b.From].Pin - *leg.Joints[a.From].Pin
	along := leg.Joints[b.From].At - leg.Joints[a.From].At
	pins := fmt.Sprintf("between the pins at %s and %s", p.named(a.Leg, a.From), p.named(a.Leg, b.From))
	if len(limits) > 3 {
		return fmt.Sprintf("over %s the limits of grade make %s, but the pins at %s and %s make %s", p.level(along),
			p.rising(measure.Length(math.Round(sum)), boundWords(kind)), p.named(a.Leg, a.From), p.named(a.Leg, b.From), p.rising(have, [2]string{}))
	}
	return p.oneSlope(*leg.Units[a.From].bound(kind), kind == LeastLimit, along, have, pins)
}

// boundWords goes between a rise or a fall and its size: for a least grade, and for a greatest.
func boundWords(kind Kind) [2]string {
	if kind == LeastLimit {
		return [2]string{"at least ", "at most "}
	}
	return [2]string{"at most ", "at least "}
}

// rising is a difference of level, up-chainage; words come before the size of a rise, and of a fall.
func (p *Problem) rising(l measure.Length, words [2]string) string {
	if l < 0 {
		return "a fall of " + words[1] + p.level(-l)
	}
	return "a rise of " + words[0] + p.level(l)
}

func (u *Unit) bound(kind Kind) *measure.Grade {
	if kind == LeastLimit {
		return u.Least
	}
	return u.Most
}

// oneSlope is one limit of grade over along, where the pins make have.
func (p *Problem) oneSlope(g measure.Grade, least bool, along, have measure.Length, pins string) string {
	up := !least // which way the fall is counted
	fall, limit := -have, negated(g)
	if least {
		fall, limit = have, g
	}
	needs := climb(limit, along)
	switch {
	case limit.Rise > 0 && fall >= 0:
		return fmt.Sprintf("least fall %s %s over %s makes %s, but only %s %s", grade(limit), p.towards(up), p.level(along), p.level(needs), p.level(fall), pins)
	case limit.Rise > 0:
		return fmt.Sprintf("least fall %s %s over %s makes %s, but the level rises by %s %s", grade(limit), p.towards(up), p.level(along), p.level(needs), p.level(-fall), pins)
	}
	steep := between(-fall, along)
	return fmt.Sprintf("%s make %s over %s: %s, limit %s", "the levels "+pins, p.level(-fall), p.level(along), grade(steep), grade(negated(limit)))
}

// turns is two grades that the joints between them do not lead from one to the other.
func (p *Problem) turns(limits []Limit) string {
	var change *Limit
	for k := range limits {
		if limits[k].Kind == ChangeLimit {
			if change != nil {
				return ""
			}
			change = &limits[k]
		}
	}
	if change == nil {
		return ""
	}
	leg := change.Leg
	left, used := p.gradeOf(limits, leg, change.From-1)
	right, also := p.gradeOf(limits, leg, change.To)
	if left == nil || right == nil || 1+len(used)+len(also) < len(limits) {
		return ""
	}
	most, joints := *p.Legs[leg].Joints[change.From].Change, change.To-change.From+1
	text := fmt.Sprintf("grade %s %s and %s %s", grade(*left), p.span(leg, change.From-1, change.From), grade(*right), p.span(leg, change.To, change.To+1))
	if joints > 1 {
		text += fmt.Sprintf(" with %s between", p.unitWord(joints-1))
	}
	if nought(most) {
		return text + ", but no change of grade"
	}
	turn := math.Abs(ratio(*right) - ratio(*left))
	needed := int(math.Ceil(turn/ratio(most)-1e-9)) - 1
	text += fmt.Sprintf(": a joint may change by %s", grade(most))
	if joints > 1 {
		text += fmt.Sprintf(", %d joints by %s", joints, grade(between(most.Rise*measure.Length(joints), most.Run)))
	}
	return text + fmt.Sprintf("; %s between would be needed", p.unitWord(needed))
}

// gradeOf is what the limits make of one unit's grade: by its own limit, or by pins at both ends; used is which.
func (p *Problem) gradeOf(limits []Limit, leg, unit int) (g *measure.Grade, used []int) {
	var pins []int
	for k, l := range limits {
		if l.Leg != leg {
			continue
		}
		switch {
		case (l.Kind == LeastLimit || l.Kind == MostLimit) && l.From == unit && l.To == unit:
			return p.Legs[leg].Units[unit].bound(l.Kind), []int{k}
		case l.Kind == PinLimit && (l.From == unit || l.From == unit+1):
			pins = append(pins, k)
		}
	}
	if len(pins) < 2 {
		return nil, nil
	}
	l := &p.Legs[leg]
	v := between(*l.Joints[unit+1].Pin-*l.Joints[unit].Pin, l.length(unit))
	return &v, pins
}
