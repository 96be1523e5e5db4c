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
		{"drain beyond most", func(j *Job) { j.Levels.Drain.Least, j.Levels.Drain.Most = grade("1:10"), grade("5 %") }, "levels.drain.least | Levels, drain: the least fall of 10 % is steeper"},
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
		{"a drain too deep", func(j *Job) { j.Levels.Drain.Deepest = Known(100 * measure.Millimetre) }, "levels.drain.deepest | Levels, drain: the drain may lie at most 100 mm below the unit, and has to lie at least 150 mm below it."},
		{"a pipe without a bore", func(j *Job) { j.Levels.Drain.Wall = Known(60 * measure.Millimetre) }, "levels.drain.wall | Levels, drain: a pipe of 110 mm with a wall of 60 mm has no bore."},
		{"a trench too narrow", func(j *Job) { j.Levels.Drain.Trench = Known(200 * measure.Millimetre) }, "levels.drain.trench | Levels, drain: its trench is 200 mm wide, pipe and surround take 310 mm."},
		{"a drain to nowhere", func(j *Job) { j.Levels.Drain.Ways[0].Toward = "N5" }, "levels.drain.ways[0].toward | Levels, drain, way number 1: the drain is to run to node N5, which is no end of leg A."},
		{"two ways", func(j *Job) { j.Levels.Drain.Ways = append(j.Levels.Drain.Ways, j.Levels.Drain.Ways[0]) }, "levels.drain.ways[1] | Levels, drain, way number 2: the way of the drain on leg A is written twice."},
		{"a level without a drain", func(j *Job) { j.Levels.Drain = nil }, "levels.outlets[0].drain | Levels, outlet O1: outlet O1 has a level of the drain, and the run has no drain."},
		{"depth and level", func(j *Job) {
			j.Route.Legs[0].Services[0].Depth, j.Route.Legs[0].Services[0].Level = new(900*measure.Millimetre), new(99.0)
		}, "route.legs[0].services[0].level | Leg A, service W1: service W1 has a depth and a level."},
		{"stretches of the dig that overlap", func(j *Job) { j.Dig.Stretches[1].From = 19 * measure.Metre }, "dig.stretches[1] | Dig, stretch number 2: on leg A it overlaps stretch number 1."},
		{"a stretch without a step", func(j *Job) { j.Dig.Sides, j.Dig.Bench, j.Dig.Stretches[1].Sides = "sloped", nil, "benched" }, `dig.stretches[1].bench | Dig, stretch number 2: "bench" is missing: how high and wide is a step?`},
		{"no density", func(j *Job) { j.Dig.Bulking[0].Density = Known("1600 kg") }, `dig.bulking[0].loose_density | Dig, bulking number 1: loose density is "1600 kg", which is no density: it is no mass in a cubic metre or a cubic yard.`},
		{"an empty load", func(j *Job) { j.Dig.Load.Value = "0" }, `dig.load | Dig: load is "0", which is no load: `},
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
		"class of soil on file. Ask: the competent person", "working room", "thickness of the bed", "thickness of the topsoil", "bulking of what is dug", "width of land"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is not in\n%s", want, got)
		}
	}
}
