package groundin

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/place/ground"
)

// outside are files that nobody here wrote, in ../shared/data, if present.
const outside = "../../../shared/data"

func outsideFile(t *testing.T, name string) []byte {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(outside, name))
	if err != nil {
		t.Skipf("SKIPPED: ../shared/data/%s is not there; nothing was held against files from outside", name)
	}
	return text
}

// truth is a surface as other code found it (../shared/data/landxml/tin_truth.json), in the unit of its file.
type truth struct {
	Points, Faces, Invisible int
	Area2D, Area3D           float64
	Vol0                     float64
	ZMin, ZMax               float64
}

// columns are the orders of the lists of points whose files do not say them.
var columns = map[string]string{"og_coo_list.csv": "PENZ", "og_labor.csv": "PENZ", "og_plane.txt": "ENZ"}

// Every file from outside becomes surfaces with the measures that other code found, or is refused with a sentence. The log
// is the table.
func TestFilesFromOutside(t *testing.T) {
	want := map[string]map[string]truth{}
	if err := json.Unmarshal(outsideFile(t, "landxml/tin_truth.json"), &want); err != nil {
		t.Fatal(err)
	}
	files, _ := filepath.Glob(outside + "/landxml/*.xml")
	more, _ := filepath.Glob(outside + "/terrain/*")
	earth, _ := filepath.Glob(outside + "/geojson/*")
	more = append(more, earth...)
	held := 0
	for _, file := range append(files, more...) {
		name := filepath.Base(file)
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		g, found := Read(bytes.NewReader(text), Want{File: name, Columns: columns[name], Unit: measure.UnitMetre})
		if len(g.Surfaces) == 0 {
			f := firstFault(found)
			if f.Text == "" || f.Try == "" || want[name] != nil {
				t.Errorf("%s: refused with %q, try %q", name, f.Text, f.Try)
			}
			t.Logf("%-28s refused: %s", name, f.Text)
			continue
		}
		for i, s := range g.Surfaces {
			m := s.Measures()
			t.Logf("%-28s %-8.8s %5d points %5d faces %3d invisible, %12.3f m² in plan, %12.3f m² on the slope, %8.3f to %8.3f m", name, s.Name, m.Points, m.Faces, m.Invisible, m.Area2D, m.Area3D, m.ZMin, m.ZMax)
			if w, ok := want[name][s.Name]; ok {
				held++
				hold(t, name, s, w, metres(g.Unit))
			} else if strings.HasSuffix(name, ".xml") {
				t.Errorf("%s: surface %d, %q: nobody else found it", name, i+1, s.Name)
			}
		}
	}
	all := 0
	for _, s := range want {
		all += len(s)
	}
	if held != all {
		t.Errorf("%d surfaces were held against what other code found, of %d", held, all)
	}
}

func metres(u measure.Unit) float64 {
	switch u {
	case measure.UnitSurveyFoot:
		return 1200.0 / 3937
	case measure.UnitFoot:
		return 0.3048
	}
	return 1
}

func firstFault(l finding.List) finding.Finding {
	for _, f := range l {
		if f.Kind == finding.Fault {
			return f
		}
	}
	return finding.Finding{}
}

// hold compares a surface with what other code found of it, to its four decimals, and areas to 1e-8 of themselves besides.
func hold(t *testing.T, name string, s *ground.Surface, w truth, unit float64) {
	t.Helper()
	m := s.Measures()
	if m.Points != w.Points || m.Faces != w.Faces || m.Invisible != w.Invisible {
		t.Errorf("%s, %s: %d points, %d faces, %d invisible; other code found %d, %d, %d", name, s.Name, m.Points, m.Faces, m.Invisible, w.Points, w.Faces, w.Invisible)
	}
	same := func(what string, got, want, unit float64) {
		if want *= unit; math.Abs(got-want) > 1e-4*unit+1e-8*math.Abs(want) {
			t.Errorf("%s, %s: %s %.6f, other code found %.6f", name, s.Name, what, got, want)
		}
	}
	same("area in plan", m.Area2D, w.Area2D, unit*unit)
	same("area on the slope", m.Area3D, w.Area3D, unit*unit)
	same("least level", m.ZMin, w.ZMin, unit)
	same("greatest level", m.ZMax, w.ZMax, unit)
	v, found := s.ToPlane(m.Min, 0, 0, 0, nil)
	if found.Any(finding.Fault) {
		t.Errorf("%s, %s: %v", name, s.Name, found)
	}
	same("volume to level 0", float64(v.Net()), w.Vol0, unit*unit*unit)
}

// Two pairs of surfaces whose volumes other code found on a grid of 0.1 m (../shared/data/SOURCES.md): what lies the wrong
// way round is reported and not folded in.
func TestVolumesFromOutside(t *testing.T) {
	for _, c := range []struct {
		pair         string
		area, volume float64
	}{{"y10", 283.82, 55.24}, {"y11", 281.94, 57.99}} {
		var pair []*ground.Surface
		var first Ground
		for _, which := range []string{"highest", "lowest"} {
			name := fmt.Sprintf("im_%s_%s.xml", c.pair, which)
			w := Want{File: name}
			if pair != nil {
				w.Origin = &first.Origin
			}
			g, found := Read(bytes.NewReader(outsideFile(t, "landxml/"+name)), w)
			if len(g.Surfaces) != 1 {
				t.Fatalf("%s: %v", name, found)
			}
			if pair == nil {
				first = g
			}
			pair = append(pair, g.Surfaces[0])
		}
		v, _ := ground.Between(pair[0], pair[1], nil)
		t.Logf("%s: common %.3f m²; above %.3f m³ on %.3f m², below %.3f m³ on %.3f m² (%.1f %%)", c.pair, v.Common, float64(v.Cut), v.CutArea, float64(v.Fill), v.FillArea, v.FillArea/v.Common*100)
		if math.Abs(v.Common-c.area) > 0.15 || math.Abs(float64(v.Net())-c.volume) > 0.03 && math.Abs(float64(v.Cut)-c.volume) > 0.03 {
			t.Errorf("%s: %.3f m² and %.3f less %.3f m³; other code found %.2f m² and %.2f m³", c.pair, v.Common, float64(v.Cut), float64(v.Fill), c.area, c.volume)
		}
		if v.Fill <= 0 || v.FillArea <= 0 {
			t.Errorf("%s: what lies the wrong way round is not reported", c.pair)
		}
	}
}
