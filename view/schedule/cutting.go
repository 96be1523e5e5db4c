package schedule

import (
	"fmt"

	"trenchwright/base/measure"
	"trenchwright/job/planner"
	"trenchwright/view/table"
)

// Cutting is the cutting list: every bought unit that is sawn, the pieces that come from it and what is left.
func (s Set) Cutting() table.Table {
	t := table.Table{Name: "cutting", Title: "Cutting list", Columns: []table.Column{
		text("from", "from"), text("of", "of"), s.length("stock", "stock"), text("mark", "mark"),
		s.length("station", "station from end A"), s.length("length", "length on axis"),
		s.length("left", "left side"), s.length("right", "right side"),
		angle("start", "angle at start"), angle("end", "angle at end"), text("kept", "end as cast"), s.mass("mass", "mass"), text("note", "note"),
	}}
	pieces := s.pieces()
	proof := []string{}
	for _, c := range s.plan.Cutting {
		proof = append(proof, fmt.Sprintf("supply %s, %s: %s", c.Supply, c.Of, c.Text))
		for _, p := range c.Patterns {
			for _, k := range p.Pieces {
				t.Rows = append(t.Rows, cuttingRow(c, p, k, pieces[k.Mark]))
			}
			for _, o := range p.Left {
				t.Rows = append(t.Rows, []table.Cell{table.Text(p.Name), table.Text(c.Of), mm(p.Stock), table.Text(o.Mark), mm(o.From), mm(o.To - o.From),
					{}, {}, {}, {}, {}, {}, table.Text("offcut: keep, paint its mark")})
			}
		}
	}
	for _, u := range s.plan.Units {
		if u.Hold {
			t.Rows = append(t.Rows, []table.Cell{table.Text("whole unit"), table.Text("units"), mm(u.Stock), table.Text(u.Mark), {}, mm(u.Length), {}, {}, deg(u.StartAngle), deg(u.EndAngle), {}, kilos(u.Mass),
				table.Text("HOLD, cut from measurement: the length is what the plan expects")})
		}
	}
	t.Notes = s.notes(append(proof, "angles are how far a cut is from square; + and - are its hand, drawn on its cut card", "cut pieces do not inherit a load rating unless the supplier says so")...)
	return t
}

func cuttingRow(c planner.Cutting, p planner.CutPattern, k planner.CutPlace, w piece) []table.Cell {
	note := w.note
	if k.Turned {
		note = join(note, "lies turned on the unit: its end is towards end A")
	}
	return []table.Cell{table.Text(p.Name), table.Text(c.Of), mm(p.Stock), table.Text(k.Mark), mm(k.From), mm(k.To - k.From),
		mm(w.left), mm(w.right), deg(w.start), deg(w.end), table.Text(w.kept), kilos(w.mass), table.Text(note)}
}

// piece is what the list says of a cut unit or cover.
type piece struct {
	left, right measure.MM
	start, end  float64
	kept, note  string
	mass        *float64
}

func (s Set) pieces() map[string]piece {
	out := map[string]piece{}
	for _, u := range s.plan.Units {
		if u.Piece == nil {
			continue
		}
		w := piece{left: u.Piece.LeftSide, right: u.Piece.RightSide, start: u.StartAngle, end: u.EndAngle, kept: u.Piece.KeptEnd, mass: u.Mass}
		for _, c := range u.Piece.CutThings {
			w.note = join(w.note, c)
		}
		out[u.Mark] = w
	}
	for _, c := range s.plan.Covers {
		if c.Cut {
			out[c.Mark] = piece{left: c.LeftSide, right: c.RightSide, start: c.StartAngle, end: c.EndAngle, mass: c.Mass}
		}
	}
	return out
}

func join(a, b string) string {
	if a == "" {
		return b
	}
	return a + "; " + b
}
