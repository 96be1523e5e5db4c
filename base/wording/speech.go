package wording

import (
	"fmt"

	"trenchwright/base/measure"
)

// Speech is the words and the system of one job. The zero value is UK words and millimetres.
type Speech struct {
	US       bool // the words of the United States
	Imperial bool // feet and inches
}

// Far is a distance on the ground, where the millimetre is near enough: it is said in metres or in decimal feet.
type Far measure.Length

// Tape is a distance that is measured on site by tape: it is said as Far, or in feet and inches to the nearest sixteenth.
type Tape measure.Length

// Word is w as the job has it.
func (s Speech) Word(w Word) string {
	if s.US {
		return spellings[w].us
	}
	return spellings[w].uk
}

// Say is fmt.Sprintf with every Word, measure.Length, Far and Tape among args said in the job's words and system; their verb
// is %s.
func (s Speech) Say(form string, args ...any) string {
	said := make([]any, len(args))
	for i, a := range args {
		switch v := a.(type) {
		case Word:
			said[i] = s.Word(v)
		case measure.Length:
			said[i] = s.Length(v)
		case Far:
			said[i] = s.Far(v)
		case Tape:
			said[i] = s.Tape(v)
		default:
			said[i] = a
		}
	}
	return fmt.Sprintf(form, said...)
}

// Volume is a volume with one decimal: 142.6 m³, or 186.5 yd³ alone in imperial units.
func (s Speech) Volume(v measure.Volume) string {
	f := measure.Format{}
	if s.Imperial {
		f.System = measure.Imperial
	}
	n, unit := f.Volume(v)
	return fmt.Sprintf("%.1f %s", n, unit)
}

// Length is l for a sentence: 2438.4 mm, to the tenth of a millimetre, small ones to the micrometre, without idle zeros.
// In feet and inches 8'-0"; what is whole 32nds or 64ths of an inch is said so: 9/32". Where that is off by more than half a
// thousandth, inches to the thousandth stand behind it, or alone below an inch: 7 9/16" (7.575 in), 0.315 in.
func (s Speech) Length(l measure.Length) string {
	if !s.Imperial {
		step := measure.Millimetre / 10
		if l.Abs() < 100*measure.Millimetre {
			step = measure.Micrometre
		}
		return rounded(l, step).String()
	}
	f := measure.Format{System: measure.Imperial}
	switch {
	case (l - rounded(l, f.Step())).Abs() <= thousandth/2:
		return f.Length(l)
	case l%(measure.Inch/64) == 0:
		return measure.Format{System: measure.Imperial, Fraction: 64}.Length(l)
	case l.Abs() < measure.Inch:
		return inches(l)
	}
	return f.Length(l) + " (" + inches(l) + ")"
}

// Built is a length that is made, dug or held to: whole millimetres, or sixteenths of an inch. It is never nought for something.
func (s Speech) Built(l measure.Length) string {
	f := measure.Format{Plain: true}
	if s.Imperial {
		f = measure.Format{System: measure.Imperial}
	}
	if l != 0 && 2*l.Abs() < f.Step() {
		return "under " + f.Length(f.Step())
	}
	return f.Length(l)
}

// Both is such a length in the job's own system and in the other one.
func (s Speech) Both(l measure.Length) string {
	other := s
	other.Imperial = !s.Imperial
	return s.Built(l) + " (" + other.Built(l) + ")"
}

// Tape is l for a sentence: 24.300 m as Far has it, or 3'-8 3/8".
func (s Speech) Tape(l Tape) string {
	if s.Imperial {
		return s.Length(rounded(measure.Length(l), measure.Sixteenth))
	}
	return s.Far(Far(l))
}

// Far is l for a sentence: 24.300 m, less than a decimetre 0.017 mm; or 79.72 ft, less than an inch as Length has it.
func (s Speech) Far(l Far) string {
	m := measure.Length(l)
	switch {
	case s.Imperial && m != 0 && m.Abs() < measure.Inch:
		return s.Length(m)
	case s.Imperial:
		return measure.Format{System: measure.Imperial, Survey: true, Places: 2}.Length(m)
	case m != 0 && m.Abs() < 100*measure.Millimetre:
		return fmt.Sprintf("%.3f mm", m.Millimetres())
	}
	return measure.Format{Survey: true, Places: 3}.Length(m)
}

// thousandth is a thousandth of an inch, 25.4 µm: a whole number of nanometres.
const thousandth = measure.Inch / 1000

// inches is l in inches to the thousandth, without idle zeros: 64.522 in.
func inches(l measure.Length) string {
	n := int64(rounded(l, thousandth) / thousandth)
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	text := fmt.Sprintf("%s%d", sign, n/1000)
	if part := n % 1000; part > 0 {
		digits := fmt.Sprintf(".%03d", part)
		for digits[len(digits)-1] == '0' {
			digits = digits[:len(digits)-1]
		}
		text += digits
	}
	return text + " in"
}

// rounded is l to the nearest step, half away from zero.
func rounded(l, step measure.Length) measure.Length {
	half := step / 2
	if l < 0 {
		half = -half
	}
	return (l + half) / step * step
}
