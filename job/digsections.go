package job

import "trenchwright/base/measure"

// DigSections says where cross sections of the dig are drawn besides those that the run asks for by itself.
type DigSections struct {
	Every measure.Length `json:"every,omitempty" in:"[1000,)" example:"20 m" jsonschema:"distance between two of them along each leg, counted from chainage 0; none where left out"`
	At    []SectionAt    `json:"at,omitempty" jsonschema:"single places"`
}

// SectionAt is one place where a cross section of the dig is asked for.
type SectionAt struct {
	Leg string         `json:"leg" ref:"leg" example:"A" jsonschema:"leg that it is on"`
	At  measure.Length `json:"at" in:"[0,)" example:"12 m" jsonschema:"chainage"`
	Why string         `json:"why,omitempty" example:"beside the mast" jsonschema:"what there is to see"`
}
