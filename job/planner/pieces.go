package planner

import (
	"math"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/solve/layout"
)

// describe makes the cut card's figures of one cut unit from its geometry; where it is cut from is added by the cutting.
func describe(u layout.Unit, s *supply) *Piece {
	left, right := sides(u.Length, u.StartTan, u.EndTan, s.width)
	p := &Piece{
		LeftSide: measure.MM(left), RightSide: measure.MM(right),
		DiagonalA: measure.MM(diagonal(u.Length, u.StartTan, u.EndTan, s.width)),
		DiagonalB: measure.MM(diagonal(u.Length, -u.StartTan, -u.EndTan, s.width)),
		KeptEnd:   keptEnd(u), Hand: hand(u),
		Inserts: []InsertLeft{},
	}
	x, y, note := centre(u.Length, u.StartTan, u.EndTan, s.Unit.Outer, s.Unit.Inner)
	p.CentreX, p.CentreY, p.CentreNote = measure.MM(x), measure.MM(y), note
	return p
}

// diagonal is the distance from the left start corner to the right end corner.
func diagonal(l measure.Length, startTan, endTan float64, width measure.Length) measure.Length {
	w := width.Metres()
	along := l.Metres() - float64((startTan+endTan)*w/2)
	return measure.FromMetres(math.Sqrt(float64(along*along) + float64(w*w)))
}

// keptEnd says which end of the piece as laid is still as cast.
func keptEnd(u layout.Unit) string {
	switch {
	case u.Kept == layout.KeptNone:
		return "none"
	case u.Kept == layout.KeptBoth:
		return "both"
	case (u.Kept == layout.KeptA) != u.Turned:
		return "start"
	default:
		return "end"
	}
}

// hand says in words which way the mitres of a piece lie, looking along the leg.
func hand(u layout.Unit) string {
	say := func(tan float64, end string) string {
		switch {
		case tan > 0 && end == "end", tan < 0 && end == "start":
			return end + ": left side long"
		case tan != 0:
			return end + ": right side long"
		}
		return ""
	}
	a, c := say(u.StartTan, "start"), say(u.EndTan, "end")
	if a != "" && c != "" {
		return a + "; " + c
	}
	return a + c
}

// centre is the centre of gravity of a piece of trough in plan: x from the start of its axis, y to the left. Walls and
// base count, not the outline: with ρ(y) the mass per area, A = ∫ρ and J = ∫ρy², the piece between x = s0·y and
// x = L + s1·y has x̄ = L/2 + (s1²-s0²)J/(2AL) and ȳ = (s1-s0)J/(AL).
func centre(l measure.Length, s0, s1 float64, outer, inner job.Entry[job.Section]) (x, y measure.Length, note string) {
	if !outer.Known {
		return l / 2, 0, "NOT CHECKED: no outer section on file; shown at half the axis. Ask: the supplier"
	}
	W, H := outer.Value.Width.Metres(), outer.Value.Height.Metres()
	w, h := inner.Value.Width.Metres(), inner.Value.Height.Metres()
	note = "walls and base only"
	if !inner.Known {
		note = "solid outline: no inner section on file"
	}
	area := float64(W*H) - float64(w*h)
	second := float64(H*W*W*W)/12 - float64(h*w*w*w)/12
	if area <= 0 || l <= 0 {
		return l / 2, 0, note
	}
	k := second / area / l.Metres()
	x = l/2 + measure.FromMetres((float64(s1*s1)-float64(s0*s0))*k/2)
	return x, measure.FromMetres((s1 - s0) * k), note
}

// castHere is one cast-in thing as it lies on a piece that was cut.
type castHere struct {
	job.CastIn
	x    measure.Length // from the start of the piece's axis, along the leg
	y    measure.Length // to the left of the axis, looking along the leg
	left bool           // wholly on the piece and far enough from its cut ends
	hit  string         // why not, where the saw goes through or too near
}

// castOn finds what is left of a stock unit's cast-in things on a piece. face is the station, from end A of the stock,
// of the piece's face that is nearer A; turned means that its end, not its start, is nearer A.
func castOn(s *supply, stock measure.Length, u layout.Unit, face measure.Length, turned bool, kept string) []castHere {
	var out []castHere
	for _, c := range s.Unit.CastIn {
		if c.Of != stock {
			continue
		}
		station := c.At
		if c.End == "B" {
			station = stock - c.At
		}
		h := castHere{CastIn: c, x: station - face}
		switch c.Side {
		case "left":
			h.y = s.width / 2
		case "right":
			h.y = -s.width / 2
		}
		if turned {
			h.x, h.y = u.Length-h.x, -h.y
		}
		h.judge(s, u, kept)
		out = append(out, h)
	}
	return out
}

// what names the thing with its side.
func (h *castHere) what() string {
	name := h.Name
	if name == "" {
		name = h.Kind
	}
	if s := sideWord(h.y); s != "middle" {
		name += " on the " + s
	}
	return name
}

// judge tells whether a thing is left on the piece, with its edge distance, square to the face, to every end that was cut.
// An end that is as cast keeps the distance that it was made with.
func (h *castHere) judge(s *supply, u layout.Unit, kept string) {
	start := square(h.x-measure.FromMetres(u.StartTan*h.y.Metres()), u.StartTan)
	end := square(u.Length+measure.FromMetres(u.EndTan*h.y.Metres())-h.x, u.EndTan)
	if min(start, end) <= -h.Diameter/2 {
		return
	}
	near := measure.Length(math.MaxInt64)
	if kept != "start" && kept != "both" {
		near = min(near, start)
	}
	if kept != "end" && kept != "both" {
		near = min(near, end)
	}
	switch {
	case near < h.Diameter/2 || near < 0:
		h.hit = s.speech.Say("the saw goes through the %s at %s", h.what(), h.x)
	case near < h.Edge:
		h.hit = s.speech.Say("%s at %s is %s from a cut end; its drawing asks for %s", h.what(), s.onTape(h.x), s.onTape(near-s.tapeStep()/2), h.Edge) // never further than it is
	default:
		h.left = true
	}
}

// tapeStep is what a tape is read to; onTape is a length read so.
func (s *supply) tapeStep() measure.Length {
	if s.speech.Imperial {
		return measure.Sixteenth
	}
	return measure.Millimetre
}

func (s *supply) onTape(l measure.Length) measure.Length {
	step := s.tapeStep()
	return (l + step/2) / step * step
}

// square is the distance from a face whose cut line has the slope tan, of a point that is along away from it on the axis.
func square(along measure.Length, tan float64) measure.Length {
	return measure.FromMetres(along.Metres() / math.Sqrt(1+float64(tan*tan)))
}

// liftOf says what a piece can be lifted by: two pairs of inserts that the hook can stand over, one pair, none.
func liftOf(p *Piece, things []castHere, s *supply) string {
	type pair struct{ l, r bool }
	at := map[measure.Length]pair{}
	var xs []measure.Length
	for _, h := range things {
		if h.Kind != "insert" || !h.left {
			continue
		}
		q, seen := at[h.x]
		if !seen {
			xs = append(xs, h.x)
		}
		if h.y >= 0 {
			q.l = true
		}
		if h.y <= 0 {
			q.r = true
		}
		at[h.x] = q
	}
	var lo, hi measure.Length
	pairs := 0
	for _, x := range xs {
		if q := at[x]; q.l && q.r {
			if pairs == 0 || x < lo {
				lo = x
			}
			if pairs == 0 || x > hi {
				hi = x
			}
			pairs++
		}
	}
	ask := "NOT CHECKED: no way of lifting this piece on file. Ask: the supplier"
	if s.Lifting.CutLift.Known {
		ask = "By the supplier's word: " + s.Lifting.CutLift.Value
	}
	switch {
	case pairs == 0:
		return "no pair of inserts remains. " + ask
	case pairs == 1:
		return "one pair of inserts remains: no lift from inserts. " + ask
	}
	cg := measure.Length(p.CentreX)
	if cg <= lo || cg >= hi {
		return s.speech.Say("two pairs of inserts remain, but the %s of gravity, %s from the start, is not between them. %s", wording.Centre, cg, ask)
	}
	off := ((lo+hi)/2 - cg).Abs()
	told := (off + measure.Millimetre - 1) / measure.Millimetre * measure.Millimetre // no finer than a tape, and never less
	switch {
	case !s.Lifting.OffCentre.Known:
		return s.speech.Say("two pairs of inserts remain, the %s of gravity %s from the middle between them. NOT CHECKED: no limit for that on file. Ask: the supplier", wording.Centre, told)
	case off > s.Lifting.OffCentre.Value:
		return s.speech.Say("two pairs of inserts remain, but the %s of gravity is %s from the middle between them, limit %s: does not meet the stated figure. %s", wording.Centre, told, s.Lifting.OffCentre.Value, ask)
	case s.Lifting.CutLift.Known:
		return s.speech.Say("two pairs of inserts remain and the hook stands over the %s. %s", wording.Centre, ask)
	default:
		return s.speech.Say("two pairs of inserts remain and the hook stands over the %s (off by %s, limit %s). NOT CHECKED: no rating for cut pieces on file. Ask: the supplier", wording.Centre, told, s.Lifting.OffCentre.Value)
	}
}
