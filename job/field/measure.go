package field

import (
	"cmp"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
)

// Sum is one line of a measure: how much of one thing was done between two states of the records. What was taken out again counts
// below 0.
type Sum struct {
	What   string         `json:"what"`            // formation, bed, set, cut, gap, area, cover, layer, came
	Layer  int            `json:"layer,omitempty"` // its number
	Side   string         `json:"side,omitempty"`  // of a layer
	Piece  *Piece         `json:"piece,omitempty"` // that came
	Count  int            `json:"count"`           // places; covers; pieces
	Length measure.Length `json:"length"`          // what the places take up of the run; 0 where what was done has no length
	In     []Stretch      `json:"in,omitempty"`    // where it was done
	Out    []Stretch      `json:"out,omitempty"`   // where it was and is no more
}

// Stretch are places of one leg that follow each other in laying order.
type Stretch struct {
	Leg  string `json:"leg"`
	From string `json:"from"`
	To   string `json:"to"` // From again where it is one place
}

// String is a stretch as people write it.
func (s Stretch) String() string {
	if s.From == s.To {
		return s.From
	}
	return s.From + " to " + s.To
}

// doing is what a measure counts at a place.
type doing struct {
	what  string
	layer int
	side  string
}

// order is in which order a measure tells what was done: as the work goes.
func (d doing) order(o doing) int {
	at := func(what string) int {
		return slices.Index([]string{"formation", "bed", "set", "cut", "gap", "area", "cover", "layer"}, what)
	}
	return cmp.Or(cmp.Compare(at(d.what), at(o.what)), cmp.Compare(d.layer, o.layer), cmp.Compare(d.side, o.side))
}

// along tells whether a measure gives it in length of the run: the rest are pieces.
func (d doing) along() bool { return !slices.Contains([]string{"cut", "gap", "cover"}, d.what) }

// doneAt counts what was done at a unit.
func (u *UnitState) doneAt(add func(d doing, n int)) {
	for _, what := range []string{"formation", bedOrPad, string(Cut), "gap", string(Area)} {
		if u.Has(what) {
			add(doing{what: strings.TrimSuffix(what, " or pad")}, 1)
		}
	}
	if u.Set.Is == Yes {
		add(doing{what: "set"}, 1)
	}
	for _, c := range u.Covers {
		if c.Laid.Is == Yes {
			add(doing{what: "cover"}, 1)
		}
	}
	for _, l := range u.Layers {
		if l.Placed.Is == Yes {
			add(doing{"layer", l.Number, l.Side}, 1)
		}
	}
}

// Measured is what was done between two states of the records of one run, as the month's measure has it; before nil: since the
// beginning.
func (b *Book) Measured(before *Book) []Sum {
	sums := map[doing]*Sum{}
	last := map[doing][2]int{} // of In and of Out: the unit that their last stretch ends with
	b.each(func(at spot, u *UnitState) {
		here := map[doing]int{}
		u.doneAt(func(d doing, n int) { here[d] += n })
		if before != nil {
			before.workUnit(at).doneAt(func(d doing, n int) { here[d] -= n })
		}
		leg := &b.run.Legs[at.leg]
		for d, n := range here {
			if n == 0 {
				continue
			}
			s := sums[d]
			if s == nil {
				s = &Sum{What: d.what, Layer: d.layer, Side: d.side}
				sums[d] = s
			}
			s.Count += n
			if unit := &leg.Units[at.unit]; d.along() {
				s.Length += measure.Length(n) * unit.long()
			}
			ends, to := last[d], 0
			list := &s.In
			if n < 0 {
				list, to = &s.Out, 1
			}
			if k := len(*list) - 1; k >= 0 && (*list)[k].Leg == leg.ID && ends[to] == at.unit-1 {
				(*list)[k].To = u.Place
			} else {
				*list = append(*list, Stretch{leg.ID, u.Place, u.Place})
			}
			ends[to] = at.unit
			last[d] = ends
		}
	})
	var kinds []doing
	for d := range sums {
		kinds = append(kinds, d)
	}
	sorting.By(kinds, doing.order)
	list := make([]Sum, 0, len(kinds))
	for _, d := range kinds {
		list = append(list, *sums[d])
	}
	return append(list, b.cameSince(before)...)
}

// cameSince are the pieces that came between two states.
func (b *Book) cameSince(before *Book) []Sum {
	had := map[Piece]int{}
	if before != nil {
		for _, y := range before.State("").Yard {
			had[y.Piece] = y.Came - y.Cut
		}
	}
	var list []Sum
	for _, y := range b.State("").Yard {
		if n := y.Came - y.Cut - had[y.Piece]; n != 0 {
			list = append(list, Sum{What: "came", Piece: &y.Piece, Count: n})
		}
	}
	return list
}

// long is what a unit takes up of the run, with the joint after it.
func (u *Unit) long() measure.Length { return u.End - u.Start + u.Gap }

// Until tells of a record whether the server had it when it had taken in so many.
func Until(seq int64) func(*Record) bool {
	return func(r *Record) bool { return r.Seq > 0 && r.Seq <= seq }
}

// Lacking is how many of the first so many records at the server are not among some, and the greatest number that one of these has.
func Lacking(records []Record, seq int64) (lacking, last int64) {
	here := map[int64]bool{}
	for i := range records {
		last = max(last, records[i].Seq)
		if Until(seq)(&records[i]) {
			here[records[i].Seq] = true
		}
	}
	return seq - int64(len(here)), last
}

// LastSeq is the greatest number that the server gave a record here; 0: none of them says that the server has it.
func (b *Book) LastSeq() int64 {
	var most int64
	for e := range b.records.all() {
		most = max(most, e.Seq)
	}
	return most
}
