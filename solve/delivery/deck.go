package delivery

import (
	"cmp"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
)

// deck is a vehicle while it is loaded.
type deck struct {
	q       *question
	vehicle int
	rows    []row
	used    measure.Length // of its length, by the rows
	mass    measure.Mass
	taken   []int // bundles, where nothing is placed
	order   []int // rows from the front backwards, as they were arranged last
	front   measure.Length
	spread  bool // rows of their own come first
}

// row is stacks side by side across the deck.
type row struct {
	stacks []stack
	length measure.Length // of its longest bundle
	width  measure.Length
	mass   measure.Mass
	moment int64 // about its own front, g·0.1 µm
}

// stack is bundles on one another, the lowest first.
type stack struct {
	bundles []int
	height  measure.Length
}

func (d *deck) reset(vehicle int) {
	d.vehicle, d.rows, d.used, d.mass, d.taken, d.spread = vehicle, d.rows[:0], 0, 0, d.taken[:0], false
}

// take puts a bundle onto the vehicle; false: it does not go on, and nothing has changed.
func (d *deck) take(b int) bool {
	v, box := &d.q.Vehicles[d.vehicle], &d.q.bundles[b]
	if d.mass+box.Mass > v.room() {
		return false
	}
	if !d.q.sized {
		d.mass += box.Mass
		d.taken = append(d.taken, b)
		return true
	}
	if d.spread {
		return d.behind(b) || d.onto(b) || d.beside(b)
	}
	return d.onto(b) || d.beside(b) || d.behind(b)
}

// retake puts on everything anew with one bundle more, from the longest down or from the heaviest down, beside one another first or in
// rows of their own first; false: none of these ways brings all of it, and nothing has changed.
func (d *deck) retake(b int) bool {
	if !d.q.sized || d.mass+d.q.bundles[b].Mass > d.q.Vehicles[d.vehicle].room() {
		return false
	}
	list := append(d.bundlesOn(), b)
	for _, by := range []func(x, y *Bundle) int{
		func(x, y *Bundle) int { return cmp.Or(cmp.Compare(y.Length, x.Length), cmp.Compare(y.Mass, x.Mass)) },
		func(x, y *Bundle) int { return cmp.Compare(y.Mass, x.Mass) },
	} {
		sorting.By(list, func(x, y int) int { return cmp.Or(by(&d.q.bundles[x], &d.q.bundles[y]), cmp.Compare(x, y)) })
		for _, spread := range []bool{false, true} {
			again := deck{q: d.q, vehicle: d.vehicle, spread: spread}
			if !slices.ContainsFunc(list, func(x int) bool { return !again.take(x) }) {
				*d = again
				return true
			}
		}
	}
	return false
}

// onto puts a bundle on one that may carry it.
func (d *deck) onto(b int) bool {
	k := d.q.kindOf(b)
	if k.High < 2 {
		return false
	}
	box, high := &d.q.bundles[b], d.q.Vehicles[d.vehicle].Deck.Height
	for r := range d.rows {
		for s := range d.rows[r].stacks {
			st := &d.rows[r].stacks[s]
			top := &d.q.bundles[st.bundles[len(st.bundles)-1]]
			if !slices.Contains(k.On, top.Kind) || box.Length > top.Length || box.Width > top.Width || st.height+box.Height > high || len(st.bundles) >= d.q.highest(st, b) {
				continue
			}
			if d.add(r, 0, 0, b, func() { st.bundles, st.height = append(st.bundles, b), st.height+box.Height }) {
				return true
			}
		}
	}
	return false
}

// highest is how many bundles may stand in a stack with one more.
func (q *question) highest(st *stack, b int) int {
	most := q.kindOf(b).High
	for _, other := range st.bundles {
		most = min(most, q.kindOf(other).High)
	}
	return most
}

// beside puts a bundle into a row that has room: first into one that is long enough.
func (d *deck) beside(b int) bool {
	box, on := &d.q.bundles[b], d.q.Vehicles[d.vehicle].Deck
	if box.Height > on.Height {
		return false
	}
	for _, longer := range []bool{false, true} {
		for r := range d.rows {
			more := max(0, box.Length-d.rows[r].length)
			if more > 0 != longer || d.rows[r].width+box.Width > on.Width || d.used+more > on.Length {
				continue
			}
			if d.add(r, more, box.Width, b, func() {
				d.rows[r].stacks = append(d.rows[r].stacks, stack{[]int{b}, box.Height})
			}) {
				return true
			}
		}
	}
	return false
}

// behind puts a bundle into a row of its own.
func (d *deck) behind(b int) bool {
	box, on := &d.q.bundles[b], d.q.Vehicles[d.vehicle].Deck
	if box.Height > on.Height || box.Width > on.Width || d.used+box.Length > on.Length {
		return false
	}
	d.rows = append(d.rows, row{})
	if d.add(len(d.rows)-1, box.Length, box.Width, b, func() {
		d.rows[len(d.rows)-1].stacks = []stack{{[]int{b}, box.Height}}
	}) {
		return true
	}
	d.rows = d.rows[:len(d.rows)-1]
	return false
}

// add gives a row a bundle, its length and width that much more; where the axles bear it, put is done, else nothing is changed.
func (d *deck) add(r int, length, width measure.Length, b int, put func()) bool {
	box, was, used, mass := &d.q.bundles[b], d.rows[r], d.used, d.mass
	now := &d.rows[r]
	now.length, now.width, now.mass = now.length+length, now.width+width, now.mass+box.Mass
	now.moment += int64(box.Mass) * tenths(box.Length/2)
	d.used, d.mass = used+length, mass+box.Mass
	if !d.arrange() {
		d.rows[r], d.used, d.mass = was, used, mass
		return false
	}
	put()
	return true
}

// arrange puts rows in an order and moves them back from the front of the deck so that the axles bear them: the heaviest for its length
// in front, which makes the least moment there is; from there rows change places one by one until the heaviest stand at the end.
func (d *deck) arrange() bool {
	v := &d.q.Vehicles[d.vehicle]
	d.order, d.front = d.order[:0], 0
	for i := range d.rows {
		d.order = append(d.order, i)
	}
	if v.Axles == nil {
		return true
	}
	denser := func(a, b int) int {
		x, y := &d.rows[a], &d.rows[b]
		return cmp.Or(cmp.Compare(int64(y.mass)*tenths(x.length), int64(x.mass)*tenths(y.length)), cmp.Compare(a, b))
	}
	sorting.By(d.order, denser)
	least, most := v.Axles.share(d.mass)
	moment, slack := d.moment(), tenths(v.Deck.Length-d.used)
	for {
		if moment > most {
			return false
		}
		if d.mass == 0 || moment+int64(d.mass)*slack >= least {
			if moment < least {
				shift := (least - moment + int64(d.mass) - 1) / int64(d.mass)
				d.front = measure.Length(shift) * tenth
				return moment+shift*int64(d.mass) <= most
			}
			return true
		}
		at := -1 // the first two neighbours that are still in the first order
		for i := 1; i < len(d.order) && at < 0; i++ {
			if denser(d.order[i-1], d.order[i]) < 0 {
				at = i
			}
		}
		if at < 0 {
			return false
		}
		x, y := &d.rows[d.order[at-1]], &d.rows[d.order[at]]
		moment += int64(x.mass)*tenths(y.length) - int64(y.mass)*tenths(x.length)
		d.order[at-1], d.order[at] = d.order[at], d.order[at-1]
	}
}

// moment is that of all rows in their order about the front of the deck.
func (d *deck) moment() int64 {
	sum, x := int64(0), int64(0)
	for _, r := range d.order {
		sum += d.rows[r].moment + int64(d.rows[r].mass)*x
		x += tenths(d.rows[r].length)
	}
	return sum
}

// load is the vehicle as it stands.
func (d *deck) load() Load {
	out := Load{Vehicle: d.vehicle, Mass: d.mass}
	if !d.q.sized {
		for _, b := range d.taken {
			out.Placed = append(out.Placed, Placed{Bundle: b})
		}
		return out
	}
	d.arrange()
	v, x, moment := &d.q.Vehicles[d.vehicle], d.front, int64(0)
	for _, r := range d.order {
		y := measure.Length(0)
		for _, st := range d.rows[r].stacks {
			z, width := measure.Length(0), measure.Length(0)
			for _, b := range st.bundles {
				box := &d.q.bundles[b]
				out.Placed = append(out.Placed, Placed{b, x, y, z})
				moment += int64(box.Mass) * (tenths(x) + tenths(box.Length/2))
				z, width = z+box.Height, max(width, box.Width)
			}
			y += width
		}
		x += d.rows[r].length
	}
	out.Used = x
	if v.Axles != nil {
		out.Axles = new(v.Axles.bear(d.mass, moment))
	}
	return out
}

// bundlesOn are the bundles of a vehicle, in the order of their turns.
func (d *deck) bundlesOn() []int {
	list := slices.Clone(d.taken)
	for _, r := range d.rows {
		for _, st := range r.stacks {
			list = append(list, st.bundles...)
		}
	}
	slices.Sort(list)
	return list
}
