package job

import (
	"fmt"
	"strconv"
	"strings"

	"trenchwright/base/measure"
)

// Built is what lies on a leg already and how a person chose to lay the rest, where the site differed from the plan. Lengths run along
// the way it is laid, from the face of its first unit.
type Built struct {
	To        string   `json:"to,omitempty" example:"A-014" jsonschema:"place of the last unit that lies; left out: none does, and the units are held as they were planned"`
	Beyond    []Lying  `json:"beyond,omitempty" jsonschema:"units that lie as well, behind a gap that is still to be closed: where gangs meet"`
	Courses   []Course `json:"courses" jsonschema:"units one behind the other: what lies, then what is to come"`
	Grades    []Held   `json:"grades,omitempty" jsonschema:"grades that the leg keeps, one behind the other as the courses are"`
	Bedded    []Bedded `json:"bedded,omitempty" jsonschema:"units that lie on the levels that were planned when they were laid: those do not change any more"`
	Counted   []string `json:"counted,omitempty" example:"[01JD0000000000000000000001]" jsonschema:"records of the site whose readings are in here already"`
	Withdrawn []string `json:"withdrawn,omitempty" example:"[A-023]" jsonschema:"places that are not laid any more: their names stand in papers that people hold, and are never given again"`
}

// Course is one unit, or several that are alike and equally far apart.
type Course struct {
	From   string         `json:"from" example:"A-001" jsonschema:"place of the first"`
	To     string         `json:"to,omitempty" example:"A-013" jsonschema:"place of the last, where there are several: one number behind the other"`
	Supply string         `json:"supply,omitempty" ref:"supply" example:"trough" jsonschema:"supply of the units; that of the leg where left out"`
	Length measure.Length `json:"length" in:"(0,)" example:"3000 mm" jsonschema:"of each unit, on its axis"`
	Stock  measure.Length `json:"stock,omitempty" in:"(0,)" example:"3000 mm" jsonschema:"length that it is cut from; left out: it is not cut"`
	Start  measure.Length `json:"start" in:"(,)" example:"0 mm" jsonschema:"where the first one starts, along the way the leg is laid"`
	Pitch  measure.Length `json:"pitch,omitempty" in:"(0,)" example:"3010 mm" jsonschema:"from the start of one to the start of the next, where there are several"`
	Hold   bool           `json:"hold,omitempty" example:"true" jsonschema:"it is ordered whole and cut from a measurement of both walls of the gap that it closes"`
	Of     string         `json:"of,omitempty" example:"A-009/a" jsonschema:"mark of the offcut of the yard that it is cut from; left out: a whole unit"`
	With   []string       `json:"with,omitempty" example:"[A-020]" jsonschema:"places of other pieces that are sawn from the same unit, once the saw has begun on it"`
}

// Lying is units that lie, one behind the other.
type Lying struct {
	From string `json:"from" example:"A-020" jsonschema:"place of the first, where the gap before it ends"`
	To   string `json:"to,omitempty" example:"A-026" jsonschema:"place of the last, where there are several"`
	// Where both faces of a unit were measured, it may be a little shorter or longer between them than it was made.
	End measure.Length `json:"end,omitempty" in:"(0,)" example:"80790 mm" jsonschema:"where the last one was measured to end, along the way the leg is laid; left out: where its length has it end"`
}

// Held is one grade of a leg that it keeps, up to the end of a place.
type Held struct {
	To    string         `json:"to" example:"A-009" jsonschema:"the last place on this grade"`
	Grade *measure.Grade `json:"grade,omitempty" in:"(,)" example:"0.35 %" jsonschema:"up-chainage, rising positive; left out: one grade, that closes what the others leave"`
}

// Bedded is units that lie, one behind the other, with the levels that people held as they laid them. A place that came to lie off its
// own keeps the level that it was laid to.
type Bedded struct {
	From string           `json:"from" example:"A-001" jsonschema:"place of the first"`
	To   string           `json:"to,omitempty" example:"A-013" jsonschema:"place of the last, where there are several"`
	At   []measure.Length `json:"at" in:"(,)" example:"[0 mm, 3005 mm]" jsonschema:"chainages of their joints from the leg's from node, as they were planned, in laying order: one more than there are units"`
	Tops []measure.Length `json:"tops" in:"(,)" example:"[31250 mm, 31265 mm]" jsonschema:"wall tops there, above the height datum"`
}

// mostInCourse keeps a slip of the pen from being taken for a long run.
const mostInCourse = 1_000_000

// Places are the places of a course, in laying order; an error where its names say no such thing.
func (c Course) Places() ([]string, error) {
	if c.To == "" || c.To == c.From {
		return []string{c.From}, nil
	}
	leg, from, one := numberOf(c.From)
	same, to, other := numberOf(c.To)
	switch {
	case !one || !other || leg != same:
		return nil, fmt.Errorf("%s to %s are not two numbers on one leg", c.From, c.To)
	case to < from:
		return nil, fmt.Errorf("%s comes before %s", c.To, c.From)
	case to-from >= mostInCourse:
		return nil, fmt.Errorf("%s to %s are %d places", c.From, c.To, to-from+1)
	}
	out := make([]string, 0, to-from+1)
	for n := from; n <= to; n++ {
		out = append(out, PlaceName(leg, n))
	}
	return out, nil
}

// PlaceName is the name of the nth place on a leg, from 1: B-017. It is given once and never means another place.
func PlaceName(leg string, n int) string {
	number := strconv.Itoa(n)
	return leg + "-" + "000"[:max(0, 3-len(number))] + number
}

// numberOf takes the name of a place apart; false where it is that of an insertion, or no place's.
func numberOf(place string) (leg string, n int, ok bool) {
	i := strings.LastIndexByte(place, '-')
	if i < 0 {
		return "", 0, false
	}
	n, err := strconv.Atoi(place[i+1:])
	return place[:i], n, err == nil && n > 0 && PlaceName(place[:i], n) == place
}

// isPlace tells whether a name can be that of a place on a leg: A-017, or A-017A behind it.
func isPlace(leg, name string) bool {
	number, ok := strings.CutPrefix(name, leg+"-")
	if !ok {
		return false
	}
	digits := strings.TrimRight(number, "ABCDEFGHIJKLMNOPQRSTUVWXYZ")
	n, err := strconv.Atoi(digits)
	return err == nil && n > 0 && PlaceName(leg, n) == leg+"-"+digits
}
