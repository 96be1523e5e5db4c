package planner

import (
	"fmt"
	"maps"
	"slices"

	"trenchwright/job"
)

// Take is the job once a person took answers: by leg the number of an offer of Replan. What lies is in it as it was measured, with the
// rest as it was offered and what was found in the ground; the plan of that job is what was taken. It is no revision yet. The job itself
// is not touched. The error is a sentence for whoever asked.
func Take(j job.Job, legs []LegReplan, take map[string]int) (job.Job, error) {
	if len(j.Route.Walk) > 0 {
		j, _ = Declared(j)
	}
	j.Route.Legs = slices.Clone(j.Route.Legs)
	for _, id := range slices.Sorted(maps.Keys(take)) {
		n := take[id]
		i := slices.IndexFunc(legs, func(l LegReplan) bool { return folded(l.Leg) == folded(id) })
		at := slices.IndexFunc(j.Route.Legs, func(l job.Leg) bool { return folded(l.ID) == folded(id) })
		switch {
		case i < 0 || at < 0:
			return j, fmt.Errorf("there is no leg %s", id)
		case len(legs[i].Offers) == 0:
			return j, fmt.Errorf("leg %s has no answer to take: %s", legs[i].Leg, legs[i].Answer)
		case n < 1 || n > len(legs[i].Offers):
			return j, fmt.Errorf("leg %s has %s; %d is none of them", legs[i].Leg, plural(len(legs[i].Offers), "answer", "answers"), n)
		}
		o := legs[i].Offers[n-1]
		j.Route.Legs[at] = o.On(j.Route.Legs[at])
		j.Yard = append(slices.Clone(j.Yard), o.Yard...)
	}
	held(&j, legs, take)
	j.Revision = nil
	return j, nil
}

// held keeps every other leg as it was planned: people hold its lists, and an answer for one leg is none for another. What lies on any
// of them keeps its levels.
func held(j *job.Job, legs []LegReplan, take map[string]int) {
	if len(take) == 0 {
		return
	}
	for at := range j.Route.Legs {
		l := &j.Route.Legs[at]
		i := slices.IndexFunc(legs, func(r LegReplan) bool { return folded(r.Leg) == folded(l.ID) })
		if i < 0 {
			continue
		}
		made := legs[i].stays
		if l.Built != nil {
			made = l.Built
		}
		if made != nil {
			one := *made
			one.Bedded, l.Built = legs[i].bedded, &one
		}
	}
}

// On is a leg once an offer of it is taken. What was found where another service was planned stands in that one's place.
func (o Offer) On(l job.Leg) job.Leg {
	made := o.Built
	l.Built = &made
	l.Services = slices.DeleteFunc(slices.Clone(l.Services), func(v job.Service) bool {
		return slices.ContainsFunc(o.Moved, func(m ServiceMoved) bool { return folded(m.ID) == folded(v.ID) })
	})
	l.Services = append(l.Services, o.Services...)
	return l
}

// sawnWith are, for every cut place, the other places whose pieces come from the same unit.
func (p *Plan) sawnWith() map[string][]string {
	out := map[string][]string{}
	for _, c := range p.Cutting {
		if c.Of != "units" {
			continue
		}
		for _, pt := range c.Patterns {
			for i, one := range pt.Pieces {
				for k, other := range pt.Pieces {
					if i != k {
						out[one.Mark] = append(out[one.Mark], other.Mark)
					}
				}
			}
		}
	}
	return out
}

// sawnOf are, for every place whose piece is cut from an offcut of the yard, the mark of that.
func (p *Plan) sawnOf() map[string]string {
	out := map[string]string{}
	for _, c := range p.Cutting {
		for _, pt := range c.Patterns {
			for _, one := range pt.Pieces {
				if c.Of == "units" && pt.Offcut {
					out[one.Mark] = pt.Name
				}
			}
		}
	}
	return out
}
