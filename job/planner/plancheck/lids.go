package plancheck

import (
	"fmt"
	"math"
)

// checkCovers: every cover lies wholly on its unit, on both walls, in order, with its gap to the next.
func (c *checker) checkCovers() {
	for i := range c.plan.Covers {
		lid := &c.plan.Covers[i]
		if c.units[lid.Unit] == nil {
			c.say("cover %s lies on %s, which is not in the plan", lid.Mark, lid.Unit)
			continue
		}
		c.checkLid(lid, c.units[lid.Unit])
	}
	for i := range c.plan.Units {
		u := &c.plan.Units[i]
		if m := c.makes[u.Supply]; m != nil && m.Cover == nil {
			if len(c.lids[u.Mark]) > 0 {
				c.say("%s has covers and its supply %s has none", u.Mark, u.Supply)
			}
			continue
		}
		c.checkLidRow(u)
	}
}

// checkLid: the four corners of a cover lie within its unit's faces.
func (c *checker) checkLid(lid *cover, u *unit) {
	if !lid.Cut && (lid.Length != lid.Stock || lid.StartAngle != 0 || lid.EndAngle != 0) {
		c.say("cover %s is not cut, but its length is %v of %v with ends at %v° and %v°", lid.Mark, lid.Length, lid.Stock, lid.StartAngle, lid.EndAngle)
	}
	width := c.lidWidth(u)
	t1, t2 := tangent(lid.StartAngle), tangent(lid.EndAngle)
	left, right := sides(lid.Length, width, t1, t2)
	if (lid.LeftSide-left).abs() > slack || (lid.RightSide-right).abs() > slack {
		c.say("cover %s: left and right side are %v and %v, its faces make %v and %v", lid.Mark, lid.LeftSide, lid.RightSide, left, right)
	}
	if reach := float64(lid.Length) + width/2*(math.Abs(t1)+math.Abs(t2)); reach > float64(lid.Stock)+slack {
		c.say("cover %s: cut from %v, but it reaches over %v", lid.Mark, lid.Stock, nm(reach))
	}
	for side, y := range map[string]float64{"left": width / 2, "right": -width / 2} {
		low := float64(lid.Start) + t1*y - tangent(u.StartAngle)*y
		high := float64(u.Length) + tangent(u.EndAngle)*y - float64(lid.Start+lid.Length) - t2*y
		if low < -slack || high < -slack {
			c.say("cover %s leaves its unit %s on the %s wall: %v at its start, %v at its end", lid.Mark, u.Mark, side, nm(low), nm(high))
		}
	}
	m := c.makes[u.Supply]
	if m == nil || m.Cover == nil {
		return
	}
	if least := m.Cover.Shortest; least.Known && lid.Cut && min(left, right) < nm(least.Value)-slack {
		c.say("cover %s: its short side is %v, the shortest cut cover is %v", lid.Mark, min(left, right), nm(least.Value))
	}
	made := false
	for _, v := range m.Cover.Lengths.Value {
		made = made || nm(v) == lid.Stock
	}
	if !made {
		c.say("cover %s: no cover of %v is made by supply %s", lid.Mark, lid.Stock, u.Supply)
	}
}

func (c *checker) lidWidth(u *unit) float64 {
	if s := c.supplies[u.Supply]; s != nil && s.CoverWidth != nil {
		return float64(*s.CoverWidth)
	}
	return 0
}

// checkLidRow: the covers of one unit lie in order from end to end. Between two covers is one cover gap; each end of the
// unit keeps half of one, for the seam that stands over the joint.
func (c *checker) checkLidRow(u *unit) {
	lids := c.lids[u.Mark]
	if len(lids) == 0 {
		c.say("%s has no cover", u.Mark)
		return
	}
	low, high, known := c.lidGap(u)
	for i, lid := range lids {
		if want := fmt.Sprintf("%s.%d", u.Mark, i+1); lid.Mark != want {
			c.say("cover %s is the cover number %d of %s", lid.Mark, i+1, u.Mark)
		}
		if i == 0 {
			continue
		}
		before := lids[i-1]
		gap := lid.Start - before.Start - before.Length
		switch {
		case gap < 0:
			c.say("cover %s lies %v over %s", lid.Mark, -gap, before.Mark)
		case known && (gap < low || gap > high):
			c.say("cover %s: gap %v to %s, allowed %v to %v", lid.Mark, gap, before.Mark, low, high)
		}
		if before.EndAngle != lid.StartAngle {
			c.say("covers %s and %s: their faces stand at %v° and %v°", before.Mark, lid.Mark, before.EndAngle, lid.StartAngle)
		}
	}
	last := lids[len(lids)-1]
	for _, end := range []struct {
		name       string
		lid, unit  float64
		mark, what string
	}{{"start", lids[0].StartAngle, u.StartAngle, lids[0].Mark, u.Mark}, {"end", last.EndAngle, u.EndAngle, last.Mark, u.Mark}} {
		if math.Abs(end.lid-end.unit) > 1e-9 {
			c.say("cover %s does not follow the %s of %s: %v° against %v°", end.mark, end.name, end.what, end.lid, end.unit)
		}
	}
	if !known {
		return
	}
	c.checkBare(u, "start", lids[0].Start, u.StartAngle, low, high)
	c.checkBare(u, "end", u.Length-last.Start-last.Length, u.EndAngle, low, high)
}

// checkBare: what the covers leave bare of a unit's end is half a cover gap, square to its face.
func (c *checker) checkBare(u *unit, end string, bare nm, angle float64, low, high nm) {
	along := 1 / math.Cos(angle*math.Pi/180)
	if b := float64(bare); b < float64(low)/2*along-slack || b > float64(high)/2*along+slack {
		c.say("%s: its covers leave %v bare at its %s, half a cover gap is %v to %v", u.Mark, bare, end, low/2, high/2)
	}
}

func (c *checker) lidGap(u *unit) (low, high nm, known bool) {
	m := c.makes[u.Supply]
	if m == nil || m.Cover == nil || !m.Cover.Gap.Known {
		return 0, 0, false
	}
	return nm(m.Cover.Gap.Value.Min), nm(m.Cover.Gap.Value.Max), true
}
