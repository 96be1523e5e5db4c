package planner_test

import (
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/job/planner/randomjob"
	"trenchwright/place/ground"
	"trenchwright/place/route"
)

// flat is level ground over a rectangle, metres relative to the job's origin.
func flat(t *testing.T, j job.Job, role ground.Role, low, high route.Point) *ground.Surface {
	t.Helper()
	s, found := ground.FromMesh(ground.Mesh{Source: ground.Source{Name: string(role), Origin: planner.Origin(j)}, Role: role,
		Points: []ground.Point{{E: low.E, N: low.N, Z: 9}, {E: high.E, N: low.N, Z: 9}, {E: high.E, N: high.N, Z: 9}, {E: low.E, N: high.N, Z: 9}}, Faces: [][3]int{{0, 1, 2}, {0, 2, 3}}})
	if found.Any(finding.Fault) {
		t.Fatal(found)
	}
	return s
}

// Ground in another zone is a fault that says how far away it lies, and nothing is planned on it; ground that covers half
// of the run is told leg by leg; water that nobody found under a part of it is not.
func TestGroundThatDoesNotFit(t *testing.T) {
	j := randomjob.Job(3)
	net, _, _ := planner.Run(j)
	low, high := net.Nodes[0].At, net.Nodes[0].At
	for _, n := range net.Nodes {
		low, high = route.Point{E: min(low.E, n.At.E), N: min(low.N, n.At.N)}, route.Point{E: max(high.E, n.At.E), N: max(high.N, n.At.N)}
	}
	wide := func(p route.Point, by float64) route.Point { return route.Point{E: p.E + by, N: p.N + by} }
	low, high = wide(low, -20), wide(high, 20)
	told := func(s *ground.Surface, id string) (n int, text string) {
		p := planner.Make(j, s)
		for _, f := range p.Findings {
			if strings.HasPrefix(f.ID, id) {
				n, text = n+1, f.Text
			}
		}
		if id == "ground.stray" && n > 0 && len(p.Units) > 0 {
			t.Error("a run is planned on ground that lies elsewhere")
		}
		return n, text
	}
	const far = 300_000
	away := flat(t, j, ground.Existing, route.Point{E: low.E + far, N: low.N}, route.Point{E: high.E + far, N: high.N})
	if n, text := told(away, "ground.stray"); n != 1 || !strings.Contains(text, " km from ground") {
		t.Errorf("%d findings: %s", n, text)
	}
	half := route.Point{E: high.E, N: (low.N + high.N) / 2}
	if n, text := told(flat(t, j, ground.Existing, low, half), "ground.bare"); n == 0 || !strings.Contains(text, "no ground \"existing\" under leg") {
		t.Errorf("%d findings: %s", n, text)
	}
	if n, text := told(flat(t, j, ground.Water, low, half), "ground.bare"); n != 0 {
		t.Errorf("%d findings: %s", n, text)
	}
	if n, text := told(flat(t, j, ground.Existing, low, high), "ground."); n != 0 {
		t.Errorf("%d findings: %s", n, text)
	}
}
