package schedule

import (
	"fmt"
	"math"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/planner"
	"trenchwright/view/table"
)

// Cutting is the cutting list: every bought unit and cover that is sawn, the pieces that come from it and what is left;
// last the closers on hold, which are ordered whole.
func (s Set) Cutting() table.Table {
	t := table.Table{Name: "cutting", Title: "Cutting list", Columns: []table.Column{
		text("from", "cut from"), text("supply", "supply"), text("of", "of"), s.length("stock", "its length"), text("mark", "mark"), text("what", "what"), text("hold", "on hold"),
		s.length("station", "from end A"), s.length("to", "to"), s.length("length", "length on axis"), s.length("left", "left side"), s.length("right", "right side"),
		angle("start", "angle at start"), text("start_face", "start is"), text("start_long", "long side at start"),
		angle("end", "angle at end"), text("end_face", "end is"), text("end_long", "long side at end"), text("kept", "end as cast"), text("turned", "turned"),
		s.length("diagonal_a", "diagonal, left start to right end"), s.length("diagonal_b", "diagonal, right start to left end"),
		s.mass("mass", "mass"), text("lift", "lifting"), text("lift_ask", "lifting, not checked"), text("through", "saw goes through"), text("near", "too near to a cut"), text("offcut", "what to do with it"), text("note", "look at"),
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
	t.Notes = s.notes(append(proof, s.handNote(), "start is, end is: as cast, a square cut, or "+s.speech.Word(wording.Mitred)+"; the side that comes out long there stands beside it",
		"several things in one cell stand with | between them", "turned: the piece lies with its end towards end A; cut pieces do not inherit a load rating unless the supplier says so")...)
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
	if c.Of == "covers" && !p.Offcut { // what stays as cast is not in the plan: it is where the piece lies at an end of its stock
		low, high := k.From == 0 && k.FromTan == 0, k.To == p.Stock && k.ToTan == 0
		if k.Turned {
			low, high = high, low
		}
		w.kept = map[[2]bool]string{{true, true}: "both", {true, false}: "start", {false, true}: "end", {false, false}: "none"}[[2]bool{low, high}]
	}
	row := []table.Cell{table.Text(p.Name), table.Text(c.Supply), table.Text(s.of(c.Of)), mm(p.Stock), table.Text(k.Mark), table.Text("piece"), said(w.hold),
		mm(k.From), mm(k.To), mm(k.To - k.From), mm(w.left), mm(w.right)}
	return append(append(row, s.ends(w)...), said(w.kept), yes(k.Turned, "turned"), w.diagonalA, w.diagonalB, kilos(w.mass), said(w.lift), said(w.liftAsk), said(w.through), said(w.near), table.Cell{}, said(w.note))
}

func (s Set) offcutRow(c planner.Cutting, p planner.CutPattern, o planner.LeftOver) []table.Cell {
	do := "too short to use"
	if o.Usable {
		do = "keep, paint its mark"
	}
	row := []table.Cell{table.Text(p.Name), table.Text(c.Supply), table.Text(s.of(c.Of)), mm(p.Stock), table.Text(o.Mark), table.Text("offcut"), {}, mm(o.From), mm(o.To), mm(o.To - o.From)}
	return append(append(row, make([]table.Cell, 17)...), table.Text(do), table.Cell{})
}

func (s Set) heldRow(u planner.Unit, w piece) []table.Cell {
	row := []table.Cell{table.Text("whole, from the order"), table.Text(u.Supply), table.Text(s.units()), mm(u.Stock), table.Text(u.Mark), table.Text("HOLD"), table.Text("HOLD, cut from measurement"), {}, {}, mm(u.Length),
		mm(w.left), mm(w.right)}
	w.start, w.end = u.StartAngle, u.EndAngle
	return append(append(row, s.ends(w)...), said(w.kept), table.Cell{}, w.diagonalA, w.diagonalB, kilos(u.Mass), said(w.lift), said(w.liftAsk), said(w.through), said(w.near), table.Cell{},
		table.Text("the lengths are what the plan expects"))
}

// ends are how the two ends of a piece are made: how far from square, by what, and which side comes out long there.
func (s Set) ends(w piece) []table.Cell {
	face := func(angle float64, end string) (table.Cell, table.Cell) {
		switch {
		case angle != 0:
			long := "right" // one that leans forward on the left is long there at an end, and on the right at a start
			if angle > 0 == (end == "end") {
				long = "left"
			}
			return table.Text(s.speech.Word(wording.Mitred)), table.Text(long)
		case w.kept == "":
			return table.Cell{}, table.Cell{}
		case w.kept == end || w.kept == "both":
			return table.Text("as cast"), table.Cell{}
		}
		return table.Text("square cut"), table.Cell{}
	}
	start, startLong := face(w.start, "start")
	end, endLong := face(w.end, "end")
	return []table.Cell{deg(w.start), start, startLong, deg(w.end), end, endLong}
}

// piece is what the list says of a cut unit or cover.
type piece struct {
	left, right          measure.MM
	start, end           float64
	diagonalA, diagonalB table.Cell
	kept, hold, note     string
	lift, liftAsk        string // what is known, and what is NOT CHECKED
	through, near        string // cast-in things that the saw goes through, and those that it comes too near to
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
		w := piece{left: u.Piece.LeftSide, right: u.Piece.RightSide, start: u.StartAngle, end: u.EndAngle, kept: u.Piece.KeptEnd, mass: u.Mass,
			diagonalA: mm(u.Piece.DiagonalA), diagonalB: mm(u.Piece.DiagonalB)}
		w.lifted(u.Piece.Lift)
		for _, c := range u.Piece.CutThings {
			if thing, ok := strings.CutPrefix(c, "the saw goes through the "); ok {
				w.through = among(w.through, thing)
			} else {
				w.near = among(w.near, c)
			}
		}
		out[u.Mark] = w
	}
	for _, c := range s.plan.Covers {
		if !c.Cut {
			continue
		}
		w := piece{left: c.LeftSide, right: c.RightSide, start: c.StartAngle, end: c.EndAngle, mass: c.Mass}
		w.lifted(lift[supply[c.Unit]])
		w.diagonalA, w.diagonalB = diagonals(c, width[supply[c.Unit]])
		if hold[c.Unit] {
			w.hold, w.note = "HOLD, after its "+s.unit(), "its "+s.unit()+" is cut from measurement; cut this cover after it"
		}
		out[c.Mark] = w
	}
	return out
}

// lifted parts what is known of how a piece is lifted from what nobody entered.
func (w *piece) lifted(said string) {
	if at := strings.Index(said, "NOT CHECKED"); at >= 0 {
		w.lift, w.liftAsk = strings.TrimSuffix(strings.TrimSpace(said[:at]), "."), said[at:]
		return
	}
	w.lift = said
}

// among are things in one cell; a text of one may have a semicolon of its own.
func among(all, one string) string {
	if all == "" {
		return one
	}
	return all + " | " + one
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
