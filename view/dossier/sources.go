package dossier

import (
	"trenchwright/base/finding"
	"trenchwright/view/table"
)

// documentTable is what the figures of the plan come from.
func (d *Dossier) documentTable() table.Table {
	t := table.Table{Name: "documents", Title: "Documents that the plan's figures come from", Columns: []table.Column{
		text("id", "id"), text("title", "title"), text("revision", "revision"), text("page", "page"), text("entered_by", "entered by"), text("entered_on", "on"),
	}}
	for _, s := range d.Job.Documents {
		t.Rows = append(t.Rows, []table.Cell{table.Text(s.ID), said(s.Title), said(s.Revision), said(s.Page), said(s.EnteredBy), said(s.EnteredOn)})
	}
	return t
}

// openTable is what the plan itself left open: not checked, assumed, to be looked at.
func (d *Dossier) openTable() table.Table {
	t := table.Table{Name: "plan-open", Title: "What the plan left open", Columns: []table.Column{text("kind", "kind"), text("no", "no."), text("what", "what"), text("path", "in the job")}}
	kinds := map[finding.Kind]string{finding.NotChecked: "NOT CHECKED", finding.Assumed: "ASSUMED", finding.Attention: "LOOK AT", finding.Impossible: "IMPOSSIBLE"}
	for i, f := range d.Plan.Findings {
		kind, path := kinds[f.Kind], f.Where.Path
		if kind == "" {
			continue
		}
		f.Where.Path = ""
		t.Rows = append(t.Rows, []table.Cell{table.Text(kind), table.Text(finding.Number(i)), table.Text(f.Say(d.speech)), said(path)})
	}
	return t
}
