package programme

import (
	"cmp"
	"slices"

	"trenchwright/base/sorting"
)

// sequence is a fixed sequence of numbers that look as if they were drawn: the same problem always takes the same way. It is the
// mixing of a counter with two multiplications (published as SplitMix64 by Steele, Lea and Flood, 2014; from memory, and nothing but how
// soon a good order is found hangs on it).
type sequence uint64

func (s *sequence) below(n int) int {
	*s += 0x9e3779b97f4a7c15
	z := uint64(*s)
	z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9
	z = (z ^ (z >> 27)) * 0x94d049bb133111eb
	return int((z ^ (z >> 31)) >> 1 % uint64(n))
}

// search looks for a better programme: first by a few rules, then by putting what the end hangs on before what holds it, a little worse
// being let pass at first. With no effort the activities go as they are listed.
func (m *model) search(effort int) plan {
	turns := make([]int, len(m.ways))
	listed := make([]int, len(m.line))
	for a := range listed {
		listed[a] = a
	}
	n := m.net(turns)
	best := m.queued(n, listed)
	if effort == 0 {
		return best
	}
	for _, rank := range m.rules(n) {
		if one := m.queued(n, rank); one.better(&best) {
			best = one
		}
	}
	dice := sequence(len(m.line))
	nets := map[string]*net{key(turns): n}
	now := best
	for k := range effort {
		next := m.neighbour(&now, nets, &dice)
		slack := (now.end - int64(m.p.Start)) / 40 * int64(effort-k) / int64(effort) / 2
		if next.end <= now.end+slack*int64(dice.below(3))/2 {
			now = next
		}
		if now.better(&best) {
			best = now
		}
		if k%(effort/4+1) == effort/4 {
			now = best
		}
	}
	return best
}

func key(turns []int) string {
	b := make([]byte, 0, 2*len(turns))
	for _, t := range turns {
		b = append(b, byte(t), byte(t>>8))
	}
	return string(b)
}

// rules are the first orders: what can begin soonest first, and what has most behind it first.
func (m *model) rules(n *net) [][]int {
	alone := make([]int, len(m.line)) // rank of no order at all
	free := m.queued(n, alone)
	behind := make([]int64, len(m.line))
	for k := len(free.order) - 1; k >= 0; k-- {
		a := free.order[k]
		for _, b := range n.next[a] {
			behind[a] = max(behind[a], behind[b])
		}
		behind[a] += free.dates[a].total
	}
	soon := ranked(free.order, func(a, b int) int { return cmp.Compare(free.dates[a].start, free.dates[b].start) }, len(m.line))
	long := ranked(free.order, func(a, b int) int { return cmp.Compare(behind[b], behind[a]) }, len(m.line))
	return [][]int{soon, long}
}

func ranked(acts []int, by func(a, b int) int, n int) []int {
	all := slices.Clone(acts)
	sorting.By(all, by)
	out := make([]int, n)
	for k, a := range all {
		out[a] = k
	}
	return out
}

// neighbour is a programme beside another one: a turn taken otherwise, or one activity put before another with all that it waits for.
func (m *model) neighbour(now *plan, nets map[string]*net, dice *sequence) plan {
	turns := now.turns
	order := slices.Clone(now.order)
	if t := dice.below(len(turns) * 8); t < len(turns) && m.ways[t] > 1 {
		turns = slices.Clone(turns)
		turns[t] = (turns[t] + 1 + dice.below(m.ways[t]-1)) % m.ways[t]
	} else if a, b := m.pick(now, dice); a >= 0 {
		order = before(now, order, a, b)
	}
	n, ok := nets[key(turns)]
	if !ok {
		n = m.net(turns)
		nets[key(turns)] = n
	}
	rank := make([]int, len(m.line))
	for k, a := range order {
		rank[a] = k
	}
	return m.queued(n, rank)
}

// pick is an activity and the one that it goes before: mostly one that the end hangs on and what holds it.
func (m *model) pick(now *plan, dice *sequence) (a, b int) {
	if len(now.order) < 2 {
		return -1, -1
	}
	if dice.below(4) > 0 {
		chain := now.chain()
		for range 3 {
			a := chain[dice.below(len(chain))]
			if c := now.dates[a].Cause; c.Kind == SameGang || c.Kind == OpenLimit && m.opens[c.Before] >= 0 {
				return a, c.Before
			}
		}
	}
	i, k := dice.below(len(now.order)), dice.below(len(now.order))
	if i == k {
		return -1, -1
	}
	return now.order[max(i, k)], now.order[min(i, k)]
}

// before is the order with a put before b, together with what a waits for that stands between them.
func before(now *plan, order []int, a, b int) []int {
	from, to := slices.Index(order, b), slices.Index(order, a)
	if from >= to {
		return order
	}
	needed := map[int]bool{a: true}
	var first, rest []int
	for k := to; k >= from; k-- {
		x := order[k]
		if !needed[x] {
			rest = append(rest, x)
			continue
		}
		first = append(first, x)
		for _, l := range now.in[x] {
			needed[l.before] = true
		}
	}
	slices.Reverse(first)
	slices.Reverse(rest)
	copy(order[from:], append(first, rest...))
	return order
}

// chain are the activities that the end hangs on, first to last: each is what the next one waits for.
func (p *plan) chain() []int {
	last := -1
	for _, a := range p.order {
		if last < 0 || p.dates[a].End > p.dates[last].End {
			last = a
		}
	}
	var out []int
	for a := last; a >= 0; {
		out = append(out, a)
		switch c := p.dates[a].Cause; c.Kind {
		case Following, SameGang, SameLine, OpenLimit:
			a = c.Before
		default:
			a = -1
		}
	}
	slices.Reverse(out)
	return out
}
