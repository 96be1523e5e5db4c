package cable

import (
	"fmt"
	"math"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/solve/check"
)

// Bend is one mitred corner of the run.
type Bend struct {
	Name          string
	Turn          measure.Angle   // without its hand, above 0
	Before, After *measure.Length // straight of the run on its two sides, as far as the middle of what the next bend needs; nil: not limited
}

var mitreRule = check.Rule{ID: "cable.mitre", Says: "in a mitred corner a cable swings from the outer walls to the inner edge: cables b wide in a room w wide turn by an angle on an outer radius of no more than (w - b cos(angle/2)) / (1 - cos(angle/2)), nor more than the straights / tan(angle/2)",
	Law: "geometry", Source: "the least radius as the maker has it", Status: check.Closed, Tests: []string{"cable.TestArcInMitre"}}

var guideRule = check.Rule{ID: "cable.bend-guide", Says: "least bends that installation guides print, in diameters over the sheath: unshielded 8, tape-shielded 12, interlocked armour 7", Law: "published cable installation guides", Source: "as read",
	Status: check.Read, Only: "printed beside the maker's figure, and never taken for it", Tests: []string{"cable.TestBendGuide"}}

// guides are the least bends of guideRule, in diameters over the sheath.
var guides = []struct {
	kind  string
	times int
}{{"unshielded", 8}, {"tape-shielded", 12}, {"interlocked armour", 7}}

// guided says what the guides print of a cable.
func (p *Problem) guided(c *Cable) string {
	text := fmt.Sprintf("the maker's figure counts; beside it, guides print for cables of %s:", p.Words.Length(c.OD))
	for i, g := range guides {
		text += fmt.Sprintf("%s %s %d diameters, %s", []string{"", ";"}[min(i, 1)], g.kind, g.times, p.Words.Length(c.OD*measure.Length(g.times)))
	}
	return text
}

func (b *Bend) bounds() []check.Bound {
	return []check.Bound{check.Between("a turn of "+b.Name, new(check.Angle.Of(math.Abs(b.Turn.Radians()))), 1e-6, 170*math.Pi/180, "above 0 and at most 170 deg"), long("a straight before "+b.Name, b.Before), long("a straight behind "+b.Name, b.After)}
}

// Arc is the radius, m, to the middle of the innermost of cables that lie side by side b wide in a corner of a room w wide: d is that
// cable's diameter. reach is the shorter straight, or infinite. It is at most this; below nothing there is none.
func Arc(w, b, d, turn, reach float64) float64 {
	half := turn / 2
	outer := (w - float64(b*math.Cos(half))) / (1 - math.Cos(half))
	outer = min(outer, reach/math.Tan(half))
	return outer - b + float64(d/2)
}

// bends holds the radius that each corner leaves each kind of cable against its least. The worst kind of a bend is told.
func (p *Problem) bends(out *Solution) {
	for i := range p.Bends {
		b := &p.Bends[i]
		for k := range p.Cables {
			c := &p.Cables[k]
			a := p.answer("cable.bend", fmt.Sprintf("the radius that %s leaves %s", b.Name, c.Name), mitreRule, maker, "a corner in two mitres, a wider unit at the bend, or cables that lie singly there")
			a.Cautions = append([]string{p.guided(c)}, a.Cautions...)
			a.Give("turn", check.Angle.Of(b.Turn.Radians()), "")
			least, has := a.Need("least radius of "+c.Name+", in diameters", ratio(c.Bend), c.From, maker)
			if p.Section == nil {
				a.Missing = append(a.Missing, check.Missing{What: "inner width of the unit", Ask: supplier})
				out.Answers = append(out.Answers, a)
				continue
			}
			p.arc(&a, b, k, least, has)
			out.Answers = append(out.Answers, a)
		}
	}
}

func (p *Problem) arc(a *check.Answer, b *Bend, k int, least check.Quantity, has bool) {
	c, s := &p.Cables[k], p.Section
	room := s.rooms()[c.in()]
	wide := 0.0
	for _, l := range layers(p.Cables, c.in(), room, s.Gap.Metres()) {
		for _, kind := range l.kinds {
			if kind == k {
				wide = max(wide, l.width)
			}
		}
	}
	a.Give("inner width of its compartment", check.Length.Of(room), s.From)
	a.Give("its layer, side by side", check.Length.Of(wide), "")
	reach := math.Inf(1)
	for _, straight := range []*measure.Length{b.Before, b.After} {
		if straight != nil {
			reach = min(reach, straight.Metres())
			a.Give("straight beside the corner", check.Length.Of(straight.Metres()), "")
		}
	}
	is := a.Work("radius to its middle, innermost in its layer", "outer radius by the rule - layer + half of its diameter", check.Length.Of(Arc(room, wide, c.round(), b.Turn.Radians(), reach)))
	if !has {
		return
	}
	asked := a.Work("least radius", "diameters x outer diameter", check.Length.Of(least.SI*c.OD.Metres()))
	verdict := check.AtLeast(is.SI, 0, asked.SI)
	if single := Arc(room, c.round(), c.round(), b.Turn.Radians(), reach); verdict == finding.DoesNot && single >= asked.SI {
		a.Work("laid singly it would have", "the same with the cable alone", check.Length.Of(single))
	}
	a.Hold(is, asked, c.From, verdict)
}
