package job

import "trenchwright/base/measure"

// Ground is what was surveyed: surfaces, each read from one file.
type Ground struct {
	From     string    `json:"from,omitempty" ref:"document" example:"D4" jsonschema:"document id of the survey, unless a surface says otherwise"`
	Surfaces []Surface `json:"surfaces,omitempty" jsonschema:"the ground as it is, as it will be, rock and water"`
}

// Surface is one surface of the ground and the file that holds it.
type Surface struct {
	ID      string         `json:"id" rule:"id" example:"natural" jsonschema:"name of the surface"`
	Role    SurfaceRole    `json:"role" oneof:"existing|finished|rock|water" jsonschema:"existing (the ground as surveyed), finished (as it will be), rock (its top) or water (its level)"`
	File    string         `json:"file" example:"survey.csv" jsonschema:"file beside the job, or name of an attachment: points, LandXML or GeoJSON"`
	Name    string         `json:"name,omitempty" example:"EG" jsonschema:"which surface of the file, where it holds several"`
	Columns string         `json:"columns,omitempty" example:"PENZC" jsonschema:"order of the columns of a list of points without a heading"`
	Unit    CoordUnit      `json:"unit,omitempty" oneof:"m|ft|usft" jsonschema:"unit of a file that states none; the job's where left out"`
	Edge    measure.Length `json:"edge,omitempty" in:"(0,)" example:"40 m" jsonschema:"longest side of a triangle at the rim: nothing is bridged that was not surveyed"`
	From    string         `json:"from,omitempty" ref:"document" example:"D4" jsonschema:"document id of this survey"`
}

// SurfaceRole is what a surface stands for.
type SurfaceRole string

const (
	ExistingGround SurfaceRole = "existing"
	FinishedGround SurfaceRole = "finished"
	RockHead       SurfaceRole = "rock"
	WaterLevel     SurfaceRole = "water"
)

// Levels says where the run has to lie in height. Limits have no default; what only steers the choice has one, and every
// output states it.
type Levels struct {
	From          string                `json:"from,omitempty" ref:"document" example:"D3" jsonschema:"document id these figures come from unless one says otherwise"`
	Above         Entry[measure.Length] `json:"above,omitzero" in:"(,)" example:"0 mm" jsonschema:"how far the covers end above the finished ground; negative: below it"`
	Grades        Grades                `json:"grades,omitempty" oneof:"straight|follow|stepped" jsonschema:"straight (default: long grades that a laser can hold), follow (the finished ground, for paving) or stepped (level units, steps at the joints)"`
	Least         Entry[measure.Grade]  `json:"least,omitzero" example:"0.3 %" jsonschema:"least fall of the invert"`
	Most          Entry[measure.Grade]  `json:"most,omitzero" example:"5 %" jsonschema:"steepest grade that units may lie on"`
	SteppedBeyond Entry[measure.Grade]  `json:"stepped_beyond,omitzero" example:"8 %" jsonschema:"steeper than this the run is stepped"`
	StepMost      Entry[measure.Length] `json:"step_most,omitzero" in:"(0,)" example:"60 mm" jsonschema:"the most that a step at a joint may be, up or down"`
	StepGrade     Entry[measure.Grade]  `json:"step_grade,omitzero" in:"(,)" example:"0.5 %" jsonschema:"grade of units in a stepped stretch, rising along the leg positive; level where left out"`
	Setting       Entry[measure.Grade]  `json:"setting,omitzero" example:"0.05 %" jsonschema:"grades are whole numbers of this, as the laser is set; 0.05 % where left out"`
	Beam          Entry[measure.Length] `json:"beam,omitzero" in:"(0,)" example:"1200 mm" jsonschema:"how high the beam of the laser runs above the pads, or above the bed where there are none, at the joint that it stands at: the one reading of a grade"`
	Reading       Entry[measure.Length] `json:"reading,omitzero" in:"[0,)" example:"1 mm" jsonschema:"by how much one reading on the rod may be off, either way, as whoever reads it answers for; part of how true covers come to lie"`
	Apart         int                   `json:"apart,omitempty" in:"[1,)" example:"3" jsonschema:"least number of units between two changes of grade"`
	Break         Entry[measure.Length] `json:"break,omitzero" in:"[0,)" example:"2 m" jsonschema:"price of a change of grade by 1 %: as much as one joint that lies this far off the wanted level; where left out 20 times cover_tolerance, at most 2 m, and 2 m with no tolerance on file"`
	AboveWeight   string                `json:"above_weight,omitempty" rule:"decimal" example:"1" jsonschema:"price of lying above the wanted level, against below_weight; 1 where left out"`
	BelowWeight   string                `json:"below_weight,omitempty" rule:"decimal" example:"2" jsonschema:"price of lying below the wanted level; 1 where left out"`
	Stretches     []LevelStretch        `json:"stretches,omitempty" jsonschema:"where a leg or part of it differs, and which way it falls"`
	Pins          []Pin                 `json:"pins,omitempty" jsonschema:"levels that are fixed: structures, roads, existing trenches"`
	Outlets       []Outlet              `json:"outlets,omitempty" jsonschema:"where water leaves the run"`
	Drain         *Drain                `json:"drain,omitempty" jsonschema:"a drain in the bed"`
}

// Grades is how a stretch lies.
type Grades string

const (
	StraightGrades Grades = "straight"
	FollowGround   Grades = "follow"
	SteppedUnits   Grades = "stepped"
)

// LevelStretch is a leg or a part of it that lies otherwise than the rest, or whose fall has a direction.
type LevelStretch struct {
	Leg       string                `json:"leg" ref:"leg" example:"A" jsonschema:"leg that it is on"`
	From      measure.Length        `json:"from,omitempty" example:"12 m" jsonschema:"chainage where it starts; the leg's start where left out"`
	To        measure.Length        `json:"to,omitempty" in:"(0,)" example:"36 m" jsonschema:"chainage where it ends; the leg's end where left out"`
	Grades    Grades                `json:"grades,omitempty" oneof:"straight|follow|stepped" jsonschema:"straight, follow or stepped"`
	Toward    string                `json:"toward,omitempty" ref:"node" example:"N2" jsonschema:"node of this leg that the water runs to"`
	Least     Entry[measure.Grade]  `json:"least,omitzero" example:"0.5 %" jsonschema:"least fall here"`
	Most      Entry[measure.Grade]  `json:"most,omitzero" example:"3 %" jsonschema:"steepest grade here"`
	StepMost  Entry[measure.Length] `json:"step_most,omitzero" in:"(0,)" example:"60 mm" jsonschema:"the most that a step at a joint may be here"`
	StepGrade Entry[measure.Grade]  `json:"step_grade,omitzero" in:"(,)" example:"0.5 %" jsonschema:"grade of units that step here, rising along the leg positive"`
	Crossfall Entry[measure.Grade]  `json:"crossfall,omitzero" in:"(,)" example:"2 %" jsonschema:"fall across the unit, to the right positive; level where left out"`
}

// Pin is a level that is given.
type Pin struct {
	ID    string         `json:"id" rule:"id" example:"L1" jsonschema:"name of the pin"`
	Leg   string         `json:"leg" ref:"leg" example:"A" jsonschema:"leg that it is on"`
	At    measure.Length `json:"at" example:"31.2 m" jsonschema:"chainage on that leg"`
	Level float64        `json:"level" example:"101.25" jsonschema:"level, in the job's coordinate unit"`
	Of    string         `json:"of,omitempty" oneof:"cover|wall|invert" jsonschema:"of what: cover (its top; default), wall (its top) or invert"`
	Why   string         `json:"why,omitempty" example:"kerb of the gate road" jsonschema:"the reason, printed wherever the pin is shown"`
}

// Outlet is where water leaves the run.
type Outlet struct {
	ID    string         `json:"id" rule:"id" example:"O1" jsonschema:"name of the outlet or sump"`
	Leg   string         `json:"leg" ref:"leg" example:"A" jsonschema:"leg that it is on"`
	At    measure.Length `json:"at" example:"24 m" jsonschema:"chainage on that leg"`
	Into  string         `json:"into,omitempty" example:"manhole 7" jsonschema:"where the water goes"`
	Of    string         `json:"of,omitempty" oneof:"run|drain|both" jsonschema:"whose water leaves here: of the run, of the drain in its bed, or of both (where left out)"`
	Drain *float64       `json:"drain,omitempty" example:"100.15" jsonschema:"level of the drain's invert here, in the job's coordinate unit; it is kept to the nanometre"`
}

// Drain is a pipe in the bed with a fall of its own.
type Drain struct {
	Diameter measure.Length        `json:"diameter" in:"(0,)" example:"110 mm" jsonschema:"outside diameter"`
	Wall     Entry[measure.Length] `json:"wall,omitzero" in:"(0,)" example:"3.2 mm" jsonschema:"thickness of its wall: its invert lies so far above its underside"`
	Below    measure.Length        `json:"below" example:"150 mm" jsonschema:"least distance from the underside of the unit to the top of the pipe"`
	Deepest  Entry[measure.Length] `json:"deepest,omitzero" example:"900 mm" jsonschema:"most distance from the underside of the unit to the top of the pipe"`
	Least    Entry[measure.Grade]  `json:"least,omitzero" example:"0.5 %" jsonschema:"least fall of the pipe"`
	Most     Entry[measure.Grade]  `json:"most,omitzero" example:"8 %" jsonschema:"steepest fall of the pipe"`
	Setting  Entry[measure.Grade]  `json:"setting,omitzero" example:"0.05 %" jsonschema:"its grades are whole numbers of this; of the run's setting where left out"`
	Break    Entry[measure.Length] `json:"break,omitzero" in:"[0,)" example:"2 m" jsonschema:"price of a change of its grade by 1 %; the run's where left out, and 2 m where that is, too"`
	Ways     []DrainWay            `json:"ways,omitempty" jsonschema:"which way its water runs, where that does not follow from its one outlet"`
	Bedding  measure.Length        `json:"bedding,omitempty" example:"100 mm" jsonschema:"stone below the pipe"`
	Surround Entry[measure.Length] `json:"surround,omitzero" example:"100 mm" jsonschema:"stone on either side of the pipe"`
	Trench   Entry[measure.Length] `json:"trench,omitzero" in:"(0,)" example:"400 mm" jsonschema:"width of its own trench, where that lies below the formation; pipe and surround where left out"`
	Offset   measure.Length        `json:"offset,omitempty" in:"(,)" example:"-250 mm" jsonschema:"of its middle from the centreline, to the right positive"`
}

// DrainWay is the direction of the drain's water on one leg.
type DrainWay struct {
	Leg    string         `json:"leg" ref:"leg" example:"A" jsonschema:"leg that it is on"`
	Toward string         `json:"toward" ref:"node" example:"N2" jsonschema:"node of this leg that the drain runs to"`
	From   measure.Length `json:"from,omitempty" example:"12 m" jsonschema:"chainage where this begins; the leg's start where left out"`
	To     measure.Length `json:"to,omitempty" in:"(0,)" example:"36 m" jsonschema:"chainage where it ends; the leg's end where left out"`
}
