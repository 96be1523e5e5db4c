package planner_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/tools/seed"
)

// A lot that is told apart from scatter steers what is left: the answer says of how many units, with which mean and from which records;
// where every joint can be held by so much narrower or wider nothing changes; else, whatever is taken, every gap behind a whole unit less
// the mean lies within its window. A lot that scatters changes nothing against records without lengths.
func TestLotsSteerWhatIsLeft(t *testing.T) {
	seed := seed.Of(t)
	r := rand.New(rand.NewPCG(seed, 19))
	stayed, changed, scattered := 0, 0, 0
	for _, name := range demo.Names() {
		d, err := demo.Surveyed(name)
		if err != nil {
			t.Fatal(err)
		}
		plan, answers := planner.Ask(d.Job, d.Surfaces...)
		units, joints := map[string]planner.Unit{}, map[string]planner.Joint{}
		for _, u := range plan.Units {
			units[u.Mark] = u
		}
		for _, j := range plan.Joints {
			joints[j.Name] = j
		}
		for range 8 {
			s, bare := &site{run: plan.Places(), plan: plan}, &site{run: plan.Places(), plan: plan}
			mean := measure.Length(r.IntN(17)-8) * mm
			if r.IntN(4) == 0 {
				mean = 0
			}
			for _, l := range s.run.Legs {
				places := s.laid(l.ID)
				n := r.IntN(len(places))
				for k, place := range places[:n] {
					for _, to := range []*site{s, bare} {
						says := fmt.Sprintf(`{"within":true,"batch":"L1","off":[{"place":%q,"by":"0 mm"}]`, place)
						if u := units[place]; to == s && !u.Cut {
							scatter := []measure.Length{-mm / 2, mm / 2}[k%2]
							if mean == 0 {
								scatter *= 4
							}
							says += fmt.Sprintf(`,"measure":%q`, measure.Length(u.Stock)+mean+scatter)
						}
						rec := recordOf(len(to.book)+1, place, "", field.SetSays{})
						rec.Says = []byte(says + "}")
						to.book = append(to.book, rec)
					}
				}
			}
			legs, without := answers.Replan(s.state()), answers.Replan(bare.state())
			for i, l := range legs {
				told := slices.ContainsFunc(l.Findings, func(f finding.Finding) bool { return f.ID == "replan.lot" })
				if len(l.Lots) == 0 {
					if !told && mean == 0 {
						scattered++
					}
					if l.Answer != without[i].Answer || len(l.Offers) != len(without[i].Offers) {
						t.Errorf("%s leg %s: no lot is told apart, and %s is answered instead of %s", name, l.Leg, l.Answer, without[i].Answer)
					}
					continue
				}
				of := l.Lots[0]
				if len(of.By) != of.Units || of.Units < 2 || !told {
					t.Errorf("%s leg %s: lot %+v, told %t", name, l.Leg, of, told)
				}
				lot := measure.Length(of.Mean)
				if l.Answer == planner.AsPlanned && len(l.Offers) == 0 {
					stayed++
				}
				for _, o := range l.Offers {
					changed++
					gapsLess(t, fmt.Sprintf("%s leg %s, %d set, offer %d, mean %s", name, l.Leg, l.Set, o.Number, lot), o, joints)
				}
			}
		}
	}
	t.Logf("%d legs stayed as planned, %d offers with other gaps or pieces, %d legs whose lot scatters", stayed, changed, scattered)
	if stayed < 5 || changed < 5 || scattered < 5 {
		t.Error("too few to say anything")
	}
}

// gapsLess holds the gaps that an offer tells against the windows of their joints.
func gapsLess(t *testing.T, what string, o planner.Offer, joints map[string]planner.Joint) {
	t.Helper()
	for _, g := range o.Gaps {
		j, ok := joints[g.Joint]
		if !ok {
			before, behind, _ := strings.Cut(g.Joint, "/")
			j = joints[behind+"/"+before]
		}
		if g.Gap < j.GapMin || g.Gap > j.GapMax {
			t.Errorf("%s: %s is held at %v, it may be %v to %v", what, g.Joint, g.Gap, j.GapMin, j.GapMax)
		}
	}
}

// Where no layout has every joint within its window with what a lot adds, as on a curve, a leg that can be laid as on paper is, and that is
// said; it is never called impossible for its lot alone.
func TestALotAloneIsNeverImpossible(t *testing.T) {
	d, err := demo.Surveyed("tram-depot")
	if err != nil {
		t.Fatal(err)
	}
	plan, answers := planner.Ask(d.Job, d.Surfaces...)
	units := map[string]planner.Unit{}
	for _, u := range plan.Units {
		units[u.Mark] = u
	}
	onPaper := 0
	for _, mean := range []measure.Length{-7 * mm, -5 * mm, 5 * mm, 5100 * measure.Micrometre, 9 * mm} {
		s, bare := &site{run: plan.Places(), plan: plan}, &site{run: plan.Places(), plan: plan}
		for _, l := range s.run.Legs {
			places := s.laid(l.ID)
			for k, place := range places[:min(7, len(places)-1)] {
				for _, to := range []*site{s, bare} {
					says := fmt.Sprintf(`{"within":true,"batch":"L1","off":[{"place":%q,"by":"0 mm"}]`, place)
					if u := units[place]; to == s && !u.Cut {
						says += fmt.Sprintf(`,"measure":%q`, measure.Length(u.Stock)+mean+[]measure.Length{-mm / 4, mm / 4}[k%2])
					}
					rec := recordOf(len(to.book)+1, place, "", field.SetSays{})
					rec.Says = []byte(says + "}")
					to.book = append(to.book, rec)
				}
			}
		}
		legs, without := answers.Replan(s.state()), answers.Replan(bare.state())
		for i, l := range legs {
			if l.Answer == planner.NoAnswer && without[i].Answer != planner.NoAnswer {
				t.Errorf("leg %s, units %v longer: %s; as on paper: %s", l.Leg, mean, l.Answer, without[i].Answer)
			}
			if slices.ContainsFunc(l.Findings, func(f finding.Finding) bool {
				return f.ID == "replan.lot" && strings.Contains(f.Text, "no layout from here")
			}) {
				if onPaper++; l.Answer != without[i].Answer {
					t.Errorf("leg %s, units %v longer: %s, said to be as on paper: %s", l.Leg, mean, l.Answer, without[i].Answer)
				}
			}
		}
	}
	if onPaper == 0 {
		t.Error("no leg had to be planned as on paper: too little to say anything")
	}
}
