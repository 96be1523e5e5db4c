package cutstock

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/measure"
)

// copyOfSolution is a deep copy, to be spoilt.
func copyOfSolution(t *testing.T, s Solution) Solution {
	t.Helper()
	text, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	var out Solution
	if err := json.Unmarshal(text, &out); err != nil {
		t.Fatal(err)
	}
	return out
}

// forChecking is a free cutting, proven by cases, and one with cast ends, proven by pairs; both with mitres and offcuts.
func forChecking(t *testing.T) (problems []Problem, solutions []Solution) {
	t.Helper()
	for _, factory := range []bool{false, true} {
		p := plain3000(
			Piece{Length: 1370 * millimetre, Count: 4}, Piece{Length: 820 * millimetre, Count: 3},
			intoRight(1400*millimetre, 3), outOfRight(1100*millimetre, 2),
		)
		p.FactoryEnd, p.KeepFrom = factory, 200*millimetre
		p.Stocks = append(p.Stocks, Stock{ID: "A-001/a", Length: 1500 * millimetre, Count: 2, Offcut: true, A: End{Cast: Plain}})
		p.Stocks[0].NoCut = []Span{{100 * millimetre, 300 * millimetre}}
		s := solved(t, p)
		if s.Verdict != Found || !s.Proven || len(s.Patterns) < 4 {
			t.Fatalf("not the example that it should be: %+v", s)
		}
		problems, solutions = append(problems, p), append(solutions, s)
	}
	return problems, solutions
}

func TestCheckSeesWhatIsSpoilt(t *testing.T) {
	spoil := map[string]func(*Problem, *Solution) bool{
		"a piece is moved by a nanometre": func(_ *Problem, s *Solution) bool { s.Patterns[0].Cuts[0].At++; return true },
		"a piece is turned": func(p *Problem, s *Solution) bool {
			for i := range s.Patterns {
				for j, c := range s.Patterns[i].Cuts {
					if p.Pieces[c.Piece].Start != p.Pieces[c.Piece].End {
						s.Patterns[i].Cuts[j].Turned = !c.Turned
						return true
					}
				}
			}
			return false
		},
		"a piece is left out":                                func(_ *Problem, s *Solution) bool { s.Patterns[0].Cuts = s.Patterns[0].Cuts[1:]; return true },
		"a pattern is used once more":                        func(_ *Problem, s *Solution) bool { s.Patterns[0].Times++; return true },
		"a pattern is used no times":                         func(_ *Problem, s *Solution) bool { s.Patterns[0].Times = 0; return true },
		"a pattern is cut from offcuts":                      func(_ *Problem, s *Solution) bool { s.Patterns[0].Stock = 1; return true },
		"stock that is not there":                            func(_ *Problem, s *Solution) bool { s.Patterns[0].Stock = 2; return true },
		"a piece that is not there":                          func(_ *Problem, s *Solution) bool { s.Patterns[0].Cuts[0].Piece = 9; return true },
		"less is bought than said":                           func(_ *Problem, s *Solution) bool { s.Bought++; return true },
		"an offcut is forgotten":                             func(_ *Problem, s *Solution) bool { s.Used--; return true },
		"the cost is wrong":                                  func(_ *Problem, s *Solution) bool { s.Cost--; return true },
		"the waste is wrong":                                 func(_ *Problem, s *Solution) bool { s.Waste--; return true },
		"the waste of a unit is wrong":                       func(_ *Problem, s *Solution) bool { s.Patterns[0].Waste--; s.Waste--; return true },
		"the bound is too high":                              func(_ *Problem, s *Solution) bool { s.Bound++; return true },
		"the bound and cost are equal, and it is not proven": func(_ *Problem, s *Solution) bool { s.Proven = false; return true },
		"there is no certificate":                            func(_ *Problem, s *Solution) bool { s.Certificate = Certificate{}; return true },
		"the certificate is there twice": func(_ *Problem, s *Solution) bool {
			s.Certificate.Proofs = append(s.Certificate.Proofs, s.Certificate.Proofs[0])
			return true
		},
		"a value is too high": func(_ *Problem, s *Solution) bool {
			proof := s.Certificate.Proofs[0]
			if proof.Pairs != nil {
				proof.Pairs.Value[0].Value += proof.Pairs.Scale
				return true
			}
			proof.Case.Piece[0] += proof.Case.Scale / 8
			return true
		},
		"values are too low": func(_ *Problem, s *Solution) bool {
			proof := s.Certificate.Proofs[0]
			if proof.Pairs != nil {
				for i := range proof.Pairs.Value {
					proof.Pairs.Value[i].Value--
				}
				return true
			}
			for i := range proof.Case.Piece {
				proof.Case.Piece[i] -= proof.Case.Piece[i] / 4
			}
			return true
		},
		"a copy has no value": func(_ *Problem, s *Solution) bool {
			if pairs := s.Certificate.Proofs[0].Pairs; pairs != nil {
				pairs.Value = pairs.Value[1:]
				return true
			}
			return false
		},
		"a rent is not paid": func(_ *Problem, s *Solution) bool {
			proof := s.Certificate.Proofs[0]
			if proof.Pairs != nil {
				for i := range proof.Pairs.Rent {
					if proof.Pairs.Rent[i].Value > 0 {
						proof.Pairs.Rent[i].Value = 0
						return true
					}
				}
				return false
			}
			if proof.Case.Stock[1] == 0 {
				return false
			}
			proof.Case.Stock[1] = 0
			return true
		},
		"rent for stock without limit": func(_ *Problem, s *Solution) bool {
			proof := s.Certificate.Proofs[0]
			if proof.Pairs != nil {
				proof.Pairs.Stock[0] = 1
			} else {
				proof.Case.Stock[0] = 1
			}
			return true
		},
		"prices that are too large to be added up": func(_ *Problem, s *Solution) bool {
			pairs := s.Certificate.Proofs[0].Pairs
			if pairs != nil {
				pairs.Scale = math.MaxInt64
			}
			return pairs != nil
		},
		"values that are too large to be added up": func(_ *Problem, s *Solution) bool {
			pairs := s.Certificate.Proofs[0].Pairs
			if pairs != nil {
				pairs.Value[0].Value = math.MaxInt64 // with its own double it would come out below nought
			}
			return pairs != nil
		},
		"steps that the prices are no multiple of": func(_ *Problem, s *Solution) bool { s.Certificate.Proofs[0].Step = 2; return true },
		"another kerf":          func(p *Problem, _ *Solution) bool { p.Kerf, p.LeastSlice = 290*millimetre, 290*millimetre; return true },
		"another least slice":   func(p *Problem, _ *Solution) bool { p.LeastSlice = 400 * millimetre; return true },
		"another width":         func(p *Problem, _ *Solution) bool { p.Width += 2700 * millimetre; return true },
		"units are not turned":  func(p *Problem, _ *Solution) bool { p.MayTurn = false; return true },
		"offcuts are not kept":  func(p *Problem, s *Solution) bool { p.KeepFrom = 0; return len(kept(s)) > 0 },
		"a longer least offcut": func(p *Problem, s *Solution) bool { p.KeepFrom = 3 * measure.Metre; return len(kept(s)) > 0 },
		"an offcut over a piece": func(_ *Problem, s *Solution) bool {
			for i := range s.Patterns {
				if len(s.Patterns[i].Offcuts) > 0 {
					s.Patterns[i].Offcuts[0].From -= 10 * millimetre
					s.Patterns[i].Waste -= 10 * millimetre
					s.Waste -= 10 * millimetre * measure.Length(s.Patterns[i].Times)
					return true
				}
			}
			return false
		},
		"a no-cut zone all over": func(p *Problem, _ *Solution) bool {
			p.Stocks[0].NoCut = []Span{{0, p.Stocks[0].Length}}
			return true
		},
		"sawn units where a cast end is kept": func(p *Problem, _ *Solution) bool {
			p.Stocks[0].A.Cast, p.Stocks[0].B.Cast = "", ""
			return p.FactoryEnd
		},
		"a class of its own": func(p *Problem, _ *Solution) bool { p.Pieces[0].Class = "other"; return true },
	}
	problems, solutions := forChecking(t)
	for name, f := range spoil {
		hit := 0
		for i := range problems {
			p, s := problems[i], copyOfSolution(t, solutions[i])
			if bad := Check(p, s); len(bad) > 0 {
				t.Fatalf("the copy does not hold: %+v", bad)
			}
			p.Pieces, p.Stocks = slices.Clone(p.Pieces), slices.Clone(p.Stocks)
			if !f(&p, &s) {
				continue
			}
			hit++
			if len(Check(p, s)) == 0 {
				t.Errorf("a cast end kept %v: %s, and Check says nothing", p.FactoryEnd, name)
			}
		}
		if hit == 0 {
			t.Errorf("%s: does nothing to either example", name)
		}
	}
}

func kept(s *Solution) (out []Offcut) {
	for _, p := range s.Patterns {
		out = append(out, p.Offcuts...)
	}
	return out
}

// Impossible has to be proven too, and nothing that can be cut is proven impossible.
func TestCheckOfImpossible(t *testing.T) {
	p := plain3000(squares(1400, 1400, 1400)...)
	p.Stocks[0].Count = 1
	for _, factory := range []bool{false, true} {
		p.FactoryEnd = factory
		s := solved(t, p)
		if s.Verdict != Impossible || !s.Proven {
			t.Fatalf("three pieces from one unit: %s", s.Verdict)
		}
		q := p
		q.Stocks = slices.Clone(p.Stocks)
		q.Stocks[0].Count = 2
		if len(Check(q, s)) == 0 {
			t.Errorf("two units do, and Check takes the proof that they do not")
		}
		bare := s
		bare.Certificate = Certificate{}
		if len(Check(p, bare)) == 0 {
			t.Errorf("impossible without a proof, and Check says nothing")
		}
	}
}

// A certificate with random changes never proves more than what there is.
func TestCheckNeverProvesTooMuch(t *testing.T) {
	for i := range uint64(300) {
		r := rand.New(rand.NewPCG(*seed, 9000+i))
		p, _ := randomProblem(r)
		if len(Faults(p)) > 0 {
			continue
		}
		s, err := Solve(p, Limits{Effort: 20_000_000})
		if err != nil || s.Verdict != Found || !s.Proven || s.Cost == 0 {
			continue
		}
		for range 30 {
			spoilt := copyOfSolution(t, s)
			spoilt.Bound, spoilt.Cost = s.Bound+1, s.Cost+1
			for j := range spoilt.Certificate.Proofs {
				shake(r, &spoilt.Certificate.Proofs[j])
			}
			c := checker{problem: p, solution: spoilt}
			if c.bound(); len(c.list) == 0 {
				t.Fatalf("-seed %d, problem %d: a shaken certificate proves %d where %d is enough\n%+v", *seed, i, s.Bound+1, s.Cost, p)
			}
		}
	}
}

// shake changes some numbers of a proof.
func shake(r *rand.Rand, p *Proof) {
	change := func(v *int64) {
		if r.IntN(3) == 0 {
			*v += int64(r.IntN(9)-2) * max(*v/8, 1)
		}
	}
	if p.Pairs != nil {
		for i := range p.Pairs.Value {
			change(&p.Pairs.Value[i].Value)
		}
		for i := range p.Pairs.Sets {
			change(&p.Pairs.Sets[i].Value)
		}
		for i := range p.Pairs.Stock {
			change(&p.Pairs.Stock[i])
		}
	}
	for c := p.Case; c != nil; {
		for i := range c.Piece {
			change(&c.Piece[i])
		}
		for i := range c.Stock {
			change(&c.Stock[i])
		}
		for i := range c.Rows {
			change(&c.Rows[i])
		}
		for i := range c.Halves {
			change(&c.Halves[i].Value)
		}
		if c.Split == nil {
			break
		}
		c = c.Split.Low
	}
}

// The checker uses nothing of the solvers: of the other files only the types of cutstock.go and solution.go, and mm,
// which prints a length.
func TestCheckerStandsApart(t *testing.T) {
	files, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	theirs := map[string]string{}
	var mine []*ast.File
	for _, entry := range files {
		name := entry.Name()
		if !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		switch {
		case strings.HasPrefix(name, "check"):
			mine = append(mine, file)
		case name != "cutstock.go" && name != "solution.go":
			for _, d := range file.Decls {
				for _, declared := range declares(d) {
					theirs[declared] = name
				}
			}
		}
	}
	delete(theirs, "mm")
	if len(mine) < 5 || len(theirs) < 50 {
		t.Fatalf("%d files of the checker, %d names of the solvers: the test does not see them", len(mine), len(theirs))
	}
	for _, file := range mine {
		skip := map[*ast.Ident]bool{}
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.FuncDecl:
				skip[n.Name] = true
			case *ast.SelectorExpr:
				skip[n.Sel] = true
			case *ast.Field:
				for _, name := range n.Names {
					skip[name] = true
				}
			case *ast.KeyValueExpr:
				if key, ok := n.Key.(*ast.Ident); ok {
					skip[key] = true
				}
			case *ast.Ident:
				if from, used := theirs[n.Name]; used && !skip[n] && n.Obj == nil {
					t.Errorf("the checker uses %s of %s", n.Name, from)
				}
			}
			return true
		})
	}
}

// declares is the package's names that a declaration makes; methods are reached only through a type.
func declares(d ast.Decl) (names []string) {
	switch d := d.(type) {
	case *ast.FuncDecl:
		if d.Recv == nil {
			names = append(names, d.Name.Name)
		}
	case *ast.GenDecl:
		for _, spec := range d.Specs {
			switch spec := spec.(type) {
			case *ast.TypeSpec:
				names = append(names, spec.Name.Name)
			case *ast.ValueSpec:
				for _, name := range spec.Names {
					names = append(names, name.Name)
				}
			}
		}
	}
	return names
}
