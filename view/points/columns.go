package points

import (
	"fmt"
	"strings"

	"trenchwright/base/measure"
)

// checkColumns reads an order such as PENZD.
func checkColumns(order string) (string, error) {
	order = strings.ToUpper(order)
	for i, c := range order {
		switch Column(c) {
		case Name, Easting, Northing, Level, Remark, Code, OfLine:
			if strings.ContainsRune(order[:i], c) {
				return "", fmt.Errorf("the order %q has %c twice", order, c)
			}
		case PassOver:
		default:
			return "", fmt.Errorf("the order %q has %q; its letters are P name, E easting, N northing, Z level, C code, L line, D remark, - pass over", order, string(c))
		}
	}
	if order != "" && !(strings.ContainsRune(order, rune(Easting)) && strings.ContainsRune(order, rune(Northing))) {
		return "", fmt.Errorf("the order %q has no E and N", order)
	}
	return order, nil
}

// headings are the words that people write above columns.
var headings = map[string]Column{
	"p": Name, "pt": Name, "pnt": Name, "point": Name, "name": Name, "id": Name, "no": Name, "nr": Name, "number": Name, "point name": Name,
	"point id": Name, "point no": Name, "point number": Name,
	"e": Easting, "east": Easting, "easting": Easting, "eastings": Easting,
	"n": Northing, "north": Northing, "northing": Northing, "northings": Northing,
	"z": Level, "h": Level, "height": Level, "elevation": Level, "elev": Level, "level": Level, "rl": Level, "altitude": Level,
	"d": Remark, "desc": Remark, "description": Remark, "remark": Remark, "remarks": Remark, "note": Remark, "notes": Remark,
	"c": Code, "code": Code, "codes": Code, "feature code": Code, "point code": Code,
	"l": OfLine, "line": OfLine, "line name": OfLine, "string": OfLine, "breakline": OfLine, "break line": OfLine,
}

// heading is what a line of words says of its columns.
type heading struct {
	order   string       // a column that says nothing we know is passed over
	unit    measure.Unit // measure.NoUnit: none stated
	xy      bool         // it says x and y, and not which of them is easting
	unknown []string
	known   int
	fault   string
}

// readHeading reads a heading; ok is false where the line is none: a field of it is a number, or none is a word we know.
func readHeading(fields []field) (h heading, ok bool) {
	var order strings.Builder
	for _, f := range fields {
		if shapeOf(f.text).number {
			return heading{}, false
		}
		word, unit := headingWord(f.text)
		if unit != measure.NoUnit {
			if h.unit != measure.NoUnit && h.unit != unit {
				h.fault = fmt.Sprintf("the heading states two units: %s and %s", h.unit, unit)
			}
			h.unit = unit
		}
		c, known := headings[word]
		switch {
		case word == "x" || word == "y":
			h.xy = true
			h.known++
			c = PassOver
		case !known:
			h.unknown = append(h.unknown, clipped(f.text))
			c = PassOver
		case strings.ContainsRune(order.String(), rune(c)):
			h.fault = fmt.Sprintf("the heading names two columns alike, the second is %q", clipped(f.text))
			c = PassOver
		default:
			h.known++
		}
		order.WriteByte(byte(c))
	}
	h.order = order.String()
	return h, h.known > 0
}

// namesColumns tells whether a line is a heading with easting and northing in it, whatever parts its fields.
func namesColumns(line string) bool {
	for _, s := range separators {
		if h, ok := readHeading(split(line, s.sign)); ok && strings.Contains(h.order, "E") && strings.Contains(h.order, "N") {
			return true
		}
	}
	return false
}

// headingWord is the plain word of a heading and the unit in brackets behind it: "Easting (m)", "N [ft]", "z_m" has none.
func headingWord(text string) (word string, unit measure.Unit) {
	word = strings.ToLower(strings.Trim(text, " \t#\"'"))
	if i := strings.IndexAny(word, "([{"); i >= 0 {
		if u, err := measure.ParseUnit(strings.Trim(word[i:], "()[]{} ")); err == nil {
			unit = u
		}
		word = word[:i]
	}
	word = strings.NewReplacer("_", " ", "-", " ", ".", "", ":", "").Replace(word)
	return strings.Join(strings.Fields(word), " "), unit
}

// proposals are the orders that would fit lines of this many fields, of which the ones told are numbers throughout.
func proposals(numeric []bool) []string {
	n, first := len(numeric), 0
	for first < n && !numeric[first] {
		first++
	}
	numbers := 0
	for i := first; i < n && numeric[i]; i++ {
		numbers++
	}
	tail := ""
	if rest := n - first - numbers; rest > 0 {
		tail = "D" + strings.Repeat("-", rest-1)
	}
	with := func(name string, numbers int) []string {
		switch numbers {
		case 2:
			return []string{name + "EN" + tail, name + "NE" + tail}
		case 3:
			return []string{name + "ENZ" + tail, name + "NEZ" + tail}
		}
		return nil
	}
	switch {
	case first > 1:
		return nil
	case first == 1:
		return with("P", numbers)
	case numbers == 4: // numbered points with levels
		return with("P", 3)
	case numbers == 3: // points with levels, or numbered points without
		return append(with("", 3), with("P", 2)...)
	}
	return with("", numbers)
}
