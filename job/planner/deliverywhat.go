package planner

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/solve/delivery"
)

// coming is what comes of a plan: as much of everything as the bill orders, each piece with its turn.
type coming struct {
	b        *build
	legs     []string // in the order in which they are laid
	items    []DeliveryItem
	kinds    []delivery.Kind
	of       []DeliveryItem // by kind
	pieces   []delivery.Piece
	left     []DeliveryLeft
	problem  *delivery.Problem
	place    map[string]need  // by unit
	base     []measure.Length // by leg: of run that is laid before it
	clear    []measure.Length // by leg
	back     []bool           // by leg: it is laid from its end
	end      measure.Length
	specials []DeliveryItem
}

// need is where and when something is laid.
type need struct {
	name string
	turn measure.Length
	leg  int
	at   measure.Length
}

func (b *build) coming() *coming {
	w := &coming{b: b, legs: b.job.Sequence(), items: []DeliveryItem{}, left: []DeliveryLeft{}, place: map[string]need{}}
	w.turns()
	yard := b.yardUnits()
	for i := range b.sup {
		w.units(&b.sup[i], yard)
		w.covers(&b.sup[i])
	}
	w.stands()
	w.castings()
	w.loose()
	w.items = append(w.items, w.specials...)
	sorting.By(w.pieces, func(x, y delivery.Piece) int { return cmp.Compare(x.Turn, y.Turn) })
	return w
}

// turns says of every unit how much of the run is laid before it.
func (w *coming) turns() {
	p, order := &w.b.plan, map[string]int{}
	w.base, w.clear, w.back = make([]measure.Length, len(w.legs)), make([]measure.Length, len(w.legs)), make([]bool, len(w.legs))
	for i, id := range w.legs {
		order[id] = i
	}
	for k := range p.Legs {
		if i, ok := order[p.Legs[k].Name]; ok {
			w.clear[i], w.back[i] = measure.Length(p.Legs[k].ClearLength), p.Legs[k].LaidFrom == p.Legs[k].To && p.Legs[k].From != p.Legs[k].To
		}
	}
	for i := range w.legs {
		w.base[i] = w.end
		w.end += w.clear[i]
	}
	for k := range p.Units {
		u := &p.Units[k]
		i, ok := order[u.Leg]
		if !ok {
			continue
		}
		turn := measure.Length(u.Start)
		if w.back[i] {
			turn = w.clear[i] - measure.Length(u.Start+u.Length)
		}
		w.place[u.Mark] = need{u.Mark, w.base[i] + max(0, turn), i, measure.Length(u.Chainage)}
	}
}

// kind adds a kind, with the item that it is.
func (w *coming) kind(k delivery.Kind, of DeliveryItem) int {
	w.kinds, w.of = append(w.kinds, k), append(w.of, of)
	return len(w.kinds) - 1
}

// bundled is how a supplier puts pieces of one kind together, no more of them than the plant on site may lift.
func (w *coming) bundled(k *delivery.Kind, each job.Entry[int], make *job.BundleMake) {
	k.Bundle = each.Value
	if make == nil {
		make = &job.BundleMake{}
	}
	k.Bearers, k.Tare, k.High = make.Bearers.Value, make.Packing.Value, make.High.Value
	if each.Value < 2 || make.Bearer.Known {
		k.Wide, k.Bearer = make.Wide.Value, make.Bearer.Value
	}
	if lift := w.b.job.Delivery.Lift; lift.Known && k.Mass > 0 && k.Bundle > 1 {
		k.Bundle = min(k.Bundle, max(1, int((lift.Value-k.Tare)/k.Mass)))
		k.Wide = min(k.Wide, k.Bundle)
	}
}

// stands says which kinds may stand on which: plain ones of one supply, by its words.
func (w *coming) stands() {
	for i := range w.kinds {
		x := &w.of[i]
		s := w.b.supplyNamed(x.Supply)
		make := map[string]*job.BundleMake{"unit": s.Stacking.Units, "cover": s.Stacking.Covers}[x.Kind]
		if make == nil || x.Mark != "" {
			continue
		}
		for k := range w.of {
			if y := &w.of[k]; y.Supply == x.Supply && y.Mark == "" && slices.Contains(make.On, y.Kind+"s") {
				w.kinds[i].On = append(w.kinds[i].On, k)
			}
		}
	}
}

// bySupplier tells whether what is sawn or bored comes so.
func (w *coming) bySupplier() bool { return w.b.job.Delivery.CutBy.Value == "supplier" }

// units are the plain units of a supply, and its special ones by their marks where the supplier makes them; else the units that they are sawn
// from, when the first of their pieces is laid.
func (w *coming) units(s *supply, yard map[string]int) {
	plan := &w.b.plan
	needs := map[measure.Length][]need{}
	for i := range plan.Units {
		u := &plan.Units[i]
		if u.Supply != s.ID || u.Lies {
			continue
		}
		n, entries := w.place[u.Mark], w.entries(u)
		switch {
		case u.Cut && !u.Hold || len(entries) > 0:
			w.special(s, u, n, entries)
			if !u.Cut && !w.bySupplier() {
				needs[measure.Length(u.Stock)] = append(needs[measure.Length(u.Stock)], n)
			}
		default:
			needs[measure.Length(u.Stock)] = append(needs[measure.Length(u.Stock)], n)
		}
	}
	if !w.bySupplier() {
		for _, c := range plan.Cutting {
			if c.Supply == s.ID && c.Of == "units" {
				w.sawn(c, needs)
			}
		}
	}
	for k := range plan.Bill {
		l := &plan.Bill[k]
		if l.Kind != "unit" || l.Supply != s.ID || l.Length == nil {
			continue
		}
		length := measure.Length(*l.Length)
		kind := delivery.Kind{Name: w.name(l), Length: length, Width: s.Unit.Outer.Value.Width, Height: s.Unit.Outer.Value.Height, Mass: s.Unit.Mass.Value.Over(length)}
		w.bundled(&kind, s.Stacking.UnitsPerBundle, s.Stacking.Units)
		w.ordered(l, kind, needs[length], yard[s.ID+" "+length.MMString()], s.Stacking.UnitsPerBundle)
	}
}

// sawn are the units that pieces are sawn from on site.
func (w *coming) sawn(c Cutting, needs map[measure.Length][]need) {
	for _, p := range c.Patterns {
		if p.Offcut || len(p.Pieces) == 0 {
			continue
		}
		first, marks := need{}, []string{}
		for i, x := range p.Pieces {
			unit, _, _ := strings.Cut(x.Mark, ".") // of a cover: the unit that it lies on
			if n := w.place[unit]; i == 0 || n.turn < first.turn {
				first = n
			}
			marks = append(marks, x.Mark)
		}
		if c.Of == "covers" {
			first.turn = w.coverTurn(first)
		}
		first.name = "for " + strings.Join(marks, ", ")
		needs[measure.Length(p.Stock)] = append(needs[measure.Length(p.Stock)], first)
	}
}

// name is what a line of the bill is called where several supplies are laid.
func (w *coming) name(l *BillLine) string {
	if len(w.b.sup) > 1 {
		return l.Item + ", " + l.Supply
	}
	return l.Item
}

// ordered puts a line of the bill into pieces: what is laid first comes first, but for what lies in the yard; what is over comes last.
func (w *coming) ordered(l *BillLine, kind delivery.Kind, needs []need, yard int, each job.Entry[int]) {
	order, err := strconv.Atoi(l.Order)
	wanted, err2 := strconv.Atoi(l.Need)
	if err != nil || err2 != nil {
		return
	}
	sorting.By(needs, func(x, y need) int { return cmp.Compare(x.turn, y.turn) })
	there := min(yard, wanted)
	spare := max(0, order-max(0, wanted-there))
	come := needs[min(len(needs), there):]
	if w.bySupplier() { // the bill orders units to be cut, and the supplier keeps what it cuts
		order = len(come) + spare
	}
	item := DeliveryItem{Item: kind.Name, Supply: l.Supply, Kind: l.Kind, Length: l.Length, Count: len(come) + spare, Order: plural(len(come)+spare, "piece", "pieces"), Spares: spare}
	if kind.Mass > 0 {
		item.Mass = new(kind.Mass.Kilograms())
	}
	if each.Known && each.Value > 0 {
		item.Packs = fmt.Sprintf("%d of %d", (item.Count+each.Value-1)/each.Value, each.Value)
	} else {
		item.Packs = finding.NoneOnFile("number in a pack of "+kind.Name, "the supplier", finding.Where{}).Text
	}
	if item.Count == 0 {
		return
	}
	w.items = append(w.items, item)
	k := w.kind(kind, item)
	for _, n := range come {
		w.pieces = append(w.pieces, delivery.Piece{Name: n.name, Kind: k, Turn: n.turn, Leg: n.leg, At: n.at})
	}
	for range spare {
		w.pieces = append(w.pieces, delivery.Piece{Name: "spare", Kind: k, Turn: w.end, Leg: max(0, len(w.legs)-1)})
	}
}

// entries are the conduits that come into a unit.
func (w *coming) entries(u *Unit) []string {
	var out []string
	for _, e := range w.b.legNamed(u.Leg).Entries {
		if x := measure.MM(e.At); x >= u.Chainage && x < u.Chainage+u.Length {
			out = append(out, w.b.tell("with entry %s, %s, %s", e.ID, e.Side, e.Diameter))
		}
	}
	return out
}

// special is a piece that is no plain unit: on the list in any case, and on a load by its mark where the supplier makes it.
func (w *coming) special(s *supply, u *Unit, n need, entries []string) {
	what := entries
	switch {
	case u.StartAngle != 0 || u.EndAngle != 0:
		what = append([]string{w.b.speech().Word(wording.Mitred)}, entries...)
	case u.Cut:
		what = append([]string{"cut"}, entries...)
	}
	length := measure.Length(u.Length)
	if u.Piece != nil {
		length = measure.Length(max(u.Length, u.Piece.LeftSide, u.Piece.RightSide))
	}
	item := DeliveryItem{Item: w.b.tell("%s %s, %s", wording.Unit, measure.Length(u.Length), s.ID), Supply: s.ID, Kind: "unit", Mark: u.Mark, Special: strings.Join(what, ", "), Leg: u.Leg, Length: &u.Length, Count: 1, Order: "1 piece", Mass: u.Mass}
	switch cut := w.b.job.Delivery.CutBy; {
	case w.bySupplier():
		item.Change = w.b.changeUntil(s.ID)
		k := delivery.Kind{Name: u.Mark, Length: length, Width: s.Unit.Outer.Value.Width, Height: s.Unit.Outer.Value.Height}
		if u.Mass != nil {
			k.Mass = measure.Mass(float64(*u.Mass*1000) + 0.5)
		}
		if s.Stacking.Units != nil {
			k.Bearers = s.Stacking.Units.Bearers.Value
		}
		w.pieces = append(w.pieces, delivery.Piece{Name: u.Mark, Kind: w.kind(k, item), Turn: n.turn, Leg: n.leg, At: n.at})
	case cut.Known:
		item.Change = "made on site"
		if u.Piece != nil {
			item.Change += ", from " + u.Piece.CutFrom
		}
	default:
		item.Change = finding.NoneOnFile("word about who saws and bores what is not plain", "the supplier", finding.Where{}).Text
	}
	w.specials = append(w.specials, item)
}

// coverTurn is when a cover is laid: with its unit, or behind all units of its leg.
func (w *coming) coverTurn(n need) measure.Length {
	if w.b.job.Delivery.Covers == "with" {
		return n.turn
	}
	if n.leg+1 < len(w.base) {
		return max(w.base[n.leg], w.base[n.leg+1]-1)
	}
	return max(w.base[n.leg], w.end-1)
}

// covers are the covers of a supply. Cut ones come by their marks where the supplier makes them.
func (w *coming) covers(s *supply) {
	if s.Cover == nil {
		return
	}
	plan, of, needs := &w.b.plan, w.b.supplyOfUnits(), map[measure.Length][]need{}
	for i := range plan.Covers {
		c := &plan.Covers[i]
		n, known := w.place[c.Unit]
		if of[c.Unit] != s.ID || !known || c.Cut && !w.bySupplier() {
			continue
		}
		n.name, n.turn = c.Mark, w.coverTurn(n)
		if !c.Cut {
			needs[measure.Length(c.Length)] = append(needs[measure.Length(c.Length)], n)
			continue
		}
		item := DeliveryItem{Item: w.b.tell("cover %s, %s", measure.Length(c.Length), s.ID), Supply: s.ID, Kind: "cover", Mark: c.Mark, Special: "cut", Leg: w.legs[n.leg], Length: &c.Length, Count: 1, Order: "1 piece", Mass: c.Mass, Change: w.b.changeUntil(s.ID)}
		if c.StartAngle != 0 || c.EndAngle != 0 {
			item.Special = w.b.speech().Word(wording.Mitred)
		}
		k := delivery.Kind{Name: c.Mark, Length: measure.Length(max(c.Length, c.LeftSide, c.RightSide)), Width: s.Cover.Width.Value, Height: s.Cover.Thickness.Value}
		if c.Mass != nil {
			k.Mass = measure.Mass(float64(*c.Mass*1000) + 0.5)
		}
		if s.Stacking.Covers != nil {
			k.Bearers = s.Stacking.Covers.Bearers.Value
		}
		w.specials = append(w.specials, item)
		w.pieces = append(w.pieces, delivery.Piece{Name: c.Mark, Kind: w.kind(k, item), Turn: n.turn, Leg: n.leg, At: n.at})
	}
	if !w.bySupplier() {
		for _, c := range plan.Cutting {
			if c.Supply == s.ID && c.Of == "covers" {
				w.sawn(c, needs)
			}
		}
	}
	for k := range plan.Bill {
		l := &plan.Bill[k]
		if l.Kind != "cover" || l.Supply != s.ID || l.Length == nil {
			continue
		}
		length := measure.Length(*l.Length)
		kind := delivery.Kind{Name: w.name(l), Length: length, Width: s.Cover.Width.Value, Height: s.Cover.Thickness.Value, Mass: s.Cover.Mass.Value.Over(length)}
		w.bundled(&kind, s.Stacking.CoversPerPallet, s.Stacking.Covers)
		w.ordered(l, kind, needs[length], 0, s.Stacking.CoversPerPallet)
	}
}
