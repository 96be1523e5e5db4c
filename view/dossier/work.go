package dossier

import (
	"fmt"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/field"
	"trenchwright/view/table"
)

// layerTables are the fill, layer by layer: where it was placed, and where a test met its limit.
func (d *Dossier) layerTables() []table.Table {
	t := table.Table{Name: "layers", Title: capital(d.word(wording.Layers)) + " beside the " + d.word(wording.Units), Columns: []table.Column{
		text("leg", "leg"), text("places", "places"), count("number", d.word(wording.Layer)), text("side", "side"), text("placed", "placed"), text("met", "test met"),
		text("placed_by", "placed: records"), text("tested_by", "test: records"), text("person", "person"),
	}}
	t.Notes = []string{d.word(wording.Layers) + " counted from the bottom; no test: nothing recorded here"}
	for _, l := range d.state.Legs {
		t.Rows = append(t.Rows, d.layerRows(l)...)
	}
	return []table.Table{t, d.placedTable()}
}

// layerRows are the layers of a leg; neighbours with the same records stand in one row.
func (d *Dossier) layerRows(l field.LegState) [][]table.Cell {
	type run struct {
		layer      field.LayerState
		first, end int
	}
	var runs []*run
	open := map[string]*run{}
	for i, u := range l.Units {
		now := map[string]*run{}
		for _, y := range u.Layers {
			key := fmt.Sprint(y.Number, y.Side, y.Placed, y.Met)
			r := open[key]
			if r == nil {
				r = &run{layer: y, first: i}
				runs = append(runs, r)
			}
			r.end = i
			now[key] = r
		}
		open = now
	}
	var rows [][]table.Cell
	for _, r := range runs {
		where := l.Units[r.first].Place
		if r.end > r.first {
			where += " to " + l.Units[r.end].Place
		}
		met := string(r.layer.Met.Is)
		if met == "" || r.layer.Met.Is == field.No && len(r.layer.Met.By) == 0 {
			met = "no test"
		}
		rows = append(rows, []table.Cell{table.Text(l.ID), table.Text(where), table.Count(r.layer.Number), table.Text(r.layer.Side), table.Text(string(r.layer.Placed.Is)), table.Text(met),
			said(d.refs(r.layer.Placed.By)), said(d.refs(r.layer.Met.By)), said(d.people(append(append([]string(nil), r.layer.Placed.By...), r.layer.Met.By...)))})
	}
	return rows
}

// placedTable is how the fill was placed and tested, record by record.
func (d *Dossier) placedTable() table.Table {
	t := table.Table{Name: "layers-placed", Title: "How it was placed and tested, by record", Columns: []table.Column{
		text("day", "day"), text("places", "places"), text("what", "what"), count("number", d.word(wording.Layer)), text("side", "side"), d.near("thick", "thick"), text("how", "how"), text("value", "value"),
		text("limit", "limit"), text("met", "met"), text("person", "person"), text("record", "record"), text("stands", "stands"),
	}}
	for _, r := range d.all {
		switch r.Kind {
		case field.Layer:
			if s, ok := field.SaysOf[field.LayerSays](&r); ok {
				how := s.Plant
				if s.Passes > 0 {
					how = strings.TrimPrefix(fmt.Sprintf("%s, %d passes", how, s.Passes), ", ")
				}
				t.Rows = append(t.Rows, []table.Cell{table.Text(day(r)), said(stretch(r)), table.Text("placed"), table.Count(s.Number), said(s.Side), thick(s.Thick), said(how), {}, {}, {}, said(r.Person), table.Text(ref(r)), table.Text(d.stands(r))})
			}
		case field.LayerTest:
			if s, ok := field.SaysOf[field.TestSays](&r); ok {
				t.Rows = append(t.Rows, []table.Cell{table.Text(day(r)), said(stretch(r)), table.Text("tested"), table.Count(s.Number), said(s.Side), {}, said(s.Method), said(s.Value), said(s.Limit), table.Text(met(s.Met)), said(r.Person), table.Text(ref(r)), table.Text(d.stands(r))})
			}
		}
	}
	return t
}

func thick(l measure.Length) table.Cell {
	if l == 0 {
		return table.Cell{}
	}
	return table.Length(l)
}

func met(m *bool) string {
	switch {
	case m == nil:
		return "not told"
	case *m:
		return "yes"
	}
	return "no"
}

// stands is whether a record still holds, or which took its place.
func (d *Dossier) stands(r field.Record) string {
	if o, ok := d.book.Correction(r.ID); ok {
		return "corrected by " + ref(o)
	}
	return "yes"
}

// coverTables are which covers lie.
func (d *Dossier) coverTables() []table.Table {
	t := table.Table{Name: "covers", Title: "Covers" + ", by " + d.word(wording.Unit), Columns: []table.Column{
		text("leg", "leg"), text("place", "place"), count("planned", "planned"), count("laid", "laid"), text("open", "not laid, or not told"), text("tests", "tests: records"), text("person", "person"), text("records", "records"),
	}}
	for _, l := range d.state.Legs {
		for _, u := range l.Units {
			laid, open := 0, []string{}
			var ids []string
			for _, c := range u.Covers {
				if c.Laid.Is == field.Yes {
					laid++
				} else {
					open = append(open, c.Place)
				}
				ids = append(ids, c.Laid.By...)
			}
			if len(u.Covers) == 0 {
				continue
			}
			ids = once(ids)
			t.Rows = append(t.Rows, []table.Cell{table.Text(l.ID), table.Text(u.Place), table.Count(len(u.Covers)), table.Count(laid), said(strings.Join(open, ", ")),
				said(d.refs(u.Evidence[field.CoverTest])), said(d.people(ids)), said(d.refs(ids))})
		}
	}
	return []table.Table{t}
}

// testTable is what else was recorded at places: bonds, fabric, entries, parts, rock and packers, pieces that were cut, areas that
// changed hands, places that were shot.
func (d *Dossier) testTable() table.Table {
	t := table.Table{Name: "at-places", Title: "Bonds, tests, fabric, entries, parts, pieces cut, areas handed over", Columns: []table.Column{
		text("day", "day"), text("kind", "kind"), text("places", "places"), text("what", "what it says"), text("person", "person"), text("with", "with"), text("record", "record"), text("stands", "stands"),
	}}
	for _, r := range d.all {
		switch r.Kind {
		case field.Bond, field.CoverTest, field.Fabric, field.Entry, field.Part, field.Rock, field.Cut, field.Area, field.Shot, field.Damage:
			t.Rows = append(t.Rows, []table.Cell{table.Text(day(r)), table.Text(string(r.Kind)), said(stretch(r)), said(d.says(r)), said(r.Person), said(with(r)), table.Text(ref(r)), table.Text(d.stands(r))})
		}
	}
	return t
}

// says is what a record of a kind without a table of its own says, in words.
func (d *Dossier) says(r field.Record) string {
	var parts []string
	add := func(form string, args ...any) { parts = append(parts, fmt.Sprintf(form, args...)) }
	switch r.Kind {
	case field.Bond, field.CoverTest:
		if s, ok := field.SaysOf[field.TestSays](&r); ok {
			add("%s", strings.TrimSpace(s.Method+" "+s.Value))
			if s.Limit != "" {
				add("limit %s", s.Limit)
			}
			add("met: %s", met(s.Met))
		}
	case field.Rock:
		if s, ok := field.SaysOf[field.RockSays](&r); ok {
			four, read := field.AtCorners(s.Four, s.Read)
			for i, c := range field.Corners {
				switch {
				case read[i]:
					add("%s %s", c, d.size(four[i]))
				case len(s.Four) > 0:
					add("%s not read", c)
				}
			}
			if s.Packer != nil {
				add("%s %s at %s", d.word(wording.Pad), d.size(*s.Packer), s.Corner)
			}
		}
	case field.Cut:
		if s, ok := field.SaysOf[field.CutSays](&r); ok {
			wall := func(l *measure.Length) string {
				if l == nil {
					return "not read"
				}
				return d.size(*l)
			}
			add("%s cut from %s: left %s, right %s", s.Mark, s.From.Name(d.planSize), wall(s.Left), wall(s.Right))
			if s.Kept != "" {
				add("end of that one that it kept: %s", s.Kept)
			}
			if s.Offcut > 0 {
				add("offcut %s", d.size(s.Offcut))
			}
			if s.Spoiled {
				add("spoiled")
			}
		}
	case field.Area:
		if s, ok := field.SaysOf[field.AreaSays](&r); ok {
			add("to %s", strings.Join(nonempty(s.To, prefixed("by ", s.By), s.Condition), ", "))
			if s.Keys > 0 {
				add("with %d keys", s.Keys)
			}
			if s.Spares != "" {
				add("with %s", s.Spares)
			}
		}
	case field.Part:
		if s, ok := field.SaysOf[field.PartSays](&r); ok {
			add("%d × %s", s.Count, s.Name)
		}
	case field.Damage:
		if s, ok := field.SaysOf[field.DamageSays](&r); ok {
			add("%s", map[bool]string{true: "usable as it is", false: "not usable"}[s.Usable])
		}
	case field.Shot:
		if s, ok := field.SaysOf[field.ShotSays](&r); ok {
			add("%s at E %s N %s, level %s", s.Of, d.speech.Say("%s", wording.Far(s.Easting)), d.speech.Say("%s", wording.Far(s.Northing)), d.speech.Say("%s", wording.Far(s.Level)))
		}
	}
	if r.Text != "" {
		add("%s", r.Text)
	}
	return strings.Join(parts, "; ")
}
