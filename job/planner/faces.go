package planner

import (
	"fmt"
	"math"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/place/route"
	"trenchwright/solve/layout"
)

// face is how a leg's units end at a node: how far before the node on the axis, and at what cut.
type face struct {
	setback measure.Length
	tan     float64 // s of the cut line x = a + s·y, seen along the leg, as a saw is set
	drawn   float64 // the same as the lines drawn make it: what is turned from it is set once, not twice
	mitred  bool
	gap     measure.Length // joint to what stands at the node, square to it
	made    string         // mitred, casting, sawn, end plate, building, temporary, existing, open, joint
	beside  bool           // something stands here that a closer should not be laid beside
}

// face finds how the leg ends at its start (atStart) or its end. Mitres are set as a saw is set: see sawSetting.
func (b *build) face(leg int, atStart bool) face {
	f := b.exactFace(leg, atStart)
	f.drawn = f.tan
	if f.mitred {
		f.tan = slope(sawSetting(sawAngle(f.tan)))
		f.mitred = f.tan != 0
	}
	return f
}

func (b *build) exactFace(leg int, atStart bool) face {
	l := b.net.Legs[leg]
	node, end := l.From, l.Start
	if !atStart {
		node, end = l.To, l.End
	}
	n := b.net.Nodes[node]
	d := b.node(n.ID)
	s := b.legSupply(leg)
	switch n.Kind {
	case route.Turn:
		if d.Fitting != "" {
			return b.casting(leg, n, d)
		}
		c := route.Corner{Deflection: n.Bend.Deflection, Width: s.width}
		if s.width <= 0 {
			b.fault("planner.no-width", "nodes."+n.ID, b.tell(
				"the bend at %s is %s, but supply %s has no outer width on file", n.ID, wording.Mitred, s.ID),
				"enter unit.outer of the supply from its drawing, or name a fitting at the node")
		}
		if m := d.Mitre; m != nil {
			saw := m.After
			if n.Bend.In == leg && (n.Bend.Out != leg || !atStart) {
				saw = m.Before
			}
			c.Deflection = 2 * saw
			return face{setback: c.SetBack(s.mitreGap()), tan: math.Copysign(slope(saw), end.Slope), mitred: true, gap: s.mitreGap(), made: "mitred", beside: true}
		}
		return face{setback: c.SetBack(s.mitreGap()), tan: end.Slope, mitred: true, gap: s.mitreGap(), made: "mitred", beside: true}
	case route.Through:
		if d.Fitting != "" {
			return b.casting(leg, n, d)
		}
		g := s.Joint.Gap.Value.Nominal
		return face{setback: g / 2, gap: g, made: "joint"}
	case route.Tee, route.Cross:
		if d.Fitting == "" {
			b.fault("planner.no-fitting", "nodes."+n.ID, fmt.Sprintf(
				"%d legs meet at %s and nothing says what is laid there", len(n.Arms), n.ID),
				"name the supply's fitting at the node (fitting: …), or say that the branch is sawn into a leg (sawn: …)")
			return face{}
		}
		return b.casting(leg, n, d)
	case route.Branch:
		return b.sawn(leg, n, s)
	default:
		return endFace(d.End, s)
	}
}

// endFace is the end of a leg where nothing follows. The node stands on the outside of a plate, on the stated face of a
// building's wall, or on the face of an existing trench.
func endFace(e *job.End, s *supply) face {
	if e == nil || e.Kind == "open" {
		return face{made: "open"}
	}
	gap := s.endGap()
	if e.Gap != nil {
		gap = *e.Gap
	}
	f := face{setback: gap, gap: gap, beside: true}
	switch e.Kind {
	case "plate":
		f.made, f.setback = "end plate", gap+e.Thickness
	case "building":
		f.made = "building"
		if e.Face == "inner" {
			f.setback += e.Thickness
		}
	case "temporary":
		f.made, f.setback = "temporary", gap+e.Thickness
	case "existing":
		f.made = "existing"
		if e.Skew != 0 {
			f.tan, f.mitred = math.Tan(e.Skew.Radians()), true
			f.setback = route.Corner{Deflection: 2 * e.Skew}.Across(gap)
		}
	}
	return f
}

// casting is the face of a leg at a fitting: the arm's length and the gap to it.
func (b *build) casting(leg int, n route.Node, d job.Node) face {
	s := b.legSupply(leg)
	fit, ok := b.fitting(d.Fitting)
	if !ok {
		b.fault("planner.unknown-fitting", "nodes."+n.ID, fmt.Sprintf("no supply lists a fitting %q", d.Fitting), "the id of one of the supplies' fittings")
		return face{}
	}
	arm, why := armFor(fit, n, b.net.Network, leg, d.Through)
	if why != "" {
		b.fault("planner.arm", "nodes."+n.ID, fmt.Sprintf("fitting %s at %s: %s", fit.ID, n.ID, why), "give the fitting an arm for every leg that meets there")
		return face{}
	}
	return face{setback: arm.Length + s.endGap(), gap: s.endGap(), made: "casting", beside: true}
}

// armFor picks the fitting's arm that a leg stands on. A fitting with one arm has that length everywhere. A bend or a
// transition lists in, out (declared order of the legs); a tee its two straight arms and then the branch; a cross its
// first straight pair and then the other.
func armFor(f job.Fitting, n route.Node, net route.Network, leg int, through []string) (job.Arm, string) {
	if len(f.Arms) == 0 {
		return job.Arm{}, "its drawing's arm lengths are not on file"
	}
	if len(f.Arms) == 1 {
		return f.Arms[0], ""
	}
	order := armOrder(n, net, through)
	for i, a := range order {
		if n.Arms[a].Leg == leg {
			if i >= len(f.Arms) {
				return job.Arm{}, fmt.Sprintf("it has %d arms, %d legs meet here", len(f.Arms), len(n.Arms))
			}
			return f.Arms[i], ""
		}
	}
	return job.Arm{}, "the leg does not meet it"
}

// armOrder lists the arms of a node (indices of n.Arms) in the order in which a fitting lists its own.
func armOrder(n route.Node, net route.Network, through []string) []int {
	pairs := n.Straight
	if len(through) == 2 {
		var named []int
		for i, a := range n.Arms {
			if id := net.Legs[a.Leg].ID; id == through[0] || id == through[1] {
				named = append(named, i)
			}
		}
		if len(named) == 2 {
			pairs = []route.Pair{{In: named[0], Out: named[1]}}
		}
	}
	byLeg := func(a, c int) bool { return n.Arms[a].Leg < n.Arms[c].Leg }
	var order []int
	used := make([]bool, len(n.Arms))
	for _, p := range pairs {
		x, y := p.In, p.Out
		if !byLeg(x, y) {
			x, y = y, x
		}
		order = append(order, x, y)
		used[x], used[y] = true, true
	}
	for leg := range net.Legs {
		for i, a := range n.Arms {
			if a.Leg == leg && !used[i] {
				order = append(order, i)
				used[i] = true
			}
		}
	}
	return order
}

// sawn is the face of a branch that opens through the wall of a leg that goes on: its units stop at that wall's outer
// face, cut to the angle at which they meet it.
func (b *build) sawn(leg int, n route.Node, s *supply) face {
	on := n.On
	main := b.legSupply(on.Leg)
	if main.width <= 0 {
		b.fault("planner.no-width", "nodes."+n.ID, fmt.Sprintf(
			"the branch at %s is sawn into leg %s, but supply %s has no outer width on file", n.ID, b.net.Legs[on.Leg].ID, main.ID),
			"enter unit.outer of the supply from its drawing")
		return face{}
	}
	// φ: from the direction of the leg that goes on to the branch as it leaves
	φ := math.Abs(on.Angle.Radians())
	gap := s.endGap()
	f := face{gap: gap, made: "sawn", beside: true}
	f.setback = measure.FromMetres((float64(main.width.Metres()/2) + gap.Metres()) / math.Sin(φ))
	if math.Abs(φ-math.Pi/2) > 1e-9 {
		f.mitred, f.tan = true, b.wallSlope(leg, n)
	}
	return f
}

// wallSlope is s of the cut line along a wall that the branch meets at an angle: the wall runs along the leg that goes
// on, whose direction seen from the branch's axis (x along the branch's own chainage, y left) is its slope dx/dy.
func (b *build) wallSlope(leg int, n route.Node) float64 {
	wall := b.net.Legs[n.On.Leg].Line.At(n.On.Chainage).Along
	l := b.net.Legs[leg]
	branch := l.Line.End().Along
	if b.net.Nodes[l.From].ID == n.ID {
		branch = l.Line.Start().Along
	}
	return wall.Dot(branch) / wall.Dot(branch.Right().Back())
}

// fitting finds a fitting by its id, over all supplies.
func (b *build) fitting(id string) (job.Fitting, bool) {
	f, _, ok := b.fittingOf(id)
	return f, ok
}

// fittingOf finds a fitting with the supply that lists it.
func (b *build) fittingOf(id string) (job.Fitting, *supply, bool) {
	for i := range b.sup {
		for _, f := range b.sup[i].Fittings {
			if f.ID == id {
				return f, &b.sup[i], true
			}
		}
	}
	return job.Fitting{}, nil, false
}

func (b *build) fault(id, path, text, try string) {
	f := finding.Finding{ID: id, Kind: finding.Fault, Text: text, Where: finding.Where{Path: path}, Try: try}
	for _, g := range b.found {
		if g == f {
			return
		}
	}
	b.found = append(b.found, f)
}

// mostTurns bounds how often a leg is laid again because its end pieces, reaching into a curve, want another cut.
const mostTurns = 5

// solveLeg lays a leg. A piece that reaches from a mitred end into a curve is a chord and does not lie along the leg at its
// node, but its face has to: seen from a piece that is turned by δ to the right, a cut at φ is a cut at φ - δ. The leg is
// laid again with that cut until piece and cut agree.
func (b *build) solveLeg(leg int, q *question) (layout.Solution, error) {
	for turns := 0; ; turns++ {
		s, err := layout.Solve(q.problem)
		if err != nil || s.Verdict != layout.Found {
			return s, err
		}
		start, end := b.facings(leg, *q, s)
		if start == q.problem.Start.Tan && end == q.problem.End.Tan {
			return s, nil
		}
		if turns == mostTurns {
			b.add(finding.Finding{ID: "planner.end-in-curve", Kind: finding.Attention,
				Text:  fmt.Sprintf("leg %s: an end piece reaches into a curve and its cut does not settle: cut it from a measurement", b.leg(leg).ID),
				Where: finding.Where{Leg: b.leg(leg).ID}, Try: b.tell("a straight as long as one %s beside the bend", wording.Unit)})
			return s, nil
		}
		q.problem.Start.Tan, q.problem.End.Tan = start, end
	}
}

// facings are the cut lines that the end pieces of a solution want, in the direction of its problem.
func (b *build) facings(leg int, q question, s layout.Solution) (start, end float64) {
	a, us := &b.axes[leg], s.Units
	if q.back {
		us = unmirrored(us, q.problem.Length)
	}
	start, end = a.start.tan, a.end.tan
	if a.start.mitred {
		start = b.facing(a, &us[0], 0, a.start)
	}
	if a.end.mitred {
		end = b.facing(a, &us[len(us)-1], a.clear, a.end)
	}
	if q.back {
		start, end = end, start
	}
	return start, end
}

func (b *build) facing(a *axis, u *layout.Unit, at measure.Length, f face) float64 {
	chord := a.point(u.Start + u.Advance).Minus(a.point(u.Start))
	along := a.line.At(a.chainage(at)).Along
	cross := float64(along.N*chord.E) - float64(along.E*chord.N)
	δ := math.Atan2(cross, along.Dot(chord))
	if math.Abs(δ) < 1e-7 {
		return f.tan
	}
	return slope(sawSetting(measure.FromRadians(math.Atan(f.drawn) - δ)))
}
