package field

import (
	"cmp"
	"slices"

	"trenchwright/base/sorting"
)

// services are those that were found, each by the last that was said of it.
func (b *Book) services() []ServiceState {
	type one struct{ leg, name string }
	var order []one
	by := map[one][]*entry{}
	for _, r := range standing(b.others[Service]) {
		says, ok := hear[ServiceSays](r)
		if !ok || !says.Met {
			continue
		}
		k := one{says.Leg, says.Name}
		if by[k] == nil {
			order = append(order, k)
		}
		by[k] = append(by[k], r)
	}
	var list []ServiceState
	for _, k := range order {
		for _, r := range last(by[k]) {
			says, _ := hear[ServiceSays](r)
			found := ServiceState{*says, []string{r.ID}}
			if found.Depth == "" {
				found.Depth = NotKnown
			}
			list = append(list, found)
		}
	}
	sorting.By(list, func(x, y ServiceState) int {
		return cmp.Or(cmp.Compare(x.Leg, y.Leg), cmp.Compare(x.At, y.At), cmp.Compare(x.By[0], y.By[0]))
	})
	return list
}

// angles are the bends that were measured: as the reading says that is known best, where none is further from another than both are
// good for.
func (b *Book) angleStates() []AngleState {
	var list []AngleState
	for _, node := range named(b.angles) {
		a := AngleState{Node: node}
		var read []*AngleSays
		for _, r := range last(standing(b.angles[node])) {
			says, ok := hear[AngleSays](r)
			if !ok {
				continue
			}
			for _, other := range read {
				if off := says.Angle - other.Angle; max(off, -off) > says.Plus+other.Plus {
					a.Differs = true
				}
			}
			if len(read) == 0 || says.Plus < a.Plus {
				a.Angle, a.Plus = says.Angle, says.Plus
			}
			read, a.By = append(read, says), append(a.By, r.ID)
		}
		if a.Known = !a.Differs; len(a.By) > 0 {
			list = append(list, a)
		}
	}
	return list
}

// pointStates are hold and witness points: what was noticed, whether it is released, and what ended that.
func (b *Book) pointStates(now string) []PointState {
	var list []PointState
	for _, name := range named(b.points) {
		p := PointState{Point: name, Released: Fact{Is: No}}
		var releases []*entry
		for _, r := range standing(b.points[name]) {
			switch r.Kind {
			case Notice:
				p.Noticed = append(p.Noticed, r.ID)
			case Release:
				releases = append(releases, r)
			}
		}
		for _, r := range last(releases) {
			says, _ := hear[PointSays](r)
			ended := b.endedBy(r, says.Lapses)
			if says.Until != "" && now != "" && says.Until < now {
				ended = append(ended, r.ID)
			}
			if len(ended) > 0 {
				p.Lapsed = append(p.Lapsed, ended...)
				continue
			}
			p.Released = Fact{Yes, append(p.Released.By, r.ID)}
		}
		list = append(list, p)
	}
	return list
}

// endedBy are the events that end a release: those of its kinds that whoever released did not know of. An event that may have been
// before it or after counts: the stretch is looked at once more.
func (b *Book) endedBy(release *entry, kinds []string) []string {
	var ids []string
	for _, e := range standing(b.others[Event]) {
		says, ok := hear[EventSays](e)
		if ok && slices.Contains(kinds, says.What) && !later(release, e) {
			ids = append(ids, e.ID)
		}
	}
	return ids
}

func (b *Book) matterStates() []MatterState {
	var list []MatterState
	for _, number := range named(b.matters) {
		list = append(list, MatterState{number, fact(standing(b.matters[number]), func(e *entry) bool { says, _ := hear[MatterSays](e); return says.Closed })})
	}
	return list
}

// named are the keys of a table in order.
func named(table map[string][]*entry) []string {
	names := make([]string, 0, len(table))
	for n := range table {
		names = append(names, n)
	}
	sorting.Ascending(names)
	return names
}
