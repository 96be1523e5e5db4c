package programme

import "trenchwright/base/measure"

// What has to be open: a stretch is open from when it is dug until it is filled, and that takes a while however it is done. All of them
// together, each as long as it is and for as long as it takes, have to fit below the limit.

// spans finds for how long each stretch is open at least, where all that opens and closes works by one calendar.
func (p *proof) spans() {
	m := p.m
	if m.p.Open == nil {
		return
	}
	p.shared = -1
	for _, o := range m.p.Open.Pairs {
		for _, a := range [2]int{o.Opens, o.Closes} {
			if m.line[a] < 0 {
				return
			}
			for _, r := range m.runs[a] {
				if p.shared < 0 {
					p.shared = r.hours
				}
				if r.hours != p.shared {
					return
				}
			}
		}
	}
	for _, o := range m.p.Open.Pairs {
		p.spent = append(p.spent, p.span(o.Opens, o.Closes))
	}
}

// span is how long a stretch is open at least: were it opened late, so late that nothing else holds, its close would follow by so much.
// Links between two calendars are left out, which makes it less.
func (p *proof) span(from, to int) int64 {
	const late = int64(1) << 40
	w := p.start(never)
	for _, a := range p.acts {
		for k := range w.early[a] {
			w.early[a][k] = 0
			if a == from {
				w.early[a][k] = late
			}
		}
	}
	for more := true; more; {
		more = false
		for _, a := range p.acts {
			for k := range w.early[a] {
				for i := range p.in[a][k] {
					at := p.in[a][k][i].least(w, k, func(b *bond, way int) int64 {
						if !b.same {
							return 0
						}
						return w.early[b.before][way] + b.lag
					})
					if at > w.early[a][k] {
						w.early[a][k], more = at, true
					}
				}
			}
		}
	}
	closed := never
	for k, r := range p.m.runs[to] {
		closed = min(closed, w.early[to][k]-late+r.total)
	}
	return max(closed, p.shortest(from), p.shortest(to))
}

func (p *proof) shortest(a int) int64 {
	out := never
	for _, r := range p.m.runs[a] {
		out = min(out, r.total)
	}
	return out
}

// pairOpen is a stretch of the limit as a window has it.
type pairOpen struct {
	first, last int64 // it opens at first at the soonest, it is closed at last at the latest
	must, until int64 // it is certainly open from must until until
	long        measure.Length
}

func (p *proof) stretchesOpen(w *window) []pairOpen {
	m := p.m
	var out []pairOpen
	for _, o := range m.p.Open.Pairs {
		if m.line[o.Opens] >= 0 && m.line[o.Closes] >= 0 {
			out = append(out, pairOpen{p.beginsFrom(w, o.Opens), p.endsBy(w, o.Closes), p.beginsBy(w, o.Opens), p.endsFrom(w, o.Closes), m.length(o.Opens)})
		}
	}
	return out
}

// fitsOpen tells whether all that is open fits below the limit: what is certainly open at one moment, and between any two moments what
// has to be open between them, for as long as it is.
func (p *proof) fitsOpen(w *window) bool {
	m := p.m
	if m.p.Open == nil {
		return true
	}
	all := p.stretchesOpen(w)
	for _, a := range all {
		long := measure.Length(0)
		for _, b := range all {
			if b.must <= a.must && a.must < b.until {
				long += b.long
			}
		}
		if long > m.p.Open.Most {
			return false
		}
	}
	if p.spent == nil {
		return true
	}
	h := &m.hours[p.shared]
	most := metres(m.p.Open.Most)
	for _, a := range all {
		for _, b := range all {
			room := float64(most * float64(max(h.place(b.last)-h.place(a.first), 0)))
			need := 0.0
			for i, c := range all {
				if c.first >= a.first && c.last <= b.last {
					need += float64(metres(c.long) * float64(p.spent[i]))
				}
			}
			if need > room*(1+1e-9) {
				return false
			}
		}
	}
	return true
}

// shuts narrows by what was chosen to be closed before something else is opened.
func (p *proof) shuts(w *window, moved *bool) bool {
	for _, s := range p.shut {
		a, b := p.m.p.Open.Pairs[s[0]].Closes, p.m.p.Open.Pairs[s[1]].Opens
		begin, end := p.beginsBy(w, b), p.endsFrom(w, a)
		if end > begin {
			return false
		}
		p.order(w, a, b, begin, end, moved)
	}
	return true
}

// tooMuch are stretches that are open at one moment where every activity goes as early as it can, and are too much together, no more of
// them than it takes; nil: there are none.
func (p *proof) tooMuch(w *window) []int {
	if p.m.p.Open == nil {
		return nil
	}
	pairs := p.m.p.Open.Pairs
	for _, a := range pairs {
		if p.m.line[a.Opens] < 0 {
			continue
		}
		at := p.beginsFrom(w, a.Opens)
		var set []int
		long := measure.Length(0)
		for i, b := range pairs {
			if p.m.line[b.Opens] >= 0 && p.m.line[b.Closes] >= 0 && p.beginsFrom(w, b.Opens) <= at && at < p.endsFrom(w, b.Closes) {
				set = append(set, i)
				if long += p.m.length(b.Opens); long > p.m.p.Open.Most {
					return p.smallest(set)
				}
			}
		}
	}
	return nil
}

// smallest leaves out what is too much without.
func (p *proof) smallest(set []int) []int {
	out := append([]int(nil), set...)
	for k := 0; k < len(out); {
		long := measure.Length(0)
		for i, pair := range out {
			if i != k {
				long += p.m.length(p.m.p.Open.Pairs[pair].Opens)
			}
		}
		if long > p.m.p.Open.Most {
			out = append(out[:k:k], out[k+1:]...)
			continue
		}
		k++
	}
	return out
}

// shutting tries each of a set closed before each other one is opened.
func (p *proof) shutting(w *window, set []int) bool {
	mark := len(p.steps)
	p.steps = append(p.steps, Step{Kind: ChooseShut, Of: set})
	for _, a := range set {
		for _, b := range set {
			if a == b {
				continue
			}
			p.shut = append(p.shut, [2]int{a, b})
			done := p.refute(w.clone(), true)
			p.shut = p.shut[:len(p.shut)-1]
			if !done {
				p.steps = p.steps[:mark]
				return false
			}
		}
	}
	return true
}
