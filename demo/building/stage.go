package building

import (
	"fmt"

	"trenchwright/job/field"
)

// stretch is what is worked on together: some units of a leg one behind the other.
type stretch struct {
	from, to int // places, in laying order
	stage    stage
	point    string // its hold point before it is set
	let      string // the step that was let begin last
}

// stage is how far a stretch is.
type stage int

const (
	toDig stage = iota
	toBed
	toSet
	toJoin
	toFill
	toCover
	toCable
	toClose
	handedOver
)

// waits is the step of the contract that a stage is, where what it waits for is released once; that of setting is looked at until it holds.
func (x stage) waits() (string, bool) {
	step := map[stage]string{toDig: "dig", toBed: "bed", toFill: "fill", toCover: "cover", toCable: "cables", toClose: "handover"}[x]
	return step, step != ""
}

// begin parts a leg into stretches of some units, none so short that it is not worth a day.
func (l *leg) begin(s *site) {
	for at := 0; at < len(l.places); {
		n := 4 + s.below(5)
		if len(l.places)-at-n < 3 {
			n = len(l.places) - at
		}
		x := &stretch{from: at, to: min(at+n, len(l.places)) - 1}
		x.point = s.holdPoint(fmt.Sprintf("bed %s to %s", l.places[x.from].name, l.places[x.to].name))
		l.stretches = append(l.stretches, x)
		at = x.to + 1
	}
	if l.endGap > 0 {
		l.face = s.within(min(l.endGap/4, s.tape.plus))
	}
}

func (l *leg) handedOver() bool {
	for _, x := range l.stretches {
		if x.stage != handedOver {
			return false
		}
	}
	return true
}

// work is one day of a gang: on the first leg of its list that is not finished, each stretch goes on by one stage where it can.
func (s *site) work(g *gang) {
	for _, l := range g.legs {
		if l.handedOver() {
			continue
		}
		for i, x := range l.stretches {
			if i > 0 && l.stretches[i-1].stage <= x.stage && x.stage != handedOver {
				break // nothing overtakes what lies before it
			}
			s.goOn(g, l, x)
		}
		return
	}
}

// goOn takes a stretch through its next stage.
func (s *site) goOn(g *gang, l *leg, x *stretch) {
	from, to := l.places[x.from].name, l.places[x.to].name
	if step, waits := x.stage.waits(); waits && x.let != step {
		s.let(step, from, to)
		x.let = step
	}
	switch x.stage {
	case toDig:
		s.dig(g, l, x)
		x.stage = toBed
	case toBed:
		s.bed(g, l, x)
		s.release(x.point, from, to)
		x.stage = toSet
	case toSet:
		if !s.released(x, from, to) {
			return
		}
		if s.setStretch(g, l, x) {
			x.stage = toJoin
		}
	case toJoin:
		s.join(g, l, x)
		x.stage = toFill
	case toFill:
		if s.fill(g, l, x) {
			x.stage = toCover
		}
	case toCover:
		if s.cover(g, l, x) {
			x.stage = toCable
		}
	case toCable:
		s.cables(g, l, x)
		x.stage = toClose
	case toClose:
		if s.closeOut(g, l, x) {
			x.stage = handedOver
		}
	}
}

// closeOut hands a stretch over: the inspector reads a joint himself, and releases it.
func (s *site) closeOut(g *gang, l *leg, x *stretch) bool {
	from, to := l.places[x.from].name, l.places[x.to].name
	if k := max(x.from, 1); k < len(l.laid) {
		s.gapRead(s.inspector, l, k)
	}
	s.write(s.inspector, entry{kind: field.Inspection, from: from, to: to, says: field.PointSays{Point: "hand-over", Result: "meets"}})
	s.write(s.inspector, entry{kind: field.Release, from: from, to: to, says: field.PointSays{Point: "hand-over", Party: "client's inspector"}})
	s.write(g.device, entry{kind: field.Area, from: from, to: to, says: field.AreaSays{To: "client", By: "civil", Condition: "complete, keys and spares handed over"}, photos: s.photos(1)})
	return true
}
