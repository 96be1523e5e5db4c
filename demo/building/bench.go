package building

import (
	"fmt"

	"trenchwright/base/measure"
	"trenchwright/job/field"
)

// bench is the mark that levels are taken from, and what was shot from it since it was last seen to be right.
type bench struct {
	lie   measure.Length // how far it was bumped
	setUp int
	since []shot
	found int // nonconformances of it so far
}

// shot is a bed that was read.
type shot struct {
	leg   *leg
	place string
}

func (b *bench) good() bool { return b.lie == 0 }

func (b *bench) instrument() *field.Instrument {
	return &field.Instrument{ID: "level 2", Checked: "2026-03-30", SetUp: fmt.Sprintf("set-up %d", b.setUp+1)}
}

// loop closes the levels against a second mark every third day. Where it does not close, all that was shot since it last did is made
// again and shot again.
func (s *site) loop() {
	if !s.calm && s.bench.good() && s.once(40) {
		s.bench.lie = measure.Length(4+s.below(10)) * measure.Millimetre
		if s.once(2) {
			s.bench.lie = -s.bench.lie
		}
	}
	s.bench.setUp++
	if s.day%3 != 2 {
		return
	}
	if s.bench.good() {
		s.bench.since = nil
		return
	}
	s.bench.found++
	number := fmt.Sprintf("NC-BM-%d", s.bench.found)
	s.surprise("benchmark bumped", nil, 0)
	s.tell("The loop does not close: the mark was bumped by %s. %s shot since the last good loop.", s.bench.lie, plural(len(s.bench.since), "bed"))
	s.write(s.engineer, entry{kind: field.Nonconforming, says: field.MatterSays{Number: number}, text: "levels do not close between the two marks", instrument: s.bench.instrument()})
	s.bench.lie = 0
	s.bench.setUp++
	for _, at := range s.bench.since {
		t := at.leg.beds[at.place]
		for c := range t.lies {
			t.lies[c] = s.bedCorner()
		}
		at.leg.beds[at.place] = t
		t.id = s.shoot(at.leg, at.place, 0, t.id)
		at.leg.beds[at.place] = t
	}
	s.bench.since = nil
	s.write(s.engineer, entry{kind: field.Repair, says: field.MatterSays{Number: number, Closed: true, By: s.engineer.person}, text: "beds made again and shot again from the other mark; units on them lifted and bedded anew"})
}
