package levelling

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

const mm = measure.Millimetre

// notation reads a book in lines of "point bs is fs known", with - for an empty cell, in whole millimetres.
func notation(t testing.TB, text string) Book {
	t.Helper()
	b := Book{Figures: Figures{Unit: measure.UnitMetre, Places: 3}, Step: mm}
	for i, line := range strings.Split(strings.TrimSpace(text), "\n") {
		f := strings.Fields(line)
		cell := func(k int) *measure.Length {
			if k >= len(f) || f[k] == "-" {
				return nil
			}
			r, err := measure.ParseIn(f[k], measure.UnitMillimetre)
			if err != nil {
				t.Fatal(err)
			}
			return &r.Length
		}
		b.Rows = append(b.Rows, Row{Point: f[0], Back: cell(1), Inter: cell(2), Fore: cell(3), Known: cell(4), Line: i + 2})
	}
	return b
}

// drawBook is a random book without faults: one or two stretches, change points, intermediate sights, some known levels.
func drawBook(t *rapid.T) Book {
	b := Book{Figures: Figures{Unit: measure.UnitMetre, Places: 3}, Step: mm}
	reading := func(what string) *measure.Length {
		return new(measure.Length(rapid.IntRange(-500, 4999).Draw(t, what)) * mm)
	}
	row := func(r Row) {
		r.Line = len(b.Rows) + 2
		if r.Point == "" {
			r.Point = fmt.Sprintf("P%d", len(b.Rows))
		}
		b.Rows = append(b.Rows, r)
	}
	for range rapid.IntRange(1, 2).Draw(t, "stretches") {
		row(Row{Back: reading("bs"), Known: new(measure.Length(rapid.IntRange(0, 200_000).Draw(t, "known")) * mm)})
		for n := rapid.IntRange(1, 5).Draw(t, "set-ups"); n > 0; n-- {
			for range rapid.IntRange(0, 2).Draw(t, "intermediate") {
				row(Row{Inter: reading("is")})
			}
			r := Row{Fore: reading("fs"), Distance: new(measure.Length(rapid.IntRange(1, 120).Draw(t, "distance")) * measure.Metre)}
			if n > 1 {
				r.Back = reading("bs")
			}
			if rapid.IntRange(0, 3).Draw(t, "met") == 0 || n == 1 {
				r.Known = new(measure.Length(rapid.IntRange(0, 200_000).Draw(t, "known")) * mm)
			}
			row(r)
		}
	}
	return b
}

// Both ways of reducing agree, every page check holds, and a book that carries its own right figures is taken.
func TestBothWaysAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBook(t)
		r, said := Reduce(b)
		if len(said) > 0 {
			t.Fatal(said.Render(measure.Metric))
		}
		for i, l := range ByHeight(b) {
			if l != r.Rows[i].Level {
				t.Fatalf("line %d: %s by height, %s by rise and fall", i, l, r.Rows[i].Level)
			}
		}
		if got, want := r.SumBack-r.SumFore, r.SumRise-r.SumFall; got != want {
			t.Fatalf("backsights less foresights %s, rises less falls %s", got, want)
		}
		if _, said = Reduce(booked(b, r)); len(said) > 0 {
			t.Fatal(said.Render(measure.Metric))
		}
	})
}

// booked is b with everything booked that was worked out.
func booked(b Book, r Reduced) Book {
	b.Rows = slices.Clone(b.Rows)
	for i := range b.Rows {
		row, at := &b.Rows[i], r.Rows[i]
		row.Level, row.Height = new(at.Level), at.Height
		if !row.starts() {
			row.Rise, row.Fall = new(max(at.Rise, 0)), new(max(-at.Rise, 0))
		}
	}
	return b
}

// One slip in any booked column is found, on its own line; carried on rightly from there it is said once. An intermediate sight that
// is followed by another reading carries its slip into the next line, as the book itself did.
func TestSlipsAreFoundWhereTheyWereMade(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBook(t)
		r, said := Reduce(b)
		if len(said) > 0 {
			t.Fatal(said.Render(measure.Metric))
		}
		b = booked(b, r)
		i := rapid.IntRange(0, len(b.Rows)-1).Draw(t, "line")
		slip := measure.Length(rapid.SampledFrom([]int{-1000, -90, -1, 1, 9, 100}).Draw(t, "slip")) * mm
		cells := []*measure.Length{b.Rows[i].Level}
		if b.Rows[i].Rise != nil {
			cells = append(cells, b.Rows[i].Rise, b.Rows[i].Fall)
		}
		if b.Rows[i].Height != nil {
			h := *b.Rows[i].Height
			b.Rows[i].Height = &h
			cells = append(cells, &h)
		}
		*rapid.SampledFrom(cells).Draw(t, "cell") += slip
		_, said = Reduce(b)
		if len(said) == 0 || said[0].Where.Line != b.Rows[i].Line || said[0].Kind != finding.Fault {
			t.Fatalf("a slip of %s in line %d: %s", slip, b.Rows[i].Line, said.Render(measure.Metric))
		}
		for _, f := range said {
			if bad := finding.Speech(f); len(bad) > 0 {
				t.Fatal(f, bad)
			}
		}
	})
}

func TestSlipIsSaidOnce(t *testing.T) {
	b := notation(t, `
		A  1350 -   -    100000
		E1 -    800 -    -
		C1 1400 -   1650 -
		E2 -    700 -    -
		B  -    -   1850 -`)
	for i, l := range []measure.Length{100_000, 100_550, 99_690, 100_390, 99_240} { // C1 is 99.700: a slip of 10 mm, carried on
		b.Rows[i].Level = new(l * mm)
	}
	_, said := Reduce(b)
	if len(said) != 1 || said[0].Where.Line != 4 || said[0].Text != `"C1": the level is booked as 99.690 m; from the level before and the readings follows 99.700 m` {
		t.Errorf("%s", said.Render(measure.Metric))
	}
	b.Rows[2].Level, b.Rows[2].Rise = nil, new(850*mm)
	if _, said = Reduce(b); said[0].Text != `"C1": booked as a rise of 0.850 m, and the readings give a fall` {
		t.Errorf("%s", said.Render(measure.Metric))
	}
}

func TestBookFaultsAreSaid(t *testing.T) {
	for _, c := range []struct {
		want string
		line int
		book string
	}{
		{"no-benchmark", 2, "A 1350 - - -\nB - - 900 -"},
		{"no-backsight", 2, "A - 900 - 100000\nB - - 900 -"},
		{"early-foresight", 2, "A 900 - 900 100000\nB - - 900 -"},
		{"two-sights", 3, "A 900 - - 100000\nB 900 900 - -\nC - - 900 -"},
		{"two-sights", 3, "A 900 - - 100000\nB - 900 900 -\nC - - 900 -"},
		{"no-reading", 3, "A 900 - - 100000\nB - - - -\nC - - 900 -"},
		{"no-foresight", 3, "A 900 - - 100000\nB 900 - - -\nC - - 900 -"},
		{"no-end", 3, "A 900 - - 100000\nB - 900 - -"},
		{"idle-setup", 3, "A 900 - - 100000\nB 900 - 900 -"},
		{"idle-setup", 2, "A 900 - - 100000"},
		{"idle-setup", 4, "A 900 - - 100000\nC 900 - 800 -\nB 900 - - 99000\nD - - 900 -"},
		{"no-end", 4, "A 900 - - 100000\nC - 800 - -\nB 900 - - 99000\nD - - 900 -"},
		{"benchmark-twice", 3, "A 900 - - 100000\nA - - 900 100001"},
		{"out-of-reach", 3, "A 900 - - 100000\nB - - 100001 -"},
		{"out-of-reach", 2, "A 900 - - 10000001\nB - - 1000 -"},
	} {
		_, said := Reduce(notation(t, c.book))
		ok := slices.ContainsFunc(said, func(f finding.Finding) bool { return f.ID == "levelling."+c.want && f.Where.Line == c.line })
		if c.want == "idle-setup" && c.line == 2 {
			ok = len(said) == 1 // a book of one line
		}
		if !ok {
			t.Errorf("%s in line %d:\n%s", c.want, c.line, said.Render(measure.Metric))
		}
		spoken(t, said)
	}
	if _, said := Reduce(Book{}); len(said) != 1 {
		t.Error("an empty book")
	}
}

// A corrected benchmark moves its own stretch from that set-up on and nothing else, by the same amount everywhere, and lists the
// verdicts that flip.
func TestCorrectedBenchmark(t *testing.T) {
	b := notation(t, `
		BM1 1500 -    -    100000
		P1  -    1200 -    -
		C1  1400 -    1600 -
		BM2 -    -    1000 100302
		BM3 900  -    -    102000
		P2  -    1100 -    -
		BM2 -    -    2598 100302`)
	b.Rows[1].Design = &Design{Level: 100_300 * mm, Tolerance: new(5 * mm)}
	b.Rows[5].Design = &Design{Level: 101_792 * mm, Tolerance: new(5 * mm)}
	tol := Tolerance{Rule: PerSetup, K: 3 * mm}
	c, said := Correct(b, "BM3", 102_040*mm, tol) // by a spike 40 mm higher
	none(t, said)
	if !slices.Equal(c.Moved, []int{4, 5, 6}) {
		t.Errorf("moved: %v", c.Moved)
	}
	for _, i := range c.Moved {
		if d := c.After.Rows[i].Level - c.Before.Rows[i].Level; d != 40*mm {
			t.Errorf("line %d moved by %s", i, d)
		}
	}
	var flips []string
	for _, f := range c.Flips {
		flips = append(flips, f.Before.What+" "+f.Before.Point+": "+string(f.Before.Verdict)+" → "+string(f.After.Verdict))
	}
	if want := []string{"closing BM2: meets the stated figure → does not meet the stated figure"}; !slices.Equal(flips, want) {
		t.Errorf("%q", flips)
	}
	c, said = Correct(b, "BM3", 101_990*mm, tol)
	none(t, said)
	if len(c.Flips) != 2 || c.Flips[0].After.Verdict != Meets || c.Flips[0].Before.Off != 8*mm {
		t.Errorf("%+v", c.Flips)
	}
	// A level that a stretch only comes back to moves nothing.
	c, said = Correct(b, "BM2", 100_290*mm, tol)
	none(t, said)
	if len(c.Moved) != 0 || len(c.Flips) != 2 || c.Flips[0].Before.Row != 3 || c.Flips[1].Before.Row != 6 {
		t.Errorf("%v, %+v", c.Moved, c.Flips)
	}
	if _, said = Correct(b, "P1", 0, tol); len(said) != 1 {
		t.Error("a point that is no benchmark was corrected")
	}
	spoken(t, said)
}

// Shared out by distance or by set-ups, the corrections grow along the line, end on the known level exactly, and stay whole steps
// of the readings between.
func TestSpreadEndsOnTheBenchmark(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBook(t)
		r, said := Reduce(b)
		if len(said) > 0 {
			t.Fatal(said)
		}
		share := rapid.SampledFrom([]Share{BySetups, ByDistances}).Draw(t, "share")
		s, said := SpreadOut(b, r, share, Tolerance{Rule: Outright, K: longestReading})
		big := slices.ContainsFunc(r.Ties, func(t Tie) bool { return t.Closing && t.Misclosure.Abs() > longestReading })
		if big != said.Any(finding.Fault) {
			t.Fatalf("%s", said.Render(measure.Metric))
		}
		if big {
			return
		}
		for _, st := range r.Stretches {
			if s.Levels[st.To] != *b.Rows[st.To].Known || s.Corrections[st.From] != 0 {
				t.Fatal("the stretch does not lie between its benchmarks")
			}
			for i := st.From + 1; i < st.To; i++ {
				if s.Corrections[i]%b.Step != 0 || (s.Corrections[i]-s.Corrections[i-1])/mm*(s.Corrections[st.To]/mm) < 0 {
					t.Fatalf("corrections %v", s.Corrections)
				}
			}
		}
	})
}

func TestFiguresAreExact(t *testing.T) {
	for _, c := range []struct {
		f    Figures
		l    measure.Length
		want string
	}{
		{Figures{measure.UnitMetre, 3}, 1_350_000_000, "1.350 m"},
		{Figures{measure.UnitMetre, 3}, -500_000, "-0.001 m"},
		{Figures{measure.UnitMetre, 3}, -499_999, "0.000 m"},
		{Figures{measure.UnitFoot, 2}, 98_28 * measure.Foot / 100, "98.28 ft"},
		{Figures{measure.UnitSurveyFoot, 4}, 304_800_610, "1.0000 US survey ft"},
		{Figures{measure.NoUnit, 0}, 1_500_000_000, "2"},
		{Figures{measure.NoUnit, 2}, 0, "0.00"},
	} {
		if got := c.f.Say(c.l); got != c.want {
			t.Errorf("%d: %q, want %q", c.l, got, c.want)
		}
	}
	if f := (Figures{Places: 2}).Exactly(1_234_500_000); f.Places != 4 {
		t.Error(f)
	}
}
