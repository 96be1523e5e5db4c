package cutstock

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"trenchwright/base/measure"
)

const millimetre = measure.Millimetre

// randomJob is the cutting list of a job as a run with bends gives it: closers of any length, pieces with a mitre at one
// end and the hand that their side of the bend asks for, some between two mitres where no cast end is asked for; units
// of one or two lengths, and offcuts in the yard.
func randomJob(r *rand.Rand, pieces int) Problem {
	p := Problem{
		Width: measure.Length(500+50*r.IntN(9)) * millimetre, Kerf: measure.Length(3+r.IntN(4)) * millimetre,
		FactoryEnd: r.IntN(2) == 0, MayTurn: r.IntN(5) > 0, KeepFrom: 600 * millimetre,
	}
	p.LeastSlice = p.Kerf + measure.Length(5*r.IntN(4))*millimetre
	longest := []int{2000, 2400, 3000, 3000, 3000}[r.IntN(5)]
	for i, length := range []int{longest, longest * 2 / 3}[:1+r.IntN(2)] {
		s := Unit(fmt.Sprint(length), measure.Length(length)*millimetre)
		if r.IntN(3) == 0 {
			s.Price = int64(100 + 40*length/100 - 7*i)
		}
		p.Stocks = append(p.Stocks, s)
	}
	if len(p.Stocks) > 1 && p.Stocks[0].Price == 1 != (p.Stocks[1].Price == 1) {
		p.Stocks[0].Price, p.Stocks[1].Price = 1, 1
	}
	bends := make([]measure.Angle, 3+r.IntN(12))
	for i := range bends {
		half := []measure.Angle{45, 45, 22, 15, 30, 11}[r.IntN(6)] * measure.Degree
		if r.IntN(3) == 0 {
			half = measure.Angle(3+r.IntN(40))*measure.Degree + measure.Angle(r.IntN(1000))*measure.Degree/1000
		}
		bends[i] = half * measure.Angle(1-2*r.IntN(2))
	}
	for left := pieces; left > 0; left-- {
		p.Pieces = append(p.Pieces, jobPiece(r, p, bends, longest))
	}
	for i := range r.IntN(9) {
		p.Stocks = append(p.Stocks, jobOffcut(r, bends, longest, i))
	}
	return p
}

func jobPiece(r *rand.Rand, p Problem, bends []measure.Angle, longest int) Piece {
	piece := Piece{Count: 1, Length: measure.Length(600+r.IntN(longest-605)) * millimetre}
	if r.IntN(4) == 0 {
		piece.Length += measure.Length(r.IntN(1_000_000))
	}
	mitre := func() measure.Angle { return bends[r.IntN(len(bends))] }
	switch kind := r.IntN(10); {
	case kind < 4: // closer
	case kind == 4 && !p.FactoryEnd:
		piece.Start.Skew, piece.End.Skew = -mitre(), mitre()
	case kind%2 == 0: // into a bend
		piece.End.Skew = mitre()
	default: // out of a bend
		piece.Start.Skew = -mitre()
	}
	half := float64(p.Width) / 2
	wedges := upToNanometre(half*max(tangent(piece.Start.Skew), -tangent(piece.Start.Skew))) + upToNanometre(half*max(tangent(piece.End.Skew), -tangent(piece.End.Skew)))
	piece.Length = min(max(piece.Length, 300*millimetre+wedges), p.Stocks[0].Length-p.LeastSlice-wedges)
	return piece
}

func jobOffcut(r *rand.Rand, bends []measure.Angle, longest, i int) Stock {
	s := Stock{ID: fmt.Sprintf("B-%03d/a", i), Length: measure.Length(700+r.IntN(longest-900)) * millimetre, Count: 1, Offcut: true, A: End{Cast: Plain}}
	switch r.IntN(4) {
	case 0:
		s.B.Skew = bends[r.IntN(len(bends))]
	case 1:
		s.A.Cast = ""
	case 2:
		if r.IntN(3) == 0 { // a whole unit that is left over
			s.Length, s.Count, s.B.Cast = measure.Length(longest)*millimetre, 1+r.IntN(5), Plain
		}
	}
	return s
}

// jobOf is the job of a seed, of some number of pieces; 0: of 50 to 500.
func jobOf(seed uint64, pieces int) Problem {
	r := rand.New(rand.NewPCG(seed, 7))
	if pieces == 0 {
		pieces = 50 + r.IntN(451)
	}
	return randomJob(r, pieces)
}

// TestJobs proves the cost of every job. With allSets there are 300 of them.
func TestJobs(t *testing.T) {
	jobs := 15
	if allSets {
		jobs = 300
	}
	for i := range jobs {
		s := *seed + uint64(i)
		p := jobOf(s, 0)
		got, err := Solve(p, Limits{})
		if err != nil {
			t.Fatalf("-seed %d: %v", s, err)
		}
		for _, f := range Check(p, got) {
			t.Errorf("-seed %d: %s: %s (%s, limit %s)", s, f.Where.Path, f.Text, f.Value, f.Limit)
		}
		if got.Verdict != Found || !got.Proven {
			t.Errorf("-seed %d: %d pieces, a cast end kept %v: %s, cost %d, bound %d", s, len(p.Pieces), p.FactoryEnd, got.Verdict, got.Cost, got.Bound)
		}
	}
}
