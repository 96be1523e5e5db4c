package route

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/base/wording"
)

// branches places the nodes that lie on a leg without ending it.
func (b *builder) branches() {
	for i := range b.net.Nodes {
		on := b.in.Nodes[i].OnLeg
		if on == "" || len(b.net.Nodes[i].Arms) != 1 {
			continue
		}
		n, path := &b.net.Nodes[i], fmt.Sprintf("nodes[%d].on_leg", i)
		host, ok := b.leg[on]
		switch {
		case !ok:
			b.fault("no-such-leg", path, "", "node %s lies on leg %q, which is not declared", n.ID, on)
		case host == n.Arms[0].Leg:
			b.fault("branch-on-itself", path, on, "node %s ends leg %s and cannot lie on it as well", n.ID, on)
		default:
			b.branch(n, host, path)
		}
	}
}

// branch settles where on its host a branch begins.
func (b *builder) branch(n *Node, host int, path string) {
	l := b.net.Legs[host]
	feet := l.Line.Nearest(n.At, 0)
	const off = measure.Millimetre
	if len(feet) == 0 || feet[0].Distance > off {
		f := b.fault("branch-off-leg", path, l.ID, "node %s is to lie on leg %s, and lies %s from it", n.ID, l.ID, wording.Far(feet[0].Distance))
		f.Limit, f.Value = b.in.Speech.Length(off), b.in.Speech.Far(wording.Far(feet[0].Distance))
		f.Try = b.say("a point on the leg's %s, or a node of its own", wording.Centreline)
		return
	}
	turn := l.Line.At(feet[0].Chainage).Along.turn(b.outward(n.Arms[0]))
	n.Kind = Branch
	n.On = &OnLeg{host, feet[0].Chainage, turn > 0, measure.FromRadians(turn)}
	b.face(n.Arms[0]).Kind = Branch
	if skew := math.Min(math.Abs(turn), math.Pi-math.Abs(turn)); skew < math.Pi-sharpest {
		f := b.fault("too-sharp", path, l.ID, "the branch at node %s leaves leg %s at %s and lies beside it", n.ID, l.ID, degrees(skew))
		f.Limit, f.Value = degrees(math.Pi-sharpest), degrees(skew)
	}
}

// connected: from every node every other can be reached.
func (b *builder) connected() {
	part := make([]int, len(b.net.Nodes))
	for i := range part {
		part[i] = i
	}
	root := func(i int) int {
		for part[i] != i {
			part[i] = part[part[i]]
			i = part[i]
		}
		return i
	}
	unite := func(i, j int) {
		if i, j = root(i), root(j); i != j {
			part[max(i, j)] = min(i, j)
		}
	}
	for _, l := range b.net.Legs {
		unite(l.From, l.To)
	}
	for i, n := range b.net.Nodes {
		if n.On != nil {
			unite(i, b.net.Legs[n.On.Leg].From)
		}
	}
	members := make([][]string, len(part))
	for i, n := range b.net.Nodes {
		members[root(i)] = append(members[root(i)], n.ID)
	}
	for i, ids := range members {
		if i == 0 || len(ids) == 0 {
			continue
		}
		b.fault("disconnected", fmt.Sprintf("nodes[%d]", i), "", "no leg joins node%s %s to node %s and the rest of the run",
			plural(len(ids)), someOf(ids), b.net.Nodes[0].ID).Try = "a leg between them, or two jobs"
	}
}

func plural(n int) string {
	if n == 1 {
		return ""
	}
	return "s"
}

// someOf names the first few.
func someOf(ids []string) string {
	const few = 6
	if len(ids) <= few {
		return strings.Join(ids, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(ids[:few], ", "), len(ids)-few)
}

// reach is one element of one leg, with its box and the range it takes of the axis that is swept.
type reach struct {
	leg, element int
	box
	from, to float64
}

// sweep sorts along the axis on which the whole run is longer, so that few boxes overlap at a time.
func sweep(all []reach) {
	if len(all) == 0 {
		return
	}
	whole := all[0].box
	for _, r := range all {
		whole = box{min(whole.west, r.west), min(whole.south, r.south), max(whole.east, r.east), max(whole.north, r.north)}
	}
	for i, r := range all {
		all[i].from, all[i].to = r.west, r.east
		if whole.north-whole.south > whole.east-whole.west {
			all[i].from, all[i].to = r.south, r.north
		}
	}
	sorting.By(all, func(x, y reach) int { return cmp.Compare(x.from, y.from) })
}

// crossings finds legs that cross, touch or run along each other where they share no node.
func (b *builder) crossings() {
	var all []reach
	for i, l := range b.net.Legs {
		for k, e := range l.Line.elements {
			all = append(all, reach{leg: i, element: k, box: e.box()})
		}
	}
	sweep(all)
	type hit struct {
		a, b int
		m    Meeting
	}
	var hits []hit
	for i, x := range all {
		for _, y := range all[i+1:] {
			if y.from > x.to {
				break
			}
			if !x.overlaps(y.box) || x.leg == y.leg && (x.element-y.element)*(x.element-y.element) <= 1 {
				continue
			}
			if x.leg > y.leg || x.leg == y.leg && x.element > y.element {
				x, y = y, x
			}
			for _, m := range b.elementsMeet(x, y) {
				hits = append(hits, hit{x.leg, y.leg, m})
			}
		}
	}
	sorting.By(hits, func(x, y hit) int {
		return cmp.Or(cmp.Compare(x.a, y.a), cmp.Compare(x.b, y.b), cmp.Compare(x.m.Chainage, y.m.Chainage), cmp.Compare(x.m.Other, y.m.Other))
	})
	hits = slices.CompactFunc(hits, func(x, y hit) bool {
		return x.a == y.a && x.b == y.b && (x.m.Chainage-y.m.Chainage).Abs() < measure.Millimetre
	})
	for _, h := range hits {
		b.crossing(h.a, h.b, h.m)
	}
}

func (b *builder) elementsMeet(x, y reach) []Meeting {
	a, c := b.net.Legs[x.leg].Line, b.net.Legs[y.leg].Line
	one := Line{a.elements[x.element : x.element+1], a.scale}
	other := Line{c.elements[y.element : y.element+1], c.scale}
	var out []Meeting
	for _, m := range one.Meet(other) {
		if !b.atCommonNode(x.leg, y.leg, m.At) {
			out = append(out, m)
		}
	}
	return out
}

// atCommonNode tells whether two legs meet at p because a node says so.
func (b *builder) atCommonNode(i, j int, p Point) bool {
	const near = 2e-3 // metres: what a branch may lie off its host, and some more
	x, y := b.net.Legs[i], b.net.Legs[j]
	for _, n := range []int{x.From, x.To} {
		node := b.net.Nodes[n]
		if (n == y.From || n == y.To || node.On != nil && node.On.Leg == j) && node.At.Distance(p) <= near {
			return true
		}
	}
	for _, n := range []int{y.From, y.To} {
		if node := b.net.Nodes[n]; node.On != nil && node.On.Leg == i && node.At.Distance(p) <= near {
			return true
		}
	}
	return false
}

func (b *builder) crossing(i, j int, m Meeting) {
	x, y := b.net.Legs[i].ID, b.net.Legs[j].ID
	ch, other := wording.Far(m.Chainage), wording.Far(m.Other)
	text := b.say("legs %s and %s cross at %s %s of %s (%s of %s) without a node", x, y, wording.Chainage, ch, x, other, y)
	switch {
	case i == j:
		text = b.say("leg %s crosses itself at %s %s and %s", x, wording.Chainages, ch, other)
	case m.Skew.Radians() < math.Pi-sharpest:
		text = b.say("legs %s and %s run along each other at %s %s of %s", x, y, wording.Chainage, ch, x)
	}
	f := b.find(finding.Attention, "legs-cross", fmt.Sprintf("legs[%d]", i), x, "%s", text)
	f.Where.Chainage = &m.Chainage
	f.Try = "a node where they meet; or say how one passes below the other"
}
