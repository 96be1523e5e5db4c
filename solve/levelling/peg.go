package levelling

import (
	"trenchwright/base/measure"
	"trenchwright/place/route"
)

// Way is which way something lies, with the arrow that is drawn for it. Left and right are told looking up-chainage.
type Way string

// The ways.
const (
	Cut    Way = "cut"  // dig down from the peg
	Fill   Way = "fill" // build up from the peg
	AtPeg  Way = "level with the peg"
	Left   Way = "left"
	Right  Way = "right"
	OnLine Way = "on the line"
)

// Arrow is the arrow of w; on the sheet and on the peg, never a colour alone.
func (w Way) Arrow() string {
	switch w {
	case Cut:
		return "↓"
	case Fill:
		return "↑"
	case Left:
		return "←"
	case Right:
		return "→"
	}
	return "="
}

// Mark is what is written on a peg: how much, and which way.
type Mark struct {
	Way    Way
	Amount measure.Length // never below nought
}

// Words is m as people read it: ↓ cut 1.234 m.
func (m Mark) Words(f Figures) string {
	if m.Way == AtPeg || m.Way == OnLine {
		return m.Way.Arrow() + " " + string(m.Way)
	}
	return m.Way.Arrow() + " " + string(m.Way) + " " + f.Say(m.Amount)
}

// FromPeg is the cut or fill from the top of a peg to a wanted level.
func FromPeg(peg, wanted measure.Length) Mark {
	switch d := peg - wanted; {
	case d > 0:
		return Mark{Cut, d}
	case d < 0:
		return Mark{Fill, -d}
	}
	return Mark{Way: AtPeg}
}

// SideOf is where an offset lies from the line, right above nought.
func SideOf(offset measure.Length) Mark {
	switch {
	case offset > 0:
		return Mark{Right, offset}
	case offset < 0:
		return Mark{Left, -offset}
	}
	return Mark{Way: OnLine}
}

// Station is a place on the line that is set out: usually a joint.
type Station struct {
	Name     string
	Chainage measure.Length
	At       route.Point   // metres from the job's origin
	Bearing  measure.Angle // of the line there, up-chainage, clockwise from grid north
}

// SetOut is one row of a set-out sheet: where an offset peg stands, which way the line lies from it, and what is dug or built
// from its top to each wanted level.
type SetOut struct {
	Name     string
	Chainage measure.Length
	Peg      route.Coordinates // of record
	Offset   Mark              // of the peg from the line
	Line     Mark              // of the line from the peg: the other way
	Levels   []LevelFromPeg    // in the order in which they were asked for
}

// LevelFromPeg is one wanted level, and the mark for it; nil where the peg's top has not been levelled.
type LevelFromPeg struct {
	What  string // pad top, bed, formation
	Level measure.Length
	Mark  *Mark
}

// Wanted is one level that is asked for at a station.
type Wanted struct {
	What  string
	Level measure.Length
}

// SetOutPeg places a peg square to the line at a station; offset is right above nought, a ground length, factor what a ground
// metre is on the grid (1: no scale). peg is the level of its top, nil: not levelled yet. The one rounding is in
// route.Origin.Coordinates.
func SetOutPeg(origin route.Origin, factor float64, at Station, offset measure.Length, peg *measure.Length, wanted []Wanted) SetOut {
	right := route.Towards(at.Bearing).Right()
	out := SetOut{Name: at.Name, Chainage: at.Chainage, Offset: SideOf(offset), Line: SideOf(-offset),
		Peg: origin.Coordinates(at.At.Plus(right.Times(float64(offset.Metres() * factor))))}
	for _, w := range wanted {
		l := LevelFromPeg{What: w.What, Level: w.Level}
		if peg != nil {
			l.Mark = new(FromPeg(*peg, w.Level))
		}
		out.Levels = append(out.Levels, l)
	}
	return out
}
