package web_test

import (
	"bytes"
	"flag"
	"os"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/view/jobtext"
)

var update = flag.Bool("update", false, "write the starter anew")

// Browsers make a new job from the same starter as the program, as JSON: they hold no reader for what is written by hand.
func TestStarterOfBrowsersIsTheProgramsOwn(t *testing.T) {
	j, found := jobtext.Read("starter.yaml", strings.NewReader(demo.Starter()))
	if found.Any(finding.Fault) {
		t.Fatal(found)
	}
	want := job.CanonicalJSON(j)
	if *update {
		if err := os.WriteFile("static/starter.json", want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile("static/starter.json")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Error("web/static/starter.json is not demo's starter any more: go test ./web -update")
	}
}
