package field

import (
	"strconv"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/solve/levelling"
)

// Held is one thing that was measured, held against its limit.
type Held struct {
	Leg     string         `json:"leg"`
	Place   string         `json:"place"`
	What    string         `json:"what"`  // "level of the pad, end left"
	Of      string         `json:"of"`    // "pad", "wall", "end", "line", "gap", "lip", "rock", "test"
	Known   bool           `json:"known"` // false: a test, or people who did not know of each other read different things, and there is no value
	Value   measure.Length `json:"value"` // what is held against the limit: how far something is off, or the gap itself
	Plus    measure.Length `json:"plus"`  // how well it is known, each way
	Told    string         `json:"told"`  // of a test: what it came to, as written; else why there is no value
	Limit   Limit          `json:"limit"` // for a test without figures: its text as its source
	Verdict string         `json:"verdict"`
	Role    string         `json:"role"` // of whoever measured it, where a role is recorded
	By      []string       `json:"by"`   // the records
	Read    []ReadBy       `json:"read"` // where no value is known: what each of them read, as the value would be
}

// NotChecked is the verdict where no limit is on file.
const NotChecked = "NOT CHECKED"

// judge holds a value and how well it is known against a limit.
func judge(value, plus measure.Length, l Limit) string {
	switch {
	case !l.Known:
		return NotChecked
	case value-plus > l.Most || value+plus < l.Least:
		return string(levelling.DoesNot)
	case value+plus <= l.Most && value-plus >= l.Least:
		return string(levelling.Meets)
	}
	return string(levelling.CannotSay)
}

// Held holds everything that was measured against its limit, unit by unit: the contract's, or where it has none what the record itself
// says it is held against. What the inspector read is held beside.
func (b *Book) Held(c *Contract) []Held {
	var list []Held
	b.each(func(at spot, u *UnitState) { list = append(list, b.heldAt(c, at, u)...) })
	return append(list, b.aside(c)...)
}

// each goes through all units, worked out.
func (b *Book) each(do func(spot, *UnitState)) {
	for l := range b.legs {
		for i := range b.legs[l].piles {
			at := spot{l, i}
			do(at, b.workUnit(at))
		}
	}
}

// HeldAt is Held for one place.
func (b *Book) HeldAt(c *Contract, place string) []Held {
	at, ok := b.at(place)
	if !ok {
		return nil
	}
	return b.heldAt(c, at, b.workUnit(at))
}

// holder collects what is held at one unit.
type holder struct {
	b    *Book
	c    *Contract
	leg  string
	unit *Unit
	list []Held
}

func (b *Book) heldAt(c *Contract, at spot, u *UnitState) []Held {
	leg := &b.run.Legs[at.leg]
	h := holder{b: b, c: c, leg: leg.ID, unit: &leg.Units[at.unit]}
	h.measured("end", "where its end lies", 0, c.limit("end"), u.End)
	h.measured("line", "line", 0, c.limit("line"), u.Line)
	h.measured("rock", "rock", 0, c.limit("rock"), u.Rock)
	h.gap(u)
	for i := range u.Levels {
		h.level(u, &u.Levels[i])
	}
	h.crossfall(u)
	if at.unit+1 < len(leg.Units) {
		h.lip(u, b.workUnit(spot{at.leg, at.unit + 1}))
	}
	h.tests(u)
	p := &h.b.legs[at.leg].piles[at.unit]
	h.piece(u, p)
	h.thick(p)
	return h.list
}

// measured holds one measured thing, and the inspector's reading of it; planned is what it should be.
func (h *holder) measured(of, what string, planned measure.Length, l Limit, m *Measured) {
	if m == nil {
		return
	}
	v := Held{Leg: h.leg, Place: h.unit.Place, What: what, Of: of, Known: m.Known, Plus: m.Plus, Limit: l}
	if m.Known {
		v.Value = m.Value - planned
	} else if of == crossfall || of == "lip" { // of several readings each, which stand with their levels
		v.Told = "not known: what it is told from was read differently by people who did not know of each other"
	} else {
		v.Read = h.b.reads(m.Readings)
		for i := range v.Read {
			v.Read[i].Value -= planned
		}
	}
	for _, r := range m.Readings {
		v.By = append(v.By, r.By)
	}
	first := h.b.records.of(v.By[0])
	v.Role = first.Role
	if !l.Known && of != crossfall { // a record of levels says what levels are held against
		if own, ok := ruleOf(first.Rule); ok {
			v.Limit = own
		}
	}
	v.Verdict = judge(v.Value, v.Plus, v.Limit)
	if !m.Known && v.Verdict != NotChecked {
		v.Verdict = string(levelling.CannotSay)
	}
	h.list = append(h.list, v)
	h.measured(of, what, planned, l, m.Check)
}

// reading is something measured at one of several places of a unit, and what it should be there.
type reading struct {
	what    string
	planned measure.Length
	m       *Measured // nil: nobody read it
}

// worst holds the one of several that is furthest from meeting its limit: one that does not, else one of which nobody can say, else the
// one that is furthest off.
func (h *holder) worst(of string, l Limit, several []reading) {
	var worst *reading
	most, rank := measure.Length(0), -1
	for i := range several {
		r := &several[i]
		if r.m == nil {
			continue
		}
		off, is := (r.m.Value - r.planned).Abs(), 0
		verdict := judge(r.m.Value-r.planned, r.m.Plus, l)
		if !r.m.Known {
			off, verdict = 0, string(levelling.CannotSay)
		}
		switch verdict {
		case string(levelling.CannotSay):
			is = 1
		case string(levelling.DoesNot):
			is = 2
		}
		if is > rank || is == rank && off > most {
			worst, most, rank = r, off, is
		}
	}
	if worst != nil {
		h.measured(of, worst.what, worst.planned, l, worst.m)
	}
}

// crossfall is what the fall across a unit is called, from the top of its left wall to that of its right one, to the right above 0.
const crossfall = "crossfall"

// crossfall holds the crossfall of a unit against the planned one, at the end where it is further off. Where one reading stands for
// both walls, none was read.
func (h *holder) crossfall(u *UnitState) {
	s, planned := u.level("wall"), h.unit.level("wall")
	if s == nil || planned == nil {
		return
	}
	var ends []reading
	for i, end := range [2]string{"start", "end"} {
		ends = append(ends, reading{"crossfall off the planned one at its " + end, planned[2*i] - planned[2*i+1], h.across(s.Four[2*i], s.Four[2*i+1])})
	}
	h.worst(crossfall, h.c.limit(crossfall), ends)
}

// across is the fall from one reading to another; nil: one of them was not read by itself.
func (h *holder) across(left, right *Measured) *Measured {
	if left == nil || right == nil || !h.b.apartRead(left.Readings[0].By) || !h.b.apartRead(right.Readings[0].By) {
		return nil
	}
	m := &Measured{Known: left.Known && right.Known, Value: left.Value - right.Value, Plus: left.Plus + right.Plus, Readings: left.Readings, Check: h.across(left.Check, right.Check)}
	if left.Readings[0].By != right.Readings[0].By {
		m.Readings = append(append([]Reading{}, left.Readings...), right.Readings...)
	}
	return m
}

// apartRead tells whether a record has readings of single corners, and not one for several.
func (b *Book) apartRead(id string) bool {
	e := b.records.of(id)
	if e.Kind == Set {
		return true // of four walls
	}
	says, _ := hear[LevelSays](e)
	return len(says.Read) > 0 || len(says.Four) == 4 || len(says.Four) == 0 && len(says.Rod) == 4 && says.Level == nil || strings.Contains(says.End, " ")
}

// gap holds a joint's gap against what the joint may have, each wall by itself: a joint that is shut at one wall and gapes at the other
// is good at neither, whatever it is on its axis. Where it was read at one wall alone, nobody can say that the joint meets it.
func (h *holder) gap(u *UnitState) {
	window := Limit{Known: h.unit.GapMost > 0, Least: h.unit.GapLeast, Most: h.unit.GapMost, Source: h.unit.GapFrom, Ask: "the supplier", None: "window of the joint after " + h.unit.Place}
	alone := ""
	if u.Left == nil || u.Right == nil {
		alone = " alone"
	}
	from := len(h.list)
	h.measured("gap", "gap after it, left wall"+alone+",", 0, window, u.Left)
	h.measured("gap", "gap after it, right wall"+alone+",", 0, window, u.Right)
	for i := range h.list[from:] {
		if v := &h.list[from+i]; alone != "" && v.Verdict == string(levelling.Meets) {
			v.Verdict = string(levelling.CannotSay)
		}
	}
}

// level holds a level at the corner that is furthest off.
func (h *holder) level(u *UnitState, s *LevelState) {
	l, planned := h.c.limit(s.Of), h.unit.level(s.Of)
	if planned == nil {
		l = Limit{Ask: "whoever has the levels", None: "planned level of the " + s.Of + " at " + h.unit.Place}
	}
	var at []reading
	for i, m := range s.Four {
		should, now := measure.Length(0), (*measure.Length)(nil)
		if planned != nil {
			now = &planned[i]
		}
		if is := u.Should(s.Of, i, now); is != nil {
			should = *is
		}
		at = append(at, reading{"level of the " + s.Of + ", " + Corners[i], should, m})
	}
	h.worst(s.Of, l, at)
}

// lip holds the step from the end of one unit to the start of the next, at the wall where it is greater.
func (h *holder) lip(u, next *UnitState) {
	a, z := u.level("wall"), next.level("wall")
	if a == nil || z == nil {
		return
	}
	var walls []reading
	for _, side := range [2][2]int{{2, 0}, {3, 1}} {
		end, start := a.Four[side[0]], z.Four[side[1]]
		if end == nil || start == nil {
			continue
		}
		m := &Measured{Known: end.Known && start.Known, Value: (end.Value - start.Value).Abs(), Plus: end.Plus + start.Plus, Readings: append(append([]Reading{}, end.Readings...), start.Readings...)}
		walls = append(walls, reading{"lip to " + next.Place, 0, m})
	}
	h.worst("lip", h.c.limit("lip"), walls)
}

func (u *UnitState) level(of string) *LevelState {
	for i := range u.Levels {
		if u.Levels[i].Of == of {
			return &u.Levels[i]
		}
	}
	return nil
}

// tests holds what was tested: by the verdict of whoever tested it, and where there is none by the lengths that were written.
func (h *holder) tests(u *UnitState) {
	for _, t := range u.Bonds {
		h.test("bond", t)
	}
	for _, t := range u.Tests {
		h.test("cover test", t)
	}
	for _, l := range u.Layers {
		if len(l.Met.By) > 0 {
			h.test("layer "+strconv.Itoa(l.Number)+", "+l.Side, TestState{Met: l.Met, By: l.Met.By})
		}
	}
}

func (h *holder) test(what string, t TestState) {
	v := Held{Leg: h.leg, Place: h.unit.Place, What: strings.TrimSpace(what + " " + t.Method), Of: "test", Told: t.Value, By: t.By}
	v.Limit = Limit{Known: t.Limit != "", Source: t.Limit, Ask: owner, None: "limit for the " + what}
	value, err := measure.Parse(t.Value)
	limit, fails := measure.Parse(t.Limit)
	if fails != nil && t.Limit == "" && strings.Contains(strings.ToLower(t.Method), "step") {
		if l := h.c.limit("step"); l.Known {
			v.Limit, limit, fails = l, measure.Reading{Length: l.Most}, nil
		}
	}
	switch {
	case len(t.Met.By) > 0 && t.Met.Is == Yes:
		v.Verdict = string(levelling.Meets)
	case len(t.Met.By) > 0 && t.Met.Is == No:
		v.Verdict = string(levelling.DoesNot)
	case len(t.Met.By) > 0:
		v.Verdict = string(levelling.CannotSay)
	case v.Limit.Known && (err != nil || fails != nil):
		v.Verdict = against(what, t.Method, t.Value, t.Limit)
	case !v.Limit.Known:
		v.Verdict = NotChecked
	default:
		v.Value, v.Limit.Least, v.Limit.Most = value.Length, -limit.Length, limit.Length
		v.Verdict = judge(v.Value, 0, v.Limit)
	}
	h.list = append(h.list, v)
}

// Open tells what of a list is not met, cannot be said or was not checked.
func Open(list []Held) []Held {
	var open []Held
	for _, h := range list {
		if h.Verdict != string(levelling.Meets) {
			open = append(open, h)
		}
	}
	return open
}

// Say is what is held in words; size writes lengths.
func (h Held) Say(size func(measure.MM) string) string {
	value := h.Told
	switch {
	case len(h.Read) > 0:
		value = differ(h.Read, size)
	case h.Known:
		value = size(measure.MM(h.Value))
		if h.Plus > 0 {
			value += " (± " + size(measure.MM(h.Plus)) + ")"
		}
	}
	text := strings.TrimSpace(h.What + " " + value)
	if h.Verdict == NotChecked {
		return text + ". " + h.Limit.NotChecked()
	}
	switch {
	case !h.Limit.Known:
	case !h.Known && h.Told != "" && h.Limit.Most == 0: // its limit is its own text
		text += ", held against " + h.Limit.Source
	default:
		text += ", " + h.Limit.Say(size)
	}
	return text + ": " + h.Verdict
}

// differ are readings that cannot all be right, with who made each and when.
func differ(read []ReadBy, size func(measure.MM) string) string {
	said := make([]string, len(read))
	for i, r := range read {
		said[i] = size(measure.MM(r.Value)) + " by " + r.Person + " " + r.Made
		if r.With != "" {
			said[i] += " with " + r.With
		}
	}
	return strings.Join(said, ", ") + ", which differ by more than they are good for"
}
