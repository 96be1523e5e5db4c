package planner_test

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/job/planner/plancheck"
	"trenchwright/place/ground"
)

// drained plans a level run of 60 m over a drain, on level ground at 100: its underside lies at 99.370.
func drained(t *testing.T, levels string, routed string) planner.Plan {
	t.Helper()
	j := straight(t)
	j.Ground.Surfaces = append(j.Ground.Surfaces, job.Surface{ID: "natural", Role: job.ExistingGround, File: "none.csv"})
	if routed != "" {
		routed = `, "route": ` + routed
	}
	j = with(t, j, `"dig": {"bed": "150 mm", "room": "400 mm", "sides": "vertical"}, "levels": {"above": "0 mm", `+levels+`}`+routed)
	p := planner.Make(j, even(t, j, ground.Existing, 100), even(t, j, ground.Finished, 100))
	text, err := json.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	declared, err := json.Marshal(j)
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range plancheck.Check(text, declared) {
		t.Errorf("from outside: %s", line)
	}
	return p
}

const pipe110 = `"drain": {"diameter": "110 mm", "wall": "5 mm", "below": "150 mm", "least": "0.5 %", "trench": "400 mm", "bedding": "50 mm"`

// A flat run over a falling drain is normal: it falls to its one outlet as it has to, no more, and the outlet's invert is kept.
func TestFlatRunOverAFallingDrain(t *testing.T) {
	for _, c := range []struct {
		name, levels string
		starts, ends float64 // its underside at both ends of the leg
		grades       int
	}{
		// 99.370 − 0.150 − 0.110 = 99.110 at the high end; 0.5 % of 60 m is 300 mm
		{"to the end", pipe110 + `}, "outlets": [{"id": "O1", "leg": "A", "at": "60 m", "into": "manhole 7"}]`, 99.11, 98.81, 1},
		{"to the start", pipe110 + `}, "outlets": [{"id": "O1", "leg": "A", "at": "0 m"}]`, 98.81, 99.11, 1},
		{"to the end, pinned", pipe110 + `}, "outlets": [{"id": "O1", "leg": "A", "at": "60 m", "drain": 98.515}]`, math.NaN(), 98.51, -1},
		{"as stated", pipe110 + `, "ways": [{"leg": "A", "toward": "N1"}]}`, 98.81, 99.11, 1},
		{"as the run", pipe110 + `}, "stretches": [{"leg": "A", "toward": "N2"}]`, 99.11, 98.81, 1},
	} {
		p := drained(t, c.levels, "")
		d := p.Drain
		if d == nil || d.Verdict != "found" || len(d.Grades) == 0 {
			t.Errorf("%s: %+v %v", c.name, d, p.Findings)
			continue
		}
		first, last := d.Grades[0], d.Grades[len(d.Grades)-1]
		off := func(got, want float64) bool { return !math.IsNaN(want) && math.Abs(got-want) > 2e-3 }
		if off(first.Starts, c.starts) || off(last.Ends, c.ends) || c.grades > 0 && len(d.Grades) != c.grades {
			t.Errorf("%s: from %v to %v on %d grades", c.name, first.Starts, last.Ends, len(d.Grades))
		}
		if c.name == "to the end, pinned" && (last.Ends != 98.51 || *last.Invert[1] != 98.515) {
			t.Errorf("%s: ends at %v, invert %v", c.name, last.Ends, *last.Invert[1])
		}
		for _, g := range p.Grades {
			if g.Grade != "0.0000 %" {
				t.Errorf("%s: the run lies on %s", c.name, g.Grade)
			}
		}
		if p.Dig == nil || p.Dig.Total.Pipe <= 0 {
			t.Errorf("%s: no pipe is displaced", c.name)
		} else if want := math.Pi / 4 * 0.11 * 0.11 * 60; math.Abs(p.Dig.Total.Pipe-want)/want > 0.01 {
			t.Errorf("%s: the pipe takes %.4f m³, want %.4f", c.name, p.Dig.Total.Pipe, want)
		}
	}
}

// An outlet in the middle of a unit: water runs to it from both sides, and its invert is kept to the nanometre there.
func TestDrainToAnOutletInsideAUnit(t *testing.T) {
	p := drained(t, pipe110+`}, "outlets": [{"id": "O1", "leg": "A", "at": "31.4 m", "into": "manhole 7", "drain": 98.9}]`, "")
	if p.Drain == nil || p.Drain.Verdict != "found" {
		t.Fatal(p.Drain, p.Findings)
	}
	hit := false
	for _, g := range p.Drain.Grades {
		if g.To == "outlet manhole 7" {
			hit = float64(g.ToMM) == 31.4e9 && g.Ends == 98.895 && *g.Invert[1] == 98.9 && strings.HasPrefix(g.Grade, "-")
		}
	}
	if !hit || len(p.Drain.Lows) != 1 || p.Drain.Lows[0].Outlet != "manhole 7" || len(texts(p, "planner.drain-low")) > 0 {
		t.Errorf("%+v", p.Drain)
	}
}

// What cannot be is said in words with the figures, and the drain has no levels.
func TestDrainsThatCannotBe(t *testing.T) {
	for _, c := range []struct{ name, levels, says string }{
		{"too little room", pipe110 + `, "deepest": "300 mm"}, "outlets": [{"id": "O1", "leg": "A", "at": "60 m"}]`, "least fall"},
		{"an outlet too high", pipe110 + `}, "outlets": [{"id": "O1", "leg": "A", "at": "60 m", "into": "manhole 7", "drain": 99.2}]`, "manhole 7"},
		{"two outlets at odds", pipe110 + `, "ways": [{"leg": "A", "toward": "N2"}]}, "outlets": [{"id": "O1", "leg": "A", "at": "10 m", "into": "the ditch", "drain": 98.6},
			{"id": "O2", "leg": "A", "at": "40 m", "into": "the pond", "drain": 98.5}]`, "least fall 0.5 %"},
		{"too steep", pipe110 + `, "most": "1 %", "ways": [{"leg": "A", "toward": "N2"}]}, "outlets": [{"id": "O1", "leg": "A", "at": "10 m", "into": "the ditch", "drain": 98.9},
			{"id": "O2", "leg": "A", "at": "20 m", "into": "the pond", "drain": 98.7}]`, "limit 1 %"},
	} {
		p := drained(t, c.levels, "")
		said := texts(p, "planner.drain")
		if len(said) != 1 || p.Drain == nil || p.Drain.Verdict != "impossible" || !strings.Contains(said[0], c.says) || len(p.Drain.Grades) > 0 {
			t.Errorf("%s: %q %+v", c.name, said, p.Drain)
			continue
		}
		t.Log(said[0])
		for _, s := range p.SetOut {
			if s.Levels == nil || s.Levels.Drain != nil {
				t.Errorf("%s: %s has a level of the drain, or none of the run", c.name, s.Place)
			}
		}
	}
}

// Nothing on file: no direction, no outlet. What is not held is said, and so is the low.
func TestDrainOfWhichLittleIsKnown(t *testing.T) {
	p := drained(t, `"drain": {"diameter": "110 mm", "below": "150 mm", "least": "0.5 %"}`, "")
	for _, id := range []string{"planner.drain-direction", "planner.drain-low", "job.missing.drain-wall", "job.missing.drain-deepest"} {
		if len(texts(p, id)) != 1 {
			t.Errorf("%s: %q", id, texts(p, id))
		}
	}
	if len(texts(p, "planner.drain-fall")) > 0 {
		t.Error("the drain has a profile of its own")
	}
}

// A network over a cast tee drains to its one outlet, and falls under the casting too.
func TestDrainOfANetwork(t *testing.T) {
	route := func(fitting string) string {
		return fmt.Sprintf(`{"nodes": [{"id": "N1", "at": [0, 0], "end": {"kind": "open"}}, {"id": "N2", "at": [30, 0], %s "through": ["A", "B"]}, {"id": "N3", "at": [60, 0], "end": {"kind": "open"}},
		{"id": "N4", "at": [30, 40], "end": {"kind": "open"}}], "legs": [{"id": "A", "from": "N1", "to": "N2"}, {"id": "B", "from": "N2", "to": "N3"}, {"id": "C", "from": "N4", "to": "N2"}]}`, fitting)
	}
	p := drained(t, pipe110+`}, "outlets": [{"id": "O1", "leg": "B", "at": "30 m", "into": "manhole 7", "of": "drain"}]`, route(`"fitting": "tee-500",`))
	if p.Drain == nil || p.Drain.Verdict != "found" || len(p.Drain.Lows) != 1 || p.Drain.Lows[0].Outlet != "manhole 7" {
		t.Fatalf("%+v %v", p.Drain, p.Findings)
	}
	for _, g := range p.Drain.Grades {
		if !strings.HasPrefix(g.Grade, "-") {
			t.Errorf("leg %s lies on %s", g.Leg, g.Grade)
		}
	}
	// from the head of the longer arm, 40 m away, to the outlet: 70 m at 0.5 % at the least, the castings too
	var head, foot float64
	for _, g := range p.Drain.Grades {
		if g.Leg == "C" && g.FromMM < 1e9 {
			head = g.Starts
		}
		if g.Leg == "B" {
			foot = g.Ends
		}
	}
	if fall := head - foot; fall < 0.005*69.9 || fall > 0.37 {
		t.Errorf("it falls by %.4f m", fall)
	}
}
