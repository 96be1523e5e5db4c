package levelling

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/tools/published"
)

// levelNet is one network of ../shared/data/survey/levelnets.json: dh and levels in metres, lengths in metres.
type levelNet struct {
	ID, Source, Weights string
	Fixed               map[string]float64
	Obs                 [][]any
	Published           struct {
		H   map[string]float64
		SD  map[string]float64 `json:"sd_mm"`
		M0  float64
		VMM []float64 `json:"v_mm"`
	}
	Independent map[string]json.RawMessage
}

func levelNets(t *testing.T) map[string]levelNet {
	var all struct{ Nets []levelNet }
	published.Decode(t, published.File(t, "data/survey/levelnets.json"), &all)
	out := map[string]levelNet{}
	for _, n := range all.Nets {
		out[n.ID] = n
	}
	if len(all.Nets) != 2 {
		t.Fatalf("%d networks, and 2 have tests here", len(all.Nets))
	}
	return out
}

func (l levelNet) network(w Weigh) Network {
	n := Network{Weigh: w, Figures: Figures{Unit: measure.UnitMetre, Places: 4}}
	for _, o := range l.Obs {
		length := measure.FromMetres(o[3].(float64))
		n.Lines = append(n.Lines, Line{From: o[0].(string), To: o[1].(string), Rise: units(o[2].(float64)), Distance: length, Row: len(n.Lines) + 2,
			SD: measure.FromMillimetres(0.7 * o[3].(float64) / 1000)}) // 0.7 mm for each km, as the source weighs
	}
	for p, h := range l.Fixed {
		n.Fixed = append(n.Fixed, Fixed{Point: p, Level: units(h)})
	}
	return n
}

func adjusted(t testing.TB, n Network) Adjusted {
	t.Helper()
	a, said := Adjust(n)
	none(t, said)
	if bad := CheckNetwork(n, a); len(bad) > 0 {
		t.Fatalf("the checker: %q", bad)
	}
	spoken(t, a.Said)
	return a
}

func (a Adjusted) point(t testing.TB, name string) Point {
	t.Helper()
	for _, p := range a.Points {
		if p.Name == name {
			return p
		}
	}
	t.Fatalf("no point %s", name)
	return Point{}
}

// levelnets.json L1 (R, OSGeoLabBp/tutorials level_net.rst, CC0): levels, standard deviations, m0 and residuals as published,
// within their rounding; weights 1/(0.7 mm/km·L)². With weights 1/L the levels that another program computed.
func TestFourPointNetworkAsPublished(t *testing.T) {
	l := levelNets(t)["L1_four_point"]
	a := adjusted(t, l.network(BySD))
	for p, h := range l.Published.H {
		near(t, p, *a.point(t, p).Level, h, 0.00051)
	}
	for p, sd := range l.Published.SD {
		if got := *a.point(t, p).SD * 1000; math.Abs(got-sd) > 0.006 {
			t.Errorf("sd of %s: %.4f mm, published %v", p, got, sd)
		}
	}
	if math.Abs(a.M0-l.Published.M0) > 0.006 || a.Redundant != 3 {
		t.Errorf("m0 %.4f from %d redundant lines, published %v", a.M0, a.Redundant, l.Published.M0)
	}
	for i, v := range l.Published.VMM {
		if got := a.Residuals[i].V.Millimetres(); math.Abs(math.Abs(got)-math.Abs(v)) > 0.006 {
			t.Errorf("residual %d: %.4f mm, published %v", i, got, v)
		}
	}
	for key, w := range map[string]Weigh{"H_1_over_L2": BySD, "H_1_over_L": ByDistance} {
		var want map[string]float64
		published.Decode(t, l.Independent[key], &want)
		a := adjusted(t, l.network(w))
		for p, h := range want {
			near(t, key+" "+p, *a.point(t, p).Level, h, 0.0000051)
		}
	}
}

// levelnets.json L4 (data R, Mikhail and Ackermann 1976, table 7-1; results computed independently): m0 63.6 mm for 1 km, and
// a loop that closes at +0.56 m. At any tolerance of a site it is refused, and named.
func TestBadLoopAsPublished(t *testing.T) {
	l := levelNets(t)["L4_eight_lines_bad_closure"]
	var h map[string]float64
	var dof int
	var m0 float64
	published.Decode(t, l.Independent["H"], &h)
	published.Decode(t, l.Independent["dof"], &dof)
	published.Decode(t, l.Independent["m0_per_sqrt_km"], &m0)
	n := l.network(ByDistance)
	a := adjusted(t, n)
	for p, want := range h {
		near(t, p, *a.point(t, p).Level, want, 0.000051)
	}
	if a.Redundant != dof || math.Abs(a.M0-m0) > 0.00006 {
		t.Errorf("m0 %.5f from %d, want %v from %d", a.M0, a.Redundant, m0, dof)
	}
	if a.Verdict != CannotSay || !a.Said.Any(finding.NotChecked) {
		t.Errorf("without a tolerance: %s", a.Verdict)
	}
	n.Close = Tolerance{Rule: RootKm, K: 24 * measure.Millimetre}
	a = adjusted(t, n)
	if !a.Refused() || a.point(t, "B").Level != nil {
		t.Error("0.56 m in 41.7 km was spread")
	}
	named := false
	for _, loop := range a.Loops {
		ps := slices.Clone(loop.Points[1:])
		slices.Sort(ps)
		if slices.Equal(ps, []string{"A", "B", "C"}) {
			named = true
			near(t, "A-B-C", loop.Misclosure.Abs(), 0.56, 1e-9)
			near(t, "its length", *loop.Distance, 41700, 1e-9)
		}
	}
	if !named || !a.Said.Any(finding.Fault) {
		t.Errorf("the loop A-B-C was not named:\n%s", a.Said.Render(measure.Metric))
	}
}

// drawNetwork is a random network in one part, with a few benchmarks.
func drawNetwork(t *rapid.T) Network {
	size := rapid.IntRange(2, 14).Draw(t, "points")
	n := Network{Weigh: rapid.SampledFrom([]Weigh{ByDistance, BySetup, BySD}).Draw(t, "weigh"), Free: rapid.Bool().Draw(t, "free"), Figures: Figures{Places: 4}}
	name := func(i int) string { return fmt.Sprintf("P%d", i) }
	line := func(i, k int) {
		n.Lines = append(n.Lines, Line{From: name(i), To: name(k),
			Rise:     measure.Length(rapid.IntRange(-40, 40).Draw(t, "true")+k*1000-i*1000) * measure.Millimetre,
			Distance: measure.Length(rapid.IntRange(50, 5000).Draw(t, "distance")) * measure.Metre,
			Setups:   rapid.IntRange(1, 40).Draw(t, "set-ups"), SD: measure.Length(rapid.IntRange(100, 9000).Draw(t, "sd")) * measure.Micrometre, Row: len(n.Lines) + 2})
	}
	for i := 1; i < size; i++ {
		line(rapid.IntRange(0, i-1).Draw(t, "from"), i)
	}
	for range rapid.IntRange(0, 2*size).Draw(t, "more") {
		i, k := rapid.IntRange(0, size-1).Draw(t, "a"), rapid.IntRange(0, size-1).Draw(t, "b")
		if i != k {
			line(i, k)
		}
	}
	for i := range rapid.IntRange(1, min(size, 3)).Draw(t, "held") {
		n.Fixed = append(n.Fixed, Fixed{Point: name(i * (size - 1) / 3), Level: measure.Length(100_000+i*(size-1)/3*1000) * measure.Millimetre})
	}
	if n.Free && rapid.Bool().Draw(t, "nothing stated") {
		n.Fixed = nil
	}
	seen := map[string]bool{}
	n.Fixed = slices.DeleteFunc(n.Fixed, func(f Fixed) bool { was := seen[f.Point]; seen[f.Point] = true; return was })
	return n
}

// rapid prints the seed of what fails; run it again with -rapid.seed.
func TestNetworkAgainstDenseTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		n := drawNetwork(rt)
		a, said := Adjust(n)
		if len(said) > 0 {
			rt.Fatal(said.Render(measure.Metric))
		}
		if bad := CheckNetwork(n, a); len(bad) > 0 {
			rt.Fatalf("the checker: %q", bad)
		}
		tw := dense(n)
		unit := a.M0
		if a.Redundant == 0 {
			unit = 1
		}
		for _, p := range a.Points {
			if d := p.Level.Metres() - tw.level[p.Name]; math.Abs(d) > 2e-8 { // the twin works on whole levels, in floats; the checker holds the nanometre
				rt.Errorf("%s: %s, the twin has %.10f", p.Name, p.Level, tw.level[p.Name])
			}
			if p.SD != nil && math.Abs(*p.SD-unit*math.Sqrt(max(0, tw.variance[p.Name]))) > 1e-7*(1+*p.SD) {
				rt.Errorf("sd of %s: %g, the twin has %g", p.Name, *p.SD, unit*math.Sqrt(tw.variance[p.Name]))
			}
		}
		if a.Redundant > 0 && math.Abs(a.M0*a.M0*float64(a.Redundant)-tw.vtpv) > 1e-7*(1+tw.vtpv)+tw.slack {
			rt.Errorf("vᵀPv %g, the twin has %g", a.M0*a.M0*float64(a.Redundant), tw.vtpv)
		}
		if len(a.Loops) != a.Redundant {
			rt.Errorf("%d loops, %d redundant lines", len(a.Loops), a.Redundant)
		}
	})
}

// A wrong network must not pass the checker.
func TestCheckerFindsWrongAnswers(t *testing.T) {
	n := grid(4, 4, 1)
	for name, spoil := range map[string]func(*Adjusted){
		"a level":    func(a *Adjusted) { *a.Points[5].Level += 100 },
		"a residual": func(a *Adjusted) { a.Residuals[3].V += 50 },
		"m0":         func(a *Adjusted) { a.M0 *= 1.001 },
		"a share":    func(a *Adjusted) { a.Residuals[2].Share += 0.01 },
		"a loop":     func(a *Adjusted) { a.Loops[1].Misclosure++ },
		"both ends": func(a *Adjusted) { // levels and residuals agree, and the squares are no longer least
			*a.Points[5].Level += 100
			for i, l := range n.Lines {
				if l.To == a.Points[5].Name {
					a.Residuals[i].V += 100
				} else if l.From == a.Points[5].Name {
					a.Residuals[i].V -= 100
				}
			}
		},
	} {
		a, said := Adjust(n)
		none(t, said)
		if bad := CheckNetwork(n, a); len(bad) > 0 {
			t.Fatalf("right, and refused: %q", bad)
		}
		spoil(&a)
		if bad := CheckNetwork(n, a); len(bad) == 0 {
			t.Errorf("%s: not found", name)
		}
	}
}

// grid is a network of rows times columns points, each tied to its neighbours, with errors of about 1 mm drawn from seed.
func grid(rows, columns int, seed uint64) Network {
	r := rand.New(rand.NewPCG(seed, 1))
	name := func(i, k int) string { return fmt.Sprintf("%d/%d", i, k) }
	n := Network{Weigh: BySD, Fixed: []Fixed{{Point: name(0, 0), Level: 100 * measure.Metre}}, Figures: Figures{Unit: measure.UnitMetre, Places: 4}}
	line := func(i, k, j, m int) {
		rise := float64(j-i)*0.75 + float64(m-k)*0.25 + r.NormFloat64()*0.001
		n.Lines = append(n.Lines, Line{From: name(i, k), To: name(j, m), Rise: measure.FromMetres(rise), Distance: 100 * measure.Metre, Setups: 1, SD: measure.Millimetre, Row: len(n.Lines) + 2})
	}
	for i := range rows {
		for k := range columns {
			if k+1 < columns {
				line(i, k, i, k+1)
			}
			if i+1 < rows {
				line(i, k, i+1, k)
			}
		}
	}
	return n
}

// Two blunders in one network are found one at a time, each with about its size, and every loop through them is named.
func TestBlundersAreFound(t *testing.T) {
	for seed := range uint64(5) {
		n := grid(8, 8, seed)
		n.Suspect, n.Close = 5, Tolerance{Rule: PerSetup, K: 2 * measure.Millimetre}
		n.Lines[17].Rise += 100 * measure.Millimetre
		n.Lines[70].Rise -= 30 * measure.Millimetre
		a, said := Adjust(n)
		none(t, said)
		spoken(t, a.Said)
		if len(a.Suspects) != 2 || a.Suspects[0].Line != 17 || a.Suspects[1].Line != 70 {
			t.Fatalf("seed %d: %+v", seed, a.Suspects)
		}
		near(t, "the first", a.Suspects[0].Off, 0.100, 0.006)
		near(t, "the second", a.Suspects[1].Off, -0.030, 0.006)
		bad := 0
		for _, l := range a.Loops {
			through := slices.Contains(l.Lines, 17) || slices.Contains(l.Lines, 70)
			if through != (l.Verdict == DoesNot) {
				t.Errorf("seed %d: loop %v with %s: %s", seed, l.Points, l.Misclosure, l.Verdict)
			}
			if through {
				bad++
			}
		}
		if bad < 2 || !a.Refused() || a.Points[3].Level != nil {
			t.Errorf("seed %d: %d bad loops, %s", seed, bad, a.Verdict)
		}
		n.Lines = slices.Delete(slices.Delete(n.Lines, 70, 71), 17, 18)
		if a := adjusted(t, n); a.Verdict != Meets || len(a.Suspects) != 0 {
			t.Errorf("seed %d: without them %s, %v\n%s", seed, a.Verdict, a.Suspects, a.Said.Render(measure.Metric))
		}
	}
}

// What hangs on no benchmark is named, and gets no levels; the rest does.
func TestPartsAreNamed(t *testing.T) {
	n := grid(2, 2, 3)
	n.Lines = append(n.Lines, Line{From: "X", To: "Y", Rise: measure.Metre, SD: measure.Millimetre, Distance: measure.Metre, Setups: 1, Row: 9})
	a := adjusted(t, n)
	if len(a.Parts) != 2 || a.Parts[1].Tied || !slices.Equal(a.Parts[1].Points, []string{"X", "Y"}) || a.point(t, "X").Level != nil || a.point(t, "1/1").Level == nil {
		t.Errorf("%+v", a.Parts)
	}
	if !slices.ContainsFunc(a.Said, func(f finding.Finding) bool { return f.Text == "no line ties X, Y to a benchmark: no levels there" }) {
		t.Error(a.Said.Render(measure.Metric))
	}
	n.Free, n.Fixed = true, nil
	a = adjusted(t, n)
	near(t, "X", *a.point(t, "X").Level, -0.5, 1e-9)
	near(t, "Y", *a.point(t, "Y").Level, 0.5, 1e-9)
}

// Between two benchmarks that do not fit each other nothing is adjusted either.
func TestBenchmarksThatDoNotFit(t *testing.T) {
	n := grid(1, 4, 1)
	n.Fixed = append(n.Fixed, Fixed{Point: "0/3", Level: 100*measure.Metre + 700*measure.Millimetre}, Fixed{Point: "0/2", Level: 100*measure.Metre + 500*measure.Millimetre})
	n.Close = Tolerance{Rule: RootSetup, K: 5 * measure.Millimetre}
	a, said := Adjust(n)
	none(t, said)
	spoken(t, a.Said)
	if bad := CheckNetwork(n, a); len(bad) > 0 {
		t.Fatal(bad)
	}
	bad := 0
	for _, l := range a.Loops {
		if !l.Between {
			t.Errorf("%+v", l)
		}
		if l.Verdict == DoesNot {
			bad++
		}
	}
	if len(a.Loops) != 2 || bad != 1 || !a.Refused() {
		t.Errorf("%d of %d do not fit, %s\n%s", bad, len(a.Loops), a.Verdict, a.Said.Render(measure.Metric))
	}
}

func TestNetworkFaultsAreSaid(t *testing.T) {
	for want, spoil := range map[string]func(*Network){
		"empty":           func(n *Network) { n.Lines = nil },
		"no-weight":       func(n *Network) { n.Weigh = "" },
		"no-benchmark":    func(n *Network) { n.Fixed = nil },
		"suspect-level":   func(n *Network) { n.Suspect = math.NaN() },
		"same-point":      func(n *Network) { n.Lines[1].To = n.Lines[1].From },
		"no-point":        func(n *Network) { n.Lines[1].To = "" },
		"no-sd":           func(n *Network) { n.Lines[1].SD = 0 },
		"no-distance":     func(n *Network) { n.Weigh = ByDistance; n.Lines[1].Distance = 0 },
		"no-setups":       func(n *Network) { n.Weigh = BySetup; n.Lines[1].Setups = 0 },
		"benchmark-apart": func(n *Network) { n.Fixed[0].Point = "nowhere" },
		"benchmark-twice": func(n *Network) { n.Fixed = append(n.Fixed, Fixed{Point: "0/0", Level: 5}) },
		"out-of-reach":    func(n *Network) { n.Lines[0].Rise = math.MinInt64 },
		"tolerance":       func(n *Network) { n.Close = Tolerance{Rule: RootKm} },
	} {
		n := grid(2, 2, 1)
		spoil(&n)
		_, said := Adjust(n)
		if !slices.ContainsFunc(said, func(f finding.Finding) bool { return f.ID == "levelling."+want }) {
			t.Errorf("%s: %s", want, said.Render(measure.Metric))
		}
		spoken(t, said)
	}
}

func BenchmarkNetwork10000(b *testing.B) {
	n := grid(100, 100, 1)
	n.Close = Tolerance{Rule: PerSetup, K: 2 * measure.Millimetre}
	n.Suspect = 6
	b.ReportAllocs()
	for b.Loop() {
		if a, said := Adjust(n); len(said) > 0 || a.Redundant != 2*100*99-9999 {
			b.Fatal(said)
		}
	}
}
