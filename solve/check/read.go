package check

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"trenchwright/base/measure"
)

// Read reads a number with a unit of this kind, as an answer shows it or as it is commonly written: 12.5 kN, 2.8kip, 500 psf. It tells
// whether the unit is an imperial one. A number without a unit, a unit of another kind and what is no number are errors in words: there
// is nothing that a bare figure is taken for.
func (k *Kind) Read(text string) (q Quantity, imperial bool, err error) {
	fault := func(column int, problem string) (Quantity, bool, error) {
		return Quantity{}, false, &measure.ParseError{Text: text, What: "a " + k.Name, Column: column, Problem: problem, Example: k.example()}
	}
	trimmed := strings.TrimSpace(text)
	end := 0
	for end < len(trimmed) && strings.IndexByte("0123456789.+-", trimmed[end]) >= 0 {
		end++
	}
	if end == 0 {
		return fault(1, "a number was expected")
	}
	number, name := trimmed[:end], strings.TrimSpace(trimmed[end:])
	x, wrong := strconv.ParseFloat(number, 64)
	if wrong != nil || math.IsInf(x, 0) {
		return fault(1, strconv.Quote(number)+" is no number; the decimal sign is a point, and nothing parts the thousands")
	}
	if name == "" {
		return fault(end+1, "a number without a unit")
	}
	for _, group := range []struct {
		units    []unit
		imperial bool
	}{{k.metric, false}, {k.imperial, true}, {k.read, false}} {
		for _, u := range group.units {
			if u.name == name {
				if group.imperial {
					x -= k.freezing
				}
				return k.Of(x * u.size), group.imperial || customary(u.name), nil
			}
		}
	}
	return fault(end+1, strconv.Quote(name)+" is no unit of "+k.Name)
}

// customary tells whether a further unit is one of the United States.
func customary(name string) bool {
	return slices.ContainsFunc([]string{"kip", "klf", "plf", "psf", "ksf", "psi", "ksi", "pcf", "lbf", "lb/", "ft", "in2", "yd", "°F", "mph"}, func(s string) bool { return strings.Contains(name, s) })
}

// example is how a figure of this kind is written.
func (k *Kind) example() string {
	return "12.5 " + k.metric[0].name + " or 12.5 " + k.imperial[0].name
}

// Long is a length as a figure of a check; nil where it is not on file.
func Long(l *measure.Length) *Quantity {
	if l == nil {
		return nil
	}
	return new(Length.Of(l.Metres()))
}
