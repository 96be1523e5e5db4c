package levelling

import "trenchwright/base/measure"

// net is a network by numbers: points in the order in which they first come up.
type net struct {
	Network
	names  []string
	ends   [][2]int32 // of each line: from, to
	lines  [][]int32  // of each point: the lines there, ascending
	known  []*measure.Length
	part   []int32 // of each point
	parts  int
	tied   []bool           // of each part
	about  []measure.Length // provisional level of each point, carried along lines from a benchmark
	pivots []int32          // of each part that floats freely: the point that is held while it is solved
}

func number(n Network) *net {
	out := &net{Network: n}
	at := map[string]int32{}
	point := func(name string) int32 {
		i, ok := at[name]
		if !ok {
			i = int32(len(out.names))
			at[name] = i
			out.names = append(out.names, name)
			out.lines = append(out.lines, nil)
		}
		return i
	}
	for i, l := range n.Lines {
		from, to := point(l.From), point(l.To)
		out.ends = append(out.ends, [2]int32{from, to})
		out.lines[from] = append(out.lines[from], int32(i))
		out.lines[to] = append(out.lines[to], int32(i))
	}
	out.known = make([]*measure.Length, len(out.names))
	for _, f := range n.Fixed {
		if i, ok := at[f.Point]; ok {
			out.known[i] = new(f.Level)
		}
	}
	out.carry()
	return out
}

// other is the end of line l that is not p, and the rise from p to it.
func (n *net) other(l, p int32) (int32, measure.Length) {
	if e := n.ends[l]; e[0] == p {
		return e[1], n.Lines[l].Rise
	}
	return n.ends[l][0], -n.Lines[l].Rise
}

// carry finds the parts and gives every point a provisional level, from the first benchmark of its part, or from its first
// point where it has none.
func (n *net) carry() {
	n.part = make([]int32, len(n.names))
	n.about = make([]measure.Length, len(n.names))
	for i := range n.part {
		n.part[i] = -1
	}
	begin := func(p int32) {
		if n.part[p] >= 0 {
			return
		}
		tied := n.known[p] != nil
		if tied {
			n.about[p] = *n.known[p]
		}
		n.tied = append(n.tied, tied || n.Free)
		n.pivots = append(n.pivots, p)
		n.flood(p, int32(n.parts))
		n.parts++
	}
	for p := range n.known {
		if n.known[p] != nil {
			begin(int32(p))
		}
	}
	for p := range n.names {
		begin(int32(p))
		if n.known[p] != nil && !n.Free {
			n.about[p] = *n.known[p]
		}
	}
}

func (n *net) flood(p, part int32) {
	n.part[p] = part
	for queue := []int32{p}; len(queue) > 0; queue = queue[1:] {
		for _, l := range n.lines[queue[0]] {
			if q, rise := n.other(l, queue[0]); n.part[q] < 0 {
				n.part[q], n.about[q] = part, n.about[queue[0]]+rise
				queue = append(queue, q)
			}
		}
	}
}

// held tells whether the level of p does not move while the network is solved.
func (n *net) held(p int32) bool {
	if n.Free || !n.tied[n.part[p]] {
		return p == n.pivots[n.part[p]]
	}
	return n.known[p] != nil
}

// listParts are the parts with their points, the parts and their points in the order in which they first come up.
func (n *net) listParts() []Part {
	place := make([]int, n.parts)
	for i := range place {
		place[i] = -1
	}
	var out []Part
	for p, name := range n.names {
		k := n.part[p]
		if place[k] < 0 {
			place[k] = len(out)
			out = append(out, Part{Tied: n.tied[k]})
		}
		out[place[k]].Points = append(out[place[k]].Points, name)
	}
	return out
}
