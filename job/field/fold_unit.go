package field

import (
	"cmp"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
)

// unit is what the records of one place come to.
func (b *Book) unit(at spot) *UnitState {
	unit, p := &b.run.Legs[at.leg].Units[at.unit], &b.legs[at.leg].piles[at.unit]
	s := &UnitState{Place: unit.Place, Set: Fact{Is: No}, Damaged: Fact{Is: No}, Evidence: map[Kind][]string{}}
	s.Covers = make([]CoverState, len(unit.Covers))
	for i, c := range unit.Covers {
		s.Covers[i] = CoverState{c, Fact{Is: No}}
	}
	for k, kind := range ofPlaces {
		list := standing(p.kinds[k])
		if len(list) == 0 {
			continue
		}
		s.shows(list)
		if b.told(s, p, kind, list, at) {
			ids := make([]string, len(list))
			for i, e := range list {
				ids[i] = e.ID
			}
			s.Evidence[kind] = ids
		}
	}
	return s
}

// told takes the records of one kind into a unit's state, and tells whether they are evidence of it besides.
func (b *Book) told(s *UnitState, p *pile, kind Kind, list []*entry, at spot) bool {
	switch kind {
	case Set:
		s.setting(p.of(Set), list, b.run.Legs[at.leg].laidTo(at.unit))
		if s.walls(list) {
			s.Levels = p.levels()
		}
		if s.Left == nil {
			s.Left, s.Right = p.gaps()
		}
		return false
	case Damage:
		s.Damaged = damaged(list, p.standing(Set), at)
		return false
	case Cover:
		s.covered(list, at)
		return false
	case Gap:
		s.Left, s.Right = p.gaps()
	case Layer, LayerTest:
		if s.Layers == nil {
			s.Layers = layers(p.standing(Layer), p.standing(LayerTest))
		}
	case Level:
		s.Levels = p.levels()
	case Rock:
		s.rock(p.of(Rock), list)
	case Bond:
		s.Bonds = tests(list)
	case CoverTest:
		s.Tests = tests(list)
	case Area:
		s.area(list)
	case Part:
		s.Parts = b.parts(list, at)
	}
	return true
}

// damaged is whether the unit that lies at a place is broken: what was recorded before one was lifted there is of that one.
func damaged(standing, set []*entry, at spot) Fact {
	var of []*entry
	for _, e := range standing {
		gone := func(l *entry) bool { return !sets(l) && comesAfter(set, l, e) && fact(set, sets).Is == Yes }
		if e.breaks(at, 0) && !slices.ContainsFunc(set, gone) {
			of = append(of, e)
		}
	}
	return fact(of, func(e *entry) bool { d, ok := hear[DamageSays](e); return ok && !d.Usable })
}

// fact is what the last records of a thing say: all of them yes, all of them no, or this and that.
func fact(standing []*entry, yes func(*entry) bool) Fact { return factOf(last(standing), yes) }

func factOf(last []*entry, yes func(*entry) bool) Fact {
	f := Fact{Is: No}
	for i, r := range last {
		f.By = append(f.By, r.ID)
		is := No
		if yes(r) {
			is = Yes
		}
		if i > 0 && is != f.Is {
			is = CantSay
		}
		if f.Is != CantSay {
			f.Is = is
		}
	}
	return f
}

// What a record of a unit that was set can say of it, each thing as the last records have it that say it.
type setThing uint8

const (
	saysEnd    setThing = 1 << iota // where its end lies: with a figure, or that it is within the rule
	saysLine                        // how far it is off the line
	saysLength                      // how long it is
	saysBatch
	saysType
	saysAll = 1<<iota - 1 // that it was lifted: nothing holds any more that was said of it before
)

// ofSet are the things that a record says of a unit, and where its end lies among those that are off; below 0: not among them.
func ofSet(e *entry, place string) (says *SetSays, things setThing, off int) {
	says, ok := hear[SetSays](e)
	switch {
	case !ok:
		return says, 0, -1
	case says.Lifted:
		return says, saysAll, -1
	}
	off = slices.IndexFunc(says.Off, func(o Off) bool { return o.Place == place })
	if off >= 0 || says.Within {
		things |= saysEnd
	}
	if e.alone && says.Line != nil {
		things |= saysLine
	}
	if e.alone && says.Measure != nil {
		things |= saysLength
	}
	if says.Batch != "" {
		things |= saysBatch
	}
	if says.Type != "" {
		things |= saysType
	}
	return says, things, off
}

// setting is whether a unit is set, and where it came to lie.
func (s *UnitState) setting(all, standing []*entry, planned measure.Length) {
	s.Set = factOf(lastThat(all, standing, func(*entry) bool { return true }), sets)
	var said setThing
	for _, e := range standing {
		if says, things, _ := ofSet(e, s.Place); !says.Lifted {
			said |= things
		}
	}
	var ends, lengths, lines readings
	var moved map[string]measure.Length // by record: how far its place lay from where the plan has it now
	for thing := saysEnd; thing < saysAll; thing <<= 1 {
		if s.Set.Is == No || said&thing == 0 {
			continue
		}
		for who := range lookers(standing) {
			of := func(e *entry) bool {
				says, things, _ := ofSet(e, s.Place)
				return things&thing != 0 && (says.Lifted || inspects(e) == (who == 1))
			}
			for _, e := range lastThat(all, standing, of) {
				says, things, off := ofSet(e, s.Place)
				switch {
				case says.Lifted || things&thing == 0:
				case thing == saysEnd && off < 0:
					s.Within = true
				case thing == saysEnd:
					ends.add(who, says.Off[off].By, says.Plus, e)
					if place := says.Off[off].At; place != nil && *place != planned {
						if moved == nil {
							moved = map[string]measure.Length{}
						}
						moved[e.ID] = *place - planned
					}
				case thing == saysLine:
					lines.add(who, *says.Line, says.Plus, e)
				case thing == saysLength:
					lengths.add(who, *says.Measure, says.Plus, e)
				case thing == saysBatch:
					s.Batch = cmp.Or(s.Batch, says.Batch)
				case thing == saysType:
					s.Type = cmp.Or(s.Type, says.Type)
				}
			}
		}
	}
	s.End, s.Length, s.Line = ends.measured(), lengths.measured(), lines.measured()
	if s.End != nil && s.End.Known {
		s.Ahead = new(s.End.Value + moved[s.End.Readings[0].By])
	}
}

// sets tells whether a record says that units lie, and were not lifted.
func sets(e *entry) bool { says, ok := hear[SetSays](e); return ok && !says.Lifted }

// walls tells whether units were set with the levels of their wall tops.
func (s *UnitState) walls(standing []*entry) bool {
	return len(s.Levels) == 0 && slices.ContainsFunc(standing, hasWalls)
}

// hasWalls tells whether a record of a unit that was set has the levels of its wall tops, and hasGap the gap after it.
func hasWalls(e *entry) bool {
	says, ok := hear[SetSays](e)
	_, read := AtCorners(says.Walls, says.Read)
	return ok && (len(says.Walls) == 4 || len(says.Read) > 0) && read != [4]bool{} && e.alone && !says.Lifted
}

func hasGap(e *entry) bool {
	says, ok := hear[SetSays](e)
	return ok && (says.Left != nil || says.Right != nil) && e.alone && !says.Lifted
}

// gapsOf are the gaps of a joint that a record has, left and right; nil: it was not read there.
func gapsOf(e *entry) (walls [2]*measure.Length, plus measure.Length) {
	if e.Kind == Set {
		says, _ := hear[SetSays](e)
		return [2]*measure.Length{says.Left, says.Right}, says.Plus
	}
	says, _ := hear[GapSays](e)
	return [2]*measure.Length{says.Left, says.Right}, says.Plus
}

// gaps are those of a joint at its walls, measured by themselves or when a unit was set: at each wall as the last records have it that
// were read there.
func (p *pile) gaps() (left, right *Measured) {
	of := p.standing(Gap)
	if set := p.standing(Set); slices.ContainsFunc(set, hasGap) {
		of = slices.Clip(of)
		for _, e := range lastThat(p.of(Set), set, func(e *entry) bool { return hasGap(e) || !sets(e) }) {
			if hasGap(e) {
				of = append(of, e)
			}
		}
	}
	var at [2]readings
	for who, group := range parted(standing(of)) {
		both := !slices.ContainsFunc(group, func(e *entry) bool { walls, _ := gapsOf(e); return walls[0] == nil || walls[1] == nil })
		var last []*entry
		for wall := range at {
			if wall == 0 || !both {
				last = lastThat(group, group, func(e *entry) bool { walls, _ := gapsOf(e); return walls[wall] != nil })
			}
			for _, e := range last {
				walls, plus := gapsOf(e)
				at[wall].held(who, *walls[wall], plus, e, e.plannedGap())
			}
		}
	}
	return at[0].measured(), at[1].measured()
}

// covered is whether each cover lies. Most records are of all covers of their units: the last of these are the last of each.
func (s *UnitState) covered(standing []*entry, at spot) {
	ofAll := last(standing)
	for i := range s.Covers {
		c, of := &s.Covers[i], ofAll
		if other := func(e *entry) bool { return !e.means(at, i) }; slices.ContainsFunc(standing, other) {
			of = last(slices.DeleteFunc(slices.Clone(standing), other))
		}
		c.Laid = factOf(of, func(e *entry) bool { return lays(e, c.Place) })
	}
}

// lays tells whether a record that is about a cover says that it lies.
func lays(e *entry, cover string) bool {
	says, ok := hear[CoverSays](e)
	return ok && says.Done == "laid" && !slices.Contains(says.Missing, cover)
}

// means tells whether a record that lies on a unit's pile is about one of its covers: where it begins or ends with a cover, the covers
// before and behind that are not meant.
func (e *entry) means(at spot, cover int) bool {
	from, to := e.from, e.to
	if to.unit < from.unit || to.spot == from.spot && from.cover >= 0 && to.cover >= 0 && to.cover < from.cover {
		from, to = to, from // named from the end of the leg
	}
	if from.spot == at && from.cover > cover {
		return false
	}
	return to.spot != at || to.cover < 0 || cover <= to.cover
}

// layers are the layers beside a unit, from the bottom, left before right.
func layers(placed, tested []*entry) []LayerState {
	var list []LayerState
	at := func(n int, side string) *LayerState {
		i := slices.IndexFunc(list, func(l LayerState) bool { return l.Number == n && l.Side == side })
		if i < 0 {
			i = len(list)
			list = append(list, LayerState{Number: n, Side: side, Placed: Fact{Is: No}, Met: Fact{Is: No}})
		}
		return &list[i]
	}
	for _, r := range placed {
		if says, ok := hear[LayerSays](r); ok {
			for _, side := range sides(says.Side) {
				l := at(says.Number, side)
				l.Top = l.Top || says.Top
				l.Placed = Fact{Yes, append(l.Placed.By, r.ID)}
			}
		}
	}
	type beside struct {
		number int
		side   string
	}
	tests := map[beside][]*entry{}
	for _, r := range tested {
		if says, ok := hear[TestSays](r); ok && says.Met != nil {
			for _, side := range sides(says.Side) {
				key := beside{says.Number, side}
				tests[key] = append(tests[key], r)
				at(says.Number, side)
			}
		}
	}
	for i := range list {
		l := &list[i]
		l.Met = fact(tests[beside{l.Number, l.Side}], func(e *entry) bool { says, _ := hear[TestSays](e); return *says.Met })
	}
	sorting.By(list, func(a, b LayerState) int { return cmp.Or(a.Number-b.Number, cmp.Compare(a.Side, b.Side)) })
	return list
}

func sides(side string) []string {
	if side == "left" || side == "right" {
		return []string{side}
	}
	return []string{"left", "right"}
}
