package job

import (
	"fmt"
	"reflect"
)

// FieldDoc is one line of the reference of a job's fields.
type FieldDoc struct {
	Path     string   // supplies[].saw.kerf
	Form     string   // what it is written as: a length
	Meaning  string   // what it says
	Words    []string // the words it may be, if it is one of a few
	Limits   string   // what the figure has to be: more than 0 mm
	Pattern  string   // a regular expression for its text, if its form is fixed
	Figure   bool     // it may be written with its pedigree: {value, from, page, by, on, note} or {assumed, by, on, note}
	Required bool     // wherever the group around it is written
	Example  string   // how it is written; empty for groups
}

// Docs is the reference of every field of a job, in the order of the types, made from their tags.
func Docs() []FieldDoc {
	d := docs{}
	d.group(reflect.TypeFor[Job](), "")
	return d.list
}

// Figure is the type of the figure itself in type t, if t is an Entry.
func Figure(t reflect.Type) (reflect.Type, bool) {
	if !isEntry(t) {
		return t, false
	}
	return entryType(t), true
}

type docs struct {
	list []FieldDoc
}

func (d *docs) group(t reflect.Type, prefix string) {
	for _, f := range fieldsOf(t) {
		one := FieldDoc{
			Path: prefix + f.name, Form: form(f.typ), Meaning: f.meaning, Words: f.oneof, Limits: f.limits(),
			Pattern: pattern(f.rule), Figure: isEntry(f.typ), Required: f.required, Example: f.example,
		}
		if one.Example == "" && len(f.oneof) > 0 {
			one.Example = f.oneof[0]
		}
		d.list = append(d.list, one)
		inner, brackets := f.typ, ""
		for inner.Kind() == reflect.Pointer || inner.Kind() == reflect.Slice || inner.Kind() == reflect.Array {
			if inner.Kind() != reflect.Pointer {
				brackets = "[]"
			}
			inner = inner.Elem()
		}
		if inner.Kind() == reflect.Struct && !isText(inner) && !isEntry(inner) {
			d.group(inner, one.Path+brackets+".")
		}
	}
}

// limits is what a figure of f has to be, in words. That lengths and masses are not negative goes without saying.
func (f field) limits() string {
	if f.in == nil {
		return ""
	}
	_, unit, _ := figure(reflect.Zero(deepest(f.typ)))
	return f.in.words(unit)
}

// pattern is the regular expression for texts of a rule.
func pattern(rule string) string {
	switch rule {
	case "id", "leg-id":
		return "^[A-Za-z0-9]([A-Za-z0-9-]*[A-Za-z0-9])?$"
	case "date":
		return "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"
	case "decimal", "percent":
		return "^[0-9]+(\\.[0-9]+)?$"
	case "scale":
		return "^([0-9]+(\\.[0-9]+)?|ground)$"
	case "sha256":
		return "^[0-9a-f]{64}$"
	}
	return ""
}

// String is the reference line as text.
func (d FieldDoc) String() string {
	line := d.Path + ": " + d.Form
	if d.Limits != "" {
		line += " " + d.Limits
	}
	if d.Required {
		line += ", required"
	}
	if d.Meaning != "" {
		line += ". " + sentence(d.Meaning)
	}
	if d.Example != "" {
		line += fmt.Sprintf(". Example: %s", d.Example)
	}
	return line
}
