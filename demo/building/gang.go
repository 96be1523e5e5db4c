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
	state := g.device.book.State("")
	for _, r := range s.answers.Replan(state) {
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
	changed       bool // another piece than planned
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
	for _, p := range r.Pieces {
		if p.Place != q.name {
			continue
		}
		if p.Stock == 0 {
			return step{}, false
		}
		n = step{hold: n.hold, length: measure.Length(p.Length), stock: measure.Length(p.Stock), cut: p.Cut, changed: true}
	}
	if r.Set == k && k > 0 && (r.Answer == planner.OtherGaps || r.Answer == planner.OtherPiece) {
		n.hold = measure.Length(r.Hold)
	}
	return n, true
}

// compare counts the pieces by which an answer differs from what people held until now, and puts them down to what happened on the
// leg since it was asked; where nothing did, to units and hands that add up.
func (s *site) compare(l *leg, r *planner.LegReplan) {
	changed := 0
	if l.asked != nil {
		changed = l.differs(l.asked, r)
	}
	if changed > 0 && len(l.unpaid) == 0 {
		s.surprise("run drifted", l, 0)
		s.tell("Leg %s drifted to where %s has to change.", l.id, plural(changed, "piece"))
	}
	for i, kind := range l.unpaid {
		if i > 0 {
			changed = 0 // it is put down to the first
		}
		s.counts.Changed[kind] = append(s.counts.Changed[kind], changed)
	}
	l.unpaid = nil
}

// differs is how many places to come take another piece by one answer than by the other.
func (l *leg) differs(was, now *planner.LegReplan) int {
	more := func(r *planner.LegReplan) (n int) {
		for _, p := range r.Pieces {
			if p.Place == "" {
				n++
			}
		}
		return n
	}
	piece := func(r *planner.LegReplan, k int) planner.PieceNow {
		for _, p := range r.Pieces {
			if p.Place == l.places[k].name {
				return planner.PieceNow{Stock: p.Stock, Length: p.Length, Cut: p.Cut}
			}
		}
		q := &l.places[k]
		return planner.PieceNow{Stock: measure.MM(q.stock), Length: measure.MM(q.length), Cut: q.cut}
	}
	n := max(more(now)-more(was), more(was)-more(now))
	for k := now.Set; k < len(l.places); k++ {
		if piece(was, k) != piece(now, k) {
			n++
		}
	}
	return n
}
