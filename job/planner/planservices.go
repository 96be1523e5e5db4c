package planner

import "trenchwright/base/measure"

// Service is something buried where it meets a leg: what was recorded of it, and how it lies to what is dug and set there.
// Chainages count from the leg's from node.
type Service struct {
	ID      string         `json:"id"`
	Leg     string         `json:"leg"`
	Name    string         `json:"name"`     // what it is
	At      measure.MM     `json:"at_mm"`    // chainage where its middle crosses
	Under   *[2]measure.MM `json:"under_mm"` // chainages between which it lies under the width of the unit; null: it crosses too flatly to say
	Width   measure.MM     `json:"width_mm"` // across it, taken as its height too
	Skew    float64        `json:"skew_deg"` // between the run and it; 90: square
	Quality string         `json:"quality"`  // how its place is known; empty: no word on file
	Depth   *measure.MM    `json:"depth_mm"` // to its top, as it was recorded; null: a level was, or nothing
	Level   bool           `json:"level"`    // the level of its top was recorded
	Top     *float64       `json:"top_m"`    // level; null: unknown
	Zone    *measure.MM    `json:"zone_mm"`  // kept round it each way; null: none on file
	Lies    string         `json:"lies"`     // in unit, in bed, below bed, deeper, above, unknown; empty: no dig was worked out here
	Bottom  *float64       `json:"bottom_m"` // level of the lowest of the dig there; null: none was worked out
	Joint   string         `json:"joint"`    // the nearest joint between two units; empty: none on this leg
	Away    *measure.MM    `json:"away_mm"`  // from its nearer side to that joint, along the run; 0: the joint stands over it
	Free    *[2]measure.MM `json:"free_mm"`  // chainages between which no joint may stand
	Said    []string       `json:"findings"` // numbers of the findings about it
}
