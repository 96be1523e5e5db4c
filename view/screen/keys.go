package screen

import (
	"strconv"
	"strings"
)

// kindsOf are the lists along a leg and the kinds of what stands in them.
var kindsOf = map[string]string{"crossings": "crossing", "services": "service", "entries": "entry", "supports": "support", "zones": "zone", "joints": "forced"}

// keyOf is the card of what a path of the job speaks of; empty: it has none. Paths name things by number, route.legs[2].crossings[0],
// or by id, crossings.X1 and supplies.trough.saw.
func (d *draft) keyOf(path string) string {
	parts := strings.Split(strings.NewReplacer("[", ".", "]", "").Replace(path), ".")
	if parts[0] == "route" {
		parts = parts[1:]
	}
	if len(parts) == 0 {
		return ""
	}
	second := ""
	if len(parts) > 1 {
		second = parts[1]
	}
	j := &d.job
	switch parts[0] {
	case "legs":
		return d.keyOnLeg(parts[1:])
	case "nodes":
		return numbered("node/", second, len(j.Route.Nodes), func(i int) string { return j.Route.Nodes[i].ID })
	case "supplies":
		return numbered("supply/", second, len(j.Supplies), func(i int) string { return j.Supplies[i].ID })
	case "documents":
		return numbered("document/", second, len(j.Documents), func(i int) string { return j.Documents[i].ID })
	case "levels":
		if len(parts) > 2 && second == "pins" {
			return numbered("pin/", parts[2], len(j.Levels.Pins), func(i int) string { return j.Levels.Pins[i].ID })
		}
		if len(parts) > 2 && second == "outlets" {
			return numbered("outlet/", parts[2], len(j.Levels.Outlets), func(i int) string { return j.Levels.Outlets[i].ID })
		}
		return "levels"
	case "dig", "rules", "checks", "coordinates", "set_out", "ground", "delivery":
		return parts[0]
	}
	if kind := kindsOf[parts[0]]; kind != "" && second != "" {
		return d.keyOfThing(kind, second)
	}
	return ""
}

// numbered is the key of an item by its number or by its id.
func numbered(prefix, key string, n int, id func(int) string) string {
	if key == "" {
		return ""
	}
	for i := range n {
		if id(i) == key {
			return prefix + key
		}
	}
	if i, err := strconv.Atoi(key); err == nil && i >= 0 && i < n {
		return prefix + id(i)
	}
	return ""
}

// keyOnLeg is the key of a leg, or of something along it: 2.crossings.0.
func (d *draft) keyOnLeg(parts []string) string {
	if len(parts) == 0 {
		return ""
	}
	legs := d.job.Route.Legs
	key := numbered("leg/", parts[0], len(legs), func(i int) string { return legs[i].ID })
	if key == "" || len(parts) < 3 {
		return key
	}
	l := d.asked[strings.TrimPrefix(key, "leg/")]
	ids := map[string][]string{}
	add := func(list, id string) { ids[list] = append(ids[list], id) }
	for _, x := range l.Crossings {
		add("crossings", x.ID)
	}
	for _, x := range l.Services {
		add("services", x.ID)
	}
	for _, x := range l.Entries {
		add("entries", x.ID)
	}
	for _, x := range l.Supports {
		add("supports", x.ID)
	}
	for _, x := range l.Zones {
		add("zones", x.ID)
	}
	for _, x := range l.Joints {
		add("joints", x.ID)
	}
	if k, err := strconv.Atoi(parts[2]); err == nil && parts[1] == "via" && k >= 0 && k < len(l.Via) {
		return "curve/" + l.ID + "/" + strconv.Itoa(k+1)
	}
	list := ids[parts[1]]
	if thing := numbered(kindsOf[parts[1]]+"/"+l.ID+"/", parts[2], len(list), func(i int) string { return list[i] }); thing != "" {
		return thing
	}
	return key
}

// keyOfThing is the key of a thing by its kind and its id alone.
func (d *draft) keyOfThing(kind, id string) string {
	for list, of := range kindsOf {
		if of != kind {
			continue
		}
		for _, l := range d.job.Route.Legs {
			if key := d.keyOnLeg([]string{l.ID, list, id}); strings.HasPrefix(key, kind+"/") {
				return key
			}
		}
	}
	return ""
}
