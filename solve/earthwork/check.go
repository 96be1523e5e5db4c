package earthwork

import (
	"errors"
	"fmt"
	"math"

	"trenchwright/base/measure"
)

// Check holds a Solution against itself and its Problem: everything that went in came out somewhere, to a billionth. It
// adds up on its own and shares nothing with the solver but the types. nil: all adds up.
func Check(p *Problem, s *Solution) error {
	c := &check{}
	var total [nBooks]float64
	for i, l := range s.Legs {
		var leg [nBooks]float64
		for k, q := range l.Spans {
			c.quantities(fmt.Sprintf("leg %s, span %d", l.Name, k), q)
			book(&leg, q)
		}
		var said [nBooks]float64
		book(&said, l.Total)
		c.same(fmt.Sprintf("leg %s against its spans", l.Name), said, leg)
		for k := range leg {
			total[k] += leg[k]
		}
		c.running(l)
		if len(l.Spans) > 0 && i < len(p.Legs) && len(l.Spans) != len(p.Legs[i].Spans) {
			c.fail("leg %s has %d spans, the answer %d", l.Name, len(p.Legs[i].Spans), len(l.Spans))
		}
	}
	var said [nBooks]float64
	book(&said, s.Total)
	c.same("the run against its legs", said, total)
	for _, b := range s.Balances {
		c.balance(p, s, b)
	}
	return errors.Join(c.wrong...)
}

const nBooks = 13

type check struct{ wrong []error }

func (c *check) fail(form string, args ...any) { c.wrong = append(c.wrong, fmt.Errorf(form, args...)) }

// billionth is how far sums may be off, against the sum of what went into them.
const billionth = 1e-9

func (c *check) equal(what string, a, b, scale float64) {
	if !(math.Abs(a-b) <= billionth*max(1, math.Abs(scale))) {
		c.fail("%s: %.12g against %.12g", what, a, b)
	}
}

func book(to *[nBooks]float64, q Quantities) {
	for i, v := range [nBooks]float64{q.Run, float64(q.Topsoil), float64(q.Soil), float64(q.Rock), float64(q.Stone), float64(q.Pads), float64(q.Pipe),
		float64(q.Unit), float64(q.Fill), float64(q.TopsoilBack), float64(q.Raised), float64(q.Lowered), q.Width} {
		to[i] += v
	}
}

func (c *check) same(what string, a, b [nBooks]float64) {
	for i := range a {
		c.equal(fmt.Sprintf("%s, figure %d", what, i), a[i], b[i], b[i])
	}
}

// quantities: what was dug, and raised, and not lowered, is filled; the layers are the fill; nothing is below nought.
func (c *check) quantities(what string, q Quantities) {
	dug := float64(q.Topsoil + q.Soil + q.Rock)
	filled := float64(q.Stone + q.Pads + q.Pipe + q.Unit + q.Fill + q.TopsoilBack)
	c.equal(what+": dug, raised and lowered against filled", dug+float64(q.Raised)-float64(q.Lowered), filled, dug+filled)
	if len(q.Layers) > 0 {
		sum := 0.0
		for _, l := range q.Layers {
			sum += float64(l.Left) + float64(l.Right)
		}
		c.equal(what+": layers against fill", sum, float64(q.Fill), dug+filled)
	}
	for i, v := range [...]measure.Volume{q.Topsoil, q.Soil, q.Rock, q.Pads, q.Pipe, q.Unit, q.Fill, q.TopsoilBack, q.Raised, q.Lowered} {
		if !(v >= -billionth) {
			c.fail("%s: volume %d is %g", what, i, float64(v))
		}
	}
}

func (c *check) running(l LegDig) {
	dug, fill := 0.0, 0.0
	for i, r := range l.Running {
		if i > 0 {
			q := l.Spans[i-1]
			dug += float64(q.Topsoil + q.Soil + q.Rock)
			fill += float64(q.Fill + q.TopsoilBack)
		}
		c.equal(fmt.Sprintf("leg %s, curve of volumes at %s: dug", l.Name, r.At), float64(r.Dug), dug, dug)
		c.equal(fmt.Sprintf("leg %s, curve of volumes at %s: filled", l.Name, r.At), float64(r.Fill), fill, fill)
	}
}

// balance: in the ground, loose and compacted, what is dug and brought in is what goes back and leaves.
func (c *check) balance(p *Problem, s *Solution, b Balance) {
	dug := map[Material]measure.Volume{Topsoil: s.Total.Topsoil, Soil: s.Total.Soil, Rock: s.Total.Rock}[b.Of]
	back := map[Material]measure.Volume{Topsoil: s.Total.TopsoilBack, Soil: s.Total.Fill}[b.Of]
	scale := float64(dug + back)
	c.equal(fmt.Sprintf("%s dug", b.Of), float64(b.Dug.Bank), float64(dug), scale)
	c.equal(fmt.Sprintf("%s back, in place", b.Of), float64(b.Back.Compacted), float64(back), scale)
	var f *Factor
	for i := range p.Factors {
		if p.Factors[i].Of == b.Of {
			f = &p.Factors[i]
		}
	}
	for _, one := range [...]struct {
		what string
		s    State
	}{{"dug", b.Dug}, {"back", b.Back}, {"in", b.In}, {"leaves", b.Leaves}} {
		switch {
		case one.s.Known && f == nil:
			c.fail("%s %s: states without a factor", b.Of, one.what)
		case one.s.Known:
			c.equal(fmt.Sprintf("%s %s, loose", b.Of, one.what), float64(one.s.Loose), float64(one.s.Bank)*f.Loose, scale)
			c.equal(fmt.Sprintf("%s %s, compacted", b.Of, one.what), float64(one.s.Compacted), float64(one.s.Bank)*f.Compacted, scale)
		}
	}
	if b.Back.Known && b.Dug.Known {
		c.equal(fmt.Sprintf("%s: in the ground", b.Of), float64(b.Dug.Bank+b.In.Bank), float64(b.Back.Bank+b.Leaves.Bank), scale)
	}
	if b.Loads != nil {
		of := p.Load
		if p.Weighed && f != nil {
			of = f.Load
		}
		if of == nil {
			c.fail("%s: %d loads, and no size of a load", b.Of, *b.Loads)
			return
		}
		n, loose, load := float64(*b.Loads), float64(b.Leaves.Loose), *of
		if n*load < loose*(1-1e-8) || (n-1)*load > loose*(1+1e-8) {
			c.fail("%s: %d loads of %g for %g", b.Of, *b.Loads, load, loose)
		}
	}
}
