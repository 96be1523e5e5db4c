package drift

import "trenchwright/base/measure"

// Gap is one joint still to be made: how wide it is drawn, and how narrow and wide it may be held (each joint's own budget).
type Gap struct {
	Drawn measure.Length
	May   measure.Window
}

// Held is what to do now about a joint that lies ahead of its place or behind it.
type Held struct {
	Hold  measure.Length // the gap to hold now
	Until int            // joints to hold a gap other than drawn until a unit is back at its place, this one with them; 0: none
	Last  measure.Length // the gap to hold at the last of those; with none, Hold
	Then  measure.Length // the gap to hold from there on, against what the lot adds
	Left  measure.Length // what no gap takes up: above 0 still ahead at the last joint, below 0 still behind
}

// Hold says what gap to hold at the next joints when the last unit ends off its place: above 0 too far along, below 0 short of
// it. Every unit adds each on average. It is taken up as soon as may be, each gap by what its window leaves, so that few joints are
// not as drawn.
func Hold(off, each measure.Length, next []Gap) Held {
	h := Held{Left: off}
	for i, g := range next {
		gap := min(max(g.Drawn-h.Left, g.May.Min), g.May.Max)
		h.Left += gap - g.Drawn
		if i == 0 {
			h.Hold = gap
		}
		h.Last, h.Then = gap, min(max(g.Drawn-each, g.May.Min), g.May.Max)
		if gap != g.Drawn {
			h.Until = i + 1
		}
		if h.Left == 0 {
			break
		}
		if i < len(next)-1 {
			h.Left += each
		}
	}
	return h
}

// Ahead is how many units can be set before a drift that goes on as it does takes a joint further from its place than may be;
// each is what one unit adds on average, room what every gap takes up of it, most how far off a joint may lie, off where the last
// one lies. Forever is true where the gaps take up all of it.
func Ahead(off, each, room, most measure.Length) (units int, forever bool) {
	net := each.Abs() - room
	if net <= 0 {
		return 0, true
	}
	if each < 0 {
		off = -off
	}
	if left := most - off; left > 0 {
		return int(left / net), false
	}
	return 0, false
}
