package geojson

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"trenchwright/base/finding"
	"trenchwright/place/route"
	"trenchwright/tools/published"
)

func read(t testing.TB, text string) File {
	t.Helper()
	f, err := Read(strings.NewReader(text), Options{})
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func written(t testing.TB, features ...Feature) string {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, features); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func feature(geometry string) string {
	return `{"type":"Feature","properties":null,"geometry":` + geometry + `}`
}

func collection(features ...string) string {
	return `{"type":"FeatureCollection","features":[` + strings.Join(features, ",\n") + `]}`
}

// The examples of RFC 7946, appendix A, and of its section 1.5: every kind, as it prints them.
func TestExamplesOfTheStandard(t *testing.T) {
	for text, want := range map[string]Geometry{
		`{"type":"Point","coordinates":[100.0,0.0]}`:                    {Kind: Point, Bodies: [][][]Position{{{{Lon: 100}}}}},
		`{"type":"LineString","coordinates":[[100.0,0.0],[101.0,1.0]]}`: {Kind: LineString, Bodies: [][][]Position{{{{Lon: 100}, {Lon: 101, Lat: 1}}}}},
		`{"type":"MultiPoint","coordinates":[[100.0,0.0],[101.0,1.0]]}`: {Kind: MultiPoint, Bodies: [][][]Position{{{{Lon: 100}, {Lon: 101, Lat: 1}}}}},
		`{"type":"MultiLineString","coordinates":[[[100.0,0.0],[101.0,1.0]],[[102.0,2.0],[103.0,3.0]]]}`: {Kind: MultiLineString,
			Bodies: [][][]Position{{{{Lon: 100}, {Lon: 101, Lat: 1}}, {{Lon: 102, Lat: 2}, {Lon: 103, Lat: 3}}}}},
		`{"type":"Polygon","coordinates":[[[100.0,0.0],[101.0,0.0],[101.0,1.0],[100.0,1.0],[100.0,0.0]],[[100.8,0.8],[100.8,0.2],[100.2,0.2],[100.2,0.8],[100.8,0.8]]]}`: {Kind: Polygon,
			Bodies: [][][]Position{{{{Lon: 100}, {Lon: 101}, {Lon: 101, Lat: 1}, {Lon: 100, Lat: 1}, {Lon: 100}},
				{{Lon: 100.8, Lat: 0.8}, {Lon: 100.8, Lat: 0.2}, {Lon: 100.2, Lat: 0.2}, {Lon: 100.2, Lat: 0.8}, {Lon: 100.8, Lat: 0.8}}}}},
		`{"type":"MultiPolygon","coordinates":[[[[102.0,2.0],[103.0,2.0],[103.0,3.0],[102.0,3.0],[102.0,2.0]]],[[[100.0,0.0],[101.0,0.0],[101.0,1.0],[100.0,1.0],[100.0,0.0]]]]}`: {Kind: MultiPolygon,
			Bodies: [][][]Position{{{{Lon: 102, Lat: 2}, {Lon: 103, Lat: 2}, {Lon: 103, Lat: 3}, {Lon: 102, Lat: 3}, {Lon: 102, Lat: 2}}},
				{{{Lon: 100}, {Lon: 101}, {Lon: 101, Lat: 1}, {Lon: 100, Lat: 1}, {Lon: 100}}}}},
		`{"type":"GeometryCollection","geometries":[{"type":"Point","coordinates":[100.0,0.0]},{"type":"LineString","coordinates":[[101.0,0.0],[102.0,1.0]]}]}`: {Kind: Collection,
			Members: []Geometry{{Kind: Point, Bodies: [][][]Position{{{{Lon: 100}}}}}, {Kind: LineString, Bodies: [][][]Position{{{{Lon: 101}, {Lon: 102, Lat: 1}}}}}}},
	} {
		for _, whole := range []string{text, feature(text), collection(feature(text))} {
			f := read(t, whole)
			if len(f.Features) != 1 || !reflect.DeepEqual(f.Features[0].Geometry, want) || strings.Contains(fmt.Sprint(f.Notes), "turn the other way") {
				t.Errorf("%s: %+v", whole, f)
			}
		}
		// What the standard prints is what is written, but for zeros behind the point.
		if got, plain := written(t, read(t, text).Features...), strings.ReplaceAll(text, ".0", ""); !strings.Contains(got, plain) {
			t.Errorf("got %s\nwant %s", got, plain)
		}
	}
}

// Properties keep their order, values and letters; ids may be texts or numbers; the type may stand last.
func TestProperties(t *testing.T) {
	f := read(t, "\ufeff"+`{"features":[
{"id":"a/1","geometry":null,"properties":{"z":{"b":[1, 2.50,true]},"a":"ü \"x\" <&>","n":-1e3},"type":"Feature","style":{"x":1}},
{"id":17,"type":"Feature","geometry":{"coordinates":[1.7338142,42.5462433,1190.25,7],"type":"Point"},"properties":{}}
],"name":"power","type":"FeatureCollection","bbox":[1,2,3,4]}`)
	a, b := f.Features[0], f.Features[1]
	if a.ID != "a/1" || a.NumberID || b.ID != "17" || !b.NumberID || a.Line != 2 || b.Line != 3 || a.Geometry.Kind != Nowhere {
		t.Errorf("%+v %+v", a, b)
	}
	if text, ok := a.Text("a"); !ok || text != `ü "x" <&>` {
		t.Errorf("a is %q", text)
	}
	if p := b.Geometry.Bodies[0][0][0]; p != (Position{1.7338142, 42.5462433, 1190.25, true}) {
		t.Errorf("position %+v", p)
	}
	var notes []string
	for _, n := range f.Notes {
		notes = append(notes, n.Text)
	}
	want := []string{
		"GeoJSON in WGS 84, longitude before latitude: 2 features, 1 positions",
		"members that RFC 7946 does not define were passed over: style, name",
		"1 positions have a height above the ellipsoid of WGS 84; it is tens of metres from a height datum and no level",
		"1 positions have more than three numbers; the rest was passed over",
	}
	if !reflect.DeepEqual(notes, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(notes, "\n"), strings.Join(want, "\n"))
	}
	text := `{"type":"FeatureCollection","features":[
{"type":"Feature","id":"a/1","geometry":null,"properties":{"z":{"b":[1,2.50,true]},"a":"ü \"x\" <&>","n":-1e3}},
{"type":"Feature","id":17,"geometry":{"type":"Point","coordinates":[1.7338142,42.5462433,1190.25]},"properties":{}}
]}
`
	if got := written(t, f.Features...); got != text {
		t.Errorf("got\n%s\nwant\n%s", got, text)
	}
}

func TestRefusesWithASentence(t *testing.T) {
	for text, want := range map[string]string{
		"":                             "line 1: the file holds nothing",
		"hello":                        "line 1: this is not JSON: invalid character 'h' looking for beginning of value",
		"[1]":                          "line 1: this is JSON and no GeoJSON: it does not begin with an object",
		"{":                            "line 1: the file ends before its last bracket is closed",
		"{\n}":                         "line 2: this is JSON and no GeoJSON: its first object has no type",
		`{"type":"Topology"}`:          `line 1: its first object is of type "Topology", which GeoJSON does not know`,
		`{"type":7}`:                   `line 1: its first object is of type "?", which GeoJSON does not know`,
		`{"type":"FeatureCollection"}`: `line 1: the collection has no member "features"`,
		`{"type":"FeatureCollection","features":{}}`: `line 1: the member "features" is no list`,
		`{"type":"Feature","features":[]}`:           `line 1: its first object has features and is of type "Feature"; FeatureCollection was expected`,
		collection():                                 "line 1: the file holds no feature",
		collection() + collection():                  "line 1: something follows behind the end of the first object; try: one collection of features",
		`{"type":"Point","type":"Point"}`:            `line 1: the member "type" stands twice in one object`,
		`{"type":"Point","coordinates":[NaN,1]}`:     "line 1: this is not JSON: invalid character 'N' looking for beginning of value; try: numbers; JSON has no NaN and no Infinity",
		`{"type":"Point","coordinates":[1,2],"crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::25832"}}}`: "line 1: the file names the coordinate system urn:ogc:def:crs:EPSG::25832; GeoJSON is WGS 84 in longitude and latitude (RFC 7946, 4); try: an export in WGS 84",
		strings.Repeat(`{"geometry":`, 100):                                   "line 1: objects and lists lie more than 64 deep in each other",
		`{"x":` + strings.Repeat("[", 5000) + strings.Repeat("]", 5000) + "}": "line 1: objects and lists lie more than 64 deep in each other",
		`{"x":` + strings.Repeat("[", 50_000):                                 "line 1: ",
	} {
		_, err := Read(strings.NewReader(text), Options{})
		if err == nil || !strings.HasPrefix(err.Error(), want) || len(err.Error()) < 20 {
			t.Errorf("%.100s\n got %v\nwant %s", text, err, want)
		}
	}
}

// One feature that cannot be read is left out with its place; the good one beside it stays.
func TestFaultsOfFeatures(t *testing.T) {
	for bad, want := range map[string]string{
		`17`:               "it is no object",
		`[]`:               "it is no object",
		`{}`:               "it has no type",
		`{"type":"Point"}`: `its type is "Point"; Feature was expected`,
		`{"type":"Feature","geometry":null,"properties":[1]}`: "its properties are no object",
		`{"type":"Feature","geometry":"x"}`:                   "its geometry is no object",
		`{"type":"Feature","geometry":null,"id":{}}`:          "its id is neither a text nor a number",
		feature(`{}`): "its geometry has no type",
		feature(`{"type":"Circle","coordinates":[1,2]}`):                                           `its geometry is of type "Circle", which GeoJSON does not know`,
		feature(`{"type":"Point"}`):                                                                "its Point has no coordinates",
		feature(`{"type":"Point","coordinates":7}`):                                                "its coordinates are no list",
		feature(`{"type":"Point","coordinates":{"x":[1]}}`):                                        "its coordinates are no list",
		feature(`{"type":"Point","coordinates":[1]}`):                                              "a position has 1 number; longitude and latitude were expected",
		feature(`{"type":"Point","coordinates":[1,null]}`):                                         "its coordinates hold something that is no number",
		feature(`{"type":"Point","coordinates":[1,{"a":[]}]}`):                                     "its coordinates hold an object",
		feature(`{"type":"Point","coordinates":[1,[2,3]]}`):                                        "its coordinates mix numbers and lists",
		feature(`{"type":"Point","coordinates":[1e999,2]}`):                                        "the coordinate 1e999 is out of range",
		feature(`{"type":"Point","coordinates":[48.1,151.5]}`):                                     "longitude 48.1, latitude 151.5 is out of range; it looks as if latitude stood first, and longitude does",
		feature(`{"type":"Point","coordinates":[190,5]}`):                                          "longitude 190, latitude 5 is out of range; longitude goes from -180 to 180, latitude from -90 to 90",
		feature(`{"type":"Point","coordinates":[655738.6,257962.9]}`):                              "longitude 655738.6, latitude 257962.9 are no degrees; they look like coordinates of a grid, and GeoJSON is WGS 84",
		feature(`{"type":"Point","coordinates":[1,2,3e6]}`):                                        "the height of 3000000 m is out of range",
		feature(`{"type":"Point","coordinates":[[1,2]]}`):                                          "its coordinates do not lie as deep in each other as its type has it",
		feature(`{"type":"LineString","coordinates":[1,2]}`):                                       "its coordinates do not lie as deep in each other as its type has it",
		feature(`{"type":"MultiPolygon","coordinates":[[[[[1,2]]]]]}`):                             "its coordinates lie more than 4 deep in each other",
		feature(`{"type":"LineString","coordinates":[[1,2]]}`):                                     "its LineString: a line has 1 position; two are needed",
		feature(`{"type":"MultiLineString","coordinates":[[[1,2],[2,2]],[]]}`):                     "its MultiLineString, line 2: a part of it has no position",
		feature(`{"type":"Polygon","coordinates":[[[0,0],[1,0],[0,0]]]}`):                          "its Polygon: a ring has 3 positions; four are needed, the last like the first",
		feature(`{"type":"Polygon","coordinates":[[[0,0],[1,0],[1,1],[0,1]]]}`):                    "its Polygon: a ring does not end where it begins",
		feature(`{"type":"LineString","coordinates":[[179.5,2],[-179.5,2]]}`):                      "its LineString: a step goes from longitude 179.5 to -179.5: nearly round the earth, or across 180°, where RFC 7946 (3.1.9) has it cut",
		feature(`{"type":"GeometryCollection","geometries":7}`):                                    "its geometries are no list",
		feature(`{"type":"GeometryCollection","geometries":[7]}`):                                  "its geometries hold something that is no object",
		feature(`{"type":"GeometryCollection","geometries":[{"type":"Point","coordinates":[1]}]}`): "member 1 of its collection: a position has 1 number; longitude and latitude were expected",
	} {
		f, err := Read(strings.NewReader(collection(bad, feature(`{"type":"Point","coordinates":[5,6]}`))), Options{File: "f.geojson"})
		if err != nil || len(f.Features) != 1 || f.Features[0].Geometry.Bodies[0][0][0].Lon != 5 {
			t.Errorf("%s: %v, %+v", bad, err, f.Features)
			continue
		}
		n := f.Notes[0]
		if n.Kind != finding.Fault || n.Text != "feature 1: "+want || n.Where.Line != 1 || n.Where.Path != "features[0]" || n.Where.File != "f.geojson" {
			t.Errorf("%s: %+v\nwant %s", bad, n, want)
		}
		if _, err := Read(strings.NewReader(collection(bad)), Options{}); err == nil || !strings.Contains(err.Error(), "nothing in the file can be used: line 1: feature 1: "+want) {
			t.Errorf("%s: got %v", bad, err)
		}
	}
	f := read(t, collection(feature(`{"type":"LineString","coordinates":[]}`), feature(`{"type":"Polygon","coordinates":[[[0,0],[0,1],[1,1],[0,0]]]}`)))
	if said := fmt.Sprint(f.Notes); len(f.Features) != 2 || !strings.Contains(said, "1 geometries have no position") || !strings.Contains(said, "1 rings turn the other way") {
		t.Errorf("%v", f.Notes)
	}
}

func TestLimits(t *testing.T) {
	points := collection(strings.Split(strings.Repeat(feature(`{"type":"Point","coordinates":[1,2]}`)+"\n", 100)+feature("null"), "\n")...)
	text := collection(`{"type":"Feature","geometry":null,"properties":{"a":"` + strings.Repeat("x", 1<<20) + `"}}`)
	for _, c := range []struct {
		text   string
		limits Limits
		want   string
	}{
		{points, Limits{Features: 50}, "the file has more than 50 features; try: only the part along the route"},
		{points, Limits{Positions: 50}, "the file has more than 50 positions"},
		{points, Limits{Depth: 3}, "more than 3 deep"},
		{points, Limits{Bytes: 1000}, "the file is longer than 0 MB"},
		{text, Limits{Token: 1000}, "one text or value is longer than 0 MB"},
	} {
		if _, err := Read(strings.NewReader(c.text), Options{Limits: c.limits}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("got %v, want %s", err, c.want)
		}
	}
	many := collection(strings.Split(strings.Repeat("7 ", 200)+feature("null"), " ")...)
	if f := read(t, many); len(f.Notes) != 52 || f.Notes[50].ID != "geojson.more-faults" {
		t.Errorf("%d notes", len(f.Notes))
	}
}

func TestWriteRefuses(t *testing.T) {
	square := [][]Position{{{Lon: 0}, {Lon: 1}, {Lon: 1, Lat: 1}}}
	for want, f := range map[string]Feature{
		"its Point: longitude 181, latitude 0 is out of range; longitude goes from -180 to 180, latitude from -90 to 90": {Geometry: Geometry{Kind: Point, Bodies: [][][]Position{{{{Lon: 181}}}}}},
		"its Point: a coordinate is no number":                                     {Geometry: Geometry{Kind: Point, Bodies: [][][]Position{{{{Lon: math.NaN()}}}}}},
		"its Point has not the bodies, lines and positions that its type has":      {Geometry: Geometry{Kind: Point}},
		"its LineString has not the bodies, lines and positions that its type has": {Geometry: Geometry{Kind: LineString, Bodies: [][][]Position{square, square}}},
		"its LineString: a line has 1 position; two are needed":                    {Geometry: Geometry{Kind: LineString, Bodies: [][][]Position{{{{Lon: 1}}}}}},
		"its Polygon: a ring bounds nothing at seven decimals of a degree, 11 mm":  {Geometry: Geometry{Kind: Polygon, Bodies: [][][]Position{{{{Lon: 0}, {Lon: 1e-8}, {Lat: 1e-8}}}}}},
		"its Polygon: a ring goes round a pole, which no polygon in longitude and latitude does": {Geometry: Geometry{Kind: Polygon,
			Bodies: [][][]Position{{{{Lon: 0, Lat: 80}, {Lon: 120, Lat: 80}, {Lon: -120, Lat: 80}, {Lon: 0, Lat: 80}}}}}},
		`its geometry is of type "Circle", which GeoJSON does not know`: {Geometry: Geometry{Kind: "Circle"}},
		`the property "a" stands twice`:                                 {Properties: []Property{Text("a", "1"), Text("a", "2")}},
		`the value of the property "a" is no JSON`:                      {Properties: []Property{{"a", []byte("{")}}},
		`its id "x" is no number`:                                       {ID: "x", NumberID: true},
	} {
		var b bytes.Buffer
		if err := Write(&b, []Feature{f}); err == nil || err.Error() != "feature 1: "+want || b.Len() != 0 {
			t.Errorf("%d bytes, got %v\nwant %s", b.Len(), err, want)
		}
	}
	if err := Write(full{}, nil); err == nil || err.Error() != "no room" {
		t.Errorf("got %v", err)
	}
	if err := Write(&bytes.Buffer{}, []Feature{{Properties: []Property{Text("a", "<&"), Number("b", math.Inf(1)), Number("c", 0.1)}}}); err != nil {
		t.Error(err)
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no room") }

// The rule for figures: seven decimals of a degree, three of a metre, to the nearest, half away from zero, no zeros at the
// end and no zero below nothing.
func TestFigures(t *testing.T) {
	for f, want := range map[float64]string{0: "0", 1: "1", -180: "-180", 1.23456785: "1.2345679", -1.23456785: "-1.2345679", 1e-8: "0", -1e-8: "0", 5e-8: "0.0000001", 12.5: "12.5", 0.99999999: "1"} {
		if got := fixed(f, degreeDecimals); got != want {
			t.Errorf("%v: %s, want %s", f, got, want)
		}
	}
	for f, want := range map[float64]string{0: "0", -0.0004: "0", 1190.25: "1190.25", -12.3456: "-12.346"} {
		if got := fixed(f, heightDecimals); got != want {
			t.Errorf("%v: %s, want %s", f, got, want)
		}
	}
}

// RFC 7946, 3.1.6 and 3.1.9: rings by the right hand, whichever way they come, open or closed; lines cut at 180°.
func TestRingsAndCuts(t *testing.T) {
	outer := []Position{{Lon: 0}, {Lat: 1}, {Lon: 1, Lat: 1}, {Lon: 1, Lat: 1}, {Lon: 1}}
	inner := []Position{{Lon: .2, Lat: .2}, {Lon: .8, Lat: .2}, {Lon: .8, Lat: .8}, {Lon: .2, Lat: .2}}
	got := written(t, Feature{Geometry: Geometry{Kind: Polygon, Bodies: [][][]Position{{outer, inner}}}})
	if want := `[[[0,0],[1,0],[1,1],[0,1],[0,0]],[[0.2,0.2],[0.8,0.8],[0.8,0.2],[0.2,0.2]]]`; !strings.Contains(got, want) {
		t.Errorf("got %s\nwant %s", got, want)
	}
	for _, c := range []struct {
		line []Position
		want string
	}{
		{[]Position{{Lon: 170, Lat: 45}, {Lon: -170, Lat: 45}}, `"MultiLineString","coordinates":[[[170,45],[180,45]],[[-180,45],[-170,45]]]`}, // the standard's example
		{[]Position{{Lon: -179, Lat: 1, Height: 2, HasHeight: true}, {Lon: 178, Lat: 4, Height: 8, HasHeight: true}}, `"MultiLineString","coordinates":[[[-179,1,2],[-180,2,4]],[[180,2,4],[178,4,8]]]`},
		{[]Position{{Lon: 179}, {Lon: 180}, {Lon: -179}}, `"MultiLineString","coordinates":[[[179,0],[180,0]],[[-180,0],[-179,0]]]`},
		{[]Position{{Lon: 179}, {Lon: -180}, {Lon: -179}}, `"MultiLineString","coordinates":[[[179,0],[180,0]],[[-180,0],[-179,0]]]`},
		{[]Position{{Lon: 180}, {Lon: -180}}, `"LineString","coordinates":[[180,0],[180,0]]`},
		{[]Position{{Lon: 179}, {Lon: -179}, {Lon: 178}}, `[[[179,0],[180,0]],[[-180,0],[-179,0],[-180,0]],[[180,0],[178,0]]]`},
	} {
		got := written(t, Feature{Geometry: Geometry{Kind: LineString, Bodies: [][][]Position{{c.line}}}})
		if !strings.Contains(got, c.want) {
			t.Errorf("got %s\nwant %s", got, c.want)
		}
		read(t, got)
	}
}

// What is written reads back: the same features to half of the last decimal, and written again the same bytes.
func TestWrittenReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		var features []Feature
		for i := range 1 + d.IntN(5) {
			features = append(features, Feature{ID: []string{"", "a", "7"}[d.IntN(3)], Geometry: random(d, 2), Properties: []Property{Text("n", fmt.Sprint(i)), Number("x", d.NormFloat64())}})
		}
		var b, again bytes.Buffer
		if err := Write(&b, features); err != nil {
			t.Fatal(err)
		}
		back, err := Read(bytes.NewReader(b.Bytes()), Options{})
		if err != nil || back.Notes.Any(finding.Fault) || strings.Contains(fmt.Sprint(back.Notes), "turn the other way") {
			t.Fatalf("%v %v\n%s", err, back.Notes, b.String())
		}
		for i, f := range back.Features {
			want := features[i]
			if f.ID != want.ID || !reflect.DeepEqual(f.Properties, want.Properties) {
				t.Fatalf("%+v, want %+v", f, want)
			}
			near(t, f.Geometry, want.Geometry)
		}
		if err := Write(&again, back.Features); err != nil || again.String() != b.String() {
			t.Fatalf("%v, and other bytes:\n%s\n%s", err, b.String(), again.String())
		}
	})
}

func near(t *rapid.T, got, want Geometry) {
	if got.Kind != want.Kind || len(got.Members) != len(want.Members) || len(got.Bodies) != len(want.Bodies) {
		t.Fatalf("%+v, want %+v", got, want)
	}
	for i := range got.Members {
		near(t, got.Members[i], want.Members[i])
	}
	for b := range got.Bodies {
		for l := range got.Bodies[b] {
			for i, p := range got.Bodies[b][l] {
				q := want.Bodies[b][l][i]
				if math.Abs(p.Lon-q.Lon) > 0.5000001e-7 || math.Abs(p.Lat-q.Lat) > 0.5000001e-7 || math.Abs(p.Height-q.Height) > 0.5000001e-3 || p.HasHeight != q.HasHeight {
					t.Fatalf("%+v, want %+v", p, q)
				}
			}
		}
	}
}

// random is a geometry whose rings turn as the standard has it, so that it comes back as it went.
func random(d *rand.Rand, deep int) Geometry {
	at := func() Position {
		return Position{Lon: d.Float64()*170 + 5, Lat: d.Float64()*170 - 85, Height: d.Float64() * 1000, HasHeight: true}
	}
	line := func(n int) []Position {
		out := make([]Position, n)
		for i := range out {
			out[i] = at()
		}
		return out
	}
	ring := func(turn float64) []Position {
		c, n := at(), 3+d.IntN(5)
		var out []Position
		for i := range n {
			a := turn * 2 * math.Pi * float64(i) / float64(n)
			out = append(out, Position{Lon: c.Lon + 3*math.Cos(a), Lat: c.Lat + 3*math.Sin(a)})
		}
		return append(out, out[0])
	}
	switch kinds := []Kind{Point, MultiPoint, LineString, MultiLineString, Polygon, MultiPolygon, Nowhere, Collection}; kinds[d.IntN(7+min(deep, 1))] {
	case Point:
		return Geometry{Kind: Point, Bodies: [][][]Position{{line(1)}}}
	case MultiPoint:
		return Geometry{Kind: MultiPoint, Bodies: [][][]Position{{line(3)}}}
	case LineString:
		return Geometry{Kind: LineString, Bodies: [][][]Position{{line(2 + d.IntN(5))}}}
	case MultiLineString:
		return Geometry{Kind: MultiLineString, Bodies: [][][]Position{{line(2), line(3)}}}
	case Polygon:
		return Geometry{Kind: Polygon, Bodies: [][][]Position{{ring(1), ring(-1)}}}
	case MultiPolygon:
		return Geometry{Kind: MultiPolygon, Bodies: [][][]Position{{ring(1)}, {ring(1), ring(-1)}}}
	case Collection:
		g := Geometry{Kind: Collection}
		for range d.IntN(3) {
			if m := random(d, deep-1); m.Kind != Nowhere {
				g.Members = append(g.Members, m)
			}
		}
		return g
	}
	return Geometry{}
}

// A conversion that is undone gives the same back; one that fails says where.
func TestPlan(t *testing.T) {
	to := func(lon, lat float64) (route.Point, error) {
		if lat > 89 {
			return route.Point{}, errors.New("too far north")
		}
		return route.Point{E: lon * 1000, N: lat * 2000}, nil
	}
	from := func(p route.Point) (lon, lat float64, err error) { return p.E / 1000, p.N / 2000, nil }
	d := rand.New(rand.NewPCG(3, 4))
	for range 50 {
		g := random(d, 2)
		s, err := g.InPlan(to)
		if err != nil {
			t.Fatal(err)
		}
		back, err := s.OnEarth(from)
		if err != nil || back.Kind != g.Kind || len(back.Bodies) != len(g.Bodies) || len(back.Members) != len(g.Members) {
			t.Fatalf("%v: %+v, want %+v", err, back, g)
		}
		for b := range g.Bodies {
			for l := range g.Bodies[b] {
				for i, p := range g.Bodies[b][l] {
					if q := back.Bodies[b][l][i]; math.Abs(p.Lon-q.Lon) > 1e-12 || math.Abs(p.Lat-q.Lat) > 1e-12 || q.HasHeight {
						t.Fatalf("%+v, want %+v without a height", q, p)
					}
				}
			}
		}
	}
	_, err := Geometry{Kind: Point, Bodies: [][][]Position{{{{Lon: 5, Lat: 89.5}}}}}.InPlan(to)
	if err == nil || err.Error() != "longitude 5, latitude 89.5: too far north" {
		t.Errorf("got %v", err)
	}
}

// outside is a file of the folder beside the repository; without it the test is skipped, loudly.
func outside(t *testing.T) string {
	t.Helper()
	return published.Dir(t, "data/geojson/ad_power.geojson")
}

// The file from outside (OpenStreetMap, towers and lines of Andorra) is read whole. Counted in its text by another program:
// 411 features, of them 391 points, 18 lines and 2 with many polygons.
func TestOutsideFile(t *testing.T) {
	data, err := os.ReadFile(outside(t))
	if err != nil {
		t.Fatal(err)
	}
	f, err := Read(bytes.NewReader(data), Options{})
	if err != nil || f.Notes.Any(finding.Fault) {
		t.Fatal(err, f.Notes)
	}
	count := map[Kind]int{}
	for _, one := range f.Features {
		count[one.Geometry.Kind]++
		if power, ok := one.Text("power"); !ok || power == "" {
			t.Errorf("line %d: no power", one.Line)
		}
		for _, body := range one.Geometry.Bodies {
			for _, line := range body {
				for _, p := range line { // Andorra, and its lines go on beyond it
					if p.Lon < 1.3 || p.Lon > 2 || p.Lat < 42.2 || p.Lat > 42.8 {
						t.Errorf("line %d: %+v is nowhere near Andorra", one.Line, p)
					}
				}
			}
		}
	}
	if len(f.Features) != 411 || count[Point] != 391 || count[LineString] != 18 || count[MultiPolygon] != 2 {
		t.Errorf("%d features, %v", len(f.Features), count)
	}
	t.Logf("%v %v", count, f.Notes)
}

// A second reader sees the same in the file from outside and in what is written of it: every geometry and property.
func TestWrittenIsReadByAnother(t *testing.T) {
	name := outside(t)
	ogrinfo, err := exec.LookPath("ogrinfo")
	if err != nil {
		t.Skip("SKIPPED, NOT CHECKED BY A SECOND READER: no ogrinfo here; it comes with gdal-bin")
	}
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	again := filepath.Join(t.TempDir(), filepath.Base(name))
	if err := os.WriteFile(again, []byte(written(t, read(t, string(data)).Features...)), 0o600); err != nil {
		t.Fatal(err)
	}
	ask := func(name string) []string {
		out, err := exec.Command(ogrinfo, "-ro", "-q", "-al", "-nomd", name).CombinedOutput()
		if err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		return strings.Split(string(out), "\n")
	}
	was, is := ask(name), ask(again)
	if len(was) != len(is) || len(is) < 800 {
		t.Fatalf("%d lines, and of what was written %d", len(was), len(is))
	}
	for i := range was {
		if was[i] != is[i] {
			t.Errorf("it sees %q in what was written, and %q in the file", is[i], was[i])
		}
	}
	t.Logf("ogrinfo says the same of both in %d lines", len(is))
}

func FuzzRead(f *testing.F) {
	f.Add(collection(feature(`{"type":"Point","coordinates":[1,2,3]}`), feature("null")))
	f.Add(feature(`{"type":"MultiPolygon","coordinates":[[[[0,0],[1,0],[1,1],[0,0]]]]}`))
	f.Add(`{"type":"GeometryCollection","geometries":[{"type":"LineString","coordinates":[[1,2],[3,4]]}]}`)
	f.Add(`{"type":"Feature","id":-1e5,"properties":{"a":[{}]},"geometry":{"coordinates":[[1e999]]},"crs":null}`)
	f.Fuzz(func(t *testing.T, text string) {
		got, err := Read(strings.NewReader(text), Options{})
		if err != nil {
			if err.Error() == "" {
				t.Fatal("refused without a sentence")
			}
			return
		}
		var b, again bytes.Buffer
		if Write(&b, got.Features) != nil {
			return // a ring that bounds nothing at seven decimals
		}
		back, err := Read(bytes.NewReader(b.Bytes()), Options{})
		if err != nil || len(back.Features) != len(got.Features) {
			t.Fatalf("%v\n%s", err, b.String())
		}
		if err := Write(&again, back.Features); err != nil || !bytes.Equal(again.Bytes(), b.Bytes()) {
			t.Fatalf("%v, other bytes:\n%s\n%s", err, b.String(), again.String())
		}
	})
}

func BenchmarkRead(b *testing.B) {
	text := collection(strings.Split(strings.Repeat(`{"type":"Feature","geometry":{"type":"Point","coordinates":[1.7338142,42.5462433]},"properties":{"power":"tower"}}`+"\n", 10_000)+feature("null"), "\n")...)
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		if _, err := Read(strings.NewReader(text), Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
