package pack

import (
	"bytes"
	"testing"

	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/jobtext"
)

func read(t testing.TB, name string) job.Job {
	t.Helper()
	text, err := demo.File(name)
	if err != nil {
		t.Fatal(err)
	}
	j, faults := jobtext.Read(name+".yaml", bytes.NewReader(text))
	if len(faults) > 0 {
		t.Fatalf("%s has faults: %v", name, faults)
	}
	return j
}

// The whole way of the largest demo from its plan to the bytes of every file.
func BenchmarkPack(b *testing.B) {
	j := read(b, "tram-depot")
	p := planner.Make(j)
	for b.Loop() {
		for _, f := range Files(p, j) {
			if _, err := f.Make(); err != nil {
				b.Fatal(err)
			}
		}
	}
}
