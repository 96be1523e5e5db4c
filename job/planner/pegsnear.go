package planner

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/solve/earthwork"
)

// roomFrom is how far from the line pegs may stand at a section on the side of an offset: from where the job keeps room for
// pegs there, else behind the free edge of the dig that it states. ok is false where it states neither.
func roomFrom(s *earthwork.Sheet, offset measure.Length) (from measure.Length, reserved, ok bool) {
	edge, side := pegEdge(s, offset)
	if len(s.Beside) < 2 {
		return 0, false, false
	}
	for _, u := range s.Beside[side].Uses {
		if u.What == earthwork.Pegs {
			return u.From, true, true
		}
	}
	if free := s.Beside[side].Setback; free != nil {
		return edge + *free, false, true
	}
	return 0, false, false
}

// pegsNear gathers pegs that stand nearer to the edge of a dig than the job says: one finding for each side of each leg and each
// dig, with the one that stands nearest.
type pegsNear struct {
	*build
	where []pegPlace
	of    []*nearPegs
}

type nearPegs struct {
	leg, other   int
	right        bool
	reserved     bool
	pegs         int
	worst        pegLook
	edge, from   measure.Length // of the worst
	edgeDistance measure.Length
}

// look holds one peg against one dig. One that is dug away is told of as that.
func (n *pegsNear) look(q pegLook, s *earthwork.Sheet) {
	edge, _ := pegEdge(s, q.offset)
	from, reserved, ok := roomFrom(s, q.offset)
	off := q.offset.Abs()
	if !ok || off <= edge || off >= from-measure.Millimetre {
		return
	}
	p := &n.where[q.peg]
	for _, one := range n.of {
		if one.leg == p.leg && one.other == q.leg && one.right == (p.offset > 0) && one.reserved == reserved {
			if one.pegs++; off-edge < one.edgeDistance {
				one.worst, one.edge, one.from, one.edgeDistance = q, edge, from, off-edge
			}
			return
		}
	}
	n.of = append(n.of, &nearPegs{p.leg, q.leg, p.offset > 0, reserved, 1, q, edge, from, off - edge})
}

// say tells them. A free edge alone is meant for loads: pegs within it are said in passing, in one for the whole run.
func (n *pegsNear) say() {
	free := nearPegs{edgeDistance: pegReach}
	for _, one := range n.of {
		if one.reserved {
			n.sayReserved(one)
			continue
		}
		pegs := free.pegs + one.pegs
		if one.edgeDistance < free.edgeDistance {
			free = *one
		}
		free.pegs = pegs
	}
	if free.pegs == 0 {
		return
	}
	pegs := fmt.Sprintf("%d pegs stand", free.pegs)
	if free.pegs == 1 {
		pegs = "one peg stands"
	}
	room := n.tell("%s", free.from-free.edge)
	n.add(finding.Finding{ID: "planner.peg-near", Kind: finding.Note, Where: at(n.leg(free.leg).ID, n.where[free.worst.peg].at), Limit: room, Value: n.tell("%s", n.near(free.edgeDistance)),
		Text: n.tell("%s within the %s beside a dig that are kept free of spoil, plant and stacks, the nearest %s from the edge, at %s", pegs, room, n.near(free.edgeDistance), n.pegName(&n.plan.Pegs[free.worst.peg]))})
}

// sayReserved tells of pegs nearer than where the job keeps room for them.
func (n *pegsNear) sayReserved(one *nearPegs) {
	peg, all := &n.plan.Pegs[one.worst.peg], 0
	for i := range n.where {
		if n.where[i].leg == one.leg && (n.where[i].offset > 0) == one.right {
			all++
		}
	}
	pegs, stand := fmt.Sprintf("%d of the %d pegs", one.pegs, all), "stand"
	switch {
	case all == 1:
		pegs, stand = "the peg", "stands"
	case one.pegs == all:
		pegs = fmt.Sprintf("all %d pegs", all)
	case one.pegs == 1:
		pegs, stand = fmt.Sprintf("one of the %d pegs", all), "stands"
	}
	of := ""
	if one.other != one.leg {
		of = " of leg " + n.leg(one.other).ID
	}
	n.add(finding.Finding{ID: "planner.peg-near", Kind: finding.Attention, Where: at(n.leg(one.leg).ID, n.where[one.worst.peg].at), Ask: "the site engineer",
		Text: n.tell("%s on the %s of leg %s %s nearer to the edge of the dig%s than where the job keeps room for pegs: at %s that begins %s from the edge, and the peg stands %s from it",
			pegs, peg.Side, n.leg(one.leg).ID, stand, of, n.pegName(peg), one.from-one.edge, n.near(one.edgeDistance)),
		Limit: n.tell("%s from the edge of the dig", one.from-one.edge), Value: n.tell("%s from it", n.near(one.edgeDistance)),
		Try: "pegs further out, or on the other side (set_out.pegs)"})
}

// fewPegs says which places of a leg have no peg, and why: the job asks for pegs at other chainages alone, or for none.
func (b *build) fewPegs(where []pegPlace) {
	if len(b.job.SetOut.Pegs) == 0 {
		return
	}
	rows := b.rowsByLeg()
	for leg := range b.net.Legs {
		var stated []measure.Length
		each := false
		for _, g := range b.pegsOf(leg) {
			stated, each = append(stated, g.At...), each || len(g.At) == 0
		}
		if each || len(rows[leg]) == 0 {
			continue
		}
		without := len(rows[leg])
		for _, s := range rows[leg] {
			if slices.ContainsFunc(where, func(p pegPlace) bool {
				return p.leg == leg && (p.at-measure.Length(s.Chainage)).Abs() < measure.Millimetre
			}) {
				without--
			}
		}
		if without == 0 {
			continue
		}
		id := b.leg(leg).ID
		f := finding.Finding{ID: "planner.pegs-few", Kind: finding.Note, Where: finding.Where{Leg: id}, Try: b.tell("pegs at every joint: leave the %s out (set_out.pegs)", wording.Chainages)}
		var said []string
		for _, p := range where {
			if p.leg == leg {
				said = append(said, b.chainageOf(p.at))
			}
		}
		said = slices.Compact(said)
		f.Text = b.tell("leg %s: the job asks for pegs at %s %s alone, so %d of its %d joints and ends have none", id, wording.Chainage, strings.Join(said, ", "), without, len(rows[leg]))
		if len(said) == 0 {
			f.Text = fmt.Sprintf("leg %s: the job asks for no pegs beside it, so none of its %d joints and ends has one", id, len(rows[leg]))
			f.Try = "pegs beside this leg too (set_out.pegs)"
		}
		b.add(f)
	}
}
