package routein

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// Every file of ../shared/data that may be taken for a route becomes one, or is refused with a sentence and what to try. The
// log is the table.
func TestFilesFromOutside(t *testing.T) {
	var files []string
	for _, kind := range []string{"landxml/*.xml", "terrain/*", "geojson/*", "survey/*"} {
		more, _ := filepath.Glob("../../../shared/data/" + kind)
		files = append(files, more...)
	}
	if len(files) == 0 {
		t.Skip("SKIPPED, NOT CHECKED AGAINST THE OUTSIDE: no ../shared/data")
	}
	read := 0
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		name := filepath.Base(file)
		in, found := Read(bytes.NewReader(text), Want{File: name, Line: centreline, Together: true, Spiral: measure.Millimetre, Unit: measure.UnitMetre})
		if !found.Any(finding.Fault) {
			read++
			t.Logf("%-30s %s", name, in.Heard[0])
			continue
		}
		for _, f := range found {
			if f.Kind != finding.Fault {
				continue
			}
			if f.Text == "" || f.Try == "" || len(in.Route.Legs) > 0 {
				t.Errorf("%s: %v", name, f)
			}
			t.Logf("%-30s refused: %s", name, f.Text)
			break
		}
	}
	if read < 7 {
		t.Errorf("%d routes, want 7 at least", read)
	}
}
