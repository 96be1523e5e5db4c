package servicein

import (
	"bytes"
	"fmt"
	"os"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/place/ground/local"
	"trenchwright/place/route"
)

const mm = measure.Millimetre

// run is a job with two legs at a right angle: A 100 m to the east from (1000, 2000), B 50 m to the north from its end.
func run(system string) job.Job {
	at := func(e, n float64) *[2]float64 { return &[2]float64{e, n} }
	return job.Job{Format: 1, Name: "j", Supplies: []job.Supply{{ID: "s"}},
		Coordinates: job.Coordinates{System: system, ScaleFactor: "ground", Line: job.DrawnLine{Kind: "centreline"}},
		Route: job.Route{Nodes: []job.Node{{ID: "N1", At: at(1000, 2000)}, {ID: "N2", At: at(1100, 2000)}, {ID: "N3", At: at(1100, 2050)}},
			Legs: []job.Leg{{ID: "A", From: "N1", To: "N2", Services: []job.Service{{ID: "W1"}}}, {ID: "B", From: "N2", To: "N3"}}}}
}

var said = Want{File: "f", Clear: 300 * mm, Width: 100 * mm, Unit: measure.UnitMetre}

func taken(t *testing.T, text string, j job.Job, w Want) (map[string]job.Service, Services, finding.List) {
	t.Helper()
	got, found := Read(strings.NewReader(text), j, w)
	if found.Any(finding.Fault) {
		t.Fatal(found.Render(measure.Metric))
	}
	by := map[string]job.Service{}
	for _, l := range got.Legs {
		for _, s := range l.Services {
			by[l.Leg+" "+s.Name] = s
		}
	}
	return by, got, found
}

// Points that are on lines: chainage and angle by hand, levels only where somebody says that they are those of the top.
func TestPointsOnLines(t *testing.T) {
	const text = "P,E,N,Z,L\n1,1030,1990,5,main\n2,1030,2010,4,main\n3,1040,1980,5,cable\n4,1060,2000,5,cable\n5,1120,2040,5,cable\n6,900,1900,1,far\n7,950,1900,1,far\n"
	by, got, _ := taken(t, text, run("site grid"), said)
	if len(by) != 3 || got.Legs[0].Services[0].ID != "W2" {
		t.Fatalf("%+v", got)
	}
	if s := by["A main"]; s.At != 30*measure.Metre || s.Skew != 0 || s.Width != 100*mm || s.Clear != 300*mm || s.Depth != nil || s.Level != nil {
		t.Errorf("%+v", s)
	}
	if s := by["A cable"]; s.At != 60*measure.Metre { // it turns on the run
		t.Errorf("%+v", s)
	}
	if s := by["B cable"]; s.At != 26667*mm || s.Skew != 563*measure.Degree/10 { // 40 m on 60 m: at N 2026.667, atan(60/40) = 56.31°
		t.Errorf("%+v", s)
	}
	heard := strings.Join(got.Heard, "\n")
	for _, want := range []string{"3 lines in the file; the run is crossed at 3 places", "1 line does not cross the run; nothing is said of what lies beside it", "depth unknown at 3 places", "may lie in the ground all the same"} {
		if !strings.Contains(heard, want) {
			t.Errorf("no %q in\n%s", want, heard)
		}
	}
	if strings.Contains(heard, "clear") {
		t.Errorf("a verdict in\n%s", heard)
	}
	w := said
	w.Tops = true
	by, _, _ = taken(t, text, run("site grid"), w)
	if s := by["A main"]; s.Level == nil || *s.Level != 4.5 {
		t.Errorf("%+v", s)
	}
}

// A pipe's top is its invert, its height and its wall; without a wall no level is taken.
func TestPipes(t *testing.T) {
	const text = `<LandXML version="1.2"><Units><Metric linearUnit="meter" areaUnit="squareMeter" volumeUnit="cubicMeter" temperatureUnit="celsius" pressureUnit="HPA" diameterUnit="millimeter"/></Units>
<PipeNetworks><PipeNetwork name="N" pipeNetType="storm"><Structs><Struct name="a"><Center>1990 1020</Center><Invert elev="5" flowDir="out" refPipe="p"/><Invert elev="5" flowDir="out" refPipe="q"/></Struct>
<Struct name="b"><Center>2030 1020</Center><Invert elev="4.6" flowDir="in" refPipe="p"/><Invert elev="4.6" flowDir="in" refPipe="q"/></Struct></Structs>
<Pipes><Pipe name="p" desc="storm drain" refStart="a" refEnd="b"><CircPipe diameter="300" thickness="50"/></Pipe><Pipe name="q" refStart="a" refEnd="b"><CircPipe diameter="300"/></Pipe></Pipes></PipeNetwork></PipeNetworks>
<PlanFeatures><PlanFeature name="duct"><CoordGeom><Line><Start>2010 1090</Start><End>2010 1110</End></Line></CoordGeom></PlanFeature></PlanFeatures></LandXML>`
	by, _, _ := taken(t, text, run("site grid"), said)
	if s := by["A storm drain"]; s.At != 20*measure.Metre || s.Width != 400*mm || s.Level == nil || *s.Level != 5.25 { // 4.9 + 0.3 + 0.05
		t.Errorf("%+v", s)
	}
	if s := by["A storm pipe q"]; s.Width != 100*mm || s.Level != nil {
		t.Errorf("%+v", s)
	}
	if s := by["B duct"]; s.At != 10*measure.Metre || s.Level != nil {
		t.Errorf("%+v", s)
	}
}

// Lines in WGS 84 come where the job is on a local grid; figures count with their unit, and not without.
func TestGeoJSON(t *testing.T) {
	g, err := local.New(local.Position{Latitude: 47.5, Longitude: 8.25}, 0)
	if err != nil {
		t.Fatal(err)
	}
	place := func(e, n float64) string {
		p, err := g.From(route.Point{E: e, N: n})
		if err != nil {
			t.Fatal(err)
		}
		return fmt.Sprintf("[%.9f,%.9f]", p.Longitude, p.Latitude)
	}
	feature := func(props, a, b string) string {
		return `{"type":"Feature","properties":{` + props + `},"geometry":{"type":"LineString","coordinates":[` + a + "," + b + `]}}`
	}
	text := `{"type":"FeatureCollection","features":[` + strings.Join([]string{
		feature(`"name":"main","diameter_mm":150,"depth_m":0.9,"quality":"trial hole"`, place(1025, 1990), place(1025, 2010)),
		feature(`"name":"drain","depth":2,"width_m":-3`, place(1050, 1990), place(1050, 2010)),
		feature(`"name":"beside"`, place(1010, 2000.2), place(1090, 1999.8)),
		feature(`"name":"both","depth_mm":500,"level_m":7.5`, place(1090, 2010), place(1110, 2010)),
	}, ",") + `]}`
	by, _, found := taken(t, text, run(g.Name()), said)
	if s := by["A main"]; s.At != 25*measure.Metre || s.Width != 150*mm || s.Depth == nil || *s.Depth != 900*mm || s.Quality != "trial hole" {
		t.Errorf("%+v", s)
	}
	if s := by["A drain"]; s.At != 50*measure.Metre || s.Depth != nil || s.Width != 100*mm {
		t.Errorf("%+v", s)
	}
	if s := by["B both"]; s.Depth != nil || s.Level == nil || *s.Level != 7.5 {
		t.Errorf("%+v", s)
	}
	if _, ok := by["A beside"]; ok {
		t.Error("what runs along the run is no crossing")
	}
	for _, want := range []string{`"beside" runs along leg A at chainage 49.99`, `"depth" of "drain" is not used`, `"both" has a depth and a level; the level is used`} {
		if !strings.Contains(fmt.Sprint(found), want) {
			t.Errorf("no %q in %v", want, found)
		}
	}
}

// What cannot be taken is refused with a sentence.
func TestRefused(t *testing.T) {
	none, feet := said, said
	none.Width = 0
	feet.Clear = 0
	const points = "P,E,N,L\n1,1030,1990,main\n2,1030,2010,main\n"
	for _, c := range []struct {
		text string
		want Want
		says string
	}{
		{points, none, `"main" crosses leg A at chainage 30.000 m, and no width of it is on file`},
		{points, feet, "nobody has said how far joints have to stand from a service, and no file says it"},
		{"P,E,N,L\n1,301030,1990,main\n2,301030,2010,main\n", said, "the buried services lie 300 km from the run: they are in another coordinate system, zone or unit"},
		{"P,E,N\n1,1030,1990\n2,1030,2010\n", said, "it holds 2 points and nothing says which of them are one service"},
		{`{"type":"LineString","coordinates":[[8,47],[8,48]]}`, said, "GeoJSON is in WGS 84, and the coordinates of the job are in site grid: nothing on file leads from one to the other"},
		{"<x/>", said, ""}, {"", said, ""}, {"P,E,N,L\n1,NaN,1990,main\n", said, ""}, {"{", said, ""},
	} {
		got, found := Read(strings.NewReader(c.text), run("site grid"), c.want)
		if !found.Any(finding.Fault) || len(got.Legs) > 0 || !strings.Contains(fmt.Sprint(found), c.says) {
			t.Errorf("%q: %v", c.text, found)
		}
	}
}

// The storm drain from outside (../shared/data/landxml/ir_drain_1_1.xml) crosses a run that is laid over it: its pipe 60 runs
// from (24525648.982, 6876910.029, invert 124.876) to (24525670.104, 6876896.573, 124.816), 0.4 m inside, wall 0.06 m.
func TestOutsideDrain(t *testing.T) {
	text, err := os.ReadFile("../../../shared/data/landxml/ir_drain_1_1.xml")
	if err != nil {
		t.Skip("SKIPPED, NOT CHECKED AGAINST THE OUTSIDE: no ../shared/data/landxml")
	}
	j := run("")
	mid := [2]float64{(24525648.981527 + 24525670.103747) / 2, (6876910.028752 + 6876896.573181) / 2}
	for i, d := range [][2]float64{{-10, -10}, {10, 10}, {10, 60}} { // from south-west to north-east over the middle of the pipe
		j.Route.Nodes[i].At = &[2]float64{mid[0] + d[0], mid[1] + d[1]}
	}
	by, got, found := taken(t, string(bytes.Clone(text)), j, said)
	ok := false
	for name, s := range by {
		if s.Width == 520*mm && s.Level != nil && (s.At-14142*mm).Abs() <= mm {
			ok = true
			if want := (124.876312+124.815732)/2 + 0.46; *s.Level < want-0.001 || *s.Level > want+0.001 {
				t.Errorf("%s: %v, want %v", name, *s.Level, want)
			}
		}
	}
	if !ok {
		t.Errorf("%+v %v", got, found)
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte("P,E,N,L\n1,1030,1990,main\n2,1030,2010,main\n"))
	f.Add([]byte(`{"type":"Feature","properties":{"name":"x","depth_m":1e300,"width_mm":null},"geometry":{"type":"LineString","coordinates":[[8.25,47.5],[8.26,47.6]]}}`))
	f.Add([]byte(`<LandXML version="1.2"><Units><Metric linearUnit="meter"/></Units><PipeNetworks><PipeNetwork><Structs><Struct name="a"><Center>1990 1020</Center></Struct></Structs><Pipes><Pipe refStart="a" refEnd="a"/></Pipes></PipeNetwork></PipeNetworks></LandXML>`))
	g, err := local.New(local.Position{Latitude: 47.5, Longitude: 8.25}, 0)
	if err != nil {
		f.Fatal(err)
	}
	j := run(g.Name())
	f.Fuzz(func(t *testing.T, text []byte) {
		got, found := Read(bytes.NewReader(text), j, said)
		if found.Any(finding.Fault) && len(got.Legs) > 0 {
			t.Error("services in spite of a fault")
		}
		for _, l := range got.Legs {
			for _, s := range l.Services {
				if s.Width <= 0 || s.Clear <= 0 || s.ID == "" || s.Skew < 0 || s.Skew > 90*measure.Degree || s.Depth != nil && *s.Depth < 0 {
					t.Errorf("%+v", s)
				}
			}
		}
	})
}
