package field

import (
	"strings"
	"testing"

	"trenchwright/base/measure"
)

// Two people who measured the same without knowing of each other: both stay, and what they differ by is told. Where the readings
// agree as well as they can, the better one counts. Who knew of the other has the last word; a correction takes its record away.
func TestTwoWhoMeasuredTheSame(t *testing.T) {
	g := people(t)
	off := func(by measure.Length, plus measure.Length) SetSays {
		return SetSays{Off: []Off{{Place: "A-002", By: by}}, Plus: plus}
	}
	one := g.makes("a", Set, "A-002", "", off(7*mm, mm))
	two := g.makes("b", Set, "A-002", "", off(12*mm, mm))
	s := stateOf(one, two)
	if e := s.at("A-002").End; e == nil || e.Known || len(e.Readings) != 2 || !strings.Contains(said(s), "Readings of the end of A-002 differ by more than they are good for") ||
		!strings.Contains(said(s), "p of a") || !strings.Contains(said(s), "p of b") {
		t.Errorf("7 and 12 mm: %+v\n%s", e, said(s))
	}
	near := g.makes("b", Set, "A-002", "", off(84*mm/10, mm/2))
	if e := stateOf(one, near).at("A-002").End; e == nil || !e.Known || e.Value != 84*mm/10 {
		t.Errorf("7±1 and 8.4±0.5 mm: %+v", e)
	}
	knew := g.makes("c", Set, "A-002", "", off(9*mm, mm), one.ID, two.ID)
	if e := stateOf(knew, two, one).at("A-002").End; e == nil || !e.Known || e.Value != 9*mm || len(e.Readings) != 1 {
		t.Errorf("who knew of both read 9 mm: %+v", e)
	}
	corrected := g.makes("c", Set, "A-002", "", off(7*mm, mm))
	corrected.Corrects = two.ID
	if e := stateOf(corrected, two, one).at("A-002").End; e == nil || !e.Known || e.Value != 7*mm {
		t.Errorf("the 12 mm were a slip: %+v", e)
	}
}

// What an inspector reads stands beside what was read by those who build, whoever knew of whom; where the two differ by more than both
// are good for, that is said. Where nobody else read it, it counts.
func TestInspectorBeside(t *testing.T) {
	g := people(t)
	read := func(device string, of measure.Length, after ...string) Record {
		return g.makes(device, Gap, "A-001", "", GapSays{new(of), new(of), mm}, after...)
	}
	ours := read("a", 10*mm)
	theirs := read("b", 13*mm, ours.ID)
	theirs.Role = "Inspector of the owner"
	s := stateOf(theirs, ours)
	if m := s.at("A-001").Left; !m.Known || m.Value != 10*mm || m.Check == nil || m.Check.Value != 13*mm {
		t.Fatalf("%+v", m)
	}
	if !strings.Contains(said(s), "10 mm by p of a") || !strings.Contains(said(s), "13 mm by p of b") {
		t.Error(said(s))
	}
	again := read("a", 13*mm, ours.ID, theirs.ID)
	if s := stateOf(theirs, again, ours); len(s.Findings) > 0 || s.at("A-001").Left.Value != 13*mm {
		t.Error(said(s))
	}
	if m := stateOf(theirs).at("A-001").Left; m.Value != 13*mm || m.Check != nil {
		t.Errorf("%+v", m)
	}
}
