package drawing

import (
	"math"

	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// view carries places on the ground to places on the paper.
type view struct {
	centre      spot        // this place
	middle      scene.Point // comes to lie here
	denominator float64     // the paper is so many times smaller
	turn        float64     // degrees by which the ground is turned on the paper, counter-clockwise; 0: north is up
}

func (v view) point(s spot) scene.Point {
	d := turned(s.sub(v.centre), v.turn*math.Pi/180).times(1000 / v.denominator)
	return scene.Point{X: v.middle.X + d.e, Y: v.middle.Y - d.n}
}

func (v view) points(all ...spot) []scene.Point {
	out := make([]scene.Point, len(all))
	for i, s := range all {
		out[i] = v.point(s)
	}
	return out
}

// north is the direction of north on the paper, counter-clockwise from the right.
func (v view) north() float64 { return 90 + v.turn }

// direction is that of a vector on the ground, on the paper.
func (v view) direction(d spot) float64 { return v.point(v.centre.add(d)).Sub(v.middle).Angle() }

// extent is the size on the ground, turned as the view turns it, of places; and the place in its middle.
func extent(turn float64, all []spot) (width, height float64, middle spot) {
	low, high := spot{math.Inf(1), math.Inf(1)}, spot{math.Inf(-1), math.Inf(-1)}
	for _, s := range all {
		t := turned(s, turn*math.Pi/180)
		low = spot{math.Min(low.e, t.e), math.Min(low.n, t.n)}
		high = spot{math.Max(high.e, t.e), math.Max(high.n, t.n)}
	}
	return high.e - low.e, high.n - low.n, turned(low.to(high, 0.5), -turn*math.Pi/180)
}

// box is what the view shows of a rectangle of paper, as four places on the ground.
func (v view) ground(b scene.Box) [4]spot {
	back := func(x, y float64) spot {
		d := spot{x - v.middle.X, v.middle.Y - y}.times(v.denominator / 1000)
		return v.centre.add(turned(d, -v.turn*math.Pi/180))
	}
	return [4]spot{back(b.Left, b.Top), back(b.Right, b.Top), back(b.Right, b.Bottom), back(b.Left, b.Bottom)}
}

// outline of a unit on the paper.
func (v view) unit(d *draft, u planner.Unit) []scene.Point {
	c := d.corners(u)
	return v.points(c[:]...)
}

// arm is one arm of a casting: from its node outwards along a leg, in metres.
type arm struct {
	leg     string
	out     spot
	length  float64
	half    float64 // half its width
	leaving bool    // the leg begins here
}

// arms are those of a casting at a node; none where the legs do not say how long they are.
func (d *draft) arms(n planner.Node) []arm {
	var out []arm
	for _, name := range n.Legs {
		i, ok := d.legs[name]
		if !ok {
			continue
		}
		l := d.plan.Legs[i]
		gap := d.endGap(l.Supply)
		if l.From == n.ID {
			_, way := onAxis(l, 0)
			out = append(out, arm{name, way, (mm(l.StartSetback) - gap) / 1000, d.unitWidth(l.Supply) / 2000, true})
		}
		if l.To == n.ID {
			_, way := onAxis(l, mm(l.NodeLength))
			out = append(out, arm{name, way.times(-1), (mm(l.EndSetback) - gap) / 1000, d.unitWidth(l.Supply) / 2000, false})
		}
	}
	return out
}

// endGap is the gap between the last unit and what stands at a node, in mm.
func (d *draft) endGap(supply string) float64 {
	j := d.made[supply].job.Joint
	if j.EndGap.Known {
		return j.EndGap.Value.Millimetres()
	}
	return j.Gap.Value.Nominal.Millimetres()
}

func (a arm) corners(node spot) [4]spot {
	left := a.out.left().times(a.half)
	far := node.add(a.out.times(a.length))
	return [4]spot{node.add(left), far.add(left), far.sub(left), node.sub(left)}
}

// elbow is what a bend's two arms leave open between them on the outside: from the node to both outer walls and to the
// corner where these meet. ok is false of arms that lie in line, or so nearly that the corner would run away.
func elbow(node spot, a, b arm) (corners [4]spot, ok bool) {
	across := cross(a.out, b.out)
	if math.Abs(across) < 0.1 {
		return corners, false
	}
	outer := func(one, other arm) spot { // to the wall that lies away from the other arm
		side := one.out.left().times(one.half)
		if dot(side, other.out) > 0 {
			side = side.times(-1)
		}
		return side
	}
	wallA, wallB := outer(a, b), outer(b, a)
	corner := node.add(wallA).add(a.out.times(cross(wallB.sub(wallA), b.out) / across))
	return [4]spot{node, node.add(wallA), corner, node.add(wallB)}, true
}

func cross(s, t spot) float64 { return float64(s.e*t.n) - float64(s.n*t.e) }
func dot(s, t spot) float64   { return float64(s.e*t.e) + float64(s.n*t.n) }

// castBody are the parts of a casting: its arms, and the elbow of a bend.
func castBody(node spot, arms []arm) [][4]spot {
	var parts [][4]spot
	for _, a := range arms {
		parts = append(parts, a.corners(node))
	}
	if len(arms) == 2 {
		if c, ok := elbow(node, arms[0], arms[1]); ok {
			parts = append(parts, c)
		}
	}
	return parts
}

// casting draws a fitting as one body: all edges first, then the inside over the edges that lie in it.
func (v view) casting(n planner.Node, arms []arm, pen float64) (marks []scene.Mark, bodies []shape) {
	for _, c := range castBody(at(n.At), arms) {
		p := v.points(c[:]...)
		marks = append(marks, scene.Path{Outline: scene.Polygon(p...), Stroke: scene.Pen(2 * pen)})
		bodies = append(bodies, convex(p...))
	}
	for _, b := range bodies {
		marks = append(marks, scene.Path{Outline: scene.Polygon(b.points...), Fill: scene.White})
	}
	return marks, bodies
}
