package plancheck

import "math"

// slope is how a leg lies in height: straight from knot to knot. Before the first and behind the last it goes on as it
// begins and ends. Without knots it lies level.
type slope []knot

// knot is where a leg's grade may change.
type knot struct {
	chainage nm      // in plan, from the from node
	rise     nm      // over the first knot, of the unit behind it
	before   nm      // and of the unit before it: another one where that steps
	along    float64 // nanometres along the grades, from the from node
}

// slopeOf makes the slope of a leg from its grades; where it has none, it lies on one grade from node to node.
func slopeOf(l *leg, runs []*gradeRun) slope {
	var s slope
	switch {
	case len(runs) > 0:
		s = slope{{chainage: runs[0].FromMM}}
		rise := nm(0)
		for _, r := range runs {
			before := rise + r.Rise
			rise = before + r.step()
			if r.ToMM > s[len(s)-1].chainage { // what runs backwards is spoken of elsewhere
				s = append(s, knot{chainage: r.ToMM, rise: rise, before: before})
			}
		}
	case l.SlopeRise != 0 && l.NodeLength > 0:
		s = slope{{}, {chainage: l.NodeLength, rise: l.SlopeRise, before: l.SlopeRise}}
	}
	if len(s) < 2 {
		return nil
	}
	s[0].along = float64(s[0].chainage) * math.Hypot(1, s.gradeOf(0))
	for i := 1; i < len(s); i++ {
		run := float64(s[i].chainage - s[i-1].chainage)
		s[i].along = s[i-1].along + run*math.Hypot(1, s.gradeOf(i-1))
	}
	return s
}

// gradeOf is the rise over run behind knot i.
func (s slope) gradeOf(i int) float64 {
	return float64(s[i+1].before-s[i].rise) / float64(s[i+1].chainage-s[i].chainage)
}

// holds is the knot at the start of the grade that holds a place; is tells whether a knot lies beyond it.
func (s slope) holds(beyond func(knot) bool) int {
	i := 0
	for i < len(s)-2 && !beyond(s[i+1]) {
		i++
	}
	return i
}

func (s slope) atChainage(ch float64) int {
	return s.holds(func(k knot) bool { return float64(k.chainage) > ch })
}

func (s slope) atAlong(along float64) int {
	return s.holds(func(k knot) bool { return k.along > along })
}

// along is the length along the grades from the from node to a chainage.
func (s slope) along(ch float64) float64 {
	if len(s) == 0 {
		return ch
	}
	i := s.atChainage(ch)
	return s[i].along + (ch-float64(s[i].chainage))*math.Hypot(1, s.gradeOf(i))
}

// chainage is the converse of along.
func (s slope) chainage(along float64) float64 {
	if len(s) == 0 {
		return along
	}
	i := s.atAlong(along)
	return float64(s[i].chainage) + (along-s[i].along)/math.Hypot(1, s.gradeOf(i))
}

// rise is how far a chainage lies above the first knot: the unit behind it, where a step lies within so many nanometres.
func (s slope) rise(ch, within nm) float64 {
	if len(s) == 0 {
		return 0
	}
	i := s.atChainage(float64(ch + within))
	return float64(s[i].rise) + float64(ch-s[i].chainage)*s.gradeOf(i)
}

// grade is rise over run at a length along the grades.
func (s slope) grade(along float64) float64 {
	if len(s) == 0 {
		return 0
	}
	return s.gradeOf(s.atAlong(along))
}

// rounding is what a length along a leg's grades may be off by in nanometres: nothing where it lies level; else each
// stretch between two joints, and each level, is rounded once.
func (c *checker) rounding(l *leg) nm {
	switch {
	case len(c.axes[l.Name].slope) == 0:
		return 0
	case len(c.runs[l.Name]) == 0:
		return 2
	}
	return nm(2 + len(c.joints[l.Name]))
}
