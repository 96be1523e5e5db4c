package profile

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/tools/seed"
)

// laid has some units of a solved network lie as it was solved.
func laid(r *rand.Rand, p Problem, s Solution) (out Problem, units int) {
	out = p
	out.Legs = make([]Leg, len(p.Legs))
	for i, l := range p.Legs {
		l.Joints, l.Units = append([]Joint(nil), l.Joints...), append([]Unit(nil), l.Units...)
		out.Legs[i] = l
	}
	for _, run := range s.Runs {
		l, levels := &out.Legs[run.Leg], s.Levels[run.Leg]
		for k := run.From; k < run.To && !run.Stepped; k++ {
			up, along := levels[k+1]-levels[k], l.Joints[k+1].At-l.Joints[k].At
			if r.IntN(3) > 0 || math.Abs(ratio(run.Grade)) > 1 {
				continue
			}
			g := run.Grade
			if g.Run == 0 {
				g.Run = 1
			}
			if !OnGrade(g, up, along) {
				g = measure.Grade{Rise: up, Run: along}
			}
			l.Units[k].Lies, l.Joints[k].Pin, l.Joints[k+1].Pin = &g, &levels[k], &levels[k+1]
			units++
		}
	}
	return out, units
}

// asLimits says the same in an older way, slow to read and obvious: what lies has one grade for its least and its most, that of its
// pins; limits that it passes are taken away one by one, and no other is.
func asLimits(p Problem) Problem {
	out := p
	out.Legs, out.Nodes = make([]Leg, len(p.Legs)), make([]Node, len(p.Nodes))
	for i, l := range p.Legs {
		l.Joints, l.Units = append([]Joint(nil), l.Joints...), append([]Unit(nil), l.Units...)
		for k := range l.Units {
			u := &l.Units[k]
			if u.Lies == nil {
				continue
			}
			g := measure.Grade{Rise: *l.Joints[k+1].Pin - *l.Joints[k].Pin, Run: l.Joints[k+1].At - l.Joints[k].At}
			u.Least, u.Most, u.Lies = &g, &g, nil
			for _, j := range []int{k, k + 1} {
				l.Joints[j].Low, l.Joints[j].High = nil, nil
			}
			if k > 0 && p.Legs[i].Units[k-1].Lies != nil {
				l.Joints[k].Change, l.Joints[k].Break = nil, 0
			}
		}
		out.Legs[i] = l
	}
	at := func(a Arm) bool {
		units := p.Legs[a.Leg].Units
		if a.End {
			return units[len(units)-1].Lies != nil
		}
		return units[0].Lies != nil
	}
	for n, node := range p.Nodes {
		node.Arms, node.Throughs = append([]Arm(nil), node.Arms...), append([]Through(nil), node.Throughs...)
		for k, t := range node.Throughs {
			if at(node.Arms[t.In]) && at(node.Arms[t.Out]) {
				node.Throughs[k].Change, node.Throughs[k].Break = nil, 0
				if t.Bend != nil {
					bend := *t.Bend
					bend.Lip, node.Throughs[k].Bend = nil, &bend
				}
			}
		}
		for k, a := range node.Arms {
			if a.Cast != nil && at(a) {
				cast := *a.Cast
				cast.Change, node.Arms[k].Cast = nil, &cast
			}
		}
		out.Nodes[n] = node
	}
	return out
}

// What lies keeps its levels and its grades to the nanometre, even where limits have become tighter than it lies; what is to come costs as
// little as if what lies was a limit of its own, and where that can be solved, this can.
func TestWhatLiesStays(t *testing.T) {
	tried, found, units, passing, both, lost := 0, 0, 0, 0, 0, 0
	for seed := range uint64(600) {
		r := rand.New(rand.NewPCG(seed, 37))
		p := randomNet(r, 1+r.IntN(3), 2+r.IntN(8))
		if r.IntN(3) > 0 {
			p.Step = measure.Grade{Rise: 1, Run: 2000}
		}
		before, err := Solve(p)
		if err != nil || before.Verdict != Found {
			continue
		}
		q, n := laid(r, p, before)
		tighter := seed%2 == 1
		for i := range q.Legs {
			for k := range q.Legs[i].Units {
				if u := &q.Legs[i].Units[k]; tighter && u.Lies != nil { // nothing that lies holds these
					u.Least, u.Most = percent(20), percent(30)
				}
			}
		}
		tried++
		s, err := Solve(q)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		twin, err := Solve(asLimits(q))
		if err != nil {
			t.Fatalf("seed %d, as limits: %v", seed, err)
		}
		if twin.Verdict == Found && s.Verdict == Impossible {
			t.Errorf("seed %d: %s, as limits it is found", seed, s.Why)
		}
		if twin.Verdict == Found && s.Verdict == Undecided {
			lost++
		}
		if s.Verdict != Found {
			continue
		}
		found++
		units += n
		for _, f := range Check(q, s) {
			t.Errorf("seed %d: %s", seed, f.Text)
		}
		if twin.Verdict == Found {
			if both++; math.Abs(s.Least-twin.Least) > 1e-3*(1+twin.Least) {
				t.Errorf("seed %d: the best levels cost %v, as limits %v", seed, s.Least, twin.Least)
			}
		}
		of := map[[2]int]measure.Grade{}
		for _, run := range s.Runs {
			for k := run.From; k < run.To; k++ {
				of[[2]int{run.Leg, k}] = run.Grade
			}
		}
		told := 0
		for _, f := range s.Findings {
			if f.ID == "profile.lies" {
				told++
			}
		}
		for i, l := range q.Legs {
			for k, u := range l.Units {
				if u.Lies == nil {
					continue
				}
				if s.Levels[i][k] != before.Levels[i][k] || s.Levels[i][k+1] != before.Levels[i][k+1] || of[[2]int{i, k}].Cmp(*u.Lies) != 0 {
					t.Errorf("seed %d: unit %d of leg %d lies on %v, %v to %v, and is planned at %v, %v to %v", seed, k, i, *u.Lies, before.Levels[i][k], before.Levels[i][k+1],
						of[[2]int{i, k}], s.Levels[i][k], s.Levels[i][k+1])
				}
			}
		}
		if tighter && n > 0 {
			if passing++; told == 0 {
				t.Errorf("seed %d: %d units lie flatter than their least, and nothing says so", seed, n)
			}
		}
	}
	t.Logf("%d networks, %d found with %d units that lie, %d of them past limits, %d found as limits too, %d as limits alone", tried, found, units, passing, both, lost)
	if 100*lost > found {
		t.Errorf("%d of %d cannot be rounded and as limits can", lost, found)
	}
	if found < 100 || both < 50 || passing < 50 {
		t.Error("too few to say anything")
	}
}

// Between two things that lie on one grade, rounded to the nanometre each by itself, what is to come lies on that grade, though the
// two do not lie on one line exactly; by a tenth of a millimetre it cannot.
func TestWhatIsToComeMeetsWhatLies(t *testing.T) {
	const m = measure.Metre
	for _, c := range []struct {
		off  measure.Length
		want Verdict
	}{{0, Found}, {1, Found}, {-3, Found}, {700, Found}, {100 * measure.Micrometre, Impossible}} {
		g := percent(-0.6)
		l := Leg{Name: "A"}
		for k := range 9 {
			l.Joints = append(l.Joints, Joint{At: measure.Length(k) * 3 * m, Wanted: ptr(100 * m), Above: 1000, Below: 1000, Break: 1000, Change: &measure.Grade{Run: 1}})
			if k < 8 {
				l.Units = append(l.Units, Unit{})
			}
		}
		top := func(k int) *measure.Length {
			z := 100*m + climb(*g, l.Joints[k].At)
			if k > 4 {
				z += c.off
			}
			return &z
		}
		for _, k := range []int{0, 7} {
			l.Units[k].Lies, l.Joints[k].Pin, l.Joints[k+1].Pin = g, top(k), top(k+1)
		}
		p := Problem{Legs: []Leg{l}, Step: measure.Grade{Rise: 1, Run: 2000}}
		s, err := Solve(p)
		if err != nil || s.Verdict != c.want {
			t.Errorf("off by %v: %v %s %s, want %s", c.off, err, s.Verdict, s.Why, c.want)
			continue
		}
		if s.Verdict == Found {
			for _, f := range Check(p, s) {
				t.Errorf("off by %v: %s", c.off, f.Text)
			}
		}
	}
}

// Grades that were chosen stay on their step where what lies holds both ends, and joints have moved by some nanometres since: limits of
// what lies beside give way by as much as is rounded, and no level takes that for leave to look for something better.
func TestKeptGradesStayOnStep(t *testing.T) {
	const m = measure.Metre
	kept, closing := 0, 0
	draw := seed.Of(t)
	for n := range uint64(300) {
		r := rand.New(rand.NewPCG(draw, n))
		l, units := Leg{Name: "A"}, 12+r.IntN(20)
		at, fall, bend := measure.Length(0), 0.005+0.01*r.Float64(), 4e-5*r.Float64()
		level := func(at measure.Length) measure.Length {
			x := at.Metres()
			return 100*m - measure.Length((fall*x+bend*x*x)*float64(m))
		}
		for k := range units + 1 {
			l.Joints = append(l.Joints, Joint{At: at, Wanted: ptr(level(at) + measure.Length(r.IntN(8e6)-4e6)), Above: 1000, Below: 1000, Break: 100, Change: &measure.Grade{Rise: 550775, Run: 1e9}})
			if k < units {
				l.Units = append(l.Units, Unit{Least: percent(-4), Most: percent(-0.15)})
				at += 3010*measure.Millimetre - measure.Length(r.IntN(300000))
			}
		}
		for _, k := range []int{0, units - 1} { // they lie
			a, b := &l.Joints[k], &l.Joints[k+1]
			a.Pin, b.Pin = ptr(level(a.At)), ptr(level(b.At))
			g := between(*b.Pin-*a.Pin, b.At-a.At)
			l.Units[k].Lies = &g
		}
		p := Problem{Legs: []Leg{l}, Step: measure.Grade{Rise: 1, Run: 2000}}
		before, err := Solve(p)
		if err != nil || before.Verdict != Found {
			continue
		}
		l.Units, l.Joints = slices.Clone(l.Units), slices.Clone(l.Joints)
		closes := map[int]bool{}
		for _, run := range before.Runs {
			for k := run.From; k < run.To; k++ {
				if run.OnStep {
					l.Units[k].Least, l.Units[k].Most = &run.Grade, &run.Grade
				} else if closes[k] = true; k > run.From {
					l.Joints[k].Change = &measure.Grade{Run: 1}
				}
			}
		}
		for j := 2; j < units-1; j++ {
			l.Joints[j].At += measure.Length(r.IntN(60) - 30)
		}
		p.Legs = []Leg{l}
		s, err := Solve(p)
		if err != nil || s.Verdict != Found {
			continue
		}
		kept++
		for _, run := range s.Runs {
			for k := run.From; k < run.To; k++ {
				if !run.OnStep && !closes[k] {
					t.Errorf("draw %d: unit %d was on %v, and lies on %v", n, k, *l.Units[k].Least, run.Grade)
				}
			}
			if !run.OnStep {
				closing += run.To - run.From
			}
		}
		if t.Failed() {
			return
		}
	}
	t.Logf("%d legs, %d units that close", kept, closing)
	if kept < 100 || closing < 100 {
		t.Error("too few to say anything")
	}
}
