package programme

import (
	"slices"

	"trenchwright/base/finding"
)

// fill writes a plan into a solution: dates, floats, what the end hangs on, what each gang does.
func (m *model) fill(best *plan, out *Solution) {
	out.Turns, out.Order, out.Dates = best.turns, best.order, best.dates
	out.End = Moment(best.end)
	if best.end >= never {
		out.Findings = append(out.Findings, m.endless(best)...)
		return
	}
	if len(best.order) == 0 {
		return
	}
	m.floats(best)
	out.Critical = best.chain()
	for _, a := range out.Critical {
		best.dates[a].Critical = true
	}
	out.Gangs = make([]Load, len(m.p.Gangs))
	for _, a := range best.order {
		d := &best.dates[a]
		g := &out.Gangs[d.Gang]
		if g.Work == 0 && g.End == 0 {
			g.Begin = d.Begin
		}
		g.Begin, g.End, g.Work = min(g.Begin, d.Begin), max(g.End, d.End), g.Work+d.Hours
	}
}

// floats are how far each activity may slip. Its latest beginning puts off neither the end nor, through any activity behind it, the
// end; its free float puts off nothing at all.
func (m *model) floats(p *plan) {
	type waiter struct{ bond *bond }
	behind := make([][]waiter, len(m.line))
	for a := range p.in {
		for i := range p.in[a] {
			b := &p.in[a][i]
			behind[b.before] = append(behind[b.before], waiter{b})
		}
	}
	after := make([][]int, len(m.line)) // what begins once it has ended: its gang's next, what opens behind it
	last := filled(len(m.p.Gangs), -1)
	for _, a := range p.order {
		if b := last[p.dates[a].Gang]; b >= 0 {
			after[b] = append(after[b], a)
		}
		last[p.dates[a].Gang] = a
	}
	for _, h := range p.held {
		after[h[0]] = append(after[h[0]], h[1])
	}
	late := make([]int64, len(m.line))
	for _, a := range slices.Backward(p.order) {
		d := &p.dates[a]
		h := &m.hours[m.run(p, a).hours]
		latest := h.place(p.end) - d.total
		free := latest
		for _, w := range behind[a] {
			latest = min(latest, w.bond.upTo(late[w.bond.after], d.start))
			free = min(free, w.bond.upTo(p.dates[w.bond.after].start, d.start))
		}
		for _, b := range after[a] {
			other := &m.hours[m.run(p, b).hours]
			latest = min(latest, m.endsBy(h, other, late[b])-d.total)
			free = min(free, m.endsBy(h, other, p.dates[b].start)-d.total)
		}
		late[a] = max(latest, d.start)
		d.Latest = Moment(h.starts(late[a]))
		if d.total == 0 && d.Latest >= Moment(never) {
			d.Latest = Moment(h.ends(late[a]))
		}
		d.Total, d.Free = Moment(late[a]-d.start), Moment(max(min(free, late[a])-d.start, 0))
	}
}

func (m *model) run(p *plan, a int) *run { return m.runs[a][p.turns[m.p.Lines[m.line[a]].Turn]] }

// endsBy is the last place of one calendar that is reached before another one goes on from a place.
func (m *model) endsBy(h, other *hours, place int64) int64 {
	if t := other.starts(place); t != never {
		return h.place(t)
	}
	return h.all
}

// endless says which activities do not fit in the hours that they may go on in: the first of each gang.
func (m *model) endless(p *plan) finding.List {
	var out finding.List
	told := map[int]bool{}
	for a := range p.dates {
		d := &p.dates[a]
		if m.line[a] < 0 || d.End < Moment(never) || told[d.Gang] {
			continue
		}
		told[d.Gang] = true
		act, line := &m.p.Activities[a], &m.p.Lines[m.line[a]]
		if !d.dated {
			if m.opens[a] < 0 {
				told[d.Gang] = false // it waits for what is told
				continue
			}
			most := m.p.Words.Length(m.p.Open.Most)
			out = append(out, finding.Finding{ID: "programme.shut", Kind: finding.Impossible, Text: act.Name + " does not begin: with it more would be open than the " + most + " that may be, and nothing that is open is closed before it begins", Limit: most, Value: m.p.Words.Length(m.length(a)),
				Where: finding.Where{Path: m.p.Where.Path, Leg: line.Leg, Chainage: &act.From},
				Try:   "shorter stretches, a smaller buffer in length, gangs that go the same way, or a greater length that somebody answers for"})
			continue
		}
		r := m.run(p, a)
		text := m.p.Words.Say("%s does not come to an end in the hours that are on file for it: it takes %s of work, and %s of them are on file in all", act.Name, InHours(Moment(r.total)), InHours(Moment(m.hours[r.hours].all)))
		out = append(out, finding.Finding{ID: "programme.endless", Kind: finding.Impossible, Text: text, Limit: InHours(Moment(m.hours[r.hours].all)), Value: InHours(Moment(r.total)),
			Where: finding.Where{Path: m.p.Where.Path, Leg: line.Leg, Chainage: &act.From},
			Try:   "a later end of its windows, a notice renewed, more gangs, or a higher rate that somebody answers for"})
	}
	return out
}
