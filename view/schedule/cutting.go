package schedule

import (
	"fmt"
	"math"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/planner"
	"trenchwright/view/table"
)

// Cutting is the cutting list: every bought unit and cover that is sawn, the pieces that come from it and what is left;
// last the closers on hold, which are ordered whole.
func (s Set) Cutting() table.Table {
	t := table.Table{Name: "cutting", Title: "Cutting list", Columns: []table.Column{
		text("from", "cut from"), text("supply", "supply"), text("of", "of"), s.length("stock", "its length"), text("mark", "mark"), text("what", "what"),
		s.length("station", "from end A"), s.length("to", "to"), s.length("length", "length on axis"), s.length("left", "left side"), s.length("right", "right side"),
		angle("start", "angle at start"), angle("end", "angle at end"), text("kept", "end as cast"), text("turned", "turned"),
		s.length("diagonal_a", "diagonal, left start to right end"), s.length("diagonal_b", "diagonal, right start to left end"),
		s.mass("mass", "mass"), text("lift", "lifting"), text("note", "look at"),
	}}
	pieces := s.pieces()
	var proof []string
	for _, c := range s.plan.Cutting {
		proof = append(proof, fmt.Sprintf("supply %s: %s", c.Supply, c.Text))
		for _, p := range c.Patterns {
			for _, k := range p.Pieces {
				t.Rows = append(t.Rows, s.pieceRow(c, p, k, pieces[k.Mark]))
			}
			for _, o := range p.Left {
				t.Rows = append(t.Rows, s.offcutRow(c, p, o))
			}
		}
	}
	for _, u := range s.plan.Units {
		if u.Hold {
			t.Rows = append(t.Rows, s.heldRow(u, pieces[u.Mark]))
		}
	}
	t.Notes = s.notes(append(proof, s.handNote(), "turned: the piece lies with its end towards end A; cut pieces do not inherit a load rating unless the supplier says so")...)
	return t
}

// handNote says what the sign of an angle means.
func (s Set) handNote() string {
	return s.say("angles are how far a face is from square, looking %s", wording.UpChainage) +
		": + where it leans forward on the left, so that the left side is long at an end and the right side at a start; - the other way"
}

// of is what is cut, in the job's words.
func (s Set) of(kind string) string {
	if kind == "units" {
		return s.units()
	}
	return kind
}

func (s Set) pieceRow(c planner.Cutting, p planner.CutPattern, k planner.CutPlace, w piece) []table.Cell {
	return []table.Cell{table.Text(p.Name), table.Text(c.Supply), table.Text(s.of(c.Of)), mm(p.Stock), table.Text(k.Mark), table.Text("piece"),
		mm(k.From), mm(k.To), mm(k.To - k.From), mm(w.left), mm(w.right), deg(w.start), deg(w.end), said(w.kept), yes(k.Turned, "turned"),
		w.diagonalA, w.diagonalB, kilos(w.mass), said(w.lift), said(w.note)}
}

func (s Set) offcutRow(c planner.Cutting, p planner.CutPattern, o planner.LeftOver) []table.Cell {
	note := "too short to use"
	if o.Usable {
		note = "keep, paint its mark"
	}
	row := []table.Cell{table.Text(p.Name), table.Text(c.Supply), table.Text(s.of(c.Of)), mm(p.Stock), table.Text(o.Mark), table.Text("offcut"), mm(o.From), mm(o.To), mm(o.To - o.From)}
	return append(append(row, make([]table.Cell, 10)...), table.Text(note))
}

func (s Set) heldRow(u planner.Unit, w piece) []table.Cell {
	return []table.Cell{table.Text("whole, from the order"), table.Text(u.Supply), table.Text(s.units()), mm(u.Stock), table.Text(u.Mark), table.Text("HOLD"), {}, {}, mm(u.Length),
		mm(w.left), mm(w.right), deg(u.StartAngle), deg(u.EndAngle), said(w.kept), {}, w.diagonalA, w.diagonalB, kilos(u.Mass), said(w.lift),
		table.Text("HOLD, cut from measurement: the lengths are what the plan expects")}
}

// piece is what the list says of a cut unit or cover.
type piece struct {
	left, right          measure.MM
	start, end           float64
	diagonalA, diagonalB table.Cell
	kept, lift, note     string
	mass                 *float64
}

func (s Set) pieces() map[string]piece {
	out := map[string]piece{}
	hold := map[string]bool{}
	width, lift := map[string]*measure.MM{}, map[string]string{}
	for _, h := range s.plan.Supplies {
		width[h.ID], lift[h.ID] = h.CoverWidth, h.CutCoverLift
	}
	supply := map[string]string{}
	for _, u := range s.plan.Units {
		hold[u.Mark], supply[u.Mark] = u.Hold, u.Supply
		if u.Piece == nil {
			continue
		}
		w := piece{left: u.Piece.LeftSide, right: u.Piece.RightSide, start: u.StartAngle, end: u.EndAngle, kept: u.Piece.KeptEnd, lift: u.Piece.Lift, mass: u.Mass,
			diagonalA: mm(u.Piece.DiagonalA), diagonalB: mm(u.Piece.DiagonalB)}
		for _, c := range u.Piece.CutThings {
			w.note = join(w.note, c)
		}
		out[u.Mark] = w
	}
	for _, c := range s.plan.Covers {
		if !c.Cut {
			continue
		}
		w := piece{left: c.LeftSide, right: c.RightSide, start: c.StartAngle, end: c.EndAngle, mass: c.Mass, lift: lift[supply[c.Unit]]}
		w.diagonalA, w.diagonalB = diagonals(c, width[supply[c.Unit]])
		if hold[c.Unit] {
			w.note = "HOLD: its " + s.unit() + " is cut from measurement; cut this cover after it"
		}
		out[c.Mark] = w
	}
	return out
}

// diagonals of a cover follow from its length, its width and its two cuts (Pythagoras); without a width none are told.
func diagonals(c planner.Cover, width *measure.MM) (a, b table.Cell) {
	if width == nil {
		none := table.Text("NOT CHECKED: no width of the cover on file. Ask: the supplier")
		return none, none
	}
	w := measure.Length(*width).Metres()
	lean := float64(w / 2 * (math.Tan(c.StartAngle*math.Pi/180) + math.Tan(c.EndAngle*math.Pi/180)))
	across := func(along float64) table.Cell {
		return table.Length(measure.FromMetres(math.Sqrt(float64(along*along) + float64(w*w))))
	}
	l := measure.Length(c.Length).Metres()
	return across(l - lean), across(l + lean)
}

func join(a, b string) string {
	if a == "" {
		return b
	}
	return a + "; " + b
}

// said is words, or nothing.
func said(s string) table.Cell {
	if s == "" {
		return table.Cell{}
	}
	return table.Text(s)
}
