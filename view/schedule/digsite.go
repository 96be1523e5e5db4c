package schedule

import (
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/planner"
	"trenchwright/view/table"
)

// The three verdicts, as the checks have them.
const (
	meets     = "meets the stated figure"
	doesNot   = "does not meet the stated figure"
	cannotSay = "cannot say"
)

// digStrip is the working strip: what each side of a leg needs where it needs most, against the land on file.
func (s Set) digStrip() table.Table {
	t := table.Table{Name: "dig-strip", Title: "The working strip, where each leg needs most", Columns: []table.Column{
		text("leg", "leg"), text("side", "side"), s.surveyed("at", s.speech.Word(wording.Chainage)), s.taped("edge", "edge of the dig"), text("uses", s.say("what stands beside it, from the %s", wording.Centreline)),
		s.taped("need", "needed"), s.taped("land", "land"), s.taped("left", "left over"), text("verdict", "verdict"),
	}}
	t.Notes = s.notes(s.say("edge, needed and land from the %s; left and right looking %s. The free edge beside the dig and the toe of the spoil are counted", wording.Centreline, wording.UpChainage))
	for _, n := range s.plan.Dig.Strip {
		if len(n.Uses) == 0 {
			continue // nothing was declared on this side
		}
		land, left := table.Text("NOT CHECKED: no width of land on the "+n.Side+" on file. Ask: whoever lets the land be used"), table.Cell{}
		if n.Land != nil {
			land, left = mm(*n.Land), mm(*n.Land-n.Need)
		}
		t.Rows = append(t.Rows, []table.Cell{table.Text(n.Leg), table.Text(n.Side), mm(n.At), mm(n.Edge), table.Text(s.uses(n)), mm(n.Need), land, left, table.Text(stripVerdict(n))})
	}
	return t
}

// uses are what stands on one side of the dig, from the dig outward.
func (s Set) uses(n planner.StripNeed) string {
	var said []string
	for _, u := range n.Uses {
		said = append(said, s.say("%s from %s to %s", u.What, wording.Tape(u.From), wording.Tape(u.From+u.Width)))
	}
	if !n.Whole {
		said = append(said, "NOT CHECKED: not everything that this depends on is on file. Ask: see the findings")
	}
	return strings.Join(said, "; ")
}

// taped is the column of what is measured on site by tape: metres, or feet and inches.
func (s Set) taped(key, head string) table.Column {
	if s.speech.Imperial {
		return s.length(key, head)
	}
	return s.surveyed(key, head)
}

func stripVerdict(n planner.StripNeed) string {
	switch {
	case n.Land != nil && n.Need > *n.Land:
		return doesNot
	case n.Land == nil || !n.Whole:
		return cannotSay
	}
	return meets
}

// Excavation is the dig of every leg held against the rules of the place, and where the ways out stand; no table where the
// plan was held against none.
func (s Set) Excavation() []table.Table {
	if len(s.plan.Excavation) == 0 {
		return nil
	}
	t := table.Table{Name: "excavation", Title: "The dig against the rules of the place", Columns: []table.Column{
		text("leg", "leg"), s.surveyed("from_at", "from"), s.surveyed("to_at", "to"), s.length("deepest", "deepest"), text("what", "what"), text("value", "value"), text("limit", "limit"), text("verdict", "verdict"), text("stop", "stop"), text("rule", "rule, and the day it was read"),
	}}
	t.Notes = s.notes("a calculator and a record: the class of the soil, the release for entry and the daily inspection are the competent person's",
		"depths are rounded up to the next "+s.roundedUp()+" before they are held against a rule: no dig counts shallower than it is")
	if slices.ContainsFunc(s.plan.Excavation, func(x planner.Excavation) bool {
		return x.Stopped || slices.ContainsFunc(x.Results, func(r planner.ExcavationResult) bool { return r.Stop })
	}) {
		t.Notes = append(t.Notes, "STOP: nothing goes on before the person named has answered")
	}
	if slices.ContainsFunc(s.plan.Excavation, func(x planner.Excavation) bool { return x.From != nil }) {
		t.Notes = append(t.Notes, "from, to: where only a part of the leg is dug like this; the ways out stand with the first part, for all of it")
	}
	out := table.Table{Name: "ladders", Title: "Ways out of the dig: the fewest that the rule lets stand, evenly", Columns: []table.Column{
		text("leg", "leg"), count("number", "no."), s.surveyed("at", s.speech.Word(wording.Chainage)),
	}}
	out.Notes = s.notes("more where people work elsewhere; a leg that is not here is not deep enough for the rule to ask for one, or it could not be said: see the table of rules")
	for _, x := range s.plan.Excavation {
		if name := "rules: " + x.Rules + ", read " + x.Read; !slices.Contains(t.Notes, name) && x.Rules != "" {
			t.Notes = append(t.Notes, name)
		}
		for _, r := range x.Results {
			rule := r.Rule
			if !strings.Contains(rule, x.Read) {
				rule += ", read " + x.Read
			}
			value := r.Value
			if value == "" && r.Verdict == cannotSay {
				value = "none on file"
			}
			t.Rows = append(t.Rows, []table.Cell{table.Text(x.Leg), part(x.From), part(x.To), s.heldDepth(x.Deepest), table.Text(r.What), said(value), said(r.Limit), table.Text(r.Verdict), yes(r.Stop, "STOP"), table.Text(rule)})
		}
		for i, at := range x.Ladders {
			out.Rows = append(out.Rows, []table.Cell{table.Text(x.Leg), table.Count(i + 1), table.Length(measure.FromMetres(at))})
		}
	}
	if len(out.Rows) == 0 {
		t.Notes = append(t.Notes, s.noLadders())
		return []table.Table{t}
	}
	return []table.Table{t, out}
}

// noLadders says why no way out is shown.
func (s Set) noLadders() string {
	for _, x := range s.plan.Excavation {
		if slices.ContainsFunc(x.Results, func(r planner.ExcavationResult) bool { return r.ID == "excavation.way-out" && r.Verdict == cannotSay }) {
			return "no ladders are shown: it could not be said where they stand, see the table"
		}
	}
	return "no ladders: the rules that were read ask for none at this depth"
}

func (s Set) roundedUp() string {
	if s.speech.Imperial {
		return "1/16 in"
	}
	return "mm"
}

// heldDepth is a depth as the rules are held against it: in whole millimetres or sixteenths, rounded up.
func (s Set) heldDepth(d measure.MM) table.Cell {
	step := measure.Millimetre
	if s.speech.Imperial {
		step = measure.Sixteenth
	}
	return mm(measure.MM((measure.Length(d) + step - 1) / step * step))
}

// part is where a part of a leg begins or ends; empty for all of it.
func part(at *measure.MM) table.Cell {
	if at == nil {
		return table.Cell{}
	}
	return mm(*at)
}
