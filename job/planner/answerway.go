package planner

import (
	"cmp"
	"container/heap"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
)

// wayPart is a stretch of one leg on a way along the run; down: the way goes against the leg's chainage there.
type wayPart struct {
	leg      int
	from, to measure.Length // from ≤ to
	down     bool
}

func (p wayPart) length() measure.Length { return p.to - p.from }

// ends are where a stretch begins and ends, as the way goes.
func (p wayPart) ends() (first, last measure.Length) {
	if p.down {
		return p.to, p.from
	}
	return p.from, p.to
}

// post is a node on a leg: at its ends, or where another leg ends on it.
type post struct {
	leg, node int
	at        measure.Length
}

// posts are the nodes on every leg, by rising chainage, and the same by node.
func (a *Answers) posts() (onLeg, ofNode [][]post) {
	onLeg, ofNode = make([][]post, len(a.legs)), make([][]post, len(a.b.net.Nodes))
	for i, l := range a.b.net.Legs {
		onLeg[i] = []post{{i, l.From, 0}, {i, l.To, a.legs[i].length}}
	}
	for n := range a.b.net.Nodes {
		if on := a.b.net.Nodes[n].On; on != nil {
			onLeg[on.Leg] = append(onLeg[on.Leg], post{on.Leg, n, on.Chainage})
		}
	}
	for i := range onLeg {
		sorting.By(onLeg[i], func(x, y post) int { return cmp.Compare(x.at, y.at) })
		for _, p := range onLeg[i] {
			ofNode[p.node] = append(ofNode[p.node], p)
		}
	}
	return onLeg, ofNode
}

// reached is how a node is best reached so far.
type reached struct {
	node int
	far  measure.Length
	by   wayPart
	last int // the node before; -1: straight from the start
}

// queue holds the nodes that are reached, the nearest first, of several the one declared first.
type queue []reached

func (q queue) Len() int { return len(q) }
func (q queue) Less(i, k int) bool {
	return cmp.Or(cmp.Compare(q[i].far, q[k].far), q[i].node-q[k].node) < 0
}
func (q queue) Swap(i, k int) { q[i], q[k] = q[k], q[i] }
func (q *queue) Push(x any)   { *q = append(*q, x.(reached)) }
func (q *queue) Pop() any {
	last := (*q)[len(*q)-1]
	*q = (*q)[:len(*q)-1]
	return last
}

// stretch is the part of a leg from one chainage to another.
func stretch(leg int, from, to measure.Length) wayPart {
	if from > to {
		return wayPart{leg, to, from, true}
	}
	return wayPart{leg, from, to, false}
}

// way is the shortest way along the run between two places, from node to node by Dijkstra's rule. false: none leads there.
func (a *Answers) way(s, e Spot) ([]wayPart, bool) {
	onLeg, ofNode := a.posts()
	settled := map[int]reached{}
	q := &queue{}
	for _, p := range onLeg[s.Leg] {
		by := stretch(s.Leg, s.At, p.at)
		heap.Push(q, reached{p.node, by.length(), by, -1})
	}
	best, last, final := measure.Length(-1), -1, wayPart{}
	if s.Leg == e.Leg {
		final = stretch(s.Leg, s.At, e.At)
		best = final.length()
	}
	for q.Len() > 0 {
		r := heap.Pop(q).(reached)
		if _, ok := settled[r.node]; ok || best >= 0 && r.far >= best {
			continue
		}
		settled[r.node] = r
		for _, here := range ofNode[r.node] {
			if by := stretch(here.leg, here.at, e.At); here.leg == e.Leg && (best < 0 || r.far+by.length() < best) {
				best, last, final = r.far+by.length(), r.node, by
			}
			for _, p := range onLeg[here.leg] {
				if _, ok := settled[p.node]; !ok {
					by := stretch(here.leg, here.at, p.at)
					heap.Push(q, reached{p.node, r.far + by.length(), by, r.node})
				}
			}
		}
	}
	if best < 0 {
		return nil, false
	}
	out := []wayPart{final}
	for n := last; n >= 0; n = settled[n].last {
		out = append(out, settled[n].by)
	}
	slices.Reverse(out)
	return joinedParts(out), true
}

// joinedParts puts stretches of one leg together that follow each other, and leaves out those without length.
func joinedParts(parts []wayPart) []wayPart {
	var out []wayPart
	for _, p := range parts {
		n := len(out)
		switch {
		case p.length() == 0 && len(parts) > 1:
		case n > 0 && out[n-1].leg == p.leg && out[n-1].to == p.from && !out[n-1].down && !p.down:
			out[n-1].to = p.to
		case n > 0 && out[n-1].leg == p.leg && out[n-1].from == p.to && out[n-1].down && p.down:
			out[n-1].from = p.from
		default:
			out = append(out, p)
		}
	}
	return out
}

// covering stretches the ends of a way so that a unit that was named is in it whole.
func covering(way []wayPart, s, e Spot) []wayPart {
	if len(way) == 0 {
		return way
	}
	first, last := &way[0], &way[len(way)-1]
	if len(way) == 1 && s.Leg == e.Leg {
		first.from, first.to = min(first.from, s.From, e.From), max(first.to, s.To, e.To)
		return way
	}
	widen := func(p *wayPart, spot Spot, up bool) {
		switch {
		case p.leg != spot.Leg:
		case up:
			p.from = min(p.from, spot.From)
		default:
			p.to = max(p.to, spot.To)
		}
	}
	widen(first, s, !first.down)
	widen(last, e, last.down)
	return way
}
