package excavation

import (
	"fmt"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// LadderPlan is where ways out are needed.
type LadderPlan struct {
	Trenches []Trench // parts deep enough, by rising chainage
	Travel   measure.Length
	Least    int // ways out in all
}

// Trench is a part that is deep enough, without a gap.
type Trench struct {
	From, To measure.Length
	Least    int
	Even     []measure.Length // where that many stand evenly
}

// wayOut checks that from every place of the deep parts a way out lies near enough, measured along the trench.
func (c *checker) wayOut() {
	f := c.f
	deep := c.deep()
	travel, rule, says := c.travel()
	if f.Entry != nil && f.Entry.Memory && travel > 0 {
		c.remembered("depth from which a way out is needed", f.Entry.Says, f.Entry.Rule)
	}
	if len(deep) == 0 {
		return
	}
	if travel == 0 {
		r := Result{ID: "excavation.way-out", What: "a way out of the trench", Verdict: CannotSay, Limit: "one at least", Value: "none on file"}
		if f.Entry == nil {
			return
		}
		r.Rule = f.cites(f.Entry.Rule)
		if c.p.Ladders == nil {
			c.missing("ways out of the trench", "the competent person")
		} else {
			r.Verdict, r.Value = Meets, fmt.Sprintf("%d on file", len(c.p.Ladders))
			for _, t := range deep {
				if len(within(c.p.Ladders, t)) == 0 {
					r.Verdict, r.Value = DoesNot, "none between "+c.length(t.From)+" and "+c.length(t.To)
				}
			}
		}
		c.result(r, "a ladder in every part that is deep enough")
		return
	}
	plan := &LadderPlan{Travel: travel}
	for _, t := range deep {
		t.Even = Ladders(t.From, t.To, travel)
		t.Least = len(t.Even)
		plan.Trenches = append(plan.Trenches, t)
		plan.Least += t.Least
	}
	c.out.Ladders = plan
	c.reach(plan, travel, rule, says)
	c.above()
}

// travel is the furthest way along the trench, from a rule of travel or from one of spacing.
func (c *checker) travel() (travel measure.Length, rule, says string) {
	switch f := c.f; {
	case f.Travel != nil:
		return f.Travel.Value, f.Travel.Rule, c.says(f.Travel)
	case f.Apart != nil:
		return f.Apart.Value / 2, f.Apart.Rule, "one every " + c.says(f.Apart)
	}
	return 0, "", ""
}

// deep are the parts of the trench that are deep enough, put together where they touch.
func (c *checker) deep() []Trench {
	var out []Trench
	for _, s := range c.p.Stretch {
		if e := c.f.Entry; s.To == s.From || e != nil && !e.holds(s.Depth) || e == nil && (c.f.Apart == nil || s.Depth <= 0) {
			continue
		}
		if n := len(out); n > 0 && out[n-1].To == s.From {
			out[n-1].To = s.To
			continue
		}
		out = append(out, Trench{From: s.From, To: s.To})
	}
	return out
}

// Ladders are the fewest ways out for a trench, standing evenly: each serves the travel to either side of it.
func Ladders(from, to, travel measure.Length) []measure.Length {
	if to <= from || travel <= 0 {
		return nil
	}
	n := (to - from + 2*travel - 1) / (2 * travel)
	out := make([]measure.Length, 0, min(n, 1<<20))
	for i := range n {
		if i >= 1<<20 {
			break // no trench has a million ladders
		}
		out = append(out, from+mulDiv(to-from, 2*int64(i)+1, 2*int64(n)))
	}
	return out
}

// mulDiv is l·a/b; the lengths of trenches keep it far from the edge.
func mulDiv(l measure.Length, a, b int64) measure.Length {
	out, err := measure.MulDiv(l, a, b)
	if err != nil {
		panic("excavation: " + err.Error())
	}
	return out
}

func within(ladders []measure.Length, t Trench) []measure.Length {
	var out []measure.Length
	for _, l := range ladders {
		if l >= t.From && l <= t.To {
			out = append(out, l)
		}
	}
	return out
}

// reach looks for the place that lies furthest from a way out.
func (c *checker) reach(plan *LadderPlan, travel measure.Length, rule, says string) {
	r := Result{ID: "excavation.way-out", What: "the way along the trench to the nearest ladder", Limit: says, Rule: c.f.cites(rule), Verdict: CannotSay}
	r.What += c.counted(plan)
	if c.p.Ladders == nil {
		c.missing("places of ladders", "the competent person")
		c.result(r, "")
		return
	}
	worst := measure.Length(0)
	for _, t := range plan.Trenches {
		far, ok := Furthest(t.From, t.To, c.p.Ladders)
		if !ok {
			r.Verdict, r.Value = DoesNot, "no ladder between "+c.length(t.From)+" and "+c.length(t.To)
			c.result(r, fmt.Sprintf("as the plan of ladders has them, of which the fewest are %d", plan.Least))
			return
		}
		worst = max(worst, far)
	}
	r.Value, r.Verdict = c.length(worst), Meets
	if worst > travel {
		r.Verdict = DoesNot
	}
	c.result(r, fmt.Sprintf("as the plan of ladders has them, of which the fewest are %d", plan.Least))
}

// counted are the parts of a leg on which the way out is measured, where that is not all of it: whoever reads the distance
// beside the places of ladders would look for it to the ends of the leg.
func (c *checker) counted(plan *LadderPlan) string {
	all := c.p.Stretch
	if len(plan.Trenches) == 0 || len(all) == 0 || len(plan.Trenches) == 1 && plan.Trenches[0].From <= all[0].From && plan.Trenches[0].To >= all[len(all)-1].To {
		return ""
	}
	var parts []string
	for _, t := range plan.Trenches {
		parts = append(parts, c.p.Words.Say("from %s to %s", wording.Far(t.From), wording.Far(t.To)))
	}
	return ", where it is deep enough to need one (" + strings.Join(parts, ", ") + ")"
}

// Furthest is how far, along the trench, the place that is worst off lies from its nearest ladder within it.
func Furthest(from, to measure.Length, ladders []measure.Length) (measure.Length, bool) {
	own := within(ladders, Trench{From: from, To: to})
	if len(own) == 0 {
		return 0, false
	}
	for i := range own {
		for k := i; k > 0 && own[k] < own[k-1]; k-- {
			own[k], own[k-1] = own[k-1], own[k]
		}
	}
	far := max(own[0]-from, to-own[len(own)-1])
	for i := 1; i < len(own); i++ {
		far = max(far, (own[i]-own[i-1]+1)/2)
	}
	return far, true
}

// above is how far ladders stand out above the edge.
func (c *checker) above() {
	l := c.f.Above
	if l == nil {
		return
	}
	r := Result{ID: "excavation.ladder-above", What: "how far ladders stand out above the edge", Limit: c.says(l), Rule: c.f.cites(l.Rule), Verdict: CannotSay}
	if c.p.Above == nil {
		c.missing("height of ladders above the edge", "the competent person")
	} else if r.Value, r.Verdict = c.length(*c.p.Above), Meets; *c.p.Above < l.Value {
		r.Verdict = DoesNot
	}
	c.result(r, "longer ladders")
}
