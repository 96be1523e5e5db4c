package planner_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"trenchwright/demo"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/tools/seed"
)

// A swing adds up to what the bend turns more or less, each joint within its budget; new mitres add up to the bend as it is, to the
// saw's setting, with walls that differ by the width times the tangent; a piece that is cut stays. With every unit set there is neither.
func TestBendsAsTheyAre(t *testing.T) {
	seed := seed.Of(t)
	r := rand.New(rand.NewPCG(seed, 9))
	seen := map[string]int{}
	for _, name := range demo.Names() {
		d, err := demo.Surveyed(name)
		if err != nil {
			t.Fatal(err)
		}
		plan, answers := planner.Ask(d.Job, d.Surfaces...)
		joints, units, width := map[string]planner.Joint{}, map[string]planner.Unit{}, map[string]float64{}
		for _, j := range plan.Joints {
			joints[j.Name] = j
		}
		for _, u := range plan.Units {
			units[u.Mark] = u
		}
		for _, s := range d.Job.Supplies {
			width[s.ID] = s.Unit.Outer.Value.Width.Metres()
		}
		for range 14 {
			s := &site{run: plan.Places(), plan: plan}
			all := r.IntN(3) == 0
			for _, l := range s.run.Legs {
				if n := len(l.Units); all || r.IntN(2) == 0 {
					s.set(l.ID, n, 0)
				}
			}
			for _, n := range plan.Nodes {
				if n.Bend != nil {
					by := (r.Float64() - 0.5) * []float64{0.2, 4}[r.IntN(2)]
					s.book = append(s.book, angleOf(len(s.book)+1, n.ID, math.Abs(n.Deflection)+by))
				}
			}
			for _, b := range answers.Bends(s.state()) {
				seen[b.Answer]++
				turn := 0.0
				for _, j := range b.Swing {
					turn += j.Turn
					if j.Left < 0 || j.Opens < 0 || j.Left+j.Opens != joints[j.Joint].Budget.Left {
						t.Errorf("%s %s: %+v of %+v", name, b.Node, j, joints[j.Joint].Budget)
					}
				}
				if len(b.Swing) > 0 && math.Abs(turn-(b.Measured-b.Drawn)) > 1e-6 {
					t.Errorf("%s %s: %v to %v by %v", name, b.Node, b.Drawn, b.Measured, turn)
				}
				saw := 0.0
				for _, m := range b.Mitres {
					saw += math.Abs(m.Angle)
					u := units[m.Place]
					differ := math.Abs(float64(m.Left-m.Right)) / 1e9
					if u.StartAngle == 0 || u.EndAngle == 0 { // mitred at one end alone
						if want := width[u.Supply] * math.Tan(math.Abs(m.Angle)*math.Pi/180); math.Abs(differ-want) > 1e-8 {
							t.Errorf("%s %s: walls of %s differ by %v, want %v", name, b.Node, m.Place, differ, want)
						}
					}
					if m.Cut && (m.Angle != m.Was || m.Length != u.Length) {
						t.Errorf("%s %s: %s is cut, and is told otherwise: %+v", name, b.Node, m.Place, m)
					}
					if d := math.Abs(float64(m.Length-u.Length)) / 1e6; d > 5 {
						t.Errorf("%s %s: %s changes by %v mm", name, b.Node, m.Place, d)
					}
				}
				if len(b.Mitres) == 2 && math.Abs(saw-b.Measured) > 0.11 {
					t.Errorf("%s %s: %v measured, sawn for %v", name, b.Node, b.Measured, saw)
				}
				if all && (len(b.Swing)+len(b.Mitres) > 0 || b.Answer != planner.BendStands && b.Answer != planner.BendAsDrawn) {
					t.Errorf("%s %s: all is set, and %s", name, b.Node, b.Answer)
				}
			}
		}
	}
	t.Log(seen)
	for _, a := range []string{planner.BendSwings, planner.BendMitres, planner.BendStands} {
		if seen[a] == 0 {
			t.Errorf("no bend came to %q", a)
		}
	}
}

func angleOf(n int, node string, deg float64) field.Record {
	return field.Record{ID: field.ULID(int64(n), [10]byte{byte(n), 7}), Device: "d", Number: n, Person: "p", Kind: field.Angle, From: node, Says: []byte(fmt.Sprintf(`{"angle":"%.6f°","plus":"0.01°"}`, deg))}
}
