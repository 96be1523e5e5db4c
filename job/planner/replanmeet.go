package planner

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/solve/layout"
)

// Where gangs meet. What lies beyond a gap stays where it was measured; the gap itself is closed as any rest of a leg is (lying.go).
// How wide it is comes from both faces, or from the gap behind the unit before it as somebody measured it clear at both walls.

// Meeting is a gap between two units that lie.
type Meeting struct {
	Before string      `json:"before"` // the last unit that lies before it; empty: it begins where the leg is laid from
	Behind string      `json:"behind"` // the first one beyond
	Clear  measure.MM  `json:"clear_mm"`
	Left   *measure.MM `json:"left_mm"` // clear at the walls, as it was measured; null: it follows from where both faces lie
	Right  *measure.MM `json:"right_mm"`
	Record string      `json:"record"` // that measured it clear
}

// skew is by how much the left wall's clear is more than the right one's.
func (m *Meeting) skew() measure.Length {
	if m.Left == nil || m.Right == nil {
		return 0
	}
	return measure.Length(*m.Left - *m.Right)
}

// Closes is how an answer closes a gap whose walls were measured, or that is closed by a cut piece.
type Closes struct {
	Before string     `json:"before"`
	Behind string     `json:"behind"`
	Place  string     `json:"place"` // of the piece that is cut for it; empty: the joints take the difference of the walls
	Length measure.MM `json:"length_mm"`
	Left   measure.MM `json:"left_mm"` // along its walls
	Right  measure.MM `json:"right_mm"`
	Stock  measure.MM `json:"stock_mm"`
	Opens  measure.MM `json:"opens_mm"` // every joint of the gap opens by so much more at the longer wall, and less at the other
}

// meets finds what lies beyond gaps, and has the leg know it as single units.
func (h *ahead) meets(r *LegReplan, set map[string]*field.UnitState, counted map[string]bool, end measure.Length) {
	lies := func(k int) bool { u := set[h.units[k].Mark]; return u != nil && u.Set.Is == field.Yes }
	h.all = h.planned(0)
	for k := range h.lie {
		h.all[k].unit.Start += h.lie[k]
	}
	h.asDrawn = true
	p := &h.q.problem
	before, after := r.Last, r.Set-1
	for from := r.Set + 1; from < len(h.units); from++ {
		if !lies(from) {
			continue
		}
		to := from
		for to < len(h.units) && lies(to) {
			r.Apart = append(r.Apart, h.units[to].Mark)
			to++
		}
		off := h.offs(set, counted, from, to)
		m := Meeting{Before: before, Behind: h.units[from].Mark}
		at := h.starts[from] + off[0]
		if u := set[h.units[from].Mark]; u.Length != nil && u.Length.Known && !h.units[from].Cut && !counted[u.Length.Readings[0].By] {
			at -= u.Length.Value - measure.Length(h.units[from].Length)
		}
		if after >= 0 {
			if u := set[h.units[after].Mark]; u.Left != nil && u.Right != nil && u.Left.Known && u.Right.Known {
				left, right := measure.MM(u.Left.Value), measure.MM(u.Right.Value)
				m.Left, m.Right, m.Record = &left, &right, u.Left.Readings[0].By
				if !counted[m.Record] {
					at = end + p.Opening(end, (u.Left.Value+u.Right.Value)/2)
					h.read = append(h.read, m.Record)
				}
			}
		}
		last := to - 1
		g := gang{from: from, to: to, place: m.Behind, at: at, end: h.starts[last] + h.takes[last] + off[len(off)-1], last: to == len(h.units)}
		g.after = max(slices.IndexFunc(p.Supplies, func(s layout.Supply) bool { return s.Name == h.units[last].Supply }), 0)
		h.all[from].unit.Start = at
		for k := from + 1; k < to; k++ {
			h.all[k].unit.Start += off[k-from]
		}
		h.asDrawn = h.asDrawn && at == h.starts[from] && (g.last || g.end == h.starts[last]+h.takes[last])
		if m.Clear = measure.MM(p.Width(at, at-end)); at <= end {
			r.Answer = CannotSay
			r.Findings = append(r.Findings, finding.Finding{ID: "replan.overlap", Kind: finding.Attention, Where: finding.Where{Leg: r.Leg, Place: m.Behind},
				Text: fmt.Sprintf("By what was measured %s begins before %s ends.", m.Behind, before), Try: "Measure the gap between them clear at both walls, and record it behind " + before + "."})
			return
		}
		r.Meets, h.beyond = append(r.Meets, m), append(h.beyond, g)
		before, after, end = h.units[last].Mark, last, g.end
		from = last
	}
	if len(h.beyond) > 0 && r.Answer != CannotSay {
		h.single(r)
	}
}

// offs is how far the ends of units from one to another are off their places. Where nobody measured, they lie as those beside them do.
func (h *ahead) offs(set map[string]*field.UnitState, counted map[string]bool, from, to int) []measure.Length {
	off, known := make([]measure.Length, to-from), []int{}
	for k := from; k < to; k++ {
		if m := set[h.units[k].Mark].End; m != nil && m.Known {
			if known = append(known, k-from); !counted[m.Readings[0].By] {
				off[k-from] = m.Value
				h.read = append(h.read, m.Readings[0].By)
			}
		}
	}
	if len(known) == 0 {
		return off
	}
	for i := range off {
		next, _ := slices.BinarySearch(known, i)
		switch {
		case next == len(known):
			off[i] = off[known[next-1]]
		case next == 0 || known[next] == i:
			off[i] = off[known[next]]
		default:
			a, b := known[next-1], known[next]
			off[i] = off[a] + (off[b]-off[a])*measure.Length(i-a)/measure.Length(b-a)
		}
	}
	return off
}

// single has the leg's units, joints and problem know what lies beyond gaps as single units.
func (h *ahead) single(r *LegReplan) {
	h.whole, h.first = h.q.problem, len(h.q.problem.Supplies)
	h.q.problem = closed(h.q.problem, h.beyond)
	h.asked = h.q.problem.Zones
	h.q.problem.Zones = slices.Clone(h.asked)
	h.full = nil
	units, starts, takes, joints := h.units, h.starts, h.takes, h.joints
	h.units, h.starts, h.takes, h.joints = nil, nil, nil, nil
	var left measure.Length
	for k, n := 0, 0; k < len(units); k++ {
		h.full = append(h.full, k)
		last := k
		if n < len(h.beyond) && h.beyond[n].from == k {
			g := &h.beyond[n]
			u := units[k]
			u.Length, u.Stock, u.Cut, u.Supply = measure.MM(g.seen()), measure.MM(g.seen()), false, h.q.problem.Supplies[h.first+n].Name
			h.units, h.starts, h.takes = append(h.units, u), append(h.starts, g.at-left), append(h.takes, g.seen())
			left += g.out
			last, n = g.to-1, n+1
		} else {
			h.units, h.starts, h.takes = append(h.units, units[k]), append(h.starts, starts[k]-left), append(h.takes, takes[k])
		}
		if k = last; k < len(joints) {
			h.joints = append(h.joints, joints[k])
		}
	}
	h.length -= left
}

// seen is a chainage along the laying as the leg's problem has it; false: units lie there.
func (h *ahead) seen(x measure.Length) (measure.Length, bool) {
	var left measure.Length
	for _, g := range h.beyond {
		if x >= g.at && x < g.end {
			return 0, false
		}
		if x >= g.end {
			left += g.out
		}
	}
	return x - left, true
}

// lastOf are the last units of what lies beyond gaps, by their first.
func (h *ahead) lastOf() map[string]string { return lastOf(h.all, h.beyond) }

// between are the units of each gap; what is behind the last one is left out.
func (h *ahead) gaps(units []layout.Unit) (out [][2]int) {
	from := 0
	for i, u := range units {
		if u.Supply >= h.first && len(h.beyond) > 0 {
			out = append(out, [2]int{from, i})
			from = i + 1
		}
	}
	return out
}

// closing says how the gaps are closed: which piece is cut for each, with its length at both walls. False: the walls of one differ by
// more than a cut piece or the joints take, and why says so.
func (h *ahead) closing(r *LegReplan, o *Offer, units []layout.Unit, end measure.Length) bool {
	for i, g := range h.gaps(units) {
		m := &r.Meets[i]
		skew, at := m.skew(), -1
		for k := g[0]; k < g[1]; k++ {
			if units[k].Cut {
				at = k
			}
		}
		c := Closes{Before: m.Before, Behind: m.Behind}
		if at < 0 && skew == 0 {
			continue
		}
		var room measure.Length // of all joints together, at one wall against the other
		least, joints := measure.Length(1)<<40, measure.Length(g[1]-g[0]+1)
		for k := g[0]; k <= g[1]; k++ {
			before := end
			if k > 0 {
				before = units[k-1].Start + units[k-1].Advance
			}
			gap := h.q.problem.Width(units[k].Start, units[k].Start-before)
			w := h.windowAt(units, k)
			mine := max(0, min(gap-w.Min, w.Max-gap))
			least, room = min(least, mine), room+2*mine
		}
		each := (skew.Abs() + 2*joints - 1) / (2 * joints)
		if at >= 0 {
			u := units[at]
			c.Place, c.Length, c.Stock = o.called[at], measure.MM(u.Length), measure.MM(u.Stock)
			c.Left, c.Right = c.Length, c.Length
			s := &h.q.problem.Supplies[u.Supply]
			half := skew / 2
			if short, long := u.Length-half.Abs(), u.Length+half.Abs(); short >= s.ShortestCut && long <= longestOf([]layout.Supply{*s})-s.LeastSlice && (each > least || skew == 0) {
				c.Left, c.Right = c.Left+measure.MM(half), c.Right-measure.MM(half)
				o.Closes = append(o.Closes, c)
				continue
			}
		}
		if each > least && !h.chosen(r, units, m.Record) {
			h.why = append(h.why, h.b.tell("The walls between %s and %s differ by %s; the %d joints there take %s, and no cut piece there can be sawn so.", m.Before, m.Behind, skew.Abs(), int(joints), min(room, 2*least*joints)))
			return false
		}
		c.Opens = measure.MM(each)
		o.Closes = append(o.Closes, c)
	}
	return true
}

// chosen tells whether units are as a person chose them for what a record measured: windows that their levels left narrower since then
// do not speak against that.
func (h *ahead) chosen(r *LegReplan, units []layout.Unit, record string) bool {
	if h.leg.Built == nil || !slices.Contains(h.leg.Built.Counted, record) || r.Set+len(units) != len(h.units) {
		return false
	}
	for k := range units {
		if units[k].Start != h.starts[r.Set+k] || units[k].Length != measure.Length(h.units[r.Set+k].Length) {
			return false
		}
	}
	return true
}

// windowAt is what the joint before a unit to come may have.
func (h *ahead) windowAt(units []layout.Unit, k int) measure.Window {
	supply := 0
	if k > 0 {
		supply = units[k-1].Supply
	}
	least, most := h.q.problem.Window(units[k].Start, supply)
	return measure.Window{Min: least, Max: most}
}

// laidFully are the bricks of units to come with all that lie beyond gaps.
func (h *ahead) laidFully(o *Offer, units []layout.Unit, called []string) []brick {
	var out []brick
	var left measure.Length
	for i, u := range units {
		if n := u.Supply - h.first; len(h.beyond) > 0 && n >= 0 {
			g := &h.beyond[n]
			for _, b := range h.all[g.from:g.to] {
				b.with, b.of = h.with[b.name], h.a.of[b.name]
				out = append(out, b)
			}
			left += g.out
			continue
		}
		b := brick{name: called[i], unit: u, cut: u.Cut}
		b.unit.Start += left
		b.unit.Hold = slices.ContainsFunc(o.Closes, func(c Closes) bool { return c.Place == b.name && c.Left != c.Right })
		out = append(out, b)
	}
	return out
}

// beyondAs is what a job says of units that lie beyond gaps.
func (h *ahead) beyondAs() (out []job.Lying) {
	for _, g := range h.beyond {
		one, last := job.Lying{From: g.place}, &h.all[g.to-1]
		if last.name != g.place {
			one.To = last.name
		}
		if made := last.unit.Start + h.whole.Advance(last.unit.Start, last.unit.Length); !g.last && (g.end-made).Abs() > asRounded {
			one.End = g.end
		}
		out = append(out, one)
	}
	return out
}

// toLay are the units of an answer without those that lie, and their places.
func (h *ahead) toLay(units []layout.Unit, called []string) ([]layout.Unit, []string) {
	if len(h.beyond) == 0 {
		return units, called
	}
	var left []layout.Unit
	var names []string
	for i, u := range units {
		if u.Supply < h.first {
			left, names = append(left, u), append(names, called[i])
		}
	}
	return left, names
}

// unclosed says of every gap that cannot be closed why, with what was measured and what to try.
func (h *ahead) unclosed(r *LegReplan) {
	for i, m := range r.Meets {
		g := &h.beyond[i]
		gap := h.whole.Supplies[0].Gap.Nominal
		from := g.at - h.whole.Opening(g.at, measure.Length(m.Clear)) + gap
		fill := func(more measure.Length, before bool) layout.Solution {
			q := layout.Problem{Length: measure.Length(m.Clear) - 2*gap + more, Supplies: h.whole.Supplies, Show: h.whole.Show, Words: h.whole.Words}
			x := from
			if before {
				x -= more
			}
			for _, z := range h.q.problem.Zones {
				if z.To > x && z.From < x+q.Length {
					q.Zones = append(q.Zones, layout.Zone{From: z.From - x, To: z.To - x, Why: z.Why})
				}
			}
			if q.Length <= 0 {
				return layout.Solution{Verdict: layout.Impossible, Why: h.b.tell("two gaps of %s take all of it", gap)}
			}
			s, err := layout.Solve(q)
			if err != nil {
				return layout.Solution{Verdict: layout.Undecided}
			}
			return s
		}
		s := fill(0, false)
		if s.Verdict != layout.Impossible {
			continue
		}
		f := finding.Finding{ID: "replan.no-closing", Kind: finding.Impossible, Where: finding.Where{Leg: r.Leg, Place: m.Before},
			Text: h.b.tell("Between %s and %s are %s clear, and nothing closes that: %s.", before(m), m.Behind, measure.Length(m.Clear), strings.Replace(s.Why, "leg ", "a piece of ", 1))}
		var try []string
		for _, lift := range []struct {
			place  string
			length measure.Length
			before bool
		}{{m.Before, h.takenBy(m.Before), true}, {m.Behind, h.takenBy(m.Behind), false}} {
			if lift.length == 0 {
				continue
			}
			if s := fill(lift.length+gap, lift.before); s.Verdict == layout.Found {
				try = append(try, h.b.tell("lift %s again: then %s close it, %s of them cut", lift.place, plural(s.Count.Units, h.b.speech().Word(wording.Unit), h.b.speech().Word(wording.Units)), fmt.Sprint(s.Count.Cuts)))
			}
		}
		if f.Try = strings.Join(try, "; or "); f.Try == "" {
			f.Try = "Measure the gap once more at both walls; or lift more units on either side."
		}
		r.Findings = append(r.Findings, f)
	}
}

func before(m Meeting) string {
	if m.Before == "" {
		return "the start of the leg"
	}
	return m.Before
}

// takenBy is what a unit that lies covers of the leg.
func (h *ahead) takenBy(place string) measure.Length {
	i := slices.IndexFunc(h.all, func(b brick) bool { return b.name == place })
	if i < 0 {
		return 0
	}
	return h.all[i].unit.Advance
}
