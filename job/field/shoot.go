package field

import (
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/solve/levelling"
)

// ToRead is a place that is read next from where an instrument stands: what the rod shows at its corners when they lie as planned.
type ToRead struct {
	Leg     string            `json:"leg"`
	Place   string            `json:"place"`
	Of      string            `json:"of"`
	Planned [4]measure.Length `json:"planned"`
	Rod     [4]measure.Length `json:"rod"`
	Seen    bool              `json:"seen"` // the instrument stands above all of it
	Read    bool              `json:"read"` // the contract's frequency wants it, or says nothing of it
}

// ToRead are the next places of a leg that have no reading of a thing (formation, bed, pad, wall, invert) yet, from a place on: so many
// of them. A leg without planned levels has none.
func (b *Book) ToRead(c *Contract, leg, of, from string, height measure.Length, most int) []ToRead {
	var list []ToRead
	l := slices.IndexFunc(b.run.Legs, func(l Leg) bool { return l.ID == leg })
	if l < 0 {
		return nil
	}
	first := 0
	if at, ok := b.at(from); ok && at.leg == l {
		first = at.unit
	}
	ruled := slices.ContainsFunc(c.readings, func(r job.ReadingRule) bool { return r.Of == of })
	for i := first; i < len(b.run.Legs[l].Units) && len(list) < most; i++ {
		at := spot{l, i}
		planned := b.run.Legs[l].Units[i].level(of)
		if planned == nil || b.workUnit(at).Read(of) {
			continue
		}
		r := ToRead{Leg: leg, Place: b.run.Legs[l].Units[i].Place, Of: of, Planned: *planned, Seen: true}
		r.Read = !ruled || slices.Contains(b.WantsAt(c, r.Place), of)
		for k, z := range planned {
			r.Rod[k] = height - z
			r.Seen = r.Seen && r.Rod[k] >= 0
		}
		list = append(list, r)
	}
	return list
}

// Found is what was read at one place, against what is planned there.
type Found struct {
	Leg     string         `json:"leg"`
	Place   string         `json:"place"`
	Of      string         `json:"of"`
	Corners []CornerFound  `json:"corners"`
	Twist   measure.Length `json:"twist"` // start left + end right − start right − end left; all four have to be read
	Rocks   bool           `json:"rocks"` // the twist is more than the readings may be off
	Packers *Packers       `json:"packers"`
	Lip     *LipFound      `json:"lip"` // to the unit before; null: that was not read
	Knock   *KnockOn       `json:"knock"`
}

// Packers are what stops a unit from rocking: one under either of two corners, or two under both.
type Packers struct {
	Under [2]string         `json:"under"`
	One   measure.Length    `json:"one"`
	Both  [2]measure.Length `json:"both"`
}

// CornerFound is one corner: above its level it is cut, below it filled.
type CornerFound struct {
	Corner  string          `json:"corner"`
	Level   measure.Length  `json:"level"`
	Plus    measure.Length  `json:"plus"`
	Planned *measure.Length `json:"planned"` // null: none on file
	Off     measure.Length  `json:"off"`     // above 0: too high
	Do      string          `json:"do"`      // "cut", "fill", "as planned" (within what the reading may be off), "" where nothing is planned
}

// LipFound is the step from the unit before, at the wall where it is greater.
type LipFound struct {
	From string         `json:"from"`
	Side string         `json:"side"`
	Step measure.Length `json:"step"` // up above 0
	Plus measure.Length `json:"plus"`
}

// KnockOn is what a place that is left as it is does to the next two joints.
type KnockOn struct {
	Off    measure.Length    `json:"off"`    // of the joint at the end of the unit, the middle of both walls
	Joints []string          `json:"joints"` // the next two
	Along  [2]measure.Length `json:"along"`  // how far these are off when the next units are laid at their planned grades from there
	Back   measure.Length    `json:"back"`   // what the next unit has to fall (below 0) or rise more than planned, to be back on the plan at its end
	Grade  measure.Grade     `json:"-"`
	Change string            `json:"change"` // the same as a grade: it is taken up once at either end of that unit
}

// FoundAt is what was read of a thing at a place: cut or fill at every corner, how the unit will rock there, the lip, and what it does to
// the next two joints. False: nothing was read.
func (b *Book) FoundAt(place, of string) (Found, bool) {
	at, ok := b.at(place)
	if !ok {
		return Found{}, false
	}
	leg := &b.run.Legs[at.leg]
	unit := &leg.Units[at.unit]
	l := b.workUnit(at).level(of)
	if l == nil {
		return Found{}, false
	}
	f := Found{Leg: leg.ID, Place: unit.Place, Of: of}
	planned := unit.level(of)
	var four levelling.Corners
	known, plus := true, measure.Length(0)
	for i, m := range l.Four {
		if m == nil || !m.Known {
			known = false
			continue
		}
		c := CornerFound{Corner: Corners[i], Level: m.Value, Plus: m.Plus}
		if planned != nil {
			c.Planned, c.Off = new(planned[i]), m.Value-planned[i]
			c.Do = todo(c.Off, m.Plus)
		}
		f.Corners = append(f.Corners, c)
		four[i], plus = m.Value, plus+m.Plus
	}
	if len(f.Corners) == 0 {
		return Found{}, false
	}
	if known {
		f.rock(four, plus)
		if planned != nil {
			f.Knock = b.knock(at, (four[2]+four[3]-planned[2]-planned[3])/2)
		}
	}
	if at.unit > 0 {
		f.Lip = lipFrom(b.workUnit(spot{at.leg, at.unit - 1}), l, of)
	}
	return f, true
}

func todo(off, plus measure.Length) string {
	switch {
	case off.Abs() <= plus:
		return "as planned"
	case off > 0:
		return "cut"
	}
	return "fill"
}

// rock is how a stiff unit stands on these corners, and what to put under which.
func (f *Found) rock(four levelling.Corners, plus measure.Length) {
	r := levelling.RockOf(four)
	f.Twist, f.Rocks = r.Twist, r.Twist.Abs() > plus
	if f.Rocks {
		f.Packers = &Packers{[2]string{Corners[r.Low[0]], Corners[r.Low[1]]}, r.OnOne, r.OnBoth}
	}
}

func lipFrom(before *UnitState, l *LevelState, of string) *LipFound {
	a := before.level(of)
	if a == nil {
		return nil
	}
	var lip *LipFound
	for i, side := range [2]string{"left", "right"} {
		end, start := a.Four[2+i], l.Four[i]
		if end == nil || start == nil || !end.Known || !start.Known {
			continue
		}
		step := start.Value - end.Value
		if lip == nil || step.Abs() > lip.Step.Abs() {
			lip = &LipFound{before.Place, side, step, end.Plus + start.Plus}
		}
	}
	return lip
}

// knock is what a joint that lies off its level does to the next two.
func (b *Book) knock(at spot, off measure.Length) *KnockOn {
	units := b.run.Legs[at.leg].Units
	if at.unit+1 >= len(units) {
		return nil
	}
	k := &KnockOn{Off: off, Along: [2]measure.Length{off, off}, Back: -off}
	next := &units[at.unit+1]
	k.Joints = append(k.Joints, "end of "+next.Place)
	if at.unit+2 < len(units) {
		k.Joints = append(k.Joints, "end of "+units[at.unit+2].Place)
	}
	if long := next.End - next.Start; long > 0 {
		k.Grade = measure.Grade{Rise: -off, Run: long}
		k.Change = k.Grade.Percent(2)
	}
	return k
}

// BookRow is one line of a level book as it was recorded: lengths in metres as text; empty: nothing.
type BookRow struct {
	Point, Back, Inter, Fore, Known, Design string
}

// LevelBook is what was read on the rod, set-up by set-up, as a level book: it begins at each set-up on its benchmark, and ends with
// the last benchmark that was read from there, else with the last reading. Readings belong to the set-up that they name.
func (b *Book) LevelBook(instrument string) []BookRow {
	var rows []BookRow
	for _, up := range b.SetUps() {
		if instrument != "" && up.Instrument != instrument {
			continue
		}
		says, _ := hear[SetUpSays](b.records.of(up.By))
		part := []BookRow{{Point: up.Benchmark, Back: says.Rod.MString(), Known: says.Level.MString()}}
		for _, e := range b.readFrom(up) {
			read, _ := hear[LevelSays](e)
			planned := b.plannedOf(e.From, read.Of)
			for i, r := range read.Rod {
				row := BookRow{Point: e.From + " " + read.Of, Inter: r.MString()}
				corner := i
				switch {
				case i < len(read.Read):
					corner = max(0, slices.Index(Corners[:], read.Read[i]))
					row.Point += " " + read.Read[i]
				case len(read.Rod) == 4:
					row.Point += " " + Corners[i]
				case read.End != "":
					corner = max(0, slices.IndexFunc(Corners[:], func(c string) bool { return strings.HasPrefix(c, read.End) }))
					row.Point += " " + read.End
				}
				if planned != nil {
					row.Design = planned[corner].MString()
				}
				part = append(part, row)
			}
		}
		for _, c := range up.Closes {
			s, _ := hear[SetUpSays](b.records.of(c.By))
			part = append(part, BookRow{Point: c.Benchmark, Inter: s.Rod.MString(), Design: s.Level.MString()})
		}
		if last := &part[len(part)-1]; len(part) > 1 {
			last.Fore, last.Inter = last.Inter, ""
			if len(up.Closes) > 0 {
				last.Known, last.Design = last.Design, ""
			}
			rows = append(rows, part...)
		}
	}
	return rows
}

// readFrom are the readings of levels that name a set-up.
func (b *Book) readFrom(up SetUpState) []*entry {
	var list []*entry
	seen := map[*entry]bool{}
	for l := range b.legs {
		for i := range b.legs[l].piles {
			for _, e := range b.legs[l].piles[i].standing(Level) {
				if says, ok := hear[LevelSays](e); ok && len(says.Rod) > 0 && !seen[e] && e.Instrument != nil && e.Instrument.ID == up.Instrument && e.Instrument.SetUp == up.Name {
					seen[e] = true
					list = append(list, e)
				}
			}
		}
	}
	slices.SortFunc(list, inOrder)
	return list
}

func (b *Book) plannedOf(place, of string) *[4]measure.Length {
	at, ok := b.at(place)
	if !ok {
		return nil
	}
	return b.run.Legs[at.leg].Units[at.unit].level(of)
}
