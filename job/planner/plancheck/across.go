package plancheck

import (
	"math"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/job"
)

// dig is what is read of the dig: its sections, its marks and what runs up along a leg.
type dig struct {
	Sections []digSection `json:"sections"`
	Strip    []stripNeed  `json:"strip"`
	LeftOut  int          `json:"sections_left_out"`
	Legs     []struct {
		Leg     string         `json:"leg"`
		Deepest nm             `json:"deepest_mm"`
		Totals  map[string]any `json:"volumes"`
		Running []struct {
			At     nm       `json:"at_mm"`
			Dug    float64  `json:"dug_m3"`
			Fill   float64  `json:"fill_m3"`
			Stone  float64  `json:"stone_m3"`
			Leaves *float64 `json:"leaves_m3"`
		} `json:"running"`
		Marks []digMark `json:"marks"`
	} `json:"legs"`
	Balances []struct {
		Of     string `json:"of"`
		In     inBank `json:"brought_in"`
		Leaves inBank `json:"leaves"`
	} `json:"balances"`
}

type inBank struct {
	Bank *float64 `json:"bank_m3"`
}

type digMark struct {
	At          nm `json:"at_mm"`
	Depth       nm `json:"depth_mm"`
	Formation   nm `json:"formation_mm"`
	Bottom      nm `json:"bottom_mm"`
	BottomLeft  nm `json:"bottom_left_mm"`
	BottomRight nm `json:"bottom_right_mm"`
	EdgeLeft    nm `json:"edge_left_mm"`
	EdgeRight   nm `json:"edge_right_mm"`
}

type digWidth struct {
	Width nm    `json:"width_mm"`
	Left  [2]nm `json:"left_mm"`
	Right [2]nm `json:"right_mm"`
}

type digSection struct {
	Leg     string      `json:"leg"`
	At      nm          `json:"at_mm"`
	Why     []string    `json:"why"`
	Place   string      `json:"place"`
	Missing []string    `json:"missing"`
	Beside  []stripNeed `json:"beside"`
	Bottom  *digWidth   `json:"bottom"`
	Top     *digWidth   `json:"top"`
	Depth   *nm         `json:"depth_mm"`
	Levels  struct {
		Existing  *nm `json:"existing_mm"`
		Finished  *nm `json:"finished_mm"`
		Cover     *nm `json:"cover_mm"`
		Wall      *nm `json:"wall_mm"`
		Invert    *nm `json:"invert_mm"`
		Underside *nm `json:"underside_mm"`
		Formation *nm `json:"formation_mm"`
	} `json:"levels"`
	Areas []struct {
		Of    string    `json:"of"`
		Area  float64   `json:"area_m2"`
		Parts [][][2]nm `json:"parts_mm"`
	} `json:"areas"`
	Lines []struct {
		Of    string    `json:"of"`
		Parts [][][2]nm `json:"parts_mm"`
	} `json:"lines"`
}

// checkSections: every section's areas are those of its polygons, its widths follow from the figures on file, its sides
// stand as steep as asked and end on the ground, and its levels are those of the set-out.
func (c *checker) checkSections() {
	if c.plan.Dig == nil {
		return
	}
	for i := range c.plan.Dig.Sections {
		s := &c.plan.Dig.Sections[i]
		c.checkAreas(s)
		c.checkSectionLevels(s)
		if s.Bottom != nil && s.Top != nil && s.Depth != nil {
			c.checkWidths(s)
			c.checkSides(s)
		} else if len(s.Missing) == 0 {
			c.say("section %s %v: it has no sides, and nothing is said to be missing", s.Leg, s.At)
		}
	}
	c.checkPeaks()
	c.checkDigMarks()
	c.checkRunning()
	c.checkStatedSections()
}

func (s *digSection) area(of string) (float64, bool) {
	for _, a := range s.Areas {
		if a.Of == of {
			return a.Area, true
		}
	}
	return 0, false
}

// shoelace is the area of a polygon in m².
func shoelace(p [][2]nm) float64 {
	sum := 0.0
	for i := range p {
		a, b := p[i], p[(i+1)%len(p)]
		x0, x1 := (a[0] - p[0][0]).metres(), (b[0] - p[0][0]).metres()
		y0, y1 := (a[1] - p[0][1]).metres(), (b[1] - p[0][1]).metres()
		sum += float64(x0*y1) - float64(x1*y0)
	}
	return math.Abs(sum) / 2
}

const areaSlack = 1e-7 // m²: corners are rounded to the nanometre, outlines are some metres round, and what bends less is left out

func (c *checker) checkAreas(s *digSection) {
	for _, a := range s.Areas {
		sum := 0.0
		for _, p := range a.Parts {
			sum += shoelace(p)
		}
		if math.Abs(sum-a.Area) > areaSlack {
			c.say("section %s %v: %s is said to be %.9f m², its outline makes %.9f m²", s.Leg, s.At, a.Of, a.Area, sum)
		}
	}
	whole, dug := s.area("dig")
	top, _ := s.area("topsoil")
	soil, _ := s.area("soil")
	rock, _ := s.area("rock")
	if dug && math.Abs(top+soil+rock-whole) > areaSlack {
		c.say("section %s %v: topsoil, soil and rock make %.9f m², dug is %.9f m²", s.Leg, s.At, top+soil+rock, whole)
	}
}

func (c *checker) checkWidths(s *digSection) {
	for _, w := range []*digWidth{s.Bottom, s.Top} {
		if w.Width != w.Right[0]-w.Left[0] {
			c.say("section %s %v: from %v to %v it is not %v wide", s.Leg, s.At, w.Left[0], w.Right[0], w.Width)
		}
	}
	low := nm(math.MaxInt64)
	for _, a := range s.Areas {
		for _, p := range a.Parts {
			for _, k := range p {
				if a.Of == "dig" {
					low = min(low, k[1])
				}
			}
		}
	}
	if want := max(s.Top.Left[1], s.Top.Right[1]) - low; (*s.Depth - want).abs() > 2 {
		c.say("section %s %v: it is said to be %v deep, its outline makes %v", s.Leg, s.At, *s.Depth, want)
	}
	u := c.units[s.Place]
	if c.job == nil || u == nil || !c.job.Dig.Room.Known {
		return
	}
	if m := c.makes[u.Supply]; m != nil && m.Unit.Outer.Known {
		want := nm(m.Unit.Outer.Value.Width + 2*c.job.Dig.Room.Value + 2*c.job.Dig.OverDig.Value)
		if (s.Bottom.Width - want).abs() > 2 {
			c.say("section %s %v: its bottom is %v wide, the figures on file make %v", s.Leg, s.At, s.Bottom.Width, want)
		}
	}
}

// checkSides: a side as steep as asked ends on the ground as it is.
func (c *checker) checkSides(s *digSection) {
	for k, e := range [2][2][2]nm{{s.Bottom.Left, s.Top.Left}, {s.Bottom.Right, s.Top.Right}} {
		side := [2]string{"left", "right"}[k]
		foot, edge := e[0], e[1]
		if ground, ok := s.ground(edge[0]); !ok || math.Abs(ground-edge[1].metres()) > 3e-8 {
			c.say("section %s %v: its %s edge lies at %v, the ground there at %.9f m", s.Leg, s.At, side, edge[1], ground)
		}
		out, up := (edge[0] - foot[0]).abs().metres(), (edge[1] - foot[1]).metres()
		if c.job == nil {
			continue
		}
		d := c.sidesAt(s)
		if d.Sides == "sloped" {
			up -= nm(d.Upright.Value).metres() // below that the side is plumb
		}
		if up <= 0 {
			continue
		}
		switch d.Sides {
		case "sloped":
			if want := float64(out * ratio(d.Slope.Value)); d.Slope.Known && math.Abs(want-up) > 3e-8 {
				c.say("section %s %v: its %s side goes %.9f m up and %.9f m out, asked for is %v", s.Leg, s.At, side, up, out, d.Slope.Value)
			}
		case "vertical", "supported":
			if out > 2e-9 {
				c.say("section %s %v: its %s side is upright, and its edge lies %.9f m further out", s.Leg, s.At, side, out)
			}
		}
	}
}

// sidesAt is the dig of the job at a section: what its stretch says, for the rest what holds everywhere. Where two stretches meet
// the section is that of the one ahead, at the end of a leg that of the one behind.
func (c *checker) sidesAt(s *digSection) job.Dig {
	d := c.job.Dig
	for _, one := range c.job.Dig.Stretches {
		last := false
		for _, l := range c.plan.Legs {
			last = last || l.Name == s.Leg && s.At >= l.NodeLength-2e6
		}
		if from, to := nm(one.From), nm(one.To); one.Leg != s.Leg || s.At < from-1e6 || to > 0 && s.At > to-1e6 && !(last && s.At <= to+1e6) {
			continue
		}
		if one.Sides != "" {
			d.Sides = one.Sides
		}
		if one.Slope.Known {
			d.Slope = one.Slope
		}
		if one.Upright.Known {
			d.Upright = one.Upright
		}
	}
	return d
}

// ground is the level of the ground as it is at an offset, in metres.
func (s *digSection) ground(y nm) (float64, bool) {
	for _, l := range s.Lines {
		if l.Of != "existing" {
			continue
		}
		for _, part := range l.Parts {
			for i := 1; i < len(part); i++ {
				a, b := part[i-1], part[i]
				if a[0] <= y && y <= b[0] && b[0] > a[0] {
					return a[1].metres() + float64((b[1]-a[1]).metres()*((y-a[0]).metres()/(b[0]-a[0]).metres())), true
				}
			}
		}
	}
	return 0, false
}

// checkSectionLevels: between two places of the set-out everything lies on the straight between them.
func (c *checker) checkSectionLevels(s *digSection) {
	stands := c.stands[s.Leg]
	if s.Place == "" || len(stands) < 2 {
		return
	}
	k := 0
	for k+2 < len(stands) && stands[k+1].at <= s.At+1 { // a place of the dig is rounded from metres
		k++
	}
	a, b := stands[k], stands[k+1]
	part := (s.At - a.at).metres() / (b.at - a.at).metres()
	wall := a.wall + elevation(math.Round(float64(b.before-a.wall)*part))
	level := func(what string, said *nm, v *elevation) {
		if said == nil || v == nil || a.Levels.Wall == nil {
			return
		}
		if want := wall + *v - *a.Levels.Wall; apart(elevation(*said), want) > 4 {
			c.say("section %s %v: %s lies at %v, the set-out makes %v", s.Leg, s.At, what, *said, want)
		}
	}
	level("the cover", s.Levels.Cover, a.Levels.Cover)
	level("the wall top", s.Levels.Wall, a.Levels.Wall)
	level("the invert", s.Levels.Invert, a.Levels.Invert)
	level("the underside", s.Levels.Underside, a.Levels.Underside)
	level("the formation", s.Levels.Formation, a.Levels.Formation)
}

// checkDigMarks: a mark says what the section at the same place says.
func (c *checker) checkDigMarks() {
	for _, l := range c.plan.Dig.Legs {
		for _, m := range l.Marks {
			if m.Bottom != m.BottomRight-m.BottomLeft || m.EdgeLeft > m.BottomLeft || m.EdgeRight < m.BottomRight {
				c.say("mark %s %v: its bottom runs from %v to %v, %v wide, its edges lie at %v and %v", l.Leg, m.At, m.BottomLeft, m.BottomRight, m.Bottom, m.EdgeLeft, m.EdgeRight)
			}
			for i := range c.plan.Dig.Sections {
				s := &c.plan.Dig.Sections[i]
				if s.Leg != l.Leg || s.At != m.At || s.Top == nil || s.Depth == nil || s.Levels.Formation == nil {
					continue
				}
				if m.EdgeLeft != s.Top.Left[0] || m.EdgeRight != s.Top.Right[0] || m.Depth != *s.Depth || m.Formation != *s.Levels.Formation {
					c.say("mark %s %v: it differs from the section there", l.Leg, m.At)
				}
			}
		}
	}
}

// checkRunning: volumes only grow along a leg, end with its totals, and what leaves in the end is what the balances say.
func (c *checker) checkRunning() {
	sum, whole := 0.0, true
	for _, l := range c.plan.Dig.Legs {
		total := func(keys ...string) (v float64) {
			for _, k := range keys {
				x, _ := l.Totals[k].(float64)
				v += x
			}
			return v
		}
		if len(l.Running) == 0 {
			continue
		}
		for i := 1; i < len(l.Running); i++ {
			a, b := l.Running[i-1], l.Running[i]
			if b.At < a.At || b.Dug < a.Dug-1e-9 || b.Fill < a.Fill-1e-9 || b.Stone < a.Stone-1e-9 {
				c.say("leg %s: what is dug, filled or bedded goes back at %v: %v after %v", l.Leg, b.At, b, a)
			}
		}
		last := l.Running[len(l.Running)-1]
		for _, v := range []struct {
			what       string
			said, want float64
		}{{"dug", last.Dug, total("dug_m3")}, {"filled", last.Fill, total("fill_m3", "topsoil_back_m3")}, {"stone", last.Stone, total("stone_m3")}} {
			if math.Abs(v.said-v.want) > 1e-9*math.Max(1, v.want) {
				c.say("leg %s: %s runs up to %.9f m³, its total is %.9f m³", l.Leg, v.what, v.said, v.want)
			}
		}
		if whole = whole && last.Leaves != nil; last.Leaves != nil {
			sum += *last.Leaves
		}
	}
	want := 0.0
	for _, b := range c.plan.Dig.Balances {
		if b.Leaves.Bank != nil {
			want += *b.Leaves.Bank
		}
		if b.In.Bank != nil {
			want -= *b.In.Bank
		}
	}
	if whole && math.Abs(sum-want) > 1e-9*math.Max(1, math.Abs(want)) {
		c.say("along all legs %.9f m³ leave, the balances make %.9f m³", sum, want)
	}
}

// checkStatedSections: what the job asks for is there, where the leg has levels.
func (c *checker) checkStatedSections() {
	if c.job == nil {
		return
	}
	asked := slices.Clone(c.job.Dig.Sections.At)
	for i := range c.plan.Legs {
		l := &c.plan.Legs[i]
		for at := measure.Length(0); c.job.Dig.Sections.Every > 0 && nm(at) <= l.NodeLength; at += c.job.Dig.Sections.Every {
			asked = append(asked, job.SectionAt{Leg: l.Name, At: at})
		}
	}
	for _, a := range asked {
		stands := c.stands[a.Leg]
		if len(stands) == 0 || nm(a.At) < stands[0].at || nm(a.At) > stands[len(stands)-1].at || c.plan.Dig.LeftOut > 0 {
			continue
		}
		if !slices.ContainsFunc(c.plan.Dig.Sections, func(s digSection) bool { return s.Leg == a.Leg && (s.At-nm(a.At)).abs() < 1e6 }) {
			c.say("the job asks for a section of leg %s at %v, there is none", a.Leg, nm(a.At))
		}
	}
}
