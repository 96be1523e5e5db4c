package peer

import (
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"trenchwright/base/measure"
	"trenchwright/solve/cutstock"
)

const mm = measure.Millimetre

// solvers are those that are installed; without any the test is skipped.
func solvers(t *testing.T) []Solver {
	var out []Solver
	cbc, err := CBC()
	if err != nil {
		t.Log(err)
	} else {
		out = append(out, cbc)
	}
	highs, err := HiGHS("..")
	if err != nil {
		t.Log(err)
	} else {
		out = append(out, highs)
	}
	if len(out) == 0 {
		t.Skip("SKIPPED: no outside solver is installed")
	}
	return out
}

func TestLPText(t *testing.T) {
	m := Model{}
	a, b := m.Column(1), m.Column(0)
	r := m.Row(AtLeast, 7)
	m.Term(r, a, 2)
	m.Term(r, b, -3)
	m.Term(m.Row(Equal, 0), b, 1)
	var text strings.Builder
	if err := m.WriteLP(&text); err != nil {
		t.Fatal(err)
	}
	want := "Minimize\n cost: +1 x0\nSubject To\n c0: +2 x0 -3 x1 >= 7\n c1: +1 x1 = 0\nGenerals\n x0\n x1\nEnd\n"
	if text.String() != want {
		t.Errorf("%s\nwant\n%s", text.String(), want)
	}
}

func TestWhatSolversSay(t *testing.T) {
	least := Model{} // 2x + y ≥ 3, x + 3y ≥ 4, x + y least: 2 (1 and 1)
	x, y := least.Column(1), least.Column(1)
	for _, r := range [][3]int64{{2, 1, 3}, {1, 3, 4}} {
		row := least.Row(AtLeast, r[2])
		least.Term(row, x, r[0])
		least.Term(row, y, r[1])
	}
	none := Model{} // 2x = 3
	none.Term(none.Row(Equal, 3), none.Column(1), 2)
	empty := Model{} // x ≥ 5, x ≤ 4
	z := empty.Column(1)
	empty.Term(empty.Row(AtLeast, 5), z, 1)
	empty.Term(empty.Row(AtMost, 4), z, 1)
	for _, s := range solvers(t) {
		if a, err := s.Ask(&least, time.Minute); err != nil || a.Verdict != Best || a.Least != 2 || a.Cost.CPU() <= 0 {
			t.Errorf("%s: %+v %v, want 2", s.Name, a, err)
		}
		for _, m := range []*Model{&none, &empty} {
			if a, err := s.Ask(m, time.Minute); err != nil || a.Verdict != None {
				t.Errorf("%s: %+v %v, want none", s.Name, a, err)
			}
		}
	}
}

// Both readers of one list: the flow along the stock and the choice among all ways of sawing it.
func TestTwoModelsOfOneCutting(t *testing.T) {
	const seed = 20_261
	all := solvers(t)
	for i := range uint64(8) {
		r := rand.New(rand.NewPCG(seed, i))
		p := cutstock.Problem{Stocks: []cutstock.Stock{cutstock.Unit("", measure.Length(20+r.IntN(10))*mm)}}
		for range 4 + r.IntN(4) {
			p.Pieces = append(p.Pieces, cutstock.Piece{Length: measure.Length(5+r.IntN(14)) * mm, Count: 1 + r.IntN(4)})
		}
		flow, err := ArcFlow(p, 10_000)
		if err != nil {
			t.Fatal(err)
		}
		choice, err := Sawing(p, 10_000)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range all[:min(len(all), 1+int(i)%4/3)] { // the slower one now and then
			a, err1 := s.Ask(flow, time.Minute)
			b, err2 := s.Ask(choice, time.Minute)
			if err1 != nil || err2 != nil || a.Verdict != Best || b.Verdict != Best || a.Least != b.Least {
				t.Errorf("seed %d, list %d, %s: flow %+v %v, choice %+v %v\n%+v", seed, i, s.Name, a, err1, b, err2, p.Pieces)
			}
		}
	}
}

// Cases of the saw that can be checked by hand.
func TestWaysOfSawing(t *testing.T) {
	right := 45 * measure.Degree
	in := func(l float64) cutstock.Piece { // into a right bend
		return cutstock.Piece{Length: measure.FromMillimetres(l), Count: 1, End: cutstock.End{Skew: right}}
	}
	outOf := func(l float64) cutstock.Piece { // out of it
		return cutstock.Piece{Length: measure.FromMillimetres(l), Count: 1, Start: cutstock.End{Skew: -right}}
	}
	plain := func(l float64) cutstock.Piece {
		return cutstock.Piece{Length: measure.FromMillimetres(l), Count: 1}
	}
	for _, c := range []struct {
		what    string
		pieces  []cutstock.Piece
		slice   float64
		factory bool
		units   int64
	}{
		{"a kerf between two halves", []cutstock.Piece{plain(1497), plain(1498)}, 5, true, 1},
		{"one millimetre too much", []cutstock.Piece{plain(1498), plain(1498)}, 5, true, 2},
		{"a slice of 1", []cutstock.Piece{plain(1000), plain(1994)}, 5, true, 2},
		{"a slice of 1 that may be", []cutstock.Piece{plain(1000), plain(1994)}, 0, true, 1},
		{"both sides of one bend", []cutstock.Piece{in(1190), outOf(1195.85)}, 0, true, 1},
		{"both sides of one bend, too long", []cutstock.Piece{in(1190), outOf(1195.87)}, 0, true, 2},
		{"two of one hand", []cutstock.Piece{in(1496), in(1496.92)}, 0, true, 1},
		{"two of one hand, too long", []cutstock.Piece{in(1496), in(1496.94)}, 0, true, 2},
		{"two right bends, four pieces", []cutstock.Piece{in(1400), outOf(1400), in(1400), outOf(1400)}, 5, true, 2},
		{"three where no end is kept", []cutstock.Piece{plain(990), plain(990), plain(1010)}, 5, false, 1},
		{"three where one is", []cutstock.Piece{plain(990), plain(990), plain(1010)}, 5, true, 2},
	} {
		p := cutstock.Problem{Pieces: c.pieces, Stocks: []cutstock.Stock{cutstock.Unit("", 3000*mm)}, Width: 600 * mm, Kerf: 5 * mm, LeastSlice: measure.FromMillimetres(c.slice), FactoryEnd: c.factory, MayTurn: true}
		m, err := Sawing(p, 1000)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range solvers(t)[:1] {
			if a, err := s.Ask(m, time.Minute); err != nil || a.Least != c.units {
				t.Errorf("%s: %s says %d %v, want %d", c.what, s.Name, a.Least, err, c.units)
			}
		}
	}
}

func TestTooLargeIsRefused(t *testing.T) {
	p := cutstock.Problem{Stocks: []cutstock.Stock{cutstock.Unit("", 1000*mm)}}
	for i := range 50 {
		p.Pieces = append(p.Pieces, cutstock.Piece{Length: measure.Length(100+i) * mm, Count: 2})
	}
	if _, err := Sawing(p, 500); err == nil {
		t.Error("more than 500 ways were not refused")
	}
	if _, err := ArcFlow(p, 500); err == nil {
		t.Error("more than 500 arcs were not refused")
	}
}
