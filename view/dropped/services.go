package dropped

import (
	"bytes"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/servicein"
)

// Line is one service that crosses the run.
type Line struct {
	Leg      string  `json:"leg"`
	ID       string  `json:"id"`
	Name     string  `json:"name"`
	Chainage float64 `json:"chainage_mm"`
	Width    float64 `json:"width_mm"`
	Text     string  `json:"text"`
}

// asServices reads recorded services and puts those that cross the run on their legs.
func (r *reading) asServices() {
	f, ok := r.one()
	if !ok {
		return
	}
	w := servicein.Want{File: f.Name, Columns: r.Said["columns"], Unit: r.unit(), Clear: r.length("clear"), Width: r.length("width"), Quality: r.Said["quality"], Tops: r.Said["tops"] == "yes"}
	for _, code := range strings.Split(r.Said["lines"], ",") {
		if code = strings.TrimSpace(code); code != "" {
			w.Lines = append(w.Lines, code)
		}
	}
	if w.Clear == 0 && len(r.out.Faults) == 0 {
		r.fault("clear", "nobody has said how far joints have to stand from a service, and no file says it", "the contract's distance, to each side, for example 300 mm")
	}
	if len(r.out.Faults) > 0 {
		return
	}
	got, found := servicein.Read(bytes.NewReader(f.Bytes), *r.Job, w)
	if !r.found(found) {
		return
	}
	r.heard(f.Name, got.Heard)
	j := *r.Job
	j.Route.Legs = slices.Clone(j.Route.Legs)
	n := 0
	for _, on := range got.Legs {
		i := slices.IndexFunc(j.Route.Legs, func(l job.Leg) bool { return l.ID == on.Leg })
		if i < 0 {
			r.fault("route", "the run is told as a walk, whose legs hold no "+r.speech.Word(wording.Services), "the run as nodes and legs")
			return
		}
		j.Route.Legs[i].Services = together(j.Route.Legs[i].Services, on.Services)
		for _, s := range on.Services {
			n++
			r.out.Lines = append(r.out.Lines, Line{on.Leg, s.ID, s.Name, s.At.Metres() * 1e3, s.Width.Metres() * 1e3, r.speech.Say("%s crosses leg %s at %s %s, %s wide", s.Name, on.Leg, wording.Chainage, wording.Far(s.At), s.Width)})
		}
	}
	r.count("services that cross the run", n)
	if !r.found(onlyFaults(planner.Look(j))) {
		return
	}
	r.result(j)
}

// together adds services to those of a leg. One of the same name at the same place is the same: the newer record stands,
// under the id that it had.
func together(had, more []job.Service) []job.Service {
	out := slices.Clone(had)
	for _, s := range more {
		i := slices.IndexFunc(out, func(o job.Service) bool { return o.Name == s.Name && (o.At-s.At).Abs() <= measure.Millimetre })
		if i < 0 {
			out = append(out, s)
			continue
		}
		s.ID = out[i].ID
		out[i] = s
	}
	sorting.By(out, func(a, b job.Service) int { return int(min(1, max(-1, a.At-b.At))) })
	return out
}
