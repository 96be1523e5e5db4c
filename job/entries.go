package job

import (
	"reflect"
	"strings"

	"trenchwright/base/finding"
)

// eachEntry calls visit for every figure with a pedigree that somebody entered or assumed, in the order of the job.
func eachEntry(j Job, visit func(figure pedigree, p *place)) {
	w := entryWalk{visit: visit}
	w.walk(reflect.ValueOf(&j).Elem(), nil)
}

type entryWalk struct {
	visit func(figure pedigree, p *place)
}

func (w entryWalk) walk(v reflect.Value, p *place) {
	t := v.Type()
	switch {
	case isEntry(t):
		if parts := partsOf(v); *parts.known {
			w.visit(parts, p)
		}
	case v.Kind() == reflect.Pointer:
		if !v.IsNil() {
			w.walk(v.Elem(), p)
		}
	case v.Kind() == reflect.Slice && t.Elem().Kind() == reflect.Struct && !isText(t.Elem()):
		for i := range v.Len() {
			w.walk(v.Index(i), p.item(i, itemID(v.Index(i))))
		}
	case v.Kind() == reflect.Struct && !isText(t):
		for _, f := range fieldsOf(t) {
			w.walk(v.Field(f.index), p.field(f.name))
		}
	}
}

// Assumptions is every figure that was assumed on the spot, with its note. They stand so in every output.
func Assumptions(j Job) finding.List {
	var list finding.List
	eachEntry(j, func(figure pedigree, p *place) {
		if !*figure.assumed {
			return
		}
		value := inline(encoder{}.value(figure.value))
		by, on, note := *figure.texts[2], *figure.texts[3], *figure.texts[4]
		text := p.people() + " = " + value + " was assumed, no supplier's figure."
		if note != "" {
			text += " " + sentence(strings.TrimRight(note, ".")) + "."
		} else {
			text += " Nothing says why."
		}
		if who := joined(by, on); who != "" {
			text += " By " + who + "."
		}
		list = append(list, finding.Finding{
			ID: "job.assumed", Kind: finding.Assumed, Text: text, Value: value, Where: finding.Where{Path: p.path()},
		})
	})
	return list
}

// inline is a tree in one line, for people.
func inline(v Value) string {
	if v.Kind != KindList {
		return v.Text
	}
	texts := make([]string, len(v.Items))
	for i, item := range v.Items {
		texts[i] = inline(item)
	}
	return listed(texts)
}

// Source says where a figure of supply s came from: "unit drawing D1 rev B, page 3, entered by site engineer, 2026-03-02".
func Source[T any](j Job, s Supply, e Entry[T]) string {
	return sourceOf(j, s.From, "assumed, no supplier's figure", e.parts())
}

// SourceFrom is Source for a figure outside a supply, or in a casting with a drawing of its own: document is the id of
// what it comes from unless it says otherwise (Rules.From, Fitting.From).
func SourceFrom[T any](j Job, document string, e Entry[T]) string {
	return sourceOf(j, document, "assumed, no figure on file", e.parts())
}

func sourceOf(j Job, fallback, assumed string, e pedigree) string {
	from, page, by, on, note := *e.texts[0], *e.texts[1], *e.texts[2], *e.texts[3], *e.texts[4]
	switch {
	case !*e.known:
		return "nothing on file"
	case *e.assumed:
		if note != "" {
			assumed += ": " + note
		}
		return joined(assumed, prefixed("by ", by), on)
	}
	d := document(j, choose(from != "", from, fallback))
	if d.ID == "" {
		return joined("no document on file", prefixed("page ", page), prefixed("entered by ", by), on)
	}
	name := strings.TrimSpace(d.Title + " " + d.ID)
	if d.Revision != "" {
		name += " rev " + d.Revision
	}
	return joined(name, prefixed("page ", choose(page != "", page, d.Page)),
		prefixed("entered by ", choose(by != "", by, d.EnteredBy)), choose(on != "", on, d.EnteredOn))
}

// document is the document of that id; one with nothing but the id where it is not listed; none for no id.
func document(j Job, id string) Document {
	for _, d := range j.Documents {
		if d.ID == id {
			return d
		}
	}
	return Document{ID: id}
}

// joined is the texts that are not empty, with commas.
func joined(texts ...string) string {
	var full []string
	for _, text := range texts {
		if text != "" {
			full = append(full, text)
		}
	}
	return strings.Join(full, ", ")
}

func prefixed(prefix, text string) string {
	if text == "" {
		return ""
	}
	return prefix + text
}

// itemID is what an item of a list is called by, for messages.
func itemID(item reflect.Value) string {
	if item.Kind() != reflect.Struct || isText(item.Type()) {
		return ""
	}
	for _, name := range []string{"ID", "Name", "Mark", "What"} {
		if f := item.FieldByName(name); f.IsValid() && f.Kind() == reflect.String && f.String() != "" {
			return shortened(f.String())
		}
	}
	return ""
}
