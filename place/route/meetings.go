package route

import (
	"cmp"
	"fmt"
	"math"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/base/wording"
)

// Bends sharper than this are refused as a fold: the two legs would lie beside each other. Common practice, no source.
const sharpest = 170 * math.Pi / 180

// straightOn is how far two arms of a tee may be from going straight on and still be the through pair. Common practice,
// no source.
const straightOn = 45 * math.Pi / 180

// arms are the legs at each node, by bearing clockwise; ends at a node that lies on a leg are among them.
func (b *builder) arms() [][]Arm {
	out := make([][]Arm, len(b.net.Nodes))
	for i, l := range b.net.Legs {
		start, end := l.Line.Start(), l.Line.End()
		out[l.From] = append(out[l.From], Arm{Leg: i, Away: true, Bearing: start.Bearing()})
		out[l.To] = append(out[l.To], Arm{Leg: i, Bearing: end.Along.Back().Bearing()})
	}
	for _, arms := range out {
		sorting.By(arms, func(x, y Arm) int { return cmp.Compare(x.Bearing, y.Bearing) })
		for i := range arms {
			arms[i].Next = arms[(i+1)%len(arms)].Bearing - arms[i].Bearing
			if arms[i].Next <= 0 && (len(arms) == 1 || i == len(arms)-1) {
				arms[i].Next += 360 * measure.Degree
			}
		}
	}
	return out
}

// outward is the direction in which an arm leaves its node.
func (b *builder) outward(a Arm) Vector {
	if a.Away {
		return b.net.Legs[a.Leg].Line.Start().Along
	}
	return b.net.Legs[a.Leg].Line.End().Along.Back()
}

// meetings settles what each node is, and how each leg ends there.
func (b *builder) meetings() {
	for i, arms := range b.arms() {
		n := &b.net.Nodes[i]
		n.Arms = arms
		path := fmt.Sprintf("nodes[%d]", i)
		switch len(arms) {
		case 1:
			n.Kind = End
		case 2:
			b.two(n, path)
		case 3:
			n.Kind = Tee
			b.three(n, path)
		case 4:
			n.Kind = Cross
			n.Straight = []Pair{b.pair(n, 0, 2), b.pair(n, 1, 3)}
			b.crooked(n, path)
		default:
			b.fault("too-many-legs", path, "", "%d legs meet at node %s; a fitting takes four at most", len(arms), n.ID).Try = "two fittings beside each other"
		}
		if b.in.Nodes[i].OnLeg != "" && len(arms) != 1 {
			b.fault("branch-arms", path, "", "node %s lies on leg %s, so one leg ends there; %d do", n.ID, b.in.Nodes[i].OnLeg, len(arms))
		}
		b.apart(n, path)
		for _, a := range arms {
			b.face(a).Kind = n.Kind
		}
	}
}

// face is the end of a leg that an arm is.
func (b *builder) face(a Arm) *Face {
	if a.Away {
		return &b.net.Legs[a.Leg].Start
	}
	return &b.net.Legs[a.Leg].End
}

// pair follows arm i to the node and arm j from it, or the other way round, as their chainages say.
func (b *builder) pair(n *Node, i, j int) Pair {
	in, out := n.Arms[i], n.Arms[j]
	if in.Away == out.Away && in.Leg > out.Leg || in.Away && !out.Away {
		i, j, in, out = j, i, out, in
	}
	return Pair{i, j, measure.FromRadians(b.outward(in).Back().turn(b.outward(out)))}
}

// two: straight on, or a bend.
func (b *builder) two(n *Node, path string) {
	p := b.pair(n, 0, 1)
	in, out := n.Arms[p.In], n.Arms[p.Out]
	turn := b.outward(in).Back().turn(b.outward(out))
	if math.Abs(turn) <= b.smooth.Radians() {
		n.Kind, n.Straight = Through, []Pair{p}
		return
	}
	n.Kind = Turn
	if math.Abs(turn) > sharpest {
		f := b.fault("too-sharp", path, b.net.Legs[in.Leg].ID, "the run turns %s at node %s: legs %s and %s lie beside each other",
			degrees(math.Abs(turn)), n.ID, b.net.Legs[in.Leg].ID, b.net.Legs[out.Leg].ID)
		f.Limit, f.Value, f.Try = degrees(sharpest), degrees(math.Abs(turn)), "two bends with a leg between them"
		return
	}
	tan := math.Tan(math.Abs(turn) / 2)
	n.Bend = &Bend{in.Leg, out.Leg, p.Deflection, tan}
	slope := math.Copysign(tan, turn)
	fi, fo := b.face(in), b.face(out)
	fi.Slope, fi.Deflection = slope, p.Deflection
	fo.Slope, fo.Deflection = -slope, -p.Deflection
	b.room(n, path)
}

// room: the inner corner of a mitre must lie on both legs, (W/2)·tan α from the node.
func (b *builder) room(n *Node, path string) {
	if b.in.Width <= 0 {
		return
	}
	need := n.Bend.Corner(b.in.Width).Outer()
	for _, i := range []int{n.Bend.In, n.Bend.Out} {
		if l := b.net.Legs[i]; l.Line.Length() < need {
			f := b.fault("mitre-eats-leg", path, l.ID, "the %s at node %s takes %s of the inner face, and leg %s is %s long",
				wording.Mitre, n.ID, need, l.ID, l.Line.Length())
			f.Limit, f.Value = b.in.Speech.Length(l.Line.Length()), b.in.Speech.Length(need)
			f.Try = "a blunter bend, or a longer leg"
		}
	}
}

// three: the pair that turns least goes straight on.
func (b *builder) three(n *Node, path string) {
	pairs := []Pair{b.pair(n, 0, 1), b.pair(n, 0, 2), b.pair(n, 1, 2)}
	sorting.By(pairs, func(x, y Pair) int { return cmp.Compare(absolute(x.Deflection), absolute(y.Deflection)) })
	least, second := absolute(pairs[0].Deflection), absolute(pairs[1].Deflection)
	if least.Radians() > straightOn || second-least <= b.smooth {
		f := b.find(finding.Attention, "tee-without-through", path, "", "at node %s no two legs go straight on more than the others; the least turn is %.2f°", n.ID, least.Degrees())
		f.Try = "say in the fitting's drawing which arm is the branch"
		return
	}
	n.Straight = pairs[:1:1]
	b.crooked(n, path)
}

// crooked says where a pair that goes straight on does turn a little: a casting is straight.
func (b *builder) crooked(n *Node, path string) {
	for _, p := range n.Straight {
		if absolute(p.Deflection) > b.smooth {
			f := b.find(finding.Attention, "crooked-fitting", path, "", "the run turns %.3f° from leg %s to leg %s at %s %s; a fitting goes straight through unless its drawing says otherwise",
				absolute(p.Deflection).Degrees(), b.net.Legs[n.Arms[p.In].Leg].ID, b.net.Legs[n.Arms[p.Out].Leg].ID, n.Kind, n.ID)
			f.Limit, f.Value = fmt.Sprintf("%.3f°", b.smooth.Degrees()), fmt.Sprintf("%.3f°", absolute(p.Deflection).Degrees())
		}
	}
}

// apart: neighbouring arms of a fitting may not lie beside each other.
func (b *builder) apart(n *Node, path string) {
	least := measure.FromRadians(math.Pi - sharpest)
	if len(n.Arms) < 3 {
		return
	}
	for i, a := range n.Arms {
		next := n.Arms[(i+1)%len(n.Arms)]
		if a.Next < least {
			f := b.fault("too-sharp", path, b.net.Legs[a.Leg].ID, "legs %s and %s leave node %s %.2f° apart and lie beside each other",
				b.net.Legs[a.Leg].ID, b.net.Legs[next.Leg].ID, n.ID, a.Next.Degrees())
			f.Limit, f.Value = fmt.Sprintf("%.0f°", least.Degrees()), fmt.Sprintf("%.2f°", a.Next.Degrees())
		}
	}
}

func absolute(a measure.Angle) measure.Angle { return max(a, -a) }
