package profile

import "trenchwright/base/measure"

// Pipe is what is stated of the drain in the bed. nil: not on file, and not held.
type Pipe struct {
	Below  measure.Length  // its invert is wanted so far below the levels of record
	Least  *measure.Length // and lies at least so far below them
	Most   *measure.Length // and at most
	Fall   *measure.Grade  // its least fall towards the end of the leg, or with Back towards its start
	Steep  *measure.Grade  // its steepest fall
	Change *measure.Grade  // the most that its grade may change at a joint
	Price  int64           // of each metre off the wanted level
	Break  int64           // of a change of its grade by 100 %
	Back   []bool          // by leg: it falls towards the start
	Pins   map[Place]measure.Length
}

// Place is a joint of a leg.
type Place struct{ Leg, Joint int }

// Drain is the drain in the bed under a solution, as a profile of its own: the same legs and joints, its own limits. A flat
// run over a falling drain is normal. Nodes join its legs at their own levels, without castings and lips.
func (p Problem) Drain(s Solution, pipe Pipe) Problem {
	out := Problem{Step: p.Step, Apart: p.Apart, Show: p.Show, Words: p.Words}
	for i := range p.Legs {
		l := &p.Legs[i]
		leg := Leg{Name: l.Name, Joints: make([]Joint, len(l.Joints)), Units: make([]Unit, len(l.Units))}
		for j := range l.Joints {
			level := s.Levels[i][j]
			wanted := level - pipe.Below
			joint := Joint{At: l.Joints[j].At, Name: l.Joints[j].Name, Outlet: l.Joints[j].Outlet,
				Wanted: &wanted, Above: pipe.Price, Below: pipe.Price, Break: pipe.Break, Change: pipe.Change}
			if pipe.Least != nil {
				high := level - *pipe.Least
				joint.High = &high
			}
			if pipe.Most != nil {
				low := level - *pipe.Most
				joint.Low = &low
			}
			if pin, ok := pipe.Pins[Place{i, j}]; ok {
				joint.Pin = &pin
			}
			leg.Joints[j] = joint
		}
		for k := range l.Units {
			leg.Units[k] = pipe.unit(i < len(pipe.Back) && pipe.Back[i])
		}
		out.Legs = append(out.Legs, leg)
	}
	for _, node := range p.Nodes {
		n := Node{Name: node.Name}
		for _, a := range node.Arms {
			n.Arms = append(n.Arms, Arm{Leg: a.Leg, End: a.End})
		}
		out.Nodes = append(out.Nodes, n)
	}
	return out
}

// unit is the limits of grade, up-chainage.
func (d *Pipe) unit(back bool) Unit {
	least, most := reversed(d.Steep), reversed(d.Fall)
	if back {
		least, most = d.Fall, d.Steep
	}
	return Unit{Least: least, Most: most}
}
