package earthwork

import (
	"flag"
	"math/rand/v2"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// problems is how many random problems are solved: go test ./solve/earthwork -problems 1000.
var problems = flag.Uint64("problems", 100, "random problems that each random test solves")

// Whatever is thrown at it, it ends, adds up, and speaks as it should: ground with holes and steep steps, legs that hang in
// the air, spans of millimetres, pipes beside the dig.
func TestOddProblems(t *testing.T) {
	for seed := uint64(1); seed <= *problems; seed++ {
		r := rand.New(rand.NewPCG(seed, 17))
		pick := func(of ...float64) float64 { return of[r.IntN(len(of))] }
		surface := func(level, amp float64) *tin {
			s := field(r, -10, -10, 20, 10, pick(2, 4, 9), func(_, _ float64) float64 { return level + amp*(r.Float64()-0.5) })
			for range r.IntN(4) {
				k := r.IntN(len(s.faces))
				s.faces = append(s.faces[:k], s.faces[k+1:]...) // a hole
			}
			return s
		}
		form := []Form{Vertical, Supported, Sloped, Benched, ""}[r.IntN(5)]
		depth, length := pick(-1, 0.001, 1, 3), pick(0.001, 2, 6)
		p := trench(pick(0.4, 2, 9), Sides{Form: form, Slope: oneTo(pick(0.1, 1, 10)), Bench: &Bench{mm(pick(100, 900)), mm(pick(100, 700))}, Plumb: mm(pick(0, 300))},
			depth, depth+length*pick(-0.9, 0, 0.05, 1.1), length)
		p.Ground = surface(100, pick(0, 1, 3))
		if r.IntN(2) == 0 {
			p.Finished, p.Rock, p.Water = surface(100, 1), surface(99, 3), surface(99.5, 1)
		}
		if r.IntN(2) == 0 {
			p.Topsoil, p.Layer = new(mm(pick(0, 200, 3000))), new(mm(pick(100, 300, 5000)))
		}
		l := &p.Legs[0]
		l.Start, l.End = End{mm(pick(0, 500)), r.IntN(2) == 0}, End{mm(pick(0, 500)), r.IntN(2) == 0}
		s := &l.Spans[0]
		s.Start.Underside += mm(pick(0, 150))
		s.Start.Top += mm(pick(150, 1500))
		s.Cross = measure.Grade{Rise: m(pick(-1, 0, 0.02, 0.5)), Run: measure.Metre}
		if r.IntN(2) == 0 {
			s.Section.Pipe = &Pipe{Diameter: mm(pick(50, 400)), Bedding: mm(pick(0, 100)), Offset: m(pick(-3, 0, 0.2))}
			s.Start.Drain, s.End.Drain = new(s.Start.Formation-mm(pick(-100, 0, 200))), new(s.End.Formation-mm(pick(-100, 0, 200)))
		}
		l.Services = []Service{{Name: "main", At: m(pick(-5, 1, 99)), Width: mm(200), Depth: new(mm(900))}}
		p.Strip = Strip{Heap: oneTo(1.5), Uses: []Use{{What: Spoil, Side: Left}, {What: Stacks, Side: Right, Width: m(2)}}}
		p.Factors, p.Surcharge, p.Influence = []Factor{{Of: Soil, Loose: 1.2, Compacted: 0.9, Source: "D1"}}, oneTo(1), oneTo(1)
		got := Solve(p)
		for _, f := range got.Findings {
			for _, bad := range finding.Speech(f) {
				t.Errorf("seed %d: %s: %s", seed, f, bad)
			}
		}
		if err := Check(p, &got); err != nil {
			t.Errorf("seed %d: %v", seed, err)
		}
		if sheet, _ := SectionAt(p, 0, s.To/2); sheet.Areas.Dug() < 0 {
			t.Errorf("seed %d: %v", seed, sheet.Areas)
		}
		if t.Failed() {
			return
		}
	}
}
