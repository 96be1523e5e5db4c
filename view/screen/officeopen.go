package screen

import (
	"fmt"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job/field"
	"trenchwright/solve/levelling"
)

// outOf is what was measured and does not meet its limit, or cannot be said to. What nobody can hold against anything is told once for
// each limit that is not on file.
func (v *siteView) outOf(c *field.Contract) OfficeList {
	out := OfficeList{ID: "outof", Name: "Out of tolerance", None: "Nothing that was measured is known to be out of its limit."}
	size := func(l measure.MM) string { return v.small(l) }
	var open tellOnce
	for _, h := range v.book.Held(c) {
		switch h.Verdict {
		case string(levelling.Meets):
			continue
		case field.NotChecked:
			open.add(h.Limit.NotChecked())
			continue
		}
		row := OfficeRow{Place: h.Place, Key: v.siteKey(h.Place), Said: h.Verdict, Text: strings.TrimSuffix(h.Say(size), ": "+h.Verdict), Asks: true}
		if len(h.By) > 0 {
			row.By = v.whose(h.By[0])
		}
		out.Rows = append(out.Rows, row)
	}
	out.Open = open.said("reading", "readings")
	return out
}

// hidden is what lacks its record before a step hides it, or was hidden without it, place by place in the order of the steps.
func (v *siteView) hidden(c *field.Contract) OfficeList {
	out := OfficeList{ID: "hidden", Name: "Before it is hidden", About: "what has no record yet, place by place", None: "Nothing that work has come to lacks a record that is asked for."}
	for i, h := range v.book.Hiding(c) {
		if i == 0 && h.Source == field.NoList {
			out.Open = append(out.Open, h.Source)
		}
		for _, l := range h.Lacking {
			row := OfficeRow{Place: l.Place, Key: v.siteKey(l.Place), Said: "before " + v.stepName(l.Step), Text: "no record: " + strings.Join(v.wants(l.Wants), ", "), Asks: true}
			if l.Hidden {
				row.Said, row.Text = "hidden by "+v.stepName(l.Step), "hidden without a record: "+strings.Join(v.wants(l.Wants), ", ")
				if len(l.By) > 0 {
					row.By = v.whose(l.By[0])
				}
			}
			out.Rows = append(out.Rows, row)
		}
	}
	return out
}

func (v *siteView) stepName(step string) string {
	switch step {
	case "bed":
		return "bedding"
	case "set":
		return "setting"
	case "cover":
		return "covering"
	}
	return step
}

// wants are the things that are asked for, as people of this job call them.
func (v *siteView) wants(of []string) []string {
	var out []string
	for _, w := range of {
		switch name := v.saying().Level(w); {
		case w == "bed or pad":
			out = append(out, "level of the "+v.speech.Word(v.standsOn()))
		case name != w || w == "invert" || w == "drain":
			out = append(out, "level of the "+name)
		default:
			out = append(out, w)
		}
	}
	return out
}

// wantedReadings is how often something is measured, against what the contract wants.
func (v *siteView) wantedReadings(c *field.Contract) OfficeList {
	out := OfficeList{ID: "wanted", Name: "Readings that the contract wants", None: "Of no reading is said how often it is wanted."}
	list := v.book.Wanted(c)
	if len(list) == 0 {
		out.Open = append(out.Open, field.NoFrequency)
	}
	for _, w := range list {
		row := OfficeRow{Said: fmt.Sprintf("%d of %d", w.Read, w.Wanted), Text: strings.Join(v.wants([]string{w.Of}), ""), Asks: len(w.Lacking) > 0}
		if len(w.Lacking) > 0 {
			row.Place, row.Key = w.Lacking[0], v.siteKey(w.Lacking[0])
			row.Text += ": set and not read at " + strings.Join(w.Lacking, ", ")
		}
		row.By = w.Source
		out.Rows = append(out.Rows, row)
	}
	return out
}

// tellOnce are sentences that are told once, with how often each would have been.
type tellOnce struct {
	order []string
	times map[string]int
}

func (t *tellOnce) add(text string) {
	if t.times == nil {
		t.times = map[string]int{}
	}
	if t.times[text] == 0 {
		t.order = append(t.order, text)
	}
	t.times[text]++
}

func (t *tellOnce) said(one, many string) []string {
	var out []string
	for _, text := range t.order {
		out = append(out, text+" ("+count(t.times[text], one, many)+")")
	}
	return out
}
