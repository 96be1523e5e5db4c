package schedule

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/wording"
	"trenchwright/job/planner"
	"trenchwright/view/table"
)

// Delivery are the tables of how what is ordered comes: loads, bundles, what is put down where, what is ordered by type and by mark, and the
// list that is filled in when it comes; none where the job says nothing about deliveries.
func (s Set) Delivery() []table.Table {
	d := s.plan.Delivery
	if d == nil {
		return nil
	}
	return []table.Table{s.vehicleLoads(d), s.bundles(d), s.laydown(d), s.special(d), s.receiving(d)}
}

func kg(m float64) table.Cell { return kilos(&m) }

// none is NOT CHECKED in a cell.
func none(what, ask string) table.Cell {
	return table.Text(finding.NoneOnFile(what, ask, finding.Where{}).Text)
}

func (s Set) vehicleLoads(d *planner.Delivery) table.Table {
	t := table.Table{Name: "loads", Title: "Loads in laying order", Columns: []table.Column{
		count("load", "load"), text("vehicle", "vehicle"), count("bundles", "bundles"), count("pieces", "pieces"), text("first", "laid from"), text("last", "to"),
		s.mass("mass", "mass"), s.mass("payload", "payload"), s.length("deck", "deck taken"), s.length("deck_of", "of its length"),
		s.mass("front", "front axles"), s.mass("front_of", "limit"), s.mass("rear", "rear axles"), s.mass("rear_of", "limit"), text("findings", "look at"),
	}}
	t.Notes = s.notes("legs are laid in the order "+strings.Join(d.Legs, ", ")+"; what is laid first comes first",
		"axles: the vehicle as a beam on two supports (statics), loads put against the front of the deck and moved back only as far as its axles ask",
		"nobody's judgement of how loads are secured, and of the way there: whoever drives decides")
	if len(d.Loads) > 0 {
		by := map[string]string{"mass": "their mass", "deck": "the room on decks"}[d.LeastBy]
		t.Notes = append(t.Notes, fmt.Sprintf("%d loads; proven: nothing brings all of it with fewer than %d, by %s (%.2f whole loads)", len(d.Loads), d.Least, by, d.Nearer))
	}
	if d.Ahead > 0 {
		t.Notes = append(t.Notes, s.say("a bundle may come as much as %s of run before its turn", wording.Far(d.Ahead)))
	}
	for _, v := range d.Vehicles {
		name := v.ID
		if v.Title != "" {
			name += " (" + v.Title + ")"
		}
		t.Notes = append(t.Notes, name+": "+v.Source)
	}
	for _, x := range d.Left {
		t.Notes = append(t.Notes, "on no load: "+strings.TrimSpace(x.Mark+" "+x.Item)+". "+x.Why)
	}
	for _, l := range d.Loads {
		row := []table.Cell{table.Count(l.Number), table.Text(l.Vehicle), table.Count(len(l.Bundles)), table.Count(l.Pieces), table.Text(l.First), table.Text(l.Last), kg(l.Mass), kg(l.Payload)}
		if l.Deck == nil {
			row = append(row, none("size of all that comes and of the deck of "+l.Vehicle, "the supplier and the haulier"), table.Cell{})
		} else {
			row = append(row, mm(*l.Deck), mm(*l.DeckOf))
		}
		look := table.Cell{}
		if l.Axles == nil {
			row, look = append(row, table.Cell{}, table.Cell{}, table.Cell{}, table.Cell{}), none("axles of "+l.Vehicle, "the haulier")
		} else {
			row = append(row, kg(l.Axles[0]), kg(l.AxlesOf[0]), kg(l.Axles[1]), kg(l.AxlesOf[1]))
		}
		t.Rows = append(t.Rows, append(row, look))
	}
	return t
}

func (s Set) bundles(d *planner.Delivery) table.Table {
	t := table.Table{Name: "bundles", Title: "Bundles by load", Columns: []table.Column{
		count("load", "load"), text("bundle", "bundle"), count("count", "pieces"), text("item", "of"), text("places", "for"), s.length("long", "long"), s.length("wide", "wide"), s.length("high", "high"), s.mass("mass", "mass"),
		s.length("from_front", "from the front of the deck"), s.length("from_left", "from its left side"), s.length("above", "above it"), text("laydown", "put down at"), text("lift", "lift"),
	}, Notes: s.notes("bundles by the supplier's rules; plain pieces go into any place of their type, and the places named are those for which they come",
		strings.TrimSuffix("lift: held against what the plant on site may lift; "+d.Lift, "; "), "load 0: on none")}
	for _, b := range d.Bundles {
		row := []table.Cell{table.Count(b.Load), table.Text(b.Name), table.Count(b.Count), table.Text(b.Item), table.Text(places(b.Pieces))}
		for _, l := range b.Size {
			if l == 0 {
				row = append(row, none("size of "+b.Item, "the supplier"))
				continue
			}
			row = append(row, mm(l))
		}
		row = append(row, kg(b.Mass))
		if b.Mass == 0 {
			row[len(row)-1] = none("mass of "+b.Item, "the supplier")
		}
		if b.Places == nil {
			row = append(row, table.Cell{}, table.Cell{}, table.Cell{})
		} else {
			row = append(row, mm(b.Places[0]), mm(b.Places[1]), mm(b.Places[2]))
		}
		t.Rows = append(t.Rows, append(row, said(b.Laydown), said(b.Lift)))
	}
	return t
}

// places are a few names: all of up to three, else the first and the last; spares once.
func places(list []string) string {
	list = slices.Compact(slices.Clone(list))
	if len(list) <= 3 {
		return strings.Join(list, ", ")
	}
	return list[0] + " to " + list[len(list)-1]
}

func (s Set) laydown(d *planner.Delivery) table.Table {
	t := table.Table{Name: "laydown", Title: "What is put down where", Columns: []table.Column{
		text("leg", "leg"), text("place", "place"), text("name", "where"), text("side", "side"), s.surveyed("start", "from"), s.surveyed("end", "to"), count("bundles", "bundles"), count("most", "at once"),
		text("what", "held"), text("value", "lies there"), text("limit", "on file"), text("verdict", "verdict"), text("source", "figures from"),
	}, Notes: s.notes("each bundle at the nearest place with room; room: its own size, nothing on anything", "what is put down presses on the side of the dig: where it may stand is the competent person's to say")}
	for _, p := range d.Laydown {
		for i, h := range p.Holds {
			row := []table.Cell{table.Text(p.Leg), table.Text(p.ID), {}, {}, {}, {}, {}, {}}
			if i == 0 {
				row = []table.Cell{table.Text(p.Leg), table.Text(p.ID), said(p.Name), table.Text(p.Side), mm(p.Start), mm(p.End), table.Count(len(p.Bundles)), table.Count(p.Most)}
			}
			t.Rows = append(t.Rows, append(row, table.Text(h.What), said(h.Value), said(h.Limit), table.Text(h.Verdict), said(p.Source)))
		}
	}
	if len(d.Nowhere) > 0 {
		t.Notes = append(t.Notes, "no room for: "+strings.Join(d.Nowhere, ", ")+"; set them from the vehicle, or enter another place")
	}
	if len(d.Laydown) == 0 {
		t.Notes = append(t.Notes, finding.NoneOnFile("laydown place", "the site engineer", finding.Where{}).Text)
	}
	return t
}

// special is what is ordered: plain ones by their type, special ones by their mark, each with the last day for a change.
func (s Set) special(d *planner.Delivery) table.Table {
	t := table.Table{Name: "items", Title: "What is ordered, by type and by mark", Columns: []table.Column{
		text("supply", "supply"), text("item", "item"), text("mark", "mark"), text("special", "special"), count("count", "pieces"), text("order", "to order"), text("packs", "in packs"), count("spare", "spare"), s.mass("mass", "mass of one"), text("change", "change until"),
	}, Notes: s.notes("change until: the day of the first load less the days that the supplier asks for, by the calendar", "spares and loose parts are rounded up to the supplier's packs")}
	for _, x := range d.Items {
		row := []table.Cell{said(x.Supply), table.Text(x.Item), said(x.Mark), said(x.Special), several(x.Count), table.Text(x.Order), said(x.Packs), several(x.Spares), kilos(x.Mass), said(x.Change)}
		if x.Kind == "loose part" && x.Mass == nil {
			row[8] = none("mass of "+x.Item, "the supplier")
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// receiving is filled in when a load comes, before it is unloaded: a row for the plain pieces of one type on a load, and one for each
// special piece.
func (s Set) receiving(d *planner.Delivery) table.Table {
	t := table.Table{Name: "receiving", Title: "Receiving list", Columns: []table.Column{
		text("of", "load"), text("item", "item"), text("mark", "mark"), count("count", "on the order"), text("came", "came"), text("damaged", "damaged"), text("short", "short"), text("ticket", "ticket"), text("remark", "what is wrong, photo"),
	}, Notes: s.notes("count, look and write before anything is unloaded; damage goes onto the driver's ticket too, by whoever receives", "blank boxes are filled in on site")}
	for _, l := range d.Loads {
		type line struct {
			item, mark string
			n          int
		}
		var lines []line
		at := map[string]int{}
		for _, b := range d.Bundles {
			if b.Load != l.Number {
				continue
			}
			key := b.Item + "|" + b.Mark
			k, ok := at[key]
			if !ok {
				k = len(lines)
				at[key], lines = k, append(lines, line{item: b.Item, mark: b.Mark})
			}
			lines[k].n += b.Count
		}
		for _, x := range lines {
			t.Rows = append(t.Rows, []table.Cell{table.Text(fmt.Sprintf("load %d, %s", l.Number, l.Vehicle)), table.Text(x.item), said(x.mark), table.Count(x.n), {}, {}, {}, {}, {}})
		}
	}
	for _, x := range d.Items {
		if x.Kind == "loose part" || x.Special == "cast" {
			t.Rows = append(t.Rows, []table.Cell{table.Text("on no load here"), table.Text(x.Item), said(x.Mark), several(x.Count), {}, {}, {}, {}, table.Text(x.Order)})
		}
	}
	return t
}
