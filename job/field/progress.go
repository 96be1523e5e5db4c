package field

import (
	"cmp"

	"trenchwright/base/measure"
	"trenchwright/solve/levelling"
)

// LegProgress is how far the work on one leg is.
type LegProgress struct {
	Leg     string `json:"leg"`
	All     Amount `json:"all"`
	Set     Amount `json:"set"`
	Begun   Amount `json:"begun"`   // some fill lies beside it
	Filled  Amount `json:"filled"`  // up to its level on both sides, by the records of its top layer
	Covered Amount `json:"covered"` // all covers lie
	Proven  Amount `json:"proven"`  // covered, and everything that is asked of it is on record and meets its figure
	Lids    int    `json:"lids"`    // covers of the leg
	Laid    int    `json:"laid"`    // those that lie
}

// Amount is units and what they take up of the run, each with the joint after it.
type Amount struct {
	Units  int            `json:"units"`
	Length measure.Length `json:"length"`
	Next   string         `json:"next,omitempty"` // the first place in laying order that is not among them
}

func (a *Amount) add(u *Unit) {
	a.Units++
	a.Length += u.long()
}

// count takes a unit in where it is among them.
func (a *Amount) count(u *Unit, is bool) {
	if is {
		a.add(u)
	} else {
		a.Next = cmp.Or(a.Next, u.Place)
	}
}

func (a Amount) less(b Amount) Amount { return Amount{a.Units - b.Units, a.Length - b.Length, a.Next} }

// Reached is how far one unit is.
type Reached struct {
	Set, Begun, Filled, Covered, Proven bool
	Open                                []string // why it is not proven, though covered
}

// Progress is how far the work is, leg by leg.
func (b *Book) Progress(c *Contract) []LegProgress {
	list := make([]LegProgress, len(b.legs))
	matters := b.openMatters()
	for l := range list {
		list[l].Leg = b.run.Legs[l].ID
	}
	b.each(func(at spot, u *UnitState) {
		p, unit := &list[at.leg], &b.run.Legs[at.leg].Units[at.unit]
		r := b.reached(c, at, u, matters)
		p.All.add(unit)
		for _, of := range []struct {
			is     bool
			amount *Amount
		}{{r.Set, &p.Set}, {r.Begun, &p.Begun}, {r.Filled, &p.Filled}, {r.Covered, &p.Covered}, {r.Proven, &p.Proven}} {
			of.amount.count(unit, of.is)
		}
		p.Lids += len(u.Covers)
		for _, lid := range u.Covers {
			if lid.Laid.Is == Yes {
				p.Laid++
			}
		}
	})
	return list
}

// ReachedAt is how far one place is.
func (b *Book) ReachedAt(c *Contract, place string) (Reached, bool) {
	at, ok := b.at(place)
	if !ok {
		return Reached{}, false
	}
	return b.reached(c, at, b.workUnit(at), b.openMatters()), true
}

func (b *Book) reached(c *Contract, at spot, u *UnitState, matters map[spot]string) Reached {
	r := Reached{Set: u.Set.Is == Yes}
	r.Begun, _ = u.done("fill")
	r.Covered, _ = u.done("cover")
	r.Filled = u.Filled()
	if !r.Set || !r.Covered {
		return r
	}
	open := func(why string) { r.Open = append(r.Open, why) }
	for _, l := range b.lacks(c, at, u) {
		for _, w := range l.Wants {
			open("no record of " + w + " before " + l.Step)
		}
	}
	for _, rule := range c.readings {
		if b.wants(rule, at) && !u.Read(rule.Of) {
			open("no reading of " + rule.Of)
		}
	}
	for _, h := range b.heldAt(c, at, u) {
		if h.Verdict != string(levelling.Meets) {
			open(h.What + ": " + h.Verdict)
		}
	}
	if u.Damaged.Is != No {
		open("damaged")
	}
	if number, is := matters[at]; is {
		open("nonconformance " + number)
	}
	r.Proven = len(r.Open) == 0
	return r
}

// Filled tells whether the top layer lies on both sides.
func (u *UnitState) Filled() bool {
	left, right := false, false
	for _, l := range u.Layers {
		if l.Top && l.Placed.Is == Yes {
			left, right = left || l.Side == "left", right || l.Side == "right"
		}
	}
	return left && right
}

// openMatters are the units that nonconformances name which are not closed.
func (b *Book) openMatters() map[spot]string {
	open := map[spot]string{}
	for _, m := range b.worked.matters.get(b.matterStates) {
		if m.Closed.Is == Yes {
			continue
		}
		for _, e := range standing(b.matters[m.Number]) {
			if leg, first, end, ok := b.stretch(e.From, e.To); ok {
				for i := first; i <= end; i++ {
					open[spot{leg, i}] = m.Number
				}
			}
		}
	}
	return open
}

// Since is what was done between two states of the records, leg by leg: the month's measure. What was taken out again counts below 0.
func Since(before, after []LegProgress) []LegProgress {
	list := make([]LegProgress, len(after))
	for i, a := range after {
		list[i] = a
		if i >= len(before) || before[i].Leg != a.Leg {
			continue
		}
		z := before[i]
		list[i] = LegProgress{a.Leg, a.All, a.Set.less(z.Set), a.Begun.less(z.Begun), a.Filled.less(z.Filled), a.Covered.less(z.Covered), a.Proven.less(z.Proven), a.Lids, a.Laid - z.Laid}
	}
	return list
}

// Upto is a book of those records that a question takes in: what the records came to when the server had so many, or when people had
// written until a day.
func (b *Book) Upto(in func(*Record) bool) *Book {
	var some []Record
	for e := range b.records.all() {
		if in(e.Record) {
			some = append(some, *e.Record)
		}
	}
	upto := NewBook(b.run)
	upto.Add(some...)
	return upto
}
