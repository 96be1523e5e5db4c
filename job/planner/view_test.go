package planner_test

import (
	"encoding/json"
	"reflect"
	"testing"

	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/job/planner/randomjob"
)

// TestAViewChangesNoNumber plans random jobs in both systems and words: whatever is a number in plan.json, or a name, stays.
func TestAViewChangesNoNumber(t *testing.T) {
	spoken := 0
	for seed := range uint64(25) {
		j := randomjob.Job(seed)
		own, _ := planner.Ask(j)
		other := planner.View{System: job.Imperial, Words: job.US}
		if j.System == job.Imperial {
			other.System = job.Metric
		}
		p, _ := planner.AskIn(other, j)
		if p.Job.Hash != own.Job.Hash {
			t.Errorf("seed %d: another job", seed)
		}
		if len(p.Findings) != len(own.Findings) {
			t.Errorf("seed %d: %d findings, %d in its own view", seed, len(p.Findings), len(own.Findings))
		}
		for i := range own.Units {
			a, b := own.Units[i], p.Units[i]
			if a.Piece != nil {
				x, y := *a.Piece, *b.Piece
				x.Lift, y.Lift, x.CutThings, y.CutThings = "", "", nil, nil
				if a.Hold { // then it is words, too
					x.CutFrom, y.CutFrom = "", ""
				}
				if !reflect.DeepEqual(x, y) {
					t.Errorf("seed %d: piece %s\n%+v\n%+v", seed, a.Mark, x, y)
				}
			}
			a.Piece, b.Piece, a.Demands, b.Demands = nil, nil, "", ""
			if !reflect.DeepEqual(a, b) {
				t.Errorf("seed %d: unit %s\n%+v\n%+v", seed, a.Mark, a, b)
			}
		}
		alike(t, seed, own.Covers, p.Covers)
		alike(t, seed, own.Joints, p.Joints)
		alike(t, seed, own.Cutting, p.Cutting)
		alike(t, seed, own.Grades, p.Grades)
		for i := range own.Findings {
			if i < len(p.Findings) && own.Findings[i].Text != p.Findings[i].Text {
				spoken++
			}
		}
		again, _ := planner.AskIn(planner.View{System: j.System, Words: j.Words}, j)
		x, _ := json.Marshal(own)
		y, _ := json.Marshal(again)
		if string(x) != string(y) {
			t.Errorf("seed %d: its own view is another plan", seed)
		}
	}
	if spoken == 0 {
		t.Error("no sentence changed with the view")
	}
}

// alike compares what has texts beside its numbers by its numbers and names.
func alike(t *testing.T, seed uint64, a, b any) {
	t.Helper()
	var x, y any
	for v, into := range map[any]*any{&a: &x, &b: &y} {
		text, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		json.Unmarshal(text, into)
	}
	if x, y = quiet(x), quiet(y); !reflect.DeepEqual(x, y) {
		t.Errorf("seed %d: %T differs", seed, a)
	}
}

// quiet leaves out sentences.
func quiet(v any) any {
	switch x := v.(type) {
	case map[string]any:
		for k := range x {
			if k == "text" || k == "note" || k == "missing" {
				delete(x, k)
				continue
			}
			x[k] = quiet(x[k])
		}
	case []any:
		for k := range x {
			x[k] = quiet(x[k])
		}
	}
	return v
}
