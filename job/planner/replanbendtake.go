package planner

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/place/route"
)

// A bend as it was measured is taken so: what lies beyond it turns about it by what the bend turns more or less, every leg keeps its
// pieces under their names, and the bend's pieces are sawn as the answer says; what their faces leave of the turn is in joints near it.

// bendWays are what a person may take: the swing, then new mitres.
func (a *Answers) bendWays(b *BendNow, n *route.Node, moves []string, open bool) {
	if moves == nil {
		return // the run comes back to the bend on another way: nothing can turn about it
	}
	add := func(name string, m job.Mitre) {
		node := a.b.node(n.ID)
		node.Mitre = &m
		b.Ways = append(b.Ways, BendWay{Number: len(b.Ways) + 1, Name: name, Moves: moves, Off: a.besideLine(n, m), Node: node})
	}
	if len(b.Swing) > 0 {
		half := sawSetting(measure.Angle(math.Round(b.Drawn / 2 * float64(measure.Degree))))
		m := job.Mitre{Before: half, After: half}
		if was := a.b.node(n.ID).Mitre; was != nil {
			m.Before, m.After, m.Swings = was.Before, was.After, slices.Clone(was.Swings)
		}
		for _, j := range b.Swing {
			m.Swings = append(m.Swings, job.Swing{Joint: j.Joint, Turn: turned(j.Turn)})
		}
		add(BendSwings, m)
	}
	if open && len(b.Mitres) == 2 {
		add(BendMitres, job.Mitre{Before: turned(math.Abs(b.Mitres[0].Angle)), After: turned(math.Abs(b.Mitres[1].Angle))})
	}
}

// beyondBend are the nodes that turn with what lies beyond a bend: those on the side of the leg that leaves it; nil: the run closes.
func (a *Answers) beyondBend(n *route.Node) []string {
	net := &a.b.net
	at := slices.IndexFunc(net.Nodes, func(o route.Node) bool { return o.ID == n.ID })
	other := func(leg int) int {
		if l := net.Legs[leg]; l.From != at {
			return l.From
		}
		return net.Legs[leg].To
	}
	seen := map[int]bool{other(n.Bend.Out): true}
	onto := map[int]bool{n.Bend.Out: true} // legs that turn
	for more := true; more; {
		more = false
		grow := func(node int) {
			if node != at && !seen[node] {
				seen[node], more = true, true
			}
		}
		for i, l := range net.Legs {
			if i == n.Bend.In || i != n.Bend.Out && !seen[l.From] && !seen[l.To] {
				continue
			}
			onto[i] = true
			grow(l.From)
			grow(l.To)
		}
		for k, o := range net.Nodes { // a branch in the wall of a leg goes with it, and a leg with its branch
			switch {
			case o.On != nil && onto[o.On.Leg]:
				grow(k)
			case o.On != nil && seen[k] && o.On.Leg != n.Bend.In && !onto[o.On.Leg]:
				onto[o.On.Leg] = true
				grow(net.Legs[o.On.Leg].From)
				grow(net.Legs[o.On.Leg].To)
			case o.On != nil && seen[k] && o.On.Leg == n.Bend.In:
				return nil
			}
		}
	}
	if seen[other(n.Bend.In)] {
		return nil
	}
	out := []string{}
	for k := range seen {
		out = append(out, net.Nodes[k].ID)
	}
	slices.Sort(out)
	return out
}

// besideLine is how far joints that turn before the bend take it off the line as drawn: each by its turn and the way from it.
func (a *Answers) besideLine(n *route.Node, m job.Mitre) measure.MM {
	in := a.legs[n.Bend.In]
	toward := a.b.net.Nodes[a.b.net.Legs[n.Bend.In].To].ID == n.ID
	sum := 0.0
	for _, j := range a.b.plan.Joints[in.joint : in.joint+max(in.units-1, 0)] {
		for _, s := range m.Swings {
			if s.Joint != j.Name {
				continue
			}
			way := measure.Length(j.At).Metres()
			if toward {
				way = in.length.Metres() - way
			}
			sum += float64(s.Turn.Radians() * way)
		}
	}
	return measure.MM(measure.FromMetres(math.Abs(sum)))
}

// TakeBends is the job once a person took ways of bends: by node the number of one. What lies beyond each turns about it; every leg stays
// as it was planned but for the faces of the bend's pieces.
func TakeBends(j job.Job, legs []LegReplan, bends []BendNow, take map[string]int) (job.Job, error) {
	if len(j.Route.Walk) > 0 {
		j, _ = Declared(j)
	}
	j.Route.Nodes, j.Route.Legs = slices.Clone(j.Route.Nodes), slices.Clone(j.Route.Legs)
	for _, id := range slices.Sorted(maps.Keys(take)) {
		n := take[id]
		i := slices.IndexFunc(bends, func(b BendNow) bool { return folded(b.Node) == folded(id) })
		at := slices.IndexFunc(j.Route.Nodes, func(o job.Node) bool { return folded(o.ID) == folded(id) })
		switch {
		case i < 0 || at < 0:
			return j, fmt.Errorf("no bend was measured at %s", id)
		case len(bends[i].Ways) == 0:
			return j, fmt.Errorf("the bend at %s has no answer to take: %s", bends[i].Node, bends[i].Answer)
		case n < 1 || n > len(bends[i].Ways):
			return j, fmt.Errorf("the bend at %s has %s; %d is none of them", bends[i].Node, plural(len(bends[i].Ways), "answer", "answers"), n)
		}
		w := bends[i].Ways[n-1]
		j.Route.Nodes[at].Mitre = w.Node.Mitre
		turn(&j, at, w.Moves, bends[i])
	}
	held(&j, legs, take)
	j.Revision = nil
	return j, nil
}

// turn turns nodes and curves about a bend until it turns as it was measured.
func turn(j *job.Job, at int, moves []string, b BendNow) {
	more := (b.Measured - b.Drawn) * math.Pi / 180
	if b.Right {
		more = -more // to the right is against the sense of angles
	}
	centre, sin, cos := *j.Route.Nodes[at].At, math.Sin(more), math.Cos(more)
	about := func(p [2]float64) [2]float64 {
		e, n := p[0]-centre[0], p[1]-centre[1]
		return [2]float64{rounded7(centre[0] + float64(e*cos) - float64(n*sin)), rounded7(centre[1] + float64(e*sin) + float64(n*cos))}
	}
	on := map[string]bool{}
	for _, id := range moves {
		on[folded(id)] = true
	}
	for i := range j.Route.Nodes {
		if o := &j.Route.Nodes[i]; o.At != nil && on[folded(o.ID)] {
			p := about(*o.At)
			o.At = &p
		}
	}
	for i := range j.Route.Legs {
		l := &j.Route.Legs[i]
		if from, to := on[folded(l.From)], on[folded(l.To)]; from || to {
			l.Via = slices.Clone(l.Via)
			for k := range l.Via {
				l.Via[k].At = about(l.Via[k].At)
			}
		}
	}
}

// rounded7 is a coordinate to a tenth of a micrometre, or of a millionth of a foot.
func rounded7(v float64) float64 { return math.Round(v*1e7) / 1e7 }
