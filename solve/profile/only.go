package profile

// only is the Problem with nothing left in it but the limits named and the joints that they touch: small, so that it can be
// solved many times over. back makes of a certificate of it one of the whole Problem.
func (p *Problem) only(limits []Limit) (sub *Problem, back func(*Certificate) *Certificate) {
	use := uses(limits)
	from, to := make([]int, len(p.Legs)), make([]int, len(p.Legs))
	for i := range from {
		from[i], to[i] = len(p.Legs[i].Joints), -1
	}
	for _, l := range limits {
		for _, t := range p.touches(l) {
			from[t[0]], to[t[0]] = min(from[t[0]], t[1]), max(to[t[0]], t[1])
		}
	}
	sub = &Problem{}
	number := make([]int, len(p.Legs)) // in sub
	for i := range p.Legs {
		number[i] = -1
		if to[i] < 0 {
			continue
		}
		if from[i] == to[i] { // a leg has a unit
			to[i] = min(to[i]+1, len(p.Legs[i].Units))
			from[i] = to[i] - 1
		}
		number[i] = len(sub.Legs)
		sub.Legs = append(sub.Legs, p.Legs[i].only(use, i, from[i], to[i]))
	}
	arms := p.onlyNodes(sub, use, number, from, to)
	return sub, func(c *Certificate) *Certificate { return p.whole(c, number, from, arms) }
}

func (l *Leg) only(use func(Kind, int, int) bool, i, from, to int) Leg {
	out := Leg{Name: l.Name}
	for j := from; j <= to; j++ {
		joint := Joint{At: l.Joints[j].At}
		if use(PinLimit, i, j) {
			joint.Pin = l.Joints[j].Pin
		}
		if use(LowLimit, i, j) {
			joint.Low = l.Joints[j].Low
		}
		if use(HighLimit, i, j) {
			joint.High = l.Joints[j].High
		}
		if use(ChangeLimit, i, j) {
			joint.Change = l.Joints[j].Change
		}
		out.Joints = append(out.Joints, joint)
		if j == to {
			break
		}
		unit := Unit{}
		if use(LeastLimit, i, j) {
			unit.Least = l.Units[j].Least
		}
		if use(MostLimit, i, j) {
			unit.Most = l.Units[j].Most
		}
		if s := l.Units[j].Step; s != nil {
			unit.Step = &Step{Grade: s.Grade}
			if use(StepLimit, i, j) {
				unit.Step.Most = s.Most
			}
		}
		out.Units = append(out.Units, unit)
	}
	return out
}

// armsLeft says which arms and throughs of each node of a Problem are left in a part of it; −1: not.
type armsLeft struct {
	arm     [][]int
	through [][]int
}

func (p *Problem) onlyNodes(sub *Problem, use func(Kind, int, int) bool, number, from, to []int) armsLeft {
	var left armsLeft
	for n, node := range p.Nodes {
		arm, through, out := make([]int, len(node.Arms)), make([]int, len(node.Throughs)), Node{Name: node.Name}
		for ai, a := range node.Arms {
			at, _ := p.ends(a)
			arm[ai] = -1
			if number[a.Leg] < 0 || at < from[a.Leg] || at > to[a.Leg] {
				continue
			}
			arm[ai] = len(out.Arms)
			b := Arm{Leg: number[a.Leg], End: a.End, Rise: a.Rise}
			if a.Cast != nil && use(MouthLimit, n, ai) {
				b.Cast = a.Cast
			}
			out.Arms = append(out.Arms, b)
		}
		for ti, t := range node.Throughs {
			through[ti] = -1
			if arm[t.In] < 0 || arm[t.Out] < 0 {
				continue
			}
			through[ti] = len(out.Throughs)
			s := Through{In: arm[t.In], Out: arm[t.Out]}
			if use(NodeChange, n, ti) {
				s.Change = t.Change
			}
			if use(NodeLip, n, ti) {
				s.Bend = t.Bend
			}
			out.Throughs = append(out.Throughs, s)
		}
		left.arm, left.through = append(left.arm, arm), append(left.through, through)
		sub.Nodes = append(sub.Nodes, out)
	}
	return left
}

// whole is a certificate of a part as one of all.
func (p *Problem) whole(c *Certificate, number, from []int, left armsLeft) *Certificate {
	out := &Certificate{Origin: c.Origin, Reach: c.Reach}
	for i := range p.Legs {
		unit, change := make([]float64, len(p.Legs[i].Units)), make([]float64, len(p.Legs[i].Joints))
		if s := number[i]; s >= 0 {
			copy(unit[from[i]:], c.Unit[s])
			copy(change[from[i]:], c.Change[s])
		}
		out.Unit, out.Change = append(out.Unit, unit), append(out.Change, change)
	}
	for n, node := range p.Nodes {
		through, mouth, end := make([][2]float64, len(node.Throughs)), make([]float64, len(node.Arms)), make([]float64, len(node.Arms))
		for ti, t := range left.through[n] {
			if t >= 0 {
				through[ti] = c.Through[n][t]
			}
		}
		for ai, a := range left.arm[n] {
			if a >= 0 {
				mouth[ai], end[ai] = c.Mouth[n][a], c.End[n][a]
			}
		}
		out.Through, out.Mouth, out.End = append(out.Through, through), append(out.Mouth, mouth), append(out.End, end)
	}
	return out
}
