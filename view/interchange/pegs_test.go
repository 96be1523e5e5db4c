package interchange

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/demo"
	"trenchwright/job/planner"
	"trenchwright/place/route"
	"trenchwright/view/geojson"
	"trenchwright/view/landxml"
)

// located are the benchmarks and control points that have coordinates.
func (p planned) located() []planner.SurveyPoint {
	return slices.DeleteFunc(slices.Concat(p.plan.Benchmarks, p.plan.Control), func(s planner.SurveyPoint) bool { return s.E == nil })
}

// Our own reader finds every peg, benchmark and control point where the plan has it, to the nanometre, with what is known of
// it; and what has no coordinates is said in the file.
func TestPegsAndBenchmarksReadBack(t *testing.T) {
	pegs, marks, unlocated := 0, 0, 0
	for _, name := range demo.Names() {
		p := onGround(t, demoJob(t, name))
		f, r := p.readXML(t), of(p.plan, p.job)
		find := func(code, name string) landxml.Point {
			t.Helper()
			k := slices.IndexFunc(f.Points, func(q landxml.Point) bool { return q.Code == code && q.Name == name })
			if k < 0 {
				t.Fatalf("no %s %q", code, name)
			}
			return f.Points[k]
		}
		held := func(q landxml.Point, e, n float64, z *float64) {
			t.Helper()
			if q.At.E != measure.FromMetres(e) || q.At.N != measure.FromMetres(n) || q.HasLevel != (z != nil) || z != nil && q.Level != measure.FromMetres(*z) {
				t.Errorf("%s: %s %s comes back at %v, level %v %v", name, q.Code, q.Name, q.At, q.HasLevel, q.Level)
			}
		}
		text := string(p.xml(t))
		for _, list := range r.surveyed() {
			for _, s := range list.points {
				if s.E == nil {
					unlocated++
					if want := "no coordinates of " + list.what + " " + s.ID + " on file"; !strings.Contains(text, want) {
						t.Errorf("%s: nowhere %q", name, want)
					}
					continue
				}
				q := find(list.what, s.ID)
				held(q, *s.E, *s.N, s.Level)
				if marks++; !strings.HasPrefix(q.Desc, s.Where) || !slices.Equal(q.Groups, []string{list.what + "s"}) {
					t.Errorf("%s: %s %s is %q in %v", name, list.what, s.ID, q.Desc, q.Groups)
				}
			}
		}
		for _, g := range p.plan.Pegs {
			pegs++
			q := find("peg", r.pegName(g))
			held(q, g.E, g.N, g.Ground)
			wants := append([]string{p.job.Speech().Say("%s of the %s", g.Side, wording.Centreline)}, g.Lost...)
			if g.ToFormation != nil {
				wants = append(wants, g.ToFormation.Way, p.job.Speech().Length(measure.Length(g.ToFormation.Amount)))
			}
			for _, want := range wants {
				if !strings.Contains(q.Desc, want) {
					t.Errorf("%s: peg %s says %q, nothing of %q", name, q.Name, q.Desc, want)
				}
			}
			if !slices.Equal(q.Groups, []string{"pegs", "leg " + g.Leg}) {
				t.Errorf("%s: peg %s lies in %v", name, q.Name, q.Groups)
			}
		}
	}
	if pegs < 100 || marks < 8 || unlocated == 0 {
		t.Errorf("%d pegs, %d points, %d without coordinates: too little is tested", pegs, marks, unlocated)
	}
	t.Logf("%d pegs, %d benchmarks and control points, %d without coordinates", pegs, marks, unlocated)
}

// surveyedOrPeg holds the properties of a peg, a benchmark or a control point against the plan; null is what is not known.
func (r run) surveyedOrPeg(t *testing.T, f geojson.Feature) {
	t.Helper()
	same := func(name string, want any) {
		t.Helper()
		text, _ := json.Marshal(want)
		for _, q := range f.Properties {
			if q.Name == name && string(q.Value) == string(text) {
				return
			}
		}
		t.Errorf("%s: %s is not %s", f.ID, name, text)
	}
	what, _ := f.Text("what")
	name, _ := f.Text("name")
	for _, list := range r.surveyed() {
		for _, s := range list.points {
			if list.what == what && s.ID == name {
				same("level_m", s.Level)
				same("where", s.Where)
				if nowhere := f.Geometry.Kind == geojson.Nowhere; nowhere != (s.E == nil) {
					t.Errorf("%s lies nowhere: %v", f.ID, nowhere)
				}
			}
		}
	}
	for _, g := range r.Pegs {
		if what != "peg" || r.pegName(g) != name {
			continue
		}
		same("place", g.Place)
		same("side", g.Side)
		same("offset_mm", g.Offset)
		same("ground_m", g.Ground)
		same("formation_m", g.Formation)
		same("lost", append([]string{}, g.Lost...))
		if g.ToFormation != nil {
			same("to_formation", g.ToFormation.Way)
			same("to_formation_mm", g.ToFormation.Amount)
		} else {
			same("to_formation", nil)
		}
	}
}

// A peg without ground, at a chainage of its own, says that nothing is known of its level; asked for twice it is one.
func TestPegsOfWhichLittleIsKnown(t *testing.T) {
	p := planned{job: demoJob(t, "tram-depot")}
	peg := planner.Peg{Leg: "A", Chainage: measure.MM(12345 * measure.Millimetre), Side: "left", Offset: measure.MM(1500 * measure.Millimetre)}
	r := of(planner.Plan{Pegs: []planner.Peg{peg, peg}}, p.job)
	points := r.pegs()
	if len(points) != 1 || points[0].HasLevel || points[0].Name != "A 0+012.345, 1500 mm left" || !strings.Contains(points[0].Desc, "no level of the ground on file") {
		t.Errorf("%+v", points)
	}
	m := mapper{run: r, earth: func(at route.Point) (float64, float64, error) { return 8, 47, nil }}
	m.pegs()
	for _, f := range m.features {
		text, _ := json.Marshal(f.Properties)
		if !strings.Contains(string(text), "null") {
			t.Errorf("%s", text)
		}
	}
	if len(m.features) != 1 {
		t.Errorf("%d features", len(m.features))
	}
}
