package drawing

import (
	"fmt"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
)

// thing is something that lies across or beside a leg and that a gang has to know of.
type thing struct {
	leg   int
	kind  string // crossing, entry, service, support, zone, tee, joint
	id    string
	words string
	at    float64 // station of its middle on the laying axis, mm
	spans []span  // where it forbids joints
	side  string  // of an entry: left, right, floor
	wide  float64 // of a crossing's path or a service, square to itself, mm; 0: a point
	skew  float64 // between the run and what crosses, degrees
}

// span is a stretch of a laying axis in mm.
type span struct{ from, to float64 }

// thingsAlong finds everything along the legs: what the job declares, and whatever else the plan keeps free of joints.
func (d *draft) thingsAlong() []thing {
	var all []thing
	for i, l := range d.plan.Legs {
		first := len(all)
		all = append(all, d.declared(i, d.asked[l.Name])...)
		for _, z := range d.plan.Zones {
			if z.Leg == l.Name {
				all = gather(all, first, i, z)
			}
		}
	}
	return all
}

// gather adds a zone to the thing that it comes from, or as a thing of its own.
func gather(all []thing, first, leg int, z planner.Zone) []thing {
	s := span{mm(z.From), mm(z.To)}
	for k := first; k < len(all); k++ {
		if all[k].kind == z.Kind && all[k].id == z.ID {
			all[k].spans = append(all[k].spans, s)
			return all
		}
	}
	return append(all, thing{leg: leg, kind: z.Kind, id: z.ID, words: z.Why, at: (s.from + s.to) / 2, spans: []span{s}})
}

func (d *draft) declared(leg int, l job.Leg) []thing {
	head := d.plan.Legs[leg]
	station := func(at measure.Length) float64 { return stationAt(head, at.Millimetres()) }
	say := func(l measure.Length) string { return d.style.Format.Length(l) }
	var out []thing
	for _, c := range l.Crossings {
		name := c.Name
		if name == "" {
			name = "crossing " + c.ID
		}
		t := thing{leg: leg, kind: "crossing", id: c.ID, at: station(c.At), wide: c.Path.Millimetres(), skew: square(c.Skew),
			words: fmt.Sprintf("%s, path %s", name, say(c.Path))}
		if c.Skew != 0 && c.Skew != 90*measure.Degree {
			t.words += " at " + angle(c.Skew.Degrees())
		}
		out = append(out, t)
	}
	for _, s := range l.Services {
		depth := "depth " + notChecked
		if s.Depth != nil {
			depth = say(*s.Depth) + " deep"
		}
		if s.Level != nil {
			depth = fmt.Sprintf("top at level %.3f", *s.Level)
		}
		out = append(out, thing{leg: leg, kind: "service", id: s.ID, at: station(s.At), wide: s.Width.Millimetres(), skew: square(s.Skew),
			words: s.Name + ", " + depth})
	}
	for _, e := range l.Entries {
		out = append(out, thing{leg: leg, kind: "entry", id: e.ID, at: station(e.At), side: e.Side, wide: e.Diameter.Millimetres(), skew: 90,
			words: fmt.Sprintf("conduit %s, %s %s", e.ID, say(e.Diameter), entrySide(e))})
	}
	for _, s := range l.Supports {
		words := "support " + s.ID
		if s.Every > 0 {
			words = fmt.Sprintf("supports %s, every %s", s.ID, say(s.Every))
		}
		out = append(out, thing{leg: leg, kind: "support", id: s.ID, at: station(s.At), words: words})
	}
	for _, z := range l.Zones {
		out = append(out, thing{leg: leg, kind: "zone", id: z.ID, at: station((z.From + z.To) / 2), words: z.Why})
	}
	for _, f := range l.Joints {
		out = append(out, thing{leg: leg, kind: "joint", id: f.ID, at: station(f.At), words: joined(": ", "joint asked for", f.Why)})
	}
	return out
}

// entrySide is where a conduit comes in.
func entrySide(e job.ConduitEntry) string {
	if e.Side == "floor" {
		return "in the floor"
	}
	return "on the " + e.Side
}

// square is a skew in degrees, 90 where none was said.
func square(a measure.Angle) float64 {
	if a == 0 {
		return 90
	}
	return a.Degrees()
}
