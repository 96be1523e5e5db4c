package delivery

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"trenchwright/base/measure"
)

// long is a made-up run of so many pieces: long and short units, every so many a special one with a mass of its own, and pallets of covers,
// on two vehicles with decks and axles. Bundles may come some 60 m of run before their turn.
func long(pieces int, seed uint64) Problem {
	r, mm := rand.New(rand.NewPCG(seed, 3)), measure.Millimetre
	p := Problem{Ahead: 60 * measure.Metre, Kinds: []Kind{
		{Name: "unit 3000", Length: 3000 * mm, Width: 700 * mm, Height: 560 * mm, Mass: 1_305_000, Bundle: 2, Wide: 1, Bearer: 80 * mm, High: 2, On: []int{0}},
		{Name: "unit 1500", Length: 1500 * mm, Width: 700 * mm, Height: 560 * mm, Mass: 652_500, Bundle: 2, Wide: 1, Bearer: 80 * mm, High: 2, On: []int{0, 1}},
		{Name: "cover 996", Length: 996 * mm, Width: 640 * mm, Height: 70 * mm, Mass: 109_600, Bundle: 8, Wide: 1, Bearer: 10 * mm, Tare: 18_000, High: 1},
	}, Vehicles: []Vehicle{
		{Name: "rigid", Payload: 12_000_000, Deck: &Deck{7200 * mm, 2450 * mm, 2600 * mm},
			Axles: &Axles{Ahead: 1100 * mm, Apart: 5300 * mm, Empty: [2]measure.Mass{5_600_000, 4_900_000}, Limit: [2]measure.Mass{8_000_000, 19_000_000}}},
		{Name: "trailer", Payload: 26_500_000, Deck: &Deck{13_600 * mm, 2480 * mm, 2700 * mm},
			Axles: &Axles{Ahead: -1000 * mm, Apart: 7700 * mm, Empty: [2]measure.Mass{2_500_000, 4_500_000}, Limit: [2]measure.Mass{12_000_000, 24_000_000}}},
	}}
	turn, n := measure.Length(0), 0
	for len(p.Pieces) < pieces {
		kind, length := 0, 3000*mm
		switch x := r.IntN(40); {
		case x == 0:
			length = measure.Length(600+r.IntN(2300)) * mm
			kind = len(p.Kinds)
			p.Kinds = append(p.Kinds, Kind{Name: fmt.Sprint("special ", n), Length: length, Width: 700 * mm, Height: 560 * mm, Mass: measure.Mass(length / mm * 435)})
		case x < 7:
			kind, length = 1, 1500*mm
		}
		n++
		p.Pieces = append(p.Pieces, Piece{Name: fmt.Sprintf("A-%04d", n), Kind: kind, Turn: turn})
		for range (length + 999*mm) / (1000 * mm) {
			p.Pieces = append(p.Pieces, Piece{Name: fmt.Sprintf("A-%04d cover", n), Kind: 2, Turn: turn})
		}
		turn += length + 10*mm
	}
	p.Pieces = p.Pieces[:pieces]
	return p
}

// Ten thousand pieces come on no more than 2 in 100 loads above what any order needs.
func TestLongRunNearItsBound(t *testing.T) {
	for _, one := range []uint64{1, 2, 3} {
		p := long(10_000, one)
		s, bad := Solve(p)
		if len(bad) > 0 {
			t.Fatal(bad)
		}
		if bad := Check(&p, &s); len(bad) > 0 {
			t.Fatal(bad[0].Text)
		}
		t.Logf("seed %d: %d loads, bound %d by %s %v", one, len(s.Loads), s.Bound.Loads, s.Bound.By, s.Bound.K)
		if 50*(len(s.Loads)-s.Bound.Loads) > s.Bound.Loads {
			t.Errorf("seed %d: %d loads, more than 2 in 100 above %d", one, len(s.Loads), s.Bound.Loads)
		}
	}
}

func BenchmarkTenThousandPieces(b *testing.B) {
	p := long(10_000, 1)
	for b.Loop() {
		if _, bad := Solve(p); len(bad) > 0 {
			b.Fatal(bad)
		}
	}
}
