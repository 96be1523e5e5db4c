package route

import (
	"fmt"

	"trenchwright/base/measure"
)

// DrawnAs says which line the coordinates of a run draw.
type DrawnAs string

// The lines that people draw. The zero value is the centreline.
const (
	Centreline DrawnAs = ""
	OuterFace  DrawnAs = "outer face"  // of the wall, towards the soil
	InnerFace  DrawnAs = "inner face"  // of the wall, towards the cables
	TrenchEdge DrawnAs = "trench edge" // of the dig
	BesideOf   DrawnAs = "beside"      // a kerb, fence or rail, at a stated distance from the centreline
)

// Drawn is the line that was drawn and where it lies. The zero value: the centreline.
type Drawn struct {
	As DrawnAs
	// Right: the drawn line lies to the right of the centreline, looking up-chainage.
	Right bool
	// Apart is the distance on the ground between the drawn line and the centreline: half the outer width for an outer face,
	// half the inner width for an inner face, half the trench's width for its edge.
	Apart measure.Length
	// Of names what the line is, for the sheets: "kerb", "fence", "rail".
	Of string
}

// String is the sentence that stands on every sheet.
func (d Drawn) String() string {
	if d.As == Centreline {
		return "the line drawn is the centreline"
	}
	side, back := "left", "right"
	if d.Right {
		side, back = back, side
	}
	what := string(d.As)
	if d.As == BesideOf {
		what = d.Of
		if what == "" {
			what = "line beside the run"
		}
	}
	return fmt.Sprintf("the line drawn is the %s on the %s, looking up-chainage; the centreline lies %.1f mm to the %s of it",
		what, side, d.Apart.Millimetres(), back)
}

// shift is how far the centreline lies to the right of the drawn line.
func (d Drawn) shift() measure.Length {
	switch {
	case d.As == Centreline:
		return 0
	case d.Right:
		return -d.Apart
	default:
		return d.Apart
	}
}
