package planner

import "trenchwright/base/measure"

// Drain is the pipe in the bed, a profile of its own under the run.
type Drain struct {
	Verdict  string       `json:"verdict"` // found, impossible, undecided: without found there are no levels of it
	Why      string       `json:"why,omitempty"`
	Try      []string     `json:"try,omitempty"`
	Diameter measure.MM   `json:"diameter_mm"` // outside
	Wall     *measure.MM  `json:"wall_mm"`     // null: not on file, and no invert is given
	Offset   measure.MM   `json:"offset_mm"`   // of its middle from the centreline, to the right positive
	Proven   bool         `json:"proven"`      // no pipe within its limits costs less, before its grades were put on their step
	Grades   []DrainGrade `json:"grades"`
	Lows     []DrainLow   `json:"lows"`
}

// DrainGrade is a stretch of pipe on one grade. Levels are in metres above the height datum.
type DrainGrade struct {
	Leg    string      `json:"leg"`
	From   string      `json:"from"` // place of the set-out, or outlet
	To     string      `json:"to"`
	FromMM measure.MM  `json:"from_mm"` // chainage
	ToMM   measure.MM  `json:"to_mm"`
	Starts float64     `json:"from_level_m"` // its underside
	Ends   float64     `json:"to_level_m"`
	Invert [2]*float64 `json:"inverts_m"` // at both ends; null: no thickness of its wall on file
	Grade  string      `json:"grade"`     // up-chainage, rising positive
	OnStep bool        `json:"on_step"`   // a whole number of the step that it is laid by
}

// DrainLow is a low of the pipe, with what drains to it.
type DrainLow struct {
	Leg    string     `json:"leg"`
	FromMM measure.MM `json:"from_mm"` // chainage; it is level to to_mm
	ToMM   measure.MM `json:"to_mm"`
	Level  float64    `json:"level_m"`
	Drains measure.MM `json:"drains_mm"`        // length of pipe
	Outlet string     `json:"outlet,omitempty"` // left out: none is named, and a finding says so
}
