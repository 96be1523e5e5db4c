package planner_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
)

// off are the findings about covers that end off the finished ground.
func off(p planner.Plan) finding.List {
	var out finding.List
	for _, f := range p.Findings {
		if f.ID == "planner.cover-off" {
			out = append(out, f)
		}
	}
	return out
}

// ends is how far the cover at the end of a plan's last leg lies above the finished ground.
func ends(p planner.Plan) float64 {
	l := p.SetOut[len(p.SetOut)-1].Levels
	return *l.Cover - *l.Finished
}

// With few changes of grade leg K of the depot runs out on one, and its end comes to lie low: that is the price of a break and
// of nothing else. It is told in words, and at a lower price it is not so.
func TestCoversThatEndLowForThePriceOfABreak(t *testing.T) {
	g := surveyed(t, "tram-depot")
	g.Job.Levels.Break = job.Known(2 * measure.Metre)
	p := planner.Make(g.Job, g.Surfaces...)
	all := off(p)
	var k *finding.Finding
	legs := map[string]bool{}
	for i, f := range all {
		t.Log(f)
		if legs[f.Where.Leg] {
			t.Errorf("leg %s is told of twice", f.Where.Leg)
		}
		if legs[f.Where.Leg] = true; f.Where.Leg == "K" {
			k = &all[i]
		}
	}
	if k == nil {
		t.Fatal("leg K is not told of")
	}
	for _, want := range []string{"m to 29.910 m up to 102 mm low at 29.910 m", "one more change of grade is not worth it", "a change by 1 % counts as much as one joint 2000 mm off"} {
		if !strings.Contains(k.Text, want) {
			t.Errorf("%q says nothing of %q", k.Text, want)
		}
	}
	if k.Kind != finding.Attention || k.Limit != "10 mm either way" || !strings.HasPrefix(k.Value, "102 mm low at 29.910 m") || !strings.Contains(k.Try, "levels.break") {
		t.Errorf("%+v", k)
	}
	g.Job.Levels.Break = job.Known(10 * measure.Millimetre)
	for _, f := range off(planner.Make(g.Job, g.Surfaces...)) {
		if f.Where.Leg == "K" && strings.Contains(f.Value, "low") {
			t.Errorf("at a hundredth of the price: %s", f)
		}
	}
}

// Where nobody entered the price of a change of grade, it goes by how far covers may lie off their level, and is told of as
// assumed: covers that have to be flush get more grades and end nearer to the finished ground.
func TestThePriceOfABreakGoesByTheTolerance(t *testing.T) {
	g := surveyed(t, "tram-depot")
	worst, grades := map[string]float64{}, map[string]int{}
	for _, w := range []struct {
		name string
		tol  job.Entry[measure.Length]
		text string
	}{
		{"flush", job.Known(10 * measure.Millimetre), "counts as much as one joint that lies 200 mm off, 20 times as far as the top of a cover may lie off its level: assumed"},
		{"loose", job.Known(measure.Metre), "counts as much as one joint that lies 2000 mm off: assumed"},
		{"unsaid", job.Entry[measure.Length]{}, "counts as much as one joint that lies 2000 mm off: assumed"},
	} {
		g.Job.Rules.CoverTol = w.tol
		p := planner.Make(g.Job, g.Surfaces...)
		if i := slices.IndexFunc(p.Findings, func(f finding.Finding) bool { return f.ID == "planner.break-assumed" }); i < 0 || !strings.Contains(p.Findings[i].Text, w.text) {
			t.Errorf("%s: nothing says %q", w.name, w.text)
		}
		grades[w.name] = len(p.Grades)
		for _, s := range p.SetOut {
			worst[w.name] = max(worst[w.name], math.Abs(*s.Levels.Cover-*s.Levels.Finished))
		}
	}
	t.Logf("covers end at most %v m off, on %v grades", worst, grades)
	if worst["flush"] > worst["loose"]/2 || grades["flush"] <= grades["loose"] || worst["loose"] != worst["unsaid"] {
		t.Error("a tolerance for covers does not bring them nearer to the ground")
	}
}

// A pin that lies low takes the covers with it, and is named; so is a least fall over ground that falls less.
func TestCoversThatLimitsHoldLow(t *testing.T) {
	j := straight(t)
	flat := plane(t, j, -0.001)
	if p := planner.Make(j, flat); len(off(p)) > 0 || math.Abs(ends(p)) > 1e-6 {
		t.Fatalf("on a plane: %v", off(p))
	}
	pinned := j
	pinned.Levels.Pins = []job.Pin{{ID: "L1", Leg: "A", At: 60 * measure.Metre, Level: 100 - 0.06 - 0.055, Of: "cover", Why: "the gate"}}
	p := planner.Make(pinned, flat)
	all := off(p)
	if len(all) != 1 || !strings.Contains(all[0].Text, "up to 55 mm low") || !strings.Contains(all[0].Text, "held by the pin") || !strings.Contains(all[0].Text, "at the gate") {
		t.Errorf("%v", all)
	}
	g, _ := measure.ParseGrade("0.5 %")
	falling := j
	falling.Levels.Least, falling.Levels.Stretches = job.Known(g.Value), []job.LevelStretch{{Leg: "A", Toward: "N2"}}
	p = planner.Make(falling, flat)
	all = off(p)
	t.Log(all)
	for _, want := range []string{"up to 120 mm high at", "held by a least fall of 0.5 % up-chainage"} { // 0.4 % more over 60 m is 240 mm, shared out
		if len(all) != 1 || !strings.Contains(all[0].Text, want) {
			t.Errorf("%v says nothing of %q", all, want)
		}
	}
}

// Where the job states no tolerance for covers, the one that lies furthest off is told of, and it is no fault.
func TestCoversOffWithoutAStatedTolerance(t *testing.T) {
	g := surveyed(t, "tram-depot")
	g.Job.Rules.CoverTol = job.Entry[measure.Length]{}
	all := off(planner.Make(g.Job, g.Surfaces...))
	if len(all) != 1 || all[0].Kind != finding.Note || all[0].Where.Leg != "K" || all[0].Limit != "" {
		t.Errorf("%v", all)
	}
	j := straight(t)
	j.Rules.CoverTol = job.Entry[measure.Length]{}
	if all = off(planner.Make(j, plane(t, j, -0.02))); len(all) > 0 {
		t.Errorf("on a plane: %v", all)
	}
}

// In feet and inches covers are said as a rod is read, at stations, for US words; a mouth and a pin are named.
func TestCoversOffInFeetAndInches(t *testing.T) {
	g := surveyed(t, "battery-yard")
	text := ""
	for _, f := range off(planner.Make(g.Job, g.Surfaces...)) {
		text += f.Text + "\n"
		for _, wrong := range finding.Speech(f) {
			t.Errorf("%s: %s", f, wrong)
		}
	}
	for _, want := range []string{`leg E: covers lie off the level that the finished ground asks for, by station: 0+14.28 to 0+23.97 up to 1 1/16" high at 0+23.97`, "at the mouth of B3", "held by the pin 411.29 ft at crown of the service drive"} {
		if !strings.Contains(text, want) {
			t.Errorf("nothing of %q in\n%s", want, text)
		}
	}
}
