package screen

import (
	"bytes"
	"encoding"
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"trenchwright/job/edit"
)

var update = flag.Bool("update", false, "write web/src/screen.ts anew")

// spoken are the types that a browser meets, with all that they are made of.
var spoken = []any{Screen{}, Sketch{}, Card{}, Table{}, Edited{}, Difference{}, Fresh{}, Across{}, Between{}, Ticks{}, Along{}, Here{}, Rod{}, Site{}, Next{}, Form{}, Heard{}, Yard{}, SiteAnswers{}, Taken{}, Grid{}, Keyed{}, Office{}, Day{}, Spot{}, MomentAnswer{}, State{}, Earlier{}, Snap{}, edit.Edit{}}

// TestTypeScriptIsUpToDate holds web/src/screen.ts to the types here: a browser's code is checked against what is sent to it.
func TestTypeScriptIsUpToDate(t *testing.T) {
	w := &typescript{seen: map[reflect.Type]bool{}, said: map[string]string{}}
	for _, dir := range []string{".", "../../job/edit"} {
		w.comments(t, dir)
	}
	for _, one := range spoken {
		w.add(reflect.TypeOf(one))
	}
	text := "// Written by go test ./view/screen -update from the types of packages view/screen and job/edit. Not to be edited.\n" + w.out.String()
	file := filepath.Join("..", "..", "web", "src", "screen.ts")
	if *update {
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	have, err := os.ReadFile(file)
	if err != nil || !bytes.Equal(have, []byte(text)) {
		t.Errorf("%s is stale: go test ./view/screen -update (%v)", file, err)
	}
}

// typescript writes Go types as interfaces.
type typescript struct {
	out  strings.Builder
	seen map[reflect.Type]bool
	said map[string]string // comments by Type or Type.Field
}

// comments reads what is said of types and fields in a folder.
func (w *typescript) comments(t *testing.T, dir string) {
	packages, err := parser.ParseDir(token.NewFileSet(), dir, func(f fs.FileInfo) bool { return !strings.HasSuffix(f.Name(), "_test.go") }, parser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range packages {
		ast.Inspect(p, func(n ast.Node) bool {
			d, ok := n.(*ast.GenDecl)
			if !ok || d.Tok != token.TYPE {
				return true
			}
			for _, s := range d.Specs {
				spec := s.(*ast.TypeSpec)
				w.said[spec.Name.Name] = d.Doc.Text()
				fields, ok := spec.Type.(*ast.StructType)
				if !ok {
					continue
				}
				for _, f := range fields.Fields.List {
					for _, name := range f.Names {
						w.said[spec.Name.Name+"."+name.Name] = f.Comment.Text()
					}
				}
			}
			return true
		})
	}
}

// add writes the interface of a struct after those that it is made of.
func (w *typescript) add(t reflect.Type) {
	if w.seen[t] {
		return
	}
	w.seen[t] = true
	var body strings.Builder
	for i := range t.NumField() {
		f := t.Field(i)
		key, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		mark := ""
		if options == "omitempty" || options == "omitzero" {
			mark = "?"
		}
		fmt.Fprintf(&body, "  %s%s: %s;%s\n", key, mark, w.typeOf(f.Type, mark != ""), comment(w.said[t.Name()+"."+f.Name]))
	}
	w.out.WriteString("\n")
	for line := range strings.Lines(w.said[t.Name()]) {
		w.out.WriteString(strings.TrimRight("// "+line, "\n") + "\n")
	}
	fmt.Fprintf(&w.out, "export interface %s {\n%s}\n", t.Name(), body.String())
}

func comment(text string) string {
	if text = strings.TrimSpace(text); text != "" {
		return " // " + strings.ReplaceAll(text, "\n", " ")
	}
	return ""
}

func (w *typescript) typeOf(t reflect.Type, optional bool) string {
	if t == reflect.TypeFor[Numbers]() {
		return "number[]"
	}
	if t == reflect.TypeFor[Gaps]() {
		return "(number | null)[]"
	}
	if t == reflect.TypeFor[edit.Op]() {
		var all []string
		for _, op := range edit.Ops() {
			all = append(all, fmt.Sprintf("%q", op))
		}
		return strings.Join(all, " | ")
	}
	if t.Implements(reflect.TypeFor[encoding.TextMarshaler]()) {
		return "string"
	}
	switch t.Kind() {
	case reflect.String:
		return "string"
	case reflect.Bool:
		return "boolean"
	case reflect.Int, reflect.Float64:
		return "number"
	case reflect.Slice:
		return w.typeOf(t.Elem(), false) + "[]"
	case reflect.Array:
		return "[" + strings.TrimSuffix(strings.Repeat(w.typeOf(t.Elem(), false)+", ", t.Len()), ", ") + "]"
	case reflect.Pointer:
		if optional {
			return w.typeOf(t.Elem(), false)
		}
		return w.typeOf(t.Elem(), false) + " | null"
	case reflect.Struct:
		w.add(t)
		return t.Name()
	}
	panic("no TypeScript for " + t.String())
}
