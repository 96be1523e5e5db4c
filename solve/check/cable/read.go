package cable

import (
	"math"
	"strconv"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/solve/check"
)

const (
	aCable       = "a cable"
	cableExample = "power: 3 x 42mm, 4.1kg/m, bend 12, pull 8kN, heat 20W/m"
	aRoute       = "a route"
	routeExample = "50m, right 90° r 1.2m, 30m up 2%"
)

// ReadCable reads a cable as people write it: its name and a colon, then in any order, parted by commas, how many and how thick (3 x 42mm),
// its mass on a length, and by a word before each: bend (least radius in diameters), pull, copper, side, heat, rated, carries, class, in
// (compartment); trefoil and grip alone. Imperial tells whether a unit of feet, inches or pounds was written.
func ReadCable(text string) (c Cable, imperial bool, err error) {
	name, rest, named := strings.Cut(text, ":")
	if !named {
		name, rest = "the cable", text
	}
	c.Name = strings.TrimSpace(name)
	if c.Name == "" {
		return c, false, &measure.ParseError{Text: text, What: aCable, Column: 1, Problem: "a name was expected before the colon", Example: cableExample}
	}
	column := len([]rune(text)) - len([]rune(rest))
	said := map[string]bool{}
	for _, part := range strings.Split(rest, ",") {
		word := strings.TrimSpace(part)
		at := column + len([]rune(part)) - len([]rune(strings.TrimLeft(part, " "))) + 1
		column += len([]rune(part)) + 1
		key, us, problem := c.take(word)
		if problem == "" && said[key] {
			problem = key + " is said twice"
		}
		if problem != "" {
			return Cable{}, false, &measure.ParseError{Text: text, What: aCable, Column: at, Problem: problem, Example: cableExample}
		}
		said[key], imperial = true, imperial || us
	}
	if !said["size"] {
		return Cable{}, false, &measure.ParseError{Text: text, What: aCable, Column: 1, Problem: "how many and how thick was expected", Example: cableExample}
	}
	return c, imperial, nil
}

// take reads one part of a cable: what it was, and what is wrong with it.
func (c *Cable) take(word string) (key string, imperial bool, problem string) {
	key, value, _ := strings.Cut(word, " ")
	value = strings.TrimSpace(value)
	quantity := func(kind *check.Kind, into **check.Quantity) (string, bool, string) {
		q, us, err := kind.Read(value)
		if err != nil {
			return key, false, reason(err)
		}
		*into = &q
		return key, us, ""
	}
	switch key {
	case "trefoil":
		c.Trefoil = true
	case "grip":
		c.Grip = true
	case "class":
		c.Class = value
	case "in":
		n, err := strconv.Atoi(value)
		if err != nil || n < 1 {
			return key, false, strconv.Quote(value) + " is no compartment; they count from 1"
		}
		c.In = n
	case "bend":
		x, err := strconv.ParseFloat(value, 64)
		if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
			return key, false, strconv.Quote(value) + " is no number of diameters"
		}
		c.Bend = &x
	case "pull":
		return quantity(check.Force, &c.Tension)
	case "copper":
		return quantity(check.Area, &c.Copper)
	case "side":
		return quantity(check.LineForce, &c.Side)
	case "heat":
		return quantity(check.LineHeat, &c.Loss)
	case "rated":
		return quantity(check.Current, &c.Rated)
	case "carries":
		return quantity(check.Current, &c.Carries)
	default:
		return c.figure(word)
	}
	return key, false, ""
}

// figure reads a mass on a length, or how many and how thick.
func (c *Cable) figure(word string) (key string, imperial bool, problem string) {
	if said, err := measure.ParseLinearMass(word); err == nil {
		c.Mass = &said.Value
		return "mass", strings.Contains(word, "lb"), ""
	}
	count, size, several := strings.Cut(word, "x")
	c.Count = 1
	if several {
		n, err := strconv.Atoi(strings.TrimSpace(count))
		if err != nil {
			return "size", false, strconv.Quote(strings.TrimSpace(count)) + " is no whole number of cables"
		}
		c.Count = n
	} else {
		size = word
	}
	r, err := measure.Parse(strings.TrimSpace(size))
	switch {
	case err != nil && !several:
		return "size", false, strconv.Quote(word) + " is none of what a cable says"
	case err != nil:
		return "size", false, reason(err)
	}
	c.OD = r.Length
	return "size", r.Unit == measure.UnitFoot || r.Unit == measure.UnitInch, ""
}

// reason is what is wrong, without the text round it.
func reason(err error) string {
	if e, ok := err.(*measure.ParseError); ok {
		return strconv.Quote(e.Text) + ": " + e.Problem
	}
	return err.Error()
}

// ReadRoute reads a route from its start, its pieces parted by commas: straights (50m, 30m up 2%, 20m down 1:50) and bends (right 90° r 1.2m).
func ReadRoute(text string) ([]Piece, error) {
	var route []Piece
	column := 0
	for _, part := range strings.Split(text, ",") {
		at := column + 1
		column += len([]rune(part)) + 1
		s, problem := readPiece(strings.TrimSpace(part))
		if problem != "" {
			return nil, &measure.ParseError{Text: text, What: aRoute, Column: at, Problem: problem, Example: routeExample}
		}
		route = append(route, s)
	}
	return route, nil
}

func readPiece(word string) (s Piece, problem string) {
	first, rest, _ := strings.Cut(word, " ")
	if first == "left" || first == "right" {
		angle, radius, ok := strings.Cut(rest, " r ")
		if !ok {
			return s, "a bend says its turn and its radius"
		}
		turn, err := measure.ParseDegrees(strings.TrimSpace(angle))
		if err != nil {
			return s, reason(err)
		}
		r, err := measure.Parse(strings.TrimSpace(radius))
		switch {
		case err != nil:
			return s, reason(err)
		case turn.Value <= 0 || r.Length <= 0:
			return s, "a bend turns by more than 0° on a radius above 0"
		}
		return Piece{Turn: turn.Value, Radius: r.Length}, ""
	}
	sign := 1.0
	length, slope, up := strings.Cut(word, " up ")
	if !up {
		if length, slope, up = strings.Cut(word, " down "); up {
			sign = -1
		}
	}
	r, err := measure.Parse(strings.TrimSpace(length))
	if err != nil {
		return s, reason(err)
	}
	s.Length = r.Length
	if up {
		g, err := measure.ParseGrade(strings.TrimSpace(slope))
		if err != nil {
			return s, reason(err)
		}
		s.Rise = sign * float64(g.Value.Rise) / float64(g.Value.Run)
	}
	return s, ""
}
