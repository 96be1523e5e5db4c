package delivery

import (
	"cmp"
	"math"
	"slices"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/sorting"
)

// question is a problem with what was found out about it before anything is loaded.
type question struct {
	*Problem
	bundles []Bundle
	sized   bool
	least   []int   // vehicles from the smallest payload on
	weight  []int64 // of each bundle, as the bound counts it: how much of a load it takes
}

func (q *question) kindOf(b int) *Kind { return &q.Kinds[q.bundles[b].Kind] }

// Solve puts everything on vehicles. In the end no piece waits for one that is laid more than Ahead behind it.
func Solve(p Problem) (Solution, finding.List) {
	if bad := Faults(&p); len(bad) > 0 {
		return Solution{}, bad
	}
	q := &question{Problem: &p, bundles: bundles(&p)}
	out := Solution{Bundles: q.bundles}
	if len(p.Vehicles) == 0 {
		for b := range q.bundles {
			out.Left = append(out.Left, b)
		}
		return out, nil
	}
	q.sized = !slices.ContainsFunc(p.Vehicles, func(v Vehicle) bool { return v.Deck == nil }) &&
		!slices.ContainsFunc(q.bundles, func(b Bundle) bool { return b.Mass > 0 && !b.sized() })
	for v := range p.Vehicles {
		q.least = append(q.least, v)
	}
	sorting.By(q.least, func(a, b int) int { return cmp.Compare(p.Vehicles[a].Payload, p.Vehicles[b].Payload) })
	var rest []int
	told := map[int]bool{}
	for b := range q.bundles {
		switch {
		case q.bundles[b].Mass == 0:
			out.Left = append(out.Left, b)
		case q.carrier(b) < 0:
			out.Left = append(out.Left, b)
			if k := q.bundles[b].Kind; !told[k] {
				told[k] = true
				out.Findings = append(out.Findings, q.tooLarge(b))
			}
		default:
			rest = append(rest, b)
		}
	}
	out.Sized = q.sized
	out.Bound = q.bound(rest)
	out.Loads = q.loads(rest)
	return out, nil
}

// carrier is the smallest vehicle that carries a bundle by itself; -1: none does.
func (q *question) carrier(b int) int {
	d := deck{q: q}
	for _, v := range q.least {
		if d.reset(v); d.take(b) {
			return v
		}
	}
	return -1
}

// mostMisses is after how many bundles that do not go on any more a vehicle is held to be full.
const mostMisses = 48

// mostAgain is for how many of them everything is put on anew.
const mostAgain = 2

// loads are what comes on one vehicle after another.
func (q *question) loads(rest []int) []Load {
	var out []Load
	d := deck{q: q}
	for len(rest) > 0 {
		best, weight, load := []int(nil), int64(-1), Load{}
		for _, v := range q.least {
			for _, fill := range []func(*deck, []int){q.inOrder, q.heaviestFirst, q.fullest} {
				d.reset(v)
				fill(&d, rest)
				on := d.bundlesOn()
				sum := int64(0)
				for _, b := range on {
					sum += q.weight[b]
				}
				if len(on) > 0 && sum > weight {
					best, weight, load = on, sum, d.load()
				}
			}
		}
		out = append(out, q.onto(&d, best, load))
		gone := 0
		rest = slices.DeleteFunc(rest, func(b int) bool { // both are in order
			if gone < len(best) && best[gone] == b {
				gone++
				return true
			}
			return false
		})
	}
	return out
}

// onto is a load on the smallest vehicle that carries the same bundles, in the order of their turns or from the largest down.
func (q *question) onto(d *deck, on []int, filled Load) Load {
	largest := slices.Clone(on)
	q.byWeight(largest)
	for _, v := range q.least {
		if v == filled.Vehicle {
			break
		}
		for _, order := range [][]int{on, largest} {
			d.reset(v)
			if !slices.ContainsFunc(order, func(b int) bool { return !d.take(b) }) {
				return d.load()
			}
		}
	}
	return filled
}

// byWeight sorts bundles from the one that takes most of a load down.
func (q *question) byWeight(list []int) {
	sorting.By(list, func(a, b int) int {
		return cmp.Or(cmp.Compare(q.weight[b], q.weight[a]), cmp.Compare(q.bundles[b].Mass, q.bundles[a].Mass), cmp.Compare(a, b))
	})
}

// window is how many of what is left are laid no more than Ahead behind the first: they may come in any order.
func (q *question) window(rest []int) int {
	last := q.bundles[rest[0]].Turn + q.Ahead
	n := 1
	for n < len(rest) && q.bundles[rest[n]].Turn <= last {
		n++
	}
	return n
}

// inOrder takes bundles by their turns. Behind one that does not go on, only those may come that are laid no more than Ahead later.
func (q *question) inOrder(d *deck, rest []int) {
	last, misses := measure.Length(math.MaxInt64), 0
	for _, b := range rest {
		if q.bundles[b].Turn > last || misses > mostMisses {
			return
		}
		if !d.take(b) && (misses >= mostAgain || !d.retake(b)) {
			last, misses = min(last, q.bundles[b].Turn+q.Ahead), misses+1
		}
	}
}

// heaviestFirst takes the first bundle, and of those that may come with it the ones that take most of a load; where all of them go on,
// it goes on in order.
func (q *question) heaviestFirst(d *deck, rest []int) {
	n := min(q.window(rest), mostInWindow)
	if n == 1 || !d.take(rest[0]) {
		return // inOrder has tried that
	}
	list := slices.Clone(rest[1:n])
	q.byWeight(list)
	q.takeAll(d, list, rest[n:])
}

// takeAll takes what goes on of a list in its order, and if all of it does, of what comes behind it.
func (q *question) takeAll(d *deck, list, behind []int) {
	misses := 0
	for _, b := range list {
		if !d.take(b) {
			if misses++; misses > mostMisses {
				return
			}
		}
	}
	if misses == 0 && len(behind) > 0 {
		q.inOrder(d, behind)
	}
}

const (
	mostInWindow = 512  // bundles that are looked at for one load
	mostNodes    = 2000 // ways of filling a vehicle that are tried
	mostSizes    = 12   // masses that are told apart in that
)

// fullest takes the first bundle and with it those of the window whose masses come nearest to the payload: few masses are told apart, the
// most frequent ones, and how many of each is tried from the most down.
func (q *question) fullest(d *deck, rest []int) {
	n := min(q.window(rest), mostInWindow)
	if n == 1 || !d.take(rest[0]) {
		return
	}
	of := map[measure.Mass][]int{}
	var sizes []measure.Mass
	for _, b := range rest[1:n] {
		m := q.bundles[b].Mass
		if of[m] == nil {
			sizes = append(sizes, m)
		}
		of[m] = append(of[m], b)
	}
	sorting.By(sizes, func(a, b measure.Mass) int { return cmp.Or(cmp.Compare(len(of[b]), len(of[a])), cmp.Compare(b, a)) })
	sizes = sizes[:min(len(sizes), mostSizes)]
	sorting.By(sizes, func(a, b measure.Mass) int { return cmp.Compare(b, a) })
	counts := make([]int, len(sizes))
	for i, m := range sizes {
		counts[i] = len(of[m])
	}
	var list []int
	for i, k := range fill(sizes, counts, q.Vehicles[d.vehicle].Payload-d.mass) {
		list = append(list, of[sizes[i]][:k]...)
	}
	for _, b := range list {
		d.take(b)
	}
	others := slices.DeleteFunc(slices.Clone(rest[1:n]), func(b int) bool { return slices.Contains(list, b) })
	q.byWeight(others)
	q.takeAll(d, others, nil)
}

// fill is how many of each mass, the heaviest first, make most of a room without going over it.
func fill(sizes []measure.Mass, counts []int, room measure.Mass) []int {
	best, now, most, nodes := make([]int, len(sizes)), make([]int, len(sizes)), measure.Mass(-1), 0
	var try func(i int, sum measure.Mass)
	try = func(i int, sum measure.Mass) {
		if nodes++; nodes > mostNodes || most == room {
			return
		}
		if sum > most {
			most = sum
			copy(best, now)
		}
		if i == len(sizes) {
			return
		}
		for k := min(counts[i], int((room-sum)/sizes[i])); k >= 0; k-- {
			now[i] = k
			try(i+1, sum+sizes[i]*measure.Mass(k))
		}
		now[i] = 0
	}
	try(0, 0)
	return best
}
