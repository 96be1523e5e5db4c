package onspot

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/field"
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
		cannot := false
		for _, f := range p.Findings {
			if f.Kind == finding.Impossible || f.Kind == finding.Fault {
				cannot = true
				a.say("%s", f.Text)
				if f.Try != "" {
					a.say("try: %s", f.Try)
				}
			}
		}
		if !cannot {
			a.compared(&p)
		}
	}}

// compared says what another plan of the same run lays higher or lower.
func (a *asking) compared(p *planner.Plan) {
	is := map[string]float64{}
	for _, r := range p.SetOut {
		if r.Level != nil {
			is[r.Leg+r.Place] = *r.Level
		}
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
	a.proud(is)
	switch {
	case changed == 0:
		a.say("no wall top changes by half a millimetre or more")
	default:
		a.say("%d of %d places change; falls and limits were held as the job has them", changed, len(a.Plan.SetOut))
		a.say("nothing is changed yet: put the level onto the run as a pin, and the plan is a revision")
	}
}

// proud says which units lie already, and by how much they would stand proud of another plan, or below it: levels of wall tops by leg and
// place, in metres.
func (a *asking) proud(is map[string]float64) {
	lie, off, most, worst := 0, 0, measure.Length(0), ""
	for i := range a.Plan.Units {
		u := &a.Plan.Units[i]
		if lies, _ := a.lies(u); !lies || u.Leg != a.leg().Name {
			continue
		}
		lie++
		for _, r := range a.Plan.SetOut {
			now, there := is[r.Leg+r.Place]
			if r.Leg != u.Leg || r.Level == nil || !there || !slices.Contains(strings.Split(r.Place, "/"), u.Mark) {
				continue
			}
			stands := measure.FromMetres(*r.Level - now)
			if stands.Abs() < measure.Millimetre/2 {
				continue
			}
			if off++; stands.Abs() > most.Abs() {
				most, worst = stands, u.Mark
			}
		}
	}
	switch {
	case lie > 0 && off > 0:
		a.say("%d units of leg %s lie already; as planned %s stands %s %s the new levels, the most of them: lift them, or hold the new level from behind them", lie, a.leg().Name, worst, most.Abs(), map[bool]string{true: "above", false: "below"}[most > 0])
	case lie > 0:
		a.say("%d units of leg %s lie already; none of them by half a millimetre or more otherwise than the new levels", lie, a.leg().Name)
	}
}

var instrument = Moment{ID: "instrument", Name: "the benchmark or the instrument is in doubt", Stage: "bed",
	First: "No level is set out from it until it is known again; what was shot since its last check is read again",
	Fields: []Field{{Name: "instrument", Label: "which instrument, as it is recorded", Like: "level 3", Leave: true, From: func(p *Place) (string, string) {
		if all := p.instruments(); len(all) > 0 {
			return all[0], "the last one that levels were read with by the records"
		}
		return "", ""
	}}, {Name: "mid-a", Label: "half way, on peg A", Like: "2.340 m", Told: true}, {Name: "mid-b", Label: "half way, on peg B", Like: "1.795 m", Told: true}, {Name: "end-a", Label: "from beyond B, on peg A", Like: "1.985 m", Told: true}, {Name: "end-b", Label: "from beyond B, on peg B", Like: "1.435 m", Told: true}, {Name: "apart", Label: "pegs stand apart", Like: "40 m", Told: true}, {Name: "beyond", Label: "second place beyond B by", Like: "5 m", Told: true}},
	answer: func(a *asking) {
		switch name := a.text("instrument"); {
		case a.Site != nil && name != "":
			a.doubted(name)
		case a.Site != nil:
			a.say("no record names what it was read with")
		case name != "":
			a.say("nothing is recorded that was read with %s", name)
		}
		var read [6]measure.Length
		for i, name := range []string{"mid-a", "mid-b", "end-a", "end-b", "apart", "beyond"} {
			l := a.length(name)
			if l == nil {
				if i > 0 {
					a.fault(name, "nothing was typed; all six belong together")
				}
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

// doubted says what to read again when an instrument is doubted.
func (a *asking) doubted(name string) {
	if all := a.instruments(); !slices.Contains(all, name) {
		a.fault("instrument", fmt.Sprintf("nothing is recorded as read with %q; there is %s", name, cmp.Or(strings.Join(all, ", "), "none")))
		return
	}
	d := a.Site.Book.Doubt(name, "")
	for _, c := range d.Checks {
		met := map[field.Answer]string{field.Yes: "as it has to be", field.No: "not as it has to be, or not told", field.CantSay: "the records differ"}[c.Met.Is]
		a.say("recorded: %s checked%s: %s (%s)", name, before(" by ", c.Method), met, a.by(c.By))
	}
	if len(d.Checks) == 0 {
		a.say("recorded: no check of %s", name)
	}
	for i, one := range d.Again {
		if i == 12 {
			a.say("and %s more", counted(len(d.Again)-i, "stretch", "stretches"))
			break
		}
		where := one.From
		if one.To != "" && one.To != one.From {
			where += " to " + one.To
		}
		a.say("read again: %s, %s, %s", one.What, cmp.Or(where, "of no place"), counted(one.Places, "place", "places"))
	}
	a.say("%s in doubt; %d older than its last check that it met", counted(len(d.Records), "record is", "records are"), d.Before)
}

// before puts a word before a text; without it there is none either.
func before(word, text string) string {
	if text == "" {
		return ""
	}
	return word + text
}

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
	Fields: []Field{{Name: "off", Label: "off its level, higher above 0", Like: "-6 mm", From: func(p *Place) (string, string) {
		f, off := p.bedFound()
		if f == nil {
			return "", ""
		}
		_, by, _ := p.corners(f.Place, f.Of)
		return p.typed(off), p.by(by...)
	}}},
	answer: func(a *asking) {
		off := a.length("off")
		if off == nil {
			return
		}
		f, _ := a.bedFound()
		if a.from("off") == "as typed" {
			f = nil
		}
		lip := off.Abs()
		if f != nil && f.Lip != nil {
			lip = f.Lip.Step.Abs()
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
		if f != nil {
			a.bedAsRead(f)
		} else {
			a.say("left as it is, the end of the unit that is set on it lies %s %s, and the next joint has a lip of up to %s until the bed behind it is set to it", off.Abs(), map[bool]string{true: "high", false: "low"}[*off > 0], lip)
		}
		if r.LipLimit.Known {
			verdict := "within"
			if lip > r.LipLimit.Value {
				verdict = "beyond"
			}
			a.say("the limit of a lip is %s: %s is %s it", r.LipLimit.Value, lip, verdict)
		} else {
			a.open("limit for the lip at a joint", "whoever wrote the contract")
		}
		i := a.unit()
		for _, k := range []int{i, i + 1} {
			if f == nil && i >= 0 && k < len(a.Plan.Units) && a.Plan.Units[k].Leg == a.leg().Name {
				u := &a.Plan.Units[k]
				a.say("%s: its middle moves by %s, its grade by %.2f %%", u.Mark, (*off / 2).Abs(), 100*off.Abs().Metres()/measure.Length(u.Length).Metres())
			}
		}
	}}

// bedFound is what was read of the bed, or of the pads, under the unit of the place, and the corner that is off the most; nil: nothing that
// stands beside a planned level.
func (p *Place) bedFound() (*field.Found, measure.Length) {
	i := p.Unit()
	if p.Site == nil || i < 0 {
		return nil, 0
	}
	for _, of := range []string{"bed", "pad"} {
		f, ok := p.Site.Book.FoundAt(p.Plan.Units[i].Mark, of)
		if !ok {
			continue
		}
		most, planned := measure.Length(0), false
		for _, c := range f.Corners {
			planned = planned || c.Planned != nil
			if c.Off.Abs() > most.Abs() {
				most = c.Off
			}
		}
		if planned {
			return &f, most
		}
	}
	return nil, 0
}

// bedAsRead says what was read corner by corner, and what it does to the next joints.
func (a *asking) bedAsRead(f *field.Found) {
	for _, c := range f.Corners {
		if c.Planned != nil && c.Off != 0 {
			a.say("recorded: %s of %s, %s: %s %s", f.Of, f.Place, c.Corner, c.Off.Abs(), map[bool]string{true: "high", false: "low"}[c.Off > 0])
		}
	}
	if f.Rocks {
		a.say("a unit set on it rocks: its corners are %s out of one plane", f.Twist.Abs())
	}
	if f.Lip != nil {
		a.say("the step from %s is %s at the %s wall", f.Lip.From, f.Lip.Step.Abs(), f.Lip.Side)
	}
	if k := f.Knock; k != nil && len(k.Joints) > 0 {
		for i, j := range k.Joints {
			a.say("left as it is, joint %s comes to lie %s %s when the units are laid at their grades from here", j, k.Along[i].Abs(), map[bool]string{true: "high", false: "low"}[k.Along[i] > 0])
		}
		a.say("back on the plan at its end the next unit has to %s %s more than planned", map[bool]string{true: "rise", false: "fall"}[k.Back > 0], k.Back.Abs())
	}
}
