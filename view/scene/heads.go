package scene

// withHeads is the outline with its ends drawn back under their arrow heads,
// and the heads themselves.
func withHeads(o Outline, m Path) (Outline, []Path) {
	if m.Start == NoHead && m.End == NoHead || len(o) < 2 {
		return o, nil
	}
	line := append(Outline{}, o...)
	var heads []Path
	last := len(o) - 1
	if m.End != NoHead && o[last].Verb != Close {
		from := o[last-1].To
		if o[last].Verb == CurveTo {
			from = o[last].Second
		}
		heads = append(heads, head(m.End, from, o[last].To, m.Stroke))
		if o[last].Verb == LineTo {
			line[last].To = drawnBack(m.End, from, o[last].To)
		}
	}
	if m.Start != NoHead {
		from := o[1].To
		if o[1].Verb == CurveTo {
			from = o[1].First
		}
		heads = append(heads, head(m.Start, from, o[0].To, m.Stroke))
		if o[1].Verb == LineTo {
			line[0].To = drawnBack(m.Start, from, o[0].To)
		}
	}
	return line, heads
}

// drawnBack keeps a thick line from standing out past the tip of its arrow.
func drawnBack(h Head, from, tip Point) Point {
	back := tip.Sub(from)
	if h != Arrow || back.Length() < 1.5*headLength {
		return tip
	}
	return tip.Sub(back.Unit().Times(headLength / 2))
}

func head(h Head, from, tip Point, pen Stroke) Path {
	along := tip.Sub(from).Unit()
	left := along.Left()
	at := func(back, side float64) Point {
		return tip.Sub(along.Times(back)).Add(left.Times(side))
	}
	pen.Dash = nil
	ink := pen.Colour
	if !ink.Said() {
		ink = Black
	}
	switch h {
	case Arrow:
		side := max(headLength/6, pen.Width)
		return Path{Outline: Polygon(tip, at(headLength, side), at(headLength*0.85, 0), at(headLength, -side)), Fill: ink}
	case OpenArrow:
		return Path{Outline: Polyline(at(headLength, headLength/4), tip, at(headLength, -headLength/4)), Stroke: pen}
	case Dot:
		return Path{Outline: Circle(tip, max(0.5, 1.5*pen.Width)), Fill: ink}
	case Slash:
		return Path{Outline: Polyline(at(0.9, -0.9), at(-0.9, 0.9)), Stroke: pen}
	}
	return Path{}
}
