package screen

import (
	"encoding"
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
)

// fields are those of a part of the job, with everything that is known of where their figures come from. Groups within it are
// told with dots; lists of groups are parts of their own. document is what its figures come from unless they say otherwise.
func (d *draft) fields(part any, path, document string) []CardField {
	w := fieldWalk{draft: d, missing: job.Missing(d.job), from: document, out: []CardField{}}
	w.walk(reflect.ValueOf(part), path, "")
	return w.out
}

type fieldWalk struct {
	*draft
	missing finding.List
	from    string
	out     []CardField
}

func (w *fieldWalk) walk(v reflect.Value, path, label string) {
	for v.Kind() == reflect.Pointer {
		if v.IsNil() {
			v = reflect.New(v.Type().Elem())
		}
		v = v.Elem()
	}
	t := v.Type()
	for i := range t.NumField() {
		f := t.Field(i)
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		at, words := join(".", path, name), strings.ReplaceAll(join(", ", label, name), "_", " ")
		if name == "" || name == "-" {
			continue
		}
		w.field(v.Field(i), f, at, words, w.label(t, name, words))
	}
}

func join(by, a, b string) string {
	if a == "" {
		return b
	}
	return a + by + b
}

// field adds one field, or those of a group: words are the job's own for it, label is what it is called.
func (w *fieldWalk) field(v reflect.Value, f reflect.StructField, path, words, label string) {
	out := CardField{Label: label, Path: path, Word: path[strings.LastIndexAny(path, ".]")+1:], About: w.spoken(f.Tag.Get("jsonschema")), Like: strings.Trim(f.Tag.Get("example"), "[]"), Choice: []string{}}
	known := !v.IsZero()
	t := f.Type
	if strings.HasPrefix(t.Name(), "Entry[") {
		out.Figure, known = true, v.FieldByName("Known").Bool()
		out.From, out.Page, out.Assumed = v.FieldByName("From").String(), v.FieldByName("Page").String(), v.FieldByName("Assumed").Bool()
		if known {
			out.Source = w.source(v)
		}
		v = v.FieldByName("Value")
		t = v.Type()
	}
	if v.Kind() == reflect.Pointer {
		t = t.Elem()
		if v.IsNil() {
			v = reflect.New(t)
		}
		v = v.Elem()
	}
	out.Kind = kindOf(t, f)
	if words := f.Tag.Get("oneof"); words != "" && t.Kind() == reflect.String {
		out.Choice = strings.Split(words, "|")
	}
	out.Choice = append(out.Choice, w.named(f.Tag.Get("ref"))...)
	if len(out.Choice) > 0 && t.Kind() == reflect.String {
		out.Kind = "choice"
	}
	switch {
	case out.Kind != "":
	case t.Kind() == reflect.Struct:
		w.walk(v, path, words)
		return
	default:
		return // a list of things: cards of their own
	}
	out.Bare = w.bareUnit(out.Kind)
	if known {
		out.Text = w.typed(v)
		if l, ok := v.Interface().(measure.Length); ok && out.Word == "radius" && l%measure.Millimetre == 0 && strings.HasSuffix(out.Text, " mm") {
			out.Text = strconv.FormatFloat(float64(l/measure.Millimetre)/1000, 'f', -1, 64) + " m" // nobody speaks of a radius in millimetres
		}
	} else {
		out.Ask = w.ask(path)
	}
	w.out = append(w.out, out)
}

// source says where a figure came from.
func (w *fieldWalk) source(entry reflect.Value) string {
	e := job.Entry[int]{Known: true, Assumed: entry.FieldByName("Assumed").Bool(), From: entry.FieldByName("From").String(), Page: entry.FieldByName("Page").String(),
		By: entry.FieldByName("By").String(), On: entry.FieldByName("On").String(), Note: entry.FieldByName("Note").String()}
	return job.SourceFrom(w.job, w.from, e)
}

// named are the things that a field may name.
func (w *fieldWalk) named(kind string) []string {
	var out []string
	switch kind {
	case "document":
		for _, d := range w.job.Documents {
			out = append(out, d.ID)
		}
	case "supply":
		for _, s := range w.job.Supplies {
			out = append(out, s.ID)
		}
	case "fitting":
		for _, s := range w.job.Supplies {
			for _, f := range s.Fittings {
				out = append(out, f.ID)
			}
		}
	case "node":
		for _, n := range w.job.Route.Nodes {
			out = append(out, n.ID)
		}
	case "leg":
		for _, l := range w.job.Route.Legs {
			out = append(out, l.ID)
		}
	}
	return out
}

// ask is what somebody has to be asked for a figure that is not on file.
func (w *fieldWalk) ask(path string) string {
	plain := strings.NewReplacer("[", ".", "]", "").Replace(path)
	for _, f := range w.missing {
		if p := strings.NewReplacer("[", ".", "]", "").Replace(f.Where.Path); p == plain || p == strings.TrimPrefix(plain, "route.") {
			return f.Sentence()
		}
	}
	return ""
}

// kindOf is what is typed into a field; empty: it is no one field.
func kindOf(t reflect.Type, f reflect.StructField) string {
	switch t {
	case reflect.TypeFor[measure.Length]():
		if strings.Contains(f.Tag.Get("jsonschema"), "chainage") {
			return "chainage"
		}
		return "length"
	case reflect.TypeFor[measure.Angle]():
		return "angle"
	case reflect.TypeFor[measure.Grade]():
		return "grade"
	case reflect.TypeFor[measure.Mass](), reflect.TypeFor[measure.LinearMass]():
		return "mass"
	case reflect.TypeFor[measure.Window]():
		return "window"
	case reflect.TypeFor[job.Section]():
		return "section"
	case reflect.TypeFor[[2]float64]():
		return "place"
	case reflect.TypeFor[[]measure.Length]():
		return "lengths"
	case reflect.TypeFor[[]string]():
		return "texts"
	}
	switch t.Kind() {
	case reflect.String:
		return "text"
	case reflect.Bool:
		return "yes"
	case reflect.Int:
		return "number"
	case reflect.Float64:
		return "level"
	}
	return ""
}

// typed is a value as somebody would type it: exact, in feet and inches where the view has them and they are exact.
func (d *draft) typed(v reflect.Value) string {
	switch x := v.Interface().(type) {
	case measure.Length:
		f := measure.Format{System: measure.Imperial, Fraction: 64}
		if d.speech.Imperial && f.Exact(x) {
			return f.Length(x)
		}
		return x.String()
	case []measure.Length:
		var all []string
		for _, l := range x {
			all = append(all, d.typed(reflect.ValueOf(l)))
		}
		return strings.Join(all, "; ")
	case []string:
		return strings.Join(x, ", ")
	case [2]float64:
		return strconv.FormatFloat(x[0], 'f', -1, 64) + ", " + strconv.FormatFloat(x[1], 'f', -1, 64)
	case encoding.TextMarshaler:
		b, err := x.MarshalText()
		if err != nil {
			return ""
		}
		return string(b)
	case bool:
		if x {
			return "yes"
		}
		return "no"
	case float64:
		return strconv.FormatFloat(x, 'f', -1, 64)
	}
	return fmt.Sprint(v.Interface())
}
