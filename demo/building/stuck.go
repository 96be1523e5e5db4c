package building

import (
	"fmt"

	"trenchwright/base/measure"
	"trenchwright/job/field"
)

// stuck is a leg that no layout finishes from where it is. What a foreman does then, one thing after the other: the last unit is lifted
// and its joint made anew; of the units in the yard the one is picked that suits best; more units are lifted with it, as far as the cables
// are not in; units of another lot are ordered; and the supplier is asked whether the last piece may be shorter than he says.
func (s *site) stuck(g *gang, l *leg) bool {
	if len(l.laid) > l.stuckAt {
		l.tries, l.stuckAt = 0, len(l.laid)
	}
	l.tries++
	switch {
	case l.tries > 2 && len(l.laid) == len(l.places)-1:
		return s.letShorter(g, l)
	case l.tries > mostTries || len(l.laid) < 2:
		l.trouble = fmt.Sprintf("from where %s ends nothing comes out", l.laid[len(l.laid)-1].place)
		return false
	}
	l.picks = l.tries > 1
	if l.tries == anotherLot {
		s.anotherLot(l)
	}
	for range 1 + l.tries/3 {
		if !s.lift(g, l) {
			break
		}
	}
	s.surprise("unit lifted", l, 0)
	return false
}

// mostTries is how often units are lifted from one place, and anotherLot the time at which other units are ordered.
const mostTries, anotherLot = 12, 6

// lift takes the last unit of a leg out again, its covers first: its stretch is set, filled and covered anew. False where the cables are
// in, or hardly anything lies.
func (s *site) lift(g *gang, l *leg) bool {
	k := len(l.laid) - 1
	for _, x := range l.stretches {
		if x.from <= k && k <= x.to && (x.stage > toCable || len(l.laid) < 2) {
			return false
		}
	}
	u := l.laid[k]
	for _, c := range u.lids {
		if c.lies {
			s.write(g.device, entry{kind: field.Cover, from: c.name, says: field.CoverSays{Done: "lifted"}, text: "the unit below it is lifted"})
			s.yard.have[c.piece]++
		}
	}
	s.write(g.device, entry{kind: field.Set, from: u.place, says: field.SetSays{Lifted: true}, text: "from here nothing comes out; lifted"})
	s.tell("From where %s ends no layout of leg %s comes out: it was lifted.", u.place, l.id)
	l.laid, l.from, l.relaid[u.place] = l.laid[:k], k, true
	if !u.cut {
		s.yard.have[u.piece]++
	}
	for _, x := range l.stretches {
		if x.from <= k && k <= x.to && x.stage > toSet {
			x.stage = toSet
		}
	}
	return true
}

// picked is the unit that suits best of three in the yard, once it is known that the leg runs short or long.
func (s *site) picked(l *leg, first, drawn, scatter measure.Length) measure.Length {
	best := first
	short := len(l.laid) > 0 && l.off(len(l.laid)-1) < 0
	for range 2 {
		if real := drawn + s.within(scatter); short == (real > best) {
			best = real
		}
	}
	return best
}

// anotherLot orders units of another lot for what comes next on a leg.
func (s *site) anotherLot(l *leg) {
	p := l.places[len(l.laid)-1].piece()
	s.yard.loads = append(s.yard.loads, load{s.day + 2 + s.below(3), []line{{p, 3}}})
	s.tell("Units of this lot do not bring leg %s out: three of %s of another lot were ordered.", l.id, p.Name(s.size))
}

// letShorter is a last piece that the supplier lets be shorter than he says, once he was asked: a nonconformance, that he closed.
func (s *site) letShorter(g *gang, l *leg) bool {
	q := &l.places[len(l.places)-1]
	hold := min(max(l.made.Joint.Gap.Value.Nominal, q.least), q.most)
	n := step{hold: hold, length: l.length - l.laid[len(l.laid)-1].end - hold, stock: q.stock, cut: true}
	if n.length <= 0 || n.length >= q.stock || !s.setOne(g, l, n) {
		return false
	}
	s.surprise("supplier asked", nil, 1)
	number := "NC-" + q.name
	s.tell("No layout of leg %s comes out: its supplier was asked, and let %s be %s.", l.id, q.name, s.size(measure.MM(n.length)))
	id := s.write(g.device, entry{kind: field.Nonconforming, from: q.name, says: field.MatterSays{Number: number}, text: "shorter than the supplier's shortest piece"})
	s.write(s.engineer, entry{kind: field.Repair, from: q.name, says: field.MatterSays{Number: number, Closed: true, By: "the supplier, in writing"}, after: []string{id}})
	return true
}
