package planner

import (
	"math/rand/v2"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/place/route"
	"trenchwright/tools/seed"
)

// network is Answers with a random network alone: nodes, legs between them, and legs that end on another.
func network(rng *rand.Rand) *Answers {
	a := &Answers{b: &build{}}
	nodes, legs := 2+rng.IntN(5), 1+rng.IntN(7)
	for range nodes {
		a.b.net.Nodes = append(a.b.net.Nodes, route.Node{})
	}
	for range legs {
		a.b.net.Legs = append(a.b.net.Legs, route.Leg{From: rng.IntN(nodes), To: rng.IntN(nodes)})
		a.legs = append(a.legs, answerLeg{length: measure.Length(1+rng.IntN(9)) * measure.Metre})
	}
	if n := rng.IntN(nodes); rng.IntN(2) == 0 {
		leg := rng.IntN(legs)
		if l := a.b.net.Legs[leg]; l.From != n && l.To != n {
			a.b.net.Nodes[n].On = &route.OnLeg{Leg: leg, Chainage: a.legs[leg].length / 2}
		}
	}
	return a
}

// slowWay is the length of the shortest way, found by going every way that comes to no node twice; -1: there is none.
func (a *Answers) slowWay(s, e Spot) measure.Length {
	onLeg, _ := a.posts()
	best := measure.Length(-1)
	end := func(far measure.Length) {
		if best < 0 || far < best {
			best = far
		}
	}
	seen := map[int]bool{}
	var from func(leg int, at, far measure.Length)
	from = func(leg int, at, far measure.Length) {
		if leg == e.Leg {
			end(far + (e.At - at).Abs())
		}
		for _, p := range onLeg[leg] {
			if seen[p.node] {
				continue
			}
			seen[p.node] = true
			for other := range onLeg {
				for _, q := range onLeg[other] {
					if q.node == p.node {
						from(other, q.at, far+(p.at-at).Abs())
					}
				}
			}
			seen[p.node] = false
		}
	}
	from(s.Leg, s.At, 0)
	return best
}

// The way is as long as the shortest of all ways, hangs together from one place to the other, and is nowhere gone twice.
func TestWayAgainstAllWays(t *testing.T) {
	seed := seed.Of(t)
	rng := rand.New(rand.NewPCG(seed, 3))
	found := 0
	for n := range 3000 {
		a := network(rng)
		spot := func() Spot {
			leg := rng.IntN(len(a.legs))
			return Spot{Leg: leg, At: measure.Length(rng.Int64N(int64(a.legs[leg].length) + 1))}
		}
		s, e := spot(), spot()
		want := a.slowWay(s, e)
		way, ok := a.way(s, e)
		if ok != (want >= 0) {
			t.Fatalf("seed %d, %d: found %v, the slow way is %v", seed, n, ok, want)
		}
		if !ok {
			continue
		}
		found++
		sum := measure.Length(0)
		for _, p := range way {
			if sum += p.length(); p.from < 0 || p.from > p.to || p.to > a.legs[p.leg].length {
				t.Fatalf("seed %d, %d: %+v", seed, n, p)
			}
		}
		if sum != want {
			t.Fatalf("seed %d, %d: %v, the slow way is %v", seed, n, sum, want)
		}
		for i, p := range way {
			for _, q := range way[i+1:] {
				if p.leg == q.leg && p.from < q.to && q.from < p.to {
					t.Fatalf("seed %d, %d: %+v and %+v overlap", seed, n, p, q)
				}
			}
		}
	}
	if found < 500 {
		t.Errorf("only %d ways were found", found)
	}
}
