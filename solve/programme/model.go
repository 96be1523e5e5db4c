package programme

import (
	"math"
	"slices"

	"trenchwright/base/measure"
)

// model is a problem made ready: every activity as every way of its line works it, and the links that each choice of ways brings.
type model struct {
	p       *Problem
	hours   []hours
	gangs   []int    // calendar of each gang
	line    []int    // of each activity; -1: it has no dates
	runs    [][]*run // by activity, by way
	ways    []int    // of each turn: how many
	lines   [][]int  // by turn
	undated []int    // lines
	chained [][][]bond
	follows [][][]bond // by follow, by way of the one and the other: one*ways of the other+other
	gates   [][]gate   // by activity
	opens   []int      // by activity: its pair; -1: none
	closes  []int
}

type gate struct {
	index    int
	from, to measure.Length // chainage
	at       int64
}

// compile makes a problem without faults ready.
func compile(p *Problem) *model {
	n := len(p.Activities)
	m := &model{p: p, line: filled(n, -1), runs: make([][]*run, n), gates: make([][]gate, n), opens: filled(n, -1), closes: filled(n, -1)}
	var known []known
	undated := m.without()
	for i, g := range p.Gangs {
		same := slices.IndexFunc(p.Gangs[:i], func(o Gang) bool { return slices.Equal(o.Calendar, g.Calendar) })
		if same >= 0 {
			m.gangs = append(m.gangs, m.gangs[same])
			continue
		}
		m.gangs = append(m.gangs, m.calendar(&known, len(m.hours), joined(g.Calendar), nil, nil))
	}
	for i := range p.Lines {
		l := &p.Lines[i]
		for len(m.ways) <= l.Turn {
			m.ways, m.lines = append(m.ways, 1), append(m.lines, nil)
		}
		m.ways[l.Turn] = len(l.Ways)
		if undated[i] {
			m.undated = append(m.undated, i)
			continue
		}
		m.lines[l.Turn] = append(m.lines[l.Turn], i)
		for k, a := range l.Activities {
			m.line[a] = i
			act := &p.Activities[a]
			for _, w := range l.Ways {
				g, down := w.Up, false
				if k >= w.Split {
					g, down = w.Down, true
				}
				rate, _ := p.Gangs[g].rate(l.Work)
				m.runs[a] = append(m.runs[a], pace(act, rate, g, down, m.calendar(&known, m.gangs[g], p.Gangs[g].Calendar, act.Only, act.Not)))
			}
		}
	}
	m.chained = make([][][]bond, len(p.Lines))
	for i := range p.Lines {
		m.chained[i] = make([][]bond, len(p.Lines[i].Ways))
	}
	m.follows = make([][][]bond, len(p.Follows))
	for i, f := range p.Follows {
		m.follows[i] = make([][]bond, len(p.Lines[f.Before].Ways)*len(p.Lines[f.After].Ways))
	}
	m.gated()
	if p.Open != nil {
		for i, o := range p.Open.Pairs {
			if m.line[o.Opens] >= 0 && m.line[o.Closes] >= 0 {
				m.opens[o.Opens], m.closes[o.Closes] = i, i
			}
		}
	}
	return m
}

func filled(n, with int) []int { return slices.Repeat([]int{with}, n) }

func (g *Gang) rate(work string) (float64, bool) {
	for _, r := range g.Rates {
		if r.Work == work {
			return r.PerHour, true
		}
	}
	return 0, false
}

// without are the lines that have no dates: a rate or a quantity is not on file, or they follow one that has none.
func (m *model) without() []bool {
	p := m.p
	out := make([]bool, len(p.Lines))
	for i, l := range p.Lines {
		for _, a := range l.Activities {
			out[i] = out[i] || len(p.Activities[a].Content) == 0
		}
		for _, w := range l.Ways {
			for part, g := range [2]int{w.Up, w.Down} {
				if part == 0 && w.Split > 0 || part == 1 && w.Split < len(l.Activities) {
					_, ok := p.Gangs[g].rate(l.Work)
					out[i] = out[i] || !ok
				}
			}
		}
	}
	for more := true; more; {
		more = false
		for _, f := range p.Follows {
			if out[f.Before] && !out[f.After] {
				out[f.After], more = true, true
			}
		}
	}
	return out
}

// known is a calendar that is ready: that of a gang within and without something.
type known struct {
	gang      int
	only, not []Span
}

// calendar is the number of one; those that are alike are one, so that links within it are plain sums.
func (m *model) calendar(all *[]known, gang int, of, only, not []Span) int {
	for i, k := range *all {
		if k.gang == gang && (k.only == nil) == (only == nil) && slices.Equal(k.only, only) && slices.Equal(k.not, not) {
			return i
		}
	}
	*all = append(*all, known{gang, only, not})
	spans := within(joined(of), []Span{{m.p.Start, Moment(math.MaxInt64)}})
	if only != nil {
		spans = within(spans, joined(only))
	}
	m.hours = append(m.hours, hoursOf(without(spans, joined(not))))
	return len(m.hours) - 1
}

// gated gives every activity what its stretch has to wait for.
func (m *model) gated() {
	for i, g := range m.p.Gates {
		for _, a := range m.p.Lines[g.Line].Activities {
			held, act := gate{index: i, at: int64(g.At)}, &m.p.Activities[a]
			for k := 1; k < len(act.Content); k++ { // where there is nothing to do nothing waits
				lo, hi := act.Content[k-1], act.Content[k]
				if from, to := max(g.From, lo.At), min(g.To, hi.At); from < to && hi.Done > lo.Done {
					if held.to == held.from {
						held.from = from
					}
					held.to = to
				}
			}
			if m.line[a] >= 0 && held.from < held.to {
				m.gates[a] = append(m.gates[a], held)
			}
		}
	}
}

// opened is the first place at which a run may begin for the sake of its gates, and the gate; -1: none holds it.
func (m *model) opened(a int, r *run) (int64, int) {
	best, by := int64(0), -1
	act := &m.p.Activities[a]
	for _, g := range m.gates[a] {
		u := g.from - act.From
		if r.down {
			u = act.To - g.to
		}
		if at := roundedUp(float64(m.hours[r.hours].place(g.at)) - r.until(metres(u))); at > best {
			best, by = at, g.index
		}
	}
	return best, by
}

// stretch is a part of a line that is worked one way, by chainage: from lo to hi.
type stretch struct {
	acts   []int
	lo, hi float64
	down   bool
}

func (m *model) stretches(line, way int) []stretch {
	l := &m.p.Lines[line]
	w := l.Ways[way]
	var out []stretch
	for part, acts := range [2][]int{l.Activities[:w.Split], l.Activities[w.Split:]} {
		if len(acts) > 0 {
			out = append(out, stretch{acts, metres(m.p.Activities[acts[0]].From), metres(m.p.Activities[acts[len(acts)-1]].To), part == 1})
		}
	}
	return out
}

// chain are the bonds along a line: every stretch waits for the one before it in the way that the gang goes.
func (m *model) chain(line, way int) []bond {
	if m.chained[line][way] == nil {
		out := []bond{}
		for _, s := range m.stretches(line, way) {
			for k := 1; k < len(s.acts); k++ {
				before, after := s.acts[k-1], s.acts[k]
				if s.down {
					before, after = after, before
				}
				a := m.runs[before][way]
				out = append(out, m.tie(behind(before, after, a.at[len(a.at)-1], SameLine), a, m.runs[after][way]))
			}
		}
		m.chained[line][way] = out
	}
	return m.chained[line][way]
}

// followed are the bonds of a follow for two ways.
func (m *model) followed(i, one, other int) []bond {
	f := &m.p.Follows[i]
	at := one*len(m.p.Lines[f.After].Ways) + other
	if m.follows[i][at] != nil {
		return m.follows[i][at]
	}
	out := []bond{}
	ahead := metres(f.Behind)
	for _, s := range m.stretches(f.Before, one) {
		for k, b := range s.acts {
			from, to := metres(m.p.Activities[b].From), metres(m.p.Activities[b].To)
			// where the follower may be so that what it waits for lies on this stretch: the last one of a gang counts for all beyond it
			lo, hi := max(from-ahead, s.lo), to-ahead
			if s.down {
				lo, hi = from+ahead, min(to+ahead, s.hi)
			}
			if !s.down && k == len(s.acts)-1 {
				hi = s.hi
			}
			if s.down && k == 0 {
				lo = s.lo
			}
			for _, after := range m.p.Lines[f.After].Activities {
				l, ok := m.meet(after, b, lo, hi, ahead, s.down, m.runs[after][other].down)
				if ok {
					l.wait, l.work, l.kind = int64(f.Wait), int64(f.Work), Following
					out = append(out, m.tie(l, m.runs[b][one], m.runs[after][other]))
				}
			}
		}
	}
	m.follows[i][at] = out
	return out
}

// meet is the link of a follower to an activity where the follower is between two chainages.
func (m *model) meet(after, before int, lo, hi, ahead float64, beforeDown, afterDown bool) (link, bool) {
	a, b := &m.p.Activities[after], &m.p.Activities[before]
	from, to := metres(a.From), metres(a.To)
	lo, hi = max(lo, from), min(hi, to)
	if lo >= hi {
		return link{}, false
	}
	out := link{before: before, after: after, lo: lo - from, hi: hi - from, turned: beforeDown != afterDown}
	if afterDown {
		out.lo, out.hi = to-hi, to-lo
	}
	// chainage x = from+u or to-u; the other has come by x+ahead-its from, or by its to-(x-ahead)
	switch x := choose(afterDown, to, from); beforeDown {
	case false:
		out.shift = x + ahead - metres(b.From)
	default:
		out.shift = metres(b.To) - x + ahead
	}
	return out, true
}

func choose[T any](first bool, a, b T) T {
	if first {
		return a
	}
	return b
}

// bonds are all that a choice of ways brings, but those of gangs.
func (m *model) bonds(turns []int) [][]bond {
	out := make([][]bond, len(m.p.Activities))
	put := func(all []bond) {
		for _, b := range all {
			out[b.after] = append(out[b.after], b)
		}
	}
	for i := range m.p.Lines {
		if m.dates(i) {
			put(m.chain(i, turns[m.p.Lines[i].Turn]))
		}
	}
	for i, f := range m.p.Follows {
		if m.dates(f.Before) && m.dates(f.After) {
			put(m.followed(i, turns[m.p.Lines[f.Before].Turn], turns[m.p.Lines[f.After].Turn]))
		}
	}
	return out
}

// dates tells whether a line has dates.
func (m *model) dates(line int) bool {
	l := &m.p.Lines[line]
	return len(l.Activities) > 0 && m.line[l.Activities[0]] >= 0
}
