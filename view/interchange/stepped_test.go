package interchange

import (
	"strconv"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job"
)

// A stepped run comes back with both sides of every step: the unit before a joint ends at its own level on the near face of
// the joint, the unit behind it starts at its own, and the drain runs on under both.
func TestSteppedRunReadsBack(t *testing.T) {
	j := demoJob(t, "tram-depot")
	flat, err := measure.ParseGrade("-0.3 %")
	if err != nil {
		t.Fatal(err)
	}
	j.Levels.Stretches = append([]job.LevelStretch{{Leg: "E", From: 6 * measure.Metre, To: 28 * measure.Metre, Grades: job.SteppedUnits, StepGrade: job.Known(flat.Value)}}, j.Levels.Stretches...)
	p := onGround(t, j)
	stepped := 0
	for _, g := range p.plan.Grades {
		if g.Stepped {
			stepped++
		}
	}
	if stepped < 5 {
		t.Fatalf("%d units step: %v", stepped, p.plan.Findings)
	}
	r := of(p.plan, p.job)
	scale, err := strconv.ParseFloat(p.job.Coordinates.ScaleFactor, 64)
	if err != nil {
		t.Fatal(err)
	}
	steps, drains := 0, 0
	for _, a := range p.readXML(t).Alignments {
		p.held(t, a, scale)
		for i, row := range r.rows[a.Name] {
			l := row.Levels
			if i == 0 || l == nil || l.Before == nil {
				continue
			}
			near := measure.FromMetres((measure.Length(row.Chainage) - max(measure.Length(r.gaps[row.Place].Gap)/2, 1)).Metres() * scale)
			for name, want := range map[string][2]*float64{
				"top of wall": {l.Before.Wall, l.Wall}, "top of cover": {l.Before.Cover, l.Cover}, "invert": {l.Before.Invert, l.Invert}, "formation": {l.Before.Formation, l.Formation},
			} {
				if want[0] == nil || *want[0] == *want[1] { // runs on: two supplies meet
					continue
				}
				got, ok := measure.Length(0), false
				for _, prof := range a.Profiles {
					if prof.Name == name {
						got, ok = prof.Level(near)
					}
				}
				if off := (got - measure.FromMetres(*want[0])).Abs(); !ok || off > 2 {
					t.Errorf("leg %s, %s before the joint: %s reads back as %s (%v), the set-out has %.9f m", a.Name, row.Place, name, got, ok, *want[0])
				}
				steps++
			}
			for _, prof := range a.Profiles { // a pipe as flat as 5 % rises by less than 0.3 mm over half a joint
				if was, ok := prof.Level(near); ok && prof.Name == "drain" && l.Drain != nil {
					if off := (was - measure.FromMetres(*l.Drain)).Abs(); off > measure.Millimetre {
						t.Errorf("leg %s, %s: the drain is written with a step of %s", a.Name, row.Place, off)
					}
					drains++
				}
			}
		}
	}
	if steps < 20 || drains < 5 {
		t.Errorf("%d levels before steps and %d of the drain were held: too little is tested", steps, drains)
	}
}
