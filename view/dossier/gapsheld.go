package dossier

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/wording"
	"trenchwright/job/field"
	"trenchwright/view/table"
)

// hiddenTable is what lacks its record before a step that hides it: first of all where the step was done all the same.
func (d *Dossier) hiddenTable() table.Table {
	t := table.Table{Name: "hidden", Title: "Hidden, or about to be, without a record of it", Columns: []table.Column{
		text("leg", "leg"), text("step", "step"), text("hidden", "hidden"), text("what", "no record of"), count("units", d.word(wording.Units)), text("places", "places"), text("asked", "who asks for it"),
	}}
	index := map[string]int{}
	for _, l := range d.state.Legs {
		for i, u := range l.Units {
			index[u.Place] = i
		}
	}
	type kind struct {
		leg, step, want string
		hidden          bool
	}
	for _, h := range d.book.Hiding(d.asks) {
		which := map[kind][]int{}
		var order []kind
		for _, l := range h.Lacking {
			if !d.within(l.Place, "") {
				continue
			}
			for _, w := range l.Wants {
				k := kind{l.Leg, h.Step, w, l.Hidden}
				if which[k] == nil {
					order = append(order, k)
				}
				which[k] = append(which[k], index[l.Place])
			}
		}
		for _, k := range order {
			units := d.unitsOf(k.leg)
			slices.Sort(which[k])
			already := "not yet"
			if k.hidden {
				already = "yes"
			}
			t.Rows = append(t.Rows, []table.Cell{table.Text(k.leg), table.Text(k.step), table.Text(already), table.Text(k.want), table.Count(len(which[k])), table.Text(places(units, which[k])), table.Text(h.Source)})
		}
	}
	for _, u := range d.unreleased() {
		already := "not yet"
		if u.Hidden {
			already = "yes"
		}
		t.Rows = append(t.Rows, []table.Cell{table.Text(u.Leg), table.Text(u.Point.Before), table.Text(already), table.Text("release of " + d.pointName(u.Point)), table.Count(len(u.Units)), table.Text(u.Stretches()), table.Text(d.listedIn(u.Point))})
	}
	t.Notes = []string{"step: what hides it. hidden: yes, it was done all the same; not yet, it comes next"}
	if len(t.Rows) == 0 {
		t.Notes = []string{"Nothing that was recorded as done hides anything without its record"}
	}
	return t
}

// unreleased are the hold points of the contract that have no release at places of this dossier.
func (d *Dossier) unreleased() []field.Unreleased {
	var out []field.Unreleased
	for _, u := range d.book.Unreleased(d.asks, d.state.Points) {
		here := u
		here.Units, here.Places = nil, nil
		for i, place := range u.Places {
			if d.within(place, "") {
				here.Units, here.Places = append(here.Units, u.Units[i]), append(here.Places, place)
			}
		}
		if len(here.Units) > 0 {
			out = append(out, here)
		}
	}
	return out
}

// held is everything that was measured here, held against its limit.
func (d *Dossier) held() []field.Held {
	return kept(d.book.Held(d.asks), func(h field.Held) bool {
		if h.Of == "bend" {
			return d.Part.Whole() || d.touches(h.Place)
		}
		return d.within(h.Place, "")
	})
}

func (d *Dossier) unitsOf(leg string) []*field.UnitState {
	for _, l := range d.state.Legs {
		if l.ID == leg {
			return l.Units
		}
	}
	return nil
}

// heldTable is what was measured and does not meet its figure, or of which that cannot be said.
func (d *Dossier) heldTable() table.Table {
	t := table.Table{Name: "out-of-tolerance", Title: "Does not meet its figure, or cannot say", Columns: []table.Column{
		text("leg", "leg"), text("place", "place"), text("verdict", "verdict"), text("what", "what"), d.near("value", "value"), d.near("plus", "known to"), text("limit", "limit"), text("source", "written in"),
		text("role", "measured by"), text("person", "person"), text("records", "records"),
	}}
	t.Notes = []string{"value: of a level, an end or a line how far it is off, + too high or ahead; of a gap the gap"}
	sources := map[string]string{}
	for _, h := range field.Open(d.held()) {
		if h.Verdict == field.NotChecked {
			continue
		}
		letter := sources[h.Limit.Source]
		if letter == "" && h.Limit.Source != "" {
			letter = fmt.Sprintf("(%d)", len(sources)+1)
			sources[h.Limit.Source] = letter
			t.Notes = append(t.Notes, letter+" "+h.Limit.Source)
		}
		value, plus := table.Length(h.Value), thick(h.Plus)
		switch {
		case h.Told != "":
			value, plus = said(h.Told), table.Cell{}
		case !h.Known:
			value, plus = table.Text(d.eachRead(h.Read)), table.Cell{}
		}
		t.Rows = append(t.Rows, []table.Cell{table.Text(h.Leg), table.Text(h.Place), table.Text(h.Verdict), table.Text(h.What), value, plus, said(d.limitWords(h.Limit)), said(letter), said(h.Role), said(d.people(h.By)), said(d.refs(h.By))})
	}
	if len(t.Rows) == 0 {
		t.Notes = []string{"Nothing that was measured and has a figure to be held against misses it"}
	}
	return t
}

// eachRead is what people read who differ, each with who read it and on which day.
func (d *Dossier) eachRead(of []field.ReadBy) string {
	var out []string
	for _, r := range of {
		out = append(out, strings.Join(nonempty(d.size(r.Value), r.Person, r.Made[:min(len(r.Made), len("2026-01-02"))]), ", "))
	}
	return strings.Join(out, "; ")
}

// limitWords is a limit in figures: either way, or from the least to the most.
func (d *Dossier) limitWords(l field.Limit) string {
	switch {
	case !l.Known || l.Least == 0 && l.Most == 0:
		return ""
	case l.Least == -l.Most:
		return d.size(l.Most) + " either way"
	}
	return d.size(l.Least) + " to " + d.size(l.Most)
}

// unheld is what was measured, and has no figure on file to be held against.
type unheld struct{ what, which, ask string }

func (d *Dossier) unchecked() []unheld {
	n := map[string]int{}
	var order []field.Limit
	for _, h := range field.Open(d.held()) {
		if h.Verdict != field.NotChecked {
			continue
		}
		if key := h.Limit.NotChecked(); n[key] == 0 {
			order = append(order, h.Limit)
		}
		n[h.Limit.NotChecked()]++
	}
	var out []unheld
	for _, l := range order {
		what, ask, _ := strings.Cut(l.NotChecked(), ". ")
		out = append(out, unheld{what, readings(n[l.NotChecked()]), ask})
	}
	return out
}

func readings(n int) string {
	if n == 1 {
		return "1 reading"
	}
	return fmt.Sprintf("%d readings", n)
}
