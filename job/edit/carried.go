package edit

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/planner"
)

// What is recorded in the ground, and what is to be built or levelled at a place of it, is measured along its leg. When the leg
// goes another way, the record goes along; what lies in the ground does not. So a change of the route says which records it carried, and how far.

// carriedLeast is what rounding of coordinates and chainages may move a place by.
const carriedLeast = measure.Millimetre

// recorded is one thing at a place in the ground by what the job says of it.
type recorded struct {
	kind, id, leg, name string
	from, to            measure.Length // chainages; the same for what has only a middle
	at                  [2][2]float64  // where these lie: metres of record
	off                 measure.Length // how far it was carried
}

// carriedKinds are what is recorded in the ground, as it is told: services by name, the others by count.
var carriedKinds = [...]struct{ kind, one, more string }{
	{"service", "service", "services"}, {"crossing", "crossing", "crossings"}, {"support", "support", "supports"},
	{"entry", "conduit entry", "conduit entries"}, {"zone", "zone", "zones"},
	{"joint", "forced joint", "forced joints"}, {"built", "leg with units that lie", "legs with units that lie"}, {"pin", "pin", "pins"}, {"outlet", "outlet", "outlets"},
}

// steers says whether an edit can change where a leg goes.
func steers(e *Edit) bool {
	return slices.Contains([]Op{MoveNode, InsertBend, RemoveBend, Set, Clear}, e.Op)
}

// carried says what a change of the route took along; "": nothing.
func carried(before, after job.Job, edits []Edit) string {
	if !slices.ContainsFunc(edits, func(e Edit) bool { return steers(&e) }) {
		return ""
	}
	before, _ = planner.Declared(before) // a walk has legs, too; what is wrong with it is told elsewhere
	after, _ = planner.Declared(after)
	was := inGround(before)
	if len(was) == 0 {
		return ""
	}
	is := inGround(after)
	var moved []recorded
	for i := range was {
		if k := same(&was[i], is, before, after); k >= 0 {
			if one := is[k]; off(&was[i], &one) > carriedLeast {
				one.off = off(&was[i], &one)
				moved = append(moved, one)
			}
		}
	}
	return saidCarried(moved, after.Speech())
}

// inGround is all that is recorded in the ground along legs, with where it lies; none where the run cannot be laid out.
func inGround(j job.Job) []recorded {
	var out []recorded
	for i := range j.Route.Legs {
		l := &j.Route.Legs[i]
		put := func(kind, id, name string, from, to measure.Length) {
			out = append(out, recorded{kind: kind, id: id, leg: l.ID, name: cmp.Or(name, id), from: from, to: to})
		}
		for _, s := range l.Services {
			put("service", s.ID, s.Name, s.At, s.At)
		}
		for _, c := range l.Crossings {
			put("crossing", c.ID, c.Name, c.At, c.At)
		}
		for _, s := range l.Supports {
			put("support", s.ID, "", s.At, s.At)
		}
		for _, e := range l.Entries {
			put("entry", e.ID, "", e.At, e.At)
		}
		for _, z := range l.Zones {
			put("zone", z.ID, "", z.From, z.To)
		}
		for _, f := range l.Joints {
			put("joint", f.ID, "", f.At, f.At)
		}
		if l.Built != nil {
			put("built", l.ID, "", lastCourse(l.Built), lastCourse(l.Built))
		}
		for _, p := range j.Levels.Pins {
			if p.Leg == l.ID {
				put("pin", p.ID, "", p.At, p.At)
			}
		}
		for _, o := range j.Levels.Outlets {
			if o.Leg == l.ID {
				put("outlet", o.ID, "", o.At, o.At)
			}
		}
	}
	if len(out) == 0 {
		return nil
	}
	net, origin, faults := planner.Run(j)
	if faults.Any(finding.Fault) || len(net.Legs) != len(j.Route.Legs) {
		return nil
	}
	for i := range out {
		r := &out[i]
		line := net.Legs[slices.IndexFunc(j.Route.Legs, func(l job.Leg) bool { return l.ID == r.leg })].Line
		back := r.kind == "built" && laidBack(j, r.leg) // the others are measured from the from node
		for k, ch := range []measure.Length{r.from, r.to} {
			if back {
				ch = line.Length() - ch
			}
			c := origin.Coordinates(line.At(ch).At)
			r.at[k] = [2]float64{c.E.Metres(), c.N.Metres()}
		}
	}
	return out
}

// lastCourse is where the course of the last unit that lies starts, along the way the leg is laid.
func lastCourse(b *job.Built) measure.Length {
	for _, c := range b.Courses {
		if places, err := c.Places(); err == nil && slices.Contains(places, b.To) {
			return c.Start + measure.Length(slices.Index(places, b.To))*c.Pitch
		}
	}
	return 0
}

func laidBack(j job.Job, leg string) bool {
	i := slices.IndexFunc(j.Route.Legs, func(l job.Leg) bool { return l.ID == leg })
	l := j.Route.Legs[i]
	return l.LayFrom == l.To && l.LayFrom != "" && l.LayFrom != l.From
}

// same finds a thing again after the change: on its leg, or on one that its leg was parted into or joined with; -1: it is gone,
// or somebody typed another chainage.
func same(was *recorded, is []recorded, before, after job.Job) int {
	for k := range is {
		one := &is[k]
		switch {
		case one.kind != was.kind || one.id != was.id:
		case one.leg == was.leg:
			if one.from == was.from {
				return k
			}
			return -1
		case !hasLeg(before, one.leg) || !hasLeg(after, was.leg):
			return k
		}
	}
	return -1
}

func hasLeg(j job.Job, id string) bool {
	return slices.ContainsFunc(j.Route.Legs, func(l job.Leg) bool { return l.ID == id })
}

// off is how far a thing was carried; a stretch that was parted has only its start in common with what it was.
func off(was, is *recorded) measure.Length {
	far := func(k int) measure.Length {
		return measure.FromMetres(math.Hypot(is.at[k][0]-was.at[k][0], is.at[k][1]-was.at[k][1]))
	}
	if is.to-is.from != was.to-was.from {
		return far(0)
	}
	return max(far(0), far(1))
}

// saidCarried tells services by name, the worst first and no more than three, and the others by count.
func saidCarried(moved []recorded, s wording.Speech) string {
	slices.SortStableFunc(moved, func(a, b recorded) int { return cmp.Compare(b.off, a.off) })
	var parts []string
	for _, k := range carriedKinds {
		n, most := 0, measure.Length(0)
		for _, m := range moved {
			if m.kind != k.kind {
				continue
			}
			if k.kind == "service" && len(parts) < 3 {
				parts = append(parts, s.Say("%s on %s by %s", m.name, m.leg, wording.Far(m.off)))
				continue
			}
			n, most = n+1, max(most, m.off)
		}
		if n > 0 {
			words, upTo := k.one, ""
			if n > 1 {
				words, upTo = k.more, "up to "
			}
			if k.kind == "service" {
				words = "more " + words
			}
			parts = append(parts, fmt.Sprintf("%d %s by %s%s", n, words, upTo, s.Far(wording.Far(most))))
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return s.Say("measured along the leg, so moved in the ground with it: %s; measure again, or type the %s", strings.Join(parts, ", "), wording.Chainage)
}
