package screen

import (
	"errors"
	"fmt"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/planner"
)

// Rod is what a rod shows at every joint, from one height of the instrument.
type Rod struct {
	Title      string   `json:"title"`
	Height     string   `json:"height"` // of the instrument, in both systems
	Rows       []RodRow `json:"rows"`
	Setups     []string `json:"setups"` // where the instrument has to stand, where one place does not serve all
	Grades     []RodRow `json:"grades"` // one reading for all joints of a grade, for a laser on it
	NotChecked []string `json:"not_checked"`
}

// RodRow is the rod at one place.
type RodRow struct {
	Key      string  `json:"key"`
	Place    string  `json:"place"`
	Strip    float64 `json:"strip"`
	Chainage string  `json:"chainage"`
	Level    string  `json:"level"`
	Left     string  `json:"left"`   // reading on the line of the left wall
	Right    string  `json:"right"`  // and of the right one; empty: as left
	Before   string  `json:"before"` // left, of the unit before, where it lies otherwise
	Why      string  `json:"why"`    // why it cannot be read; else what else there is to know
}

// rod reads heights as people type them and answers with readings. hi is a level, a bare number in the unit of coordinates.
func (d *draft) rod(hi, rod, of, leg string, answers *planner.Answers) (Rod, error) {
	out := Rod{Rows: []RodRow{}, Setups: []string{}, Grades: []RodRow{}, NotChecked: []string{}}
	if answers == nil {
		return out, errors.New("nothing is laid out yet: look at the findings")
	}
	unit := map[float64]measure.Unit{1: measure.UnitMetre, 0.3048: measure.UnitFoot}[d.metres]
	if unit == measure.NoUnit {
		unit = measure.UnitSurveyFoot
	}
	height, err := measure.ParseIn(hi, unit)
	if err != nil {
		return out, err
	}
	q := planner.RodQuestion{Height: &height.Length, Of: of, Leg: leg}
	if rod != "" {
		r, err := measure.ParseIn(rod, unit)
		if err != nil {
			return out, err
		}
		q.Rod = &r.Length
	}
	a, err := answers.Rod(q)
	if err != nil {
		return out, err
	}
	m := height.Length.Metres()
	out.Height = d.levelText(m)
	out.Title = fmt.Sprintf("%s, %s %s", a.Of, d.speech.Word(wording.Instrument), out.Height)
	out.NotChecked = filled(a.NotChecked)
	for _, r := range a.Readings {
		leg := d.legs[r.Leg]
		row := RodRow{Key: d.placeKey(r.Place), Place: r.Place, Strip: d.strip(leg, r.Chainage), Chainage: d.chainage(r.Chainage), Level: d.levelText(r.Levels[0]), Left: d.reading(r.Readings[0]), Why: r.Why}
		if r.Readings[1] != r.Readings[0] {
			row.Right = d.reading(r.Readings[1])
		}
		if r.Before != nil {
			row.Before = d.reading(*r.Before)
		}
		out.Rows = append(out.Rows, row)
	}
	for _, s := range a.Setups {
		text := s.From + " to " + s.To + ": " + d.levelText(s.Lowest)
		if s.Highest != nil {
			text += " to " + d.levelText(*s.Highest)
		} else {
			text += " or higher"
		}
		out.Setups = append(out.Setups, text)
	}
	for _, g := range a.Grades {
		row := RodRow{Key: d.placeKey(g.From), Place: g.From + " to " + g.To, Level: g.Grade, Left: d.reading(g.Reading), Why: joined("; ", "laser at "+g.Laser+", dial "+g.Dial, g.Why, g.Verdict)}
		if g.Right != nil && *g.Right != g.Reading {
			row.Right = d.reading(*g.Right)
		}
		out.Grades = append(out.Grades, row)
	}
	return out, nil
}

// reading is what a rod shows: metres to the millimetre, or feet to the hundredth, as rods are divided.
func (d *draft) reading(l measure.MM) string {
	f := measure.Format{Survey: true, Places: 3}
	if d.speech.Imperial {
		f = measure.Format{System: measure.Imperial, Survey: true, Places: 2}
	}
	return f.Length(measure.Length(l))
}

// placeKey is the card of a place of the set-out: a joint, or the unit at an end.
func (d *draft) placeKey(place string) string {
	for _, end := range [2]string{"start of ", "end of "} {
		if len(place) > len(end) && place[:len(end)] == end {
			return "unit/" + place[len(end):]
		}
	}
	return "joint/" + place
}
