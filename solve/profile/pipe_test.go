package profile

import (
	"math/rand/v2"
	"testing"

	"trenchwright/base/measure"
)

// underRuns is a pipe that hugs runs which lie on the step that its own grades are wanted on, or across it: what is wanted
// is what it must not pass. Legs are one behind the other or meet in one node; the pipe's level is fixed at some of its ends.
func underRuns(r *rand.Rand) (Problem, int) {
	var run Problem
	var over [][]Over
	var ways [][]Way
	z := 100 * measure.Metre
	step := measure.Grade{Rise: 1, Run: 2000}
	node := Node{Name: "N"}
	price := int64(r.IntN(3)) * 100_000
	fixed := 0
	pipe := Pipe{Below: 150 * mm, Least: ptr(150*mm - 2), Step: step, Price: 1000, Break: price}
	for i := range 1 + r.IntN(4) {
		units := 3 + r.IntN(20)
		l := Leg{Name: string(rune('A' + i)), Joints: make([]Joint, units+1), Units: make([]Unit, units)}
		at, level := make([]Over, units+1), z
		grade := measure.Length(r.IntN(60)+4) * 250 // millionths: half a step
		for j := range l.Joints {
			l.Joints[j].At = measure.Length(j) * 3010 * mm
			at[j] = Over{level, level}
			if j%7 == 6 {
				grade += measure.Length(r.IntN(5)) * 500
			}
			level -= climb(measure.Grade{Rise: grade, Run: 1_000_000}, 3010*mm)
		}
		node.Arms = append(node.Arms, Arm{Leg: i})
		if one(r, 3) {
			pipe.Outlets = append(pipe.Outlets, PipeOutlet{Place: Place{i, units}, Name: "outlet", Level: ptr(at[units].Lowest - 150*mm - measure.Length(r.IntN(40))*mm)})
			fixed++
		}
		run.Legs, over, ways = append(run.Legs, l), append(over, at), append(ways, make([]Way, units))
		for k := range ways[i] {
			ways[i][k] = Onward
		}
	}
	if len(run.Legs) > 1 {
		run.Nodes = []Node{node}
	}
	pipe.Over, pipe.Ways, pipe.Fall = over, ways, &measure.Grade{Rise: 1, Run: 1000}
	return run.Drain(pipe), fixed
}

// The grades of a pipe that hugs its run are whole steps, but for one between two levels that are fixed. What that costs is
// what rounding to a step makes: no more on the whole than a step over the leg, and over one it joins, at every joint.
func TestPipesLieOnTheirStep(t *testing.T) {
	const networks = 400
	off, all, cost, least, deepest := 0, 0, 0.0, 0.0, measure.Length(0)
	for seed := range uint64(networks) {
		p, fixed := underRuns(rand.New(rand.NewPCG(seed, 31)))
		s := solved(t, p)
		if s.Verdict != Found {
			t.Errorf("seed %d: %s: %s", seed, s.Verdict, s.Why)
			continue
		}
		n := 0
		for _, run := range s.Runs {
			if all++; !run.OnStep {
				n++
			}
		}
		if n > max(fixed-1, 0) {
			t.Errorf("seed %d: %d of %d grades are off their step, with %d levels fixed", seed, n, len(s.Runs), fixed)
		}
		allowed, longest := 0.0, measure.Length(0)
		for _, l := range p.Legs {
			longest = max(longest, l.Joints[len(l.Units)].At)
		}
		for i, l := range p.Legs {
			for j, joint := range l.Joints {
				allowed += float64(joint.Below) * climb(p.Step, l.Joints[len(l.Units)].At+longest).Metres()
				deepest = max(deepest, *joint.Wanted-s.Levels[i][j])
			}
		}
		if s.Cost > s.Least+allowed {
			t.Errorf("seed %d: it costs %.0f, at the least %.0f: rounding to a step makes %.0f at most", seed, s.Cost, s.Least, allowed)
		}
		off, cost, least = off+n, cost+s.Cost, least+s.Least
	}
	t.Logf("%d pipes, %d grades, %d off their step; they cost %.0f, at the least %.0f; the deepest lies %s below what is wanted", networks, all, off, cost, least, deepest)
}
