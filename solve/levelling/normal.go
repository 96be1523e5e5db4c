package levelling

import "trenchwright/base/measure"

// normal is the normal equations of a network, N·x = r: N is symmetric, a weight on the diagonal for each line at a point,
// less the weight between two points that a line ties. x are corrections to the provisional levels, in metres.
type normal struct {
	row    []int32 // of each point: its row, -1 where it is held
	points []int32 // of each row
	diag   []float64
	off    [][]entry // of each row: the others that lines tie it to, each once, ascending by row
	right  []float64
}

type entry struct {
	row   int32
	value float64
}

// weight is that of line l, in the unit that Weigh states; 0 for a line that is left out.
func (n *net) weight(l int) float64 {
	line := n.Lines[l]
	switch n.Weigh {
	case ByDistance:
		return 1 / (line.Distance.Metres() / 1000)
	case BySetup:
		return 1 / float64(line.Setups)
	}
	sd := line.SD.Metres()
	return 1 / float64(sd*sd)
}

// misclosed is what line l is off by from the provisional levels: levelled less what they give, in metres. The difference is
// taken in whole nanometres.
func (n *net) misclosed(l int) float64 {
	e := n.ends[l]
	return (n.Lines[l].Rise - (n.about[e[1]] - n.about[e[0]])).Metres()
}

// equations sets up the normal equations over the lines that are not left out.
func (n *net) equations(out []bool) *normal {
	q := &normal{row: make([]int32, len(n.names))}
	for p := range n.names {
		q.row[p] = -1
		if !n.held(int32(p)) {
			q.row[p] = int32(len(q.points))
			q.points = append(q.points, int32(p))
		}
	}
	q.diag, q.right, q.off = make([]float64, len(q.points)), make([]float64, len(q.points)), make([][]entry, len(q.points))
	for i, p := range q.points {
		others := map[int32]int{} // a row to its place in off: looked up, never walked
		for _, l := range n.lines[p] {
			if out[l] {
				continue
			}
			w, m := n.weight(int(l)), n.misclosed(int(l))
			if n.ends[l][0] == p {
				m = -m
			}
			q.diag[i] += w
			q.right[i] += float64(w * m)
			other, _ := n.other(l, p)
			if o := q.row[other]; o >= 0 {
				k, ok := others[o]
				if !ok {
					k = len(q.off[i])
					others[o] = k
					q.off[i] = append(q.off[i], entry{row: o})
				}
				q.off[i][k].value -= w
			}
		}
	}
	return q
}

// times is N·x.
func (q *normal) times(x []float64) []float64 {
	out := make([]float64, len(x))
	for i := range x {
		s := float64(q.diag[i] * x[i])
		for _, e := range q.off[i] {
			s += float64(e.value * x[e.row])
		}
		out[i] = s
	}
	return out
}

// settle is the one place where numeric corrections become levels of record: rounded once to the nanometre.
func settle(about measure.Length, correction float64) measure.Length {
	return about + measure.FromMetres(correction)
}
