package exact

import (
	"math/big"
	"math/rand/v2"
	"testing"
)

// The slow twins: the same determinants in numbers without end.
func wide(x int64) *big.Int { return big.NewInt(x) }

func sideSlowly(a, b, c XY) *big.Int {
	p := new(big.Int).Mul(wide(b.X-a.X), wide(c.Y-a.Y))
	return p.Sub(p, new(big.Int).Mul(wide(b.Y-a.Y), wide(c.X-a.X)))
}

func dotSlowly(a, b, c XY) *big.Int {
	p := new(big.Int).Mul(wide(b.X-a.X), wide(c.X-a.X))
	return p.Add(p, new(big.Int).Mul(wide(b.Y-a.Y), wide(c.Y-a.Y)))
}

func circleSlowly(a, b, c, d XY) int {
	sum := new(big.Int)
	for _, t := range [3][3]XY{{a, b, c}, {b, c, a}, {c, a, b}} {
		sum.Add(sum, new(big.Int).Mul(dotSlowly(d, t[0], t[0]), sideSlowly(d, t[1], t[2])))
	}
	return sum.Sign()
}

// place draws places in all sizes, many of them on small grids, where all is degenerate.
func place(r *rand.Rand) XY {
	switch r.IntN(4) {
	case 0:
		return XY{r.Int64N(5), r.Int64N(5)}
	case 1:
		return XY{1_000_000_000 * r.Int64N(7), 1_000_000_000 * r.Int64N(7)}
	case 2:
		return XY{Reach - r.Int64N(3), r.Int64N(3) - Reach}
	}
	return XY{r.Int64N(2*Reach) - Reach, r.Int64N(2*Reach) - Reach}
}

func TestAgreesWithNumbersWithoutEnd(t *testing.T) {
	const seed = 7
	r := rand.New(rand.NewPCG(seed, 0))
	on, inside := 0, 0
	for range 200_000 {
		a, b, c, d := place(r), place(r), place(r), place(r)
		cross := sideSlowly(a, b, c)
		if got := Side(a, b, c); got != cross.Sign() {
			t.Fatalf("seed %d: side of %v %v %v is %d, want %d", seed, a, b, c, got, cross.Sign())
		}
		for got, want := range map[Wide]*big.Int{Cross(a, b, c): cross, Dot(a, b, c): dotSlowly(a, b, c)} {
			exactly := new(big.Float).SetInt(want)
			f, _ := exactly.Float64()
			if got.Sign() != want.Sign() || got.Float() < min(f*(1-0x1p-52), f*(1+0x1p-52)) || got.Float() > max(f*(1-0x1p-52), f*(1+0x1p-52)) {
				t.Fatalf("seed %d: %v %v %v: got %v, want %v", seed, a, b, c, got.Float(), want)
			}
		}
		if cross.Sign() < 0 {
			b, c = c, b
		}
		want := circleSlowly(a, b, c, d)
		if got := InCircle(a, b, c, d); got != want || inCircleExactly(a, b, c, d) != want {
			t.Fatalf("seed %d: circle of %v %v %v, %v is %d, want %d", seed, a, b, c, d, got, want)
		}
		if cross.Sign() != 0 && want == 0 {
			on++
		}
		if want > 0 {
			inside++
		}
	}
	if on < 1000 || inside < 10_000 {
		t.Errorf("only %d places on a circle, %d inside", on, inside)
	}
}

// A circle that float64 cannot decide by itself: four places of a grid, one moved by a nanometre.
func TestANanometreDecides(t *testing.T) {
	const far, m = 90_000_000_000_000_000, 1_000_000_000_000_000
	a, b, c := XY{far, far}, XY{far + m, far}, XY{far + m, far + m}
	for y, want := range map[int64]int{-1: 1, 0: 0, 1: -1} {
		if got := InCircle(a, b, c, XY{far, far + m + y}); got != want {
			t.Errorf("%d nm off: %d, want %d", y, got, want)
		}
	}
	if !Between(a, c, XY{far + 1, far + 1}) || Between(a, c, a) || Between(a, XY{far, far + 9}, XY{far, far + 10}) {
		t.Error("between is wrong")
	}
	if !Inside(a, b, c, b) || !Inside(a, b, c, XY{far + 5, far + 5}) || Inside(a, b, c, XY{far + 5, far + 6}) {
		t.Error("inside is wrong")
	}
	if !(XY{Reach, -Reach}).Usable() || (XY{0, Reach + 1}).Usable() || (XY{1, 2}).Compare(XY{1, 3}) >= 0 {
		t.Error("usable or compare is wrong")
	}
}

func BenchmarkInCircle(b *testing.B) {
	p, q, r := XY{0, 0}, XY{1_000_000_000, 0}, XY{1_000_000_000, 1_000_000_000}
	for name, d := range map[string]XY{"apart": {400_000_000, 700_000_000}, "on": {0, 1_000_000_000}} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				InCircle(p, q, r, d)
			}
		})
	}
}
