package profile

// chain is one leg in numbers. Its levels are eliminated towards its ends; what is left couples the two joints at either
// end that lies at a node.
type chain struct {
	x, z, dz    []float64 // chainage, level, change of level
	fixed       []bool
	pins        []int     // the joints that are fixed
	alpha, beta []float64 // by joint: curve[j] = β(z₂−z₁) − α(z₁−z₀), in metres; 0 at the ends

	level, unit, curve family // by joint, by unit, by joint

	d0, d1, d2, rhs []float64 // the band, then its factors: 1/pivot and the multipliers of the next two joints
	w0, w1          []float64 // couplings to the first two joints, where those are kept; then multipliers

	first, last int   // joints that are eliminated; none if first > last
	kept        []int // joints that are kept
	vars        []int // their numbers at the nodes
	slots       []int // of the matrix of the nodes, for each pair of kept joints
}

func newChain(m int, left, right bool) *chain {
	floats := func(n int) []float64 { return make([]float64, n) }
	c := &chain{
		x: floats(m), z: floats(m), dz: floats(m), fixed: make([]bool, m), alpha: floats(m), beta: floats(m),
		level: newFamily(m), unit: newFamily(m - 1), curve: newFamily(m),
		d0: floats(m + 2), d1: floats(m + 2), d2: floats(m + 2), rhs: floats(m + 2),
	}
	n := m - 1
	c.first, c.last = 0, n
	if left {
		c.first = 2
	}
	if right {
		c.last = n - 2
	}
	if c.first > c.last {
		c.first, c.last = n+1, n
	}
	for j := range m {
		if j < c.first || j > c.last {
			c.kept = append(c.kept, j)
		}
	}
	if left && c.first <= c.last {
		c.w0, c.w1 = floats(m+2), floats(m+2)
	}
	return c
}

// number is the number of a kept joint at the nodes.
func (c *chain) number(joint int) int {
	for i, k := range c.kept {
		if k == joint {
			return c.vars[i]
		}
	}
	panic("profile: a row across a node reaches into a leg")
}

// assemble is the matrix of the step, from the h of all rows.
func (c *chain) assemble() {
	m := len(c.z)
	d0, d1, d2 := c.d0, c.d1, c.d2
	copy(d0, c.level.h)
	clear(d0[m:])
	clear(d1)
	clear(d2)
	for k, h := range c.unit.h {
		d0[k] += h
		d0[k+1] += h
		d1[k] -= h
	}
	for j := 1; j < m-1; j++ {
		h := c.curve.h[j]
		if h == 0 {
			continue
		}
		a, b := c.alpha[j], c.beta[j]
		ha, hb := float64(h*a), float64(h*b)
		s := a + b
		d0[j-1] += float64(ha * a)
		d0[j] += float64(float64(h*s) * s)
		d0[j+1] += float64(hb * b)
		d1[j-1] -= float64(ha * s)
		d1[j] -= float64(hb * s)
		d2[j-1] += float64(ha * b)
	}
	for _, j := range c.pins {
		d0[j], d1[j], d2[j] = 1, 0, 0
		if j > 0 {
			d1[j-1] = 0
		}
		if j > 1 {
			d2[j-2] = 0
		}
	}
}

// right is the right side of the step, from the g of all rows.
func (c *chain) right() {
	m := len(c.z)
	rhs := c.rhs
	for j, g := range c.level.g {
		rhs[j] = -g
	}
	clear(rhs[m:])
	for k, g := range c.unit.g {
		rhs[k] += g
		rhs[k+1] -= g
	}
	for j := 1; j < m-1; j++ {
		g := c.curve.g[j]
		ga, gb := float64(c.alpha[j]*g), float64(c.beta[j]*g)
		rhs[j-1] -= ga
		rhs[j] += ga + gb
		rhs[j+1] -= gb
	}
	for _, j := range c.pins {
		rhs[j] = 0
	}
}

// eliminate factors the band, and adds what is left to the matrix of the nodes.
func (c *chain) eliminate(n *net) {
	var s00, s01, s11 float64
	if c.w0 != nil {
		clear(c.w0)
		clear(c.w1)
		c.w0[2], c.w1[2], c.w1[3] = c.d2[0], c.d1[1], c.d2[1]
	}
	d0, d1, d2 := c.d0, c.d1, c.d2
	for i := c.first; i <= c.last; i++ {
		inv := 1 / d0[i]
		if !(d0[i] > 0) { // lost to rounding: this joint stays where it is for one step
			inv = 0
		}
		e1, e2 := d1[i], d2[i]
		l1, l2 := e1*inv, e2*inv
		d0[i+1] -= float64(e1 * l1)
		d1[i+1] -= float64(e2 * l1)
		d0[i+2] -= float64(e2 * l2)
		d0[i], d1[i], d2[i] = inv, l1, l2
		if c.w0 != nil {
			b0, b1 := c.w0[i], c.w1[i]
			m0, m1 := b0*inv, b1*inv
			c.w0[i+1] -= float64(b0 * l1)
			c.w1[i+1] -= float64(b1 * l1)
			c.w0[i+2] -= float64(b0 * l2)
			c.w1[i+2] -= float64(b1 * l2)
			s00 -= float64(b0 * m0)
			s01 -= float64(b0 * m1)
			s11 -= float64(b1 * m1)
			c.w0[i], c.w1[i] = m0, m1
		}
	}
	at := 0
	for a, i := range c.kept {
		for b, j := range c.kept[:a+1] {
			v := c.entry(j, i)
			switch {
			case c.w0 == nil || i > 1:
			case j == 0 && i == 0:
				v += s00
			case j == 0 && i == 1:
				v += s01
			case j == 1 && i == 1:
				v += s11
			}
			if a != b && c.vars[a] == c.vars[b] { // both ends of the leg lie at one node
				v *= 2
			}
			n.value[c.slots[at]] += v
			at++
		}
	}
}

// entry is the matrix between two kept joints i ≤ j, after the others were eliminated.
func (c *chain) entry(i, j int) float64 {
	between := c.first <= c.last && i < c.first && j > c.last
	switch {
	case between && i == 0:
		return c.w0[j]
	case between:
		return c.w1[j]
	case j == i:
		return c.d0[i]
	case j == i+1:
		return c.d1[i]
	case j == i+2:
		return c.d2[i]
	}
	return 0
}

// forward takes the eliminated joints out of the right side.
func (c *chain) forward(n *net) {
	rhs := c.rhs
	r0, r1 := 0.0, 0.0
	for i := c.first; i <= c.last; i++ {
		v := rhs[i]
		rhs[i+1] -= float64(c.d1[i] * v)
		rhs[i+2] -= float64(c.d2[i] * v)
		if c.w0 != nil {
			r0 += float64(c.w0[i] * v)
			r1 += float64(c.w1[i] * v)
		}
	}
	for a, j := range c.kept {
		v := rhs[j]
		if j == 0 {
			v -= r0
		} else if j == 1 {
			v -= r1
		}
		n.rhs[c.vars[a]] += v
	}
}

// backward finds the change of every level from those of the kept ones.
func (c *chain) backward(n *net) {
	dz := c.dz
	for a, j := range c.kept {
		dz[j] = n.rhs[c.vars[a]]
	}
	var one, two float64
	if c.last+1 < len(dz) && c.first <= c.last {
		one, two = dz[c.last+1], dz[c.last+2]
	}
	for i := c.last; i >= c.first; i-- {
		v := float64(c.rhs[i]*c.d0[i]) - float64(c.d1[i]*one) - float64(c.d2[i]*two)
		if c.w0 != nil {
			v -= float64(c.w0[i]*dz[0]) + float64(c.w1[i]*dz[1])
		}
		dz[i] = v
		one, two = v, one
	}
}
