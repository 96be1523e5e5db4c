package cable

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/solve/check"
	"trenchwright/tools/published"
)

const (
	mm  = measure.Millimetre
	ft  = 0.3048
	lbf = check.Pound * check.Gravity
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.6g, want %.6g within %g", what, got, want, within)
	}
}

// laid is a trench with two kinds of cables of which everything is on file.
func laid() *Problem {
	kg := func(x float64) *measure.LinearMass { return new(measure.LinearMass(x * 1000)) }
	return &Problem{Where: finding.Where{Path: "cable"},
		Cables: []Cable{{Name: "power", Count: 3, OD: 42 * mm, Class: "power", Mass: kg(4.1), Bend: new(12.0), Tension: new(check.Force.Of(8000)), Side: new(check.LineForce.Of(7000)), Loss: new(check.LineHeat.Of(20)), Rated: new(check.Current.Of(400)), Carries: new(check.Current.Of(200)), From: "sheet 3"},
			{Name: "control", Count: 6, OD: 16 * mm, Class: "control", In: 2, Mass: kg(0.5), Bend: new(8.0), Loss: new(check.LineHeat.Of(0)), From: "sheet 4"}},
		Section:  &Section{Width: 600 * mm, Depth: 300 * mm, From: "T-9", Dividers: []Divider{{400 * mm, 50 * mm}}, Share: new(check.Percent.Of(0.4)), ShareFrom: "rule 7", Apart: new(50 * mm), ApartFrom: "rule 7", Later: &Cable{Name: "one more", Count: 1, OD: 42 * mm}},
		Bends:    []Bend{{Name: "bend B1", Turn: 90 * measure.Degree, Before: new(5 * measure.Metre), After: new(5 * measure.Metre)}},
		Pull:     &Pull{Cable: "power", Route: []Piece{{Length: 50 * measure.Metre}, {Turn: 90 * measure.Degree, Radius: 1200 * mm}, {Length: 30 * measure.Metre, Rise: 0.02}}, Straights: new(0.2), Corners: new(0.3), MuFrom: "trial", Back: new(check.Force.Of(200)), BackFrom: "trial"},
		Heat:     &Heat{Ambient: new(check.Temperature.Of(30)), Conductor: new(check.Temperature.Of(90)), Reference: new(check.Temperature.Of(30)), Group: Floor, Circuits: 3, Allowed: new(check.Temperature.Of(60)), AllowedFor: "note 2"},
		Cut:      &Cut{Route: new(80 * measure.Metre), Slack: new(check.Percent.Of(0.03)), Ends: new(6 * measure.Metre), Drum: new(100 * measure.Metre)},
		Supports: &Supports{Apart: new(1 * measure.Metre), Bears: new(check.Force.Of(500)), From: "T-9"}}
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

// With everything on file and in order every answer meets its figure.
func TestAllOnFile(t *testing.T) {
	s := Check(laid())
	if len(s.Answers) != 14 {
		t.Errorf("%d answers", len(s.Answers))
	}
	for _, a := range s.Answers {
		if a.Verdict != finding.Meets {
			t.Error(a.Sentence(laid().Words))
		}
	}
}

// What is laid is laid: each layer within its room, each cable once, as high as its thickest. Of few cables every arrangement is tried, and
// none is higher room than ours needs at best.
func TestLayersAgainstTwin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		width := float64(rapid.IntRange(200, 600).Draw(t, "width"))/1000 + 1e-7
		gap := float64(rapid.IntRange(0, 20).Draw(t, "gap")) / 1000
		var cables []Cable
		var each []float64
		for range rapid.IntRange(1, 3).Draw(t, "kinds") {
			c := Cable{Name: "c", Count: rapid.IntRange(1, 2).Draw(t, "count"), OD: measure.Length(rapid.IntRange(10, 180).Draw(t, "od")) * mm}
			cables = append(cables, c)
			for range c.Count {
				each = append(each, c.round())
			}
		}
		list := layers(cables, 0, width, gap)
		got := 0
		for _, l := range list {
			sum, thick := -gap, 0.0
			for _, k := range l.kinds {
				sum += gap + cables[k].round()
				thick = max(thick, cables[k].round())
			}
			got += len(l.kinds)
			if math.Abs(sum-l.width) > 1e-9 || sum > width+1e-9 || thick != l.height {
				t.Fatalf("%+v in %v", l, width)
			}
		}
		if got != len(each) {
			t.Fatalf("%d of %d laid", got, len(each))
		}
		best, in := math.Inf(1), make([]int, len(each))
		var try func(i, used int)
		try = func(i, used int) {
			if i == len(each) {
				sum := 0.0
				for k := range used {
					w, h := -gap, 0.0
					for n, at := range in {
						if at == k {
							w, h = w+gap+each[n], max(h, each[n])
						}
					}
					if w > width+1e-9 {
						return
					}
					sum += h
				}
				best = min(best, sum)
				return
			}
			for k := range used + 1 {
				in[i] = k
				try(i+1, max(used, k+1))
			}
		}
		try(0, 0)
		if h := height(list); h < best-1e-9 || h > 2*best+1e-9 {
			t.Fatalf("%v high, the best is %v", h, best)
		}
	})
}

// Three in trefoil are round by the factor of a handbook.
func TestTrefoil(t *testing.T) {
	published.Hold(t, "cable.trefoil", func(g published.Given) []float64 {
		c := Cable{Count: 1, Trefoil: true, OD: measure.FromMillimetres(g.N(0))}
		return []float64{c.round() * 1000}
	})
}

// An exercise of a trade journal: whole cables alone count.
func TestShareAsPublished(t *testing.T) {
	published.Hold(t, "cable.share", func(g published.Given) []float64 {
		return []float64{float64(ByShare(18*measure.Inch, 4*measure.Inch, measure.Inch/2, g.N(0)/100))}
	})
	published.Hold(t, "cable.mixed", func(g published.Given) []float64 {
		p := &Problem{Section: &Section{Width: measure.FromMillimetres(g.N(4)), Depth: measure.FromMillimetres(g.N(6)), Share: new(check.Percent.Of(0.4))}}
		if thick := measure.FromMillimetres(g.N(5)); thick > 0 {
			p.Section.Dividers = []Divider{{p.Section.Width / 2, thick}}
		}
		for i := 0; i < 4; i += 2 {
			if n := int(g.N(i)); n > 0 {
				p.Cables = append(p.Cables, Cable{Name: "c" + g[i+1], Count: n, OD: measure.FromMillimetres(g.N(i + 1))})
			}
		}
		return []float64{by(t, Check(p), "cable.share").Value.SI * 100}
	})
	p := laid()
	p.Section.Share = new(check.Percent.Of(0.01))
	if a := by(t, Check(p), "cable.share"); a.Verdict != finding.DoesNot {
		t.Error(a.Sentence(p.Words))
	}
	p.Section.Share = nil
	if a := by(t, Check(p), "cable.share"); a.Verdict != "" {
		t.Error(a.Sentence(p.Words))
	}
}

// A divider keeps classes as far apart as it is thick, one compartment not at all; one class needs nothing.
func TestClassesApart(t *testing.T) {
	p := laid()
	p.Section.Apart = new(51 * mm)
	if a := by(t, Check(p), "cable.apart"); a.Verdict != finding.DoesNot || a.Value.SI != 0.05 {
		t.Error(a.Sentence(p.Words))
	}
	p.Cables[1].In = 1
	p.Section.Apart = new(1 * mm)
	if a := by(t, Check(p), "cable.apart"); a.Verdict != finding.DoesNot || a.Value.SI != 0 {
		t.Error(a.Sentence(p.Words))
	}
	p.Section.Apart = nil
	if a := by(t, Check(p), "cable.apart"); a.Verdict != "" || !strings.Contains(a.NotChecked(), "Ask: the owner") {
		t.Error(a.Sentence(p.Words))
	}
	p.Cables[1].Class = "power"
	for _, a := range Check(p).Answers {
		if a.ID == "cable.apart" {
			t.Error("one class is kept apart from itself")
		}
	}
}

// A later cable that finds no layer is not said to have no room, unless the areas alone say so.
func TestLaterCable(t *testing.T) {
	p := laid()
	p.Section.Later = &Cable{Name: "later", Count: 40, OD: 60 * mm}
	if a := by(t, Check(p), "cable.later"); a.Verdict != finding.DoesNot {
		t.Error(a.Sentence(p.Words))
	}
	p.Section.Later = &Cable{Name: "later", Count: 31, OD: 60 * mm}
	if a := by(t, Check(p), "cable.later"); a.Verdict != finding.CannotSay {
		t.Error(a.Sentence(p.Words))
	}
}

// The arc of the formula touches the outer walls and the inner edge of the corner and goes through nothing; a longer one would.
func TestArcInMitre(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := float64(rapid.IntRange(100, 1200).Draw(t, "w")) / 1000
		b := w * float64(rapid.IntRange(5, 95).Draw(t, "b")) / 100
		turn := float64(rapid.IntRange(5, 120).Draw(t, "turn")) * math.Pi / 180
		outer := Arc(w, b, b, turn, math.Inf(1)) + b/2
		// Leg 1 runs along x below y = 0 .. w, leg 2 turns left at the origin; the walls outside are y = 0 and the line through the origin.
		normal := func(x, y float64) float64 { return -x*math.Sin(turn) + y*math.Cos(turn) }            // from the outer wall of leg 2
		corner := func(r float64) (x, y float64) { return -(r - r*math.Cos(turn)) / math.Sin(turn), r } // r from both outer walls
		cx, cy := corner(outer)
		ix, iy := corner(w)
		for _, p := range [][2]float64{{cx, cy}, {ix, iy}} {
			if math.Abs(normal(p[0], p[1])-p[1]) > 1e-9 {
				t.Fatalf("not as far from both walls: %v", p)
			}
		}
		if outer > w { // the edge then is inside the curve, and touches what lies innermost
			if got := math.Hypot(cx-ix, cy-iy); math.Abs(got-(outer-b)) > 1e-9*max(1, outer) {
				t.Fatalf("edge %v from the centre, the cables' inner side %v", got, outer-b)
			}
			longer := outer * 1.001
			lx, ly := corner(longer)
			if math.Hypot(lx-ix, ly-iy) <= longer-b {
				t.Fatal("a longer arc would have room")
			}
		}
	})
	near(t, "90 deg, 400 mm, one cable of 50 mm", Arc(0.4, 0.05, 0.05, math.Pi/2, math.Inf(1)), (0.4-0.025*(1+math.Sqrt2/2))/(1-math.Sqrt2/2), 1e-9)
	near(t, "short straights", Arc(0.4, 0.05, 0.05, math.Pi/2, 0.5), 0.475, 1e-9)
	p := laid()
	p.Bends[0].Before = new(400 * mm)
	if a := by(t, Check(p), "cable.bend"); a.Verdict != finding.DoesNot {
		t.Error(a.Sentence(p.Words))
	}
	p.Cables[0].Bend = nil
	if a := by(t, Check(p), "cable.bend"); a.Verdict != "" {
		t.Error(a.Sentence(p.Words))
	}
}

// Bends of guides are printed beside what the maker has, in both systems, and stand in for nothing.
func TestBendGuide(t *testing.T) {
	published.Hold(t, "cable.bend-guide", func(g published.Given) []float64 {
		for _, guide := range guides {
			if strings.HasPrefix(guide.kind, g[0]) {
				return []float64{float64(guide.times) * g.N(1)}
			}
		}
		return nil
	})
	p := laid()
	if a := by(t, Check(p), "cable.bend"); !strings.Contains(a.Cautions[0], "cables of 42 mm: unshielded 8 diameters, 336 mm; tape-shielded 12 diameters, 504 mm; interlocked armour 7 diameters, 294 mm") {
		t.Error(a.Cautions[0])
	}
	p.Cables[0].Bend = nil
	if a := by(t, Check(p), "cable.bend"); a.Verdict != "" || a.Limit.SI != 0 {
		t.Errorf("a guide stands in for the maker: %s", a.Sentence(p.Words))
	}
}

// Worked examples of pulling guides; one of them counts g as 9.81 m/s².
func TestPullAsPublished(t *testing.T) {
	feet := func(n float64) measure.Length { return measure.FromMetres(n * ft) }
	published.Hold(t, "cable.pull", func(g published.Given) []float64 {
		got := Tensions([]Piece{{Length: feet(g.N(1))}, {Turn: measure.FromDegrees(g.N(4)), Radius: feet(g.N(5))}}, g.N(0)*check.Pound/ft, g.N(3)*lbf, g.N(2), g.N(2))
		return []float64{got[0].tension / lbf, got[1].tension / lbf, got[1].side / lbf * ft}
	})
	published.Hold(t, "cable.pull-si", func(g published.Given) []float64 {
		return []float64{Tensions([]Piece{{Length: measure.FromMetres(g.N(3))}}, g.N(1), g.N(0), g.N(2), 0)[0].tension}
	})
	published.Hold(t, "cable.slope", func(g published.Given) []float64 {
		return []float64{Tensions([]Piece{{Length: feet(g.N(1)), Rise: math.Tan(g.N(2) * math.Pi / 180)}}, g.N(0)*check.Pound/ft, 0, g.N(3), 0)[0].tension / lbf}
	})
}

// The slow way: a bend in many small turns, a straight in many small lengths; and a route pulled backwards is the route from its end.
func TestPullAgainstSteps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var route []Piece
		for range rapid.IntRange(1, 5).Draw(t, "pieces") {
			if rapid.Bool().Draw(t, "bend") {
				route = append(route, Piece{Turn: measure.Angle(rapid.IntRange(5, 180).Draw(t, "turn")) * measure.Degree, Radius: measure.Length(rapid.IntRange(300, 3000).Draw(t, "radius")) * mm})
			} else {
				route = append(route, Piece{Length: measure.Length(rapid.IntRange(1, 200).Draw(t, "length")) * measure.Metre, Rise: float64(rapid.IntRange(-20, 20).Draw(t, "rise")) / 100})
			}
		}
		mass, back, mu, corners := 3.0, 500.0, 0.25, 0.4
		slow := back
		const n = 4000
		for _, s := range route {
			for range n {
				if s.Turn != 0 {
					slow += corners * slow * s.Turn.Radians() / n
				} else {
					fall := math.Hypot(1, s.Rise)
					slow = max(0, slow+mass*check.Gravity*s.Length.Metres()/n*(s.Rise/fall+mu/fall))
				}
			}
		}
		got := Tensions(route, mass, back, mu, corners)
		if last := got[len(got)-1].tension; math.Abs(last-slow) > 2e-3*max(1, slow) {
			t.Fatalf("%v, in steps %v", last, slow)
		}
		again := backwards(backwards(route))
		for i := range route {
			if again[i] != route[i] {
				t.Fatal("backwards twice is not forwards")
			}
		}
	})
}

// Pulls that guides allow on the area of copper conductors, and through a basket grip.
func TestPullOnCopper(t *testing.T) {
	published.Hold(t, "cable.copper", func(g published.Given) []float64 {
		return []float64{OnCopper(g.N(0)*1000*math.Pi/4*2.54e-5*2.54e-5) / lbf}
	})
	p := laid()
	p.Cables[0].Tension, p.Cables[0].Copper = nil, new(check.Area.Of(120e-6))
	a := by(t, Check(p), "cable.pull-there")
	near(t, "120 mm²", a.Limit.SI, OnCopper(120e-6), 1e-6)
	p.Cables[0].Grip = true
	published.Hold(t, "cable.grip", func(published.Given) []float64 {
		return []float64{by(t, Check(p), "cable.pull-there").Limit.SI / lbf}
	})
	p.Pull.Back = nil
	if a := by(t, Check(p), "cable.pull-there"); a.Verdict != finding.CannotSay {
		t.Errorf("without the pull off the drum: %s", a.Sentence(p.Words))
	}
	p.Pull.Corners = nil
	if a := by(t, Check(p), "cable.pull-back"); a.Verdict != "" {
		t.Error(a.Sentence(p.Words))
	}
}

// IEC 60287-2-1 2.2.6.2: the formula as read, its example worked out, and the air inside.
func TestHeatAsPublished(t *testing.T) {
	published.Hold(t, "cable.heat", func(g published.Given) []float64 {
		return []float64{g.N(0) / (3 * Perimeter(g.N(1), g.N(2), false)), g.N(0) / (3 * Perimeter(g.N(1), g.N(2), true))}
	})
	p := laid()
	p.Section.Width, p.Section.Depth, p.Section.Dividers, p.Section.Later, p.Cables = 400*mm, 300*mm, nil, nil, p.Cables[:1]
	p.Heat.Sun = true
	published.Hold(t, "cable.heat-chain", func(g published.Given) []float64 {
		p.Heat.Ambient = new(check.Temperature.Of(g.N(0)))
		return []float64{by(t, Check(p), "cable.heat").Value.SI}
	})
	p.Heat.Allowed = new(check.Temperature.Of(49.9))
	if a := by(t, Check(p), "cable.heat"); a.Verdict != finding.DoesNot {
		t.Error(a.Sentence(p.Words))
	}
	p.Cables[0].Loss = nil
	if a := by(t, Check(p), "cable.heat"); a.Verdict != "" || !strings.Contains(a.NotChecked(), "no heat of power on a length on file. Ask: the maker of the cable") {
		t.Error(a.Sentence(p.Words))
	}
}

// BS 7671 Table 4C1.
func TestGroups(t *testing.T) {
	ways := map[string]Group{"bunched": Bunched, "floor": Floor, "tray": Tray, "ladder": Ladder}
	factor := func(group Group, n float64) []float64 {
		f, ok := Grouped(group, int(n))
		if !ok {
			f = math.NaN()
		}
		return []float64{f}
	}
	published.Hold(t, "cable.group", func(g published.Given) []float64 { return factor(ways[g[0]], g.N(1)) })
	published.Hold(t, "cable.group-between", func(g published.Given) []float64 { return factor(Bunched, g.N(0)) })
}

// At the reference air a cable keeps all of its rating, where the air is as warm as the conductor may be nothing; heat goes with the square.
func TestRatingInWarmAir(t *testing.T) {
	p := laid()
	p.Heat.Circuits = 1
	for ambient, want := range map[float64]float64{30: 1, 75: 0.5, 90: 0, 95: 0} {
		p.Heat.Ambient = new(check.Temperature.Of(ambient - 60.0/(3*1.8))) // 60 W/m, inner perimeter 1.8 m
		a := by(t, Check(p), "cable.current")
		near(t, "keeps", a.Limit.SI/400, want, 1e-9)
	}
	p.Heat.Group = ""
	if a := by(t, Check(p), "cable.current"); a.Verdict != "" {
		t.Error(a.Sentence(p.Words))
	}
}

// Arithmetic and statics: 80 m x 1.03 + 6 m; (3 x 4.1 + 6 x 0.5) kg/m x g x 1 m.
func TestLengthsAndSupports(t *testing.T) {
	p := laid()
	s := Check(p)
	near(t, "cut", by(t, s, "cable.length").Value.SI, 88.4, 1e-9)
	near(t, "support", by(t, s, "cable.support").Value.SI, 15.3*check.Gravity, 1e-9)
	p.Cut.Drum, p.Supports.Bears = new(88*measure.Metre), new(check.Force.Of(100))
	s = Check(p)
	if by(t, s, "cable.length").Verdict != finding.DoesNot || by(t, s, "cable.support").Verdict != finding.DoesNot {
		t.Errorf("%+v", s.Answers)
	}
	p.Cut.Slack, p.Cables[1].Mass = nil, nil
	s = Check(p)
	if by(t, s, "cable.length").Verdict != "" || by(t, s, "cable.support").Verdict != "" {
		t.Errorf("%+v", s.Answers)
	}
}

// What cannot be is refused in a sentence each, and nothing is computed.
func TestWhatCannotBe(t *testing.T) {
	for name, spoil := range map[string]func(*Problem){
		"no cable": func(p *Problem) { p.Cables = nil }, "none": func(p *Problem) { p.Cables[0].Count = 0 }, "too many": func(p *Problem) { p.Cables[0].Count = 5000 }, "thick": func(p *Problem) { p.Cables[0].OD = 310 * mm },
		"wider than its room": func(p *Problem) { p.Cables[1].OD = 180 * mm }, "compartment": func(p *Problem) { p.Cables[1].In = 3 }, "no mass": func(p *Problem) { p.Cables[0].Mass = new(measure.LinearMass(0)) },
		"divider": func(p *Problem) { p.Section.Dividers[0].At = 590 * mm }, "later": func(p *Problem) { p.Section.Later.OD = 400 * mm }, "turn": func(p *Problem) { p.Bends[0].Turn = 175 * measure.Degree }, "friction": func(p *Problem) { p.Pull.Straights = new(-0.1) },
		"radius": func(p *Problem) { p.Pull.Route[1].Radius = 0 }, "slack": func(p *Problem) { p.Cut.Slack = new(check.Percent.Of(-0.1)) }, "supports": func(p *Problem) { p.Supports.Apart = new(measure.Length(0)) }, "hot": func(p *Problem) { p.Heat.Ambient = new(check.Temperature.Of(math.NaN())) },
	} {
		p := laid()
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
	p := &Problem{Where: finding.Where{Path: "cable"}, Cables: []Cable{{Name: "c", Count: 1, OD: 20 * mm}}, Section: &Section{Width: 300 * mm, Depth: 200 * mm}, Bends: []Bend{{Name: "B", Turn: 45 * measure.Degree}}, Pull: &Pull{}, Heat: &Heat{}, Cut: &Cut{}, Supports: &Supports{}}
	for _, f := range Check(p).Findings {
		if err := finding.Speech(f); err != nil || f.Kind != finding.NotChecked {
			t.Errorf("%v: %v", err, f)
		}
	}
}

// Cables and routes are read as people write them, or refused with the column.
func TestRead(t *testing.T) {
	c, imperial, err := ReadCable("feeder: 3 x 42mm, 4.1kg/m, bend 12, pull 8kN, side 7kN/m, heat 20 W/m, rated 400A, carries 200A, class power, in 2, trefoil, copper 240mm2, grip")
	if err != nil || imperial || c.Name != "feeder" || c.Count != 3 || c.OD != 42*mm || *c.Mass != 4100 || *c.Bend != 12 || c.Tension.SI != 8000 || c.Side.SI != 7000 || c.Loss.SI != 20 || c.Rated.SI != 400 || c.Carries.SI != 200 || c.Class != "power" || c.In != 2 || !c.Trefoil || !c.Grip || math.Abs(c.Copper.SI-240e-6) > 1e-12 {
		t.Errorf("%+v %v", c, err)
	}
	if c, imperial, err := ReadCable("1.5in, 2 lb/ft"); err != nil || !imperial || c.Count != 1 {
		t.Errorf("%+v %v", c, err)
	}
	for text, want := range map[string]string{"a: 3 x": "nothing is written", "a: 42": "none of what a cable says", "a: 4.1kg/m": "how many and how thick", ": 42mm": "a name was expected", "a: 42mm, 43mm": "size is said twice", "a: 42mm, pull 8kg": "no unit of force", "a: two x 42mm": "no whole number", "a: 42mm, in 0": "no compartment", "a: 42mm, bend x": "no number of diameters"} {
		if _, _, err := ReadCable(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %s", text, err, want)
		}
	}
	route, err := ReadRoute("50m, right 90° r 1.2m, 30m up 2%, left 45 deg r 4ft, 20m down 1:50")
	if err != nil || len(route) != 5 || route[1].Turn != 90*measure.Degree || route[2].Rise != 0.02 || route[4].Rise != -0.02 || route[3].Radius != 4*measure.Foot {
		t.Errorf("%+v %v", route, err)
	}
	for text, want := range map[string]string{"": "nothing is written", "50m, right 90°": "its turn and its radius", "right 0° r 1m": "more than 0", "50m up 2": "expected", "about": "expected"} {
		if _, err := ReadRoute(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
}

// Whatever is written, it is read or refused; what is read and sound comes to answers without a number that is none.
func FuzzRead(f *testing.F) {
	f.Add("feeder: 3 x 42mm, 4.1kg/m, bend 12, pull 8kN, heat 20W/m", "50m, right 90° r 1.2m, 30m up 2%")
	f.Add("a:,,", "left")
	f.Fuzz(func(t *testing.T, cable, path string) {
		c, _, err := ReadCable(cable)
		route, wrong := ReadRoute(path)
		if err != nil || wrong != nil {
			return
		}
		p := laid()
		p.Cables, p.Pull.Route, p.Pull.Cable = []Cable{c}, route, c.Name
		for _, a := range Check(p).Answers {
			for _, s := range a.Working {
				if math.IsNaN(s.Is.SI) {
					t.Fatalf("%q, %q: %s is no number", cable, path, s.Name)
				}
			}
		}
	})
}
