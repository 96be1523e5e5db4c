package profile

import (
	"math"
	"math/big"
	"slices"

	"trenchwright/base/measure"
)

// record is levels and grades as they leave the package.
type record struct {
	levels [][]measure.Length
	runs   []Run
}

// settle is the one place where levels are rounded: z metres above the origin, to the nanometre.
func settle(z float64, origin measure.Length) measure.Length {
	return origin + measure.Length(math.Round(z*1e9))
}

// climb is what g makes over l, rounded once to the nanometre, half away from nought. Grades and lengths are within what
// faults lets through, so that it fits.
func climb(g measure.Grade, l measure.Length) measure.Length {
	up, err := g.Over(l)
	if err != nil {
		panic("profile: a grade over a unit beyond all lengths: " + err.Error())
	}
	return up
}

// between is the exact grade of a straight line.
func between(up, along measure.Length) measure.Grade {
	if up == 0 {
		return measure.Grade{}
	}
	d := measure.Length(new(big.Int).GCD(nil, nil, big.NewInt(int64(up.Abs())), big.NewInt(int64(along))).Int64())
	return measure.Grade{Rise: up / d, Run: along / d}
}

// cost is what levels of record cost, in the caller's price.
func (p *Problem) cost(levels [][]measure.Length, runs []Run) float64 {
	total := 0.0
	for i := range p.Legs {
		for j := range p.Legs[i].Joints {
			total += p.levelCost(&p.Legs[i].Joints[j], levels[i][j])
		}
	}
	first, last := make([]Run, len(p.Legs)), make([]Run, len(p.Legs))
	for k, run := range runs {
		if run.From == 0 {
			first[run.Leg] = run
		}
		last[run.Leg] = run
		if run.From > 0 && !run.Stepped && !runs[k-1].Stepped {
			change := ratio(run.Grade) - ratio(runs[k-1].Grade)
			total += float64(float64(p.Legs[run.Leg].Joints[run.From].Break) * math.Abs(change))
		}
	}
	for _, node := range p.Nodes {
		for _, t := range node.Throughs {
			out := func(a Arm) float64 {
				if a.End {
					return -ratio(last[a.Leg].Grade)
				}
				return ratio(first[a.Leg].Grade)
			}
			total += float64(float64(t.Break) * math.Abs(out(node.Arms[t.In])+out(node.Arms[t.Out])))
		}
	}
	return total
}

func (p *Problem) levelCost(joint *Joint, level measure.Length) float64 {
	if joint.Wanted == nil {
		return 0
	}
	d, price := (level - *joint.Wanted).Metres(), joint.Above
	if d < 0 {
		d, price = -d, joint.Below
	}
	if p.Squares {
		d *= d
	}
	return float64(price) * d
}

// merge joins neighbouring runs of one grade where the levels bear it.
func (r *record) merge(p *Problem) {
	out := r.runs[:0]
	for _, run := range r.runs {
		n := len(out)
		if n == 0 || run.From == 0 || run.Stepped || out[n-1].Stepped || out[n-1].Grade.Cmp(run.Grade) != 0 || !r.straight(p, out[n-1].From, run) {
			out = append(out, run)
			continue
		}
		out[n-1].To = run.To
		out[n-1].OnStep = out[n-1].OnStep && run.OnStep
	}
	r.runs = slices.Clip(out)
}

// straight tells whether the joints of run lie on one line from joint from on, to less than a nanometre: each of two runs
// was rounded by itself.
func (r *record) straight(p *Problem, from int, run Run) bool {
	l, levels := &p.Legs[run.Leg], r.levels[run.Leg]
	for j := run.From + 1; j <= run.To; j++ {
		even := new(big.Rat).Mul(fraction(run.Grade), big.NewRat(int64(l.Joints[j].At-l.Joints[from].At), 1))
		if off := even.Sub(even, big.NewRat(int64(levels[j]-levels[from]), 1)); off.Abs(off).Cmp(big.NewRat(1, 1)) >= 0 {
			return false
		}
	}
	return true
}
