package profile

import "trenchwright/base/measure"

// Pipe is what is stated of the drain in the bed. nil: not on file, and not held.
type Pipe struct {
	Over    [][]Over        // by leg and joint: what lies over it
	Below   measure.Length  // its underside is wanted so far below what lies over it
	Least   *measure.Length // and lies at least so far below it
	Most    *measure.Length // and at most
	Fall    *measure.Grade  // its least fall, the way its water runs
	Steep   *measure.Grade  // its steepest fall
	Ways    [][]Way         // by leg and unit
	Step    measure.Grade   // its grades are whole steps of this; 0: not rounded
	Price   int64           // of each metre off the wanted level
	Break   int64           // of a change of its grade by 100 %
	Outlets []PipeOutlet
	Rises   [][]measure.Length // by node and arm: how far the pipe lies above the node's level there; nil: nowhere
}

// Over is the underside of the run at a joint, its lowest place and its highest.
type Over struct{ Lowest, Highest measure.Length }

// Way says which way the water runs under one unit.
type Way int8

// The ways. Where nobody said one, no least fall is held.
const (
	Unsaid Way = iota
	Onward     // towards the end of the leg
	Back       // towards its start
)

// Place is a joint of a leg.
type Place struct{ Leg, Joint int }

// PipeOutlet is where the drain's water leaves. Its level, where one is stated, is never moved.
type PipeOutlet struct {
	Place
	Name  string
	Level *measure.Length // of the pipe's underside
}

// Drain is the drain in the bed as a profile of its own: the same legs and joints, its own limits. A flat run over a falling
// drain is normal. Nodes join its legs at their own levels, without castings and lips.
func (p Problem) Drain(pipe Pipe) Problem {
	out := Problem{Step: pipe.Step, Show: p.Show, Words: p.Words}
	for i := range p.Legs {
		l := &p.Legs[i]
		leg := Leg{Name: l.Name, Joints: make([]Joint, len(l.Joints)), Units: make([]Unit, len(l.Units))}
		for j := range l.Joints {
			leg.Joints[j] = pipe.joint(l.Joints[j].At, pipe.Over[i][j])
		}
		for k := range l.Units {
			leg.Units[k] = pipe.unit(pipe.Ways[i][k])
		}
		out.Legs = append(out.Legs, leg)
	}
	for _, o := range pipe.Outlets {
		j := &out.Legs[o.Leg].Joints[o.Joint]
		j.Outlet, j.Pin = o.Name, o.Level
		if o.Level != nil {
			j.Name = o.Name
		}
	}
	for n, node := range p.Nodes {
		join := Node{Name: node.Name}
		for k, a := range node.Arms {
			arm := Arm{Leg: a.Leg, End: a.End}
			if pipe.Rises != nil {
				arm.Rise = pipe.Rises[n][k]
			}
			join.Arms = append(join.Arms, arm)
		}
		out.Nodes = append(out.Nodes, join)
	}
	return out
}

// joint is what the pipe keeps at one joint.
func (d *Pipe) joint(at measure.Length, over Over) Joint {
	wanted := over.Lowest - d.Below
	out := Joint{At: at, Wanted: &wanted, Above: d.Price, Below: d.Price, Break: d.Break}
	if d.Least != nil {
		high := over.Lowest - *d.Least
		out.High = &high
	}
	if d.Most != nil {
		low := over.Highest - *d.Most
		out.Low = &low
	}
	return out
}

// unit is the limits of grade, up-chainage.
func (d *Pipe) unit(way Way) Unit {
	switch way {
	case Onward:
		return Unit{Least: reversed(d.Steep), Most: reversed(d.Fall)}
	case Back:
		return Unit{Least: d.Fall, Most: d.Steep}
	}
	return Unit{Least: reversed(d.Steep), Most: d.Steep}
}
