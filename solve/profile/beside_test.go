package profile

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/measure"
)

// Worked by hand: W 900 at a crossfall of 2 % is 9 mm lower at the right wall and 9 mm higher at the left.
func TestCorners(t *testing.T) {
	s := Section{Width: ptr(900 * mm), Height: ptr(750 * mm), Base: ptr(100 * mm), Pads: true, Pad: ptr(150 * mm), Length: ptr(400 * mm),
		BedPad: ptr(100 * mm), Bed: ptr(50 * mm), Drain: ptr(200 * mm)}
	c := s.At(Face{Level: *level(100), Grade: *percent(1)}, Face{Level: *level(100), Grade: *percent(-0.5), Cross: *percent(2)})
	for _, v := range []struct {
		what string
		got  *measure.Length
		want float64
	}{
		{"top left behind", c.LeftBehind.Top, 100.009}, {"top right behind", c.RightBehind.Top, 99.991}, {"top left before", c.LeftBefore.Top, 100},
		{"underside", c.LeftBefore.Underside, 99.25}, {"invert", c.LeftBefore.Invert, 99.35}, {"pad top", c.RightBehind.PadTop, 99.241},
		{"pad base", c.LeftBefore.PadBase, 99.1}, {"formation under pad", c.LeftBefore.UnderPad, 99}, {"formation between", c.LeftBefore.Between, 99.2},
		{"drain", c.LeftBefore.Drain, 99}, {"pad fall before", c.PadFall[0], 0.004}, {"pad fall behind", c.PadFall[1], -0.002}, {"pad across", c.PadAcross, 0.018},
	} {
		if v.got == nil || *v.got != *level(v.want) {
			t.Errorf("%s: %v, want %v", v.what, v.got, v.want)
		}
	}
	s.Pads = false
	if c := s.At(Face{Level: *level(100)}, Face{Level: *level(100)}); c.LeftBehind.PadTop != nil || c.LeftBefore.PadBase != nil || c.LeftBehind.Between == nil {
		t.Errorf("on a bed: %+v", c.LeftBehind)
	}
	s.Height = nil
	if c := s.At(Face{Level: *level(100)}, Face{Level: *level(100)}); c.LeftBefore.Underside != nil || c.LeftBefore.Drain != nil || c.LeftBefore.Top == nil {
		t.Errorf("without a height: %+v", c.LeftBefore)
	}
	if c := (Section{}).At(Face{Cross: *percent(1)}, Face{}); c.LeftBefore.Top != nil || c.PadFall[0] != nil || c.PadAcross != nil || c.LeftBehind.Top == nil {
		t.Errorf("without a width: %+v", c)
	}
}

// A valley with an outlet named, and one without; the drain falls under a level run; steep units step.
func TestLowsDrainAndSteps(t *testing.T) {
	l := straightLeg(8, 3*measure.Metre, percent(-11), percent(11), percent(25))
	for j, z := range []float64{100, 99.9, 99.8, 99.9, 100, 100, 99.7, 99.7, 100} {
		l.Joints[j].Wanted = level(z)
	}
	p := Problem{Legs: []Leg{l}}
	s := solved(t, p)
	want := []Low{{From: 2, To: 2, Node: -1, Level: *level(99.8), Drains: 15 * measure.Metre}, {From: 6, To: 7, Node: -1, Level: *level(s.Levels[0][6].Metres()), Drains: 12 * measure.Metre}}
	if s.Verdict != Found || len(s.Lows) != 2 || s.Lows[0] != want[0] || s.Lows[1].From != 6 || s.Lows[1].To != 7 {
		t.Errorf("%s %+v", s.Verdict, s.Lows)
	}
	if !said(s.Findings, "15.000 m drain to a low of 99.800 m with no outlet named, at chainage 6.000 m") {
		t.Errorf("%v", s.Findings)
	}
	p.Legs[0].Joints[2].Outlet = "sump S1"
	if s = solved(t, p); said(s.Findings, "chainage 6.000 m") || s.Lows[0].Outlet != "sump S1" {
		t.Errorf("a named outlet is asked for: %v", s.Findings)
	}

	steep := Beyond(s, *percent(5))
	if !slices.Equal(steep, []Stretch{{0, 5, 6}, {0, 7, 8}}) {
		t.Errorf("steeper than 5 %%: %v", steep)
	}
	stepped := solved(t, p.InSteps(steep, measure.Grade{}, ptr(400*mm)))
	if stepped.Verdict != Found || stepped.Cost > 1e-3 || p.Legs[0].Units[5].Step != nil {
		t.Errorf("%s %v: with steps the wanted levels are met", stepped.Verdict, stepped.Cost)
	}
	before, behind := stepped.Faces(p, 0, 6, nil)
	if before.Level != *level(100) || behind.Level != *level(99.7) {
		t.Errorf("at the step: %v and %v", before, behind)
	}

	flat := straightLeg(40, 3*measure.Metre, nil, nil, percent(1))
	for j := range flat.Joints {
		flat.Joints[j].Wanted = level(100)
	}
	run := Problem{Legs: []Leg{flat}, Step: *percent(0.05)}
	top := solved(t, run)
	pipe := func(most *measure.Length, way Way) Pipe {
		d := Pipe{Below: 900 * mm, Least: ptr(800 * mm), Most: most, Fall: percent(0.3), Price: 1000, Step: *percent(0.05), Over: [][]Over{nil}, Ways: [][]Way{nil}}
		for j, z := range top.Levels[0] {
			d.Over[0] = append(d.Over[0], Over{z, z})
			if j > 0 {
				d.Ways[0] = append(d.Ways[0], way)
			}
		}
		return d
	}
	drain := solved(t, run.Drain(pipe(ptr(1500*mm), Onward)))
	if drain.Verdict != Found || drain.Runs[0].Grade.Cmp(*percent(-0.3)) != 0 || len(top.Runs) != 1 {
		t.Errorf("%s %s %v", drain.Verdict, drain.Why, drain.Runs)
	}
	if over := solved(t, run.Drain(pipe(ptr(1000*mm), Onward))); over.Verdict != Impossible {
		t.Errorf("0.36 m of fall in 0.2 m: %s", over.Verdict)
	}
	if back := solved(t, run.Drain(pipe(nil, Back))); back.Verdict != Found || back.Runs[0].Grade.Cmp(*percent(0.3)) != 0 {
		t.Errorf("backwards: %s %v", back.Verdict, back.Runs)
	}
	level := pipe(nil, Unsaid)
	level.Outlets = []PipeOutlet{{Place{0, 40}, "the ditch", ptr(top.Levels[0][40] - 1200*mm)}}
	if s := solved(t, run.Drain(level)); s.Verdict != Found || s.Levels[0][40] != top.Levels[0][40]-1200*mm || len(s.Lows) != 1 || s.Lows[0].Outlet != "the ditch" {
		t.Errorf("%s %s %v", s.Verdict, s.Why, s.Lows)
	}
}

// A change of crossfall of 2 % over W 900 is a lip of 9 mm at each wall.
func TestCrossfall(t *testing.T) {
	l := straightLeg(3, 3*measure.Metre, percent(-1), percent(1), percent(1))
	l.Units[1].Cross = *percent(2)
	p := Problem{Legs: []Leg{l}, Width: 900 * mm}
	s := solved(t, p)
	if len(s.Lips) != 2 || s.Lips[0].Lip != 9*mm || !said(s.Findings, "NOT CHECKED: no lip at a change of crossfall on file; 9 mm comes") {
		t.Errorf("%v %v", s.Lips, s.Findings)
	}
	p.CrossLip = ptr(6 * mm)
	if s = solved(t, p); !said(s.Findings, "does not meet the stated figure") {
		t.Errorf("%v", s.Findings)
	}
}

// A cast tee that falls 1 % along its stem: the two arms of the main leg see it as crossfall, one to the right and one to the
// left, and their level units have a lip of 4.5 mm at W 900 against it.
func TestCastingsCrossfall(t *testing.T) {
	var p Problem
	p.Width, p.CrossLip = 900*mm, ptr(6*mm)
	for _, name := range []string{"A", "B", "C"} {
		l := straightLeg(4, 3*measure.Metre, percent(-2), percent(2), percent(1))
		l.Name = name
		for j := range l.Joints {
			l.Joints[j].Wanted = level(100)
		}
		p.Legs = append(p.Legs, l)
	}
	p.Nodes = []Node{{Name: "tee T1", Arms: []Arm{
		{Leg: 0, End: true, Cast: &Cast{Cross: *percent(-1), Change: percent(1)}}, {Leg: 1, Cast: &Cast{Cross: *percent(1), Change: percent(1)}},
		{Leg: 2, Cast: &Cast{Grade: *percent(-1), Change: percent(1)}},
	}}}
	s := solved(t, p)
	want := []Lip{{Node: -1, Leg: 0, Joint: 4, Lip: 4500 * measure.Micrometre, Most: p.CrossLip}, {Node: -1, Leg: 1, Lip: 4500 * measure.Micrometre, Most: p.CrossLip}}
	if s.Verdict != Found || !slices.Equal(s.Lips, want) {
		t.Errorf("%s %+v", s.Verdict, s.Lips)
	}
}

// What is out of order is named, field by field.
func TestFaults(t *testing.T) {
	good := func() Problem { return Problem{Legs: []Leg{straightLeg(2, 3*measure.Metre, nil, nil, percent(1))}} }
	for want, spoil := range map[string]func(*Problem){
		"Legs: none":               func(p *Problem) { p.Legs = nil },
		"2 units":                  func(p *Problem) { p.Legs[0].Joints = p.Legs[0].Joints[:2] },
		"Joints[1].At":             func(p *Problem) { p.Legs[0].Joints[1].At = 0 },
		"Joints[2]: prices":        func(p *Problem) { p.Legs[0].Joints[2].Above = -1 },
		"all lie within":           func(p *Problem) { p.Legs[0].pin(0, 100); p.Legs[0].pin(1, 9000) },
		"Joints[1].Change":         func(p *Problem) { p.Legs[0].Joints[1].Change = percent(-1) },
		"Units[0].Least":           func(p *Problem) { p.Legs[0].Units[0].Least = &measure.Grade{Rise: 1} },
		"Step.Most":                func(p *Problem) { p.Legs[0].Units[0].Step = &Step{Most: ptr(-mm)} },
		"Step: -1 %":               func(p *Problem) { p.Step = *percent(-1) },
		"Apart":                    func(p *Problem) { p.Apart = -1 },
		"there are 1 legs":         func(p *Problem) { p.Nodes = []Node{{Arms: []Arm{{Leg: 1}}}} },
		"or here twice":            func(p *Problem) { p.Nodes = []Node{{Arms: []Arm{{}, {}}}} },
		"two of 1 arms are needed": func(p *Problem) { p.Nodes = []Node{{Arms: []Arm{{}}, Throughs: []Through{{}}}} },
		"a unit at a node does not": func(p *Problem) {
			p.Nodes, p.Legs[0].Units[0].Step = []Node{{Arms: []Arm{{}, {End: true}}}}, &Step{}
		},
		"and a lip is not below": func(p *Problem) {
			p.Nodes = []Node{{Arms: []Arm{{}, {End: true}}, Throughs: []Through{{Out: 1, Bend: &Bend{}}}}}
		},
		"Cast.Change: -1 %":     func(p *Problem) { p.Nodes = []Node{{Arms: []Arm{{Cast: &Cast{Change: percent(-1)}}}}} },
		"within 20 000 km":      func(p *Problem) { p.Legs[0].Joints[2].At = 1 << 62 },
		"Nodes[0].Arms[0].Rise": func(p *Problem) { p.Nodes = []Node{{Arms: []Arm{{Rise: 1 << 60}}}} },
		"Nodes[0].Throughs[0].Break": func(p *Problem) {
			p.Nodes = []Node{{Arms: []Arm{{}, {End: true}}, Throughs: []Through{{Out: 1, Break: -1}}}}
		},
	} {
		p := good()
		spoil(&p)
		_, err := Solve(p)
		var bad Malformed
		if !errors.As(err, &bad) || !strings.Contains(err.Error(), want) {
			t.Errorf("want %q, got %v", want, err)
		}
	}
}

// The checker finds what is wrong with a solution.
func TestCheckFinds(t *testing.T) {
	make := func() (Problem, Solution) {
		p := longLeg(60, 2, 30_000, 0.01, 3)
		p.Step = *percent(0.05)
		p.Legs[0].Joints[20].Low, p.Legs[0].Joints[40].High = level(50), level(150)
		s, err := Solve(p)
		if err != nil || s.Verdict != Found {
			t.Fatal(err, s.Verdict)
		}
		return p, s
	}
	for id, spoil := range map[string]func(p *Problem, s *Solution){
		"verdict":   func(_ *Problem, s *Solution) { s.Verdict = "fine" },
		"shape":     func(_ *Problem, s *Solution) { s.Runs[0].To++ },
		"pin":       func(p *Problem, s *Solution) { *p.Legs[0].Joints[15].Pin++ },
		"low":       func(p *Problem, s *Solution) { p.Legs[0].Joints[20].Low = ptr(s.Levels[0][20] + 1) },
		"high":      func(p *Problem, s *Solution) { p.Legs[0].Joints[40].High = ptr(s.Levels[0][40] - 1) },
		"off-grade": func(_ *Problem, s *Solution) { s.Levels[0][7] += 2 },
		"most": func(p *Problem, s *Solution) {
			p.Legs[0].Units[5].Most = ptr(measure.Grade{Rise: s.Runs[0].Grade.Rise*1000 - s.Runs[0].Grade.Run, Run: s.Runs[0].Grade.Run * 1000})
		},
		"change":    func(p *Problem, s *Solution) { p.Legs[0].Joints[s.Runs[1].From].Change = percent(0) },
		"on-step":   func(p *Problem, s *Solution) { p.Step = *percent(0.07) },
		"cost":      func(_ *Problem, s *Solution) { s.Cost *= 1.001 },
		"least":     func(_ *Problem, s *Solution) { s.Least *= 1.00001 },
		"bound":     func(_ *Problem, s *Solution) { s.Bound *= 1.0001 },
		"proof":     func(_ *Problem, s *Solution) { s.Proof = nil },
		"low-point": func(_ *Problem, s *Solution) { s.Lows = s.Lows[1:] },
		"conflict":  func(_ *Problem, s *Solution) { s.Verdict = Impossible },
	} {
		p, s := make()
		spoil(&p, &s)
		found := false
		for _, f := range Check(p, s) {
			found = found || f.ID == "profile.check."+id
		}
		if !found {
			t.Errorf("%s: goes unnoticed", id)
		}
	}
	l := straightLeg(40, 2500*mm, nil, percent(-0.5), percent(1))
	l.pin(0, 100)
	l.pin(40, 99.6)
	p := Problem{Legs: []Leg{l}}
	s, _ := Solve(p)
	p.Legs[0].pin(40, 99.5)
	if len(Check(p, s)) == 0 {
		t.Error("a conflict that is none goes unnoticed")
	}
	p.Legs[0].pin(40, 99.6)
	s.Reason.Limits = s.Reason.Limits[1:]
	if len(Check(p, s)) == 0 {
		t.Error("a conflict with a limit missing goes unnoticed")
	}
}

// Water goes by inverts: where a deeper unit lies in a level run, it stands there, and behind a step up it stands too. A
// multiplier that is no number proves nothing.
func TestLowsGoByInverts(t *testing.T) {
	l := straightLeg(4, 3*measure.Metre, percent(-11), percent(11), percent(25))
	for j, z := range []float64{100, 99.99, 99.98, 99.97, 99.96} {
		l.Joints[j].Wanted = level(z)
	}
	s := solved(t, Problem{Legs: []Leg{l}})
	if len(s.Lows) != 1 || s.Lows[0].From != 4 {
		t.Errorf("on an even fall: %+v", s.Lows)
	}
	l.Units[1].Below = 200 * mm
	s = solved(t, Problem{Legs: []Leg{l}})
	if want := (Low{From: 2, To: 2, Node: -1, Level: *level(99.78), Drains: 6 * measure.Metre}); len(s.Lows) != 2 || s.Lows[0] != want {
		t.Errorf("with a deeper unit: %+v", s.Lows)
	}
	l.Units[1].Below = 0
	for k := range l.Units {
		l.Units[k].Step = &Step{Grade: *percent(1), Most: ptr(50 * mm)} // each rises by 30 mm, and steps down by 40
	}
	s = solved(t, Problem{Legs: []Leg{l}})
	if len(s.Lows) != 4 { // at the start of every unit
		t.Errorf("stepped: %+v", s.Lows)
	}
	s.Proof.Unit[0][0] = math.NaN()
	if _, why := (&Problem{Legs: []Leg{l}}).lowerBound(s.Proof, allLimits, true, 0); why == "" {
		t.Error("a bound was made of no number")
	}
}

// A curve of the ground that no two breaks can follow keeps all its breaks, and it is said that they stand close.
func TestCloseBreaksAreSaid(t *testing.T) {
	l := straightLeg(12, 3*measure.Metre, percent(-11), percent(11), percent(0.3))
	for j := range l.Joints {
		l.Joints[j].Wanted, l.Joints[j].Break = level(100-0.004*float64(j*j)), 1000
	}
	s := solved(t, Problem{Legs: []Leg{l}, Apart: 3})
	if len(s.Runs) < 6 || !said(s.Findings, "breaks of grade stand nearer than 3 units") {
		t.Errorf("%d runs, %v", len(s.Runs), s.Findings)
	}
	if s = solved(t, Problem{Legs: []Leg{l}, Apart: 1}); said(s.Findings, "stand closer") {
		t.Error(s.Findings)
	}
}
