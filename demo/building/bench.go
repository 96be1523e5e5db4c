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

// shot is something whose level was read.
type shot struct {
	leg *leg
	at  levelAt
}

func (b *bench) good() bool { return b.lie == 0 }

func (b *bench) instrument() *field.Instrument {
	return &field.Instrument{ID: "level 2", Checked: "2026-03-30", Certificate: "invented 2", Due: "2027-03-30", SetUp: fmt.Sprintf("set-up %d", b.setUp+1)}
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
	s.tell("The loop does not close: the mark was bumped by %s. %s shot since the last good loop.", s.bench.lie, plural(len(s.bench.since), "level"))
	s.write(s.engineer, entry{kind: field.Nonconforming, says: field.MatterSays{Number: number}, text: "levels do not close between the two marks", instrument: s.bench.instrument()})
	s.bench.lie = 0
	s.bench.setUp++
	for _, x := range s.bench.since {
		s.again(x)
	}
	s.bench.since = nil
	s.write(s.engineer, entry{kind: field.Repair, says: field.MatterSays{Number: number, Closed: true, By: s.engineer.person}, text: "beds made again and shot again from the other mark; units on them lifted and bedded anew"})
}

// again makes a bed that was shot from the wrong mark once more, and shoots it again; so it does with what lies on that bed, or was
// only read from there.
func (s *site) again(x shot) {
	t := x.leg.levels[x.at]
	if x.at.of == "wall" || x.at.of == "invert" {
		s.topsAgain(x.leg, x.at)
		return
	}
	tolerance := s.job.Rules.BedTol.Value
	if x.at.of == "formation" {
		tolerance = s.job.Rules.FormationTol.Value
	}
	for c := range t.lies {
		t.lies[c] = s.corner(tolerance)
	}
	s.shoot(x.leg, x.at, t, t.id)
	for _, of := range []string{"wall", "invert"} {
		s.topsAgain(x.leg, levelAt{x.at.place, of})
	}
}

// topsAgain shoots walls or a floor that were read once more, as they lie now.
func (s *site) topsAgain(l *leg, at levelAt) {
	old, read := l.levels[at]
	if !read {
		return
	}
	for k := range l.laid {
		if l.laid[k].place == at.place {
			if t, ok := s.onBed(l, k, at.of); ok {
				s.shoot(l, at, t, old.id)
			}
		}
	}
}
