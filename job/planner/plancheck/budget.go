package plancheck

import (
	"math"
	"strings"
)

// turnSlack is what a turn read from two bearings may be off by at the wall, in nanometres: a turn below 1e-7 rad is the
// rounding of positions.
const turnSlack = 200

// checkBudgets: at each joint the room beside the gap is spent once, and what is spent follows from the units beside it.
func (c *checker) checkBudgets() {
	for i := range c.plan.Legs {
		l := &c.plan.Legs[i]
		row := c.row[l.Name]
		for k, j := range c.joints[l.Name] {
			c.checkSum(j, c.steps(l, k) || c.steps(l, k+1))
			if k+1 < len(row) {
				c.checkSpent(l, j, row[k], row[k+1])
				c.checkBent(l, k, j, row[k], row[k+1])
			}
		}
	}
}

// steps tells whether unit k of a leg steps.
func (c *checker) steps(l *leg, k int) bool {
	r := c.runAt(l, c.stands[l.Name], k)
	return r != nil && r.Stepped
}

// checkSum: beside a unit that steps no window holds the change of grade, and a finding says so.
func (c *checker) checkSum(j *joint, steps bool) {
	b := j.Budget
	if room := min(j.Gap-j.GapMin, j.GapMax-j.Gap); b.Room != room {
		c.say("%s: room %v, its gap leaves %v", j.Name, b.Room, room)
	}
	if spent := b.Turn + b.Grade + b.Square + b.Reserve; spent+b.Left != b.Room {
		c.say("%s: %v are spent and %v are left of a room of %v", j.Name, spent, b.Left, b.Room)
	}
	for _, part := range []nm{b.Turn, b.Grade, b.Square, b.Reserve} {
		if part < 0 {
			c.say("%s: a part of its budget is %v", j.Name, part)
		}
	}
	said := func(f finding) bool { return f.ID == "planner.budget" && strings.Contains(f.Text, j.Name) }
	if b.Left < 0 && !(steps && c.anyFinding(said)) && !mentions(b.Missing, "window") {
		c.say("%s: its budget is overdrawn by %v", j.Name, -b.Left)
	}
}

func (c *checker) checkSpent(l *leg, j *joint, before, after *unit) {
	if narrow, wide := c.widths(before, after); narrow > 0 {
		radians := math.Abs(turn(before.Bearing, after.Bearing)) * math.Pi / 180
		low, high, set := radians*narrow/2, radians*wide/2, float64(j.Budget.Turn)
		if set < low-turnSlack || set > high+turnSlack {
			c.say("%s: a turn of %.5f° takes %v of the window, %v are set aside", j.Name, radians*180/math.Pi, nm(high), j.Budget.Turn)
		}
	}
	if c.job == nil || j.GapMin == j.GapMax { // a fixed gap has no window to share out
		return
	}
	if want, ok := c.squareness(before, after); ok && (j.Budget.Square-want).abs() > 1 {
		c.say("%s: ends may be out of square by %v in all, %v are set aside for half of it", j.Name, 2*want, j.Budget.Square)
	} else if !ok && !mentions(j.Budget.Missing, "square") {
		c.say("%s: nothing says how far the ends are out of square, and the budget does not list it as missing", j.Name)
	}
	reserve := c.job.Rules.DriftReserve
	switch {
	case reserve.Known && j.Budget.Reserve != nm(reserve.Value):
		c.say("%s: %v are kept for drift, the contract keeps %v", j.Name, j.Budget.Reserve, nm(reserve.Value))
	case !reserve.Known && (j.Budget.Reserve != 0 || !mentions(j.Budget.Missing, "drift", "reserve")):
		c.say("%s: no reserve for drift is on file, and the budget does not list it as missing", j.Name)
	}
}

// widths are the outer widths of two neighbours in nm, the narrower first; noughts where one is unknown.
func (c *checker) widths(a, b *unit) (narrow, wide float64) {
	s, t := c.supplies[a.Supply], c.supplies[b.Supply]
	if s == nil || t == nil || s.OuterWidth == nil || t.OuterWidth == nil {
		return 0, 0
	}
	return float64(min(*s.OuterWidth, *t.OuterWidth)), float64(max(*s.OuterWidth, *t.OuterWidth))
}

// squareness is half of what the worse of two neighbours' ends may be out of square.
func (c *checker) squareness(a, b *unit) (nm, bool) {
	s, t := c.makes[a.Supply], c.makes[b.Supply]
	if s == nil || t == nil || !s.Unit.OutOfSquare.Known || !t.Unit.OutOfSquare.Known {
		return 0, false
	}
	return nm(max(s.Unit.OutOfSquare.Value, t.Unit.OutOfSquare.Value)) / 2, true
}
