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
	From   string     `json:"from"`  // the first place shown
	On     string     `json:"on"`    // the first place behind those shown; empty: the leg ends here
	Back   string     `json:"back"`  // where those before them begin; empty: the leg begins here
	Of     string     `json:"of"`    // what levels are of
	Whole  bool       `json:"whole"` // every box of a card has its own here
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
	Name  string `json:"name"`  // off, left, right, level; of a whole card line, a to d (corners), covers as well
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

// wholeCard is what the field "boxes" says where every box of a card is keyed in, and not only those of every joint.
const wholeCard = "all"

// cornerBox are the boxes of the four corners of what a unit stands on, as forms name them: near end left and right, far end left and right
// as it is laid.
var cornerBox = [4]string{"a", "b", "c", "d"}

// atCorner is the corner of a unit, along its leg, that a box of the card is.
func (v *siteView) atCorner(leg, box int) int {
	if v.fromEnd(leg) {
		return (box + 2) % 4
	}
	return box
}

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
	out.Of, out.Whole = v.levelOf(q.Fields["of"]), q.Fields["boxes"] == wholeCard
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
		out.Rows = append(out.Rows, v.gridRow(leg, units[n], out))
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
	out.Heads = []GridHead{{"off", "far end ahead", bare + ", − behind"}}
	if out.Whole {
		out.Heads = append(out.Heads, GridHead{"line", "off the line", bare + ", − left"})
	}
	out.Heads = append(out.Heads, GridHead{"left", "gap, left wall", bare}, GridHead{"right", "gap, right wall", bare}, GridHead{"level", name + ", far end, left", level})
	if out.Whole {
		stands := v.speech.Word(v.standsOn())
		for i, where := range [4]string{"near left", "near right", "far left", "far right"} {
			out.Heads = append(out.Heads, GridHead{cornerBox[i], stands + ", " + where, level})
		}
		out.Heads = append(out.Heads, GridHead{"covers", "covers laid", ". all of them"})
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

func (v *siteView) gridRow(leg, u int, grid *Grid) GridRow {
	one, state, of := &v.plan.Units[u], v.unitState(v.is(), leg, u), grid.Of
	out := GridRow{Place: one.Mark, Key: "unit/" + one.Mark, Boxes: []GridBox{}}
	out.Strip, _ = v.ends(u)
	out.Piece = v.size(one.Length)
	if one.Cut {
		out.Piece += ", cut"
	}
	off, left, right, level := GridBox{Planned: "0"}, GridBox{Shut: true}, GridBox{Shut: true}, GridBox{Shut: true}
	if state.Set.Is != field.No || state.Within {
		off.Has = string(state.Set.Is)
		if state.Set.Is == field.Yes {
			off.Has = v.endWords(state)
		}
	}
	if j := v.farJoint(leg, u); j != nil {
		out.Joint = j.Name
		left = GridBox{Planned: v.small(j.Gap), Has: v.gapHas(state.Left)}
		right = GridBox{Planned: v.small(j.Gap), Has: v.gapHas(state.Right)}
		if before, _, _ := strings.Cut(j.Name, "/"); before != one.Mark { // the state has gaps at the unit before them along the leg
			was := v.unitState(v.is(), leg, u-1)
			left.Has, right.Has = v.gapHas(was.Left), v.gapHas(was.Right)
		}
	}
	if row, ok := v.farRow(leg, u); ok {
		level = GridBox{Planned: v.plannedText(row, of), Has: v.levelHas(state, of, v.fromEnd(leg))}
	}
	out.Boxes = append(out.Boxes, off)
	if grid.Whole {
		out.Boxes = append(out.Boxes, GridBox{Planned: "0", Has: v.lineHas(state.Line)})
	}
	if out.Boxes = append(out.Boxes, left, right, level); grid.Whole {
		out.Boxes = append(append(out.Boxes, v.cornerBoxes(leg, u, state)...), v.coversBox(u, state))
	}
	return out
}

// cornerBoxes are the levels of what a unit stands on, corner by corner.
func (v *siteView) cornerBoxes(leg, u int, state *field.UnitState) []GridBox {
	of := "bed"
	if v.standsOn() == wording.Pad {
		of = "pad"
	}
	var is [4]*field.Measured
	for _, l := range state.Levels {
		if l.Of == of {
			is = l.Four
		}
	}
	planned := v.under.Level(v.plan.Units[u].Mark, of)
	out := make([]GridBox, len(cornerBox))
	for i := range out {
		at := v.atCorner(leg, i)
		if out[i].Planned = "not on file"; planned != nil {
			out[i].Planned = v.levelText(planned[at].Metres())
		}
		switch m := is[at]; {
		case m != nil && m.Known:
			out[i].Has = v.levelText(m.Value.Metres())
		case m != nil:
			out[i].Has = "cannot say"
		}
	}
	return out
}

// coversBox is how many covers a unit has, and how many of them lie.
func (v *siteView) coversBox(u int, state *field.UnitState) GridBox {
	out := GridBox{Planned: count(len(state.Covers), "cover", "covers"), Shut: len(state.Covers) == 0}
	lie := 0
	for _, c := range state.Covers {
		if c.Laid.Is == field.Yes {
			lie++
		}
	}
	if lie > 0 {
		out.Has = fmt.Sprintf("%d laid", lie)
	}
	return out
}

func (v *siteView) lineHas(m *field.Measured) string {
	switch {
	case m == nil:
		return ""
	case !m.Known:
		return "cannot say"
	}
	return v.saying().Aside(m.Value)
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
