package layout

import (
	"math"
	"strings"
	"testing"

	"trenchwright/base/measure"
)

// layout.md §2: 3 m at 5 % cover 3.75 mm less in plan, 125 mm in 100 m; a chord d covers 2R·asin(d/2R) of its arc.
func TestAdvance(t *testing.T) {
	slope := Stretch{Rise: mm(5), Run: mm(100)}.geometry()
	if lost := mm(3000) - slope.advance(mm(3000)); math.Abs(lost.Millimetres()-3.743) > 0.001 {
		t.Errorf("3 m at 5 %% lose %s", lost)
	}
	if lost := mm(100_000) - slope.advance(mm(100_000)); math.Abs(lost.Millimetres()-124.766) > 0.001 {
		t.Errorf("100 m at 5 %% lose %s", lost)
	}
	curve := Stretch{Radius: mm(50_000)}.geometry()
	if gain := curve.advance(mm(3000)) - mm(3000); math.Abs(gain.Millimetres()-0.4502) > 0.0001 { // l³/24R² = 0.4500, and the next term
		t.Errorf("a chord of 3 m on R 50 m gains %s", gain)
	}
	both := Stretch{Radius: mm(20_000), Rise: mm(-8), Run: mm(100)}.geometry()
	for l := mm(200); l < mm(3000); l += 12_345_679 {
		for _, g := range []geometry{slope, curve, both} {
			if back := g.length(g.advance(l)); (back - l).Abs() > 1 {
				t.Fatalf("%s comes back as %s", l, back)
			}
		}
	}
}

func TestCurvesAndSlopes(t *testing.T) {
	for _, c := range []struct{ name, leg, want string }{
		{"a slope takes a longer closer", "30000 | slope 0..30000 rise 5", "c2947.476"}, // level: 2910; ten pieces lose 37.4 of 30000,
		{"a curve takes shorter units", "12000 | stock 3000 2000 1000 | curve 0..6000 | curve 6000..12000 r 20000 max 2000", "2000 2000 2000 = 5 1 1"},
		{"nothing longer reaches into the curve", "9020 | curve 0..8000 | curve 8000..9020 r 50000 max 1500", "= 4 "},
	} {
		p := leg(t, c.leg)
		s := solved(t, p)
		if said := Check(p, s); len(said) > 0 {
			t.Errorf("%s: %s: %v", c.name, shown(s), said)
		}
		if got := shown(s); !strings.Contains(got, c.want) {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// The stretch of a curve leaves less of the window to its joints.
func TestStretchKeepsItsWindow(t *testing.T) {
	p := leg(t, "30110 | window 8..14 | curve 0..15000 | curve 15000..30110 window 9..11")
	s := solved(t, p)
	if said := Check(p, s); len(said) > 0 || !s.Opened {
		t.Fatalf("%s: %v", shown(s), said)
	}
	for i, u := range s.Units[:len(s.Units)-1] {
		if s.Units[i+1].Start >= mm(15000) && u.GapAfter > mm(11) {
			t.Errorf("joint %d opens to %s on the curve", i+1, u.GapAfter)
		}
	}
}

// A saw path that meets what is cast in is no cut; turning the unit helps a mitred piece.
func TestCastInThings(t *testing.T) {
	if s := solved(t, leg(t, "10000 | castin 900..1000")); s.Units[3].Kept != KeptB { // 970 from end A meets it, from end B it does not
		t.Errorf("%s keeps %v", shown(s), s.Units[3].Kept)
	}
	if s := solved(t, leg(t, "10000 | castin 900..2100")); s.Count == (Count{4, 1, 1}) {
		t.Errorf("970 is in the way from both ends: %s", shown(s))
	}
	const mitred = "1800 | mitre start 1 | coverwidth 0 | castin 1100..1300"
	if s := solved(t, leg(t, mitred)); s.Count.Units == 1 {
		t.Errorf("unturned, the mitre meets 1100 to 1300: %s", shown(s))
	}
	if s := solved(t, leg(t, mitred+" | turn")); s.Count.Units != 1 || !s.Units[0].Turned || s.Units[0].Kept != KeptA {
		t.Errorf("turned, it does not: %s", shown(s))
	}
}

func TestFirstUnitsAndDemands(t *testing.T) {
	for _, c := range []struct{ leg, want string }{
		{"12030 | first 1500", "c1500 3000 "},
		{"12030 | first 1500 3000", "c1500 3000 "},
		{"20000 | demand 1 7000..9500 | supply 1 stock 2400 | supply 1 covers 796", "2400 "},
		{"12030 | joint 5000±5", "c"},
	} {
		p := leg(t, c.leg)
		s := solved(t, p)
		if got := shown(s); !strings.Contains(got, c.want) {
			t.Errorf("%s: %s, want %s", c.leg, got, c.want)
		}
		if said := Check(p, s); len(said) > 0 {
			t.Errorf("%s: %v", c.leg, said)
		}
	}
}

func TestMalformed(t *testing.T) {
	good := leg(t, "9020")
	for name, spoil := range map[string]func(p *Problem){
		"Length":                  func(p *Problem) { p.Length = 0 },
		"Supplies: none":          func(p *Problem) { p.Supplies = nil },
		"Stocks: none":            func(p *Problem) { p.Supplies[0].Stocks = nil },
		"stands there twice":      func(p *Problem) { p.Supplies[0].Stocks = []Stock{{Length: mm(3000)}, {Length: mm(3000)}} },
		"ShortestCut":             func(p *Problem) { p.Supplies[0].ShortestCut = 0 },
		"Supplies[0].Gap":         func(p *Problem) { p.Supplies[0].Gap.Min = mm(12) },
		"Supplies[0].Covers.Gap":  func(p *Problem) { p.Supplies[0].Covers.Gap.Max = 0 },
		"no whole number of cove": func(p *Problem) { p.Supplies[0].Covers.Lengths[0] = mm(700) },
		"Tan":                     func(p *Problem) { p.Start.Tan = math.NaN() },
		"Width: 0":                func(p *Problem) { p.Start, p.Supplies[0].Width = End{Mitred: true, Tan: 1}, 0 },
		"Zones[0]":                func(p *Problem) { p.Zones = []Zone{{From: 2, To: 1}} },
		"NoCut[0]":                func(p *Problem) { p.NoCut = []Zone{{From: 1, To: 1}} },
		"Demands: from":           func(p *Problem) { p.Demands = []Demand{{From: 1, To: 2, Supply: 3}} },
		"overlaps":                func(p *Problem) { p.Demands = []Demand{{From: 1, To: 9}, {From: 5, To: 12}} },
		"Joints[0]":               func(p *Problem) { p.Joints = []ForcedJoint{{At: mm(9020)}} },
		"First[0]":                func(p *Problem) { p.First = []measure.Length{0} },
		"Stretches[0]":            func(p *Problem) { p.Stretches = []Stretch{{From: 5, To: 6}} },
		"too long for a chord":    func(p *Problem) { p.Stretches = []Stretch{{To: p.Length, Radius: mm(1500)}} },
		"they end at":             func(p *Problem) { p.Stretches = []Stretch{{To: mm(1)}} },
	} {
		p := leg(t, "9020")
		spoil(&p)
		if _, err := Solve(p); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := Solve(good); err != nil {
		t.Error(err)
	}
	if _, err := Solve(Problem{}); err == nil {
		t.Error("the zero Problem is not malformed")
	}
}
