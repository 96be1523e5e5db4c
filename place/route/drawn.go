package route

import (
	"fmt"
	"math"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// DrawnAs says which line the coordinates of a run draw.
type DrawnAs string

// The lines that people draw. The zero value is the centreline.
const (
	Centreline DrawnAs = ""
	OuterFace  DrawnAs = "outer face"  // of the wall, towards the soil
	InnerFace  DrawnAs = "inner face"  // of the wall, towards the cables
	TrenchEdge DrawnAs = "trench edge" // of the dig
	BesideOf   DrawnAs = "beside"      // a kerb, fence or rail, at a stated distance from the centreline
)

// Drawn is the line that was drawn and where it lies. The zero value: the centreline.
type Drawn struct {
	As DrawnAs
	// Right: the drawn line lies to the right of the centreline, looking up-chainage.
	Right bool
	// Apart is the distance on the ground between the drawn line and the centreline: half the outer width for an outer face,
	// half the inner width for an inner face, half the trench's width for its edge.
	Apart measure.Length
	// Of names what the line is, for the sheets: "kerb", "fence", "rail".
	Of string
}

// String is In, in UK words and millimetres.
func (d Drawn) String() string { return d.In(wording.Speech{}) }

// In is the sentence that stands on every sheet.
func (d Drawn) In(s wording.Speech) string {
	if d.As == Centreline {
		return s.Say("the line drawn is the %s", wording.Centreline)
	}
	side, back := "left", "right"
	if d.Right {
		side, back = back, side
	}
	what := string(d.As)
	if d.As == BesideOf {
		what = d.Of
		if what == "" {
			what = "line beside the run"
		}
	}
	return s.Say("the line drawn is the %s on the %s, looking %s; the %s lies %s to the %s of it",
		what, side, wording.UpChainage, wording.Centreline, d.Apart, back)
}

// shift is how far the centreline lies to the right of the drawn line.
func (d Drawn) shift() measure.Length {
	switch {
	case d.As == Centreline:
		return 0
	case d.Right:
		return -d.Apart
	default:
		return d.Apart
	}
}

// check finds what is missing or wrong in how the line was drawn.
func (d Drawn) check() (Refusal, bool) {
	switch d.As {
	case Centreline:
		return Refusal{}, true
	case OuterFace, InnerFace, TrenchEdge, BesideOf:
	default:
		return refuse("drawn-as", -1, "nobody can tell which line a %q is", string(d.As)).
			trying("%s, %s, %s, %s, or nothing for the %s", OuterFace, InnerFace, TrenchEdge, BesideOf, wording.Centreline), false
	}
	if m := d.Apart.Metres(); !(m >= 0 && m <= Reach) {
		return refuse("drawn-apart", -1, "the %s cannot lie %s from the %s", d.As, far(m), wording.Centreline).
			trying("a distance that is not negative; the side is stated apart"), false
	}
	return Refusal{}, true
}

// toCentreline moves every leg from the line that was drawn to the centreline. Legs keep what they share: at each node
// the moved legs are trimmed or lengthened to where they meet.
func (b *builder) toCentreline() {
	if r, ok := b.in.Drawn.check(); !ok {
		b.refused(Refusals{r}, "", func(int) string { return "drawn" })
		return
	}
	// The lines are still unscaled, so that the shift is taken in grid metres here.
	shift := measure.FromMetres(float64(b.in.Drawn.shift().Metres() * b.in.Scale.factor()))
	if shift == 0 {
		return
	}
	drawn := b.arms()
	turns := make([]float64, len(drawn))
	for i := range drawn {
		b.net.Nodes[i].Arms = drawn[i]
		if len(drawn[i]) == 2 {
			p := b.pair(&b.net.Nodes[i], 0, 1)
			turns[i] = b.outward(drawn[i][p.In]).Back().turn(b.outward(drawn[i][p.Out]))
		}
	}
	was := make([][]Element, len(b.net.Legs))
	for i, l := range b.net.Legs {
		was[i] = l.Line.elements
		moved, err := l.Line.Offset(shift)
		if err != nil {
			b.refused(err, l.ID, func(int) string { return fmt.Sprintf("legs[%d]", i) })
			continue
		}
		b.net.Legs[i].Line = moved
	}
	if !b.sound() {
		return
	}
	hosts := b.net.Legs // a branch meets its host's line as it is after the move
	for i := range b.net.Nodes {
		if on := b.in.Nodes[i].OnLeg; on != "" {
			b.moveBranch(i, on, hosts)
			continue
		}
		b.moveNode(i, turns[i], shift.Metres())
	}
	for i, l := range b.net.Legs {
		for k, e := range l.Line.elements {
			if !e.follows(was[i][k]) {
				b.fault("offset-eats-side", fmt.Sprintf("legs[%d]", i), l.ID, "moved to the %s, nothing is left of the %s of leg %s at %s %s",
					wording.Centreline, was[i][k], l.ID, wording.Chainage, wording.Far(was[i][k].Start)).Try = b.say("draw the %s there", wording.Centreline)
			}
		}
		b.net.Legs[i].Line = newLine(l.Line.elements, 0)
	}
}

// tip is the element of a leg that ends at a node, run towards the node.
func (b *builder) tip(a Arm) Element {
	e := b.net.Legs[a.Leg].Line.elements
	if a.Away {
		return e[0].reversed()
	}
	return e[len(e)-1]
}

// setTip lets the leg end at p.
func (b *builder) setTip(a Arm, p Point) {
	e := b.net.Legs[a.Leg].Line.elements
	if a.Away {
		e[0].starts(p)
	} else {
		e[len(e)-1].ends(p)
	}
}

// moveNode finds where the moved legs of a node meet, and ends them there.
func (b *builder) moveNode(i int, turn, off float64) {
	n := &b.net.Nodes[i]
	if len(n.Arms) > 4 {
		return // said with the kinds of node
	}
	at, ok := b.tip(n.Arms[0]).To, true
	if len(n.Arms) > 1 {
		at, ok = b.meet(n, turn, off)
	}
	if !ok || !at.Usable() {
		b.fault("drawn-apart-at-node", fmt.Sprintf("nodes[%d]", i), "", "moved to the %s, the legs at node %s do not meet in one point", wording.Centreline, n.ID).
			Try = b.say("draw the %s of these legs, or let their %s run the same way through the node", wording.Centreline, wording.Chainages)
		return
	}
	n.At = at
	for _, a := range n.Arms {
		b.setTip(a, at)
	}
}

// meet is the point that the moved arms of a node share. Every arm must pass within a millimetre of it.
func (b *builder) meet(n *Node, turn, off float64) (Point, bool) {
	if len(n.Arms) == 2 {
		p := b.pair(n, 0, 1)
		in, out := n.Arms[p.In], n.Arms[p.Out]
		if in.Away == out.Away {
			return Point{}, false // the drawn line changes its side here
		}
		return corner(b.tip(in), b.tip(out).reversed(), turn, off)
	}
	best, widest := Point{}, 0.0
	for i, x := range n.Arms {
		for _, y := range n.Arms[i+1:] {
			u, v := b.tip(x), b.tip(y)
			skew := math.Abs(u.last().Along.cross(v.last().Along))
			if skew <= widest {
				continue
			}
			if p, ok := nearestMeeting(u, v); ok {
				best, widest = p, skew
			}
		}
	}
	if widest == 0 {
		return Point{}, false
	}
	for _, a := range n.Arms {
		if b.tip(a).carrierMisses(best) > measure.Millimetre.Metres() {
			return Point{}, false
		}
	}
	return best, true
}

// moveBranch ends a branch where its moved line meets its host's.
func (b *builder) moveBranch(i int, on string, hosts []Leg) {
	n := &b.net.Nodes[i]
	host, ok := b.leg[on]
	if !ok || len(n.Arms) != 1 || host == n.Arms[0].Leg {
		return // said with the branches
	}
	line := hosts[host].Line
	tip := b.tip(n.Arms[0])
	feet := line.Nearest(tip.To, 0)
	if len(feet) == 0 {
		return
	}
	p, ok := nearestMeeting(tip, line.elements[line.find(feet[0].Chainage)])
	if !ok || !p.Usable() {
		b.fault("drawn-apart-at-node", fmt.Sprintf("nodes[%d]", i), "", "moved to the %s, the branch at node %s does not meet leg %s", wording.Centreline, n.ID, on).
			Try = b.say("draw the %s of these legs", wording.Centreline)
		return
	}
	n.At = p
	b.setTip(n.Arms[0], p)
}

// nearestMeeting is where the carriers of two elements meet, nearest to their ends.
func nearestMeeting(u, v Element) (Point, bool) {
	points, _ := carriersMeet(u, v)
	best, found := Point{}, false
	for _, p := range points {
		if !found || p.Distance(u.To) < best.Distance(u.To) {
			best, found = p, true
		}
	}
	return best, found
}

// carrierMisses is how far p lies from the endless line or circle that carries e.
func (e Element) carrierMisses(p Point) float64 {
	if e.Radius == 0 {
		return math.Abs(e.To.Minus(e.From).Unit().cross(p.Minus(e.From)))
	}
	return math.Abs(p.Distance(e.Centre) - math.Abs(e.Radius))
}
