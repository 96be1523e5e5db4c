package docs

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/solve/check"
	"trenchwright/solve/check/cable"
	"trenchwright/solve/check/compaction"
	"trenchwright/solve/check/flotation"
	"trenchwright/solve/check/lifting"
	"trenchwright/solve/check/load"
)

// TestChecks keeps checks.md, the list of all rules that checks go by, and holds that each is held by a test that exists.
func TestChecks(t *testing.T) {
	var page bytes.Buffer
	fmt.Fprintf(&page, "# The rules that checks go by\n\nMade from the code by `go test ./docs -update`. A check comes to one of three verdicts: *%s*, *%s*, *%s*. Where a figure that it needs is not on file it\n"+
		"comes to none and reads `NOT CHECKED`, with whom to ask. A rule that is from memory, or common practice, never comes to a verdict.\n", finding.Meets, finding.DoesNot, finding.CannotSay)
	fmt.Fprintf(&page, "The excavation rules of eight jurisdictions stand in `trenchwright help excavation`.\n\n| rule | says | law or standard | source | how far it is trusted | tests |\n|---|---|---|---|---|---|\n")
	var rules []check.Rule
	rules = append(rules, flotation.Rules()...)
	rules = append(rules, lifting.Rules()...)
	rules = append(rules, load.Rules()...)
	rules = append(rules, cable.Rules()...)
	rules = append(rules, compaction.Rules()...)
	seen := map[string]bool{}
	for _, r := range rules {
		if seen[r.ID] || r.ID == "" || r.Says == "" || r.Law == "" || r.Status == "" || len(r.Tests) == 0 {
			t.Errorf("rule %+v: twice, or without what a rule has", r)
		}
		seen[r.ID] = true
		for _, name := range r.Tests {
			folder, test, _ := strings.Cut(name, ".")
			if !slices.Contains(testsIn(t, "../solve/check/"+folder), test) {
				t.Errorf("rule %s: there is no test %s", r.ID, name)
			}
		}
		fmt.Fprintf(&page, "| `%s` | %s | %s | %s | %s | %s |\n", r.ID, r.Says, r.Law, r.Source, r.Status, strings.Join(r.Tests, ", "))
	}
	same(t, "checks.md", page.Bytes())
}

// testsIn are the tests of a folder.
func testsIn(t *testing.T, folder string) []string {
	files, err := filepath.Glob(folder + "/*_test.go")
	if err != nil || len(files) == 0 {
		t.Fatalf("no tests in %s: %v", folder, err)
	}
	var names []string
	for _, file := range files {
		f, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range f.Decls {
			if fn, ok := d.(*ast.FuncDecl); ok && strings.HasPrefix(fn.Name.Name, "Test") {
				names = append(names, fn.Name.Name)
			}
		}
	}
	return names
}

// same holds a page of this folder against what it is made from.
func same(t *testing.T, name string, want []byte) {
	t.Helper()
	if *update {
		if err := os.WriteFile(name, want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if have, err := os.ReadFile(name); err != nil || !bytes.Equal(have, want) {
		t.Errorf("%s is stale: go test ./docs -update (%v)", name, err)
	}
}
