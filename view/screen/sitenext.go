package screen

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/field"
	"trenchwright/job/planner"
)

// Next is the next thing to do on a leg, as a stage has it.
type Next struct {
	Stage   string      `json:"stage"`
	Leg     string      `json:"leg"`
	Legs    []NextLeg   `json:"legs"`
	Said    string      `json:"said"`  // next to set
	Place   string      `json:"place"` // empty: nothing is left here
	Key     string      `json:"key"`
	Strip   float64     `json:"strip"`
	Form    string      `json:"form"` // the record that this makes; empty: none
	Deed    string      `json:"deed"` // Set, Lay, Fill
	What    string      `json:"what"` // any 3000 mm, whole
	Aside   string      `json:"aside"`
	Figures []BigFigure `json:"figures"`
	Stop    []string    `json:"stop"` // what holds the work
	Open    []string    `json:"open"` // what is not on file, and what to look at
	Onward  []string    `json:"onward"`
	Answers bool        `json:"answers"` // there are ways on from here that a person has to choose between
	Layer   int         `json:"layer"`   // of fill, the one that comes next; 0: none
	Asks    []Ask       `json:"asks"`    // readings that the contract wants of what is set, and that nobody made yet
}

// Ask is one reading that is wanted, with the record that makes it.
type Ask struct {
	Form  string `json:"form"`
	Place string `json:"place"`
	Name  string `json:"name"` // gap, invert level
}

// NextLeg is a leg with how much of the stage is done on it.
type NextLeg struct {
	ID   string `json:"id"`
	Said string `json:"said"`
	Left int    `json:"left"` // how many places are left
}

// onward is how many places are told after the next one: more are set in no one go.
const onward = 60

// ofStage is what a stage does at each place, and the record that it makes of it.
type ofStage struct {
	form, deed, said string
	done             func(u *field.UnitState) bool
}

func (v *siteView) ofStage(stage string) (ofStage, bool) {
	w := v.speech.Word
	levelled := func(of ...string) func(*field.UnitState) bool {
		return func(u *field.UnitState) bool {
			return slices.ContainsFunc(u.Levels, func(l field.LevelState) bool { return slices.Contains(of, l.Of) })
		}
	}
	switch stage {
	case "dig":
		return ofStage{"formation", "Level", "next " + w(wording.Formation) + " to level", levelled("formation")}, true
	case "bed":
		return ofStage{"pad", "Level", "next " + w(v.standsOn()) + " to level", levelled("pad", "bed")}, true
	case "set":
		return ofStage{"set", "Set", "next to set", func(u *field.UnitState) bool { return u.Set.Is == field.Yes }}, true
	case "fill":
		return ofStage{"layer", "Fill", "next to fill", func(u *field.UnitState) bool { return u.Filled() }}, true
	case "cables":
		return ofStage{"area", "Hand over", "next to hand over", func(u *field.UnitState) bool { return len(u.Evidence[field.Area]) > 0 }}, true
	case "cover":
		return ofStage{"cover", "Cover", "next to cover", func(u *field.UnitState) bool {
			return !slices.ContainsFunc(u.Covers, func(c field.CoverState) bool { return c.Laid.Is != field.Yes })
		}}, true
	}
	return ofStage{}, false
}

// standsOn is what the units of the run stand on: pads or a bed.
func (v *siteView) standsOn() wording.Word {
	if slices.ContainsFunc(v.plan.SetOut, func(r planner.SetOut) bool { return r.Pad != "" }) {
		return wording.Pad
	}
	return wording.Bed
}

// laying are the numbers of a leg's units, of the plan's, in the order in which they are laid.
func (v *siteView) laying(leg int) []int {
	out := make([]int, 0, v.first[leg+1]-v.first[leg])
	for u := v.first[leg]; u < v.first[leg+1]; u++ {
		out = append(out, u)
	}
	if v.fromEnd(leg) {
		slices.Reverse(out)
	}
	return out
}

func (v *siteView) fromEnd(leg int) bool {
	l := &v.plan.Legs[leg]
	return l.LaidFrom == l.To && l.LaidFrom != l.From
}

// next is what comes next: on the leg that is asked for, else on the first on which work has begun and something is left, else on
// the first on which something is left.
func (v *siteView) next(q *question) (Next, error) {
	out := Next{Stage: q.Name, Legs: []NextLeg{}, Figures: []BigFigure{}, Stop: []string{}, Open: []string{}, Onward: []string{}, Asks: []Ask{}}
	of, ok := v.ofStage(q.Name)
	if !ok {
		return out, nil
	}
	s := v.is()
	leg := -1
	left := make([][]int, len(v.plan.Legs))
	begun := false
	for _, i := range v.order {
		units := v.laying(i)
		for _, u := range units {
			if !of.done(v.unitState(s, i, u)) {
				left[i] = append(left[i], u)
			}
		}
		some := len(left[i]) > 0 && len(left[i]) < len(units)
		if (some && !begun || leg < 0 && len(left[i]) > 0) && q.Leg == "" || v.plan.Legs[i].Name == q.Leg {
			leg, begun = i, begun || some
		}
		out.Legs = append(out.Legs, NextLeg{v.plan.Legs[i].Name, fmt.Sprintf("%d of %d", len(units)-len(left[i]), len(units)), len(left[i])})
	}
	if leg < 0 {
		return out, nil
	}
	out.Leg, out.Said, out.Form, out.Deed = v.plan.Legs[leg].Name, of.said, of.form, of.deed
	if q.Name == "set" {
		v.asked(&out, leg)
	}
	if len(left[leg]) == 0 {
		return out, nil
	}
	u := left[leg][0]
	one := &v.plan.Units[u]
	out.Place, out.Key = one.Mark, "unit/"+one.Mark
	out.Strip, _ = v.ends(u)
	units := v.laying(leg)
	for _, k := range units[slices.Index(units, u):] {
		if len(out.Onward) < onward {
			out.Onward = append(out.Onward, v.plan.Units[k].Mark)
		}
	}
	switch q.Name {
	case "set":
		v.nextSet(&out, leg, u, q.Height)
		return out, nil
	case "dig", "bed":
		v.nextLevel(&out, leg, u, q.Height)
	case "fill":
		v.nextLayer(&out, leg, u)
	case "cover":
		v.nextCovers(&out, leg, u)
	}
	v.wayWanted(&out)
	return out, nil
}

// unitState is what the records of a unit of the plan come to: the state has the units of a leg along it.
func (v *siteView) unitState(s *field.State, leg, unit int) *field.UnitState {
	return s.Legs[leg].Units[unit-v.first[leg]]
}

// nextSet is what whoever sets a unit asks: which piece, which gap, where the last joint lies, what the rod has to show.
func (v *siteView) nextSet(out *Next, leg, u int, height string) {
	h := v.figuresAt(leg, u)
	one := &v.plan.Units[u]
	out.What, out.Aside = v.pieceOf(one)
	h.mass(one.Mass)
	for _, r := range v.rest() {
		if r.Leg == out.Leg {
			v.held(&h, out, &r)
		}
	}
	v.rodAt(&h, out, leg, u, height)
	slices.SortStableFunc(h.out.Big, func(a, b BigFigure) int { return rankOf(a.Label) - rankOf(b.Label) })
	out.Figures, out.Open = append(out.Figures, h.out.Big...), append(out.Open, h.out.Open...)
	out.Stop = append(out.Stop, h.out.Stop...)
}

const (
	gapToHold = "gap to hold"
	lastJoint = "last joint"
)

// rankOf puts what is looked at first first.
func rankOf(label string) int {
	switch label {
	case gapToHold:
		return 0
	case lastJoint:
		return 1
	case "mass":
		return 3
	}
	return 2
}

// pieceOf is what goes into a place: any whole one of its length, or the one that was made for it.
func (v *siteView) pieceOf(u *planner.Unit) (what, aside string) {
	word := v.speech.Word(wording.Unit)
	if len(v.plan.Supplies) > 1 {
		word = u.Supply + " " + word
	}
	switch {
	case u.Hold:
		return "cut from measurement, planned " + v.size(u.Length), "on hold"
	case u.Cut:
		aside = "cut"
		if u.StartAngle != 0 || u.EndAngle != 0 {
			aside = v.speech.Word(wording.Mitred)
			if u.Piece != nil && u.Piece.Hand != "" {
				aside += ", " + u.Piece.Hand
			}
		}
		return "mark " + u.Mark + ", " + v.size(u.Length), aside
	}
	return "any whole " + word + ", " + v.size(u.Stock), ""
}

// held is the gap to hold now, where the last joint lies, and what else the plan of the rest says.
func (v *siteView) held(h *hereMaker, out *Next, r *planner.LegReplan) {
	for _, f := range r.Findings {
		if r.Answer == planner.Stopped || r.Answer == planner.NoAnswer {
			out.Stop = append(out.Stop, v.stopped(&f))
		} else {
			out.Open = append(out.Open, f.Sentence())
		}
	}
	if r.Set == 0 {
		return
	}
	out.Answers = r.Answer == planner.OtherPiece || r.Answer == planner.Stopped || r.Answer == planner.NoAnswer || len(r.Offers) > 1
	other := func(l measure.MM) string { return fine(h.other, measure.Length(l)) }
	switch r.Answer {
	case planner.AsPlanned:
		h.say(gapToHold, v.small(r.Hold), other(r.Hold)+", as drawn")
	case planner.OtherGaps:
		until := ""
		if n := len(r.Gaps); n > 0 {
			until = ", otherwise than drawn until " + r.Gaps[n-1].Joint
		}
		h.say(gapToHold, v.small(r.Hold), other(r.Hold)+until)
	case planner.OtherPiece:
		h.say(gapToHold, v.small(r.Hold), other(r.Hold))
		out.Open = append(out.Open, v.otherPieces(r))
	case planner.CannotSay:
		h.say(gapToHold, "cannot say", "")
		if len(r.Findings) == 0 {
			out.Open = append(out.Open, "Records of people who did not know of each other differ on "+r.Last+": measure or look once more.")
		}
	}
	last := v.offWords(measure.Length(r.Off))
	switch {
	case r.Answer == planner.CannotSay:
		return
	case r.Measured == "":
		h.say(lastJoint, "not measured", "taken to end as drawn: "+r.Last)
	case r.Measured == r.Last:
		h.say(lastJoint, last, joined(" · ", otherOff(h.other, measure.Length(r.Off)), r.Last))
	default:
		h.say(lastJoint, last, "measured at "+r.Measured)
	}
	if len(r.Apart) > 0 {
		out.Open = append(out.Open, "Set beyond a gap that is still to be closed: "+strings.Join(r.Apart, ", ")+".")
	}
}

// offWords is how far a joint is off its place, and to which side along the laying.
func (v *siteView) offWords(l measure.Length) string {
	switch {
	case l > 0:
		return v.speech.Built(l) + " ahead"
	case l < 0:
		return v.speech.Built(-l) + " behind"
	}
	return "at its place"
}

func otherOff(s wording.Speech, l measure.Length) string {
	if l == 0 {
		return ""
	}
	return s.Built(l.Abs())
}

// rodAt is the one reading at the far end of the unit that is set: top of its wall, left, and right where that lies otherwise.
func (v *siteView) rodAt(h *hereMaker, out *Next, leg, u int, height string) {
	if v.answers == nil {
		return
	}
	row := v.rows[leg] + u - v.first[leg] + 1
	if v.fromEnd(leg) {
		row--
	}
	if row >= v.rows[leg+1] {
		return
	}
	place := &v.plan.SetOut[row]
	if place.Levels == nil || place.Levels.Wall == nil {
		if height != "" {
			out.Open = append(out.Open, "NOT CHECKED: no level of the wall at "+place.Place+" on file. Ask: whoever has the levels")
		}
		return
	}
	if strings.TrimSpace(height) == "" {
		h.level("wall top, far end", place.Levels.Wall)
		return
	}
	r, err := v.draft.rod(height, "", "top", out.Leg, v.answers)
	if err != nil {
		out.Open = append(out.Open, "The "+v.speech.Word(wording.Instrument)+" was not understood: "+err.Error())
		return
	}
	for _, one := range r.Rows {
		if one.Place != place.Place {
			continue
		}
		label := v.speech.Word(wording.RodReading) + ", wall top, far end"
		other := "wall top " + v.levelText(*place.Levels.Wall) + " · " + v.speech.Word(wording.Instrument) + " " + r.Height
		switch {
		case one.Left == "":
			h.say(label, one.Why, "")
		case one.Right == "":
			h.say(label, one.Left, other)
		default:
			h.say(label+", left wall", one.Left, "right wall "+one.Right+" · "+other)
		}
	}
}

// nextLayer is the layer that comes next beside a unit.
func (v *siteView) nextLayer(out *Next, leg, u int) {
	s := v.unitState(v.is(), leg, u)
	out.Layer = 1
	for _, l := range s.Layers {
		if l.Placed.Is == field.Yes && l.Number >= out.Layer {
			out.Layer = l.Number + 1
		}
	}
	layer := v.speech.Word(wording.Layer)
	out.What = fmt.Sprintf("%s %d, from the bottom", layer, out.Layer)
	switch n := v.layersOf(out.Leg); {
	case out.Layer < n:
		out.What = fmt.Sprintf("%s %d of %d, from the bottom", layer, out.Layer, n)
	case out.Layer == n:
		out.What = fmt.Sprintf("%s %d, the last of the plan: say whether it comes up to its level", layer, n)
	case n > 0:
		out.What = fmt.Sprintf("%s %d, the plan has %d: nobody recorded yet that the fill is up to its level", layer, out.Layer, n)
	}
	if s.Set.Is != field.Yes {
		out.Open = append(out.Open, out.Place+" is not recorded as set.")
	}
}
