package cutstock

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"testing"

	"trenchwright/base/measure"
)

var (
	seed   = flag.Uint64("seed", 20260, "seed of the first random problem")
	random = flag.Int("random", 1500, "number of random problems")
)

// twin is the slow and obvious answer: every set of pieces on every unit in every order and turning, then the cheapest
// units for all sets, by trying everything. Every place is tried for what is left over.
type twin struct {
	p     Problem
	items []int          // index of the piece of each copy
	fits  []map[int]bool // by stock: sets of copies that can be cut from one
	grid  measure.Length // where there are no-cut zones: everything is a multiple of it
	memo  map[string]int64
}

const none = int64(1) << 60

func newTwin(p Problem, grid measure.Length) *twin {
	t := &twin{p: p, grid: grid, memo: map[string]int64{}}
	for i, piece := range p.Pieces {
		for range piece.Count {
			t.items = append(t.items, i)
		}
	}
	for _, stock := range p.Stocks {
		fits := map[int]bool{}
		for set := 1; set < 1<<len(t.items); set++ {
			sum := measure.Length(0)
			for i, item := range t.items {
				if set>>i&1 > 0 {
					sum += p.Pieces[item].Length
				}
			}
			if sum <= stock.Length && t.canCut(stock, set, nil) {
				fits[set] = true
			}
		}
		t.fits = append(t.fits, fits)
	}
	return t
}

// canCut tries every order and turning of the set behind the pieces that are laid.
func (t *twin) canCut(stock Stock, set int, laid []Placed) bool {
	if set == 0 {
		return t.spread(stock, laid, 0, 0)
	}
	for i, item := range t.items {
		if set>>i&1 == 0 {
			continue
		}
		for _, turned := range []bool{false, true} {
			if t.canCut(stock, set&^(1<<i), append(laid[:len(laid):len(laid)], Placed{Piece: item, Turned: turned})) {
				return true
			}
		}
	}
	return false
}

// spread tries the places for what is left: all of it in one place, or on stock with zones every share on the grid.
func (t *twin) spread(stock Stock, laid []Placed, i int, at measure.Length) bool {
	if len(stock.NoCut) == 0 {
		for place := 0; place <= len(laid); place++ {
			if lineFault(t.p, stock, t.tightBut(stock, laid, place)) == "" {
				return true
			}
		}
		return false
	}
	if i == len(laid) {
		return lineFault(t.p, stock, laid) == ""
	}
	for ; at+t.p.Pieces[laid[i].Piece].Length <= stock.Length; at += t.grid {
		laid[i].At = at
		if t.spread(stock, laid, i+1, at+t.p.Pieces[laid[i].Piece].Length) {
			return true
		}
	}
	return false
}

// tightBut lays the pieces as close as the saw allows but at one place, where all is left that is left.
func (t *twin) tightBut(stock Stock, laid []Placed, place int) []Placed {
	out := append([]Placed(nil), laid...)
	face := func(i, right int) measure.Angle {
		ends := [2]End{t.p.Pieces[out[i].Piece].Start, t.p.Pieces[out[i].Piece].End}
		if out[i].Turned {
			right = 1 - right
		}
		return ends[right].Skew
	}
	at := measure.Length(0)
	for i := 0; i < place; i++ {
		var gap measure.Length
		if i == 0 {
			gap, _ = atStockEnd(t.p, stock.A.Skew, face(0, 0))
		} else {
			gap, _ = parting(t.p, face(i-1, 1), face(i, 0))
		}
		out[i].At = at + gap
		at = out[i].At + t.p.Pieces[out[i].Piece].Length
	}
	at = stock.Length
	for i := len(out) - 1; i >= place; i-- {
		var gap measure.Length
		if i == len(out)-1 {
			gap, _ = atStockEnd(t.p, stock.B.Skew, face(i, 1))
		} else {
			gap, _ = parting(t.p, face(i, 1), face(i+1, 0))
		}
		out[i].At = at - gap - t.p.Pieces[out[i].Piece].Length
		at = out[i].At
	}
	return out
}

// least is the least cost for the set, none when it cannot be cut.
func (t *twin) least(set int, used []int) int64 {
	if set == 0 {
		return 0
	}
	key := fmt.Sprint(set, used)
	if cost, ok := t.memo[key]; ok {
		return cost
	}
	best := none
	first := set & -set
	for s, stock := range t.p.Stocks {
		if stock.Count >= 0 && used[s] >= stock.Count {
			continue
		}
		used[s]++
		for sub := set; sub > 0; sub = (sub - 1) & set {
			if sub&first > 0 && t.fits[s][sub] {
				if rest := t.least(set&^sub, used); rest < none {
					best = min(best, stock.Price+rest)
				}
			}
		}
		used[s]--
	}
	t.memo[key] = best
	return best
}

// randomProblem is a small problem with everything in it that a problem can have.
func randomProblem(r *rand.Rand) (Problem, measure.Length) {
	tick := 50 * measure.Millimetre
	p := Problem{Width: 4 * tick, FactoryEnd: r.IntN(2) == 0, MayTurn: r.IntN(4) > 0}
	p.Kerf = measure.Length(r.IntN(2)) * tick
	if r.IntN(3) > 0 {
		p.LeastSlice = p.Kerf + measure.Length(r.IntN(3))*tick
	}
	if r.IntN(2) == 0 {
		p.KeepFrom = 4 * tick
	}
	zones := r.IntN(4) == 0
	skews := []measure.Angle{0}
	if !zones && r.IntN(3) > 0 {
		skews = []measure.Angle{0, 0, 45 * measure.Degree, -45 * measure.Degree, 22_500_000_000}
	}
	casts := []string{""}
	if r.IntN(4) == 0 {
		casts = []string{"", "", "tongue", "groove"}
	}
	end := func() End {
		e := End{Skew: skews[r.IntN(len(skews))]}
		if e.Skew == 0 {
			e.Cast = casts[r.IntN(len(casts))]
		}
		return e
	}
	longest := 20 + r.IntN(20)
	for left := 1 + r.IntN(7); left > 0; {
		piece := Piece{Length: measure.Length(5+r.IntN(longest-5)) * tick, Count: 1 + r.IntN(min(left, 3)), Start: end(), End: end()}
		if p.FactoryEnd && piece.Start.Skew != 0 && r.IntN(10) > 0 {
			piece.End = End{}
		}
		p.Pieces = append(p.Pieces, piece)
		left -= piece.Count
	}
	for i := range 1 + r.IntN(3) {
		s := Stock{Length: measure.Length(longest+r.IntN(12)) * tick, Count: -1, Price: int64(r.IntN(4)), A: End{Cast: Plain}, B: End{Cast: Plain}}
		if len(casts) > 1 {
			s.A.Cast, s.B.Cast = "groove", "tongue"
		}
		if i > 0 || r.IntN(3) == 0 {
			s.Count = r.IntN(4)
			s.Length = measure.Length(8+r.IntN(longest)) * tick
		}
		if r.IntN(3) == 0 {
			s.Offcut = true
			if s.B.Cast = ""; r.IntN(2) == 0 {
				s.B.Skew = skews[r.IntN(len(skews))]
			}
		}
		if zones && r.IntN(2) == 0 {
			from := measure.Length(r.IntN(longest/2)) * tick
			s.NoCut = []Span{{from, min(from+measure.Length(1+r.IntN(4))*tick, s.Length)}}
			if s.NoCut[0].From > s.NoCut[0].To {
				s.NoCut = nil
			}
		}
		p.Stocks = append(p.Stocks, s)
	}
	return p, tick
}

func TestSolveAgreesWithTrying(t *testing.T) {
	found, impossible, open := 0, 0, 0
	for i := range *random {
		s := *seed + uint64(i)
		p, grid := randomProblem(rand.New(rand.NewPCG(s, 0)))
		if len(Faults(p)) > 0 {
			continue
		}
		got, err := Solve(p, Limits{Effort: 20_000_000})
		if err != nil {
			t.Fatalf("-seed %d: %v", s, err)
		}
		for _, f := range Check(p, got) {
			t.Errorf("-seed %d: %s: %s (%s, limit %s)\n%+v", s, f.Where.Path, f.Text, f.Value, f.Limit, p)
		}
		tw := newTwin(p, grid)
		want := tw.least(1<<len(tw.items)-1, make([]int, len(p.Stocks)))
		switch {
		case got.Verdict == Undecided, got.Verdict == Found && !got.Proven:
			open++
			if got.Verdict == Found && (got.Cost < want || got.Bound > want) {
				t.Errorf("-seed %d: cost %d, bound %d, by trying %d", s, got.Cost, got.Bound, want)
			}
			t.Logf("-seed %d: open: cost %d, bound %d, by trying %d", s, got.Cost, got.Bound, want)
		case got.Verdict == Impossible:
			impossible++
			if want != none {
				t.Errorf("-seed %d: impossible (%s), by trying %d\n%+v", s, got.Why, want, p)
			}
		default:
			found++
			if got.Cost != want {
				t.Errorf("-seed %d: cost %d, by trying %d\n%+v", s, got.Cost, want, p)
			}
		}
		if t.Failed() {
			t.FailNow()
		}
	}
	t.Logf("%d found, %d impossible, %d left open", found, impossible, open)
	if open > 0 {
		t.Errorf("%d of the small problems were left open", open)
	}
}
