package jobtext

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

const oneSupply = `id: trough
from: D1
unit: {lengths: [2400 mm], outer: {value: 620 mm x 500 mm, from: D7, page: 3}}
joint: {gap: 10 mm in 7 mm..14 mm}
saw: {shortest: 600 mm, kerf: {assumed: 5 mm, note: measured on two}}
`

// A supply alone is the same as the one of a job.
func TestReadSupply(t *testing.T) {
	alone, faults := ReadSupply("supply.yaml", strings.NewReader(oneSupply))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	whole := "format: 1\nname: x\ndocuments: [{id: D1, title: a}, {id: D7, title: b}]\nroute: {walk: [9 m]}\nsupplies:\n  - " +
		strings.ReplaceAll(strings.TrimRight(oneSupply, "\n"), "\n", "\n    ") + "\n"
	inJob, faults := ReadSupply("job.yaml", strings.NewReader(whole))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if diff := cmp.Diff(inJob, alone); diff != "" {
		t.Error(diff)
	}
	if alone.ID != "trough" || !alone.Saw.Kerf.Assumed || alone.Unit.Outer.From != "D7" {
		t.Errorf("%+v", alone)
	}
}

// Faults point into the text that was given, not into what was put around it.
func TestReadSupplyFaults(t *testing.T) {
	_, faults := ReadSupply("supply.yaml", strings.NewReader("id: trough\ncolour: red\nunit: {lengths: [2400]}\njoint: {gap: 10 mm}\n"))
	if len(faults) != 2 || faults[0].Where.Line != 2 || faults[1].Where.Line != 3 || faults[1].Where.Path != "unit.lengths[0]" {
		t.Errorf("%+v", faults)
	}
	for name, text := range map[string]string{"": "", "list": "- 1\n", "word": "trough", "job": "format: 1\nsupplies: []\n", "json": "{\"id\":"} {
		s, faults := ReadSupply(name+".yaml", strings.NewReader(text))
		if len(faults) == 0 {
			t.Errorf("%q was read as %+v", text, s)
		}
		for _, f := range faults {
			if strings.Contains(f.Where.Path, "supplies[0]") {
				t.Errorf("%q: %v", text, f)
			}
		}
	}
}

func FuzzReadSupply(f *testing.F) {
	f.Add(oneSupply)
	f.Add("{\"id\": \"x\", \"from\": \"500 mm\"}")
	f.Add("supplies: [{id: a, from: a}]\nfrom: [a]")
	f.Fuzz(func(t *testing.T, text string) {
		for _, name := range []string{"x.yaml", "x.json"} {
			if s, faults := ReadSupply(name, strings.NewReader(text)); len(faults) == 0 && (s.ID == "" || len(s.Unit.Lengths.Value) == 0) {
				t.Errorf("no fault, and no supply: %+v", s)
			}
		}
	})
}
