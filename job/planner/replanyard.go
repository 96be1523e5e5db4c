package planner

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/solve/layout"
)

// What an answer spends of the yard. A piece that is to come lies there, whole or already cut under the mark of its place, or it is on
// order and has not come, or it has to be ordered. Of records without a delivery or a count nothing is known, and nothing is said.

// Need is what an offer asks for of one length that a supplier makes. Every cut piece is counted with a unit of its own.
type Need struct {
	Supply  string     `json:"supply"`
	Length  measure.MM `json:"length_mm"`
	Need    int        `json:"need"`     // of the leg, still to come
	Yard    int        `json:"yard"`     // of it lie in the yard
	OnOrder int        `json:"on_order"` // ordered, and not delivered yet: for the whole run
	ToOrder int        `json:"to_order"` // neither, with what the other legs still ask for
}

// made is a length that a supplier makes.
type made struct {
	supply string
	length measure.Length
}

// inYard is what lies in the yard and what is on order; nil: nobody recorded either.
type inYard struct {
	have    map[made]int
	marked  map[string]bool // pieces that lie there under the mark of their place
	order   map[made]int
	planned []map[made]int // by leg, still to come as planned
	offcuts []job.YardItem // each with its mark
	known   bool           // somebody recorded what lies there
	a       *Answers
}

// inYard reads the yard; nil where no record and nobody's list says what lies there.
func (a *Answers) inYard(s field.State, list []job.YardItem, legs []LegReplan) *inYard {
	told := slices.ContainsFunc(s.Yard, func(k field.Stock) bool { return k.Came > k.Cut || len(k.By) > 0 }) // what was set alone says nothing
	offcuts := a.offcuts(s, list)
	if !told && len(list)+len(offcuts) == 0 {
		return nil
	}
	y := &inYard{offcuts: offcuts, known: told || len(list) > 0, have: map[made]int{}, marked: map[string]bool{}, order: map[made]int{}, a: a}
	came := map[made]int{}
	for _, k := range s.Yard {
		of := made{k.Supply, k.Length}
		if k.What != "unit" {
			continue
		}
		if k.Mark != "" {
			if y.marked[k.Mark] = k.Have > 0; k.Came > k.Cut {
				if i, ok := a.unit[folded(k.Mark)]; ok {
					came[made{k.Supply, measure.Length(a.b.plan.Units[i].Stock)}] += k.Came - k.Cut
				}
			}
			continue
		}
		y.have[of] += max(k.Have, 0)
		came[of] += k.Came
	}
	for _, k := range list {
		if k.Mark == "" {
			y.have[made{k.Supply, k.Length}] += max(k.Count, 1)
		}
	}
	for _, l := range a.b.plan.Bill {
		if l.Kind != "unit" || l.Length == nil {
			continue
		}
		of := made{l.Supply, measure.Length(*l.Length)}
		n, err := strconv.Atoi(l.Order)
		if err == nil {
			y.order[of] += max(n-came[of], 0)
		}
	}
	for i, l := range legs {
		h := a.ahead(i)
		need := map[made]int{}
		for _, u := range h.units[l.Set:] {
			if (!u.Cut || !y.marked[u.Mark]) && !slices.Contains(l.Apart, u.Mark) {
				need[made{u.Supply, measure.Length(u.Stock)}]++
			}
		}
		y.planned = append(y.planned, need)
	}
	return y
}

// count says what an offer of a leg asks for.
func (y *inYard) count(h *ahead, r *LegReplan, o *Offer) {
	o.Needs = []Need{}
	if y == nil {
		return
	}
	need, sawn := h.sawFrom(o, y)
	if !y.known {
		return
	}
	if need == nil {
		need = map[made]int{}
	}
	for i, u := range o.units {
		if u.Cut && (sawn || y.cutAlready(o, i)) {
			continue // it is counted with what it is cut from, or lies there as it was cut
		}
		need[made{h.q.problem.Supplies[u.Supply].Name, u.Stock}]++
	}
	o.Waiting, o.ToOrder = 0, 0
	for of, n := range need {
		others := 0
		for i := range y.planned {
			if i != h.i {
				others += y.planned[i][of]
			}
		}
		k := Need{Supply: of.supply, Length: measure.MM(of.length), Need: n, Yard: min(n, y.have[of]), OnOrder: y.order[of]}
		k.ToOrder = min(n, max(0, n+others-y.have[of]-y.order[of]))
		o.Waiting, o.ToOrder = o.Waiting+n-k.Yard, o.ToOrder+k.ToOrder
		o.Needs = append(o.Needs, k)
	}
	sorting.By(o.Needs, func(x, z Need) int {
		return cmp.Or(strings.Compare(x.Supply, z.Supply), cmp.Compare(z.Length, x.Length))
	})
}

// fromYard are units to come of lengths that lie in the yard in number enough, where that leaves some lengths out.
func (h *ahead) fromYard(n int, end measure.Length, there *inYard) ([]layout.Unit, bool) {
	if there == nil || !there.known {
		return nil, false
	}
	all := h.q.problem.Supplies
	defer func() { h.q.problem.Supplies = all }()
	gone := map[made]bool{}
	for {
		kept := slices.Clone(all)
		for i := range kept {
			kept[i].Stocks = slices.DeleteFunc(slices.Clone(kept[i].Stocks), func(k layout.Stock) bool {
				return gone[made{kept[i].Name, k.Length}] || there.have[made{kept[i].Name, k.Length}] == 0
			})
			if len(kept[i].Stocks) == 0 {
				kept[i].Stocks = all[i].Stocks // it would be no supply: what it lacks is told
			}
		}
		h.q.problem.Supplies = kept
		units, ok := h.fewest(n, end)
		if !ok {
			return nil, false
		}
		need, short := map[made]int{}, false
		for _, u := range units {
			need[made{kept[u.Supply].Name, u.Stock}]++
		}
		for _, s := range kept {
			for _, k := range s.Stocks {
				if of := (made{s.Name, k.Length}); need[of] > there.have[of] && !gone[of] && len(s.Stocks) > 1 {
					gone[of], short = true, true
				}
			}
		}
		if !short {
			return units, true
		}
	}
}
