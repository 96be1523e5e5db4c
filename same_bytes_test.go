package trenchwright

import (
	"bufio"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// unequal are functions of package math whose last digits differ between processors (measured between amd64 and wasm).
var unequal = map[string]bool{"Exp": true, "Pow": true, "Sinh": true, "Cosh": true, "Tanh": true}

// TestNoUnequalFunctions keeps them out of the pure storeys: the same job has to give the same bytes everywhere.
func TestNoUnequalFunctions(t *testing.T) {
	rs := rooms(t)
	for _, p := range packages(t) {
		r, _ := find(rs, strings.TrimPrefix(p.ImportPath, module))
		if r.storey > highestPure {
			continue
		}
		for _, name := range p.GoFiles {
			files := token.NewFileSet()
			f, err := parser.ParseFile(files, filepath.Join(p.Dir, name), nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(f, func(n ast.Node) bool {
				if s, ok := n.(*ast.SelectorExpr); ok {
					if x, ok := s.X.(*ast.Ident); ok && x.Name == "math" && unequal[s.Sel.Name] {
						t.Errorf("%s: math.%s is not the same on every processor", files.Position(s.Pos()), s.Sel.Name)
					}
				}
				return true
			})
		}
	}
}

// TestNoFusedProducts builds for a processor that fuses products into sums where the source allows it, and looks for such
// instructions in the functions that decide, storeys 1 to 4: a product that feeds a sum is written float64(a*b) + c. On
// such a processor decisions have to be the same; where a drawing puts ink need not be, to the last digit.
func TestNoFusedProducts(t *testing.T) {
	if testing.Short() {
		t.Skip("builds for another processor")
	}
	program := filepath.Join(t.TempDir(), "trenchwright")
	build := exec.Command("go", "build", "-o", program, "./cmd/trenchwright")
	build.Env = append(os.Environ(), "GOOS=linux", "GOARCH=arm64", "CGO_ENABLED=0")
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	dump := exec.Command("go", "tool", "objdump", "-s", "^trenchwright/(base|place|solve|job)", program)
	out, err := dump.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := dump.Start(); err != nil {
		t.Fatal(err)
	}
	function, lines, seen := "", 0, map[string]bool{}
	for s := bufio.NewScanner(out); s.Scan(); lines++ {
		line := s.Text()
		if strings.HasPrefix(line, "TEXT ") {
			function = strings.Fields(line)[1]
			continue
		}
		for _, op := range []string{"FMADD", "FMSUB", "FNMADD", "FNMSUB"} {
			if strings.Contains(line, "\t"+op) && !seen[function] {
				seen[function] = true
				t.Errorf("%s: %s", function, strings.Join(strings.Fields(line), " "))
			}
		}
	}
	if err := dump.Wait(); err != nil {
		t.Fatal(err)
	}
	if lines < 10_000 {
		t.Errorf("only %d lines were looked at", lines)
	}
}
