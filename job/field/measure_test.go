package field

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/tools/seed"
)

func sumOf(list []Sum, what string) (s Sum) {
	for _, one := range list {
		if one.What == what {
			return one
		}
	}
	return s
}

// What was done in a month is told with where; what was taken out again counts below 0, and where.
func TestMeasureOfAMonth(t *testing.T) {
	g := people(t)
	on := func(seq int64, r Record) Record { r.Seq = seq; return r }
	b := NewBook(small())
	b.Add(on(1, g.makes("a", Set, "A-001", "A-002", SetSays{Within: true})), on(2, g.makes("a", Layer, "A-001", "", LayerSays{Number: 1, Side: "both"})),
		on(3, g.makes("a", Set, "A-004", "", SetSays{Within: true})), on(4, g.makes("a", Set, "A-001", "", SetSays{Lifted: true})),
		on(5, g.makes("b", Delivery, "", "", DeliverySays{Lines: []Delivered{{Piece: plain, Came: 7}}})), g.makes("a", Set, "B-001", "", SetSays{Within: true}))
	between := func(from, to int64) []Sum { return b.Upto(Until(to)).Measured(b.Upto(Until(from))) }
	for _, c := range []struct {
		from, to  int64
		what, say string
	}{
		{0, 2, "set", "2 6.02 [A-001 to A-002] []"}, {0, 3, "set", "3 9.03 [A-001 to A-002 A-004] []"}, {2, 4, "set", "0 0 [] []"},
		{3, 4, "set", "-1 -3.01 [] [A-001]"}, {1, 2, "layer", "1 3.01 [A-001] []"}, {4, 5, "came", "7 0 [] []"}, {0, 5, "cover", "0 0 [] []"},
	} {
		s := sumOf(between(c.from, c.to), c.what)
		if got := fmt.Sprint(s.Count, s.Length.Metres(), s.In, s.Out); c.what == "set" && c.from == 2 {
			if s.Count != 0 || s.Length != 0 || fmt.Sprint(s.In, s.Out) != "[A-004] [A-001]" {
				t.Errorf("from %d to %d: %s", c.from, c.to, got)
			}
		} else if got != c.say {
			t.Errorf("from %d to %d, %s: %s, not %s", c.from, c.to, c.what, got, c.say)
		}
	}
	if n := sumOf(b.Measured(nil), "set").Count; n != 3 || b.LastSeq() != 5 {
		t.Errorf("%d set in all; the last at the server is %d", n, b.LastSeq())
	}
}

// The measure of two months is that of the one and that of the other, whatever is recorded, and agrees with how far the work is.
func TestMeasuresAddUp(t *testing.T) {
	seed := seed.Of(t)
	r := rand.New(rand.NewPCG(seed, 1))
	g := people(t)
	for range 20 {
		b := NewBook(small().planned("pad", 3*measure.Metre))
		records := g.made(60)
		for i := range records {
			records[i].Seq = int64(i + 1)
		}
		b.Add(records...)
		at := []int64{r.Int64N(20), 20 + r.Int64N(20), 40 + r.Int64N(21)}
		upto := func(i int) *Book { return b.Upto(Until(at[i])) }
		count := func(list []Sum) map[string]Sum {
			m := map[string]Sum{}
			for _, s := range list {
				key := fmt.Sprint(s.What, s.Layer, s.Side, s.Piece)
				m[key] = Sum{Count: m[key].Count + s.Count, Length: m[key].Length + s.Length}
			}
			return m
		}
		both := count(slices.Concat(upto(1).Measured(upto(0)), upto(2).Measured(upto(1))))
		whole := count(upto(2).Measured(upto(0)))
		for key := range both {
			if b, w := both[key], whole[key]; b.Count != w.Count || b.Length != w.Length {
				t.Fatalf("seed %d: %s: %d and %s in two parts, %d and %s in one", seed, key, b.Count, b.Length, w.Count, w.Length)
			}
		}
		asks := Asks(contract())
		var set Amount
		for _, p := range Since(upto(0).Progress(asks), upto(2).Progress(asks)) {
			set.Units, set.Length = set.Units+p.Set.Units, set.Length+p.Set.Length
		}
		if s := sumOf(upto(2).Measured(upto(0)), "set"); s.Count != set.Units || s.Length != set.Length {
			t.Fatalf("seed %d: %d set by the measure, %d by progress", seed, s.Count, set.Units)
		}
	}
}
