package building

import (
	"trenchwright/base/measure"
	"trenchwright/job/field"
)

// levelAt names what has a level: the formation, a bed or pad, a wall, a floor, at one place.
type levelAt struct{ place, of string }

// levelTruth is how that lies: its wanted level at the four corners of the unit, named along the leg whichever way it is laid, and by
// how much each corner lies off it.
type levelTruth struct {
	id         string // of the last reading of it
	want, lies [4]measure.Length
}

// dig opens a stretch: the formation, now and then a trial hole, now and then a service that nobody knew of.
func (s *site) dig(g *gang, l *leg, x *stretch) {
	from, to := l.places[x.from].name, l.places[x.to].name
	e := entry{kind: field.Level, from: from, to: to, says: field.LevelSays{Of: "formation", Within: new(true), Plus: s.rod.plus}, instrument: s.bench.instrument(), rule: s.job.Rules.From}
	if s.wantedBefore("bed", "photo") {
		e.photos = s.photos(1)
	}
	s.write(g.device, e)
	for k := x.from; k <= x.to; k++ {
		l.dug[l.places[k].name] = true
		s.formationFor(l, k)
	}
	if x.from == 0 {
		s.bendAt(g, l)
	}
	s.services(g, l, x)
}

// formationFor reads the formation under one place, where the contract wants figures of it.
func (s *site) formationFor(l *leg, k int) {
	q := &l.places[k]
	at := levelAt{q.name, "formation"}
	want, planned := q.levels["formation"]
	if _, made := l.levels[at]; made || !planned || !s.wantsRead(q.name, "formation") || s.forgets(q.name, "formation") {
		return
	}
	t := levelTruth{want: want}
	for c := range t.lies {
		t.lies[c] = s.corner(s.job.Rules.FormationTol.Value) + s.bench.lie
	}
	s.shoot(l, at, t, "")
}

// bed makes the bed of a stretch and reads its four corners under every unit; what lies off by more than its rule is made again first.
func (s *site) bed(g *gang, l *leg, x *stretch) {
	for k := x.from; k <= x.to; k++ {
		s.bedFor(l, k)
	}
}

// bedFor makes the bed of one place, where it has none.
func (s *site) bedFor(l *leg, k int) {
	q := &l.places[k]
	at := levelAt{q.name, "bed"}
	want, planned := q.levels["pad"]
	if planned {
		at.of = "pad"
	} else {
		want, planned = q.levels["bed"]
	}
	if _, made := l.levels[at]; made || !planned {
		return // where no levels were planned the string line says where it lies
	}
	t := levelTruth{want: want}
	for c := range t.lies {
		t.lies[c] = s.corner(s.job.Rules.BedTol.Value) + s.bench.lie // whoever levels from a wrong mark makes the bed wrong, and reads it right
	}
	s.shoot(l, at, t, "")
}

// onBed are the walls or the floor of a unit that lies on its bed: its ends are as high as their bed, and it is as tall as it is.
func (s *site) onBed(l *leg, k int, of string) (levelTruth, bool) {
	q, u := &l.places[k], &l.laid[k]
	want, planned := q.levels[of]
	bed, padded := l.levels[levelAt{q.name, "pad"}]
	if !padded {
		bed, padded = l.levels[levelAt{q.name, "bed"}]
	}
	t := levelTruth{want: want}
	for c := range t.lies {
		end := c / 2 * 2
		t.lies[c] = bed.want[c] - q.bed()[c] + (bed.lies[end]+bed.lies[end+1])/2 + u.tall
	}
	return t, planned && padded
}

// tops reads the wall tops and the floor of a unit, as far as the contract wants them before they are hidden.
func (s *site) tops(l *leg, k int) {
	for _, of := range []string{"wall", "invert"} {
		if t, ok := s.onBed(l, k, of); ok && s.wanted(l.places[k].name, of) && !s.forgets(l.places[k].name, of) {
			s.shoot(l, levelAt{l.places[k].name, of}, t, "")
		}
	}
}

// shoot reads the four corners of something from the mark as it is, and keeps how it lies.
func (s *site) shoot(l *leg, at levelAt, t levelTruth, corrects string) {
	says := field.LevelSays{Of: at.of, Plus: s.rod.plus}
	for c := range t.lies {
		says.Four = append(says.Four, s.read(s.rod, t.want[c]+t.lies[c]-s.bench.lie))
	}
	t.id = s.write(s.engineer, entry{kind: field.Level, from: at.place, says: says, instrument: s.bench.instrument(), rule: s.job.Rules.From, corrects: corrects})
	l.levels[at] = t
	if corrects == "" {
		s.bench.since = append(s.bench.since, shot{l, at})
	}
}

// corner is how far a corner lies off its level once it is made: within the contract's figure, for it is made again until it does.
func (s *site) corner(tolerance measure.Length) measure.Length {
	if tolerance <= s.rod.plus {
		tolerance = 3 * measure.Millimetre
	}
	return min(max(s.about(tolerance/3), s.rod.plus-tolerance), tolerance-s.rod.plus)
}
