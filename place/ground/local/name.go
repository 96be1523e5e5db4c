package local

import (
	"regexp"
	"strconv"
	"strings"
)

// named is how a grid is called, so that whoever reads the name can make the grid again.
var named = regexp.MustCompile(`^local transverse Mercator on WGS 84, factor 1 at latitude (-?[0-9]+(?:\.[0-9]+)?), longitude (-?[0-9]+(?:\.[0-9]+)?), height (-?[0-9]+(?:\.[0-9]+)?) m$`)

// Name is what a job calls its coordinate system when it is this grid; Named gives the same grid back. Degrees are those of
// WGS 84, north and east positive, and the height is above its ellipsoid.
func (g Grid) Name() string {
	f := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	return "local transverse Mercator on WGS 84, factor 1 at latitude " + f(g.middle.Latitude) + ", longitude " + f(g.middle.Longitude) + ", height " + f(g.height) + " m"
}

// Named is the grid of a name that Name gave; false: the name is none of these.
func Named(text string) (Grid, bool) {
	m := named.FindStringSubmatch(strings.TrimSpace(text))
	if m == nil {
		return Grid{}, false
	}
	var v [3]float64
	for i := range v {
		var err error
		if v[i], err = strconv.ParseFloat(m[i+1], 64); err != nil {
			return Grid{}, false
		}
	}
	g, err := New(Position{v[0], v[1]}, v[2])
	return g, err == nil
}
