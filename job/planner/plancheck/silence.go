package plancheck

import "strings"

// checkSilence: a figure that is missing is said to be missing, by a finding that names it, and findings are complete.
func (c *checker) checkSilence() {
	for i, f := range c.plan.Findings {
		switch f.Kind {
		case "fault", "impossible", "attention", "not checked", "assumed", "note":
		default:
			c.say("finding %d (%s) is of the kind %q", i+1, f.ID, f.Kind)
		}
		if f.ID == "" || f.Text == "" {
			c.say("finding %d says nothing: id %q, text %q", i+1, f.ID, f.Text)
		}
		if f.Kind == "not checked" && f.Ask == "" && !strings.Contains(f.Text, "Ask:") {
			c.say("finding %s leaves something unchecked and names nobody to ask", f.ID)
		}
	}
	if c.refused() {
		return // the fault is all that there is to say
	}
	for _, s := range c.plan.Supplies {
		for _, figure := range []struct {
			known bool
			word  string
		}{
			{s.OuterWidth != nil && s.OuterHeight != nil, "outer"},
			{s.InnerWidth != nil && s.InnerHeight != nil, "inner"},
			{s.CoverWidth != nil || !c.hasCovers(s.ID), "width"},
			{s.Kerf != nil, "kerf"},
			{!isUnchecked(s.Rating), "rating"},
			{!isUnchecked(s.CoverRating), "rating"},
		} {
			if !figure.known {
				c.needsFinding("supply "+s.ID, figure.word)
			}
		}
	}
	c.checkUnweighed()
	for _, text := range []struct {
		said, word string
		matters    bool
	}{
		{c.plan.Job.ScaleFactor, "scale factor", true}, {c.plan.Job.Grid, "coordinate system", true}, {c.plan.Job.DrawnLine, "line", true},
		{c.plan.Job.HeightDatum, "datum", c.anyLevel()},
	} {
		if text.matters && isUnchecked(text.said) {
			c.needsFinding("the job", text.word)
		}
	}
}

func (c *checker) checkUnweighed() {
	unit, lid := false, false
	for i := range c.plan.Units {
		unit = unit || c.plan.Units[i].Mass == nil
	}
	for i := range c.plan.Covers {
		lid = lid || c.plan.Covers[i].Mass == nil
	}
	if unit || lid || c.plan.Totals.MassKG == nil && len(c.plan.Units) > 0 {
		c.needsFinding("a unit, a cover or the whole run", "mass")
	}
}

// anyLevel tells whether a level is stated at all: without one nothing hangs on the datum.
func (c *checker) anyLevel() bool {
	if len(c.plan.Grades) > 0 {
		return true
	}
	for i := range c.plan.Nodes {
		if c.plan.Nodes[i].Level != nil {
			return true
		}
	}
	return false
}

// hasCovers tells whether a supply's covers are laid; where nobody can tell, they are.
func (c *checker) hasCovers(supply string) bool {
	m := c.makes[supply]
	return m == nil || m.Cover != nil
}

func isUnchecked(text string) bool { return strings.HasPrefix(text, "NOT CHECKED") }

func (c *checker) needsFinding(what, word string) {
	if !c.anyFinding(func(f finding) bool { return f.Kind == "not checked" && mentions([]string{f.Text}, word) }) {
		c.say("%s: no %s is known, and no finding says NOT CHECKED", what, word)
	}
}

func (c *checker) anyFinding(is func(finding) bool) bool {
	for _, f := range c.plan.Findings {
		if is(f) {
			return true
		}
	}
	return false
}

// mentions tells whether any text holds any of the words.
func mentions(texts []string, words ...string) bool {
	for _, t := range texts {
		for _, w := range words {
			if strings.Contains(strings.ToLower(t), w) {
				return true
			}
		}
	}
	return false
}
