package field

import (
	"slices"
	"strings"

	"trenchwright/job"
)

// Hiding is one step that hides what was done before it, and what lacks its record there, place by place.
type Hiding struct {
	Step    string   `json:"step"`
	Wants   []string `json:"wants"`
	Source  string   `json:"source"`  // who says that these are wanted
	Done    int      `json:"done"`    // units that are hidden by it
	Lacking []Lack   `json:"lacking"` // in laying order
}

// Lack is what one place lacks before a step, or lacked when the step was done all the same.
type Lack struct {
	Leg    string   `json:"leg"`
	Place  string   `json:"place"`
	Step   string   `json:"step"`
	Wants  []string `json:"wants"`
	Hidden bool     `json:"hidden"` // the step was done: what it lacks can no more be seen
	Next   bool     `json:"next"`   // the step is the next one here
	By     []string `json:"by"`     // the records that hid it
}

// NoList is what is said where a contract does not say what has to be recorded before its steps: then what a step hides by its nature
// is all that is looked for.
const NoList = "NOT CHECKED: no list of what has to be recorded before something is hidden on file. Ask: " + owner

// Hiding is what lacks its record before each step of the job, in the job's order: what a step has hidden already, and what it would
// hide next.
func (b *Book) Hiding(c *Contract) []Hiding {
	list := make([]Hiding, len(c.steps))
	for i, s := range c.steps {
		list[i] = Hiding{Step: s.Step, Wants: s.Wants, Source: NoList}
		if c.named {
			list[i].Source = c.source(s.From)
		}
	}
	b.each(func(at spot, u *UnitState) {
		for i, s := range c.steps {
			if done, _ := u.done(s.Step); done {
				list[i].Done++
			}
		}
		for _, l := range b.lacks(c, at, u) {
			i := slices.IndexFunc(c.steps, func(s job.Step) bool { return s.Step == l.Step })
			list[i].Lacking = append(list[i].Lacking, l)
		}
	})
	return list
}

// LacksAt is what one place lacks before its next step, and lacked before those that are done.
func (b *Book) LacksAt(c *Contract, place string) []Lack {
	at, ok := b.at(place)
	if !ok {
		return nil
	}
	return b.lacks(c, at, b.workUnit(at))
}

func (b *Book) lacks(c *Contract, at spot, u *UnitState) []Lack {
	var list []Lack
	next := true // until a step was found that is not done
	last := at.unit == len(b.run.Legs[at.leg].Units)-1
	if !u.begun() {
		return nil // nobody has come here yet
	}
	for _, s := range c.steps {
		done, by := u.done(s.Step)
		if !done && !next {
			continue
		}
		next = next && done
		l := Lack{Leg: b.run.Legs[at.leg].ID, Place: u.Place, Step: s.Step, Hidden: done, Next: !done, By: by}
		for _, want := range s.Wants {
			if (want == "gap" || want == "bond") && last { // there is no joint behind the last unit
				continue
			}
			if !u.Has(want) {
				l.Wants = append(l.Wants, want)
			}
		}
		if len(l.Wants) > 0 {
			list = append(list, l)
		}
	}
	return list
}

// begun tells whether anybody has come to a unit.
func (u *UnitState) begun() bool {
	return len(u.Evidence) > 0 || len(u.Photos) > 0 || u.Set.Is != No || slices.ContainsFunc(u.Covers, func(c CoverState) bool { return c.Laid.Is != No })
}

// done tells whether a step was done at a unit, and by which records.
func (u *UnitState) done(step string) (bool, []string) {
	switch step {
	case "bed":
		for _, of := range []string{"bed", "pad"} {
			if l := u.level(of); l != nil {
				return true, u.Evidence[Level]
			}
		}
		return u.Set.Is == Yes, u.Set.By // what it stands on is hidden with it
	case "set":
		return u.Set.Is == Yes, u.Set.By
	case "fill":
		for _, l := range u.Layers {
			if l.Placed.Is == Yes {
				return true, l.Placed.By
			}
		}
	case "cables":
		if u.Area != nil && strings.Contains(u.Area.To, "civil") || u.Area != nil && strings.Contains(u.Area.To, "client") {
			return true, u.Area.By // the cable gang gave it back
		}
	case "cover":
		var by []string
		for _, c := range u.Covers {
			if c.Laid.Is != Yes {
				return false, nil
			}
			by = append(by, c.Laid.By...)
		}
		slices.Sort(by)
		return len(u.Covers) > 0, slices.Compact(by)
	}
	return false, nil
}

// Has tells whether a record of something is there.
func (u *UnitState) Has(want string) bool {
	switch want {
	case "photo":
		return len(u.Photos) > 0
	case "end":
		return u.End != nil
	case "line":
		return u.Line != nil
	case "length":
		return u.Length != nil
	case "gap":
		return u.Left != nil && u.Right != nil // at one wall alone it was half read
	case bedOrPad:
		return u.level("bed") != nil || u.level("pad") != nil
	case "formation", "bed", "pad", "wall", "invert", "drain":
		return u.level(want) != nil
	}
	return len(u.Evidence[Kind(want)]) > 0
}

// Read tells whether something was measured at a unit: to say that it is within its rule is no reading.
func (u *UnitState) Read(of string) bool {
	switch of {
	case "rock":
		return u.Rock != nil
	case "formation", "bed", "pad", "wall", "invert", "drain":
		l := u.level(of)
		return l != nil && (l.Four[0] != nil || l.Four[1] != nil || l.Four[2] != nil || l.Four[3] != nil)
	}
	return u.Has(of)
}

// Wanted is one rule of how often something is measured, and where that was not done.
type Wanted struct {
	Of      string   `json:"of"`
	First   int      `json:"first"`
	Every   int      `json:"every"`
	Source  string   `json:"source"`
	Wanted  int      `json:"wanted"`  // readings of the whole run
	Read    int      `json:"read"`    // of those
	Lacking []string `json:"lacking"` // places that are set, and were not read
	Ahead   int      `json:"ahead"`   // not set yet
}

// NoFrequency is what is said where a contract does not say how often something is measured.
const NoFrequency = "NOT CHECKED: no frequency of readings on file. Ask: " + owner

// Wanted is what the contract's frequency wants to be measured, rule by rule; nil where it has none.
func (b *Book) Wanted(c *Contract) []Wanted {
	list := make([]Wanted, len(c.readings))
	for i, r := range c.readings {
		list[i] = Wanted{Of: r.Of, First: r.First, Every: r.Every, Source: c.source(r.From)}
	}
	b.each(func(at spot, u *UnitState) {
		for i, r := range c.readings {
			if !b.wants(r, at) {
				continue
			}
			w := &list[i]
			w.Wanted++
			switch {
			case u.Read(r.Of):
				w.Read++
			case u.Set.Is == Yes:
				w.Lacking = append(w.Lacking, u.Place)
			default:
				w.Ahead++
			}
		}
	})
	return list
}

// WantsAt are the readings that the contract's frequency wants at one place: what its card asks for.
func (b *Book) WantsAt(c *Contract, place string) []string {
	at, ok := b.at(place)
	if !ok {
		return nil
	}
	var list []string
	for _, r := range c.readings {
		if b.wants(r, at) && !slices.Contains(list, r.Of) {
			list = append(list, r.Of)
		}
	}
	return list
}

func (b *Book) wants(r job.ReadingRule, at spot) bool {
	return r.At(at.unit) && (r.Of != "gap" || at.unit+1 < len(b.run.Legs[at.leg].Units))
}
