package planner

import (
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/solve/layout"
)

// A place keeps its name for good. Where the rest of a leg is laid otherwise, as many places as can be keep their piece with their
// name; what is laid beyond them is an insertion (A-017A), and what is laid no more is withdrawn, never to be named again.

// piece is what a place gets, as far as people care.
type piece struct {
	supply int
	length measure.Length
	cut    bool
}

func pieceLaid(u layout.Unit) piece { return piece{u.Supply, u.Length, u.Cut} }

// mostAligned bounds the table in which places are compared: beyond it places are taken one by one.
const mostAligned = 1_000_000

// aligned says for every piece of now which of old it stands for, with as few places as can be that change, are inserted or withdrawn;
// -1: none. The order stands. The number of those is told too.
func aligned(old, now []piece) (match []int, changes int) {
	match = make([]int, len(now))
	front := 0
	for front < len(old) && front < len(now) && old[front] == now[front] {
		match[front] = front
		front++
	}
	back := 0
	for back < len(old)-front && back < len(now)-front && old[len(old)-1-back] == now[len(now)-1-back] {
		back++
		match[len(now)-back] = len(old) - back
	}
	core, changes := alignedCore(old[front:len(old)-back], now[front:len(now)-back])
	for i, k := range core {
		if match[front+i] = k; k >= 0 {
			match[front+i] += front
		}
	}
	return match, changes
}

func alignedCore(old, now []piece) ([]int, int) {
	match := make([]int, len(now))
	n, m := len(old), len(now)
	if n == 0 || m == 0 || (n+1)*(m+1) > mostAligned {
		changes := max(n, m)
		for i := range match {
			match[i] = -1
			if i < n {
				match[i] = i
			}
		}
		for i := range min(n, m) {
			if old[i] == now[i] {
				changes--
			}
		}
		return match, changes
	}
	cost := make([]int32, (n+1)*(m+1)) // of what is left behind old[i] and now[k]
	at := func(i, k int) int { return i*(m+1) + k }
	for i := n; i >= 0; i-- {
		for k := m; k >= 0; k-- {
			switch {
			case i == n:
				cost[at(i, k)] = int32(m - k)
			case k == m:
				cost[at(i, k)] = int32(n - i)
			default:
				pair := cost[at(i+1, k+1)]
				if old[i] != now[k] {
					pair++
				}
				cost[at(i, k)] = min(pair, 1+cost[at(i+1, k)], 1+cost[at(i, k+1)])
			}
		}
	}
	for i, k := 0, 0; k < m; {
		here := cost[at(i, k)]
		switch {
		case i < n && old[i] == now[k] && here == cost[at(i+1, k+1)], i < n && old[i] != now[k] && here == 1+cost[at(i+1, k+1)]:
			match[k] = i
			i, k = i+1, k+1
		case i < n && here == 1+cost[at(i+1, k)]:
			i++
		default:
			match[k] = -1
			k++
		}
	}
	return match, int(cost[0])
}

// given names places: those that stand for an old one keep its name, the others come behind the place before them. None in used is
// given again.
func given(before string, old []string, match []int, used map[string]bool) []string {
	names := make([]string, len(match))
	for i, k := range match {
		if k >= 0 {
			names[i] = old[k]
		} else {
			names[i] = insertion(before, used)
		}
		before, used[names[i]] = names[i], true
	}
	return names
}

// insertion is the next name behind a place: A-017A, A-017B, …
func insertion(before string, used map[string]bool) string {
	stem := strings.TrimRight(before, "ABCDEFGHIJKLMNOPQRSTUVWXYZ")
	for n := 1; ; n++ {
		letters := ""
		for k := n; k > 0; k = (k - 1) / 26 {
			letters = string(rune('A'+(k-1)%26)) + letters
		}
		if name := stem + letters; !used[name] {
			return name
		}
	}
}

// usedOn are all names of places that a leg's built part gives or has given.
func usedOn(made *job.Built) map[string]bool {
	used := map[string]bool{}
	if made == nil {
		return used
	}
	for _, c := range made.Courses {
		if places, err := c.Places(); err == nil {
			for _, name := range places {
				used[name] = true
			}
		}
	}
	for _, name := range made.Withdrawn {
		used[name] = true
	}
	return used
}

// renamed are the bricks of a rest that was laid anew behind what lies.
func renamed(chosen []brick, rest []layout.Unit, leg job.Leg, lastOf map[string]string) []brick {
	out := make([]brick, len(rest))
	called, _, _ := named(leg.Built.To, chosen, rest, usedOn(leg.Built), lastOf)
	for i, u := range rest {
		out[i] = brick{name: called[i], unit: u, cut: u.Cut}
	}
	return out
}

// named gives names to what is laid in the place of what was planned: between what lies, which stays, as many places as can be keep their
// piece with their name. Behind what lies beyond a gap the names follow that of its last unit. Match is by unit the planned one that it
// stands for; -1: none.
func named(before string, planned []brick, units []layout.Unit, used map[string]bool, lastOf map[string]string) (called []string, match []int, changes int) {
	old, now := 0, 0
	for {
		until, to := old, now
		for until < len(planned) && lastOf[planned[until].name] == "" {
			until++
		}
		for to < len(units) && (until == len(planned) || units[to].Supply != planned[until].unit.Supply) {
			to++
		}
		was, is, names := make([]piece, until-old), make([]piece, to-now), make([]string, until-old)
		for i, k := range planned[old:until] {
			was[i], names[i] = pieceLaid(k.unit), k.name
		}
		for i, u := range units[now:to] {
			is[i] = pieceLaid(u)
		}
		part, n := aligned(was, is)
		changes += n
		called = append(called, given(before, names, part, used)...)
		for _, k := range part {
			if k >= 0 {
				k += old
			}
			match = append(match, k)
		}
		if until == len(planned) || to == len(units) {
			return called, match, changes
		}
		called, match = append(called, planned[until].name), append(match, until)
		before, old, now = lastOf[planned[until].name], until+1, to+1
	}
}

// courses are units in laying order as a job has them: what is alike and equally far apart stands in one course.
func courses(list []brick, supplyOf func(int) string) []job.Course {
	var out []job.Course
	for i := 0; i < len(list); {
		k := list[i]
		c := job.Course{From: k.name, Supply: supplyOf(k.unit.Supply), Length: k.unit.Length, Start: k.unit.Start, With: k.with}
		if k.cut {
			c.Stock, c.Hold, c.Of = k.unit.Stock, k.unit.Hold, k.of
		}
		n := 1
		for i+n < len(list) && follows(list[i], list[i+n-1], list[i+n], c.Pitch) {
			c.Pitch, c.To = list[i+n].unit.Start-list[i+n-1].unit.Start, list[i+n].name
			n++
		}
		out = append(out, c)
		i += n
	}
	return out
}

// follows tells whether a unit goes on a course that begins with first and ends with last.
func follows(first, last, next brick, pitch measure.Length) bool {
	alike := pieceLaid(first.unit) == pieceLaid(next.unit) && !first.cut && len(first.with)+len(next.with) == 0
	gap := next.unit.Start - last.unit.Start
	if !alike || pitch != 0 && gap != pitch {
		return false
	}
	numbered, err := job.Course{From: last.name, To: next.name}.Places()
	return err == nil && slices.Equal(numbered, []string{last.name, next.name})
}
