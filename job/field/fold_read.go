package field

import (
	"cmp"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/solve/levelling"
)

// Inspector is the role of whoever checks what the contractor did: what people of this role read stands beside what was read, and
// never in its place.
const Inspector = "inspector"

func inspects(e *entry) bool { return e.inspect }

// parted are the records of those who build and of those who inspect. Where nobody who builds recorded anything, the inspector's stand
// for themselves.
func parted(of []*entry) [2][]*entry {
	if !slices.ContainsFunc(of, inspects) {
		return [2][]*entry{of, nil}
	}
	var two [2][]*entry
	for _, e := range of {
		who := 0
		if inspects(e) {
			who = 1
		}
		two[who] = append(two[who], e)
	}
	if len(two[0]) == 0 {
		return [2][]*entry{two[1], nil}
	}
	return two
}

// lookers are how many look at a thing: those who build (0), and where there are any those who inspect (1).
func lookers(of []*entry) int {
	if slices.ContainsFunc(of, inspects) {
		return 2
	}
	return 1
}

// readings are those of one thing, the builders' and the inspector's.
type readings [2][]Reading

func (r *readings) add(who int, value, plus measure.Length, e *entry) {
	r.held(who, value, plus, e, nil)
}

// held adds a reading with what was planned there, as whoever read it had that.
func (r *readings) held(who int, value, plus measure.Length, e *entry, planned *measure.Length) {
	r[who] = append(r[who], Reading{Value: value, Plus: plus, By: e.ID, Planned: planned})
}

// plannedGap and plannedAt are what a plan had, as whoever wrote a record had it; nil: not told.
func (e *entry) plannedGap() *measure.Length {
	if !e.planned {
		return nil
	}
	return e.Planned.Gap
}

func (e *entry) plannedAt(corner int) *measure.Length {
	if !e.planned || len(e.Planned.Four) != 4 {
		return nil
	}
	return &e.Planned.Four[corner]
}

// Should is what a gap is held against: what was planned as it was measured, where that is told; else what is planned now.
func (m *Measured) Should(now *measure.Length) *measure.Length {
	if m != nil && len(m.Readings) > 0 && m.Readings[0].Planned != nil {
		return m.Readings[0].Planned
	}
	return now
}

// Should is what a level at a corner of a unit is held against: where the unit lies, what was planned as the level was read, where that
// is told; else what is planned now.
func (u *UnitState) Should(of string, corner int, now *measure.Length) *measure.Length {
	if l := u.level(of); l != nil && u.Set.Is == Yes {
		return l.Four[corner].Should(now)
	}
	return now
}

func (r *readings) measured() *Measured {
	if len(r[0]) == 0 {
		return measured(r[1])
	}
	m := measured(r[0])
	m.Check = measured(r[1])
	return m
}

// measured is what readings that nobody took back come to: the one that is known best, where none is further from it than both
// are good for.
func measured(of []Reading) *Measured {
	if len(of) == 0 {
		return nil
	}
	sorting.By(of, func(a, b Reading) int { return cmp.Or(cmp.Compare(a.Plus, b.Plus), cmp.Compare(a.By, b.By)) })
	m := &Measured{Known: true, Value: of[0].Value, Plus: of[0].Plus, Readings: of}
	for i, x := range of {
		for _, y := range of[:i] {
			if (x.Value - y.Value).Abs() > x.Plus+y.Plus {
				return &Measured{Readings: of}
			}
		}
	}
	return m
}

// levels are the readings of a unit by what they are of; wall tops may have been read when it was set.
func (p *pile) levels() []LevelState {
	var names []string
	by := map[string][]*entry{} // gone or not
	add := func(of string, e *entry) {
		if by[of] == nil {
			names = append(names, of)
		}
		by[of] = append(by[of], e)
	}
	for _, e := range p.of(Level) {
		if says, ok := hear[LevelSays](e); ok && says.Of != "" {
			add(says.Of, e)
		}
	}
	if set := p.standing(Set); slices.ContainsFunc(set, hasWalls) {
		for _, e := range lastThat(p.of(Set), set, func(e *entry) bool { return hasWalls(e) || !sets(e) }) {
			if hasWalls(e) {
				add("wall", e)
			}
		}
	}
	sorting.Ascending(names)
	var list []LevelState
	for _, of := range names {
		if standing := standing(by[of]); len(standing) > 0 {
			list = append(list, level(of, by[of], standing))
		}
	}
	return list
}

// levelsAt are the levels that a record of a thing has at the four corners of a unit, and at which of them it has one.
func levelsAt(e *entry) (at [4]measure.Length, read [4]bool, plus measure.Length) {
	if e.Kind == Set {
		says, _ := hear[SetSays](e)
		at, read = AtCorners(says.Walls, says.Read)
		return at, read, says.Plus
	}
	says, _ := hear[LevelSays](e)
	at, read = says.At()
	return at, read, says.Plus
}

// atAll is what is read at every corner.
var atAll = [4]bool{true, true, true, true}

// within is whether a record of levels says that all of them are within the rule; nil: it does not say.
func within(e *entry) *bool {
	if e.Kind == Set {
		return nil
	}
	says, _ := hear[LevelSays](e)
	return says.Within
}

// level is one thing at one unit, corner by corner as the last records have it that were read there.
func level(of string, all, standing []*entry) LevelState {
	l := LevelState{Of: of, Said: Fact{Is: No}}
	var four [4]readings
	whole := !slices.ContainsFunc(standing, func(e *entry) bool { _, read, _ := levelsAt(e); return read != atAll })
	for who, group := range parted(standing) {
		said := func(e *entry) bool { // a figure at every corner says more than that all are within
			_, read, _ := levelsAt(e)
			return within(e) != nil || read == atAll
		}
		for _, e := range lastThat(all, group, said) {
			l.say(within(e), e)
		}
		var last []*entry
		for i := range four {
			if i == 0 || !whole {
				last = lastThat(all, group, func(e *entry) bool {
					_, read, _ := levelsAt(e)
					return read[i]
				})
			}
			for _, e := range last {
				at, _, plus := levelsAt(e)
				four[i].held(who, at[i], plus, e, e.plannedAt(i))
			}
		}
	}
	for i := range four {
		l.Four[i] = four[i].measured()
	}
	return l
}

func (l *LevelState) say(within *bool, e *entry) {
	if within == nil {
		return
	}
	is := No
	if *within {
		is = Yes
	}
	if len(l.Said.By) > 0 && l.Said.Is != is {
		is = CantSay
	}
	l.Said = Fact{is, append(l.Said.By, e.ID)}
}

// rock is by how much a unit rocks, from its four corners, and what was packed under it.
func (s *UnitState) rock(all, standing []*entry) {
	var twist readings
	for who, group := range parted(standing) {
		for _, e := range lastThat(all, group, func(e *entry) bool { says, ok := hear[RockSays](e); return ok && says.whole() }) {
			says, _ := hear[RockSays](e)
			four, _ := AtCorners(says.Four, says.Read)
			r := levelling.RockOf(levelling.Corners(four))
			twist.add(who, r.Twist.Abs(), 4*says.Plus, e) // four readings, each with its own
		}
		for _, e := range lastThat(all, group, func(e *entry) bool { says, ok := hear[RockSays](e); return ok && says.Packer != nil }) {
			says, _ := hear[RockSays](e)
			s.Packer = strings.TrimSpace(says.Packer.String() + " " + says.Corner)
		}
	}
	s.Rock = twist.measured()
}
