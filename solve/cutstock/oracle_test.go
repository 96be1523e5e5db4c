//go:build !js

package cutstock_test

import (
	"flag"
	"math/rand/v2"
	"testing"
	"time"

	"trenchwright/base/measure"
	"trenchwright/bench/peer"
	"trenchwright/solve/cutstock"
)

var oracleSeed = flag.Uint64("oracle", 73_200, "seed of the cutting lists that an outside solver cuts too")

const mm = measure.Millimetre

// oracleList is a cutting list with kerf, least slice, hands of mitres, units of one or two lengths at prices, and
// offcuts that are limited in number.
func oracleList(r *rand.Rand) cutstock.Problem {
	longest := measure.Length(2000+500*r.IntN(3)) * mm
	p := cutstock.Problem{
		Width: measure.Length(400+100*r.IntN(5)) * mm, Kerf: measure.Length(r.IntN(7)) * mm,
		FactoryEnd: r.IntN(2) == 0, MayTurn: r.IntN(3) > 0,
	}
	p.LeastSlice = p.Kerf + measure.Length(r.IntN(25))*mm
	skews := []measure.Angle{0, 0, 0, 45 * measure.Degree, -45 * measure.Degree, measure.Angle(5+r.IntN(35)) * measure.Degree}
	shortest := measure.Length(350+r.IntN(300)) * mm
	for range 4 + r.IntN(9) {
		// Lengths that often just fit, or just do not.
		length := shortest + measure.Length(r.IntN(int((longest-shortest)/mm)))*mm
		if n := measure.Length(2 + r.IntN(2)); r.IntN(3) == 0 {
			length = max(shortest, (longest-(n-1)*p.Kerf)/n-measure.Length(r.IntN(8))*mm)
		}
		piece := cutstock.Piece{Length: length, Count: 1 + r.IntN(3)}
		piece.End.Skew = skews[r.IntN(len(skews))]
		if !p.FactoryEnd || piece.End.Skew == 0 {
			piece.Start.Skew = skews[r.IntN(len(skews))]
		}
		if piece.Start.Skew != 0 || piece.End.Skew != 0 {
			piece.Length = max(piece.Length, p.Width+50*mm) // its ends must not meet
		}
		p.Pieces = append(p.Pieces, piece)
	}
	p.Stocks = []cutstock.Stock{cutstock.Unit("long", longest+p.Width)}
	if r.IntN(2) == 0 {
		p.Stocks = append(p.Stocks, cutstock.Unit("short", longest*2/3))
		p.Stocks[0].Price, p.Stocks[1].Price = int64(100+r.IntN(20)), int64(60+r.IntN(20))
	}
	if r.IntN(4) == 0 {
		p.Stocks[0].Count = 4 + r.IntN(12)
	}
	for range r.IntN(3) {
		o := cutstock.Stock{ID: "offcut", Length: shortest + measure.Length(r.IntN(1200))*mm, Count: 1 + r.IntN(2), Offcut: true, A: cutstock.End{Cast: cutstock.Plain}}
		o.B.Skew = skews[r.IntN(len(skews))]
		p.Stocks = append(p.Stocks, o)
	}
	return p
}

// cbc (coin-or.org) chooses among all ways of sawing a unit, found by trying, and pays the same.
func TestAnOutsideSolverPaysTheSame(t *testing.T) {
	cbc, err := peer.CBC()
	if err != nil {
		t.Skip("SKIPPED: cuttings are not compared with an outside solver's: ", err)
	}
	found, none := 0, 0
	for i := range uint64(40) {
		p := oracleList(rand.New(rand.NewPCG(*oracleSeed, i)))
		got, err := cutstock.Solve(p, cutstock.Limits{})
		if err != nil {
			t.Fatalf("-oracle %d, list %d: %v\n%+v", *oracleSeed, i, err, p)
		}
		m, err := peer.Sawing(p, 20_000)
		if err != nil {
			t.Fatalf("-oracle %d, list %d: %v", *oracleSeed, i, err)
		}
		want, err := cbc.Ask(m, time.Minute)
		if err != nil || want.Verdict == peer.NotEnded {
			t.Fatalf("-oracle %d, list %d: cbc: %s %v", *oracleSeed, i, want.Verdict, err)
		}
		same := got.Verdict == cutstock.Impossible
		if want.Verdict == peer.Best {
			same = got.Verdict == cutstock.Found && got.Proven && got.Cost == want.Least
			found++
		} else {
			none++
		}
		if !same {
			t.Errorf("-oracle %d, list %d: %s, cost %d, bound %d; cbc: %s %d\n%+v", *oracleSeed, i, got.Verdict, got.Cost, got.Bound, want.Verdict, want.Least, p)
		}
	}
	t.Logf("seed %d: %d lists cut at the same cost, %d impossible for both", *oracleSeed, found, none)
	if found < 20 {
		t.Errorf("only %d lists could be cut: too few to say much", found)
	}
}
