package planner

import (
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job"
)

// Between two bends a leg has two cut units whose sum alone is fixed: one of them is whole millimetres, or sixteenths of an
// inch, and the other takes what is left. A leg with one cut has no freedom, and its cut stays exact.
func TestFreeCutsOfAPlanAreRound(t *testing.T) {
	for system, step := range map[job.System]measure.Length{job.Metric: mm, job.Imperial: measure.Inch / 16} {
		s := curveSupply()
		s.Cover = nil
		s.Joint.Gap = job.Known(measure.Window{Nominal: 10 * mm, Min: 10 * mm, Max: 10 * mm})
		p := Make(job.Job{ID: "bends", System: system, Supplies: []job.Supply{s}, Route: job.Route{Walk: []string{"40 m", "right 37.5°", "123.4567 m", "left 51.3°", "40 m"}}})
		round := map[string]int{}
		for _, u := range p.Units {
			if u.Cut && measure.Length(u.Length)%step == 0 {
				round[u.Leg]++
			}
		}
		for i, l := range p.Legs {
			if want := []Count{{14, 1, 0}, {42, 2, 0}, {14, 1, 0}}[i]; l.Count.Cuts != want.Cuts {
				t.Fatalf("leg %s is %+v", l.Name, l.Count)
			}
		}
		if round["A"] != 0 || round["B"] != 1 || round["C"] != 0 {
			t.Errorf("%s: whole steps on leg A %d, B %d, C %d", system, round["A"], round["B"], round["C"])
		}
		for _, l := range p.Proof.Legs {
			if !l.Verified {
				t.Errorf("leg %s: %v", l.Leg, l.CheckerSay)
			}
		}
	}
}
