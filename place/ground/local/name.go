package local

import (
	"strconv"
	"strings"
)

// The parts of a grid's name between its three numbers: whoever reads the name can make the grid again.
const (
	beforeLatitude  = "local transverse Mercator on WGS 84, factor 1 at latitude "
	beforeLongitude = ", longitude "
	beforeHeight    = ", height "
	behindHeight    = " m"
)

// Name is what a job calls its coordinate system when it is this grid; Named gives the same grid back. Degrees are those of
// WGS 84, north and east positive, and the height is above its ellipsoid.
func (g Grid) Name() string {
	f := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	return beforeLatitude + f(g.middle.Latitude) + beforeLongitude + f(g.middle.Longitude) + beforeHeight + f(g.height) + behindHeight
}

// Named is the grid of a name that Name gave; false: the name is none of these.
func Named(text string) (Grid, bool) {
	rest, ok := strings.CutPrefix(strings.TrimSpace(text), beforeLatitude)
	if !ok {
		return Grid{}, false
	}
	var v [3]float64
	for i, behind := range [3]string{beforeLongitude, beforeHeight, behindHeight} {
		number, after, found := strings.Cut(rest, behind)
		if !found || !plain(number) {
			return Grid{}, false
		}
		v[i], _ = strconv.ParseFloat(number, 64)
		rest = after
	}
	if rest != "" {
		return Grid{}, false
	}
	g, err := New(Position{v[0], v[1]}, v[2])
	return g, err == nil
}

// plain tells whether text is a decimal number without an exponent: -12.5.
func plain(text string) bool {
	whole, part, point := strings.Cut(strings.TrimPrefix(text, "-"), ".")
	digits := func(s string) bool { return s != "" && strings.Trim(s, "0123456789") == "" }
	return len(text) < 40 && digits(whole) && (!point || digits(part))
}
