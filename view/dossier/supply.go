package dossier

import (
	"cmp"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/job/field"
	"trenchwright/view/table"
)

func (d *Dossier) piece(p field.Piece) string {
	return p.Name(d.planSize)
}

// deliveryTable is what came, load by load.
func (d *Dossier) deliveryTable() table.Table {
	t := table.Table{Name: "deliveries", Title: "Deliveries", Columns: []table.Column{
		text("day", "day"), text("ticket", "ticket"), text("piece", "piece"), count("came", "came"), count("short", "short"), count("damaged", "damaged"), text("batch", "batch"), text("says", "words"), text("person", "person"), text("record", "record"), text("stands", "stands"),
	}}
	for _, r := range d.all {
		s, ok := field.SaysOf[field.DeliverySays](&r)
		if r.Kind != field.Delivery || !ok {
			continue
		}
		for _, l := range s.Lines {
			t.Rows = append(t.Rows, []table.Cell{table.Text(day(r)), said(s.Ticket), table.Text(d.piece(l.Piece)), table.Count(l.Came), table.Count(l.Short), table.Count(l.Damaged), said(l.Batch), said(r.Text), said(r.Person), table.Text(ref(r)), table.Text(d.stands(r))})
		}
	}
	return t
}

// batchTable is where each batch lies.
func (d *Dossier) batchTable() table.Table {
	t := table.Table{Name: "batches", Title: "Where each batch lies", Columns: []table.Column{text("batch", "batch"), count("units", "set"), text("places", "places")}}
	t.Notes = []string{"a batch of which nothing is set stands under the deliveries alone"}
	type lying struct {
		n      int
		places string
	}
	all := map[string]*lying{}
	for _, l := range d.state.Legs {
		of := map[string][]int{}
		for i, u := range l.Units {
			if u.Batch != "" && u.Set.Is == field.Yes {
				of[u.Batch] = append(of[u.Batch], i)
			}
		}
		for batch, which := range of {
			b := all[batch]
			if b == nil {
				b = &lying{}
				all[batch] = b
			}
			b.n += len(which)
			if b.places != "" {
				b.places += "; "
			}
			b.places += places(l.Units, which)
		}
	}
	names := make([]string, 0, len(all))
	for n := range all {
		names = append(names, n)
	}
	slices.SortFunc(names, cmp.Compare[string])
	for _, n := range names {
		t.Rows = append(t.Rows, []table.Cell{table.Text(n), table.Count(all[n].n), table.Text(all[n].places)})
	}
	return t
}

// yardTable is what came, what was used and what should lie in the yard.
func (d *Dossier) yardTable() table.Table {
	t := table.Table{Name: "yard", Title: "The yard, by the records", Columns: []table.Column{
		text("piece", "piece"), count("came", "came"), count("damaged", "damaged"), count("used", "used"), count("have", "should lie there"), text("counted", "counted: record"),
	}}
	t.Notes = []string{"came, damaged, used: by all records. What should lie there goes on from the count that is named, where there is one. A figure below 0: more was used than anybody recorded as come"}
	for _, s := range d.state.Yard {
		t.Rows = append(t.Rows, []table.Cell{table.Text(d.piece(s.Piece)), table.Count(s.Came), table.Count(s.Damaged), table.Count(s.Used), table.Count(s.Have), said(d.refs(s.By))})
	}
	return t
}

// goodsTable is stone, fill and what else came, load by load.
func (d *Dossier) goodsTable() table.Table {
	t := table.Table{Name: "goods", Title: "Stone, fill and other goods that came", Columns: []table.Column{
		text("day", "day"), text("ticket", "ticket"), text("what", "what"), text("amount", "amount"), text("batch", "batch"), text("says", "words"), text("person", "person"), text("record", "record"), text("stands", "stands"),
	}}
	for _, r := range d.all {
		s, ok := field.SaysOf[field.DeliverySays](&r)
		if r.Kind != field.Delivery || !ok {
			continue
		}
		for _, g := range s.Goods {
			t.Rows = append(t.Rows, []table.Cell{table.Text(day(r)), said(s.Ticket), said(g.What), said(g.Amount), said(g.Batch), said(r.Text), said(r.Person), table.Text(ref(r)), table.Text(d.stands(r))})
		}
	}
	return t
}

// goodsSums is what came of each in all, beside what the plan takes of it.
func (d *Dossier) goodsSums() table.Table {
	t := table.Table{Name: "goods-sums", Title: "What came of each in all", Columns: []table.Column{text("what", "what"), text("came", "came"), text("planned", "planned")}}
	t.Notes = []string{"planned: in place, by the plan", "what came by mass, by volume as it came and in other words is not added up, and not set off against what lies in place. NOT CHECKED: no density of goods on file. Ask: the supplier"}
	for i := range d.state.Goods {
		g := &d.state.Goods[i]
		planned := ""
		if m3, ok := d.Plan.InPlace(g.What); ok {
			planned = d.speech.Volume(measure.Volume(m3))
		}
		t.Rows = append(t.Rows, []table.Cell{table.Text(g.What), table.Text(g.Say(d.speech)), said(planned)})
	}
	return t
}
