package levelling

import "trenchwright/base/measure"

// Tie is a point whose level is known some other way: a benchmark on file, or the point that the stretch began from.
type Tie struct {
	Row        int
	Point      string
	Line       int
	Found      measure.Length
	Known      measure.Length
	Misclosure measure.Length  // found less known
	Setups     int             // that lie between the start of the stretch and here
	Distance   *measure.Length // levelled between them; nil where a foresight has none
	Closing    bool            // the stretch ends here
	Loop       bool            // and it is the point that the stretch began from
}

// ties finds where a book comes back to something that is known. The point where a stretch began is known again wherever
// its name comes back. What is written in the column known goes before.
func ties(b Book, r Reduced) []Tie {
	var out []Tie
	for i, row := range b.Rows {
		if row.starts() {
			continue
		}
		at := r.Rows[i]
		s := r.Stretches[at.Stretch]
		first := b.Rows[s.From]
		known, loop := row.Known, row.Point == first.Point
		if known == nil && loop {
			known = first.Known
		}
		if known == nil {
			continue
		}
		t := Tie{Row: i, Point: row.Point, Line: row.Line, Found: at.Level, Known: *known, Misclosure: at.Level - *known,
			Setups: at.Setup, Closing: i == s.To, Loop: loop}
		if s.AllDistances {
			t.Distance = new(at.Run)
		} else if t.Closing && len(r.Stretches) == 1 {
			t.Distance = b.Whole
		}
		out = append(out, t)
	}
	return out
}

// Closing is the tie at the end of the book; false where the level of the last point is not known.
func (r Reduced) Closing() (Tie, bool) {
	if n := len(r.Ties); n > 0 && r.Ties[n-1].Row == len(r.Rows)-1 {
		return r.Ties[n-1], true
	}
	return Tie{}, false
}
