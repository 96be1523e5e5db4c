package schedule

import (
	"cmp"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/view/table"
)

// Thing is one thing that the job puts on the run, with what the table says of it.
type Thing struct {
	Kind, Leg, ID string // crossing, entry, support, zone, forced, pin, outlet
	At            measure.Length

	what, note         string
	to                 *measure.Length
	wide, clear, every measure.Length
	skew               measure.Angle
	side               string
	level              *float64 // m
}

// Things are what is put on the run, leg by leg along it. Services are not among them: they have a table of their own.
func (s Set) Things() []Thing {
	var out []Thing
	for _, l := range s.legs {
		from := len(out)
		for _, c := range l.Crossings {
			t := Thing{Kind: "crossing", Leg: l.ID, ID: c.ID, At: c.At, what: c.Name, wide: c.Path, clear: c.Margin, skew: c.Skew}
			if c.Supply != "" {
				t.note = s.say("asks for supply %s, %s beyond its path", c.Supply, c.Reach)
			}
			if c.Vehicle != "" {
				t.note = join(t.note, c.Vehicle)
			}
			if c.MayCut {
				t.note = join(t.note, "cut pieces may lie under it")
			}
			out = append(out, t)
		}
		for _, e := range l.Entries {
			t := Thing{Kind: "entry", Leg: l.ID, ID: e.ID, At: e.At, what: "conduit", wide: e.Diameter, clear: e.Clear, side: e.Side}
			if e.Level != 0 {
				t.note = s.say("its middle %s above the underside", e.Level)
			} else if e.Side != "floor" {
				t.note = "NOT CHECKED: no height of conduit " + e.ID + " on file. Ask: whoever designs the cables"
			}
			out = append(out, t)
		}
		for _, v := range l.Supports {
			out = append(out, Thing{Kind: "support", Leg: l.ID, ID: v.ID, At: v.At, wide: v.Width, clear: v.Clear, every: v.Every})
		}
		for _, z := range l.Zones {
			out = append(out, Thing{Kind: "zone", Leg: l.ID, ID: z.ID, At: z.From, to: &z.To, what: z.Why})
		}
		for _, f := range l.Joints {
			out = append(out, Thing{Kind: "forced", Leg: l.ID, ID: f.ID, At: f.At, what: f.Why, note: s.say("may stand off by %s", f.Tol)})
		}
		for _, p := range s.levels.Pins {
			if p.Leg == l.ID {
				of := map[string]string{"wall": "wall top", "invert": "invert"}[p.Of]
				out = append(out, Thing{Kind: "pin", Leg: l.ID, ID: p.ID, At: p.At, what: p.Why, level: new(p.Level * s.metre()), note: "of " + cmp.Or(of, "top of cover")})
			}
		}
		for _, o := range s.levels.Outlets {
			if o.Leg == l.ID {
				out = append(out, Thing{Kind: "outlet", Leg: l.ID, ID: o.ID, At: o.At, what: o.Into})
			}
		}
		slices.SortStableFunc(out[from:], func(a, b Thing) int { return cmp.Compare(a.At, b.At) })
	}
	return out
}

// metre is how many metres one unit of the job's coordinates has.
func (s Set) metre() float64 {
	switch s.coordinates {
	case job.CoordFeet:
		return 0.3048
	case job.CoordUSSurvey:
		return 1200.0 / 3937
	}
	return 1
}

// thingKinds are the kinds in words.
var thingKinds = map[string]string{"entry": "conduit entry", "forced": "joint asked for"}

// OnTheRun is the table of what is put on the run; none where nothing is.
func (s Set) OnTheRun() []table.Table {
	all := s.Things()
	if len(all) == 0 {
		return nil
	}
	t := table.Table{Name: "things", Title: "What crosses the run or stands on it", Columns: []table.Column{
		text("leg", "leg"), text("id", "id"), text("kind", "kind"), text("what", "what it is"), s.surveyed("at", s.speech.Word(wording.Chainage)), s.surveyed("to", "to"),
		s.length("wide", "wide"), angle("skew", "angle to the run"), text("side", "side"), s.length("clear", "no joint within"), s.length("every", "again every")}}
	t.Columns = append(append(t.Columns, s.level("level", "level")...), text("note", "look at"))
	t.Notes = s.notes(s.say("as declared; %s of its middle, of a zone from its start, along the leg from its first node. %s have a table of their own", wording.Chainage, capital(s.speech.Word(wording.Services))),
		"no joint within: from its edge, each way")
	t.Notes = append(t.Notes, s.ownUnits()...)
	some := func(l measure.Length) table.Cell {
		if l == 0 {
			return table.Cell{}
		}
		return table.Length(l)
	}
	for _, x := range all {
		to, skew := table.Cell{}, table.Cell{}
		if x.to != nil {
			to = table.Length(*x.to)
		}
		if x.skew != 0 {
			skew = table.Angle(x.skew)
		}
		row := []table.Cell{table.Text(x.Leg), table.Text(x.ID), table.Text(cmp.Or(thingKinds[x.Kind], x.Kind)), said(x.what), table.Length(x.At), to, some(x.wide), skew, said(x.side), some(x.clear), some(x.every)}
		t.Rows = append(t.Rows, append(append(row, s.levelCell(x.level)...), said(x.note)))
	}
	return []table.Table{t}
}
