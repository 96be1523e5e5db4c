package profile

import (
	"cmp"
	"math"
	"slices"

	"trenchwright/base/sorting"
)

// slight is a change of grade too small to be one: a micrometre in a metre.
const slight = 1e-6

// changes are the changes of grade of levels z at every joint of a leg; 0 at its ends.
func (l *Leg) changes(x, z []float64) []float64 {
	out := make([]float64, len(z))
	for j := 1; j < len(z)-1; j++ {
		out[j] = (z[j+1]-z[j])/(x[j+1]-x[j]) - (z[j]-z[j-1])/(x[j]-x[j-1])
	}
	return out
}

// crowd is breaks of grade in straight stretches that stand closer than Problem.Apart units, by joint.
func (p *Problem) crowds(l *Leg, change []float64) [][]int {
	var out [][]int
	var now []int
	for j := 1; j < len(change)-1; j++ {
		if l.Joints[j].Break == 0 || !l.bends(j) || math.Abs(change[j]) <= slight {
			continue
		}
		if len(now) > 0 && j-now[len(now)-1] >= p.Apart {
			out, now = append(out, now), nil
		}
		now = append(now, j)
	}
	return append(out, now)
}

// thin keeps of a crowd the joints that are far enough apart, the strongest change first, and gives the others up. A crowd
// whose kept joints cannot make the whole change is left alone: it is a curve, and every joint of it is needed.
func (p *Problem) thin(l *Leg, crowd []int, change []float64) (given []int) {
	order := slices.Clone(crowd)
	sorting.By(order, func(a, b int) int { return cmp.Compare(math.Abs(change[b]), math.Abs(change[a])) })
	var kept []int
	room, sum := 0.0, 0.0
	for _, j := range order {
		sum += change[j]
		if slices.ContainsFunc(kept, func(k int) bool { return max(j-k, k-j) < p.Apart }) {
			given = append(given, j)
			continue
		}
		kept = append(kept, j)
		if most := l.Joints[j].Change; most != nil {
			room += ratio(*most)
		} else {
			room = math.Inf(1)
		}
	}
	if room < math.Abs(sum) {
		return nil
	}
	return given
}

// holds says at which joints the grade must not change, so that breaks in straight stretches stand apart; nil: nothing to do.
func (p *Problem) holds(w *work, z [][]float64) [][]bool {
	if p.Apart < 2 {
		return nil
	}
	some := false
	out := make([][]bool, len(p.Legs))
	for i := range p.Legs {
		l := &p.Legs[i]
		change := l.changes(w.chains[i].x, z[i])
		out[i] = make([]bool, len(change))
		for j := 1; j < len(change)-1; j++ {
			out[i][j] = l.Joints[j].Break > 0 && l.bends(j) && math.Abs(change[j]) <= slight
		}
		for _, crowd := range p.crowds(l, change) {
			for _, j := range p.thin(l, crowd, change) {
				out[i][j], some = true, true
			}
		}
	}
	if !some {
		return nil
	}
	return out
}
