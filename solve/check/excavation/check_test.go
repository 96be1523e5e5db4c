package excavation

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/tools/published"
)

func feet(x float64) measure.Length  { return measure.FromMillimetres(x * 304.8) }
func metre(x float64) measure.Length { return measure.FromMetres(x) }

func grade(rise, run int64) *measure.Grade {
	return &measure.Grade{Rise: measure.Length(rise), Run: measure.Length(run)}
}

// dig is a trench of one depth.
func dig(profile string, depth measure.Length, form Form) *Problem {
	return &Problem{Profile: profile, Stretch: []Stretch{{0, feet(100), depth}}, Form: form, Where: finding.Where{Leg: "A"}}
}

func check(t *testing.T, p *Problem) Solution {
	t.Helper()
	s := Check(p)
	for _, f := range s.Findings {
		for _, bad := range finding.Speech(f) {
			t.Errorf("%s: %s", f, bad)
		}
	}
	for _, r := range s.Results {
		if r.Verdict == DoesNot && (r.Rule == "" || r.Limit == "") && r.ID != "excavation.way-out" {
			t.Errorf("%s does not say by which rule and limit", r.ID)
		}
	}
	return s
}

func verdict(s Solution, id string) Verdict {
	for _, r := range s.Results {
		if r.ID == "excavation."+id {
			return r.Verdict
		}
	}
	return ""
}

// published.md 1.3 (R): protection from 5 ft on; below it only the competent person's word; beyond 20 ft an engineer.
func TestProtectionAtEveryBoundaryInFeet(t *testing.T) {
	for _, c := range []struct {
		depth  float64
		signs  *bool // no signs of a cave-in
		sides  Verdict
		needed string
		engine Verdict
	}{
		{3.99, nil, CannotSay, "?", Meets}, {3.99, new(true), Meets, "no", Meets}, {3.99, new(false), DoesNot, "yes", Meets},
		{4, new(true), Meets, "no", Meets}, {4.99, new(true), Meets, "no", Meets}, {4.99, nil, CannotSay, "?", Meets},
		{5, new(true), DoesNot, "yes", Meets}, {20, new(true), DoesNot, "yes", Meets}, {20.01, new(true), DoesNot, "yes", DoesNot},
	} {
		p := dig("osha", feet(c.depth), Vertical)
		p.Soil, p.NoSigns = "B", c.signs
		s := check(t, p)
		needed := "?"
		if s.Needed != nil {
			needed = map[bool]string{true: "yes", false: "no"}[*s.Needed]
		}
		if verdict(s, "sides") != c.sides || needed != c.needed || verdict(s, "engineer") != c.engine || s.Stopped != (c.engine == DoesNot) {
			t.Errorf("%v ft: sides %s, needed %s, engineer %s, stopped %v", c.depth, verdict(s, "sides"), needed, verdict(s, "engineer"), s.Stopped)
		}
	}
	p := dig("osha", feet(18), Vertical)
	p.Soil = "stable rock"
	if s := check(t, p); verdict(s, "sides") != Meets {
		t.Error("stable rock needs no protection", s.Results)
	}
	p = dig("osha", feet(25), Sloped)
	p.Soil, p.Slope, p.Engineer = "C", grade(1, 2), answers("D9")
	if s := check(t, p); verdict(s, "engineer") != CannotSay || s.Stopped || verdict(s, "slope") != CannotSay {
		t.Error("with a design on file nothing is judged beyond 20 ft", s.Results)
	}
}

// published.md 1.5 (R) and 1.4 (R): Table B-1, and 1/2:1 in class A for 24 h to 12 ft.
func TestSlopesBySoil(t *testing.T) {
	for _, c := range []struct {
		soil  string
		depth float64
		slope *measure.Grade
		hours *int
		want  Verdict
	}{
		{"A", 8, grade(4, 3), nil, Meets}, {"A", 8, grade(400, 299), nil, DoesNot}, {"B", 8, grade(1, 1), nil, Meets}, {"B", 8, grade(100, 99), nil, DoesNot},
		{"C", 8, grade(2, 3), nil, Meets}, {"C", 8, grade(200, 299), nil, DoesNot}, {"C", 20, grade(2, 3), nil, Meets}, {"C", 20.01, grade(2, 3), nil, CannotSay},
		{"A", 12, grade(2, 1), new(24), Meets}, {"A", 12, grade(2, 1), new(25), DoesNot}, {"A", 12, grade(2, 1), nil, DoesNot}, {"A", 12.01, grade(2, 1), new(24), DoesNot},
		{"A", 12.01, grade(4, 3), new(24), Meets}, {"B", 8, grade(2, 1), new(24), DoesNot}, {"", 8, grade(1, 1), nil, CannotSay}, {"C", 8, nil, nil, CannotSay},
	} {
		p := dig("osha", feet(c.depth), Sloped)
		p.Soil, p.Slope, p.OpenFor, p.NoSigns = c.soil, c.slope, c.hours, new(true)
		if s := check(t, p); verdict(s, "slope") != c.want {
			t.Errorf("soil %s, %v ft, %v: %q, want %q", c.soil, c.depth, c.slope, verdict(s, "slope"), c.want)
		}
	}
	p := dig("osha", feet(8), Sloped)
	p.Soil, p.Slope = "D", grade(1, 2)
	if s := check(t, p); !strings.Contains(s.Findings.Render(0), "no class of soil") {
		t.Error(s.Findings)
	}
	p.Soil, p.Plumb = "C", new(feet(1))
	if s := check(t, p); verdict(s, "upright-part") != DoesNot {
		t.Error("an upright part in class C", s.Results)
	}
	p.Plumb, p.Form = nil, Benched
	if s := check(t, p); verdict(s, "slope") != CannotSay {
		t.Error(s.Results)
	}
	p.Form = Supported
	if s := check(t, p); verdict(s, "sides") != CannotSay || !strings.Contains(s.Findings.Render(0), "no data of the support on file") {
		t.Error(s.Results, s.Findings)
	}
}

// The figures of every jurisdiction, as the law has them: those that were read, those in closed form, those from memory.
func TestLimitsAsPublished(t *testing.T) {
	find := func(id string) Profile {
		f, ok := Find(id)
		if !ok {
			t.Fatalf("no rules of %q", id)
		}
		return f
	}
	in := func(unit measure.Length, memory bool, limits ...*Limit) (all []float64) {
		for _, l := range limits {
			if l.Memory != memory {
				t.Errorf("%s %s: from memory is %v", l.Says, l.Rule, l.Memory)
			}
			all = append(all, float64(l.Value)/float64(unit))
		}
		return all
	}
	published.Hold(t, "excavation.entry", func(g published.Given) []float64 {
		f := find(g[0])
		return in(ft, false, f.Entry, f.Travel)
	})
	published.Hold(t, "excavation.spoil", func(g published.Given) []float64 { return in(ft, false, find(g[0]).Spoil) })
	published.Hold(t, "excavation.protect", func(g published.Given) []float64 {
		f := find(g[0])
		return in(ft, false, f.Protect, f.Engineer)
	})
	published.Hold(t, "excavation.beside", func(g published.Given) []float64 {
		f := find(g[0])
		oxygen, _ := strconv.ParseFloat(f.Oxygen, 64)
		return append(in(ft, false, f.Above, f.ShieldAbove, f.ShieldBelow, f.Air, f.Guard), oxygen)
	})
	run := func(g measure.Grade) float64 { return float64(g.Run) / float64(g.Rise) }
	slope := func(soil string, short bool) Slope {
		for _, s := range find("osha").Slopes {
			if s.Soil == map[string]string{"rock": "stable rock"}[soil]+strings.TrimPrefix(soil, "rock") && s.Hours > 0 == short {
				return s
			}
		}
		return Slope{}
	}
	published.Hold(t, "excavation.short", func(g published.Given) []float64 {
		s := slope(g[0], true)
		return []float64{run(s.Steep), float64(s.Upto.Value) / float64(ft), float64(s.Hours)}
	})
	published.Hold(t, "excavation.slope", func(g published.Given) []float64 {
		s := slope(g[0], false)
		return []float64{run(s.Steep), math.Atan2(float64(s.Steep.Rise), float64(s.Steep.Run)) * 180 / math.Pi}
	})
	figure := func(g published.Given, memory bool) []float64 {
		f := find(g[0])
		limit := map[string]*Limit{"protect": f.Protect, "bare": f.Bare, "spoil": f.Spoil, "entry": f.Entry, "travel": f.Travel, "engineer": f.Engineer, "apart": f.Apart, "above": f.Above}
		switch g[1] {
		case "beside":
			return []float64{run(*f.Beside)}
		case "steeper":
			return []float64{run(*f.Steeper)}
		case "upright":
			for _, s := range f.Slopes {
				if s.Plumb != nil {
					return []float64{s.Plumb.Metres()}
				}
			}
		}
		return in(measure.Metre, memory, limit[g[1]])
	}
	published.Hold(t, "excavation.elsewhere", func(g published.Given) []float64 { return figure(g, false) })
	published.Hold(t, "excavation.memory", func(g published.Given) []float64 { return figure(g, true) })
}

// Widths by Table B-1; what takes an engineer has none, and neither has a slope from memory.
func TestTopWidthAsPublished(t *testing.T) {
	published.Hold(t, "excavation.top", func(g published.Given) []float64 {
		soil := g[0]
		if soil == "rock" {
			soil = "stable rock"
		}
		width, refused := TopWidth("osha", soil, feet(g.N(1)), feet(g.N(2)))
		if refused != "" {
			if !strings.Contains(refused, "registered engineer") {
				t.Errorf("%s: %s", soil, refused)
			}
			return []float64{math.NaN()}
		}
		return []float64{float64(width) / float64(ft)}
	})
	if _, refused := TopWidth("ontario", "3", metre(2), metre(1)); refused == "" {
		t.Error("a slope from memory gave a width")
	}
}

// published.md 1.1 (R) and the note on travel along the trench (C): 25.00 and 25.01 ft; 180 ft take 4 ladders.
func TestLaddersAlongTheTrench(t *testing.T) {
	published.Hold(t, "excavation.ladders", func(g published.Given) []float64 {
		return []float64{float64(len(Ladders(0, feet(g.N(0)), feet(25))))}
	})
	for length, want := range map[float64]int{50: 1, 50.01: 2, 100: 2, 100.01: 3, 300: 6} {
		at := Ladders(0, feet(length), feet(25))
		if far, ok := Furthest(0, feet(length), at); len(at) != want || !ok || far > feet(25) {
			t.Errorf("%v ft: %d ladders, furthest %s", length, len(at), far)
		}
	}
	for _, c := range []struct {
		depth   float64
		ladders []float64
		want    Verdict
	}{
		{3.99, nil, ""}, {4, nil, CannotSay}, {4, []float64{}, DoesNot}, {4, []float64{25, 75}, Meets}, {4, []float64{25.01, 75}, DoesNot},
		{4, []float64{24.99, 75}, DoesNot}, {4, []float64{75, 25, 50}, Meets}, {4, []float64{25, 74.99}, DoesNot}, {4, []float64{-1, 50, 101}, DoesNot},
	} {
		p := dig("osha", feet(c.depth), Supported)
		if c.ladders != nil {
			p.Ladders = []measure.Length{}
			for _, l := range c.ladders {
				p.Ladders = append(p.Ladders, feet(l))
			}
		}
		if s := check(t, p); verdict(s, "way-out") != c.want {
			t.Errorf("%v ft, ladders at %v: %q, want %q", c.depth, c.ladders, verdict(s, "way-out"), c.want)
		}
	}
	// a ladder in a shallow part does not serve a deep one beyond it
	p := dig("osha", feet(5), Supported)
	p.Stretch = []Stretch{{0, feet(20), feet(5)}, {feet(20), feet(40), feet(3)}, {feet(40), feet(60), feet(5)}}
	p.Ladders = []measure.Length{feet(10), feet(30)}
	if s := check(t, p); verdict(s, "way-out") != DoesNot || s.Ladders.Least != 2 {
		t.Error(s.Results)
	}
	// and where only a part is deep enough, the way is said to be that within it
	p.Ladders = []measure.Length{feet(10), feet(50)}
	told := func(s Solution) string {
		for _, r := range s.Results {
			if r.ID == "excavation.way-out" {
				return r.What
			}
		}
		return ""
	}
	if got := told(check(t, p)); !strings.Contains(got, "(from ") || strings.Count(got, " to ") < 3 {
		t.Errorf("two deep parts are told as %q", got)
	}
	p.Stretch = []Stretch{{0, feet(60), feet(5)}}
	if got := told(check(t, p)); strings.Contains(got, "(") {
		t.Errorf("a leg that is deep all along is told as %q", got)
	}
}

// published.md 1.2 and 1.4 (R): spoil, ladders above the edge, air, crossings, shields; 1.6 (R): water.
func TestWhatStandsBeside(t *testing.T) {
	type change = func(*Problem)
	for _, c := range []struct {
		id    string
		depth float64
		do    change
		want  Verdict
	}{
		{"spoil", 6, func(p *Problem) { p.Spoil = new(feet(2)) }, Meets}, {"spoil", 6, func(p *Problem) { p.Spoil = new(feet(2) - 1) }, DoesNot}, {"spoil", 6, func(*Problem) {}, CannotSay},
		{"ladder-above", 6, func(p *Problem) { p.Above = new(feet(3)) }, Meets}, {"ladder-above", 6, func(p *Problem) { p.Above = new(feet(2.99)) }, DoesNot},
		{"air", 4, func(*Problem) {}, ""}, {"air", 4.01, func(*Problem) {}, CannotSay}, {"air", 4.01, func(p *Problem) { p.Air = new("19.5") }, Meets},
		{"air", 4.01, func(p *Problem) { p.Air = new("19.49999") }, DoesNot}, {"air", 4.01, func(p *Problem) { p.Air = new("thin") }, ""},
		{"guardrail", 5.99, func(p *Problem) { p.Crossings = []Crossing{{feet(5), new(false)}} }, ""},
		{"guardrail", 6, func(p *Problem) { p.Crossings = []Crossing{{feet(5), new(false)}} }, DoesNot},
		{"guardrail", 6, func(p *Problem) { p.Crossings = []Crossing{{feet(5), new(true)}} }, Meets}, {"guardrail", 6, func(p *Problem) { p.Crossings = []Crossing{{feet(5), nil}} }, CannotSay},
		{"shield-above", 6, func(p *Problem) { p.Shield = &Shield{18 * in, 0} }, Meets}, {"shield-above", 6, func(p *Problem) { p.Shield = &Shield{18*in - 1, 0} }, DoesNot},
		{"shield-below", 6, func(p *Problem) { p.Shield = &Shield{18 * in, 2 * ft} }, Meets}, {"shield-below", 6, func(p *Problem) { p.Shield = &Shield{18 * in, 2*ft + 1} }, DoesNot},
		{"water", 6, func(p *Problem) { p.Wet = new(true) }, DoesNot}, {"water", 6, func(p *Problem) { p.Wet, p.Soil = new(true), "C" }, Meets}, {"water", 6, func(p *Problem) { p.Wet = new(false) }, ""},
	} {
		p := dig("osha", feet(c.depth), Supported)
		p.Soil, p.Ladders = "B", Ladders(0, feet(100), feet(25))
		c.do(p)
		if s := check(t, p); verdict(s, c.id) != c.want {
			t.Errorf("%s at %v ft: %q, want %q", c.id, c.depth, verdict(s, c.id), c.want)
		}
	}
}

// The profiles elsewhere (published.md §1, R), at each metric boundary.
func TestMetricBoundaries(t *testing.T) {
	for _, c := range []struct {
		profile string
		depth   float64
		do      func(*Problem)
		id      string
		want    Verdict
	}{
		{"norway", 1.99, func(p *Problem) { p.NoSigns = new(true) }, "sides", Meets}, {"norway", 2.0, func(p *Problem) { p.NoSigns = new(true) }, "sides", CannotSay},
		{"norway", 2.01, func(*Problem) {}, "sides", DoesNot}, {"norway", 1.99, func(*Problem) {}, "sides", CannotSay},
		{"norway", 1.0, func(p *Problem) { p.Ladders = []measure.Length{} }, "way-out", ""}, {"norway", 1.01, func(p *Problem) { p.Ladders = []measure.Length{} }, "way-out", DoesNot},
		{"norway", 1.01, func(p *Problem) { p.Ladders = []measure.Length{0} }, "way-out", Meets},
		{"norway", 2, func(p *Problem) { p.Spoil = new(metre(1)) }, "spoil", Meets}, {"norway", 2, func(p *Problem) { p.Spoil = new(metre(0.999)) }, "spoil", DoesNot},
		{"alberta", 1.5, func(*Problem) {}, "sides", Meets}, {"alberta", 1.51, func(*Problem) {}, "sides", DoesNot},
		{"alberta", 1.51, func(p *Problem) { p.Soil = "solid rock" }, "sides", Meets},
		{"alberta", 2, func(p *Problem) { p.Soil, p.Form, p.Slope = "soft, sandy or loose", Sloped, grade(1, 1) }, "slope", Meets},
		{"alberta", 2, func(p *Problem) { p.Soil, p.Form, p.Slope = "soft, sandy or loose", Sloped, grade(101, 100) }, "slope", DoesNot},
		{"alberta", 3, func(p *Problem) {
			p.Soil, p.Form, p.Slope, p.Plumb = "hard and compact", Sloped, grade(1, 1), new(metre(1.5))
		}, "upright-part", Meets},
		{"alberta", 3, func(p *Problem) {
			p.Soil, p.Form, p.Slope, p.Plumb = "hard and compact", Sloped, grade(1, 1), new(metre(1.51))
		}, "upright-part", DoesNot},
		{"alberta", 1.5, func(p *Problem) { p.Ladders = []measure.Length{} }, "way-out", ""},
		{"alberta", 1.51, func(p *Problem) { p.Stretch[0].To, p.Ladders = metre(16), []measure.Length{metre(8)} }, "way-out", Meets},
		{"alberta", 1.51, func(p *Problem) { p.Stretch[0].To, p.Ladders = metre(16), []measure.Length{metre(8.01)} }, "way-out", DoesNot},
		{"bc", 1.2, func(*Problem) {}, "sides", Meets}, {"bc", 1.21, func(*Problem) {}, "sides", DoesNot},
		{"bc", 6, func(*Problem) {}, "engineer", Meets}, {"bc", 6.01, func(*Problem) {}, "engineer", DoesNot},
		{"bc", 2, func(p *Problem) { p.Beside = grade(1, 3) }, "ground-beside", Meets}, {"bc", 2, func(p *Problem) { p.Beside = grade(100, 299) }, "ground-beside", DoesNot},
		{"bc", 1.21, func(p *Problem) { p.Stretch[0].To, p.Ladders = metre(16), []measure.Length{metre(8)} }, "way-out", Meets},
		{"quebec", 3, func(p *Problem) { p.Stretch[0].To, p.Ladders = metre(15), []measure.Length{metre(7.5)} }, "way-out", Meets},
		{"quebec", 3, func(p *Problem) { p.Stretch[0].To, p.Ladders = metre(15.01), []measure.Length{metre(7.5)} }, "way-out", DoesNot},
		{"quebec", 3, func(p *Problem) { p.Ladders, p.Above = []measure.Length{}, new(metre(0.99)) }, "ladder-above", DoesNot},
		{"quebec", 3, func(p *Problem) { p.Soil, p.Form, p.Slope = "no danger of a slide", Sloped, grade(100, 101) }, "slope", Meets},
		{"quebec", 3, func(p *Problem) { p.Soil, p.Form, p.Slope = "no danger of a slide", Sloped, grade(1, 1) }, "slope", DoesNot},
		{"quebec", 3, func(p *Problem) { p.Soil, p.Engineer = "danger of a slide", answers("D5") }, "sides", CannotSay},
		{"canada", 1.4, func(*Problem) {}, "sides", Meets}, {"canada", 1.41, func(*Problem) {}, "sides", DoesNot},
		{"canada", 1.41, func(p *Problem) { p.Form, p.Slope = Sloped, grade(1, 1) }, "slope", DoesNot},
		{"canada", 1.41, func(p *Problem) { p.Form, p.Slope = Sloped, grade(100, 101) }, "sides", Meets},
		{"canada", 2, func(p *Problem) { p.Spoil = new(metre(1)) }, "spoil", Meets},
		{"nt", 1.49, func(*Problem) {}, "sides", Meets}, {"nt", 1.5, func(*Problem) {}, "sides", DoesNot},
		{"nt", 1.5, func(p *Problem) { p.Engineer = answers("D4") }, "sides", CannotSay},
	} {
		p := dig(c.profile, metre(c.depth), Vertical)
		c.do(p)
		if s := check(t, p); verdict(s, c.id) != c.want {
			t.Errorf("%s, %v m, %s: %q, want %q\n%s", c.profile, c.depth, c.id, verdict(s, c.id), c.want, s.Findings.Render(0))
		}
	}
}

// Ontario s. 234 is from memory (M): it is said, and nothing hangs on it.
func TestWhatIsFromMemoryNeverGates(t *testing.T) {
	for _, depth := range []float64{1.2, 1.21, 5} {
		p := dig("ontario", metre(depth), Sloped)
		p.Soil, p.Slope, p.Spoil = "4", grade(10, 1), new(measure.Length(0))
		s := check(t, p)
		for _, r := range s.Results {
			if r.Verdict == DoesNot || r.Verdict == Meets {
				t.Errorf("%v m: %s %s", depth, r.ID, r.Verdict)
			}
		}
		if !strings.Contains(s.Findings.Render(0), "from memory") {
			t.Error(s.Findings)
		}
	}
}

// Every profile says where and when it was read, keeps its figures in its own unit, and answers a dig of which nothing is
// on file without a verdict that is good.
func TestEveryProfile(t *testing.T) {
	units := map[string]measure.Length{"ft": ft, "in": in, "m": measure.Metre}
	for _, f := range Profiles() {
		if f.Name == "" || f.Law == "" || f.Source == "" || len(f.Read) != 10 {
			t.Errorf("%s does not say where and when it was read", f.ID)
		}
		for _, l := range []*Limit{f.Protect, f.Bare, f.Engineer, f.Entry, f.Travel, f.Apart, f.Above, f.Spoil, f.Air, f.Guard, f.ShieldAbove, f.ShieldBelow} {
			if l == nil || l.Value == 0 {
				continue
			}
			n, unit, _ := strings.Cut(l.Says, " ")
			r, err := measure.Parse(l.Says)
			if err != nil || r.Length != l.Value || units[unit] == 0 || n == "" || l.Rule == "" {
				t.Errorf("%s: %q is not %s, or has no rule", f.ID, l.Says, l.Value)
			}
		}
		s := check(t, dig(f.ID, metre(8), ""))
		for _, r := range s.Results {
			if r.Verdict == Meets {
				t.Errorf("%s: %s %s though nothing is on file", f.ID, r.ID, r.Verdict)
			}
		}
		if len(s.Cautions) < 2 || len(s.Findings) == 0 {
			t.Errorf("%s: %v %v", f.ID, s.Cautions, s.Findings)
		}
	}
	if s := check(t, dig("atlantis", metre(2), Vertical)); s.Profile != nil || !s.Findings.Any(finding.Fault) {
		t.Error(s)
	}
	if s := check(t, dig("", metre(2), Vertical)); !s.Findings.Any(finding.NotChecked) || len(s.Results) > 0 {
		t.Error(s)
	}
	for _, bad := range []func(*Problem){
		func(p *Problem) { p.Stretch[0].Depth = -1 }, func(p *Problem) { p.Stretch[0].To = -1 }, func(p *Problem) { p.Slope = grade(-1, 1) },
		func(p *Problem) { p.Spoil = new(measure.Length(-1)) }, func(p *Problem) { p.Stretch = append(p.Stretch, p.Stretch[0]) }, func(p *Problem) { p.Beside = grade(0, 0) },
	} {
		p := dig("osha", metre(2), Vertical)
		bad(p)
		if s := check(t, p); !s.Findings.Any(finding.Fault) {
			t.Error("taken:", p)
		}
	}
}

// answers is a document for any depth.
func answers(name string) *Document { return &Document{Name: name, Until: new(deepest)} }

// A document answers down to its own depth and no further; one without a depth answers none. The stop stays.
func TestDocumentsAnswerToTheirDepth(t *testing.T) {
	for _, c := range []struct {
		until   *measure.Length
		stopped bool
		said    string
	}{
		{nil, true, "no depth down to which it answers"},
		{new(feet(20)), true, "D9 answers down to 20'-0"},
		{new(feet(20.01)), false, "is on file and is not judged here"},
	} {
		p := dig("osha", feet(20.01), Sloped)
		p.Soil, p.Slope, p.Words = "C", grade(1, 2), wording.Speech{Imperial: true}
		p.Engineer = &Document{Name: "D9", Until: c.until}
		s := Check(p)
		r := s.Results[0]
		if s.Stopped != c.stopped || r.Stop != c.stopped || !strings.Contains(r.What, c.said) {
			t.Errorf("until %v: stopped %v, %q", c.until, s.Stopped, r.What)
		}
	}
	p := dig("osha", feet(12), Supported)
	p.Support = &Document{Name: "D7", Until: new(feet(10))}
	for _, r := range Check(p).Results {
		if r.ID == "excavation.sides" && r.Verdict != DoesNot {
			t.Errorf("support for 10 ft in a dig of 12 ft: %s", r.Verdict)
		}
	}
}
