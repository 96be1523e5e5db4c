package screen

// Plan is the run from above. Positions are metres east and north of Origin.
type Plan struct {
	Origin   [2]float64 `json:"origin_m"`  // easting and northing of 0, 0
	Extent   [4]float64 `json:"extent_m"`  // west, south, east, north of the run
	Legs     []PlanLeg  `json:"legs"`      // one for each of Screen.Legs
	Corners  Numbers    `json:"corners_m"` // eight for each unit: left start, left end, right end, right start
	Lines    []PlanLine `json:"lines"`     // zones, services, crossings, supports, joints asked for, entries where they lie
	Contours []Contour  `json:"contours"`  // of the ground as it is
	Interval string     `json:"interval"`  // between two contours, in words; empty: no survey on file
}

// PlanLeg is the centreline of a leg, straight between points that leave its curves by 5 mm at most.
type PlanLeg struct {
	Strip Numbers `json:"strip"`  // of each point
	Line  Numbers `json:"line_m"` // easting and northing of each point

	Curves []Curve `json:"curves"` // that it has a stated radius of
}

// PlanLine is something that crosses the run or stands beside it.
type PlanLine struct {
	Key    string  `json:"key"`
	Kind   string  `json:"kind"`   // zone, service, crossing, support, forced, entry
	Name   string  `json:"name"`   // what people call it
	Line   Numbers `json:"line_m"` // easting and northing of each point
	Closed bool    `json:"closed"`
}

// Contour is all there is of one level.
type Contour struct {
	Level float64   `json:"level_m"`
	Label string    `json:"label"`
	Major bool      `json:"major"` // every fifth
	Lines []Numbers `json:"lines_m"`
}
