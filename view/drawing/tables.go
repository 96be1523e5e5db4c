package drawing

import (
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
	"trenchwright/view/table"
)

// listed says which kind of sheet each table becomes; the tables that are not named here go into the workbook alone.
var listed = map[string]string{"cutting": "cut", "schedule": "schedule", "set-out": "setout", "bill": "bill", "zones": "findings", "findings": "findings", "proof": "findings"}

// TableSheets are lists and schedules, each table on as many sheets as it needs, its head repeated on each.
func TableSheets(p planner.Plan, j job.Job, style Style, tables []table.Table) []scene.Page {
	d := newDraft(p, j, style)
	var pages []scene.Page
	count := map[string]int{}
	for _, t := range tables {
		kind, ok := listed[t.Name]
		if !ok || len(t.Rows) == 0 {
			continue
		}
		more := d.tableSheets(t, kind, count[kind])
		pages, count[kind] = append(pages, more...), count[kind]+len(more)
	}
	return pages
}

func (d *draft) tableSheets(t table.Table, kind string, before int) []scene.Page {
	sheetOf := func(i, n int) *sheet {
		title := t.Title
		if n > 1 {
			title = fmt.Sprintf("%s, %d of %d", t.Title, i+1, n)
		}
		s := &sheet{draft: d, kind: kind, title: title, note: " "}
		s.concerns = d.concerns(func(finding.Finding) bool { return false })
		s.frame(before + i + 1)
		return s
	}
	small := d.style.Size.small()
	blocks := []scene.Block{tableBlock(t, small), scene.Space(small)}
	for _, n := range t.Notes[1:] {
		blocks = append(blocks, scene.Paragraph{String: n, Size: small})
	}
	laid := scene.Flow(func(page int) scene.Box { return sheetOf(page, 2).free }, blocks...)
	var pages []scene.Page
	for i, marks := range laid {
		s := sheetOf(i, len(laid))
		s.add(marks...)
		pages = append(pages, s.page)
	}
	return pages
}

// tableBlock is a table as a block of a page: figures to the right, words to the left and wrapped. Columns that hold
// nothing in any row are left out.
func tableBlock(t table.Table, size float64) scene.Table {
	heads, rows := t.Shown()
	out := scene.Table{Size: size}
	var keep []int
	for i, h := range heads {
		filled := false
		longest := 0
		for _, r := range rows {
			filled = filled || r[i] != ""
			longest = max(longest, len(r[i]))
		}
		if !filled {
			continue
		}
		keep = append(keep, i)
		c := scene.Column{Head: h}
		if t.Columns[i].Kind != table.KindText {
			c.Align = scene.Right
		} else if longest > 28 {
			c.Width = -float64(min(longest, 120))
		}
		out.Columns = append(out.Columns, c)
	}
	for _, r := range rows {
		row := scene.Row{}
		for _, i := range keep {
			row.Cells = append(row.Cells, r[i])
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}
