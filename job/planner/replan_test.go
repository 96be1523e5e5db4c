package planner_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/tools/seed"
)

const mm = measure.Millimetre

// setTo is the state of a run whose legs are set up to so many units from where each is laid, the last one of each off by so much.
func setTo(run *field.Run, plan planner.Plan, n func(leg string, units int) int, off func() measure.Length) field.State {
	b := field.NewBook(run)
	number := 0
	for i, l := range run.Legs {
		k := n(l.ID, len(l.Units))
		if k == 0 {
			continue
		}
		units := l.Units[:k]
		lastPlace := ""
		if plan.Legs[i].LaidFrom == plan.Legs[i].To && plan.Legs[i].To != plan.Legs[i].From {
			units = l.Units[len(l.Units)-k:]
			lastPlace = units[0].Place
		} else {
			lastPlace = units[k-1].Place
		}
		number++
		says := field.SetSays{Within: true}
		if by := off(); by != 0 {
			says.Off = []field.Off{{Place: lastPlace, By: by}}
		}
		b.Add(recordOf(number, units[0].Place, units[len(units)-1].Place, says))
	}
	return b.State("")
}

// Where nothing drifted the plan comes back unchanged, however far it is built.
func TestNothingChangesWhereNothingDrifted(t *testing.T) {
	seed := seed.Of(t)
	r := rand.New(rand.NewPCG(seed, 1))
	for _, name := range demo.Names() {
		d, err := demo.Surveyed(name)
		if err != nil {
			t.Fatal(err)
		}
		plan, answers := planner.Ask(d.Job, d.Surfaces...)
		run := plan.Places()
		for range 5 {
			s := setTo(run, plan, func(_ string, n int) int { return r.IntN(n + 1) }, func() measure.Length { return 0 })
			for _, l := range answers.Replan(s) {
				if l.Answer != planner.AsPlanned && l.Answer != planner.NotBegun && l.Answer != planner.Laid || len(l.Gaps)+len(l.Pieces) > 0 {
					t.Errorf("%s leg %s with %d of %d set: %s, %d gaps, %d pieces", name, l.Leg, l.Set, l.Units, l.Answer, len(l.Gaps), len(l.Pieces))
				}
			}
		}
	}
}

// What is answered where a run drifted holds: with other gaps, the gaps add up to what is off, each within its window.
func TestReplanComesOut(t *testing.T) {
	seed := seed.Of(t)
	r := rand.New(rand.NewPCG(seed, 1))
	seen := map[string]int{}
	for _, name := range demo.Names() {
		d, err := demo.Surveyed(name)
		if err != nil {
			t.Fatal(err)
		}
		plan, answers := planner.Ask(d.Job, d.Surfaces...)
		run := plan.Places()
		joints := map[string]planner.Joint{}
		for _, x := range plan.Joints {
			joints[x.Name] = x
		}
		for range 12 {
			s := setTo(run, plan, func(_ string, n int) int { return r.IntN(n + 1) }, func() measure.Length { return measure.Length(r.IntN(61)-30) * mm })
			for _, l := range answers.Replan(s) {
				seen[l.Answer]++
				var sum measure.MM
				for _, g := range l.Gaps {
					x := joints[g.Joint]
					sum += g.Gap - g.Drawn
					if g.Gap < x.GapMin || g.Gap > x.GapMax {
						t.Errorf("%s %s: gap %v, it may be %v to %v", name, g.Joint, g.Gap, x.GapMin, x.GapMax)
					}
				}
				if l.Answer == planner.OtherGaps && sum != -l.Off {
					t.Errorf("%s leg %s is %v off, its gaps take up %v", name, l.Leg, l.Off, sum)
				}
				if l.Answer == planner.AsPlanned && l.Off != 0 {
					t.Errorf("%s leg %s is %v off and nothing changes", name, l.Leg, l.Off)
				}
				if l.Answer == planner.OtherPiece && len(l.Pieces) == 0 {
					t.Errorf("%s leg %s: other pieces, and none", name, l.Leg)
				}
			}
		}
	}
	t.Log(seen)
	for _, a := range []string{planner.OtherGaps, planner.OtherPiece, planner.Laid, planner.NotBegun} {
		if seen[a] == 0 {
			t.Errorf("no leg came to %q", a)
		}
	}
}

func recordOf(n int, from, to string, says field.SetSays) field.Record {
	return field.Record{ID: field.ULID(int64(n), [10]byte{byte(n)}), Device: "d", Number: n, Person: "p", Kind: field.Set, From: from, To: to, Says: []byte(saysText(says))}
}

func saysText(s field.SetSays) string {
	off := ""
	for _, o := range s.Off {
		off = fmt.Sprintf(`,"off":[{"place":%q,"by":%q}]`, o.Place, o.By.String())
	}
	return fmt.Sprintf(`{"within":%t%s}`, s.Within, off)
}
