package planner

import (
	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/solve/levelling"
)

// LaserGrade is one grade as a laser holds it: what is set, where, and the one reading that serves all of its joints.
type LaserGrade struct {
	Leg      string      `json:"leg"`
	From     string      `json:"from"` // place
	To       string      `json:"to"`
	Joints   int         `json:"joints"`
	Wall     string      `json:"wall"`       // whose line the reading is told for
	Laser    string      `json:"laser_at"`   // the place it stands at, where the leg's laying begins
	Up       bool        `json:"looks_up"`   // up-chainage
	Grade    string      `json:"grade"`      // up-chainage, rising above nought
	Dial     string      `json:"dial"`       // seen from the laser, rising away from it above nought
	Beam     *float64    `json:"beam_m"`     // level of the beam at the laser's joint
	Reading  measure.MM  `json:"reading_mm"` // on the left wall
	Right    *measure.MM `json:"right_mm"`   // on the right wall; null: it changes along the grade
	Seen     bool        `json:"seen"`
	Why      string      `json:"why"`          // why not
	Worst    measure.MM  `json:"worst_off_mm"` // of a joint from what the reading gives
	WorstAt  string      `json:"worst_at"`
	Verdict  string      `json:"verdict"`
	drop     measure.Length
	straight []levelling.GradeJoint
	right    []measure.Length
}

// gradesFor works out the grades of the plan for a laser.
func (a *Answers) gradesFor(q RodQuestion, out *RodAnswer) {
	legs, rows := a.rowsOf(q.Leg)
	for i, leg := range legs {
		for _, g := range a.b.plan.Grades {
			if g.Leg != a.legs[leg].id {
				continue
			}
			for _, part := range a.straights(g, rows[i], q.Of) {
				a.setLaser(q, leg, part, out)
			}
		}
	}
}

// straights are the stretches of a grade in which what the rod is held on lies equally far below the wall tops: where another
// supply begins, so does another reading. One joint alone is no stretch.
func (a *Answers) straights(g GradeRun, rows []SetOut, of string) []LaserGrade {
	var out []LaserGrade
	for k := range rows {
		r := &rows[k]
		left, right, ok := rodLevel(r, of)
		if !ok || r.Levels == nil || r.Levels.Wall == nil || r.Chainage < g.FromMM || r.Chainage > g.ToMM {
			continue
		}
		drop := measure.FromMetres(*r.Levels.Wall) - left
		if z := r.before(of); z != nil && r.Levels.Before.Wall != nil && len(out) > 0 {
			if s, was := &out[len(out)-1], measure.FromMetres(*r.Levels.Before.Wall)-*z; was == s.drop && was != drop { // the stretch before ends here
				s.take(r, *z, s.right[len(s.right)-1])
			}
		}
		if n := len(out); n == 0 || out[n-1].drop != drop {
			out = append(out, LaserGrade{Leg: g.Leg, From: r.Place, Grade: g.Grade, drop: drop})
		}
		out[len(out)-1].take(r, left, right-left)
	}
	return out
}

// take adds a joint to a stretch, with what its right wall lies above its left.
func (s *LaserGrade) take(r *SetOut, left, across measure.Length) {
	s.To, s.Joints = r.Place, s.Joints+1
	s.straight = append(s.straight, levelling.GradeJoint{Name: r.Place, Chainage: measure.Length(r.Chainage), Level: left})
	s.right = append(s.right, across)
}

// DialStep is what a laser is set by: what the job says, or what is assumed, and said to be, where it says nothing.
func DialStep(l job.Levels) measure.Grade {
	if l.Setting.Known {
		return l.Setting.Value
	}
	return settingStep
}

// setLaser works out one stretch.
func (a *Answers) setLaser(q RodQuestion, leg int, s LaserGrade, out *RodAnswer) {
	if s.Joints < 2 {
		return
	}
	line := levelling.GradeLine{Joints: s.straight, Wall: levelling.LeftWall, DialStep: DialStep(a.b.job.Levels)}
	line.AtLast = a.b.plan.Legs[leg].LaidFrom == a.b.plan.Legs[leg].To
	at := s.straight[0]
	if line.AtLast {
		at = line.Last()
	}
	if q.Beam != nil {
		line.Beam = *q.Beam
	} else {
		line.Beam = *q.Height - at.Level
	}
	s.Wall, s.Laser, s.Up, s.Reading = string(line.Wall), at.Name, !line.AtLast, measure.MM(line.Beam)
	beam := at.Level + line.Beam
	s.Beam = metresOf(&beam)
	if line.Beam <= 0 {
		s.Why = a.b.tell("the beam would run %s below the level at %s", wording.Far(-line.Beam), at.Name)
		out.Grades = append(out.Grades, s)
		return
	}
	set, faults := line.Set()
	if len(faults) > 0 {
		for _, f := range faults {
			f.Kind = finding.Attention // of the set-up, not of the job
			out.Findings = append(out.Findings, f)
		}
		return
	}
	s.Dial, s.Worst, s.WorstAt, s.Verdict = set.Dial.Percent(3), measure.MM(set.Off[set.Worst]), s.straight[set.Worst].Name, string(set.Verdict)
	if s.Seen = q.Rod == nil || line.Beam <= *q.Rod; !s.Seen {
		s.Why = a.b.tell("%s above the end of the rod", wording.Far(line.Beam-*q.Rod))
	}
	if set.Missing != nil {
		out.NotChecked = append(out.NotChecked, set.Missing.Sentence())
	}
	same := true
	for _, d := range s.right {
		same = same && d == s.right[0]
	}
	if same {
		s.Right = mmp(line.Beam - s.right[0])
	}
	out.Grades = append(out.Grades, s)
}
