package planner_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/tools/seed"
)

// Offcuts that lie in the yard do for pieces to come before whole units are opened: with them no more whole units are asked for than
// without; each serves within its length and once; and once an answer is taken the plan cuts those pieces from them, while what every
// piece that lies was cut from stays what it was.
func TestOffcutsServeWhatIsToCome(t *testing.T) {
	seed := seed.Of(t)
	r := rand.New(rand.NewPCG(seed, 23))
	served, took, lay := 0, 0, 0
	for _, name := range demo.Names() {
		d, err := demo.Surveyed(name)
		if err != nil {
			t.Fatal(err)
		}
		plan, answers := planner.Ask(d.Job, d.Surfaces...)
		for round := range 4 {
			s := &site{run: plan.Places(), plan: plan}
			for _, l := range s.run.Legs {
				if n := len(l.Units); n > 2 {
					s.set(l.ID, 1+r.IntN(n-1), measure.Length(r.IntN(41)-20)*mm)
				}
			}
			counted := func(with bool) []field.Record {
				var lines []string
				for i, made := range d.Job.Supplies {
					long := slices.Max(made.Unit.Lengths.Value)
					lines = append(lines, fmt.Sprintf(`{"supply":%q,"what":"unit","length":%q,"count":3}`, made.ID, long))
					for k := range 3 {
						if length := long * measure.Length(40+r.IntN(55)) / 100; with {
							lines = append(lines, fmt.Sprintf(`{"supply":%q,"what":"unit","length":%q,"mark":"Z-00%d/a","count":1,"ends":[{"factory":true},{}]}`, made.ID, length, 10*i+k))
						}
					}
				}
				return append(slices.Clone(s.book), field.Record{ID: field.ULID(800, [10]byte{8}), Device: "d", Number: 800, Person: "p", Kind: field.Count, Says: []byte(`{"lines":[` + strings.Join(lines, ",") + `]}`)})
			}
			without := answers.Replan((&site{run: s.run, plan: plan, book: counted(false)}).state())
			book := counted(true)
			legs := answers.Replan((&site{run: s.run, plan: plan, book: book}).state())
			take := map[string]int{}
			for i, l := range legs {
				for k, o := range l.Offers {
					used := map[string]measure.MM{}
					for _, c := range o.Cut {
						served++
						if used[c.Of] += c.Length; used[c.Of] > c.Stock || c.Rest != strings.TrimSuffix(c.Of, "/a") {
							t.Errorf("%s leg %s: %+v", name, l.Leg, c)
						}
					}
					if len(o.Cut) > 0 && (!strings.Contains(o.CutText, "proven") || len(o.Yard) > len(used)) {
						t.Errorf("%s leg %s: %q, %d offcuts of %d go into the job", name, l.Leg, o.CutText, len(o.Yard), len(used))
					}
					if k < len(without[i].Offers) && without[i].Offers[k].Answer == o.Answer && whole(o) > whole(without[i].Offers[k]) {
						t.Errorf("%s leg %s: %d whole units with offcuts, %d without", name, l.Leg, whole(o), whole(without[i].Offers[k]))
					}
				}
				if n := len(l.Offers); n > 0 && (round%2 == 0 || len(take) == 0) {
					take[l.Leg] = 1 + r.IntN(n)
				}
			}
			once := map[string]bool{} // an offcut that two legs would take is there once
			for _, l := range legs {
				if n := take[l.Leg]; n > 0 && slices.ContainsFunc(l.Offers[n-1].Cut, func(c planner.CutOf) bool { return once[c.Of] }) {
					delete(take, l.Leg)
				} else if n > 0 {
					for _, c := range l.Offers[n-1].Cut {
						once[c.Of] = true
					}
				}
			}
			j, err := planner.Take(d.Job, legs, take)
			if err != nil {
				t.Fatal(err)
			}
			if f := job.Faults(j); len(f) > 0 {
				t.Fatalf("%s: %v", name, f[0])
			}
			now, after := planner.Ask(j, d.Surfaces...)
			if after == nil {
				t.Fatalf("%s: %v", name, now.Findings)
			}
			was := map[string]planner.Unit{}
			for _, u := range plan.Units {
				was[u.Mark] = u
			}
			of := map[string]string{}
			for _, l := range legs {
				if n := take[l.Leg]; n > 0 {
					for _, c := range l.Offers[n-1].Cut {
						of[c.Place] = c.Of
					}
				}
			}
			for _, u := range now.Units {
				if want := of[u.Mark]; want != "" {
					if took++; u.Piece == nil || u.Piece.CutFrom != want {
						t.Errorf("%s: %s is to be cut from %s, the plan has %+v", name, u.Mark, want, u.Piece)
					}
				}
				if old := was[u.Mark]; u.Lies && u.Cut && old.Piece != nil && !old.Hold {
					if lay++; u.Stock != old.Stock || strings.Contains(u.Piece.CutFrom, "/") != strings.Contains(old.Piece.CutFrom, "/") {
						t.Errorf("%s: %s lies, cut from %s of %v, and now from %s of %v", name, u.Mark, old.Piece.CutFrom, old.Stock, u.Piece.CutFrom, u.Stock)
					}
				}
			}
		}
	}
	t.Logf("%d pieces served by offcuts, %d of those taken, %d cut pieces lie", served, took, lay)
	if served < 5 || took == 0 || lay == 0 {
		t.Error("too few to say anything")
	}
}

// whole is how many whole units an offer asks for.
func whole(o planner.Offer) (n int) {
	for _, k := range o.Needs {
		n += k.Need
	}
	return n
}
