package dossier

import (
	"slices"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/view/table"
)

// levelled are what levels are recorded of, from the bottom up.
func levelled() []string { return []string{"formation", "drain", "bed", "pad", "invert", "wall"} }

// nameOf is what was levelled, in the job's words.
func (d *Dossier) nameOf(of string) string {
	switch of {
	case "formation":
		return d.word(wording.Formation)
	case "bed":
		return d.word(wording.Bed)
	case "pad":
		return d.word(wording.Pad)
	case "wall":
		return "wall top"
	}
	return of
}

// levelTables are a sheet for each thing that was levelled: four corners of each unit, planned, measured, differing.
func (d *Dossier) levelTables() []table.Table {
	var out []table.Table
	for _, of := range levelled() {
		t := table.Table{Name: "levels-" + of, Title: "Levels of " + d.nameOf(of), Columns: []table.Column{text("leg", "leg"), text("places", "places")}}
		for k, c := range corners {
			key := string('a' + rune(k))
			t.Columns = append(t.Columns, d.far(key, c+", planned"), d.far(key+"_measured", "measured"), d.near(key+"_off", "differs"))
		}
		t.Columns = append(t.Columns, text("said", "said"), d.near("plus", "known to"), text("person", "person"), text("with", "with"), text("set_up", "set-up"), text("records", "records"))
		t.Notes = []string{"start and end of the " + d.word(wording.Unit) + " " + d.word(wording.UpChainage) + ", left and right looking that way. differs: measured less planned, + too high. said: in words, without a figure",
			d.limitOf(of)}
		for _, l := range d.state.Legs {
			t.Rows = append(t.Rows, d.levelRows(l, of)...)
		}
		if len(t.Rows) > 0 {
			out = append(out, t)
		}
	}
	return out
}

// limitOf is what the contract allows, and where that stands.
func (d *Dossier) limitOf(of string) string {
	r := d.Job.Rules
	e := r.BedTol
	switch of {
	case "formation":
		e = r.FormationTol
	case "bed", "pad":
	case "wall":
		e = r.WallTol
	default:
		return "NOT CHECKED: no limit for this level on file. Ask: the engineer"
	}
	if !e.Known {
		return "NOT CHECKED: no tolerance of it on file. Ask: the engineer"
	}
	from := e.From
	if from == "" {
		from = r.From
	}
	return "the contract allows " + d.size(e.Value) + " either way (" + from + ")"
}

var corners = [4]string{"start left", "start right", "end left", "end right"}

// levelRows are the levels of one thing on a leg; neighbours of which the same was said in words stand in one row.
func (d *Dossier) levelRows(l field.LegState, of string) [][]table.Cell {
	var rows [][]table.Cell
	var spoken []int // units of which the same records say the same
	var now field.Fact
	flush := func() {
		if len(spoken) == 0 {
			return
		}
		word := map[field.Answer]string{field.Yes: "within", field.No: "not within", field.CantSay: string(field.CantSay)}[now.Is]
		row := append([]table.Cell{table.Text(l.ID), table.Text(places(l.Units, spoken))}, make([]table.Cell, 12)...)
		rows, spoken = append(rows, append(append(row, table.Text(word), table.Cell{}), d.tail(now.By)...)), nil
	}
	for i, u := range l.Units {
		for _, v := range u.Levels {
			if v.Of != of {
				continue
			}
			if v.Four == [4]*field.Measured{} {
				if len(v.Said.By) == 0 {
					continue
				}
				if len(spoken) > 0 && (now.Is != v.Said.Is || !slices.Equal(now.By, v.Said.By)) {
					flush()
				}
				spoken, now = append(spoken, i), v.Said
				continue
			}
			flush()
			rows = append(rows, d.fourRow(l, i, u, v))
		}
	}
	flush()
	return rows
}

// fourRow is one unit with its corners.
func (d *Dossier) fourRow(l field.LegState, i int, u *field.UnitState, v field.LevelState) []table.Cell {
	want := d.wanted(l.Units, i, v.Of)
	row := []table.Cell{table.Text(l.ID), table.Text(u.Place)}
	var ids []string
	plus := measure.Length(0)
	for k, m := range v.Four {
		cells := []table.Cell{long(want[k]), {}, {}}
		switch {
		case m == nil:
		case !m.Known:
			cells[1] = table.Text(string(field.CantSay))
		default:
			cells[1], plus = table.Length(m.Value), max(plus, m.Plus)
			if want[k] != nil {
				cells[2] = table.Length(m.Value - *want[k])
			}
		}
		if m != nil {
			for _, r := range m.Readings {
				ids = append(ids, r.By)
			}
		}
		row = append(row, cells...)
	}
	word := table.Cell{}
	if v.Said.Is == field.Yes {
		word, ids = table.Text("within"), append(ids, v.Said.By...)
	}
	return append(append(row, word, thick(plus)), d.tail(ids)...)
}

// tail is who measured, with what, from which set-up, in which records.
func (d *Dossier) tail(ids []string) []table.Cell {
	ids = once(ids)
	instrument, setUp := "", ""
	if len(ids) > 0 {
		if r := d.behind(ids[0]); r.Instrument != nil {
			instrument, setUp = with(r), r.Instrument.SetUp
		}
	}
	return []table.Cell{said(d.people(ids)), said(instrument), said(setUp), said(d.refs(ids))}
}

// wanted are the planned levels at the four corners of a unit, as those had them who read them there; nil where the plan has none.
func (d *Dossier) wanted(units []*field.UnitState, i int, of string) [4]*measure.Length {
	var out [4]*measure.Length
	end, okEnd := d.ending(units, i)
	start, okStart := d.beginning(units, i)
	if okStart {
		out[0], out[1] = behindJoint(start, of)
	}
	if okEnd {
		out[2], out[3] = beforeJoint(end, of)
	}
	for k := range out {
		out[k] = units[i].Should(of, k, out[k])
	}
	return out
}

// behindJoint are the levels left and right, looking up-chainage, of the unit that begins at a place.
func behindJoint(r planner.SetOut, of string) (left, right *measure.Length) {
	l := r.Levels
	if l == nil {
		return nil, nil
	}
	return across(l.Of(of), l.Walls[2], l.Walls[3])
}

// beforeJoint are those of the unit that ends there.
func beforeJoint(r planner.SetOut, of string) (left, right *measure.Length) {
	l := r.Levels
	if l == nil {
		return nil, nil
	}
	z := l.Of(of)
	if b := l.Before; b != nil {
		z = (&planner.Levels{Wall: b.Wall, Underside: b.Underside, PadTop: b.PadTop, PadBase: b.PadBase, UnderPad: b.UnderPad, Formation: b.Formation, Invert: b.Invert, Drain: l.Drain}).Of(of)
	}
	return across(z, l.Walls[0], l.Walls[1])
}

// across is a level on both sides: it falls across as the walls above it do.
func across(z, leftWall, rightWall *float64) (left, right *measure.Length) {
	if z == nil {
		return nil, nil
	}
	cross := 0.0
	if leftWall != nil && rightWall != nil {
		cross = *rightWall - *leftWall
	}
	return level(z), new(measure.FromMetres(*z + cross))
}
