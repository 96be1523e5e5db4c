package planner

import (
	"fmt"
	"strconv"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/solve/delivery"
)

// roomOf gives a kind its room, or says what of its room and its mass is not on file.
func roomOf(k *delivery.Kind, mass job.Entry[measure.Mass], lies *job.OnDeck) (missing string) {
	k.Mass = mass.Value
	switch {
	case !mass.Known && !lies.Whole():
		return "mass and size of " + k.Name
	case !mass.Known:
		return "mass of " + k.Name
	case !lies.Whole():
		return "size of " + k.Name
	}
	k.Length, k.Width, k.Height = lies.Length.Value, lies.Width.Value, lies.Height.Value
	return ""
}

// castings come with the first leg that begins or ends at their node, the covers of their kit as covers do.
func (w *coming) castings() {
	at := map[string][]need{} // by fitting
	var order []string
	for i := range w.b.plan.Nodes {
		n := &w.b.plan.Nodes[i]
		if n.Fitting == "" {
			continue
		}
		if at[n.Fitting] == nil {
			order = append(order, n.Fitting)
		}
		at[n.Fitting] = append(at[n.Fitting], w.atNode(n.ID))
	}
	for _, id := range order {
		f, s, ok := w.b.fittingOf(id)
		if !ok {
			continue
		}
		w.cast("fitting", s.ID, w.b.fittingTitle(f), f.Mass, f.Lies, at[id])
		for _, c := range f.Covers {
			var needs []need
			for _, n := range at[id] {
				n.turn = w.coverTurn(n)
				for range c.Count {
					needs = append(needs, n)
				}
			}
			w.cast("cover", s.ID, c.Name, c.Mass, c.Lies, needs)
		}
	}
}

// cast are pieces that are cast as they are: on loads, where their mass and the room that they take are on file.
func (w *coming) cast(kind, supply, name string, mass job.Entry[measure.Mass], lies *job.OnDeck, needs []need) {
	item := DeliveryItem{Item: name, Supply: supply, Kind: kind, Special: "cast", Count: len(needs), Order: plural(len(needs), "piece", "pieces"), Change: w.b.changeUntil(supply)}
	if mass.Known {
		item.Mass = new(mass.Value.Kilograms())
	}
	w.specials = append(w.specials, item)
	k := delivery.Kind{Name: name}
	if missing := roomOf(&k, mass, lies); missing != "" {
		w.left = append(w.left, DeliveryLeft{Item: name, Why: finding.NoneOnFile(missing+" as it lies on a vehicle", "the supplier", finding.Where{}).Text})
		return
	}
	of := w.kind(k, item)
	for _, n := range needs {
		w.pieces = append(w.pieces, delivery.Piece{Name: n.name, Kind: of, Turn: n.turn, Leg: n.leg, At: n.at})
	}
}

// atNode is when what stands at a node is set: with the first leg that comes to it or goes from it.
func (w *coming) atNode(id string) need {
	first := need{name: "at " + id, turn: w.end, leg: max(0, len(w.legs)-1)}
	for i, leg := range w.legs {
		l := w.b.legNamed(leg)
		for _, end := range []struct {
			at   bool
			turn measure.Length
			is   measure.Length
		}{{l.From == id, w.base[i], 0}, {l.To == id, w.base[i] + w.clear[i], w.clear[i]}} {
			if w.back[i] {
				end.turn = 2*w.base[i] + w.clear[i] - end.turn
			}
			if end.at && end.turn < first.turn {
				first.turn, first.leg, first.at = end.turn, i, end.is
			}
		}
	}
	return first
}

// loose are loose parts, in the packs that the supplier sells. They are wanted from the first joint on.
func (w *coming) loose() {
	for i := range w.b.sup {
		s := &w.b.sup[i]
		for k := range w.b.plan.Bill {
			if l := &w.b.plan.Bill[k]; l.Kind == "loose part" && l.Supply == s.ID {
				w.packs(s, l)
			}
		}
	}
}

func (w *coming) packs(s *supply, l *BillLine) {
	item := DeliveryItem{Item: l.Item, Supply: l.Supply, Kind: l.Kind, Order: l.Order + " " + l.Unit, Packs: finding.NoneOnFile("number in a pack of "+l.Item, "the supplier", finding.Where{}).Text}
	if l.Unit == "piece" {
		if n, err := strconv.Atoi(l.Order); err == nil {
			item.Count, item.Order = n, plural(n, "piece", "pieces")
		}
	}
	if l.Pack > 0 {
		item.Packs = fmt.Sprintf("%d of %d", l.Packs, l.Pack)
		if l.Unit != "piece" {
			item.Packs += " " + l.Unit
		}
	}
	w.specials = append(w.specials, item)
	var p job.LoosePart
	for _, one := range s.LooseParts {
		if one.Name == l.Item {
			p = one
		}
	}
	k := delivery.Kind{Name: "a pack of " + l.Item}
	missing := roomOf(&k, p.PackMass, p.Lies)
	if l.Packs == 0 {
		missing = strings.TrimPrefix(missing+" and number in a pack of "+l.Item, " and ")
	}
	if missing != "" {
		w.left = append(w.left, DeliveryLeft{Item: l.Item, Why: finding.NoneOnFile(missing, "the supplier", finding.Where{}).Text})
		return
	}
	of := item
	of.Item, of.Count = fmt.Sprintf("pack of %d, %s", l.Pack, l.Item), l.Packs
	kind := w.kind(k, of)
	for range l.Packs {
		w.pieces = append(w.pieces, delivery.Piece{Name: "the first joint", Kind: kind})
	}
}
