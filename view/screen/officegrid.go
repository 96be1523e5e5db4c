package screen

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/field"
	"trenchwright/job/planner"
)

// Grid is where the office keys in what came back on a day card: one row a place, in laying order, with what was planned and what is
// recorded already beside the boxes.
type Grid struct {
	Leg    string     `json:"leg"`
	Legs   []NextLeg  `json:"legs"`
	From   string     `json:"from"` // the first place shown
	On     string     `json:"on"`   // the first place behind those shown; empty: the leg ends here
	Back   string     `json:"back"` // where those before them begin; empty: the leg begins here
	Of     string     `json:"of"`   // what levels are of
	Levels []GridOf   `json:"levels"`
	Heads  []GridHead `json:"heads"` // of the boxes
	Rows   []GridRow  `json:"rows"`
	Open   []string   `json:"open"` // what nobody can hold these readings against
}

// GridOf is one thing whose level a card may have.
type GridOf struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

// GridHead is the head of one box.
type GridHead struct {
	Name  string `json:"name"`  // off, left, right, level
	Label string `json:"label"` // far end, ahead or behind
	Unit  string `json:"unit"`  // that a bare number is taken in
}

// GridRow is one place with the joint at its far end.
type GridRow struct {
	Place string    `json:"place"`
	Joint string    `json:"joint"` // empty: nothing follows
	Key   string    `json:"key"`
	Strip float64   `json:"strip"`
	Piece string    `json:"piece"`
	Boxes []GridBox `json:"boxes"` // one for each head
}

// GridBox is what one box may be filled with.
type GridBox struct {
	Shut    bool   `json:"shut"` // there is nothing here to measure
	Planned string `json:"planned"`
	Has     string `json:"has"` // what is recorded already
}

// gridRows is how many rows come at once, as many as a day card has.
const gridRows = 30

// gridHeads are the boxes of a row.
var gridHeads = [...]string{"off", "left", "right", "level"}

// grid is a leg from a place on.
func (v *siteView) grid(q *question) (Grid, error) {
	out := Grid{Legs: []NextLeg{}, Levels: v.levelled(), Rows: []GridRow{}, Open: []string{}}
	s, leg, at := v.is(), -1, strings.TrimSpace(q.From)
	if u, ok := v.unitAt[at]; ok {
		leg = v.legs[v.plan.Units[u].Leg]
	} else if at != "" {
		return out, fmt.Errorf("there is no place %q on this run: write the first one of the card, for example %s", at, v.plan.Units[0].Mark)
	}
	for _, i := range v.order {
		n, set := v.first[i+1]-v.first[i], 0
		for u := v.first[i]; u < v.first[i+1]; u++ {
			if v.unitState(s, i, u).Set.Is == field.Yes {
				set++
			}
		}
		if n > 0 && (leg < 0 && (v.plan.Legs[i].Name == q.Leg || q.Leg == "" && set < n)) {
			leg = i
		}
		out.Legs = append(out.Legs, NextLeg{v.plan.Legs[i].Name, fmt.Sprintf("%d of %d set", set, n), n - set})
	}
	if leg < 0 {
		leg = v.order[0]
	}
	out.Leg = v.plan.Legs[leg].Name
	out.Of = v.levelOf(q.Fields["of"])
	v.gridOf(&out, leg, at)
	return out, nil
}

// gridOf fills the rows: from a place on, or else from the first that is not set.
func (v *siteView) gridOf(out *Grid, leg int, at string) {
	s, units := v.is(), v.laying(leg)
	first := slices.IndexFunc(units, func(u int) bool {
		if at != "" {
			return v.plan.Units[u].Mark == at
		}
		return v.unitState(s, leg, u).Set.Is != field.Yes
	})
	if first < 0 {
		first = max(0, len(units)-gridRows)
	}
	last := min(len(units), first+gridRows)
	for n := first; n < last; n++ {
		out.Rows = append(out.Rows, v.gridRow(leg, units[n], out.Of))
	}
	if first < len(units) {
		out.From = v.plan.Units[units[first]].Mark
	}
	if last < len(units) {
		out.On = v.plan.Units[units[last]].Mark
	}
	if first > 0 {
		out.Back = v.plan.Units[units[max(0, first-gridRows)]].Mark
	}
	bare, level := "mm", v.draft.words().CoordUnit
	if v.speech.Imperial {
		bare = "in"
	}
	name := out.Levels[slices.IndexFunc(out.Levels, func(o GridOf) bool { return o.ID == out.Of })].Name
	out.Heads = []GridHead{
		{"off", "far end ahead", bare + ", − behind"}, {"left", "gap, left wall", bare}, {"right", "gap, right wall", bare}, {"level", name + ", far end, left", level},
	}
	if !v.job.Rules.EndTol.Known {
		out.Open = append(out.Open, finding.NoneOnFile("tolerance for where the end of a "+v.speech.Word(wording.Unit)+" lies", "whoever wrote the contract", finding.Where{}).Sentence())
	}
	if tol, what := v.tolerance(out.Of); !tol.Known {
		out.Open = append(out.Open, finding.NoneOnFile(what, "whoever wrote the contract", finding.Where{}).Sentence())
	}
	if j := v.farJoint(leg, units[first%max(1, len(units))]); j != nil && j.GapMin >= j.GapMax {
		out.Open = append(out.Open, finding.NoneOnFile("window of the gaps", "the supplier", finding.Where{}).Sentence())
	}
}

// levelled are the things whose level at a joint a card may have.
func (v *siteView) levelled() []GridOf {
	w := v.speech.Word
	stands := v.standsOn()
	of := "bed"
	if stands == wording.Pad {
		of = "pad"
	}
	return []GridOf{{"wall", "wall top"}, {of, w(stands)}, {"formation", w(wording.Formation)}}
}

func (v *siteView) levelOf(id string) string {
	if slices.ContainsFunc(v.levelled(), func(o GridOf) bool { return o.ID == id }) {
		return id
	}
	return "wall"
}

// farJoint is the joint at the end of a unit on which the next one is laid; nil: the leg ends there.
func (v *siteView) farJoint(leg, u int) *planner.Joint {
	before := u
	if v.fromEnd(leg) {
		before--
	}
	if before < v.first[leg] || before+1 >= v.first[leg+1] {
		return nil
	}
	name := v.plan.Units[before].Mark + "/" + v.plan.Units[before+1].Mark
	if i := slices.IndexFunc(v.plan.Joints, func(j planner.Joint) bool { return j.Name == name }); i >= 0 {
		return &v.plan.Joints[i]
	}
	return nil
}

// farRow is the place of the set-out at that end.
func (v *siteView) farRow(leg, u int) (row int, ok bool) {
	row = v.draft.rows[leg] + u - v.first[leg] + 1
	if v.fromEnd(leg) {
		row--
	}
	return row, row < v.draft.rows[leg+1]
}

func (v *siteView) gridRow(leg, u int, of string) GridRow {
	one, state := &v.plan.Units[u], v.unitState(v.is(), leg, u)
	out := GridRow{Place: one.Mark, Key: "unit/" + one.Mark, Boxes: make([]GridBox, len(gridHeads))}
	out.Strip, _ = v.ends(u)
	out.Piece = v.size(one.Length)
	if one.Cut {
		out.Piece += ", cut"
	}
	off, left, right, level := &out.Boxes[0], &out.Boxes[1], &out.Boxes[2], &out.Boxes[3]
	off.Planned = "0"
	if state.Set.Is != field.No || state.Within {
		off.Has = string(state.Set.Is)
		if state.Set.Is == field.Yes {
			off.Has = v.endWords(state)
		}
	}
	left.Shut, right.Shut = true, true
	if j := v.farJoint(leg, u); j != nil {
		out.Joint = j.Name
		*left = GridBox{Planned: v.small(j.Gap), Has: v.gapHas(state.Left)}
		*right = GridBox{Planned: v.small(j.Gap), Has: v.gapHas(state.Right)}
		if before, _, _ := strings.Cut(j.Name, "/"); before != one.Mark { // the state has gaps at the unit before them along the leg
			was := v.unitState(v.is(), leg, u-1)
			left.Has, right.Has = v.gapHas(was.Left), v.gapHas(was.Right)
		}
	}
	level.Shut = true
	if row, ok := v.farRow(leg, u); ok {
		*level = GridBox{Planned: v.plannedText(row, of), Has: v.levelHas(state, of, v.fromEnd(leg))}
	}
	return out
}

func (v *siteView) plannedText(row int, of string) string {
	if l := v.planned(row, of); l != nil {
		return v.levelText(*l)
	}
	return "not on file"
}

// endWords is where the far end of a unit that is set came to lie.
func (v *siteView) endWords(u *field.UnitState) string {
	switch {
	case u.End != nil && !u.End.Known:
		return "cannot say"
	case u.End != nil:
		return v.offWords(u.End.Value)
	case u.Within:
		return "within"
	}
	return "set"
}

func (v *siteView) gapHas(m *field.Measured) string {
	switch {
	case m == nil:
		return ""
	case !m.Known:
		return "cannot say"
	}
	return v.small(measure.MM(m.Value))
}

// levelHas is what is recorded of a level at the far end of a unit, on its left.
func (v *siteView) levelHas(u *field.UnitState, of string, fromEnd bool) string {
	corner := 2
	if fromEnd {
		corner = 0
	}
	for _, l := range u.Levels {
		m := l.Four[corner]
		switch {
		case l.Of != of:
		case m != nil && m.Known:
			return v.levelText(m.Value.Metres())
		case m != nil:
			return "cannot say"
		case l.Said.Is == field.Yes:
			return "within"
		}
	}
	return ""
}
