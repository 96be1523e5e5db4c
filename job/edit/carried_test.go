package edit

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
)

// A service lies at chainage c of a straight leg of 20 m, whose far end turns about the near one by 3-4-5: from (20, 0) to
// (16, 12). Worked by hand: the chord is 2·c·sin(θ/2), with cos θ = 0.8, so c·√0.4.
func TestCarried(t *testing.T) {
	demo := demoJob(t, "tram-depot")
	j := job.Job{Format: 1, Name: "turned", Supplies: demo.Supplies, Documents: demo.Documents}
	a, b := [2]float64{1000, 2000}, [2]float64{1020, 2000}
	j.Route.Nodes = []job.Node{{ID: "N1", At: &a}, {ID: "N2", At: &b}}
	leg := job.Leg{ID: "A", From: "N1", To: "N2"}
	for i, c := range []measure.Length{4, 6, 5, 10} {
		leg.Services = append(leg.Services, job.Service{ID: fmt.Sprint("W", i), Name: fmt.Sprint("pipe ", i), At: c * measure.Metre, Width: measure.Metre / 10})
	}
	leg.Joints = []job.ForcedJoint{{ID: "J1", At: 12 * measure.Metre, Why: "a building"}}
	j.Levels.Pins = []job.Pin{{ID: "L1", Leg: "A", At: 3 * measure.Metre, Level: 10}, {ID: "L2", Leg: "A", At: 11 * measure.Metre, Level: 10}}
	j.Levels.Outlets = []job.Outlet{{ID: "O1", Leg: "A", At: 7 * measure.Metre}}
	leg.Zones = []job.Zone{{ID: "Z1", From: measure.Metre, To: 2 * measure.Metre, Why: "a duct bank"}}
	j.Route.Legs = []job.Leg{leg}
	chord := func(c float64) string {
		return wording.Speech{}.Far(wording.Far(measure.FromMetres(c * math.Sqrt(0.4))))
	}
	want := "measured along the leg, so moved in the ground with it: pipe 3 on A by " + chord(10) + ", pipe 1 on A by " + chord(6) + ", pipe 2 on A by " + chord(5) +
		", 1 more service by " + chord(4) + ", 1 zone by " + chord(2) +
		", 1 forced joint by " + chord(12) + ", 2 pins by up to " + chord(11) + ", 1 outlet by " + chord(7) + "; measure again, or type the chainage"
	for _, e := range []Edit{{Op: MoveNode, Node: "N2", Text: "1016, 2012"}, {Op: Set, Path: "route.nodes[N2].at", Text: "1016, 2012"}} {
		r := Apply(j, []Edit{e})
		if !r.Changed || r.Said[len(r.Said)-1] != want {
			t.Errorf("%s: %v %q\nwant %q", e.Op, r.Faults, r.Said, want)
		}
	}
	for _, e := range []Edit{
		{Op: InsertBend, Leg: "A", At: "8 m"}, // on the line: nothing goes anywhere
		{Op: MoveNode, Node: "N2", Text: "1024, 2000"},
		{Op: Move, Kind: "service", Leg: "A", ID: "W0", At: "4.5 m"},
		{Op: Set, Path: "route.legs[A].services[W0].at", Text: "4.5 m"},
	} {
		if r := Apply(j, []Edit{e}); !r.Changed || strings.Contains(strings.Join(r.Said, "\n"), "moved in the ground") {
			t.Errorf("%v: %v %q", e, r.Faults, r.Said)
		}
	}
	bent := Apply(j, []Edit{{Op: InsertBend, Leg: "A", At: "8 m", Place: &[2]float64{1008, 2003}}})
	if s := strings.Join(bent.Said, "\n"); !bent.Changed || !strings.Contains(s, "pipe 3 on B by") && !strings.Contains(s, "pipe 3 on A") {
		t.Errorf("%v %q", bent.Faults, bent.Said)
	}
}

// A route that is told as a walk takes along what is measured along its legs like any other: 12 m after a turn that goes from right
// to left, 3 m of them from the turn to the pin, which comes to lie 6 m away.
func TestCarriedAlongAWalk(t *testing.T) {
	demo := demoJob(t, "tram-depot")
	j := job.Job{Format: 1, Name: "walked", Supplies: demo.Supplies, Documents: demo.Documents}
	j.Route.Walk = []string{"24.3 m", "right 90°", "12 m"}
	j.Levels.Pins = []job.Pin{{ID: "L1", Leg: "B", At: 3 * measure.Metre, Level: 10}}
	r := Apply(j, []Edit{{Op: Set, Path: "route.walk[1]", Text: "left 90°"}})
	if want := "measured along the leg, so moved in the ground with it: 1 pin by 6.000 m; measure again, or type the chainage"; !r.Changed || r.Said[len(r.Said)-1] != want {
		t.Errorf("%v %v %q\nwant %q", r.Changed, r.Faults, r.Said, want)
	}
}
