package routein

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
)

var centreline = job.DrawnLine{Kind: "centreline"}

// read reads a text that has no fault.
func read(t *testing.T, text string, w Want) Route {
	t.Helper()
	if w.Line.Kind == "" {
		w.Line = centreline
	}
	in, found := Read(strings.NewReader(text), w)
	if found.Any(finding.Fault) {
		t.Fatal(found.Render(measure.Metric))
	}
	return in
}

// Which line was drawn is asked, and everything that belongs to it; nothing is guessed.
func TestWhichLineIsAsked(t *testing.T) {
	for _, c := range []struct {
		line job.DrawnLine
		want string // what the findings are about
	}{
		{job.DrawnLine{}, "line"},
		{job.DrawnLine{Kind: "middle"}, "line"},
		{job.DrawnLine{Kind: "centreline"}, ""},
		{job.DrawnLine{Kind: "centreline", Side: "left", Offset: 1, From: "kerb"}, "side offset of"},
		{job.DrawnLine{Kind: "outer-face"}, "side"},
		{job.DrawnLine{Kind: "outer-face", Side: "north"}, "side"},
		{job.DrawnLine{Kind: "inner-face", Side: "left", Offset: 1}, "offset"},
		{job.DrawnLine{Kind: "trench-edge", Side: "left"}, "offset"},
		{job.DrawnLine{Kind: "offset"}, "side offset"},
		{job.DrawnLine{Kind: "offset", Side: "right", Offset: measure.Metre, From: "kerb"}, ""},
	} {
		var got []string
		faults := Want{File: "x.csv", Line: c.line}.Faults()
		for _, f := range faults {
			got = append(got, f.Where.Path)
			if bad := finding.Speech(f); len(bad) > 0 {
				t.Errorf("%+v: %v: %v", c.line, f, bad)
			}
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("%+v: %v, want %q", c.line, faults, c.want)
		}
		in, found := Read(strings.NewReader("P,E,N\na,1,2\nb,30,4\n"), Want{File: "x.csv", Line: c.line, Unit: measure.UnitMetre})
		if found.Any(finding.Fault) != (c.want != "") || (len(in.Route.Legs) == 0) != (c.want != "") {
			t.Errorf("%+v: %v %v", c.line, in, found)
		}
	}
}

func TestTheLineIsSaid(t *testing.T) {
	for want, line := range map[string]job.DrawnLine{
		"the line drawn is the centreline": centreline,
		"the line drawn is the outer face, on the left, looking along it; the centreline lies half the supply's outer width to the right of it": {Kind: "outer-face", Side: "left"},
		"the line drawn is the kerb, on the right, looking along it; the centreline lies 1200 mm to the left of it":                             {Kind: "offset", Side: "right", Offset: 1200 * measure.Millimetre, From: "kerb"},
	} {
		if got := Said(line); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestPoints(t *testing.T) {
	in := read(t, "P,E,N,Z\na,100,200,5\nb,130.5,200,5.2\nc,130.5,250,\n", Want{Unit: measure.UnitMetre})
	if len(in.Route.Legs) != 2 || in.Length != 80500*measure.Millimetre {
		t.Fatalf("%+v", in)
	}
	if n := in.Route.Nodes[1]; *n.At != [2]float64{130.5, 200} || *n.Level != 5.2 || n.Note != "b" || n.End != nil {
		t.Errorf("%+v", n)
	}
	if n := in.Route.Nodes[2]; n.Level != nil || n.End == nil {
		t.Errorf("%+v", n)
	}
	if !strings.Contains(strings.Join(in.Heard, "\n"), "levels of 2 of 3 nodes from the list") {
		t.Errorf("%q", in.Heard)
	}
	for _, order := range []string{"P,N,E", "PNE", "p n e"} {
		if n := read(t, "a,100,200\nb,130,200\n", Want{Unit: measure.UnitMetre, Columns: order}).Route.Nodes[0]; *n.At != [2]float64{200, 100} {
			t.Errorf("%s: %v", order, *n.At)
		}
	}
}

// A list that ends where it began is a ring; points that stand on each other are a slip.
func TestRingsAndSlips(t *testing.T) {
	in := read(t, "P,E,N\na,0,0\nb,30,0\nc,30,40\nd,0,0\n", Want{Unit: measure.UnitMetre})
	if r := in.Route; len(r.Nodes) != 3 || len(r.Legs) != 3 || r.Legs[2].To != "N1" || r.Nodes[0].End != nil || in.Length != 120*measure.Metre {
		t.Errorf("%+v", in)
	}
	_, found := Read(strings.NewReader("P,E,N\na,0,0\nb,0,0.0004\nc,30,40\nd,30,40\n"), Want{File: "x.csv", Line: centreline, Unit: measure.UnitMetre})
	if found.Count(finding.Fault) != 2 || found[0].Where.Line != 3 || found[1].Text != `point "d" of line 5 is the same place as point "c" of line 4 before it` {
		t.Errorf("%v", found)
	}
	for _, text := range []string{"P,E,N\na,0,0\n", "P,E,N\n", "", "<x/>", "<"} {
		if in, found := Read(strings.NewReader(text), Want{File: "x", Line: centreline, Unit: measure.UnitMetre}); !found.Any(finding.Fault) || len(in.Route.Nodes) > 0 {
			t.Errorf("%q: %v %v", text, in, found)
		}
	}
}

// A turn that hardly anybody means is said: it would be sawn.
func TestSlightTurnsAreSaid(t *testing.T) {
	for text, want := range map[string]string{
		"P,E,N\na,0,0\nb,30,0.1\nc,60,0\nd,60,30\n": "the run turns by less than 1° at N2 by 0.38°; each of these becomes a sawn mitre",
		"P,E,N\na,0,0\nb,0,30\nc,0.05,60\n":         "the run turns by less than 1° at N2 by 0.10°; each of these becomes a sawn mitre",
		"P,E,N\na,0,60\nb,0,30\nc,0.05,0\n":         "the run turns by less than 1° at N2 by 0.10°; each of these becomes a sawn mitre", // across due south, where bearings jump
		"P,E,N\na,0,0\nb,30,0\nc,60,0\nd,60,30\n":   "",
	} {
		_, found := Read(strings.NewReader(text), Want{File: "x", Line: centreline, Unit: measure.UnitMetre})
		got := ""
		for _, f := range found {
			if f.ID == "routein.slight-turns" {
				got = f.Text
			}
		}
		if got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

// coordinates of three decimals come back as they were written, whatever the unit.
func TestCoordinatesComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom([]measure.Unit{measure.UnitMetre, measure.UnitFoot, measure.UnitSurveyFoot}).Draw(t, "unit")
		e, n := rapid.IntRange(10, 999_999_999).Draw(t, "e"), rapid.IntRange(1, 999_999_999).Draw(t, "south")
		text := fmt.Sprintf("a,%d.%03d,-%d.%03d\nb,0,0\n", e/1000, e%1000, n/1000, n%1000)
		in, found := Read(strings.NewReader(text), Want{Line: centreline, Unit: unit, Columns: "PEN"})
		if found.Any(finding.Fault) {
			t.Fatal(found)
		}
		if got := *in.Route.Nodes[0].At; got != [2]float64{float64(e) / 1000, -float64(n) / 1000} {
			t.Fatalf("%s %s: %v", unit, text, got)
		}
	})
}

const head = `<?xml version="1.0"?>
<LandXML xmlns="http://www.landxml.org/schema/LandXML-1.2" version="1.2">
<Units><Metric linearUnit="meter" areaUnit="squareMeter" volumeUnit="cubicMeter" temperatureUnit="celsius" pressureUnit="HPA"/></Units>
<CoordinateSystem name="site grid" verticalDatum="site datum"/>
`

const twoLines = head + `<Alignments>
<Alignment name="north" length="50" staStart="100"><CoordGeom>
<Line length="30"><Start>0 0</Start><End>0 30</End></Line><Line length="20"><Start>0 30</Start><End>20 30</End></Line>
</CoordGeom><Profile><ProfAlign name="bed"><PVI>100 10</PVI><PVI>150 15</PVI></ProfAlign><ProfAlign name="road"><PVI>100 11</PVI><PVI>150 16</PVI></ProfAlign></Profile></Alignment>
<Alignment name="south" length="9" staStart="0"><CoordGeom><Line length="9"><Start>0 0</Start><End>0 9</End></Line></CoordGeom></Alignment>
</Alignments></LandXML>`

func TestAlignmentWithLevels(t *testing.T) {
	in := read(t, twoLines, Want{Alignment: "north"})
	if in.Name != "north" || in.Length != 50*measure.Metre || len(in.Route.Legs) != 2 || in.Coordinates.System != "site grid" || in.Coordinates.HeightDatum != "site datum" {
		t.Fatalf("%+v", in)
	}
	for i, want := range []float64{10, 13, 15} {
		if n := in.Route.Nodes[i]; n.Level == nil || *n.Level != want {
			t.Errorf("%+v, want level %v", n, want)
		}
	}
	heard := strings.Join(in.Heard, "\n")
	for _, want := range []string{`"north" is 50.000 m long: 3 nodes, 2 legs, no curve`, "the file calls that 100.000 m", `levels of 3 of 3 nodes from the profile "bed"`, "1 other profile not used", "top of the wall"} {
		if !strings.Contains(heard, want) {
			t.Errorf("%q is not in\n%s", want, heard)
		}
	}
}

// Where a file holds several lines, their names are listed and one is asked for.
func TestSeveralAlignmentsAreAsked(t *testing.T) {
	for name, want := range map[string]string{
		"":     `it holds 2 lines: "north" (50.000 m) and "south" (9.000 m)`,
		"west": `no line in it is called "west"; there is "north" (50.000 m) and "south" (9.000 m)`,
	} {
		_, found := Read(strings.NewReader(twoLines), Want{File: "x.xml", Line: centreline, Alignment: name})
		if len(found) == 0 || found[0].Text != want {
			t.Errorf("%q: %v", name, found)
		}
	}
}

// A spiral is refused with a sentence until somebody says how far arcs may leave it.
func TestSpiralsAreRefusedOrChorded(t *testing.T) {
	// A clothoid of 40 m from a straight to R 100 m ends at x = 40 - 40³/(40·100²)·… : from the series of Fresnel's integrals,
	// x = L(1 - L²/(40R²) + L⁴/(3456R⁴)), y = L²/(6R)(1 - L²/(56R²) + L⁴/(7040R⁴)); computed here to 1e-5 m.
	const spiral = head + `<Alignments><Alignment name="s" length="60" staStart="0"><CoordGeom>
<Line length="20"><Start>0 0</Start><End>0 20</End></Line>
<Spiral length="40" radiusStart="INF" radiusEnd="100" rot="cw" spiType="clothoid"><Start>0 20</Start><PI>0 46.723</PI><End>-2.65906 59.84030</End></Spiral>
</CoordGeom></Alignment></Alignments></LandXML>`
	_, found := Read(strings.NewReader(spiral), Want{File: "x.xml", Line: centreline})
	if found.Count(finding.Fault) != 1 || found[0].Where.Line == 0 || !strings.Contains(found[0].Text, "spiral") || found[0].Try == "" {
		t.Errorf("%v", found)
	}
	in := read(t, spiral, Want{Spiral: 5 * measure.Millimetre})
	if len(in.Route.Legs) != 1 || len(in.Route.Legs[0].Via) < 2 {
		t.Errorf("%+v", in.Route)
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte("P,E,N,Z\na,100,200,5\nb,130.5,200,5.2\n"))
	f.Add([]byte(twoLines))
	f.Add([]byte("\ufeff<?xml version=\"1.0\"?><!DOCTYPE x [<!ENTITY a \"b\">]><x>&a;</x>"))
	f.Add([]byte("\xff\xfe<\x00"))
	f.Add([]byte(ring))
	f.Add([]byte(`{"type":"LineString","coordinates":[[179.9,0],[-179.9,0.1,5]]}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		in, found := Read(bytes.NewReader(text), Want{File: "x", Line: centreline, Unit: measure.UnitMetre, Alignment: "north"})
		if (len(in.Route.Legs) == 0) != found.Any(finding.Fault) {
			t.Error("neither a route nor a fault, or both")
		}
	})
}

// ring is a route in WGS 84: two legs of some 37.6 m and 33.4 m, meeting at a right angle.
const ring = `{"type":"FeatureCollection","features":[
{"type":"Feature","id":"w","properties":{"name":"feeder"},"geometry":{"type":"LineString","coordinates":[[8.25,47.5],[8.2505,47.5],[8.2505,47.5003]]}},
{"type":"Feature","properties":{"name":"spur"},"geometry":{"type":"LineString","coordinates":[[8.2505,47.5003],[8.2505,47.5004]]}},
{"type":"Feature","properties":{},"geometry":{"type":"Point","coordinates":[8.25,47.5]}}]}`

// A line in WGS 84 comes onto a grid whose name says which, with ground lengths. Meridian arc and parallel of WGS 84 at 47.5°
// by the radii of curvature: N = 6389773.5 m, M = 6370178.5 m (a/√(1-e²sin²φ), a(1-e²)/(1-e²sin²φ)^1.5).
func TestGeoJSON(t *testing.T) {
	in := read(t, ring, Want{Alignment: "feeder"})
	const n, m, rad = 6389773.5, 6370178.5, 3.14159265358979 / 180
	east, north := n*0.6755902076*0.0005*rad, m*0.0003*rad // cos 47.5° = 0.6755902
	if got := in.Length.Metres(); got < east+north-1e-5 || got > east+north+1e-5 {
		t.Errorf("%.5f m, want %.5f", got, east+north)
	}
	if in.Name != "feeder" || len(in.Route.Legs) != 2 || in.Coordinates.ScaleFactor != "ground" || in.Route.Nodes[1].End != nil ||
		in.Coordinates.System != "local transverse Mercator on WGS 84, factor 1 at latitude 47.50015, longitude 8.25025, height 0 m" {
		t.Errorf("%+v", in)
	}
	height := 1000 * measure.Metre
	high := read(t, ring, Want{Alignment: "feeder", Height: &height})
	if got, want := high.Length.Metres()/in.Length.Metres(), 1+1000/6380e3; got < want-1e-6 || got > want+1e-6 {
		t.Errorf("at 1000 m lengths are %v times as long, want %v", got, want)
	}
	both := read(t, ring, Want{Together: true})
	if len(both.Route.Nodes) != 4 || len(both.Route.Legs) != 3 || both.Route.Legs[2].ID != "spur" || both.Route.Legs[2].From != "N3" {
		t.Errorf("%+v", both.Route)
	}
	for _, c := range []struct{ text, want string }{
		{ring, `it holds 2 lines: "feeder" (3 points) and "spur" (2 points)`},
		{`{"type":"Point","coordinates":[1,2]}`, "it holds 1 feature and no line, so nothing says in which order a run goes through them"},
		{`{"type":"LineString","coordinates":[[1,2],[1,2]]}`, `position 2 of "" is the same place as the one before it`},
		{`{"type":"LineString","coordinates":[[412000,287000],[412010,287000]]}`, ""},
		{`{"type":"LineString","coordinates":[[1,89],[2,89]]}`, "a local grid has its middle between 84° south and 84° north; latitude 89, longitude 1.5 is not there"},
		{`{"type":"LineString","coordinates":[[0,0],[90,0]]}`, ""},
		{`{"type":"LineString","coordinates":[[NaN,0],[90,0]]}`, ""},
		{`{`, "the file ends before its last bracket is closed"},
	} {
		_, found := Read(strings.NewReader(c.text), Want{File: "x.geojson", Line: centreline})
		if !found.Any(finding.Fault) || c.want != "" && found[0].Text != c.want || found[0].Try == "" {
			t.Errorf("%s: %v", c.text, found)
		}
	}
}

// From a length on that lies across the middle, a leg errs by more than a millimetre, and that is said; without the job's
// height it is said what is not known.
func TestLongGeoJSONIsTold(t *testing.T) {
	for text, want := range map[string]bool{
		`{"type":"LineString","coordinates":[[8.2,47.5],[8.25,47.5]]}`: false, // 3.8 km
		`{"type":"LineString","coordinates":[[8.1,47.5],[8.3,47.5]]}`:  true,  // 15 km
	} {
		_, found := Read(strings.NewReader(text), Want{File: "x.geojson", Line: centreline})
		told, height := false, false
		for _, f := range found {
			told = told || f.ID == "local.leg-errs"
			height = height || f.ID == "local.no-height"
		}
		if told != want || !height {
			t.Errorf("%s: %v", text, found)
		}
	}
}

// Several alignments are one network where their ends meet; names become the names of legs where legs can be called so.
func TestAlignmentsTogether(t *testing.T) {
	in := read(t, twoLines, Want{Together: true})
	if len(in.Route.Nodes) != 4 || len(in.Route.Legs) != 3 || in.Route.Legs[0].ID != "north" || in.Route.Legs[2].ID != "south" || in.Route.Legs[2].From != in.Route.Legs[0].From {
		t.Errorf("%+v", in.Route)
	}
	if n := in.Route.Nodes[0]; n.End != nil || n.Level == nil || *n.Level != 10 {
		t.Errorf("%+v", n)
	}
}

const group = head + `<CgPoints name="kerb"><CgPoint name="7">0 0 5</CgPoint><CgPoint name="8">0 30 5.2</CgPoint></CgPoints><CgPoints name="run"><CgPoint name="1">10 0</CgPoint>
<CgPoint name="2">10 25</CgPoint><CgPoint name="3">30 25</CgPoint></CgPoints></LandXML>`

// Points of LandXML are a run where somebody says so, group by group.
func TestPointsOfAGroup(t *testing.T) {
	in := read(t, group, Want{Points: "run"})
	if len(in.Route.Legs) != 2 || in.Length != 45*measure.Metre || in.Coordinates.System != "site grid" || in.Route.Nodes[0].Note != "1" || in.Route.Nodes[0].Level != nil {
		t.Errorf("%+v", in)
	}
	if in = read(t, group, Want{Points: "kerb"}); len(in.Route.Legs) != 1 || *in.Route.Nodes[1].Level != 5.2 {
		t.Errorf("%+v", in)
	}
	if in = read(t, group, Want{Points: AllPoints}); len(in.Route.Nodes) != 5 {
		t.Errorf("%+v", in)
	}
	_, found := Read(strings.NewReader(group), Want{File: "x.xml", Line: centreline, Points: "fence"})
	if len(found) == 0 || found[0].Text != `no group of points in it is called "fence"; there is "kerb" and "run"` {
		t.Errorf("%v", found)
	}
}
