package levelbook

import (
	"fmt"
	"strconv"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/solve/levelling"
)

// style is which decimal sign the table has used so far, and in which line first.
type style struct{ point, comma int }

// carried is what the cells have carried so far: units of their own, or none.
type carried struct {
	unit     measure.Unit // the first one that a cell carried
	unitLine int
	bare     []bareCell // numbers without any unit, while none is asked for
	finest   measure.Length
}

type bareCell struct {
	r row
	c cell
}

// cell is the cell of a row in a column; an empty one where there is none.
func (s *sheet) cell(r row, name string) cell {
	if i, ok := s.place[name]; ok && i < len(r.cells) {
		c := r.cells[i]
		trimmed := strings.TrimSpace(c.text)
		switch trimmed {
		case "-", "–", "—":
			return cell{column: c.column}
		}
		lead := len(c.text) - len(strings.TrimLeft(c.text, " "))
		return cell{text: trimmed, column: c.column + lead + c.quotes}
	}
	return cell{}
}

// length reads a cell as a length; nil where it is empty, or cannot be read, which is said.
func (s *sheet) length(r row, name string) *measure.Length {
	c := s.cell(r, name)
	if c.text == "" {
		return nil
	}
	text, ok := s.decimal(r, c)
	if !ok {
		return nil
	}
	unit := s.unit
	if unit == measure.NoUnit {
		unit = measure.UnitMetre // stands for no unit: the figures are kept as they are
	}
	got, err := measure.ParseIn(text, unit)
	if err != nil {
		f := finding.Misread("levelbook.length", err, s.where(r, c.column))
		if f.Where.Column != 0 && r.text != "" {
			f.Where.Excerpt = finding.Caret(r.text, f.Where.Column)
		}
		s.keep(f)
		return nil
	}
	if bare(text) {
		if s.unit == measure.NoUnit {
			s.carry.bare = append(s.carry.bare, bareCell{r, c})
		}
	} else if s.carry.unit == measure.NoUnit {
		s.carry.unit, s.carry.unitLine = got.Unit, r.line
	}
	if strings.ContainsAny(text, "./") || got.Unit == measure.UnitMillimetre || got.Unit == measure.UnitInch {
		if s.carry.finest == 0 || got.Finest < s.carry.finest {
			s.carry.finest = got.Finest
		}
	}
	return &got.Length
}

// bare tells whether a number stands without a unit.
func bare(text string) bool { return strings.Trim(text, "+-−0123456789.,/ ") == "" }

// decimal gives a cell's text with a decimal point, and holds the table to one decimal sign.
func (s *sheet) decimal(r row, c cell) (string, bool) {
	text := c.text
	switch point, comma := strings.Contains(text, "."), strings.Count(text, ","); {
	case comma == 1 && !point:
		if s.style.point > 0 {
			s.fault(r, c.column, "two-decimal-signs", fmt.Sprintf("%q has a comma, and in line %d there is a decimal point", text, s.style.point), "one decimal sign throughout")
			return "", false
		}
		if s.style.comma == 0 {
			s.style.comma = r.line
		}
		return strings.Replace(text, ",", ".", 1), true
	case point:
		if s.style.comma > 0 {
			s.fault(r, c.column, "two-decimal-signs", fmt.Sprintf("%q has a point, and in line %d there is a decimal comma", text, s.style.comma), "one decimal sign throughout")
			return "", false
		}
		if s.style.point == 0 {
			s.style.point = r.line
		}
	}
	return text, true
}

// count reads a cell as a whole number of things; 0 where it is empty.
func (s *sheet) count(r row, name string) int {
	c := s.cell(r, name)
	if c.text == "" {
		return 0
	}
	n, err := strconv.Atoi(c.text)
	if err != nil || n < 0 || n > 1_000_000 {
		s.fault(r, c.column, "count", fmt.Sprintf("%q is no count", c.text), "a whole number, 1 or more")
		return 0
	}
	return n
}

// settleUnit says what unit the figures are in, once all cells are read: none stated, none carried: none. A table in which some cells
// carry a unit and others none, without a word on those, cannot be read.
func (s *sheet) settleUnit() levelling.Figures {
	if s.carry.unit != measure.NoUnit && len(s.carry.bare) > 0 {
		b := s.carry.bare[0]
		s.fault(b.r, b.c.column, "no-unit", fmt.Sprintf("%q has no unit, and in line %d there is one in %s", b.c.text, s.carry.unitLine, s.carry.unit), "the unit of bare numbers, in the head of the column: bs [m]")
	}
	unit := s.unit
	if unit == measure.NoUnit {
		unit = s.carry.unit
	}
	switch unit {
	case measure.UnitMillimetre, measure.UnitCentimetre, measure.UnitKilometre:
		unit = measure.UnitMetre
	case measure.UnitInch, measure.UnitYard:
		unit = measure.UnitFoot
	}
	return levelling.Figures{Unit: unit}
}

// places is how many decimals show all of these lengths exactly; four where that takes more than six, as sixteenths in feet do.
func places(f levelling.Figures, ls []*measure.Length) levelling.Figures {
	for _, l := range ls {
		if l != nil {
			f = f.Exactly(*l)
		}
	}
	if f.Places > 6 {
		f.Places = 4
	}
	return f
}
