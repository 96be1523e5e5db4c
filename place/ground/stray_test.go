package ground

import (
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/place/ground/local"
	"trenchwright/place/route"
)

// yard is ground of 400 by 300 m whose south-west corner has these coordinates.
func yard(t *testing.T, e, n float64) *Surface {
	o := route.OriginNear(route.Coordinates{E: measure.FromMetres(e), N: measure.FromMetres(n)})
	s := Survey{Source: Source{Name: "existing", Origin: o}}
	for _, p := range []Point{{0, 0, 10}, {400, 0, 11}, {400, 300, 12}, {0, 300, 11}} {
		q := o.Point(route.Coordinates{E: measure.FromMetres(e + p.E), N: measure.FromMetres(n + p.N)})
		s.Points = append(s.Points, Point{q.E, q.N, p.Z})
	}
	return mustTriangulate(t, s)
}

func TestStray(t *testing.T) {
	const e, n = 512_300.0, 5_712_400.0
	utm := local.Zones{Width: 6, Factor: 0.9996, East: 500_000}
	west, _ := utm.Neighbour(route.Point{E: e, N: n}, 1)
	for _, c := range []struct {
		name     string
		e, n     float64
		text, by string
	}{
		{"on its ground", e, n, "", ""},
		{"300 km off", e + 300_350, n, "the run lies 300.1 km from ground \"existing\"; no part of it has ground", "look at the units"},
		{"feet", e / 0.3048, n / 0.3048, "", "feet and not as metres (times 0.3048), or with its coordinates read as US survey feet and not as metres (times 1200/3937)"},
		{"metres read as feet", e * 0.3048, n * 0.3048, "", "metres and not as feet (divided by 0.3048)"},
		{"millimetres", e * 1000, n * 1000, "", "millimetres and not as metres"},
		{"exchanged", n, e, "", "with easting and northing exchanged"},
		{"exchanged and in feet", n / 0.3048, e / 0.3048, "", "with easting and northing exchanged and its coordinates read as feet"},
		{"zone number", 32_000_000 + e, n, "", "-32,000 km to its eastings: a zone number"},
		{"other hemisphere", e, n + 10_000_000, "", "-10,000 km to its northings: one of them is in a zone of the other hemisphere"},
		{"neighbouring zone", west.E, west.N, "", "a zone of 6° into the next one west"},
		// 900 − 300 m east, 900 − 200 m north: √(600² + 700²)
		{"a few hundred metres off", e + 900, n + 900, "the run lies 921.954 m from ground", "look at the units"},
	} {
		s := yard(t, c.e, c.n)
		var run []route.Point
		for _, p := range []route.Point{{E: 50, N: 60}, {E: 300, N: 200}} {
			run = append(run, s.Origin.Point(route.Coordinates{E: measure.FromMetres(e + p.E), N: measure.FromMetres(n + p.N)}))
		}
		l := Stray(run, s, Source{Name: "existing"})
		spoken(t, l)
		if c.by == "" {
			if len(l) > 0 {
				t.Errorf("%s: %s", c.name, texts(l))
			}
			continue
		}
		if len(l) != 1 || l[0].Kind != finding.Fault || !strings.Contains(l[0].Text, c.text) || !strings.Contains(l[0].Try, c.by) {
			t.Errorf("%s: %+v", c.name, l)
		}
	}
}

// US survey feet read as international ones: 2 ppm are 3.4 m in 1,700 km, and a small yard is missed by them.
func TestStrayBySurveyFeet(t *testing.T) {
	const e, n = 152_400.0, 2_286_000.0
	o := route.Origin{}
	small := Survey{Source: Source{Name: "existing", Origin: o}}
	for _, p := range []Point{{0, 0, 10}, {3, 0, 11}, {3, 3, 12}, {0, 3, 11}} {
		small.Points = append(small.Points, Point{e + p.E, n + p.N, p.Z})
	}
	s := mustTriangulate(t, small)
	const apart = 1200.0 / 3937 / 0.3048
	run := []route.Point{{E: e*apart + 1, N: n*apart + 1}, {E: e*apart + 2, N: n*apart + 2}}
	l := Stray(run, s, Source{Name: "existing", Speech: wording.Speech{US: true, Imperial: true}})
	spoken(t, l)
	// 2 ppm of N 2,286,000 m are 4.572 m: the run begins 5.572 m up and the yard ends at 3 m, 8.44 ft below it.
	if len(l) != 1 || !strings.Contains(l[0].Try, "US survey feet and not as feet") || !strings.Contains(l[0].Text, "the run lies 8.44 ft from") {
		t.Errorf("%+v", l)
	}
}

func TestCovered(t *testing.T) {
	s := yard(t, 1000, 1000)
	sec := s.Section([]route.Point{{E: -50, N: 100}, {E: 450, N: 100}})
	l := Covered("A", sec, Source{Name: "existing"})
	spoken(t, l)
	want := "ground.bare: no ground \"existing\" under leg A from 0.000 m to 50.000 m along its line\nground.bare: no ground \"existing\" under leg A from 450.000 m to 500.000 m along its line"
	if texts(l) != want || l[1].Where.Chainage.Metres() != 450 || l[0].Value != "400.000 m with ground, 50.000 m without here" {
		t.Errorf("%+v", l)
	}
	us := Covered("A", sec, Source{Name: "existing", Speech: wording.Speech{US: true, Imperial: true}})
	if !strings.Contains(us[0].Text, "to 164.04 ft") || !strings.Contains(us[0].Try, "centerline") {
		t.Errorf("%+v", us[0])
	}
	if l := Covered("A", s.Section([]route.Point{{E: 0, N: 0}, {E: 400, N: 0}}), Source{}); len(l) > 0 {
		t.Errorf("along the edge: %s", texts(l))
	}
}
