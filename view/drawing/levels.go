package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job/planner"
	"trenchwright/view/schedule"
)

// solvedLevels reports whether the plan has the level of anything under a joint.
func (d *draft) solvedLevels() bool {
	return slices.ContainsFunc(d.plan.SetOut, func(r planner.SetOut) bool { return r.Levels != nil && r.Levels.Wall != nil })
}

// places are the rows of the set-out of each leg, along its axis: row k stands before unit k, the last row at the end.
func (d *draft) places() [][]planner.SetOut {
	out := make([][]planner.SetOut, len(d.plan.Legs))
	for _, r := range d.plan.SetOut {
		if leg, ok := d.legs[r.Leg]; ok {
			out[leg] = append(out[leg], r)
		}
	}
	return out
}

// levelFigure is a level in the unit of the job's coordinates, without it; empty: there is none.
func (d *draft) levelFigure(m *float64) string {
	if m == nil {
		return ""
	}
	metres, _, places := d.coordinateUnit()
	return fmt.Sprintf("%.*f", places, *m/metres)
}

// levelHead is the head of a column of levels.
func (d *draft) levelHead(name string) string {
	_, unit, _ := d.coordinateUnit()
	return name + " [" + unit + "]"
}

// rodFigure is what a rod reads: metres to the millimetre, or feet to the hundredth, as rods are divided.
func (d *draft) rodFigure(l measure.Length) string {
	if d.style.Format.System == measure.Imperial {
		return measure.Format{System: measure.Imperial, Survey: true, Places: 2}.Length(l)
	}
	return measure.Format{Survey: true, Places: 3}.Length(l)
}

// depthHead is the head of a column of depths; feet and inches bring their marks along.
func (d *draft) depthHead(name string) string {
	if d.style.Format.System == measure.Imperial {
		return name
	}
	return name + " [m]"
}

// depthFigure is a depth without its unit.
func (d *draft) depthFigure(l measure.MM) string { return strings.TrimSuffix(d.along(l), " m") }

// noGround stands where nobody surveyed the ground.
const noGround = "–"

// dig is what lies between the ground as it is and the formation at one place.
type dig struct {
	depth measure.MM // never negative
	fill  bool       // the formation lies above the ground
}

// word tells cut from fill by a word and an arrow.
func (g dig) word() string {
	if g.fill {
		return "fill ↑"
	}
	return "cut ↓"
}

func digAt(l *planner.Levels) (dig, bool) {
	if l == nil || l.Existing == nil || l.Formation == nil {
		return dig{}, false
	}
	depth := measure.FromMetres(*l.Existing) - measure.FromMetres(*l.Formation)
	return dig{measure.MM(depth.Abs()), depth < 0}, true
}

// gradeBehind is the grade that a leg goes on with from a place: at its end the one that it came on.
func (d *draft) gradeBehind(r planner.SetOut) (planner.GradeRun, bool) {
	const near = measure.MM(100 * measure.Millimetre) // a grade begins within a gap of its place
	all := d.grades[r.Leg]
	if len(all) == 0 {
		return planner.GradeRun{}, false
	}
	n, _ := slices.BinarySearchFunc(all, r.Chainage+near+1, func(g planner.GradeRun, at measure.MM) int { return cmp.Compare(g.FromMM, at) })
	return all[max(0, n-1)], true
}

// slope is a grade as it is said, looking up-chainage.
type slope struct{ word, arrow, size string }

func slopeOf(g planner.GradeRun) slope {
	number := strings.TrimSuffix(g.Grade, " %")
	if exact, err := measure.ParseGrade(g.Grade); err == nil {
		number = strings.TrimSuffix(exact.Value.Percent(schedule.GradePlaces), " %")
	}
	falls := strings.HasPrefix(number, "-")
	number = strings.TrimPrefix(number, "-")
	switch {
	case strings.Trim(number, "0.") == "":
		return slope{"level", "→", ""}
	case falls:
		return slope{"falls", "↘", number + " %"}
	}
	return slope{"rises", "↗", number + " %"}
}

// String is falls 0.550 % ↘.
func (s slope) String() string { return joined(" ", s.word, s.size, s.arrow) }

// signed is −0.550 %, for a column.
func (s slope) signed() string {
	switch s.word {
	case "falls":
		return "−" + s.size
	case "rises":
		return "+" + s.size
	}
	return "0.000 %"
}

// rigid is where something under a wall top lies at the two ends of the unit before which row k stands: a unit is rigid,
// so it lies as far under the wall at one end as at the other.
func rigid(rows []planner.SetOut, k int, of func(*planner.Levels) *float64) (from, to float64, ok bool) {
	if k+1 >= len(rows) {
		return 0, 0, false
	}
	a, b := rows[k].Levels, rows[k+1].Levels
	if a == nil || b == nil || a.Wall == nil || of(a) == nil {
		return 0, 0, false
	}
	end := b.Walls[0]
	if end == nil {
		end = b.Wall
	}
	if end == nil {
		return 0, 0, false
	}
	return *of(a), *end - (*a.Wall - *of(a)), true
}

// step is a place at which the unit before stands otherwise than the one behind, with the levels under the unit before.
type step struct {
	padTop, formation *float64
}

// stepAt tells whether what lies under row k steps there: the rows print the levels of the unit behind.
func stepAt(rows []planner.SetOut, k int) (step, bool) {
	if k == 0 || k+1 >= len(rows) {
		return step{}, false
	}
	const told = 0.0005 // m
	var s step
	found := false
	for _, one := range []struct {
		of   func(*planner.Levels) *float64
		into **float64
	}{{padTopOf, &s.padTop}, {formationOf, &s.formation}} {
		if _, before, ok := rigid(rows, k-1, one.of); ok {
			*one.into = &before
			if here := one.of(rows[k].Levels); here != nil && math.Abs(*here-before) > told {
				found = true
			}
		}
	}
	return s, found
}

func padTopOf(l *planner.Levels) *float64    { return l.PadTop }
func formationOf(l *planner.Levels) *float64 { return l.Formation }

// shortPlace is a place within its leg: start 001, 004/005, end 014.
func shortPlace(r planner.SetOut) string {
	return strings.ReplaceAll(placeWords(r, " "), r.Leg+"-", "")
}

// placeWords is a place in two words: those of the two units at a joint, or which end of which unit.
func placeWords(r planner.SetOut, by string) string {
	for _, end := range []string{"start", "end"} {
		if mark, ok := strings.CutPrefix(r.Place, end+" of "); ok {
			return end + by + mark
		}
	}
	first, second, ok := strings.Cut(r.Place, "/")
	if !ok {
		return r.Place
	}
	if by == " " {
		by = "/"
	}
	return first + by + second
}

// levelColumns are what the set-out says of levels, from the top down.
func (d *draft) levelColumns() []ledgerColumn {
	way := "cut ↓"
	if !d.allCut() {
		way = "dig"
	}
	on := d.words.padTop
	if !d.padded() {
		on = d.words.bedTop
	}
	out := []ledgerColumn{
		{head: d.levelHead("ground"), right: true}, {head: d.levelHead("finished"), right: true}, {head: d.levelHead("top of " + d.words.cover), right: true},
		{head: d.levelHead("wall top"), right: true}, {head: d.levelHead("invert"), right: true}, {head: d.levelHead(on), right: true, bold: true},
		{head: d.levelHead(d.words.formation), right: true}, {head: d.depthHead(way), right: true, bold: true}, {head: "grade [%]", right: true},
	}
	if d.drained() {
		out = append(out, ledgerColumn{head: d.levelHead("drain"), right: true})
	}
	return out
}

// padded reports whether anything stands on pads.
func (d *draft) padded() bool {
	return slices.ContainsFunc(d.plan.SetOut, func(r planner.SetOut) bool { return r.Levels != nil && r.Levels.PadTop != nil })
}

// drained reports whether the drain in the bed has levels.
func (d *draft) drained() bool { return d.plan.Drain != nil && d.plan.Drain.Verdict == "found" }

// allCut reports whether nothing is filled below the formation: then the head of a column says so, not every row.
func (d *draft) allCut() bool {
	return !slices.ContainsFunc(d.plan.SetOut, func(r planner.SetOut) bool { g, ok := digAt(r.Levels); return ok && g.fill })
}

func (d *draft) levelCells(r planner.SetOut, allCut, padded bool) []string {
	l := r.Levels
	if l == nil {
		l = &planner.Levels{Wall: r.Level}
	}
	depth := ""
	if g, ok := digAt(l); ok {
		depth = d.depthFigure(g.depth)
		if !allCut {
			depth = g.word() + " " + depth
		}
	}
	grade := ""
	if g, ok := d.gradeBehind(r); ok && !d.lastOfLeg(r) {
		grade = strings.TrimSuffix(slopeOf(g).signed(), " %")
	}
	on := l.PadTop
	if !padded {
		on = l.Underside
	}
	out := []string{d.levelFigure(l.Existing), d.levelFigure(l.Finished), d.levelFigure(l.Cover), d.levelFigure(l.Wall), d.levelFigure(l.Invert), d.levelFigure(on), d.levelFigure(l.Formation), depth, grade}
	if d.drained() {
		out = append(out, d.levelFigure(l.Drain))
	}
	return out
}

// lastOfLeg reports whether a place is where its leg ends.
func (d *draft) lastOfLeg(r planner.SetOut) bool { return strings.HasPrefix(r.Place, "end of ") }

// levelNote says how the columns of levels are read.
func (d *draft) levelNote() ledgerNote {
	text := fmt.Sprintf("Levels are those of the %s that starts at each joint, %s, and of its left wall. ground: as it is; finished: as it will be. cut ↓ and fill ↑: from the ground as it is to the %s. grade: %s from there on, negative falls",
		d.words.unit, d.words.upChainage, d.words.formation, d.words.upChainage)
	if d.drained() {
		text += ". drain: its underside"
	}
	return ledgerNote{text: text}
}
