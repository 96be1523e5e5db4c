package measure

import "fmt"

const (
	aBearing       = "a bearing"
	bearingExample = `S68-05-35W, N 45°55'20" E or 248.0931°`
)

const quarter = 90 * Degree

// A surveyor's bearing counts from north or south, towards east or west.
var (
	meridianWords = []word[bool]{{"north", false}, {"south", true}, {"n", false}, {"s", true}} // true: from south
	sideWords     = []word[bool]{{"east", false}, {"west", true}, {"e", false}, {"w", true}}   // true: towards west
)

// ParseBearing reads a direction as an angle clockwise from north, from 0 to under 360°: a surveyor's bearing
// (S68-05-35W) or a whole circle bearing (248°05'35").
func ParseBearing(text string) (Said[Angle], error) {
	s, err := scan(text, aBearing, bearingExample)
	if err != nil {
		return Said[Angle]{}, err
	}
	column := s.pos + 1
	south, quadrant := oneOf(s, meridianWords)
	s.spaces()
	t, err := s.turn(quadrant)
	if err != nil {
		return Said[Angle]{}, err
	}
	if !quadrant {
		return s.wholeCircle(t, column)
	}
	s.spaces()
	west, ok := oneOf(s, sideWords)
	if !ok {
		return Said[Angle]{}, s.here("east or west was expected behind the angle")
	}
	if err := s.finish("the bearing"); err != nil {
		return Said[Angle]{}, err
	}
	size, err := t.said(s, false)
	if err != nil {
		return Said[Angle]{}, err
	}
	if size.Value > quarter {
		return Said[Angle]{}, s.fault(column, fmt.Sprintf("%s from the meridian; 0° to 90° was expected", size.Value.Show(4)))
	}
	from, towards := "north", "east"
	azimuth := size.Value
	switch {
	case south && west:
		from, towards, azimuth = "south", "west", 2*quarter+azimuth
	case south:
		from, azimuth = "south", 2*quarter-azimuth
	case west:
		towards, azimuth = "west", (4*quarter-azimuth)%(4*quarter)
	}
	size.As = fmt.Sprintf("%s %s %s = %s clockwise from north", from, t.words, towards, azimuth)
	size.Value = azimuth
	return size, nil
}

// wholeCircle is a bearing that is given as one angle from north.
func (s *scanner) wholeCircle(t turn, column int) (Said[Angle], error) {
	if err := s.finish("the bearing"); err != nil {
		return Said[Angle]{}, err
	}
	said, err := t.said(s, false)
	if err == nil && said.Value >= 4*quarter {
		return Said[Angle]{}, s.fault(column, fmt.Sprintf("%s from north; 0° to under 360° was expected", said.Value.Show(4)))
	}
	said.As += " clockwise from north"
	return said, err
}

// Bearing is a, an angle clockwise from north, as a surveyor's bearing to the nearest second: S68-05-35W. Angles beyond
// one turn count from north again.
func (a Angle) Bearing() string {
	a = (a%(4*quarter) + 4*quarter) % (4 * quarter)
	n, _, _ := mulDiv(uint64(a), second.den, second.num)
	const square, full = 90 * 3600, 360 * 3600 // in seconds
	from, towards := "N", "E"
	switch n %= full; {
	case n > 3*square:
		towards, n = "W", full-n
	case n >= 2*square:
		from, towards, n = "S", "W", n-2*square
	case n > square:
		from, n = "S", 2*square-n
	}
	return fmt.Sprintf("%s%02d-%02d-%02d%s", from, n/3600, n/60%60, n%60, towards)
}
