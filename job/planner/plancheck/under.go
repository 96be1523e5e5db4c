package plancheck

import (
	"math"

	"trenchwright/base/measure"
	"trenchwright/job"
)

// checkUnder: what stands under and over the wall tops follows from the thicknesses on file, and is left out where one is
// missing.
func (c *checker) checkUnder() {
	if c.job == nil {
		return
	}
	for i := range c.plan.Legs {
		l := &c.plan.Legs[i]
		stands := c.stands[l.Name]
		for k, s := range stands {
			if m := c.makes[s.unit.Supply]; m != nil {
				c.checkThicknesses(s.Place, s.Levels.under, s.Levels.Walls[2], m)
				c.checkPadFall(s, m, "before", s.Levels.PadFall[0], c.gradeAt(l, stands, max(k-1, 0)))
				c.checkPadFall(s, m, "behind", s.Levels.PadFall[1], c.gradeAt(l, stands, min(k, len(stands)-2)))
			}
			c.checkBefore(s)
			c.checkAcross(s, "before", s.Levels.Walls[0], s.Levels.Walls[1], s.last, c.crossfall(l, stands, max(k-1, 0)))
			c.checkAcross(s, "behind", s.Levels.Walls[2], s.Levels.Walls[3], s.unit, c.crossfall(l, stands, min(k, len(stands)-2)))
		}
	}
}

// figure is a length that may not be on file.
type figure struct {
	nm
	known bool
}

func onFile(e job.Entry[measure.Length]) figure { return figure{nm(e.Value), e.Known} }

// less is a level less a thickness; nil where either is missing.
func (e *elevation) less(by figure) *elevation {
	if e == nil || !by.known {
		return nil
	}
	v := *e - elevation(by.nm)
	return &v
}

// checkBefore: where anything of the unit before a joint lies otherwise than behind it, it is given by itself, and only there.
func (c *checker) checkBefore(s stand) {
	here, behind := c.makes[s.last.Supply], c.makes[s.unit.Supply]
	if here == nil || behind == nil {
		return
	}
	w := s.Levels.Walls
	same := s.last.Supply == s.unit.Supply && (w[0] == nil && w[2] == nil || w[0] != nil && w[2] != nil && *w[0] == *w[2])
	switch {
	case s.Levels.Before != nil && same:
		c.say("set-out %s: levels before it are given, and they are those behind", s.Place)
	case s.Levels.Before != nil:
		c.checkThicknesses(s.Place+", before", *s.Levels.Before, w[0], here)
	case !same:
		c.checkThicknesses(s.Place+", before", s.Levels.under, w[0], here)
	}
}

func (c *checker) checkThicknesses(place string, v under, wall *elevation, m *job.Supply) {
	outer, inner := m.Unit.Outer, m.Unit.Inner
	height := figure{nm(outer.Value.Height), outer.Known}
	base := figure{nm(inner.Value.Height - outer.Value.Height), outer.Known && inner.Known} // below the underside: above it
	pads := m.Bearing.On.Known && m.Bearing.On.Value == "pads"
	pad, bed := onFile(m.Bearing.PadThick), onFile(c.job.Dig.Bed)
	between := bed
	if pads { // between pads the bed reaches up to the unit
		between = figure{bed.nm + pad.nm, bed.known && pad.known}
	}
	cover := figure{}
	if m.Cover != nil {
		cover = onFile(m.Cover.Thickness)
		cover.nm = -cover.nm
	}
	c.level(place, "the cover", v.Cover, v.Wall.less(cover))
	c.level(place, "the wall", v.Wall, wall)
	c.level(place, "the underside", v.Underside, v.Wall.less(height))
	c.level(place, "the invert", v.Invert, v.Underside.less(base))
	c.level(place, "the formation", v.Formation, v.Underside.less(between))
	padTop := v.Underside
	if !pads {
		pad, padTop = figure{}, nil
	}
	c.level(place, "the pad's top", v.PadTop, padTop)
	c.level(place, "the pad's base", v.PadBase, v.PadTop.less(pad))
	c.level(place, "the formation under the pad", v.UnderPad, v.PadBase.less(bed))
}

func (c *checker) level(place, what string, said, want *elevation) {
	switch {
	case said == nil && want == nil:
	case said == nil:
		c.say("set-out %s: %s has no level, its figures make %v", place, what, *want)
	case want == nil:
		c.say("set-out %s: %s lies at %v, and a figure for that is not on file", place, what, *said)
	case *said != *want:
		c.say("set-out %s: %s lies at %v, its figures make %v", place, what, *said, *want)
	}
}

// checkPadFall: over its own length a pad falls as the grade does.
func (c *checker) checkPadFall(s stand, m *job.Supply, side string, said *nm, grade float64) {
	long := m.Bearing.PadAlong
	if m.Bearing.On.Value != "pads" || !long.Known {
		if said != nil {
			c.say("set-out %s: its pad falls by %v, and its length is not on file", s.Place, *said)
		}
		return
	}
	if want := nm(math.Round(grade * float64(long.Value))); said == nil || (*said-want).abs() > 1 {
		c.say("set-out %s: the fall of its pad on the grade %s is %v, the grade makes %v", s.Place, side, said, want)
	}
}

// crossfall is what the job asks of unit k of a leg, falling to the right positive.
func (c *checker) crossfall(l *leg, stands []stand, k int) float64 {
	if st := c.stretchAt(l, stands[k].at+(stands[k+1].at-stands[k].at)/2); st != nil && st.Crossfall.Known {
		return ratio(st.Crossfall.Value)
	}
	return 0
}

// checkAcross: the two walls of a unit differ by its crossfall over its own width.
func (c *checker) checkAcross(s stand, side string, left, right *elevation, u *unit, cross float64) {
	head := c.supplies[u.Supply]
	if left == nil || right == nil || head == nil || head.OuterWidth == nil {
		return
	}
	if want := cross * float64(*head.OuterWidth); math.Abs(float64(*left-*right)-want) > 2 {
		c.say("set-out %s: the left wall %s it lies %v over the right, its crossfall makes %v", s.Place, side, nm(*left-*right), nm(math.Round(want)))
	}
}
