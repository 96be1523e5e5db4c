// Package docs keeps the schemas beside this file true: they are made from the types and compared.
package docs

import (
	"bytes"
	"encoding/json"
	"flag"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"reflect"
	"strings"
	"testing"

	"github.com/google/jsonschema-go/jsonschema"
	checker "github.com/santhosh-tekuri/jsonschema/v6"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job/planner"
	"trenchwright/view/jobtext"
)

var update = flag.Bool("update", false, "rewrite the schemas in this folder")

// planSchema is the JSON Schema of plan.json, with the comments of plan.go as descriptions.
func planSchema(t *testing.T) []byte {
	s, err := jsonschema.For[planner.Plan](&jsonschema.ForOptions{TypeSchemas: map[reflect.Type]*jsonschema.Schema{
		reflect.TypeFor[measure.MM]():   {Type: "number", Description: "decimal millimetres, exact to 1e-6"},
		reflect.TypeFor[finding.List](): {Types: []string{"array", "null"}, Items: &jsonschema.Schema{Type: "object", Required: []string{"id", "kind", "text"}}},
	}})
	if err != nil {
		t.Fatal(err)
	}
	s.Schema, s.Title = "https://json-schema.org/draft/2020-12/schema", "A Trenchwright plan, format 1"
	describe(s, "Plan", comments(t))
	b, err := json.MarshalIndent(s, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return append(b, '\n')
}

type field struct{ comment, of string } // of: name of the struct that it holds

// comments reads what plan.go and its like say of each field, by struct and JSON key.
func comments(t *testing.T) map[string]map[string]field {
	out := map[string]map[string]field{}
	for _, name := range []string{"plan.go", "plandig.go", "plansections.go", "plandrain.go", "planpegs.go", "plandelivery.go", "compact.go"} {
		f, err := parser.ParseFile(token.NewFileSet(), "../job/planner/"+name, nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		commented(f, out)
	}
	return out
}

// commented adds the fields of one file.
func commented(f *ast.File, out map[string]map[string]field) {
	ast.Inspect(f, func(n ast.Node) bool {
		spec, ok := n.(*ast.TypeSpec)
		if !ok {
			return true
		}
		st, ok := spec.Type.(*ast.StructType)
		if !ok {
			return true
		}
		fields := map[string]field{}
		for _, x := range st.Fields.List {
			if x.Tag == nil { // of nobody else's concern
				continue
			}
			key, _, _ := strings.Cut(reflect.StructTag(strings.Trim(x.Tag.Value, "`")).Get("json"), ",")
			fields[key] = field{strings.TrimSpace(x.Comment.Text()), named(x.Type)}
		}
		out[spec.Name.Name] = fields
		return true
	})
}

func named(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.Ident:
		return e.Name
	case *ast.StarExpr:
		return named(e.X)
	case *ast.ArrayType:
		return named(e.Elt)
	}
	return ""
}

func describe(s *jsonschema.Schema, of string, says map[string]map[string]field) {
	for key, p := range s.Properties {
		f := says[of][key]
		if f.comment != "" {
			p.Description = f.comment
		}
		if p.Items != nil {
			describe(p.Items, f.of, says)
		}
		describe(p, f.of, says)
	}
}

func TestSchemasAreFresh(t *testing.T) {
	for name, want := range map[string][]byte{"plan.schema.json": planSchema(t), "job.schema.json": jobtext.Schema()} {
		got, err := os.ReadFile(name)
		if bytes.Equal(got, want) {
			continue
		}
		if !*update {
			t.Errorf("docs/%s is stale (%v): go test ./docs -update", name, err)
			continue
		}
		if err := os.WriteFile(name, want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func TestDemoPlansKeepTheSchema(t *testing.T) {
	doc, err := checker.UnmarshalJSON(bytes.NewReader(planSchema(t)))
	if err != nil {
		t.Fatal(err)
	}
	c := checker.NewCompiler()
	if err := c.AddResource("plan.json", doc); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile("plan.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range demo.Names() {
		b, err := demo.File(name)
		if err != nil {
			t.Fatal(err)
		}
		j, faults := jobtext.Read(name+".yaml", bytes.NewReader(b))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		text, err := json.Marshal(planner.Make(j))
		if err != nil {
			t.Fatal(err)
		}
		v, err := checker.UnmarshalJSON(bytes.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		if err := schema.Validate(v); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}
