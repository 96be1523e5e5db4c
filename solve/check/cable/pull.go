package cable

import (
	"fmt"
	"math"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/solve/check"
)

// Pull is one pull of one kind of cable along a route.
type Pull struct {
	Cable     string // name of the kind that is pulled; "" the first
	Route     []Piece
	Straights *float64        // coefficient of friction on straights: rollers, or the trench itself
	Corners   *float64        // and in bends
	MuFrom    string          // where both come from
	Back      *check.Quantity // pull off the drum
	BackFrom  string
}

// Piece is a piece of the route from its start: a straight with its slope, or a bend.
type Piece struct {
	Length measure.Length // of a straight
	Rise   float64        // rise to run; below 0 it falls
	Turn   measure.Angle  // of a bend, without its hand
	Radius measure.Length
}

var (
	pullRule = check.Rule{ID: "cable.pull", Says: "a straight adds mass x g x length x (sine of the slope + friction x cosine), a bend multiplies by e to the power of friction x turn; both ways are worked", Law: "capstan equation; statics",
		Source: "worked examples of pulls, as read", Status: check.Closed, Tests: []string{"cable.TestPullAsPublished", "cable.TestPullAgainstSteps"}}
	copperRule = check.Rule{ID: "cable.copper", Only: "gives its limit to cable.pull", Says: "a pull on copper conductors is at most 0.008 lbf on each circular mil, and 1000 lbf through a basket grip", Law: "published pulling guides", Source: "as read", Status: check.Read, Tests: []string{"cable.TestPullOnCopper"}}
	sideRule   = check.Rule{ID: "cable.side", Says: "a bend presses on a cable with tension / radius", Law: "statics", Source: "the limit as the maker has it", Status: check.Closed, Tests: []string{"cable.TestPullAsPublished"}}
)

// OnCopper is the greatest pull on an area of copper, m², N: 0.008 lbf on a circular mil, which is pi/4 of a thousandth of an inch squared.
func OnCopper(area float64) float64 {
	return area / (math.Pi / 4 * 2.54e-5 * 2.54e-5) * 0.008 * check.Pound * check.Gravity
}

// grip is the greatest pull through a basket grip, N.
const grip = 1000 * check.Pound * check.Gravity

func (q *Pull) bounds() []check.Bound {
	if q == nil {
		return nil
	}
	list := []check.Bound{check.Between("a friction on straights", ratio(q.Straights), 0, 2, "0 to 2, as the maker or a trial pull has it"), check.Between("a friction in bends", ratio(q.Corners), 0, 2, "0 to 2, as the maker or a trial pull has it"), check.Between("a pull off the drum", q.Back, 0, 1e6, "0 and more")}
	for i := range q.Route {
		s := &q.Route[i]
		if s.Turn != 0 {
			list = append(list, check.Between("a turn on the route", new(check.Angle.Of(s.Turn.Radians())), 1e-6, 2*math.Pi, "above 0 and at most 360 deg"), long("a radius on the route", &s.Radius))
		} else {
			list = append(list, long("a straight on the route", &s.Length), check.Between("a slope on the route", new(check.Ratio.Of(s.Rise)), -5, 5, "rise to run, up or down"))
		}
	}
	return list
}

// reached is the tension behind each piece of a route, and what its bends press with; downhill it never falls below nothing.
type reached struct{ tension, side float64 }

// Tensions pulls a cable of a mass per length along a route, against a pull off the drum, with the friction on straights and in bends.
func Tensions(route []Piece, mass, back, straights, corners float64) []reached {
	list, t := make([]reached, len(route)), back
	for i, s := range route {
		if s.Turn != 0 {
			t *= check.Exp(corners * s.Turn.Radians())
			list[i] = reached{t, t / s.Radius.Metres()}
			continue
		}
		slope := math.Atan(s.Rise)
		t = max(0, t+float64(mass*check.Gravity*s.Length.Metres()*(math.Sin(slope)+float64(straights*math.Cos(slope)))))
		list[i] = reached{t, 0}
	}
	return list
}

// backwards is a route from its other end.
func backwards(route []Piece) []Piece {
	list := make([]Piece, 0, len(route))
	for i := len(route) - 1; i >= 0; i-- {
		s := route[i]
		s.Rise = -s.Rise
		list = append(list, s)
	}
	return list
}

// pull works a pull out from both ends and holds tension and sidewall pressure of each.
func (p *Problem) pull(out *Solution) {
	q := p.Pull
	if q == nil {
		return
	}
	c := &p.Cables[0]
	for i := range p.Cables {
		if p.Cables[i].Name == q.Cable {
			c = &p.Cables[i]
		}
	}
	for _, way := range []struct {
		id, name string
		route    []Piece
	}{{"there", "from its start", q.Route}, {"back", "from its end", backwards(q.Route)}} {
		a := p.answer("cable.pull-"+way.id, "the pull on "+c.Name+" along the route "+way.name, pullRule, maker, "pull from the other end, in two lengths, on more rollers, or with a winch in between")
		a.Cautions = append([]string{"one cable alone is pulled: several in one pull press on each other, and take more than their sum", "nobody stands in the bight of a bend or in line with a rope under tension"}, cautions...)
		mass, one := a.Need("mass of "+c.Name, lineMass(c.Mass), c.From, maker)
		straights, two := a.Need("friction on straights", ratio(q.Straights), q.MuFrom, "whoever pulls, from the maker or a trial pull")
		corners, three := a.Need("friction in bends", ratio(q.Corners), q.MuFrom, "whoever pulls, from the maker or a trial pull")
		back := 0.0
		if q.Back != nil {
			back = q.Back.SI
			a.Give("pull off the drum", *q.Back, q.BackFrom)
		}
		if len(q.Route) == 0 {
			a.Missing = append(a.Missing, check.Missing{What: "route of the pull", Ask: "whoever pulls"})
		}
		b := p.answer("cable.side-"+way.id, "what the worst bend presses on "+c.Name+" "+way.name, sideRule, maker, "a larger radius, more rollers, or pull from the other end")
		if !one || !two || !three || len(q.Route) == 0 {
			out.Answers = append(out.Answers, a)
			continue
		}
		at := Tensions(way.route, mass.SI, back, straights.SI, corners.SI)
		most, side := 0.0, 0.0
		for i, s := range way.route {
			what, how := fmt.Sprintf("behind %s of straight", check.Length.Of(s.Length.Metres()).Both(p.Words.Imperial)), "before + mass x g x length x (sine of the slope + friction x cosine)"
			if s.Turn != 0 {
				what, how = fmt.Sprintf("behind the bend of %s", check.Angle.Of(s.Turn.Radians()).Both(p.Words.Imperial)), "before x e ^ (friction x turn)"
				if at[i].side > side {
					side = at[i].side
					b.Working = []check.Step{{Name: "in the bend of " + check.Angle.Of(s.Turn.Radians()).Both(p.Words.Imperial), How: "tension behind it / radius", Is: check.LineForce.Of(side)}}
				}
			}
			most = max(most, a.Work(what, how, check.Force.Of(at[i].tension)).SI)
		}
		p.pulled(&a, c, most)
		out.Answers = append(out.Answers, a)
		if len(b.Working) > 0 {
			if limit, ok := b.Need("greatest sidewall pressure of "+c.Name, c.Side, c.From, maker); ok {
				b.Hold(check.LineForce.Of(side), limit, c.From, unless(q.Back == nil, check.AtMost(side, 0, limit.SI)))
			}
			out.Answers = append(out.Answers, b)
		}
	}
}

// pulled holds a tension against what was entered, or what the copper takes.
func (p *Problem) pulled(a *check.Answer, c *Cable, most float64) {
	limit, from := c.Tension, c.From
	if limit == nil && c.Copper != nil {
		a.Rule, from = copperRule, copperRule.Law
		a.Give("area of its copper", *c.Copper, c.From)
		limit = new(a.Work("the copper takes", "0.008 lbf x circular mils", check.Force.Of(OnCopper(c.Copper.SI))))
	}
	if limit != nil && c.Grip && limit.SI > grip {
		limit, from = new(check.Force.Of(grip)), copperRule.Law
		a.Work("a basket grip takes", "as published", *limit)
	}
	if is, ok := a.Need("greatest pull on "+c.Name, limit, from, maker); ok {
		a.Hold(check.Force.Of(most), is, from, unless(p.Pull.Back == nil, check.AtMost(most, 0, is.SI)))
	}
}

// unless turns good news away where something is not on file that only makes it worse: the pull off the drum.
func unless(lacking bool, v finding.Verdict) finding.Verdict {
	if lacking && v == finding.Meets {
		return finding.CannotSay
	}
	return v
}
