package docs

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/solve/check"
	"trenchwright/solve/check/cable"
	"trenchwright/solve/check/compaction"
	"trenchwright/solve/check/flotation"
	"trenchwright/solve/check/lifting"
	"trenchwright/solve/check/load"
	"trenchwright/tools/published"
)

// leastOutside is how many values from outside there are at least.
const leastOutside = 120

// TestChecks keeps checks.md: all rules that checks go by and all values from outside, each held by a test that exists.
func TestChecks(t *testing.T) {
	var page bytes.Buffer
	fmt.Fprintf(&page, "# The rules that checks go by, and the values that they are held against\n\nMade from the code by `go test ./docs -update`. A check comes to one of three verdicts: *%s*, *%s*, *%s*. Where a figure that it needs is not on file it\n"+
		"comes to none and reads `NOT CHECKED`, with whom to ask. A rule that is from memory, or common practice, never comes to a verdict: beside its figures stands *%s*.\n", finding.Meets, finding.DoesNot, finding.CannotSay, finding.CannotSay)
	fmt.Fprintf(&page, "The excavation rules of eight jurisdictions stand in `trenchwright help excavation`.\n\n## Rules\n\n| rule | says | law or standard | source | how far it is trusted | what it comes to | tests |\n|---|---|---|---|---|---|---|\n")
	var rules []check.Rule = slices.Concat(flotation.Rules(), lifting.Rules(), load.Rules(), cable.Rules(), compaction.Rules())
	seen := map[string]bool{}
	for _, r := range rules {
		if seen[r.ID] || r.ID == "" || r.Says == "" || r.Law == "" || r.Status == "" || len(r.Tests) == 0 {
			t.Errorf("rule %+v: twice, or without what a rule has", r)
		}
		seen[r.ID] = true
		for _, name := range r.Tests {
			if testBody(t, "solve/check/"+name) == nil {
				t.Errorf("rule %s: there is no test %s", r.ID, name)
			}
		}
		fmt.Fprintf(&page, "| `%s` | %s | %s | %s | %s | %s | %s |\n", r.ID, r.Says, r.Law, r.Source, r.Status, r.Comes(), strings.Join(r.Tests, ", "))
	}
	outside(t, &page)
	same(t, "checks.md", page.Bytes())
}

// outside writes the values from outside, and holds that each set is walked by the test that it names.
func outside(t *testing.T, page *bytes.Buffer) {
	var table bytes.Buffer
	letters, all := map[published.Status]int{}, 0
	seen := map[string]bool{}
	for _, s := range published.Sets() {
		rows, err := s.Rows()
		if err != nil {
			t.Error(err)
		}
		if seen[s.Name] || s.ID == "" || s.What == "" || s.Source == "" {
			t.Errorf("%+v: twice, or without what values have", s)
		}
		seen[s.Name] = true
		if !walks(testBody(t, s.Test), s.Name) {
			t.Errorf("%s: %s does not walk it, or is no test", s.Name, s.Test)
		}
		for _, r := range rows {
			all += len(r.Comes)
			letters[s.Status] += len(r.Comes)
		}
		fmt.Fprintf(&table, "| `%s` | %s | %s | %s | %s | %s | %s |\n", s.Name, s.ID, s.What, strings.ReplaceAll(strings.TrimSpace(s.Lines), "\n", "; "), s.Source, s.Status, s.Test)
	}
	if all < leastOutside {
		t.Errorf("%d values from outside, %d at least", all, leastOutside)
	}
	fmt.Fprintf(page, "\n## Values from outside\n\n%d values: %d were read with their inputs (R), of %d the inputs were read and the value worked out again (Ri), %d are closed forms (C), %d are from memory (M). Each line of a\n"+
		"set gives what stands before its equals sign and comes to what stands behind it. The test of a set walks its lines; they are written nowhere else (`tools/published`). A value from memory\n"+
		"holds the code to what is remembered; nothing comes to a verdict by it alone. The numbers are those under which the values were gathered.\n\n", all, letters[published.R], letters[published.Ri], letters[published.C], letters[published.M])
	fmt.Fprintf(page, "| values | number | what is given, and what it comes to | lines | standard and clause, or book | status | test |\n|---|---|---|---|---|---|---|\n%s", table.String())
	fmt.Fprintf(page, "\nBooks and lines, read from a file beside the repository and not counted above:\n\n| number | what | test |\n|---|---|---|\n")
	for _, f := range published.Reads() {
		if !walks(testBody(t, f.Test), f.Kind) {
			t.Errorf("%s: %s does not read %s, or is no test", f.ID, f.Test, f.Kind)
		}
		fmt.Fprintf(page, "| %s | %s | %s |\n", f.ID, f.What, f.Test)
	}
	fmt.Fprintf(page, "\nLeft out, because nothing here goes by them:\n\n| number | why |\n|---|---|\n")
	for _, l := range published.LeftOut() {
		fmt.Fprintf(page, "| %s | %s |\n", l.ID, l.Why)
	}
}

// Every value that was gathered of the parts that checks go by is held by a test, or it is said why not; and what stands in vectors.json is
// what the tests walk.
func TestNoValueIsForgotten(t *testing.T) {
	held := map[string][]float64{}
	for _, s := range published.Sets() {
		rows, _ := s.Rows()
		for _, r := range rows {
			held[s.ID] = append(held[s.ID], r.Comes...)
		}
	}
	known := map[string]bool{}
	for id := range held {
		known[id] = true
	}
	for _, l := range published.LeftOut() {
		known[l.ID] = true
	}
	for _, f := range published.Reads() {
		known[f.ID] = true
	}
	for _, m := range regexp.MustCompile(`(?m)^(?:\| )?([14-9]\.\d+a?) `).FindAllSubmatch(published.File(t, "checks/published.md"), -1) {
		if !known[string(m[1])] {
			t.Errorf("%s is neither held nor left out", m[1])
		}
	}
	var vectors []published.Value
	published.Decode(t, published.File(t, "checks/vectors.json"), &vectors)
	for _, v := range vectors {
		if !known[v.ID] {
			t.Errorf("%s of vectors.json is neither held nor left out", v.ID)
		}
		if slices.ContainsFunc(published.Reads(), func(f published.Read) bool { return f.ID == v.ID }) {
			continue
		}
		aside := published.LeftOut()
		if i := slices.IndexFunc(aside, func(l published.Left) bool { return l.ID == v.ID+" in part" }); i >= 0 {
			aside = aside[i : i+1]
		} else {
			aside = nil
		}
		var expect any
		published.Decode(t, v.Expect, &expect)
		for _, want := range figures(expect) {
			if len(aside) > 0 && strings.Contains(aside[0].Why, fmt.Sprint(want)+" ") {
				continue
			}
			if !slices.ContainsFunc(held[v.ID], func(x float64) bool { return math.Abs(x-want) <= max(v.Tol, math.Abs(want)*1e-3) }) {
				t.Errorf("%s of vectors.json: %v is not among %v", v.ID, want, held[v.ID])
			}
		}
	}
}

// figures are all numbers of a JSON value.
func figures(v any) (all []float64) {
	switch v := v.(type) {
	case float64:
		return []float64{v}
	case []any:
		for _, x := range v {
			all = append(all, figures(x)...)
		}
	case map[string]any:
		for _, x := range v {
			all = append(all, figures(x)...)
		}
	}
	return all
}

// bodies are the tests of the folders that were looked into.
var bodies = map[string]map[string]*ast.FuncDecl{}

// testBody is a test by its folder and name: solve/check/load.TestSoilAsPublished; nil: there is none.
func testBody(t *testing.T, name string) *ast.FuncDecl {
	folder, test, _ := strings.Cut(path.Base(name), ".")
	folder = path.Join(path.Dir(name), folder)
	if bodies[folder] == nil {
		bodies[folder] = map[string]*ast.FuncDecl{}
		files, err := filepath.Glob(filepath.Join("..", filepath.FromSlash(folder), "*_test.go"))
		if err != nil || len(files) == 0 {
			t.Fatalf("no tests in %s: %v", folder, err)
		}
		for _, file := range files {
			f, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			for _, d := range f.Decls {
				if fn, ok := d.(*ast.FuncDecl); ok && strings.HasPrefix(fn.Name.Name, "Test") {
					bodies[folder][fn.Name.Name] = fn
				}
			}
		}
	}
	return bodies[folder][test]
}

// walks tells whether a test names a set or a kind of values.
func walks(test *ast.FuncDecl, name string) (found bool) {
	if test == nil {
		return false
	}
	ast.Inspect(test, func(n ast.Node) bool {
		lit, ok := n.(*ast.BasicLit)
		found = found || ok && lit.Value == strconv.Quote(name)
		return true
	})
	return found
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
