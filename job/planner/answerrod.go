package planner

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/solve/levelling"
)

// RodQuestion is what is set up in the trench, and what is to be levelled.
type RodQuestion struct {
	Height *measure.Length // of the instrument, or of the laser's beam where it stands; nil: none is set up
	Rod    *measure.Length // how far the rod can be read; nil: none on file
	Leg    string          // "": all legs
	Of     string          // one of RodLevels; "": pads where the run stands on pads, else the bed
	Slope  *measure.Grade  // of a laser's plane along the run, up-chainage; nil: level
	At     Spot            // where that laser stands
	Beam   *measure.Length // height of a laser's beam above the level at its joint; nil: its beam stands at Height there
	Pegs   []PegAt
	Offset measure.Length // of the pegs from the line, right above nought
}

// RodLevels are the levels that a rod is held on.
func RodLevels() []string {
	return []string{"formation", "bed", "pad", "underside", "invert", "top", "cover"}
}

// RodAnswer is what the rod shows.
type RodAnswer struct {
	Of         string       `json:"of"`
	Height     *float64     `json:"hi_m"`
	Rod        *measure.MM  `json:"rod_mm"`
	Readings   []RodAt      `json:"readings"`
	Setups     []RodSetup   `json:"setups"` // that serve every joint; empty where one does
	Grades     []LaserGrade `json:"grades"`
	Pegs       []PegMarks   `json:"pegs"`
	NotChecked []string     `json:"not_checked"`
	Findings   finding.List `json:"findings"`
}

// RodAt is the rod at one place of the set-out, on the line of the left wall and on that of the right.
type RodAt struct {
	Leg      string        `json:"leg"`
	Place    string        `json:"place"`
	Chainage measure.MM    `json:"chainage_mm"`
	Levels   [2]float64    `json:"levels_m"`
	Readings [2]measure.MM `json:"readings_mm"`
	Before   *measure.MM   `json:"before_mm"` // on the left wall of the unit before, where that lies otherwise; null: as behind
	Seen     bool          `json:"seen"`
	Why      string        `json:"why"` // why not
	need     measure.Length
}

// RodSetup is one place of the instrument that serves a stretch: its height has to lie between the two.
type RodSetup struct {
	From    string   `json:"from"`
	To      string   `json:"to"`
	Lowest  float64  `json:"lowest_hi_m"`
	Highest *float64 `json:"highest_hi_m"` // null: no length of a rod on file
}

// Rod answers what a rod shows.
func (a *Answers) Rod(q RodQuestion) (RodAnswer, error) {
	if q.Of == "" {
		q.Of = "bed"
		if a.b.sup[0].Bearing.On.Value == "pads" {
			q.Of = "pad"
		}
	}
	if !slices.Contains(RodLevels(), q.Of) {
		return RodAnswer{}, fmt.Errorf("%q is no level of the run; there is %s", q.Of, strings.Join(RodLevels(), ", "))
	}
	if q.Leg != "" && a.legOf(q.Leg) < 0 {
		return RodAnswer{}, fmt.Errorf("there is no leg %s; the legs are %s", q.Leg, a.legsText(nil))
	}
	out := RodAnswer{Of: q.Of, Height: metresOf(q.Height), Rod: mmOf(q.Rod), Readings: []RodAt{}, Setups: []RodSetup{}, Grades: []LaserGrade{}, Pegs: []PegMarks{}, NotChecked: []string{}, Findings: finding.List{}}
	if q.Rod == nil && (q.Height != nil || q.Beam != nil) {
		out.NotChecked = append(out.NotChecked, finding.NoneOnFile("length of the rod", "whoever holds it", finding.Where{}).Sentence())
	}
	if q.Height != nil {
		a.read(q, &out)
	}
	if q.Slope == nil && (q.Height != nil || q.Beam != nil) {
		a.gradesFor(q, &out)
	}
	for _, p := range q.Pegs {
		out.Pegs = append(out.Pegs, a.peg(p, q.Offset))
	}
	slices.Sort(out.NotChecked)
	out.NotChecked = slices.Compact(out.NotChecked)
	return out, nil
}

// rowsOf are the places of the set-out on the legs that are asked for, leg by leg.
func (a *Answers) rowsOf(leg string) (legs []int, rows [][]SetOut) {
	for i, l := range a.legs {
		if l.units > 0 && (leg == "" || folded(leg) == folded(l.id)) {
			legs, rows = append(legs, i), append(rows, a.b.plan.SetOut[l.row:l.row+l.units+1])
		}
	}
	return legs, rows
}

// rodLevel is the level that a rod is held on at a place, on the left wall and on the right.
func rodLevel(r *SetOut, of string) (left, right measure.Length, ok bool) {
	v := r.Levels
	if v == nil {
		if of == "top" && r.Level != nil {
			z := measure.FromMetres(*r.Level)
			return z, z, true
		}
		return 0, 0, false
	}
	m := Before{v.Cover, v.Wall, v.Underside, v.PadTop, v.PadBase, v.UnderPad, v.Formation, v.Invert}.level(of, r.Pad != "")
	if m == nil {
		return 0, 0, false
	}
	left = measure.FromMetres(*m)
	right = left
	if l, r := v.Walls[2], v.Walls[3]; l != nil && r != nil {
		right += measure.FromMetres(*r) - measure.FromMetres(*l)
	}
	return left, right, true
}

// before is the level on the left wall of the unit before a joint, where that lies otherwise than behind.
func (r *SetOut) before(of string) *measure.Length {
	if r.Levels == nil || r.Levels.Before == nil {
		return nil
	}
	m := r.Levels.Before.level(of, r.Pad != "")
	if m == nil {
		return nil
	}
	return new(measure.FromMetres(*m))
}

// level is one of the levels under a wall, as a rod is held on it; padded: a pad lies there.
func (v Before) level(of string, padded bool) *float64 {
	switch of {
	case "formation":
		return v.Formation
	case "bed":
		if padded {
			return v.PadBase
		}
		return v.Underside
	case "pad":
		return v.PadTop
	case "underside":
		return v.Underside
	case "invert":
		return v.Invert
	case "top":
		return v.Wall
	}
	return v.Cover
}

// noLevel says that a level is not on file.
func (a *Answers) noLevel(leg, of string, out *RodAnswer) {
	what := map[string]string{"formation": "formation", "bed": "bed", "pad": "pads", "underside": "underside", "invert": "invert", "top": "wall tops", "cover": "covers"}[of]
	out.NotChecked = append(out.NotChecked, finding.NoneOnFile("level of the "+what+" on leg "+leg, "whoever has the levels, or the supplier's thicknesses", finding.Where{Leg: leg}).Sentence())
}

// read works out the readings.
func (a *Answers) read(q RodQuestion, out *RodAnswer) {
	plane := levelling.InstrumentAt(*q.Height)
	if q.Slope != nil {
		line := a.b.axes[q.At.Leg].line
		pose := line.At(q.At.At)
		rise, err := q.Slope.Over(measure.Kilometre) // on the ground; the plane is told by grid metres
		if err != nil {
			return
		}
		plane = levelling.Plane{At: pose.At, Level: *q.Height, Grade: measure.Grade{Rise: rise, Run: measure.FromMetres(1000 * line.Scale())}, Towards: pose.Bearing()}
	}
	rod := measure.Length(0)
	if q.Rod != nil {
		rod = *q.Rod
	}
	legs, rows := a.rowsOf(q.Leg)
	for i, leg := range legs {
		for k := range rows[i] {
			r := &rows[i][k]
			left, right, ok := rodLevel(r, q.Of)
			if !ok {
				a.noLevel(a.legs[leg].id, q.Of, out)
				continue
			}
			half := a.b.supplyNamed(a.b.plan.Units[a.legs[leg].unit+min(k, a.legs[leg].units-1)].Supply).width / 2
			line, ch := &a.b.axes[leg].line, measure.Length(r.Chainage)
			both, _ := levelling.RodReadings(plane, rod, []levelling.Target{{Name: r.Place, At: line.Beside(ch, -half), Level: left}, {Name: r.Place, At: line.Beside(ch, half), Level: right}})
			at := RodAt{Leg: r.Leg, Place: r.Place, Chainage: r.Chainage, Levels: [2]float64{left.Metres(), right.Metres()},
				Readings: [2]measure.MM{measure.MM(both[0].Reading), measure.MM(both[1].Reading)}, Seen: both[0].Seen && both[1].Seen}
			if z := r.before(q.Of); z != nil && *z != left {
				at.Before = mmp(both[0].Reading + left - *z)
			}
			at.need = *q.Height - min(both[0].Reading, both[1].Reading)
			low, high := min(both[0].Reading, both[1].Reading), max(both[0].Reading, both[1].Reading)
			switch {
			case low < 0:
				at.Why = a.b.tell("the instrument stands %s too low", wording.Far(-low))
			case !at.Seen:
				at.Why = a.b.tell("%s above the end of the rod", wording.Far(high-rod))
			}
			out.Readings = append(out.Readings, at)
		}
	}
	out.setups(q)
}

// setups shares the joints out, in their order, to as few places of the instrument as serve them: each as far as it goes.
func (out *RodAnswer) setups(q RodQuestion) {
	if !slices.ContainsFunc(out.Readings, func(r RodAt) bool { return !r.Seen }) {
		return
	}
	for i := 0; i < len(out.Readings); {
		low, high := reachOf(&out.Readings[i], q)
		k := i + 1
		for ; k < len(out.Readings); k++ {
			l, h := reachOf(&out.Readings[k], q)
			if l = max(l, low); q.Rod != nil && l > min(h, high) {
				break
			}
			low, high = l, min(h, high)
		}
		s := RodSetup{From: out.Readings[i].Place, To: out.Readings[k-1].Place, Lowest: low.Metres()}
		if q.Rod != nil {
			s.Highest = metresOf(&high)
		}
		out.Setups = append(out.Setups, s)
		i = k
	}
}

// reachOf is between which heights of the instrument a place can be read.
func reachOf(r *RodAt, q RodQuestion) (low, high measure.Length) {
	low = r.need
	high = low
	if q.Rod != nil {
		high = low + *q.Rod - measure.Length(max(r.Readings[0], r.Readings[1])-min(r.Readings[0], r.Readings[1]))
	}
	return low, high
}
