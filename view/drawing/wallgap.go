package drawing

import (
	"math"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/job/planner"
)

// wallGaps are the gap of a joint at the outer faces of the two walls. A joint that turns in plan is wider at the outer wall
// of the turn than on the axis, by half the outer width times twice the sine of half the turn, and as much narrower at the
// other (closed form; both units are square there). ok: the joint turns, by so much that the figures differ.
func (c *levelCard) wallGaps(k int) (left, right measure.MM, ok bool) {
	units := c.of[c.legs[c.leg.Name]]
	if k == 0 || k >= len(units) || k >= len(c.rows) {
		return 0, 0, false
	}
	before, behind := c.plan.Units[units[k-1]], c.plan.Units[units[k]]
	j := slices.IndexFunc(c.plan.Joints, func(j planner.Joint) bool { return j.Name == c.rows[k].Place && j.Leg == c.leg.Name })
	wide := (c.unitWidth(before.Supply) + c.unitWidth(behind.Supply)) / 2
	if j < 0 || before.EndAngle != 0 || behind.StartAngle != 0 {
		return 0, 0, false
	}
	turn := math.Remainder(behind.Bearing-before.Bearing, 360) * math.Pi / 180 // right positive
	opens := length(float64(wide * math.Sin(turn/2)))
	gap := c.plan.Joints[j].Gap
	left, right = gap+opens, gap-opens
	return left, right, c.draft.gapFigure(left) != c.draft.gapFigure(right)
}

// gapColumns are the gaps of the joints on the card: one column, or where any of them turns one for either wall.
func (c *levelCard) gapColumns(unit string) []cardColumn {
	var left, right []string
	turns := false
	for _, r := range c.show {
		l, w, ok := c.wallGaps(r.k)
		if turns = turns || ok; ok {
			left, right = append(left, c.draft.gapFigure(l)), append(right, c.draft.gapFigure(w))
			continue
		}
		same := c.gapAt(c.rows, r.k)
		left, right = append(left, same), append(right, same)
	}
	if !turns {
		return []cardColumn{{[2]string{"gap", unit}, left, false, nil, nil}}
	}
	return []cardColumn{{[2]string{"gap, left", joined(" ", "wall", unit)}, left, false, nil, nil}, {[2]string{"gap, right", joined(" ", "wall", unit)}, right, false, nil, nil}}
}
