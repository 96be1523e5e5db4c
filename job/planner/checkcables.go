package planner

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/solve/check"
	"trenchwright/solve/check/cable"
)

// cables are those of the schedule that lie in a leg; "" all of them.
func (b *checks) cables(leg string) []cable.Cable {
	k := &b.job.Checks.Cables
	var list []cable.Cable
	for _, laid := range k.Laid {
		if leg != "" && len(laid.Legs) > 0 && !slices.Contains(laid.Legs, leg) {
			continue
		}
		c, _, err := cable.ReadCable(laid.Is)
		if err != nil {
			continue // a fault of the job has said why
		}
		c.Name, c.From = laid.Name, b.docText(cmp.Or(laid.From, k.From, b.job.Checks.From))
		list = append(list, c)
	}
	return list
}

// cablesMass is the mass of all cables of the fullest leg, on a length; false: one has none on file.
func (b *checks) cablesMass() (measure.LinearMass, bool) {
	most := measure.LinearMass(0)
	for i := range b.net.Legs {
		sum := measure.LinearMass(0)
		for _, c := range b.cables(b.leg(i).ID) {
			if c.Mass == nil {
				return 0, false
			}
			n := c.Count
			if c.Trefoil {
				n *= 3
			}
			sum += measure.LinearMass(n) * *c.Mass
		}
		most = max(most, sum)
	}
	return most, true
}

// sameCables are legs with the same cables in units of the same supply: their section is held once.
type sameCables struct {
	supply *supply
	names  string
	legs   []string
}

// holdCables holds the cables in each kind of section, at each corner and along each pull.
func (b *checks) holdCables() {
	k := &b.job.Checks.Cables
	if len(k.Laid) == 0 {
		return
	}
	var groups []sameCables
	for i := range b.net.Legs {
		leg, names := b.leg(i).ID, ""
		for _, c := range b.cables(leg) {
			names += c.Name + "\n"
		}
		s := b.legSupply(i)
		n := slices.IndexFunc(groups, func(g sameCables) bool { return g.supply == s && g.names == names })
		switch {
		case names == "":
		case n < 0:
			groups = append(groups, sameCables{s, names, []string{leg}})
		default:
			groups[n].legs = append(groups[n].legs, leg)
		}
	}
	for _, g := range groups {
		b.holdSection(g)
	}
	b.holdCorners()
	for _, p := range k.Pulls {
		b.holdPull(p)
	}
}

// section is the inside of a supply for cables; nil: its size is not on file.
func (b *checks) section(s *supply) *cable.Section {
	if !s.Unit.Inner.Known {
		return nil
	}
	k := &b.job.Checks.Cables
	inner := s.Unit.Inner
	out := &cable.Section{Width: inner.Value.Width, Depth: inner.Value.Height, From: job.Source(b.job, s.Supply, inner), Gap: k.Gap.Value, Share: percent(k.Share), ShareFrom: from(b, k.From, k.Share),
		Apart: entered(k.Apart), ApartFrom: from(b, k.From, k.Apart)}
	for _, d := range k.Dividers {
		out.Dividers = append(out.Dividers, cable.Divider{At: d.At, Thick: d.Thick})
	}
	if k.Later.Known {
		if c, _, err := cable.ReadCable(k.Later.Value); err == nil {
			c.Name = "a later cable"
			out.Later = &c
		}
	}
	return out
}

func (b *checks) holdSection(g sameCables) {
	k := &b.job.Checks.Cables
	q := cable.Problem{Where: finding.Where{Leg: g.legs[0]}, Words: b.speech(), Cables: b.cables(g.legs[0]), Section: b.section(g.supply)}
	if k.Air.Known || k.Inside.Known {
		q.Heat = &cable.Heat{Sun: k.Sun, Ambient: job.Quantity(k.Air, check.Temperature), Conductor: job.Quantity(k.Conductor, check.Temperature), Reference: job.Quantity(k.RatedAt, check.Temperature), From: from(b, k.From, k.Air),
			Group: cable.Group(k.Group), Allowed: job.Quantity(k.Inside, check.Temperature), AllowedFor: from(b, k.From, k.Inside)}
	}
	if apart := b.supportsApart(g.legs); apart != nil || k.Bears.Known {
		q.Supports = &cable.Supports{Apart: apart, Bears: job.Quantity(k.Bears, check.Force), From: from(b, k.From, k.Bears)}
	}
	sol := cable.Check(&q)
	for n := range sol.Answers {
		sol.Answers[n].What = legsWord(g.legs) + ": " + sol.Answers[n].What
	}
	b.held(sol.Answers, sol.Findings)
}

// legsWord names legs.
func legsWord(legs []string) string {
	text := "leg " + legs[0]
	if len(legs) > 1 {
		text = "legs " + legs[0]
	}
	for _, l := range legs[1:] {
		text += ", " + l
	}
	return text
}

// supportsApart is the widest distance of supports inside the units of legs; nil: none stand there.
func (b *checks) supportsApart(legs []string) *measure.Length {
	var widest *measure.Length
	for _, id := range legs {
		for _, s := range b.legNamed(id).Supports {
			if s.Every > 0 && (widest == nil || s.Every > *widest) {
				widest = new(s.Every)
			}
		}
	}
	return widest
}

// holdCorners holds each mitred corner against the cables that turn there. The straights beside it reach to the middle of a leg whose other
// end turns as well.
func (b *checks) holdCorners() {
	for _, n := range b.plan.Nodes {
		if n.Kind != "bend" || n.Deflection == 0 || len(n.Legs) != 2 {
			continue
		}
		var both []cable.Cable
		out := b.cables(n.Legs[1])
		for _, c := range b.cables(n.Legs[0]) {
			if slices.ContainsFunc(out, func(o cable.Cable) bool { return o.Name == c.Name }) {
				both = append(both, c)
			}
		}
		if len(both) == 0 {
			continue
		}
		leg := b.legAt[n.Legs[0]]
		q := cable.Problem{Where: finding.Where{Path: "nodes." + n.ID}, Words: b.speech(), Cables: both, Section: b.section(b.legSupply(leg)),
			Bends: []cable.Bend{{Name: "bend " + n.ID, Turn: measure.FromDegrees(math.Abs(n.Deflection)), Before: b.straight(n.Legs[0], n.ID), After: b.straight(n.Legs[1], n.ID)}}}
		sol := cable.Check(&q)
		sol.Answers = slices.DeleteFunc(sol.Answers, func(a check.Answer) bool { return a.ID != "cable.bend" }) // the section is held elsewhere
		sol.Findings = slices.DeleteFunc(sol.Findings, func(f finding.Finding) bool { return f.Kind != finding.Fault })
		for i := range sol.Answers {
			sol.Findings = append(sol.Findings, sol.Answers[i].Findings(b.speech())...)
		}
		b.held(sol.Answers, sol.Findings)
	}
}

// straight is how much of a leg a corner at one of its ends has for itself.
func (b *checks) straight(leg, node string) *measure.Length {
	l := b.plan.Legs[b.legAt[leg]]
	long := measure.Length(l.ClearLength)
	other := l.From
	if other == node {
		other = l.To
	}
	for _, n := range b.plan.Nodes {
		if n.ID == other && n.Kind == "bend" && n.Deflection != 0 {
			long /= 2
		}
	}
	return &long
}

// holdPull holds a pull along legs, and the length that is cut for it.
func (b *checks) holdPull(p job.CablePull) {
	k := &b.job.Checks.Cables
	var one []cable.Cable
	for _, c := range b.cables("") {
		if c.Name == p.Cable {
			one = append(one, c)
		}
	}
	path, long, problem := b.pullRoute(p.Legs)
	if len(one) == 0 || problem != "" {
		if problem != "" {
			b.fault("planner.pull", "checks.cables.pulls", "the pull of "+p.Cable+": "+problem, "legs in the order in which the cable goes through them")
		}
		return
	}
	where := finding.Where{Leg: p.Legs[0]}
	q := cable.Problem{Where: where, Words: b.speech(), Cables: one, Pull: &cable.Pull{Cable: p.Cable, Route: path, Straights: plainNumber(k.Friction), Corners: plainNumber(k.Corners), MuFrom: from(b, k.From, k.Friction), Back: job.Quantity(k.Drum, check.Force), BackFrom: from(b, k.From, k.Drum)},
		Cut: &cable.Cut{Route: &long, Slack: percent(k.Slack), Ends: entered(k.Ends), From: from(b, k.From, k.Slack)}}
	if p.Drum > 0 {
		q.Cut.Drum = &p.Drum
	}
	for _, s := range path {
		if s.Turn != 0 && s.Radius == 0 {
			q.Pull = nil
			b.held(nil, finding.List{finding.NoneOnFile("radius that rollers lead a cable round a corner on", "whoever pulls", where)})
			break
		}
	}
	sol := cable.Check(&q)
	for n := range sol.Answers {
		sol.Answers[n].What = fmt.Sprintf("%s through %s: %s", p.Cable, legsWord(p.Legs), sol.Answers[n].What)
	}
	b.held(sol.Answers, sol.Findings)
}

// pullRoute is the way of a cable through legs, in straights with their slope and bends, and its length; a problem in words where the legs
// do not follow each other.
func (b *checks) pullRoute(legs []string) (path []cable.Piece, long measure.Length, problem string) {
	node := ""
	for i, id := range legs {
		l := &b.plan.Legs[b.legAt[id]]
		forward := true
		if i == 0 && len(legs) > 1 {
			next := &b.plan.Legs[b.legAt[legs[1]]]
			forward = l.To == next.From || l.To == next.To
		} else if i > 0 {
			forward = l.From == node
		}
		if in := map[bool]string{true: l.From, false: l.To}[forward]; i > 0 && in != node {
			return nil, 0, fmt.Sprintf("leg %s does not begin where leg %s ends", id, legs[i-1])
		}
		if i > 0 {
			if turn := b.turnAt(node, legs[i-1], id); turn > 0 {
				path = append(path, cable.Piece{Turn: turn, Radius: b.job.Checks.Cables.Corner.Value})
			}
		}
		path = append(path, b.alongLeg(l, forward)...)
		long += measure.Length(l.NodeLength)
		node = map[bool]string{true: l.To, false: l.From}[forward]
	}
	return path, long, ""
}

// turnAt is by how much a cable turns from one leg into another.
func (b *checks) turnAt(node, in, out string) measure.Angle {
	for _, n := range b.plan.Nodes {
		if n.ID != node {
			continue
		}
		heading := func(leg string) float64 {
			for i, l := range n.Legs {
				if l == leg {
					return n.Headings[i]
				}
			}
			return 0
		}
		turn := math.Abs(math.Remainder(heading(out)-heading(in)-180, 360)) // headings lead away from the node
		if turn < 0.01 {
			return 0
		}
		return measure.FromDegrees(turn)
	}
	return 0
}

// alongLeg is a leg as straights and curves, in the direction of a pull, on its mean slope.
func (b *checks) alongLeg(l *Leg, forward bool) []cable.Piece {
	rise := 0.0
	if l.ClearLength > 0 {
		rise = float64(l.SlopeRise) / float64(l.ClearLength)
	}
	var out []cable.Piece
	for _, a := range l.Axis {
		long := measure.Length(a.ToChainage - a.FromChainage)
		if a.Radius != 0 {
			r := math.Abs(a.Radius)
			out = append(out, cable.Piece{Turn: measure.FromDegrees(long.Metres() / r * (180 / math.Pi)), Radius: measure.FromMetres(r)})
		} else if long > 0 {
			out = append(out, cable.Piece{Length: long, Rise: rise})
		}
	}
	if !forward {
		slices.Reverse(out)
		for i := range out {
			out[i].Rise = -out[i].Rise
		}
	}
	return out
}
