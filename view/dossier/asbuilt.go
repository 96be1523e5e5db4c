package dossier

import (
	"cmp"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/view/table"
)

// farEnd is where a unit ends as it is laid: the place of the set-out, the unit of the state that has the gap there (below 0: there
// is none), and the corner of its levels on the left. A leg that is laid from its to node runs against its chainage.
type farEnd struct {
	row    planner.SetOut
	known  bool
	gap    int
	corner int
	sign   measure.Length // of the chainage, along the laying
}

func (d *Dossier) farEnd(l field.LegState, i int) farEnd {
	out := farEnd{gap: i, corner: 2, sign: 1}
	if d.back[l.ID] {
		out.gap, out.corner, out.sign = i-1, 0, -1
		out.row, out.known = d.beginning(l.Units, i)
	} else {
		out.row, out.known = d.ending(l.Units, i)
	}
	if out.gap >= 0 && d.next[l.Units[out.gap].Place] == "" {
		out.gap = -1
	}
	return out
}

// moved is how far the place that whoever measured the far end held it against is from where this plan has it, and how far the end is
// off that place; both up-chainage. An answer that was taken since has what lies where it was measured: what was planned is what people
// had as they laid it.
func (f farEnd) moved(u *field.UnitState) (held, by measure.Length) {
	if !known(u.End) {
		return 0, 0
	}
	return f.sign * (*u.Ahead - u.End.Value), f.sign * u.End.Value
}

// builtTable is a leg joint by joint as it is laid: planned and measured side by side. What nobody measured stays empty.
func (d *Dossier) builtTable(l field.LegState) table.Table {
	t := table.Table{Name: "as-built-" + l.ID, Title: "Leg " + l.ID + ", in laying order", Columns: []table.Column{
		text("place", "place"), text("set", "set"), text("batch", "batch"), text("joint", "far end"),
		d.far("chainage", d.word(wording.Chainage)+", planned"), d.far("chainage_measured", "measured"), d.near("chainage_off", "differs"),
		d.near("gap", "gap, planned"), d.near("left", "left"), d.near("right", "right"), d.near("gap_off", "differs"),
		text("of", "level of"), d.far("level", "planned"), d.far("level_measured", "measured"), d.near("level_off", "differs"),
		text("person", "person"), text("with", "with"), text("records", "records"),
	}}
	t.Notes = []string{
		"far end: where the next one is laid on. differs: measured less planned; + of a " + d.word(wording.Chainage) + " is further " + d.word(wording.UpChainage) + ", of a gap wider (mean of left and right), of a level higher",
		"level: at the far end, on the left. An empty cell was not measured; within: said without a figure",
		"planned: as those had it who measured; empty where an answer was taken since and nobody measured",
		"records: device/number of the record; all of them stand in records.ndjson as they came",
	}
	for i, u := range l.Units {
		t.Rows = append(t.Rows, d.builtRow(l, i, u))
	}
	if d.back[l.ID] {
		slices.Reverse(t.Rows)
	}
	return t
}

func (d *Dossier) builtRow(l field.LegState, i int, u *field.UnitState) []table.Cell {
	ids := append([]string(nil), u.Set.By...)
	row := []table.Cell{table.Text(u.Place), table.Text(settled(u)), said(u.Batch)}
	end := d.farEnd(l, i)
	at, measured, off := table.Cell{}, table.Cell{}, table.Cell{}
	if end.known {
		held, by := end.moved(u)
		planned := measure.Length(end.row.Chainage) + held
		if known(u.End) || !d.fixed(l, i) {
			at = table.Length(planned)
		}
		if known(u.End) {
			measured, off = table.Length(planned+by), table.Length(by)
			ids = append(ids, u.End.Readings[0].By)
		} else if u.End == nil && u.Within {
			off = table.Text("within")
		}
	}
	row = append(row, said(end.row.Place), at, measured, off)
	row = append(row, d.gapCells(l, end.gap, &ids)...)
	row = append(row, d.endLevelCells(l.Units, i, end.corner, &ids)...)
	ids = once(ids)
	instrument := ""
	for _, id := range ids {
		if w := with(d.behind(id)); w != "" && instrument == "" {
			instrument = w
		}
	}
	return append(row, said(d.people(ids)), said(instrument), said(d.refs(ids)))
}

// settled is whether a unit is set, in a word.
func settled(u *field.UnitState) string {
	switch {
	case u.Damaged.Is == field.Yes:
		return string(u.Set.Is) + ", damaged"
	case u.Set.Is == "":
		return string(field.No)
	}
	return string(u.Set.Is)
}

// gapCells are the gap between a unit and the next one up the leg: planned, left, right, and by how much the mean differs.
func (d *Dossier) gapCells(l field.LegState, i int, ids *[]string) []table.Cell {
	cells := make([]table.Cell, 4)
	if i < 0 {
		return cells
	}
	u := l.Units[i]
	j, ok := d.joints[u.Place+"/"+d.next[u.Place]]
	planned := measure.Length(j.Gap)
	if then := cmp.Or(u.Left.Should(nil), u.Right.Should(nil)); then != nil {
		planned, ok = *then, true
	} else {
		ok = ok && !(d.fixed(l, i) && i+1 < len(l.Units) && d.fixed(l, i+1))
	}
	if ok {
		cells[0] = table.Length(planned)
	}
	for k, m := range []*field.Measured{u.Left, u.Right} {
		switch {
		case m == nil:
		case !m.Known:
			cells[1+k] = table.Text(string(field.CantSay))
		default:
			cells[1+k] = table.Length(m.Value)
			*ids = append(*ids, m.Readings[0].By)
		}
	}
	if ok && u.Left != nil && u.Right != nil && u.Left.Known && u.Right.Known {
		cells[3] = table.Length((u.Left.Value+u.Right.Value)/2 - planned)
	}
	return cells
}

// endLevelCells are what was levelled at one corner of a unit: the wall where that was, else what it stands on.
func (d *Dossier) endLevelCells(units []*field.UnitState, i, corner int, ids *[]string) []table.Cell {
	cells, u := make([]table.Cell, 4), units[i]
	for _, of := range []string{"wall", "pad", "bed", "invert"} {
		for _, l := range u.Levels {
			if l.Of != of {
				continue
			}
			cells[0] = table.Text(d.nameOf(of))
			want := d.wanted(units, i, of)[corner]
			cells[1] = long(want)
			if m := l.Four[corner]; m != nil && m.Known {
				cells[2] = table.Length(m.Value)
				if want != nil {
					cells[3] = table.Length(m.Value - *want)
				}
				*ids = append(*ids, m.Readings[0].By)
			} else if l.Said.Is == field.Yes {
				cells[3] = table.Text("within")
				*ids = append(*ids, l.Said.By...)
			}
			return cells
		}
	}
	return cells
}

// said is a text, or nothing.
func said(s string) table.Cell {
	if s == "" {
		return table.Cell{}
	}
	return table.Text(s)
}

// once is a list with each of its members once, in its order.
func once(ids []string) []string {
	seen := map[string]bool{}
	var out []string
	for _, id := range ids {
		if !seen[id] {
			seen[id] = true
			out = append(out, id)
		}
	}
	return out
}
