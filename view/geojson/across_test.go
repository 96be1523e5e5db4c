package geojson

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func wrapped(lon float64) float64 {
	for lon > 180 {
		lon -= 360
	}
	return lon
}

func ring(at ...float64) []Position {
	var out []Position
	for i := 0; i < len(at); i += 2 {
		out = append(out, Position{Lon: wrapped(at[i]), Lat: at[i+1]})
	}
	return out
}

// Polygons are cut along 180°, with their holes: small ones by eye.
func TestPolygonsAcross(t *testing.T) {
	for _, c := range []struct {
		name string
		body [][]Position
		want string
	}{
		{"the standard's example", [][]Position{ring(170, 40, 190, 40, 190, 50, 170, 50)},
			`[[[[180,50],[170,50],[170,40],[180,40],[180,50]]],[[[-180,40],[-170,40],[-170,50],[-180,50],[-180,40]]]]`},
		{"the other way round", [][]Position{ring(170, 50, 190, 50, 190, 40, 170, 40)}, `[[[[180,50],[170,50],[170,40],[180,40],[180,50]]],[[[-180,40],[-170,40],[-170,50],[-180,50],[-180,40]]]]`},
		{"a hole on the line", [][]Position{ring(170, 0, 190, 0, 190, 10, 170, 10), ring(178, 4, 182, 4, 182, 6, 178, 6)},
			`[[[[180,10],[170,10],[170,0],[180,0],[180,4],[178,4],[178,6],[180,6],[180,10]]],[[[-180,0],[-170,0],[-170,10],[-180,10],[-180,6],[-178,6],[-178,4],[-180,4],[-180,0]]]]`},
		{"holes beside it", [][]Position{ring(170, 0, 190, 0, 190, 10, 170, 10), ring(172, 4, 174, 4, 174, 6), ring(-174, 4, -172, 4, -172, 6)},
			`[[[[180,10],[170,10],[170,0],[180,0],[180,10]],[[172,4],[174,6],[174,4],[172,4]]],[[[-180,0],[-170,0],[-170,10],[-180,10],[-180,0]],[[-174,4],[-172,6],[-172,4],[-174,4]]]]`},
		{"a fork", [][]Position{ring(170, 0, 190, 0, 190, 2, 175, 2, 175, 8, 190, 8, 190, 10, 170, 10)},
			`[[[[180,2],[175,2],[175,8],[180,8],[180,10],[170,10],[170,0],[180,0],[180,2]]],[[[-180,0],[-170,0],[-170,2],[-180,2],[-180,0]]],[[[-180,8],[-170,8],[-170,10],[-180,10],[-180,8]]]]`},
		{"a corner on the line", [][]Position{ring(170, 0, 180, 5, 190, 0, 190, 10, 170, 10)},
			`[[[[180,10],[170,10],[170,0],[180,5],[180,10]]],[[[-180,5],[-170,0],[-170,10],[-180,10],[-180,5]]]]`},
	} {
		got := written(t, Feature{Geometry: Geometry{Kind: Polygon, Bodies: [][][]Position{c.body}}})
		if !strings.Contains(got, `"MultiPolygon","coordinates":`+c.want+"}") {
			t.Errorf("%s: got %s\nwant %s", c.name, got, c.want)
		}
	}
}

// Whatever is cut keeps its ground: the parts are as large as the whole, each turns as it should, none leaves -180 to 180,
// and a place is in one of them if and only if it is in the whole.
func TestCutPolygonsKeepTheirGround(t *testing.T) {
	cut := 0
	rapid.Check(t, func(t *rapid.T) {
		d := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		c := Position{Lon: 180 + 8*(d.Float64()-0.5), Lat: 40 * (d.Float64() - 0.5)}
		outer, hole := star(d, c, 4, 10, 1), star(d, c, 0.3, 2, -1)
		if !simple(outer) || !simple(hole) || !inside(outer, hole) {
			t.Skip("a corner on the meridian made a star cross itself or its hole")
		}
		body := [][]Position{wrappedRing(outer), wrappedRing(hole)}
		if !crosses(body) {
			return
		}
		parts, why := cutBody(body)
		if why != "" {
			t.Fatal(why)
		}
		area := math.Abs(areaOf(outer)) - math.Abs(areaOf(hole))
		if sum := checkedArea(t, parts); math.Abs(sum-area) > 1e-5 { // square degrees; the cuts are rounded to 1e-7
			t.Fatalf("parts of %v, a whole of %v square degrees\n%v %v\n%v", sum, area, outer, hole, parts)
		}
		for range 50 {
			p := Position{Lon: c.Lon + 24*(d.Float64()-0.5), Lat: c.Lat + 24*(d.Float64()-0.5)}
			want, got := holds(closedAll([][]Position{outer})[0], p) && !holds(closedAll([][]Position{hole})[0], p), 0
			for _, b := range parts {
				q := Position{Lon: wrapped(p.Lon), Lat: p.Lat}
				if holds(b[0], q) && !(len(b) > 1 && holds(b[1], q)) {
					got++
				}
			}
			if want != (got == 1) || got > 1 {
				t.Fatalf("%v is in the whole: %v, and in %d parts", p, want, got)
			}
		}
		cut++
	})
	if cut < 30 {
		t.Errorf("%d polygons were cut, too few to show anything", cut)
	}
	t.Logf("%d polygons were cut", cut)
}

// star is a ring about c, laid out without a jump, some of its corners on the meridian where that is near.
func star(d *rand.Rand, c Position, r0, r1, turn float64) []Position {
	n := 4 + d.IntN(12)
	var out []Position
	for i := range n {
		a, r := turn*2*math.Pi*(float64(i)+0.8*d.Float64())/float64(n), r0+(r1-r0)*d.Float64()
		p := Position{Lon: c.Lon + r*math.Cos(a), Lat: c.Lat + r*math.Sin(a)}
		p.Lon, p.Lat = float64(whole(p.Lon, degreeDecimals))/1e7, float64(whole(p.Lat, degreeDecimals))/1e7
		if d.IntN(6) == 0 {
			p.Lon = max(min(180, c.Lon+r1/2), c.Lon-r1/2)
		}
		out = append(out, p)
	}
	return out
}

func wrappedRing(r []Position) []Position {
	out := make([]Position, len(r))
	for i, p := range r {
		out[i] = Position{Lon: wrapped(p.Lon), Lat: p.Lat}
	}
	return out
}

// checkedArea is the area of the parts, whose rings turn as they should, are closed and lie within -180 to 180.
func checkedArea(t *rapid.T, parts [][][]Position) float64 {
	sum := 0.0
	for _, b := range parts {
		for i, r := range b {
			if turns(r) != (i == 0) || r[0] != r[len(r)-1] {
				t.Fatalf("ring %d of %v turns the wrong way or is open", i, b)
			}
			sum += areaOf(r)
			for _, p := range r {
				if p.Lon < -180 || p.Lon > 180 {
					t.Fatalf("%v", p)
				}
			}
		}
	}
	return sum
}

func areaOf(r []Position) float64 {
	sum := 0.0
	for i := range r {
		a, b := r[i], r[(i+1)%len(r)]
		sum += (a.Lon-r[0].Lon)*(b.Lat-r[0].Lat) - (b.Lon-r[0].Lon)*(a.Lat-r[0].Lat)
	}
	return sum / 2
}

func turnOf(a, b, c Position) float64 {
	return (b.Lon-a.Lon)*(c.Lat-a.Lat) - (c.Lon-a.Lon)*(b.Lat-a.Lat)
}

// meet: two steps touch or cross.
func meet(a, b, c, d Position) bool {
	return turnOf(a, b, c)*turnOf(a, b, d) <= 0 && turnOf(c, d, a)*turnOf(c, d, b) <= 0
}

// simple: no two steps of a ring touch, but for neighbours at their corner.
func simple(r []Position) bool {
	n := len(r)
	for i := range n {
		for k := i + 2; k < n; k++ {
			if (k+1)%n != i && meet(r[i], r[(i+1)%n], r[k], r[(k+1)%n]) {
				return false
			}
		}
		if turnOf(r[i], r[(i+1)%n], r[(i+2)%n]) == 0 {
			return false
		}
	}
	return true
}

func inside(outer, inner []Position) bool {
	for i := range outer {
		for k := range inner {
			if meet(outer[i], outer[(i+1)%len(outer)], inner[k], inner[(k+1)%len(inner)]) {
				return false
			}
		}
	}
	return holds(closedAll([][]Position{outer})[0], inner[0])
}
