package planner

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/job"
	"trenchwright/solve/layout"
)

// Closing is what is left between two faces that lie, measured clear at both walls.
type Closing struct {
	Left, Right   measure.Length
	Before, After measure.Length // of the unit on either side, where it may be taken out again; 0: it stays
}

// ClosingWay is one way to fill it.
type ClosingWay struct {
	TakenOut []Lifted       `json:"taken_out"` // units that are lifted again for it
	Gaps     []measure.MM   `json:"gaps_mm"`   // on the axis: before each piece, and after the last
	Pieces   []ClosingPiece `json:"pieces"`
	Cuts     int            `json:"cuts"`
	Skewed   bool           `json:"skewed"`   // the last face is sawn askew; else both outer joints take the difference of the walls
	Walls    [4]measure.MM  `json:"walls_mm"` // first gap left and right, last gap left and right
}

// Lifted is a unit that lay already.
type Lifted struct {
	Side   string     `json:"side"` // "before" or "after" what is left
	Length measure.MM `json:"length_mm"`
}

// ClosingPiece is a unit, or one that is cut.
type ClosingPiece struct {
	Stock  measure.MM   `json:"stock_mm"`
	Length measure.MM   `json:"length_mm"` // on the axis
	Left   measure.MM   `json:"left_mm"`   // along its walls
	Right  measure.MM   `json:"right_mm"`
	Cut    bool         `json:"cut"`
	Covers []measure.MM `json:"covers_mm"`
}

// Ways are up to three ways to close what is left, that differ in what is taken out again: as it is, with the unit before or after it
// taken out, with both. The first has the fewest cuts, and lifts least of those; another one is told only where it saves a cut
// against all that lift less. Where it cannot be closed as it is, why says why, and try what would make that possible.
func (c Closing) Ways(made job.Supply) (ways []ClosingWay, why string, try []string, err error) {
	before, after := Lifted{"before", measure.MM(c.Before)}, Lifted{"after", measure.MM(c.After)}
	for i, out := range [][]Lifted{{}, {before}, {after}, {before, after}} {
		if slices.ContainsFunc(out, func(l Lifted) bool { return l.Length <= 0 }) {
			continue
		}
		w, said, err := c.best(made, out)
		if err != nil {
			return nil, "", nil, err
		}
		if w == nil && i == 0 {
			why, try = strings.Replace(said.Why, "leg ", "a piece of ", 1), slices.DeleteFunc(said.Try, func(t string) bool { return strings.HasPrefix(t, "a leg of ") })
		}
		if w != nil && !slices.ContainsFunc(ways, func(o ClosingWay) bool { return o.Cuts < w.Cuts || o.Cuts == w.Cuts && len(o.TakenOut) < len(out) }) {
			ways = append(ways, *w)
		}
	}
	sorting.By(ways, func(a, b ClosingWay) int {
		if a.Cuts != b.Cuts {
			return a.Cuts - b.Cuts
		}
		return len(a.TakenOut) - len(b.TakenOut)
	})
	return ways[:min(3, len(ways))], why, try, nil
}

// best fills what is left with these units taken out. The outer gaps may be held as drawn, and as narrow and as wide as may be; where
// whole units alone fill it with gaps that are all alike, so.
func (c Closing) best(made job.Supply, out []Lifted) (*ClosingWay, OneLegAnswer, error) {
	w := made.Joint.Gap.Value
	left, right := c.Left, c.Right
	for _, l := range out {
		left, right = left+measure.Length(l.Length)+w.Nominal, right+measure.Length(l.Length)+w.Nominal
	}
	type trial struct {
		gap   measure.Length
		units []measure.Length // given; nil: as it comes
	}
	trials := []trial{{gap: w.Nominal}, {gap: w.Max}, {gap: w.Min}}
	clear := (left + right) / 2
	for _, units := range wholes(made.Unit.Lengths.Value, clear, w) {
		gap := clear
		for _, u := range units {
			gap -= u
		}
		trials = append(trials, trial{gap / measure.Length(len(units)+1), units})
	}
	var best *ClosingWay
	var none OneLegAnswer
	for i, t := range trials {
		way, said, err := filled(made, left, right, t.gap, t.units)
		switch {
		case err != nil:
			return nil, said, err
		case way == nil && i == 0:
			none = said
		case way != nil && (best == nil || way.Cuts < best.Cuts):
			best = way
		}
	}
	if best != nil {
		best.TakenOut = out
	}
	return best, none, nil
}

// mostWhole is how many whole units are tried together: what is closed is short.
const mostWhole = 8

// wholes are the sets of whole units that fill a length with all gaps alike and within their window, the fewest units first.
func wholes(stocks []measure.Length, clear measure.Length, w measure.Window) [][]measure.Length {
	var found [][]measure.Length
	var take func(units []measure.Length, from int, left measure.Length)
	take = func(units []measure.Length, from int, left measure.Length) {
		if n := measure.Length(len(units) + 1); len(units) > 0 && left >= n*w.Min && left <= n*w.Max {
			found = append(found, slices.Clone(units))
		}
		if len(units) == mostWhole {
			return
		}
		for i := from; i < len(stocks); i++ {
			if stocks[i] > 0 && stocks[i] < left {
				take(append(units, stocks[i]), i, left-stocks[i])
			}
		}
	}
	take(nil, 0, clear)
	sorting.By(found, func(a, b []measure.Length) int { return len(a) - len(b) })
	return found
}

// filled lays what goes between two faces whose outer gaps are g on the axis; the units may be given.
func filled(made job.Supply, left, right, g measure.Length, units []measure.Length) (*ClosingWay, OneLegAnswer, error) {
	w, clear, skew := made.Joint.Gap.Value, (left+right)/2, left-right
	q := layout.Problem{Length: clear - 2*g, First: units}
	if q.Length <= 0 {
		return nil, OneLegAnswer{Why: fmt.Sprintf("%s is left, and two gaps of %s take all of it", clear, g)}, nil
	}
	way := &ClosingWay{}
	each := skew / 4 // what each outer joint opens by at the longer wall, if both share the difference
	if each.Abs() > min(g-w.Min, w.Max-g) {
		width := made.Unit.Outer.Value.Width
		if width <= 0 {
			return nil, OneLegAnswer{Why: fmt.Sprintf("the walls differ by %s, more than the joints take up, and no width of the unit is on file", skew.Abs())}, nil
		}
		way.Skewed, each = true, 0
		q.End = layout.End{Mitred: true, Tan: float64(skew) / float64(width)}
	}
	a, err := OneLeg(q, made)
	if err != nil || a.Verdict != string(layout.Found) {
		return nil, a, err
	}
	way.Walls = [4]measure.MM{measure.MM(g + each), measure.MM(g - each), measure.MM(g + each), measure.MM(g - each)}
	way.Gaps = []measure.MM{measure.MM(g)}
	for i, u := range a.Units {
		p := ClosingPiece{Stock: u.Stock, Length: u.Length, Left: u.Length, Right: u.Length, Cut: u.Cut, Covers: []measure.MM{}}
		for _, cover := range u.Covers {
			p.Covers = append(p.Covers, cover.Length)
		}
		gap := u.GapAfter
		if i == len(a.Units)-1 {
			gap = measure.MM(g)
			if way.Skewed {
				half := measure.MM(math.Round(float64(skew) / 2))
				p.Left, p.Right = p.Left+half, p.Right-half
			}
		}
		if p.Cut {
			way.Cuts++
		}
		way.Pieces, way.Gaps = append(way.Pieces, p), append(way.Gaps, gap)
	}
	return way, a, nil
}
