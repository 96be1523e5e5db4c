package table

// Grid is a table as CSV and workbooks have it: each column in exact figures, and before those the figures that people
// read, where a column is shown in feet and inches, feet or pounds.
type Grid struct {
	Heads []Head
	Rows  [][]Value
}

// Head is the head of one column of a grid, with its unit: Length [mm].
type Head struct {
	Text    string
	Numeric bool // its figures are exact numbers
	Places  int  // decimals to be shown of those; below 0: all there are
	Width   int  // in characters; 0: whatever fits
}

// Value is one figure or text. The zero value is an empty cell.
type Value struct {
	Text    string
	Numeric bool // Text is an exact decimal number
}

// Grid is t in exact figures, if t is well built.
func (t Table) Grid() (Grid, error) {
	if err := t.Check(); err != nil {
		return Grid{}, err
	}
	var g Grid
	for _, c := range t.Columns {
		if unit, ok := c.exactUnit(); ok {
			g.Heads = append(g.Heads,
				Head{Text: headed(c.name(), c.unit()), Width: c.Width},
				Head{Text: headed(c.name(), unit), Numeric: true, Places: -1, Width: c.Width})
			continue
		}
		g.Heads = append(g.Heads, Head{Text: headed(c.name(), c.unit()), Numeric: c.Kind != KindText, Places: c.decimals(), Width: c.Width})
	}
	for _, row := range t.Rows {
		out := make([]Value, 0, len(g.Heads))
		for i, cell := range row {
			out = append(out, cell.values(t.Columns[i])...)
		}
		g.Rows = append(g.Rows, out)
	}
	return g, nil
}

// exactUnit is the unit of the exact figures that follow a column of rounded ones, if any do.
func (c Column) exactUnit() (string, bool) {
	switch c.unit() {
	case "ft-in", "ft":
		return "mm", c.Kind == KindLength
	case "lb":
		return "kg", c.Kind == KindMass
	case "lb/ft":
		return "kg/m", c.Kind == KindLinearMass
	}
	return "", false
}

// decimals is how many decimals of c's exact figures people see.
func (c Column) decimals() int {
	switch c.Kind {
	case KindCount:
		return 0
	case KindMoney:
		return 2
	}
	return c.Places
}

// values is the cell in the one or two columns that c has in a grid.
func (c Cell) values(k Column) []Value {
	_, twice := k.exactUnit()
	exact := Value{}
	if c.filled {
		exact.Text, exact.Numeric = c.exact(k.unit())
		if !exact.Numeric {
			exact.Text = Printable(exact.Text)
		}
	}
	switch {
	case !twice:
		return []Value{exact}
	case !c.filled:
		return []Value{{}, {}}
	case c.kind == KindText:
		return []Value{exact, {}}
	}
	text, _ := c.shown(k)
	return []Value{{Text: text}, exact}
}
