package building

import (
	"fmt"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/job/field"
	"trenchwright/job/planner"
)

// taken has a person take the first answer: the job says from then on what lies and what is to come, and the plan of that job is what
// everybody holds.
func (s *site) taken(l *leg, r *planner.LegReplan) error {
	j, err := planner.Take(s.job, s.legsAsked, map[string]int{l.id: 1})
	if err != nil {
		return err
	}
	plan, answers := planner.Ask(j, s.on.Surfaces...)
	if answers == nil {
		return fmt.Errorf("the job that was taken cannot be planned: %s", plan.Findings[0].Text)
	}
	o := &r.Offers[0]
	s.tell("Leg %s behind %s: %s was taken, %s changed.", l.id, r.Last, o.Answer, plural(o.Changed, "place"))
	s.counts.Taken++
	was := s.run
	s.job, s.plan, s.answers = j, plan, answers
	s.rebook()
	if moved := levelsMoved(s.knew, was, s.run); moved != "" {
		l.trouble = "since an answer was taken: " + moved
	}
	for _, n := range legsOf(Planned{Job: s.job, Plan: s.plan}) {
		for _, old := range s.legs {
			if old.id == n.id {
				s.replace(old, n)
			}
		}
	}
	l.asked = nil
	return nil
}

// levelsMoved says which place that was known to lie has another level planned than before, by however little; "": none.
func levelsMoved(knew field.State, was, is *field.Run) string {
	levels := func(run *field.Run) map[string][]field.Planned {
		out := map[string][]field.Planned{}
		for _, l := range run.Legs {
			for _, u := range l.Units {
				out[u.Place] = u.Levels
			}
		}
		return out
	}
	old, now := levels(was), levels(is)
	for _, l := range knew.Legs {
		for _, u := range l.Units {
			if u.Set.Is == field.Yes && !slices.EqualFunc(old[u.Place], now[u.Place], func(a, b field.Planned) bool { return a.Of == b.Of && a.Four == b.Four }) {
				return fmt.Sprintf("the levels of %s, which lies, were %v and are %v", u.Place, old[u.Place], now[u.Place])
			}
		}
	}
	return ""
}

// rebook has every device hold the places of the new plan.
func (s *site) rebook() {
	run := s.plan.Places()
	s.run = run
	s.asks = field.NewBook(run)
	for _, d := range s.devices {
		d.book = field.NewBook(run)
		for _, r := range s.server.records[:d.took] {
			if r.Device != d.name {
				d.book.Add(r)
			}
		}
		d.book.Add(d.wrote...)
	}
}

// replace gives a leg the places of the new plan. What lies there stays; what is to come is parted into the same stretches as far as
// it goes.
func (s *site) replace(l, now *leg) {
	old, places := l.places, now.places
	l.places, l.stations = places, now.stations
	for k := range l.laid {
		if k >= len(places) || places[k].name != l.laid[k].place || !same(&old[k], &places[k]) {
			l.trouble = "the plan of what lies is another one since an answer was taken: " + l.laid[k].place
		}
	}
	for k := range l.places {
		s.knows(&l.places[k])
	}
	s.bedsAgain(l)
	var kept []*stretch
	for i, x := range l.stretches {
		if i > 0 && x.from > len(l.places)-1 && x.stage <= toSet {
			continue
		}
		kept = append(kept, x)
	}
	l.stretches = kept
	l.stretches[len(kept)-1].to = len(l.places) - 1
}

// bedsAgain makes the beds and formations that nothing lies on yet once more, where their levels are other ones since an answer was
// taken.
func (s *site) bedsAgain(l *leg) {
	for k := len(l.laid); k < len(l.places); k++ {
		q := &l.places[k]
		for _, of := range []string{"formation", "bed", "pad"} {
			at := levelAt{q.name, of}
			t, made := l.levels[at]
			want, planned := q.levels[of]
			if !made || !planned || !apart(want, t.want, s.rod.plus) {
				continue
			}
			tolerance := s.job.Rules.BedTol.Value
			if of == "formation" {
				tolerance = s.job.Rules.FormationTol.Value
			}
			t.want = want
			for c := range t.lies {
				t.lies[c] = s.corner(tolerance) + s.bench.lie
			}
			s.shoot(l, at, t, "")
			s.counts.BedsAgain++
		}
	}
}

// apart tells whether two sets of levels differ by as much somewhere.
func apart(a, b [4]measure.Length, most measure.Length) bool {
	for c := range a {
		if (a[c] - b[c]).Abs() >= most {
			return true
		}
	}
	return false
}

// same tells whether two plans have the same piece at a place, with as many covers.
func same(a, b *place) bool {
	return (a.length-b.length).Abs() <= mm && a.cut == b.cut && len(a.covers) == len(b.covers)
}

// knows adds the pieces of a place to the kinds that are spoken of in the yard.
func (s *site) knows(q *place) {
	for _, p := range append([]field.Piece{q.piece()}, q.lids()...) {
		if !s.seen[p] {
			s.seen[p] = true
			s.kinds = append(s.kinds, p)
		}
	}
}
