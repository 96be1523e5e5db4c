package field

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// What is odd about points and about work where a stop stands. Every fact is kept.

// eventsKnown are what releases commonly name as their end.
var eventsKnown = []string{"rain", "frost", "water", "shift"}

// oddPoints says which releases are by somebody else than the contract names, end with what nobody ever recorded, or are of a point
// that the contract does not list.
func (b *Book) oddPoints(points []PointState, say func(finding.Finding)) {
	told := map[string]bool{}
	for i := range points {
		p := &points[i]
		where := finding.Where{Place: p.From}
		listed := b.listed(p.Point)
		of := p.Point + b.stretchWords(p.From, p.To)
		if p.Released.Is == CantSay {
			say(finding.Finding{ID: "field.released-by-another", Kind: finding.Attention, Where: where,
				Text: fmt.Sprintf("%s was released by %s (%s), and the contract names %s for it: whether it is released, nobody can say.", of, b.gave(p, p.Released.By), strings.Join(p.Released.By, ", "), listed.Release),
				Try:  "Have " + listed.Release + " release it, or record who released; the record stays."})
		}
		if b.asks != nil && len(b.asks.points) > 0 && listed.Name == "" && !told[p.Point] {
			told[p.Point] = true
			first := b.records.of(slices.Concat(p.Noticed, p.Looked, p.Releases)[0])
			say(finding.Finding{ID: "field.point-not-listed", Kind: finding.Attention, Where: where,
				Text: fmt.Sprintf("%s is a point that the contract does not list (%s by %s, %s, %s).", p.Point, first.Kind, first.Person, first.Made, first.ID),
				Try:  "Record it under a name of the contract: " + strings.Join(b.asks.pointNames(), ", ") + "; or have the contract's list name it."})
		}
		for _, id := range p.Releases {
			e := b.records.of(id)
			says, _ := hear[PointSays](e)
			for _, what := range says.Lapses {
				if slices.Contains(eventsKnown, what) || slices.ContainsFunc(b.others[Event], func(e *entry) bool { s, _ := hear[EventSays](e); return s.What == what }) {
					continue
				}
				say(finding.Finding{ID: "field.lapse-unknown", Kind: finding.Attention, Where: where,
					Text: fmt.Sprintf("The release of %s by %s, %s (%s) ends with %q, and no event is called so: nothing ends it.", of, cmp.Or(e.Person, "somebody"), e.Made, e.ID, what),
					Try:  "Name " + strings.Join(eventsKnown, ", ") + "; or record an event of that name when it comes."})
			}
		}
	}
}

// stretchWords are the places of a stretch with what goes before them; nothing for none.
func (b *Book) stretchWords(from, to string) string {
	if from == "" {
		return ""
	}
	return " at " + (Stretch{From: from, To: cmp.Or(to, from)}).String()
}

// onStops says which work was done and which point released where a buried service stands in the way, or one of which nobody knows how
// deep it lies: the answer of its owner was to come first. What is known to be older than the service's record is not spoken of.
func (b *Book) onStops(services []ServiceState, say func(finding.Finding)) {
	for i := range services {
		v := &services[i]
		gone := v.Width != nil && v.Keep != nil && *v.Width == 0 && *v.Keep == 0
		if gone || v.Depth != InEnvelope && v.Depth != NotKnown {
			continue
		}
		found := b.records.of(v.By[0])
		on := map[*entry]bool{}
		var list []*entry
		add := func(e *entry) {
			if !on[e] && !later(found, e) {
				on[e] = true
				list = append(list, e)
			}
		}
		for _, at := range b.over(v) {
			p := &b.legs[at.leg].piles[at.unit]
			for _, kind := range []Kind{Set, Layer, Cover} {
				for _, e := range p.standing(kind) {
					if kind == Layer || kind == Set && sets(e) || kind == Cover && doneSo(e, "laid") {
						add(e)
					}
				}
			}
			for _, name := range named(b.points) {
				for _, e := range standing(b.points[name]) {
					if leg, f, t, ok := b.stretch(e.From, e.To); e.Kind == Release && ok && leg == at.leg && f <= at.unit && at.unit <= t {
						add(e)
					}
				}
			}
		}
		slices.SortFunc(list, inOrder)
		what := "in the unit's envelope"
		if v.Depth == NotKnown {
			what = "and nobody recorded how deep it lies"
		}
		for _, e := range list {
			did := string(e.Kind)
			if says, ok := hear[PointSays](e); ok && e.Kind == Release {
				did = "release of " + says.Point
			}
			at := v.At
			say(finding.Finding{ID: "field.worked-on-a-stop", Kind: finding.Attention, Where: finding.Where{Leg: v.Leg, Chainage: &at, Place: e.From},
				Text: fmt.Sprintf("%s%s by %s, %s (%s): %s stands open there, found %s by %s, %s (%s).", did, b.stretchWords(e.From, e.To), e.Person, e.Made, e.ID, cmp.Or(v.Name, v.What, "a buried service"), what, found.Person, found.Made, found.ID),
				Try:  "Stop there, tell " + cmp.Or(v.Owner, "its owner") + "; record the depth or what was answered. Both records stay."})
		}
	}
}

// over are the units that lie over a service, or within its own half width.
func (b *Book) over(v *ServiceState) []spot {
	half := measure.Length(0)
	if v.Width != nil {
		half = *v.Width / 2
	}
	var list []spot
	for l := range b.run.Legs {
		leg := &b.run.Legs[l]
		if leg.ID != v.Leg {
			continue
		}
		at := v.At - leg.Setback
		for i := range leg.Units {
			if u := &leg.Units[i]; at+half >= u.Start && at-half <= u.End+u.Gap {
				list = append(list, spot{l, i})
			}
		}
	}
	return list
}

func doneSo(e *entry, done string) bool {
	says, ok := hear[CoverSays](e)
	return ok && says.Done == done
}
