package table

// Shown is t as people read it on paper: the heads with their units, and every cell rounded as its column asks.
func (t Table) Shown() (heads []string, rows [][]string) {
	for _, c := range t.Columns {
		heads = append(heads, headed(c.name(), c.unit()))
	}
	for _, row := range t.Rows {
		out := make([]string, len(row))
		for i, cell := range row {
			if cell.filled {
				out[i], _ = cell.shown(t.Columns[i])
			}
		}
		rows = append(rows, out)
	}
	return heads, rows
}
