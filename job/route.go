package job

import "trenchwright/base/measure"

// Route is the run as a network. A short job may say `walk` instead of nodes and legs.
type Route struct {
	Nodes []Node   `json:"nodes,omitempty"`
	Legs  []Leg    `json:"legs,omitempty"`
	Walk  []string `json:"walk,omitempty" jsonschema:"instead of nodes and legs: 24.3 m, right 90°, 12 m, arc left 30 m radius 45°"`
}

// Node is where legs end or meet. Two legs: a bend or a transition; three: a tee; four: a cross; one: an end.
type Node struct {
	ID      string      `json:"id"`
	At      *[2]float64 `json:"at,omitempty" jsonschema:"[easting, northing] in the job's coordinate unit"`
	Level   *float64    `json:"level,omitempty" jsonschema:"level of the wall top here, in the job's coordinate unit"`
	Fitting string      `json:"fitting,omitempty" jsonschema:"id of the supply's fitting (a casting); a bend without one is mitred"`
	Through []string    `json:"through,omitempty" jsonschema:"at a tee: the two legs that go straight through"`
	Sawn    *SawnTee    `json:"sawn,omitempty" jsonschema:"a branch sawn into the wall of a leg that goes on unbroken"`
	End     *End        `json:"end,omitempty"`
	Note    string      `json:"note,omitempty"`
}

// SawnTee is a branch that opens through the wall of another leg.
type SawnTee struct {
	Into    string         `json:"into" jsonschema:"leg whose wall is opened"`
	Opening measure.Length `json:"opening" jsonschema:"width of the opening along that leg"`
	Clear   measure.Length `json:"clear" jsonschema:"least distance from the opening to a joint"`
}

// End is how a leg ends where nothing follows.
type End struct {
	Kind      string          `json:"kind" jsonschema:"plate, building, temporary, existing or open"`
	Thickness measure.Length  `json:"thickness,omitempty" jsonschema:"of the end plate or of the building's wall, taken off the leg"`
	Face      string          `json:"face,omitempty" jsonschema:"outer (default) or inner: which face of the wall the node stands on"`
	Level     *float64        `json:"level,omitempty" jsonschema:"existing trench end: its wall top"`
	Skew      measure.Angle   `json:"skew,omitempty" jsonschema:"existing trench end: how far its face is from square"`
	Section   *Section        `json:"section,omitempty" jsonschema:"existing trench end: its outer section"`
	Gap       *measure.Length `json:"gap,omitempty" jsonschema:"gap to it where it differs from the supply's end gap"`
}

// Leg runs between two nodes, straight but for curves with a stated radius.
type Leg struct {
	ID        string           `json:"id" jsonschema:"short; places on it are called A-001"`
	From      string           `json:"from"`
	To        string           `json:"to"`
	Via       []Vertex         `json:"via,omitempty" jsonschema:"points where the leg curves; each has a radius"`
	Supply    string           `json:"supply,omitempty" jsonschema:"supply laid here; the job's first where left out"`
	LayFrom   string           `json:"lay_from,omitempty" jsonschema:"node that laying starts from; from where left out"`
	First     []measure.Length `json:"first,omitempty" jsonschema:"lengths of the first units, where they are forced"`
	Hold      bool             `json:"hold,omitempty" jsonschema:"keep one closer on hold, to be cut from a measurement"`
	Crossings []Crossing       `json:"crossings,omitempty"`
	Entries   []ConduitEntry   `json:"entries,omitempty"`
	Services  []Service        `json:"services,omitempty"`
	Supports  []Support        `json:"supports,omitempty"`
	Zones     []Zone           `json:"zones,omitempty"`
	Joints    []ForcedJoint    `json:"joints,omitempty"`
}

// Vertex is the corner point of a curve.
type Vertex struct {
	At     [2]float64     `json:"at"`
	Radius measure.Length `json:"radius"`
}

// Crossing is a road or track over the run.
type Crossing struct {
	ID      string         `json:"id"`
	Name    string         `json:"name,omitempty"`
	At      measure.Length `json:"at" jsonschema:"chainage of its middle on this leg, from the leg's from node"`
	Path    measure.Length `json:"path" jsonschema:"width of the swept path, square to its own axis"`
	Margin  measure.Length `json:"margin,omitempty" jsonschema:"each side of the path"`
	Skew    measure.Angle  `json:"skew,omitempty" jsonschema:"angle between the run and the crossing; 90° where left out"`
	Supply  string         `json:"supply,omitempty" jsonschema:"supply that must lie under it"`
	Reach   measure.Length `json:"reach,omitempty" jsonschema:"how far that supply reaches beyond the swept path"`
	Strips  []Strip        `json:"strips,omitempty" jsonschema:"where joints are forbidden, from the middle along the run; without any, the whole width is"`
	MayCut  bool           `json:"may_cut,omitempty" jsonschema:"the supplier says that cut pieces keep their rating here"`
	Vehicle string         `json:"vehicle,omitempty" jsonschema:"what crosses, in words"`
}

// Strip is part of a crossing, measured from its middle along the run.
type Strip struct {
	From   measure.Length `json:"from"`
	To     measure.Length `json:"to"`
	Detail string         `json:"detail,omitempty" jsonschema:"document id of a joint detail that allows joints in this strip"`
}

// ConduitEntry is a conduit through a wall or the floor.
type ConduitEntry struct {
	ID       string         `json:"id"`
	At       measure.Length `json:"at"`
	Side     string         `json:"side" jsonschema:"left, right or floor, looking along the leg"`
	Diameter measure.Length `json:"diameter"`
	Clear    measure.Length `json:"clear" jsonschema:"least distance from its edge to a joint"`
	Level    measure.Length `json:"level,omitempty" jsonschema:"height of its middle above the underside of the unit"`
}

// Service is something buried that crosses the run.
type Service struct {
	ID      string          `json:"id"`
	Name    string          `json:"name"`
	At      measure.Length  `json:"at"`
	Width   measure.Length  `json:"width" jsonschema:"across the service"`
	Clear   measure.Length  `json:"clear" jsonschema:"each side, where no joint may stand"`
	Skew    measure.Angle   `json:"skew,omitempty"`
	Depth   *measure.Length `json:"depth,omitempty" jsonschema:"to its top; left out: unknown"`
	Quality string          `json:"quality,omitempty" jsonschema:"how its position is known"`
}

// Support stands inside the units and may not straddle a joint.
type Support struct {
	ID    string         `json:"id"`
	At    measure.Length `json:"at"`
	Every measure.Length `json:"every,omitempty" jsonschema:"repeated at this spacing to the end of the leg"`
	Width measure.Length `json:"width"`
	Clear measure.Length `json:"clear,omitempty"`
}

// Zone is a stretch where no joint may stand, for any reason that is stated.
type Zone struct {
	ID   string         `json:"id"`
	From measure.Length `json:"from"`
	To   measure.Length `json:"to"`
	Why  string         `json:"why"`
}

// ForcedJoint is a place where a joint must be.
type ForcedJoint struct {
	ID  string         `json:"id"`
	At  measure.Length `json:"at" jsonschema:"chainage of the joint's middle"`
	Tol measure.Length `json:"tol,omitempty"`
	Why string         `json:"why,omitempty"`
}
