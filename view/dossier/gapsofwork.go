package dossier

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/job/field"
	"trenchwright/view/table"
)

func sortGaps(order []gap) {
	slices.SortStableFunc(order, func(a, b gap) int { return cmp.Or(cmp.Compare(a.order, b.order), cmp.Compare(a.what, b.what)) })
}

// jobGaps are the gaps that are not at one place: points not released, nonconformances that stand open, photos that are not here,
// lines that could not be read, readings that differ.
func (d *Dossier) jobGaps() table.Table {
	t := table.Table{Name: "gaps-of-the-job", Title: "Of the job as a whole", Columns: []table.Column{text("what", "what"), text("which", "which"), text("try", "what to do")}}
	add := func(what, which, try string) {
		t.Rows = append(t.Rows, []table.Cell{table.Text(what), said(which), said(try)})
	}
	if len(d.all) == 0 {
		add("there is no record at all", "", "Send the records from the devices, or key them in from the cards.")
	}
	for _, state := range []string{"not released", byAnother, lapsed} {
		var names []string
		for _, p := range d.state.Points {
			if pointState(p) == state {
				at := span(p.From, p.To)
				if len(p.Waits) > 0 {
					at = "open at " + d.book.Stretches(p.Waits)
				}
				names = append(names, strings.Join(nonempty(p.Point, at), ", "))
			}
		}
		if len(names) > 0 {
			add(fmt.Sprintf("hold or witness points, %s: %d", state, len(names)), strings.Join(names, "; "), "Ask: whoever releases them.")
		}
	}
	for _, l := range d.otherPlan() {
		add("written where the plan had other places", l, "Make the dossier of the job that people held last: the state of it that was issued.")
	}
	for _, v := range d.devices() {
		if m := v.missing(); m != "" {
			add("records of a device that are not here", v.name+", numbers "+m, "Send the records from the device again; it keeps them.")
		}
	}
	for _, m := range d.state.Matters {
		if m.Closed.Is != field.Yes {
			add("nonconformance that stands open", m.Number, "Record its repair, with who decided.")
		}
	}
	for _, s := range d.state.Services {
		if s.Depth == field.NotKnown {
			add("depth of a service not known", s.Name+", leg "+s.Leg, "Ask: its owner.")
		}
	}
	for _, u := range d.unchecked() {
		add(u.what, u.which, u.ask)
	}
	for _, y := range d.state.Yard {
		if y.Have < 0 {
			try := "Look for the delivery that nobody recorded."
			if y.Mark != "" {
				try = "Record what it was cut from, or its delivery."
			}
			add("more used than came", d.piece(y.Piece), try)
		}
	}
	missing := map[string]bool{}
	for _, p := range d.photos() {
		if !d.kept[p.hash] && !missing[p.hash] {
			missing[p.hash] = true
		}
	}
	if len(missing) > 0 {
		add(fmt.Sprintf("%d of the photos that records name are not here", len(missing)), "see the table of photos", "Fetch them from the devices: they keep them until they are sent.")
	}
	for _, f := range d.Unread {
		add("a line that is no record", f.Text, f.Try)
	}
	for _, f := range d.state.Findings {
		switch {
		case !d.within(f.Where.Place, "") || f.ID == field.CalibrationRanOut: // of which there is a table
		case f.Kind == finding.NotChecked:
			what, ask, _ := strings.Cut(f.Sentence(), ". ")
			add(what, "", ask)
		default:
			add(sentence(f.Text), "", f.Try)
		}
	}
	return t
}

// Gaps is how many lines of gaps and open matters the dossier begins with.
func (d *Dossier) Gaps() int {
	n := 0
	for _, t := range d.gapTables() {
		n += len(t.Rows)
	}
	return n
}

// ranOutTable are the readings with an instrument whose calibration had run out on their day.
func (d *Dossier) ranOutTable() table.Table {
	t := table.Table{Name: "calibration-ran-out", Title: "Read with an instrument whose calibration had run out", Columns: []table.Column{
		text("leg", "leg"), text("places", "places"), text("what", "what"), count("readings", "readings"), text("person", "person"), text("day", "day, first and last"), text("device", "device"), text("clock", "its clock"), text("with", "with"), text("certificate", "certificate"), text("due", "ran out"), text("record", "records"),
	}}
	t.Notes = []string{"day: by the clock of the reading's device. The readings stand; whether they hold is for whoever has to say so"}
	for _, o := range d.book.Overdue(kept(d.book.RanOut(), func(r field.RanOut) bool { return d.within(r.From, r.To) })) {
		var what, places, people, days, certificates, due, by []string
		for _, r := range o.Readings {
			what, people, days = withOne(what, r.What), withOne(people, r.Person), withOne(days, r.Day)
			places, certificates, due, by = withOne(places, span(r.From, r.To)), withOne(certificates, r.Certificate), withOne(due, r.Due), append(by, r.By)
		}
		doubt := ""
		if o.Ahead > 0 {
			doubt = fmt.Sprintf("doubtful: %d days ahead of what it knew of others", o.Ahead)
		}
		t.Rows = append(t.Rows, []table.Cell{said(o.Readings[0].Leg), said(strings.Join(places, ", ")), table.Text(strings.Join(what, ", ")), table.Count(len(by)), said(strings.Join(people, ", ")), table.Text(span(days[0], days[len(days)-1])), table.Text(o.Device), said(doubt),
			table.Text(strings.Join(o.Instruments, ", ")), said(strings.Join(certificates, ", ")), table.Text(strings.Join(due, ", ")), table.Text(d.refs(by))})
	}
	if len(t.Rows) == 0 {
		t.Notes = []string{"No reading was made with an instrument whose calibration is known to have run out"}
	}
	return t
}

// withOne appends what is not there yet.
func withOne(list []string, s string) []string {
	if s == "" || slices.Contains(list, s) {
		return list
	}
	return append(list, s)
}
