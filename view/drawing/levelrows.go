package drawing

import (
	"slices"
	"strings"

	"trenchwright/job/planner"
)

// cardRow is one row of a set-out card: a place, or one of the two sides of a joint at which what is dug and laid steps.
type cardRow struct {
	k, unit             int // of the place and of the unit in the leg
	row                 planner.SetOut
	place               string
	on, wall, formation *float64 // what the unit stands on, its left wall's top, and the bottom of the dig, m
	grade               planner.GradeRun
	part                int // of the leg: rows that one setting of the laser serves
}

// cardRows are the rows of a leg. Where what lies under a joint steps there are two: the end of the unit before, on the grade
// that it came on, and the start of the unit behind.
func (d *draft) cardRows(rows []planner.SetOut) []cardRow {
	var out []cardRow
	for k, r := range rows {
		grade, _ := d.gradeBehind(r)
		here := cardRow{k: k, unit: k, row: r, place: shortPlace(r), grade: grade}
		if last := len(out) - 1; last >= 0 {
			here.part = out[last].part
			if out[last].grade != grade {
				here.part++
			}
		}
		if l := r.Levels; l != nil {
			here.on, here.wall, here.formation = standsOn(l), l.Wall, l.Formation
		}
		if s, ok := stepAt(rows, k); ok {
			before := cardRow{k: k, unit: k - 1, row: r, place: placeAside(r, true), formation: s.formation, grade: out[len(out)-1].grade, part: out[len(out)-1].part}
			if before.wall = r.Levels.Walls[0]; before.wall == nil {
				before.wall = r.Levels.Wall
			}
			if _, on, ok := rigid(rows, k-1, standsOn); ok {
				before.on = &on
			}
			out, here.place, here.part = append(out, before), placeAside(r, false), before.part+1
		}
		out = append(out, here)
	}
	return out
}

// before reports whether the row is the end of the unit before a joint that steps.
func (r cardRow) before() bool { return r.unit < r.k }

// standsOn is the level that a unit stands on: the top of its pad, or of the bed.
func standsOn(l *planner.Levels) *float64 {
	if l.PadTop != nil {
		return l.PadTop
	}
	return l.Underside
}

// placeAside is a joint by one of its units: end 005, start 006.
func placeAside(r planner.SetOut, before bool) string {
	first, second, ok := strings.Cut(r.Place, "/")
	switch {
	case !ok:
		return shortPlace(r)
	case before:
		return "end " + strings.TrimPrefix(first, r.Leg+"-")
	}
	return "start " + strings.TrimPrefix(second, r.Leg+"-")
}

// How much of a row the line of a grade takes, and the words of a second setting of the laser.
const (
	gradeLine = 0.5
	second    = 1
)

// cardParts are the rows of each card of a leg: setting by setting of the laser, long ones parted evenly, short ones put
// together two by two as long as they, the lines of their grades and the settings of the laser find room: fits says whether
// a card leaves its rows high enough.
func cardParts(rows []cardRow, fits func(part [2]int) bool) [][2]int {
	var parts [][2]int
	weight, alone := 0.0, false // of the last card, in rows; whether it holds one setting
	for from := 0; from < len(rows); {
		to := from + 1
		for to < len(rows) && rows[to].part == rows[from].part {
			to++
		}
		n := float64(to-from) + gradeLine
		if last := len(parts) - 1; last >= 0 && alone && weight+gradeLine+n+second <= mostOnCard && fits([2]int{parts[last][0], to}) { // the first grade needs its line too
			parts[last][1], alone, from = to, false, to
			continue
		}
		own := evenly(from, to, mostOnCard)
		for most := mostOnCard - 1; most > 1 && slices.ContainsFunc(own, func(p [2]int) bool { return !fits(p) }); most-- {
			own = evenly(from, to, most)
		}
		parts = append(parts, own...)
		weight = float64(to - parts[len(parts)-1][0])
		alone = parts[len(parts)-1][0] == from // the end of a long grade stays alone
		from = to
	}
	return parts
}

// evenly parts a stretch into as few pieces as hold most each, about equal ones.
func evenly(from, to, most int) [][2]int {
	n := (to - from + most - 1) / most
	var out [][2]int
	for i := range n {
		out = append(out, [2]int{from + (to-from)*i/n, from + (to-from)*(i+1)/n})
	}
	return out
}

// shownOn are the rows of a card: those of its part, and where a setting of the laser ends with it the joint that it ends at,
// for the laser may stand there; at a step its own row does.
func shownOn(rows []cardRow, part [2]int) []cardRow {
	show := append([]cardRow{}, rows[part[0]:part[1]]...)
	last := show[len(show)-1]
	if next := part[1]; next < len(rows) && rows[next].part != last.part && rows[next].k != last.k {
		end := rows[next]
		end.grade, end.part = last.grade, last.part
		show = append(show, end)
	}
	return show
}
