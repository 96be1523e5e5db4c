package planner

import (
	"cmp"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/solve/layout"
)

// Gangs that meet. Units that lie beyond a gap are seen by the leg programme as one unit of a supply of their own: it is whole, has one
// length, is asked for where they lie and starts exactly there. So each gap is planned between two faces that lie, all gaps of a leg at
// once, and the proof of what is left of the leg is a proof of every gap. So that the programme does not look over hundreds of metres
// for that one unit, it is no longer than the longest unit that is made: the leg is shorter by what is left out, and is laid out in full
// again once it is solved.

// gang is units that lie beyond a gap, as another gang laid them.
type gang struct {
	from, to int            // of the units in laying order: [from, to)
	place    string         // its first unit
	at, end  measure.Length // from the start of that to the end of its last one, along the laying
	after    int            // supply of the last one
	last     bool           // it reaches to the end of the leg
	out      measure.Length // what the programme leaves out of it
}

// seen is how long the programme sees it.
func (l *gang) seen() measure.Length { return l.end - l.at - l.out }

// closed is a leg with what lies beyond gaps as single units, one supply for each behind the others; the stretches learn what is left
// out of each.
func closed(p layout.Problem, beyond []gang) layout.Problem {
	p.Supplies = slices.Clone(p.Supplies)
	first := len(p.Supplies)
	for i := range beyond {
		l := &beyond[i]
		s := p.Supplies[l.after]
		if l.last {
			l.end = p.Length
		}
		l.out = max(0, l.end-l.at-longestOf(p.Supplies[:first]))
		p.Supplies = append(p.Supplies, layout.Supply{Name: "what lies from " + l.place + " on", Stocks: []layout.Stock{{Length: l.seen()}}, Gap: s.Gap, ShortestCut: l.seen() + 1, Width: s.Width})
	}
	for i := len(beyond) - 1; i >= 0; i-- {
		p = beyond[i].in(p, first+i)
	}
	return p
}

func longestOf(supplies []layout.Supply) (longest measure.Length) {
	for _, s := range supplies {
		for _, k := range s.Stocks {
			longest = max(longest, k.Length)
		}
	}
	return longest
}

// in is a leg with one of them; nothing before it moves.
func (l *gang) in(p layout.Problem, supply int) layout.Problem {
	window := p.Supplies[0].Gap
	least, most := p.Window(l.at, 0)
	nominal := min(max(p.Opening(l.at, window.Nominal), least), most)
	p.Zones, p.NoCut = l.zones(p.Zones), l.zones(p.NoCut)
	var demands []layout.Demand
	for _, d := range p.Demands { // a joint may stand beside what lies, inside what was asked for across it
		if d.From < l.at {
			if to := min(d.To, l.at); to == d.To || to-most > d.From {
				if to != d.To {
					to -= most
				}
				before := d
				before.To = to
				demands = append(demands, before)
			}
		}
		if d.To > l.end {
			if d.From = max(d.From, l.end+most); d.From < d.To {
				d.From, d.To = d.From-l.out, d.To-l.out
				demands = append(demands, d)
			}
		}
	}
	var inside measure.Length // where joints may close up, what touches the face from without is asked for nothing
	if least == 0 {
		inside = measure.Nanometre
	}
	p.Demands = append(demands, layout.Demand{From: l.at + inside, To: l.at + l.seen() - inside, Supply: supply, Why: "what lies from " + l.place + " on"})
	slices.SortFunc(p.Demands, func(a, b layout.Demand) int { return cmp.Compare(a.From, b.From) })
	joints := []layout.ForcedJoint{{At: l.at, Why: "the face of " + l.place + ", which lies"}}
	for _, j := range p.Joints {
		switch {
		case j.At+j.Tolerance < l.at:
			joints = append(joints, j)
		case j.At-j.Tolerance > l.end:
			j.At -= l.out
			joints = append(joints, j)
		}
	}
	slices.SortFunc(joints, func(a, b layout.ForcedJoint) int { return cmp.Compare(a.At, b.At) })
	p.Joints = joints
	p.Stretches = l.stretches(p, measure.Window{Nominal: nominal, Min: least, Max: most})
	p.First = p.First[:min(len(p.First), l.from)]
	p.Length -= l.out
	if l.last {
		p.End = layout.End{}
	}
	return p
}

// zones are those before it and behind it, each up to its face.
func (l *gang) zones(zones []layout.Zone) (out []layout.Zone) {
	for _, z := range zones {
		if z.From < l.at {
			before := z
			before.To = min(z.To, l.at)
			out = append(out, before)
		}
		if z.To > l.end {
			z.From, z.To = max(z.From, l.end)-l.out, z.To-l.out
			out = append(out, z)
		}
	}
	return out
}

// stretches are those of a leg with a straight and level one under what lies: the joint before it keeps its window, as chainage.
func (l *gang) stretches(p layout.Problem, window measure.Window) []layout.Stretch {
	all := p.Stretches
	if len(all) == 0 {
		all = []layout.Stretch{{To: p.Length}}
	}
	under := layout.Stretch{From: l.at, To: l.at + l.seen()}
	var out []layout.Stretch
	for _, s := range all {
		if s.From <= l.at && l.at < s.To && (s.Radius != 0 || s.Run != 0 || s.Gap != (measure.Window{})) {
			under.Gap = window
		}
		if s.From < l.at {
			before := s
			before.To = min(s.To, l.at)
			out = append(out, before)
		}
	}
	out = append(out, under)
	for _, s := range all {
		if s.To > l.end {
			s.From, s.To = max(s.From, l.end)-l.out, s.To-l.out
			out = append(out, s)
		}
	}
	return out
}

// asOne are bricks with what lies beyond gaps as single ones.
func asOne(list []brick, beyond []gang, first int) []brick {
	var out []brick
	var left measure.Length
	for k := 0; k < len(list); k++ {
		if i := slices.IndexFunc(beyond, func(l gang) bool { return l.from == k }); i >= 0 {
			l := &beyond[i]
			out = append(out, brick{name: l.place, unit: layout.Unit{Supply: first + i, Start: l.at - left, Advance: l.seen(), Length: l.seen(), Stock: l.seen()}})
			left += l.out
			k = l.to - 1
			continue
		}
		one := list[k]
		one.unit.Start -= left
		out = append(out, one)
	}
	return out
}

// inFull are units with those that lie in the place of the single ones; each is handed its own. What is left out of them comes back.
func inFull(units []layout.Unit, beyond []gang, first int, of func(l *gang) []layout.Unit) []layout.Unit {
	var out []layout.Unit
	var left measure.Length
	for _, u := range units {
		u.Start += left
		if i := u.Supply - first; i >= 0 && i < len(beyond) {
			real, l := of(&beyond[i]), &beyond[i]
			end := &real[len(real)-1]
			if end.GapAfter = u.GapAfter; !l.last { // it lies up to where it was measured to end
				end.Advance = l.end - end.Start
			}
			out = append(out, real...)
			left += l.out
			continue
		}
		out = append(out, u)
	}
	return out
}

// lastOf are the last units of what lies beyond gaps, by their first.
func lastOf(list []brick, beyond []gang) map[string]string {
	out := map[string]string{}
	for _, g := range beyond {
		out[g.place] = list[g.to-1].name
	}
	return out
}

// lyingOn are the stretches that a job says lie beyond gaps, by bricks of its leg.
func lyingOn(p *layout.Problem, made *job.Built, list []brick) []gang {
	var out []gang
	for _, b := range made.Beyond {
		from := slices.IndexFunc(list, func(k brick) bool { return k.name == b.From })
		to := slices.IndexFunc(list, func(k brick) bool { return k.name == cmp.Or(b.To, b.From) })
		if from < 0 || to < from {
			continue
		}
		last := list[to]
		end := cmp.Or(b.End, last.unit.Start+p.Advance(last.unit.Start, last.unit.Length))
		out = append(out, gang{from: from, to: to + 1, place: b.From, at: list[from].unit.Start, end: end, after: last.unit.Supply, last: to == len(list)-1})
	}
	return out
}
