package pack

import (
	"strings"
	"testing"

	"trenchwright/job/planner"
	"trenchwright/job/planner/randomjob"
)

// TestRandomJobsMakeWholePacks writes the packs of random networks, legs that are impossible among them: every file is
// made, whatever was planned. Pictures are left out but for one, for they are drawn of the same marks.
func TestRandomJobsMakeWholePacks(t *testing.T) {
	seeds := uint64(15)
	if testing.Short() {
		seeds = 8
	}
	for seed := range seeds {
		j := randomjob.Job(1000 + seed)
		for _, f := range Files(planner.Make(j), j) {
			if strings.HasPrefix(f.Name, "png/") && f.Name != "png/strip-1.png" {
				continue
			}
			if b, err := f.Make(); err != nil || len(b) == 0 {
				t.Errorf("seed %d: %s: %d bytes, %v", 1000+seed, f.Name, len(b), err)
			}
		}
	}
}
