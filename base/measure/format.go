package measure

import "fmt"

// Format says how lengths and masses are shown to people in one system. The zero value is whole millimetres: 3061 mm.
//
// A formatted length is text and rounded; nothing here turns it back into a Length of record.
type Format struct {
	System   System
	Survey   bool // metres or decimal feet; without it millimetres, or feet, inches and fractions
	Places   int  // digits after the point, at most 6 of a mm, 9 of a m, 5 of a ft; -1 shows tens
	Fraction int  // of an inch: 1, 2, 4, 8, 16, 32 or 64; 0 is 16
	Plain    bool // no thin spaces in long numbers of millimetres
}

// The longest decimals that are still whole nanometres.
const (
	placesMM   = 6
	placesM    = 9
	placesFoot = 5
)

// Length is l rounded to f's step, half away from zero, with its unit: 3061 mm, 3.061 m, 10'-0 1/2", 10.04 ft.
func (f Format) Length(l Length) string { return f.Figure(l) + f.unit() }

// Figure is Length without a unit behind it, for columns whose head names the unit. Feet and inches keep their marks.
func (f Format) Figure(l Length) string {
	step := magnitude(int64(f.Step()))
	n, _, _ := mulDiv(magnitude(int64(l)), 1, step)
	text := f.steps(n)
	if l < 0 && n > 0 {
		return "-" + text
	}
	return text
}

// steps is n steps of f, as a figure.
func (f Format) steps(n uint64) string {
	switch {
	case f.System == Imperial && !f.Survey:
		return feetInches(n, uint64(f.fraction()))
	case f.System == Metric && !f.Survey && !f.Plain:
		return grouped(fixedDecimal(n, f.places()), thinSpace, 5)
	}
	return fixedDecimal(n, f.places())
}

// feetInches writes n parts of an inch, den of which make one: 12'-0", 10'-0 1/2", 7 3/8", 1/2", 0".
func feetInches(n, den uint64) string {
	feet, inches, part := n/(12*den), n/den%12, n%den
	text := ""
	if feet > 0 {
		text = fmt.Sprintf("%d'-", feet)
	}
	if feet > 0 || inches > 0 || part == 0 {
		text += fmt.Sprint(inches)
		if part > 0 {
			text += " "
		}
	}
	if part > 0 {
		g := gcd(part, den)
		text += fmt.Sprintf("%d/%d", part/g, den/g)
	}
	return text + `"`
}

// Step is what f rounds to, exactly.
func (f Format) Step() Length {
	if f.System == Imperial && !f.Survey {
		return Inch / Length(f.fraction())
	}
	unit, _ := f.whole()
	for range f.places() {
		unit /= 10
	}
	for range -f.places() {
		unit *= 10
	}
	return unit
}

// whole is the unit that f's figures count, and how many decimals of it are whole nanometres.
func (f Format) whole() (Length, int) {
	switch {
	case f.System == Imperial:
		return Foot, placesFoot
	case f.Survey:
		return Metre, placesM
	}
	return Millimetre, placesMM
}

func (f Format) places() int {
	_, full := f.whole()
	return max(min(f.Places, full), -6)
}

// fraction is the denominator that f shows: the next power of two not above what was asked for.
func (f Format) fraction() int {
	switch {
	case f.Fraction <= 0:
		return 16
	case f.Fraction > 64:
		return 64
	}
	den := 1
	for den*2 <= f.Fraction {
		den *= 2
	}
	return den
}

func (f Format) unit() string {
	switch {
	case f.System == Imperial && f.Survey:
		return " ft"
	case f.System == Imperial:
		return ""
	case f.Survey:
		return " m"
	}
	return " mm"
}

// Unit is the unit that f shows, as the head of a column names it; feet and inches are "ft-in".
func (f Format) Unit() string {
	if f.System == Imperial && !f.Survey {
		return "ft-in"
	}
	return f.unit()[1:]
}

// Exact tells whether f shows l without rounding it.
func (f Format) Exact(l Length) bool { return l%f.Step() == 0 }

// Rounding names what f rounds to: to the nearest 1/16", to the nearest 1 mm, to the nearest 0.01 ft.
func (f Format) Rounding() string {
	switch {
	case f.System == Imperial && f.Survey:
		return "to the nearest " + fixedDecimal(1, f.places()) + " ft"
	case f.System == Imperial && f.fraction() > 1:
		return fmt.Sprintf(`to the nearest 1/%d"`, f.fraction())
	case f.System == Imperial:
		return `to the nearest 1"`
	}
	return "to the nearest " + f.Step().String()
}

// NoFinerThan is f, made coarser where that is needed to show no more than a reading written to finest allows: the
// coarsest step on f's own ladder (tens, or halves of an inch) that still tells two neighbouring readings apart. A
// reading to 1/16 in is shown to 1 mm, never to 0.1 mm and never to 10 mm, which would make it a wrong length.
func (f Format) NoFinerThan(finest Length) Format {
	for f.Step() < finest {
		coarser := f
		if f.System == Imperial && !f.Survey {
			coarser.Fraction = f.fraction() / 2
		} else {
			coarser.Places = f.places() - 1
		}
		if coarser.Step() > finest || coarser.Step() <= f.Step() { // too coarse, or the ladder ends here
			return f
		}
		f = coarser
	}
	return f
}

// Reading is r's length, never finer than r was written.
func (f Format) Reading(r Reading) string { return f.NoFinerThan(r.Finest).Length(r.Length) }
