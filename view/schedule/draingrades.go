package schedule

import (
	"math"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/view/table"
)

// DrainGrades are the settings of the laser for the drain: as Grades has them for the bed; no table where the plan has none.
func (s Set) DrainGrades() []table.Table {
	lasers := s.DrainLasers()
	if len(lasers) == 0 {
		return nil
	}
	reading := s.speech.Word(wording.RodReading)
	t := table.Table{Name: "drain-grades", Title: "Grades of the drain, and the one " + reading + " of each", Columns: []table.Column{
		text("leg", "leg"), text("from", "from"), text("to", "to"), s.surveyed("from_at", "from"), s.surveyed("to_at", "to"), s.surveyed("length", "length"), percent("grade"),
		text("laser", "laser stands at"), percent("dial"), s.surveyed("reading", reading), s.surveyed("trench", "trench, more"), s.fine("worst", "furthest off"), text("note", "look at"),
	}}
	t.Notes = s.notes(s.say("%s readings on what the pipe lies on, in its middle: its underside; one serves all of a row. The drain is laid before its bed", capital(s.speech.Word(wording.Rod))),
		s.say("the beam runs as high there as for the %s; trench, more: by how much the %s reads more on the bottom of its trench", wording.Bed, wording.Rod))
	for _, l := range lasers {
		t.Rows = append(t.Rows, s.drainRow(l))
	}
	return []table.Table{t}
}

func (s Set) drainRow(l DrainLaser) []table.Cell {
	at, g := table.Length, l.Grade
	from, to := measure.Length(g.FromMM), measure.Length(g.ToMM)
	if l.From.Place == g.From {
		from = measure.Length(l.From.Chainage)
	}
	if l.To.Place == g.To {
		to = measure.Length(l.To.Chainage)
	}
	row := []table.Cell{table.Text(g.Leg), table.Text(g.From), table.Text(g.To), at(from), at(to), at(to - from), number(strings.TrimSuffix(g.Grade, " %"))}
	if l.Impossible != "" {
		return append(append(row, make([]table.Cell, 5)...), table.Text(l.Impossible))
	}
	reading := table.Text("NOT CHECKED: no height of the beam on file. Ask: whoever sets the laser")
	if r, ok := l.printed(s.paperStep()); ok {
		reading = table.Length(r)
	}
	trench := table.Text("NOT CHECKED: no thickness of what the drain lies on is on file. Ask: the engineer")
	if l.Formation != nil {
		trench = table.Length(*l.Formation)
	}
	stands := g.To
	if l.Setting.Up {
		stands = g.From
	}
	row = append(row, table.Text(stands), number(strings.TrimSuffix(l.Setting.Dial.Percent(4), " %")), reading, trench)
	worst := l.Setting.Off[l.Setting.Worst]
	if worst.Abs() < measure.Micrometre {
		worst = 0
	}
	return append(row, table.Length(worst), said(l.note()))
}

// printed is the reading between the levels as paper has them, in whole steps: that of the beam, and of what is read on where the
// laser stands. Whoever takes one from the other on a card finds it. There is none where nobody entered how high the beam runs.
func (l DrainLaser) printed(step measure.Length) (measure.Length, bool) {
	if l.Beam == nil || l.Bed == nil {
		return 0, false
	}
	low := l.Joints[len(l.Joints)-1].Level
	if l.Setting.Up {
		low = l.Joints[0].Level
	}
	whole := func(x measure.Length) measure.Length {
		return measure.Length(math.Floor(float64(x)/float64(step)+0.5)) * step
	}
	bed := measure.FromMetres(*l.Bed)
	above := *l.Beam + low - bed // of what a rod is read on for the bed
	return whole(bed) + whole(above) - whole(low), true
}

// paperStep is what levels on paper are whole numbers of, in the unit of the job's coordinates: 1 mm, or 0.01 ft; feet of the
// US survey, 2 ppm longer, are told apart by no reading of a rod.
func (s Set) paperStep() measure.Length {
	if s.coordinates == "" || s.coordinates == job.CoordMetres {
		return measure.Millimetre
	}
	return 3048 * measure.Micrometre
}
