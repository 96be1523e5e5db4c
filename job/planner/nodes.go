package planner

import (
	"fmt"
	"math"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/place/route"
)

// nodes writes what meets where, with what a gang needs at a mitred bend.
func (b *build) nodes(legs []laid) {
	for _, n := range b.net.Nodes {
		d := b.node(n.ID)
		out := Node{ID: n.ID, Kind: string(n.Kind), At: [2]float64{n.At.E, n.At.N}, Fitting: d.Fitting, Note: d.Note}
		if d.Level != nil {
			z := *d.Level * b.net.unit
			out.Level = &z
		}
		for _, a := range n.Arms {
			out.Legs = append(out.Legs, b.net.Legs[a.Leg].ID)
			out.Headings = append(out.Headings, a.Bearing.Degrees())
		}
		if len(n.Arms) > 0 {
			f := b.axes[n.Arms[0].Leg].end
			if n.Arms[0].Away {
				f = b.axes[n.Arms[0].Leg].start
			}
			out.Made = f.made
		}
		if n.Bend != nil {
			out.Deflection = n.Bend.Deflection.Degrees()
			if d.Fitting == "" {
				out.Bend = b.bend(n, legs)
			} else {
				b.castBend(n, d.Fitting)
			}
		}
		b.plan.Nodes = append(b.plan.Nodes, out)
	}
}

// castBend compares a casting's angle with the route's.
func (b *build) castBend(n route.Node, fitting string) {
	f, ok := b.fitting(fitting)
	if !ok || f.Angle == 0 {
		return
	}
	off := math.Abs(math.Abs(n.Bend.Deflection.Degrees()) - math.Abs(f.Angle.Degrees()))
	if off <= route.Smooth.Degrees() {
		return
	}
	b.add(finding.Finding{ID: "planner.cast-angle", Kind: finding.Attention,
		Text:  fmt.Sprintf("the route turns by %.3f° at %s, fitting %s turns by %.3f°", math.Abs(n.Bend.Deflection.Degrees()), n.ID, f.ID, math.Abs(f.Angle.Degrees())),
		Where: finding.Where{Path: "nodes." + n.ID}, Limit: fmt.Sprintf("%.3f°", math.Abs(f.Angle.Degrees())), Value: fmt.Sprintf("%.3f°", math.Abs(n.Bend.Deflection.Degrees())),
		Try: b.tell("move a node so that the angles agree, or make a %s bend", wording.Mitred)})
}

func (b *build) bend(n route.Node, legs []laid) *BendDetail {
	in, out := n.Bend.In, n.Bend.Out
	s := b.legSupply(in)
	c := route.Corner{Deflection: n.Bend.Deflection, Width: s.width}
	if m := b.node(n.ID).Mitre; m != nil {
		c.Deflection = 2 * m.Before
		b.sawnAsMeasured(n, m)
	}
	d := &BendDetail{
		SawAngle: math.Abs(c.Deflection.Degrees()) / 2, Gap: measure.MM(s.mitreGap()), Setback: measure.MM(c.SetBack(s.mitreGap())),
		LongShort: measure.MM(c.SidesDiffer()), PadAcross: measure.MM(c.Face()),
	}
	b.shortPad(n, s, measure.Length(d.PadAcross))
	d.In, d.CoverIn = b.atNode(in, n.ID, legs)
	d.Out, d.CoverOut = b.atNode(out, n.ID, legs)
	switch {
	case s.Cover == nil:
		d.Seams = "no covers on file"
	case d.CoverIn != "" && d.CoverOut != "":
		d.Seams = b.tell("the covers %s and %s are %s; their seam lies over the joint and each bears on both walls of its own %s", d.CoverIn, d.CoverOut, wording.Mitred, wording.Unit)
	default:
		d.Seams = "NOT CHECKED: no cover figures on file. Ask: the supplier"
	}
	if other := b.legSupply(out); other.index != s.index {
		b.add(finding.Finding{ID: "planner.bend-supplies", Kind: finding.Attention,
			Text:  b.tell("supplies %s and %s meet at the bend at %s: nothing on file says how unlike sections are joined at a %s", s.ID, other.ID, n.ID, wording.Mitre),
			Where: finding.Where{Path: "nodes." + n.ID}, Ask: "the supplier", Try: "the change of supply in the straight"})
	}
	return d
}

// sawnAsMeasured says how a bend is made that was measured when pieces were cut for another turn.
func (b *build) sawnAsMeasured(n route.Node, m *job.Mitre) {
	text := fmt.Sprintf("the bend at %s turns by %.3f°; its pieces are sawn to %.3f° before it and %.3f° after it", n.ID, math.Abs(n.Bend.Deflection.Degrees()), m.Before.Degrees(), m.After.Degrees())
	for i, j := range m.Swings {
		text += map[bool]string{true: "; the rest joints turn by: ", false: ", "}[i == 0] + fmt.Sprintf("%s %+.3f°", j.Joint, j.Turn.Degrees())
	}
	b.add(finding.Finding{ID: "planner.mitre-measured", Kind: finding.Note, Where: finding.Where{Place: n.ID}, Text: text, Rule: "the turn as it was measured on site, and what a person chose to do about it"})
}

// swung is how far a joint turns for a bend near it, in radians.
func (b *build) swung(joint string) (sum float64) {
	for i := range b.job.Route.Nodes {
		if m := b.job.Route.Nodes[i].Mitre; m != nil {
			for _, j := range m.Swings {
				if j.Joint == joint {
					sum += float64(j.Turn.Radians())
				}
			}
		}
	}
	return sum
}

// shortPad says that the pad on file does not carry both faces of a bend.
func (b *build) shortPad(n route.Node, s *supply, across measure.Length) {
	own := s.Bearing.PadAcross
	if s.Bearing.On.Value != "pads" || !own.Known || own.Value >= across {
		return
	}
	b.add(finding.Finding{ID: "planner.pad-short", Kind: finding.Attention, Where: finding.Where{Path: "nodes." + n.ID}, Ask: "the supplier",
		Text:  b.tell("the %s on file of supply %s does not reach along the joint of the %s bend at %s: both faces need %s, it is %s across", wording.Pad, s.ID, wording.Mitred, n.ID, b.upToNearest(across), own.Value),
		Limit: b.tell("%s or more", b.upToNearest(across)), Value: b.tell("%s", own.Value), Rule: b.tell("outer width of the %s over the cosine of half the turn", wording.Unit),
		Try: b.tell("two %s there, or one slab under both faces", wording.Pads)})
}

// upToNearest is a length as near as a level is read, and no less than it is.
func (b *build) upToNearest(l measure.Length) measure.Length {
	step := b.nearest()
	return (l + step - 1) / step * step
}

// atNode names the unit of a leg at a node and its cover there.
func (b *build) atNode(leg int, node string, legs []laid) (unit, cover string) {
	l := &legs[leg]
	if len(l.units) == 0 {
		return "", ""
	}
	atStart := b.net.Nodes[b.net.Legs[leg].From].ID == node
	i := len(l.units) - 1
	if atStart {
		i = 0
	}
	unit = b.plan.Units[l.first+i].Mark
	if n := len(l.units[i].Covers); n > 0 {
		k := n
		if atStart {
			k = 1
		}
		cover = coverMark(unit, k)
	}
	return unit, cover
}
