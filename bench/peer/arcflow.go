package peer

import (
	"fmt"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/solve/cutstock"
)

// ArcFlow is the cutting of square pieces from one kind of unit, without kerf and least slice, as a flow along the unit
// (after Valério de Carvalho, 1999): an arc is a piece that begins at one place and ends at another, units are what flows,
// and what is left flows on to the end. Pieces lie in falling order of length, and only places that such pieces reach are
// places. It gives up where there are more arcs than most.
func ArcFlow(p cutstock.Problem, most int) (*Model, error) {
	if len(p.Stocks) != 1 || p.Stocks[0].Count >= 0 || p.Kerf != 0 || p.LeastSlice != 0 || p.FactoryEnd {
		return nil, fmt.Errorf("not one kind of unit without kerf and least slice")
	}
	tick, items := inTicks(p)
	end := int(p.Stocks[0].Length / tick)
	m := &Model{}
	f := flow{model: m, place: map[int]int{}}
	reached := make([]bool, end+1)
	reached[0] = true
	for _, it := range items {
		row := m.Row(AtLeast, int64(it.count))
		used := make([]int, end+1) // copies of it on the way here, at least; −1: none comes here with a copy
		for i := range used {
			used[i] = -1
		}
		for at := 0; at+it.length <= end; at++ {
			n := used[at]
			if reached[at] {
				n = 0
			}
			if n < 0 || n >= it.count {
				continue
			}
			f.arc(at, at+it.length, row)
			if len(m.cost) > most {
				return nil, fmt.Errorf("more than %d arcs", most)
			}
			if to := at + it.length; used[to] < 0 || used[to] > n+1 {
				used[to] = n + 1
			}
		}
		for at, n := range used {
			reached[at] = reached[at] || n > 0
		}
	}
	f.onward(end, p.Stocks[0].Price)
	return m, nil
}

type item struct{ length, count int }

// inTicks counts lengths in the largest tick that divides all of them, longest first.
func inTicks(p cutstock.Problem) (measure.Length, []item) {
	tick := p.Stocks[0].Length
	for _, piece := range p.Pieces {
		for a := piece.Length; a > 0; {
			tick, a = a, tick%a
		}
	}
	var items []item
	for _, piece := range p.Pieces {
		items = append(items, item{int(piece.Length / tick), piece.Count})
	}
	slices.SortStableFunc(items, func(a, b item) int { return b.length - a.length })
	return tick, items
}

// flow is a model in the making, with a row for each place: what leaves it is what comes there.
type flow struct {
	model *Model
	place map[int]int // row by place
}

func (f *flow) at(place int) int {
	row, ok := f.place[place]
	if !ok {
		row = f.model.Row(Equal, 0)
		f.place[place] = row
	}
	return row
}

func (f *flow) arc(from, to, wanted int) {
	x := f.model.Column(0)
	f.model.Term(f.at(from), x, -1)
	f.model.Term(f.at(to), x, 1)
	if wanted >= 0 {
		f.model.Term(wanted, x, 1)
	}
}

// onward lets what is left flow from each place to the next one, and from the end, at the price of a unit, back to the start.
func (f *flow) onward(end int, price int64) {
	f.at(end)
	places := make([]int, 0, len(f.place))
	for at := range f.place {
		places = append(places, at)
	}
	slices.Sort(places)
	for i := 1; i < len(places)-1; i++ {
		f.arc(places[i], places[i+1], -1)
	}
	back := f.model.Column(price)
	f.model.Term(f.at(end), back, -1)
	f.model.Term(f.at(0), back, 1)
}
