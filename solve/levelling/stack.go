package levelling

import (
	"fmt"
	"math/big"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// Allowance is one part of a stack of tolerances: a pad, the height of a unit, the thickness of a cover, a reading.
type Allowance struct {
	Name   string
	Each   *measure.Length // either way, of one; nil: none on file
	Count  int             // how many of them lie one on another
	Bias   bool            // all of them may be off the same way, as a whole lot is: never a root of squares
	Ask    string          // who can say, where nothing is on file
	Source string          // the document that states it
}

// CoverLevel is what the level of a cover is made of: the pad, the height of the unit on it, the thickness of the cover, and the
// reading that the pad was set by. Nil is a tolerance that nobody entered.
func CoverLevel(pad, unit, cover, reading *measure.Length) []Allowance {
	return []Allowance{
		{Name: "the top of a pad", Each: pad, Count: 1, Ask: "whoever sets the pads"},
		{Name: "the height of a unit", Each: unit, Count: 1, Ask: "the supplier"},
		{Name: "the thickness of a cover", Each: cover, Count: 1, Ask: "the supplier"},
		{Name: "a rod reading", Each: reading, Count: 1, Ask: "the surveyor"},
	}
}

// Stack is tolerances added up, held against what the contract allows before anything is ordered.
type Stack struct {
	Worst   measure.Length // every part off by all of its tolerance, the same way
	RSS     measure.Length // root of the sum of squares, what may be biased added whole; rounded up to the nanometre
	Verdict Verdict        // meets: even at worst. Does not: not even by the root. Between them, or with a part missing: cannot say
	Said    finding.List
}

// Add adds tolerances up. limit is what the contract allows either way; nil: none on file.
func Add(parts []Allowance, limit *measure.Length) (Stack, finding.List) {
	var s Stack
	squares, bias, missing := new(big.Int), measure.Length(0), false
	for i, p := range parts {
		where := finding.Where{Path: fmt.Sprintf("stack[%d]", i)}
		if p.Each == nil {
			missing = true
			s.Said = append(s.Said, finding.NoneOnFile("tolerance of "+p.Name, p.Ask, where))
			continue
		}
		if *p.Each < 0 || *p.Each > longestReading || p.Count < 1 || p.Count > mostRows {
			return Stack{}, finding.List{{ID: "levelling.allowance", Kind: finding.Fault, Text: "the tolerance of " + p.Name + " cannot be added up", Where: where,
				Limit: fmt.Sprintf("0 mm to %s, 1 to %d of them", longestReading, mostRows), Value: fmt.Sprintf("%s, %d of them", *p.Each, p.Count), Try: "the tolerance either way, and how many lie one on another"}}
		}
		n := measure.Length(p.Count)
		s.Worst += *p.Each * n
		if p.Bias {
			bias += *p.Each * n
			continue
		}
		e := big.NewInt(int64(*p.Each))
		squares.Add(squares, e.Mul(e, e).Mul(e, big.NewInt(int64(p.Count))))
	}
	s.RSS = bias + rootUp(squares)
	switch {
	case limit == nil:
		s.Verdict = CannotSay
		s.Said = append(s.Said, finding.NoneOnFile("limit for the level of a cover", "whoever wrote the contract", finding.Where{Path: "stack.limit"}))
	case s.RSS > *limit: // whole nanometres: the root rounded up lies over a whole limit exactly where the root does
		s.Verdict = DoesNot
	case missing || s.Worst > *limit:
		s.Verdict = CannotSay
	default:
		s.Verdict = Meets
	}
	return s, nil
}

// rootUp is the square root, rounded up to a whole number.
func rootUp(n *big.Int) measure.Length {
	r := new(big.Int).Sqrt(n)
	if new(big.Int).Mul(r, r).Cmp(n) < 0 {
		r.Add(r, big.NewInt(1))
	}
	return measure.Length(r.Int64())
}
