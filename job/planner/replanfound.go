package planner

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/place/route"
	"trenchwright/solve/layout"
)

// Buried services that somebody found: ahead of what is set joints keep away from them. One that a person says is a planned one takes
// that one's place: where it was planned joints may stand again.

// ServiceMoved is a service of the plan that was found elsewhere; where it is there no more, Now and its zone are nought.
type ServiceMoved struct {
	ID     string     `json:"id"`
	Name   string     `json:"name"`
	Record string     `json:"record"` // that says so
	Was    measure.MM `json:"was_mm"` // chainage of its middle as planned
	Now    measure.MM `json:"now_mm"`
	Gone   bool       `json:"gone"` // it was diverted: joints keep no distance any more
}

// served takes up buried services that were found. One ahead in the unit's envelope, or of which nobody knows how deep it is, has no
// answer in the layout: stop.
func (a *Answers) served(h *ahead, r *LegReplan, s field.State, end measure.Length) (stop bool) {
	for n, v := range s.Services {
		if v.Leg != r.Leg {
			continue
		}
		i := slices.IndexFunc(h.leg.Services, func(o job.Service) bool { return o.Name == v.Name && o.At == v.At })
		if i >= 0 && as(&v, &h.leg.Services[i]) {
			continue // an answer that was taken has it in the job
		}
		planned := h.plannedOne(r, &v)
		if i >= 0 && planned == nil {
			planned = &h.leg.Services[i]
		}
		at, free := h.along(v.At)
		here := free && at >= end
		ahead := here
		if planned != nil && !ahead {
			was, open := h.along(planned.At)
			ahead = open && was+planned.Width/2+planned.Clear >= end // joints to come keep away from it still
		}
		if !ahead {
			continue // units lie there
		}
		where := finding.Where{Leg: r.Leg, Chainage: &v.At}
		switch {
		case here && (v.Depth == field.InEnvelope || v.Depth == field.NotKnown):
			stop = true
			r.Findings = append(r.Findings, finding.Finding{ID: "replan.service-in-the-way", Kind: finding.Impossible, Where: where,
				Text: fmt.Sprintf("%s was found %s: moving joints does not answer that.", v.Name, map[bool]string{true: "in the unit's envelope", false: "and nobody recorded how deep"}[v.Depth == field.InEnvelope]),
				Try:  "Stop here, tell its owner" + ownerOf(v.Owner) + ". Then: raise the run there, a shallower supply, or have it diverted."})
			continue
		case v.Width == nil || v.Keep == nil:
			r.Answer = CannotSay
			r.Findings = append(r.Findings, finding.NoneOnFile("width of "+v.Name+" and distance that joints keep from it", "its owner", where))
			continue
		}
		gone := *v.Width == 0 && *v.Keep == 0 // it was moved: joints keep no distance from it any more
		if planned != nil {
			h.instead(r, planned, &v, gone)
		}
		if gone {
			continue
		}
		found := a.serviceFound(v, n, planned)
		if here {
			half := found.Width/2 + found.Clear
			if free, err := route.JointFree(found.Width, found.Clear, a.b.legSupply(h.i).width, crossed(found)); err == nil {
				half = free / 2
			}
			half += 4 * h.settles() // its place moves with the leg's, once levels are solved again
			h.q.problem.Zones = append(h.q.problem.Zones, layout.Zone{From: at - half, To: at + half, Why: v.Name + ", found"})
		}
		h.found = append(h.found, found)
	}
	slices.SortFunc(h.q.problem.Zones, func(x, y layout.Zone) int { return cmp.Or(cmp.Compare(x.From, y.From), cmp.Compare(x.To, y.To)) })
	return stop
}

// as tells whether a service is found as the job has it: joints keep the same distance from it. What was found in the way of a unit is not.
func as(v *field.ServiceState, o *job.Service) bool {
	return v.Depth != field.InEnvelope && (v.Width == nil || *v.Width == o.Width) && (v.Keep == nil || *v.Keep == o.Clear)
}

// ownerOf is who that is, where somebody recorded it.
func ownerOf(name string) string {
	if name == "" {
		return ""
	}
	return ", " + name
}

// along is a chainage of the leg on its laying axis, as its problem has it; false: units lie there beyond a gap.
func (h *ahead) along(at measure.Length) (measure.Length, bool) {
	x := h.b.axes[h.i].on(at)
	if h.q.back {
		x = h.b.axes[h.i].clear - x
	}
	return h.seen(x)
}

// plannedOne is the service of the plan that a record says was found; what the record leaves out of its width and distance is that
// one's. Nil: the record names none, or none of the leg.
func (h *ahead) plannedOne(r *LegReplan, v *field.ServiceState) *job.Service {
	if v.Planned == "" {
		return nil
	}
	i := slices.IndexFunc(h.leg.Services, func(o job.Service) bool { return folded(o.ID) == folded(v.Planned) })
	if i < 0 {
		var ids []string
		for _, o := range h.leg.Services {
			ids = append(ids, o.ID)
		}
		r.Findings = append(r.Findings, finding.Finding{ID: "replan.service-not-planned", Kind: finding.Attention, Where: finding.Where{Leg: r.Leg, Chainage: &v.At},
			Text: fmt.Sprintf("%s is recorded as the planned service %s, and leg %s has none of that name: it is taken for one more.", v.Name, v.Planned, r.Leg),
			Try:  "Correct the record: " + cmp.Or(strings.Join(ids, ", "), "no service is planned on this leg")})
		return nil
	}
	planned := &h.leg.Services[i]
	v.Width, v.Keep = cmp.Or(v.Width, &planned.Width), cmp.Or(v.Keep, &planned.Clear)
	return planned
}

// instead gives up what joints kept away from where a service was planned, and says so.
func (h *ahead) instead(r *LegReplan, planned *job.Service, v *field.ServiceState, gone bool) {
	for _, z := range h.q.zones {
		if z.kind != "service" || z.id != planned.ID {
			continue
		}
		from, to := z.from, z.to
		if h.q.back {
			from, to = h.b.axes[h.i].clear-to, h.b.axes[h.i].clear-from
		}
		from, starts := h.seen(from)
		to, ends := h.seen(to)
		if k := slices.IndexFunc(h.q.problem.Zones, func(o layout.Zone) bool { return (o.From == from && starts || o.To == to && ends) && o.Why == z.why }); k >= 0 {
			h.q.problem.Zones = slices.Delete(h.q.problem.Zones, k, k+1)
		}
	}
	m := ServiceMoved{ID: planned.ID, Name: planned.Name, Was: measure.MM(planned.At), Gone: gone, Record: v.By[0]}
	text := h.b.tell("%s %s, planned at %s %s, is there no more: joints keep no distance from where it was planned.", planned.Name, planned.ID, wording.Chainage, wording.Far(planned.At))
	if !gone {
		m.Now = measure.MM(v.At)
		text = h.b.tell("%s %s was planned at %s %s and is found at %s: where it was found counts, and no more where it was planned.", planned.Name, planned.ID, wording.Chainage, wording.Far(planned.At), wording.Far(v.At))
	}
	h.moved = append(h.moved, m)
	r.Findings = append(r.Findings, finding.Finding{ID: "replan.service-found", Kind: finding.Note, Where: finding.Where{Leg: r.Leg, Chainage: &v.At}, Text: text, Rule: "record " + v.By[0]})
}

// serviceFound is a service as the job has it, under the id of the planned one that it is, or with one that nothing has yet: F1, F2, …
// in the order of all that were found.
func (a *Answers) serviceFound(v field.ServiceState, nth int, planned *job.Service) job.Service {
	s := job.Service{Name: v.Name, At: v.At, Width: *v.Width, Clear: *v.Keep, Quality: "found on site"}
	if v.Top != nil {
		level := v.Top.Metres() / a.b.net.unit
		s.Level = &level
	}
	if planned != nil {
		s.ID, s.Skew = planned.ID, planned.Skew
		if s.Level == nil {
			s.Level, s.Depth = planned.Level, planned.Depth
		}
		return s
	}
	most := 0
	number := func(id string) {
		if text, ok := strings.CutPrefix(strings.ToUpper(id), "F"); ok {
			if n, err := strconv.Atoi(text); err == nil {
				most = max(most, n)
			}
		}
	}
	for _, l := range a.b.job.Route.Legs {
		for _, o := range l.Services {
			number(o.ID)
		}
	}
	for _, w := range a.b.job.Route.Withdrawn {
		number(w.ID)
	}
	s.ID = "F" + strconv.Itoa(most+1+nth)
	return s
}
