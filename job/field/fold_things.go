package field

import (
	"cmp"
	"slices"

	"trenchwright/base/sorting"
)

// What was fitted, tested and handed over at one place.

// shows adds the photos of records to a unit's.
func (s *UnitState) shows(list []*entry) {
	for _, e := range list {
		if !e.pictured {
			continue
		}
		for _, p := range e.Photos {
			if !slices.Contains(s.Photos, p) {
				s.Photos = append(s.Photos, p)
			}
		}
	}
	sorting.Ascending(s.Photos)
}

// tests are what the last tests of each method came to.
func tests(standing []*entry) []TestState {
	var names []string
	by := map[string][]*entry{}
	for _, e := range standing {
		if says, ok := hear[TestSays](e); ok {
			if by[says.Method] == nil {
				names = append(names, says.Method)
			}
			by[says.Method] = append(by[says.Method], e)
		}
	}
	sorting.Ascending(names)
	var list []TestState
	for _, method := range names {
		t := TestState{Method: method}
		var judged []*entry
		for _, e := range last(by[method]) {
			says, _ := hear[TestSays](e)
			t.By = append(t.By, e.ID)
			t.Value, t.Limit = cmp.Or(says.Value, t.Value), cmp.Or(says.Limit, t.Limit)
			if says.Met != nil {
				judged = append(judged, e)
			}
		}
		t.Met = fact(judged, func(e *entry) bool { says, _ := hear[TestSays](e); return *says.Met })
		list = append(list, t)
	}
	return list
}

// area is who has the stretch of a unit.
func (s *UnitState) area(standing []*entry) {
	a := &AreaState{}
	for _, e := range last(standing) {
		if says, ok := hear[AreaSays](e); ok {
			a.To = cmp.Or(a.To, says.To)
			a.By = append(a.By, e.ID)
		}
	}
	if a.By != nil {
		s.Area = a
	}
}

// parts are the loose parts that records name at their first unit: each record is of as many as it says, once.
func (b *Book) parts(standing []*entry, at spot) []PartState {
	var list []PartState
	for _, e := range standing {
		says, ok := hear[PartSays](e)
		if _, first, _, _ := b.stretch(e.From, e.To); !ok || first != at.unit {
			continue
		}
		i := slices.IndexFunc(list, func(p PartState) bool { return p.Name == says.Name })
		if i < 0 {
			i, list = len(list), append(list, PartState{Name: says.Name})
		}
		list[i].Count += max(1, says.Count)
		list[i].By = append(list[i].By, e.ID)
	}
	sorting.By(list, func(a, b PartState) int { return cmp.Compare(a.Name, b.Name) })
	return list
}

// entryStates are the conduit entries, each as the last records have it.
func (b *Book) entryStates() []EntryState {
	var list []EntryState
	b.lastAt(Entry, func(e *entry) {
		if says, ok := hear[EntrySays](e); ok {
			list = append(list, EntryState{e.From, *says, []string{e.ID}})
		}
	})
	return list
}

// shotStates are the surveyed places, each as the last records have it.
func (b *Book) shotStates() []ShotState {
	var list []ShotState
	b.lastAt(Shot, func(e *entry) {
		if says, ok := hear[ShotSays](e); ok {
			list = append(list, ShotState{e.From, *says, []string{e.ID}})
		}
	})
	return list
}

// lastAt goes through the last records of a kind, place by place.
func (b *Book) lastAt(kind Kind, do func(*entry)) {
	at := map[string][]*entry{}
	for _, e := range standing(b.others[kind]) {
		at[e.From] = append(at[e.From], e)
	}
	for _, place := range named(at) {
		for _, e := range last(at[place]) {
			do(e)
		}
	}
}
