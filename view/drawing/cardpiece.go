package drawing

import (
	"math"

	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// unitPiece is a cut unit as its card shows it.
func (d *draft) unitPiece(u planner.Unit) piece {
	m := d.made[u.Supply]
	q := u.Piece
	p := piece{mark: u.Mark, kind: "cut " + d.words.unit, of: "units", supply: m, leg: u.Leg, hold: u.Hold,
		length: mm(u.Length), width: m.width, known: m.width > 0, start: u.StartAngle, end: u.EndAngle,
		left: q.LeftSide, right: q.RightSide, diagonalA: d.length(q.DiagonalA), diagonalB: d.length(q.DiagonalB),
		sawStart: u.StartAngle != 0 || q.KeptEnd != "start", sawEnd: u.EndAngle != 0 || q.KeptEnd != "end", mass: d.mass(u.Mass, "the supplier"), massKG: u.Mass, lift: q.Lift, insertsLeft: q.Inserts,
		centre: &scene.Point{X: mm(q.CentreX), Y: mm(q.CentreY)}, centreNote: q.CentreNote, cutThings: q.CutThings,
		cutFrom: q.CutFrom, turned: q.Turned, keepsRating: m.job.CutRating.Known && m.job.CutRating.Value}
	switch {
	case u.Hold:
		p.kind = d.words.closer + " on hold"
		p.held, p.centre = new(d.heldUnit(u)), nil // where it balances is that of the planned length
	case u.StartAngle != 0 || u.EndAngle != 0:
		p.kind = d.words.mitred + " " + d.words.unit
	}
	p.where = joined(", ", "leg "+u.Leg, "starts at "+d.words.chainage+" "+d.chainage(u.Chainage), title(m))
	p.rating = m.head.Rating
	p.placeOnStock = d.stockWords(p)
	d.drawnWidth(&p)
	p.spent = d.spentInserts(p)
	return p
}

// drawnWidth keeps a piece drawable where its width is not on file.
func (d *draft) drawnWidth(p *piece) {
	if p.known {
		return
	}
	p.width = p.length / 3
	p.diagonalA, p.diagonalB = "", ""
}

// coverPiece is a cut cover as its card shows it. Its diagonals follow from its length, its width and its two cuts.
func (d *draft) coverPiece(c planner.Cover) piece {
	u, _ := d.place(c.Unit)
	m := d.made[u.Supply]
	p := piece{mark: c.Mark, kind: "cut " + d.words.cover, of: "covers", supply: m, leg: u.Leg, length: mm(c.Length), width: m.cover, known: m.cover > 0,
		start: c.StartAngle, end: c.EndAngle, left: c.LeftSide, right: c.RightSide,
		mass: d.mass(c.Mass, "the supplier"), massKG: c.Mass, cutFrom: c.CutFrom}
	p.lift = m.head.CutCoverLift
	if m.job.Cover != nil {
		p.keepsRating = m.job.Cover.CutRating.Known && m.job.Cover.CutRating.Value
	}
	p.sawStart, p.sawEnd = d.sawnEnds(p)
	if c.StartAngle != 0 || c.EndAngle != 0 {
		p.kind = d.words.mitred + " " + d.words.cover
	}
	if u.Hold {
		p.hold = true
		p.kind += ", on hold with its " + d.words.unit
	}
	a, b := diagonals(p)
	p.diagonalA, p.diagonalB = d.rounded(a), d.rounded(b)
	p.where = joined(", ", "on "+c.Unit, d.length(c.Start)+" from its start", title(m))
	p.rating = m.head.CoverRating
	p.placeOnStock = d.stockWords(p)
	d.drawnWidth(&p)
	return p
}

func title(m maker) string {
	if m.head.Title != "" {
		return m.head.Title
	}
	return "supply " + m.head.ID
}

// corners of a piece as laid, in mm from the start of its axis: x along the axis, y to the left.
type corners struct {
	leftStart, leftEnd, rightEnd, rightStart scene.Point

	low, high float64 // the least and the greatest x
}

func (p piece) corners() corners {
	half := p.width / 2
	s, e := float64(half*math.Tan(p.start*math.Pi/180)), float64(half*math.Tan(p.end*math.Pi/180))
	return corners{scene.Point{X: s, Y: half}, scene.Point{X: p.length + e, Y: half}, scene.Point{X: p.length - e, Y: -half}, scene.Point{X: -s, Y: -half},
		-math.Abs(s), p.length + math.Abs(e)}
}

// diagonals of a piece: from its left start corner to its right end corner, and the other one.
func diagonals(p piece) (a, b float64) {
	q := p.corners()
	return q.rightEnd.Sub(q.leftStart).Length(), q.leftEnd.Sub(q.rightStart).Length()
}
