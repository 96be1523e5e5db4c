package planner

import (
	"fmt"

	"trenchwright/base/measure"
	"trenchwright/solve/cutstock"
)

// lotSize is how many pieces are cut together: a gang works by lots, and the time for a cutting grows faster than its
// pieces. Each lot is proven by itself; over several lots the bound is by length alone.
const lotSize = 400

// lots adds up the lots of one cutting.
type lots struct {
	number, bought, used int
	bound                int64
	proven               bool
	pieces               int
	offcuts              int     // in the yard before the first lot
	length               float64 // of pieces and one kerf each, in nanometres: a sum of integers below 2^53
	longest              measure.Length
	pairs                bool // at most two pieces come from a unit
}

func (t *lots) add(p cutstock.Problem, sol cutstock.Solution) {
	t.number++
	t.bought, t.used, t.bound = t.bought+sol.Bought, t.used+sol.Used, t.bound+sol.Bound
	t.proven = sol.Proven && (t.number == 1 || t.proven)
	t.pairs = p.FactoryEnd
	if t.number == 1 {
		for _, s := range p.Stocks {
			if s.Offcut {
				t.offcuts += s.Count
			}
		}
	}
	for _, x := range p.Pieces {
		t.pieces += x.Count
		t.length += float64(float64(x.Count) * float64(x.Length+p.Kerf))
	}
	for _, s := range p.Stocks {
		t.longest = max(t.longest, s.Length+p.Kerf)
	}
}

// least is what the whole cutting cannot do with less than, over all lots: by length, and by two pieces a unit where each
// keeps a factory end. All offcuts of the yard are taken off: another cutting could use those that this one left.
func (t *lots) least() int64 {
	if t.number == 1 {
		return t.bound
	}
	n := int64(t.length / float64(t.longest))
	if float64(n)*float64(t.longest) < t.length {
		n++
	}
	if t.pairs {
		n = max(n, int64(t.pieces+1)/2)
	}
	return max(0, n-int64(t.offcuts))
}

func (t *lots) text(one, many string) string {
	s := plural(t.bought, one, many) + " bought to be cut"
	if t.used > 0 {
		s += ", " + plural(t.used, "offcut", "offcuts") + " of the yard used"
	}
	switch {
	case t.number > 1 && t.proven:
		return s + fmt.Sprintf("; in %d lots of up to %d pieces, proven of each: no cutting of its pieces buys fewer; over all lots none buys fewer than %d", t.number, lotSize, t.least())
	case t.number > 1:
		return s + fmt.Sprintf("; in %d lots of up to %d pieces; over all lots none buys fewer than %d", t.number, lotSize, t.least())
	case t.proven:
		return s + fmt.Sprintf("; proven: no cutting of these pieces buys fewer than %d", t.least())
	}
	return s + fmt.Sprintf("; proven so far: none buys fewer than %d", t.least())
}

// keepCutting closes a cutting and says what was proven of it.
func (b *build) keepCutting(c Cutting, t lots, one, many string) {
	c.Bought, c.Bound = t.bought, int(t.least())
	c.Proven = t.proven && int64(t.bought) == t.least()
	c.Text = t.text(one, many)
	b.plan.Cutting = append(b.plan.Cutting, c)
	b.plan.Proof.Cutting = append(b.plan.Proof.Cutting, fmt.Sprintf("supply %s: %s", c.Supply, c.Text))
}
