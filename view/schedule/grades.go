package schedule

import (
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/planner"
	"trenchwright/solve/levelling"
	"trenchwright/view/table"
)

// Laser is a part of a grade that one setting of the laser and one reading serve: units of one height. Everything below a
// wall lies equally deep under it all along, so what a rod reads on one of these things it reads everywhere.
type Laser struct {
	Grade      planner.GradeRun
	From, To   planner.SetOut         // places
	Begins     string                 // From as a sheet names it: where a unit steps, by the unit that the part begins with
	Ends       string                 // and To, by the unit that it ends with
	ReadOn     string                 // what the one reading is taken on, in the job's words
	Setting    levelling.GradeSetting // its reading counts only where there is a beam
	Beam       *measure.Length        // above what is read on, where the laser stands; nil: not on file
	Formation  *measure.Length        // how much more a rod reads there than on ReadOn; nil: not on file
	Wall       *measure.Length        // how much less it reads on the top of the wall
	Impossible string                 // why no laser is set here
	Joints     []levelling.GradeJoint // with the levels of ReadOn
}

// Lasers are the parts of all grades, leg by leg, up-chainage.
func (s Set) Lasers() []Laser {
	var out []Laser
	at := map[string]int{}
	for i, r := range s.plan.SetOut {
		at[r.Leg+" "+r.Place] = i
	}
	for _, g := range s.plan.Grades {
		from, ok := at[g.Leg+" "+g.From]
		to, also := at[g.Leg+" "+g.To]
		if !ok || !also || to <= from {
			continue
		}
		for _, part := range partsOf(s.plan.SetOut, from, to) {
			if l, ok := s.laser(g, s.plan.SetOut[part[0]:part[1]+1]); ok {
				l.Begins, l.Ends = s.side(part[0], true), s.side(part[1], false)
				out = append(out, l)
			}
		}
	}
	return out
}

// partsOf are the stretches of rows between two places on which everything lies equally deep under the walls.
func partsOf(rows []planner.SetOut, from, to int) [][2]int {
	var out [][2]int
	for a := from; a < to; {
		b := a + 1
		for b < to && sameDepths(rows[a].Levels, rows[b].Levels) {
			b++
		}
		out = append(out, [2]int{a, b})
		a = b
	}
	return out
}

// side is the place of a row of the set-out as a part of a grade begins or ends there: end of G-005 or start of G-006 where
// these two stand otherwise, G-005/G-006 where they do not.
func (s Set) side(i int, begins bool) string {
	r := s.plan.SetOut[i]
	first, second, joint := strings.Cut(r.Place, "/")
	switch {
	case !joint || i == 0 || sameDepths(s.plan.SetOut[i-1].Levels, r.Levels):
		return r.Place
	case begins:
		return "start of " + second
	}
	return "end of " + first
}

func sameDepths(a, b *planner.Levels) bool {
	if a == nil || b == nil {
		return a == b
	}
	for _, one := range [][2]*measure.Length{{under(a, a.Underside), under(b, b.Underside)}, {under(a, a.Formation), under(b, b.Formation)}} {
		if (one[0] == nil) != (one[1] == nil) || one[0] != nil && (*one[0]-*one[1]).Abs() > measure.Micrometre {
			return false
		}
	}
	return true
}

// under is how far a level lies under the top of the wall.
func under(l *planner.Levels, level *float64) *measure.Length {
	if l.Wall == nil || level == nil {
		return nil
	}
	return new(measure.FromMetres(*l.Wall) - measure.FromMetres(*level))
}

// laser sets one part out. The laser stands at its low end and looks uphill, as the run is laid.
func (s Set) laser(g planner.GradeRun, rows []planner.SetOut) (Laser, bool) {
	last := len(rows) - 1
	out := Laser{Grade: g, From: rows[0], To: rows[last], ReadOn: s.speech.StandsOn(rows[0].Pad != "")}
	if rows[0].Levels == nil {
		return Laser{}, false
	}
	deep := under(rows[0].Levels, rows[0].Levels.Underside)
	if deep == nil {
		return Laser{}, false
	}
	if f := under(rows[0].Levels, rows[0].Levels.Formation); f != nil {
		out.Formation = new(*f - *deep)
	}
	out.Wall = deep
	for k, r := range rows {
		z, ok := leftWall(r, k == last)
		if !ok {
			return Laser{}, false
		}
		out.Joints = append(out.Joints, levelling.GradeJoint{Name: r.Place, Chainage: measure.Length(r.Chainage), Level: z - *deep})
	}
	if rows[0].Place == g.From { // the level is that of the end itself, not of the middle of a gap
		out.Joints[0].Chainage = measure.Length(g.FromMM)
	}
	if rows[last].Place == g.To {
		out.Joints[last].Chainage = measure.Length(g.ToMM)
	}
	line := levelling.GradeLine{Joints: out.Joints, Wall: levelling.LeftWall, AtLast: out.Joints[last].Level < out.Joints[0].Level, Beam: measure.Metre,
		DialStep: planner.DialStep(s.levels), Tolerance: nil}
	if s.levels.Beam.Known {
		out.Beam, line.Beam = &s.levels.Beam.Value, s.levels.Beam.Value
	}
	if s.rules.BedTol.Known {
		line.Tolerance = &s.rules.BedTol.Value
	}
	var said finding.List
	if out.Setting, said = line.Set(); len(said) > 0 {
		out.Impossible = said[0].Text
	}
	return out, true
}

// leftWall is the level of the left wall where a part begins or, at its last place, ends.
func leftWall(r planner.SetOut, last bool) (measure.Length, bool) {
	if r.Levels == nil {
		return 0, false
	}
	z := r.Levels.Walls[2]
	if last {
		z = r.Levels.Walls[0]
	}
	if z == nil {
		z = r.Levels.Wall
	}
	if z == nil {
		return 0, false
	}
	return measure.FromMetres(*z), true
}

// GradePlaces is how many decimals of a percent grades have on paper: as many as the dial of a laser takes.
const GradePlaces = 3

func percent(key string) table.Column {
	return table.Column{Key: key, Head: key, Unit: "%", Kind: table.KindDecimal, Places: GradePlaces}
}

// Grades are the settings of the laser: per grade from joint, to joint, what the dial is set to, and the one reading that is
// held; no table where the plan has no grades.
func (s Set) Grades() []table.Table {
	lasers := s.Lasers()
	if len(lasers) == 0 {
		return nil
	}
	reading := s.speech.Word(wording.RodReading)
	t := table.Table{Name: "grades", Title: "Grades, and the one " + reading + " of each", Columns: []table.Column{
		text("leg", "leg"), text("from", "from"), text("to", "to"), s.surveyed("from_at", "from"), s.surveyed("to_at", "to"), s.surveyed("length", "length"), percent("grade"),
		text("laser", "laser stands at"), percent("dial"), text("on", "read on"), s.surveyed("reading", reading),
		s.surveyed("formation", s.say("%s, more", wording.Formation)), s.surveyed("wall", "wall top, less"), s.fine("worst", "furthest off"), text("where", "there"), text("verdict", "verdict"), text("note", "look at"),
	}}
	t.Notes = s.notes(s.say("%s readings along the left wall, looking %s; one serves every joint from the first to the last of its row. grade: %s, negative falls; dial: rising away from the laser", capital(s.speech.Word(wording.Rod)), wording.UpChainage, wording.UpChainage),
		"the laser stands at the low end and looks to the other; how high its beam runs there above what is read on is the reading: as the job states it, or what is read there first",
		s.say("more, less: by how much the %s reads more on the %s, and less on the top of the wall, all along", wording.Rod, wording.Formation),
		"furthest off: what the step of the dial leaves between the level that the reading gives and the one wanted, + too high")
	for _, l := range lasers {
		t.Rows = append(t.Rows, s.gradeRow(l))
	}
	return []table.Table{t}
}

func (s Set) gradeRow(l Laser) []table.Cell {
	at, from, to := table.Length, measure.Length(l.From.Chainage), measure.Length(l.To.Chainage)
	row := []table.Cell{table.Text(l.Grade.Leg), table.Text(l.Begins), table.Text(l.Ends), at(from), at(to), at(to - from), number(strings.TrimSuffix(l.Grade.Grade, " %"))}
	if l.Impossible != "" {
		return append(append(row, make([]table.Cell, 9)...), table.Text(l.Impossible))
	}
	x := l.Setting
	reading := table.Text("NOT CHECKED: no height of the beam on file. Ask: whoever sets the laser")
	if l.Beam != nil {
		reading = table.Length(x.Reading)
	}
	formation := table.Text("NOT CHECKED: " + s.say("no thickness of the %s on file. Ask: the engineer", wording.Bed))
	if l.Formation != nil {
		formation = table.Length(*l.Formation)
	}
	verdict := string(x.Verdict)
	if x.Missing != nil {
		verdict = x.Missing.Text
	}
	stands := l.Ends
	if x.Up {
		stands = l.Begins
	}
	row = append(row, table.Text(stands), number(strings.TrimSuffix(x.Dial.Percent(4), " %")), table.Text(l.ReadOn), reading, formation, table.Length(*l.Wall))
	worst, where := x.Off[x.Worst], l.Joints[x.Worst].Name
	if worst.Abs() < measure.Micrometre {
		worst, where = 0, ""
	}
	return append(row, table.Length(worst), said(where), table.Text(verdict), said(l.note()))
}

// fine is a column of small differences: tenths of a millimetre, thousandths of a foot.
func (s Set) fine(key, head string) table.Column {
	if s.speech.Imperial {
		return s.surveyed(key, head)
	}
	return s.length(key, head)
}

func (l Laser) note() string {
	var said []string
	if l.Grade.Stepped {
		said = append(said, "stepped")
	}
	if !l.Grade.OnStep {
		said = append(said, "off the laser's step")
	}
	return strings.Join(said, ", ")
}
