package field

import (
	"cmp"

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

func (b *Book) matterStates() []MatterState {
	var list []MatterState
	for _, number := range named(b.matters) {
		list = append(list, MatterState{number, fact(standing(b.matters[number]), func(e *entry) bool { says, _ := hear[MatterSays](e); return says.Closed })})
	}
	return list
}

// named are the keys of a table in order.
func named[T any](table map[string]T) []string {
	names := make([]string, 0, len(table))
	for n := range table {
		names = append(names, n)
	}
	sorting.Ascending(names)
	return names
}
