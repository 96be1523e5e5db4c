package field

import (
	"cmp"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/solve/levelling"
)

// Inspector is the role of whoever checks what the contractor did: what people of this role read stands beside what was read, and
// never in its place.
const Inspector = "inspector"

func inspects(e *entry) bool { return e.inspect }

// parted are the records of those who build and of those who inspect. Where nobody who builds recorded anything, the inspector's stand
// for themselves.
func parted(of []*entry) [2][]*entry {
	if !slices.ContainsFunc(of, inspects) {
		return [2][]*entry{of, nil}
	}
	var two [2][]*entry
	for _, e := range of {
		who := 0
		if inspects(e) {
			who = 1
		}
		two[who] = append(two[who], e)
	}
	if len(two[0]) == 0 {
		return [2][]*entry{two[1], nil}
	}
	return two
}

// readings are those of one thing, the builders' and the inspector's.
type readings [2][]Reading

func (r *readings) add(who int, value, plus measure.Length, e *entry) {
	r[who] = append(r[who], Reading{value, plus, e.ID})
}

func (r *readings) measured() *Measured {
	if len(r[0]) == 0 {
		return measured(r[1])
	}
	m := measured(r[0])
	m.Check = measured(r[1])
	return m
}

// measured is what readings that nobody took back come to: the one that is known best, where none is further from it than both
// are good for.
func measured(of []Reading) *Measured {
	if len(of) == 0 {
		return nil
	}
	sorting.By(of, func(a, b Reading) int { return cmp.Or(cmp.Compare(a.Plus, b.Plus), cmp.Compare(a.By, b.By)) })
	m := &Measured{Known: true, Value: of[0].Value, Plus: of[0].Plus, Readings: of}
	for i, x := range of {
		for _, y := range of[:i] {
			if (x.Value - y.Value).Abs() > x.Plus+y.Plus {
				return &Measured{Readings: of}
			}
		}
	}
	return m
}

// levels are the readings of a unit by what they are of; wall tops may have been read when it was set.
func levels(read, set []*entry) []LevelState {
	var names []string
	by := map[string][]*entry{}
	add := func(of string, e *entry) {
		if by[of] == nil {
			names = append(names, of)
		}
		by[of] = append(by[of], e)
	}
	for _, e := range read {
		if says, ok := hear[LevelSays](e); ok && says.Of != "" {
			add(says.Of, e)
		}
	}
	for _, e := range set {
		if says, ok := hear[SetSays](e); ok && len(says.Walls) == 4 && e.alone && !says.Lifted {
			add("wall", e)
		}
	}
	sorting.Ascending(names)
	var list []LevelState
	for _, of := range names {
		list = append(list, level(of, standing(by[of])))
	}
	return list
}

func level(of string, standing []*entry) LevelState {
	l := LevelState{Of: of, Said: Fact{Is: No}}
	var four [4]readings
	for who, group := range parted(standing) {
		for _, e := range last(group) {
			var at []measure.Length
			var plus measure.Length
			alone := ""
			if e.Kind == Set {
				says, _ := hear[SetSays](e)
				at, plus = says.Walls, says.Plus
			} else {
				says, _ := hear[LevelSays](e)
				at, plus, alone = says.At(), says.Plus, says.End
				l.say(says.Within, e)
			}
			for i := range at {
				if !strings.HasPrefix(corners[i], alone) {
					continue
				}
				four[i].add(who, at[i], plus, e)
			}
		}
	}
	for i := range four {
		l.Four[i] = four[i].measured()
	}
	return l
}

func (l *LevelState) say(within *bool, e *entry) {
	if within == nil {
		return
	}
	is := No
	if *within {
		is = Yes
	}
	if len(l.Said.By) > 0 && l.Said.Is != is {
		is = CantSay
	}
	l.Said = Fact{is, append(l.Said.By, e.ID)}
}

// rock is by how much a unit rocks, from its four corners, and what was packed under it.
func (s *UnitState) rock(standing []*entry) {
	var twist readings
	for who, group := range parted(standing) {
		for _, e := range last(group) {
			says, ok := hear[RockSays](e)
			if !ok {
				continue
			}
			if len(says.Four) == 4 {
				r := levelling.RockOf(levelling.Corners(says.Four))
				twist.add(who, r.Twist.Abs(), 4*says.Plus, e) // four readings, each with its own
			}
			if says.Packer != nil {
				s.Packer = strings.TrimSpace(says.Packer.String() + " " + says.Corner)
			}
		}
	}
	s.Rock = twist.measured()
}
