package screen

import (
	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// Lengths are shown as people can build and hold them, by the sheets' own rule: whole millimetres or sixteenths of an inch; what the
// gap of a joint is spent on adds up along a leg and is shown to a tenth of a millimetre or a thousandth of an inch. Figures of
// record stand in the plan, in proofs and in the job's text, and none is ever made of these texts.

// fine is a small length that built would hide.
func fine(s wording.Speech, l measure.Length) string {
	const tenth = measure.Millimetre / 10
	switch {
	case s.Imperial:
		return s.Length(l)
	case l != 0 && l.Abs() < tenth:
		return "under 0.1 mm"
	}
	half := tenth / 2
	if l < 0 {
		half = -half
	}
	return ((l + half) / tenth * tenth).String()
}

// walked is a distance along the run; less than a decimetre is a length like any other.
func walked(s wording.Speech, l measure.Length) string {
	if !s.Imperial && l != 0 && l.Abs() < 100*measure.Millimetre || s.Imperial && l != 0 && l.Abs() < measure.Inch {
		return s.Built(l)
	}
	return s.Far(wording.Far(l))
}

// far is a distance along the run; size is a length that is made or held to; small is a gap, or a part of one; exact hides nothing.
func (d *draft) far(l measure.MM) string   { return walked(d.speech, measure.Length(l)) }
func (d *draft) size(l measure.MM) string  { return d.speech.Built(measure.Length(l)) }
func (d *draft) small(l measure.MM) string { return fine(d.speech, measure.Length(l)) }
func (d *draft) exact(l measure.MM) string { return d.speech.Length(measure.Length(l)) }

// atLeast is a length that must not be undercut: rounded up.
func (d *draft) atLeast(l measure.MM) string { return "at least " + roundedUp(d.speech, l) }

func roundedUp(s wording.Speech, l measure.MM) string {
	step := measure.Length(measure.Millimetre)
	if s.Imperial {
		step = measure.Inch / 16
	}
	return s.Built((measure.Length(l) + step - 1) / step * step)
}
