package geojson

import (
	"encoding/json"
	"math"
	"strconv"
)

// nest is the value of "coordinates" as it is written, before it is known of what kind the geometry is: a position, or a
// list of nests. wrong says what else it is.
type nest struct {
	position *Position
	kids     []nest
	wrong    string
}

// deepest is how deep coordinates may lie: those of a MultiPolygon.
const deepest = 4

// coordinates reads the value of "coordinates"; what is wrong in it is kept as a sentence and the rest passed over.
func (r *reader) coordinates() (nest, error) {
	switch t, err := r.next(); {
	case err != nil:
		return nest{}, err
	case t == json.Delim('['):
		return r.list(1)
	case t == json.Delim('{'):
		return nest{wrong: "its coordinates are no list"}, r.rest()
	}
	return nest{wrong: "its coordinates are no list"}, nil
}

// list reads a list that was just begun, level deep.
func (r *reader) list(level int) (nest, error) {
	var n nest
	if level > deepest {
		n.wrong = "its coordinates lie more than 4 deep in each other"
	}
	var numbers []float64
	for {
		t, err := r.next()
		if err != nil {
			return n, err
		}
		number, isNumber := t.(json.Number)
		switch {
		case t == json.Delim(']'):
			return n, r.closed(&n, numbers)
		case t == json.Delim('[') && n.wrong == "":
			err = r.kid(&n, level)
		case t == json.Delim('['), t == json.Delim('{'):
			n.spoil("its coordinates hold an object")
			err = r.rest()
		case !isNumber:
			n.spoil("its coordinates hold something that is no number")
		default:
			numbers = n.number(numbers, number.String())
		}
		if err != nil {
			return n, err
		}
		if len(numbers) > 0 && len(n.kids) > 0 {
			n.spoil("its coordinates mix numbers and lists")
		}
	}
}

// spoil keeps the first thing that is wrong.
func (n *nest) spoil(why string) {
	if n.wrong == "" {
		n.wrong, n.kids = why, nil
	}
}

func (r *reader) kid(n *nest, level int) error {
	kid, err := r.list(level + 1)
	if kid.wrong != "" {
		n.spoil(kid.wrong)
		return err
	}
	n.kids = append(n.kids, kid)
	return err
}

func (n *nest) number(so []float64, text string) []float64 {
	const most = 16 // more numbers than any position needs
	f, bad := strconv.ParseFloat(text, 64)
	switch {
	case bad != nil:
		n.spoil("the coordinate " + clipped(text, 24) + " is out of range")
	case len(so) < most:
		so = append(so, f)
	}
	return so
}

// closed makes a position of the numbers of a list, if it is one.
func (r *reader) closed(n *nest, numbers []float64) error {
	if len(numbers) == 0 || n.wrong != "" {
		return nil
	}
	var why string
	if n.position, why = r.position(numbers); why != "" {
		n.spoil(why)
	}
	return r.kept()
}

// position is a position of two numbers or three; RFC 7946 (3.1.1) lets a reader pass over more.
func (r *reader) position(f []float64) (*Position, string) {
	if len(f) < 2 {
		return nil, "a position has 1 number; longitude and latitude were expected"
	}
	p := &Position{Lon: f[0], Lat: f[1]}
	if len(f) > 2 {
		p.Height, p.HasHeight = f[2], true
		r.heights++
	}
	if len(f) > 3 {
		r.longer++
	}
	return p, outOfRange(*p)
}

// outOfRange says why a position is none on the earth, and what it looks like; empty: it is one.
func outOfRange(p Position) string {
	where := "longitude " + number(p.Lon) + ", latitude " + number(p.Lat)
	lon, lat := math.Abs(p.Lon), math.Abs(p.Lat)
	const farUp = 100_000 // metres: the edge of space, further than any height of a survey
	switch {
	case lon <= 180 && lat <= 90 && math.Abs(p.Height) <= farUp:
		return ""
	case lon <= 180 && lat <= 90:
		return "the height of " + number(p.Height) + " m is out of range"
	case lon > 360 || lat > 360:
		return where + " are no degrees; they look like coordinates of a grid, and GeoJSON is WGS 84"
	case lon <= 90 && lat <= 180:
		return where + " is out of range; it looks as if latitude stood first, and longitude does"
	}
	return where + " is out of range; longitude goes from -180 to 180, latitude from -90 to 90"
}

func number(f float64) string { return strconv.FormatFloat(f, 'g', 12, 64) }

// kept counts positions.
func (r *reader) kept() error {
	if r.positions++; r.positions > r.limits.Positions {
		return r.refuse("too-many", "the file has more than %d positions", r.limits.Positions).try("only the part along the route")
	}
	return nil
}
