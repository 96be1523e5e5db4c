//go:build !js

package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/job/stamp"
	"trenchwright/tools/module"
	"trenchwright/view/dropped"
	"trenchwright/view/groundin"
	"trenchwright/view/pack"
)

// A browser that is given a job, its plan as bytes and its files writes the same papers as the program, byte for byte: all but
// the workbook and the pictures, which it says are the server's.
func TestBrowserAndProgramWriteTheSamePapers(t *testing.T) {
	browser := module.Build(t)
	for _, name := range demo.Names() {
		on := surveyed(t, name)
		p := planner.Make(on.Job, on.Surfaces...)
		plan, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		dir := t.TempDir()
		put := func(name string, text []byte) string {
			at := filepath.Join(dir, name)
			if err := os.WriteFile(at, text, 0o644); err != nil {
				t.Fatal(err)
			}
			return at
		}
		state := stated(name)
		which, err := json.Marshal(state)
		if err != nil {
			t.Fatal(err)
		}
		args := []string{put("job", job.CanonicalJSON(on.Job)), put("state", which), put("plan", plan)}
		for i, c := range on.Clips {
			args = append(args, c.Name+"="+put(fmt.Sprint("clip", i), c.Bytes))
		}
		got := parted(t, browser.Run(t, "pack.cjs", nil, args...))
		var list []struct {
			Path, About string
			Server      bool
		}
		if err := json.Unmarshal(got["files"], &list); err != nil {
			t.Fatal(err)
		}
		whole := pack.Of(p, on.Job, state.History.Of(state.Revision), on.Surfaces...)
		files := whole.Files()
		if len(list) != len(files) || len(files) == 0 {
			t.Fatalf("%s: %d files in the browser's list, %d in the program's", name, len(list), len(files))
		}
		same, left := 0, 0
		for i, f := range files {
			heavy := strings.HasSuffix(f.Name, ".png") || strings.HasSuffix(f.Name, ".xlsx")
			if list[i].Path != f.Name || list[i].About != f.About || list[i].Server != heavy {
				t.Errorf("%s: the browser lists %+v for %s, %s", name, list[i], f.Name, f.About)
			}
			if heavy {
				left++
				continue
			}
			want, err := f.Make()
			if err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(got[f.Name], want) {
				t.Errorf("%s: %s: %d bytes from the browser, %d here, and they differ", name, f.Name, len(got[f.Name]), len(want))
			}
			same++
		}
		t.Logf("%s: %d files with the same bytes, %d that are the server's", name, same, left)
	}
}

// stated is a state to be printed: issued, not issued with changes that are not yet sent, and none, for the three demo jobs.
func stated(name string) (s struct {
	Revision string        `json:"revision"`
	History  stamp.History `json:"history"`
}) {
	day := time.Date(2026, 11, 26, 13, 21, 30, 123e6, time.UTC)
	s.History.Revisions = []stamp.Revision{{ID: "A", Author: "Ann", At: day}, {ID: "01ARYZ6S41TSV4RRFFQ69G5FAV", Parents: []string{"A"}, At: day, Unsent: true}}
	s.History.Issued = []stamp.Issue{{Name: "First", Revision: "A", Author: "Bo", Core: planner.Core, At: day.Add(time.Hour)}}
	s.Revision = map[string]string{"tram-depot": "A", "hand-troughs": "01ARYZ6S41TSV4RRFFQ69G5FAV"}[name]
	return s
}

// parted are the files of a stream that pack.cjs wrote.
func parted(t *testing.T, stream []byte) map[string][]byte {
	files := map[string][]byte{}
	for len(stream) > 0 {
		head, rest, _ := bytes.Cut(stream, []byte("\n"))
		var n int
		var path string
		if _, err := fmt.Sscanf(string(head), "%d %s", &n, &path); err != nil || n > len(rest) {
			t.Fatalf("the stream breaks off at %.60q: %v", head, err)
		}
		files[path], stream = rest[:n], rest[n:]
	}
	return files
}

func surveyed(t *testing.T, name string) groundin.Surveyed {
	t.Helper()
	on, err := demo.Surveyed(name)
	if err != nil {
		t.Fatal(err)
	}
	return on
}

// A dropped file is understood in a browser as it is by the server: the same preview, byte for byte, faults too.
func TestBrowserAndServerUnderstandAFileAlike(t *testing.T) {
	browser := module.Build(t)
	yaml, err := demo.File("hand-troughs")
	if err != nil {
		t.Fatal(err)
	}
	j := surveyed(t, "hand-troughs").Job
	points := []byte("name,easting,northing\nP1,1000.000,2000.000\nP2,1030.000,2000.000\nP3,1030.000,2012.500\n")
	line := []byte(`{"type":"LineString","coordinates":[[8.1,47.2],[8.1004,47.2],[8.1004,47.2002]]}`)
	for _, d := range []dropped.Drop{
		{As: dropped.AsJob, Files: []dropped.File{{Name: "hand-troughs.yaml", Bytes: yaml}}},
		{As: dropped.AsJob, Files: []dropped.File{{Name: "cut-off.yaml", Bytes: yaml[:len(yaml)/2]}}},
		{As: dropped.AsJob, Files: []dropped.File{{Name: "job.json", Bytes: job.CanonicalJSON(j)}}},
		{As: dropped.AsRoute, Files: []dropped.File{{Name: "points.csv", Bytes: points}}, Said: map[string]string{"line": "centreline", "unit": "m"}, Job: &j},
		{As: dropped.AsRoute, Files: []dropped.File{{Name: "line.geojson", Bytes: line}}, Said: map[string]string{"line": "centreline"}, Job: &j},
		{As: dropped.AsGround, Files: []dropped.File{{Name: "points.csv", Bytes: points}}, Job: &j},
		{As: dropped.AsServices, Files: []dropped.File{{Name: "points.csv", Bytes: points}}, Said: map[string]string{"clear": "300 mm"}, Job: &j},
		{As: "nothing", Files: []dropped.File{{Name: "points.csv", Bytes: points}}},
	} {
		question, err := json.Marshal(d)
		if err != nil {
			t.Fatal(err)
		}
		want, err := dropped.Ask(question, nil)
		if err != nil {
			want = []byte("error: " + err.Error())
		}
		if got := browser.Run(t, "read.cjs", question); !bytes.Equal(got, want) {
			t.Errorf("%s as %s:\n%.400s in the browser,\n%.400s here", d.Files[0].Name, d.As, got, want)
		} else {
			t.Logf("%s as %s: %.160s", d.Files[0].Name, d.As, got)
		}
	}
}
