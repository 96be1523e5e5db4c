package field

import (
	"slices"
	"strings"

	"trenchwright/job"
)

// Unreleased is a hold point of the contract at places of one leg for which no release is on record.
type Unreleased struct {
	Point  job.Point `json:"point"`
	Leg    string    `json:"leg"`
	Hidden bool      `json:"hidden"` // the work that waits for it was done all the same; else it is the next there
	Units  []int     `json:"units"`  // in laying order, by number in the leg
	Places []string  `json:"places"` // the same by name
	By     []string  `json:"by"`     // the records that hid it
}

// Unreleased are the hold points of the contract without a release, where the work that waits for them was done or comes next: in the
// order of the contract, leg by leg. A point that nobody says to be a witness point counts as a hold point. A release that ended later was
// one: what ended it stands with the point. Points are those of the state.
func (b *Book) Unreleased(c *Contract, points []PointState) []Unreleased {
	var list []Unreleased
	for _, p := range c.points {
		if p.Kind == "witness" || p.Before == "" {
			continue
		}
		let := b.releasedAt(p.Name, points)
		for l := range b.run.Legs {
			hidden, next := Unreleased{Point: p, Leg: b.run.Legs[l].ID, Hidden: true}, Unreleased{Point: p, Leg: b.run.Legs[l].ID}
			for i := range b.run.Legs[l].Units {
				at := spot{l, i}
				u := b.workUnit(at)
				if !u.begun() || let(at) {
					continue
				}
				if done, by := u.past(p.Before); done {
					hidden.Units, hidden.Places, hidden.By = append(hidden.Units, i), append(hidden.Places, u.Place), append(hidden.By, by...)
				} else if u.next(c) == p.Before {
					next.Units, next.Places = append(next.Units, i), append(next.Places, u.Place)
				}
			}
			for _, one := range []Unreleased{hidden, next} {
				if len(one.Places) > 0 {
					slices.Sort(one.By)
					one.By = slices.Compact(one.By)
					list = append(list, one)
				}
			}
		}
	}
	return list
}

// Stretches are its places as people say them.
func (u *Unreleased) Stretches() string { return inStretches(u.Units, u.Places) }

// inStretches are places of one leg as people say them, by their numbers in it.
func inStretches(units []int, places []string) string {
	var out []string
	for i := 0; i < len(units); {
		n := i
		for n+1 < len(units) && units[n+1] == units[n]+1 {
			n++
		}
		one := places[i]
		if n > i {
			one += " to " + places[n]
		}
		out, i = append(out, one), n+1
	}
	return strings.Join(out, ", ")
}

// releasedAt tells of places whether a release of a point covers them. One that names no place is of the whole run.
func (b *Book) releasedAt(point string, points []PointState) func(spot) bool {
	type stretch struct{ leg, from, to int }
	var of []stretch
	all := false
	for _, p := range points {
		if p.Point != point || len(p.Releases) == 0 {
			continue
		}
		if p.From == "" {
			all = true
		} else if l, f, t, ok := b.stretch(p.From, p.To); ok {
			of = append(of, stretch{l, f, t})
		}
	}
	return func(at spot) bool {
		return all || slices.ContainsFunc(of, func(s stretch) bool { return s.leg == at.leg && s.from <= at.unit && at.unit <= s.to })
	}
}

// past tells whether the work that waits for a point was done at a unit, and by which records.
func (u *UnitState) past(work string) (bool, []string) {
	switch work {
	case "dig": // whoever levels the formation has dug
		if u.level("formation") != nil {
			return true, u.Evidence[Level]
		}
		return u.done("bed")
	case "handover":
		if u.Area != nil && strings.Contains(u.Area.To, "client") {
			return true, u.Area.By
		}
		return false, nil
	}
	return u.done(work)
}

// next is the first step of the job that was not done at a unit; the hand-over once all were.
func (u *UnitState) next(c *Contract) string {
	for _, s := range c.steps {
		if done, _ := u.done(s.Step); !done {
			return s.Step
		}
	}
	return "handover"
}

// Witness tells whether a point is a witness point: as the contract lists it, else as its records say.
func (c *Contract) Witness(p *PointState) bool {
	if listed, ok := c.Point(p.Point); ok && listed.Kind != "" {
		return listed.Kind == "witness"
	}
	return p.Witness
}

// Point is a point of the contract's list by its name.
func (c *Contract) Point(name string) (job.Point, bool) {
	for _, p := range c.points {
		if p.Name == name {
			return p, true
		}
	}
	return job.Point{}, false
}

// NoPoints is what is said where a contract lists no hold and witness points.
const NoPoints = "NOT CHECKED: no list of hold and witness points on file. Ask: " + owner
