package plancheck

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// saidStretch is a stretch of a leg in a sentence: "21.058 m to 25.770 m up to 43 mm high at …", "0+12.62 to 0+23.09 up to 9/16" high at …".
var saidStretch = regexp.MustCompile(`(\S+?)(?: m)? to (\S+?)(?: m)? up to (?:just over )?([^;]+?)( mm|") (high|low) at `)

// offStretch is such a stretch.
type offStretch struct {
	from, to, most nm
	high           bool
}

// cover is how far one lies above where the finished ground asks for it, at one place of a leg.
type coverHere struct {
	place string
	at    nm
	off   nm
}

// checkCoversOff: wherever a cover that the plan shows, on either side of a joint or in a section of the dig, lies further off
// the finished ground than the job lets covers lie off their level, the finding of its leg names a stretch that holds the
// place, the same way and no less. Units that step are left out: they are wanted by their middles.
func (c *checker) checkCoversOff() {
	if c.job == nil || c.refused() || !c.job.Rules.CoverTol.Known || !c.job.Levels.Above.Known {
		return
	}
	tol := nm(c.job.Rules.CoverTol.Value)
	for i := range c.plan.Legs {
		l := &c.plan.Legs[i]
		if c.anyStep(l.Name) {
			continue
		}
		said, capped := c.saidOff(l.Name)
		for _, here := range c.coversHere(l.Name) {
			if here.off.abs() <= tol+slack || c.tells(said, here) {
				continue
			}
			if n := len(said); capped && here.off.abs() <= said[n-1].most+c.hair() {
				continue
			}
			c.say("leg %s: at %s a cover lies %v off what the finished ground asks, the job lets it lie %v off its level, and no finding says so", l.Name, here.place, here.off.abs(), tol)
		}
	}
}

// coversHere are the covers of a leg that the plan shows beside the finished ground.
func (c *checker) coversHere(leg string) []coverHere {
	var out []coverHere
	above := nm(c.job.Levels.Above.Value)
	add := func(s stand, u *unit, wall elevation) {
		if s.Levels == nil || s.Levels.Finished == nil || u == nil {
			return
		}
		if m := c.makes[u.Supply]; m != nil && m.Cover != nil && m.Cover.Thickness.Known {
			out = append(out, coverHere{s.Place, s.at, nm(wall) + nm(m.Cover.Thickness.Value) - nm(*s.Levels.Finished) - above})
		}
	}
	for _, s := range c.stands[leg] {
		add(s, s.unit, s.wall)
		add(s, s.last, s.before)
	}
	if c.plan.Dig == nil {
		return out
	}
	for i := range c.plan.Dig.Sections {
		if s := &c.plan.Dig.Sections[i]; s.Leg == leg && s.Levels.Cover != nil && s.Levels.Finished != nil {
			out = append(out, coverHere{"the section at " + s.At.String(), s.At, *s.Levels.Cover - *s.Levels.Finished - above})
		}
	}
	return out
}

// hair is what a figure in a sentence may be off by, rounded as levels are read: half a millimetre, or half a sixteenth of an inch.
func (c *checker) hair() nm {
	if c.job.System == "imperial" {
		return 25_400_000/32 + slack
	}
	return 500_000 + slack
}

// tells is whether one of the stretches holds a place, and says no less of it.
func (c *checker) tells(said []offStretch, here coverHere) bool {
	along := nm(500_000 + slack) // of a chainage in a sentence: half a millimetre, or half a hundredth of a foot
	if c.job.System == "imperial" {
		along = 3_048_000/2 + slack
	}
	return slices.ContainsFunc(said, func(s offStretch) bool {
		return here.at >= s.from-along && here.at <= s.to+along && (here.off > 0) == s.high && here.off.abs() <= s.most+c.hair()
	})
}

// saidOff are the stretches that the findings of a leg name, and whether they leave lesser ones out.
func (c *checker) saidOff(leg string) (out []offStretch, capped bool) {
	for _, f := range c.plan.Findings {
		if f.ID != "planner.cover-off" || f.Where.Leg != leg {
			continue
		}
		for _, m := range saidStretch.FindAllStringSubmatch(f.Text, -1) {
			s := offStretch{from: saidChainage(m[1]), to: saidChainage(m[2]), high: m[5] == "high"}
			if s.most = saidInches(m[3]); m[4] == " mm" {
				mm, _ := strconv.ParseFloat(m[3], 64)
				s.most = nm(mm * 1e6)
			}
			out = append(out, s)
		}
		capped = capped || strings.Contains(f.Text, " more, less far off")
	}
	return out, capped
}

// saidChainage is "21.058" in metres or "0+12.62" in feet.
func saidChainage(text string) nm {
	hundreds, rest, feet := strings.Cut(text, "+")
	if !feet {
		m, _ := strconv.ParseFloat(text, 64)
		return nm(m * 1e9)
	}
	h, _ := strconv.ParseFloat(hundreds, 64)
	f, _ := strconv.ParseFloat(rest, 64)
	return nm((h*100 + f) * 304_800_000)
}

// saidInches is `1 1/16`, without its mark.
func saidInches(text string) (sum nm) {
	for _, part := range strings.Fields(text) {
		above, below, parted := strings.Cut(part, "/")
		a, _ := strconv.ParseFloat(above, 64)
		b := 1.0
		if parted {
			b, _ = strconv.ParseFloat(below, 64)
		}
		sum += nm(a / b * 25_400_000)
	}
	return sum
}

func (c *checker) anyStep(leg string) bool {
	for i := range c.plan.Grades {
		if r := &c.plan.Grades[i]; r.Leg == leg && r.Stepped {
			return true
		}
	}
	return false
}
