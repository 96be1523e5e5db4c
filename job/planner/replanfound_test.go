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
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/tools/seed"
)

// A service that a person says is a planned one takes that one's place: the answers say which record says so, and once one is taken the
// job has it once, under the planned one's id; no joint to come stands over it; the same records then change nothing. Where it was
// planned a joint may stand: over some seeds one does.
func TestFoundTakesThePlaceOfPlanned(t *testing.T) {
	seed := seed.Of(t)
	r := rand.New(rand.NewPCG(seed, 11))
	took, gone := 0, 0
	for _, name := range demo.Names() {
		d, err := demo.Surveyed(name)
		if err != nil {
			t.Fatal(err)
		}
		plan, answers := planner.Ask(d.Job, d.Surfaces...)
		for li, l := range d.Job.Route.Legs {
			for _, v := range l.Services {
				for range 4 {
					s := &site{run: plan.Places(), plan: plan}
					if n := r.IntN(len(s.run.Legs[li].Units)); n > 0 {
						s.set(l.ID, n, measure.Length(r.IntN(9)-4)*mm)
					}
					at := max(v.At+measure.Length(r.IntN(1601)-800)*mm, 0)
					says := fmt.Sprintf(`{"name":"%s","met":true,"leg":%q,"at":%q,"depth":"below the bed","planned":%q}`, v.Name, l.ID, at, v.ID)
					away := r.IntN(4) == 0
					if away {
						says = strings.Replace(says, `"planned"`, `"width":"0 mm","keep":"0 mm","planned"`, 1)
					}
					s.book = append(s.book, field.Record{ID: field.ULID(900, [10]byte{9}), Device: "d", Number: 900, Person: "p", Kind: field.Service, Says: []byte(says)})
					legs := answers.Replan(s.state())
					i := slices.IndexFunc(legs, func(r planner.LegReplan) bool { return r.Leg == l.ID })
					if len(legs[i].Offers) == 0 {
						continue
					}
					n := 1 + r.IntN(len(legs[i].Offers))
					o := legs[i].Offers[n-1]
					if len(o.Moved) == 0 { // both places lie behind what is set
						continue
					}
					what := fmt.Sprintf("%s leg %s, %s from %s to %s, %d set, offer %d", name, l.ID, v.ID, v.At, at, legs[i].Set, n)
					if m := o.Moved[0]; m.ID != v.ID || m.Record != s.book[len(s.book)-1].ID || m.Gone != away || measure.Length(m.Was) != v.At || !away && measure.Length(m.Now) != at {
						t.Fatalf("%s: %+v", what, m)
					}
					j, err := planner.Take(d.Job, legs, map[string]int{l.ID: n})
					if err != nil {
						t.Fatal(err)
					}
					if f := job.Faults(j); len(f) > 0 {
						t.Fatalf("%s: %v", what, f[0])
					}
					took++
					of := slices.DeleteFunc(slices.Clone(j.Route.Legs[li].Services), func(o job.Service) bool { return o.ID != v.ID })
					switch {
					case away:
						if gone++; len(of) > 0 {
							t.Errorf("%s: it is there no more, and the job has it", what)
						}
					case len(of) != 1 || of[0].At != at || of[0].Width != v.Width || of[0].Clear != v.Clear || of[0].Skew != v.Skew:
						t.Errorf("%s: the job has %+v", what, of)
					}
					now, after := planner.Ask(j, d.Surfaces...)
					if after == nil {
						t.Fatalf("%s: nothing can be planned any more: %v", what, now.Findings)
					}
					for _, f := range now.Findings {
						if f.Where.Leg == l.ID && (f.Kind == finding.Impossible || f.ID == "planner.built-rest") {
							t.Errorf("%s: %s", what, f.Text)
						}
					}
					lies := map[string]bool{}
					for _, u := range now.Units {
						lies[u.Mark] = u.Lies
					}
					for _, x := range now.Services {
						if x.ID != v.ID || x.Leg != l.ID {
							continue
						}
						for _, k := range now.Joints {
							before, behind, _ := strings.Cut(k.Name, "/")
							from, to := after.On(li, measure.Length(x.Free[0])), after.On(li, measure.Length(x.Free[1]))
							if k.Leg == l.ID && !lies[before] && !lies[behind] && measure.Length(k.At-k.Gap) < to-1 && measure.Length(k.At) > from+1 {
								t.Errorf("%s: joint %s stands over it", what, k.Name)
							}
						}
					}
					again := after.Replan((&site{run: now.Places(), plan: now, book: s.book}).state())
					if a := again[i].Answer; a != planner.AsPlanned && a != planner.NotBegun || len(again[i].Offers) > 0 {
						t.Errorf("%s: taken, and the same records say %s, %d offers", what, a, len(again[i].Offers))
					}
				}
			}
		}
	}
	t.Logf("%d taken, %d of them of what was diverted", took, gone)
	if took < 6 {
		t.Error("too few to say anything")
	}
}

// A service that an answer was taken for goes on being looked at: once its owner has moved it joints may stand there again, though it lies
// under what is set and only its distance reaches ahead; and where it turns out to lie in the way of a unit, that stops.
func TestAFoundServiceIsNotForgottenOnceTaken(t *testing.T) {
	d, err := demo.Surveyed("battery-yard")
	if err != nil {
		t.Fatal(err)
	}
	plan, answers := planner.Ask(d.Job, d.Surfaces...)
	const leg = "B"
	li := slices.IndexFunc(plan.Legs, func(l planner.Leg) bool { return l.Name == leg })
	s := &site{run: plan.Places(), plan: plan}
	found := func(n int, at measure.Length, depth, width, keep string) {
		says := fmt.Sprintf(`{"name":"old duct","met":true,"leg":%q,"at":%q,"depth":%q,"width":%q,"keep":%q}`, leg, at, depth, width, keep)
		r := field.Record{ID: field.ULID(int64(900+n), [10]byte{9, byte(n)}), Device: "d", Number: 900 + n, Person: "p", Kind: field.Service, Says: []byte(says)}
		for _, old := range s.book {
			if old.Kind == field.Service {
				r.After = append(r.After, old.ID)
			}
		}
		s.book = append(s.book, r)
	}
	joint := plan.Joints[slices.IndexFunc(plan.Joints, func(j planner.Joint) bool { return j.Leg == leg })]
	at := measure.Length(plan.SetOut[slices.IndexFunc(plan.SetOut, func(r planner.SetOut) bool { return r.Place == joint.Name })].Chainage) + 40*mm
	found(1, at, "in bed or pad", "60 mm", "150 mm")
	legs := answers.Replan(s.state())
	if len(legs[li].Offers) == 0 {
		t.Fatalf("leg %s over a service: %s", leg, legs[li].Answer)
	}
	j, err := planner.Take(d.Job, legs, map[string]int{leg: 1})
	if err != nil {
		t.Fatal(err)
	}
	now, after := planner.Ask(j, d.Surfaces...)
	s.run, s.plan = now.Places(), now
	free := func() planner.LegReplan { return after.Replan(s.state())[li] }
	if r := free(); len(r.Offers) > 0 && len(r.Offers[0].Moved) > 0 {
		t.Errorf("the same record as when it was taken: %+v", r.Offers[0].Moved)
	}
	found(2, at, "in the unit's envelope", "60 mm", "150 mm")
	if r := free(); r.Answer != planner.Stopped {
		t.Errorf("it lies in the way of a unit after all: %s", r.Answer)
	}
	s.set(leg, 1, 0)
	found(3, at, "below the bed", "0 mm", "0 mm")
	r := free()
	if len(r.Offers) == 0 || len(r.Offers[0].Moved) != 1 || !r.Offers[0].Moved[0].Gone {
		t.Errorf("its owner moved it: %s %+v", r.Answer, r.Offers)
	}
}
