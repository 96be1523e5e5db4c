package table

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"trenchwright/base/measure"
)

func (in *listReader) headsExample() string { return "a first line such as " + in.listKind.heads }

// heads is where each column stands, -1 for none.
type heads struct{ length, count, hand, angle, id, price, supply, mark, endA, endB, columns int }

// heads finds the columns by the first line.
func (in *listReader) heads(parts []field) {
	at := heads{-1, -1, -1, -1, -1, -1, -1, -1, -1, -1, len(parts)}
	for i, f := range parts {
		name, unit := headName(f.text)
		place := map[string]*int{"length": &at.length, "count": &at.count, "hand": &at.hand, "angle": &at.angle, "id": &at.id, "price": &at.price, "supply": &at.supply, "mark": &at.mark, "end a": &at.endA, "end b": &at.endB}[name]
		switch {
		case name == "" && strings.TrimSpace(f.text) == "":
			continue // an empty column behind a separator too many
		case !slices.Contains(in.known, name):
			in.fault("list.unknown-column", problem{column: f.columnOf(0),
				text: fmt.Sprintf("%q is no column of a %s", strings.TrimSpace(f.text), in.name), try: orList(in.known) + "; leave other columns out"})
			continue
		case *place >= 0:
			in.fault("list.column-twice", problem{column: f.columnOf(0), text: fmt.Sprintf("the column %s stands here a second time", name), try: "one of them"})
			continue
		}
		*place = i
		in.headUnit(name, unit, f)
	}
	for _, need := range in.needed {
		if map[string]int{"length": at.length, "count": at.count}[need] < 0 {
			in.fault("list.missing-column", problem{column: 1, text: "there is no column " + need, try: in.headsExample()})
		}
	}
	in.at = at
}

// orList is words as a choice: length, count or price.
func orList(words []string) string {
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " or " + words[last]
}

// headName parts length [mm] or length (mm) into name and unit.
func headName(text string) (name, unit string) {
	text = strings.ToLower(strings.TrimSpace(text))
	for _, pair := range []string{"[]", "()"} {
		if head, rest, ok := strings.Cut(text, pair[:1]); ok && strings.HasSuffix(rest, pair[1:]) {
			return strings.TrimSpace(head), strings.TrimSpace(strings.TrimSuffix(rest, pair[1:]))
		}
	}
	return text, ""
}

// headUnit takes the unit that a head names.
func (in *listReader) headUnit(name, unit string, f field) {
	switch {
	case unit == "":
	case name == "length":
		u, err := measure.ParseUnit(unit)
		if err != nil {
			in.fault("list.unit", problem{column: f.columnOf(0), text: fmt.Sprintf("%q is no unit of length", unit), try: "mm, m, in or ft"})
			return
		}
		in.unit = u
	case (name == "angle" || name == "end a" || name == "end b") && (unit == "deg" || unit == "°"):
	default:
		in.fault("list.unit", problem{column: f.columnOf(0), text: fmt.Sprintf("the column %s has no unit %q", name, unit), try: "the head without it"})
	}
}

// whole tells whether a line has no more fields than there are heads, and says it where not.
func (in *listReader) whole(parts []field) bool {
	extra := in.beyond(parts)
	if extra == nil {
		return true
	}
	in.fault("list.fields", problem{column: extra.columnOf(0), text: fmt.Sprintf("%d fields under %d heads", len(parts), in.at.columns),
		try: "quotes around a length with a comma in it, or semicolons between the columns"})
	return false
}

// piece reads one line of pieces; all that is wrong with it is said.
func (in *listReader) piece(parts []field) {
	before := len(in.faults) + in.more
	if !in.whole(parts) {
		return
	}
	p := Piece{Line: in.line}
	p.Length = in.length(parts, "a piece")
	in.count(&p, parts)
	in.cut(&p, parts)
	in.id(&p, parts)
	if len(in.faults)+in.more == before {
		in.pieces = append(in.pieces, p)
	}
}

// beyond is the first field with anything in it that no head stands over.
func (in *listReader) beyond(parts []field) *field {
	for i := in.at.columns; i < len(parts); i++ {
		if strings.TrimSpace(parts[i].text) != "" {
			return &parts[i]
		}
	}
	return nil
}

// cell is the field in a column: empty, at the line's end, where the line has none.
func (in *listReader) cell(parts []field, column int) field {
	if column >= 0 && column < len(parts) {
		return parts[column]
	}
	return field{column: len([]rune(in.text)) + 1}
}

func (in *listReader) length(parts []field, what string) measure.Length {
	f := in.cell(parts, in.at.length)
	if strings.TrimSpace(f.text) == "" {
		in.fault("list.no-length", problem{column: f.columnOf(0), text: "no length stands here", try: "a length, for example 1400 mm"})
		return 0
	}
	r, err := measure.ParseIn(f.text, in.unit)
	switch {
	case err != nil:
		in.misread("list.length", err, f)
	case r.Length <= 0:
		in.fault("list.length", problem{column: f.columnOf(0), text: fmt.Sprintf("%s of %s", what, r.Length), try: "a length over 0"})
	}
	return r.Length
}

func (in *listReader) count(p *Piece, parts []field) {
	f := in.cell(parts, in.at.count)
	text := strings.TrimSpace(f.text)
	n, err := strconv.Atoi(text)
	switch {
	case text == "":
		in.fault("list.no-count", problem{column: f.columnOf(0), text: "no count stands here", try: "how many pieces, for example 2"})
	case err != nil || text[0] == '+' || n < 1 || n > mostCount:
		in.fault("list.count", problem{column: f.columnOf(0), text: fmt.Sprintf("%q is no count of pieces", text), try: fmt.Sprintf("a whole number from 1 to %d", mostCount)})
	}
	p.Count = n
}

// cut reads hand and angle, which come together or not at all.
func (in *listReader) cut(p *Piece, parts []field) {
	h, a := in.cell(parts, in.at.hand), in.cell(parts, in.at.angle)
	hand, known := map[string]Hand{"": Square, "-": Square, "square": Square, "left": Left, "l": Left, "right": Right, "r": Right}[strings.ToLower(strings.TrimSpace(h.text))]
	if !known {
		in.fault("list.hand", problem{column: h.columnOf(0), text: fmt.Sprintf("%q is no hand", strings.TrimSpace(h.text)), try: "left, right, or nothing for a square cut"})
		return
	}
	if text := strings.TrimSpace(a.text); text != "" && text != "-" {
		said, err := measure.ParseDegrees(a.text)
		switch {
		case err != nil:
			in.misread("list.angle", err, a)
			return
		case said.Value < 0 || said.Value >= 90*measure.Degree:
			in.fault("list.angle", problem{column: a.columnOf(0), text: fmt.Sprintf("a cut at %s to a square one", said.Value), try: "from 0 to under 90 deg, the side it leans to in the column hand"})
			return
		}
		p.Angle = said.Value
	}
	switch {
	case hand == Square && p.Angle != 0:
		in.fault("list.hand", problem{column: h.columnOf(0), text: "an angle without a hand: left and right are different pieces", try: "left or right"})
	case hand != Square && p.Angle == 0:
		in.fault("list.angle", problem{column: a.columnOf(0), text: "a hand without an angle", try: "the angle between the cut and a square one, for example 22.5"})
	}
	p.Hand = hand
}

func (in *listReader) id(p *Piece, parts []field) {
	f := in.cell(parts, in.at.id)
	p.ID = unguarded(strings.TrimSpace(f.text))
	if p.ID == "" {
		return
	}
	if first, twice := in.seen[p.ID]; twice {
		in.fault("list.id-twice", problem{column: f.columnOf(0), text: fmt.Sprintf("the id %q stands in line %d already", p.ID, first), try: "an id of its own, or one line with both counts"})
		return
	}
	in.seen[p.ID] = in.line
}

// CuttingList is pieces as a table that ReadCutting reads back.
func CuttingList(pieces []Piece) Table {
	t := Table{Name: "Cutting list", Columns: []Column{
		{Key: "length", Head: "length", Kind: KindLength, Unit: "mm"},
		{Key: "count", Head: "count", Kind: KindCount},
		{Key: "hand", Head: "hand"},
		{Key: "angle", Head: "angle", Kind: KindAngle, Unit: "deg", Places: 2},
		{Key: "id", Head: "id"},
	}}
	for _, p := range pieces {
		hand, angle := Cell{}, Cell{}
		if p.Hand != Square {
			hand, angle = Text(string(p.Hand)), Angle(p.Angle)
		}
		t.Rows = append(t.Rows, []Cell{Length(p.Length), Count(p.Count), hand, angle, Text(p.ID)})
	}
	return t
}
