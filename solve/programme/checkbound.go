package programme

import (
	"fmt"
	"slices"
)

// CheckBound goes through a proof that nothing ends before a bound, step by step, with narrowing of its own: every sweep looks at
// everything once more, until nothing moves. Only the reckoning along calendars and fronts is shared with the solver; twins hold that.
func CheckBound(p *Problem, s *Solution) error {
	if len(s.Order) == 0 || s.Bound <= p.Start {
		return nil
	}
	m := compile(p)
	r := &replay{m: m, steps: s.Proof}
	for i := range p.Lines {
		if m.dates(i) {
			t := p.Lines[i].Turn
			r.keys = append(r.keys, key2{t, t, func(one, other int) []bond { return m.chain(i, one) }})
		}
	}
	for i, f := range p.Follows {
		if m.dates(f.Before) && m.dates(f.After) {
			r.keys = append(r.keys, key2{p.Lines[f.Before].Turn, p.Lines[f.After].Turn, func(one, other int) []bond { return m.followed(i, one, other) }})
		}
	}
	if len(s.Proof) == 0 { // shown by no steps at all: then the windows alone have to shut
		r.steps = []Step{{Kind: Refuted}}
	}
	if err := r.refuted(r.window(int64(s.Bound)-1), nil, nil); err != nil {
		return err
	}
	if r.at != len(r.steps) {
		return fmt.Errorf("the proof of the bound goes on behind its end, at step %d of %d", r.at, len(r.steps))
	}
	return nil
}

// key2 are two lines that are linked, by their turns.
type key2 struct {
	one, other int
	bonds      func(one, other int) []bond
}

type replay struct {
	m     *model
	steps []Step
	at    int
	keys  []key2
}

func (r *replay) window(by int64) *window {
	m := r.m
	w := &window{early: make([][]int64, len(m.line)), late: make([][]int64, len(m.line)), ways: make([][]bool, len(m.ways))}
	for t, n := range m.ways {
		w.ways[t] = slices.Repeat([]bool{true}, n)
	}
	for a := range m.line {
		for _, run := range m.runs[a] {
			at, _ := m.opened(a, run)
			w.early[a], w.late[a] = append(w.early[a], at), append(w.late[a], m.hours[run.hours].place(by)-run.total)
		}
	}
	return w
}

// refuted takes the next step of the proof for a window, with the orders and closings that were chosen.
func (r *replay) refuted(w *window, first, shut [][2]int) error {
	if r.at >= len(r.steps) {
		return fmt.Errorf("the proof of the bound ends at step %d, and something is left open", r.at)
	}
	step := r.steps[r.at]
	r.at++
	dead := r.closes(w, first, shut)
	switch {
	case step.Kind == Refuted && dead:
		return nil
	case step.Kind == Refuted:
		return fmt.Errorf("step %d of the proof says that nothing fits, and something does", r.at)
	}
	pairs := r.m.p.Open
	switch step.Kind {
	case ChooseWay:
		for k, ok := range w.ways[step.A] {
			if ok {
				one := w.clone()
				clear(one.ways[step.A])
				one.ways[step.A][k] = true
				if err := r.refuted(one, first, shut); err != nil {
					return err
				}
			}
		}
		return nil
	case ChooseFirst:
		if g := r.gang(w, step.A); g < 0 || g != r.gang(w, step.B) || step.A == step.B {
			return fmt.Errorf("step %d of the proof orders two activities that are not of one gang", r.at)
		}
		for _, c := range [2][2]int{{step.A, step.B}, {step.B, step.A}} {
			if err := r.refuted(w.clone(), append(slices.Clone(first), c), shut); err != nil {
				return err
			}
		}
		return nil
	case ChooseShut:
		long := r.m.length(pairs.Pairs[step.Of[0]].Opens) * 0
		for i, o := range step.Of {
			if slices.Contains(step.Of[:i], o) {
				return fmt.Errorf("step %d of the proof counts a stretch twice", r.at)
			}
			long += r.m.length(pairs.Pairs[o].Opens)
		}
		if long <= pairs.Most {
			return fmt.Errorf("step %d of the proof parts stretches that may all be open", r.at)
		}
		for _, a := range step.Of {
			for _, b := range step.Of {
				if a != b {
					c := [2]int{pairs.Pairs[a].Closes, pairs.Pairs[b].Opens}
					if err := r.refuted(w.clone(), first, append(slices.Clone(shut), c)); err != nil {
						return err
					}
				}
			}
		}
		return nil
	}
	return fmt.Errorf("step %d of the proof is none", r.at)
}

// gang is the one that does an activity in every way left; -1: there are several.
func (r *replay) gang(w *window, a int) int {
	out := -2
	for k, ok := range w.ways[r.m.turn(a)] {
		if ok {
			if g := r.m.runs[a][k].gang; out == -2 || out == g {
				out = g
			} else {
				return -1
			}
		}
	}
	return out
}

// moments are the first and last beginning and end of an activity, and its least work, over the ways left.
type moments struct{ begins, ends, beginsBy, endsBy, work int64 }

func (r *replay) moments(w *window, a int) moments {
	out := moments{never, never, -1, -1, never}
	for k, ok := range w.ways[r.m.turn(a)] {
		if run := r.m.runs[a][k]; ok {
			h := &r.m.hours[run.hours]
			early, late := w.early[a][k], w.late[a][k]
			out = moments{min(out.begins, h.starts(early)), min(out.ends, h.ends(early+run.total)), max(out.beginsBy, h.starts(late)), max(out.endsBy, h.ends(late+run.total)), min(out.work, run.total)}
		}
	}
	return out
}

// closes narrows until nothing moves, and tells whether nothing is left.
func (r *replay) closes(w *window, first, shut [][2]int) bool {
	for {
		moved := false
		for _, k := range r.keys {
			moved = r.sweep(w, k) || moved
		}
		for a, line := range r.m.line {
			if line < 0 {
				continue
			}
			any := false
			for k, ok := range w.ways[r.m.turn(a)] {
				if ok && w.early[a][k] > w.late[a][k] {
					w.ways[r.m.turn(a)][k], moved = false, true
				} else if ok {
					any = true
				}
			}
			if !any {
				return true
			}
		}
		orders := append(slices.Clone(first), shut...)
		gangs, all := make([]int, len(r.m.line)), make([]moments, len(r.m.line))
		for a, line := range r.m.line {
			if gangs[a] = -1; line >= 0 {
				gangs[a], all[a] = r.gang(w, a), r.moments(w, a)
			}
		}
		for a, x := range all {
			for b, y := range all {
				if a != b && gangs[a] >= 0 && gangs[a] == gangs[b] && x.work > 0 && y.work > 0 && y.ends > x.beginsBy {
					orders = append(orders, [2]int{a, b})
				}
			}
		}
		for _, o := range orders {
			x, y := r.moments(w, o[0]), r.moments(w, o[1])
			if x.ends > y.beginsBy {
				return true
			}
			for k := range w.ways[r.m.turn(o[1])] {
				if at := r.m.hours[r.m.runs[o[1]][k].hours].place(x.ends); at > w.early[o[1]][k] {
					w.early[o[1]][k], moved = at, true
				}
			}
			for k := range w.ways[r.m.turn(o[0])] {
				run := r.m.runs[o[0]][k]
				if at := r.m.hours[run.hours].place(y.beginsBy) - run.total; at < w.late[o[0]][k] {
					w.late[o[0]][k], moved = at, true
				}
			}
		}
		if !moved {
			return r.full(w)
		}
	}
}

// sweep narrows by the links of two lines.
func (r *replay) sweep(w *window, k key2) bool {
	moved := false
	n := len(r.m.line)
	for other, ok := range w.ways[k.other] {
		if !ok {
			continue
		}
		least := slices.Repeat([]int64{never}, n)
		for one, ok := range w.ways[k.one] {
			if !ok || k.one == k.other && one != other {
				continue
			}
			most := make([]int64, n)
			for _, b := range k.bonds(one, other) {
				most[b.after] = max(most[b.after], b.from(w.early[b.before][one]))
			}
			for a := range least {
				least[a] = min(least[a], most[a])
			}
		}
		for a, at := range least {
			if r.m.line[a] >= 0 && at < never && r.m.turn(a) == k.other && at > w.early[a][other] {
				w.early[a][other], moved = at, true
			}
		}
	}
	for one, ok := range w.ways[k.one] {
		if !ok {
			continue
		}
		most := slices.Repeat([]int64{-never}, n)
		for other, ok := range w.ways[k.other] {
			if !ok || k.one == k.other && one != other {
				continue
			}
			least := slices.Repeat([]int64{never}, n)
			bonds := k.bonds(one, other)
			for i := range bonds {
				b := &bonds[i]
				if v := w.late[b.after][other]; b.from(w.late[b.before][one]) > v {
					least[b.before] = min(least[b.before], b.upTo(v, min(w.early[b.before][one], w.late[b.before][one])))
				}
			}
			for a := range most {
				most[a] = max(most[a], least[a])
			}
		}
		for a, at := range most {
			if r.m.line[a] >= 0 && at > -never && r.m.turn(a) == k.one && at < w.late[a][one] {
				w.late[a][one], moved = at, true
			}
		}
	}
	return moved
}

// full tells whether a gang has more to do between two moments than fits, or too much has to be open.
func (r *replay) full(w *window) bool {
	m := r.m
	for g := range m.p.Gangs {
		h := &m.hours[m.gangs[g]]
		type task struct{ from, to, work int64 }
		var all []task
		for a, line := range m.line {
			if line >= 0 && r.gang(w, a) == g {
				t := r.moments(w, a)
				all = append(all, task{h.place(t.begins), h.place(t.endsBy), t.work})
			}
		}
		for _, a := range all {
			for _, b := range all {
				work := int64(0)
				for _, c := range all {
					if c.from >= a.from && c.to <= b.to {
						work += c.work
					}
				}
				if work > 0 && a.from+work > b.to {
					return true
				}
			}
		}
	}
	return r.overOpen(w)
}

// overOpen tells whether too much is certainly open at one moment, or has to be open for too long between two.
func (r *replay) overOpen(w *window) bool {
	m := r.m
	if m.p.Open == nil {
		return false
	}
	shared := -1
	for _, o := range m.p.Open.Pairs {
		for _, a := range [2]int{o.Opens, o.Closes} {
			for _, run := range m.runs[a] {
				if shared >= 0 && run.hours != shared || m.line[a] < 0 {
					shared = -2
				} else if shared == -1 {
					shared = run.hours
				}
			}
			if m.line[a] < 0 {
				shared = -2
			}
		}
	}
	for _, a := range m.p.Open.Pairs {
		if m.line[a.Opens] < 0 || m.line[a.Closes] < 0 {
			continue
		}
		at, long := r.moments(w, a.Opens).beginsBy, m.length(a.Opens)*0
		first := r.moments(w, a.Opens).begins
		for _, b := range m.p.Open.Pairs {
			if m.line[b.Opens] >= 0 && m.line[b.Closes] >= 0 && r.moments(w, b.Opens).beginsBy <= at && at < r.moments(w, b.Closes).ends {
				long += m.length(b.Opens)
			}
		}
		if long > m.p.Open.Most {
			return true
		}
		if shared < 0 {
			continue
		}
		h := &m.hours[shared]
		for _, b := range m.p.Open.Pairs {
			last := r.moments(w, b.Closes).endsBy
			need := 0.0
			for _, c := range m.p.Open.Pairs {
				if r.moments(w, c.Opens).begins >= first && r.moments(w, c.Closes).endsBy <= last {
					need += float64(metres(m.length(c.Opens)) * float64(r.openFor(c)))
				}
			}
			if need > float64(metres(m.p.Open.Most)*float64(max(h.place(last)-h.place(first), 0)))*(1+1e-9) {
				return true
			}
		}
	}
	return false
}

// openFor is how long a stretch is open at least, from links within one calendar alone.
func (r *replay) openFor(o OpenPair) int64 {
	const late = int64(1) << 40
	w := r.window(never)
	for a := range w.early {
		for k := range w.early[a] {
			w.early[a][k] = 0
			if a == o.Opens {
				w.early[a][k] = late
			}
		}
	}
	for moved := true; moved; {
		moved = false
		for _, k := range r.keys {
			for other := range w.ways[k.other] {
				least := slices.Repeat([]int64{never}, len(w.early))
				for one := range w.ways[k.one] {
					if k.one == k.other && one != other {
						continue
					}
					most := make([]int64, len(w.early))
					for _, b := range k.bonds(one, other) {
						if b.same {
							most[b.after] = max(most[b.after], w.early[b.before][one]+b.lag)
						}
					}
					for a := range least {
						least[a] = min(least[a], most[a])
					}
				}
				for a, at := range least {
					if r.m.line[a] >= 0 && r.m.turn(a) == k.other && at < never && at > w.early[a][other] {
						w.early[a][other], moved = at, true
					}
				}
			}
		}
	}
	closed, least := never, int64(0)
	for k, run := range r.m.runs[o.Closes] {
		closed = min(closed, w.early[o.Closes][k]-late+run.total)
	}
	for _, a := range [2]int{o.Opens, o.Closes} {
		shortest := never
		for _, run := range r.m.runs[a] {
			shortest = min(shortest, run.total)
		}
		least = max(least, shortest)
	}
	return max(closed, least)
}
