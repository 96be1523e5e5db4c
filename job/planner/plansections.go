package planner

import "trenchwright/base/measure"

// DigSection is the dig cut across at one chainage, looking up-chainage: offsets from the centreline, right positive.
type DigSection struct {
	Leg      string           `json:"leg"`
	At       measure.MM       `json:"at_mm"` // chainage from the leg's from node; at a step it is the section behind it
	Why      []string         `json:"why"`   // why it is drawn; deepest: of the whole leg, both sides of steps
	Place    string           `json:"place"` // of the unit that is cut; empty: inside a casting
	Missing  []string         `json:"missing"`
	Levels   SectionLevels    `json:"levels"`
	Bottom   *SectionWidth    `json:"bottom"` // of the dig; null: no sides are on file
	Top      *SectionWidth    `json:"top"`    // where the sides meet the ground as it is
	Depth    *measure.MM      `json:"depth_mm"`
	Sides    string           `json:"sides"` // form and slope as entered; empty: not on file
	Room     *measure.MM      `json:"room_mm"`
	OverDig  measure.MM       `json:"over_dig_mm"`
	Areas    []SectionArea    `json:"areas"`
	Lines    []SectionLine    `json:"lines"`
	Layers   []measure.MM     `json:"layers_mm"` // levels of the tops of the layers of fill, on the centreline
	Pipe     *SectionPipe     `json:"pipe"`
	Services []SectionService `json:"services"`
	Beside   []StripNeed      `json:"beside"` // what stands left and right of the dig just here
}

// SectionLevels are levels on the centreline in mm above the height datum; null: not on file, or nothing of the kind here.
type SectionLevels struct {
	Existing  *measure.MM `json:"existing_mm"`
	Finished  *measure.MM `json:"finished_mm"`
	Rock      *measure.MM `json:"rock_mm"`
	Water     *measure.MM `json:"water_mm"`
	Cover     *measure.MM `json:"cover_mm"`
	Wall      *measure.MM `json:"wall_mm"`
	Invert    *measure.MM `json:"invert_mm"`
	Underside *measure.MM `json:"underside_mm"`
	PadBase   *measure.MM `json:"pad_base_mm"` // where a pad is cut
	Formation *measure.MM `json:"formation_mm"`
}

// SectionWidth is a width with both of its corners.
type SectionWidth struct {
	Width measure.MM    `json:"width_mm"`
	Left  [2]measure.MM `json:"left_mm"` // offset, level
	Right [2]measure.MM `json:"right_mm"`
}

// SectionArea is everything of one kind that is cut.
type SectionArea struct {
	Of    string            `json:"of"`      // dig, topsoil, soil, rock, bed, pad, fill, topsoil back, unit, cover, heap
	Area  float64           `json:"area_m2"` // from the solver's integral, or from the figures of the supply
	Parts [][][2]measure.MM `json:"parts_mm"`
}

// SectionLine is a line of the ground, in stretches without a gap.
type SectionLine struct {
	Of    string            `json:"of"` // existing, finished, rock, water
	Parts [][][2]measure.MM `json:"parts_mm"`
}

// SectionPipe is the pipe in the bed.
type SectionPipe struct {
	Offset   measure.MM `json:"offset_mm"` // of its middle
	Level    measure.MM `json:"level_mm"`
	Diameter measure.MM `json:"diameter_mm"`
}

// SectionService is a recorded service where it crosses within its zone.
type SectionService struct {
	ID     string      `json:"id"`
	Name   string      `json:"name"`
	Top    *measure.MM `json:"top_mm"` // level; null: depth unknown
	Bottom *measure.MM `json:"bottom_mm"`
	Zone   *measure.MM `json:"zone_mm"` // each way; null: none on file
	Half   *measure.MM `json:"half_mm"` // it reaches so far left and right of the centreline; null: all across
}

// DigMark is a place along a leg where the dig is marked out on the ground.
type DigMark struct {
	At          measure.MM  `json:"at_mm"`
	Depth       measure.MM  `json:"depth_mm"`        // from the higher edge down to the lowest of the dig
	ToFormation measure.MM  `json:"to_formation_mm"` // from the higher edge; a drain's trench goes on below it
	Existing    *measure.MM `json:"existing_mm"`
	Formation   measure.MM  `json:"formation_mm"`
	Rock        *measure.MM `json:"rock_mm"` // level of its top on the centreline
	Bottom      measure.MM  `json:"bottom_mm"`
	BottomLeft  measure.MM  `json:"bottom_left_mm"` // offsets from the centreline, right positive
	BottomRight measure.MM  `json:"bottom_right_mm"`
	EdgeLeft    measure.MM  `json:"edge_left_mm"`
	EdgeRight   measure.MM  `json:"edge_right_mm"`
	Why         string      `json:"why,omitempty"` // why a mark stands here besides the regular ones
}
