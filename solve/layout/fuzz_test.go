package layout

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/tools/seed"
)

// FuzzSolve makes a leg of arbitrary figures, no ticks and no sense in them, with curves and slopes: whatever is not
// malformed is solved, and what is claimed passes the checker.
func FuzzSolve(f *testing.F) {
	for i := range uint64(40) {
		f.Add(i, int64(1_000_000*(1+i)))
	}
	f.Add(uint64(35), int64(23_999_838)) // a closer exchanged across the edge of a curve
	f.Fuzz(func(t *testing.T, s uint64, scale int64) {
		p := arbitraryLeg(rand.New(rand.NewPCG(s, uint64(scale))), scale)
		got, err := Solve(p)
		if err != nil {
			return
		}
		if said := Check(p, got); len(said) > 0 && got.Verdict != Undecided {
			t.Fatalf("%s: %v\n%+v\n%+v", got.Verdict, said, p, got.Units)
		}
	})
}

// The same, counted.
func TestArbitraryLegsPassTheChecker(t *testing.T) {
	from, n := seed.Of(t), 1_000
	if testing.Short() {
		n = 200
	}
	verdicts := map[Verdict]int{}
	malformed := 0
	for i := range n {
		p := arbitraryLeg(rand.New(rand.NewPCG(from, uint64(i))), 1_000_000)
		got, err := Solve(p)
		if err != nil {
			malformed++
			continue
		}
		verdicts[got.Verdict]++
		if said := Check(p, got); len(said) > 0 && got.Verdict != Undecided {
			t.Fatalf("seed %d leg %d: %s: %v\n%+v\n%+v", from, i, got.Verdict, said, p, got.Units)
		}
	}
	t.Logf("seed %d: %d found, %d impossible, %d undecided, %d malformed", from, verdicts[Found], verdicts[Impossible], verdicts[Undecided], malformed)
	if malformed > n/2 || verdicts[Found] < n/4 {
		t.Error("most legs say nothing: the generator has gone astray")
	}
}

func arbitraryLeg(r *rand.Rand, scale int64) Problem {
	p, _ := randomLeg(r)
	if scale < 1 || scale > 20_000_000 {
		scale = 1_000_000
	}
	for l := range lengthsOf(&p) { // off the ticks by up to a thousandth
		*l += nm(r.Int64N(1 + int64((*l).Abs())/1000))
	}
	for i := range p.Supplies { // but covers have to fill the units
		s := &p.Supplies[i]
		s.Gap = measure.Window{Nominal: s.Gap.Nominal, Min: min(s.Gap.Min, s.Gap.Nominal), Max: max(s.Gap.Max, s.Gap.Nominal)}
		for k := range s.Stocks {
			if len(s.Covers.Lengths) == 0 {
				break
			}
			c := &s.Covers
			c.Gap.Min = min(c.Gap.Min, c.Gap.Nominal)
			n := (s.Stocks[k].Length + c.Lengths[0]/2) / (c.Lengths[0] + c.Gap.Nominal)
			s.Stocks[k].Length = max(1, n) * (c.Lengths[0] + c.Gap.Nominal)
			c.Gap.Max = max(c.Gap.Max, c.Gap.Nominal)
		}
	}
	p.Stretches = randomStretches(r, p)
	if r.IntN(3) == 0 {
		p.Drift = Drift{nm(r.IntN(3_000_000)), nm(r.IntN(1_000_000))}
	}
	p.Clear, p.Hold = nm(r.IntN(int(20*scale))), r.IntN(2) == 0
	p.Start.Fixed, p.End.Fixed = r.IntN(2) == 0, r.IntN(2) == 0
	if p.Start.Mitred {
		p.Start.Tan *= 1 + r.Float64()
	}
	p.Prefer = Prefer{Cuts: []measure.Length{p.Supplies[0].longest() / 2}, Step: nm(r.IntN(2)) * 1000}
	return p
}

// randomStretches divides a leg into straights, curves and slopes.
func randomStretches(r *rand.Rand, p Problem) []Stretch {
	var out []Stretch
	at := nm(0)
	for at < p.Length && len(out) < 6 {
		s := Stretch{From: at, To: min(p.Length, at+p.Length/nm(1+r.IntN(4))+1)}
		if r.IntN(2) == 0 {
			s.Radius = p.Supplies[0].longest() * nm(3+r.IntN(40))
		}
		if r.IntN(2) == 0 {
			s.Rise, s.Run = nm(r.IntN(20)-10)*measure.Millimetre, 100*measure.Millimetre
		}
		if r.IntN(3) == 0 {
			s.MaxUnit = p.Supplies[0].longest() * nm(40+r.IntN(70)) / 100
		}
		if r.IntN(3) == 0 {
			s.Gap = p.Supplies[0].Gap
			s.Gap.Max += nm(r.IntN(2_000_000))
		}
		out = append(out, s)
		at = s.To
	}
	out[len(out)-1].To = p.Length
	return out
}

// The taut string is as even as can be: no single knot between two others can be moved to make its two steps more equal.
func TestTautStringIsTaut(t *testing.T) {
	from := seed.Of(t)
	for i := range 3_000 {
		r := rand.New(rand.NewPCG(from, uint64(i)))
		n := 2 + r.IntN(40)
		corridor := make([]interval, n)
		y := nm(0)
		for k := range corridor {
			y += nm(r.IntN(2001) - 1000)
			corridor[k] = interval{y - nm(r.IntN(3000)), y + nm(r.IntN(3000))}
		}
		corridor[0].hi = corridor[0].lo
		corridor[n-1].hi = corridor[n-1].lo
		line := taut(corridor)
		for k, v := range line {
			if !corridor[k].holds(v) {
				t.Fatalf("seed %d case %d: knot %d at %d leaves %v", from, i, k, v, corridor[k])
			}
			if k == 0 || k == n-1 {
				continue
			}
			mid := (line[k-1] + line[k+1]) / 2 // to the nanometre that rounding costs
			want := min(max(mid, corridor[k].lo), corridor[k].hi)
			if math.Abs(float64(v-want)) > 1 {
				t.Fatalf("seed %d case %d: knot %d at %d, %d would be more even\n%v\n%v", from, i, k, v, want, corridor, line)
			}
		}
	}
}

// Openings are spread evenly where nothing is in the way, and as evenly as may be where something is.
func TestOpeningsAreEven(t *testing.T) {
	s := solved(t, leg(t, "30115 | window 8..14")) // ten units, nine joints that have to take 115
	var gaps []nm
	for _, u := range s.Units[:len(s.Units)-1] {
		gaps = append(gaps, u.GapAfter)
	}
	if len(gaps) != 9 || slices.Max(gaps)-slices.Min(gaps) > 1 || !s.Opened {
		t.Errorf("%s with gaps %v", shown(s), gaps)
	}
}
