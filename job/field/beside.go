package field

import (
	"trenchwright/base/measure"
	"trenchwright/solve/levelling"
)

// Beside is one thing that two people read: what each got, and whether both can be right.
type Beside struct {
	Leg     string   `json:"leg"`
	Place   string   `json:"place"`
	What    string   `json:"what"`
	Ours    []ReadBy `json:"ours"`    // of those who build
	Theirs  []ReadBy `json:"theirs"`  // the inspector's
	Differ  bool     `json:"differ"`  // by more than they are good for
	Verdict string   `json:"verdict"` // of the difference, where there is an inspector's reading
}

// ReadBy is one reading with who made it, when and with what.
type ReadBy struct {
	Value  measure.Length `json:"value"`
	Plus   measure.Length `json:"plus"`
	Person string         `json:"person"`
	Role   string         `json:"role"`
	Made   string         `json:"made"`
	With   string         `json:"with"`
	By     string         `json:"by"`
}

// Beside are the readings of things that more than one person read and that differ, and all that an inspector read beside those who
// build.
func (b *Book) Beside() []Beside {
	var list []Beside
	b.each(func(at spot, u *UnitState) {
		add := func(what string, m *Measured) {
			if m == nil || m.Known && m.Check == nil {
				return
			}
			one := Beside{Leg: b.run.Legs[at.leg].ID, Place: u.Place, What: what, Ours: b.reads(m.Readings), Differ: !m.Known}
			if c := m.Check; c != nil {
				one.Theirs = b.reads(c.Readings)
				one.Differ = one.Differ || !c.Known || (m.Value-c.Value).Abs() > m.Plus+c.Plus
				one.Verdict = string(levelling.Meets)
				if one.Differ {
					one.Verdict = string(levelling.DoesNot)
				}
			}
			list = append(list, one)
		}
		add("where its end lies", u.End)
		add("line", u.Line)
		add("length", u.Length)
		add("rock", u.Rock)
		add("gap, left", u.Left)
		add("gap, right", u.Right)
		for _, l := range u.Levels {
			for i, m := range l.Four {
				add("level of the "+l.Of+", "+Corners[i], m)
			}
		}
	})
	return list
}

func (b *Book) reads(of []Reading) []ReadBy {
	list := make([]ReadBy, len(of))
	for i, r := range of {
		e := b.records.of(r.By)
		list[i] = ReadBy{r.Value, r.Plus, e.Person, e.Role, e.Made, "", r.By}
		if e.Instrument != nil {
			list[i].With = e.Instrument.ID
		}
	}
	return list
}
