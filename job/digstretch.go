package job

import "trenchwright/base/measure"

// DigStretch is a leg or a part of it that is dug otherwise than the rest. What it does not say holds as for the whole job.
type DigStretch struct {
	Leg      string                `json:"leg" ref:"leg" example:"A" jsonschema:"leg that it is on"`
	From     measure.Length        `json:"from,omitempty" example:"12 m" jsonschema:"chainage where it starts; the leg's start where left out"`
	To       measure.Length        `json:"to,omitempty" in:"(0,)" example:"36 m" jsonschema:"chainage where it ends; the leg's end where left out"`
	Why      string                `json:"why,omitempty" example:"beside the mast" jsonschema:"the reason"`
	Soil     Entry[string]         `json:"soil,omitzero" example:"C" jsonschema:"soil class here, as a competent person classed it"`
	Sides    string                `json:"sides,omitempty" oneof:"sloped|benched|supported|vertical" jsonschema:"sloped, benched, supported or vertical"`
	Slope    Entry[measure.Grade]  `json:"slope,omitzero" example:"1:1.5" jsonschema:"of the sides here, rise to run"`
	Upright  Entry[measure.Length] `json:"upright,omitzero" example:"600 mm" jsonschema:"upright part of the sides above the bottom here"`
	Bench    *Bench                `json:"bench,omitempty" jsonschema:"one step of benched sides here"`
	Hours    Entry[int]            `json:"hours,omitzero" in:"[1,)" example:"24" jsonschema:"how long the dig stays open here, in hours"`
	Signs    Entry[bool]           `json:"signs,omitzero" example:"false" jsonschema:"did the competent person find a sign of a cave-in here"`
	Wet      Entry[bool]           `json:"wet,omitzero" example:"true" jsonschema:"does water stand in the dig or seep from its sides here"`
	Beside   Entry[measure.Grade]  `json:"beside,omitzero" example:"1:5" jsonschema:"steepest fall of the ground away from the edge of the dig here, rise to run"`
	Support  *SideDocument         `json:"support,omitempty" jsonschema:"document of what supports the sides here"`
	Engineer *SideDocument         `json:"engineer,omitempty" jsonschema:"document of a registered engineer's design or advice for the dig here"`
	Shield   *Shield               `json:"shield,omitempty" jsonschema:"box that people work in here"`
}

// Holds tells whether s holds at a chainage of a leg.
func (s *DigStretch) Holds(leg string, at measure.Length) bool {
	return s.Leg == leg && s.From <= at && (s.To == 0 || at <= s.To)
}

// At is the dig as it is at a chainage of a leg: what the stretch there says, and for the rest what holds for the whole job.
func (d Dig) At(leg string, at measure.Length) Dig {
	for i := range d.Stretches {
		if s := &d.Stretches[i]; s.Holds(leg, at) {
			return d.as(s)
		}
	}
	return d
}

func (d Dig) as(s *DigStretch) Dig {
	own(&d.Soil, s.Soil)
	own(&d.Slope, s.Slope)
	own(&d.Upright, s.Upright)
	own(&d.Hours, s.Hours)
	own(&d.Signs, s.Signs)
	own(&d.Wet, s.Wet)
	own(&d.Beside, s.Beside)
	if s.Sides != "" {
		d.Sides = s.Sides
	}
	if s.Bench != nil {
		d.Bench = s.Bench
	}
	if s.Support != nil {
		d.Support = s.Support
	}
	if s.Engineer != nil {
		d.Engineer = s.Engineer
	}
	if s.Shield != nil {
		d.Shield = s.Shield
	}
	return d
}

func own[T any](to *Entry[T], e Entry[T]) {
	if e.Known {
		*to = e
	}
}
