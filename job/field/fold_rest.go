package field

import (
	"cmp"
	"slices"
	"strings"

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

// pointStates are hold and witness points, stretch by stretch: what was noticed, whether it is released, and what ended that.
func (b *Book) pointStates(now string) []PointState {
	type stretch struct{ from, to string }
	var list []PointState
	for _, name := range named(b.points) {
		var order []stretch
		by := map[stretch][]*entry{}
		for _, e := range standing(b.points[name]) {
			k := stretch{e.From, e.To}
			if by[k] == nil {
				order = append(order, k)
			}
			by[k] = append(by[k], e)
		}
		sorting.By(order, func(x, y stretch) int { return cmp.Or(cmp.Compare(x.from, y.from), cmp.Compare(x.to, y.to)) })
		for _, k := range order {
			p := PointState{Point: name, From: k.from, To: k.to, Released: Fact{Is: No}}
			b.point(&p, by[k], now)
			list = append(list, p)
		}
	}
	return list
}

// point is what the records of one point at one stretch come to.
func (b *Book) point(p *PointState, standing []*entry, now string) {
	var releases, looks []*entry
	for _, e := range standing {
		says, _ := hear[PointSays](e)
		p.Witness = p.Witness || says.Witness
		switch e.Kind {
		case Notice:
			p.Noticed = append(p.Noticed, e.ID)
			p.Notices = append(p.Notices, Noticed{e.Person, e.Made, says.Party, says.Period, says.Answer})
		case Inspection:
			looks = append(looks, e)
		case Release:
			releases = append(releases, e)
		}
	}
	for _, e := range last(looks) {
		says, _ := hear[PointSays](e)
		p.Looked, p.Result = append(p.Looked, e.ID), says.Result
	}
	for _, e := range last(releases) {
		says, _ := hear[PointSays](e)
		p.Releases = append(p.Releases, e.ID)
		ended := b.endedBy(e, says)
		if why := over(says.Until, now); why != "" {
			ended = append(ended, e.ID)
			p.Why = strings.TrimPrefix(p.Why+"; "+why, "; ")
		}
		if len(ended) > 0 {
			p.Lapsed = append(p.Lapsed, ended...)
			continue
		}
		p.Released = Fact{Yes, append(p.Released.By, e.ID)}
		p.By = append(p.By, cmp.Or(says.Party, e.Person))
	}
	for _, id := range p.Lapsed {
		if e := b.records.of(id); e.Kind == Event {
			says, _ := hear[EventSays](e)
			p.Why = strings.TrimPrefix(p.Why+"; "+says.What+", recorded by "+e.Person+" "+e.Made, "; ")
		}
	}
}

// endedBy are the events that end a release: those of its kinds, where they name a stretch those that touch it, that whoever released
// did not know of. An event that may have been before it or after counts: the stretch is looked at once more.
func (b *Book) endedBy(release *entry, says *PointSays) []string {
	var ids []string
	for _, e := range standing(b.others[Event]) {
		event, ok := hear[EventSays](e)
		if ok && slices.Contains(says.Lapses, event.What) && !later(release, e) && says.Seen[e.Device] < e.Number && b.touches(release, e) {
			ids = append(ids, e.ID)
		}
	}
	return ids
}

// touches tells whether the stretches of two records meet. One that names no stretch of the plan is of all of it.
func (b *Book) touches(a, c *entry) bool {
	l, f, t, ok := b.stretch(a.From, a.To)
	m, g, u, also := b.stretch(c.From, c.To)
	return !ok || !also || l == m && f <= u && g <= t
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
