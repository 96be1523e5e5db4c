package planner_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/tools/seed"
)

// What is to be held brings a leg back as far as it says, within the windows; the closer's walls belong to its axis; a leg whose units
// scatter is cut by a place that lies before its closer; a lot that came longer is told, and what its covers lose by one that came shorter.
func TestDriftFromRecords(t *testing.T) {
	seed := seed.Of(t)
	r := rand.New(rand.NewPCG(seed, 5))
	held, closers, cutAt := 0, 0, 0
	for _, name := range demo.Names() {
		d, err := demo.Surveyed(name)
		if err != nil {
			t.Fatal(err)
		}
		d.Job.Rules.UnitScatter = job.Known(measure.Length(1+r.IntN(3)) * mm)
		plan, answers := planner.Ask(d.Job, d.Surfaces...)
		units := map[string]planner.Unit{}
		for _, u := range plan.Units {
			units[u.Mark] = u
		}
		for range 4 {
			s := setTo(plan.Places(), plan, func(_ string, n int) int { return r.IntN(n + 1) }, func() measure.Length { return measure.Length(r.IntN(31)-15) * mm })
			for _, l := range answers.Drift(s) {
				if l.Set == l.Units {
					continue
				}
				if l.Back == nil && l.Off != 0 && !l.Move {
					t.Errorf("%s leg %s: %v off, and nothing is held", name, l.Leg, l.Off)
				}
				if b := l.Back; b != nil {
					held++
					if (l.Off > 0) != (b.Left > 0) && b.Left != 0 || measure.Length(b.Left).Abs() > measure.Length(l.Off).Abs() {
						t.Errorf("%s leg %s: %v off, %v are left", name, l.Leg, l.Off, b.Left)
					}
				}
				on := answers.Replan(s)[slices.IndexFunc(plan.Legs, func(p planner.Leg) bool { return p.Name == l.Leg })]
				if len(on.Offers) > 0 && l.Hold != on.Hold {
					t.Errorf("%s leg %s: %v is to be held now, the way on has %v", name, l.Leg, l.Hold, on.Hold)
				}
				c := l.Closer
				if c == nil {
					continue
				}
				if closers++; (c.Left+c.Right-2*c.Length) > 2 || (c.Left+c.Right-2*c.Length) < -2 || c.Stock < c.Length {
					t.Errorf("%s leg %s: closer %+v", name, l.Leg, c)
				}
				if l.Band == nil || *l.Band < 0 {
					t.Errorf("%s leg %s: no band", name, l.Leg)
				}
				if c.CutAt != "" {
					if cutAt++; c.CutAt == c.Place || c.ToGo == 0 {
						t.Errorf("%s leg %s: %+v", name, l.Leg, c)
					}
				}
			}
		}
	}
	if held < 5 || closers < 5 || cutAt == 0 {
		t.Errorf("%d held, %d closers, %d to be cut at a place: too few to say anything", held, closers, cutAt)
	}
}

// Worked by hand: six units of one lot that came 2 mm longer, and one of another that came 9 mm shorter, whose three covers of 996 mm with
// gaps of 2 mm at the least ask for 2994 mm: of 2991 they lack 3, and the last cover is trimmed to 993 mm.
func TestDriftTellsLotsAndCovers(t *testing.T) {
	d, err := demo.Surveyed("tram-depot")
	if err != nil {
		t.Fatal(err)
	}
	plan, answers := planner.Ask(d.Job, d.Surfaces...)
	s := &site{run: plan.Places(), plan: plan}
	var whole []planner.Unit
	for _, u := range plan.Units {
		switch {
		case u.Leg != plan.Legs[0].Name || u.Cut:
		case u.Length == measure.MM(3000*mm):
			whole = append(whole, u)
		default:
			s.book = append(s.book, recordOf(1000+len(s.book), u.Mark, "", field.SetSays{Within: true}))
		}
	}
	if len(whole) < 8 {
		t.Skip("the first leg of the demo has become too short for this")
	}
	long := measure.Length(whole[0].Length) + 2*mm
	short := measure.Length(whole[0].Length) - 9*mm
	for i, u := range whole[:7] {
		length, batch := long, "L1"
		if i == 6 {
			length, batch = short, "L2"
		}
		s.book = append(s.book, recordOf(i+1, u.Mark, "", field.SetSays{Within: true}))
		s.book[len(s.book)-1].Says = []byte(`{"within":true,"measure":"` + length.String() + `","batch":"` + batch + `"}`)
	}
	var lots []planner.LotDrift
	var covers []planner.CoverOver
	for _, l := range answers.Drift(s.state()) {
		if l.Leg == plan.Legs[0].Name {
			lots, covers = l.Lots, l.Covers
		}
	}
	if len(lots) != 2 || lots[0].Batch != "L1" || lots[0].Units != 6 || lots[0].Mean != measure.MM(2*mm) || lots[0].Verdict != "biased" || lots[1].Units != 1 {
		t.Errorf("lots %+v", lots)
	}
	made := d.Job.Supplies[0].Cover
	n := 0
	for _, c := range plan.Covers {
		if c.Unit == whole[6].Mark {
			n++
		}
	}
	want := measure.Length(n)*(made.Lengths.Value[0]+made.Gap.Value.Min) - short
	if want > 0 && (len(covers) != 1 || covers[0].Over != measure.MM(want)) {
		t.Errorf("covers %+v, want %v over", covers, want)
	}
}
