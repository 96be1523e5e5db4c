package compaction

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/solve/check"
	"trenchwright/tools/published"
)

const mm = measure.Millimetre

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.7g, want %.7g within %g", what, got, want, within)
	}
}

func by(t *testing.T, s Solution, id string) check.Answer {
	t.Helper()
	for _, a := range s.Answers {
		if a.ID == id {
			return a
		}
	}
	t.Fatalf("no answer %s among %d; %v", id, len(s.Answers), s.Findings)
	return check.Answer{}
}

func step(t *testing.T, a check.Answer, name string) float64 {
	t.Helper()
	for _, s := range a.Working {
		if s.Name == name {
			return s.Is.SI
		}
	}
	t.Fatalf("%s: no step %q", a.ID, name)
	return 0
}

// filled is fill of which everything is on file.
func filled() *Problem {
	kg := func(x float64) *check.Quantity { return new(check.Mass.Of(x)) }
	held := func(moisture, most float64) Held {
		return Held{Moisture: new(check.Percent.Of(moisture)), Most: new(check.Density.Of(most)), Asked: new(check.Percent.Of(0.95)), AskedFrom: "spec 6"}
	}
	return &Problem{Where: finding.Where{Path: "compaction"},
		Layers: &Layers{Depth: new(900 * mm), Layer: new(150 * mm), Fill: Granular, Machine: Machine{Kind: APlate, Weighs: new(check.AreaMass.Of(1900))}},
		Tests:  &Tests{Run: new(120 * measure.Metre), Every: new(50 * measure.Metre), Layers: new(6), EachLayers: new(2), Least: new(2), Done: new(9), Last: new(60 * measure.Metre), From: "spec 6"},
		Cone:   &Cone{Before: kg(16), After: kg(4.286), Sand: new(check.Density.Of(1349)), Volume: new(check.Volume.Of(2274e-6)), Soil: kg(15.63242), Held: held(0.045, 2382)},
		Gauge:  &Gauge{Wet: new(check.Density.Of(2050)), Held: held(0.08, 1980)},
		Output: &Output{Width: new(8 * measure.Foot), Speed: new(check.Speed.Of(3 * 0.44704)), Layer: new(6 * measure.Inch), Efficiency: new(check.Percent.Of(0.8333333333333334)), Passes: new(4), Shrink: new(check.Percent.Of(0.83)), Demand: new(check.VolumeRate.Of(540 * yard)), From: "plan"}}
}

const yard = 0.9144 * 0.9144 * 0.9144 / 3600 // a cubic yard an hour, m³/s

func TestAllOnFile(t *testing.T) {
	s := Check(filled())
	if len(s.Answers) != 5 || len(s.Ways) != 3 {
		t.Fatalf("%d answers, %v", len(s.Answers), s.Ways)
	}
	for _, a := range s.Answers {
		if a.Verdict != finding.Meets {
			t.Error(a.Sentence(filled().Words))
		}
	}
	a := by(t, s, "compaction.layer")
	for name, want := range map[string]float64{"passes on each layer": 5, "layers": 6, "passes over all of them": 30} {
		near(t, name, step(t, a, name), want, 0)
	}
}

// Every way lays the whole depth in layers that the table permits with exactly those passes, and a thinner layer count would be too thick.
func TestWaysAgainstTable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.SampledFrom(Named).Draw(t, "class")
		fill := rapid.SampledFrom([]Fill{Granular, Cohesive}).Draw(t, "fill")
		wholly := rapid.Bool().Draw(t, "wholly")
		depth := measure.Length(rapid.IntRange(1, 4000).Draw(t, "depth")) * mm
		ways := Ways(n.Class, fill, wholly, depth)
		for i, w := range ways {
			got, stop := Passes(wording.Speech{}, n.Class, fill, wholly, w.Thick, finding.Where{})
			if stop != nil || got > w.Passes || w.Thick*measure.Length(w.Layers) > depth || depth-w.Thick*measure.Length(w.Layers) >= measure.Length(w.Layers) {
				t.Fatalf("%+v of %s: %d passes, %v", w, depth, got, stop)
			}
			if i > 0 && ways[i-1].Layers*ways[i-1].Passes > w.Layers*w.Passes {
				t.Fatalf("not in order: %+v", ways)
			}
		}
		permitted := 0
		for _, most := range thick {
			if _, stop := Passes(wording.Speech{}, n.Class, fill, wholly, most, finding.Where{}); stop == nil {
				permitted++
			}
		}
		if permitted != len(ways) {
			t.Fatalf("%d ways, %d columns permitted", len(ways), permitted)
		}
	})
}

// Classes by weight, published.md 7.1 (R). At the edge of two the lighter one counts; what is lighter than all of them has none.
func TestClassed(t *testing.T) {
	for _, c := range []struct {
		kind       Kind
		weighs     float64
		restricted bool
		want       Compactor
	}{
		{APlate, 1399, false, ""}, {APlate, 1400, false, Plate1400}, {APlate, 1800, false, Plate1400}, {APlate, 1801, false, Plate1800},
		{ASingleDrum, 599, false, ""}, {ASingleDrum, 1000, false, SingleDrum600}, {ASingleDrum, 1001, false, SingleDrum1000}, {ASingleDrum, 3500, false, SingleDrum2000}, {ASingleDrum, 9000, false, SingleDrum3500},
		{ATwinDrum, 2000, false, TwinDrum1000}, {ATwinDrum, 2001, false, TwinDrum2000}, {AVibrotamper, 49, false, ""}, {AVibrotamper, 50, false, Vibrotamper}, {AVibrotamper, 49, true, LightVibrotamper}, {AVibrotamper, 50, true, Vibrotamper}, {AVibrotamper, 24, true, ""}, {"roller", 900, false, ""},
	} {
		if got, _ := Classed(c.kind, c.weighs, c.restricted); got != c.want {
			t.Errorf("%s of %v: %q, want %q", c.kind, c.weighs, got, c.want)
		}
	}
}

// What the method does not permit is a stop; a machine without its weight class is one that nobody can say of.
func TestStops(t *testing.T) {
	p := filled()
	p.Layers.Layer = new(201 * mm)
	if a := by(t, Check(p), "compaction.layer"); a.Verdict != finding.DoesNot || !a.Stop {
		t.Error(a.Sentence(p.Words))
	}
	p.Layers.Machine.Weighs = new(check.AreaMass.Of(1500))
	p.Layers.Layer = new(100 * mm)
	if a := by(t, Check(p), "compaction.layer"); a.Verdict != finding.Meets || a.Limit.SI != 0.1 {
		t.Error(a.Sentence(p.Words))
	}
	p.Layers.Fill = Cohesive
	if a := by(t, Check(p), "compaction.layer"); a.Verdict != finding.DoesNot || len(Check(p).Ways) != 0 {
		t.Error(a.Sentence(p.Words))
	}
	for what, spoil := range map[string]func(*Layers){"no weight of the plate, which says its class": func(l *Layers) { l.Machine.Weighs = nil }, "no machine that compacts": func(l *Layers) { l.Machine = Machine{} },
		"no kind of fill": func(l *Layers) { l.Fill = "" }, "no depth of the fill": func(l *Layers) { l.Depth = nil }, `no method for compacting with "hand rammer"`: func(l *Layers) { l.Machine = Machine{Class: "hand rammer"} },
		"the method begins at 1400, and nothing lighter is": func(l *Layers) { l.Machine.Weighs = new(check.AreaMass.Of(900)) }} {
		p := filled()
		spoil(p.Layers)
		if a := by(t, Check(p), "compaction.layer"); a.Verdict != "" || !strings.Contains(a.NotChecked(), what) {
			t.Errorf("%s: %s", what, a.Sentence(p.Words))
		}
	}
}

// Counts by hand: 120 m at one on 50 m are 3 stretches, 6 layers at one in 2 are 3 layers: 9.
func TestCounts(t *testing.T) {
	if Counted(120*measure.Metre, 50*measure.Metre, 6, 2, 2) != 9 || Counted(10*measure.Metre, 50*measure.Metre, 1, 1, 2) != 2 || Counted(100*measure.Metre, 50*measure.Metre, 5, 2, 0) != 6 {
		t.Error("miscounted")
	}
	p := filled()
	near(t, "next", step(t, by(t, Check(p), "compaction.tests"), "the next one in this layer is due at"), 110, 0)
	p.Tests.Done, p.Tests.Last = new(8), new(90*measure.Metre)
	a := by(t, Check(p), "compaction.tests")
	near(t, "next layer", step(t, a, "the next one is due in the next layer, this one ends at"), 120, 0)
	if a.Verdict != finding.DoesNot {
		t.Error(a.Sentence(p.Words))
	}
	p.Tests.Every = nil
	if a := by(t, Check(p), "compaction.tests"); a.Verdict != "" {
		t.Error(a.Sentence(p.Words))
	}
}

// A worked sand cone test, inputs as read, recomputed.
func TestConeAsPublished(t *testing.T) {
	published.Hold(t, "compaction.cone", func(g published.Given) []float64 {
		grams := func(i int) *check.Quantity { return new(check.Mass.Of(g.N(i) / 1000)) }
		p := &Problem{Cone: &Cone{Before: grams(0), After: grams(1), Sand: new(check.Density.Of(g.N(2) * 1000)), Volume: new(check.Volume.Of(g.N(3) * 1e-6)), Soil: grams(4), Held: Held{Moisture: new(check.Percent.Of(g.N(5) / 100)), Most: new(check.Density.Of(g.N(6) * 1000)), Asked: new(check.Percent.Of(0.95))}}}
		a := by(t, Check(p), "compaction.cone")
		return []float64{step(t, a, "hole") * 1e6, step(t, a, "wet density") / 1000, step(t, a, "dry density") / 1000, a.Value.SI * 100}
	})
	p := filled()
	p.Cone.Volume = new(check.Volume.Of(0.01))
	if a := by(t, Check(p), "compaction.cone"); a.Verdict != "" || !strings.Contains(a.NotChecked(), "less sand ran out than the cone holds") {
		t.Error(a.Sentence(p.Words))
	}
}

// A worked gauge test. 94.999 % fails 95 %: nothing is rounded before it is held.
func TestGaugeAsPublished(t *testing.T) {
	published.Hold(t, "compaction.gauge", func(g published.Given) []float64 {
		p := filled()
		p.Gauge.Wet, p.Gauge.Moisture, p.Gauge.Most = new(check.Density.Of(g.N(0))), new(check.Percent.Of(g.N(1)/100)), new(check.Density.Of(g.N(2)))
		a := by(t, Check(p), "compaction.gauge")
		return []float64{step(t, a, "dry density"), a.Value.SI * 100}
	})
	for share, want := range map[float64]finding.Verdict{0.94999: finding.DoesNot, 0.95001: finding.Meets} {
		p := filled()
		p.Gauge.Wet = new(check.Density.Of(1980 * 1.08 * share))
		if a := by(t, Check(p), "compaction.gauge"); a.Verdict != want {
			t.Error(a.Sentence(p.Words))
		}
	}
	p := filled()
	p.Gauge.Asked = nil
	if a := by(t, Check(p), "compaction.gauge"); a.Verdict != "" {
		t.Error(a.Sentence(p.Words))
	}
}

// Plant handbooks round 16.296 to 16.3.
func TestOutputAsPublished(t *testing.T) {
	published.Hold(t, "compaction.output", func(g published.Given) []float64 {
		p := filled()
		p.Output.Width, p.Output.Speed, p.Output.Layer = new(measure.FromMetres(g.N(0)*0.3048)), new(check.Speed.Of(g.N(1)*0.44704)), new(measure.FromMetres(g.N(2)*0.0254))
		p.Output.Efficiency, p.Output.Passes, p.Output.Shrink = new(check.Percent.Of(g.N(3)/60)), new(int(g.N(4))), new(check.Percent.Of(g.N(5)))
		a := by(t, Check(p), "compaction.output")
		return []float64{step(t, a, "it compacts") / yard, step(t, a, "which was in the bank") / yard, step(t, a, "machines that it takes")}
	})
	p := filled()
	p.Output.Demand = new(check.VolumeRate.Of(600 * yard))
	a := by(t, Check(p), "compaction.output")
	near(t, "machines", step(t, a, "machines that it takes"), 2, 0)
	if a.Verdict != finding.DoesNot {
		t.Error(a.Sentence(p.Words))
	}
}

// What cannot be is refused in a sentence each; with nothing on file everything is asked for.
func TestWhatCannotBe(t *testing.T) {
	for name, spoil := range map[string]func(*Problem){
		"depth": func(p *Problem) { p.Layers.Depth = new(-5 * mm) }, "layer": func(p *Problem) { p.Layers.Layer = new(measure.Length(0)) }, "weight": func(p *Problem) { p.Layers.Machine.Weighs = new(check.AreaMass.Of(0)) }, "tests": func(p *Problem) { p.Tests.Every = new(measure.Length(0)) },
		"layers": func(p *Problem) { p.Tests.Layers = new(0) }, "sand": func(p *Problem) { p.Cone.After = new(check.Mass.Of(17)) }, "moisture": func(p *Problem) { p.Gauge.Moisture = new(check.Percent.Of(-0.1)) }, "share": func(p *Problem) { p.Gauge.Asked = new(check.Percent.Of(95)) }, "speed": func(p *Problem) { p.Output.Speed = new(check.Speed.Of(math.NaN())) }, "passes": func(p *Problem) { p.Output.Passes = new(0) },
	} {
		p := filled()
		spoil(p)
		s := Check(p)
		if len(s.Answers) > 0 || !s.Findings.Any(finding.Fault) {
			t.Errorf("%s: %v", name, s.Findings)
			continue
		}
		if err := finding.Speech(s.Findings[0]); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	s := Check(&Problem{Where: finding.Where{Path: "compaction"}, Layers: &Layers{}, Tests: &Tests{}, Cone: &Cone{}, Gauge: &Gauge{}, Output: &Output{}})
	for _, a := range s.Answers {
		if a.Verdict != "" {
			t.Error(a.Sentence(wording.Speech{}))
		}
	}
	for _, f := range s.Findings {
		if err := finding.Speech(f); err != nil || f.Kind != finding.NotChecked {
			t.Errorf("%v: %v", err, f)
		}
	}
}
