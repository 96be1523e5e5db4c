package field

import (
	"cmp"
	"fmt"
	"math"
	"strconv"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/solve/levelling"
)

// What was made, held against what the plan has: pieces, layers, conduit entries, as-built shots, bends.

// told adds a thing without a length as its value, such as a word or an angle: what was recorded, what the plan has, and the verdict.
func (h *holder) told(of, what, is string, l Limit, verdict string, by []string) {
	v := Held{Leg: h.leg, Place: h.unit.Place, What: what, Of: of, Told: is, Limit: l, Verdict: verdict, By: by}
	if len(by) > 0 {
		v.Role = h.b.records.of(by[0]).Role
	}
	h.list = append(h.list, v)
}

// piece holds the length and the type of what was set, and the walls of what was cut, against the plan.
func (h *holder) piece(u *UnitState, p *pile) {
	tolerance := h.c.lengthOf(h.unit)
	if square := h.unit.Walls[0] == h.unit.Walls[1]; square && h.unit.Long > 0 {
		h.measured("length", "length off the planned "+h.b.size(h.unit.Long)+",", h.unit.Long, tolerance, u.Length)
	}
	if u.Type != "" {
		plan := Limit{Known: true, Source: "the plan, which has " + h.unit.Piece.Name(h.b.sized)}
		h.told("type", "type", u.Type, plan, string(levelling.DoesNot), u.Set.By)
	}
	for _, e := range last(p.standing(Cut)) {
		says, ok := hear[CutSays](e)
		if !ok || says.Spoiled || h.unit.Walls == ([2]measure.Length{}) {
			continue
		}
		for i, l := range [2]*measure.Length{says.Left, says.Right} {
			if l != nil {
				m := Measured{Known: true, Value: *l, Readings: []Reading{{Value: *l, By: e.ID}}}
				h.measured("cut", "cut piece off its planned "+h.b.size(h.unit.Walls[i])+" on the "+[2]string{"left", "right"}[i]+" wall,", h.unit.Walls[i], h.c.limit("cut"), &m)
			}
		}
	}
}

// thick holds the layers beside a unit against how thick one may be.
func (h *holder) thick(p *pile) {
	at := map[string][]*entry{}
	for _, e := range p.standing(Layer) {
		if says, ok := hear[LayerSays](e); ok && says.Thick > 0 {
			what := "layer " + strconv.Itoa(says.Number) + ", " + cmp.Or(says.Side, "both") + ", thick"
			at[what] = append(at[what], e)
		}
	}
	for _, what := range named(at) {
		var read readings
		for _, e := range last(at[what]) {
			says, _ := hear[LayerSays](e)
			read.add(0, says.Thick, 0, e)
		}
		h.measured("layer", what, 0, h.c.limit("layer"), read.measured())
	}
}

// lengthOf is what the length of a unit is held against: how true a cut has to be, or what its supply's units may be off.
func (c *Contract) lengthOf(u *Unit) Limit {
	if u.Piece.Mark != "" {
		return c.limit("cut")
	}
	if l, ok := c.limits["length "+u.Piece.Supply]; ok {
		return l
	}
	return Limit{Ask: "the supplier", None: "tolerance for the length of units of supply " + u.Piece.Supply}
}

// madeOf are the limits for what is made that a job states.
func (c *Contract) madeOf(j job.Job) {
	r := &j.Rules
	c.limits["cut"] = Limit{Known: r.SawTolerance.Known, Least: -r.SawTolerance.Value, Most: r.SawTolerance.Value, Source: job.SourceFrom(j, r.From, r.SawTolerance), Ask: owner, None: "tolerance for cut pieces"}
	c.limits["layer"] = Limit{Known: j.Dig.Layer.Known, Most: j.Dig.Layer.Value, Source: job.SourceFrom(j, j.Dig.From, j.Dig.Layer), Ask: "the engineer", None: "thickness of a layer of fill"}
	for i := range j.Supplies {
		s := &j.Supplies[i]
		t := s.Unit.LengthTol
		c.limits["length "+s.ID] = Limit{Known: t.Known, Least: -t.Value, Most: t.Value, Source: job.SourceFrom(j, s.From, t), Ask: "the supplier", None: "tolerance for the length of units of supply " + s.ID}
	}
	for i := range j.Route.Legs {
		for _, e := range j.Route.Legs[i].Entries {
			c.entries = append(c.entries, plannedEntry{j.Route.Legs[i].ID, e})
		}
	}
}

// plannedEntry is a conduit entry of a leg, as the job has it.
type plannedEntry struct {
	leg string
	job.ConduitEntry
}

// aside holds what is of no unit alone: conduit entries, as-built shots, bends.
func (b *Book) aside(c *Contract) []Held {
	var list []Held
	for _, e := range b.worked.entries.get(b.entryStates) {
		list = append(list, b.entryHeld(c, &e)...)
	}
	for _, s := range b.worked.shots.get(b.shotStates) {
		list = append(list, b.shotHeld(c, &s)...)
	}
	for _, a := range b.worked.angles.get(b.angleStates) {
		drawn, ok := b.run.Bends[a.Node]
		if !ok {
			continue
		}
		v := Held{Place: a.Node, What: "bend", Of: "bend", Verdict: NotChecked, By: a.By, Limit: Limit{Ask: owner, None: "tolerance for the angle of a bend"}}
		switch {
		case !a.Known:
			v.Told = "measured differently by people who did not know of each other, drawn " + drawn.Show(2)
		case a.Plus > 0:
			v.Told = fmt.Sprintf("%s (± %s), drawn %s", a.Angle.Show(2), a.Plus.Show(2), drawn.Show(2))
		default:
			v.Told = a.Angle.Show(2) + ", drawn " + drawn.Show(2)
		}
		list = append(list, v)
	}
	return list
}

// entryHeld holds one conduit entry as it was made against the one that the job has there: by its name, else the only one on its unit.
func (b *Book) entryHeld(c *Contract, e *EntryState) []Held {
	at, placed := b.at(e.Place)
	var planned *plannedEntry
	several := false
	for i := range c.entries {
		p := &c.entries[i]
		leg := -1
		for l := range b.run.Legs {
			if b.run.Legs[l].ID == p.leg {
				leg = l
			}
		}
		switch {
		case strings.EqualFold(p.ID, e.Place):
			planned, several = p, false
		case placed && leg == at.leg && (planned == nil || planned.ID != e.Place):
			u, x := &b.run.Legs[leg].Units[at.unit], p.At-b.run.Legs[leg].Setback
			if x >= u.Start && x <= u.End {
				several, planned = planned != nil, p
			}
		}
	}
	h := holder{b: b, c: c, unit: &Unit{Place: e.Place}}
	if placed {
		h.leg = b.run.Legs[at.leg].ID
	}
	if planned == nil || several {
		h.told("entry", "conduit entry", strings.TrimSpace("made "+e.Wall), Limit{Ask: "whoever designed the conduits", None: "conduit entry that is planned at " + e.Place}, NotChecked, e.By)
		return h.list
	}
	h.leg = planned.leg
	name := "conduit entry " + planned.ID
	plan := func(is string) Limit { return Limit{Known: true, Source: "the job, which has " + is} }
	if e.Wall != "" {
		verdict := string(levelling.DoesNot)
		if e.Wall == planned.Side {
			verdict = string(levelling.Meets)
		}
		h.told("entry", name+", wall", e.Wall, plan(planned.Side), verdict, e.By)
	}
	if d := e.Diameter; d != nil {
		if *d == planned.Diameter {
			h.told("entry", name+", diameter", b.size(*d), plan(b.size(planned.Diameter)), string(levelling.Meets), e.By)
		} else {
			h.told("entry", name+", diameter", b.size(*d)+", planned "+b.size(planned.Diameter), Limit{Ask: "whoever designed the conduits", None: "tolerance for the size of conduit entries"}, NotChecked, e.By)
		}
	}
	return h.list
}

// shotHeld holds a surveyed place of the run against the set-out: how far it lies along the run from its joint, or from its unit, and
// how far off the line.
func (b *Book) shotHeld(c *Contract, s *ShotState) []Held {
	at, ok := b.at(s.Place)
	if !ok {
		return nil
	}
	u := &b.run.Legs[at.leg].Units[at.unit]
	h := holder{b: b, c: c, leg: b.run.Legs[at.leg].ID, unit: &Unit{Place: s.Place}}
	from, to := u.Points[0], u.Points[1]
	what := strings.TrimSpace("as-built shot " + s.Of)
	if from == (Point{}) || to == (Point{}) || from == to {
		h.told("shot", what, "", Limit{Ask: "whoever has the set-out", None: "set-out of " + s.Place}, NotChecked, s.By)
		return h.list
	}
	east, north := (to.Easting - from.Easting).Metres(), (to.Northing - from.Northing).Metres()
	long := math.Hypot(east, north)
	east, north = east/long, north/long
	if strings.Contains(s.Place, "/") {
		from, long = to, 0
	}
	e, n := (s.Easting - from.Easting).Metres(), (s.Northing - from.Northing).Metres()
	along, across := float64(e*east)+float64(n*north), float64(e*north)-float64(n*east) // to the right above 0
	if long > 0 {
		along -= min(max(along, 0), long)
	}
	one := func(name string, l Limit, off float64) {
		is := measure.FromMetres(off)
		h.measured("shot", what+", "+name, 0, l, &Measured{Known: true, Value: is, Readings: []Reading{{Value: is, By: s.By[0]}}})
	}
	one("along the run", c.limit("end"), along)
	one("off the line", c.limit("line"), across)
	return h.list
}

// figure is a number with what follows it, and which way it holds: at most above 0, at least below 0, not told 0.
func figure(text string) (value float64, unit string, way int, ok bool) {
	text = strings.ToLower(strings.TrimSpace(text))
	for _, w := range limitWords {
		if rest, found := strings.CutPrefix(text, w.word); found {
			text, way = strings.TrimSpace(rest), w.way
			break
		}
	}
	end := len(text)
	for i, r := range text {
		if (r < '0' || r > '9') && r != '.' && r != '-' {
			end = i
			break
		}
	}
	value, err := strconv.ParseFloat(text[:end], 64)
	unit = strings.TrimSpace(text[end:])
	switch unit {
	case "ω", "ohms":
		unit = "ohm"
	case "percent":
		unit = "%"
	}
	return value, unit, way, err == nil
}

// limitWords are how people begin a limit.
var limitWords = []struct {
	word string
	way  int
}{{"at most", 1}, {"not more than", 1}, {"max.", 1}, {"≤", 1}, {"<=", 1}, {"at least", -1}, {"not less than", -1}, {"min.", -1}, {"≥", -1}, {">=", -1}}

// against holds a written figure against a written limit of the same unit. A limit that does not say which way it holds is the most, for
// an earthing bond that is tested for its resistance; for anything else nobody can say.
func against(what, method, value, limit string) string {
	v, unit, _, ok := figure(value)
	l, of, way, known := figure(limit)
	if way == 0 && what == "bond" && !strings.Contains(strings.ToLower(method), "insulation") {
		way = 1
	}
	switch {
	case !ok || !known || unit != of || way == 0:
		return string(levelling.CannotSay)
	case way > 0 && v <= l, way < 0 && v >= l:
		return string(levelling.Meets)
	}
	return string(levelling.DoesNot)
}
