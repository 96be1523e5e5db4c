package cutstock

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// Cases that can be checked by hand (layout.md §9, cases 11, 14 and 15, and §5).

const right = 45 * measure.Degree // half of a right bend of 90°: s = +1 at the end that runs into it

func squares(lengths ...measure.Length) (out []Piece) {
	for _, l := range lengths {
		out = append(out, Piece{Length: l * millimetre, Count: 1})
	}
	return out
}

// intoRight runs into a right bend of 90°, outOfRight comes out of one.
func intoRight(length measure.Length, count int) Piece {
	return Piece{Length: length, Count: count, End: End{Skew: right}}
}

func outOfRight(length measure.Length, count int) Piece {
	return Piece{Length: length, Count: count, Start: End{Skew: -right}}
}

func plain3000(pieces ...Piece) Problem {
	return Problem{
		Pieces: pieces, Stocks: []Stock{Unit("3000", 3000*millimetre)},
		Width: 600 * millimetre, Kerf: 5 * millimetre, LeastSlice: 5 * millimetre, MayTurn: true,
	}
}

// solved solves and checks, for both ways of cutting.
func solved(t *testing.T, p Problem) Solution {
	t.Helper()
	s, err := Solve(p, Limits{})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range Check(p, s) {
		t.Errorf("%s: %s (%s, limit %s)", f.Where.Path, f.Text, f.Value, f.Limit)
	}
	return s
}

func TestCasesByHand(t *testing.T) {
	const mm = millimetre
	// 2385.86 and 2992.93 of layout.md §5 to the nanometre: 3000 − 600 − 2·5·√2 and 3000 − 5·√2.
	bothSides, oneHand := 2_385_857_864*measure.Nanometre, 2_992_928_932*measure.Nanometre
	for _, c := range []struct {
		name   string
		pieces []Piece
		units  int
		free   int // without a cast end to keep, where that differs
	}{
		{"case 14: 1497 and 1498 and the kerf of 5 make 3000", squares(1497, 1498), 1, 0},
		{"case 14: 1498 and 1498 do not", squares(1498, 1498), 2, 0},
		{"case 14: 1000 and 1994 leave 1, thinner than a slice of 5", squares(1000, 1994), 2, 0},
		{"1000 and 1990 leave 5", squares(1000, 1990), 1, 0},
		{"case 11: 1000 and 1990 from one unit", squares(1000, 1990, 3000, 3000), 3, 0},
		{"a whole unit is not cut", squares(3000), 1, 0},
		{"case 15: two right bends, four pieces of 1400", []Piece{intoRight(1400*mm, 2), outOfRight(1400*mm, 2)}, 2, 0},
		{"case 15: one bend alone", []Piece{intoRight(1400*mm, 1), outOfRight(1400*mm, 1)}, 2, 0},
		{"both sides of one bend, the most that fits", []Piece{intoRight(1200*mm, 1), outOfRight(bothSides-1200*mm, 1)}, 1, 0},
		{"a nanometre more does not, but with the square ends together", []Piece{intoRight(1200*mm, 1), outOfRight(bothSides-1200*mm+1, 1)}, 2, 1},
		{"two of the same hand, one cut and nothing left", []Piece{intoRight(1400*mm, 1), intoRight(oneHand-1400*mm, 1)}, 1, 0},
		{"a nanometre more does not either", []Piece{intoRight(1400*mm, 1), intoRight(oneHand-1400*mm+1, 1)}, 2, 0},
		{"a left bend's outgoing side has the hand of a right bend's incoming one", []Piece{
			intoRight(1400*mm, 1), {Length: 1400 * mm, Count: 1, Start: End{Skew: right}}}, 1, 0},
	} {
		for _, factory := range []bool{true, false} {
			p := plain3000(c.pieces...)
			p.FactoryEnd = factory
			units := c.units
			if !factory && c.free > 0 {
				units = c.free
			}
			if got := solved(t, p); got.Verdict != Found || !got.Proven || got.Bought != units {
				t.Errorf("%s (a cast end kept %v): %s %d units, proven %v; by hand %d", c.name, factory, got.Verdict, got.Bought, got.Proven, units)
			}
		}
	}
}

// Units that may not be turned: the second piece into a right bend would have to be cut the wrong way round.
func TestNotTurned(t *testing.T) {
	p := plain3000(intoRight(1400*millimetre, 2), outOfRight(1400*millimetre, 2))
	p.MayTurn = false
	p.FactoryEnd = true
	if got := solved(t, p); got.Bought != 4 || !got.Proven {
		t.Errorf("four pieces from units that may not be turned: %d units, proven %v; by hand 4", got.Bought, got.Proven)
	}
	// Two that run in: 1400 + (300 + 7.07 + 5) + 1400 + 300 = 3412.07; square ends together: 300 + 1400 + 5 + 1400 + 300 =
	// 3405; mitres together: 1400 + (600 + 14.14) + 1400 = 3414.14.
	p.FactoryEnd = false
	for length, units := range map[measure.Length]int{3400: 4, 3405: 2, 3000: 4} {
		p.Stocks[0].Length = length * millimetre
		if got := solved(t, p); got.Bought != units || !got.Proven {
			t.Errorf("free cutting from %d, not turned: %d units, proven %v; by hand %d", length, got.Bought, got.Proven, units)
		}
	}
}

func TestKindsOfEnd(t *testing.T) {
	tongue := Piece{Length: 1000 * millimetre, Count: 3, End: End{Cast: "tongue"}}
	stock := Unit("3000", 3000*millimetre)
	stock.A.Cast, stock.B.Cast = "groove", "tongue"
	p := plain3000(tongue)
	p.Stocks[0] = stock
	if got := solved(t, p); got.Bought != 3 {
		t.Errorf("three pieces with their tongue: %d units; a unit has one", got.Bought)
	}
	p.Pieces = append(p.Pieces, Piece{Length: 1900 * millimetre, Count: 3, Start: End{Cast: "groove"}})
	if got := solved(t, p); got.Bought != 3 || !got.Proven {
		t.Errorf("three with a tongue, three with a groove: %d units, by hand 3", got.Bought)
	}
	p.MayTurn = false
	p.Pieces[1] = Piece{Length: 1900 * millimetre, Count: 1, End: End{Cast: "groove"}}
	if got := solved(t, p); got.Verdict != Impossible {
		t.Errorf("a groove at the end of a unit that may not be turned: %s", got.Verdict)
	}
}

func TestOffcutsAndNumbers(t *testing.T) {
	p := plain3000(squares(1400, 1400, 1400)...)
	p.Stocks = append(p.Stocks, Stock{ID: "B-017/a", Length: 1500 * millimetre, Count: 1, Offcut: true, A: End{Cast: Plain}})
	for _, factory := range []bool{true, false} {
		p.FactoryEnd = factory
		if got := solved(t, p); got.Bought != 1 || got.Used != 1 || !got.Proven {
			t.Errorf("an offcut in the yard: %d bought, %d used; by hand 1 and 1", got.Bought, got.Used)
		}
	}
	p.Stocks[1].A.Cast = ""
	p.FactoryEnd = true
	if got := solved(t, p); got.Bought != 2 || got.Used != 0 {
		t.Errorf("an offcut without a cast end: %d bought, %d used; by hand 2 and 0", got.Bought, got.Used)
	}
	p.Stocks[0].Count = 1
	if got := solved(t, p); got.Verdict != Impossible || got.Why == "" {
		t.Errorf("one unit for three pieces: %s", got.Verdict)
	}
}

// Piece and offcut with the same mitre: the offcut's end is the cut.
func TestOffcutWithMitre(t *testing.T) {
	p := plain3000(intoRight(1400*millimetre, 1))
	p.Stocks = []Stock{{ID: "C-003/a", Length: 1400 * millimetre, Count: 1, Offcut: true, A: End{Cast: Plain}, B: End{Skew: right}}}
	for _, factory := range []bool{true, false} {
		p.FactoryEnd = factory
		if got := solved(t, p); got.Verdict != Found || got.Waste != 0 {
			t.Errorf("an offcut that is the piece: %s, waste %s", got.Verdict, mm(got.Waste))
		}
		q := p
		q.Pieces = []Piece{outOfRight(1400*millimetre, 1)}
		if got := solved(t, q); got.Verdict != Impossible {
			t.Errorf("the other hand from it: %s", got.Verdict)
		}
	}
}

func TestNoCutZones(t *testing.T) {
	p := plain3000(squares(1500, 1490)...)
	p.Stocks[0].NoCut = []Span{{1495 * millimetre, 1503 * millimetre}}
	// From either cast end the cut beside 1500 would enter the zone. Without one: 1490, a cut up to 1495 that touches the
	// zone, 1500, and a slice of 5.
	p.FactoryEnd = true
	if got := solved(t, p); got.Verdict != Impossible {
		t.Errorf("the cut at 1500 lies in a no-cut zone: %s", got.Verdict)
	}
	p.FactoryEnd = false
	if got := solved(t, p); got.Bought != 1 || !got.Proven {
		t.Errorf("round a no-cut zone: %d units, by hand 1", got.Bought)
	}
	p.Stocks[0].NoCut = []Span{{1400 * millimetre, 1490 * millimetre}, {1505 * millimetre, 1600 * millimetre}}
	for _, factory := range []bool{true, false} {
		p.FactoryEnd = factory
		if got := solved(t, p); got.Bought != 1 || !got.Proven {
			t.Errorf("between two zones that it touches: %d units, by hand 1", got.Bought)
		}
	}
}

func TestWhy(t *testing.T) {
	for _, c := range []struct {
		change func(*Problem)
		want   string
	}{
		{func(p *Problem) { p.Pieces = squares(3001) }, "the longest unit is 3000 mm"},
		{func(p *Problem) { p.Pieces = squares(2998) }, "less than the least slice of 5 mm"},
		{func(p *Problem) { p.Pieces[0].Class = "other" }, "there is no stock of its class"},
		{func(p *Problem) {
			p.FactoryEnd = true
			p.Pieces = []Piece{{Length: 1400 * millimetre, Count: 1, Start: End{Skew: -right}, End: End{Skew: right}}}
		}, "could not keep a cast end"},
		{func(p *Problem) { p.Pieces = []Piece{intoRight(2800*millimetre, 1)} }, "takes 3100 mm of a unit"},
	} {
		p := plain3000(squares(1000)...)
		c.change(&p)
		if got := solved(t, p); got.Verdict != Impossible || !strings.Contains(got.Why, c.want) {
			t.Errorf("%s: %q, should say %q", got.Verdict, got.Why, c.want)
		}
	}
}

// In a job of feet and the US words, why a piece cannot be cut is said in both: 3001 mm are 118.15 in, a 3000 mm unit 118.11 in.
func TestWhyInTheWordsOfTheJob(t *testing.T) {
	p := plain3000(squares(3001)...)
	p.Words = wording.Speech{US: true, Imperial: true}
	if got, want := solved(t, p).Why, `a piece of 9'-10 1/8" (118.15 in) takes 9'-10 1/8" (118.15 in) of a trench section; the longest trench section is 9'-10 1/8" (118.11 in)`; !strings.Contains(got, want) {
		t.Errorf("%q, should say %q", got, want)
	}
	p.Kerf = -measure.Millimetre
	for _, f := range Faults(p) {
		if said := f.Text + f.Value + f.Limit; strings.Contains(said, "mm") || strings.Contains(said, "unit") {
			t.Errorf("%s: %s", f.ID, said)
		}
	}
}

func TestNothingToCut(t *testing.T) {
	for _, p := range []Problem{{}, plain3000(), plain3000(Piece{Length: 1000 * millimetre})} {
		if got := solved(t, p); got.Verdict != Found || got.Cost != 0 || !got.Proven || len(got.Patterns) != 0 {
			t.Errorf("nothing to cut: %+v", got)
		}
	}
}

func TestFaults(t *testing.T) {
	for _, c := range []struct {
		id     string
		change func(*Problem)
	}{
		{"cut.count", func(p *Problem) { p.Pieces[0].Count = -1 }},
		{"cut.length", func(p *Problem) { p.Pieces[0].Length = 0 }},
		{"cut.length", func(p *Problem) { p.Stocks[0].Length = 101 * measure.Kilometre }},
		{"cut.length", func(p *Problem) { p.Kerf = -1 }},
		{"cut.least-slice", func(p *Problem) { p.LeastSlice = 4 * millimetre }},
		{"cut.skew", func(p *Problem) { p.Pieces[0].End.Skew = 81 * measure.Degree }},
		{"cut.no-width", func(p *Problem) { p.Width, p.Pieces[0].End.Skew = 0, right }},
		{"cut.no-shortest-side", func(p *Problem) {
			p.Pieces[0] = Piece{Length: 600 * millimetre, Count: 1, Start: End{Skew: -right}, End: End{Skew: right}}
		}},
		{"cut.thin-piece", func(p *Problem) { p.LeastSlice, p.Pieces[0].Length = 50*millimetre, 40*millimetre }},
		{"cut.cast-and-skew", func(p *Problem) { p.Pieces[0].End = End{Cast: "tongue", Skew: right} }},
		{"cut.price", func(p *Problem) { p.Stocks[0].Price = -1 }},
		{"cut.price-too-large", func(p *Problem) { p.Stocks[0].Price = 1 << 40 }},
		{"cut.too-many-pieces", func(p *Problem) { p.Pieces[0].Count = 1 << 40 }},
		{"cut.no-cut", func(p *Problem) { p.Stocks[0].NoCut = []Span{{0, 3001 * millimetre}} }},
	} {
		p := plain3000(squares(1000)...)
		c.change(&p)
		list := Faults(p)
		if len(list) != 1 || list[0].ID != c.id || list[0].Try == "" || list[0].Where.Path == "" {
			t.Errorf("want one fault %s, got %+v", c.id, list)
		}
		if _, err := Solve(p, Limits{}); err == nil {
			t.Errorf("%s: solved all the same", c.id)
		}
	}
	if list := Faults(plain3000(squares(1000)...)); len(list) > 0 {
		t.Errorf("a problem without faults: %+v", list)
	}
}

// The same problem gives the same answer, and the order of what is listed does not change the cost.
func TestSameAnswer(t *testing.T) {
	for seed := range uint64(6) {
		p := jobOf(seed, 60)
		a, b := solved(t, p), solved(t, p)
		if !reflect.DeepEqual(a, b) {
			t.Errorf("-seed %d: two answers to one problem", seed)
		}
		slices.Reverse(p.Pieces)
		if c := solved(t, p); c.Cost != a.Cost {
			t.Errorf("-seed %d: cost %d, from the end of the list %d", seed, a.Cost, c.Cost)
		}
	}
}

// Cut within a small effort, nothing is claimed that is not so.
func TestLittleEffort(t *testing.T) {
	for seed := range uint64(8) {
		p := jobOf(seed, 80)
		best := solved(t, p)
		for _, effort := range []int64{1, 1000, 100_000, 1_000_000} {
			got, err := Solve(p, Limits{Effort: effort})
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range Check(p, got) {
				t.Errorf("-seed %d, effort %d: %s: %s", seed, effort, f.Where.Path, f.Text)
			}
			if got.Verdict != Found || got.Cost < best.Bound || got.Bound > best.Cost {
				t.Errorf("-seed %d, effort %d: %s, cost %d, bound %d; best %d", seed, effort, got.Verdict, got.Cost, got.Bound, best.Cost)
			}
		}
	}
}
