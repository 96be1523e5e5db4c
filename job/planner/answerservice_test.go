package planner_test

import (
	"math"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/place/ground"
)

// How far a service lies from the place asked is the distance in plan to its line, not the way along the leg. By hand, on a
// straight leg: (31 m − 25 m)·sin of the skew less half the width. At 30° that is 3 m − 0.1 m, inside a zone of 2.95 m that
// the 5.9 m along the leg would never show.
func TestServiceLiesAsFarAsItsLineInPlan(t *testing.T) {
	for _, c := range []struct {
		skew string
		away measure.Length
	}{
		{"", 5900 * measure.Millimetre}, {`, "skew": "90 deg"`, 5900 * measure.Millimetre}, {`, "skew": "30 deg"`, 2900 * measure.Millimetre},
	} {
		j := straight(t)
		j = with(t, j, `"dig": {"bed": "150 mm", "room": "400 mm", "sides": "vertical", "tolerance": "2950 mm"}, "route": {"nodes": [
			{"id": "N1", "at": [0, 0], "end": {"kind": "open"}}, {"id": "N2", "at": [60, 0], "end": {"kind": "open"}}], "legs": [{"id": "A", "from": "N1", "to": "N2",
			"services": [{"id": "W1", "name": "water main", "at": "31 m", "width": "200 mm", "clear": "300 mm", "depth": "900 mm"`+c.skew+`}]}]}`)
		n := near(t, j, "25 m")
		if len(n) != 1 || (measure.Length(n[0].Away)-c.away).Abs() > 10 || n[0].Along != measure.MM(6*measure.Metre) || !n[0].Ahead || n[0].InZone != (c.skew != "" && c.away < 2950*measure.Millimetre) {
			t.Errorf("skew %q: %+v, want %s away", c.skew, n, c.away)
		}
		if over := near(t, j, "31.099 m"); over[0].Away != 0 || !over[0].InZone || over[0].Ahead {
			t.Errorf("skew %q: %+v over the service", c.skew, over)
		}
	}
}

// In a curve a line that leans either way is measured both ways and the nearer counts: held against the least distance to
// many points of both lines.
func TestServiceBesideACurve(t *testing.T) {
	j := straight(t)
	j = with(t, j, `"route": {"nodes": [{"id": "N1", "at": [0, 0], "end": {"kind": "open"}}, {"id": "N2", "at": [40, 40], "end": {"kind": "open"}}],
		"legs": [{"id": "A", "from": "N1", "to": "N2", "via": [{"at": [40, 0], "radius": "30 m"}],
			"services": [{"id": "W1", "name": "water main", "at": "33 m", "width": "200 mm", "clear": "300 mm", "skew": "40 deg"}]}]}`)
	p, a := planner.Ask(j, even(t, j, ground.Existing, 100), even(t, j, ground.Finished, 100))
	for _, at := range []string{"5 m", "20 m", "30 m", "36 m", "50 m"} {
		s, err := a.Find(at, "A")
		if err != nil {
			t.Fatal(err, p.Findings)
		}
		d := a.Depth(s)
		cross, err := a.Find("33 m", "A")
		if err != nil {
			t.Fatal(err)
		}
		c := a.Depth(cross)
		best := math.Inf(1)
		for _, lean := range []float64{-40, 40} {
			sin, cos := math.Sincos((c.Bearing + lean) * math.Pi / 180)
			for k := -80_000; k <= 80_000; k++ {
				m := float64(k) / 1000
				best = min(best, math.Hypot(c.E+m*sin-d.E, c.N+m*cos-d.N))
			}
		}
		if got := measure.Length(d.Services[0].Away).Metres(); math.Abs(got-max(0, best-0.1)) > 1e-5 {
			t.Errorf("at %s: %v m from the nearer side, by trying %v m", at, got, best-0.1)
		}
	}
}

func near(t *testing.T, j job.Job, at string) []planner.ServiceNear {
	t.Helper()
	_, a := planner.Ask(j, even(t, j, ground.Existing, 100), even(t, j, ground.Finished, 100))
	s, err := a.Find(at, "A")
	if err != nil {
		t.Fatal(err)
	}
	return a.Depth(s).Services
}

// A casting counts where the way leads through it; at an end it is named and left to neither neighbour alone.
func TestBetweenWeighsCastings(t *testing.T) {
	_, _, a := asked(t, "battery-yard")
	through, to := between(t, a, "A-001", "F-001", ""), between(t, a, "A-001", "X1", "")
	find := func(b planner.BetweenAnswer) *planner.CastPassed {
		for i := range b.Castings {
			if b.Castings[i].Node == "X1" {
				return &b.Castings[i]
			}
		}
		return nil
	}
	inside, end := find(through), find(to)
	if inside == nil || end == nil || inside.AtEnd || !end.AtEnd || inside.Fitting != "cross-20" {
		t.Fatalf("through the cross: %+v; to it: %+v", through.Castings, to.Castings)
	}
	for _, f := range readDemo(t, "battery-yard").Supplies[0].Fittings {
		if f.ID != "cross-20" {
			continue
		}
		if kg := f.Mass.Value.Kilograms(); inside.Mass == nil || kg <= 0 || *inside.Mass != kg || end.Mass == nil || *end.Mass != kg {
			t.Errorf("the job has %v kg on file; %+v, %+v", kg, inside, end)
		}
		kit := 0.0
		for _, c := range f.Covers {
			kit += float64(c.Count) * c.Mass.Value.Kilograms()
		}
		if kit > 0 && (inside.Kit == nil || math.Abs(*inside.Kit-kit) > 1e-9) {
			t.Errorf("its covers weigh %v kg; %+v", kit, inside)
		}
	}
}
