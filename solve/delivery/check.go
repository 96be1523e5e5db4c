package delivery

import (
	"fmt"
	"math/big"
	"slices"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// Check looks at an answer a second time, by other means than those that found it: every piece once in a bundle, every bundle once on a
// load or left, no two boxes in one another, none outside its deck or in the air, no mass and no axle over its limit, nothing waiting for
// what is laid more than Ahead behind it, and the count of the bound in exact fractions.
func Check(p *Problem, s *Solution) finding.List {
	c := checker{p: p, s: s}
	c.pieces()
	on := make([]int, len(s.Bundles))
	for _, b := range s.Left {
		on[b]++
	}
	for i := range s.Loads {
		for _, x := range s.Loads[i].Placed {
			on[x.Bundle]++
		}
		c.load(i)
	}
	for b, n := range on {
		if n != 1 {
			c.say("bundle %d comes %d times", b, n)
		}
	}
	c.turns()
	c.bound()
	return c.list
}

type checker struct {
	p    *Problem
	s    *Solution
	list finding.List
}

func (c *checker) say(form string, args ...any) {
	c.list = append(c.list, finding.Finding{ID: "delivery.check", Kind: finding.Fault, Text: fmt.Sprintf(form, args...), Where: finding.Where{Path: "delivery"}, Try: "please report it"})
}

// pieces holds bundles against the supplier's rules.
func (c *checker) pieces() {
	seen := make([]int, len(c.p.Pieces))
	for b := range c.s.Bundles {
		x := &c.s.Bundles[b]
		k := &c.p.Kinds[x.Kind]
		if len(x.Pieces) > max(1, k.Bundle) {
			c.say("bundle %d holds %d, of %d", b, len(x.Pieces), k.Bundle)
		}
		for _, i := range x.Pieces {
			seen[i]++
			if c.p.Pieces[i].Kind != x.Kind || c.p.Pieces[i].Turn < x.Turn {
				c.say("piece %d is in a bundle of another kind or of a later turn", i)
			}
		}
		if want := k.Mass*measure.Mass(len(x.Pieces)) + k.Tare; k.Mass > 0 && x.Mass != want {
			c.say("bundle %d weighs %s, not %s", b, x.Mass, want)
		}
	}
	for i, n := range seen {
		if n != 1 {
			c.say("piece %d is in %d bundles", i, n)
		}
	}
}

// load holds one vehicle against its figures.
func (c *checker) load(i int) {
	l := &c.s.Loads[i]
	v := &c.p.Vehicles[l.Vehicle]
	sum := measure.Mass(0)
	for _, x := range l.Placed {
		sum += c.s.Bundles[x.Bundle].Mass
	}
	if sum != l.Mass || sum > v.room() {
		c.say("load %d brings %s, by the boxes %s, of %s", i, l.Mass, sum, v.room())
	}
	if !c.s.Sized {
		return
	}
	for n, x := range l.Placed {
		b := &c.s.Bundles[x.Bundle]
		if x.X < 0 || x.Y < 0 || x.Z < 0 || x.X+b.Length > v.Deck.Length || x.Y+b.Width > v.Deck.Width || x.Z+b.Height > v.Deck.Height {
			c.say("bundle %d reaches over the deck of load %d", x.Bundle, i)
		}
		level, carried := 1, x.Z == 0
		for m, y := range l.Placed {
			o := &c.s.Bundles[y.Bundle]
			if m == n || x.X >= y.X+o.Length || y.X >= x.X+b.Length || x.Y >= y.Y+o.Width || y.Y >= x.Y+b.Width {
				continue
			}
			if x.Z < y.Z+o.Height && y.Z < x.Z+b.Height {
				c.say("bundles %d and %d of load %d stand in one another", x.Bundle, y.Bundle, i)
			}
			if level++; level > min(c.p.Kinds[b.Kind].High, c.p.Kinds[o.Kind].High) {
				c.say("bundle %d of load %d stands in a stack that is too high", x.Bundle, i)
			}
			if y.Z+o.Height == x.Z && y.X <= x.X && y.Y <= x.Y && x.X+b.Length <= y.X+o.Length && x.Y+b.Width <= y.Y+o.Width {
				carried = carried || slices.Contains(c.p.Kinds[b.Kind].On, o.Kind)
			}
		}
		if !carried {
			c.say("bundle %d of load %d stands on nothing that may carry it", x.Bundle, i)
		}
	}
	if v.Axles != nil {
		c.axles(i, v.Axles)
	}
}

// axles takes moments about the first group, in exact fractions; what is told may differ from it by 5 g.
func (c *checker) axles(i int, a *Axles) {
	l, moment := &c.s.Loads[i], new(big.Rat)
	for _, x := range l.Placed {
		b := &c.s.Bundles[x.Bundle]
		arm := new(big.Rat).SetFrac64(int64(2*(a.Ahead+x.X)+b.Length), 2)
		moment.Add(moment, arm.Mul(arm, new(big.Rat).SetInt64(int64(b.Mass))))
	}
	second, _ := moment.Quo(moment, new(big.Rat).SetInt64(int64(a.Apart))).Float64()
	bears := [2]float64{float64(a.Empty[0]+l.Mass) - second, float64(a.Empty[1]) + second}
	for g := range bears {
		told := float64(l.Axles[g])
		if bears[g] > float64(a.Limit[g])+5 || bears[g] < -5 || told-bears[g] > 5 || bears[g]-told > 5 {
			c.say("axles %d of load %d bear %.0f g, told as %.0f g, limit %d g", g, i, bears[g], told, int64(a.Limit[g]))
		}
	}
}

// turns: whatever comes with a load is laid no more than Ahead behind everything that comes later.
func (c *checker) turns() {
	before := measure.Length(0) // the last turn of all loads before
	for i := range c.s.Loads {
		last := before
		for _, x := range c.s.Loads[i].Placed {
			t := c.s.Bundles[x.Bundle].Turn
			if before > t+c.p.Ahead {
				c.say("bundle %d comes with load %d, behind one that is laid %s later", x.Bundle, i, before-t)
			}
			last = max(last, t)
		}
		before = last
	}
}

// bound counts again.
func (c *checker) bound() {
	stands, b := c.p.stands(), c.s.Bound
	if b.By == "" {
		return
	}
	sum := new(big.Rat)
	for i := range c.s.Loads {
		for _, x := range c.s.Loads[i].Placed {
			box := &c.s.Bundles[x.Bundle]
			least := (*big.Rat)(nil)
			for v := range c.p.Vehicles {
				now := counted(int64(box.Mass), int64(c.p.Vehicles[v].room()), b.K[0])
				if b.By == "deck" {
					d, height := c.p.Vehicles[v].Deck, box.Height
					if !stands[box.Kind] {
						height = d.Height
					}
					now = counted(int64(box.Length), int64(d.Length), b.K[0])
					now.Mul(now, counted(int64(box.Width), int64(d.Width), b.K[1]))
					now.Mul(now, counted(int64(height), int64(d.Height), b.K[2]))
				}
				if least == nil || now.Cmp(least) < 0 {
					least = now
				}
			}
			sum.Add(sum, least)
		}
	}
	if told := new(big.Rat).SetFrac64(b.Sum, b.Of); sum.Cmp(told) != 0 {
		c.say("the bundles count %s of a load, told as %s", sum.FloatString(6), told.FloatString(6))
	}
	if need := new(big.Rat).SetInt64(int64(b.Loads - 1)); b.Loads < 1 || sum.Cmp(need) <= 0 || len(c.s.Loads) < b.Loads {
		c.say("%d loads are said to be the least, the bundles count %s of one, and there are %d", b.Loads, sum.FloatString(6), len(c.s.Loads))
	}
}

// counted is how much of a room x counts: see Bound.
func counted(x, room int64, k int) *big.Rat {
	if x >= room {
		return big.NewRat(1, 1)
	}
	share := big.NewRat(x, room)
	times := new(big.Rat).Mul(share, big.NewRat(int64(k+1), 1))
	if times.IsInt() {
		return share
	}
	whole := new(big.Int).Quo(times.Num(), times.Denom())
	return new(big.Rat).SetFrac(whole, big.NewInt(int64(k)))
}
