package planner_test

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"regexp"
	"slices"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/job/planner/plancheck"
	"trenchwright/tools/seed"
)

// What lies keeps its levels to the nanometre, on every leg, whichever answers are taken and however often; what is to come has levels
// that hold all limits, by the checker apart.
func TestWhatLiesKeepsItsLevels(t *testing.T) {
	seed := seed.Of(t)
	r := rand.New(rand.NewPCG(seed, 5))
	places, answers := 0, 0
	for _, name := range demo.Names() {
		d, err := demo.Surveyed(name)
		if err != nil {
			t.Fatal(err)
		}
		for range 3 {
			was := d.Job
			plan, ask := planner.Ask(was, d.Surfaces...)
			s := &site{run: plan.Places(), plan: plan}
			for range 3 {
				s.layMore(r)
				legs := ask.Replan(s.state())
				take := map[string]int{}
				for _, l := range legs {
					if n := len(l.Offers); n > 0 && r.IntN(2) == 0 {
						take[l.Leg] = 1 + r.IntN(n)
					}
				}
				if len(take) == 0 {
					continue
				}
				answers += len(take)
				j, err := planner.Take(was, legs, take)
				if err != nil {
					t.Fatal(err)
				}
				if f := job.Faults(j); len(f) > 0 {
					t.Fatalf("%s: what was taken is no job: %v", name, f[0])
				}
				now, after := planner.Ask(j, d.Surfaces...)
				if after == nil {
					t.Fatalf("%s: nothing can be planned once %v is taken: %v", name, take, now.Findings)
				}
				n, moved := s.sameLevels(now.Places())
				if places += n; len(moved) > 0 {
					t.Errorf("%s: once %v is taken %d of %d places that lie have other levels: %s", name, take, len(moved), n, moved[0])
				}
				for _, f := range now.Findings {
					if slices.Contains([]string{"planner.levels", "planner.unsettled", "planner.pin-lies"}, f.ID) || f.Kind == finding.Fault {
						t.Errorf("%s: once %v is taken: %s", name, take, f.Text)
					}
				}
				checkedApart(t, name, now, j)
				was, plan, ask = j, now, after
				s = &site{run: plan.Places(), plan: plan, book: s.book}
			}
		}
	}
	t.Logf("%d answers, %d places that lay held against their levels before", answers, places)
	if answers < 10 || places < 100 {
		t.Error("too few to say anything")
	}
}

// layMore has some more units of every leg lie, the last of them off its place.
func (s *site) layMore(r *rand.Rand) {
	state := s.state()
	for i, l := range s.run.Legs {
		lies := 0
		for _, u := range state.Legs[i].Units {
			if u.Set.Is == field.Yes {
				lies++
			}
		}
		if n := len(l.Units); n > 2 && lies < n-1 && r.IntN(3) > 0 {
			s.set(l.ID, lies+1+r.IntN(min(n-1-lies, n/3+1)), measure.Length(r.IntN(25)-12)*mm)
		}
	}
}

// sameLevels holds the levels of what lies against another plan, counts the places and says which moved.
func (s *site) sameLevels(is *field.Run) (n int, moved []string) {
	now := map[string][]field.Planned{}
	for _, l := range is.Legs {
		for _, u := range l.Units {
			now[u.Place] = u.Levels
		}
	}
	state := s.state()
	for i, l := range s.run.Legs {
		for k, u := range l.Units {
			if state.Legs[i].Units[k].Set.Is != field.Yes {
				continue
			}
			n++
			if got := now[u.Place]; len(u.Levels) == 0 || !slices.EqualFunc(u.Levels, got, func(a, b field.Planned) bool { return a.Of == b.Of && a.Four == b.Four }) {
				moved = append(moved, fmt.Sprintf("%s, from %v to %v", u.Place, u.Levels, got))
			}
		}
	}
	return n, moved
}

// checkedApart has the checker that knows plan.json alone look at the levels of a plan. What lies elsewhere than planned passes what it
// asks of places and gaps.
func checkedApart(t *testing.T, name string, p planner.Plan, j job.Job) {
	t.Helper()
	text, err := json.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	declared, err := json.Marshal(j)
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range plancheck.Check(text, declared) {
		if regexp.MustCompile(`^set-out .*(level|wall|grade|lies at|water|cover|pad|formation|invert|unit before)|: (it|the grade|a grade|the run|the change|a change|it rises|pin|its wall)[^;]* (grade|fall|rises|steeper|level|wall top)`).MatchString(line) {
			t.Errorf("%s: %s", name, line)
		}
	}
}
