package planner_test

import (
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
)

// A joint that has to stand right at the edge of a stretch without joints is told with where both are, never nought against
// nought. Three units of 3000 mm and gaps of 10 mm fill 9020 mm in one way only, with joints from 3005 to 3015 and 6015 to 6025 mm:
// a stretch of 3000 mm between them touches both.
func TestAJointAtTheEdgeIsToldWithPlaces(t *testing.T) {
	demo := readDemo(t, "tram-depot")
	for _, from := range []string{"N1", "N2"} {
		j := job.Job{Format: 1, Name: "edge", Supplies: demo.Supplies, Documents: demo.Documents}
		a, b := [2]float64{1000, 2000}, [2]float64{1009.02, 2000}
		j.Route.Nodes = []job.Node{{ID: "N1", At: &a}, {ID: "N2", At: &b}}
		j.Route.Legs = []job.Leg{{ID: "A", From: "N1", To: "N2", LayFrom: from,
			Zones: []job.Zone{{ID: "Z1", From: 3015 * measure.Millimetre, To: 6015 * measure.Millimetre, Why: "access road"}}}}
		told := 0
		for _, f := range planner.Make(j).Findings {
			if f.ID != "layout.no-clearance" {
				continue
			}
			told++
			if f.Limit != "no joint from 3.015 m to 6.015 m" || !strings.HasSuffix(f.Value, " to 3.015 m") && !strings.HasPrefix(f.Value, "the joint from 6.015 m") || !strings.Contains(f.Text, "access road") || f.Try == "" {
				t.Errorf("laid from %s: %s, value %s, limit %s, try %s", from, f.Text, f.Value, f.Limit, f.Try)
			}
			for _, wrong := range finding.Speech(f) {
				t.Errorf("laid from %s: %s", from, wrong)
			}
		}
		if told != 1 {
			t.Errorf("laid from %s: told %d times", from, told)
		}
	}
}
