package building

import (
	"fmt"

	"trenchwright/base/measure"
	"trenchwright/job/field"
	"trenchwright/job/planner"
)

const mm = measure.Millimetre

// setStretch sets the units of a stretch as the program answers, one by one; false where it has to stop for today.
func (s *site) setStretch(g *gang, l *leg, x *stretch) bool {
	last := x == l.stretches[len(l.stretches)-1]
	for last || len(l.laid) <= x.to {
		r := l.asked
		if r == nil || l.from == len(l.laid) {
			r = s.ask(g, l) // all that lies is recorded
		}
		n, ok := l.nextOf(r, len(l.laid))
		switch {
		case r.Answer == planner.Stopped:
			s.stopped(g, l)
			return false
		case r.Answer == planner.CannotSay:
			s.measureEnd(g.device, l, len(l.laid)-1)
			continue
		case r.Answer == planner.NoAnswer:
			if s.noLayout(l) {
				s.stopped(g, l)
				return false
			}
			return s.stuck(g, l)
		case r.Answer == planner.OtherPiece:
			if err := s.taken(l, r); err != nil || l.takes > mostTaken {
				l.trouble = fmt.Sprint("an answer cannot be taken: ", err)
				return false
			}
			l.takes++
			continue
		case !ok:
			return true // all that is to lie lies
		case l.from < len(l.laid) && (n.cut || len(l.laid) == len(l.places)-1):
			s.recordEnd(g, l) // a piece is cut, and a leg closed, from a measurement
			continue
		}
		if !s.setOne(g, l, n) {
			if l.from < len(l.laid) {
				s.recordEnd(g, l) // nobody goes home with what he set in his head
			}
			return false
		}
		g.did++
	}
	return true
}

// mostTaken is how often a leg is planned anew before somebody asks why.
const mostTaken = 40

// setOne sets one unit: it is taken from the yard, cut where it has to be, set to the gap that is held, and read.
func (s *site) setOne(g *gang, l *leg, n step) bool {
	k := len(l.laid)
	q := &l.places[k]
	piece := field.Piece{Supply: q.supply, What: "unit", Length: n.stock}
	if !s.takePiece(piece) {
		return false
	}
	if !l.dug[q.name] { // it was not planned when the stretch was dug
		l.dug[q.name] = true
		s.write(g.device, entry{kind: field.Level, from: q.name, says: field.LevelSays{Of: "formation", Within: new(true), Plus: s.rod.plus}, instrument: s.bench.instrument(), rule: s.job.Rules.From, photos: s.photos(1)})
		s.formationFor(l, k)
	}
	s.bedFor(l, k)
	lot := s.yard.lots[piece]
	if !s.calm && s.once(60) {
		s.cracked(g, l, piece)
		return false // another one comes, or is taken tomorrow
	}
	closer := s.closing(g, l, &n, q)
	u := unit{cut: n.cut, place: q.name, ref: q.start + q.take, piece: piece, batch: lot.batch, least: q.least, most: q.most, tall: lot.tall + s.within(lot.tallScatter)}
	square := l.made.Unit.OutOfSquare.Value
	u.skew = [2]measure.Length{s.within(square / 2), s.within(square / 2)}
	real := n.length + lot.long + s.within(lot.scatter)
	if l.picks {
		real = s.picked(l, real, n.length+lot.long, lot.scatter)
	}
	if n.cut {
		real = n.length + s.within(mm)
		s.cut(g, l, q, piece, n, real, u.skew)
	}
	u.real, u.line = real, s.about(mm)
	s.put(l, &u, n.hold, real)
	l.laid = append(l.laid, u)
	if k > 0 {
		s.gapRead(g.device, l, k)
	}
	s.recordSet(g, l, n, real, lot, closer)
	s.rocks(g, l, k)
	return true
}

// put brings a unit to where it lies: with the gap that is held, as well as hands and bars can, and once more where the gauge says that
// the joint is out of what it may be.
func (s *site) put(l *leg, u *unit, hold, real measure.Length) {
	if len(l.laid) == 0 {
		u.start = s.within(mm / 2)
		u.end = u.start + real
		return
	}
	from := l.laid[len(l.laid)-1].end
	for try := 0; ; try++ {
		gap := hold + s.about(mm*6/10)
		if seen := s.read(s.feel, gap); seen >= u.least && seen <= u.most || try == 40 {
			u.before = gap
			break
		}
	}
	if u.before < 0 {
		u.before = 0
	}
	u.start = from + u.before
	u.end = u.start + real
}

// cut is a piece cut on site, read at both walls.
func (s *site) cut(g *gang, l *leg, q *place, from field.Piece, n step, real measure.Length, skew [2]measure.Length) {
	s.counts.Cuts++
	half := skew[0] + skew[1] + q.aside
	says := field.CutSays{Mark: q.name, From: from, Left: new(s.read(s.tape, real+half)), Right: new(s.read(s.tape, real-half))}
	if kerf := l.made.Saw.Kerf.Value; n.stock-n.length > kerf {
		says.Offcut = n.stock - n.length - kerf
		s.yard.have[field.Piece{Supply: from.Supply, What: from.What, Length: says.Offcut, Mark: q.name + "/a"}]++
	}
	s.write(g.device, entry{kind: field.Cut, from: q.name, says: says, photos: s.photos(1)})
}

// closing is the last piece, where it is a cut one between square faces: it is cut from what is left, measured clear at both walls.
func (s *site) closing(g *gang, l *leg, n *step, q *place) bool {
	k := len(l.laid)
	if k != len(l.places)-1 || k == 0 || !n.cut || q.mitred || l.endGap <= 0 {
		return false
	}
	before := &l.laid[k-1]
	clear := l.length + l.face + l.endGap - before.end
	left, right := s.read(s.tape, clear-before.skew[1]), s.read(s.tape, clear+before.skew[1])
	ways, _, _, err := planner.Closing{Left: left, Right: right}.Ways(*l.made)
	if err != nil || len(ways) == 0 || len(ways[0].TakenOut) > 0 || len(ways[0].Pieces) != 1 {
		return false
	}
	hold := measure.Length(ways[0].Gaps[0])
	if hold < q.least || hold > q.most {
		return false
	}
	length := measure.Length(ways[0].Pieces[0].Length)
	if off := (length - q.length).Abs(); off > l.saw(s) {
		s.surprise("closing piece", nil, 1)
		s.tell("The closer %s was cut to %s from a measurement of %s and %s; planned was %s.", q.name, s.size(measure.MM(length)), s.size(measure.MM(left)), s.size(measure.MM(right)), s.size(measure.MM(q.length)))
	}
	n.hold, n.length = hold, length
	return true
}

func (l *leg) saw(s *site) measure.Length { return max(s.job.Rules.SawTolerance.Value, mm) }

// recordSet writes down what was set since the last record: the end of the last unit is measured where a gap or a piece was not as
// drawn, at every third, and at the end of a stretch; lengths of a lot until they are known.
func (s *site) recordSet(g *gang, l *leg, n step, real measure.Length, lot *lot, closer bool) {
	k := len(l.laid) - 1
	q := &l.places[k]
	alone := len(lot.measured) < 8 && !n.cut || s.wantsRead(q.name, "length") || s.wantsRead(q.name, "line") || s.wantsRead(q.name, "end")
	far := k-l.from >= 2 || k == len(l.places)-1
	for _, x := range l.stretches {
		far = far || x.to == k
	}
	drawn := k == 0 || (n.hold-q.gap).Abs() < mm/2
	if !alone && !far && drawn {
		return
	}
	if alone && l.from < k {
		s.write(g.device, entry{kind: field.Set, from: l.places[l.from].name, to: l.places[k-1].name, says: field.SetSays{Within: true, Batch: lot.batch}})
		l.from = k
	}
	says := s.placed(l, k)
	if says.Batch = lot.batch; says.Measure == nil && len(lot.measured) < 8 && !n.cut && alone {
		says.Measure = new(s.read(s.tape, real))
	}
	if says.Measure != nil && !n.cut {
		s.lotMeasured(l, lot, *says.Measure-n.length)
	}
	set := entry{kind: field.Set, from: l.places[l.from].name, to: q.name, says: says, instrument: s.tape.instrument()}
	if !s.calm && s.once(90) {
		s.keyedWrong(g, set, says)
	} else {
		s.write(g.device, set)
	}
	l.from = k + 1
}

// recordEnd measures the end of the last unit and writes down what was set since the last record.
func (s *site) recordEnd(g *gang, l *leg) {
	k := len(l.laid) - 1
	s.write(g.device, entry{kind: field.Set, from: l.places[l.from].name, to: l.places[k].name, says: s.placed(l, k), instrument: s.tape.instrument()})
	l.from = k + 1
}

// placed is where the end of a unit lies, and what else of it the contract wants to be read.
func (s *site) placed(l *leg, k int) field.SetSays {
	u := &l.laid[k]
	says := field.SetSays{Within: true, Plus: s.tape.plus, Off: []field.Off{{Place: u.place, By: s.read(s.tape, l.off(k))}}}
	if s.wantsRead(u.place, "line") {
		says.Line = new(s.read(s.tape, u.line))
	}
	if s.wantsRead(u.place, "length") {
		says.Measure = new(s.read(s.tape, u.real))
	}
	return says
}

// off is how far the end of a unit is ahead of its place.
func (l *leg) off(k int) measure.Length {
	return l.laid[k].end - l.laid[k].ref
}

// measureEnd measures once more where a unit ends.
func (s *site) measureEnd(d *device, l *leg, k int) {
	s.write(d, entry{kind: field.Set, from: l.places[k].name, says: s.placed(l, k), instrument: s.tape.instrument()})
}

// gapRead reads the joint before a unit at both walls.
func (s *site) gapRead(d *device, l *leg, k int) {
	left, right := l.walls(k)
	says := field.GapSays{Left: new(s.read(s.feel, left)), Right: new(s.read(s.feel, right)), Plus: s.feel.plus}
	if !s.calm && s.once(120) {
		wrong := says
		wrong.Left = new(10 * *says.Left) // a comma that slipped
		id := s.write(d, entry{kind: field.Gap, from: l.places[k].joint, says: wrong, instrument: s.feel.instrument()})
		s.surprise("wrong figure keyed", nil, 0)
		s.checks = append(s.checks, corrected{wrong: id, by: s.write(d, entry{kind: field.Gap, from: l.places[k].joint, says: says, corrects: id, instrument: s.feel.instrument()})})
		return
	}
	s.write(d, entry{kind: field.Gap, from: l.places[k].joint, says: says, instrument: s.feel.instrument()})
}

// walls is the joint before a unit at its left and right wall.
func (l *leg) walls(k int) (left, right measure.Length) {
	u, b := &l.laid[k], &l.laid[k-1]
	half := u.skew[0] + b.skew[1]
	return u.before - half, u.before + half
}

// cracked is a unit that breaks as it is set: it is put aside.
func (s *site) cracked(g *gang, l *leg, piece field.Piece) {
	s.surprise("cracked while set", l, 0)
	s.tell("A unit of %s cracked as it was set on leg %s.", s.size(measure.MM(piece.Length)), l.id)
	s.write(g.device, entry{kind: field.Damage, says: field.DamageSays{Piece: piece, Count: 1}, text: "cracked at an insert as it was let down", photos: s.photos(2)})
}

// rocks is a unit that rocks on its bed, and what is packed under it.
func (s *site) rocks(g *gang, l *leg, k int) {
	twist := s.about(mm * 8 / 10)
	u := &l.laid[k]
	says := field.RockSays{Four: []measure.Length{s.read(s.feel, twist), 0, 0, 0}, Plus: s.feel.plus}
	if twist.Abs() < 2*mm {
		if s.wantsRead(u.place, "rock") {
			s.write(g.device, entry{kind: field.Rock, from: u.place, says: says})
		}
		return
	}
	u.packers++
	s.surprise("unit rocks", nil, 0)
	s.write(g.device, entry{kind: field.Rock, from: u.place, says: says, text: "packed until it rocked no more"})
	packed := field.RockSays{Four: []measure.Length{0, 0, 0, 0}, Plus: s.feel.plus, Packer: new(twist.Abs() / mm * mm), Corner: "start left"}
	s.write(g.device, entry{kind: field.Rock, from: u.place, says: packed})
}
