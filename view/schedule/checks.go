package schedule

import (
	"fmt"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/solve/check"
	"trenchwright/view/table"
)

// CheckName is what a check of the plan is called by, counted from 0.
func CheckName(i int) string { return fmt.Sprintf("K%d", i+1) }

// Checks are the run, its lifts, cables and fill held against what was entered, a row a check, and how each was worked out, a row a figure;
// no tables where nothing was held.
func (s Set) Checks() []table.Table {
	if len(s.plan.Checks) == 0 {
		return nil
	}
	t := table.Table{Name: "checks", Title: "Held against what was entered", Columns: []table.Column{
		text("number", "no."), text("verdict", "verdict"), text("what", "what"), text("value", "figure"), text("limit", "limit"), text("where", "where"), text("missing", "not on file"), text("from", "limit from"), text("rule", "rule"), text("decides", "who decides"), text("try", "try"),
	}, Notes: s.notes("a figure is held against another that somebody entered; nothing here is rated, allowed or released. Local codes, the supplier and the licensed engineer come first")}
	w := table.Table{Name: "checks-working", Title: "How each check was worked out", Columns: []table.Column{
		text("number", "no."), text("kind", "given or worked out"), text("name", "figure"), text("is", "is"), text("how", "from, or how"),
	}, Notes: s.notes()}
	for i := range s.plan.Checks {
		c := &s.plan.Checks[i]
		name := CheckName(i)
		t.Rows = append(t.Rows, texts(name, verdict(c), c.What, c.Value, c.Limit, s.CheckPlace(c), strings.Join(c.Missing, ". "), c.From, c.Rule, c.Decides, c.Try))
		for _, g := range c.Given {
			w.Rows = append(w.Rows, texts(name, "given", g.Name, g.Is, g.From))
		}
		for _, step := range c.Working {
			w.Rows = append(w.Rows, texts(name, "worked out", step.Name, step.Is, step.How))
		}
		for _, caution := range c.Cautions {
			t.Notes = appendOnce(t.Notes, "caution: "+caution)
		}
	}
	return []table.Table{t, w}
}

// Verdict is the verdict of a check, or what is not on file for it.
func Verdict(c *check.Said) string {
	if len(c.Missing) > 0 {
		return strings.Join(c.Missing, ". ")
	}
	return verdict(c)
}

// verdict is that of a check in its words alone.
func verdict(c *check.Said) string {
	if len(c.Missing) > 0 {
		return "NOT CHECKED"
	}
	if c.Stop && c.Verdict == string(finding.DoesNot) {
		return c.Verdict + ": HARD STOP"
	}
	if c.Verdict == "" {
		return string(finding.CannotSay)
	}
	return c.Verdict
}

// CheckPlace is where a check is held, in words.
func (s Set) CheckPlace(c *check.Said) string {
	if id, ok := strings.CutPrefix(c.Where.Path, "supplies."); ok {
		return "supply " + id
	}
	if id, ok := strings.CutPrefix(c.Where.Path, "nodes."); ok {
		return "node " + id
	}
	if c.Where.Path != "" {
		return "the whole run"
	}
	if c.Where.Place != "" {
		return c.Where.Place
	}
	return c.Where.In(s.speech)
}

func appendOnce(list []string, text string) []string {
	for _, one := range list {
		if one == text {
			return list
		}
	}
	return append(list, text)
}
