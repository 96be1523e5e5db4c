package schedule

import (
	"math"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/table"
)

// noCable is what stands where only somebody who knows the cables could tell.
const noCable = "NOT CHECKED: no cable on file. Ask: whoever designs the cables"

// Stretches are what cables go through, from one node to the next: how far, how it turns at its end, how much room there is inside,
// and which conduits come in. Nothing is said of how full a stretch is: no cable is on file.
func (s Set) Stretches() table.Table {
	t := table.Table{Name: "stretches", Title: "Stretches for cables", Columns: []table.Column{
		text("leg", "leg"), text("from", "from"), text("to", "to"), s.length("length", "along it"), text("end", "at its end"), angle("turn", "turns by"), text("hand", "to the"),
		s.length("wide", "inside, wide"), s.length("high", "inside, high"), count("conduits", "conduits in"), text("which", "which, outside diameter"), text("cables", "cables in it"), text("filled", "how full"),
	}, Notes: s.notes("along it: on the ground from node to node", "a turn is that of the run; NOT CHECKED: no least bending radius of a cable on file. Ask: whoever designs the cables")}
	ends := map[string]planner.Node{}
	for _, n := range s.plan.Nodes {
		ends[n.ID] = n
	}
	inside := map[string]planner.SupplyHead{}
	for _, h := range s.plan.Supplies {
		inside[h.ID] = h
	}
	for _, l := range s.plan.Legs {
		turn, hand := table.Cell{}, ""
		if d := ends[l.To].Deflection; d != 0 {
			turn, hand = deg(math.Abs(d)), "right"
			if d < 0 {
				hand = "left"
			}
		}
		h := inside[l.Supply]
		t.Rows = append(t.Rows, []table.Cell{table.Text(l.Name), table.Text(l.From), table.Text(l.To), mm(l.NodeLength), table.Text(ends[l.To].Kind), turn, said(hand),
			within(h.InnerWidth, l.Supply), within(h.InnerHeight, l.Supply), table.Count(len(s.entries[l.Name])), said(s.conduits(l.Name)), table.Text(noCable), table.Text(noCable)})
	}
	return t
}

func within(m *measure.MM, supply string) table.Cell {
	if m == nil {
		return table.Text("NOT CHECKED: no inner section of supply " + supply + " on file. Ask: the supplier")
	}
	return mm(*m)
}

// conduits names those that come into a leg, in its order.
func (s Set) conduits(leg string) string {
	var all []string
	for _, e := range s.entries[leg] {
		where := e.Side
		if e.Side == "floor" {
			where = "in the floor"
		}
		all = append(all, s.say("%s %s %s", e.ID, e.Diameter, where))
	}
	return strings.Join(all, "; ")
}

// entriesOf are the conduit entries of each leg in its order.
func entriesOf(j job.Job) map[string][]job.ConduitEntry {
	of := map[string][]job.ConduitEntry{}
	for _, l := range j.Route.Legs {
		es := slices.Clone(l.Entries)
		slices.SortStableFunc(es, func(a, b job.ConduitEntry) int { return int(min(1, max(-1, a.At-b.At))) })
		of[l.ID] = es
	}
	return of
}
