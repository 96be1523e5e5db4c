package dossier

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/solve/levelling"
	"trenchwright/view/table"
)

// inspectionTable is the inspection and test plan as it was closed out: everything that is asked, how often, with what came of it.
func (d *Dossier) inspectionTable() table.Table {
	t := table.Table{Name: "inspection", Title: "Inspection and test plan, closed out", Columns: []table.Column{
		text("what", "what is asked"), text("when", "when, or against what"), count("asked", "asked"), count("recorded", "on record"), count("met", "meets"), count("missed", "does not"), count("cannot", "cannot say"), count("missing", "no record"), text("state", "state"), text("source", "written in"),
	}}
	t.Notes = []string{"closed: everything that is asked is on record and meets its figure. What nobody entered a figure for is NOT CHECKED, and never closed"}
	d.beforeSteps(&t)
	d.byFrequency(&t)
	d.byLimit(&t)
	d.byPoint(&t)
	return t
}

// byPoint are the hold and witness points: those of the records stretch by stretch, then those of the contract that have no record.
func (d *Dossier) byPoint(t *table.Table) {
	told := map[string]bool{}
	for i := range d.state.Points {
		p := &d.state.Points[i]
		told[p.Point] = true
		listed, ok := d.asks.Point(p.Point)
		source := d.listedIn(listed)
		if !ok {
			listed = job.Point{Name: p.Point, Kind: map[bool]string{true: "witness", false: "hold"}[p.Witness]}
			if source = ""; len(d.Job.Rules.Points) > 0 {
				source = "not on the contract's list"
			}
		}
		released := !p.Open()
		met := 0
		if released {
			met = 1
		}
		t.Rows = append(t.Rows, []table.Cell{table.Text(strings.Join(nonempty(d.pointName(listed), span(p.From, p.To)), ", ")), table.Text(pointState(*p)), table.Count(1), table.Count(len(p.Looked)), table.Count(met), {}, {}, {}, table.Text(closed(released)), said(source)})
	}
	for _, p := range d.Job.Rules.Points {
		if !told[p.Name] {
			t.Rows = append(t.Rows, []table.Cell{table.Text(d.pointName(p)), table.Text("nothing recorded"), table.Count(1), table.Count(0), table.Count(0), {}, {}, table.Count(1), table.Text("open"), table.Text(d.listedIn(p))})
		}
	}
	if len(d.Job.Rules.Points) == 0 {
		t.Rows = append(t.Rows, []table.Cell{table.Text("hold and witness points of the contract"), {}, {}, {}, {}, {}, {}, {}, table.Text(field.NotChecked), table.Text(field.NoPoints)})
	}
}

// pointName is a point with what it is.
func (d *Dossier) pointName(p job.Point) string {
	return cmp.Or(p.Kind, "hold or witness") + " point " + p.Name
}

// listedIn is where a point of the contract is written, and what it does not say.
func (d *Dossier) listedIn(p job.Point) string {
	var lacks []string
	for _, one := range []struct{ is, what string }{{p.Kind, "hold or witness"}, {p.Before, "what waits for it"}, {p.Release, "who releases it"}} {
		if one.is == "" {
			lacks = append(lacks, one.what)
		}
	}
	source := job.SourceFrom(d.Job, cmp.Or(p.From, d.Job.Rules.From), job.Known(""))
	if len(lacks) > 0 {
		source += ". " + finding.NoneOnFile("word on "+strings.Join(lacks, ", "), "the owner", finding.Where{}).Text
	}
	return source
}

// beforeSteps is what has to be on record before a step hides it.
func (d *Dossier) beforeSteps(t *table.Table) {
	for _, h := range d.book.Hiding(d.asks) {
		for _, want := range h.Wants {
			asked, missing := 0, 0
			for _, l := range d.state.Legs {
				for _, u := range l.Units {
					if want == "gap" && d.next[u.Place] == "" {
						continue // there is none behind the last
					}
					asked++
					if !u.Has(want) {
						missing++
					}
				}
			}
			state := closed(missing == 0)
			if missing == 0 && h.Source == field.NoList { // what a step hides by its nature is there; what else is asked nobody knows
				state = field.NotChecked
			}
			t.Rows = append(t.Rows, []table.Cell{table.Text(want), table.Text("before " + h.Step), table.Count(asked), table.Count(asked - missing), {}, {}, {}, table.Count(missing), table.Text(state), table.Text(h.Source)})
		}
	}
}

func closed(is bool) string {
	if is {
		return "closed"
	}
	return "open"
}

// byFrequency is what the contract wants to be measured so often.
func (d *Dossier) byFrequency(t *table.Table) {
	all := d.book.Wanted(d.asks)
	for _, w := range all {
		var often []string
		if w.First > 0 {
			often = append(often, fmt.Sprintf("the first %d of each leg", w.First))
		}
		if w.Every > 0 {
			often = append(often, fmt.Sprintf("every %d", w.Every))
		}
		asked, read := 0, 0
		for _, l := range d.state.Legs {
			for _, u := range l.Units {
				if slices.Contains(d.book.WantsAt(d.asks, u.Place), w.Of) {
					asked++
					if u.Read(w.Of) {
						read++
					}
				}
			}
		}
		t.Rows = append(t.Rows, []table.Cell{table.Text(d.nameOf(w.Of) + ", measured"), table.Text(strings.Join(often, ", ")), table.Count(asked), table.Count(read), {}, {}, {}, table.Count(asked - read), table.Text(closed(read == asked)), table.Text(w.Source)})
	}
	if len(all) == 0 {
		t.Rows = append(t.Rows, []table.Cell{table.Text("readings at a frequency"), {}, {}, {}, {}, {}, {}, {}, table.Text("NOT CHECKED"), table.Text(field.NoFrequency)})
	}
}

// byLimit is everything that was measured, thing by thing, against its limit.
func (d *Dossier) byLimit(t *table.Table) {
	type kind struct{ of, limit, source string }
	var order []kind
	n := map[kind]map[string]int{}
	for _, h := range d.held() {
		k := kind{h.Of, d.limitWords(h.Limit), h.Limit.Source}
		if h.Verdict == field.NotChecked {
			k.limit, k.source = "no limit on file", h.Limit.NotChecked()
		}
		if n[k] == nil {
			n[k], order = map[string]int{}, append(order, k)
		}
		n[k][h.Verdict]++
	}
	for _, k := range order {
		v := n[k]
		meets, misses, cannot := v[string(levelling.Meets)], v[string(levelling.DoesNot)], v[string(levelling.CannotSay)]
		all := meets + misses + cannot + v[field.NotChecked]
		state := closed(misses+cannot == 0)
		if v[field.NotChecked] > 0 {
			state = field.NotChecked
		}
		t.Rows = append(t.Rows, []table.Cell{table.Text(d.nameOf(k.of) + ", against its limit"), table.Text(k.limit), {}, table.Count(all), table.Count(meets), table.Count(misses), table.Count(cannot), {}, table.Text(state), table.Text(k.source)})
	}
}

// spareTable are keys, spares and loose parts: what was to be ordered, what was fitted and what should lie in the yard.
func (d *Dossier) spareTable() table.Table {
	t := table.Table{Name: "spares", Title: "Keys, spares and loose parts", Columns: []table.Column{
		text("item", "item"), text("need", "needed"), text("spare", "of it spare"), text("order", "to be ordered"), count("fitted", "fitted, by the records"), text("records", "records"), text("source", "written in"),
	}}
	t.Notes = []string{"what was fitted is counted from the records; what of it was given to whom is not recorded here beyond that. What lies in the yard stands on its own table"}
	for _, b := range d.Plan.Bill {
		if b.Kind != "loose part" && b.Spare == "" {
			continue
		}
		row := []table.Cell{table.Text(b.Item), said(measured(b.Need, b.Unit)), said(measured(b.Spare, b.Unit)), said(measured(b.Order, b.Unit)), {}, {}, said(b.Source)}
		if b.Kind == "loose part" {
			n, ids := d.fitted(b.Item)
			row[4], row[5] = table.Count(n), said(d.refs(ids))
		}
		t.Rows = append(t.Rows, row)
	}
	for _, s := range d.Job.Supplies {
		if s.Cover.LiftedBy.Known && s.Cover.LiftedBy.Value == "keys" {
			n, ids := d.keys()
			if n > 0 {
				t.Rows = append(t.Rows, []table.Cell{table.Text("keys that lift the covers of " + s.ID), {}, {}, {}, table.Count(n), said(d.refs(ids)), table.Text("handed over, by the records")})
				continue
			}
			t.Rows = append(t.Rows, []table.Cell{table.Text("keys that lift the covers of " + s.ID), {}, {}, {}, {}, {}, table.Text("NOT CHECKED: no keys handed over on file. Ask: whoever takes the work over")})
		}
	}
	return t
}

// measured is a figure of the bill with its unit.
func measured(n, unit string) string {
	switch {
	case n == "":
		return ""
	case unit == "piece" && n != "1":
		return n + " pieces"
	}
	return strings.TrimSpace(n + " " + unit)
}

// keys are the keys that went with an area that was handed over, or that are told as a part.
func (d *Dossier) keys() (n int, ids []string) {
	n, ids = d.fitted("key")
	for _, r := range d.all {
		if s, ok := field.SaysOf[field.AreaSays](&r); r.Kind == field.Area && ok && s.Keys > 0 && d.stands(r) == "yes" {
			n, ids = n+s.Keys, append(ids, r.ID)
		}
	}
	return n, once(ids)
}

// fitted is how many of a part were recorded at places of the dossier, and the records that say so.
func (d *Dossier) fitted(item string) (n int, ids []string) {
	for _, l := range d.state.Legs {
		for _, u := range l.Units {
			for _, p := range u.Parts {
				if strings.Contains(strings.ToLower(item), strings.ToLower(p.Name)) || strings.Contains(strings.ToLower(p.Name), strings.ToLower(item)) {
					n, ids = n+p.Count, append(ids, p.By...)
				}
			}
		}
	}
	return n, once(ids)
}
