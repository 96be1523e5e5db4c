package layout

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"trenchwright/base/measure"
)

// The tests speak a small notation, all lengths in millimetres. A leg is its length and clauses, divided by bars:
//
//	9020 | zone 2500..3600 | stock 3000 2000 | window 8..14 | nocut 100..200 | demand 1 4000..6000 | joint 3010±5
//	| mitre start -1 | mitre end 1 | fixed start | first 600 | gap 10 | q 0 | width 600 | free ends | turn | k 5 | cmin 600 | nocover
//	| covers 996 496 | coverwidth 0 | covergap 3..5 | kmin 300 | supply 1 stock 2400 | curve 0..5000 r 50000 max 2000 | slope 0..9000 5%
//
// What is not said is as in layout.md §9: stock 3000, gap 10, shortest cut 600, kerf 5, least slice 5, covers 996 with a gap
// of 4, shortest cut cover 300, widths 600, square ends. They are test data and nobody's default.
//
// A layout is its units in laying order: c before a cut unit, then = units cuts cut-covers.

func mm(v float64) measure.Length { return measure.FromMillimetres(v) }

func number(t testing.TB, s string) measure.Length {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatalf("notation: %q is no number", s)
	}
	return mm(v)
}

func span(t testing.TB, s string) (from, to measure.Length) {
	a, b, ok := strings.Cut(s, "..")
	if !ok {
		t.Fatalf("notation: %q is no a..b", s)
	}
	return number(t, a), number(t, b)
}

func tight(v measure.Length) measure.Window { return measure.Window{Nominal: v, Min: v, Max: v} }

func plainSupply() Supply {
	return Supply{
		Name: "plain", Stocks: []Stock{{Length: mm(3000)}}, Gap: tight(mm(10)),
		ShortestCut: mm(600), Kerf: mm(5), LeastSlice: mm(5), KeepFactoryEnd: true, Width: mm(600),
		Covers: Covers{Lengths: []measure.Length{mm(996)}, Gap: tight(mm(4)), ShortestCut: mm(300), Width: mm(600)},
	}
}

func leg(t testing.TB, text string) Problem {
	t.Helper()
	clauses := strings.Split(text, "|")
	p := Problem{Length: number(t, strings.TrimSpace(clauses[0])), Supplies: []Supply{plainSupply()}}
	for _, c := range clauses[1:] {
		p.clause(t, strings.Fields(c))
	}
	return p
}

func (p *Problem) clause(t testing.TB, w []string) {
	s := &p.Supplies[0]
	if w[0] == "supply" {
		k, _ := strconv.Atoi(w[1])
		for len(p.Supplies) <= k {
			p.Supplies = append(p.Supplies, plainSupply())
		}
		s, w = &p.Supplies[k], w[2:]
	}
	switch w[0] {
	case "zone":
		from, to := span(t, w[1])
		p.Zones = append(p.Zones, Zone{from, to, strings.Join(w[2:], " ")})
	case "nocut":
		from, to := span(t, w[1])
		p.NoCut = append(p.NoCut, Zone{from, to, strings.Join(w[2:], " ")})
	case "demand":
		k, _ := strconv.Atoi(w[1])
		from, to := span(t, w[2])
		p.Demands = append(p.Demands, Demand{from, to, k, strings.Join(w[3:], " ")})
	case "joint":
		at, tol, _ := strings.Cut(w[1], "±")
		p.Joints = append(p.Joints, ForcedJoint{At: number(t, at), Tolerance: number(t, "0"+tol)})
	case "mitre", "fixed":
		e := &p.Start
		if w[1] == "end" {
			e = &p.End
		}
		if w[0] == "fixed" {
			e.Fixed = true
			return
		}
		e.Mitred = true
		e.Tan, _ = strconv.ParseFloat(w[2], 64)
	case "first":
		for _, l := range w[1:] {
			p.First = append(p.First, number(t, l))
		}
	case "curve", "slope":
		p.stretch(t, w)
	default:
		s.clause(t, w)
	}
}

func (p *Problem) stretch(t testing.TB, w []string) {
	from, to := span(t, w[1])
	s := Stretch{From: from, To: to}
	for i := 2; i < len(w); i++ {
		switch w[i] {
		case "r":
			s.Radius = number(t, w[i+1])
		case "max":
			s.MaxUnit = number(t, w[i+1])
		case "rise":
			s.Rise, s.Run = number(t, w[i+1]), mm(100)
		case "window":
			s.Gap.Min, s.Gap.Max = span(t, w[i+1])
			s.Gap.Nominal = (s.Gap.Min + s.Gap.Max) / 2
		}
	}
	p.Stretches = append(p.Stretches, s)
}

func (s *Supply) clause(t testing.TB, w []string) {
	switch w[0] {
	case "stock":
		s.Stocks = nil
		for _, l := range w[1:] {
			s.Stocks = append(s.Stocks, Stock{Length: number(t, l)})
		}
	case "width":
		s.Width = number(t, w[1])
	case "castin":
		from, to := span(t, w[1])
		s.Stocks[0].NoCut = append(s.Stocks[0].NoCut, Span{from, to})
	case "window":
		s.Gap.Min, s.Gap.Max = span(t, w[1])
	case "gap":
		s.Gap = tight(number(t, w[1]))
	case "q":
		s.LeastSlice = number(t, w[1])
	case "cmin":
		s.ShortestCut = number(t, w[1])
	case "kmin":
		s.Covers.ShortestCut = number(t, w[1])
	case "free":
		s.KeepFactoryEnd = false
	case "turn":
		s.MayTurn = true
	case "nocover":
		s.Covers = Covers{}
	case "covers":
		s.Covers.Lengths = nil
		for _, l := range w[1:] {
			s.Covers.Lengths = append(s.Covers.Lengths, number(t, l))
		}
	case "coverwidth":
		s.Covers.Width = number(t, w[1])
	case "covergap":
		s.Covers.Gap.Min, s.Covers.Gap.Max = span(t, w[1])
	default:
		t.Fatalf("notation: no clause %q", strings.Join(w, " "))
	}
}

func trim(l measure.Length) string { return strconv.FormatFloat(l.Millimetres(), 'f', -1, 64) }

// shown writes a solution in the notation.
func shown(s Solution) string {
	if s.Verdict != Found {
		return string(s.Verdict) + ": " + s.Why
	}
	var b strings.Builder
	for _, u := range s.Units {
		if u.Cut {
			b.WriteString("c")
		}
		b.WriteString(trim(u.Length) + " ")
	}
	fmt.Fprintf(&b, "= %d %d %d", s.Count.Units, s.Count.Cuts, s.Count.CutCovers)
	return b.String()
}

func solved(t testing.TB, p Problem) Solution {
	t.Helper()
	s, err := Solve(p)
	if err != nil {
		t.Fatalf("Solve: %v", err)
	}
	return s
}
