package planner

import (
	"fmt"
	"slices"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/solve/layout"
)

// LegReplan is what is left of one leg, planned again from where its last unit came to lie. What it says of gaps and pieces is its
// first offer, one unit after the other: the offers themselves say which places keep their pieces with their names.
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
	Offers   []Offer      `json:"offers"`  // up to three ways on that differ in what they spend; none where there is nothing to choose
	Apart    []string     `json:"apart"`   // units that are set behind one that is not
	Lots     []LotDrift   `json:"lots"`    // that units to come are planned with, told apart from scatter
	Meets    []Meeting    `json:"meets"`   // gaps between units that lie, in laying order
	Findings finding.List `json:"findings"`

	stays  *job.Built   // what the job says of the leg where another one's answer is taken; nil: it says so already
	bedded []job.Bedded // what lies on it, with its levels
}

// Offer is one way on that a person may take.
type Offer struct {
	Number    int            `json:"number"` // from 1: what it is taken by
	Answer    string         `json:"answer"`
	Changed   int            `json:"changed"` // places that get another piece, are inserted or withdrawn
	Count     Count          `json:"count"`   // of what is to come
	Hold      measure.MM     `json:"hold_mm"`
	Gaps      []GapHeld      `json:"gaps"`
	Pieces    []PieceNow     `json:"pieces"`
	Withdrawn []string       `json:"withdrawn"` // places that are laid no more
	Built     job.Built      `json:"built"`     // what the job says of the leg once it is taken
	Services  []job.Service  `json:"services"`  // that were found on the leg, and are in no job yet
	Moved     []ServiceMoved `json:"moved"`     // services of the plan that were found elsewhere, or are there no more
	Closes    []Closes       `json:"closes"`    // gaps that are closed by a piece that is cut, or whose walls differ
	Cut       []CutOf        `json:"cut"`       // pieces to come that offcuts of the yard do for
	CutText   string         `json:"cut_text"`  // what is proven of that; empty: no offcut does
	Yard      []job.YardItem `json:"yard"`      // those of them that are in no job yet
	Needs     []Need         `json:"needs"`     // by length that the supplier makes
	Waiting   int            `json:"waiting"`   // pieces that do not lie in the yard yet
	ToOrder   int            `json:"to_order"`  // pieces of the run that neither lie there nor are on order

	units  []layout.Unit // to come
	called []string      // their places
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
	Place  string     `json:"place"`    // one that was not planned has a name of its own: A-017A
	Stock  measure.MM `json:"stock_mm"` // 0: none any more
	Length measure.MM `json:"length_mm"`
	Was    measure.MM `json:"was_mm"` // 0: there was none
	Cut    bool       `json:"cut"`
	Supply string     `json:"supply"`
}

// ahead is a leg in the direction it is laid in.
type ahead struct {
	a       *Answers
	b       *build
	i       int // of the plan's legs
	q       question
	leg     job.Leg
	length  measure.Length
	units   []Unit // in laying order
	starts  []measure.Length
	takes   []measure.Length        // what each covers of the leg
	joints  []Joint                 // after each but the last
	found   []job.Service           // services that were found ahead
	moved   []ServiceMoved          // those that are where another one was planned
	asked   []layout.Zone           // of the problem, before anything was found
	spare   measure.Length          // of every window, for what the leg still settles by once its levels are solved again
	lie     []measure.Length        // how far the end of each unit that is set is off its place
	read    []string                // records that say so
	grades  []unitGrade             // of units; nil: no levels were solved
	with    map[string][]string     // by place of a cut piece: the places of the others from its unit
	all     []brick                 // all units where they lie or were planned
	beyond  []gang                  // what lies beyond gaps: units, starts and problem have each as a single unit
	whole   layout.Problem          // without that
	first   int                     // supply of the first of those single units
	full    []int                   // by unit: its number among all
	asDrawn bool                    // nothing beyond gaps is off its place
	set     int                     // units that lie, one behind the other
	lots    map[made]measure.Length // by how much whole units to come are longer
	why     []string                // why ways on were none
	stays   *job.Built              // what a job says of it once another leg's answer is taken
}

// Replan plans what is left of every leg again. What is set stays as it was measured; of what is left as few pieces change as can
// be: none, where gaps within their windows bring the run back; else the fewest units, cuts and cut covers from there.
func (a *Answers) Replan(s field.State) []LegReplan { return a.ReplanFrom(s, nil) }

// ReplanFrom is Replan with what somebody found in the yard, beside what the records say lies there.
func (a *Answers) ReplanFrom(s field.State, yard []job.YardItem) []LegReplan {
	list, legs, ends := make([]LegReplan, len(a.legs)), make([]ahead, len(a.legs)), make([]measure.Length, len(a.legs))
	lots := a.lots(s)
	for i := range a.legs {
		legs[i] = a.ahead(i)
		list[i] = LegReplan{Leg: a.legs[i].id, Units: len(legs[i].units), Gaps: []GapHeld{}, Pieces: []PieceNow{}, Offers: []Offer{}, Apart: []string{}, Lots: []LotDrift{}, Meets: []Meeting{}, Findings: finding.List{}, stays: legs[i].stays}
		ends[i] = legs[i].built(&list[i], s)
	}
	paper, plain := slices.Clone(legs), slices.Clone(list)
	for i := range list {
		legs[i].expect(&list[i], s, lots)
	}
	there := a.inYard(s, yard, list)
	for i := range list {
		a.replanLeg(&legs[i], &list[i], s, ends[i], there)
		if list[i].Answer == NoAnswer && len(list[i].Lots) > 0 {
			a.onPaper(&paper[i], &plain[i], &list[i], s, ends[i], there)
		}
	}
	return list
}

func (a *Answers) replanLeg(h *ahead, r *LegReplan, s field.State, end measure.Length, there *inYard) {
	stop := a.served(h, r, s, end)
	switch {
	case stop:
		r.Answer = Stopped
	case r.Answer == CannotSay:
	case r.Set == 0:
		r.Answer = NotBegun
		h.anew(r)
	case r.Set == len(h.units):
		r.Answer = Laid
	default:
		h.rest(r, end, there)
	}
}

// ahead is a leg as it is laid, worked out once; what is asked of it is a copy.
func (a *Answers) ahead(i int) ahead {
	a.again.Lock()
	defer a.again.Unlock()
	if a.laying == nil {
		a.laying = make([]*ahead, len(a.legs))
	}
	if a.laying[i] == nil {
		h := a.newAhead(i)
		a.laying[i] = &h
	}
	h := *a.laying[i]
	h.asked = h.q.problem.Zones
	h.q.problem.Zones = slices.Clone(h.q.problem.Zones)
	return h
}

func (a *Answers) newAhead(i int) ahead {
	l, p := a.legs[i], &a.b.plan
	h := ahead{a: a, b: a.b, i: i, q: a.b.ask(i), leg: a.b.leg(i), with: a.with}
	if made := h.leg.Built; made != nil { // another supply may lie there than anything asks for
		_, _, _ = a.b.bricks(i, &h.q, made)
	}
	h.length = h.q.problem.Length
	h.grades = a.b.gradesOf(i, l.units)
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
		slices.Reverse(h.grades)
	}
	h.faces(nil)
	h.stays = h.asItWas()
	return h
}

// faces sets the cut lines at the leg's ends as its end pieces want them: a piece that reaches into a curve wants another one. False:
// they were so already. What is to come are units behind those that are set; nil: as planned.
func (h *ahead) faces(rest []layout.Unit) bool {
	if len(h.units) == 0 {
		return false
	}
	last := len(h.units) - 1
	ends := []layout.Unit{{Start: h.starts[0], Advance: h.takes[0]}, {Start: h.starts[last], Advance: h.takes[last]}}
	if len(rest) > 0 {
		ends[1] = rest[len(rest)-1]
	}
	start, end := h.b.facings(h.i, h.q, layout.Solution{Units: ends})
	p := &h.q.problem
	if start == p.Start.Tan && end == p.End.Tan {
		return false
	}
	p.Start.Tan, p.End.Tan = start, end
	return true
}

// built finds how far the leg is set, and where its last unit ends. Readings that are in the plan already are not counted twice.
func (h *ahead) built(r *LegReplan, s field.State) (end measure.Length) {
	set := map[string]*field.UnitState{}
	for l := range s.Legs {
		if s.Legs[l].ID == r.Leg {
			for u := range s.Legs[l].Units {
				set[s.Legs[l].Units[u].Place] = s.Legs[l].Units[u]
			}
		}
	}
	counted := map[string]bool{}
	if h.leg.Built != nil {
		for _, id := range h.leg.Built.Counted {
			counted[id] = true
		}
	}
	lies := func(k int) bool { u := set[h.units[k].Mark]; return u != nil && u.Set.Is == field.Yes }
	r.bedded = h.bedded(lies)
	known := []int{}
	for r.Set < len(h.units) && lies(r.Set) {
		u := h.units[r.Set]
		r.Last = u.Mark
		h.lie = append(h.lie, measure.Length(r.Off))
		if m := set[u.Mark].End; m != nil {
			r.Answer = ""
			if !m.Known {
				r.Answer = CannotSay // until somebody measures it, or a unit behind it, once more
			}
			r.Measured, r.Off = u.Mark, measure.MM(m.Value)
			if m.Known && counted[m.Readings[0].By] {
				r.Off = 0
			} else if m.Known {
				r.Off = measure.MM(*set[u.Mark].Ahead)
				h.read = append(h.read, m.Readings[0].By)
			}
			h.lie[r.Set] = measure.Length(r.Off)
			known = append(known, r.Set)
		} else if m := set[u.Mark].Length; m != nil && m.Known && !u.Cut && !counted[m.Readings[0].By] { // as long as it came, and laid as drawn
			r.Off += measure.MM(m.Value) - u.Length
			h.read = append(h.read, m.Readings[0].By)
			h.lie[r.Set] = measure.Length(r.Off)
			known = append(known, r.Set)
		}
		r.Set++
	}
	h.between(known)
	if r.Set < len(h.units) && set[h.units[r.Set].Mark] != nil && set[h.units[r.Set].Mark].Set.Is == field.CantSay {
		r.Answer = CannotSay
	}
	if r.Set > 0 {
		end = h.starts[r.Set-1] + h.takes[r.Set-1] + measure.Length(r.Off)
	}
	h.set = r.Set
	h.meets(r, set, counted, end)
	return end
}

// between shares what lies between two ends that were measured over the joints between them.
func (h *ahead) between(known []int) {
	before, off := -1, measure.Length(0)
	for _, k := range known {
		n, rise := measure.Length(k-before), h.lie[k]-off
		for i := before + 1; i < k; i++ {
			h.lie[i] = off + rise*measure.Length(i-before)/n
		}
		before, off = k, h.lie[k]
	}
}

// unanswered says of what gaps there are why they cannot be closed.
func (h *ahead) unanswered(r *LegReplan) {
	for _, w := range slices.Compact(h.why) {
		r.Findings = append(r.Findings, finding.Finding{ID: "replan.no-closing", Kind: finding.Impossible, Where: finding.Where{Leg: r.Leg, Place: r.Last}, Text: w,
			Try: "Measure both walls once more; or lift the unit on one side, so that a longer piece can be sawn askew."})
	}
	h.unclosed(r)
}

// rest plans what is left behind a measured end.
func (h *ahead) rest(r *LegReplan, end measure.Length, there *inYard) {
	for _, w := range h.knownWays(r, end, there) {
		there.count(h, r, &w)
		if len(r.Offers) < mostWays && !slices.ContainsFunc(r.Offers, func(o Offer) bool { return o.spendsLess(w) }) {
			w.Number = len(r.Offers) + 1
			r.Offers = append(r.Offers, w)
		}
	}
	if len(r.Offers) == 0 {
		r.Answer = NoAnswer
		if h.unanswered(r); len(r.Findings) > 0 && r.Findings[len(r.Findings)-1].Kind == finding.Impossible {
			return
		}
		r.Findings = append(r.Findings, finding.Finding{ID: "replan.no-layout", Kind: finding.Impossible, Where: finding.Where{Leg: r.Leg, Place: r.Last},
			Text: fmt.Sprintf("From where %s ends no layout reaches the end of leg %s.", r.Last, r.Leg),
			Try:  "Measure its end again; lift the last unit and lay from the one before; or cut the one that comes next otherwise than this supplier lets it be: ask the supplier."})
		return
	}
	first := &r.Offers[0]
	r.Answer, r.Hold = first.Answer, first.Hold
	if r.Answer == OtherPiece && len(h.beyond) > 0 {
		r.Pieces = first.Pieces
	} else if r.Answer == OtherPiece {
		r.Pieces = h.inTurn(r.Set, first.units)
	} else {
		r.Gaps = first.Gaps
	}
	if r.Answer == AsPlanned && len(r.Offers) == 1 && len(first.Moved) == 0 {
		r.Offers = []Offer{} // nothing to choose
	}
}
