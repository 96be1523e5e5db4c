package dossier

import (
	"trenchwright/base/finding"
	"trenchwright/view/schedule"
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
	t := schedule.Of(d.Plan, d.Job).Findings()
	t.Name, t.Title, t.Notes = "plan-open", "What the plan left open", nil
	rows := t.Rows
	t.Rows = nil
	for i, f := range d.Plan.Findings {
		switch f.Kind {
		case finding.NotChecked, finding.Assumed, finding.Attention, finding.Impossible:
			t.Rows = append(t.Rows, rows[i])
		}
	}
	return t
}
