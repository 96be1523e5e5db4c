package drawing

import (
	"strings"

	"trenchwright/view/schedule"
)

// heldKinds are the kinds of checks by how their ids begin.
var heldKinds = []struct{ begins, title string }{
	{"flotation", "water"}, {"load.wheel", "what crosses"}, {"load.class", "what crosses"}, {"load.plate", "what crosses"}, {"load.fill", "what crosses"}, {"load", "earth and bed"}, {"lifting", "lifts"}, {"cable", "cables"}, {"compaction", "fill"},
}

// checkListing is every check with its verdict, and behind them how each was worked out; none where nothing was held.
func (d *draft) checkListing() listing {
	out := listing{kind: "checks", title: "Held against what was entered", note: "a figure is held against another that somebody entered; nothing here is rated, allowed or released. Local codes, the supplier and the licensed engineer come first"}
	if len(d.plan.Checks) == 0 {
		return out
	}
	set := schedule.Of(d.plan, d.job)
	var sources letters
	verdicts := ledger{title: "Verdicts", columns: []ledgerColumn{
		{head: "kind"}, {head: "no.", bold: true}, {head: "where"}, {head: "what", most: 66}, {head: "figure", most: 22}, {head: "limit", most: 22}, {head: "limit from"}, {head: "verdict", most: 44}, {head: "who decides", most: 20},
	}}
	working := ledger{title: "Working", columns: []ledgerColumn{{head: "check"}, {head: "", bold: true, most: 26}, {head: "is", most: 26}, {head: "from, or how", most: 42}}}
	for i := range d.plan.Checks {
		c := &d.plan.Checks[i]
		name, kind := schedule.CheckName(i), heldKind(c.ID)
		if n := len(verdicts.groups); n == 0 || verdicts.groups[n-1].name != kind {
			verdicts.groups = append(verdicts.groups, ledgerGroup{name: kind})
		}
		g := &verdicts.groups[len(verdicts.groups)-1]
		g.rows = append(g.rows, ledgerRow{cells: []string{name, set.CheckPlace(c), capital(c.What), c.Value, c.Limit, sources.letter(c.From), schedule.Verdict(c), c.Decides}})
		rows := ledgerGroup{name: name}
		for _, given := range c.Given {
			rows.rows = append(rows.rows, ledgerRow{cells: []string{given.Name, given.Is, sources.all(given.From)}})
		}
		for _, step := range c.Working {
			rows.rows = append(rows.rows, ledgerRow{cells: []string{step.Name, step.Is, "= " + step.How}})
		}
		rows.rows = append(rows.rows, ledgerRow{cells: []string{"rule", "", c.Rule}})
		working.groups = append(working.groups, rows)
	}
	said := map[string]bool{}
	for _, c := range d.plan.Checks {
		for _, caution := range c.Cautions {
			if !said[caution] {
				said[caution] = true
				verdicts.notes = append(verdicts.notes, ledgerNote{text: "Caution: " + caution})
			}
		}
	}
	working.notes = sources.notes
	verdicts.notes = append(verdicts.notes, ledgerNote{text: "what the letters of limits say stands behind the working"})
	out.ledgers = []ledger{verdicts, working}
	return out
}

// heldKind is the kind of a check.
func heldKind(id string) string {
	for _, k := range heldKinds {
		if strings.HasPrefix(id, k.begins) {
			return k.title
		}
	}
	return "other"
}
