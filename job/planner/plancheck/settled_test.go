package plancheck

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	found "trenchwright/base/finding"
	"trenchwright/job/planner"
)

// Levels and lengths settle together on networks whose lengths used to move to and fro by nanometres: where each stretch
// between two joints was rounded by itself, a joint that moved took the sum of all with it; and where two sets of grades cost
// almost the same (the last three seeds), they took turns.
func TestLevelsAndLengthsSettle(t *testing.T) {
	for _, seed := range []uint64{78, 400, 489, 503, 606, 612, 665, 699, 885, 887, 901, 112, 204, 791} {
		j, s := onHills(t, seed)
		plan := planner.Make(j, s)
		if len(plan.Grades) == 0 || slices.ContainsFunc(plan.Findings, func(f found.Finding) bool { return f.ID == "planner.unsettled" }) {
			t.Errorf("seed %d: it does not settle", seed)
		}
		text, err := json.Marshal(plan)
		if err != nil {
			t.Fatal(err)
		}
		if wrong := Check(text, written(t, j)); len(wrong) > 0 {
			t.Errorf("seed %d: %d things do not hold:\n  %s", seed, len(wrong), strings.Join(wrong[:min(len(wrong), 6)], "\n  "))
		}
	}
}

// A branch that is sawn into a unit of another width than the leg's own, on a crossfall, starts at that unit's wall.
func TestBranchesMeetTheWallThatIsThere(t *testing.T) {
	for _, seed := range []uint64{207, 388} {
		j, s := onSteps(t, seed)
		text, err := json.Marshal(planner.Make(j, s))
		if err != nil {
			t.Fatal(err)
		}
		if wrong := Check(text, written(t, j)); len(wrong) > 0 {
			t.Errorf("seed %d: %s", seed, strings.Join(wrong, "\n  "))
		}
	}
}
