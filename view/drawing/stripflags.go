package drawing

import (
	"fmt"
	"strings"

	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// raiseFlags finds everything that a row has to say in words, and gives it lanes.
func (d *draft) raiseFlags(r *row, width float64) {
	size := d.style.Size.small()
	up, down := d.thingFlags(r)
	up = append(up, d.supplyFlags(r)...)
	up = append(up, d.findingFlags(r)...)
	down = append(down, d.legFlags(r)...)
	down = append(down, d.nodeFlags(r)...)
	down = append(down, d.unitFlags(r)...)
	r.up, r.ups = fly(up, 0, width, size)
	r.down, r.downs = fly(down, 0, width, size)
}

// at is the place on the paper of a station of a leg; a station off the end of the leg's units is pulled back to it by at
// most a metre.
func (r *row) at(leg int, station float64) (float64, bool) {
	const near = 1000.0
	found, best := 0.0, near
	for _, c := range r.cells {
		if c.leg != leg || c.node != "" {
			continue
		}
		off := max(c.from-station, station-c.to, 0)
		if off >= best {
			continue
		}
		best = off
		k := max(0, min(1, (station-c.from)/max(c.to-c.from, 1)))
		found = c.x + float64(c.width*k)
		if off == 0 {
			return found, true
		}
	}
	return found, best < near && r.holdsEnd(leg, station)
}

// holdsEnd reports whether the row shows the end of the leg that a station lies beyond; a station in a gap counts too.
func (r *row) holdsEnd(leg int, station float64) bool {
	low, high, any := 0.0, 0.0, false
	for _, c := range r.cells {
		if c.leg != leg || c.node != "" {
			continue
		}
		if !any {
			low = c.from
		}
		high, any = c.to, true
	}
	if station < low {
		return any && low == 0
	}
	return any && (station <= high || !r.goesOn || r.cells[len(r.cells)-1].node != "")
}

// thingFlags are things that lie along the row, each with one flag at its middle or at the first of its stretches that is
// here. What enters on the right or in the floor flies below, so that its pole ends at its sign.
func (d *draft) thingFlags(r *row) (up, down []pennant) {
	for _, t := range d.things {
		x, ok := r.at(t.leg, t.at)
		if t.kind == "support" || !ok {
			x, ok = r.firstSpan(t)
		}
		if !ok {
			continue
		}
		f := pennant{x: x, text: t.words}
		if t.kind != "entry" {
			up = append(up, f)
			continue
		}
		if z := d.style.strip(); t.side == "left" {
			f.foot = z.above() - ringRadius
			up = append(up, f)
		} else {
			f.foot = z.flags - d.entryBelow(t) - ringRadius
			down = append(down, f)
		}
	}
	return up, down
}

// ringRadius is that of the sign of a conduit, mm of paper.
const ringRadius = 0.9

// entryBelow is how far below the lower edge of the units the sign of a conduit stands: on the edge that it enters by, or in
// the lower part of the unit for the floor.
func (d *draft) entryBelow(t thing) float64 {
	unit := d.style.strip().unit
	switch t.side {
	case "left":
		return -unit
	case "right":
		return 0
	}
	return float64(-0.2 * unit)
}

func (r *row) firstSpan(t thing) (float64, bool) {
	for _, s := range t.spans {
		if x, ok := r.at(t.leg, (s.from+s.to)/2); ok {
			return x, true
		}
	}
	return 0, false
}

// supplyFlags name a supply that is laid instead of the leg's own, once for each stretch of it.
func (d *draft) supplyFlags(r *row) []pennant {
	var out []pennant
	before := ""
	for _, c := range r.cells {
		if c.unit < 0 {
			before = ""
			continue
		}
		u := d.plan.Units[c.unit]
		other := u.Supply
		if other == d.legSupply(u.Leg) {
			other = ""
		}
		if other != "" && other != before {
			text := u.Demands
			if !strings.Contains(text, other) {
				text = joined(", ", "supply "+other, u.Demands)
			}
			out = append(out, pennant{x: c.x + 1.2, text: text, weight: scene.Bold})
		}
		before = other
	}
	return out
}

// findingFlags point at places that a finding speaks of, unless the place has a flag of its own that says so.
func (d *draft) findingFlags(r *row) []pennant {
	var out []pennant
	for _, c := range d.concerns(anyFinding) {
		if u, ok := d.place(c.Where.Place); ok && d.special(u) {
			continue
		}
		leg, ok := d.legs[c.Where.Leg]
		if !ok || c.Where.Chainage == nil {
			continue
		}
		if x, ok := r.at(leg, stationAt(d.plan.Legs[leg], c.Where.Chainage.Millimetres())); ok {
			out = append(out, pennant{x: x, text: c.name, weight: scene.Bold})
		}
	}
	return out
}

// legFlags say what a leg is where it begins, or where the row takes it up again.
func (d *draft) legFlags(r *row) []pennant {
	var out []pennant
	last := -1
	for _, c := range r.cells {
		if c.node != "" || c.leg == last {
			continue
		}
		last = c.leg
		l := d.plan.Legs[c.leg]
		text := fmt.Sprintf("Leg %s goes on", l.Name)
		if c.from == 0 {
			text = fmt.Sprintf("Leg %s, %s to %s: %s between its ends, %s", l.Name, l.From, l.To, d.along(l.ClearLength), d.verdict(l))
		}
		out = append(out, pennant{x: c.x + 0.6, text: text, weight: scene.Bold})
	}
	return out
}

// verdict is how a leg came out.
func (d *draft) verdict(l planner.Leg) string {
	if l.Verdict != "found" {
		return joined(": ", strings.ToUpper(l.Verdict), l.Why)
	}
	text := count(l.Count.Units, d.words.unit, d.words.units)
	if l.Count.Cuts > 0 {
		text += ", " + count(l.Count.Cuts, "cut", "cut")
	}
	if l.LaidFrom != "" && l.LaidFrom != l.From {
		text += ", laid from " + l.LaidFrom
	}
	return text
}

// nodeFlags say what stands where a leg ends.
func (d *draft) nodeFlags(r *row) []pennant {
	var out []pennant
	z := d.style.strip()
	for _, c := range r.cells {
		if c.node != "" {
			out = append(out, pennant{x: d.nodePole(c), text: d.nodeWords(d.node(c.node)), weight: scene.Bold, foot: z.flags - z.laneDrop - 1.8})
		}
	}
	return out
}

// nodePole is where the pole of a node's word stands: under the middle of its sign, and under the last face of a leg that
// simply ends.
func (d *draft) nodePole(c cell) float64 {
	n := d.node(c.node)
	before := d.plan.Legs[c.leg].From == c.node
	switch {
	case n.Made == "open" && before:
		return c.x + c.width
	case n.Made == "open":
		return c.x
	case n.Kind == "end":
		box, bar := endBox(c, before)
		if n.Made == "end plate" || n.Made == "temporary" {
			return bar
		}
		return box.Centre().X
	}
	return c.x + float64(c.width/2)
}

// nodeWords is a node in words: B1 45° right.
func (d *draft) nodeWords(n planner.Node) string {
	switch {
	case n.Kind == "bend" && n.Made == "mitred":
		return n.ID + " " + turn(n.Deflection)
	case n.Kind == "bend":
		return joined(", ", n.ID+" "+turn(n.Deflection), "cast "+n.Fitting)
	case n.Kind == "tee" || n.Kind == "cross" || n.Kind == "transition":
		word := n.Kind
		if n.Kind == "transition" {
			word = d.words.transition
		}
		if n.Made == "casting" {
			word = "cast " + word
		}
		return joined(", ", n.ID+" "+word, n.Fitting)
	case n.Made == "end plate":
		return joined(", ", n.ID+" "+d.words.endPlate, n.Note)
	}
	return joined(", ", joined(" ", n.ID, endWords(n.Made)), n.Note)
}

func endWords(made string) string {
	switch made {
	case "building":
		return "building wall"
	case "temporary":
		return "temporary end"
	case "existing":
		return "existing trench"
	case "open":
		return "open end"
	}
	return made
}

// unitFlags say what cannot be seen of a special unit: its length, its cut, that it waits, what was found of it.
func (d *draft) unitFlags(r *row) []pennant {
	var out []pennant
	z := d.style.strip()
	for _, c := range r.cells {
		if c.unit < 0 {
			continue
		}
		u := d.plan.Units[c.unit]
		if u.Cut || u.Hold {
			out = append(out, pennant{x: c.x + float64(c.width/2), text: d.unitWords(u), foot: z.flags - z.laneDrop - z.lane})
		}
	}
	return out
}

func (d *draft) unitWords(u planner.Unit) string {
	text := u.Mark + ", " + d.length(u.Length)
	if u.Hold {
		text = fmt.Sprintf("%s, HOLD, cut from measurement, planned %s", u.Mark, d.length(u.Length))
	}
	for _, a := range []float64{u.StartAngle, u.EndAngle} {
		if a != 0 {
			text += ", saw " + angle(a)
		}
	}
	var names []string
	for _, c := range d.concerns(anyFinding) {
		if c.Where.Place == u.Mark {
			names = append(names, c.name)
		}
	}
	return joined(", ", text, strings.Join(names, " "))
}
