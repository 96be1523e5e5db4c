package job

import (
	"slices"
	"strings"
	"testing"
)

// What contradicts itself among the points and pegs of a set-out is a fault of its own, and the sample has none.
func TestFaultsOfTheSetOut(t *testing.T) {
	for _, one := range []struct {
		id    string
		spoil func(*SetOut)
	}{
		{"job.missing-field", func(s *SetOut) { s.Benchmarks[1].Where = "" }},
		{"job.same-place", func(s *SetOut) { s.Benchmarks[1].At = s.Benchmarks[0].At }},
		{"job.same-place", func(s *SetOut) { s.Control[1].At = s.Control[0].At }},
		{"job.id-twice", func(s *SetOut) { s.Control[1].ID = "BM1" }},
		{"job.id-twice", func(s *SetOut) { s.Benchmarks[1].ID = "bm1" }},
		{"job.twice", func(s *SetOut) { s.Pegs = append(s.Pegs, Pegs{Leg: "A", Side: "left", Offset: s.Pegs[0].Offset}) }},
		{"job.pegs-leg", func(s *SetOut) { s.Pegs[1].Leg, s.Pegs[1].Side, s.Pegs = "", "left", s.Pegs[1:] }},
		{"job.reference", func(s *SetOut) { s.Pegs[1].Leg = "Z" }},
		{"job.reference", func(s *SetOut) { s.Benchmarks[0].From = "D9" }},
	} {
		j := sample(t)
		one.spoil(&j.SetOut)
		list := Faults(j)
		if len(list) != 1 || list[0].ID != one.id {
			t.Errorf("%s was expected once: %v", one.id, list)
		}
	}
}

// Nothing to set out from is said with whom to ask; one point alone is held against nothing.
func TestWhatASetOutLacks(t *testing.T) {
	said := func(j Job) []string {
		var out []string
		for _, f := range Missing(j) {
			if strings.HasPrefix(f.Where.Path, "set_out") {
				out = append(out, f.Text)
			}
		}
		return out
	}
	j := sample(t)
	if got := said(j); len(got) > 0 {
		t.Errorf("the sample lacks %v", got)
	}
	j.SetOut.Benchmarks, j.SetOut.Control = j.SetOut.Benchmarks[:1], j.SetOut.Control[:1]
	want := []string{"NOT CHECKED: no second temporary benchmark to check BM1 against on file. Ask: the surveyor",
		"NOT CHECKED: no second control point to look back to from CP1 on file. Ask: the surveyor"}
	if got := said(j); !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
	j.SetOut = SetOut{}
	want = []string{"NOT CHECKED: no temporary benchmark on file. Ask: the surveyor", "NOT CHECKED: no control point on file. Ask: the surveyor",
		"NOT CHECKED: no offset peg on file, and those on the centreline are dug away. Ask: the surveyor"}
	if got := said(j); !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
}
