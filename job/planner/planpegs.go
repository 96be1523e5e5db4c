package planner

import "trenchwright/base/measure"

// SurveyPoint is a point that the run is set out from, as entered. Positions and levels are in metres in the job's own
// coordinates.
type SurveyPoint struct {
	ID     string   `json:"id"`
	E      *float64 `json:"easting_m"` // null: in words alone
	N      *float64 `json:"northing_m"`
	Where  string   `json:"where"` // empty: by its coordinates alone
	Level  *float64 `json:"level_m"`
	Source string   `json:"source"`
}

// Peg is a peg beside the run, square to it. Left and right are told looking up-chainage.
type Peg struct {
	Leg         string      `json:"leg"`
	Place       string      `json:"place"` // of the set-out; empty: it stands at a chainage of its own
	Chainage    measure.MM  `json:"chainage_mm"`
	Side        string      `json:"side"`      // of the line on which it stands: left, right
	Arrow       string      `json:"arrow"`     // ← or →: where it stands, seen up-chainage
	Offset      measure.MM  `json:"offset_mm"` // from the centreline, level
	E           float64     `json:"easting_m"`
	N           float64     `json:"northing_m"`
	Ground      *float64    `json:"ground_m"`    // as it is, at the peg; null: no ground here
	Formation   *float64    `json:"formation_m"` // that its figures go to; null: no levels were solved
	Wall        *float64    `json:"wall_m"`
	ToFormation *PegFigure  `json:"to_formation"` // null: no ground here, or no level
	ToWall      *PegFigure  `json:"to_wall"`
	Edge        *measure.MM `json:"edge_mm"`        // of the dig on that side, from the centreline; null: none was computed
	Edges       *PegEdges   `json:"edges"`          // of the dig on both sides at that place; null: none was computed
	Lost        []string    `json:"lost,omitempty"` // why it does not outlast the dig: dug away, in the spoil, …
	Instead     *PegInstead `json:"instead"`        // of one that does not last: where another does; null: it lasts, or no such place was found
	Source      string      `json:"source"`
}

// PegEdges are the top edges of the dig square to the line at a peg, where its sides meet the ground as it is.
type PegEdges struct {
	Left  PegEdge `json:"left"`
	Right PegEdge `json:"right"`
}

// PegEdge is one of them.
type PegEdge struct {
	Offset measure.MM `json:"offset_mm"` // from the centreline, to its own side
	Level  float64    `json:"level_m"`
}

// PegInstead is where a peg lasts, square to the same place: further out on the same side, else on the other one.
type PegInstead struct {
	Side   string     `json:"side"` // left, right
	Arrow  string     `json:"arrow"`
	Offset measure.MM `json:"offset_mm"` // from the centreline, level
	E      float64    `json:"easting_m"`
	N      float64    `json:"northing_m"`
	Ground *float64   `json:"ground_m"` // as it is, there; null: no ground here
}

// PegFigure is how far a wanted level lies from the ground at a peg, and which way.
type PegFigure struct {
	Way    string     `json:"way"` // cut, fill, level with the peg
	Arrow  string     `json:"arrow"`
	Amount measure.MM `json:"amount_mm"`
}
