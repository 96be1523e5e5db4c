package job

import (
	"encoding/json"
	"reflect"
	"regexp"
	"strings"
	"testing"
)

// Every field says what it means, and whatever is not a group shows how it is written.
func TestEveryFieldIsDocumented(t *testing.T) {
	seen := map[string]bool{}
	for _, d := range Docs() {
		if seen[d.Path] {
			t.Errorf("%s is there twice", d.Path)
		}
		seen[d.Path] = true
		if d.Meaning == "" {
			t.Errorf("%s has no meaning", d.Path)
		}
		group := strings.Contains(d.Form, "group")
		if (d.Example == "") != group {
			t.Errorf("%s (%s): example %q", d.Path, d.Form, d.Example)
		}
	}
	if len(seen) < 150 {
		t.Errorf("only %d fields", len(seen))
	}
}

// Every example is one that the decoder takes at its place, and that its own rules find nothing wrong with.
func TestEveryExampleIsReadable(t *testing.T) {
	count := 0
	var group func(typ reflect.Type)
	group = func(typ reflect.Type) {
		for _, f := range fieldsOf(typ) {
			if f.example != "" {
				count++
				checkExample(t, typ, f)
			}
			inner := f.typ
			for inner.Kind() == reflect.Pointer || inner.Kind() == reflect.Slice || inner.Kind() == reflect.Array {
				inner = inner.Elem()
			}
			if inner.Kind() == reflect.Struct && !isText(inner) && !isEntry(inner) {
				group(inner)
			}
		}
	}
	group(typeOf[Job]())
	if count < 120 {
		t.Errorf("only %d examples", count)
	}
}

func checkExample(t *testing.T, typ reflect.Type, f field) {
	d := decoder{broken: brokenPlaces{}}
	dst := reflect.New(f.typ).Elem()
	d.decode(dst, f, exampleTree(f), (*place)(nil).field(f.name))
	c := checker{job: &Job{}, broken: brokenPlaces{}, ids: map[idScope]*place{}, most: longestRoute}
	c.names = c.index()
	f.ref = "" // there is nothing to refer to here
	if f.rule == "spare-source" {
		f.rule = ""
	}
	c.walk(dst, f, (*place)(nil).field(f.name))
	for _, fault := range append(d.faults, c.faults...) {
		t.Errorf("%s.%s: example %s: %s", typ.Name(), f.name, f.example, fault.Text)
	}
	if p := pattern(f.rule); p != "" && !regexp.MustCompile(p).MatchString(f.example) {
		t.Errorf("%s.%s: example %s does not match its own pattern", typ.Name(), f.name, f.example)
	}
}

// exampleTree reads an example the way a reader would: [a, b] is a list, true a yes, 3 a number.
func exampleTree(f field) Value {
	list, isList := strings.CutPrefix(f.example, "[")
	if !isList {
		return exampleScalar(f.example)
	}
	v := Value{Kind: KindList}
	for item := range strings.SplitSeq(strings.TrimSuffix(list, "]"), ", ") {
		v.Items = append(v.Items, exampleScalar(item))
	}
	return v
}

func exampleScalar(text string) Value {
	switch {
	case text == "true" || text == "false":
		return Value{Kind: KindBool, Text: text}
	case json.Valid([]byte(text)):
		return Value{Kind: KindNumber, Text: text}
	}
	return Value{Kind: KindText, Text: text}
}

func TestReferenceLine(t *testing.T) {
	for _, d := range Docs() {
		if d.Path != "route.legs[].crossings[].skew" {
			continue
		}
		const want = "route.legs[].crossings[].skew: an angle more than 0° and at most 90°. Angle between the run and the crossing; 90° where left out. Example: 75°"
		if d.String() != want {
			t.Errorf("got  %s\nwant %s", d, want)
		}
		return
	}
	t.Error("no such field")
}
