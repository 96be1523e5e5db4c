package building

import (
	"slices"

	"trenchwright/base/measure"
	"trenchwright/job/field"
)

// cover lays the covers of a stretch, each unit's on that unit alone; those that are not in the yard are laid when they come.
func (s *site) cover(g *gang, l *leg, x *stretch) bool {
	from, to := l.places[x.from].name, l.places[x.to].name
	first := true
	says := field.CoverSays{Done: "laid"}
	var late []string
	for k := x.from; k <= x.to && k < len(l.laid); k++ {
		u := &l.laid[k]
		if u.lids == nil {
			s.layLids(l, u, &l.places[k])
		}
		for i := range u.lids {
			c := &u.lids[i]
			if c.lies {
				first = false
				continue
			}
			if c.lies = s.takePiece(c.piece); !c.lies {
				says.Missing = append(says.Missing, c.name)
				continue
			}
			late = append(late, c.name)
			if c.trimmed {
				says.Trimmed = append(says.Trimmed, c.name)
			}
		}
	}
	if first && len(late) > 0 {
		s.note(g, entry{kind: field.Cover, from: from, to: to, says: says})
	} else {
		for _, name := range late {
			s.note(g, entry{kind: field.Cover, from: name, says: field.CoverSays{Done: "laid"}, text: "came later"})
		}
	}
	return len(says.Missing) == 0
}

// layLids is where the covers of a unit come to lie: each a little off its length, its gap as drawn or as narrow as it may be; where
// they do not go on even so, the longest is trimmed.
func (s *site) layLids(l *leg, u *unit, q *place) {
	var w measure.Window
	if l.made.Cover != nil {
		w = l.made.Cover.Gap.Value
	}
	from, to := u.start+u.skew[0].Abs(), u.end-u.skew[1].Abs()
	u.lids = []lid{}
	var sum measure.Length
	for _, c := range q.covers {
		long := c.length + s.within(mm/2)
		u.lids = append(u.lids, lid{name: c.name, piece: c.piece, end: long})
		sum += long
	}
	n := measure.Length(len(u.lids))
	if n == 0 {
		return
	}
	gap := w.Nominal
	if n > 1 {
		gap = min(max((to-from-sum)/(n-1), w.Min), w.Nominal)
	}
	if over := sum + (n-1)*gap - (to - from); over > 0 {
		i := longestOf(u.lids)
		trim := (over/mm + 1) * mm
		u.lids[i].end -= trim
		u.lids[i].trimmed = true
		sum -= trim
		s.surprise("cover trimmed", nil, 1)
		s.tell("The covers of %s are %s longer than the unit leaves; %s was trimmed by %s.", u.place, s.size(measure.MM(over)), u.lids[i].name, s.size(measure.MM(trim)))
	}
	at := from + (to-from-sum-(n-1)*gap)/2
	for i := range u.lids {
		long := u.lids[i].end
		u.lids[i].start, u.lids[i].end = at, at+long
		at += long + gap
	}
}

func longestOf(lids []lid) int {
	best := 0
	for i := range lids {
		if lids[i].end > lids[best].end {
			best = i
		}
	}
	return best
}

// cables hands a stretch to the cable gang: covers are lifted, laid again, and tested where they lie.
func (s *site) cables(g *gang, l *leg, x *stretch) {
	from, to := l.places[x.from].name, l.places[x.to].name
	s.note(g, entry{kind: field.Area, from: from, to: to, says: field.AreaSays{To: "cables", By: "civil", Condition: "swept, dry, edges off"}, photos: s.photos(1)})
	if s.once(2) {
		s.note(g, entry{kind: field.Cover, from: from, to: to, says: field.CoverSays{Done: "lifted"}, text: "for the cables"})
		s.note(g, entry{kind: field.Cover, from: from, to: to, says: field.CoverSays{Done: "laid"}, text: "laid again, each in its place"})
	}
	s.note(g, entry{kind: field.Area, from: from, to: to, says: field.AreaSays{To: "civil", By: "cables", Condition: "cables in, covers back"}})
	for k := x.from; k <= x.to && k < len(l.laid); k++ {
		met := s.calm || !s.once(25)
		test := entry{kind: field.CoverTest, from: l.places[k].name, says: field.TestSays{Method: "rock, step, gap", Met: &met}}
		if !met {
			s.surprise("test failed", nil, 0)
			s.note(g, test)
			test.says, test.text = field.TestSays{Method: "rock, step, gap", Met: new(true)}, "bearing swept, seated again"
		}
		s.note(g, test)
	}
}

// onOneUnit tells whether the covers of a unit lie wholly on it and beside each other, to the nanometre.
func (u *unit) onOneUnit() bool {
	from, to := u.start+u.skew[0].Abs(), u.end-u.skew[1].Abs()
	at := from
	return !slices.ContainsFunc(u.lids, func(c lid) bool {
		bad := c.start < at || c.end > to || c.end <= c.start
		at = c.end
		return bad
	})
}
