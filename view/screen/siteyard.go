package screen

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/job/planner"
)

// Yard is what lies in the yard, against what the run still takes.
type Yard struct {
	Said string    `json:"said"`
	Rows []YardRow `json:"rows"` // whole units, covers, pieces with a mark of their own
}

// YardRow is one kind of piece, or one piece with a mark.
type YardRow struct {
	Piece   string `json:"piece"`   // as records of the yard name it
	Size    string `json:"size"`    // of a piece with a mark: its length, its ends and its hand; empty: its name says it
	Have    string `json:"have"`    // 12; NOT CHECKED where nobody recorded that any came
	Count   int    `json:"count"`   // the same as a number; below 0: not known
	Said    string `json:"said"`    // 14 came, 2 damaged, 6 used
	Counted string `json:"counted"` // when, by whom and how many; empty: nobody counted
	Bought  string `json:"bought"`  // 33 on the bill, 19 of them did not come yet; empty: the bill has none
	Want    int    `json:"want"`    // places that still take one
	Short   int    `json:"short"`   // what the places take beyond what lies here
}

// lying is one kind of piece in the yard: by the records, with what the job says was there before them.
type lying struct {
	field.Stock
	before int  // by the job
	known  bool // somebody said that any came or lies there
}

// have is what should be there. A count has seen whatever the job speaks of.
func (l *lying) have() int {
	if len(l.By) > 0 {
		return l.Have
	}
	return l.Have + l.before
}

// lies is what lies in the yard, whole units and covers before pieces with a mark, each as the records have them.
func (v *siteView) lies() []lying {
	var out []lying
	for _, y := range v.is().Yard {
		out = append(out, lying{Stock: y, known: y.Came > 0 || len(y.By) > 0})
	}
	for _, y := range v.job.Yard {
		p := field.Piece{Supply: y.Supply, What: "unit", Length: y.Length, Mark: y.Mark}
		i := slices.IndexFunc(out, func(l lying) bool { return same(l.Piece, p) })
		if i < 0 {
			i = len(out)
			out = append(out, lying{Stock: field.Stock{Piece: p}})
		}
		out[i].before, out[i].known = out[i].before+max(y.Count, 1), true
	}
	slices.SortStableFunc(out, func(a, b lying) int { return ofSort(a.Piece) - ofSort(b.Piece) })
	return out
}

// same tells whether two names mean one piece: one with a mark by that, whatever length was told of it.
func same(a, b field.Piece) bool {
	if a.Mark != "" {
		return a.Mark == b.Mark && a.Supply == b.Supply
	}
	return a == b
}

func ofSort(p field.Piece) int {
	switch {
	case p.Mark != "":
		return 2
	case p.What == "unit":
		return 0
	}
	return 1
}

// yard is what lies in the yard.
func (v *siteView) yard() Yard {
	out := Yard{Rows: []YardRow{}}
	want, bought := v.wanted(), v.bought()
	var sum [3]int
	for _, y := range v.lies() {
		if y.Mark != "" && (!y.known || y.have() <= 0) {
			continue // it went where its mark says, or is gone
		}
		name := v.saying().Piece(y.Piece)
		r := YardRow{Piece: name, Have: "NOT CHECKED", Count: -1, Want: want[name], Said: fmt.Sprintf("%d used; nobody recorded that any came", y.Used)}
		if y.Mark != "" {
			r.Size = v.markedSize(y.Piece)
		}
		if y.known {
			n := y.have()
			r.Have, r.Count, r.Short = strconv.Itoa(n), max(0, n), max(0, r.Want-n)
			r.Said = joined(", ", some(y.Came, "came"), some(y.Damaged, "damaged"), some(y.Used, "used"), some(y.before, "there before, by the job"))
			r.Counted = v.countedWords(&y.Stock)
			sum[ofSort(y.Piece)] += max(0, n)
		}
		if n := bought[name]; n > 0 {
			r.Bought = fmt.Sprintf("%d on the bill", n)
			if left := n - y.Came; left > 0 {
				r.Bought += fmt.Sprintf(", %d of them did not come yet", left)
			}
		}
		out.Rows = append(out.Rows, r)
	}
	out.Said = "nothing is recorded of the yard"
	if len(out.Rows) > 0 {
		out.Said = joined(", ", count(sum[0], "whole unit", "whole units"), count(sum[1], "cover", "covers"), some(sum[2], "with a mark"))
	}
	return out
}

// some is a number of something, where there is any.
func some(n int, what string) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("%d %s", n, what)
}

// countedWords is how many somebody counted, when and who; several who did not know of each other each.
func (v *siteView) countedWords(y *field.Stock) string {
	var out []string
	for _, id := range y.By {
		r, ok := v.book.Record(id)
		if !ok {
			continue
		}
		n := 0
		if s, ok := field.SaysOf[field.CountSays](&r); ok {
			for _, l := range s.Lines {
				if l.Piece == y.Piece {
					n += l.Count
				}
			}
		}
		out = append(out, fmt.Sprintf("%d counted by %s", n, v.whose(id)))
	}
	return strings.Join(out, "; ")
}

// bought is what the bill orders of each kind of whole piece.
func (v *siteView) bought() map[string]int {
	out := map[string]int{}
	for i := range v.plan.Bill {
		if name := v.billName(&v.plan.Bill[i]); name != "" {
			n, _ := strconv.Atoi(v.plan.Bill[i].Order)
			out[name] += n
		}
	}
	return out
}

// billName is the kind of piece that a line of the bill orders; empty: it orders something else.
func (v *siteView) billName(l *planner.BillLine) string {
	if l.Length == nil || l.Kind != "unit" && l.Kind != "cover" {
		return ""
	}
	return v.saying().Piece(field.Piece{Supply: l.Supply, What: l.Kind, Length: measure.Length(*l.Length)})
}

// markedSize is how long a piece with a mark is, and how its ends are: an offcut's as answers take it, a cut piece's as the plan has it.
func (v *siteView) markedSize(p field.Piece) string {
	if u, ok := v.unitAt[p.Mark]; ok {
		what, aside := v.pieceOf(&v.plan.Units[u])
		return joined(", ", strings.TrimPrefix(what, "mark "+p.Mark+", "), aside)
	}
	if i := slices.IndexFunc(v.plan.Covers, func(c planner.Cover) bool { return c.Mark == p.Mark }); i >= 0 {
		return v.size(v.plan.Covers[i].Length) + ", cut"
	}
	if v.answers != nil {
		for _, o := range v.answers.Offcuts(*v.is()) {
			if o.Mark != p.Mark {
				continue
			}
			size := v.speech.Built(o.Length)
			if o.Left != o.Right {
				size = "left wall " + v.speech.Built(o.Left) + ", right wall " + v.speech.Built(o.Right)
			}
			return joined("; ", size, "end A "+endWords(o.Ends[0], true), "end B "+endWords(o.Ends[1], false))
		}
	}
	return v.speech.Built(p.Length)
}

// endWords is one end of an offcut: which side is longer there, seen from its end A.
func endWords(e job.YardEnd, first bool) string {
	switch {
	case e.Factory:
		return "as cast"
	case e.Angle == 0:
		return "sawn square"
	}
	side := "left"
	if (e.Angle < 0) != first {
		side = "right"
	}
	return "sawn " + degrees(float64(max(e.Angle, -e.Angle))/float64(measure.Degree)) + ", " + side + " side long"
}

// wanted is how many places still take a whole one of each kind, or one to be cut.
func (v *siteView) wanted() map[string]int {
	s, want := v.is(), map[string]int{}
	for _, i := range v.order {
		for u := v.first[i]; u < v.first[i+1]; u++ {
			one, state := &v.plan.Units[u], v.unitState(s, i, u)
			if state.Set.Is != field.Yes {
				want[v.saying().Piece(field.Piece{Supply: one.Supply, What: "unit", Length: measure.Length(one.Stock)})]++
			}
			for c := v.covers[u]; c < v.covers[u+1]; c++ {
				if k := c - v.covers[u]; k >= len(state.Covers) || state.Covers[k].Laid.Is != field.Yes {
					want[v.saying().Piece(field.Piece{Supply: one.Supply, What: "cover", Length: measure.Length(v.plan.Covers[c].Stock)})]++
				}
			}
		}
	}
	return want
}
