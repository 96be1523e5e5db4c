package routein

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/job/planner/plancheck"
	"trenchwright/view/jobtext"
)

// outside is the folder with real files that nobody here wrote.
func outside(t *testing.T) string {
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for ; dir != filepath.Dir(dir); dir = filepath.Dir(dir) {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			break
		}
	}
	data := filepath.Join(dir, "..", "shared", "data")
	if _, err := os.Stat(data); err != nil {
		t.Skip("SKIPPED: ../shared/data is not here: no real alignment and no real list of points was planned")
	}
	return data
}

// orders are what a person would say of the columns of those lists that do not say it themselves: the lists' own order,
// not a claim about which is which.
var orders = map[string]string{"og_coo_list.csv": "PENZ", "og_labor.csv": "PENZ", "og_plane.txt": "ENZ", "og_section_points.csv": "PENZ"}

// TestRealFilesArePlanned imports every alignment and list of points there is, plans it with the starter's supply and has
// plan.json checked from outside. What cannot be a run is refused with a sentence.
func TestRealFilesArePlanned(t *testing.T) {
	data := outside(t)
	names, _ := filepath.Glob(filepath.Join(data, "landxml", "*.xml"))
	lists, _ := filepath.Glob(filepath.Join(data, "terrain", "*"))
	planned := 0
	for _, name := range append(names, lists...) {
		base := filepath.Base(name)
		f, err := os.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		in, found := Read(f, Want{File: base, Line: job.DrawnLine{Kind: "centreline"}, Spiral: 5 * measure.Millimetre, Unit: measure.UnitMetre, Columns: orders[base]})
		f.Close()
		if len(in.Route.Legs) == 0 {
			if !found.Any(finding.Fault) || found[0].Text == "" {
				t.Errorf("%s: neither a route nor a sentence", base)
				continue
			}
			t.Logf("%-26s refused: %.150s", base, found[0].Text)
			continue
		}
		j := starter(t)
		j.Coordinates, j.Route = in.Coordinates, in.Route
		if faults := job.Faults(j); faults.Any(finding.Fault) {
			t.Logf("%-26s read, and cannot be a run: %.150s", base, faults[0].Text)
			continue
		}
		p := planner.Make(j)
		verdicts := map[string]int{}
		for _, l := range p.Legs {
			verdicts[l.Verdict]++
		}
		t.Logf("%-26s %s; %d legs, %d units, verdicts %v%s", base, strings.Join(in.Heard, "; "), len(p.Legs), len(p.Units), verdicts, faultsOf(p))
		planned++
		text, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		if len(p.Legs) == 0 {
			continue
		}
		for _, bad := range plancheck.Check(text, job.CanonicalJSON(j)) {
			t.Errorf("%s: %s", base, bad)
		}
	}
	if planned < 7 {
		t.Errorf("only %d files were planned", planned)
	}
}

func faultsOf(p planner.Plan) string {
	for _, f := range p.Findings {
		if f.Kind == finding.Fault {
			return "; fault: " + f.Text
		}
	}
	return ""
}

func starter(t *testing.T) job.Job {
	j, faults := jobtext.Read("starter.yaml", strings.NewReader(demo.Starter()))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return j
}

func TestWhichLineIsAsked(t *testing.T) {
	_, found := Read(strings.NewReader("P,E,N\na,1,2\nb,30,4\n"), Want{File: "x.csv"})
	if len(found) != 1 || found[0].ID != "routein.which-line" {
		t.Error(found)
	}
}

func TestPoints(t *testing.T) {
	in, found := Read(strings.NewReader("P,E,N,Z\na,100,200,5\nb,130.5,200,5.2\nc,130.5,250,5\n"), Want{File: "x.csv", Line: job.DrawnLine{Kind: "centreline"}, Unit: measure.UnitMetre})
	if found.Any(finding.Fault) || len(in.Route.Legs) != 2 || in.Length != 80500*measure.Millimetre {
		t.Fatalf("%+v %v", in, found)
	}
	if n := in.Route.Nodes[1]; *n.At != [2]float64{130.5, 200} || *n.Level != 5.2 || n.Note != "b" {
		t.Errorf("%+v", n)
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte("P,E,N,Z\na,100,200,5\nb,130.5,200,5.2\n"))
	f.Add([]byte("<LandXML xmlns=\"http://www.landxml.org/schema/LandXML-1.2\" version=\"1.2\"></LandXML>"))
	f.Add([]byte("\ufeff<?xml version=\"1.0\"?><!DOCTYPE x [<!ENTITY a \"b\">]><x>&a;</x>"))
	f.Fuzz(func(t *testing.T, text []byte) {
		in, found := Read(bytes.NewReader(text), Want{File: "x", Line: job.DrawnLine{Kind: "centreline"}, Unit: measure.UnitMetre})
		if len(in.Route.Legs) == 0 && len(found) == 0 {
			t.Error("neither a route nor a sentence")
		}
	})
}
