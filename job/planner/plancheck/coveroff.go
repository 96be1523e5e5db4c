package plancheck

import (
	"regexp"
	"strconv"
)

var coverEnds = regexp.MustCompile(`covers end (\d+) mm (?:low|high)er`)

// checkCoversOff: where a cover ends further off the finished ground than the job lets covers lie off their level, a finding
// says so of its leg, and says no less of it than the set-out shows. Units that step are left out: they are wanted by their middles.
func (c *checker) checkCoversOff() {
	if c.job == nil || c.refused() || !c.job.Rules.CoverTol.Known {
		return
	}
	tol := nm(c.job.Rules.CoverTol.Value)
	for i := range c.plan.Legs {
		l := &c.plan.Legs[i]
		if c.anyStep(l.Name) {
			continue
		}
		worst, place := nm(0), ""
		for _, s := range c.stands[l.Name] {
			if off, ok := c.coverOff(s); ok && off.abs() > worst {
				worst, place = off.abs(), s.Place
			}
		}
		if worst > tol && !c.anyFinding(func(f finding) bool {
			return f.ID == "planner.cover-off" && f.Where.Leg == l.Name && c.saysAsMuch(f.Text, worst)
		}) {
			c.say("leg %s: at %s a cover lies %v off what the finished ground asks, the job lets it lie %v off its level, and no finding says so", l.Name, place, worst, tol)
		}
	}
}

// coverOff is how far a cover lies above where the finished ground asks for it, on the axis.
func (c *checker) coverOff(s stand) (off nm, ok bool) {
	if s.Levels == nil || s.Levels.Finished == nil || s.unit == nil {
		return 0, false
	}
	m := c.makes[s.unit.Supply]
	if m == nil || m.Cover == nil || !m.Cover.Thickness.Known || !c.job.Levels.Above.Known {
		return 0, false
	}
	return nm(s.wall) + nm(m.Cover.Thickness.Value) - nm(*s.Levels.Finished) - nm(c.job.Levels.Above.Value), true
}

// saysAsMuch tells whether a sentence in millimetres says no less than what is off; in inches it only has to be there.
func (c *checker) saysAsMuch(text string, off nm) bool {
	m := coverEnds.FindStringSubmatch(text)
	if m == nil {
		return c.job.System == "imperial"
	}
	said, err := strconv.ParseFloat(m[1], 64)
	return err == nil && said*1e6 >= float64(off)-0.5e6-1
}

func (c *checker) anyStep(leg string) bool {
	for i := range c.plan.Grades {
		if r := &c.plan.Grades[i]; r.Leg == leg && r.Stepped {
			return true
		}
	}
	return false
}
