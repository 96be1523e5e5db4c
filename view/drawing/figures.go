package drawing

import (
	"fmt"
	"math"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
)

// notChecked is how every missing figure begins.
const notChecked = "NOT CHECKED"

// length is a length of a made thing, in the style's format.
func (d *draft) length(l measure.MM) string { return d.style.Format.Length(measure.Length(l)) }

// figure is length without its unit, for drawings that state the unit once. Feet and inches keep their marks.
func (d *draft) figure(l measure.MM) string { return d.style.Format.Figure(measure.Length(l)) }

// atLeast is a length that must not be undercut: rounded up to the sheet's step, a millimetre or a sixteenth of an inch.
func (d *draft) atLeast(l measure.MM) string {
	step := measure.Millimetre
	if d.style.Format.System == measure.Imperial {
		step = measure.Inch / 16
	}
	up := (measure.Length(l) + step - 1) / step * step
	return "at least " + d.style.Format.Length(up)
}

// rounded is a length that was computed for the drawing alone, in mm.
func (d *draft) rounded(mm float64) string { return d.length(length(mm)) }

// length is a length that was computed for drawing, in mm.
func length(mm float64) measure.MM { return measure.MM(measure.FromMillimetres(mm)) }

// along is a long length along the run: metres with millimetres, or feet and inches.
func (d *draft) along(l measure.MM) string {
	if d.style.Format.System == measure.Imperial {
		return d.length(l)
	}
	return measure.Format{Survey: true, Places: 3}.Length(measure.Length(l))
}

// chainage is a place along a leg from its from node: 35.411 m, or 1+23.45 in feet.
func (d *draft) chainage(l measure.MM) string {
	if d.style.Format.System == measure.Imperial {
		return measure.Chainage(measure.Length(l), measure.Imperial, 2)
	}
	return measure.Format{Survey: true, Places: 3}.Length(measure.Length(l))
}

// lengthUnit is what figures of lengths are in.
func (d *draft) lengthUnit() string {
	if d.style.Format.System == measure.Imperial {
		return "feet and inches"
	}
	return "mm"
}

// lengthHead is the head of a column of figures; feet and inches bring their marks along.
func (d *draft) lengthHead(name string) string {
	if d.style.Format.System == measure.Imperial {
		return name
	}
	return name + " [mm]"
}

// chainageHead is the head of a column of chainageFigures.
func (d *draft) chainageHead(name string) string {
	if d.style.Format.System == measure.Imperial {
		return name + " [ft]"
	}
	return name + " [m]"
}

// chainageFigure is chainage without its unit.
func (d *draft) chainageFigure(l measure.MM) string { return strings.TrimSuffix(d.chainage(l), " m") }

func (d *draft) massHead(name string) string {
	if d.style.Format.System == measure.Imperial {
		return name + " [lb]"
	}
	return name + " [kg]"
}

// massFigure is a mass without its unit.
func (d *draft) massFigure(kg float64) string {
	text := d.style.Format.Mass(measure.Mass(math.Round(kg * 1000)))
	return strings.TrimSuffix(strings.TrimSuffix(text, " lb"), " kg")
}

// mass is a mass in the style's system, or that none is on file.
func (d *draft) mass(kg *float64, ask string) string {
	if kg == nil {
		return notChecked + ": no mass on file. Ask: " + ask
	}
	return d.style.Format.Mass(measure.Mass(math.Round(*kg * 1000)))
}

// angle is the size of an angle in degrees: two decimals, fewer where these are noughts.
func angle(degrees float64) string {
	text := measure.FromDegrees(math.Abs(degrees)).Show(2)
	number := strings.TrimSuffix(text, "°")
	number = strings.TrimSuffix(strings.TrimRight(number, "0"), ".")
	return number + "°"
}

// hand is the way of a turn in words, right positive.
func hand(degrees float64) string {
	switch {
	case degrees > 0:
		return "right"
	case degrees < 0:
		return "left"
	}
	return "straight on"
}

// turn is a turn as a person says it: 45° right.
func turn(degrees float64) string {
	if degrees == 0 {
		return hand(degrees)
	}
	return angle(degrees) + " " + hand(degrees)
}

// coordinateUnit is the unit of the job's coordinates in metres, its name, and how many digits a set-out figure has.
func (d *draft) coordinateUnit() (metres float64, name string, places int) {
	switch d.job.Coordinates.Unit {
	case job.CoordFeet:
		return 0.3048, "ft", 2
	case job.CoordUSSurvey:
		return 1200.0 / 3937, "US survey ft", 2
	}
	return 1, "m", 3
}

// count is a number with its noun: 1 cut, 2 cuts.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// joined strings the parts that say something together.
func joined(by string, parts ...string) string {
	var said []string
	for _, p := range parts {
		if p != "" {
			said = append(said, p)
		}
	}
	return strings.Join(said, by)
}

// capital is s with a capital first letter.
func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
