package onspot

import (
	"fmt"
	"slices"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/solve/levelling"
)

// levelText is a level in the job's own unit.
func (a *asking) levelText(metres float64) string {
	name, places := "m", 3
	if a.Job.Coordinates.Unit == job.CoordFeet || a.Job.Coordinates.Unit == job.CoordUSSurvey {
		name, places = "ft", 2
	}
	return fmt.Sprintf("%.*f %s", places, metres/a.Job.Coordinates.Unit.Metres(), name)
}

// typedLevel is a level as it is typed, in metres.
func (a *asking) typedLevel(name string) (float64, bool) {
	text := a.text(name)
	if text == "" {
		return 0, false
	}
	unit := measure.UnitMetre
	switch a.Job.Coordinates.Unit {
	case job.CoordFeet, job.CoordUSSurvey:
		unit = measure.UnitFoot
	}
	r, err := measure.ParseIn(text, unit)
	if err != nil {
		a.fault(name, err.Error())
		return 0, false
	}
	metres := r.Length.Metres()
	if a.Job.Coordinates.Unit == job.CoordUSSurvey && r.Unit == measure.UnitFoot {
		metres *= job.CoordUSSurvey.Metres() / job.CoordFeet.Metres()
	}
	return metres, true
}

var level = Moment{ID: "level", Name: "a road or yard level has changed", Stage: "bed",
	Fields: []Field{{Name: "level", Label: "new level of the top of the covers here", Like: "35.42"}},
	answer: func(a *asking) {
		want, ok := a.typedLevel("level")
		if !ok {
			return
		}
		j := a.Job
		j.Levels.Pins = append(slices.Clone(j.Levels.Pins), job.Pin{ID: "as-typed", Leg: a.leg().Name, At: a.Spot.At, Level: want / a.Job.Coordinates.Unit.Metres(), Of: "cover"})
		p := planner.Make(j, a.Surfaces...)
		for _, f := range p.Findings {
			if f.Kind == finding.Impossible || f.Kind == finding.Fault {
				a.say("%s", f.Text)
				if f.Try != "" {
					a.say("try: %s", f.Try)
				}
			}
		}
		a.compared(&p)
	}}

// compared says what another plan of the same run lays higher or lower.
func (a *asking) compared(p *planner.Plan) {
	is := map[string]float64{}
	for _, r := range p.SetOut {
		if r.Level != nil {
			is[r.Leg+r.Place] = *r.Level
		}
	}
	lies := map[string]bool{}
	for _, u := range a.Plan.Units {
		lies[u.Mark] = u.Lies
	}
	changed, said := 0, 0
	for _, r := range a.Plan.SetOut {
		now, there := is[r.Leg+r.Place]
		if r.Level == nil || !there {
			continue
		}
		by := measure.FromMetres(now - *r.Level)
		if by.Abs() < measure.Millimetre/2 {
			continue
		}
		changed++
		if r.Leg == a.leg().Name && said < 12 {
			said++
			a.say("%s: wall top %s, %s %s", r.Place, a.levelText(now), by.Abs(), map[bool]string{true: "higher", false: "lower"}[by > 0])
		}
	}
	switch {
	case changed == 0:
		a.say("no wall top changes by half a millimetre or more")
	default:
		a.say("%d of %d places change; falls and limits were held as the job has them", changed, len(a.Plan.SetOut))
		a.say("nothing is changed yet: put the level onto the run as a pin, and the plan is a revision")
	}
}

var instrument = Moment{ID: "instrument", Name: "the benchmark or the instrument is in doubt", Stage: "bed",
	First:  "No level is set out from it until it is known again; what was shot since its last check is on the list of the records",
	Fields: []Field{{Name: "mid-a", Label: "half way, on peg A", Like: "2.340 m"}, {Name: "mid-b", Label: "half way, on peg B", Like: "1.795 m"}, {Name: "end-a", Label: "from beyond B, on peg A", Like: "1.985 m"}, {Name: "end-b", Label: "from beyond B, on peg B", Like: "1.435 m"}, {Name: "apart", Label: "pegs stand apart", Like: "40 m"}, {Name: "beyond", Label: "second place beyond B by", Like: "5 m"}},
	answer: func(a *asking) {
		var read [6]measure.Length
		for i, name := range []string{"mid-a", "mid-b", "end-a", "end-b", "apart", "beyond"} {
			l := a.length(name)
			if l == nil {
				return
			}
			read[i] = *l
		}
		t := levelling.MidAndBeyond(read[4], read[5], read[0], read[1], read[2], read[3])
		c, faults := t.Test()
		for _, f := range faults {
			a.out.Faults = append(a.out.Faults, f.Text)
		}
		if len(faults) > 0 {
			return
		}
		sight := read[4]
		by := c.Over(sight)
		a.say("peg B stands %s %s peg A", c.True.Abs(), map[bool]string{true: "above", false: "below"}[c.True > 0])
		a.say("the line of sight %s: on a sight of %s it reads %s %s", map[bool]string{true: "rises", false: "falls"}[by > 0], sight, by.Abs(), map[bool]string{true: "too much", false: "too little"}[by > 0])
		a.say("with a level line the second place would have read %s on A and %s on B", c.Corrected.A, c.Corrected.B)
		a.open("limit for the collimation error", "whoever answers for the instruments")
	}}

var reading = Moment{ID: "reading", Name: "tenths against inches", Stage: "bed",
	Fields: []Field{{Name: "reading", Label: "as it is written", Like: "0.65 ft"}},
	answer: func(a *asking) {
		l := a.length("reading")
		if l == nil {
			return
		}
		a.say("%.4f ft = %s = %.2f in = %.1f mm", l.Metres()/0.3048, measure.Format{System: measure.Imperial}.Length(*l), l.Metres()/0.0254, l.Metres()*1000)
		tenths := l.Metres() / 0.3048
		feet := float64(int(tenths))
		digits := (tenths - feet) * 10
		wrong := feet*0.3048 + digits*0.0254
		if off := measure.FromMetres(wrong) - *l; off.Abs() >= measure.Millimetre && digits < 12 {
			a.say("read as %g ft and %.2f in it would be %s, off by %s", feet, digits, measure.FromMetres(wrong), off.Abs())
		}
	}}

var bed = Moment{ID: "bed", Name: "the bed is high or low at a joint", Stage: "bed",
	Fields: []Field{{Name: "off", Label: "off its level, higher above 0", Like: "-6 mm"}},
	answer: func(a *asking) {
		off := a.length("off")
		if off == nil {
			return
		}
		switch {
		case *off > 0:
			a.say("cut %s here", *off)
		case *off < 0:
			a.say("fill %s here", -*off)
		}
		r := a.Job.Rules
		if r.BedTol.Known {
			verdict := "within"
			if off.Abs() > r.BedTol.Value {
				verdict = "beyond"
			}
			a.say("the tolerance of the bed is %s: it lies %s it", r.BedTol.Value, verdict)
		} else {
			a.open("tolerance of the bed", "whoever wrote the contract")
		}
		a.say("left as it is, the end of the unit that is set on it lies %s %s, and the next joint has a lip of up to %s until the bed behind it is set to it", off.Abs(), map[bool]string{true: "high", false: "low"}[*off > 0], off.Abs())
		if r.LipLimit.Known {
			verdict := "within"
			if off.Abs() > r.LipLimit.Value {
				verdict = "beyond"
			}
			a.say("the limit of a lip is %s: that is %s it", r.LipLimit.Value, verdict)
		} else {
			a.open("limit for the lip at a joint", "whoever wrote the contract")
		}
		i := a.unit()
		for _, k := range []int{i, i + 1} {
			if i >= 0 && k < len(a.Plan.Units) && a.Plan.Units[k].Leg == a.leg().Name {
				u := &a.Plan.Units[k]
				a.say("%s: its middle moves by %s, its grade by %.2f %%", u.Mark, (*off / 2).Abs(), 100*off.Abs().Metres()/measure.Length(u.Length).Metres())
			}
		}
	}}
