package cable

import (
	"fmt"
	"math"

	"trenchwright/solve/check"
)

// Heat is a covered trench that no air moves through.
type Heat struct {
	Sun        bool            // the sun shines on the covers
	Ambient    *check.Quantity // of the air outside
	Conductor  *check.Quantity // that the conductor may reach
	Reference  *check.Quantity // of the air that the rated current is told for
	From       string
	Group      Group
	Circuits   int // grouped together; 0: as many as there are cables
	Allowed    *check.Quantity
	AllowedFor string // who says how warm the air inside may get
}

// Group is how circuits lie together.
type Group string

// The groups, with the words of the table that they are read from.
const (
	Bunched Group = "bunched"
	Floor   Group = "floor" // a single layer on a wall or floor
	Tray    Group = "tray"  // perforated
	Ladder  Group = "ladder"
)

var (
	heatRule = check.Rule{ID: "cable.heat", Says: "air in an unventilated covered trench is warmer than outside by heat per length / (3 x the part of its inner perimeter that gives heat off), which the covers in the sun are not of; cables are then rated as in air",
		Law: "IEC 60287-2-1, 2.2.6.2", Source: "the clause as quoted by engineers, as read", Status: check.Read, Tests: []string{"cable.TestHeatAsPublished"}}
	groupRule = check.Rule{ID: "cable.group", Says: "a rated current keeps √((conductor - air inside) / (conductor - reference)) of itself, and the factor of its group", Law: "BS 7671 Table 4C1; the root by IEC 60287, heat as the square of the current",
		Source: "a stored copy of the table, as read", Status: check.Read, Tests: []string{"cable.TestGroups", "cable.TestRatingInWarmAir"}}
)

// groups are the factors of BS 7671 Table 4C1 by number of circuits, from 1; the bunched row goes on with 12, 16 and 20.
var groups = map[Group][]float64{
	Bunched: {1.00, 0.80, 0.70, 0.65, 0.60, 0.57, 0.54, 0.52, 0.50},
	Floor:   {1.00, 0.85, 0.79, 0.75, 0.73, 0.72, 0.72, 0.71, 0.70},
	Tray:    {1.00, 0.88, 0.82, 0.77, 0.75, 0.73, 0.73, 0.72, 0.72},
	Ladder:  {1.00, 0.87, 0.82, 0.80, 0.80, 0.79, 0.79, 0.78, 0.78},
}

// Grouped is the factor of circuits that lie together; a number between two of the table takes the next greater one, and false is beyond it.
func Grouped(g Group, circuits int) (float64, bool) {
	row := groups[g]
	switch {
	case circuits < 1 || row == nil:
		return 0, false
	case circuits <= len(row):
		return row[circuits-1], true
	case g != Bunched:
		return 0, false
	}
	for _, more := range []struct {
		circuits int
		factor   float64
	}{{12, 0.45}, {16, 0.41}, {20, 0.38}} {
		if circuits <= more.circuits {
			return more.factor, true
		}
	}
	return 0, false
}

// Perimeter is the part of the inside that gives heat off, of an inner width and height: without the covers where the sun shines on them.
func Perimeter(width, depth float64, sun bool) float64 {
	p := width + float64(2*depth)
	if !sun {
		p += width
	}
	return p
}

func (h *Heat) bounds() []check.Bound {
	if h == nil {
		return nil
	}
	const least, most = -60, 250
	try := "a temperature between -60 and 250 °C"
	return []check.Bound{check.Between("air outside", h.Ambient, least, most, try), check.Between("a conductor", h.Conductor, least, most, try), check.Between("air that a current is rated for", h.Reference, least, most, try), check.Between("air inside", h.Allowed, least, most, try)}
}

// heat works out how warm the trench gets, and what that leaves of each rated current.
func (p *Problem) heat(out *Solution) {
	h := p.Heat
	if h == nil {
		return
	}
	a := p.answer("cable.heat", "the air in the covered trench", heatRule, engineer, "vents, covers in the shade, cables apart, fewer of them")
	a.Cautions = append([]string{"heat by losses as entered, at the current that they are entered for; fill round cables, ducts and fire stops are warmer still"}, cautions...)
	sum, known := 0.0, true
	for i := range p.Cables {
		c := &p.Cables[i]
		if loss, ok := a.Need("heat of "+c.Name+" on a length", c.Loss, c.From, maker); ok {
			sum += float64(float64(c.Count) * loss.SI)
		} else {
			known = false
		}
	}
	ambient, outside := a.Need("air outside", h.Ambient, h.From, engineer)
	if p.Section == nil {
		a.Missing = append(a.Missing, check.Missing{What: "inner width and height of the unit", Ask: supplier})
	}
	if !known || !outside || p.Section == nil {
		out.Answers = append(out.Answers, a)
		return
	}
	width, depth := p.Section.Width.Metres(), p.Section.Depth.Metres()
	a.Give("inner width", check.Length.Of(width), p.Section.From)
	a.Give("inner height", check.Length.Of(depth), p.Section.From)
	all := a.Work("heat of all cables", "sum", check.LineHeat.Of(sum))
	how := "2 x (width + height)"
	if h.Sun {
		how = "width + 2 x height, without the covers in the sun"
	}
	around := a.Work("perimeter that gives heat off", how, check.Length.Of(Perimeter(width, depth, h.Sun)))
	rise := a.Work("warmer by", "heat / (3 x perimeter)", check.Warmth.Of(all.SI/(3*around.SI)))
	inside := a.Work("air inside", "outside + that", check.Temperature.Of(ambient.SI+rise.SI))
	if allowed, ok := a.Need("air that the trench may reach", h.Allowed, h.AllowedFor, engineer); ok {
		a.Hold(inside, allowed, h.AllowedFor, check.AtMost(inside.SI, 0, allowed.SI))
	}
	out.Answers = append(out.Answers, a)
	for i := range p.Cables {
		if c := &p.Cables[i]; c.Rated != nil || c.Carries != nil {
			out.Answers = append(out.Answers, p.current(c, inside))
		}
	}
}

// current holds what a cable carries against what is left of its rating in the air inside.
func (p *Problem) current(c *Cable, inside check.Quantity) check.Answer {
	h := p.Heat
	a := p.answer("cable.current", "the current of "+c.Name, groupRule, engineer, "a larger cable, fewer in the trench, more air")
	a.Cautions = append([]string{"the factor of a group is for circuits alike and loaded alike"}, cautions...)
	carries, one := a.Need("current that "+c.Name+" carries", c.Carries, c.From, engineer)
	rated, two := a.Need("rated current of "+c.Name+" in air", c.Rated, c.From, maker)
	conductor, three := a.Need("temperature that the conductor may reach", h.Conductor, h.From, maker)
	reference, four := a.Need("air that the rated current is told for", h.Reference, h.From, maker)
	circuits := h.Circuits
	if circuits == 0 {
		for i := range p.Cables {
			circuits += p.Cables[i].Count
		}
	}
	a.Give("air inside", inside, "the check of the covered trench")
	a.Give("circuits together", check.Count.Of(float64(circuits)), "")
	factor, ok := Grouped(h.Group, circuits)
	if !ok {
		a.Missing = append(a.Missing, check.Missing{What: fmt.Sprintf("factor for %d circuits that lie %q together", circuits, string(h.Group)), Ask: engineer})
	}
	if !one || !two || !three || !four || !ok {
		return a
	}
	warm := 0.0
	if conductor.SI > inside.SI && conductor.SI > reference.SI {
		warm = math.Sqrt((conductor.SI - inside.SI) / (conductor.SI - reference.SI))
	}
	f := a.Work("factor of the warm air", "√((conductor - inside) / (conductor - reference))", check.Ratio.Of(warm))
	g := a.Work("factor of the group", "BS 7671 Table 4C1", check.Ratio.Of(factor))
	keeps := a.Work("it keeps", "rated x both", check.Current.Of(rated.SI*f.SI*g.SI))
	a.Hold(carries, keeps, c.From, check.AtMost(carries.SI, 0, keeps.SI))
	return a
}
