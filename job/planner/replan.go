package planner

import (
	"cmp"
	"fmt"
	"slices"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job/field"
	"trenchwright/solve/layout"
)

// LegReplan is what is left of one leg, planned again from where its last unit came to lie.
type LegReplan struct {
	Leg      string       `json:"leg"`
	Set      int          `json:"set"` // units that are set, one behind the other from where the leg is laid
	Units    int          `json:"units"`
	Last     string       `json:"last,omitempty"`
	Off      measure.MM   `json:"off_mm"`             // how far its end is ahead of its place along the laying; below 0: behind
	Measured string       `json:"measured,omitempty"` // the last unit whose end was measured; behind it units are taken to lie as drawn
	Answer   string       `json:"answer"`
	Hold     measure.MM   `json:"hold_mm"` // the gap to hold now
	Gaps     []GapHeld    `json:"gaps"`    // of the joints to come that are not as drawn
	Pieces   []PieceNow   `json:"pieces"`  // of the units to come that are not as planned
	Apart    []string     `json:"apart"`   // units that are set behind one that is not: they are left out of this
	Findings finding.List `json:"findings"`
}

// The answers of a replan.
const (
	NotBegun   = "not begun"
	CannotSay  = "cannot say" // records differ on where the last unit lies, or whether one does; a service that was found has no width
	AsPlanned  = "as planned"
	OtherGaps  = "same pieces, other gaps"
	OtherPiece = "other pieces"
	NoAnswer   = "no layout from here"
	Laid       = "laid"
	Stopped    = "stop: no layout answers this"
)

// GapHeld is a joint to come.
type GapHeld struct {
	Joint string     `json:"joint"`
	Gap   measure.MM `json:"gap_mm"`
	Drawn measure.MM `json:"drawn_mm"`
}

// PieceNow is a unit to come.
type PieceNow struct {
	Place  string     `json:"place,omitempty"` // of the plan; empty: one more than was planned
	Stock  measure.MM `json:"stock_mm"`        // 0: none any more
	Length measure.MM `json:"length_mm"`
	Was    measure.MM `json:"was_mm"` // 0: there was none
	Cut    bool       `json:"cut"`
}

// ahead is a leg in the direction it is laid in.
type ahead struct {
	q      question
	length measure.Length
	units  []Unit // in laying order
	starts []measure.Length
	takes  []measure.Length // what each covers of the leg
	joints []Joint          // after each but the last
}

// Replan plans what is left of every leg again. What is set stays as it was measured; of what is left as few pieces change as can
// be: none, where gaps within their windows bring the run back; else the fewest units, cuts and cut covers from there.
func (a *Answers) Replan(s field.State) []LegReplan {
	list := make([]LegReplan, len(a.legs))
	for i := range a.legs {
		list[i] = a.replanLeg(i, s)
	}
	return list
}

func (a *Answers) replanLeg(i int, s field.State) LegReplan {
	h := a.ahead(i)
	r := LegReplan{Leg: a.legs[i].id, Units: len(h.units), Gaps: []GapHeld{}, Pieces: []PieceNow{}, Apart: []string{}, Findings: finding.List{}}
	end := h.built(&r, s)
	stop := a.served(&h, &r, s, end)
	switch {
	case stop:
		r.Answer = Stopped
	case r.Answer == CannotSay:
	case r.Set == 0:
		r.Answer = NotBegun
	case r.Set == len(h.units):
		r.Answer = Laid
	default:
		h.rest(&r, end)
	}
	return r
}

// ahead is a leg as it is laid.
func (a *Answers) ahead(i int) ahead {
	l, p := a.legs[i], &a.b.plan
	h := ahead{q: a.b.ask(i)}
	h.length = h.q.problem.Length
	h.units = slices.Clone(p.Units[l.unit : l.unit+l.units])
	if l.units > 0 {
		h.joints = slices.Clone(p.Joints[l.joint : l.joint+l.units-1])
	}
	for k, u := range h.units {
		end := h.length
		if k < len(h.joints) {
			end = measure.Length(h.joints[k].At - h.joints[k].Gap)
		}
		h.starts = append(h.starts, measure.Length(u.Start))
		h.takes = append(h.takes, end-measure.Length(u.Start))
	}
	if h.q.back {
		for k := range h.starts {
			h.starts[k] = h.length - h.starts[k] - h.takes[k]
		}
		slices.Reverse(h.units)
		slices.Reverse(h.starts)
		slices.Reverse(h.takes)
		slices.Reverse(h.joints)
	}
	return h
}

// built finds how far the leg is set, and where its last unit ends.
func (h *ahead) built(r *LegReplan, s field.State) (end measure.Length) {
	set := map[string]*field.UnitState{}
	for l := range s.Legs {
		if s.Legs[l].ID == r.Leg {
			for u := range s.Legs[l].Units {
				set[s.Legs[l].Units[u].Place] = s.Legs[l].Units[u]
			}
		}
	}
	lies := func(k int) bool { u := set[h.units[k].Mark]; return u != nil && u.Set.Is == field.Yes }
	for r.Set < len(h.units) && lies(r.Set) {
		u := h.units[r.Set]
		r.Last = u.Mark
		if m := set[u.Mark].End; m != nil {
			r.Off, r.Measured, r.Answer = measure.MM(m.Value), u.Mark, ""
			if !m.Known {
				r.Answer = CannotSay // until somebody measures it, or a unit behind it, once more
			}
		}
		r.Set++
	}
	if r.Set < len(h.units) && set[h.units[r.Set].Mark] != nil && set[h.units[r.Set].Mark].Set.Is == field.CantSay {
		r.Answer = CannotSay
	}
	for k := r.Set + 1; k < len(h.units); k++ {
		if lies(k) {
			r.Apart = append(r.Apart, h.units[k].Mark)
		}
	}
	if r.Set == 0 {
		return 0
	}
	return h.starts[r.Set-1] + h.takes[r.Set-1] + measure.Length(r.Off)
}

// served takes up buried services that were found ahead of the end of what is set. One in the unit's envelope, or of which nobody knows how deep it is, has no
// answer in the layout.
func (a *Answers) served(h *ahead, r *LegReplan, s field.State, end measure.Length) (stop bool) {
	for _, v := range s.Services {
		if v.Leg != r.Leg {
			continue
		}
		at := a.b.axes[slices.IndexFunc(a.legs, func(l answerLeg) bool { return l.id == v.Leg })].on(v.At)
		if h.q.back {
			at = h.length - at
		}
		if at < end {
			continue // units lie there
		}
		where := finding.Where{Leg: r.Leg, Chainage: &v.At}
		switch {
		case v.Depth == field.InEnvelope || v.Depth == field.NotKnown:
			stop = true
			r.Findings = append(r.Findings, finding.Finding{ID: "replan.service-in-the-way", Kind: finding.Impossible, Where: where,
				Text: fmt.Sprintf("%s was found %s: moving joints does not answer that.", v.Name, map[bool]string{true: "in the unit's envelope", false: "and nobody recorded how deep"}[v.Depth == field.InEnvelope]),
				Try:  "Stop here, tell its owner. Then: raise the run there, a shallower supply, or have it diverted."})
			continue
		case v.Width == nil || v.Keep == nil:
			r.Answer = CannotSay
			r.Findings = append(r.Findings, finding.NoneOnFile("width of "+v.Name+" and distance that joints keep from it", "its owner", where))
			continue
		}
		z := layout.Zone{From: at - *v.Width/2 - *v.Keep, To: at + *v.Width/2 + *v.Keep, Why: v.Name + ", found"}
		h.q.problem.Zones = append(h.q.problem.Zones, z)
	}
	slices.SortFunc(h.q.problem.Zones, func(x, y layout.Zone) int { return cmp.Or(cmp.Compare(x.From, y.From), cmp.Compare(x.To, y.To)) })
	return stop
}

// rest plans what is left behind a measured end.
func (h *ahead) rest(r *LegReplan, end measure.Length) {
	if starts, ok := h.kept(r.Set, end); ok {
		r.Answer = AsPlanned
		r.Hold = measure.MM(starts[0] - end)
		for k, s := range starts {
			j := h.joints[r.Set-1+k]
			if gap := measure.MM(s - end); gap != j.Gap {
				r.Answer = OtherGaps
				r.Gaps = append(r.Gaps, GapHeld{j.Name, gap, j.Gap})
			}
			end = s + h.takes[r.Set+k]
		}
		return
	}
	q := h.q.problem
	q.First = nil // they lie
	sol, err := layout.Solve(q)
	supply := slices.IndexFunc(q.Supplies, func(s layout.Supply) bool { return s.Name == h.units[r.Set-1].Supply })
	if err != nil || sol.Certificate == nil || supply < 0 {
		r.Answer = NoAnswer
		return
	}
	start, _, ok := sol.Certificate.After(end, supply)
	if !ok {
		r.Answer = NoAnswer
		r.Findings = append(r.Findings, finding.Finding{ID: "replan.no-layout", Kind: finding.Impossible, Where: finding.Where{Leg: r.Leg, Place: r.Last},
			Text: fmt.Sprintf("From where %s ends no layout reaches the end of leg %s.", r.Last, r.Leg),
			Try:  "Measure its end again; lift the last unit and lay from the one before; or cut the one that comes next otherwise than this supplier lets it be: ask the supplier."})
		return
	}
	units, _, _ := sol.Certificate.Ahead(start, 0)
	r.Answer = OtherPiece
	r.Hold = measure.MM(start - end)
	for k := range max(len(units), len(h.units)-r.Set) {
		var now, was PieceNow
		if k < len(units) {
			now = PieceNow{Stock: measure.MM(units[k].Stock), Length: measure.MM(units[k].Length), Cut: units[k].Cut}
		}
		if r.Set+k < len(h.units) {
			u := h.units[r.Set+k]
			was = PieceNow{Place: u.Mark, Stock: u.Stock, Length: u.Length, Cut: u.Cut}
		}
		if now.Stock != was.Stock || now.Length != was.Length || now.Cut != was.Cut {
			now.Place, now.Was = was.Place, was.Length
			r.Pieces = append(r.Pieces, now)
		}
	}
}
