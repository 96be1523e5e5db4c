package edit

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
)

// typist reads typed text into fields.
type typist struct {
	imperial bool
	unit     job.CoordUnit // of coordinates and levels
	both     func(measure.Length) string
	bothFar  func(measure.Length) string
}

func (w *work) typist() typist {
	return typist{w.speech.Imperial, w.job.Coordinates.Unit, w.both, w.bothFar}
}

// read sets a field from typed text and says what was understood. A bare number is taken in the job's own unit.
func (t typist) read(v reflect.Value, f reflect.StructField, text string) (said string, err error) {
	text = strings.TrimSpace(text)
	v = made(v)
	if inner, ok := entryValue(v); ok {
		return t.read(inner, f, text)
	}
	switch to := v.Addr().Interface().(type) {
	case *measure.Length:
		return t.length(to, f, text)
	case *measure.Angle:
		return readAs(to, text, measure.ParseAngle, measure.ParseDegrees)
	case *measure.Grade:
		return readAs(to, text, measure.ParseGrade, with(measure.ParseGrade, " %"))
	case *measure.Mass:
		return readAs(to, text, measure.ParseMass, with(measure.ParseMass, choose(t.imperial, " lb", " kg")))
	case *measure.LinearMass:
		return readAs(to, text, measure.ParseLinearMass, with(measure.ParseLinearMass, choose(t.imperial, " lb/ft", " kg/m")))
	case *measure.Window:
		*to, err = measure.ParseWindow(text)
		return text, err
	case *job.Section:
		return t.section(to, text)
	case *[2]float64:
		return t.coordinates(to, text)
	case *float64:
		return t.level(to, text)
	case *int:
		*to, err = strconv.Atoi(text)
		if err != nil {
			err = fmt.Errorf("%q is no whole number", text)
		}
		return text, err
	case *bool:
		return yesNo(to, text)
	case *[]measure.Length:
		return t.lengths(to, f, text)
	case *[]string:
		*to = nil
		for part := range strings.FieldsFuncSeq(text, func(r rune) bool { return r == ',' || r == ';' }) {
			if part = strings.TrimSpace(part); part != "" {
				*to = append(*to, part)
			}
		}
		return strings.Join(*to, ", "), nil
	}
	if v.Kind() == reflect.String {
		return word(v, f, text)
	}
	return "", errors.New("this is a group of fields: one of them has to be named")
}

// entryValue is the figure in a job.Entry.
func entryValue(v reflect.Value) (reflect.Value, bool) {
	if v.Kind() != reflect.Struct || !v.CanAddr() || !strings.HasPrefix(v.Type().Name(), "Entry[") {
		return reflect.Value{}, false
	}
	return v.FieldByName("Value"), true
}

func choose[T any](first bool, a, b T) T {
	if first {
		return a
	}
	return b
}

// with reads text with a unit put behind it.
func with[T any](parse func(string) (measure.Said[T], error), unit string) func(string) (measure.Said[T], error) {
	return func(text string) (measure.Said[T], error) { return parse(text + unit) }
}

// readAs reads a quantity, a bare number by the second way; the complaint is the first one's.
func readAs[T any](to *T, text string, parse, bare func(string) (measure.Said[T], error)) (string, error) {
	s, err := parse(text)
	if err != nil {
		again, other := bare(text)
		if other != nil {
			return "", err
		}
		again.As += ": no unit is written"
		s = again
	}
	*to = s.Value
	return s.As, nil
}

// along tells whether a length is a chainage: its bare numbers are metres or feet, not millimetres or inches.
func along(f reflect.StructField) bool { return strings.Contains(f.Tag.Get("jsonschema"), "chainage") }

func (t typist) length(to *measure.Length, f reflect.StructField, text string) (string, error) {
	if along(f) {
		l, said, err := t.chainage(text)
		if err == nil {
			*to = l
		}
		return said, err
	}
	r, err := measure.ParseIn(text, choose(t.imperial, measure.UnitInch, measure.UnitMillimetre))
	if err != nil {
		return "", err
	}
	*to = r.Length
	return told(t.both(r.Length), r), nil
}

// told adds to a length what a reader has to know of how it was read.
func told(said string, r measure.Reading) string {
	if _, taken, ok := strings.Cut(r.As, ", taken as "); ok {
		said += ", taken as " + taken
	}
	return said
}

// chainage reads a place along a leg: 12.4 m, 0+012.4, 40'-8", 12.4.
func (t typist) chainage(text string) (measure.Length, string, error) {
	system := choose(t.imperial, measure.Imperial, measure.Metric)
	if strings.Contains(strings.TrimLeft(text, "+ "), "+") {
		r, err := measure.ParseChainage(text, system)
		if err != nil {
			return 0, "", err
		}
		return r.Length, t.bothFar(r.Length), nil
	}
	r, err := measure.ParseIn(text, choose(t.imperial, measure.UnitFoot, measure.UnitMetre))
	if err != nil {
		return 0, "", err
	}
	return r.Length, told(t.bothFar(r.Length), r), nil
}

func (t typist) lengths(to *[]measure.Length, f reflect.StructField, text string) (string, error) {
	var out []measure.Length
	var said []string
	for part := range strings.FieldsFuncSeq(strings.Trim(text, "[]"), func(r rune) bool { return r == ';' || r == ',' }) {
		var l measure.Length
		s, err := t.length(&l, f, strings.TrimSpace(part))
		if err != nil {
			return "", err
		}
		out, said = append(out, l), append(said, s)
	}
	*to = out
	return strings.Join(said, "; "), nil
}

// section reads 900 mm x 750 mm, or 900 x 750.
func (t typist) section(to *job.Section, text string) (string, error) {
	if to.UnmarshalText([]byte(text)) == nil {
		return t.both(to.Width) + " x " + t.both(to.Height), nil
	}
	unit := choose(t.imperial, " in", " mm")
	parts := strings.FieldsFunc(text, func(r rune) bool { return r == 'x' || r == 'X' || r == '×' })
	for i, p := range parts {
		if p = strings.TrimSpace(p); p != "" && strings.Trim(p, "0123456789.,") == "" {
			parts[i] = p + unit
		}
	}
	if err := to.UnmarshalText([]byte(strings.Join(parts, " x "))); err != nil {
		return "", to.UnmarshalText([]byte(text))
	}
	return t.both(to.Width) + " x " + t.both(to.Height), nil
}

// furthest is further than any grid on earth reaches, in any unit.
const furthest = 1e8

// level reads a level or another number of coordinates: bare in their unit, or with a unit of its own.
func (t typist) level(to *float64, text string) (string, error) {
	v, err := strconv.ParseFloat(text, 64)
	if err == nil && (math.IsNaN(v) || math.Abs(v) > furthest) {
		return "", fmt.Errorf("%q is no level on earth", text)
	}
	if err != nil {
		r, wrong := measure.Parse(text)
		if wrong != nil {
			return "", wrong
		}
		v = math.Round(r.Length.Metres()/t.unit.Metres()*1e6) / 1e6
	}
	*to = v
	return number(v) + " " + unitName(t.unit), nil
}

// coordinates reads an easting and a northing: 1000.0, 2000.5.
func (t typist) coordinates(to *[2]float64, text string) (string, error) {
	parts := strings.FieldsFunc(strings.Trim(text, "[]()"), func(r rune) bool { return r == ',' || r == ';' || r == ' ' || r == '\t' })
	if len(parts) != 2 {
		return "", fmt.Errorf("%q is no easting and northing: two numbers with a comma between them were expected, with a point before decimals, for example 1000.0, 2000.5", text)
	}
	var out [2]float64
	for i, p := range parts {
		if _, err := t.level(&out[i], p); err != nil {
			return "", err
		}
	}
	*to = out
	return t.pair(out), nil
}

// pair is an easting and a northing as they are said.
func (t typist) pair(at [2]float64) string {
	return number(at[0]) + ", " + number(at[1]) + " " + unitName(t.unit)
}

func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

func unitName(u job.CoordUnit) string {
	switch u {
	case job.CoordFeet:
		return "ft"
	case job.CoordUSSurvey:
		return "US survey ft"
	}
	return "m"
}

func yesNo(to *bool, text string) (string, error) {
	switch strings.ToLower(text) {
	case "yes", "true", "y":
		*to = true
		return "yes", nil
	case "no", "false", "n":
		*to = false
		return "no", nil
	}
	return "", fmt.Errorf("%q is neither yes nor no", text)
}

// word reads a text; where only some words are known, one of them, however it is written.
func word(v reflect.Value, f reflect.StructField, text string) (string, error) {
	if all := f.Tag.Get("oneof"); all != "" && text != "" {
		words := strings.Split(all, "|")
		flat := func(s string) string {
			return strings.NewReplacer(" ", "", "-", "", "_", "").Replace(strings.ToLower(s))
		}
		i := slices.IndexFunc(words, func(w string) bool { return flat(w) == flat(text) })
		if i < 0 {
			return "", fmt.Errorf("%q is none of %s", text, strings.Join(words, ", "))
		}
		text = words[i]
	}
	v.SetString(text)
	return text, nil
}
