package onspot

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/solve/check"
)

// asking is one moment while it is answered.
type asking struct {
	*Place
	moment Moment
	typed  map[string]string
	out    Answer
}

// say adds a line; lengths and words of the trade stand in it as the job has them.
func (a *asking) say(form string, args ...any) {
	for i, arg := range args {
		switch v := arg.(type) {
		case measure.Length:
			args[i] = a.shown(v)
		case measure.Mass:
			args[i] = check.Mass.Of(v.Kilograms()).Both(a.speech().Imperial)
		}
	}
	a.out.Lines = append(a.out.Lines, a.speech().Reworded(a.speech().Say(form, args...)))
}

// counted is a number with its word.
func counted(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprint(n, " ", more)
}

// typed is a length as it is typed, to a tenth of a millimetre or a sixteenth of an inch.
func (p *Place) typed(l measure.Length) string {
	if p.speech().Imperial {
		return measure.Format{System: measure.Imperial}.Length(l)
	}
	return rounded(l, measure.Millimetre/10).MMString() + " mm"
}

// typedMass is a mass as it is typed.
func (p *Place) typedMass(kilograms float64) string {
	unit := " kg"
	if p.speech().Imperial {
		kilograms, unit = kilograms/check.Pound, " lb"
	}
	return strconv.FormatFloat(math.Round(kilograms*10)/10, 'f', -1, 64) + unit
}

// shown is a length as it is built: to a tenth of a millimetre or a thousandth of an inch where it is small, to a millimetre or a sixteenth,
// or in metres or feet where it is far.
func (p *Place) shown(l measure.Length) any {
	step, fine := measure.Millimetre, measure.Millimetre/10
	if p.speech().Imperial {
		step, fine = measure.Sixteenth, measure.Inch/1000
	}
	switch {
	case l.Abs() >= 10*measure.Metre:
		return wording.Far(l)
	case l.Abs() < 20*measure.Millimetre:
		step = fine
	}
	return rounded(l, step)
}

func rounded(l, step measure.Length) measure.Length {
	half := step / 2
	if l < 0 {
		half = -half
	}
	return (l + half) / step * step
}

// open adds what is not on file.
func (a *asking) open(what, ask string) {
	a.out.Open = append(a.out.Open, a.speech().Reworded(finding.NoneOnFile(what, ask, finding.Where{}).Text))
}

func (a *asking) fault(name, problem string) {
	a.out.Faults = append(a.out.Faults, a.label(name)+": "+problem)
}

func (a *asking) label(name string) string { return a.field(name).Label }

func (a *asking) field(name string) *Field {
	i := slices.IndexFunc(a.moment.Fields, func(f Field) bool { return f.Name == name })
	return &a.moment.Fields[i]
}

// text is what was typed, or what is known.
func (a *asking) text(name string) string {
	f := a.field(name)
	is, from := strings.TrimSpace(a.typed[name]), "as typed"
	if is == "" {
		is, from = f.Known(a.Place)
	}
	switch {
	case is == "" && !f.Optional(a.Place):
		a.fault(name, "nothing was typed; write for example "+f.Like)
	case is != "" && len(f.Only) == 0:
		a.out.Given = append(a.out.Given, Given{a.speech().Reworded(f.Label), is, from})
	}
	return is
}

// from is where a figure is from that was asked for; empty: there is none.
func (a *asking) from(name string) string {
	label := a.speech().Reworded(a.label(name))
	for _, g := range a.out.Given {
		if g.Label == label {
			return g.From
		}
	}
	return ""
}

// bare is the unit that a bare number of a small length is in: millimetres, or inches.
func (a *asking) bare() measure.Unit {
	if a.speech().Imperial {
		return measure.UnitInch
	}
	return measure.UnitMillimetre
}

// length is a length of hand's size; nil where none was typed.
func (a *asking) length(name string) *measure.Length {
	text := a.text(name)
	if text == "" {
		return nil
	}
	r, err := measure.ParseIn(text, a.bare())
	if err != nil {
		a.fault(name, err.Error())
		return nil
	}
	return &r.Length
}

// positive is a length above 0.
func (a *asking) positive(name string) *measure.Length {
	l := a.length(name)
	if l != nil && *l <= 0 {
		a.fault(name, fmt.Sprintf("%s cannot be; a length above 0 is wanted", a.typed[name]))
		return nil
	}
	return l
}

// number is a plain number.
func (a *asking) number(name string) *float64 {
	text := a.text(name)
	if text == "" {
		return nil
	}
	x, err := strconv.ParseFloat(text, 64)
	if err != nil || !(x >= 0 && x < 1e9) {
		a.fault(name, strconv.Quote(text)+" is no number of 0 and more")
		return nil
	}
	return &x
}

// mass is a mass; a bare number is in kilograms, or in pounds.
func (a *asking) mass(name string) *measure.Mass {
	text := a.text(name)
	if text == "" {
		return nil
	}
	if _, err := strconv.ParseFloat(text, 64); err == nil {
		text += map[bool]string{false: " kg", true: " lb"}[a.speech().Imperial]
	}
	said, err := measure.ParseMass(text)
	if err != nil {
		a.fault(name, err.Error())
		return nil
	}
	return &said.Value
}

// quantity is a figure with its unit.
func (a *asking) quantity(name string, kind *check.Kind) *check.Quantity {
	text := a.text(name)
	if text == "" {
		return nil
	}
	q, _, err := kind.Read(text)
	if err != nil {
		a.fault(name, err.Error())
		return nil
	}
	return &q
}

// degrees is an angle.
func (a *asking) degrees(name string) *measure.Angle {
	text := a.text(name)
	if text == "" {
		return nil
	}
	said, err := measure.ParseDegrees(text)
	if err != nil {
		a.fault(name, err.Error())
		return nil
	}
	return &said.Value
}

// checked puts checks into the answer, and their sentences first.
func (a *asking) checked(list []check.Answer, found finding.List) {
	for _, f := range found {
		if f.Kind == finding.Fault {
			a.out.Faults = append(a.out.Faults, f.Text+". Try: "+f.Try)
		}
	}
	for i := range list {
		said := list[i].Said(a.speech())
		a.out.Checks = append(a.out.Checks, said)
		a.out.Lines = append(a.out.Lines, said.Sentence)
		if said.Stop && said.Verdict == string(finding.DoesNot) {
			a.out.Stop = append(a.out.Stop, "HARD STOP: "+said.What+" does not meet the stated figure. Ask: "+said.Decides)
		}
	}
}

// supply is what lies at the place.
func (a *asking) supply() *job.Supply {
	id := a.leg().Supply
	if u := a.unit(); u >= 0 {
		id = a.Plan.Units[u].Supply
	}
	for i := range a.Job.Supplies {
		if a.Job.Supplies[i].ID == id {
			return &a.Job.Supplies[i]
		}
	}
	return &a.Job.Supplies[0]
}

// unit is that of the place.
func (a *asking) unit() int { return a.Place.Unit() }

// Unit is the unit at the place, in the order of the plan; -1: none stands there.
func (p *Place) Unit() int {
	for i := range p.Plan.Units {
		u := &p.Plan.Units[i]
		if u.Leg == p.leg().Name && measure.Length(u.Chainage) <= p.Spot.At && p.Spot.At <= measure.Length(u.Chainage+u.Length) {
			return i
		}
	}
	return -1
}
