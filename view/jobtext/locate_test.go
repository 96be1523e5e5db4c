package jobtext

import (
	"testing"

	"trenchwright/base/finding"
)

// A fault of the geometry points at the line that it speaks of; where its path is not written, at what is around it.
func TestLocate(t *testing.T) {
	const text = "name: x\nroute:\n  nodes:\n    - {id: N1, at: [0, 0]}\n    - {id: N2, at: [9, 0]}\n"
	for path, want := range map[string]string{
		"route.nodes[1]":       "job.yaml:5:7: fault: apart\n        - {id: N2, at: [9, 0]}\n          ^",
		"route.nodes[1].level": "job.yaml:5:7: fault: apart\n        - {id: N2, at: [9, 0]}\n          ^",
		"route.nodes[0].at[1]": "job.yaml:4:24: fault: apart\n        - {id: N1, at: [0, 0]}\n                           ^",
		"rules":                "job.yaml:1:1: fault: apart\n    name: x\n    ^",
	} {
		in := finding.List{
			{ID: "x.note", Kind: finding.Note, Text: "as it is", Where: finding.Where{Path: path}},
			{ID: "x.apart", Kind: finding.Fault, Text: "apart", Where: finding.Where{Path: path}},
		}
		got := Locate("job.yaml", []byte(text), in)
		if printed(got[1]) != want+"\n" || got[0] != in[0] || in[1].Where.Line != 0 {
			t.Errorf("%s:\n%s\nwant\n%s", path, printed(got[1]), want)
		}
	}
	broken := finding.List{{ID: "x.apart", Kind: finding.Fault, Text: "apart", Where: finding.Where{Path: "route"}}}
	if got := Locate("job.yaml", []byte("a: ["), broken); got[0] != broken[0] {
		t.Errorf("%+v", got)
	}
}
