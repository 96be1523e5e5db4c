package job

import (
	"encoding"
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"sync"

	"trenchwright/base/measure"
)

// field is one declared field of a struct, with everything its tags say.
//
//	json     its name; without omitempty or omitzero it is required
//	rule     how its text is formed: id, leg-id, date, decimal, percent, scale, sha256, spare-source, load, density, force, pressure, stress, unit-weight, temperature, cable
//	ref      what its text names: document, supply, node, leg, fitting, vehicle
//	oneof    the words it may be, parted by |
//	in       the interval it lies in: mm, degrees, grams, per cent or a count; lengths, masses, grades and counts are [0,) without it
//	example  how it is written
//	jsonschema  what it means
type field struct {
	index    int
	name     string
	typ      reflect.Type
	required bool
	rule     string
	ref      string
	oneof    []string
	in       *interval
	example  string
	meaning  string
}

// declared are the fields of all types that a job is made of. Tags are slow to read, and a job is walked with every move of a
// hand that drags: they are read once.
var declared = sync.OnceValue(func() map[reflect.Type][]field {
	table := map[reflect.Type][]field{}
	var take func(t reflect.Type)
	take = func(t reflect.Type) {
		switch t.Kind() {
		case reflect.Pointer, reflect.Slice, reflect.Array:
			take(t.Elem())
		case reflect.Struct:
			if _, known := table[t]; known {
				return
			}
			table[t] = tagged(t)
			for _, f := range table[t] {
				take(f.typ)
			}
		}
	}
	take(typeOf[Job]())
	return table
})

// fieldsOf is the fields of struct type t in the order of their declaration.
func fieldsOf(t reflect.Type) []field {
	if known, ok := declared()[t]; ok {
		return known
	}
	return tagged(t)
}

// tagged reads the tags of struct type t.
func tagged(t reflect.Type) []field {
	list := make([]field, 0, t.NumField())
	for i := range t.NumField() {
		sf := t.Field(i)
		name, options, _ := strings.Cut(sf.Tag.Get("json"), ",")
		f := field{
			index: i, name: name, typ: sf.Type,
			required: options == "",
			rule:     sf.Tag.Get("rule"),
			ref:      sf.Tag.Get("ref"),
			example:  sf.Tag.Get("example"),
			meaning:  sf.Tag.Get("jsonschema"),
		}
		if words := sf.Tag.Get("oneof"); words != "" {
			f.oneof = strings.Split(words, "|")
		}
		if text := sf.Tag.Get("in"); text != "" {
			f.in = mustInterval(text)
		}
		list = append(list, f)
	}
	return list
}

// within is the interval that values of f lie in; nil: any.
func (f field) within() *interval {
	if f.in != nil {
		return f.in
	}
	switch deepest(f.typ) {
	case typeOf[measure.Length](), typeOf[measure.Mass](), typeOf[measure.LinearMass](), typeOf[measure.Grade](), typeOf[int]():
		return &interval{low: 0, high: infinite, withLow: true}
	}
	return nil
}

// deepest is the type of the figure inside pointers, lists and entries.
func deepest(t reflect.Type) reflect.Type {
	for {
		switch {
		case isText(t):
			return t
		case t.Kind() == reflect.Pointer, t.Kind() == reflect.Slice, t.Kind() == reflect.Array:
			t = t.Elem()
		case isEntry(t):
			t = entryType(t)
		default:
			return t
		}
	}
}

func typeOf[T any]() reflect.Type { return reflect.TypeFor[T]() }

// isText tells whether values of t are written as one text of their own form: 5 mm, 22.5°.
func isText(t reflect.Type) bool {
	return t.Kind() != reflect.Pointer && reflect.PointerTo(t).Implements(typeOf[encoding.TextUnmarshaler]())
}

// infinite stands for no bound: further than any length (9.2e15 mm) or mass (9.2e18 g).
const infinite = 1e30

// interval is a range of numbers as mathematics writes it: (0,90] leaves out 0 and holds 90.
type interval struct {
	low, high         float64
	withLow, withHigh bool
}

// mustInterval reads an interval of a tag. A tag that cannot be read is our own mistake.
func mustInterval(text string) *interval {
	low, high, ok := strings.Cut(strings.Trim(text, "()[]"), ",")
	if !ok {
		panic("job: interval without a comma: " + text)
	}
	bound := func(s string, missing float64) float64 {
		if s == "" {
			return missing
		}
		n, err := strconv.ParseFloat(s, 64)
		if err != nil {
			panic("job: interval with a bound that is no number: " + text)
		}
		return n
	}
	return &interval{
		low: bound(low, -infinite), withLow: text[0] == '[',
		high: bound(high, infinite), withHigh: text[len(text)-1] == ']',
	}
}

// holds tells whether x lies in i.
func (i *interval) holds(x float64) bool {
	return (x > i.low || i.withLow && x == i.low) && (x < i.high || i.withHigh && x == i.high)
}

// words is i for people, its bounds written with unit: "more than 0 mm", "more than 0° and at most 90°".
func (i *interval) words(unit string) string {
	var parts []string
	if i.low > -infinite {
		parts = append(parts, choose(i.withLow, "at least ", "more than ")+bare(i.low)+unit)
	}
	if i.high < infinite {
		parts = append(parts, choose(i.withHigh, "at most ", "less than ")+bare(i.high)+unit)
	}
	return strings.Join(parts, " and ")
}

func choose[T any](first bool, a, b T) T {
	if first {
		return a
	}
	return b
}

func bare(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// figure is v as a number to be compared with an interval, and the unit of its bounds; ok is false for what is no figure.
// Bounds are small whole numbers, so that the comparison is exact although a long length loses its last digits here.
func figure(v reflect.Value) (x float64, unit string, ok bool) {
	switch n := v.Interface().(type) {
	case measure.Length:
		return float64(n) / float64(measure.Millimetre), " mm", true
	case measure.Angle:
		return float64(n) / float64(measure.Degree), "°", true
	case measure.Mass:
		return float64(n), " g", true
	case measure.LinearMass:
		return float64(n), " g/m", true
	case measure.Grade:
		if n.Run == 0 {
			return 0, " %", n.Rise == 0
		}
		return float64(n.Rise) / float64(n.Run) * 100, " %", true
	case int:
		return float64(n), "", true
	}
	return 0, "", false
}

// form is what type t is written as, for messages and the reference: "a length", "a list of texts".
func form(t reflect.Type) string {
	switch {
	case isEntry(t):
		return form(entryType(t))
	case t.Kind() == reflect.Pointer:
		return form(t.Elem())
	case t == typeOf[[2]float64]():
		return "a pair of numbers"
	}
	if one, _ := textForm(t); one != "" {
		return one
	}
	switch t.Kind() {
	case reflect.Slice:
		_, many := textForm(t.Elem())
		switch {
		case many != "":
			return "a list of " + many
		case t.Elem().Kind() == reflect.String:
			return "a list of texts"
		}
		return "a list of groups"
	case reflect.Array:
		return fmt.Sprintf("a list of %d groups", t.Len())
	case reflect.Struct:
		return "a group of fields"
	case reflect.Bool:
		return "true or false"
	case reflect.Int:
		return "a whole number"
	case reflect.Float64:
		return "a number"
	}
	return "text"
}

// textForm is what one and many of a text type are called.
func textForm(t reflect.Type) (one, many string) {
	switch t {
	case typeOf[measure.Length]():
		return "a length", "lengths"
	case typeOf[measure.Angle]():
		return "an angle", "angles"
	case typeOf[measure.Mass]():
		return "a mass", "masses"
	case typeOf[measure.Grade]():
		return "a grade", "grades"
	case typeOf[measure.LinearMass]():
		return "a mass per length", "masses per length"
	case typeOf[measure.Window]():
		return "a gap with its window", "gaps with their windows"
	case typeOf[Section]():
		return "a width and a height", "sections"
	}
	return "", ""
}
