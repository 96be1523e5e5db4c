package field

import (
	"slices"
	"sync"

	"trenchwright/base/finding"
)

// shelf holds the records of one leg, unit by unit, and what they come to.
type shelf struct {
	piles   []pile
	units   []*UnitState // as worked out; what these point to never changes
	told    bool         // somebody holds units: the list is copied before it changes
	stale   []int        // units to be worked out again
	touched []int        // by unit: the version of the book that last touched it
	set     int          // units that are set
	laid    int          // covers that lie
	lids    int          // covers of the leg
}

// pile are the records of one unit's place, by kind. A record of a stretch lies on the pile of each of its units.
type pile struct {
	kinds [len(ofPlaces)][]*entry // by kind, as ofPlaces has them
	stale bool
	uses  []use // what lies here, out of the yard: the unit, then its covers
}

// ofPlaces are the kinds that are about units, and what lies on them or beside them.
var ofPlaces = [...]Kind{Set, Gap, Level, Rock, Layer, LayerTest, Cover, CoverTest, Fabric, Area, Part, Bond, Damage, Cut, Photo, Voice}

// shelf is the empty shelf of a leg: everything is to be worked out.
func (b *Book) shelf(leg int) shelf {
	units := b.run.Legs[leg].Units
	s := shelf{piles: make([]pile, len(units)), units: make([]*UnitState, len(units)), stale: make([]int, len(units)), touched: make([]int, len(units))}
	for i := range units {
		u := &units[i]
		s.stale[i], s.piles[i].stale = i, true
		s.lids += len(u.Covers)
		s.piles[i].uses = make([]use, 1+len(u.Lids))
		for k := range s.piles[i].uses {
			s.piles[i].uses[k].stack = b.outOf(spot{leg, i}, &s.piles[i], k)
		}
	}
	return s
}

func (p *pile) of(kind Kind) []*entry {
	if k := atPlaces(kind); k >= 0 {
		return p.kinds[k]
	}
	return nil
}

// standing are those records of a kind that nothing corrects.
func (p *pile) standing(kind Kind) []*entry { return standing(p.of(kind)) }

// atPlaces is where a kind stands among those that are about units; -1: it is not.
func atPlaces(k Kind) int { return slices.Index(ofPlaces[:], k) }

// toPlaces files a record on the piles of its places.
func (b *Book) toPlaces(e *entry, do filing) {
	kind := atPlaces(e.Kind)
	if !e.placed || kind < 0 {
		b.toOdd(e, do)
		return
	}
	if e.other {
		b.toOthers(e, do)
	}
	if b.asks != nil { // what waits for a point may be done with it
		b.worked.points.fresh = false
	}
	s, units := &b.legs[e.from.leg], b.run.Legs[e.from.leg].Units
	for i := min(e.from.unit, e.to.unit); i <= max(e.from.unit, e.to.unit); i++ {
		if e.other && inserted(units[i].Place) && units[i].Place != e.From && units[i].Place != e.To {
			continue // nobody says that it lay in that stretch
		}
		do(&s.piles[i].kinds[kind], e)
		s.touch(i, b.version)
	}
}

// touch has a unit be worked out again.
func (s *shelf) touch(i, version int) {
	s.touched[i] = version
	if !s.piles[i].stale {
		s.piles[i].stale = true
		s.stale = append(s.stale, i)
	}
}

// toOthers files a record of a stretch that has other places since.
func (b *Book) toOthers(e *entry, do filing) {
	b.worked.others.fresh = false
	do(&b.elsewhere, e)
}

// work has every unit of a leg worked out.
func (b *Book) work(leg int) *shelf {
	s := &b.legs[leg]
	for _, i := range s.stale {
		b.workUnit(spot{leg, i})
	}
	s.stale = s.stale[:0]
	return s
}

// many units to be worked out are shared among the processors, leg by leg: no record lies on two legs.
const many = 1000

// workAll has every unit of the run worked out.
func (b *Book) workAll() {
	stale := 0
	for l := range b.legs {
		stale += len(b.legs[l].stale)
	}
	if stale < many {
		return // whoever asks for a leg has it worked out
	}
	made := make([][]*UnitState, len(b.legs))
	var wait sync.WaitGroup
	for l := range b.legs {
		wait.Go(func() {
			for _, i := range b.legs[l].stale {
				made[l] = append(made[l], b.unit(spot{l, i}))
			}
		})
	}
	wait.Wait()
	for l := range b.legs {
		for k, i := range b.legs[l].stale {
			b.install(spot{l, i}, made[l][k])
		}
		b.legs[l].stale = b.legs[l].stale[:0]
	}
}

// workUnit has one unit worked out, and what is counted of it.
func (b *Book) workUnit(at spot) *UnitState {
	s := &b.legs[at.leg]
	if !s.piles[at.unit].stale {
		return s.units[at.unit]
	}
	return b.install(at, b.unit(at))
}

// install puts what a unit comes to in its place, and counts it.
func (b *Book) install(at spot, is *UnitState) *UnitState {
	s := &b.legs[at.leg]
	p := &s.piles[at.unit]
	if s.told {
		s.units, s.told = slices.Clone(s.units), false
	}
	was := s.units[at.unit]
	s.units[at.unit], p.stale = is, false
	s.count(was, -1)
	s.count(is, 1)
	b.takes(at, p, is)
	var list finding.List
	b.oddOf(is, b.run.Legs[at.leg].ID, func(f finding.Finding) { list = append(list, f) })
	if len(list) > 0 {
		b.worked.units[at] = list
	} else if len(b.worked.units) > 0 {
		delete(b.worked.units, at)
	}
	return is
}

func (s *shelf) count(u *UnitState, by int) {
	if u == nil {
		return
	}
	if u.Set.Is == Yes {
		s.set += by
	}
	for i := range u.Covers {
		if u.Covers[i].Laid.Is == Yes {
			s.laid += by
		}
	}
}

// origin is the record that a correction goes back to: what it tells of was there when that one was written.
func (b *Book) origin(e *entry) *entry {
	for range longestChain {
		if e == nil || e.Corrects == "" {
			break
		}
		old := b.records.of(e.Corrects)
		if old == nil || b.mends(e, old) != "" {
			break
		}
		e = old
	}
	return e
}

// longestChain of corrections is followed: nobody corrects a thing oftener, and records can name each other in a ring.
const longestChain = 16

// Version counts up with every record that the book took in.
func (b *Book) Version() int { return b.version }

// Changed are the places of the units that records touched since a version of the book, in laying order.
func (b *Book) Changed(since int) []string {
	var list []string
	for l := range b.legs {
		for i, v := range b.legs[l].touched {
			if v > since {
				list = append(list, b.run.Legs[l].Units[i].Place)
			}
		}
	}
	return list
}

// Unit is what the records of one place come to: of a unit, or of what a cover or a joint belongs to.
func (b *Book) Unit(place string) (*UnitState, bool) {
	at, ok := b.at(place)
	if !ok {
		return nil, false
	}
	return b.workUnit(at), true
}

// Leg is what the records of one leg come to.
func (b *Book) Leg(id string) (LegState, bool) {
	for l := range b.run.Legs {
		if b.run.Legs[l].ID == id {
			return b.leg(l), true
		}
	}
	return LegState{}, false
}

func (b *Book) leg(l int) LegState {
	s := b.work(l)
	s.told = true
	return LegState{ID: b.run.Legs[l].ID, Units: s.units, Set: s.set, Laid: s.laid, Lids: s.lids}
}
