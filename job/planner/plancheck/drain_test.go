package plancheck

import (
	"encoding/json"
	"strings"
	"sync"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/groundin"
)

// drainedDemo is a demo planned on its survey with a drain under all of it.
var drainedDemo = sync.OnceValues(func() (levelled, error) {
	var out levelled
	l, err := levelledDemo()
	if err != nil {
		return out, err
	}
	var j job.Job
	if err := json.Unmarshal(l.job, &j); err != nil {
		return out, err
	}
	j.Attachments = nil
	for i := range j.Levels.Outlets {
		j.Levels.Outlets[i].Drain = nil
	}
	mm := measure.Millimetre
	half := measure.Grade{Rise: 1, Run: 200}
	j.Levels.Drain = &job.Drain{Diameter: 110 * mm, Wall: job.Known(4 * mm), Below: 150 * mm, Least: job.Known(half), Offset: -200 * mm, Bedding: 50 * mm, Trench: job.Known(400 * mm)}
	g, _ := groundin.Survey(j, demo.Open)
	if out.plan, err = json.Marshal(planner.Make(g.Job, g.Surfaces...)); err != nil {
		return out, err
	}
	out.job, err = json.Marshal(g.Job)
	return out, err
})

// A drain under a whole network holds, and what is spoiled in it is found out.
func TestDrainIsHeldToTheJob(t *testing.T) {
	l, err := drainedDemo()
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range Check(l.plan, l.job) {
		t.Errorf("as planned: %s", line)
	}
	grades := func(p tree) []any { return p["drain"].(map[string]any)["grades"].([]any) }
	all := func(p tree, by float64) {
		for _, r := range p["set_out"].([]any) {
			tree(tree(r.(map[string]any))["levels"].(map[string]any)).add("drain_m", by)
		}
		for _, g := range grades(p) {
			g := tree(g.(map[string]any))
			g.add("from_level_m", by)
			g.add("to_level_m", by)
			for k, z := range g["inverts_m"].([]any) {
				v, _ := z.(json.Number).Float64()
				g["inverts_m"].([]any)[k] = json.Number(written9(v + by))
			}
		}
	}
	grade := func(p tree, k int) tree { return tree(grades(p)[k].(map[string]any)) }
	if v := l.tree(t)["drain"].(map[string]any); v["verdict"] != "found" || len(v["grades"].([]any)) < 3 {
		t.Fatalf("%v: %v", v["verdict"], v["why"])
	}
	for _, m := range []struct {
		name  string
		spoil func(p tree)
		job   func(j *job.Job)
		want  string
	}{
		{"too near", func(p tree) { all(p, 0.001) }, nil, "below the unit, the job asks for 150 mm"},
		{"one place off", func(p tree) {
			tree(tree(p["set_out"].([]any)[3].(map[string]any))["levels"].(map[string]any)).add("drain_m", 0.000002)
		}, nil, "nm off its grades"},
		{"no level at a place", func(p tree) {
			tree(tree(p["set_out"].([]any)[3].(map[string]any))["levels"].(map[string]any))["drain_m"] = nil
		}, nil, "the drain in the bed has no level"},
		{"a grade that does not run on", func(p tree) { grade(p, 1)["from_mm"] = json.Number("1") }, nil, "the drain"},
		{"a wrong invert", func(p tree) { grade(p, 0)["inverts_m"] = []any{nil, nil} }, nil, "the drain's invert at the end of a grade"},
		{"found, it says not", func(p tree) { p["drain"].(map[string]any)["verdict"] = "impossible" }, nil, "and none was found"},
		{"no drain in the plan", func(p tree) { p["drain"] = nil }, nil, "nothing says why"},
		{"steeper asked", nil, func(j *job.Job) { j.Levels.Drain.Least = job.Known(measure.Grade{Rise: 1, Run: 20}) }, "the job asks for 5 %"},
		{"flatter asked", nil, func(j *job.Job) {
			j.Levels.Drain.Least, j.Levels.Drain.Most = job.Known(measure.Grade{Rise: 1, Run: 1000}), job.Known(measure.Grade{Rise: 1, Run: 400})
		}, "steeper than 0.25 %"},
		{"higher asked", nil, func(j *job.Job) { j.Levels.Drain.Deepest = job.Known(150 * measure.Millimetre) }, "the job allows 150 mm"},
		{"no outlet named", func(p tree) { p["findings"] = []any{} }, func(j *job.Job) { j.Levels.Outlets = nil }, "no outlet is named"},
		{"an invert stated", nil, func(j *job.Job) { j.Levels.Outlets[0].Drain = new(12.5) }, "nm off the stated 12.5"},
		{"none asked for", nil, func(j *job.Job) { j.Levels.Drain = nil }, "the job has none"},
	} {
		t.Run(m.name, func(t *testing.T) {
			p := l.tree(t)
			if m.spoil != nil {
				m.spoil(p)
			}
			text, err := json.Marshal(p)
			if err != nil {
				t.Fatal(err)
			}
			var j job.Job
			if err := json.Unmarshal(l.job, &j); err != nil {
				t.Fatal(err)
			}
			if m.job != nil {
				m.job(&j)
			}
			if lines := Check(text, written(t, j)); !strings.Contains(strings.Join(lines, "\n"), m.want) {
				t.Errorf("not found out: %q in\n%s", m.want, strings.Join(lines[:min(len(lines), 8)], "\n"))
			}
		})
	}
}
