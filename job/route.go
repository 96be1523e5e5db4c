package job

import "trenchwright/base/measure"

// Route is the run as a network. A short job may say `walk` instead of nodes and legs.
type Route struct {
	Nodes []Node   `json:"nodes,omitempty" jsonschema:"where legs end or meet"`
	Legs  []Leg    `json:"legs,omitempty" jsonschema:"what runs between nodes"`
	Walk  []string `json:"walk,omitempty" example:"[24.3 m, right 90°, 12 m]" jsonschema:"instead of nodes and legs: 24.3 m, right 90°, 12 m, arc left 30 m radius 45°"`

	Withdrawn []Withdrawn `json:"withdrawn,omitempty" jsonschema:"ids of nodes, legs and things that were taken out: they stand in papers that people hold, and are never given again"`
}

// Withdrawn is an id that was that of something else before.
type Withdrawn struct {
	ID   string `json:"id" rule:"id" example:"N7" jsonschema:"the id"`
	What string `json:"what,omitempty" example:"node" jsonschema:"what it was the id of"`
}

// Node is where legs end or meet. Two legs: a bend or a transition; three: a tee; four: a cross; one: an end.
type Node struct {
	ID      string      `json:"id" rule:"id" example:"N1" jsonschema:"name of the node"`
	At      *[2]float64 `json:"at,omitempty" example:"[1000.0, 2000.5]" jsonschema:"[easting, northing] in the job's coordinate unit"`
	Level   *float64    `json:"level,omitempty" example:"101.25" jsonschema:"level of the wall top here, in the job's coordinate unit"`
	Fitting string      `json:"fitting,omitempty" ref:"fitting" example:"tee-1" jsonschema:"id of the supply's fitting (a casting); a bend without one is mitred"`
	Through []string    `json:"through,omitempty" ref:"leg" example:"[A, B]" jsonschema:"at a tee: the two legs that go straight through"`
	Sawn    *SawnTee    `json:"sawn,omitempty" jsonschema:"a branch sawn into the wall of a leg that goes on unbroken"`
	Mitre   *Mitre      `json:"mitre,omitempty" jsonschema:"a mitred bend that is not sawn for half of its turn on both sides: as it was measured on site"`
	End     *End        `json:"end,omitempty" jsonschema:"how the leg ends where nothing follows"`
	Note    string      `json:"note,omitempty" example:"beside the pump house" jsonschema:"anything a person should know here"`
}

// Mitre is how a bend is sawn whose turn was measured once pieces were cut for another one. What its faces leave of the turn, joints
// near it take.
type Mitre struct {
	Before measure.Angle `json:"before" in:"(0,90)" example:"22.5°" jsonschema:"saw angle of the piece before the bend, in the order of chainages"`
	After  measure.Angle `json:"after" in:"(0,90)" example:"22.5°" jsonschema:"saw angle of the piece after it"`
	Swings []Swing       `json:"swings,omitempty" jsonschema:"joints near the bend that turn"`
}

// Swing is a joint that turns in plan, with the bend or against it.
type Swing struct {
	Joint string        `json:"joint" example:"A-012/A-013" jsonschema:"the joint, by both of its places"`
	Turn  measure.Angle `json:"turn" in:"(-90,90)" example:"-0.35°" jsonschema:"more of the bend above 0, less of it below"`
}

// SawnTee is a branch that opens through the wall of another leg.
type SawnTee struct {
	Into    string         `json:"into" ref:"leg" example:"A" jsonschema:"leg whose wall is opened"`
	Opening measure.Length `json:"opening" in:"(0,)" example:"600 mm" jsonschema:"width of the opening along that leg"`
	Clear   measure.Length `json:"clear" example:"150 mm" jsonschema:"least distance from the opening to a joint"`
}

// End is how a leg ends where nothing follows.
type End struct {
	Kind      string          `json:"kind" oneof:"plate|building|temporary|existing|open" jsonschema:"plate, building, temporary, existing or open"`
	Thickness measure.Length  `json:"thickness,omitempty" example:"120 mm" jsonschema:"of the end plate or of the building's wall, taken off the leg"`
	Face      string          `json:"face,omitempty" oneof:"outer|inner" jsonschema:"outer (default, towards the trench) or inner: which face of the wall the node stands on"`
	Level     *float64        `json:"level,omitempty" example:"101.25" jsonschema:"existing trench end: its wall top"`
	Skew      measure.Angle   `json:"skew,omitempty" in:"(-90,90)" example:"1.5°" jsonschema:"existing trench end: how far its face is from square"`
	Section   *Section        `json:"section,omitempty" example:"900 mm x 750 mm" jsonschema:"existing trench end: its outer section"`
	Gap       *measure.Length `json:"gap,omitempty" example:"15 mm" jsonschema:"gap to it where it differs from the supply's end gap"`
}

// Leg runs between two nodes, straight but for curves with a stated radius.
type Leg struct {
	ID        string           `json:"id" rule:"leg-id" example:"A" jsonschema:"short; places on it are called A-001"`
	From      string           `json:"from" ref:"node" example:"N1" jsonschema:"node where chainage starts"`
	To        string           `json:"to" ref:"node" example:"N2" jsonschema:"node where it ends"`
	Via       []Vertex         `json:"via,omitempty" jsonschema:"points where the leg curves; each has a radius"`
	Supply    string           `json:"supply,omitempty" ref:"supply" example:"trough" jsonschema:"supply laid here; the job's first where left out"`
	LayFrom   string           `json:"lay_from,omitempty" ref:"node" example:"N2" jsonschema:"node that laying starts from; from where left out"`
	First     []measure.Length `json:"first,omitempty" in:"(0,)" example:"[1500 mm]" jsonschema:"lengths of the first units, where they are forced"`
	Hold      bool             `json:"hold,omitempty" example:"true" jsonschema:"keep one closer on hold, to be cut from a measurement"`
	Crossings []Crossing       `json:"crossings,omitempty" jsonschema:"roads and tracks over the run"`
	Entries   []ConduitEntry   `json:"entries,omitempty" jsonschema:"conduits through a wall or the floor"`
	Services  []Service        `json:"services,omitempty" jsonschema:"buried services that cross the run"`
	Supports  []Support        `json:"supports,omitempty" jsonschema:"supports that stand inside the units"`
	Zones     []Zone           `json:"zones,omitempty" jsonschema:"other stretches where no joint may stand"`
	Joints    []ForcedJoint    `json:"joints,omitempty" jsonschema:"places where a joint must be"`
	Built     *Built           `json:"built,omitempty" jsonschema:"what lies already, and how a person chose to lay the rest where the site differed from the plan"`
}

// Vertex is the corner point of a curve.
type Vertex struct {
	At     [2]float64     `json:"at" example:"[1020.0, 2000.5]" jsonschema:"[easting, northing] of the corner where the straights would meet"`
	Radius measure.Length `json:"radius" in:"(0,)" example:"45 m" jsonschema:"radius of the curve on the axis"`
}

// Crossing is a road or track over the run.
type Crossing struct {
	ID      string         `json:"id" rule:"id" example:"X1" jsonschema:"name of the crossing"`
	Name    string         `json:"name,omitempty" example:"depot gate" jsonschema:"what people call it"`
	At      measure.Length `json:"at" in:"(,)" example:"31.2 m" jsonschema:"chainage of its middle on this leg, from the leg's from node"`
	Path    measure.Length `json:"path" in:"(0,)" example:"3500 mm" jsonschema:"width of the swept path, square to its own axis"`
	Margin  measure.Length `json:"margin,omitempty" example:"500 mm" jsonschema:"each side of the path"`
	Skew    measure.Angle  `json:"skew,omitempty" in:"(0,90]" example:"75°" jsonschema:"angle between the run and the crossing; 90° where left out"`
	Supply  string         `json:"supply,omitempty" ref:"supply" example:"heavy" jsonschema:"supply that must lie under it"`
	Reach   measure.Length `json:"reach,omitempty" example:"600 mm" jsonschema:"how far that supply reaches beyond the swept path"`
	Strips  []Strip        `json:"strips,omitempty" jsonschema:"where joints are forbidden, from the middle along the run; without any, the whole width is"`
	MayCut  bool           `json:"may_cut,omitempty" example:"true" jsonschema:"the supplier says that cut pieces keep their rating here"`
	Vehicle string         `json:"vehicle,omitempty" example:"lorry, 40 t" jsonschema:"what crosses, in words"`
	Crosses []string       `json:"crosses,omitempty" ref:"vehicle" example:"[V1]" jsonschema:"what crosses, by the vehicles of checks"`
	Class   Entry[string]  `json:"class,omitzero" oneof:"A15|B125|C250|D400|E600|F900" jsonschema:"class that its designer asks for at this place"`
	Fill    measure.Length `json:"fill,omitempty" in:"(0,)" example:"600 mm" jsonschema:"depth of fill over the units here; none where left out"`
	Plate   *Plate         `json:"plate,omitempty" jsonschema:"steel plates that carry what crosses while the trench is open"`
}

// Strip is part of a crossing, measured from its middle along the run.
type Strip struct {
	From   measure.Length `json:"from" in:"(,)" example:"-1100 mm" jsonschema:"start, negative before the middle"`
	To     measure.Length `json:"to" in:"(,)" example:"-700 mm" jsonschema:"end, further along the run than the start"`
	Detail string         `json:"detail,omitempty" ref:"document" example:"D4" jsonschema:"document id of a joint detail that allows joints in this strip"`
}

// ConduitEntry is a conduit through a wall or the floor.
type ConduitEntry struct {
	ID       string         `json:"id" rule:"id" example:"E1" jsonschema:"name of the entry"`
	At       measure.Length `json:"at" example:"12.4 m" jsonschema:"chainage of its middle"`
	Side     string         `json:"side" oneof:"left|right|floor" jsonschema:"left, right or floor, looking along the leg"`
	Diameter measure.Length `json:"diameter" in:"(0,)" example:"110 mm" jsonschema:"outside diameter of the conduit or of its hole"`
	Clear    measure.Length `json:"clear" example:"100 mm" jsonschema:"least distance from its edge to a joint"`
	Level    measure.Length `json:"level,omitempty" example:"250 mm" jsonschema:"height of its middle above the underside of the unit"`
}

// Service is something buried that crosses the run.
type Service struct {
	ID      string          `json:"id" rule:"id" example:"W1" jsonschema:"name of the service"`
	Name    string          `json:"name" example:"water main" jsonschema:"what it is"`
	At      measure.Length  `json:"at" in:"(,)" example:"55 m" jsonschema:"chainage where its middle crosses the run"`
	Width   measure.Length  `json:"width" in:"(0,)" example:"200 mm" jsonschema:"across the service"`
	Clear   measure.Length  `json:"clear" example:"300 mm" jsonschema:"each side, where no joint may stand"`
	Skew    measure.Angle   `json:"skew,omitempty" in:"(0,90]" example:"60°" jsonschema:"angle between the run and the service; 90° where left out"`
	Depth   *measure.Length `json:"depth,omitempty" example:"900 mm" jsonschema:"to its top; left out: unknown"`
	Level   *float64        `json:"level,omitempty" example:"100.35" jsonschema:"level of its top, in the job's coordinate unit, instead of a depth"`
	Quality string          `json:"quality,omitempty" example:"trial hole" jsonschema:"how its position is known"`
}

// Support stands inside the units and may not straddle a joint.
type Support struct {
	ID    string         `json:"id" rule:"id" example:"P1" jsonschema:"name of the support"`
	At    measure.Length `json:"at" example:"1500 mm" jsonschema:"chainage of its middle"`
	Every measure.Length `json:"every,omitempty" in:"(0,)" example:"1500 mm" jsonschema:"repeated at this spacing to the end of the leg"`
	Width measure.Length `json:"width" in:"(0,)" example:"60 mm" jsonschema:"along the run"`
	Clear measure.Length `json:"clear,omitempty" example:"50 mm" jsonschema:"least distance from its edge to a joint"`
}

// Zone is a stretch where no joint may stand, for any reason that is stated.
type Zone struct {
	ID   string         `json:"id" rule:"id" example:"Z1" jsonschema:"name of the zone"`
	From measure.Length `json:"from" example:"12 m" jsonschema:"chainage where it starts"`
	To   measure.Length `json:"to" example:"14.5 m" jsonschema:"chainage where it ends"`
	Why  string         `json:"why" example:"mast foundation" jsonschema:"the reason, printed wherever the zone is shown"`
}

// ForcedJoint is a place where a joint must be.
type ForcedJoint struct {
	ID  string         `json:"id" rule:"id" example:"J1" jsonschema:"name of the forced joint"`
	At  measure.Length `json:"at" example:"30 m" jsonschema:"chainage of the joint's middle"`
	Tol measure.Length `json:"tol,omitempty" example:"5 mm" jsonschema:"how far it may stand off that place"`
	Why string         `json:"why,omitempty" example:"movement joint of the building" jsonschema:"the reason"`
}
