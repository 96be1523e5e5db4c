package planner

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/solve/cutstock"
)

// Offcuts in the yard serve the pieces to come before a whole unit is opened: which of them for which piece is a cutting like any other,
// with its proof. Pieces that are cut already stay what they are.

// CutOf is a piece to come that an offcut does for.
type CutOf struct {
	Place  string     `json:"place"`
	Of     string     `json:"of"`        // mark of the offcut
	Rest   string     `json:"rest"`      // place of the piece that it was left of; empty: nobody knows
	Stock  measure.MM `json:"stock_mm"`  // its length
	Length measure.MM `json:"length_mm"` // of the piece
}

// offcuts are what is left in the yard of units that were cut: by the records, by a list, by the job. How their ends are comes from
// whoever counted them, else from the plan that they came from; else both are taken for saw cuts.
func (a *Answers) offcuts(s field.State, list []job.YardItem) []job.YardItem {
	var out []job.YardItem
	add := func(y job.YardItem) {
		if i := slices.IndexFunc(out, func(o job.YardItem) bool { return o.Mark == y.Mark }); i >= 0 {
			out[i] = y // whoever looked last
			return
		}
		out = append(out, y)
	}
	for _, y := range a.b.job.Yard {
		if y.Mark != "" {
			add(y)
		}
	}
	for _, k := range s.Yard {
		if k.What != "unit" || !strings.Contains(k.Mark, "/") {
			continue
		}
		if k.Have <= 0 {
			out = slices.DeleteFunc(out, func(o job.YardItem) bool { return o.Mark == k.Mark })
			continue
		}
		y := job.YardItem{Supply: k.Supply, Length: k.Length, Count: 1, Mark: k.Mark, Ends: a.endsOf(k.Mark)}
		if k.Ends != nil {
			for i, e := range k.Ends {
				y.Ends[i] = job.YardEnd{Factory: e.Factory, Angle: e.Angle}
			}
		} else if made := a.b.supplyNamed(k.Supply); made != nil { // the shorter wall was told
			y.Length += measure.FromMetres(made.width.Metres() / 2 * math.Abs(slope(y.Ends[1].Angle)-slope(y.Ends[0].Angle)))
		}
		add(y)
	}
	for _, y := range list {
		if y.Mark != "" {
			add(y)
		}
	}
	return out
}

// Offcut is one in the yard, as answers take it.
type Offcut struct {
	job.YardItem
	Left, Right measure.Length // its walls, seen from its end A
}

// Offcuts are those in the yard by the records and the job.
func (a *Answers) Offcuts(s field.State) []Offcut {
	var out []Offcut
	for _, y := range a.offcuts(s, nil) {
		o := Offcut{y, y.Length, y.Length}
		if made := a.b.supplyNamed(y.Supply); made != nil {
			skew := measure.FromMetres(made.width.Metres() / 2 * (slope(y.Ends[1].Angle) - slope(y.Ends[0].Angle)))
			o.Left, o.Right = y.Length+skew, y.Length-skew
		}
		out = append(out, o)
	}
	return out
}

// endsOf are the ends of an offcut as the plan cuts it.
func (a *Answers) endsOf(mark string) (ends [2]job.YardEnd) {
	for _, c := range a.b.plan.Cutting {
		for _, pt := range c.Patterns {
			for _, l := range pt.Left {
				if c.Of != "units" || l.Mark != mark {
					continue
				}
				ends[0].Factory, ends[1].Factory = l.From == 0 && !pt.Offcut, l.To == pt.Stock && !pt.Offcut
				for _, p := range pt.Pieces { // the saw leaves the face beside a piece as that one's
					if p.To <= l.From {
						ends[0].Angle = angleOf(p.ToTan)
					}
					if p.From >= l.To && ends[1].Angle == 0 {
						ends[1].Angle = angleOf(p.FromTan)
					}
				}
				return ends
			}
		}
	}
	return ends
}

func angleOf(tan float64) measure.Angle {
	return sawSetting(measure.Angle(math.Round(math.Atan(tan) * 180 / math.Pi * float64(measure.Degree))))
}

// sawFrom cuts the pieces of an answer that are not cut yet, offcuts before whole units, and gives how many of which whole units it
// opens; false: no offcut is there, or none does.
func (h *ahead) sawFrom(o *Offer, there *inYard) (opened map[made]int, ok bool) {
	o.Cut, o.Yard, o.CutText = []CutOf{}, []job.YardItem{}, ""
	if there == nil {
		return nil, false
	}
	taken, spare := h.takenOffcuts(o), append(slices.Clone(there.offcuts), h.instock(o, there)...)
	if len(spare) == 0 {
		return nil, false
	}
	opened = map[made]int{}
	var texts []string
	for i := range h.q.supply {
		s := &h.b.sup[h.q.supply[i]]
		var want []wanted
		for k, u := range o.units {
			if !u.Cut || u.Supply != i || there.cutAlready(o, k) {
				continue
			}
			p := pieceOf(o.called[k], s, u)
			if h.q.back {
				p.Start, p.End = p.End, p.Start
			}
			want = append(want, wanted{piece: p, laid: u})
		}
		free := slices.DeleteFunc(slices.Clone(spare), func(y job.YardItem) bool { return taken[y.Mark] || y.Supply != s.ID })
		if len(want) == 0 {
			continue
		}
		p := unitCutting(s, want, free)
		p.Words = h.b.speech()
		sol, err := cutstock.Solve(p, cutstock.Limits{})
		if err != nil || sol.Verdict != cutstock.Found || len(cutstock.Check(p, sol)) > 0 {
			return nil, false
		}
		for _, pt := range sol.Patterns {
			st := p.Stocks[pt.Stock]
			if !st.Offcut {
				opened[made{s.ID, st.Length}] += pt.Times
				continue
			}
			for _, c := range pt.Cuts {
				rest, _, _ := strings.Cut(st.ID, "/")
				if rest == st.ID {
					rest = ""
				}
				o.Cut = append(o.Cut, CutOf{Place: p.Pieces[c.Piece].ID, Of: st.ID, Rest: rest, Stock: measure.MM(st.Length), Length: measure.MM(p.Pieces[c.Piece].Length)})
			}
			k := slices.IndexFunc(free, func(y job.YardItem) bool { return y.Mark == st.ID })
			if !slices.ContainsFunc(h.b.job.Yard, func(y job.YardItem) bool { return y.Mark == st.ID }) {
				o.Yard = append(o.Yard, free[k])
			}
		}
		if sol.Used > 0 {
			text := fmt.Sprintf("%s of the yard used, %s opened to be cut", plural(sol.Used, "offcut", "offcuts"), plural(sol.Bought, "whole "+h.b.speech().Word(wording.Unit), "whole "+h.b.speech().Word(wording.Units)))
			if sol.Proven {
				text += "; proven: no cutting of these pieces opens fewer"
			}
			texts = append(texts, text)
		}
	}
	o.CutText = strings.Join(texts, "; ")
	slices.SortFunc(o.Cut, func(a, b CutOf) int { return strings.Compare(a.Place, b.Place) })
	o.Built.Courses = slices.Clone(o.Built.Courses)
	for i := range o.Built.Courses {
		c := &o.Built.Courses[i]
		if k := slices.IndexFunc(o.Cut, func(k CutOf) bool { return k.Place == c.From }); k >= 0 {
			c.Of = o.Cut[k].Of
		}
	}
	return opened, true
}

// takenOffcuts are those that pieces which are cut, or another leg's, come from.
func (h *ahead) takenOffcuts(o *Offer) map[string]bool {
	mine := map[string]bool{}
	for i, u := range o.units {
		mine[o.called[i]] = u.Cut
	}
	for _, place := range o.Withdrawn {
		mine[place] = true
	}
	out := map[string]bool{}
	for place, of := range h.a.of {
		if !mine[place] {
			out[of] = true
		}
	}
	return out
}

// instock are pieces that lie in the yard as they were cut for places that get another piece now: they are offcuts with a mark of a place.
func (h *ahead) instock(o *Offer, there *inYard) (out []job.YardItem) {
	for _, p := range o.Pieces {
		i, ok := h.a.unit[folded(p.Place)]
		if !ok || p.Was == 0 || !there.marked[p.Place] {
			continue
		}
		u := &h.b.plan.Units[i]
		if !u.Cut || u.Piece == nil {
			continue
		}
		y := job.YardItem{Supply: u.Supply, Length: measure.Length(u.Length), Count: 1, Mark: u.Mark}
		y.Ends[0] = job.YardEnd{Factory: u.Piece.KeptEnd == "start" || u.Piece.KeptEnd == "both", Angle: turned(u.StartAngle)}
		y.Ends[1] = job.YardEnd{Factory: u.Piece.KeptEnd == "end" || u.Piece.KeptEnd == "both", Angle: turned(u.EndAngle)}
		out = append(out, y)
	}
	return out
}

// cutAlready tells whether a piece of an answer lies in the yard as it was cut.
func (y *inYard) cutAlready(o *Offer, k int) bool {
	place := o.called[k]
	return y.marked[place] && !slices.ContainsFunc(o.Pieces, func(p PieceNow) bool { return p.Place == place })
}
