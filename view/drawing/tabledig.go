package drawing

import (
	"slices"
	"strings"

	"trenchwright/view/schedule"
	"trenchwright/view/table"
)

// digListings are the tables of the dig on sheets; none where the plan has no dig.
func (d *draft) digListings() []listing {
	set := schedule.Of(d.plan, d.job)
	var volumes, beside []ledger
	told := map[string]bool{}
	for _, t := range set.Dig() {
		l := d.ledgerOf(t)
		l.notes = slices.DeleteFunc(l.notes, func(n ledgerNote) bool { // what holds for several tables is said under the first
			known := n.letter == "" && told[n.text]
			told[n.text] = true
			return known
		})
		switch t.Name {
		case "dig-strip":
			beside = append(beside, l)
			continue
		case "dig-fill", "dig-fabric":
			l.beside = true
		case "dig-running":
			l.most = 2
		case "dig-layers": // those of a leg are not parted
			for i := range l.groups {
				l.groups[i].whole = true
			}
		}
		volumes = append(volumes, l)
	}
	for _, t := range slices.Concat(set.Services(), set.Excavation()) {
		beside = append(beside, d.ledgerOf(narrowed(t)))
	}
	return []listing{
		{kind: "volumes", title: "Volumes of the dig", note: "what is dug, what goes back, what is brought in and what leaves; volumes are exact between the surfaces of the survey", ledgers: volumes},
		{kind: "digrules", title: "Beside the dig", note: "a calculator and a record: the class of the soil, the release for entry and the daily inspection are the competent person's", ledgers: beside},
	}
}

// inFiles are the columns of the table of services that a page is too narrow for: files and the workspace have them, and
// where no joint may stand is on the sheet of the joints.
var inFiles = map[string]bool{"underside": true, "underside_usft": true, "skew": true, "under_from": true, "under_to": true, "free_from": true, "free_to": true}

// narrowed is a table without the columns that only files have.
func narrowed(t table.Table) table.Table {
	if t.Name != "services" {
		return t
	}
	out := t
	out.Columns, out.Rows = nil, make([][]table.Cell, len(t.Rows))
	for i, c := range t.Columns {
		if inFiles[c.Key] {
			continue
		}
		out.Columns = append(out.Columns, c)
		for r := range t.Rows {
			out.Rows[r] = append(out.Rows[r], t.Rows[r][i])
		}
	}
	out.Notes = slices.DeleteFunc(slices.Clone(t.Notes), func(n string) bool { return strings.HasPrefix(n, "its underside") })
	return out
}

// gradeLedgers are the settings of the laser, and how true covers can come to lie.
func (d *draft) gradeLedgers() []ledger {
	var out []ledger
	set := schedule.Of(d.plan, d.job)
	for _, t := range slices.Concat(set.Grades(), set.DrainGrades(), set.CoverLevels()) {
		l := d.ledgerOf(t)
		l.beside = len(out) > 0
		out = append(out, l)
	}
	return out
}

// ledgerOf is a table of the workbook as it is printed: rows that begin alike are a group, what stands in place of a figure
// becomes a note below.
func (d *draft) ledgerOf(t table.Table) ledger {
	l := ledger{title: t.Title}
	t.Columns = onPaper(t.Columns)
	heads, rows := t.Shown()
	for i, c := range t.Columns {
		col := ledgerColumn{head: heads[i], right: c.Kind != table.KindText, bold: boldColumns[c.Key]}
		switch {
		case c.Key == "uses": // what stands beside the dig reads in one line
			col.most = 60
		case !col.right:
			col.most = 36
		}
		l.columns = append(l.columns, col)
	}
	grouped := t.Columns[0].Key == "leg" || t.Columns[0].Key == "of"
	if !grouped {
		l.columns = append([]ledgerColumn{{}}, l.columns...)
	}
	var notes letters
	for _, row := range rows {
		name, cells := "", row
		if grouped {
			name, cells = row[0], row[1:]
		}
		out := ledgerRow{total: name == schedule.WholeRun}
		for i, text := range cells {
			c := t.Columns[len(row)-len(cells)+i]
			switch {
			case strings.HasPrefix(text, notChecked), c.Key == "source":
				text = notes.letter(text)
			case stations[c.Key] && c.Unit == "ft" && text != "":
				text = station(text)
			case c.Kind != table.KindText:
				text = signed(text, signs[c.Key])
			}
			out.cells = append(out.cells, text)
		}
		if n := len(l.groups); n == 0 || l.groups[n-1].name != name {
			l.groups = append(l.groups, ledgerGroup{name: name})
		}
		g := &l.groups[len(l.groups)-1]
		g.rows = append(g.rows, out)
	}
	for _, n := range t.Notes[1:] { // the first says whose job it is, and the sheet's foot does so
		l.notes = append(l.notes, ledgerNote{text: capital(n)})
	}
	l.notes = append(l.notes, notes.notes...)
	return l
}

// onPaper are columns rounded as every other sheet rounds: millimetres, and hundredths of a foot. Files keep more.
func onPaper(columns []table.Column) []table.Column {
	out := slices.Clone(columns)
	for i, c := range out {
		switch {
		case c.Kind != table.KindLength || c.Key == "worst":
		case c.Unit == "ft":
			out[i].Places = 2
		case c.Unit == "":
			out[i].Places = 0
		}
	}
	return out
}

// signs are the columns whose figures go two ways: what rises or lies too high has its sign too.
var signs = map[string]bool{"grade": true, "worst": true}

// signed is a figure with the sign that print has for less than nought, and with one for more where both stand in a column.
func signed(figure string, both bool) string {
	if less, ok := strings.CutPrefix(figure, "-"); ok {
		return "−" + less
	}
	if both && strings.Trim(figure, "0.") != "" && strings.Trim(figure, "0123456789.") == "" {
		return "+" + figure
	}
	return figure
}

// boldColumns are what a person looks for first, by key.
var boldColumns = map[string]bool{"dug": true, "fill": true, "loads": true, "verdict": true, "stop": true, "reading": true, "dial": true, "order": true}

// stations are the columns that say where on a leg something is.
var stations = map[string]bool{"at": true, "deepest_at": true, "from_at": true, "to_at": true}

// station is decimal feet as a station: 123.456 is 1+23.46, as on the other sheets.
func station(feet string) string {
	whole, part, _ := strings.Cut(feet, ".")
	negative := strings.HasPrefix(whole, "-")
	whole = strings.TrimPrefix(whole, "-")
	if len(whole) < 3 {
		whole = strings.Repeat("0", 3-len(whole)) + whole
	}
	text := whole[:len(whole)-2] + "+" + whole[len(whole)-2:] + "." + part
	if negative {
		return "-" + text
	}
	return text
}
