package planner

import (
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/solve/cutstock"
	"trenchwright/solve/layout"
)

// A leg whose end pieces both lie between two mitres cannot keep a factory end: no figure is given for what is bought.
func TestLegThatCannotBeCutIsUndecided(t *testing.T) {
	s := spotSupply()
	s.Saw.KeepFactoryEnd = job.Known(false)
	s.Unit.Outer = job.Known(job.Section{Width: 600 * mm})
	mitred := layout.End{Mitred: true, Tan: 1}
	q := layout.Problem{Length: 1800 * mm, Start: mitred, End: layout.End{Mitred: true, Tan: -1}}
	a, err := OneLeg(q, s)
	if err != nil || a.Verdict != "found" || a.Count.Bought != 1 || a.Units[0].StartAngle != 45 || a.Units[0].EndAngle != -45 {
		t.Fatalf("%+v, %v", a, err)
	}
	s.Saw.KeepFactoryEnd = job.Known(true)
	if a, err = OneLeg(q, s); err != nil || a.Verdict == "found" || a.Count.Bought != 0 || a.Why == "" {
		t.Errorf("%+v, %v", a, err)
	}
}

// A leg too long for the programme claims nothing: that is an answer, not an error.
func TestUndecidedLegIsAnAnswer(t *testing.T) {
	s := spotSupply()
	s.Saw.NoCuts = true
	s.Unit.Lengths = job.Known([]measure.Length{3000_000_001, 2710_300_003, 2411_050_007, 2103_070_013, 1907_110_029, 1709_130_057})
	a, err := OneLeg(layout.Problem{Length: 700_000 * mm}, s)
	if err != nil || a.Verdict != "undecided" || a.Why == "" || len(a.Units) > 0 {
		t.Errorf("%s %q, %d units, %v", a.Verdict, a.Why, len(a.Units), err)
	}
}

// Where nobody entered saw figures, no limit of our own shows through.
func TestNoSawFiguresAsksForThem(t *testing.T) {
	s := spotSupply()
	s.Saw = job.SawRule{}
	for _, l := range []measure.Length{9700 * mm, 2990 * mm, 700 * mm} {
		a, err := OneLeg(layout.Problem{Length: l}, s)
		if err != nil || a.Verdict != "impossible" {
			t.Fatalf("%s: %+v, %v", l, a, err)
		}
		said := a.Why + strings.Join(a.Try, " ")
		if !strings.Contains(said, "saw figures") || strings.Contains(said, "000001") {
			t.Errorf("%s: %s", l, said)
		}
	}
}

// Over several lots nothing is claimed that the offcuts in the yard could undercut, whether a lot used them or not.
func TestBoundOverLotsLeavesRoomForEveryOffcut(t *testing.T) {
	p := cutstock.Problem{Kerf: 5 * mm, Pieces: []cutstock.Piece{{Length: 1000 * mm, Count: 6}},
		Stocks: []cutstock.Stock{cutstock.Unit("3000", 3000*mm), {ID: "rest", Length: 1500 * mm, Count: 3, Offcut: true}}}
	var l lots
	l.add(p, cutstock.Solution{Bought: 3, Bound: 2, Proven: true})
	l.add(p, cutstock.Solution{Bought: 3, Bound: 3, Proven: true})
	// 12 pieces of 1005 take ⌈12060/3005⌉ = 5 units by length, and three offcuts may stand for three of them.
	if got := l.least(); got != 2 {
		t.Errorf("at least %d", got)
	}
}
