package dossier

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/view/table"
)

// answerTable is, leg by leg, what an answer made of the plan where the site differed from it: what lay when it was taken, and which
// places are not laid any more, came between others, or close the leg from a measurement.
func (d *Dossier) answerTable() table.Table {
	t := table.Table{Name: "answers", Title: "Answers that were taken", Columns: []table.Column{
		text("leg", "leg"), text("lay", "lay then"), text("withdrawn", "not laid any more"), text("inserted", "put between"), text("measured", "cut from a measurement"), count("counted", "readings that it counts with"),
	}}
	t.Notes = []string{"by the job: what lies stands in it as it was measured, and the rest was planned anew from there. What was planned at first stands in the earlier states of the job"}
	for i := range d.Job.Route.Legs {
		l := &d.Job.Route.Legs[i]
		b := l.Built
		if b == nil || !d.hasLeg(l.ID) || b.To == "" && len(b.Beyond)+len(b.Withdrawn)+len(b.Counted) == 0 {
			continue // laid as it was planned at first
		}
		t.Rows = append(t.Rows, []table.Cell{table.Text(l.ID), said(lay(b)), said(strings.Join(b.Withdrawn, ", ")), said(strings.Join(d.inserted(l.ID), ", ")), said(strings.Join(measuredOff(b), ", ")), table.Count(len(b.Counted))})
	}
	return t
}

func (d *Dossier) hasLeg(id string) bool {
	return slices.ContainsFunc(d.state.Legs, func(l field.LegState) bool { return l.ID == id && len(l.Units) > 0 })
}

// lay are the places that lay when an answer was taken.
func lay(b *job.Built) string {
	var out []string
	if b.To != "" {
		out = append(out, "up to "+b.To)
	}
	for _, x := range b.Beyond {
		out = append(out, strings.TrimSuffix(x.From+" to "+x.To, " to "))
	}
	return strings.Join(out, ", ")
}

// fixed tells whether a unit lay when an answer was taken for its leg: the plan has it where it was measured since.
func (d *Dossier) fixed(leg field.LegState, i int) bool {
	for k := range d.Job.Route.Legs {
		l := &d.Job.Route.Legs[k]
		if l.ID != leg.ID || l.Built == nil {
			continue
		}
		at := func(place string) int {
			return slices.IndexFunc(leg.Units, func(u *field.UnitState) bool { return u.Place == place })
		}
		if last := at(l.Built.To); last >= 0 && (d.back[leg.ID] && i >= last || !d.back[leg.ID] && i <= last) {
			return true
		}
		for _, x := range l.Built.Beyond {
			a, z := at(x.From), at(cmp.Or(x.To, x.From))
			if min(a, z) <= i && i <= max(a, z) && min(a, z) >= 0 {
				return true
			}
		}
	}
	return false
}

// inserted are the places of a leg that came between others: A-017A.
func (d *Dossier) inserted(leg string) (out []string) {
	for _, u := range d.Plan.Units {
		if u.Leg == leg && strings.ContainsAny(u.Mark[len(u.Mark)-1:], "ABCDEFGHIJKLMNOPQRSTUVWXYZ") {
			out = append(out, u.Mark)
		}
	}
	return out
}

// measuredOff are the places that are cut from a measurement.
func measuredOff(b *job.Built) (out []string) {
	for _, c := range b.Courses {
		if c.Hold {
			out = append(out, c.From)
		}
	}
	return out
}

// otherPlan says, leg by leg, where what was set was held against a place that the plan of this dossier does not have, and no answer of
// its job accounts for that.
func (d *Dossier) otherPlan() []string {
	var out []string
	for _, l := range d.state.Legs {
		counted := map[string]bool{}
		for i := range d.Job.Route.Legs {
			if b := d.Job.Route.Legs[i].Built; b != nil && d.Job.Route.Legs[i].ID == l.ID {
				for _, id := range b.Counted {
					counted[id] = true
				}
			}
		}
		n, first := 0, ""
		for _, u := range l.Units {
			if !known(u.End) || u.Ahead == nil || (*u.Ahead-u.End.Value).Abs() < measure.Millimetre || slices.ContainsFunc(u.End.Readings, func(r field.Reading) bool { return counted[r.By] }) {
				continue
			}
			if n++; n == 1 {
				first = d.speech.Say("%s was held against a place %s from that of this plan, record %s", u.Place, wording.Tape((*u.Ahead - u.End.Value).Abs()), d.refs([]string{u.End.Readings[0].By}))
			}
		}
		if n > 1 {
			first += fmt.Sprintf("; so were %d more", n-1)
		}
		if n > 0 {
			out = append(out, "leg "+l.ID+": "+first)
		}
	}
	return out
}
