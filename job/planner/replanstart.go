package planner

import (
	"slices"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/solve/layout"
)

// asItWas is what a job says of a leg that stays as it was planned; nil where it says so already. What lies on it stays off its places
// as it was measured.
func (h *ahead) asItWas() *job.Built {
	if h.leg.Built != nil || len(h.units) == 0 {
		return nil
	}
	list := h.planned(0)
	for k := range list {
		list[k].with = h.with[list[k].name]
	}
	h.all = list
	match, called := make([]int, len(list)), make([]string, len(list))
	for k := range list {
		match[k], called[k] = k, list[k].name
	}
	return &job.Built{Courses: h.coursesOf(list), Grades: h.keptGrades(0, match, called)}
}

// coursesOf are bricks as a job has them.
func (h *ahead) coursesOf(list []brick) []job.Course {
	return courses(list, func(i int) string {
		if i == 0 {
			return "" // the leg's own
		}
		return h.q.problem.Supplies[i].Name
	})
}

// anew plans a leg on which nothing lies yet again, where a service was found under one of its joints.
func (h *ahead) anew(r *LegReplan) {
	if len(h.units) == 0 || len(h.moved)+len(h.beyond) == 0 && (len(h.found) == 0 || h.clear()) {
		return
	}
	var ways [][]layout.Unit
	fits := func(units []layout.Unit) bool { return len(layout.CheckLaid(wholeWindows(h.q.problem), units)) == 0 }
	drawn := laidUnits(&h.q.problem, h.planned(0), true, true)
	asDrawn := h.asDrawn && len(h.found)+len(h.moved) == 0 && fits(drawn)
	if asDrawn { // as the plan has it
		ways = append(ways, drawn)
	} else if len(h.units) > 1 {
		if starts, ok := h.kept(1, h.takes[0]); ok {
			list := h.planned(0)
			for k := range starts {
				list[1+k].unit.Start = starts[k]
			}
			ways = append(ways, laidUnits(&h.q.problem, list, true, true))
		}
	}
	for range mostTurns {
		if asDrawn {
			break
		}
		sol, err := layout.Solve(h.q.problem)
		if err != nil || sol.Verdict != layout.Found {
			break
		}
		if !h.faces(sol.Units) {
			ways = append(ways, sol.Units)
			break
		}
	}
	r.Last = h.units[0].Mark // an insertion is named behind it
	for _, units := range ways {
		if !fits(units) {
			continue
		}
		o, ok := h.offer(r, units, 0)
		if !ok {
			continue
		}
		o.Built.To = ""
		if slices.ContainsFunc(r.Offers, func(b Offer) bool { return b.spendsLess(o) }) {
			continue
		}
		o.Number = len(r.Offers) + 1
		r.Offers = append(r.Offers, o)
	}
	r.Last = ""
	if len(r.Offers) == 0 {
		r.Answer = NoAnswer
		if h.unanswered(r); len(r.Findings) > 0 && r.Findings[len(r.Findings)-1].Kind == finding.Impossible {
			return
		}
		r.Findings = append(r.Findings, finding.Finding{ID: "replan.no-layout", Kind: finding.Impossible, Where: finding.Where{Leg: r.Leg},
			Text: "No layout of leg " + r.Leg + " keeps joints away from what was found.",
			Try:  "Have it moved by its owner; or ask the engineer for a detail with which a joint may stand there."})
		return
	}
	first := &r.Offers[0]
	if r.Answer, r.Hold = first.Answer, first.Hold; r.Answer == OtherPiece {
		r.Pieces = first.Pieces
	} else {
		r.Gaps = first.Gaps
	}
	if r.Answer == AsPlanned && len(r.Offers) == 1 && len(h.found)+len(h.moved) == 0 {
		r.Offers = []Offer{} // nothing to choose
	}
}

// clear tells whether the joints as planned keep away from all that was found.
func (h *ahead) clear() bool {
	return !slices.ContainsFunc(h.joints, func(j Joint) bool {
		end, start := measure.Length(j.At-j.Gap), measure.Length(j.At)
		if h.q.back {
			end, start = h.length-start, h.length-end
		}
		return slices.ContainsFunc(h.q.problem.Zones, func(z layout.Zone) bool { return end < z.To && start > z.From })
	})
}
