package programme

import (
	"cmp"
	"slices"

	"trenchwright/base/sorting"
)

// A bound is shown by contradiction: that a programme ends by some moment is taken as given, every activity gets a window in which it
// then has to lie, and windows are narrowed by what holds in any such programme. Where a window closes, or a gang has more to do between
// two moments than fits, there is no such programme. Where nothing closes, one choice is made each way: which way a turn is worked, or
// which of two activities of a gang goes first.

// Step is one line of a proof: a choice, below which each of its answers is refuted in turn, or a contradiction.
type Step struct {
	Kind StepKind `json:"kind"`
	A    int      `json:"a,omitempty"`  // the turn, or one activity
	B    int      `json:"b,omitempty"`  // the other activity
	Of   []int    `json:"of,omitempty"` // pairs of the limit of what is open
}

// StepKind is what a step is.
type StepKind string

const (
	ChooseWay   StepKind = "way"  // of turn A, each way that is not ruled out yet, in order
	ChooseFirst StepKind = "pair" // A before B, then B before A
	ChooseShut  StepKind = "shut" // the stretches Of are too much to be open at once: one of them is closed before another is opened, each of each in order
	Refuted     StepKind = "end"
)

// group are links that one way of an activity has with one line: of the ways of that line's turn the one that asks least counts.
type group struct {
	key  int // of the line or the follow
	turn int
	same bool // it is the activity's own turn: the same way
	opts [][]*bond
}

// proof is the state of a proof: windows by activity and way, as places on the calendar of that run.
type proof struct {
	m       *model
	acts    []int // those that have dates
	in, out [][][]group
	first   []int8  // n*n: 1: the one goes before the other
	near    [][]int // by activity: itself and what it is linked to
	touched []int
	queue   []int
	listed  []bool
	nodes   int // that may still be looked at
	steps   []Step
	shut    [][2]int // pairs of the limit: the one is closed before the other is opened
	found   *plan    // a programme that a proof ran into
	by      int64
	spent   []int64 // by pair of the limit of what is open: for how long it is open at least, by its own calendar; nil: not known
	shared  int     // that calendar
}

// window is one node's: early and late beginnings by activity and way, and the ways still allowed of each turn.
type window struct {
	early, late [][]int64
	ways        [][]bool
}

func (w *window) clone() *window {
	out := &window{early: make([][]int64, len(w.early)), late: make([][]int64, len(w.late)), ways: make([][]bool, len(w.ways))}
	for a := range w.early {
		out.early[a] = append([]int64(nil), w.early[a]...)
		out.late[a] = append([]int64(nil), w.late[a]...)
	}
	for t := range w.ways {
		out.ways[t] = append([]bool(nil), w.ways[t]...)
	}
	return out
}

// prove finds a moment that nothing ends before, and a better programme where the proof runs into one.
func (m *model) prove(best *plan, out *Solution, effort int) {
	if len(best.order) == 0 {
		out.Bound = Moment(best.end)
		return
	}
	p := m.newProof()
	low := p.root() // nothing ends before low
	out.Bound = Moment(low)
	p.nodes = effort
	// first what can be had without a choice, then with choices, halving what lies between
	high := best.end - 1
	for _, choices := range []bool{false, true} {
		for low <= high && p.nodes > 0 && effort > 0 {
			by := low + (high-low)/2
			if choices && high-low > (best.end-int64(m.p.Start))/200 {
				by = high - (high-low)/8
			}
			p.steps, p.found = nil, nil
			p.by = by
			refuted := p.refute(p.start(by), choices)
			if refuted {
				low = by + 1
				out.Bound, out.Proof = Moment(low), p.steps
				continue
			}
			if p.found != nil && p.found.better(best) {
				*best = *p.found
				high = min(best.end-1, high)
				continue
			}
			high = by - 1
		}
		high = best.end - 1
	}
}

func (m *model) newProof() *proof {
	n := len(m.line)
	p := &proof{m: m, in: make([][][]group, n), out: make([][][]group, n), first: make([]int8, n*n), near: make([][]int, n), listed: make([]bool, n)}
	for a, line := range m.line {
		if line >= 0 {
			p.acts = append(p.acts, a)
			p.near[a] = []int{a}
			ways := m.ways[m.p.Lines[line].Turn]
			p.in[a], p.out[a] = make([][]group, ways), make([][]group, ways)
		}
	}
	for i := range m.p.Lines {
		if m.dates(i) {
			turn := m.p.Lines[i].Turn
			for w := range m.ways[turn] {
				p.link(-1-i, turn, turn, w, w, m.chain(i, w))
			}
		}
	}
	for i, f := range m.p.Follows {
		if m.dates(f.Before) && m.dates(f.After) {
			one, other := m.p.Lines[f.Before].Turn, m.p.Lines[f.After].Turn
			for a := range m.ways[one] {
				for b := range m.ways[other] {
					if one != other || a == b {
						p.link(i, one, other, a, b, m.followed(i, a, b))
					}
				}
			}
		}
	}
	p.spans()
	return p
}

// link puts the bonds of two lines, for a way of each, where both of their activities find them.
func (p *proof) link(key, one, other, a, b int, bonds []bond) {
	for k := range bonds {
		bond := &bonds[k]
		add(&p.in[bond.after][b], key, one, p.m.ways[one], a, one == other, bond)
		add(&p.out[bond.before][a], key, other, p.m.ways[other], b, one == other, bond)
		if !slices.Contains(p.near[bond.before], bond.after) {
			p.near[bond.before], p.near[bond.after] = append(p.near[bond.before], bond.after), append(p.near[bond.after], bond.before)
		}
	}
}

func add(list *[]group, key, turn, ways, way int, same bool, b *bond) {
	for i := range *list {
		if (*list)[i].key == key {
			(*list)[i].opts[way] = append((*list)[i].opts[way], b)
			return
		}
	}
	g := group{key, turn, same, make([][]*bond, ways)}
	g.opts[way] = []*bond{b}
	*list = append(*list, g)
}

// turn is the turn of an activity.
func (m *model) turn(a int) int { return m.p.Lines[m.line[a]].Turn }

// start is the window of a proof by a moment, before anything is narrowed.
func (p *proof) start(by int64) *window {
	m := p.m
	n := len(m.line)
	w := &window{early: make([][]int64, n), late: make([][]int64, n), ways: make([][]bool, len(m.ways))}
	for t, k := range m.ways {
		w.ways[t] = make([]bool, k)
		for i := range w.ways[t] {
			w.ways[t][i] = true
		}
	}
	for _, a := range p.acts {
		for _, r := range m.runs[a] {
			place, _ := m.opened(a, r)
			w.early[a] = append(w.early[a], place)
			w.late[a] = append(w.late[a], m.hours[r.hours].place(by)-r.total)
		}
	}
	p.touchAll()
	return w
}

// root is a moment that nothing ends before: each activity behind all that it follows, and each gang behind all that it has to do.
func (p *proof) root() int64 {
	m := p.m
	w := p.start(never)
	p.narrow(w, false)
	end := int64(0)
	for _, a := range p.acts {
		end = max(end, p.endsFrom(w, a))
	}
	for g := range m.p.Gangs {
		h := &m.hours[m.gangs[g]]
		begin, work := h.all, int64(0)
		for _, a := range p.certain(w, g) {
			begin = min(begin, h.place(p.beginsFrom(w, a)))
			work += p.least(w, a)
		}
		if work > 0 {
			end = max(end, h.ends(begin+work))
		}
	}
	return end
}

// beginsFrom and endsFrom are the first moments at which an activity may begin and end; beginsBy and endsBy the last ones.
func (p *proof) beginsFrom(w *window, a int) int64 {
	out := never
	p.each(w, a, func(k int, r *run, h *hours) { out = min(out, h.starts(w.early[a][k])) })
	return out
}

func (p *proof) endsFrom(w *window, a int) int64 {
	out := never
	p.each(w, a, func(k int, r *run, h *hours) { out = min(out, h.ends(w.early[a][k]+r.total)) })
	return out
}

func (p *proof) beginsBy(w *window, a int) int64 {
	out := int64(-1)
	p.each(w, a, func(k int, r *run, h *hours) { out = max(out, h.starts(w.late[a][k])) })
	return out
}

func (p *proof) endsBy(w *window, a int) int64 {
	out := int64(-1)
	p.each(w, a, func(k int, r *run, h *hours) { out = max(out, h.ends(w.late[a][k]+r.total)) })
	return out
}

// least is how long an activity works at least.
func (p *proof) least(w *window, a int) int64 {
	out := never
	p.each(w, a, func(k int, r *run, h *hours) { out = min(out, r.total) })
	return out
}

// each calls with every way that an activity may still have.
func (p *proof) each(w *window, a int, f func(k int, r *run, h *hours)) {
	for k, ok := range w.ways[p.m.turn(a)] {
		if r := p.m.runs[a][k]; ok {
			f(k, r, &p.m.hours[r.hours])
		}
	}
}

// certain are the activities that a gang does whatever is chosen.
func (p *proof) certain(w *window, g int) []int {
	var out []int
	for _, a := range p.acts {
		sure := true
		p.each(w, a, func(k int, r *run, h *hours) { sure = sure && r.gang == g })
		if sure {
			out = append(out, a)
		}
	}
	return out
}

// refute tells whether there is no programme in a window; with choices it makes some where nothing else helps.
func (p *proof) refute(w *window, choices bool) bool {
	if p.nodes--; p.nodes < 0 {
		p.forget()
		return false
	}
	if !p.narrow(w, true) {
		p.forget()
		p.steps = append(p.steps, Step{Kind: Refuted})
		return true
	}
	if !choices {
		return false
	}
	mark := len(p.steps)
	if t := p.undecided(w); t >= 0 {
		p.steps = append(p.steps, Step{Kind: ChooseWay, A: t})
		for k, ok := range w.ways[t] {
			if !ok {
				continue
			}
			one := w.clone()
			clear(one.ways[t])
			one.ways[t][k] = true
			p.touchAll()
			if !p.refute(one, true) {
				p.steps = p.steps[:mark]
				return false
			}
		}
		return true
	}
	i, k, ok := p.pair(w)
	if !ok {
		if set := p.tooMuch(w); set != nil {
			return p.shutting(w, set)
		}
		p.met(w)
		return false
	}
	p.steps = append(p.steps, Step{Kind: ChooseFirst, A: i, B: k})
	n := len(p.m.line)
	for _, c := range [2][2]int{{i, k}, {k, i}} {
		at := c[0]*n + c[1]
		p.first[at] = 1
		done := p.refute(w.clone(), true)
		p.first[at] = 0
		if !done {
			p.steps = p.steps[:mark]
			return false
		}
	}
	return true
}

// undecided is a turn that is not decided yet; -1: all are.
func (p *proof) undecided(w *window) int {
	for t, ways := range w.ways {
		n := 0
		for _, ok := range ways {
			if ok {
				n++
			}
		}
		if n > 1 {
			return t
		}
	}
	return -1
}

// pair are two activities of one gang of which either may go first, those that have least room for it.
func (p *proof) pair(w *window) (i, k int, ok bool) {
	least := int64(0)
	n := len(p.m.line)
	for g := range p.m.p.Gangs {
		acts := p.certain(w, g)
		for x, a := range acts {
			for _, b := range acts[:x] {
				if p.first[a*n+b]+p.first[b*n+a] > 0 {
					continue
				}
				ab, ba := p.beginsBy(w, b)-p.endsFrom(w, a), p.beginsBy(w, a)-p.endsFrom(w, b)
				if ab < 0 || ba < 0 || p.m.runs[a][0].total == 0 || p.m.runs[b][0].total == 0 {
					continue
				}
				if room := max(ab, ba); !ok || room < least {
					i, k, least, ok = b, a, room, true
					if ab > ba {
						i, k = a, b
					}
				}
			}
		}
	}
	return i, k, ok
}

// met makes the programme that a proof ran into, where every choice is made and nothing closed.
func (p *proof) met(w *window) {
	turns := make([]int, len(w.ways))
	for t, ways := range w.ways {
		for k, ok := range ways {
			if ok {
				turns[t] = k
			}
		}
	}
	rank := ranked(p.acts, func(a, b int) int { return cmp.Compare(p.beginsFrom(w, a), p.beginsFrom(w, b)) }, len(p.m.line))
	one := p.m.queued(p.m.net(turns), rank)
	p.found = &one
}

// narrow closes windows until nothing changes. It answers false where one is shut, or where a gang has more to do than fits.
func (p *proof) narrow(w *window, gangs bool) bool {
	for range 3 * len(p.acts) {
		moved := false
		if !p.links(w, &moved) {
			return false
		}
		if gangs {
			if !p.pairs(w, &moved) || !p.shuts(w, &moved) {
				return false
			}
		}
		if !moved {
			break
		}
	}
	return !gangs || p.fits(w)
}

// links narrows by who waits for whom: what was touched, and what that touches.
func (p *proof) links(w *window, moved *bool) bool {
	for len(p.touched) > 0 {
		a := p.touched[0]
		p.touched = p.touched[1:]
		p.listed[a] = false
		changed, ok := p.activity(w, a)
		if !ok {
			p.forget()
			return false
		}
		if changed {
			p.touch(a)
			*moved = true
		}
	}
	p.touched = p.queue[:0]
	return true
}

// touch puts an activity, and all that is linked to it, on the list of those that are looked at again.
func (p *proof) touch(a int) {
	for _, b := range p.near[a] {
		if !p.listed[b] {
			p.listed[b] = true
			p.touched = append(p.touched, b)
		}
	}
}

func (p *proof) touchAll() {
	for _, a := range p.acts {
		p.touch(a)
	}
}

func (p *proof) forget() {
	for _, a := range p.touched {
		p.listed[a] = false
	}
	p.touched = p.queue[:0]
}

// activity narrows the windows of one activity, way by way; a way whose window is shut is ruled out.
func (p *proof) activity(w *window, a int) (changed, ok bool) {
	m := p.m
	turn := m.turn(a)
	for k, open := range w.ways[turn] {
		if !open {
			continue
		}
		early, late := w.early[a][k], w.late[a][k]
		for i := range p.in[a][k] {
			g := &p.in[a][k][i]
			early = max(early, g.least(w, k, func(b *bond, way int) int64 { return b.from(w.early[b.before][way]) }))
		}
		for i := range p.out[a][k] {
			g := &p.out[a][k][i]
			late = min(late, g.most(w, k, func(b *bond, way int) int64 {
				if v := w.late[b.after][way]; b.same {
					return v - b.lag
				} else if b.from(late) <= v {
					return late
				} else {
					return b.upTo(v, min(w.early[a][k], late))
				}
			}))
		}
		if early > w.early[a][k] || late < w.late[a][k] {
			changed = true
			w.early[a][k], w.late[a][k] = early, late
		}
		if early > late {
			w.ways[turn][k] = false
			changed = true
		}
	}
	for _, open := range w.ways[turn] {
		if open {
			return changed, true
		}
	}
	return changed, false
}

// least is the least that a group asks for over the ways still allowed: of each way the most of its links.
func (g *group) least(w *window, own int, ask func(*bond, int) int64) int64 {
	out := never
	for way, bonds := range g.opts {
		if !w.ways[g.turn][way] || g.same && way != own {
			continue
		}
		most := int64(0)
		for _, b := range bonds {
			most = max(most, ask(b, way))
		}
		out = min(out, most)
	}
	return out
}

func (g *group) most(w *window, own int, ask func(*bond, int) int64) int64 {
	out := int64(-never)
	for way, bonds := range g.opts {
		if !w.ways[g.turn][way] || g.same && way != own {
			continue
		}
		least := never
		for _, b := range bonds {
			least = min(least, ask(b, way))
		}
		out = max(out, least)
	}
	return out
}

// pairs narrows by gangs: of two activities of one gang, one of which cannot go first, the other does.
func (p *proof) pairs(w *window, moved *bool) bool {
	n := len(p.m.line)
	for g := range p.m.p.Gangs {
		acts := p.certain(w, g)
		begin, end := make([]int64, len(acts)), make([]int64, len(acts)) // the last beginning, the first end
		for x, a := range acts {
			begin[x], end[x] = p.beginsBy(w, a), p.endsFrom(w, a)
		}
		for x, a := range acts {
			for y, b := range acts {
				if x == y || p.least(w, a) == 0 || p.least(w, b) == 0 {
					continue
				}
				// a before b because b cannot go before a, or because that was chosen
				if end[y] > begin[x] || p.first[a*n+b] > 0 {
					if end[x] > begin[y] {
						return false
					}
					p.order(w, a, b, begin[y], end[x], moved)
				}
			}
		}
	}
	return true
}

// order puts one activity before another: the other begins no sooner than its first end, and it ends no later than the other's last
// beginning.
func (p *proof) order(w *window, a, b int, begin, end int64, moved *bool) {
	m := p.m
	for k, open := range w.ways[m.turn(b)] {
		if h := &m.hours[m.runs[b][k].hours]; open {
			if at := h.place(end); at > w.early[b][k] {
				w.early[b][k], *moved = at, true
				p.touch(b)
			}
		}
	}
	for k, open := range w.ways[m.turn(a)] {
		if r := m.runs[a][k]; open {
			if at := m.hours[r.hours].place(begin) - r.total; at < w.late[a][k] {
				w.late[a][k], *moved = at, true
				p.touch(a)
			}
		}
	}
}

// fits tells whether what each gang has to do fits between any two moments that it has to be done in, and whether what has to be open
// does.
func (p *proof) fits(w *window) bool {
	type job struct{ from, to, work int64 }
	for g := range p.m.p.Gangs {
		h := &p.m.hours[p.m.gangs[g]]
		var jobs []job
		for _, a := range p.certain(w, g) {
			jobs = append(jobs, job{h.place(p.beginsFrom(w, a)), h.place(p.endsBy(w, a)), p.least(w, a)})
		}
		sorting.By(jobs, func(a, b job) int { return cmp.Compare(a.to, b.to) })
		for _, first := range jobs {
			work := int64(0)
			for _, j := range jobs {
				if j.from >= first.from {
					if work += j.work; first.from+work > j.to {
						return false
					}
				}
			}
		}
	}
	return p.fitsOpen(w)
}
