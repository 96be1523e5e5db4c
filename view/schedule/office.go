package schedule

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/job/planner"
	"trenchwright/view/table"
)

// Bill is everything that is ordered for the whole job.
func (s Set) Bill() table.Table {
	t := table.Table{Name: "bill", Title: "Bill of what is ordered", Columns: []table.Column{
		text("item", "item"), text("supply", "supply"), text("kind", "kind"), decimal("need", "needed"), decimal("spare", "spare"), decimal("order", "to order"), text("unit", "of"),
		count("packs", "packs"), count("pack", "in one pack"), s.mass("mass", "mass of one"), s.mass("all", "mass of the order"), text("why", "how counted"), text("source", "figures from"),
	}, Notes: s.notes("spares by the rules that the job states; nothing is added that nobody asked for",
		"to order: needed and spare, less what lies in the yard, rounded up to whole packs where the supplier says what a pack holds")}
	for _, b := range s.plan.Bill {
		t.Rows = append(t.Rows, []table.Cell{table.Text(b.Item), said(b.Supply), table.Text(s.billKind(b.Kind)), number(b.Need), number(b.Spare), number(b.Order), table.Text(pieces(b)),
			several(b.Packs), several(b.Pack), massOf(b.Mass, "1"), massOf(b.Mass, b.Order), said(b.Why), said(b.Source)})
	}
	return t
}

// Orders are the same lines, the supplies one after another: what goes to each supplier. What belongs to no supply comes
// last.
func (s Set) Orders() table.Table {
	t := table.Table{Name: "orders", Title: "Order by order, one for each supply", Columns: []table.Column{
		text("supply", "supply"), text("item", "item"), decimal("order", "to order"), text("unit", "of"), count("packs", "packs"), count("pack", "in one pack"), s.mass("all", "mass"), text("source", "figures from"),
	}, Notes: s.notes("nobody entered what loose parts weigh")}
	var order []string
	for _, b := range s.plan.Bill {
		if b.Supply != "" && !slices.Contains(order, b.Supply) {
			order = append(order, b.Supply)
		}
	}
	for _, supply := range append(order, "") {
		for _, b := range s.plan.Bill {
			if b.Supply == supply {
				t.Rows = append(t.Rows, []table.Cell{said(b.Supply), table.Text(b.Item), number(b.Order), table.Text(pieces(b)), several(b.Packs), several(b.Pack), massOf(b.Mass, b.Order), said(b.Source)})
			}
		}
	}
	return t
}

// billKind is what a line of the bill orders, in the job's words.
func (s Set) billKind(kind string) string {
	if kind == "unit" {
		return s.unit()
	}
	return kind
}

// pieces is what an order counts.
func pieces(b planner.BillLine) string {
	if b.Unit == "piece" && b.Order != "1" {
		return "pieces"
	}
	return b.Unit
}

// several is a number of things, or nothing where there are none.
func several(n int) table.Cell {
	if n == 0 {
		return table.Cell{}
	}
	return table.Count(n)
}

func texts(ss ...string) []table.Cell {
	out := make([]table.Cell, len(ss))
	for i, s := range ss {
		if s != "" {
			out[i] = table.Text(s)
		}
	}
	return out
}

// Findings is everything that the program has to say, as it says it.
func (s Set) Findings() table.Table {
	t := table.Table{Name: "findings", Title: "Findings", Columns: []table.Column{
		text("number", "no."), text("kind", "kind"), text("where", "where"), text("text", "what"), text("limit", "limit"), text("value", "value"), text("rule", "rule"), text("ask", "ask"), text("try", "try"),
	}, Notes: s.notes("this program calculates and keeps record; it decides nothing. Local codes, the supplier's drawings and the licensed engineer come first")}
	for i, f := range s.plan.Findings {
		t.Rows = append(t.Rows, texts(finding.Number(i), string(f.Kind), f.Where.In(s.speech), f.Text, f.Limit, f.Value, f.Rule, f.Ask, f.Try))
	}
	return t
}

// Proof is what stands behind the claims.
func (s Set) Proof() table.Table {
	t := table.Table{Name: "proof", Title: "What was proven", Columns: []table.Column{
		text("of", "of"), text("claim", "claim"), text("bound", "what stands behind it"), text("checked", "verified apart"),
	}, Notes: s.notes("every claim of best or impossible was verified by code other than the code that found it")}
	for _, l := range s.plan.Proof.Legs {
		checked := "yes"
		if !l.Verified {
			checked = "NO: " + strings.Join(l.CheckerSay, "; ")
		}
		t.Rows = append(t.Rows, texts("leg "+l.Leg, l.Claim, fmt.Sprintf("%s (%d intervals)", l.Bound, l.Intervals), checked))
	}
	for _, c := range s.plan.Cutting {
		behind, checked := "a bound worked out in whole numbers (its figures are in the file plan.json)", "yes"
		if !c.Proven {
			behind, checked = "", "not claimed"
		}
		t.Rows = append(t.Rows, texts("cutting", fmt.Sprintf("supply %s: %s", c.Supply, c.Text), behind, checked))
	}
	return t
}
