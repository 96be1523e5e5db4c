package profile

import "slices"

// filter makes a conflict small: limits are left out on trial, one group after the other, and stay out where the rest still
// contradicts itself.
type filter struct {
	p   *Problem
	all []Limit
}

// uses is a set of limits as a question.
func uses(limits []Limit) func(k Kind, i, j int) bool {
	type key struct {
		kind   Kind
		leg, j int
	}
	set := make(map[key]bool, len(limits))
	for _, l := range limits {
		for j := l.From; j <= l.To; j++ {
			set[key{l.Kind, l.Leg, j}] = true
		}
	}
	return func(k Kind, i, j int) bool { return set[key{k, i, j}] }
}

// try tells whether the limits contradict each other, and with what proof.
func (f *filter) try(limits []Limit) (*Certificate, bool) {
	sub, back := f.p.only(limits)
	b := &builder{p: sub, elastic: true}
	w := b.build()
	if w.run(); w.cost <= broken || w.prices == nil {
		return nil, false
	}
	return back(b.certificate()), true
}

// smallest is a conflict without anything that it does not need; nil: none could be proven.
func (f *filter) smallest() *Conflict {
	limits := f.part()
	if limits == nil {
		return nil
	}
	groups := f.p.grouped(limits)
	for block := (len(groups) + 1) / 2; ; block /= 2 { // many at once first, then one by one
		block = max(block, 1)
		for to := len(groups); to > 0; to -= block {
			without := slices.Delete(slices.Clone(groups), max(to-block, 0), to)
			if _, ok := f.try(without); ok {
				groups = without
			}
		}
		if block == 1 {
			break
		}
	}
	groups = f.cropped(groups)
	proof, ok := f.try(groups)
	if !ok {
		return nil
	}
	low, why := f.p.lowerBound(proof, uses(groups), false, 0)
	if why != "" || low.Sign() <= 0 {
		return nil
	}
	short, _ := low.Float64()
	return &Conflict{Limits: groups, Proof: *proof, Short: short}
}

// cropped leaves out the ends of groups that the proof does not need.
func (f *filter) cropped(groups []Limit) []Limit {
	proof, ok := f.try(groups)
	if !ok {
		return groups
	}
	needed := uses(f.p.support(proof, uses(groups)))
	out := slices.Clone(groups)
	for k := range out {
		g := &out[k]
		for g.From < g.To && !needed(g.Kind, g.Leg, g.From) {
			g.From++
		}
		for g.From < g.To && !needed(g.Kind, g.Leg, g.To) {
			g.To--
		}
	}
	if _, ok := f.try(out); !ok {
		return groups
	}
	return out
}

// part is the first part of the limits, joined by levels that are free, which contradicts itself.
func (f *filter) part() []Limit {
	parts := f.p.parts(f.all)
	for _, limits := range parts {
		if _, ok := f.try(limits); ok {
			return limits
		}
	}
	return nil
}

// parts divides limits into those that have to do with each other: they share a level that is not pinned.
func (p *Problem) parts(limits []Limit) [][]Limit {
	level, pinned := p.levelNumbers()
	root := make([]int, len(pinned)+len(limits))
	for i := range root {
		root[i] = i
	}
	find := func(i int) int {
		for root[i] != i {
			root[i] = root[root[i]]
			i = root[i]
		}
		return i
	}
	for k, l := range limits {
		for _, t := range p.touches(l) {
			if v := level[t[0]][t[1]]; !pinned[v] {
				root[find(v)] = find(len(pinned) + k)
			}
		}
	}
	at := map[int]int{}
	var out [][]Limit
	var pins []Limit
	for k, l := range limits {
		if l.Kind == PinLimit {
			pins = append(pins, l)
			continue
		}
		r := find(len(pinned) + k)
		if _, ok := at[r]; !ok {
			at[r] = len(out)
			out = append(out, nil)
		}
		out[at[r]] = append(out[at[r]], l)
	}
	for k, part := range out {
		out[k] = append(part, p.pinsOf(part, pins, level)...)
	}
	return out
}

// levelNumbers numbers the levels of all joints, those of one node alike, and says which are pinned.
func (p *Problem) levelNumbers() (level [][]int, pinned []bool) {
	n := len(p.Nodes)
	for i := range p.Legs {
		level = append(level, make([]int, len(p.Legs[i].Joints)))
		for j := range level[i] {
			level[i][j] = n
			n++
		}
	}
	for k, node := range p.Nodes {
		for _, a := range node.Arms {
			at, _ := p.ends(a)
			level[a.Leg][at] = k
		}
	}
	pinned = make([]bool, n)
	for i := range p.Legs {
		for j := range p.Legs[i].Joints {
			pinned[level[i][j]] = pinned[level[i][j]] || p.Legs[i].Joints[j].Pin != nil
		}
	}
	return level, pinned
}

// pinsOf are the pins of levels that limits touch.
func (p *Problem) pinsOf(limits, pins []Limit, level [][]int) []Limit {
	touched := map[int]bool{}
	for _, l := range limits {
		for _, t := range p.touches(l) {
			touched[level[t[0]][t[1]]] = true
		}
	}
	var out []Limit
	for _, l := range pins {
		if touched[level[l.Leg][l.From]] {
			out = append(out, l)
		}
	}
	return out
}

// touches is the joints, as leg and joint, that a limit has to do with.
func (p *Problem) touches(l Limit) [][2]int {
	var out [][2]int
	span := func(leg, from, to int) {
		for j := from; j <= to; j++ {
			out = append(out, [2]int{leg, j})
		}
	}
	switch l.Kind {
	case PinLimit, LowLimit, HighLimit:
		span(l.Leg, l.From, l.To)
	case LeastLimit, MostLimit, StepLimit:
		span(l.Leg, l.From, l.To+1)
	case ChangeLimit:
		span(l.Leg, l.From-1, l.To+1)
	case NodeChange, NodeLip:
		for t := l.From; t <= l.To; t++ {
			th, arms := p.Nodes[l.Leg].Throughs[t], p.Nodes[l.Leg].Arms
			for _, a := range []Arm{arms[th.In], arms[th.Out]} {
				span(a.Leg, p.unit(a), p.unit(a)+1)
			}
		}
	case MouthLimit:
		for t := l.From; t <= l.To; t++ {
			a := p.Nodes[l.Leg].Arms[t]
			span(a.Leg, p.unit(a), p.unit(a)+1)
		}
	}
	return out
}
