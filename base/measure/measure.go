// Package measure holds the exact quantities of the trade: lengths, angles, grades, areas, volumes, masses and forces;
// it reads what people write, says what it understood, and shows both systems of units.
//
// The map of the package:
//
//	measure.go  the quantities                          convert.go  to and from float64, for trigonometry and drawing
//	exact.go    checked sums, 128-bit products          decimal.go  exact decimals, in and out
//	parse.go    lengths as people write them            format.go   lengths as people read them, with the rounding named
//	scan.go, number.go, unit.go  characters, numbers and units under all of the parsers
//	angle.go, bearing.go, grade.go, mass.go, window.go, chainage.go  the other quantities, read and shown
//	text.go     text and JSON: exact, always with a unit
//
// A Length is a whole number of nanometres, so that an inch (25 400 000 nm), a sixteenth and a millimetre are all
// exact. Nothing here reads a clock, a file or the environment, and the zero value of every type is zero of it.
package measure

// Length is a distance, chainage, gap or level in nanometres. Range ±9.2 million km; the zero value is 0 m.
type Length int64

// Exact lengths (NIST SP 811: 1 ft = 0.3048 m exactly).
const (
	Nanometre  Length = 1
	Micrometre Length = 1_000
	Millimetre Length = 1_000_000
	Metre      Length = 1_000_000_000
	Kilometre  Length = 1_000 * Metre
	Inch       Length = 25_400_000
	Sixteenth  Length = Inch / 16
	Foot       Length = 12 * Inch
)

// Angle is a turn in billionths of a degree, right (clockwise in plan) positive. The zero value is no turn.
type Angle int64

// Degree is one degree.
const Degree Angle = 1_000_000_000

// Area is in whole square millimetres (a Length times a Length in nm² would overflow at 9.2 m²).
type Area int64

// Volume is in cubic metres; it is rounded where it is shown, nowhere else.
type Volume float64

// Mass is in grams.
type Mass int64

// Exact masses (NIST SP 811: 1 lb = 0.453 592 37 kg exactly, kept here to the gram when used in sums).
const (
	Gram     Mass = 1
	Kilogram Mass = 1_000
	Tonne    Mass = 1_000_000
)

// LinearMass is a mass per length in grams per metre.
type LinearMass int64

// Force is in newtons.
type Force float64

// Grade is a slope as rise over run; compared exactly, never as a rounded percentage.
type Grade struct{ Rise, Run Length }

// Window is a range of lengths with the value that is aimed at. Zero value: everything nought.
type Window struct{ Nominal, Min, Max Length }
