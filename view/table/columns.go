package table

// Shelf is one column of a table for a screen: its cells as people read them, and what they are sorted by.
type Shelf struct {
	Key, Head string
	Numeric   bool
	Texts     []string
	Known     []bool    // of a numeric column: the cell holds a figure, not words and not nothing
	Figures   []float64 // of a numeric column, for sorting only
}

// Shelves are the columns of t.
func (t Table) Shelves() []Shelf {
	out := make([]Shelf, len(t.Columns))
	for i, c := range t.Columns {
		s := Shelf{Key: c.Key, Head: headed(c.name(), c.unit()), Numeric: c.Kind != KindText, Texts: make([]string, len(t.Rows))}
		if s.Numeric {
			s.Known, s.Figures = make([]bool, len(t.Rows)), make([]float64, len(t.Rows))
		}
		for r, row := range t.Rows {
			if !row[i].filled {
				continue
			}
			s.Texts[r], _ = row[i].shown(c)
			if s.Numeric && row[i].kind != KindText {
				s.Known[r], s.Figures[r] = true, row[i].figure()
			}
		}
		out[i] = s
	}
	return out
}

// figure is the cell's value for sorting, in its column's metric or only unit.
func (c Cell) figure() float64 {
	if c.kind == KindGrade {
		if c.grade.Run == 0 {
			return 0
		}
		return float64(c.grade.Rise) / float64(c.grade.Run)
	}
	f := float64(c.number)
	switch c.kind {
	case KindLength:
		return f / 1e6
	case KindMass, KindLinearMass:
		return f / 1e3
	case KindAngle:
		return f / 1e9
	case KindDecimal, KindMoney:
		for range c.places {
			f /= 10
		}
	}
	return f
}
