package schedule

import (
	"strings"
	"testing"

	"trenchwright/job"
	"trenchwright/job/planner"
)

// The cutting list has one fact in a column: which side a cut leaves long is what the two sides say, what an end is goes by its
// angle and by what stays as cast, and what is not checked of lifting stands by itself.
func TestCuttingHasOneFactInAColumn(t *testing.T) {
	slanted, open := 0, 0
	everyPlan(t, func(name string, p planner.Plan, j job.Job) {
		list := Of(p, j).Cutting()
		cells := map[string]func(int) string{}
		figures := map[string]func(int) float64{}
		for _, s := range list.Shelves() {
			cells[s.Key] = func(r int) string { return s.Texts[r] }
			if s.Numeric {
				figures[s.Key] = func(r int) float64 { return s.Figures[r] }
			}
		}
		lift := map[string]string{}
		for _, u := range p.Units {
			if u.Piece != nil {
				lift[u.Mark] = u.Piece.Lift
			}
		}
		for r := range list.Rows {
			mark := cells["mark"](r)
			if cells["what"](r) == "offcut" {
				if cells["offcut"](r) == "" || cells["note"](r) != "" {
					t.Errorf("%s: offcut %s: %q, %q", name, mark, cells["offcut"](r), cells["note"](r))
				}
				continue
			}
			a, z := figures["start"](r), figures["end"](r)
			long := "left"
			if figures["right"](r) > figures["left"](r) {
				long = "right"
			}
			for _, end := range []struct {
				key   string
				angle float64
				other float64
			}{{"start", a, z}, {"end", z, a}} {
				said, face := cells[end.key+"_long"](r), cells[end.key+"_face"](r)
				switch kept := cells["kept"](r); {
				case end.angle == 0 && said != "", end.angle != 0 && !strings.HasPrefix(face, "mit"):
					t.Errorf("%s: %s, %s at %v degrees is %q, long %q", name, mark, end.key, end.angle, face, said)
				case end.angle != 0 && end.other == 0 && said != long:
					t.Errorf("%s: %s, %s leaves the %s side long, %q is said", name, mark, end.key, long, said)
				case end.angle == 0 && kept != "" && (face == "as cast") != (kept == end.key || kept == "both"):
					t.Errorf("%s: %s, %s is %q, as cast: %q", name, mark, end.key, face, kept)
				}
				if end.angle != 0 {
					slanted++
				}
			}
			ask := cells["lift_ask"](r)
			if ask != "" {
				open++
			}
			if strings.Contains(cells["lift"](r)+cells["note"](r)+cells["hold"](r), "NOT CHECKED") || ask != "" && !strings.HasPrefix(ask, "NOT CHECKED: ") {
				t.Errorf("%s: %s: lifting %q, not checked %q", name, mark, cells["lift"](r), ask)
			}
			if whole := lift[mark]; whole != "" && strings.TrimSuffix(strings.Replace(whole, ask, "", 1), ". ") != cells["lift"](r) {
				t.Errorf("%s: %s: lifting %q and %q, the plan says %q", name, mark, cells["lift"](r), ask, whole)
			}
		}
	})
	if slanted < 60 || open < 20 {
		t.Errorf("only %d slanted ends and %d open questions were looked at", slanted, open)
	}
}
