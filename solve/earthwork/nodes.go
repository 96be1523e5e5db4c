package earthwork

import (
	"fmt"
	"math"

	"trenchwright/base/finding"
	"trenchwright/base/sorting"
	"trenchwright/place/route"
)

// Node is where ends of legs meet: a bend, a tee, a cross, a transition. What the digs of the legs have in common is
// counted once: each leg has what lies nearer to its own axis, so that two legs part in the line that halves the angle
// between them. With equal sections that is the mitre, and no place is dug twice or left out.
type Node struct {
	Name string
	Arms []Arm
}

// Arm is one end of a leg at a node.
type Arm struct {
	Leg int
	End bool // the leg's end, else its start
}

// share is what of the plane belongs to a leg at one of its ends: on either side (left, right, looking up-chainage) what
// lies ahead of a line through the node. cot is the cotangent of the angle between the leg, seen from the node, and that line.
type share struct {
	node route.Point
	away route.Vector // along the leg, away from the node
	cot  [2]float64
}

// shares are the two ends of each leg; nil at a free end.
func shares(p *Problem, axes []axis) ([][2]*share, finding.List) {
	out := make([][2]*share, len(p.Legs))
	var said finding.List
	for n := range p.Nodes {
		node := &p.Nodes[n]
		if len(node.Arms) < 2 {
			continue
		}
		type ray struct {
			arm     Arm
			at      route.Point
			away    route.Vector
			bearing float64 // radians clockwise from north
		}
		var rays []ray
		for _, a := range node.Arms {
			l := p.Legs[a.Leg].Line
			pose := l.Start()
			if a.End {
				pose = l.End()
				pose.Along = pose.Along.Back()
			}
			rays = append(rays, ray{a, pose.At, pose.Along, math.Atan2(pose.Along.E, pose.Along.N)})
		}
		sorting.By(rays, func(a, b ray) int {
			switch {
			case a.bearing < b.bearing:
				return -1
			case a.bearing > b.bearing:
				return 1
			}
			return 0
		})
		for i, r := range rays {
			next := rays[(i+1)%len(rays)]
			gap := next.bearing - r.bearing
			if i == len(rays)-1 {
				gap += 2 * math.Pi
			}
			if gap < leastAngle {
				said = append(said, finding.Finding{ID: "earthwork.arms-meet", Kind: finding.Fault,
					Text:  fmt.Sprintf("legs %s and %s leave node %s in one direction", p.Legs[r.arm.Leg].Name, p.Legs[next.arm.Leg].Name, node.Name),
					Where: finding.Where{Leg: p.Legs[r.arm.Leg].Name}, Try: "look at the plan: two legs cannot be dug in one place"})
				continue
			}
			sin, cos := math.Sincos(gap / 2)
			cot := cos / sin
			if math.Abs(cot) < 1e-9 {
				cot = 0 // straight on: the two part square to the axis
			}
			own, other := cornerOf(out, r.arm, r.at, r.away), cornerOf(out, next.arm, next.at, next.away)
			own.cot[clockwise(r.arm)], other.cot[1-clockwise(next.arm)] = cot, cot
		}
	}
	return out, said
}

// leastAngle is the least angle between two legs that leave a node, in radians: a degree.
const leastAngle = math.Pi / 180

// clockwise is the side of a leg, looking up-chainage, that lies clockwise of it as seen from the node.
func clockwise(a Arm) int {
	if a.End {
		return 0
	}
	return 1
}

func cornerOf(all [][2]*share, a Arm, at route.Point, away route.Vector) *share {
	i := 0
	if a.End {
		i = 1
	}
	if all[a.Leg][i] == nil {
		all[a.Leg][i] = &share{node: at, away: away}
	}
	return all[a.Leg][i]
}

// limits narrows down what belongs to a leg in the section at a pose: left from, to, right from, to.
func (s *share) limits(at route.Pose, scale float64, lim *[4]float64) {
	if s == nil {
		return
	}
	// a place in the section is at + y·right; it belongs to the leg where ahead ≥ |aside|·cot, measured from the node
	right := at.Along.Right()
	from := at.At.Minus(s.node)
	ahead, aheadY := from.Dot(s.away)/scale, right.Dot(s.away)
	legRight := s.away.Right()
	if legRight.Dot(right) < 0 {
		legRight = legRight.Back()
	}
	aside, asideY := from.Dot(legRight)/scale, right.Dot(legRight)
	for side, sign := range [2]float64{-1, 1} {
		// constant + slope·y ≥ 0
		constant := ahead - float64(float64(sign*aside)*s.cot[side])
		slope := aheadY - float64(float64(sign*asideY)*s.cot[side])
		low, high := &lim[2*side], &lim[2*side+1]
		switch {
		case math.Abs(slope) < 1e-12:
			if constant < 0 {
				*low, *high = math.Inf(1), math.Inf(-1)
			}
		case slope > 0:
			*low = max(*low, -constant/slope)
		default:
			*high = min(*high, -constant/slope)
		}
	}
}

// spread is how far past the node a leg may reach, for each metre of width.
func (s *share) spread() float64 {
	if s == nil {
		return 0
	}
	return max(0, -s.cot[0], -s.cot[1])
}
