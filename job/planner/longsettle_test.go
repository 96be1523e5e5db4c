package planner_test

import (
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/demo/longrun"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/place/ground"
	"trenchwright/place/route"
)

// sloping is two legs of a long run on ground that rises evenly, covers flush with it.
func sloping(t *testing.T, first int, east, north float64) (job.Job, *ground.Surface) {
	t.Helper()
	j := longrun.Job(15.1, 1)
	j.Route.Legs, j.Route.Nodes = j.Route.Legs[first:first+2], j.Route.Nodes[first:first+3]
	j.Route.Nodes[0].End, j.Route.Nodes[2].End = &job.End{Kind: "open"}, &job.End{Kind: "open"}
	j.Coordinates.HeightDatum = "made-up datum"
	j.Supplies[0].Cover.Thickness = job.Known(70 * measure.Millimetre)
	j.Ground.Surfaces = []job.Surface{{ID: "finished", Role: job.FinishedGround, File: "none.csv"}}
	j.Levels = job.Levels{Above: job.Known(measure.Length(0))}
	var s ground.Survey
	s.Role, s.Origin = ground.Finished, planner.Origin(j)
	for _, e := range []float64{-16_000, 16_000} {
		for _, n := range []float64{-16_000, 16_000} {
			p := s.Origin.Point(route.Coordinates{E: measure.FromMetres(e), N: measure.FromMetres(n)})
			s.Points = append(s.Points, ground.Point{E: p.E, N: p.N, Z: 100 + float64(east*e) + float64(north*n)})
		}
	}
	out, found := ground.Triangulate(s)
	if out == nil {
		t.Fatal(found)
	}
	return j, out
}

// Long legs with a wide curve settle on levels. They once crept along by millimetres a pass: windows around changes of grade
// followed the changes, and joints that stood where a window began pushed on the changes. And they took turns: their kept
// grades left no room to solve with, so that others were chosen each time.
func TestLongLegsSettle(t *testing.T) {
	for _, c := range []struct {
		first       int
		east, north float64
	}{{22, 0.01, 0.007}, {22, 0.003, 0.013}, {22, 0.005, 0.005}, {3, 0.01, 0.007}, {3, 0.003, 0.013}} {
		j, s := sloping(t, c.first, c.east, c.north)
		p := planner.Make(j, s)
		for _, f := range p.Findings {
			if f.Kind == finding.Fault || f.Kind == finding.Impossible || f.ID == "planner.unsettled" {
				t.Errorf("legs from %d on, %v east, %v north: %s", c.first, c.east, c.north, f.Text)
			}
		}
		steps := 0
		for _, r := range p.Grades {
			if r.OnStep {
				steps++
			}
		}
		t.Logf("%d units on %d grades, %d of them on the step", len(p.Units), len(p.Grades), steps)
		if len(p.Grades) == 0 || steps < len(p.Grades) { // nothing is pinned, so that nothing has to close
			t.Errorf("legs from %d on, %v east, %v north: %d grades, %d on the step", c.first, c.east, c.north, len(p.Grades), steps)
		}
		outside(t, j, p)
	}
}
