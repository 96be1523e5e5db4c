package planner

import (
	"trenchwright/base/measure"
	"trenchwright/solve/levelling"
)

// PegAt is a peg beside a place, with the level of its top.
type PegAt struct {
	Spot  Spot
	Level measure.Length
}

// PegMarks are what is written on a peg.
type PegMarks struct {
	Place  PlaceAt    `json:"place"`
	Level  float64    `json:"level_m"` // of its top
	Offset measure.MM `json:"offset_mm"`
	Side   string     `json:"side"` // of the line: left, right, on the line
	E      float64    `json:"easting_m"`
	N      float64    `json:"northing_m"`
	Marks  []PegMark  `json:"marks"`
}

// PegMark is how far a wanted level lies from the top of a peg, and which way.
type PegMark struct {
	What   string     `json:"what"`
	Level  float64    `json:"level_m"`
	Way    string     `json:"way"` // cut, fill, level with the peg
	Arrow  string     `json:"arrow"`
	Amount measure.MM `json:"amount_mm"`
}

// peg is one peg, set square to the line; what is not on file is left out.
func (a *Answers) peg(p PegAt, offset measure.Length) PegMarks {
	b := a.b
	line := b.axes[p.Spot.Leg].line
	pose := line.At(p.Spot.At)
	d := a.Depth(p.Spot)
	var wanted []levelling.Wanted
	for _, w := range []struct {
		what string
		m    *float64
	}{{"formation", d.Levels.Formation}, {"drain", d.Levels.Drain}, {"bed", d.Levels.PadBase}, {"pad", d.Levels.PadTop}, {"underside", d.Levels.Underside}, {"top", d.Levels.Wall}, {"cover", d.Levels.Cover}, {"finished", d.Levels.Finished}} {
		if w.m != nil {
			wanted = append(wanted, levelling.Wanted{What: w.what, Level: measure.FromMetres(*w.m)})
		}
	}
	row := levelling.SetOutPeg(b.net.origin, line.Scale(), levelling.Station{Name: p.Spot.Name, Chainage: p.Spot.At, At: pose.At, Bearing: pose.Bearing()}, offset, &p.Level, wanted)
	out := PegMarks{Place: a.placeAt(p.Spot), Level: p.Level.Metres(), Offset: measure.MM(row.Offset.Amount), Side: string(row.Offset.Way), E: row.Peg.E.Metres(), N: row.Peg.N.Metres(), Marks: []PegMark{}}
	for _, l := range row.Levels {
		out.Marks = append(out.Marks, PegMark{What: l.What, Level: l.Level.Metres(), Way: string(l.Mark.Way), Arrow: l.Mark.Way.Arrow(), Amount: measure.MM(l.Mark.Amount)})
	}
	return out
}
