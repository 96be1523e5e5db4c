package papers

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/job/planner"
)

const formDelivery = fromJob + ", by the order in which things are counted"

// deliveries are one check a load; where nobody said how things come, one for all that is ordered.
func (m *maker) deliveries() ([]Paper, error) {
	d := m.Plan.Delivery
	if d == nil || len(d.Loads) == 0 {
		if m.Load != 0 {
			return nil, fmt.Errorf("there is no load %d: the job does not say how what is ordered comes", m.Load)
		}
		return []Paper{m.deliveryOfBill()}, nil
	}
	var out []Paper
	for _, l := range d.Loads {
		if m.Load == 0 || l.Number == m.Load {
			out = append(out, m.delivery(d, l))
		}
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("there is no load %d; loads are 1 to %d", m.Load, len(d.Loads))
	}
	return out, nil
}

func (m *maker) delivery(d *planner.Delivery, l planner.DeliveryLoad) Paper {
	p := m.paper(number(l.Number), fmt.Sprintf("load %d of %d, %s", l.Number, len(d.Loads), l.Vehicle))
	head := m.deliveryHead()
	head.Lines = append(head.Lines, Line{"laid from, to", laid(l), fromPlan}, Line{"bundles and pieces", counted(len(l.Bundles), "bundle", "bundles") + ", " + counted(l.Pieces, "piece", "pieces"), fromPlan},
		Line{"mass on the vehicle, and what it may carry", m.mass(l.Mass) + " of " + m.mass(l.Payload), m.vehicleFrom(d, l.Vehicle)})
	grid := Part{Title: "Count, bundle by bundle, before anything is unloaded", Form: formDelivery, From: fromPlan, Heads: append([]Head{{Name: "bundle", Wide: 1.6}, {Name: "pieces", Wide: 1.3}, {Name: "of", Wide: 4}, {Name: "mark, for", Wide: 4}, {Name: "mass", Wide: 2.6}, {Name: "put down at", Wide: 2}}, countHeads()...)}
	for _, b := range d.Bundles {
		if b.Load != l.Number {
			continue
		}
		mass := m.mass(b.Mass)
		if b.Mass == 0 {
			mass = none("mass of "+b.Item, "the supplier")
		}
		at := b.Laydown
		if at == "" {
			at = "no place on file"
		}
		grid.Rows = append(grid.Rows, append([]string{b.Name, number(b.Count), b.Item, strung(": ", b.Mark, strings.Join(slices.Compact(slices.Clone(b.Pieces)), ", ")), mass, at}, "", "", ""))
	}
	return m.done(p, head, grid, m.offloading(d, l), m.deliveryEnd())
}

// laid is what of a load is laid first and last.
func laid(l planner.DeliveryLoad) string {
	if l.First == "spare" && l.Last == "spare" {
		return "nothing of it: spares alone"
	}
	return l.First + " to " + l.Last
}

func countHeads() []Head {
	return []Head{{Name: "came", Wide: 1.3, Fill: true}, {Name: "damaged", Wide: 1.6, Fill: true}, {Name: "what is wrong, photo", Wide: 4, Fill: true}}
}

func (m *maker) deliveryHead() Part {
	return Part{Title: "Delivery", Form: formDelivery, Lines: blanks("ticket number", "day, hour in and out", "vehicle, driver")}
}

// vehicleFrom is where the figures of a vehicle come from.
func (m *maker) vehicleFrom(d *planner.Delivery, id string) string {
	for _, v := range d.Vehicles {
		if v.ID == id {
			return v.Source
		}
	}
	return "the job, delivery"
}

// offloading is what each bundle was held against.
func (m *maker) offloading(d *planner.Delivery, l planner.DeliveryLoad) Part {
	part := Part{Title: "Offloading", Form: formDelivery, Notes: []string{"nobody under a load; piece and tackle are lifted and stored at the supplier's points alone"}, Lines: []Line{entry(m, "what the plant on site may lift at the reach of offloading", m.Job.Delivery.From, m.Job.Delivery.Lift, m.entered, "mass that the plant may lift at the reach of offloading", liftPlanner)}}
	heaviest := -1
	for i, b := range d.Bundles {
		if b.Load == l.Number && (heaviest < 0 || b.Mass > d.Bundles[heaviest].Mass) {
			heaviest = i
		}
	}
	for i, b := range d.Bundles {
		if b.Load != l.Number || b.Lift == "" || i != heaviest && b.Lift == string(finding.Meets) {
			continue
		}
		limit := ""
		if m.Job.Delivery.Lift.Known {
			limit = m.entered(m.Job.Delivery.Lift.Value)
		}
		name := "bundle " + b.Name
		if i == heaviest {
			name += ", the heaviest"
		}
		part.Lines = append(part.Lines, Line{name, against(m.mass(b.Mass), limit) + ": " + b.Lift, fromPlan})
	}
	return part
}

func (m *maker) deliveryEnd() Part {
	return Part{Title: "Received", Form: formDelivery, Notes: []string{"damage and what is short go onto the driver's ticket too, written by whoever receives, before it is signed"},
		Lines: blanks("marks, hands and certificates looked at by", "short, set aside, sent back"), Sign: []string{"received by", "driver"}}
}

// deliveryOfBill is a check of all that is ordered, where nobody said how it comes.
func (m *maker) deliveryOfBill() Paper {
	p := m.paper("", "all that is ordered")
	grid := Part{Title: "Count, item by item", Form: formDelivery, From: "the bill of " + fromPlan, Notes: []string{none("word on how what is ordered comes", "the supplier and the haulier")}, Heads: append([]Head{{Name: "of", Wide: 6}, {Name: "ordered", Wide: 2.5}}, countHeads()...)}
	for _, b := range m.Plan.Bill {
		grid.Rows = append(grid.Rows, []string{b.Item, strung(" ", b.Order, b.Unit), "", "", ""})
	}
	for i := range m.Plan.Units {
		if u := &m.Plan.Units[i]; u.Cut {
			grid.Rows = append(grid.Rows, []string{"cut piece " + u.Mark, "1", "", "", ""})
		}
	}
	return m.done(p, m.deliveryHead(), grid, m.deliveryEnd())
}
