package profile

import (
	"math"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// remedies are what resolves a conflict, each by itself: how far one of its limits would have to give, rounded up, and
// found by solving again to be enough. They say nothing of other conflicts that may wait behind this one.
func (p *Problem) remedies(c *Conflict) []string {
	var out []string
	for _, l := range c.Limits {
		changed := *p
		text := p.give(c, l, &changed)
		if text == "" {
			continue
		}
		f := filter{p: &changed}
		if _, still := f.try(c.Limits); !still && changed.plainIn(c.Limits) {
			out = append(out, text)
		}
	}
	return out
}

// plainIn tells whether none of the limits contradicts another one of the same place.
func (p *Problem) plainIn(limits []Limit) bool {
	sub, _ := p.only(limits)
	return sub.plain() == nil
}

// give makes a limit give way in changed, and says how.
func (p *Problem) give(c *Conflict, l Limit, changed *Problem) string {
	switch l.Kind {
	case PinLimit, LowLimit, HighLimit:
		by := p.byLevel(c, l)
		if by == 0 {
			return ""
		}
		changed.Legs = p.copied(l.Leg)
		joint := &changed.Legs[l.Leg].Joints[l.From]
		level := map[Kind]**measure.Length{PinLimit: &joint.Pin, LowLimit: &joint.Low, HighLimit: &joint.High}[l.Kind]
		v := **level + by
		*level = &v
		word := "lower"
		if by > 0 {
			word = "higher"
		}
		what := map[Kind]string{PinLimit: "a pin", LowLimit: "a lowest level", HighLimit: "a highest level"}[l.Kind]
		return what + " " + p.say(by.Abs()) + " " + word + " at " + p.named(l.Leg, l.From) + " (" + p.level(v) + ")"
	case LeastLimit, MostLimit, ChangeLimit:
		return p.giveGrade(c, l, changed)
	case NodeLip:
		return p.giveLip(c, l, changed)
	}
	return ""
}

// copied is the legs with one of them to be changed.
func (p *Problem) copied(leg int) []Leg {
	legs := append([]Leg(nil), p.Legs...)
	legs[leg].Joints = append([]Joint(nil), p.Legs[leg].Joints...)
	legs[leg].Units = append([]Unit(nil), p.Legs[leg].Units...)
	return legs
}

// byLevel is how far a level would have to move: up to the next millimetre, or to the next 1/16 in.
func (p *Problem) byLevel(c *Conflict, l Limit) measure.Length {
	step := measure.Millimetre
	if p.Words.Imperial {
		step = measure.Sixteenth
	}
	up := func(by float64) measure.Length {
		n := measure.Length(math.Ceil(math.Abs(by)*1e9/float64(step)-1e-6)) * step
		return measure.Length(math.Copysign(float64(n), by))
	}
	if c.Proof.Unit == nil { // two limits of one place
		return up(p.apart(c, l).Metres())
	}
	y := p.levelPrice(&c.Proof, l.Leg, l.From)
	if math.Abs(y) < 1e-9 || c.Short/math.Abs(y) > 1e4 {
		return 0
	}
	return up(c.Short / y)
}

// apart is how far the level of l would have to move to meet the other of two levels.
func (p *Problem) apart(c *Conflict, l Limit) measure.Length {
	level := func(l Limit) measure.Length {
		joint := &p.Legs[l.Leg].Joints[l.From]
		v := joint.Pin
		switch l.Kind {
		case LowLimit:
			v = joint.Low
		case HighLimit:
			v = joint.High
		}
		for _, node := range p.Nodes {
			for _, a := range node.Arms {
				if at, _ := p.ends(a); a.Leg == l.Leg && at == l.From {
					return *v - a.Rise
				}
			}
		}
		return *v
	}
	for _, other := range c.Limits {
		if other != l {
			return level(other) - level(l)
		}
	}
	return 0
}

// levelPrice is the multiplier of a joint's level, from those of its leg's units and changes.
func (p *Problem) levelPrice(c *Certificate, i, j int) float64 {
	l, y := &p.Legs[i], 0.0
	if j > 0 {
		y -= c.Unit[i][j-1]
	}
	if j < len(l.Units) {
		y += c.Unit[i][j]
	}
	length := func(k int) float64 { return l.length(k).Metres() }
	for k := max(j-1, 1); k <= min(j+1, len(l.Units)-1); k++ {
		m := c.Change[i][k]
		switch k {
		case j - 1:
			y -= float64(m * length(k-1))
		case j:
			y += float64(m * (length(k-1) + length(k)))
		case j + 1:
			y -= float64(m * length(k))
		}
	}
	return y
}

// giveGrade makes a limit of grade, or of its change, give way by as many hundredths of a percent as it takes.
func (p *Problem) giveGrade(c *Conflict, l Limit, changed *Problem) string {
	leg, weight := &p.Legs[l.Leg], 0.0
	for k := l.From; k <= l.To && c.Proof.Unit != nil; k++ {
		if l.Kind == ChangeLimit {
			weight += float64(math.Abs(c.Proof.Change[l.Leg][k]) * leg.length(k-1).Metres() * leg.length(k).Metres())
		} else {
			weight += float64(math.Abs(c.Proof.Unit[l.Leg][k]) * leg.length(k).Metres())
		}
	}
	by := c.Short / weight
	if c.Proof.Unit == nil && l.Kind != ChangeLimit && l.From == l.To { // two limits of one unit
		weight, by = 1, ratio(*leg.Units[l.From].Least)-ratio(*leg.Units[l.From].Most)
	}
	if !(weight > 0) || by > steepest {
		return ""
	}
	const hundredth = 1e-4
	changed.Legs = p.copied(l.Leg)
	loosened := func(g *measure.Grade, sign float64) *measure.Grade {
		v := (ratio(*g) + sign*by) / hundredth
		n := math.Ceil(v - 1e-6)
		if sign < 0 {
			n = math.Floor(v + 1e-6)
		}
		out := between(measure.Length(n), measure.Length(1/hundredth))
		return &out
	}
	var g *measure.Grade
	for k := l.From; k <= l.To; k++ {
		switch l.Kind {
		case LeastLimit:
			g = loosened(leg.Units[k].Least, -1)
			changed.Legs[l.Leg].Units[k].Least = g
		case MostLimit:
			g = loosened(leg.Units[k].Most, 1)
			changed.Legs[l.Leg].Units[k].Most = g
		default:
			g = loosened(leg.Joints[k].Change, 1)
			changed.Legs[l.Leg].Joints[k].Change = g
		}
	}
	changedTo := Limit{l.Kind, l.Leg, l.From, l.To}
	return changed.limit(changedTo)
}

func (p *Problem) giveLip(c *Conflict, l Limit, changed *Problem) string {
	node := p.Nodes[l.Leg]
	t := node.Throughs[l.From]
	square := 1.0
	for _, a := range []Arm{node.Arms[t.In], node.Arms[t.Out]} {
		square *= p.Legs[a.Leg].length(p.unit(a)).Metres()
	}
	weight := math.Abs(c.Proof.Through[l.Leg][l.From][1]) * square
	if !(weight > 0) || c.Short/weight > steepest {
		return ""
	}
	lip := *t.Bend.Lip + measure.Length(math.Ceil(c.Short/weight*t.Bend.Tan*float64(t.Bend.Width)/2/1e5-1e-6))*measure.Millimetre/10
	bend := *t.Bend
	bend.Lip = &lip
	changed.Nodes = append([]Node(nil), p.Nodes...)
	throughs := append([]Through(nil), node.Throughs...)
	throughs[l.From].Bend = &bend
	changed.Nodes[l.Leg].Throughs = throughs
	return changed.limit(l)
}

// refusal is the finding of a conflict.
func (p *Problem) refusal(c *Conflict, why string, try []string) finding.Finding {
	f := finding.Finding{ID: "profile.conflict", Kind: finding.Impossible, Text: why, Where: p.place(c.Limits[0]),
		Ask: "whoever set these levels and limits", Rule: "levels hold every limit of grade, of its change, of lips and of pins at once"}
	f.Try = "one of these limits that is given up or widened"
	if len(try) > 0 {
		f.Try = try[0]
	}
	return f
}

// place is where a limit is.
func (p *Problem) place(l Limit) finding.Where {
	switch l.Kind {
	case NodeChange, NodeLip, MouthLimit:
		return finding.Where{Place: p.node(l.Leg)}
	}
	at := p.Legs[l.Leg].Joints[l.From].At
	return finding.Where{Leg: p.Legs[l.Leg].Name, Chainage: &at}
}
