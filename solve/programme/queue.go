package programme

import (
	"container/heap"
	"slices"

	"trenchwright/base/measure"
)

// plan is one programme: the way of every turn, the order in which activities were put in, and the dates that follow.
type plan struct {
	turns, order []int
	dates        []Dates
	end          int64
	sum          int64    // of all ends: of two programmes that end alike the one that is done with more of them sooner
	held         [][2]int // by the limit of what is open: what opens behind what has closed
	in           [][]bond
	open         []int // what was opened, and nothing waited for its close yet
	shut         int   // the last close that something waited for; -1: none
}

// better compares plans.
func (a *plan) better(b *plan) bool { return a.end < b.end || a.end == b.end && a.sum < b.sum }

// ready is a queue of activities by their rank.
type ready struct{ acts, rank []int }

func (q *ready) Len() int           { return len(q.acts) }
func (q *ready) Less(i, k int) bool { return q.rank[q.acts[i]] < q.rank[q.acts[k]] }
func (q *ready) Swap(i, k int)      { q.acts[i], q.acts[k] = q.acts[k], q.acts[i] }
func (q *ready) Push(x any)         { q.acts = append(q.acts, x.(int)) }
func (q *ready) Pop() any {
	last := q.acts[len(q.acts)-1]
	q.acts = q.acts[:len(q.acts)-1]
	return last
}

// net is what a choice of ways brings, with what is counted while activities are put in.
type net struct {
	turns []int
	in    [][]bond
	next  [][]int // what waits for an activity
	waits []int   // for how many an activity waits
}

func (m *model) net(turns []int) *net {
	n := &net{turns: slices.Clone(turns), in: m.bonds(turns), next: make([][]int, len(m.line)), waits: make([]int, len(m.line))}
	for after, bonds := range n.in {
		for _, b := range bonds {
			n.next[b.before] = append(n.next[b.before], after)
			n.waits[after]++
		}
	}
	return n
}

// queued makes a programme: of the activities whose forerunners are all in, the one of least rank is put in next, each at its earliest
// moment behind all that are in. What opens a stretch waits in line while too much is open, so that the limit never locks up.
func (m *model) queued(n *net, rank []int) plan {
	out := plan{turns: n.turns, dates: make([]Dates, len(m.line)), in: n.in, shut: -1}
	left := slices.Clone(n.waits)
	q := &ready{rank: rank}
	for a, line := range m.line {
		if line >= 0 && left[a] == 0 {
			q.acts = append(q.acts, a)
		}
	}
	heap.Init(q)
	last := filled(len(m.p.Gangs), -1)
	var shut []int // what would open too much
	open := measure.Length(0)
	for q.Len() > 0 {
		a := heap.Pop(q).(int)
		if m.opens[a] >= 0 && open+m.length(a) > m.p.Open.Most {
			shut = append(shut, a)
			continue
		}
		m.put(&out, a, last)
		if m.opens[a] >= 0 {
			open += m.length(a)
		}
		if m.closes[a] >= 0 {
			open -= m.length(m.p.Open.Pairs[m.closes[a]].Opens)
			for _, s := range shut {
				heap.Push(q, s)
			}
			shut = shut[:0]
		}
		for _, b := range n.next[a] {
			if left[b]--; left[b] == 0 {
				heap.Push(q, b)
			}
		}
	}
	for _, a := range shut { // nothing that closes is left: their stretches have to wait for ever
		out.dates[a] = Dates{Begin: Moment(never), End: Moment(never)}
		out.end = never
	}
	return out
}

func (m *model) length(a int) measure.Length { return m.p.Activities[a].To - m.p.Activities[a].From }

// dated is the programme of an order that holds already.
func (m *model) dated(turns, order []int) plan {
	rank := make([]int, len(m.line))
	for k, a := range order {
		rank[a] = k
	}
	return m.queued(m.net(turns), rank)
}

// put dates an activity behind all that are in.
func (m *model) put(out *plan, a int, last []int) {
	r := m.runs[a][out.turns[m.p.Lines[m.line[a]].Turn]]
	h := &m.hours[r.hours]
	start, cause := int64(0), Cause{AtStart, -1}
	wait := func(place int64, kind CauseKind, by int) {
		if place > start {
			start, cause = place, Cause{kind, by}
		}
	}
	if place, by := m.opened(a, r); by >= 0 {
		wait(place, Delivery, by)
	}
	for i := range out.in[a] {
		b := &out.in[a][i]
		wait(b.from(out.dates[b.before].start), b.kind, b.before)
	}
	if before := last[r.gang]; before >= 0 {
		wait(m.afterEnd(&out.dates[before], h), SameGang, before)
	}
	if m.opens[a] >= 0 {
		m.limit(out, a, h, wait)
	}
	last[r.gang] = a
	d := &out.dates[a]
	*d = Dates{Gang: r.gang, Down: r.down, Hours: Moment(r.total), Cause: cause, dated: true, start: start, total: r.total}
	d.Begin, d.End = Moment(h.starts(start)), Moment(h.ends(start+r.total))
	if r.total == 0 {
		d.End = d.Begin
	}
	if d.Begin >= Moment(never) {
		d.End = d.Begin
	}
	out.order = append(out.order, a)
	out.end = max(out.end, int64(d.End))
	out.sum += min(int64(d.End), never/1e6)
}

// afterEnd is the first place behind the end of another.
func (m *model) afterEnd(d *Dates, h *hours) int64 {
	if d.End >= Moment(never) {
		return never
	}
	return h.place(int64(d.End))
}

// limit holds what opens a stretch until enough of those that were opened before are closed again, those that close first. What one had
// to wait for, those that are opened behind it wait for as well.
func (m *model) limit(out *plan, a int, h *hours, wait func(int64, CauseKind, int)) {
	open := m.length(a)
	for _, b := range out.open {
		open += m.length(b)
	}
	closes := func(b int) int { return m.p.Open.Pairs[m.opens[b]].Closes }
	for open > m.p.Open.Most {
		first := -1
		for i, b := range out.open {
			if d := &out.dates[closes(b)]; d.dated && (first < 0 || d.End < out.dates[closes(out.open[first])].End) {
				first = i
			}
		}
		b := out.open[first]
		open -= m.length(b)
		out.open = slices.Delete(out.open, first, first+1)
		if out.shut < 0 || out.dates[closes(b)].End > out.dates[out.shut].End {
			out.shut = closes(b)
		}
	}
	out.open = append(out.open, a)
	if out.shut >= 0 {
		out.held = append(out.held, [2]int{out.shut, a})
		wait(m.afterEnd(&out.dates[out.shut], h), OpenLimit, out.shut)
	}
}
