package cutstock

// extra is a row of the master beside those for kinds and units: a split taken one way, or an odd set of pieces. It
// limits a sum over ways, each counted so many times.
type extra struct {
	limit limit
	half  *half // nil: a limit
	left  int   // what the sum has to keep to
	row   int   // in the programme
}

// limit is a split taken one way: of the ways that its rule counts at most, or at least, so many.
type limit struct {
	unit    int // −1: on any
	atLeast []take
	most    int // low: at most so many; else at least so many
	low     bool
}

// half is an odd number of pieces: of ways with two of them, or three, there are at most half as many, rounded down;
// a way with four of them or five counts twice, and so on. A programme in fractions does not see that (Chvátal–Gomory
// with one half; for ways of two pieces these are the odd sets of Edmonds).
type half struct {
	in   []bool // by kind
	most int
}

// counts is how often the row counts a way.
func (x *extra) counts(unit int, takes []take) int {
	if x.half != nil {
		n := 0
		for _, t := range takes {
			if x.half.in[t.kind] {
				n += t.n
			}
		}
		return n / 2
	}
	if x.limit.unit >= 0 && x.limit.unit != unit {
		return 0
	}
	for _, need := range x.limit.atLeast {
		if (way{takes: takes}).count(need.kind) < need.n {
			return 0
		}
	}
	return 1
}

// atMost tells whether the row limits from above.
func (x *extra) atMost() bool { return x.half != nil || x.limit.low }

// rule is an extra row and what it is worth each time that it counts a way.
type rule struct {
	extra *extra
	value int64
}

// ruleWorth is what the rules add to a way.
func ruleWorth(rules []rule, unit int, takes []take) int64 {
	sum := int64(0)
	for _, r := range rules {
		sum += r.value * int64(r.extra.counts(unit, takes))
	}
	return sum
}
