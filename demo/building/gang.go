package building

import (
	"trenchwright/base/measure"
	"trenchwright/job/planner"
)

// gang lays legs one after the other, and asks its own device what to do next.
type gang struct {
	device *device
	legs   []*leg
	did    int // units set today
	paper  int // the day on which it last worked from paper
	due    int // when that day's card is keyed
}

// ask is what the program answers for a leg, from the records that the gang's device knows.
func (s *site) ask(g *gang, l *leg) *planner.LegReplan {
	s.knew = g.device.book.State("")
	s.legsAsked = s.answers.Replan(s.knew)
	for _, r := range s.legsAsked {
		if r.Leg == l.id {
			s.compare(l, &r)
			l.asked = &r
			break
		}
	}
	return l.asked
}

// step is what the answer says of the unit that comes next.
type step struct {
	hold          measure.Length
	length, stock measure.Length
	cut           bool
}

// nextOf reads it off an answer for the k-th place: the answer looks ahead, and units set since it was given are taken to lie as it
// said. False where there is none to come.
func (l *leg) nextOf(r *planner.LegReplan, k int) (step, bool) {
	if k >= len(l.places) {
		return step{}, false
	}
	q := &l.places[k]
	n := step{hold: q.gap, length: q.take, stock: q.stock, cut: q.cut}
	for _, g := range r.Gaps {
		if g.Joint == q.joint {
			n.hold = measure.Length(g.Gap)
		}
	}
	if r.Set == k && k > 0 && r.Answer == planner.OtherGaps {
		n.hold = measure.Length(r.Hold)
	}
	return n, true
}

// compare puts the pieces that an answer changes down to what happened on the leg since it was asked; where nothing did, to units and
// hands that add up.
func (s *site) compare(l *leg, r *planner.LegReplan) {
	changed := 0
	if r.Answer == planner.OtherPiece {
		changed = r.Offers[0].Changed
	}
	if changed > 0 && len(l.unpaid) == 0 {
		s.surprise("run drifted", l, 0)
	}
	for i, kind := range l.unpaid {
		if i > 0 {
			changed = 0 // it is put down to the first
		}
		s.counts.Changed[kind] = append(s.counts.Changed[kind], changed)
	}
	l.unpaid = nil
}
