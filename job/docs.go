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
	Required bool     // wherever the group around it is written
	Example  string   // how it is written; empty for groups
}

// Docs is the reference of every field of a job, in the order of the types, made from their tags.
func Docs() []FieldDoc {
	d := docs{table: fieldTable{}}
	d.group(reflect.TypeFor[Job](), "")
	return d.list
}

type docs struct {
	table fieldTable
	list  []FieldDoc
}

func (d *docs) group(t reflect.Type, prefix string) {
	for _, f := range d.table.of(t) {
		one := FieldDoc{
			Path: prefix + f.name, Form: form(f.typ), Meaning: f.meaning, Words: f.oneof,
			Required: f.required, Example: f.example,
		}
		if one.Example == "" && len(f.oneof) > 0 {
			one.Example = f.oneof[0]
		}
		if isEntry(f.typ) {
			one.Form += ", with its document"
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

// String is the reference line as text.
func (d FieldDoc) String() string {
	line := d.Path + ": " + d.Form
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
