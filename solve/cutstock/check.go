package cutstock

import (
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// Check verifies a Solution against its Problem: every pattern by the rule of the saw, the counts and sums, and the
// bound from the certificate in integers. It says what does not hold; nothing said means that all holds. It shares no
// code with the solvers (check*.go use nothing of the other files but the types).
func Check(p Problem, s Solution) []finding.Finding {
	c := checker{problem: p, solution: s}
	switch s.Verdict {
	case Found:
		c.patterns()
		c.totals()
		c.bound()
	case Impossible:
		c.none()
	case Undecided:
		if s.Proven {
			c.say("cut.proof", "", "an undecided answer cannot be proven", "", "")
		}
	default:
		c.say("cut.verdict", "", "no such verdict", string(s.Verdict), "")
	}
	return c.list
}

type checker struct {
	problem  Problem
	solution Solution
	list     []finding.Finding
}

func (c *checker) say(id, path, text, value, limit string) {
	c.list = append(c.list, finding.Finding{
		ID: id, Kind: finding.Fault, Text: text, Where: finding.Where{Path: path}, Value: value, Limit: limit,
		Rule: "layout of the saw: one cut where faces are parallel, two where not; what is left is nothing or a slice",
	})
}

// patterns checks every pattern, and that pieces and stock are used as often as they are wanted and there.
func (c *checker) patterns() {
	p, s := c.problem, c.solution
	cut, used := make([]int, len(p.Pieces)), make([]int, len(p.Stocks))
	for i, pattern := range s.Patterns {
		path := fmt.Sprintf("patterns[%d]", i)
		if pattern.Stock < 0 || pattern.Stock >= len(p.Stocks) || pattern.Times < 1 || len(pattern.Cuts) == 0 {
			c.say("cut.pattern", path, "a pattern without stock, pieces or times", fmt.Sprint(pattern.Stock, pattern.Times, len(pattern.Cuts)), "")
			continue
		}
		used[pattern.Stock] += pattern.Times
		if why := lineFault(p, p.Stocks[pattern.Stock], pattern.Cuts); why != "" {
			c.say("cut.saw", path, why, "", "")
			continue
		}
		for _, cuts := range pattern.Cuts {
			cut[cuts.Piece] += pattern.Times
		}
		c.offcuts(path, pattern)
	}
	for i, piece := range p.Pieces {
		if cut[i] != piece.Count {
			c.say("cut.count", fmt.Sprintf("pieces[%d]", i), "a piece is not cut as often as it is wanted", fmt.Sprint(cut[i]), fmt.Sprint(piece.Count))
		}
	}
	for i, stock := range p.Stocks {
		if stock.Count >= 0 && used[i] > stock.Count {
			c.say("cut.stock", fmt.Sprintf("stocks[%d]", i), "more of a stock is used than there is", fmt.Sprint(used[i]), fmt.Sprint(stock.Count))
		}
	}
}

// offcuts checks that the offcuts lie in what is left beside the pieces, in order, and are long enough.
func (c *checker) offcuts(path string, pattern Pattern) {
	stock := c.problem.Stocks[pattern.Stock]
	waste := stock.Length
	for _, placed := range pattern.Cuts {
		waste -= c.problem.Pieces[placed.Piece].Length
	}
	from := measure.Length(0)
	for _, o := range pattern.Offcuts {
		waste -= o.To - o.From
		if o.From < from || o.To > stock.Length || !c.besidePieces(pattern, o) {
			c.say("cut.offcut", path, "an offcut lies over a piece, another offcut or the end", c.problem.span(o.From, o.To), "")
		}
		if shortest := o.To - o.From - apart(c.problem.Width, o.A.Skew, o.B.Skew); c.problem.KeepFrom <= 0 || shortest < c.problem.KeepFrom {
			c.say("cut.offcut", path, "an offcut is shorter than is worth keeping", c.problem.length(shortest), c.problem.length(c.problem.KeepFrom))
		}
		from = o.To
	}
	if waste != pattern.Waste {
		c.say("cut.waste", path, "the waste is not what pieces and offcuts leave", c.problem.length(pattern.Waste), c.problem.length(waste))
	}
}

// besidePieces tells whether an offcut is parted from all pieces by a cut.
func (c *checker) besidePieces(pattern Pattern, o Offcut) bool {
	for _, placed := range pattern.Cuts {
		from, to := placed.At, placed.At+c.problem.Pieces[placed.Piece].Length
		if o.From < to+onAxis(c.problem.Kerf, o.A.Skew) && o.To+onAxis(c.problem.Kerf, o.B.Skew) > from {
			return false
		}
	}
	return true
}

// totals checks the sums.
func (c *checker) totals() {
	s := c.solution
	var bought, used int
	var cost int64
	var waste measure.Length
	for _, pattern := range s.Patterns {
		if pattern.Stock < 0 || pattern.Stock >= len(c.problem.Stocks) {
			return
		}
		stock := c.problem.Stocks[pattern.Stock]
		if stock.Offcut {
			used += pattern.Times
		} else {
			bought += pattern.Times
		}
		cost += stock.Price * int64(pattern.Times)
		waste += pattern.Waste * measure.Length(pattern.Times)
	}
	if bought != s.Bought || used != s.Used {
		c.say("cut.total", "bought", "the "+c.problem.Words.Word(wording.Units)+" do not add up", fmt.Sprint(s.Bought, s.Used), fmt.Sprint(bought, used))
	}
	if cost != s.Cost {
		c.say("cut.total", "cost", "the cost does not add up", fmt.Sprint(s.Cost), fmt.Sprint(cost))
	}
	if waste != s.Waste {
		c.say("cut.total", "waste", "the waste does not add up", c.problem.length(s.Waste), c.problem.length(waste))
	}
}

func (p Problem) span(from, to measure.Length) string { return p.length(from) + " to " + p.length(to) }
