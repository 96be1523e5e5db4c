package job

import (
	"strings"
	"testing"

	"trenchwright/base/measure"
)

// What is wrong between surfaces, levels and the dig is said where it stands.
func TestFaultsOfGround(t *testing.T) {
	grade := func(text string) Entry[measure.Grade] {
		g, err := measure.ParseGrade(text)
		if err != nil {
			t.Fatal(err)
		}
		return Known(g.Value)
	}
	for _, c := range []struct {
		name  string
		spoil func(*Job)
		want  string
	}{
		{"two surfaces of one role", func(j *Job) { j.Ground.Surfaces[1].Role = ExistingGround }, "ground.surfaces[1].role | Ground, surface paving: surfaces natural and paving are both existing."},
		{"least beyond most", func(j *Job) { j.Levels.Least = grade("6 %") }, "levels.least | Levels: the least fall of 6 % is steeper than the steepest grade of 5 %."},
		{"drain beyond most", func(j *Job) { j.Levels.Drain.Least = grade("1:10") }, "levels.drain.least | Levels, drain: the least fall of 10 % is steeper"},
		{"backwards", func(j *Job) { j.Levels.Stretches[0].To = 2 * measure.Metre }, "levels.stretches[0] | Levels, stretch number 1: it runs backwards"},
		{"away from the leg", func(j *Job) { j.Levels.Stretches[0].Toward = "N5" }, "levels.stretches[0].toward | Levels, stretch number 1: the water is to run to node N5, which is no end of leg A."},
		{"overlap", func(j *Job) {
			j.Levels.Stretches = append(j.Levels.Stretches, LevelStretch{Leg: "A", From: 35 * measure.Metre})
		}, "levels.stretches[1] | Levels, stretch number 2: on leg A it overlaps stretch number 1."},
		{"pins at one place", func(j *Job) {
			j.Levels.Pins = append(j.Levels.Pins, Pin{ID: "L2", Leg: "A", At: 31_200 * measure.Millimetre, Level: 102})
		},
			"levels.pins[1] | Levels, pin L2: pins L1 and L2 stand at the same place."},
		{"no step", func(j *Job) { j.Dig.Bench = nil }, `dig.bench | Dig: "bench" is missing: how high and wide is a step?`},
		{"bulking twice", func(j *Job) { j.Dig.Bulking = append(j.Dig.Bulking, j.Dig.Bulking[0]) }, "dig.bulking[1] | Dig, bulking number 2: the bulking of soil is written twice."},
		{"nothing comes of it", func(j *Job) { j.Dig.Bulking[0].Loose = "0.0" }, `dig.bulking[0].loose | Dig, bulking number 1: loose is "0.0"; a number above 0 is wanted.`},
		{"an empty load", func(j *Job) { j.Dig.Load.Value = "0" }, `dig.load | Dig: load is "0"; a number above 0 is wanted.`},
	} {
		j := sample(t)
		c.spoil(&j)
		if got := texts(Faults(j)); !strings.HasPrefix(got, c.want) || strings.Contains(got, "\n") {
			t.Errorf("%s: got %s", c.name, got)
		}
	}
}

// A job with a survey is asked for what levels and the dig need; one without is not.
func TestMissingOfGround(t *testing.T) {
	j := bareJob(t)
	if got := texts(Missing(j)); strings.Contains(got, "levels") || strings.Contains(got, "dig") {
		t.Errorf("without a survey: %s", got)
	}
	j.Ground.Surfaces = []Surface{{ID: "s", Role: ExistingGround, File: "s.csv"}}
	got := texts(Missing(j))
	for _, want := range []string{"surface of the finished ground", "level of ground water", "least fall of the invert", "steepest grade", "outlet for water", "jurisdiction",
		"class of soil on file. Ask: the competent person", "working room", "thickness of the bed", "bulking of what is dug", "width of land"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is not in\n%s", want, got)
		}
	}
}
