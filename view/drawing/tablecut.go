package drawing

import (
	"fmt"
	"math"

	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// cutLedgers are the cutting list, one ledger for the units and one for the covers of each supply.
func (d *draft) cutLedgers() []ledger {
	pieces := d.pieces()
	var out []ledger
	for _, c := range d.plan.Cutting {
		l := ledger{title: fmt.Sprintf("%s of supply %s: %s", capital(d.nounOf(c)), c.Supply, c.Text), drawn: "how they lie, end A on the left", columns: []ledgerColumn{
			{head: "cut from"}, {head: d.lengthHead("its length"), right: true}, {head: "mark", bold: true}, {head: d.lengthHead("from A"), right: true}, {head: d.lengthHead("to"), right: true},
			{head: d.lengthHead("axis"), right: true, bold: true}, {head: d.lengthHead("left side"), right: true}, {head: d.lengthHead("right side"), right: true},
			{head: "start"}, {head: "end"}, {head: "laid"}, {head: d.massHead("mass"), right: true}, {head: "see"},
		}}
		var notes letters
		longest := 0.0
		for _, p := range c.Patterns {
			longest = math.Max(longest, mm(p.Stock))
		}
		for _, p := range c.Patterns {
			l.groups = append(l.groups, d.patternGroup(p, pieces, &notes, longest))
		}
		l.notes = notes.notes
		out = append(out, l)
	}
	if n := len(out); n > 0 {
		out[n-1].notes = append(out[n-1].notes, ledgerNote{text: "Lengths in " + d.lengthUnit() + "; from A, to: on the axis, counted from end A. start, end: as cast, or how the saw cuts: so far from square, with the side that comes out long at that end. " +
			"turned: the piece lies with its end towards end A. Hatched: waste. An offcut that is kept carries a mark; paint it. Cut pieces do not inherit a load rating unless the supplier says so"})
	}
	return out
}

// nounOf is what a cutting is of.
func (d *draft) nounOf(c planner.Cutting) string {
	if c.Of == "covers" {
		return d.words.covers
	}
	return d.words.units
}

// pieces are all that are cut, by mark.
func (d *draft) pieces() map[string]piece {
	out := map[string]piece{}
	for _, u := range d.plan.Units {
		if u.Piece != nil {
			out[u.Mark] = d.unitPiece(u)
		}
	}
	for _, c := range d.plan.Covers {
		if c.Cut {
			out[c.Mark] = d.coverPiece(c)
		}
	}
	return out
}

// patternGroup is one bought thing: its pieces in the order in which they lie on it, then what is left over.
func (d *draft) patternGroup(p planner.CutPattern, pieces map[string]piece, notes *letters, longest float64) ledgerGroup {
	g := ledgerGroup{name: p.Name, whole: true, draw: func(box scene.Box) []scene.Mark { return d.patternBar(p, box, longest) }}
	add := func(cells ...string) {
		long := ""
		if len(g.rows) == 0 {
			long = d.figure(p.Stock)
		}
		g.rows = append(g.rows, ledgerRow{cells: append([]string{long}, cells...)})
	}
	for _, k := range p.Pieces {
		w := pieces[k.Mark]
		var look []string
		for _, t := range w.cutThings {
			look = append(look, "LOOK AT: "+t)
		}
		if w.hold {
			look = append(look, "HOLD: its "+d.words.unit+" is cut from measurement; cut this "+d.words.cover+" after it")
		}
		see := notes.all(look...)
		laid := ""
		if k.Turned {
			laid = "turned"
		}
		add(k.Mark, d.figure(k.From), d.figure(k.To), d.figure(k.To-k.From), d.figure(w.left), d.figure(w.right),
			faceWords(w.start, w.sawStart, true), faceWords(w.end, w.sawEnd, false), laid, d.pieceMass(w, notes), see)
	}
	for _, o := range p.Left {
		word := "too short to use"
		if o.Usable {
			word = "offcut, keep"
		}
		add(o.Mark, d.figure(o.From), d.figure(o.To), d.figure(o.To-o.From), "", "", word, "", "", "", "")
	}
	return g
}

func (d *draft) pieceMass(w piece, notes *letters) string {
	if w.massKG == nil {
		return notes.letter(w.mass)
	}
	return d.massFigure(*w.massKG)
}

// faceWords say how an end of a piece is made.
func faceWords(degrees float64, sawn, start bool) string {
	switch {
	case degrees != 0:
		return angle(degrees) + ", " + longSide(degrees, start) + " long"
	case sawn:
		return "square"
	}
	return "as cast"
}

// longSide is the side that a slanted cut leaves long: one that leans forward on the left does so at an end, and leaves
// the right side long at a start.
func longSide(degrees float64, start bool) string {
	if degrees > 0 != start {
		return "left"
	}
	return "right"
}

// patternBar is a bought thing as a bar to scale, the longest one as wide as the box.
func (d *draft) patternBar(p planner.CutPattern, box scene.Box, longest float64) []scene.Mark {
	if longest <= 0 {
		return nil
	}
	size := d.style.Size.small()
	high := math.Min(box.Height()-1.5, 2.6*size)
	b := bar{left: box.Left, top: box.Centre().Y - float64(high/2), high: high, k: box.Width() / longest}
	b.lean = math.Min(high/2, 400*b.k)
	marks := []scene.Mark{scene.Path{Outline: b.whole(p), Stroke: scene.Pen(scene.Thin)}}
	for _, w := range waste(p) {
		marks = append(marks, scene.Hatch{Area: b.stretch(w.from, w.to), Pattern: scene.Backward, Spacing: 1})
	}
	for _, k := range p.Pieces {
		marks = append(marks, scene.Path{Outline: b.piece(k), Fill: scene.White, Stroke: scene.Pen(scene.Medium)})
		marks = append(marks, b.name(mm(k.From), mm(k.To), k.Mark, size, scene.Bold)...)
	}
	for _, o := range p.Left {
		marks = append(marks, b.name(mm(o.From), mm(o.To), o.Mark, size, scene.Regular)...)
	}
	return marks
}

// bar is a bought thing drawn as a bar.
type bar struct {
	left, top, high float64
	k               float64 // mm of paper for each mm
	lean            float64 // of a cut at 45°, from the middle of the bar to its edge
}

func (b bar) x(station float64) float64 { return b.left + float64(station*b.k) }

func (b bar) stretch(from, to float64) scene.Outline {
	return scene.Rectangle(scene.Box{Left: b.x(from), Top: b.top, Right: b.x(to), Bottom: b.top + b.high})
}

func (b bar) whole(p planner.CutPattern) scene.Outline { return b.stretch(0, mm(p.Stock)) }

// piece is the outline of a piece with its two ends as the saw leaves them.
func (b bar) piece(p planner.CutPlace) scene.Outline {
	from, to := b.x(mm(p.From)), b.x(mm(p.To))
	s, e := float64(p.FromTan*b.lean), float64(p.ToTan*b.lean)
	return scene.Polygon(scene.Point{X: from + s, Y: b.top}, scene.Point{X: to + e, Y: b.top},
		scene.Point{X: to - e, Y: b.top + b.high}, scene.Point{X: from - s, Y: b.top + b.high})
}

// name writes a mark on the bar where it has room.
func (b bar) name(from, to float64, text string, size float64, w scene.Weight) []scene.Mark {
	if scene.TextWidth(text, size, w)+1.6+float64(2*b.lean) > (to-from)*b.k || b.high < 2*size {
		return nil
	}
	return []scene.Mark{scene.Text{At: scene.Point{X: b.x((from + to) / 2), Y: b.top + float64(b.high/2)}, String: text, Size: size, Weight: w, Align: scene.Centre, VAlign: scene.Middle}}
}

// heldLedger are the closers on hold: ordered whole, cut when somebody has measured.
func (d *draft) heldLedger() ledger {
	l := ledger{title: "HOLD, cut from measurement: ordered as whole " + d.words.units, columns: []ledgerColumn{
		{head: "leg"}, {head: "mark", bold: true}, {head: d.lengthHead("from one of"), right: true}, {head: d.lengthHead("planned axis"), right: true}, {head: "start"}, {head: "end"},
		{head: d.massHead("planned mass"), right: true}, {head: d.words.chainage, right: true}, {head: "lifting", most: 60},
	}, notes: []ledgerNote{{text: "The lengths of these are what the plan expects, not for the saw: measure when the pieces on both sides are set, then cut"}}}
	for _, u := range d.plan.Units {
		if !u.Hold {
			continue
		}
		mass, lift := "", ""
		if u.Mass != nil {
			mass = d.massFigure(*u.Mass)
		}
		start, end := faceWords(u.StartAngle, true, true), faceWords(u.EndAngle, true, false)
		if u.Piece != nil {
			w := d.unitPiece(u)
			start, end, lift = faceWords(w.start, w.sawStart, true), faceWords(w.end, w.sawEnd, false), w.lift
		}
		l.groups = append(l.groups, ledgerGroup{name: u.Leg, rows: []ledgerRow{{cells: []string{u.Mark, d.figure(u.Stock), d.figure(u.Length), start, end, mass, d.chainage(u.Chainage), lift}}}})
	}
	return l
}
