package schedule

import (
	"fmt"
	"math"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/view/table"
)

// SetOut is the set-out table: every joint's middle and both ends of every leg.
func (s Set) SetOut() table.Table {
	coord := table.Column{Kind: table.KindLength, Unit: "m", Places: 3}
	if s.imperial {
		coord.Unit = "ft"
	}
	named := func(key, head string) table.Column { c := coord; c.Key, c.Head = key, head; return c }
	t := table.Table{Name: "set-out", Title: s.word("Setting out", "Layout"), Columns: []table.Column{
		text("leg", "leg"), text("place", "place"), text("pad", s.word("pad", "leveling pad")), named("chainage", s.word("chainage from the leg's first node", "station from the leg's first node")),
		named("easting", "easting"), named("northing", "northing"), angle("bearing", "bearing up-chainage"), named("level", "wall top, where known"),
	}, Notes: s.notes("centreline of the run at the middle of each joint. Chainages are ground lengths; eastings and northings are grid",
		"coordinate system: "+s.plan.Job.Grid, "combined scale factor: "+s.plan.Job.ScaleFactor, "height datum: "+s.plan.Job.HeightDatum, s.plan.Job.DrawnLine)}
	if s.us {
		t.Columns[6].Head = "bearing up-station"
	}
	for _, r := range s.plan.SetOut {
		pad := ""
		if r.Pad != "" {
			pad = "one"
		}
		level := table.Cell{}
		if r.Level != nil {
			level = table.Length(measure.FromMetres(*r.Level))
		}
		t.Rows = append(t.Rows, []table.Cell{table.Text(r.Leg), table.Text(r.Place), table.Text(pad), mm(r.Chainage),
			table.Length(measure.FromMetres(r.E)), table.Length(measure.FromMetres(r.N)), deg(math.Mod(r.Bearing, 360)), level})
	}
	return t
}

// Bill is everything that is ordered.
func (s Set) Bill() table.Table {
	t := table.Table{Name: "bill", Title: "Bill of what is ordered", Columns: []table.Column{
		text("item", "item"), text("supply", "supply"), text("kind", "kind"), text("need", "needed"), text("spare", "spare"), text("order", "to order"), text("unit", "unit"),
		text("packs", "packs"), text("mass", "mass of one [kg]"), text("why", "how counted"), text("source", "figures from"),
	}, Notes: s.notes("spares by the rules that the job states; nothing is added that nobody asked for")}
	for _, b := range s.plan.Bill {
		packs := ""
		if b.Pack > 0 {
			packs = fmt.Sprintf("%d of %d", b.Packs, b.Pack)
		}
		t.Rows = append(t.Rows, texts(b.Item, b.Supply, b.Kind, b.Need, b.Spare, b.Order, b.Unit, packs, b.Mass, b.Why, b.Source))
	}
	return t
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

// Zones are where no joint may stand, and where no cut piece may lie.
func (s Set) Zones() table.Table {
	t := table.Table{Name: "zones", Title: "Where no joint may stand", Columns: []table.Column{
		text("leg", "leg"), s.length("from", "from, on axis"), s.length("to", "to"), text("kind", "kind"), text("id", "id"), text("why", "why"), text("cut", "cut pieces"),
	}, Notes: s.notes("this lists what was recorded here. Nothing recorded does not mean that nothing is there")}
	for _, z := range s.plan.Zones {
		t.Rows = append(t.Rows, []table.Cell{table.Text(z.Leg), mm(z.From), mm(z.To), table.Text(z.Kind), table.Text(z.ID), table.Text(z.Why), yes(z.NoCut, "none may lie here")})
	}
	return t
}

// Findings is everything that the program has to say, as it says it.
func (s Set) Findings() table.Table {
	t := table.Table{Name: "findings", Title: "Findings", Columns: []table.Column{
		text("kind", "kind"), text("where", "where"), text("text", "what"), text("limit", "limit"), text("value", "value"), text("rule", "rule"), text("ask", "ask"), text("try", "try"),
	}, Notes: s.notes("this program calculates and keeps record; it decides nothing. Local codes, the supplier's drawings and the licensed engineer come first")}
	for _, f := range s.plan.Findings {
		where := f.Where.Path
		if f.Where.Leg != "" {
			where = "leg " + f.Where.Leg
			if f.Where.Chainage != nil {
				where += " at " + measure.Format{Survey: true, Places: 3}.Length(*f.Where.Chainage)
			}
		}
		t.Rows = append(t.Rows, texts(string(f.Kind), where, f.Text, f.Limit, f.Value, f.Rule, f.Ask, f.Try))
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
	for _, c := range s.plan.Proof.Cutting {
		t.Rows = append(t.Rows, texts("cutting", c, "integer certificate", "yes"))
	}
	return t
}
