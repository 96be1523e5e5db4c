package screen

import (
	"encoding/json"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/demo/longrun"
	"trenchwright/job"
	"trenchwright/job/planner"
)

// TestOffersMakeItPossible makes legs impossible by stretches without joints, and takes every offer at its word: with it the
// plan itself finds the leg.
func TestOffersMakeItPossible(t *testing.T) {
	for name, spoil := range map[string]func(l *job.Leg){
		"a zone that is too long": func(l *job.Leg) {
			l.Zones = []job.Zone{{ID: "Z1", From: 20 * measure.Metre, To: 21 * measure.Metre, Why: "kept free"}, {ID: "Z2", From: 40 * measure.Metre, To: 44 * measure.Metre, Why: "longer than any unit"}}
		},
		"a joint too near to the end": func(l *job.Leg) {
			l.Joints = []job.ForcedJoint{{ID: "J1", At: 400 * measure.Millimetre, Why: "asked for"}}
		},
		"a crossing wider than a unit": func(l *job.Leg) {
			l.Crossings = []job.Crossing{{ID: "X1", At: 30 * measure.Metre, Path: 3500 * measure.Millimetre}}
		},
	} {
		j := longrun.Job(1.5, 3)
		l := &j.Route.Legs[0]
		l.Crossings, l.Services, l.Entries, l.Zones = nil, nil, nil, nil
		spoil(l)
		takenAtTheirWord(t, name, j)
	}
}

func takenAtTheirWord(t *testing.T, name string, j job.Job) {
	p := planner.Make(j)
	if p.Legs[0].Verdict != "impossible" {
		t.Fatalf("%s: %s: %s", name, p.Legs[0].Verdict, p.Legs[0].Why)
	}
	d := newDraft(p, j, nil, View{})
	offers := d.tries(j.Route.Legs[0].ID)
	if len(offers) == 0 {
		t.Fatalf("%s: nothing is offered; the leg says %v", name, p.Legs[0].Try)
	}
	for _, o := range offers {
		if o.Said == "" || len(o.Edits) == 0 {
			t.Fatalf("%+v", o)
		}
		var desk Desk
		q, _ := json.Marshal(map[string]any{"job": string(job.CanonicalJSON(j)), "edits": o.Edits})
		b, err := desk.Ask("edit", q, nil)
		if err != nil {
			t.Fatal(err)
		}
		var e Edited
		json.Unmarshal(b, &e)
		after, _ := job.FromJSON([]byte(e.Job))
		plan := planner.Make(after)
		if plan.Legs[0].Verdict != "found" {
			t.Errorf("%s: then the leg is %s: %s", o.Said, plan.Legs[0].Verdict, plan.Legs[0].Why)
		}
		t.Logf("%s: %s", name, o.Said)
	}
}

// TestFindingsLeadSomewhere holds the keys of findings to cards that exist.
func TestFindingsLeadSomewhere(t *testing.T) {
	for _, name := range demo.Names() {
		d, p, s := opened(t, name)
		none := 0
		for _, f := range s.Findings {
			if f.Key == "" {
				none++
				continue
			}
			var c Card
			asked(t, d, "card", map[string]any{"id": f.Key}, &c, p)
		}
		if none*3 > len(s.Findings) {
			t.Errorf("%s: %d of %d findings lead nowhere", name, none, len(s.Findings))
		}
	}
}
