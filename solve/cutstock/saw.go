package cutstock

import (
	"math"

	"trenchwright/base/measure"
)

// saw is the rule of the saw for one Problem. All results are exact or rounded to the nearest nanometre, as the leg
// programme rounds them: a piece that it found to fit a unit fits here too.
type saw struct {
	width, kerf, slice measure.Length
}

func nearest(nm float64) measure.Length { return measure.Length(math.Round(nm)) }

// slope is s of the cut line x = a + s·y.
func slope(skew measure.Angle) float64 {
	switch skew {
	case 0:
		return 0
	case 45 * measure.Degree:
		return 1
	case -45 * measure.Degree:
		return -1
	}
	return math.Tan(skew.Radians())
}

// along is a thickness t square to a cut, measured on the axis: t/cos(skew).
func along(t measure.Length, skew measure.Angle) measure.Length {
	if skew == 0 {
		return t
	}
	s := slope(skew)
	return nearest(float64(t) * math.Sqrt(1+float64(s*s)))
}

// wedge is the least distance on the axis between two lines of different skew that must not cross inside the unit.
func (w saw) wedge(a, b measure.Angle) measure.Length {
	if a == b {
		return 0
	}
	return nearest(float64(w.width) / 2 * math.Abs(slope(a)-slope(b)))
}

// between is the least distance on the axis from the face of one piece to the facing one of the next: one cut where
// they are parallel, two cuts and the wedge between them where they are not.
func (w saw) between(a, b measure.Angle) measure.Length {
	if a == b {
		return along(w.kerf, a)
	}
	return w.wedge(a, b) + along(w.kerf, a) + along(w.kerf, b)
}

// atEnd is the least distance on the axis from the end of the stock to the face of the piece beside it. A skew cut
// runs out at the corner and may lose its kerf there; a parallel face is the end itself, without a cut.
func (w saw) atEnd(stock, face measure.Angle) measure.Length { return w.wedge(stock, face) }

// spare is the least that may be left over at a place above its least distance, other than nothing: none needed where
// a wedge falls out anyhow, else a slice that the saw can take off.
func (w saw) spare(a, b measure.Angle) measure.Length {
	if a != b {
		return 0
	}
	return along(w.slice, a)
}
