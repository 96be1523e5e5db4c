package planner_test

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"testing"

	"trenchwright/demo/longrun"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/job/planner/randomjob"
)

// moved is a job with one node elsewhere.
func moved(j job.Job, node int, east, north float64) job.Job {
	nodes := append([]job.Node{}, j.Route.Nodes...)
	at := *nodes[node].At
	nodes[node].At = &[2]float64{at[0] + east, at[1] + north}
	j.Route.Nodes = nodes
	return j
}

// TestSketchIsTheSameHoweverItCameAbout drags nodes about and holds every sketch to a fresh one, leg by leg: what is kept from
// before only saves time. Legs that are not touched are asked the same as before.
func TestSketchIsTheSameHoweverItCameAbout(t *testing.T) {
	for seed := range uint64(30) {
		j := randomjob.Job(seed)
		j, _ = planner.Declared(j)
		var s planner.Sketch
		s.Open(j)
		dice := rand.New(rand.NewPCG(seed, 7))
		at := j
		for range 6 {
			at = moved(at, dice.IntN(len(j.Route.Nodes)), float64(dice.IntN(3000)-1500)/1000, float64(dice.IntN(3000)-1500)/1000)
			p, touched := s.Lay(at)
			all, every := new(planner.Sketch).Lay(at)
			if len(p.Legs) != len(all.Legs) || len(p.Legs) > 0 && len(every) != len(all.Legs) {
				t.Fatalf("seed %d: %d legs, fresh %d", seed, len(p.Legs), len(all.Legs))
			}
			if !reflect.DeepEqual(p.Nodes, withoutPieces(all.Nodes, p.Nodes)) {
				t.Errorf("seed %d: nodes differ", seed)
			}
			is := map[string]bool{}
			for _, i := range touched {
				is[p.Legs[i].Name] = true
				if !reflect.DeepEqual(p.Legs[i], all.Legs[i]) {
					t.Errorf("seed %d: leg %s\n%+v\nfresh\n%+v", seed, p.Legs[i].Name, p.Legs[i], all.Legs[i])
				}
			}
			if got, want := unitsOf(p, is), unitsOf(all, is); !reflect.DeepEqual(got, want) {
				t.Errorf("seed %d: touched legs are laid otherwise than fresh", seed)
			}
			if len(p.Units) != len(unitsOf(p, is)) {
				t.Errorf("seed %d: there are units of legs that were not touched", seed)
			}
			first, _ := new(planner.Sketch).Lay(j)
			isnot := map[string]bool{}
			for _, l := range p.Legs {
				isnot[l.Name] = !is[l.Name]
			}
			if !reflect.DeepEqual(unitsOf(first, isnot), unitsOf(all, isnot)) {
				t.Errorf("seed %d: a leg that was not touched is laid otherwise now", seed)
			}
		}
	}
}

// withoutPieces are nodes without the pieces beside them where the other ones have none: those of legs that are not touched.
func withoutPieces(nodes, like []planner.Node) []planner.Node {
	out := append([]planner.Node{}, nodes...)
	for i := range out {
		if b := out[i].Bend; b != nil && i < len(like) && like[i].Bend != nil {
			c := *b
			o := like[i].Bend
			if o.In == "" {
				c.In, c.CoverIn = "", ""
			}
			if o.Out == "" {
				c.Out, c.CoverOut = "", ""
			}
			c.Seams = o.Seams
			out[i].Bend = &c
		}
	}
	return out
}

func unitsOf(p planner.Plan, legs map[string]bool) []planner.Unit {
	var out []planner.Unit
	for _, u := range p.Units {
		if legs[u.Leg] {
			out = append(out, u)
		}
	}
	return out
}

// TestSketchIsThePlan holds a sketch to the plan, where the plan steers no cut lengths and lays nothing on a slope: then both
// say the same of every unit and joint.
func TestSketchIsThePlan(t *testing.T) {
	j := longrun.Job(3, 4)
	p, q := planner.Make(j), planner.Plan{}
	q, _ = new(planner.Sketch).Lay(j)
	if len(p.Units) != len(q.Units) || len(p.Units) == 0 {
		t.Fatalf("%d units, the plan has %d", len(q.Units), len(p.Units))
	}
	differ := 0
	for i := range p.Units {
		if p.Units[i].Mark != q.Units[i].Mark || p.Units[i].Cut != q.Units[i].Cut {
			differ++
		}
	}
	for i := range p.Legs {
		if p.Legs[i].Count != q.Legs[i].Count || p.Legs[i].ClearLength != q.Legs[i].ClearLength {
			t.Errorf("leg %s: %+v, the plan has %+v", p.Legs[i].Name, q.Legs[i], p.Legs[i])
		}
	}
	t.Logf("%d of %d units differ: of equally good arrangements the plan takes one that buys less", differ, len(p.Units))
}

// fortyLegs is a run of some 5,000 units in about 40 legs.
func fortyLegs() job.Job {
	j := longrun.Job(15, 1)
	for i := 0; len(j.Route.Legs) < 40; i += 2 { // a node in the middle of every straight leg
		l := &j.Route.Legs[i]
		if len(l.Via) > 0 {
			continue
		}
		a, b := nodeOf(j, l.From), nodeOf(j, l.To)
		id := fmt.Sprintf("M%d", i)
		j.Route.Nodes = append(j.Route.Nodes, job.Node{ID: id, At: &[2]float64{(a[0]+b[0])/2 + 1.5, (a[1] + b[1]) / 2}})
		next := job.Leg{ID: fmt.Sprintf("M%d", i), From: id, To: l.To}
		l.To = id
		l.Crossings, l.Services, l.Entries, l.Zones = nil, nil, nil, nil
		j.Route.Legs = append(j.Route.Legs[:i+1], append([]job.Leg{next}, j.Route.Legs[i+1:]...)...)
		if i+2 >= len(j.Route.Legs) {
			break
		}
	}
	return j
}

func nodeOf(j job.Job, id string) [2]float64 {
	for _, n := range j.Route.Nodes {
		if n.ID == id {
			return *n.At
		}
	}
	return [2]float64{}
}

// BenchmarkSketch drags a node of a run of 5,000 units by some centimetres each time.
func BenchmarkSketch(b *testing.B) {
	j := fortyLegs()
	var s planner.Sketch
	s.Open(j)
	p, _ := new(planner.Sketch).Lay(j)
	n, laid := 0, 0
	for b.Loop() {
		n++
		_, touched := s.Lay(moved(j, 10, float64(n%97)/50, float64(n%89)/70))
		laid += len(touched)
	}
	b.ReportMetric(float64(laid)/float64(n), "touched/op")
	b.ReportMetric(float64(len(p.Units)), "units")
	b.ReportMetric(float64(len(p.Legs)), "legs")
}

// TestANodeTouchesItsNeighboursOnly moves one node: legs that end neither there nor at the other end of one that does are asked
// what they were asked before, and are not laid anew.
func TestANodeTouchesItsNeighboursOnly(t *testing.T) {
	for seed := range uint64(30) {
		j, _ := planner.Declared(randomjob.Job(seed))
		var s planner.Sketch
		s.Open(j)
		for n := range j.Route.Nodes {
			if n == 0 {
				continue // the first one carries the origin
			}
			p, touched := s.Lay(moved(j, n, 0.25, -0.15))
			near := map[string]bool{j.Route.Nodes[n].ID: true}
			for _, l := range j.Route.Legs {
				if l.From == j.Route.Nodes[n].ID || l.To == j.Route.Nodes[n].ID {
					near[l.From], near[l.To] = true, true
				}
			}
			for _, i := range touched {
				l := p.Legs[i]
				sawn := false
				for _, d := range j.Route.Nodes { // a branch lies on the leg that it is sawn into
					sawn = sawn || d.Sawn != nil && (d.ID == l.From || d.ID == l.To || d.Sawn.Into == l.Name)
				}
				if !near[l.From] && !near[l.To] && !sawn {
					t.Errorf("seed %d: node %s touches leg %s from %s to %s", seed, j.Route.Nodes[n].ID, l.Name, l.From, l.To)
				}
			}
		}
	}
}
