package plancheck

import (
	"math"
	"slices"
	"strings"

	"trenchwright/job"
)

// checkBends: at a mitred bend the two faces are parallel in plan, the mitre gap apart, on either side of the node; their
// angles have the hand that the turn asks for.
func (c *checker) checkBends() {
	for i := range c.plan.Nodes {
		n := &c.plan.Nodes[i]
		c.checkHeadings(n)
		if n.Made != "mitred" {
			c.checkEnd(n)
			continue
		}
		if n.Bend == nil || len(n.Legs) != 2 {
			c.say("node %s is mitred and %d legs meet there without a bend's figures", n.ID, len(n.Legs))
			continue
		}
		// The turn is told by the unit that comes in and the one that leaves; legs are listed by bearing.
		first, second := 0, 1
		if u := c.units[n.Bend.In]; u != nil && u.Leg == n.Legs[1] {
			first, second = 1, 0
		}
		in, okIn := c.faceAt(n, n.Legs[first])
		out, okOut := c.faceAt(n, n.Legs[second])
		if !okIn || !okOut {
			continue // a leg that is not laid out has been spoken of
		}
		in.heading, out.heading = n.Headings[first], n.Headings[second]
		c.checkFigures(n, in, out)
		c.checkFaces(n, in, out)
	}
}

// face is the end of the piece that stands at a node.
type face struct {
	unit    *unit
	leg     *leg
	arrives bool    // the leg's chainage runs to the node
	angle   float64 // degrees, as plan.json gives it
	middle  vec     // where the axis meets it
	across  vec     // along the cut
	heading float64 // bearing of the leg out of the node, as the plan says
}

func (c *checker) faceAt(n *node, name string) (face, bool) {
	l, row := c.legs[name], c.row[name]
	if l == nil || len(row) == 0 {
		return face{}, false
	}
	f := face{unit: row[0], leg: l, angle: row[0].StartAngle, middle: at(row[0].Axis[0])}
	if l.To == n.ID && l.From != n.ID {
		u := row[len(row)-1]
		f = face{unit: u, leg: l, arrives: true, angle: u.EndAngle, middle: at(u.Axis[1])}
	}
	along := towards(f.unit.Bearing)
	f.across = along.times(tangent(f.angle)).plus(along.left())
	return f, true
}

// checkEnd: where nothing is mitred a leg ends square, but for an existing trench end that stands skew and a branch that
// is sawn into a wall: its face lies along that wall, the end gap away from it.
func (c *checker) checkEnd(n *node) {
	var d *job.Node
	if c.job != nil {
		d = c.declaredNode(n.ID)
	}
	for _, name := range n.Legs {
		f, ok := c.faceAt(n, name)
		switch {
		case !ok:
		case n.Made == "sawn" && d != nil && d.Sawn != nil:
			c.checkBranch(n, f, d.Sawn.Into)
		case n.Made == "existing" && d != nil && d.End != nil:
			if d.End.Skew == 0 && f.angle == 0 {
				continue
			}
			if math.Abs(math.Abs(f.angle+n.turned(f))-math.Abs(d.End.Skew.Degrees())) > 0.00051 {
				c.say("node %s: %s is cut at %.6f°, the existing end stands %.6f° from square", n.ID, f.unit.Mark, f.angle, d.End.Skew.Degrees())
			}
		case f.angle != 0 && n.Made != "sawn" && n.Made != "existing":
			c.say("node %s: %s ends at %.6f° and nothing there is mitred", n.ID, f.unit.Mark, f.angle)
		}
	}
}

func (c *checker) checkBranch(n *node, f face, into string) {
	main, ok := c.axes[into]
	l := c.legs[into]
	if !ok || l == nil || main.curved() {
		return // the wall of a curve is for the eye
	}
	_, wall := main.place(0)
	wide, gap := c.supplies[l.Supply], c.makes[f.leg.Supply]
	if wide == nil || wide.OuterWidth == nil || gap == nil {
		return
	}
	apart := float64(gap.Joint.Gap.Value.Nominal)
	if gap.Joint.EndGap.Known {
		apart = float64(gap.Joint.EndGap.Value)
	}
	a := f.across.unit()
	chord := 0.0 // a square end of a piece that reaches into a curve stands as far from square as the piece is turned
	if f.angle == 0 {
		chord = math.Abs(math.Sin(n.turned(f)*math.Pi/180)) * c.faceLength(f)
	}
	if sine := math.Abs(a.e*wall.n - a.n*wall.e); sine*c.faceLength(f) > 1e-6+chord+c.setting(f) {
		c.say("node %s: the face of %s leaves the wall of leg %s by %.6f m", n.ID, f.unit.Mark, into, sine*c.faceLength(f))
	}
	from := math.Abs(f.middle.minus(at(n.At)).dot(wall.left())) / c.axes[f.leg.Name].scaleFrom(f)
	if want := (float64(*wide.OuterWidth)/2 + apart) / 1e9; math.Abs(from-want) > 1e-5 {
		c.say("node %s: %s ends %.6f m from the middle of leg %s, its wall and the gap make %.6f m", n.ID, f.unit.Mark, from, into, want)
	}
}

// checkHeadings: the bearings out of a node are those of its legs there.
func (c *checker) checkHeadings(n *node) {
	if len(n.Legs) != len(n.Headings) {
		c.say("node %s: %d legs and %d headings", n.ID, len(n.Legs), len(n.Headings))
		return
	}
	for i, name := range n.Legs {
		l := c.legs[name]
		if l == nil || (l.From != n.ID && l.To != n.ID) {
			c.say("node %s: leg %s does not end there", n.ID, name)
			continue
		}
		a := c.axes[name]
		_, along := a.place(-a.front)
		if l.To == n.ID && l.From != n.ID {
			_, along = a.place(a.whole - a.front)
			along = along.times(-1)
		}
		if math.Abs(turn(n.Headings[i], along.bearing())) > 1e-5 {
			c.say("node %s: leg %s leaves at %.6f°, the plan says %.6f°", n.ID, name, along.bearing(), n.Headings[i])
		}
	}
}

// checkFigures: what the gang reads at the bend follows from the turn, the width and the gap.
func (c *checker) checkFigures(n *node, in, out face) {
	deflection := turn(math.Mod(in.heading+180, 360), out.heading)
	if math.Abs(deflection-n.Deflection) > 1e-5 {
		c.say("node %s: its legs turn by %.6f°, the plan says %.6f°", n.ID, deflection, n.Deflection)
	}
	half := math.Abs(deflection) / 2 * math.Pi / 180
	if math.Abs(n.Bend.SawAngle-half*180/math.Pi) > 0.00051 {
		c.say("node %s: saw angle %.6f°, half the turn is %.6f°", n.ID, n.Bend.SawAngle, half*180/math.Pi)
	}
	setback := nm(math.Round(float64(n.Bend.Gap) / 2 / math.Cos(half)))
	if (n.Bend.Setback - setback).abs() > slack {
		c.say("node %s: set-back %v, a gap of %v makes %v", n.ID, n.Bend.Setback, n.Bend.Gap, setback)
	}
	for _, f := range []face{in, out} {
		stated := f.leg.StartSetback
		if f.arrives {
			stated = f.leg.EndSetback
		}
		if (stated - setback).abs() > slack {
			c.say("node %s: leg %s is set back by %v, the mitre asks for %v", n.ID, f.leg.Name, stated, setback)
		}
		if s := c.supplies[f.leg.Supply]; s != nil && s.OuterWidth != nil && f.unit == in.unit {
			w := float64(*s.OuterWidth)
			if math.Abs(w*math.Tan(half)-float64(n.Bend.LongShort)) > slack || math.Abs(w/math.Cos(half)-float64(n.Bend.PadAcross)) > slack {
				c.say("node %s: sides differ by %v and the face is %v, a width of %v makes %v and %v", n.ID, n.Bend.LongShort,
					n.Bend.PadAcross, *s.OuterWidth, nm(w*math.Tan(half)), nm(w/math.Cos(half)))
			}
		}
	}
	c.checkShortPad(n, in.leg)
	places := []string{in.unit.Mark, out.unit.Mark}
	if !slices.Contains(places, n.Bend.In) || !slices.Contains(places, n.Bend.Out) || n.Bend.In == n.Bend.Out {
		c.say("node %s: %s and %s meet there, the plan says %s and %s", n.ID, places[0], places[1], n.Bend.In, n.Bend.Out)
	}
}

// checkShortPad: where the pad on file is not as wide as both faces need, a finding says so.
func (c *checker) checkShortPad(n *node, in *leg) {
	m := c.makes[in.Supply]
	if m == nil || m.Bearing.On.Value != "pads" || !m.Bearing.PadAcross.Known || nm(m.Bearing.PadAcross.Value) >= n.Bend.PadAcross {
		return
	}
	if !c.anyFinding(func(f finding) bool { return f.ID == "planner.pad-short" && f.Where.Path == "nodes."+n.ID }) {
		c.say("node %s: the pad on file is %v across, both faces need %v, and no finding says so", n.ID, nm(m.Bearing.PadAcross.Value), n.Bend.PadAcross)
	}
}

// turned is how far, in degrees to the right, a piece lies off its leg's direction at the node: it is a chord where it
// reaches into a curve, and its face is cut by that much less.
func (n *node) turned(f face) float64 {
	for i, name := range n.Legs {
		if name != f.leg.Name || i >= len(n.Headings) {
			continue
		}
		along := n.Headings[i]
		if f.arrives {
			along += 180
		}
		return math.Remainder(f.unit.Bearing-along, 360)
	}
	return 0
}

// checkFaces: hand, parallelism and distance of the two faces from their coordinates, as near as a saw is set.
func (c *checker) checkFaces(n *node, in, out face) {
	for i, f := range []face{in, out} {
		// The piece that comes into a right bend ends with +tan, the one that leaves it starts with -tan.
		want := n.Bend.SawAngle * math.Copysign(1, n.Deflection)
		if i == 1 {
			want = -want
		}
		want -= n.turned(f)
		if math.Abs(f.angle-want) > 0.00051 {
			c.say("node %s: %s is cut at %.6f°, a turn of %.6f° asks for %.6f°", n.ID, f.unit.Mark, f.angle, n.Deflection, want)
		}
	}
	a, b := in.across.unit(), out.across.unit()
	if sine := math.Abs(a.e*b.n - a.n*b.e); sine*c.faceLength(in) > 1e-6+c.setting(in)+c.setting(out) {
		c.say("node %s: the faces of %s and %s are not parallel: they leave each other by %.6f m", n.ID, in.unit.Mark, out.unit.Mark, sine*c.faceLength(in))
	}
	square := a.left() // of the joint
	// A leg on a slope is set back along it, so its distance counts longer than it is in plan.
	before := in.middle.minus(at(n.At)).dot(square) / c.axes[in.leg.Name].scaleFrom(in)
	behind := out.middle.minus(at(n.At)).dot(square) / c.axes[out.leg.Name].scaleFrom(out)
	allowed := 1e-5 + c.overTangent(in) + c.overTangent(out) // a saw is set to 0.001°
	if apart := math.Abs(behind - before); math.Abs(apart-n.Bend.Gap.metres()) > allowed {
		c.say("node %s: the faces of %s and %s are %.6f m apart, the mitre gap is %v", n.ID, in.unit.Mark, out.unit.Mark, apart, n.Bend.Gap)
	}
	if math.Abs(before+behind) > allowed || before*behind > 0 {
		c.say("node %s: the joint between %s and %s does not stand on the node: %.6f and %.6f m", n.ID, in.unit.Mark, out.unit.Mark, before, behind)
	}
}

// overTangent is how far, in metres, a face may stand off its line because its unit is counted by one curvature and lies on
// two: nothing, unless the plan says so of that unit.
func (c *checker) overTangent(f face) float64 {
	for _, said := range c.plan.Findings {
		if said.ID == "planner.mitre-over-tangent" && strings.HasPrefix(said.Text, f.unit.Mark+" ") {
			return c.axes[f.leg.Name].bent(f.unit.Start, f.unit.Start+f.unit.Length) / 1e9
		}
	}
	return 0
}

// setting is how far a face may leave its line at its end because a saw is set to 0.001°, in metres.
func (c *checker) setting(f face) float64 { return c.faceLength(f) * sawSetting }

func (c *checker) faceLength(f face) float64 {
	if s := c.supplies[f.unit.Supply]; s != nil && s.OuterWidth != nil {
		return s.OuterWidth.metres() * f.across.length()
	}
	return 1
}
