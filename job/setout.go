package job

import "trenchwright/base/measure"

// SetOut is what the run is set out from on site: benchmarks, control points, and the pegs that outlast the dig. Nothing
// of it has a default.
type SetOut struct {
	From       string      `json:"from,omitempty" ref:"document" example:"D4" jsonschema:"document id these figures come from unless one says otherwise"`
	Benchmarks []Benchmark `json:"benchmarks,omitempty" jsonschema:"points whose level is on file; at least two, to be checked against each other"`
	Control    []Control   `json:"control,omitempty" jsonschema:"points whose easting and northing are on file, to set up on and to look back to"`
	Pegs       []Pegs      `json:"pegs,omitempty" jsonschema:"pegs beside the run, that stand when those on the centreline are dug away"`
}

// Benchmark is a point whose level is on file.
type Benchmark struct {
	ID    string      `json:"id" rule:"id" example:"BM1" jsonschema:"name of the benchmark"`
	At    *[2]float64 `json:"at,omitempty" example:"[1004.2, 2011.5]" jsonschema:"easting and northing, in the job's coordinate unit; where left out, where says where it is"`
	Where string      `json:"where,omitempty" example:"bolt in the kerb at the gate" jsonschema:"what it is and where, in words, as somebody looks for it"`
	Level float64     `json:"level" example:"101.482" jsonschema:"its level, in the job's coordinate unit"`
	From  string      `json:"from,omitempty" ref:"document" example:"D4" jsonschema:"document id that it comes from"`
}

// Control is a point whose easting and northing are on file.
type Control struct {
	ID    string     `json:"id" rule:"id" example:"CP1" jsonschema:"name of the control point"`
	At    [2]float64 `json:"at" example:"[1004.2, 2011.5]" jsonschema:"easting and northing, in the job's coordinate unit"`
	Where string     `json:"where,omitempty" example:"nail in the kerb at the gate" jsonschema:"what it is and where, in words"`
	Level *float64   `json:"level,omitempty" example:"101.2" jsonschema:"its level where one is on file, in the job's coordinate unit"`
	From  string     `json:"from,omitempty" ref:"document" example:"D4" jsonschema:"document id that it comes from"`
}

// Pegs are pegs beside one leg, or beside all that nothing else is written for.
type Pegs struct {
	Leg    string           `json:"leg,omitempty" ref:"leg" example:"A" jsonschema:"leg that they are beside; every leg that has no pegs of its own where left out"`
	Side   string           `json:"side" oneof:"left|right|both" jsonschema:"left, right or both, looking along the leg"`
	Offset measure.Length   `json:"offset" in:"(0,)" example:"3 m" jsonschema:"from the centreline, measured level and square to it"`
	At     []measure.Length `json:"at,omitempty" in:"[0,)" example:"5 m" jsonschema:"chainages of that leg where they stand; at every joint and at both ends where left out"`
	From   string           `json:"from,omitempty" ref:"document" example:"D4" jsonschema:"document id that says so"`
}
