package planner_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/tools/seed"
)

// Where gangs meet: with units set from the start of a leg, others beyond a gap or two, ends off their places and walls measured, every
// answer that is told can be taken; the plan then has what lies where it was measured, joints between within their windows and a proof,
// and the same records change nothing. Where nothing can be closed, the finding says how much is clear.
func TestGangsMeet(t *testing.T) {
	seed := seed.Of(t)
	r := rand.New(rand.NewPCG(seed, 13))
	took, none, skewed, walls := 0, 0, 0, 0
	for _, name := range demo.Names() {
		d, err := demo.Surveyed(name)
		if err != nil {
			t.Fatal(err)
		}
		plan, answers := planner.Ask(d.Job, d.Surfaces...)
		for range 6 {
			s := &site{run: plan.Places(), plan: plan}
			for _, l := range s.run.Legs {
				n := len(l.Units)
				if n < 3 {
					continue
				}
				first := r.IntN(n - 2)
				if first > 0 {
					s.set(l.ID, first, measure.Length(r.IntN(13)-6)*mm)
				}
				from := first + 1 + r.IntN(n-first-1)
				s.between(l.ID, from, from+r.IntN(n-from)+1, measure.Length(r.IntN(13)-6)*mm)
				if first > 0 && r.IntN(3) == 0 {
					s.clear(l.ID, first-1, from, measure.Length(r.IntN(9)-4)*mm, measure.Length(r.IntN(13)-6)*mm)
				}
			}
			legs := answers.Replan(s.state())
			take := map[string]int{}
			for _, l := range legs {
				if len(l.Meets) == 0 {
					continue
				}
				if n := len(l.Offers); n > 0 {
					take[l.Leg] = 1 + r.IntN(n)
				}
				if l.Answer == planner.NoAnswer {
					if none++; !slices.ContainsFunc(l.Findings, func(f finding.Finding) bool { return f.Kind == finding.Impossible }) {
						t.Errorf("%s leg %s: no answer, and nothing says why", name, l.Leg)
					}
				}
				for _, o := range l.Offers {
					for _, c := range o.Closes {
						m := l.Meets[slices.IndexFunc(l.Meets, func(m planner.Meeting) bool { return m.Behind == c.Behind })]
						if m.Left == nil {
							continue
						}
						walls++
						if c.Left != c.Right {
							if skewed++; measure.Length(c.Left-c.Right-(*m.Left-*m.Right)).Abs() > 2 || measure.Length(c.Left+c.Right-2*c.Length).Abs() > 2 {
								t.Errorf("%s leg %s: walls %v and %v clear, closed by %+v", name, l.Leg, *m.Left, *m.Right, c)
							}
						}
					}
				}
			}
			j, err := planner.Take(d.Job, legs, take)
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
			for _, l := range legs {
				n := take[l.Leg]
				if n == 0 {
					continue
				}
				took++
				l.Set += len(l.Apart)
				holdsOffer(t, fmt.Sprintf("%s leg %s, %d set, beyond gaps %v, offer %d of seed %d", name, l.Leg, l.Set, l.Apart, n, seed), now, l.Offers[n-1], l, names(plan))
			}
			again := after.Replan((&site{run: now.Places(), plan: now, book: s.book}).state())
			for i, l := range again {
				if take[l.Leg] > 0 && l.Answer != planner.AsPlanned && l.Answer != planner.NotBegun {
					t.Errorf("%s leg %s: taken (%s), and the same records say %s, %v gaps, %v pieces", name, l.Leg, legs[i].Answer, l.Answer, l.Gaps, l.Pieces)
				}
			}
		}
	}
	t.Logf("%d taken, %d legs cannot be closed, %d closings with walls, %d of them askew", took, none, walls, skewed)
	if took < 10 || none == 0 || walls == 0 {
		t.Error("too few to say anything")
	}
}

// A unit beyond a gap of which both faces were measured lies between them, also where that is not the length that it was made: what
// follows goes on from the face that was measured, once the answer is taken and ever after.
func TestBothFacesMeasured(t *testing.T) {
	seen := 0
	for _, name := range demo.Names() {
		d, err := demo.Surveyed(name)
		if err != nil {
			t.Fatal(err)
		}
		plan, answers := planner.Ask(d.Job, d.Surfaces...)
		for _, l := range plan.Places().Legs {
			if len(l.Units) < 8 {
				continue
			}
			s := &site{run: plan.Places(), plan: plan}
			s.set(l.ID, 3, 0)
			s.clear(l.ID, 2, 5, 2*mm, 0)
			s.between(l.ID, 5, 6, -2*mm)
			legs := answers.Replan(s.state())
			i := slices.IndexFunc(legs, func(r planner.LegReplan) bool { return r.Leg == l.ID })
			if len(legs[i].Offers) == 0 {
				continue
			}
			seen++
			o, lies := legs[i].Offers[0], legs[i].Offers[0].Built.Beyond
			if len(lies) != 1 || lies[0].End == 0 {
				t.Errorf("%s leg %s: the measured end of %s is not kept: %+v", name, l.ID, s.laid(l.ID)[5], lies)
				continue
			}
			j, err := planner.Take(d.Job, legs, map[string]int{l.ID: 1})
			if err != nil {
				t.Fatal(err)
			}
			now, after := planner.Ask(j, d.Surfaces...)
			legs[i].Set += len(legs[i].Apart)
			holdsOffer(t, name+" leg "+l.ID, now, o, legs[i], names(plan))
			if again := after.Replan((&site{run: now.Places(), plan: now, book: s.book}).state()); again[i].Answer != planner.AsPlanned {
				t.Errorf("%s leg %s: the same records say %s", name, l.ID, again[i].Answer)
			}
		}
	}
	if t.Logf("%d legs", seen); seen < 5 {
		t.Error("too few to say anything")
	}
}

// laid are the places of a leg in the order that they are laid in.
func (s *site) laid(leg string) []string {
	i := slices.IndexFunc(s.run.Legs, func(l field.Leg) bool { return l.ID == leg })
	var out []string
	for _, u := range s.run.Legs[i].Units {
		out = append(out, u.Place)
	}
	if l := s.plan.Legs[i]; l.LaidFrom == l.To && l.To != l.From {
		slices.Reverse(out)
	}
	return out
}

// between records that units from one to another, in laying order, are set, all of them off by so much.
func (s *site) between(leg string, from, to int, off measure.Length) {
	for _, place := range s.laid(leg)[from:to] {
		says := field.SetSays{Within: true}
		if off != 0 {
			says.Off = []field.Off{{Place: place, By: off}}
		}
		s.book = append(s.book, recordOf(len(s.book)+1, place, "", says))
	}
}

// clear records what is clear behind a unit, up to another, as drawn and so much more, and the left wall's more than the right's.
func (s *site) clear(leg string, after, before int, more, skew measure.Length) {
	places := s.laid(leg)
	joints, units := map[string]planner.Joint{}, map[string]planner.Unit{}
	for _, j := range s.plan.Joints {
		joints[j.Name] = j
	}
	for _, u := range s.plan.Units {
		units[u.Mark] = u
	}
	var drawn measure.MM
	for k := after; k < before; k++ {
		j, ok := joints[places[k]+"/"+places[k+1]]
		if !ok {
			j = joints[places[k+1]+"/"+places[k]]
		}
		if drawn += j.Gap; k > after {
			drawn += units[places[k]].Length
		}
	}
	left, right := measure.Length(drawn)+more+skew/2, measure.Length(drawn)+more-skew/2
	r := recordOf(len(s.book)+1, places[after], "", field.SetSays{})
	r.Kind, r.Says = field.Gap, fmt.Appendf(nil, `{"left":%q,"right":%q}`, left, right)
	s.book = append(s.book, r)
}
