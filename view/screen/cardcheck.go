package screen

import (
	"trenchwright/base/finding"
	"trenchwright/solve/check"
	"trenchwright/view/schedule"
)

// against adds the checks whose place a card is about, each with its figure, its limit and what came of it.
func (m *maker) against(keep func(finding.Finding) bool) {
	m.group("held against what was entered")
	for i := range m.plan.Checks {
		c := &m.plan.Checks[i]
		if keep(finding.Finding{ID: c.ID, Where: c.Where}) {
			m.linked(c.What, heldText(c), "check/"+schedule.CheckName(i))
		}
	}
}

// heldText is a check in a few words: the figure, its limit, the verdict, or what is not on file.
func heldText(c *check.Said) string {
	if len(c.Missing) > 0 {
		return schedule.Verdict(c)
	}
	return c.Value + ", limit " + c.Limit + ": " + schedule.Verdict(c)
}

// forCheck is the card of a check: both figures, what went in, how it was worked out, and who decides.
func (m *maker) forCheck(id string) bool {
	for i := range m.plan.Checks {
		c := &m.plan.Checks[i]
		if schedule.CheckName(i) != id {
			continue
		}
		place := m.finding(id, finding.Finding{ID: c.ID, Where: c.Where})
		m.card.Title, m.card.Lead = id, capital(c.What)
		if c.Stop && c.Verdict == string(finding.DoesNot) {
			m.card.Stop = append(m.card.Stop, c.Sentence)
		}
		m.group("what came of it")
		m.row("verdict", schedule.Verdict(c), "")
		if len(c.Missing) == 0 {
			m.row("figure", c.Value, "")
			m.row("limit", c.Limit, "").Source = c.From
		}
		m.row("who decides", c.Decides, "")
		m.row("try", c.Try, "")
		if place.Key != "" {
			m.linked("of", schedule.Of(m.plan, m.job).CheckPlace(c), place.Key)
		}
		m.group("what went in")
		for _, g := range c.Given {
			m.row(g.Name, g.Is, "").Source = g.From
		}
		m.group("how it was worked out")
		for _, s := range c.Working {
			m.row(s.Name, s.Is, "").Source = "= " + s.How
		}
		m.row("rule", c.Rule, "")
		m.group("cautions")
		for _, caution := range c.Cautions {
			m.row("", capital(caution), "")
		}
		if place.At != nil {
			m.card.Strip = [2]float64{*place.At, *place.At}
		}
		return true
	}
	return false
}
