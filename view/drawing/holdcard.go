package drawing

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// held is a unit that is cut from a measurement: what it comes to lie between, at its start and at its end.
type held struct {
	unit planner.Unit
	ends [2]heldEnd
}

// heldEnd is one end of a unit on hold: the face that is measured from, and what is taken off there.
type heldEnd struct {
	place string     // 001/002, start 001
	mark  string     // of the unit that has to be set before; empty: no unit of this run
	what  string     // the face, in words
	gap   measure.MM // as planned, square to the face
	off   measure.MM // the same along the walls
	slant bool       // the face is mitred
}

// heldUnit tells what has to be known to measure a unit on hold, from the plan.
func (d *draft) heldUnit(u planner.Unit) held {
	leg := d.plan.Legs[d.legs[u.Leg]]
	units := d.of[d.legs[u.Leg]]
	k := slices.IndexFunc(units, func(i int) bool { return d.plan.Units[i].Mark == u.Mark })
	h := held{unit: u}
	for i, next := range []int{k - 1, k + 1} {
		node := leg.From
		if i == 1 {
			node = leg.To
		}
		if next < 0 || next >= len(units) {
			h.ends[i] = d.heldAtNode(u, i, d.node(node))
			continue
		}
		mark := d.plan.Units[units[next]].Mark
		e := heldEnd{place: shortMark(u) + "/" + shortMark(d.plan.Units[units[next]]), mark: mark, what: "the face of " + mark}
		if i == 0 {
			e.place = shortMark(d.plan.Units[units[next]]) + "/" + shortMark(u)
		}
		for _, j := range d.plan.Joints {
			if j.Leg == u.Leg && (j.Name == u.Mark+"/"+mark || j.Name == mark+"/"+u.Mark) {
				e.gap, e.off = j.Gap, j.Gap
			}
		}
		h.ends[i] = e
	}
	return h
}

// heldAtNode is the end of a unit on hold at which its leg ends.
func (d *draft) heldAtNode(u planner.Unit, i int, n planner.Node) heldEnd {
	e := heldEnd{place: [2]string{"start ", "end "}[i] + shortMark(u)}
	if b := n.Bend; b != nil {
		if e.mark = b.In; e.mark == u.Mark {
			e.mark = b.Out
		}
		e.gap, e.off, e.slant = b.Gap, 2*b.Setback, true
		e.what = fmt.Sprintf("the %s face of %s (a straight edge along it)", d.words.mitred, e.mark)
		return e
	}
	e.what = d.nodeWords(n)
	e.gap = d.gapAtEnd(u.Leg, n)
	e.off = e.gap
	return e
}

// shortMark is a unit within its leg: 001.
func shortMark(u planner.Unit) string { return strings.TrimPrefix(u.Mark, u.Leg+"-") }

// gapAtEnd is the gap between the end of a leg and what else than a mitre stands there.
func (d *draft) gapAtEnd(leg string, n planner.Node) measure.MM {
	own := slices.IndexFunc(d.job.Route.Nodes, func(o job.Node) bool { return o.ID == n.ID && o.End != nil && o.End.Gap != nil })
	if own >= 0 {
		return measure.MM(*d.job.Route.Nodes[own].End.Gap)
	}
	return length(d.endGap(d.legSupply(leg)))
}

// off is what is taken off between the two faces, along the walls.
func (h held) off() measure.MM { return h.ends[0].off + h.ends[1].off }

// waits says which units have to be set before one on hold is measured: J-001 and K-002 are set.
func (h held) waits() string {
	var marks []string
	for _, e := range h.ends {
		if e.mark != "" {
			marks = append(marks, e.mark)
		}
	}
	if len(marks) == 1 {
		return marks[0] + " is set"
	}
	return strings.Join(marks, " and ") + " are set"
}

// between says from which face to which a unit on hold is measured, and where on them.
func (h held) between() string {
	return fmt.Sprintf("from %s to %s, along each wall, at its top and at its bottom", h.ends[0].what, h.ends[1].what)
}

// measureWords say when a unit on hold is measured, and how.
func (h held) measureWords() string { return "when " + h.waits() + ": " + h.between() }

// takeOffWords say which gaps are taken off what was measured.
func (d *draft) takeOffWords(h held) string {
	var said []string
	for _, e := range h.ends {
		text := fmt.Sprintf("gap at %s %s", e.place, d.gapLength(e.gap))
		if e.slant {
			text += fmt.Sprintf(" square to the faces, %s along the wall", d.gapLength(e.off))
		}
		said = append(said, text)
	}
	return strings.Join(said, "; ") + ". Each wall has its own figure: faces out of square are taken up"
}

// heldForm is the table that is filled in by hand on the card of a unit on hold: for each wall what is measured, what is
// taken off, and the side that is sawn. It returns where it begins.
func (c *cardSheet) heldForm(bottom float64) float64 {
	const high = 7.6
	h := *c.p.held
	heads := []string{"wall", "planned clear", "clear, top", "clear, bottom", "the lesser", "less gaps", "= side to saw"}
	widths := []float64{13, 22, 21, 21, 19, 19, 23}
	head := scene.LineStep(cardSize) + 0.8
	top := bottom - float64(2*high) - head
	right := cardWidth - cardEdge
	for i, y := range []float64{top, top + head, top + head + high, bottom} {
		pen := scene.Thin
		if i == 0 {
			pen = scene.Medium
		}
		c.add(scene.Line(scene.Point{X: cardEdge, Y: y}, scene.Point{X: right, Y: y}, scene.Pen(pen)))
	}
	rows := [2][7]string{{0: "left", 1: c.length(c.p.left + h.off()), 5: "− " + c.gapLength(h.off())}, {0: "right", 1: c.length(c.p.right + h.off()), 5: "− " + c.gapLength(h.off())}}
	x := cardEdge
	for i, name := range heads {
		if i > 0 {
			c.add(scene.Line(scene.Point{X: x, Y: top}, scene.Point{X: x, Y: bottom}, scene.Pen(scene.Thin)))
		}
		line, size, _ := scene.Fit(name, cardSize, cardSize, scene.Bold, widths[i]-1.6)
		c.add(scene.Text{At: scene.Point{X: x + 0.9, Y: top + float64(head/2)}, String: line, Size: size, Weight: scene.Bold, VAlign: scene.Middle})
		for k := range rows {
			if text := rows[k][i]; text != "" {
				line, size, _ := scene.Fit(text, cardFigure, cardSize, scene.Bold, widths[i]-1.6)
				c.add(scene.Text{At: scene.Point{X: x + 0.9, Y: top + head + float64(high*(float64(k)+0.5))}, String: line, Size: size, Weight: scene.Bold, VAlign: scene.Middle})
			}
		}
		x += widths[i]
	}
	return top
}

// heldOf are the units of the leg that are cut from a measurement, in the order in which the leg is laid.
func (c *levelCard) heldOf() []held {
	var out []held
	for _, i := range c.laid(c.legs[c.leg.Name]) {
		if u := c.plan.Units[i]; u.Hold {
			out = append(out, c.heldUnit(u))
		}
	}
	return out
}

// firstLaid is the unit that the leg is begun with: the first one that waits for no measurement.
func (c *levelCard) firstLaid() (planner.Unit, bool) {
	for i, k := range c.laid(c.legs[c.leg.Name]) {
		if u := c.plan.Units[k]; !u.Hold {
			return u, i > 0
		}
	}
	return planner.Unit{}, false
}

// holdWords say on the card of laying which units wait for what, how the leg is laid around them, and what is measured then.
func (c *levelCard) holdWords() []string {
	var out []string
	for _, h := range c.heldOf() {
		ahead := h.ends[1]
		if c.laidBack() {
			ahead = h.ends[0]
		}
		text := fmt.Sprintf("HOLD %s: leave it out until %s", shortMark(h.unit), h.waits())
		if next, ok := strings.CutPrefix(ahead.mark, c.leg.Name+"-"); ok {
			text += fmt.Sprintf(". Lay %s by its place: its near face %s beyond the middle of %s", next, c.gapLength(ahead.gap/2), ahead.place)
			if first, _ := c.firstLaid(); shortMark(first) != next {
				text += "; read under both its ends"
			}
		}
		out = append(out, text, c.underHeld(h, ahead), fmt.Sprintf("Measure %s %s; take off %s and %s: see cut card %s", shortMark(h.unit), h.between(), c.gapLength(h.ends[0].off), c.gapLength(h.ends[1].off), h.unit.Mark))
	}
	return out
}

// underHeld says when what a unit on hold is to lie on is levelled: where the laser stands for it another unit comes to lie
// before the one on hold is cut.
func (c *levelCard) underHeld(h held, ahead heldEnd) string {
	what := "Level the " + c.words.bed
	if c.made[h.unit.Supply].pads {
		what = "Set the " + c.words.pads
	}
	text := fmt.Sprintf("%s under %s, at %s and at %s, while the laser of their setting stands", what, shortMark(h.unit), h.ends[0].place, h.ends[1].place)
	if next, ok := strings.CutPrefix(ahead.mark, c.leg.Name+"-"); ok {
		text += ": before " + next + " goes down"
	}
	return text
}
