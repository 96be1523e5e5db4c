package field

import (
	"cmp"
	"slices"

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
	for _, k := range p.kinds {
		list := standing(k.list)
		if len(list) == 0 {
			continue
		}
		switch k.kind {
		case Set:
			s.setting(list)
			continue
		case Damage:
			s.Damaged = fact(list, func(e *entry) bool { d, ok := hear[DamageSays](e); return ok && !d.Usable })
			continue
		case Cover:
			for i := range s.Covers {
				s.Covers[i].Laid = b.covered(list, at, unit.Covers[i])
			}
			continue
		case Gap:
			s.Left, s.Right = gaps(list)
		case Layer, LayerTest:
			if s.Layers == nil {
				s.Layers = layers(p.standing(Layer), p.standing(LayerTest))
			}
		case Level:
			s.Levels = levels(list)
		}
		ids := make([]string, len(list))
		for i, e := range list {
			ids[i] = e.ID
		}
		s.Evidence[k.kind] = ids
	}
	return s
}

// fact is what the last records of a thing say: all of them yes, all of them no, or this and that.
func fact(standing []*entry, yes func(*entry) bool) Fact {
	f := Fact{Is: No}
	for i, r := range last(standing) {
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

// setting is whether a unit is set, and where it came to lie.
func (s *UnitState) setting(standing []*entry) {
	s.Set = fact(standing, func(e *entry) bool { says, ok := hear[SetSays](e); return ok && !says.Lifted })
	var ends, lengths []Reading
	for _, r := range last(standing) {
		says, ok := hear[SetSays](r)
		if !ok || says.Lifted {
			continue
		}
		if says.Batch != "" {
			s.Batch = says.Batch
		}
		off := slices.IndexFunc(says.Off, func(o Off) bool { return o.Place == s.Place })
		switch {
		case off >= 0:
			ends = append(ends, Reading{says.Off[off].By, says.Plus, r.ID})
		case says.Within:
			s.Within = true
		}
		if says.Measure != nil && r.To == "" {
			lengths = append(lengths, Reading{*says.Measure, says.Plus, r.ID})
		}
	}
	s.End, s.Length = measured(ends), measured(lengths)
}

func gaps(standing []*entry) (left, right *Measured) {
	var l, r []Reading
	for _, rec := range last(standing) {
		if says, ok := hear[GapSays](rec); ok {
			l = append(l, Reading{says.Left, says.Plus, rec.ID})
			r = append(r, Reading{says.Right, says.Plus, rec.ID})
		}
	}
	return measured(l), measured(r)
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

// covered is whether one cover lies.
func (b *Book) covered(standing []*entry, at spot, cover string) Fact {
	var of []*entry
	for _, e := range standing {
		if b.meansCover(e, at, cover) {
			of = append(of, e)
		}
	}
	return fact(of, func(e *entry) bool { return lays(e, cover) })
}

// lays tells whether a record that is about a cover says that it lies.
func lays(e *entry, cover string) bool {
	says, ok := hear[CoverSays](e)
	return ok && says.Done == "laid" && !slices.Contains(says.Missing, cover)
}

// meansCover tells whether a record that lies on a unit's pile is about one of its covers: where it begins or ends with a cover, the
// covers before and behind that are not meant.
func (b *Book) meansCover(r *entry, at spot, cover string) bool {
	covers := b.run.Legs[at.leg].Units[at.unit].Covers
	n := slices.Index(covers, cover)
	from, to := slices.Index(covers, r.From), slices.Index(covers, r.To)
	if r.To == "" {
		to = from
		return from < 0 || n == from
	}
	if a, ok := b.at(r.From); ok {
		if z, ok := b.at(r.To); ok && (z.unit < a.unit || z == a && from >= 0 && to >= 0 && to < from) {
			from, to = to, from // named from the end of the leg
		}
	}
	return (from < 0 || n >= from) && (to < 0 || n <= to)
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

// levels are the readings of a unit by what they are of.
func levels(standing []*entry) []LevelState {
	var names []string
	by := map[string][]*entry{}
	for _, r := range standing {
		if says, ok := hear[LevelSays](r); ok && says.Of != "" {
			if by[says.Of] == nil {
				names = append(names, says.Of)
			}
			by[says.Of] = append(by[says.Of], r)
		}
	}
	sorting.Ascending(names)
	var list []LevelState
	for _, of := range names {
		l := LevelState{Of: of, Said: Fact{Is: No}}
		var four [4][]Reading
		for _, r := range last(by[of]) {
			says, _ := hear[LevelSays](r)
			for i := range four {
				switch {
				case len(says.Four) == 4:
					four[i] = append(four[i], Reading{says.Four[i], says.Plus, r.ID})
				case says.Level != nil:
					four[i] = append(four[i], Reading{*says.Level, says.Plus, r.ID})
				}
			}
			if says.Within != nil {
				is := No
				if *says.Within {
					is = Yes
				}
				if len(l.Said.By) > 0 && l.Said.Is != is {
					is = CantSay
				}
				l.Said = Fact{is, append(l.Said.By, r.ID)}
			}
		}
		for i := range four {
			l.Four[i] = measured(four[i])
		}
		list = append(list, l)
	}
	return list
}
