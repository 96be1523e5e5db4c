package levelling

import (
	"fmt"
	"math"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// Adjust adjusts n by least squares. Loops that do not close within the tolerance, and lines suspected at the level that is
// stated, refuse the network: then there are residuals to look at, and no levels. A network with faults has neither.
func Adjust(n Network) (Adjusted, finding.List) {
	if faults := NetworkFaults(n); len(faults) > 0 {
		return Adjusted{}, faults
	}
	g := number(n)
	s, row := g.solve(make([]bool, len(n.Lines)))
	if row >= 0 {
		return Adjusted{}, finding.List{{ID: "levelling.weights", Kind: finding.Fault, Text: fmt.Sprintf("the weights of the lines at %q lie too far apart to be adjusted together", g.names[row]),
			Where: finding.Where{Path: "network"}, Try: "standard deviations, distances or set-ups that differ by less than a million to one"}}
	}
	a := Adjusted{M0: s.m0, Redundant: s.redundant, Parts: g.listParts(), Residuals: s.residuals(), Loops: g.loops()}
	g.judgeLoops(&a)
	a.Suspects = g.suspects(s)
	g.judgeSuspects(&a)
	g.sayParts(&a)
	g.givePoints(&a, s)
	a.Said.Sort()
	return a, nil
}

// solved is one least-squares solution.
type solved struct {
	*net
	out       []bool // lines that were left out
	q         *normal
	z         *inverse
	x         []float64        // of each point: its correction, metres
	level     []measure.Length // of each point
	m0        float64
	redundant int
}

// solve adjusts the lines that are not left out. Where the weights lie too far apart it reports the point, else -1.
func (n *net) solve(out []bool) (*solved, int) {
	s := &solved{net: n, out: out, q: n.equations(out)}
	f, bad := factorize(s.q)
	if bad >= 0 {
		return nil, int(s.q.points[bad])
	}
	x := f.solve(s.q.right)
	left := s.q.times(x) // one round of refinement: what rounding left over is solved for again
	for i := range left {
		left[i] = s.q.right[i] - left[i]
	}
	for i, d := range f.solve(left) {
		x[i] += d
	}
	s.z = f.invert()
	s.x = make([]float64, len(n.names))
	for i, p := range s.q.points {
		s.x[p] = x[i]
	}
	s.lay()
	s.level = make([]measure.Length, len(n.names))
	for p := range s.level {
		s.level[p] = settle(n.about[p], s.x[p])
	}
	sum, lines := 0.0, 0
	for l := range n.Lines {
		if !out[l] {
			v := s.v(l)
			sum += float64(n.weight(l) * float64(v*v))
			lines++
		}
	}
	if s.redundant = lines - len(s.q.points); s.redundant > 0 {
		s.m0 = math.Sqrt(sum / float64(s.redundant))
	}
	return s, -1
}

// v is the residual of line l in metres.
func (s *solved) v(l int) float64 {
	e := s.ends[l]
	return s.x[e[1]] - s.x[e[0]] - s.misclosed(l)
}

// lay moves the parts of a free network so that its datum points stand where they are stated, on average; the points of a part
// of which none is stated stand about nought.
func (s *solved) lay() {
	if !s.Free {
		return
	}
	shift := make([]float64, s.parts)
	for k, d := range s.datums() {
		first := s.wanted(d[0]) - s.about[d[0]] // whole nanometres, so that only small differences are averaged
		sum := 0.0
		for _, p := range d {
			sum += (s.wanted(p) - s.about[p] - first).Metres() - s.x[p]
		}
		shift[k] = first.Metres() + sum/float64(len(d))
	}
	for p := range s.x {
		s.x[p] += shift[s.part[p]]
	}
}

func (n *net) wanted(p int32) measure.Length { return either(n.known[p], 0) }

// datums are the points of each part that carry its datum: those that are stated, or all.
func (n *net) datums() [][]int32 {
	stated, all := make([][]int32, n.parts), make([][]int32, n.parts)
	for p := range n.names {
		k := n.part[p]
		all[k] = append(all[k], int32(p))
		if n.known[p] != nil {
			stated[k] = append(stated[k], int32(p))
		}
	}
	for k := range stated {
		if len(stated[k]) > 0 {
			all[k] = stated[k]
		}
	}
	return all
}

// cofactor is the inverse between two points that are the same or that a line ties; a held point does not vary.
func (s *solved) cofactor(a, b int32) float64 {
	if s.q.row[a] < 0 || s.q.row[b] < 0 {
		return 0
	}
	return s.z.entry(s.q.row[a], s.q.row[b])
}

// variances are the cofactors of all points: in a free network those of points about the mean of the datum points d,
// q(p,p) − 2·mean q(p,d) + mean q(d,d).
func (s *solved) variances() []float64 {
	out := make([]float64, len(s.names))
	for p := range out {
		out[p] = s.cofactor(int32(p), int32(p))
	}
	if !s.Free {
		return out
	}
	right := make([]float64, len(s.q.points))
	datums := s.datums()
	for _, d := range datums {
		for _, p := range d {
			if r := s.q.row[p]; r >= 0 {
				right[r] = 1 / float64(len(d))
			}
		}
	}
	mean := s.z.f.solve(right) // q(p, d), averaged over d
	both := make([]float64, s.parts)
	for k, d := range datums {
		for _, p := range d {
			if r := s.q.row[p]; r >= 0 {
				both[k] += mean[r] / float64(len(d))
			}
		}
	}
	for p := range out {
		if r := s.q.row[p]; r >= 0 {
			out[p] -= 2 * mean[r]
		}
		out[p] = max(0, out[p]+both[s.part[p]])
	}
	return out
}

// uncontrolled is the share of a line below which nothing else tells what it should be.
const uncontrolled = 1e-9

// sigma is the standard deviation of unit weight that residuals are held against: 1 where deviations are stated, else m0.
func (s *solved) sigma() float64 {
	if s.Weigh == BySD {
		return 1
	}
	return s.m0
}

func (s *solved) residuals() []Residual {
	out := make([]Residual, len(s.Lines))
	for l := range out {
		e, w := s.ends[l], s.weight(l)
		r := Residual{Line: l, V: s.level[e[1]] - s.level[e[0]] - s.Lines[l].Rise}
		if out[l] = r; s.out[l] {
			continue
		}
		q := 1/w - (s.cofactor(e[0], e[0]) + s.cofactor(e[1], e[1]) - 2*s.cofactor(e[0], e[1]))
		if r.Share = float64(q * w); r.Share < uncontrolled {
			r.Share = 0
		} else if r.SD = float64(s.sigma() * math.Sqrt(q)); r.SD > 0 {
			r.Normalised = math.Abs(s.v(l)) / r.SD
		}
		out[l] = r
	}
	return out
}

// givePoints names every point; the levels only where the network is not refused and a benchmark ties them.
func (g *net) givePoints(a *Adjusted, s *solved) {
	place := map[int32]int{}
	vs := s.variances()
	unit, told := s.m0, s.redundant > 0
	if !told && g.Weigh == BySD {
		unit, told = 1, true
	}
	for p, name := range g.names {
		k, ok := place[g.part[p]]
		if !ok {
			k = len(place)
			place[g.part[p]] = k
		}
		out := Point{Name: name, Part: k, Held: !g.Free && g.known[p] != nil}
		if g.tied[g.part[p]] && !a.Refused() {
			out.Level = &s.level[p]
			if told {
				out.SD = new(float64(unit * math.Sqrt(max(0, vs[p]))))
			}
		}
		a.Points = append(a.Points, out)
	}
}
