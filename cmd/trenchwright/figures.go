package main

import (
	"fmt"
	"strings"

	"trenchwright/base/measure"
)

// asked reads the figures of one command line and keeps every fault, so that all of them are said at once.
type asked struct {
	command  string
	faults   []string
	imperial bool // a figure was written in feet, inches or pounds
}

func (a *asked) fault(name, format string, args ...any) {
	a.faults = append(a.faults, name+": "+fmt.Sprintf(format, args...))
}

// ends is the outcome of a command line with faults; nil where there are none.
func (a *asked) ends() error {
	switch len(a.faults) {
	case 0:
		return nil
	case 1:
		return outcome{exitUsage, fmt.Sprintf("trenchwright %s: %s", a.command, a.faults[0])}
	}
	return outcome{exitUsage, fmt.Sprintf("trenchwright %s: %d things are wrong with this command line:\n  %s", a.command, len(a.faults), strings.Join(a.faults, "\n  "))}
}

// reading reads one length that is not negative; a bare number is millimetres.
func (a *asked) reading(name, text string) (measure.Reading, bool) {
	return a.readingIn(name, text, measure.UnitMillimetre)
}

// readingIn is the same where a bare number is in another unit.
func (a *asked) readingIn(name, text string, bare measure.Unit) (measure.Reading, bool) {
	r, err := measure.ParseIn(text, bare)
	switch {
	case err != nil:
		a.fault(name, "%v", err)
	case r.Length < 0:
		a.fault(name, "%s is negative", r.Length)
	case r.Length > longestFigure:
		a.fault(name, "%s is longer than 1000 km, and nothing that is laid or cut is", r.Length)
	default:
		a.imperial = a.imperial || r.Unit == measure.UnitFoot || r.Unit == measure.UnitInch
		return r, true
	}
	return measure.Reading{}, false
}

// longestFigure bounds every length of a command line: as far as a leg is laid on the spot.
const longestFigure = 1000 * measure.Kilometre

func (a *asked) length(name, text string) measure.Length {
	r, _ := a.reading(name, text)
	return r.Length
}

// height is a length that may be negative.
func (a *asked) height(name, text string) measure.Length {
	r, err := measure.ParseIn(text, measure.UnitMetre)
	if err != nil {
		a.fault(name, "%v", err)
	}
	return r.Length
}

// positive is a length over 0 of what.
func (a *asked) positive(name, text, what string) measure.Length {
	r, ok := a.reading(name, text)
	if ok && r.Length == 0 {
		a.fault(name, "%s is longer than 0 mm", what)
	}
	return r.Length
}

// lengths are lengths over 0, parted by commas; each may stand there once.
func (a *asked) lengths(name, text, what string) []measure.Length {
	var out []measure.Length
	seen := map[measure.Length]bool{}
	for _, t := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' }) {
		l := a.positive(name, strings.TrimSpace(t), what)
		if l > 0 && seen[l] {
			a.fault(name, "%s stands there twice", l)
		}
		seen[l] = true
		out = append(out, l)
	}
	if len(out) == 0 && text != "" {
		a.fault(name, "no length in %q; write for example 3000mm,2000mm", text)
	}
	return out
}

// coordinateUnit is the unit of a file's coordinates; none where nothing is said.
func (a *asked) coordinateUnit(text string) measure.Unit {
	if text == "" {
		return measure.NoUnit
	}
	unit, ok := map[string]measure.Unit{"m": measure.UnitMetre, "ft": measure.UnitFoot, "usft": measure.UnitSurveyFoot}[text]
	if !ok {
		a.fault("--unit", "%q is none of m, ft and usft", text)
	}
	return unit
}

// stretch reads A..B; what says how they stand to each other.
func (a *asked) stretch(name, text, example string) (from, to measure.Length) {
	low, high, ok := strings.Cut(text, "..")
	if !ok {
		a.fault(name, "%q is not of the form A..B; write for example %s", text, example)
		return 0, 0
	}
	x, okX := a.reading(name, low)
	y, okY := a.reading(name, high)
	if okX && okY && x.Length >= y.Length {
		a.fault(name, "%s is not less than %s; write the smaller one first, for example %s", x.Length, y.Length, example)
	}
	return x.Length, y.Length
}

// bend is a turn told as in a walk: right 90°. It is right positive.
func (a *asked) bend(name, text string) measure.Angle {
	side, angle, _ := strings.Cut(strings.TrimSpace(strings.ToLower(text)), " ")
	said, err := measure.ParseDegrees(angle)
	switch {
	case side != "left" && side != "right":
		a.fault(name, "%q does not begin with left or right; write for example \"right 90°\"", text)
	case err != nil:
		a.fault(name, "%v", err)
	case said.Value <= 0 || said.Value > 170*measure.Degree:
		a.fault(name, "a bend turns by more than 0° and at most 170°, not by %s", said.Value)
	case side == "left":
		return -said.Value
	}
	return said.Value
}
