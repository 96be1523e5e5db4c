package schedule

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/planner"
	"trenchwright/view/table"
)

// SetOut is the set-out table: every joint's middle and both ends of every leg. Eastings, northings and levels are in the
// unit of the job's coordinates; US survey feet are not the feet that lengths are in, so metres stand beside them.
func (s Set) SetOut() table.Table {
	t := table.Table{Name: "set-out", Title: capital(s.speech.Word(wording.SetOut)), Columns: []table.Column{
		text("leg", "leg"), text("place", "place"), text("pad", s.speech.Word(wording.Pad)),
		s.surveyed("chainage", s.say("%s from the leg's first node", wording.Chainage))}}
	t.Columns = append(t.Columns, s.grid()...)
	t.Columns = append(t.Columns, angle("bearing", s.say("bearing %s", wording.UpChainage)))
	t.Columns = append(t.Columns, s.level("level", "wall top, where known")...)
	solved := slices.ContainsFunc(s.plan.SetOut, func(r planner.SetOut) bool { return r.Levels != nil })
	if solved {
		t.Columns = append(t.Columns, s.levelColumns()...)
	}
	h := s.plan.Job
	t.Notes = s.notes(s.say("%s of the run at the middle of each joint. %s are ground lengths; eastings and northings are grid", wording.Centreline, capital(s.speech.Word(wording.Chainages))),
		"coordinate system: "+h.Grid, "combined scale factor: "+strings.TrimSuffix(h.ScaleFactor+"; "+h.ScaleSource, "; "), "height datum: "+h.HeightDatum, h.DrawnLine)
	for _, g := range h.Surveys {
		t.Notes = append(t.Notes, fmt.Sprintf("ground, %s: %s; %s", g.Role, g.File, g.Source))
	}
	t.Notes = append(t.Notes, s.ownUnits()...)
	for _, r := range s.plan.SetOut {
		row := []table.Cell{table.Text(r.Leg), table.Text(r.Place), yes(r.Pad != "", "one"), mm(r.Chainage)}
		row = append(append(row, s.metres(&r.E)...), s.metres(&r.N)...)
		row = append(append(row, deg(math.Mod(r.Bearing, 360))), s.levelCell(r.Level)...)
		if solved {
			row = append(row, s.levelCells(r)...)
		}
		t.Rows = append(t.Rows, row)
	}
	if solved {
		t.Notes = append(t.Notes, s.say("levels are those of the %s that starts at each joint, of its left wall. Dig: from the ground as it is to the %s. Grade behind: %s from there on, negative falls", wording.Unit, wording.Formation, wording.UpChainage))
	}
	return t
}

// levelsOf are the levels of a place from the top down, each with its key and its head.
func (s Set) levelsOf(l *planner.Levels) []named {
	pad := s.speech.StandsOn(true)
	all := []named{{"finished", "finished ground", l.Finished}, {"cover", "top of cover", l.Cover}, {"invert", "invert", l.Invert},
		{"pad_top", pad, l.PadTop}, {"formation", s.speech.Word(wording.Formation), l.Formation}, {"existing", "ground as it is", l.Existing}}
	if d := s.plan.Drain; d != nil && d.Verdict == "found" {
		all = append(all, named{"drain", "underside of drain", l.Drain})
	}
	if !slices.ContainsFunc(s.plan.SetOut, func(r planner.SetOut) bool { return r.Levels != nil && r.Levels.Before != nil }) {
		return all
	}
	b := l.Before // of the unit before the joint, where it stands otherwise
	if b == nil {
		b = &planner.Before{}
	}
	return append(all, named{"wall_before", "wall top before", b.Wall}, named{"pad_top_before", pad + " top before", b.PadTop},
		named{"formation_before", s.speech.Word(wording.Formation) + " before", b.Formation})
}

type named struct {
	key, head string
	level     *float64
}

func (s Set) levelColumns() []table.Column {
	var out []table.Column
	for _, n := range s.levelsOf(&planner.Levels{}) {
		out = append(out, s.level(n.key, n.head)...)
	}
	depth := s.surveyed("dig", "depth of dig")
	if s.speech.Imperial {
		depth.Unit = "ft-in"
	}
	return append(out, text("dig_way", "cut or fill"), depth, decimal("grade_behind", "grade behind, %"))
}

func (s Set) levelCells(r planner.SetOut) []table.Cell {
	l := r.Levels
	if l == nil {
		l = &planner.Levels{}
	}
	var out []table.Cell
	for _, n := range s.levelsOf(l) {
		out = append(out, s.levelCell(n.level)...)
	}
	way, depth, grade := table.Cell{}, table.Cell{}, table.Cell{}
	if l.Existing != nil && l.Formation != nil {
		d := measure.FromMetres(*l.Existing) - measure.FromMetres(*l.Formation)
		way, depth = table.Text("cut ↓"), table.Length(d.Abs())
		if d < 0 {
			way = table.Text("fill ↑")
		}
	}
	const near = measure.MM(100 * measure.Millimetre) // a grade begins within a gap of its place
	for _, g := range s.plan.Grades {                 // in the order of the leg: the last that begins at or before the place
		if g.Leg == r.Leg && g.FromMM <= r.Chainage+near && !strings.HasPrefix(r.Place, "end of ") {
			grade = number(strings.TrimSuffix(g.Grade, " %"))
		}
	}
	return append(out, way, depth, grade)
}

// capital begins a title or a sentence with a word.
func capital(word string) string { return strings.ToUpper(word[:1]) + word[1:] }

// surveyed is a length along the run: metres, or feet in an imperial job.
func (s Set) surveyed(key, head string) table.Column {
	c := table.Column{Key: key, Head: head, Kind: table.KindLength, Unit: "m", Places: 3}
	if s.speech.Imperial {
		c.Unit = "ft"
	}
	return c
}
