package building

import (
	"slices"

	"trenchwright/job/field"
)

// corrected is a record that was wrong, and the one that took its place.
type corrected struct{ wrong, by string }

// paperDay are records of a day card that the office has yet to key.
type paperDay struct {
	due     int
	entries []entry
}

// note writes something down on a gang's device, or, where the gang works from a paper card today, on that.
func (s *site) note(g *gang, e entry) {
	if g.paper != s.day || s.day == 0 {
		s.write(g.device, e)
		return
	}
	if e.text != "" {
		e.text += "; "
	}
	e.text += "from the day card of " + g.device.person
	e.carded, e.after = true, append(g.device.book.Before(e.kind, e.from, e.to), e.after...)
	n := len(s.paper) - 1
	if n < 0 || s.paper[n].due != g.due {
		s.paper, n = append(s.paper, paperDay{due: g.due}), n+1
	}
	s.paper[n].entries = append(s.paper[n].entries, e)
}

// paperToday throws for whether a gang works from paper today, and how many days later its card is keyed.
func (s *site) paperToday() {
	for _, g := range s.gangs {
		if !s.calm && s.day > 0 && s.once(10) {
			g.paper, g.due = s.day, max(g.due, s.day+1+s.below(5)) // cards are keyed in their order
			s.surprise("paper day keyed late", nil, 0)
		}
	}
}

// keyPaper keys the cards that are due, at the office, with a photo of each.
func (s *site) keyPaper() {
	var left []paperDay
	for _, p := range s.paper {
		if p.due > s.day {
			left = append(left, p)
			continue
		}
		photo := s.photos(1)
		for _, e := range p.entries {
			e.photos = append(e.photos, photo...)
			s.write(s.office, e)
		}
	}
	s.paper = left
	s.paperToday()
}

// secondLook is somebody else who measures a joint without knowing that it was; now and then he reads it wrong. Where readings differ
// by more than both are good for, the engineer, once he sees both, measures once more.
func (s *site) secondLook() {
	if !s.calm && s.once(2) {
		l := pick(&s.dice, s.legs)
		if len(l.laid) > 1 && l.open() {
			k := 1 + s.below(len(l.laid)-1)
			left, right := l.walls(k)
			says := field.GapSays{Left: new(s.read(s.feel, left)), Right: new(s.read(s.feel, right)), Plus: s.feel.plus}
			if s.once(4) && len(s.engineer.book.Before(field.Gap, l.places[k].joint, "")) == 0 {
				*says.Left += 4 * mm // the gauge stood askew, and there was nothing to see it by
			}
			s.write(s.engineer, entry{kind: field.Gap, from: l.places[k].joint, says: says, instrument: gauge{name: "gap gauge 2"}.instrument()})
		}
	}
	s.settled = false
	if s.engineer.back <= s.day {
		s.meet(s.engineer)
		s.settled = s.settle()
	}
}

// open tells whether joints of a leg can still be seen.
func (l *leg) open() bool { return !l.handedOver() }

// settle measures once more what two people read differently; true where there is no such thing.
func (s *site) settle() bool {
	none := true
	for _, ls := range s.engineer.book.State("").Legs {
		for n := range ls.Units {
			u := ls.Units[n]
			apart := func(m *field.Measured) bool { return m != nil && !m.Known }
			if apart(u.Left) || apart(u.Right) {
				none = false
				s.surprise("readings differ", nil, 0)
				s.tell("Two people read the joint after %s differently; it was measured once more.", u.Place)
				if l, k := s.jointAfter(ls.ID, u.Place); l != nil {
					s.gapRead(s.engineer, l, k)
				}
			}
			for _, c := range u.Covers {
				if c.Laid.Is == field.CantSay {
					none = false
					s.surprise("facts differ", nil, 0)
					s.tell("A card that was keyed late says otherwise of cover %s than what was recorded meanwhile; somebody looked.", c.Place)
					s.write(s.engineer, entry{kind: field.Cover, from: c.Place, says: field.CoverSays{Done: map[bool]string{true: "laid", false: "lifted"}[s.coverLies(c.Place)]}})
				}
			}
			if l, k := s.find(ls.ID, u.Place); l != nil && apart(u.End) {
				none = false
				s.measureEnd(s.engineer, l, k)
			}
		}
	}
	return none
}

// agreed tells whether nobody read anything differently from others, as far as the engineer knows.
func (s *site) agreed() bool {
	for _, ls := range s.engineer.book.State("").Legs {
		for _, u := range ls.Units {
			for _, m := range []*field.Measured{u.Left, u.Right, u.End} {
				if m != nil && !m.Known {
					return false
				}
			}
			if slices.ContainsFunc(u.Covers, func(c field.CoverState) bool { return c.Laid.Is == field.CantSay }) {
				return false
			}
		}
	}
	return true
}

// coverLies looks at a cover.
func (s *site) coverLies(name string) bool {
	for _, l := range s.legs {
		for k := range l.laid {
			for _, c := range l.laid[k].lids {
				if c.name == name {
					return c.lies
				}
			}
		}
	}
	return false
}

// find is a unit that lies, by its place.
func (s *site) find(id, place string) (*leg, int) {
	for _, l := range s.legs {
		if l.id != id {
			continue
		}
		for k := range l.laid {
			if l.laid[k].place == place {
				return l, k
			}
		}
	}
	return nil, 0
}

// jointAfter is the unit behind a joint, in laying order, where the joint is the one after a place on its leg's axis.
func (s *site) jointAfter(id, place string) (*leg, int) {
	for _, l := range s.legs {
		if l.id != id {
			continue
		}
		for k := 1; k < len(l.laid); k++ {
			if l.places[k].before == place {
				return l, k
			}
		}
	}
	return nil, 0
}

// keyedWrong is a figure with the wrong sign and a slipped comma, noticed and corrected at once.
func (s *site) keyedWrong(g *gang, set entry, right field.SetSays) {
	s.surprise("wrong figure keyed", nil, 0)
	wrong := right
	wrong.Off = []field.Off{{Place: right.Off[0].Place, By: 10*mm - 7*right.Off[0].By}}
	first := set
	first.says = wrong
	id := s.write(g.device, first)
	set.corrects, set.text = id, "sign and figure put right"
	s.checks = append(s.checks, corrected{id, s.write(g.device, set)})
}
