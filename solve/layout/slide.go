package layout

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// Closers belong where a gang can reach and measure them: not beside a fixed end, not under a zone or a crossing, not beside
// another cut piece. A closer exchanged with a whole neighbour leaves everything else in place and costs nothing, so
// closers slide along while that betters them.

// farSlots is how many neighbours a closer may pass.
const farSlots = 32

// slide betters the places of closers, from the last to the first.
func (r *route) slide() {
	for range 2 {
		for i := len(r.links) - 1; i >= 0; i-- {
			if r.movable(i) && r.links[i].piece.cut && len(r.against(i)) > 0 {
				r.better(i)
			}
		}
	}
}

// better tries the slots before and behind a closer and keeps the nearest of the best.
func (r *route) better(at int) {
	best, bestAt, before := len(r.against(at)), at, r.about(at)
	for _, way := range []int{-1, 1} {
		i := at
		for range farSlots {
			if !r.exchange(i, i+way) {
				break
			}
			i += way
			if n := len(r.against(i)); n < best {
				best, bestAt = n, i
			}
			if best == 0 {
				break
			}
		}
		r.restore(before)
	}
	for i := at; i < bestAt; i++ {
		r.exchange(i, i+1)
	}
	for i := at; i > bestAt; i-- {
		r.exchange(i, i-1)
	}
}

// slots is a copy of the slots about one.
type slots struct {
	from  int
	links []link
	x, d  []nm
}

func (r *route) about(at int) slots {
	from, to := max(0, at-farSlots), min(len(r.links), at+farSlots+1)
	return slots{from, slices.Clone(r.links[from:to]), slices.Clone(r.x[from:to]), slices.Clone(r.d[from:to])}
}

func (r *route) restore(s slots) {
	copy(r.links[s.from:], s.links)
	copy(r.x[s.from:], s.x)
	copy(r.d[s.from:], s.d)
}

// movable tells whether a piece is neither mitred nor given.
func (r *route) movable(i int) bool {
	return i >= 0 && i < len(r.links) && i >= len(r.g.p.First) &&
		(i > 0 || !r.g.p.Start.Mitred) && (i < len(r.links)-1 || !r.g.p.End.Mitred)
}

// exchange swaps two neighbours if one of them is whole and every rule still holds. Joints keep their widths.
func (r *route) exchange(i, j int) bool {
	if i > j {
		i, j = j, i
	}
	if !r.movable(i) || !r.movable(j) {
		return false
	}
	a, b := r.links[i], r.links[j]
	if a.piece.supply != b.piece.supply || a.piece.cut && b.piece.cut || !r.g.kindAt(r.x[i]).geometry.plain() || r.g.kindAt(r.x[i]) != r.g.kindAt(r.x[j]) {
		return false
	}
	joint := r.x[j] - r.x[i] - r.d[i]
	end := r.x[i] + r.d[j]
	if r.g.kindAt(end+joint) != r.g.kindAt(r.x[i]) {
		return false
	}
	part := r.partOf(interval{end, end + joint}, a.part)
	if part < 0 {
		return false
	}
	before := -1
	if i > 0 {
		before = r.links[i-1].part
	}
	first, ok := r.refit(place{interval{r.x[i], r.x[i]}, before, r.g.kindAt(r.x[i]), i == 0}, b.piece, r.d[j], end+joint, part)
	if !ok {
		return false
	}
	behind := r.g.end
	if j < len(r.links)-1 {
		behind = r.x[j+1]
	}
	second, ok := r.refit(place{x: interval{end + joint, end + joint}, part: part, kind: r.g.kindAt(end + joint)}, a.piece, r.d[i], behind, b.part)
	if !ok {
		return false
	}
	r.links[i], r.links[j] = first, second
	r.x[j] = end + joint
	r.d[i], r.d[j] = r.d[j], r.d[i]
	return true
}

// partOf is the part of the axis that a joint lies in, looked for about a known one; -1 if it lies in none.
func (r *route) partOf(joint interval, about int) int {
	for i := about; i >= 0 && r.g.parts[i].hi >= joint.lo; i-- {
		if r.parts[i].lo <= joint.lo && joint.hi <= r.parts[i].hi {
			return i
		}
	}
	for i := about + 1; i < len(r.parts) && r.g.parts[i].lo <= joint.hi; i++ {
		if r.parts[i].lo <= joint.lo && joint.hi <= r.parts[i].hi {
			return i
		}
	}
	return -1
}

// refit is the link of a piece laid elsewhere, if the rules there let it lie at the same cost.
func (r *route) refit(at place, piece *entry, d, next nm, part int) (link, bool) {
	var out link
	found := false
	r.g.each(at, func(e *entry, lim limits, last bool) bool {
		end := at.x.lo + d
		if last == (part < 0) && e.cost == piece.cost && e.supply == piece.supply && e.advance.holds(d) && lim.end.holds(end) && next <= lim.next {
			out, found = link{e, r.g.around(at), lim.end, lim.next, part}, true
		}
		return !found
	})
	return out, found
}

// against lists what speaks against a closer where it lies.
func (r *route) against(i int) []string {
	var out []string
	n := len(r.links) - 1
	s, e := r.g.p.Start, r.g.p.End
	if i == 0 && (s.Fixed || s.Mitred) || i == n && (e.Fixed || e.Mitred) {
		out = append(out, "it lies beside a fixed end")
	}
	if i > 0 && r.links[i-1].piece.cut || i < n && r.links[i+1].piece.cut {
		out = append(out, r.g.p.tell("it lies beside another cut %s", wording.Unit))
	}
	if v := r.g.busy.and(set{{r.x[i] + 1, r.x[i] + r.d[i] - 1}}); len(v) > 0 {
		out = append(out, fmt.Sprintf("it lies under a zone or crossing at %s", r.g.p.say(v[0].lo-1)))
	}
	return out
}

// busyGround is the inside of every zone, crossing and demand.
func (p *Problem) busyGround() set {
	var all []interval
	for _, z := range slices.Concat(p.Zones, p.NoCut) {
		all = append(all, interval{z.From + 1, z.To - 1})
	}
	for _, d := range p.Demands {
		all = append(all, interval{d.From + 1, d.To - 1})
	}
	return union(all)
}

// hold marks the closer that is best cut from a measurement: the one with least against it, the latest of them.
func (r *route) hold(units []Unit) string {
	at, least := -1, 0
	for i := len(units) - 1; i >= 0; i-- {
		if n := len(r.against(i)); units[i].Cut && (at < 0 || n < least) {
			at, least = i, n
		}
	}
	if at < 0 {
		return r.g.p.tell("no %s is cut, so none can be held: drift has to go into the gaps", wording.Unit)
	}
	units[at].Hold = true
	long := units[at].Length
	step := measure.Millimetre // it is cut to a measurement: nobody needs less here
	if r.g.p.Words.Imperial {
		step = measure.Sixteenth
	}
	long = (long + step/2) / step * step
	text := r.g.p.tell("%s %d, %s by the plan", wording.Unit, at+1, r.g.p.say(long))
	if least > 0 {
		text += ", although " + strings.Join(r.against(at), " and ")
	}
	return text
}
