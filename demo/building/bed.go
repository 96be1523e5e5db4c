package building

import (
	"trenchwright/base/measure"
	"trenchwright/job/field"
)

// dig opens a stretch: the formation, now and then a trial hole, now and then a service that nobody knew of.
func (s *site) dig(g *gang, l *leg, x *stretch) {
	from, to := l.places[x.from].name, l.places[x.to].name
	s.write(g.device, entry{kind: field.Level, from: from, to: to, says: field.LevelSays{Of: "formation", Within: new(true), Plus: s.rod.plus}, instrument: s.bench.instrument(), rule: s.job.Rules.From})
	if x.from == 0 {
		s.bendAt(g, l)
	}
	s.services(g, l, x)
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
	if _, made := l.beds[q.name]; made || q.levels[0] == nil || q.levels[1] == nil {
		return // where no levels were planned the string line says where it lies
	}
	t := bedTruth{of: "bed", want: [2]measure.Length{measure.FromMetres(*q.levels[0]), measure.FromMetres(*q.levels[1])}}
	if l.made.Bearing.On.Value == "pads" {
		t.of = "pad"
	}
	if l.back { // corners are named along the leg, whichever way it is laid
		t.want[0], t.want[1] = t.want[1], t.want[0]
	}
	for c := range t.lies {
		t.lies[c] = s.bedCorner() + s.bench.lie // whoever levels from a wrong mark makes the bed wrong, and reads it right
	}
	l.beds[q.name] = t
	t.id = s.shoot(l, q.name, s.bench.lie, "")
	l.beds[q.name] = t
	s.bench.since = append(s.bench.since, shot{l, q.name})
}

// shoot reads the four corners of a bed from a mark that lies off by so much.
func (s *site) shoot(l *leg, name string, lie measure.Length, corrects string) string {
	t := l.beds[name]
	says := field.LevelSays{Of: t.of, Plus: s.rod.plus}
	for c := range t.lies {
		says.Four = append(says.Four, s.read(s.rod, t.want[c/2]+t.lies[c]-lie))
	}
	return s.write(s.engineer, entry{kind: field.Level, from: name, says: says, instrument: s.bench.instrument(), rule: s.job.Rules.From, corrects: corrects})
}

// bedTruth is how a bed lies: wanted at both ends, and by how much each corner lies off.
type bedTruth struct {
	of   string
	id   string // of the reading of it
	want [2]measure.Length
	lies [4]measure.Length
}

// bedCorner is how far a corner lies off its level once the bed is made: within the contract's figure, for it is made again until it
// does.
func (s *site) bedCorner() measure.Length {
	tol := s.job.Rules.BedTol.Value
	if tol <= s.rod.plus {
		tol = 3 * measure.Millimetre
	}
	return min(max(s.about(tol/3), s.rod.plus-tol), tol-s.rod.plus)
}
