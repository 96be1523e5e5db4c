package groundin

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/place/ground/local"
	"trenchwright/place/route"
)

// survey is a square of 20 m by 10 m about the middle of a grid, its north side 1 m higher, as GeoJSON with eight decimals.
func survey(t *testing.T, g local.Grid, level func(z float64) (property, height string)) string {
	t.Helper()
	var features []string
	for _, c := range [][3]float64{{-10, -5, 100}, {10, -5, 100}, {10, 5, 101}, {-10, 5, 101}, {0, 0, 100.5}} {
		p, err := g.From(route.Point{E: c[0], N: c[1]})
		if err != nil {
			t.Fatal(err)
		}
		property, height := level(c[2])
		features = append(features, fmt.Sprintf(`{"type":"Feature","properties":{%s},"geometry":{"type":"Point","coordinates":[%.9f,%.9f%s]}}`, property, p.Longitude, p.Latitude, height))
	}
	return `{"type":"FeatureCollection","features":[` + strings.Join(features, ",\n") + `,{"type":"Feature","properties":{},"geometry":null}]}`
}

func asProperty(z float64) (string, string) { return fmt.Sprintf(`"level_m":%v`, z), "" }
func asHeight(z float64) (string, string)   { return "", fmt.Sprintf(",%v", z) }

// Points in WGS 84 with levels are ground: on the job's own grid, or on one in their middle where there is no job. A height
// is a level only where the job's levels are heights above the ellipsoid.
func TestGeoJSONGround(t *testing.T) {
	g, err := local.New(local.Position{Latitude: 47.5, Longitude: 8.25}, 0)
	if err != nil {
		t.Fatal(err)
	}
	origin := route.Origin{E: -1000 * measure.Metre, N: -1000 * measure.Metre}
	for name, c := range map[string]struct {
		text string
		want Want
	}{
		"no job":          {survey(t, g, asProperty), Want{}},
		"a job":           {survey(t, g, asProperty), Want{System: g.Name(), Origin: &origin}},
		"above ellipsoid": {survey(t, g, asHeight), Want{System: g.Name(), Origin: &origin, Ellipsoid: true}},
	} {
		got, found := Read(strings.NewReader(c.text), c.want)
		if found.Any(finding.Fault) || len(got.Surfaces) != 1 {
			t.Fatalf("%s: %v", name, found)
		}
		m := got.Surfaces[0].Measures()
		// nine decimals of a degree are 0.1 mm
		if m.Points != 5 || math.Abs(m.Area2D-200) > 0.01 || math.Abs(m.Area3D-200*math.Sqrt(1.01)) > 0.01 || m.ZMin != 100 || m.ZMax != 101 {
			t.Errorf("%s: %+v", name, m)
		}
		if at, ok := got.Surfaces[0].At(got.Origin.Point(route.Coordinates{N: 2 * measure.Metre})); !ok || math.Abs(at.Z-100.7) > 1e-4 {
			t.Errorf("%s: %v, want 100.7", name, at)
		}
		if !strings.Contains(fmt.Sprint(found), "passed over: 1 feature without a level") {
			t.Errorf("%s: %v", name, found)
		}
	}
	for _, c := range []struct {
		text, says string
		want       Want
	}{
		{survey(t, g, asHeight), "none of its 6 features has a level: heights in GeoJSON are above the ellipsoid", Want{System: g.Name(), Origin: &origin}},
		{survey(t, g, asProperty), "the coordinates of the job are in site grid: nothing on file leads from one to the other", Want{System: "site grid", Origin: &origin}},
		{survey(t, g, asProperty), "the coordinates of the job are in a system that nobody named", Want{Origin: &origin}},
		{`{"type":"FeatureCollection","features":[]}`, "", Want{}},
		{`{"type":"Feature","properties":{"level_m":3},"geometry":{"type":"Point","coordinates":[8,47]}}`, "", Want{}},
		{"{", "the file ends before its last bracket is closed", Want{}},
	} {
		got, found := Read(strings.NewReader(c.text), c.want)
		if len(got.Surfaces) > 0 || !found.Any(finding.Fault) || !strings.Contains(firstFault(found).Text, c.says) || firstFault(found).Try == "" {
			t.Errorf("%.60s: %v", c.text, found)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte("P,E,N,Z,L\n1,0,0,100,\n2,10,0,100.2,a\n3,10,10,100.4,a\n"))
	f.Add([]byte(`{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"level_m":1},"geometry":{"type":"LineString","coordinates":[[8.25,47.5],[8.26,47.6],[8.25,47.6]]}}]}`))
	f.Add([]byte(`<LandXML version="1.2"><Units><Metric linearUnit="meter"/></Units><Surfaces><Surface name="G"><Definition surfType="grid"><Pnts><P id="1">0 0 1</P><P id="2">0 4 1</P><P id="3">4 4 2</P><P id="4">4 0 3</P></Pnts><Faces><F>1 2 3 4</F></Faces></Definition></Surface></Surfaces></LandXML>`))
	f.Fuzz(func(t *testing.T, text []byte) {
		got, found := Read(bytes.NewReader(text), Want{Unit: measure.UnitMetre})
		if found.Any(finding.Fault) && len(got.Surfaces) > 0 {
			t.Error("ground in spite of a fault")
		}
		if len(got.Surfaces) == 0 && len(found) == 0 {
			t.Error("no ground, and no word why")
		}
	})
}
