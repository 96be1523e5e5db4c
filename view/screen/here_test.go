package screen

import (
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/demo"
)

// Whoever stands at a node, at the start or the end of a leg finds the levels of the bed there, as anywhere along it.
func TestTheBedHasItsLevelsAtNodes(t *testing.T) {
	for _, name := range demo.Names() {
		p := demoPlan(t, name)
		d := newDraft(p.plan, p.job, p.surfaces, View{})
		for i := range d.plan.Legs {
			l := &d.plan.Legs[i]
			for _, at := range []float64{0, measure.Length(l.NodeLength).Millimetres() / 2, measure.Length(l.NodeLength).Millimetres()} {
				h, err := d.here(&question{Name: "bed", Leg: l.Name, At: at}, p.answers)
				if err != nil {
					t.Fatal(err)
				}
				if len(h.Big) == 0 || strings.HasPrefix(h.Big[0].Text, "NOT CHECKED: no levels") {
					t.Errorf("%s, leg %s at %g mm: %+v", name, l.Name, at, h.Big)
				}
			}
		}
	}
}
