package job

import (
	"strings"
	"testing"

	"trenchwright/base/measure"
)

// A chainage beyond 100 m is nothing unusual on a leg: outlets, pins and stretches of levels and of the dig may lie there.
func TestChainagesMayBeLong(t *testing.T) {
	j := Job{Levels: Levels{Outlets: []Outlet{{ID: "O1", Leg: "A", At: 250 * measure.Metre}}}}
	j.Dig.Stretches = []DigStretch{{Leg: "A", From: 180 * measure.Metre, To: 250 * measure.Metre}}
	for _, f := range Faults(j) {
		if strings.Contains(f.Where.Path, "dig.stretches[0].from") || strings.Contains(f.Where.Path, "dig.stretches[0].to") {
			t.Errorf("a stretch of the dig from 180 to 250 m: %s", f.Text)
		}
		if strings.Contains(f.Where.Path, "outlets[0].at") {
			t.Errorf("an outlet at 250 m: %s", f.Text)
		}
	}
}
