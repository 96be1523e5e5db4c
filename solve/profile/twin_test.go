package profile

import (
	"flag"
	"math"
	"math/big"
	"math/rand/v2"
	"testing"
)

var twins = flag.Int("networks", 2000, "how many random networks are solved by the slow twin too")

// tableau is a linear programme in exact fractions: least c·x, rows·x = right, x ≥ 0. It is solved by the simplex method as
// the textbook has it, in two phases, with the rule of the least index, which never runs in circles.
type tableau struct {
	rows  [][]*big.Rat // the last column is the right side
	basis []int
	cost  []*big.Rat // of every variable
	n     int
}

func (s *tableau) pivot(row, column int) {
	inv := new(big.Rat).Inv(s.rows[row][column])
	for k, v := range s.rows[row] {
		if v.Sign() != 0 {
			s.rows[row][k] = new(big.Rat).Mul(v, inv)
		}
	}
	for i := range s.rows {
		f := s.rows[i][column]
		if i == row || f.Sign() == 0 {
			continue
		}
		for k, v := range s.rows[row] {
			if v.Sign() != 0 {
				s.rows[i][k] = new(big.Rat).Sub(s.rows[i][k], new(big.Rat).Mul(f, v))
			}
		}
	}
	s.basis[row] = column
}

// least lowers cost·x from the present basis; columns from allowed on stay out.
func (s *tableau) least(cost []*big.Rat, allowed int) *big.Rat {
	for {
		in := -1
		for k := 0; k < allowed && in < 0; k++ {
			reduced := new(big.Rat).Set(cost[k])
			for i, b := range s.basis {
				if cost[b].Sign() != 0 && s.rows[i][k].Sign() != 0 {
					reduced.Sub(reduced, new(big.Rat).Mul(cost[b], s.rows[i][k]))
				}
			}
			if reduced.Sign() < 0 {
				in = k
			}
		}
		if in < 0 {
			break
		}
		out, best := -1, new(big.Rat)
		for i := range s.rows {
			if s.rows[i][in].Sign() <= 0 {
				continue
			}
			q := new(big.Rat).Quo(s.rows[i][s.n], s.rows[i][in])
			if out < 0 || q.Cmp(best) < 0 || q.Cmp(best) == 0 && s.basis[i] < s.basis[out] {
				out, best = i, q
			}
		}
		if out < 0 {
			panic("no least: costs are never below nought")
		}
		s.pivot(out, in)
	}
	sum := new(big.Rat)
	for i, b := range s.basis {
		sum.Add(sum, new(big.Rat).Mul(cost[b], s.rows[i][s.n]))
	}
	return sum
}

// programme collects rows over variables that are not below 0.
type programme struct {
	cost []*big.Rat
	rows []map[int]*big.Rat
	to   []*big.Rat
}

func (g *programme) variable(cost *big.Rat) int {
	g.cost = append(g.cost, cost)
	return len(g.cost) - 1
}

func (g *programme) equal(row map[int]*big.Rat, to *big.Rat) {
	g.rows, g.to = append(g.rows, row), append(g.to, to)
}

// solve is the least cost, or nil where nothing holds all rows.
func (g *programme) solve() *big.Rat {
	n, m := len(g.cost), len(g.rows)
	s := &tableau{n: n + m}
	phase1 := make([]*big.Rat, n+m)
	all := make([]*big.Rat, n+m)
	for k := range phase1 {
		phase1[k], all[k] = new(big.Rat), new(big.Rat)
		if k >= n {
			phase1[k].SetInt64(1)
		} else {
			all[k] = g.cost[k]
		}
	}
	for i, row := range g.rows {
		line := make([]*big.Rat, n+m+1)
		for k := range line {
			line[k] = new(big.Rat)
		}
		for k, v := range row {
			line[k].Set(v)
		}
		line[n+m].Set(g.to[i])
		if line[n+m].Sign() < 0 {
			for k := range line {
				line[k].Neg(line[k])
			}
		}
		line[n+i].SetInt64(1)
		s.rows, s.basis = append(s.rows, line), append(s.basis, n+i)
	}
	if s.least(phase1, n).Sign() > 0 {
		return nil
	}
	for i, b := range s.basis { // artificial variables at nought leave, where they can
		for k := 0; b >= n && k < n; k++ {
			if s.rows[i][k].Sign() != 0 {
				s.pivot(i, k)
				break
			}
		}
	}
	return s.least(all, n)
}

func rational(v int64, over int64) *big.Rat { return big.NewRat(v, over) }

// form is a linear form of levels, plus a constant, in metres.
type form struct {
	of    map[int]*big.Rat
	plain *big.Rat
}

func (f form) plus(g form, by *big.Rat) form {
	out := form{map[int]*big.Rat{}, new(big.Rat).Add(f.plain, new(big.Rat).Mul(g.plain, by))}
	for k, v := range f.of {
		out.of[k] = new(big.Rat).Set(v)
	}
	for k, v := range g.of {
		if out.of[k] == nil {
			out.of[k] = new(big.Rat)
		}
		out.of[k].Add(out.of[k], new(big.Rat).Mul(v, by))
	}
	return out
}

// twin writes a Problem as a linear programme as layout.md §7 states it, without a thought for speed.
type twin struct {
	p Problem
	g programme
	z [][]form
}

var oneOver, minusOne = rational(1, 1), rational(-1, 1)

// row is Σ of a form with more variables = to.
func (w *twin) row(f form, more map[int]*big.Rat, to *big.Rat) {
	row := map[int]*big.Rat{}
	for k, v := range f.of {
		row[k] = v
	}
	for k, v := range more {
		row[k] = v
	}
	w.g.equal(row, new(big.Rat).Sub(to, f.plain))
}

func (w *twin) atLeast(f form, v *big.Rat) {
	w.row(f, map[int]*big.Rat{w.g.variable(new(big.Rat)): minusOne}, v)
}
func (w *twin) atMost(f form, v *big.Rat) {
	w.row(f, map[int]*big.Rat{w.g.variable(new(big.Rat)): oneOver}, v)
}

// costs is above for each metre that f is over at, below for each under it.
func (w *twin) costs(f form, at *big.Rat, above, below *big.Rat) {
	u, v := w.g.variable(above), w.g.variable(below)
	w.row(f, map[int]*big.Rat{u: minusOne, v: oneOver}, at)
}

// metres counts levels from 90 m: all levels of these networks are some metres above it, so that none is below nought.
func metres(nm int64) *big.Rat { return rational(nm, 1e9) }

func newTwin(p Problem) *twin {
	w := &twin{p: p}
	base := rational(90, 1)
	free := func() form { return form{map[int]*big.Rat{w.g.variable(new(big.Rat)): oneOver}, base} }
	for _, l := range p.Legs {
		forms := make([]form, len(l.Joints))
		for j := range forms {
			forms[j] = free()
		}
		w.z = append(w.z, forms)
	}
	for _, node := range p.Nodes {
		z := free()
		for _, a := range node.Arms {
			at := 0
			if a.End {
				at = len(p.Legs[a.Leg].Units)
			}
			w.z[a.Leg][at] = form{z.of, new(big.Rat).Add(base, metres(int64(a.Rise)))}
		}
	}
	for i, l := range p.Legs {
		w.leg(i, l)
	}
	for _, node := range p.Nodes {
		w.node(node)
	}
	return w
}

func (w *twin) slope(i, k int) form {
	l := w.p.Legs[i]
	up := w.z[i][k+1].plus(w.z[i][k], minusOne)
	return form{map[int]*big.Rat{}, new(big.Rat)}.plus(up, new(big.Rat).Inv(metres(int64(l.Joints[k+1].At-l.Joints[k].At))))
}

func (w *twin) leg(i int, l Leg) {
	for j, joint := range l.Joints {
		if joint.Pin != nil {
			w.row(w.z[i][j], nil, metres(int64(*joint.Pin)))
		}
		if joint.Low != nil {
			w.atLeast(w.z[i][j], metres(int64(*joint.Low)))
		}
		if joint.High != nil {
			w.atMost(w.z[i][j], metres(int64(*joint.High)))
		}
		if joint.Wanted != nil {
			w.costs(w.z[i][j], metres(int64(*joint.Wanted)), rational(joint.Above, 1), rational(joint.Below, 1))
		}
		if j == 0 || j == len(l.Units) || l.Units[j-1].Step != nil || l.Units[j].Step != nil {
			continue
		}
		c := w.slope(i, j).plus(w.slope(i, j-1), minusOne)
		w.costs(c, new(big.Rat), rational(joint.Break, 1), rational(joint.Break, 1))
		if joint.Change != nil {
			w.atMost(c, fraction(*joint.Change))
			w.atLeast(c, new(big.Rat).Neg(fraction(*joint.Change)))
		}
	}
	for k, u := range l.Units {
		if s := u.Step; s != nil {
			length := metres(int64(l.Joints[k+1].At - l.Joints[k].At))
			step := w.z[i][k+1].plus(w.z[i][k], minusOne)
			even := new(big.Rat).Mul(length, fraction(s.Grade))
			w.atMost(step, new(big.Rat).Add(even, metres(int64(*s.Most))))
			w.atLeast(step, new(big.Rat).Sub(even, metres(int64(*s.Most))))
			continue
		}
		if u.Least != nil {
			w.atLeast(w.slope(i, k), fraction(*u.Least))
		}
		if u.Most != nil {
			w.atMost(w.slope(i, k), fraction(*u.Most))
		}
	}
}

func (w *twin) node(node Node) {
	away := func(a Arm) form {
		if a.End {
			return form{map[int]*big.Rat{}, new(big.Rat)}.plus(w.slope(a.Leg, len(w.p.Legs[a.Leg].Units)-1), minusOne)
		}
		return w.slope(a.Leg, 0)
	}
	for _, a := range node.Arms {
		if a.Cast != nil && a.Cast.Change != nil {
			w.atMost(away(a), new(big.Rat).Add(fraction(a.Cast.Grade), fraction(*a.Cast.Change)))
			w.atLeast(away(a), new(big.Rat).Sub(fraction(a.Cast.Grade), fraction(*a.Cast.Change)))
		}
	}
	for _, t := range node.Throughs {
		in, out := away(node.Arms[t.In]), away(node.Arms[t.Out])
		change, sum := out.plus(in, oneOver), out.plus(in, minusOne)
		w.costs(change, new(big.Rat), rational(t.Break, 1), rational(t.Break, 1))
		if t.Change != nil {
			w.atMost(change, fraction(*t.Change))
			w.atLeast(change, new(big.Rat).Neg(fraction(*t.Change)))
		}
		if b := t.Bend; b != nil && b.Lip != nil { // tan is 1 in these networks
			most := rational(2*int64(*b.Lip), int64(b.Width))
			w.atMost(sum, most)
			w.atLeast(sum, new(big.Rat).Neg(most))
		}
	}
}

// Small networks are solved twice: by the slow twin in exact fractions, and by Solve. Both find levels or neither does, and
// the least costs agree to 1e-6.
func TestAgreesWithTwin(t *testing.T) {
	found, none, undecided, worst := 0, 0, 0, 0.0
	for seed := range uint64(*twins) {
		r := rand.New(rand.NewPCG(seed, 3))
		p := randomNet(r, 1+r.IntN(2), 3)
		p.Squares = false
		want := newTwin(p).g.solve()
		s, err := Solve(p)
		switch {
		case err != nil:
			t.Fatal(err)
		case s.Verdict == Undecided:
			undecided++
		case (want == nil) != (s.Verdict == Impossible):
			t.Errorf("seed %d: the twin finds levels: %v, ours says %s %s", seed, want != nil, s.Verdict, s.Why)
		case want == nil:
			none++
		}
		if want == nil || s.Verdict == Impossible {
			continue
		}
		found++
		exact, _ := want.Float64()
		off := math.Abs(s.Least-exact) / max(exact, 1)
		if worst = max(worst, off); off > 1e-6 || s.Bound > exact*(1+1e-15)+1e-9 || s.Bound < exact-1e-6*max(exact, 10) {
			t.Errorf("seed %d: least %.9g, bound %.9g, the twin says %.9g", seed, s.Least, s.Bound, exact)
		}
	}
	t.Logf("%d with levels (worst off by %.1e), %d without, %d undecided", found, worst, none, undecided)
	if found < *twins/4 || none < *twins/8 || undecided > *twins/50 {
		t.Error("not the mixture that was meant")
	}
}
