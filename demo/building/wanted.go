package building

import (
	"slices"

	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/solve/levelling"
)

// wantsRead tells whether the contract wants something to be read at a place: that is what its card asks for.
func (s *site) wantsRead(place, what string) bool {
	return slices.Contains(s.asks.WantsAt(s.contract, place), what)
}

// wanted tells whether the contract wants something on record at a place: by how often it is read, or before a step hides it.
func (s *site) wanted(place, what string) bool {
	return s.wantsRead(place, what) || slices.ContainsFunc(s.job.Rules.Steps, func(one job.Step) bool { return slices.Contains(one.Wants, what) })
}

// wantedBefore tells whether the contract wants something before one step.
func (s *site) wantedBefore(step, what string) bool {
	return slices.ContainsFunc(s.job.Rules.Steps, func(one job.Step) bool { return one.Step == step && slices.Contains(one.Wants, what) })
}

// missed is what somebody forgot at a place: nobody finds out before it is hidden.
type missed struct{ place, what string }

// forgets throws for whether something that the contract wants is forgotten.
func (s *site) forgets(place, what string) bool {
	if s.calm || s.legs == nil || slices.ContainsFunc(s.legs, func(l *leg) bool { return l.relaid[place] }) || !s.once(250) {
		return false
	}
	s.forgotten[missed{place, what}] = true
	s.surprise("record forgotten", nil, 0)
	s.tell("At %s nobody recorded the %s; it was hidden before anybody noticed.", place, what)
	return true
}

// evidence holds what lacks its record by the contract against what was forgotten: no more, and no less. Where an answer changed what is
// laid, readings may be wanted at other places than when they were taken.
func (s *site) evidence(b *field.Book, say func(string, ...any)) {
	lacking := map[missed]bool{}
	for _, h := range b.Hiding(s.contract) {
		for _, lack := range h.Lacking {
			for _, what := range lack.Wants {
				lacking[missed{lack.Place, what}] = true
			}
		}
	}
	for _, w := range b.Wanted(s.contract) {
		for _, place := range w.Lacking {
			lacking[missed{place, w.Of}] = true
		}
	}
	for _, l := range s.legs {
		if l.takes > 0 || !l.handedOver() {
			continue
		}
		for _, u := range l.laid {
			for _, what := range evidenceOf {
				at := missed{u.place, what}
				if lacking[at] && !s.forgotten[at] && s.can(l, at) {
					say("the list has it that %s lacks a record of its %s, and it was recorded", u.place, what)
				}
				if s.forgotten[at] && !lacking[at] {
					say("nobody recorded the %s of %s, and the list does not say so", what, u.place)
				}
			}
		}
	}
}

// trueToLevel holds the levels of what was made true to its level, as the records have them, against the contract: none of it lies off by
// more than its rule, but where an answer that was taken since has the plan want it at another level; those are counted.
func (s *site) trueToLevel(b *field.Book, say func(string, ...any)) {
	for _, h := range b.Held(s.contract) {
		if made := h.Of == "formation" || h.Of == "bed" || h.Of == "pad"; !made || h.Verdict != string(levelling.DoesNot) {
			continue
		}
		if s.wantedElsewhere(h) {
			s.counts.Relevelled++
			continue
		}
		say("%s: %s; it was made true to its level", h.Place, h.Say(s.size))
	}
}

// wantedElsewhere tells whether the plan wants something at another level now than when it was made.
func (s *site) wantedElsewhere(h field.Held) bool {
	for _, l := range s.legs {
		for k := range l.places {
			if q := &l.places[k]; q.name == h.Place {
				want, planned := q.levels[h.Of]
				t, made := l.levels[levelAt{q.name, h.Of}]
				return planned && made && s.counts.Taken > 0 && apart(want, t.want, s.rod.plus)
			}
		}
	}
	return false
}

// evidenceOf is what a contract can want.
var evidenceOf = []string{"formation", "bed", "pad", "wall", "invert", "end", "line", "length", "gap", "rock", "fabric", "bond", "layer test", "cover test", "photo"}

// can tells whether something can be read at a place: where no levels were planned, there is none to be read.
func (s *site) can(l *leg, at missed) bool {
	for k := range l.places {
		if q := &l.places[k]; q.name == at.place && slices.Contains([]string{"formation", "bed", "pad", "wall", "invert"}, at.what) {
			_, planned := q.levels[at.what]
			return planned
		}
	}
	return true
}
