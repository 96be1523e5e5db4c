package layout

import (
	"math/rand/v2"
	"slices"
	"testing"

	"trenchwright/tools/seed"
)

// What is left of a leg behind a start, as a leg of its own, costs what the certificate of the whole says, from every start; and the
// pieces of the whole are the pieces of what is left.
func TestBehindIsTheRest(t *testing.T) {
	from := seed.Of(t)
	starts, none, pieces := 0, 0, 0
	for i := range 150 {
		r := rand.New(rand.NewPCG(from, uint64(i)))
		p, tick := randomLeg(r)
		p.First = nil
		s := solved(t, p)
		for range 12 {
			x := nm(1+r.IntN(int(p.Length/tick))) * tick
			edge := func(d Demand) bool { return d.To == x || d.From == x }
			if x >= p.Length || slices.ContainsFunc(p.Demands, edge) {
				continue // a start on the edge does not tell on which side of it the joint before it lies
			}
			want, ok1 := Count{}, false
			if s.Certificate != nil {
				_, want, ok1 = s.Certificate.Next(x)
			}
			q := p.Behind(x)
			if q.faults() != nil {
				continue // a forced joint at the very end
			}
			got, err := Solve(q)
			if err != nil {
				t.Fatal(err)
			}
			if ok2 := got.Verdict == Found; ok1 != ok2 || ok1 && got.Count != want {
				t.Fatalf("seed %d leg %d: behind %d ticks %v %v, by the whole %v %v\n%s", from, i, x/tick, got.Verdict, got.Count, ok1, want, inTicks(p, tick))
			}
			if starts++; !ok1 {
				none++
			}
		}
		for k, u := range s.Units {
			v, ok := p.Piece(u.Start, u.Supply, u.Length, u.Cut, k == 0, k == len(s.Units)-1)
			if pieces++; !ok || v.Stock != u.Stock || v.Advance != u.Advance || v.Turned != u.Turned || v.Kept != u.Kept || !slices.Equal(v.Covers, u.Covers) {
				t.Fatalf("seed %d leg %d: unit %d is %+v, laid by itself %v %+v\n%s", from, i, k+1, u, ok, v, inTicks(p, tick))
			}
		}
		if bad := CheckLaid(p, s.Units); s.Verdict == Found && len(bad) > 0 {
			t.Fatalf("seed %d leg %d: %v", from, i, bad[0])
		}
	}
	t.Logf("seed %d: %d starts, %d without a way on, %d pieces", from, starts, none, pieces)
	if starts < 500 || none < 50 || pieces < 150 {
		t.Error("too few to say anything")
	}
}
