package levelling

import (
	"slices"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
)

// loops finds a set of loops from which every other one can be put together, short ones first. A tree of lines reaches every
// point; each further line closes one loop, by the shortest way through the lines taken so far. Benchmarks that are held
// count as tied to the first of their part by a line that needs no levelling.
func (n *net) loops() []Loop {
	g := n.graph()
	depth, up := g.tree()
	type chord struct{ edge, hops int }
	var chords []chord
	for e, ends := range g.edges {
		if up[ends[0]] != int32(e) && up[ends[1]] != int32(e) {
			chords = append(chords, chord{e, g.hops(ends, depth, up)})
		}
	}
	sorting.By(chords, func(a, b chord) int { return a.hops - b.hops })
	taken := make([]bool, len(g.edges))
	for _, e := range up {
		if e >= 0 {
			taken[e] = true
		}
	}
	s := search{graph: g, seen: make([]int32, len(g.at)), from: make([]int32, len(g.at))}
	var out []Loop
	for _, c := range chords {
		out = append(out, n.loop(g, c.edge, s.way(g.edges[c.edge], taken)))
		taken[c.edge] = true
	}
	return out
}

// graph is the lines of a network, and behind them one edge for each benchmark beyond the first of its part.
type graph struct {
	edges [][2]int32
	at    [][]int32 // edges at each point
}

func (n *net) graph() graph {
	g := graph{edges: slices.Clone(n.ends), at: make([][]int32, len(n.names))}
	for p := range g.at {
		g.at[p] = slices.Clone(n.lines[p])
	}
	if n.Free {
		return g
	}
	first := make([]int32, n.parts)
	for i := range first {
		first[i] = -1
	}
	for p := range n.known {
		if n.known[p] == nil {
			continue
		}
		if f := first[n.part[p]]; f >= 0 {
			e := int32(len(g.edges))
			g.edges = append(g.edges, [2]int32{f, int32(p)})
			g.at[f], g.at[p] = append(g.at[f], e), append(g.at[p], e)
			continue
		}
		first[n.part[p]] = int32(p)
	}
	return g
}

func (g graph) other(e, p int32) int32 { return g.edges[e][0] ^ g.edges[e][1] ^ p }

// tree is a breadth-first tree of every part: how deep each point lies, and the edge that leads up from it, -1 at a root.
func (g graph) tree() (depth, up []int32) {
	depth, up = make([]int32, len(g.at)), make([]int32, len(g.at))
	for p := range depth {
		depth[p], up[p] = -1, -1
	}
	for root := range g.at {
		if depth[root] >= 0 {
			continue
		}
		depth[root] = 0
		for queue := []int32{int32(root)}; len(queue) > 0; queue = queue[1:] {
			for _, e := range g.at[queue[0]] {
				if q := g.other(e, queue[0]); depth[q] < 0 {
					depth[q], up[q] = depth[queue[0]]+1, e
					queue = append(queue, q)
				}
			}
		}
	}
	return depth, up
}

// hops is how long the way through the tree is between two points of one part.
func (g graph) hops(ends [2]int32, depth, up []int32) int {
	a, b, n := ends[0], ends[1], 0
	for ; a != b; n++ {
		if depth[a] < depth[b] {
			a, b = b, a
		}
		a = g.other(up[a], a)
	}
	return n
}

// search is a breadth-first search that can be used again without clearing it.
type search struct {
	graph
	seen  []int32 // the round in which a point was last reached
	from  []int32 // the edge by which
	round int32
	queue []int32
}

// way is the shortest way from one end to the other along edges that are taken, as edges in order. It is looked for from the end
// with fewer edges.
func (s *search) way(ends [2]int32, taken []bool) []int32 {
	to, back := ends[0], ends[1]
	turned := len(s.at[to]) < len(s.at[back])
	if turned {
		to, back = back, to
	}
	s.round++
	s.queue = append(s.queue[:0], back)
	s.seen[back], s.from[back] = s.round, -1
	for i := 0; s.seen[to] != s.round; i++ {
		p := s.queue[i]
		for _, e := range s.at[p] {
			if q := s.other(e, p); taken[e] && s.seen[q] != s.round {
				s.seen[q], s.from[q] = s.round, e
				s.queue = append(s.queue, q)
			}
		}
	}
	var out []int32
	for p := to; p != back; p = s.other(s.from[p], p) {
		out = append(out, s.from[p])
	}
	if turned {
		slices.Reverse(out)
	}
	return out
}

// begin is where a loop is told from, and its edges in that order: along its first line, from that line's own beginning; where
// ties between benchmarks lie in it, behind those, so that it goes from one benchmark to the other.
func (n *net) begin(g graph, p int32, around []int32) (int32, []int32) {
	at, tied := 0, false
	for i, x := range around {
		if after := around[(i+1)%len(around)]; int(x) >= len(n.Lines) && int(after) < len(n.Lines) {
			at, tied = (i+1)%len(around), true
		}
	}
	if !tied {
		at = slices.Index(around, slices.Min(around))
	}
	for _, y := range around[:at] {
		p = g.other(y, p)
	}
	around = slices.Concat(around[at:], around[:at])
	if first := n.ends[around[0]]; !tied && first[0] != p { // the other way round
		slices.Reverse(around[1:])
		p = first[0]
	}
	return p, around
}

// loop is edge e and the way between its ends, from its first end to its second and back along e.
func (n *net) loop(g graph, e int, way []int32) Loop {
	p, around := n.begin(g, g.edges[e][0], append(slices.Clone(way), int32(e)))
	l := Loop{Points: []string{n.names[p]}}
	distance, distances, setups := measure.Length(0), true, true
	for _, x := range around {
		q := g.other(x, p)
		if int(x) >= len(n.Lines) {
			l.Between = true
			l.Misclosure += *n.known[q] - *n.known[p]
		} else {
			_, rise := n.other(x, p)
			line := n.Lines[x]
			l.Misclosure += rise
			l.Lines = append(l.Lines, int(x))
			l.Points = append(l.Points, n.names[q])
			distance, l.Setups = distance+line.Distance, l.Setups+line.Setups
			distances, setups = distances && line.Distance > 0, setups && line.Setups > 0
		}
		p = q
	}
	if distances {
		l.Distance = &distance
	}
	if !setups {
		l.Setups = 0
	}
	return l
}
