package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"text/tabwriter"

	"trenchwright/job/planner/plancheck"
)

// outside is the folder of files that nobody here wrote; without it the test is skipped, loudly.
func outside(t *testing.T) string {
	t.Helper()
	data, err := filepath.Abs("../../../shared/data")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(data); err != nil {
		t.Skip("SKIPPED, NOT CHECKED AGAINST THE OUTSIDE: no ../shared/data beside the repository: no real alignment and no real list of points was planned")
	}
	return data
}

// survey is one file as somebody imports it.
type survey struct {
	name    string
	file    string
	columns string // of a list of points; what a person would say: the files do not say it themselves
	refused string // part of the sentence that has to be said; empty: it is planned
}

// columns and rows of the lists in ../shared/data/terrain (SOURCES.md): all have easting before northing; the sections
// hold two points a line.
var lists = map[string]string{"og_coo_list.csv": "P,E,N,Z", "og_labor.csv": "P,E,N,Z", "og_plane.txt": "E,N,Z", "og_section_points.csv": "P,E,N,-,-"}

// rows are parts of a list that follow one line on the ground, by the names of their first and last points.
var rows = [][3]string{
	{"og_coo_list.csv", "602", "608"}, {"og_coo_list.csv", "609", "614"}, {"og_coo_list.csv", "615", "621"}, {"og_coo_list.csv", "622", "629"},
}

// refusals is what has to be said of files that no run can be made of.
var refusals = map[string]string{
	"bad_just_xml": "first element is <SomeXMLTag>", "bad_unsupported_schema": "LandXML 99.0", "im_points_lighting": "37 points and no alignment",
	"ir_drain_1_1": "PipeNetworks", "og_plane.txt": "lie beside each other|takes .* of the inner face", "og_labor.csv": "lie beside each other", "og_coo_list.csv": "takes .* of the inner face",
}

// TestRealFilesArePlanned imports every alignment and list of points there is by `new --from`, checks and plans the job
// that comes of it, and has plan.json verified from outside. What cannot be a run is refused with a sentence. One table.
func TestRealFilesArePlanned(t *testing.T) {
	var out strings.Builder
	w := tabwriter.NewWriter(&out, 0, 4, 2, ' ', 0)
	fmt.Fprintln(w, "file\tunderstood, or why not\tlegs\tunits\tcuts\tverdicts")
	home, planned, refused := t.TempDir(), 0, 0
	for i, s := range surveys(t, outside(t), home) {
		dir := filepath.Join(home, fmt.Sprint(i))
		args := []string{"new", dir, "--from", s.file, "--line", "centreline", "--spiral", "5mm"}
		if s.columns != "" {
			args = append(args, "--columns", s.columns, "--unit", "m")
		}
		code, heard, complaint := run(args...)
		if code != exitFound {
			refused++
			s.checkRefusal(t, code, complaint, dir)
			fmt.Fprintf(w, "%s\trefused: %.110s\n", s.name, firstSentence(complaint, s.file))
			continue
		}
		if s.refused != "" {
			t.Errorf("%s was taken for a run; it should be said: %s", s.name, s.refused)
		}
		planned++
		fmt.Fprintf(w, "%s\t%s\t%s\n", s.name, understood(heard), planOf(t, s.name, dir))
	}
	if err := w.Flush(); err != nil {
		t.Fatal(err)
	}
	t.Logf("%d planned, %d refused\n%s", planned, refused, out.String())
	if planned < 12 {
		t.Errorf("only %d files were planned", planned)
	}
}

// surveys are the files, and parts of a list written into a folder of their own.
func surveys(t *testing.T, data, home string) []survey {
	var out []survey
	xml, _ := filepath.Glob(filepath.Join(data, "landxml", "*.xml"))
	for _, f := range xml {
		s := survey{name: strings.TrimSuffix(filepath.Base(f), ".xml"), file: f}
		s.refused = refusals[s.name]
		for _, surface := range []string{"ab_s", "lu_", "im_y10_h", "im_y10_l", "im_y11_h", "im_y11_l", "bad_empty", "bad_no_"} {
			if strings.HasPrefix(s.name, surface) {
				s.refused = "it holds Surfaces"
			}
		}
		out = append(out, s)
	}
	text, _ := filepath.Glob(filepath.Join(data, "terrain", "*"))
	for _, f := range text {
		name := filepath.Base(f)
		out = append(out, survey{name, f, lists[name], refusals[name]})
	}
	for _, r := range rows {
		part := filepath.Join(home, r[1]+".csv")
		if err := os.WriteFile(part, partOf(t, filepath.Join(data, "terrain", r[0]), r[1], r[2]), 0o644); err != nil {
			t.Fatal(err)
		}
		out = append(out, survey{name: r[0] + ", " + r[1] + " to " + r[2], file: part, columns: lists[r[0]]})
	}
	return out
}

// partOf are the lines of a list from one point's name to another's.
func partOf(t *testing.T, file, first, last string) []byte {
	t.Helper()
	var out []string
	for _, line := range strings.Split(string(read(t, file)), "\n") {
		name, _, _ := strings.Cut(line, ",")
		if name == first || len(out) > 0 {
			out = append(out, line)
		}
		if name == last {
			return []byte(strings.Join(out, "\n"))
		}
	}
	t.Fatalf("%s: no points %s to %s", file, first, last)
	return nil
}

// checkRefusal: a refusal has exit code 3, says what is the matter, and leaves nothing behind.
func (s survey) checkRefusal(t *testing.T, code int, complaint, dir string) {
	t.Helper()
	said := slices.ContainsFunc(strings.Split(s.refused, "|"), func(want string) bool {
		for _, part := range strings.Split(want, ".*") {
			if !strings.Contains(complaint, part) {
				return false
			}
		}
		return true
	})
	if code != exitFaults || s.refused == "" || !said || !strings.Contains(complaint, "try: ") {
		t.Errorf("%s: it ended with %d, and should be planned, or refused with %q\n%.600s", s.name, code, s.refused, complaint)
	}
	if _, err := os.Stat(dir); err == nil {
		t.Errorf("%s was refused, and something is left of it", s.name)
	}
}

func firstSentence(complaint, file string) string {
	_, text, _ := strings.Cut(complaint, "fault: ")
	text, _, _ = strings.Cut(text, "\n")
	return strings.ReplaceAll(text, file, filepath.Base(file))
}

// understood is what was said of the route's size.
func understood(heard string) string {
	for _, line := range strings.Split(heard, "\n") {
		if text, ok := strings.CutPrefix(line, "understood: "); ok {
			return text
		}
	}
	return ""
}

// planOf checks and plans a job that was imported, and says how it came out.
func planOf(t *testing.T, name, dir string) string {
	t.Helper()
	jobFile, pack := filepath.Join(dir, "job.yaml"), filepath.Join(dir, "pack")
	if code, out, complaint := run("check", jobFile); code != exitFound {
		t.Errorf("%s: check ended with %d\n%s%s", name, code, out, complaint)
	}
	code, out, complaint := run("plan", jobFile, "-o", pack, "--data")
	if code != exitFound && code != exitImpossible {
		t.Errorf("%s: plan ended with %d\n%s%s", name, code, out, complaint)
		return ""
	}
	plan := read(t, filepath.Join(pack, "plan.json"))
	for _, bad := range plancheck.Check(plan, read(t, filepath.Join(pack, "job.json"))) {
		t.Errorf("%s: %s", name, bad)
	}
	var p struct {
		Legs   []struct{ Verdict, Why string }
		Totals struct{ Units, Cuts int }
	}
	if err := json.Unmarshal(plan, &p); err != nil {
		t.Fatal(err)
	}
	verdicts, why := map[string]int{}, ""
	for _, l := range p.Legs {
		verdicts[l.Verdict]++
		if l.Verdict != "found" {
			why = ": " + l.Why
		}
	}
	if (verdicts["impossible"] > 0) != (code == exitImpossible) {
		t.Errorf("%s: %v, and plan ended with %d", name, verdicts, code)
	}
	return fmt.Sprintf("%d\t%d\t%d\t%s%.100s", len(p.Legs), p.Totals.Units, p.Totals.Cuts, strings.TrimPrefix(fmt.Sprint(verdicts), "map"), why)
}
