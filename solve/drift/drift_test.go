package drift

import (
	"math"
	"math/rand/v2"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/tools/seed"
)

func chance(t *testing.T) *rand.Rand {
	return rand.New(rand.NewPCG(seed.Of(t), 1))
}

const mm = measure.Millimetre

// The closed form against runs that are laid: 33 units of ±5 mm, gaps of 1.5 mm: 61.5 mm at 99.9 % (worked by hand:
// 3.29·√(33·(25/3 + 2.25))), and the same with a lot that is biased.
func TestBandIsWhatRunsDo(t *testing.T) {
	r := chance(t)
	for _, s := range []Spread{{Unit: 5 * mm, Gap: 3 * mm / 2}, {Unit: 2 * mm, Gap: mm, Lot: mm}, {Gap: 4 * mm}, {Lot: mm / 2}} {
		const n, runs = 33, 40000
		var squares, far float64
		band := inMM(s.Band(n))
		for range runs {
			lot := r.NormFloat64() * inMM(s.Lot)
			d := 0.0
			for range n {
				d += (2*r.Float64()-1)*inMM(s.Unit) + r.NormFloat64()*inMM(s.Gap) + lot
			}
			squares += d * d
			if math.Abs(d) > band {
				far++
			}
		}
		laid, said := math.Sqrt(squares/runs), inMM(s.After(n))
		if math.Abs(laid/said-1) > 0.02 {
			t.Errorf("%+v: runs scatter by %.2f mm, said are %.2f", s, laid, said)
		}
		if far/runs > 0.002 {
			t.Errorf("%+v: %.2f %% of the runs lie beyond the band of 99.9 %%", s, 100*far/runs)
		}
	}
	if band := (Spread{Unit: 5 * mm, Gap: 3 * mm / 2}).Band(33); (band - 61_500_000).Abs() > 50_000 {
		t.Errorf("33 units lie within %.3f mm, by hand 61.5", inMM(band))
	}
}

// The law at rest against a run of a million units whose gaps take up what they can.
func TestRestIsWhereRunsCome(t *testing.T) {
	r := chance(t)
	for _, c := range []struct {
		s          Spread
		bias, room measure.Length
	}{
		{Spread{Unit: 5 * mm, Gap: 3 * mm / 2}, 0, 3 * mm},
		{Spread{Unit: 3 * mm, Gap: mm}, mm, 2 * mm},
		{Spread{Unit: 3 * mm, Gap: mm}, -mm, 3 * mm},
		{Spread{Unit: mm}, 0, 5 * mm},
		{Spread{Unit: 5 * mm, Gap: 2 * mm}, mm / 2, mm},
	} {
		l := c.s.Rest(c.bias, c.room)
		const units = 1_000_000
		var d, sum, squares, out float64
		a, mean, sd := inMM(c.room), inMM(c.bias), c.s.each()
		for range units {
			d += mean + r.NormFloat64()*sd
			d -= math.Min(math.Max(d, -a), a)
			sum += d
			squares += d * d
			if d < inMM(l.Low)-0.01 || d > inMM(l.High)+0.01 {
				out++
			}
		}
		m := sum / units
		laid := math.Sqrt(squares/units - m*m)
		// A run's own mean is known to about its spread times the root of how long it remembers.
		if slack := 0.02*laid + 0.05; math.Abs(m-inMM(l.Mean)) > 2*slack || math.Abs(laid-inMM(l.SD)) > 2*slack {
			t.Errorf("%+v with %.1f mm a unit and %.1f mm a gap: runs %.3f ± %.3f mm, said %.3f ± %.3f", c.s, mean, a, m, laid, inMM(l.Mean), inMM(l.SD))
		}
		if out/units > 0.003 {
			t.Errorf("%+v: %.3f %% of the joints lie out of %.2f to %.2f mm", c.s, 100*out/units, inMM(l.Low), inMM(l.High))
		}
	}
}

// A unit that adds what a gap can take up, or more, never comes right; where nothing varies, nothing is left.
func TestNeverComesRight(t *testing.T) {
	s := Spread{Unit: mm}
	if !s.Rest(3*mm, 3*mm).Never || !s.Rest(-4*mm, 3*mm).Never || s.Rest(2*mm, 3*mm).Never {
		t.Error("what never comes right is not told from what does")
	}
	for _, room := range []measure.Length{mm / 1000, mm / 100, 1} { // too little to wait for a law
		if l := (Spread{Unit: 5 * mm}).Rest(0, room); !l.Free || l.Never {
			t.Errorf("gaps that take up %v: %+v", room, l)
		}
	}
	if l := (Spread{}).Rest(2*mm, 3*mm); l.Never || l.SD != 0 || l.High != 0 {
		t.Errorf("where nothing varies, %+v is left", l)
	}
}

// The points of the laws that are written down lie where their laws have them: Student's by summing its density, the normal one by
// the error function.
func TestPointsOfTheLaws(t *testing.T) {
	for _, degrees := range []int{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25, 26, 27, 28, 29, 30, 40, 60, 100} {
		n, to := float64(degrees), student(degrees)
		up, _ := math.Lgamma((n + 1) / 2)
		down, _ := math.Lgamma(n / 2)
		const parts = 20000
		sum := 0.0
		for i := range parts {
			x := to * (float64(i) + 0.5) / parts
			sum += math.Exp(up-down) / math.Sqrt(n*math.Pi) * math.Pow(1+x*x/n, -(n+1)/2) * to / parts
		}
		if math.Abs(2*sum-0.95) > 1e-4 {
			t.Errorf("%d degrees of freedom: %.3f holds %.5f, 0.95 is meant", degrees, to, 2*sum)
		}
	}
	for in, want := range map[float64]float64{In95: 0.95, In999: 0.999} {
		if got := math.Erf(in / math.Sqrt2); math.Abs(got-want) > 1e-6 {
			t.Errorf("%g deviations hold %g, %g is meant", in, got, want)
		}
	}
}

// Bias is told from scatter as often as 95 % says: of lots without a bias, 5 of 100 are called biased.
func TestBiasIsToldFromScatter(t *testing.T) {
	r := chance(t)
	var called, missed int
	const lots = 4000
	for range lots {
		var none, some []measure.Length
		for range 10 {
			none = append(none, millimetres(r.NormFloat64()*2))
			some = append(some, millimetres(r.NormFloat64()*2+4))
		}
		if LotOf(none, 0).Verdict == Biased {
			called++
		}
		if LotOf(some, 0).Verdict != Biased {
			missed++
		}
	}
	if share := float64(called) / lots; share < 0.035 || share > 0.065 {
		t.Errorf("%.3f of lots without a bias were called biased, 0.05 is meant", share)
	}
	if missed > lots/100 {
		t.Errorf("%d of %d lots that are off by twice their scatter were not called biased", missed, lots)
	}
	for _, few := range [][]measure.Length{nil, {3 * mm}, {3 * mm, 5 * mm}} {
		if b := LotOf(few, mm); b.Verdict != CantSay {
			t.Errorf("%d units: %+v", len(few), b)
		}
	}
	if b := LotOf([]measure.Length{mm / 10, -mm / 10, mm / 20, 0, -mm / 20, 0}, mm); b.Verdict != Scatters {
		t.Errorf("a lot that is true to a tenth: %+v", b)
	}
	if b := LotOf([]measure.Length{2 * mm, -2 * mm, 3 * mm}, mm); b.MoreFor != 111 { // (1.984·2.646/0.5)² is 110.2
		t.Errorf("units to be measured: %+v", b)
	}
}

// Holding the gaps that are said brings the joint to what is said to be left, with no gap out of its window; and no sooner can be.
func TestHoldComesRight(t *testing.T) {
	r := chance(t)
	for range 2000 {
		gaps := make([]Gap, r.IntN(8))
		for i := range gaps {
			drawn := measure.Length(r.IntN(10)) * mm
			gaps[i] = Gap{drawn, measure.Window{Min: max(0, drawn-measure.Length(r.IntN(4))*mm), Max: drawn + measure.Length(r.IntN(4))*mm}}
		}
		off := measure.Length(r.IntN(41)-20) * mm
		each := measure.Length(r.IntN(5)-2) * mm
		h := Hold(off, each, gaps)
		// the slow twin: take up millimetre by millimetre
		left, until := off, 0
		for i, g := range gaps {
			w := g.Drawn
			for left > 0 && w > g.May.Min {
				w, left = w-mm, left-mm
			}
			for left < 0 && w < g.May.Max {
				w, left = w+mm, left+mm
			}
			if w != g.Drawn {
				until = i + 1
			}
			if i == 0 && w != h.Hold {
				t.Fatalf("off %v, %v: hold %v, by steps %v", off, gaps, h.Hold, w)
			}
			if left == 0 {
				if h.Last != w {
					t.Fatalf("off %v, %v: the last gap is %v, by steps %v", off, gaps, h.Last, w)
				}
				break
			}
			if i < len(gaps)-1 {
				left += each
			}
		}
		if left != h.Left || until != h.Until {
			t.Fatalf("off %v, each %v, %v: %+v, by steps %v left after %d", off, each, gaps, h, left, until)
		}
	}
}

func TestAhead(t *testing.T) {
	for _, c := range []struct {
		off, each, room, most measure.Length
		units                 int
		forever               bool
	}{
		{0, 2 * mm, 3 * mm, 20 * mm, 0, true},
		{0, 3 * mm, mm, 20 * mm, 10, false},
		{10 * mm, 3 * mm, mm, 20 * mm, 5, false},
		{-10 * mm, 3 * mm, mm, 20 * mm, 15, false},
		{-10 * mm, -3 * mm, mm, 20 * mm, 5, false},
		{25 * mm, 3 * mm, mm, 20 * mm, 0, false},
	} {
		if units, forever := Ahead(c.off, c.each, c.room, c.most); units != c.units || forever != c.forever {
			t.Errorf("%+v: %d units, forever %t", c, units, forever)
		}
	}
}

// A cut made with Most units to go fits in 99.9 of 100 runs, and with a unit more the margin is not there.
func TestCutFits(t *testing.T) {
	r := chance(t)
	for _, c := range []struct {
		s            Spread
		margin, bias measure.Length
	}{
		{Spread{Unit: 3 * mm, Gap: mm}, 20 * mm, 0},
		{Spread{Unit: 3 * mm, Gap: mm}, 40 * mm, mm},
		{Spread{Gap: 2 * mm}, 12 * mm, -mm / 2},
	} {
		cut := c.s.Cut(c.margin, c.bias, 5)
		if c.s.need(c.bias, cut.Most) > c.margin || c.s.need(c.bias, cut.Most+1) <= c.margin {
			t.Fatalf("%+v: %+v is not the last that fits", c, cut)
		}
		const runs = 40000
		miss := 0
		for range runs {
			d := 0.0
			for range cut.Most {
				d += inMM(c.bias) + (2*r.Float64()-1)*inMM(c.s.Unit) + r.NormFloat64()*inMM(c.s.Gap)
			}
			if math.Abs(d) > inMM(c.margin) {
				miss++
			}
		}
		if float64(miss)/runs > 0.0015 {
			t.Errorf("%+v, cut with %d to go: %d of %d runs do not fit", c, cut.Most, miss, runs)
		}
	}
	if c := (Spread{}).Cut(0, 0, 7); c.Most < 7 || c.Need != 0 {
		t.Errorf("where nothing varies: %+v", c)
	}
	if c := (Spread{Unit: 5 * mm}).Cut(mm, 0, 3); c.Most != 0 || !c.Ever {
		t.Errorf("no margin for a unit: %+v", c)
	}
}

func BenchmarkRest(b *testing.B) {
	for _, c := range []struct {
		name       string
		bias, room measure.Length
	}{{"easy", 0, 3 * mm}, {"tight", 2 * mm, 2*mm + mm/5}} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				(Spread{Unit: 5 * mm, Gap: mm}).Rest(c.bias, c.room)
			}
		})
	}
}
