package screen

import (
	"fmt"

	"trenchwright/base/measure"
	"trenchwright/job/field"
)

// Yard is what lies in the yard, against what the run still takes.
type Yard struct {
	Rows []YardRow `json:"rows"`
}

// YardRow is one kind of piece.
type YardRow struct {
	Piece string `json:"piece"`
	Have  string `json:"have"` // 12; NOT CHECKED where nobody recorded that any came
	Said  string `json:"said"` // 14 came, 2 damaged, 0 used
	Want  int    `json:"want"` // places that still take one
	Short int    `json:"short"`
}

// yard is what lies in the yard.
func (v *siteView) yard() Yard {
	out := Yard{Rows: []YardRow{}}
	want := v.wanted()
	for _, y := range v.is().Yard {
		r := YardRow{Piece: v.pieceName(y.Piece), Have: fmt.Sprint(y.Have), Want: want[v.pieceName(y.Piece)],
			Said: fmt.Sprintf("%d came, %d damaged, %d used", y.Came, y.Damaged, y.Used)}
		if len(y.By) > 0 {
			r.Said += ", counted"
		}
		if y.Came == 0 && len(y.By) == 0 {
			r.Have, r.Said = "NOT CHECKED", fmt.Sprintf("%d used; nobody recorded that any came", y.Used)
		} else {
			r.Short = max(0, r.Want-y.Have)
		}
		out.Rows = append(out.Rows, r)
	}
	return out
}

// wanted is how many places still take a whole one of each kind, or one to be cut.
func (v *siteView) wanted() map[string]int {
	s, want := v.is(), map[string]int{}
	for _, i := range v.order {
		for u := v.first[i]; u < v.first[i+1]; u++ {
			one, state := &v.plan.Units[u], v.unitState(s, i, u)
			if state.Set.Is != field.Yes {
				want[v.pieceName(field.Piece{Supply: one.Supply, What: "unit", Length: measure.Length(one.Stock)})]++
			}
			for c := v.covers[u]; c < v.covers[u+1]; c++ {
				if k := c - v.covers[u]; k >= len(state.Covers) || state.Covers[k].Laid.Is != field.Yes {
					want[v.pieceName(field.Piece{Supply: one.Supply, What: "cover", Length: measure.Length(v.plan.Covers[c].Stock)})]++
				}
			}
		}
	}
	return want
}
