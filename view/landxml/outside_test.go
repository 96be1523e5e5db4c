package landxml

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"text/tabwriter"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/place/route"
	"trenchwright/tools/published"
)

// outside are the files of the folder beside the repository; without it the test is skipped, loudly.
func outside(t *testing.T) []string {
	t.Helper()
	files, _ := filepath.Glob(filepath.Join(published.Dir(t, "data/landxml"), "*.xml"))
	if len(files) == 0 {
		t.Fatal("no LandXML in ../shared/data/landxml")
	}
	return files
}

func readFile(t *testing.T, name string, opts Options) (File, error) {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return Read(bytes.NewReader(data), opts)
}

// Every file from outside is read, or refused with a sentence; SOURCES.md says where they come from. One table.
func TestOutsideFiles(t *testing.T) {
	files := outside(t)
	var table strings.Builder
	w := tabwriter.NewWriter(&table, 0, 4, 2, ' ', 0)
	fmt.Fprintln(w, "file\twhat\tunit\tlength m\tfile says m\tkinks\tspirals\tprofile")
	// What each file holds, counted by hand in its text: alignments, plan features, points; -1: must be refused.
	want := map[string][3]int{
		"im_y10_align": {1, 0, 0}, "im_y11_align": {1, 0, 0}, "ir_align_a1": {1, 0, 0}, "ir_align_a2": {1, 0, 0}, "ir_rail_y3": {1, 0, 0},
		"mac_road_cl": {1, 0, 0}, "lx2g_polyline": {0, 1, 0}, "im_points_lighting": {0, 0, 37},
	}
	for _, name := range files {
		id := strings.TrimSuffix(filepath.Base(name), ".xml")
		f, err := readFile(t, name, Options{Spiral: measure.Millimetre})
		counts, readable := want[id]
		if !readable {
			if err == nil || len(err.Error()) < 20 {
				t.Errorf("%s was not refused with a sentence: %v", id, err)
			}
			fmt.Fprintf(w, "%s\trefused: %v\n", id, err)
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", id, err)
			continue
		}
		if got := [3]int{len(f.Alignments), len(f.Features), len(f.Points)}; got != counts {
			t.Errorf("%s: %v alignments, features and points, want %v", id, got, counts)
		}
		for _, a := range append(f.Alignments, f.Features...) {
			row(w, id, f, a)
		}
		if len(f.Points) > 0 {
			fmt.Fprintf(w, "%s\t%d points, groups %q\t%s\n", id, len(f.Points), f.Points[0].Groups, f.Unit)
		}
		for _, n := range f.Notes {
			if n.Kind == finding.Fault {
				t.Errorf("%s: %+v", id, n)
			}
			fmt.Fprintf(w, "\t  %s: %s\n", n.Kind, n.Text)
		}
	}
	if err := w.Flush(); err != nil {
		t.Fatal(err)
	}
	t.Log("\n" + table.String())
}

func row(w *tabwriter.Writer, id string, f File, a Alignment) {
	stated, profile := "-", "-"
	if a.HasStated {
		stated = fmt.Sprintf("%.3f", a.Stated.Metres())
	}
	if len(a.Profiles) > 0 {
		profile = fmt.Sprintf("%d points", len(a.Profiles[0].PVIs))
	}
	fmt.Fprintf(w, "%s\t%s\t%s\t%.4f\t%s\t%d\t%d\t%s\n", id, a.Name, f.Unit, a.Line.Length().Metres(), stated, len(a.Line.Kinks(route.Smooth)), len(a.Spirals), profile)
}

// SOURCES.md: the two alignments are 37.340 m and 48.602 m long; the profile of the rail begins 1.545 m before its line;
// the lighting has 37 points in 3 groups.
func TestOutsideFigures(t *testing.T) {
	for _, name := range outside(t) {
		id := strings.TrimSuffix(filepath.Base(name), ".xml")
		f, err := readFile(t, name, Options{Spiral: measure.Millimetre})
		switch id {
		case "im_y10_align":
			near(t, id, f.Alignments[0].Line.Length().Metres(), 37.340, 5e-4)
		case "im_y11_align":
			near(t, id, f.Alignments[0].Line.Length().Metres(), 48.602, 5e-4)
		case "ir_rail_y3":
			near(t, id, f.Alignments[0].Profiles[0].PVIs[0].Chainage.Metres(), -1.545, 5e-4)
			if !strings.Contains(fmt.Sprint(f.Notes), "begins 1.545 m before the line") {
				t.Error("nothing is said of a profile that begins before its line")
			}
		case "im_points_lighting":
			if len(f.Points) != 37 || len(f.Points[0].Groups) != 3 || f.Points[0].Name != "3036" {
				t.Errorf("%d points, the first %+v", len(f.Points), f.Points[0])
			}
			p := f.Points[0] // <CgPoint …>6783020.064000 21530666.426000 17.400000
			if p.At.N != 6783020064*measure.Millimetre || p.At.E != 21530666426*measure.Millimetre || p.Level != 17400*measure.Millimetre {
				t.Errorf("point %+v: northing comes first", p)
			}
		case "bad_just_xml", "bad_no_surface", "bad_unsupported_schema", "bad_empty_surface":
			if err == nil {
				t.Errorf("%s was read", id)
			}
		}
	}
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if math.Abs(got-want) > within {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// Every line from outside can be declared as a run and built: nodes at its kinks, legs between them, and no more than
// 0.1 mm off what the file draws.
func TestOutsideLinesBecomeRuns(t *testing.T) {
	n := 0
	for _, name := range outside(t) {
		f, err := readFile(t, name, Options{Spiral: measure.Millimetre})
		if err != nil {
			continue
		}
		for _, a := range append(f.Alignments, f.Features...) {
			n++
			in, off, err := route.Declare(a.Line, "N", route.Smooth)
			if err != nil || off > 100*measure.Micrometre {
				t.Errorf("%s: %v off, %v", a.Name, off, err)
				continue
			}
			in.Scale = route.Scale{Factor: 1, Stated: true}
			net, list := route.Build(in)
			if list.Any(finding.Fault) {
				t.Errorf("%s: %+v", a.Name, list)
			}
			t.Logf("%s: %d nodes, %d legs, %s, at most %s off", a.Name, len(net.Nodes), len(net.Legs), net.Length(), off)
		}
	}
	if n != 7 {
		t.Errorf("%d lines from outside, want 7", n)
	}
}
