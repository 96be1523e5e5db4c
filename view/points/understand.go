package points

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// separate finds the separator that fits the sample: the same number of fields on every line, at least two of them
// numbers. head is the first line where that is a heading.
func (r *reader) separate(sample []row) (head []field, body []row, ok bool) {
	var fit []rune
	for _, s := range separators {
		if r.opts.Separator == s.sign || r.opts.Separator == 0 && r.suits(sample, s.sign) {
			fit = append(fit, s.sign)
		}
	}
	if len(fit) > 1 && fit[0] == '\t' && fit[len(fit)-1] == ' ' {
		fit = fit[:len(fit)-1] // a tab is a blank as well; where tabs do, blanks belong to names
	}
	switch len(fit) {
	case 1:
	case 0:
		r.fault(sample[0].line, 0, "separator", "no separator parts these lines into fields with two numbers beside each other",
			"say which separator parts the fields, and name the columns by an order such as PENZD")
		return nil, nil, false
	default:
		words := make([]string, len(fit))
		for i, s := range fit {
			words[i] = wordOf(s)
		}
		r.fault(sample[0].line, 0, "separator-unclear", fmt.Sprintf("the fields may be parted by %s: the lines fit each of them", strings.Join(words, " or ")), "say which separator parts the fields")
		return nil, nil, false
	}
	r.table.Separator = fit[0]
	first := split(sample[0].text, fit[0])
	if wordsOnly(first) {
		r.table.Heading, r.head = true, sample[0].line
		return first, sample[1:], true
	}
	return nil, sample, true
}

func wordsOnly(fields []field) bool {
	return !slices.ContainsFunc(fields, func(f field) bool { return shapeOf(f.text).number })
}

// pair tells whether a line is one of points: two numbers beside each other.
func (r *reader) pair(fields []field) bool {
	before := false
	for _, f := range fields {
		s := shapeOf(f.text)
		now := s.number && (r.opts.Decimal == 0 || s.fits(r.opts.Decimal))
		if before && now {
			return true
		}
		before = now
	}
	return false
}

// suits tells whether a separator parts the lines of the sample, the first perhaps a heading, into points. One line in
// five may be broken: that is a fault of the line, not of the separator.
func (r *reader) suits(sample []row, sign rune) bool {
	good, broken := 0, 0
	for i, one := range sample {
		fields := split(one.text, sign)
		switch {
		case r.pair(fields):
			good++
		case i == 0 && wordsOnly(fields):
		default:
			broken++
		}
	}
	return good > 0 && 4*broken <= good
}

// decimal finds the decimal sign.
func (r *reader) decimal(body []row) bool {
	r.table.Decimal = r.opts.Decimal
	if r.table.Separator == ',' {
		r.table.Decimal = '.'
	}
	if r.table.Decimal != 0 {
		return true
	}
	points, commas, groups := 0, 0, 0
	var example field
	at := 0
	for _, one := range body {
		for _, f := range split(one.text, r.table.Separator) {
			switch s := shapeOf(f.text); {
			case s.point:
				points++
			case s.comma:
				commas++
				if s.grouping {
					groups++
				}
				example, at = f, one.line
			}
		}
	}
	switch {
	case commas == 0:
		r.table.Decimal = '.'
	case points > 0:
		r.fault(at, example.column, "decimal-unclear", fmt.Sprintf("some numbers have a decimal point and some a comma, such as %q", clipped(example.text)), "say which is the decimal sign")
		return false
	case groups == commas:
		r.fault(at, example.column, "decimal-unclear", fmt.Sprintf("the comma in %q may be a decimal sign or part thousands", clipped(example.text)), "say which is the decimal sign")
		return false
	default:
		r.table.Decimal = ','
	}
	return true
}

// columns settles the order: as asked, or as the heading says.
func (r *reader) columns(head []field, body []row) bool {
	h, words := readHeading(head)
	line := r.head
	if r.opts.Columns != "" {
		r.table.Columns = r.opts.Columns
		if words && !h.xy && h.fault == "" && !agree(h.order, r.opts.Columns) {
			r.say(finding.Attention, line, 0, "heading-differs", fmt.Sprintf("the heading reads as %s; read as %s, as asked", h.order, r.opts.Columns), "")
		}
		return true
	}
	switch {
	case h.fault != "":
		r.fault(line, 0, "heading", h.fault, "name the columns by an order such as PENZD")
		return false
	case words && !h.xy && strings.Contains(h.order, "E") && strings.Contains(h.order, "N"):
		r.table.Columns = h.order
		if len(h.unknown) > 0 {
			r.say(finding.Note, line, 0, "columns", fmt.Sprintf("columns passed over: %s", strings.Join(h.unknown, ", ")), "")
		}
		return true
	}
	return r.unclear(h, words, line, body)
}

// levels asks for a column of levels, where every point must have one.
func (r *reader) levels() bool {
	if r.opts.Levels && !strings.ContainsRune(r.table.Columns, rune(Level)) {
		r.fault(r.head, 0, "no-levels", fmt.Sprintf("the columns %s hold no level, and ground has one at every point", r.table.Columns), "an order with Z, such as PENZD")
		return false
	}
	return true
}

// agree: what the heading names is where the order has it.
func agree(heading, order string) bool {
	for i := range min(len(heading), len(order)) {
		if h, o := Column(heading[i]), Column(order[i]); h != o && h != PassOver && o != PassOver {
			return false
		}
	}
	return true
}

// unclear says that nobody has told the order, and what each one that fits would make of the first line.
func (r *reader) unclear(h heading, words bool, line int, body []row) bool {
	if len(body) == 0 {
		r.fault(line, 0, "empty", "the file holds a heading and no points", "")
		return false
	}
	first := split(body[0].text, r.table.Separator)
	r.table.Proposals = proposals(r.numeric(body))
	text := "the file does not say which column is easting and which northing"
	switch {
	case words && h.xy:
		text = "the heading says x and y, and not which of them is easting: both are in use"
	case r.table.Heading:
		text = "the heading does not say which column is easting and which northing"
	}
	var would []string
	for _, order := range r.table.Proposals {
		would = append(would, order+" reads "+readAs(order, first))
	}
	if len(would) > 0 {
		text += "; the first line: " + strings.Join(would, "; ")
	}
	r.fault(body[0].line, 0, "order-unclear", text, "name the columns by an order: "+strings.Join(append(r.table.Proposals, "…"), ", "))
	return false
}

// numeric tells which columns hold numbers on every line of the sample that has them, as wide as its widest line.
func (r *reader) numeric(body []row) []bool {
	var out []bool
	for _, one := range body {
		for i, f := range split(one.text, r.table.Separator) {
			if i == len(out) {
				out = append(out, true)
			}
			out[i] = out[i] && (f.text == "" || shapeOf(f.text).fits(r.table.Decimal))
		}
	}
	return out
}

// readAs shows a line in an order.
func readAs(order string, fields []field) string {
	var out []string
	for i, c := range order {
		if i < len(fields) && Column(c) != PassOver {
			out = append(out, string(c)+" "+clipped(fields[i].text))
		}
	}
	return strings.Join(out, ", ")
}

// unit settles the unit: as stated, or as the heading says.
func (r *reader) unit(head []field) bool {
	h, _ := readHeading(head)
	stated := r.opts.Unit
	if stated.String() == "" {
		stated = measure.NoUnit
	}
	switch {
	case stated == measure.NoUnit && h.unit == measure.NoUnit:
		r.fault(0, 0, "no-unit", "nobody has said in which unit the coordinates are", "m, ft or US survey ft")
		return false
	case stated != measure.NoUnit && h.unit != measure.NoUnit && stated != h.unit && !(stated == measure.UnitSurveyFoot && h.unit == measure.UnitFoot):
		r.fault(0, 0, "unit", fmt.Sprintf("the heading says %s, and %s was asked for", h.unit, stated), "one of them")
		return false
	case stated == measure.NoUnit:
		stated = h.unit
	}
	r.table.Unit = stated
	return true
}

// understood puts it into one sentence.
func (r *reader) understood() {
	t := &r.table
	names := map[Column]string{Name: "name", Easting: "easting", Northing: "northing", Level: "level", Remark: "remark", Code: "code", OfLine: "line", PassOver: "(passed over)"}
	var columns []string
	for _, c := range t.Columns {
		columns = append(columns, names[Column(c)])
	}
	heading, decimal, asked := "no heading", "point", "as asked"
	if t.Heading {
		heading = "a heading"
	}
	if t.Decimal == ',' {
		decimal = "comma"
	}
	if r.opts.Columns == "" {
		asked = "as the heading says"
	}
	t.Understood = fmt.Sprintf("%s, fields parted by %s, decimal %s, in %s; columns %s: %s",
		heading, wordOf(t.Separator), decimal, t.Unit, asked, strings.Join(columns, ", "))
	r.say(finding.Note, 0, 0, "understood", "read with "+t.Understood, "")
}
