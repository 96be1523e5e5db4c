package pack

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/demo"
	"trenchwright/job/planner"
	"trenchwright/view/groundin"
)

// A job on its ground has the long section among its sheets, and set-out cards four to a page; the same job without it has
// neither.
func TestAPackOnGroundHasLevels(t *testing.T) {
	j := read(t, "tram-depot")
	g, found := groundin.Survey(j, demo.Open)
	if found.Any(finding.Fault) {
		t.Fatal(found)
	}
	cards, sections, document := 0, 0, []byte(nil)
	for _, f := range Files(planner.Make(g.Job, g.Surfaces...), g.Job) {
		switch {
		case strings.HasPrefix(f.Name, "svg/levels-"):
			cards++
		case strings.HasPrefix(f.Name, "svg/section-"):
			sections++
		case f.Name == "set-out-cards-A4.pdf":
			var err error
			if document, err = f.Make(); err != nil {
				t.Fatal(err)
			}
		}
	}
	if cards == 0 || sections == 0 || !bytes.Contains(document, []byte(fmt.Sprintf("/Count %d", (cards+3)/4))) {
		t.Errorf("%d cards, %d sections, %d bytes of cards on A4", cards, sections, len(document))
	}
	for _, f := range Files(planner.Make(j), j) {
		if strings.Contains(f.Name, "levels-") || strings.Contains(f.Name, "section-") || strings.HasPrefix(f.Name, "set-out-cards") {
			t.Errorf("%s without levels", f.Name)
		}
	}
}
