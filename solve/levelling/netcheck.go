package levelling

import (
	"fmt"
	"math"

	"trenchwright/base/measure"
)

// CheckNetwork verifies an adjusted network apart from the code that adjusted it, from the lines and the answer alone: held
// benchmarks stand where they are; each residual is what the levels make of its line; at every other point the weighted
// residuals balance (AᵀPv = 0, what makes squares least) as far as levels in whole nanometres let them; m0 is that of the
// residuals; the shares of all lines add up to what is redundant; every loop's misclosure is the sum of its rises, and that of
// its adjusted rises is none. It gives what does not hold; nothing when all does. A refused network has no levels to check.
func CheckNetwork(n Network, a Adjusted) []string {
	c := netCheck{n: n, a: a, level: map[string]measure.Length{}, tied: map[string]bool{}}
	for _, p := range a.Points {
		if p.Level != nil {
			c.level[p.Name], c.tied[p.Name] = *p.Level, true
		}
	}
	if len(a.Residuals) != len(n.Lines) {
		return []string{fmt.Sprintf("%d residuals for %d lines", len(a.Residuals), len(n.Lines))}
	}
	c.loops()
	c.sums()
	if !a.Refused() {
		c.held()
		c.residuals()
	}
	c.balance()
	return c.bad
}

type netCheck struct {
	n     Network
	a     Adjusted
	level map[string]measure.Length
	tied  map[string]bool
	bad   []string
}

func (c *netCheck) fail(format string, args ...any) {
	c.bad = append(c.bad, fmt.Sprintf(format, args...))
}

func (c *netCheck) weight(l Line) float64 {
	switch c.n.Weigh {
	case ByDistance:
		return 1000 / l.Distance.Metres()
	case BySetup:
		return 1 / float64(l.Setups)
	}
	return 1 / l.SD.Metres() / l.SD.Metres()
}

func (c *netCheck) held() {
	if c.n.Free {
		c.laidFreely()
		return
	}
	for _, f := range c.n.Fixed {
		if got := c.level[f.Point]; got != f.Level {
			c.fail("benchmark %s stands at %s, it is held at %s", f.Point, got, f.Level)
		}
	}
}

// laidFreely: in each part the stated points stand where they are stated, on average; without any, all stand about nought.
func (c *netCheck) laidFreely() {
	stated := map[string]measure.Length{}
	for _, f := range c.n.Fixed {
		stated[f.Point] = f.Level
	}
	for _, part := range c.a.Parts {
		sum, n, all := 0.0, 0, 0.0
		for _, p := range part.Points {
			all += c.level[p].Metres()
			if l, ok := stated[p]; ok {
				sum += (c.level[p] - l).Metres()
				n++
			}
		}
		if n == 0 {
			sum, n = all, len(part.Points)
		}
		if mean := sum / float64(n); math.Abs(mean) > 2e-9+float64(1e-12*math.Abs(all)) {
			c.fail("the part of %s stands %g m off its datum", part.Points[0], mean)
		}
	}
}

func (c *netCheck) residuals() {
	for i, l := range c.n.Lines {
		if c.tied[l.From] && c.tied[l.To] {
			if v := c.level[l.To] - c.level[l.From] - l.Rise; v != c.a.Residuals[i].V {
				c.fail("line %d: residual %s, the levels give %s", i, c.a.Residuals[i].V, v)
			}
		}
	}
}

// balance: each level is off by half a nanometre at most, so each residual by one.
func (c *netCheck) balance() {
	sum, room := map[string]float64{}, map[string]float64{}
	for i, l := range c.n.Lines {
		w, v := c.weight(l), c.a.Residuals[i].V.Metres()
		sum[l.To] += float64(w * v)
		sum[l.From] -= float64(w * v)
		slack := float64(w * (1.01e-9 + float64(1e-10*math.Abs(v))))
		room[l.To] += slack
		room[l.From] += slack
	}
	held := map[string]bool{}
	for _, f := range c.n.Fixed {
		held[f.Point] = !c.n.Free
	}
	for _, p := range c.a.Points {
		if !held[p.Name] && math.Abs(sum[p.Name]) > room[p.Name] {
			c.fail("at %s the weighted residuals leave %g of %g", p.Name, sum[p.Name], room[p.Name])
		}
	}
}

func (c *netCheck) sums() {
	square, shares, room := 0.0, 0.0, 0.0
	for i, l := range c.n.Lines {
		w, v := c.weight(l), c.a.Residuals[i].V.Metres()
		square += float64(w * float64(v*v))
		room += float64(w * (float64(2.1e-9*math.Abs(v)) + 1e-17))
		shares += c.a.Residuals[i].Share
	}
	if r := float64(c.a.Redundant); math.Abs(shares-r) > 1e-6*float64(1+len(c.n.Lines)) {
		c.fail("the shares of all lines add up to %g; %d are redundant", shares, c.a.Redundant)
	}
	want := float64(c.a.M0 * c.a.M0 * float64(c.a.Redundant))
	if math.Abs(square-want) > room+float64(1e-9*square) {
		c.fail("m0 %g does not belong to the residuals, which give %g", c.a.M0, square)
	}
}

func (c *netCheck) loops() {
	known := map[string]measure.Length{}
	for _, f := range c.n.Fixed {
		known[f.Point] = f.Level
	}
	for _, l := range c.a.Loops {
		var raw, adjusted measure.Length
		p := l.Points[0]
		for k, i := range l.Lines {
			line, q := c.n.Lines[i], l.Points[k+1]
			sign := measure.Length(1)
			if line.From == q && line.To == p {
				sign = -1
			} else if line.From != p || line.To != q {
				c.fail("loop %v: line %d does not lead from %s to %s", l.Points, i, p, q)
			}
			raw += sign * line.Rise
			adjusted += sign * (line.Rise + c.a.Residuals[i].V)
			p = q
		}
		var known1 measure.Length
		if l.Between {
			known1 = known[p] - known[l.Points[0]]
		} else if p != l.Points[0] {
			c.fail("loop %v does not come back", l.Points)
		}
		if raw-known1 != l.Misclosure || adjusted != known1 {
			c.fail("loop %v: misclosure %s, the lines give %s; adjusted %s", l.Points, l.Misclosure, raw-known1, adjusted-known1)
		}
	}
}
