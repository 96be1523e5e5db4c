package jobtext

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"trenchwright/base/finding"
	"trenchwright/job"
)

// compiled is the schema in the hands of a validator that is not the library which made it.
func compiled(t testing.TB) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	if err := c.AddResource("job.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("job.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestSchemaIsAlwaysTheSame(t *testing.T) {
	first := Schema()
	for range 5 {
		if !bytes.Equal(first, Schema()) {
			t.Fatal("two schemas differ")
		}
	}
	if !strings.Contains(string(first), `"$schema": "https://json-schema.org/draft/2020-12/schema"`) {
		t.Error("the draft is not named")
	}
}

// asJSON is a YAML text as plain JSON values: what an editor gives to a validator.
func asJSON(t testing.TB, text string) any {
	t.Helper()
	tree, usable, faults := treeFromYAML(text)
	if !usable {
		t.Fatal(faults)
	}
	return plainValue(t, tree)
}

func plainValue(t testing.TB, v job.Value) any {
	switch v.Kind {
	case job.KindBool:
		return v.Text == "true"
	case job.KindNumber:
		return json.Number(v.Text)
	case job.KindText:
		return v.Text
	case job.KindList:
		list := make([]any, len(v.Items))
		for i, item := range v.Items {
			list[i] = plainValue(t, item)
		}
		return list
	case job.KindMap:
		group := map[string]any{}
		for _, f := range v.Fields {
			group[f.Name] = plainValue(t, f.Value)
		}
		return group
	}
	return nil
}

func TestGoodJobsFulfilTheSchema(t *testing.T) {
	s := compiled(t)
	texts := map[string]string{"ten lines": tenLines, "metric": metric, "imperial": imperial}
	files, _ := filepath.Glob("../../demo/*.yaml")
	if len(files) < 3 {
		t.Fatal("no demo jobs")
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		texts[file] = string(text)
	}
	for name, text := range texts {
		if err := s.Validate(asJSON(t, text)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		canonical, err := jsonschema.UnmarshalJSON(bytes.NewReader(job.CanonicalJSON(mustRead(t, "job.yaml", text))))
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Validate(canonical); err != nil {
			t.Errorf("%s, canonical: %v", name, err)
		}
	}
}

// spoil calls visit with every tree that differs from v by one change: a field more, a field less, a value of another
// kind. undo is what is true after visit again.
func spoil(v *job.Value, path string, visit func(what string)) {
	switch v.Kind {
	case job.KindMap:
		fields := v.Fields
		v.Fields = append(append([]job.Field{}, fields...), job.Field{Name: "colour", Value: job.Value{Kind: job.KindText, Text: "red"}})
		visit(path + ": a field more")
		for i := range fields {
			v.Fields = append(append([]job.Field{}, fields[:i]...), fields[i+1:]...)
			visit(path + "." + fields[i].Name + ": left out")
		}
		v.Fields = fields
		for i := range fields {
			spoil(&fields[i].Value, path+"."+fields[i].Name, visit)
		}
	case job.KindList:
		for i := range v.Items {
			spoil(&v.Items[i], fmt.Sprintf("%s[%d]", path, i), visit)
		}
	}
	was := *v
	for _, other := range []job.Value{
		{}, {Kind: job.KindBool, Text: "true"}, {Kind: job.KindNumber, Text: "7"}, {Kind: job.KindText, Text: "two words"},
		{Kind: job.KindList}, {Kind: job.KindMap}, {Kind: job.KindList, Items: []job.Value{{Kind: job.KindNumber, Text: "7"}}},
	} {
		*v = other
		visit(path + ": " + other.Kind.String())
	}
	*v = was
}

// The schema and the decoder agree on every job that is spoiled in one place: about fields that are unknown or missing
// always; and what the schema refuses, the decoder refuses.
func TestSchemaAndDecoderAgree(t *testing.T) {
	s := compiled(t)
	for _, text := range []string{tenLines, metric, imperial} {
		tree, usable, _ := treeFromYAML(text)
		if !usable {
			t.Fatal("no tree")
		}
		tried, refused := 0, 0
		spoil(&tree, "job", func(what string) {
			tried++
			schemaSays := s.Validate(plainValue(t, tree))
			_, faults := job.FromTree(tree)
			if schemaSays != nil {
				refused++
			}
			if schemaSays != nil && len(faults) == 0 {
				t.Errorf("%s: the schema refuses what the decoder takes: %v", what, schemaSays)
			}
			fieldFault := false
			for _, f := range faults {
				fieldFault = fieldFault || f.ID == "job.unknown-field" || f.ID == "job.missing-field" && !beyondSchema(f)
			}
			if fieldFault && schemaSays == nil {
				t.Errorf("%s: the decoder refuses what the schema takes: %s", what, faults[0].Text)
			}
		})
		t.Logf("%d spoiled jobs, %d of them refused by the schema", tried, refused)
		if refused < tried/3 {
			t.Errorf("of %d spoiled jobs the schema refuses %d only", tried, refused)
		}
	}
}

// beyondSchema tells whether a field is missing only because of what another field says.
func beyondSchema(f finding.Finding) bool {
	node := strings.HasPrefix(f.Where.Path, "route.nodes[") && strings.HasSuffix(f.Where.Path, "].at")
	return node || strings.Contains(f.Text, "is missing:") || strings.Contains(f.Text, "is missing, and") || strings.Contains(f.Text, "has no legs") ||
		strings.HasSuffix(f.Text, "is empty.") // a list that is there and holds nothing
}
