package planner_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/job/planner/plancheck"
)

// A leg that is dug upright in its middle digs as much there as one that is upright all along, and beyond it as much as one that
// is sloped all along; the section changes at the stated chainages, and the rules are asked part by part.
func TestDigStretches(t *testing.T) {
	g, _, _ := asked(t, "tram-depot")
	from, to := 21*measure.Metre, 33300*measure.Millimetre // inside units
	plan := func(change func(*job.Job)) planner.Plan {
		j := g.Job
		change(&j)
		return planner.Make(j, g.Surfaces...)
	}
	sloped := plan(func(j *job.Job) { j.Dig.Stretches = nil })
	with := func(all, here string) planner.Plan {
		return plan(func(j *job.Job) {
			j.Dig.Sides, j.Dig.Stretches = all, []job.DigStretch{{Leg: "C", From: from, To: to, Sides: here, Wet: job.Known(true)}}
		})
	}
	parted, upright, mixed := with("sloped", "sloped"), with("vertical", "vertical"), with("sloped", "vertical")
	if a, b := sloped.Dig.Total.Dug, parted.Dig.Total.Dug; math.Abs(a-b) > 1e-5 {
		t.Errorf("%.6f m³ are dug, %.6f m³ where the sides are stated once more", a, b)
	}
	n := 0
	for k, l := range mixed.Dig.Legs {
		s, u := parted.Dig.Legs[k].Running, upright.Dig.Legs[k].Running
		if len(s) != len(l.Running) || len(u) != len(l.Running) {
			t.Fatalf("leg %s runs up in %d, %d and %d points", l.Leg, len(l.Running), len(s), len(u))
		}
		for i := 1; i < len(l.Running); i++ {
			want := s[i].Dug - s[i-1].Dug
			if at := measure.Length(l.Running[i].At); l.Leg == "C" && at > from && at <= to {
				want = u[i].Dug - u[i-1].Dug
				n++
			}
			if got := l.Running[i].Dug - l.Running[i-1].Dug; math.Abs(got-want) > 1e-6 {
				t.Errorf("leg %s, to %v: %.7f m³ are dug, sides like these take %.7f m³", l.Leg, measure.Length(l.Running[i].At), got, want)
			}
		}
	}
	if n < 4 {
		t.Errorf("only %d spans are upright", n)
	}
	sides := map[measure.MM]string{}
	for _, s := range mixed.Dig.Sections {
		if s.Leg == "C" {
			sides[s.At] = s.Sides
		}
	}
	if sides[measure.MM(from)] != "vertical" || sides[measure.MM(to)] != "sloped 1:1" {
		t.Errorf("sections: %v", sides)
	}
	var parts []planner.Excavation
	for _, x := range mixed.Excavation {
		if x.Leg == "C" {
			parts = append(parts, x)
		} else if x.From != nil {
			t.Errorf("leg %s is parted", x.Leg)
		}
	}
	if len(parts) != 3 || measure.Length(*parts[1].From) != from || measure.Length(*parts[1].To) != to || *parts[0].To != *parts[1].From || *parts[2].From != *parts[1].To {
		t.Fatalf("%d parts: %+v", len(parts), parts)
	}
	j := g.Job
	j.Dig.Stretches = []job.DigStretch{{Leg: "C", From: from, To: to, Sides: "vertical", Wet: job.Known(true)}}
	if lines := plancheck.Check(bytesOf(t, mixed), bytesOf(t, j)); len(lines) > 0 {
		t.Errorf("%d do not hold:\n%s", len(lines), strings.Join(lines[:min(8, len(lines))], "\n"))
	}
}

func bytesOf(t *testing.T, v any) []byte {
	t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return text
}
