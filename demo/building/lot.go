package building

import (
	"fmt"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/solve/drift"
)

// yard is what really lies there, and what is on its way.
type yard struct {
	have  map[field.Piece]int
	lots  map[field.Piece]*lot
	loads []load
	count int // of loads that came: their ticket
	stone measure.Mass
}

// lot are the units of one casting: what they are off alike, and by how much each of them may be off besides.
type lot struct {
	batch                string
	long, tall           measure.Length
	scatter, tallScatter measure.Length
	measured             []measure.Length
	known                bool
}

// load is what comes on one lorry.
type load struct {
	day   int
	lines []line
}

type line struct {
	piece field.Piece
	count int
}

// order has the pieces of all legs come in loads, in the order in which they are laid, with a spare of each kind of whole piece.
func (s *site) order() {
	var list []field.Piece
	kinds := map[field.Piece]bool{}
	longest := 0
	for _, l := range s.legs {
		longest = max(longest, len(l.places))
	}
	for k := 0; k < longest; k++ {
		for _, l := range s.legs {
			if k >= len(l.places) {
				continue
			}
			q := &l.places[k]
			list = append(list, q.piece())
			for _, c := range q.covers {
				list = append(list, c.piece)
			}
		}
	}
	for _, p := range list {
		if p.Mark == "" && !kinds[p] {
			kinds[p] = true
			list = append(list, p)
		}
	}
	const lorry = 60 // units and covers
	for day := 0; len(list) > 0; day += 2 {
		n := min(lorry, len(list))
		s.yard.loads = append(s.yard.loads, load{day, counted(list[:n])})
		list = list[n:]
	}
}

// piece is what a place takes from the yard: a unit as it came, or the one that it is cut from.
func (q *place) piece() field.Piece {
	return field.Piece{Supply: q.supply, What: "unit", Length: q.stock}
}

// counted are pieces as lines of a ticket, in the order in which each comes first.
func counted(list []field.Piece) []line {
	var lines []line
	at := map[field.Piece]int{}
	for _, p := range list {
		i, ok := at[p]
		if !ok {
			i = len(lines)
			at[p], lines = i, append(lines, line{piece: p})
		}
		lines[i].count++
	}
	return lines
}

// deliveries takes in what comes today: some of it broken, some of it not on the lorry; both come with another load.
func (s *site) deliveries() {
	var later []line
	for _, ld := range s.yard.loads {
		if ld.day == s.day {
			later = append(later, s.unload(ld)...)
		}
	}
	if len(later) > 0 {
		s.yard.loads = append(s.yard.loads, load{s.day + 3 + s.below(4), later})
	}
}

func (s *site) unload(ld load) (later []line) {
	s.yard.count++
	says := field.DeliverySays{Ticket: fmt.Sprintf("T%04d", s.yard.count)}
	damaged, short := 0, 0
	for _, ln := range ld.lines {
		d := field.Delivered{Piece: ln.piece, Came: ln.count, Batch: fmt.Sprintf("L%03d", s.yard.count)}
		if !s.calm && d.Came > 1 && s.once(12) {
			d.Short = 1
			d.Came--
			short++
		}
		if !s.calm && s.once(10) {
			d.Damaged = 1
			damaged++
		}
		s.yard.have[ln.piece] += d.Came - d.Damaged
		s.newLot(ln.piece, d.Batch)
		if n := d.Short + d.Damaged; n > 0 {
			later = append(later, line{ln.piece, n})
		}
		says.Lines = append(says.Lines, d)
	}
	if s.yard.count%3 == 0 { // stone for the bed comes with it
		amount, mass := "18.5 t", 18_500*measure.Kilogram
		if s.job.System == job.Imperial {
			amount, mass = "20 short tons", 18_143_695*measure.Gram
		}
		says.Goods = []field.Goods{{What: "stone", Amount: amount}}
		s.yard.stone += mass
	}
	e := entry{kind: field.Delivery, says: says}
	if damaged > 0 {
		e.photos, e.text = s.photos(damaged), "written on the ticket, the driver signed"
	}
	s.write(s.yardman, e)
	if short > 0 {
		s.surprise("short delivery", nil, 0)
		s.tell("Ticket %s came %s short.", says.Ticket, plural(short, "piece"))
	}
	if damaged > 0 {
		s.surprise("damaged on delivery", nil, 0)
		s.tell("Ticket %s came with %s damaged.", says.Ticket, plural(damaged, "piece"))
	}
	return later
}

// newLot begins a lot: now and then one whose bias matters.
func (s *site) newLot(p field.Piece, batch string) {
	if p.What != "unit" {
		return
	}
	most := measure.Millimetre / 2
	if !s.calm && s.once(6) {
		most = 2 * measure.Millimetre
	}
	if p.Length > 0 {
		most = min(most, p.Length/1000)
	}
	s.yard.lots[p] = &lot{batch: batch, long: s.within(most), tall: s.within(measure.Millimetre), scatter: measure.Millimetre, tallScatter: measure.Millimetre / 2}
}

// takes a piece from the yard; false where none is left: then one is ordered, unless some are on their way.
func (s *site) takePiece(p field.Piece) bool {
	if s.yard.have[p] > 0 {
		s.yard.have[p]--
		return true
	}
	s.await(p)
	return false
}

func (s *site) await(p field.Piece) {
	for _, ld := range s.yard.loads {
		if ld.day <= s.day {
			continue
		}
		for _, ln := range ld.lines {
			if ln.piece == p {
				return
			}
		}
	}
	s.yard.loads = append(s.yard.loads, load{s.day + 2 + s.below(3), []line{{p, 2}}})
	s.tell("None of %s is left; two more were ordered.", p.Name(s.size))
}

// countYard is somebody who counts what lies there, once a week in the morning: only where everybody has sent what he wrote, for
// what somebody took and has not sent would be taken off once more.
func (s *site) countYard() {
	if s.tallied = s.tallied && s.day%7 != 0; s.tallied || s.calm || s.day == 0 || len(s.paper) > 0 {
		return
	}
	for _, d := range s.devices {
		if d.sent < len(d.wrote) {
			return
		}
	}
	s.tallied = true
	s.meet(s.yardman)
	says := field.CountSays{Seen: s.yardman.book.Seen()}
	for _, p := range s.kinds {
		says.Lines = append(says.Lines, field.Counted{Piece: p, Count: s.yard.have[p]})
	}
	if len(says.Lines) > 0 {
		s.write(s.yardman, entry{kind: field.Count, says: says})
	}
}

// lotMeasured takes in the length of one more unit of a lot; once it is known that the lot is off, that is a surprise.
func (s *site) lotMeasured(l *leg, lt *lot, off measure.Length) {
	lt.measured = append(lt.measured, off)
	if len(lt.measured) < 5 || lt.known {
		return
	}
	if b := drift.LotOf(lt.measured, 0); b.Verdict == drift.Biased && b.Mean.Abs() > measure.Millimetre/2 {
		lt.known = true
		s.surprise("biased lot", l, 0)
		s.tell("Units of lot %s are %s off on average, by %d of them.", lt.batch, b.Mean, b.Units)
	}
}
