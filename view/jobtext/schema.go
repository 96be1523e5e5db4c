//go:build !js

package jobtext

import (
	"encoding/json"
	"reflect"
	"strings"

	"github.com/google/jsonschema-go/jsonschema"

	"trenchwright/base/measure"
	"trenchwright/job"
)

// Schema is the JSON Schema (2020-12) of a job, for editors that help while a job is being written. Whatever it refuses,
// Read refuses; Read refuses more: units, references, and all that holds between two fields.
func Schema() []byte {
	types := textTypes()
	figureTypes(reflect.TypeFor[job.Job](), types)
	s, err := jsonschema.For[job.Job](&jsonschema.ForOptions{TypeSchemas: types})
	if err != nil {
		panic("jobtext: the job's types have no schema: " + err.Error())
	}
	r := refiner{docs: map[string]job.FieldDoc{}, shared: map[string]*jsonschema.Schema{}}
	for _, d := range job.Docs() {
		r.docs[d.Path] = d
	}
	r.group(s, "")
	s.Schema = "https://json-schema.org/draft/2020-12/schema"
	s.Title = "A Trenchwright job, format 1"
	s.Properties["format"] = &jsonschema.Schema{Enum: []any{job.Format}, Description: r.docs["format"].Meaning}
	s.Defs = r.shared
	out, err := json.MarshalIndent(s, "", " ")
	if err != nil {
		panic("jobtext: the schema cannot be written: " + err.Error())
	}
	return append(out, '\n')
}

// withUnit is a digit or a fraction with a unit somewhere behind it. The decoder alone knows which units there are.
const (
	fractions = `½¼¾⅛⅜⅝⅞⅓⅔⅕⅖⅗⅘⅙⅚⅐⅑⅒`
	withUnit  = `[0-9` + fractions + `].*[A-Za-z"'’‘′´` + "`" + `ʹ＇”“″„ʺ＂°º˚]`
)

// textTypes are the quantities that are written as text.
func textTypes() map[reflect.Type]*jsonschema.Schema {
	text := func(pattern string, examples ...any) *jsonschema.Schema {
		return &jsonschema.Schema{Type: "string", Pattern: pattern, Examples: examples}
	}
	return map[reflect.Type]*jsonschema.Schema{
		reflect.TypeFor[measure.Length]():     text(withUnit, "3000 mm", "3.061 m", `10'-0 1/2"`, "67 3/8 in"),
		reflect.TypeFor[measure.Angle]():      text(`[0-9`+fractions+`]`, "22.5°", "22°30'"),
		reflect.TypeFor[measure.Grade]():      text(`[0-9`+fractions+`].*[%‰:/]| per `, "0.5 %", "1:200", "1/8 in per ft"),
		reflect.TypeFor[measure.Mass]():       text(withUnit, "1184 kg", "2610 lb"),
		reflect.TypeFor[measure.LinearMass](): text(withUnit, "385 kg/m", "259 lb/ft"),
		reflect.TypeFor[measure.Window]():     text(withUnit, "10 mm in 8 mm..14 mm", "8 mm..14 mm", "10 mm"),
		reflect.TypeFor[job.Section]():        text(withUnit, "900 mm x 750 mm", "30 in x 26 in"),
	}
}

// figureTypes adds the schema of the bare figure for every type of figure with a pedigree in t.
func figureTypes(t reflect.Type, types map[reflect.Type]*jsonschema.Schema) {
	if _, known := types[t]; known {
		return
	}
	if bare, ok := job.Figure(t); ok {
		s, err := jsonschema.ForType(bare, &jsonschema.ForOptions{TypeSchemas: types})
		if err != nil {
			panic("jobtext: a figure has no schema: " + err.Error())
		}
		types[t] = s
		return
	}
	switch t.Kind() {
	case reflect.Pointer, reflect.Slice, reflect.Array:
		figureTypes(t.Elem(), types)
	case reflect.Struct:
		for i := range t.NumField() {
			figureTypes(t.Field(i).Type, types)
		}
	}
}

// refiner adds to a schema what the tags of the fields say beyond their types.
type refiner struct {
	docs   map[string]job.FieldDoc
	shared map[string]*jsonschema.Schema // of forms that many fields have
}

// share is a reference to s, kept once for all fields of the same form that are told apart by nothing else.
func (r refiner) share(s *jsonschema.Schema, d job.FieldDoc) *jsonschema.Schema {
	if len(d.Words) > 0 || d.Pattern != "" {
		return s
	}
	name := strings.NewReplacer("a ", "", "an ", "", ", ", "-", " ", "-").Replace(d.Form)
	if d.Figure {
		name += "-with-its-document"
	}
	if _, known := r.shared[name]; !known {
		r.shared[name] = s
	}
	return &jsonschema.Schema{Ref: "#/$defs/" + name}
}

func (r refiner) group(s *jsonschema.Schema, prefix string) {
	for name, p := range s.Properties {
		s.Properties[name] = r.field(p, prefix+name)
	}
}

// field is the schema of one field: never null, a list also as one scalar, a figure also with its pedigree.
func (r refiner) field(s *jsonschema.Schema, path string) *jsonschema.Schema {
	d := r.docs[path]
	dropNull(s)
	switch {
	case s.Type == "object":
		r.group(s, path+".")
		return described(s, d)
	case s.Type != "array":
		s = r.scalar(s, d)
	case s.Items.Type == "object":
		dropNull(s.Items)
		r.group(s.Items, path+"[].")
		return described(s, d)
	default:
		dropNull(s.Items)
		s.Items = r.scalar(s.Items, d)
		if s.MinItems == nil { // no pair of numbers
			s = &jsonschema.Schema{AnyOf: []*jsonschema.Schema{s.Items, {Type: "array", Items: s.Items.CloneSchemas()}}}
		}
	}
	if d.Figure {
		s = withPedigree(s)
	}
	if d.Figure || s.Pattern != "" {
		s = r.share(s, d)
	}
	return described(s, d)
}

func dropNull(s *jsonschema.Schema) {
	if len(s.Types) == 2 && s.Types[0] == "null" {
		s.Type, s.Types = s.Types[1], nil
	}
}

// scalar is one word, number or quantity. Free text may be written as a number: page 7.
func (r refiner) scalar(s *jsonschema.Schema, d job.FieldDoc) *jsonschema.Schema {
	s.Description = ""
	switch {
	case len(d.Words) > 0:
		s.Enum = make([]any, len(d.Words))
		for i, word := range d.Words {
			s.Enum[i] = word
		}
	case s.Type == "string" && s.Pattern == "":
		s.Type, s.Types = "", []string{"string", "number"}
		s.Pattern = d.Pattern
		least := 1
		s.MinLength = &least
	}
	return s
}

// withPedigree is a figure bare, with its document, or assumed.
func withPedigree(bare *jsonschema.Schema) *jsonschema.Schema {
	return &jsonschema.Schema{AnyOf: []*jsonschema.Schema{
		bare,
		pedigree("value", bare, "from", "page", "by", "on", "note"),
		pedigree("assumed", bare, "by", "on", "note"),
	}}
}

func pedigree(name string, figure *jsonschema.Schema, beside ...string) *jsonschema.Schema {
	s := &jsonschema.Schema{
		Type: "object", Required: []string{name},
		Properties:           map[string]*jsonschema.Schema{name: figure.CloneSchemas()},
		PropertyOrder:        append([]string{name}, beside...),
		AdditionalProperties: &jsonschema.Schema{Not: &jsonschema.Schema{}},
	}
	for _, text := range beside {
		s.Properties[text] = &jsonschema.Schema{Types: []string{"string", "number"}}
	}
	return s
}

// described adds the meaning and the limits.
func described(s *jsonschema.Schema, d job.FieldDoc) *jsonschema.Schema {
	s.Description = d.Meaning
	if d.Limits != "" {
		s.Description += " (" + d.Limits + ")"
	}
	return s
}
