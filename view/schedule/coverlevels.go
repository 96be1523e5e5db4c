package schedule

import (
	"trenchwright/base/measure"
	"trenchwright/job/planner"
	"trenchwright/view/table"
)

// CoverLevels is how true covers can come to lie by the tolerances on file, against the contract; no table where the job asks
// for no levels.
func (s Set) CoverLevels() []table.Table {
	if len(s.plan.CoverLevels) == 0 {
		return nil
	}
	t := table.Table{Name: "cover-levels", Title: "How true covers can come to lie, before anything is ordered", Columns: []table.Column{
		text("supply", "supply"), text("what", "what"), s.small("each", "either way"), text("verdict", "verdict"), text("source", "document"),
	}}
	t.Notes = s.notes("at worst: everything lies off by all of its tolerance, the same way, as one lot may; where they make up for each other: each squared, added up, and the root taken of the sum",
		"meets the stated figure: even at worst; does not: not even where they make up for each other; cannot say: between the two, or something is not on file")
	for _, c := range s.plan.CoverLevels {
		t.Rows = append(t.Rows, s.coverLevelRows(c)...)
	}
	return []table.Table{t}
}

func (s Set) coverLevelRows(c planner.CoverLevel) [][]table.Cell {
	var rows [][]table.Cell
	row := func(what string, each table.Cell, verdict, source string) {
		rows = append(rows, []table.Cell{table.Text(c.Supply), table.Text(what), each, said(verdict), said(source)})
	}
	whole := true
	for _, p := range c.Parts {
		if p.Each == nil {
			whole = false
			row(p.What, table.Text("NOT CHECKED: no tolerance for the "+p.What+" on file. Ask: see the findings"), "", "")
			continue
		}
		row(p.What, s.smallLength(*p.Each), "", p.Source)
	}
	left := ""
	if !whole {
		left = ", of what is on file"
	}
	const added = "worked out of the lines above"
	row("at worst"+left, s.smallLength(c.Worst), "", added)
	row("where they make up for each other"+left, s.upward(c.Root), "", added)
	limit := table.Text("NOT CHECKED: no tolerance for the level of covers on file. Ask: the owner")
	if c.Limit != nil {
		limit = s.smallLength(*c.Limit)
	}
	row("the contract's limit", limit, c.Verdict, c.Source)
	return rows
}

// small is a column of tolerances; in feet and inches they are written as sentences have them, for a sixteenth is too coarse.
func (s Set) small(key, head string) table.Column {
	if s.speech.Imperial {
		return text(key, head)
	}
	return s.length(key, head)
}

func (s Set) smallLength(l measure.MM) table.Cell {
	if s.speech.Imperial {
		return table.Text(s.speech.Length(measure.Length(l)))
	}
	return mm(l)
}

// upward is a length that may not be shown smaller than it is: a tenth of a millimetre, or a thousandth of an inch, upward.
func (s Set) upward(l measure.MM) table.Cell {
	step := measure.Millimetre / 10
	if s.speech.Imperial {
		step = measure.Inch / 1000
	}
	return s.smallLength(measure.MM((measure.Length(l) + step - 1) / step * step))
}
