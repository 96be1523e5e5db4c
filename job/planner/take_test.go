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

// What is taken is what the plan has: the units of the offer under their names, with a proof; the same records then change nothing. A
// second answer, taken further on, gives no name again that was withdrawn or is in use.
func TestTakenIsThePlan(t *testing.T) {
	seed := seed.Of(t)
	r := rand.New(rand.NewPCG(seed, 1))
	took, others, twice := 0, 0, 0
	for _, name := range demo.Names() {
		d, err := demo.Surveyed(name)
		if err != nil {
			t.Fatal(err)
		}
		was := d.Job
		plan, answers := planner.Ask(was, d.Surfaces...)
		for round := 0; round < 2 || round < 8 && others < 3; round++ { // where little was off, once more
			s := &site{run: plan.Places(), plan: plan}
			for _, l := range s.run.Legs {
				if n := len(l.Units); n > 2 {
					s.set(l.ID, 1+r.IntN(n-1), measure.Length(r.IntN(41)-20)*mm)
				}
			}
			legs := answers.Replan(s.state())
			take := map[string]int{}
			for _, l := range legs {
				if n := len(l.Offers); n > 0 {
					take[l.Leg] = 1 + r.IntN(n)
				}
			}
			j, err := planner.Take(was, legs, take)
			if err != nil {
				t.Fatal(err)
			}
			if f := job.Faults(j); len(f) > 0 {
				t.Fatalf("%s: what was taken is no job: %v", name, f[0])
			}
			old := names(plan)
			now, after := planner.Ask(j, d.Surfaces...)
			if after == nil {
				t.Fatalf("%s: nothing can be planned once %v is taken: %v", name, take, now.Findings)
			}
			for _, l := range legs {
				if n := take[l.Leg]; n > 0 {
					took++
					if o := l.Offers[n-1]; o.Changed > 0 {
						others++
						if round > 0 {
							twice++
						}
					}
					holdsOffer(t, fmt.Sprintf("%s leg %s, %d of %d set, offer %d of seed %d", name, l.Leg, l.Set, l.Units, n, seed), now, l.Offers[n-1], l, old)
				}
			}
			again := after.Replan((&site{run: now.Places(), plan: now, book: s.book}).state())
			for i, l := range again {
				if take[l.Leg] > 0 && (l.Answer != planner.AsPlanned || l.Set != legs[i].Set) {
					t.Errorf("%s leg %s: taken (%s, %v off), and the same records say %s with %d set, %v gaps, %v pieces", name, l.Leg, legs[i].Answer, legs[i].Off, l.Answer, l.Set, l.Gaps, l.Pieces)
				}
			}
			was, plan, answers = j, now, after
		}
	}
	t.Logf("%d taken, %d with other pieces, %d of those a second time", took, others, twice)
	if took < 10 || others < 3 {
		t.Error("too few to say anything")
	}
}

// site is a run with what is recorded of it.
type site struct {
	run  *field.Run
	plan planner.Plan
	book []field.Record
}

func (s *site) state() field.State {
	b := field.NewBook(s.run)
	b.Add(s.book...)
	return b.State("")
}

// set records that the first n units of a leg are set, the last of them off by so much.
func (s *site) set(leg string, n int, off measure.Length) {
	i := slices.IndexFunc(s.run.Legs, func(l field.Leg) bool { return l.ID == leg })
	units := s.run.Legs[i].Units
	from, to, last := units[0].Place, units[n-1].Place, units[n-1].Place
	if l := s.plan.Legs[i]; l.LaidFrom == l.To && l.To != l.From {
		units = units[len(units)-n:]
		from, to, last = units[0].Place, units[n-1].Place, units[0].Place
	}
	says := field.SetSays{Within: true}
	if off != 0 {
		says.Off = []field.Off{{Place: last, By: off}}
	}
	s.book = append(s.book, recordOf(len(s.book)+1, from, to, says))
}

func names(p planner.Plan) map[string]bool {
	out := map[string]bool{}
	for _, u := range p.Units {
		out[u.Mark] = true
	}
	return out
}

func holdsOffer(t *testing.T, what string, p planner.Plan, o planner.Offer, l planner.LegReplan, old map[string]bool) {
	t.Helper()
	var want, got []brick
	withdrawn := map[string]bool{}
	for _, w := range o.Built.Withdrawn {
		withdrawn[w] = true
	}
	for _, c := range o.Built.Courses {
		places, _ := c.Places()
		for k, name := range places {
			want = append(want, brick{name, measure.MM(c.Length), measure.MM(c.Start + measure.Length(k)*c.Pitch)})
			if withdrawn[name] {
				t.Errorf("%s: %s is laid and withdrawn", what, name)
			}
			if stem := strings.TrimRight(name, "ABCDEFGHIJKLMNOPQRSTUVWXYZ"); !old[name] && stem == name {
				t.Errorf("%s: %s was no place before, and is no insertion", what, name)
			}
		}
	}
	var length measure.MM
	back := false
	const near = measure.MM(50 * measure.Micrometre) // a leg settles by less when its levels are solved again
	for _, leg := range p.Legs {
		if leg.Name == l.Leg {
			length, back = leg.ClearLength, leg.LaidFrom == leg.To && leg.To != leg.From
		}
	}
	end := map[string]measure.MM{}
	for _, x := range p.Joints {
		before, _, _ := strings.Cut(x.Name, "/")
		end[before] = x.At - x.Gap
	}
	lies := 0
	for _, u := range p.Units {
		if u.Leg != l.Leg {
			continue
		}
		if u.Lies {
			lies++
		}
		start := u.Start
		if back {
			e, ok := end[u.Mark]
			if !ok {
				e = u.Start + u.Length
			}
			start = length - e
		}
		got = append(got, brick{u.Mark, u.Length, start})
	}
	if back {
		slices.Reverse(got)
	}
	if len(want) != len(got) {
		t.Errorf("%s: taken were %d units, planned are %d", what, len(want), len(got))
		return
	}
	for i, w := range want {
		if g := got[i]; g.name != w.name || measure.Length(g.length-w.length).Abs() > measure.Length(near) || measure.Length(g.start-w.start).Abs() > measure.Length(near) {
			t.Errorf("%s: taken was %+v, planned is %+v", what, w, g)
			break
		}
	}
	if lies != l.Set {
		t.Errorf("%s: %d lie", what, lies)
	}
	for _, proof := range p.Proof.Legs {
		if proof.Leg == l.Leg && !proof.Verified {
			t.Errorf("%s: %s: %v", what, proof.Claim, proof.CheckerSay)
		}
	}
	for _, f := range p.Findings {
		if f.Where.Leg == l.Leg && (f.Kind == finding.Fault || f.Kind == finding.Impossible || f.ID == "planner.built-rest") {
			t.Errorf("%s: %s", what, f.Text)
		}
	}
}

type brick struct {
	name          string
	length, start measure.MM
}

// An answer that is taken for one leg leaves every other as it was planned: whether something lies on it or not, its pieces, their covers
// and their places stay.
func TestOtherLegsStayAsTheyAre(t *testing.T) {
	for _, name := range demo.Names() {
		d, err := demo.Surveyed(name)
		if err != nil {
			t.Fatal(err)
		}
		plan, answers := planner.Ask(d.Job)
		run := plan.Places()
		for i, l := range run.Legs {
			if len(l.Units) < 3 {
				continue
			}
			s := &site{run: run, plan: plan}
			s.set(l.ID, len(l.Units)-2, 17*mm)
			if k := (i + 1) % len(run.Legs); len(run.Legs[k].Units) > 2 {
				s.set(run.Legs[k].ID, 2, 2*mm)
			}
			legs := answers.Replan(s.state())
			if len(legs[i].Offers) == 0 {
				continue
			}
			j, err := planner.Take(d.Job, legs, map[string]int{l.ID: 1})
			if err != nil {
				t.Fatal(err)
			}
			if f := job.Faults(j); len(f) > 0 {
				t.Fatalf("%s: %v", name, f[0])
			}
			now, _ := planner.Ask(j)
			if was, is := others(plan, l.ID), others(now, l.ID); !slices.Equal(was, is) {
				t.Errorf("%s: an answer for leg %s changed others:\n%v\n%v", name, l.ID, was, is)
			}
		}
	}
}

// others are the pieces and covers of all legs but one, with their places.
func others(p planner.Plan, leg string) []string {
	var list []string
	for _, u := range p.Units {
		if u.Leg != leg {
			list = append(list, fmt.Sprint(u.Mark, u.Start, u.Length, u.Cut, u.StartAngle, u.EndAngle))
			for _, c := range p.Covers {
				if c.Unit == u.Mark {
					list = append(list, fmt.Sprint(c.Mark, c.Start, c.Length, c.Cut))
				}
			}
		}
	}
	return list
}

// A service that is found under a joint of a leg on which nothing lies yet is planned round all the same; under none, nothing changes.
func TestServiceFoundBeforeALegIsBegun(t *testing.T) {
	d, err := demo.Surveyed("tram-depot")
	if err != nil {
		t.Fatal(err)
	}
	plan, answers := planner.Ask(d.Job)
	for _, c := range []struct {
		at      measure.Length
		changes bool
	}{{7535 * mm, true}, {9050 * mm, false}} {
		b := field.NewBook(plan.Places())
		b.Add(field.Record{ID: field.ULID(1, [10]byte{1}), Device: "d", Number: 1, Person: "p", Kind: field.Service,
			Says: fmt.Appendf(nil, `{"name":"cable","met":true,"leg":"A","at":%q,"width":"80 mm","keep":"120 mm","depth":"below the bed"}`, c.at)})
		legs := answers.Replan(b.State(""))
		i := slices.IndexFunc(legs, func(l planner.LegReplan) bool { return l.Leg == "A" })
		r := legs[i]
		if begun := len(r.Offers) > 0; begun != c.changes || !c.changes && r.Answer != planner.NotBegun {
			t.Fatalf("at %s: %s, %d offers", c.at, r.Answer, len(r.Offers))
		}
		if !c.changes {
			continue
		}
		for n := range r.Offers {
			j, err := planner.Take(d.Job, legs, map[string]int{"A": n + 1})
			if err != nil {
				t.Fatal(err)
			}
			if f := job.Faults(j); len(f) > 0 {
				t.Fatal(f[0])
			}
			now, _ := planner.Ask(j)
			on := now.Legs[0].StartSetback
			for _, x := range now.Joints {
				if from, to := x.At-x.Gap+on, x.At+on; x.Leg == "A" && from < measure.MM(c.at+160*mm) && to > measure.MM(c.at-160*mm) {
					t.Errorf("offer %d: joint %s stands over the cable", n+1, x.Name)
				}
			}
			if k := slices.IndexFunc(now.Legs[0:1], func(l planner.Leg) bool { return l.Verdict == "found" }); k < 0 {
				t.Errorf("offer %d: %s", n+1, now.Legs[0].Why)
			}
			if f := slices.IndexFunc(now.Findings, func(f finding.Finding) bool { return f.ID == "planner.built-rest" }); f >= 0 {
				t.Errorf("offer %d: %s", n+1, now.Findings[f].Text)
			}
		}
	}
}
