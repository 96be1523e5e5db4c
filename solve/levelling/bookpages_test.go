package levelling

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"trenchwright/base/measure"
)

// Books of chance, of several stretches and set-ups with any number of intermediate sights: whatever a page holds, it checks
// by itself, every line of the book stands on it once, and the pages together close as the book does.
func TestEveryPageChecksByItself(t *testing.T) {
	pages, carried := 0, 0
	for seed := range uint64(300) {
		b := bookByChance(seed)
		r, faults := Reduce(b)
		if len(faults) > 0 {
			t.Fatalf("seed %d: %v", seed, faults)
		}
		for _, lines := range []int{1, 3, 4, 7, 22, 1000} {
			next, end := 0, measure.Length(0)
			for n, p := range Pages(b, r, lines) {
				if !p.Holds() || len(p.Lines) > max(3, lines) || len(p.Lines) == 0 {
					t.Fatalf("seed %d, %d lines, page %d does not check: %+v", seed, lines, n+1, p)
				}
				pages++
				end += p.End
				for i, l := range p.Lines {
					if l.Level != r.Rows[l.Row].Level || l.Brought != (i == 0 && l.Row == next-1) {
						t.Fatalf("seed %d, %d lines, page %d: line %+v", seed, lines, n+1, l)
					}
					if l.Carried {
						carried++
					}
					if !l.Brought {
						if l.Row != next {
							t.Fatalf("seed %d: line %d of the book after %d", seed, l.Row, next-1)
						}
						next++
					}
				}
			}
			if next != len(b.Rows) || end != r.SumBack-r.SumFore {
				t.Fatalf("seed %d, %d lines: %d of %d lines, closes by %d and not %d", seed, lines, next, len(b.Rows), end, r.SumBack-r.SumFore)
			}
		}
	}
	if carried < 1000 {
		t.Errorf("only %d lines were carried over in %d pages", carried, pages)
	}
}

func bookByChance(seed uint64) Book {
	c := rand.New(rand.NewPCG(seed, 3))
	read := func() *measure.Length { return new(measure.Length(c.IntN(4000)) * measure.Millimetre) }
	var b Book
	for n := range 1 + c.IntN(3) {
		b.Rows = append(b.Rows, Row{Point: fmt.Sprintf("BM%d", n), Back: read(), Known: new(measure.Length(100+c.IntN(50)) * measure.Metre)})
		setups := 1 + c.IntN(6)
		for s := range setups {
			for range c.IntN(9) {
				b.Rows = append(b.Rows, Row{Point: "P", Inter: read()})
			}
			row := Row{Point: "CP", Fore: read()}
			if s+1 < setups {
				row.Back = read()
			}
			b.Rows = append(b.Rows, row)
		}
	}
	return b
}

// A set-up that goes over the page, by hand: 1.500 on BM at 100.000 is a height of 101.500; 1.200 and 0.900 read from it are
// levels of 100.300 and 100.600. With three lines to a page the third reading ends the first page as its foresight:
// 1.500 − 0.900 = 0.600 = 0.300 + 0.300 = 100.600 − 100.000. The next begins with 0.900 as backsight, and 101.500 again.
func TestAPageEndsWithinASetUp(t *testing.T) {
	mm := func(n int64) *measure.Length { return new(measure.Length(n) * measure.Millimetre) }
	b := Book{Rows: []Row{{Point: "BM", Back: mm(1500), Known: mm(100000)}, {Point: "1", Inter: mm(1200)}, {Point: "2", Inter: mm(900)}, {Point: "3", Fore: mm(1000)}}}
	r, faults := Reduce(b)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	p := Pages(b, r, 3)
	if len(p) != 2 || p[0].Back != *mm(1500) || p[0].Fore != *mm(900) || p[0].Rise != *mm(600) || p[0].Fall != 0 || p[0].End != *mm(600) {
		t.Fatalf("%+v", p)
	}
	if l := p[1].Lines[0]; !l.Brought || !l.Carried || *l.Back != *mm(900) || *l.Height != *mm(101500) || l.Level != *mm(100600) || p[1].End != *mm(-100) {
		t.Errorf("%+v", p[1])
	}
}
