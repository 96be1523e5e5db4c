// Package job holds what people declare: the supplies, the run, the contract's rules, the yard. A Job is a value with a
// canonical form (sorted JSON); ids stand on everything that records will later refer to. Nothing here computes a layout.
//
//	job.go      the job, its documents, coordinates and rules
//	entry.go    a figure with the document it came from; a missing one and an assumed one say so
//	supply.go   what one supplier makes
//	route.go    nodes, legs and what lies along them
package job

import "trenchwright/base/measure"

// Format is the only format of a job that this program reads.
const Format = 1

// Job is one run to be built, as declared. The zero value is an empty job and not valid: see Faults.
type Job struct {
	Format      int          `json:"format" jsonschema:"always 1"`
	ID          string       `json:"id,omitempty" jsonschema:"stable name of this job, letters, digits and dashes"`
	Name        string       `json:"name" jsonschema:"what people call this job"`
	Owner       string       `json:"owner,omitempty" jsonschema:"who the run is built for"`
	By          string       `json:"by,omitempty" jsonschema:"who answers for this job file"`
	On          string       `json:"on,omitempty" jsonschema:"date of this state of the job, YYYY-MM-DD; printed on every sheet"`
	Revision    *Revision    `json:"revision,omitempty"`
	System      System       `json:"system,omitempty" jsonschema:"how numbers are shown: metric (default) or imperial"`
	Words       Words        `json:"words,omitempty" jsonschema:"which of the trade's words are used: uk (default) or us"`
	Coordinates Coordinates  `json:"coordinates,omitzero"`
	Documents   []Document   `json:"documents,omitempty" jsonschema:"every drawing, letter or data sheet that figures come from"`
	Supplies    []Supply     `json:"supplies" jsonschema:"what the suppliers make; the first one is laid where nothing else is asked for"`
	Route       Route        `json:"route"`
	Rules       Rules        `json:"rules,omitzero" jsonschema:"what the contract asks"`
	Yard        []YardItem   `json:"yard,omitempty" jsonschema:"units and offcuts that are already there"`
	Attachments []Attachment `json:"attachments,omitempty" jsonschema:"files that belong to the job, by their SHA-256"`
}

// System is a system of units for showing numbers; lengths themselves are always read with the unit they are written in.
type System string

const (
	Metric   System = "metric"
	Imperial System = "imperial"
)

// Words chooses between the trade's words where they differ.
type Words string

const (
	UK Words = "uk"
	US Words = "us"
)

// Revision names one state of the job and where it came from.
type Revision struct {
	ID      string   `json:"id"`
	Parents []string `json:"parents,omitempty" jsonschema:"one or two revisions that this one was made from"`
	Author  string   `json:"author,omitempty"`
	Device  string   `json:"device,omitempty"`
	Note    string   `json:"note,omitempty"`
}

// Coordinates says what the numbers of the route mean.
type Coordinates struct {
	System      string     `json:"system,omitempty" jsonschema:"name of the coordinate system, for example site grid"`
	HeightDatum string     `json:"height_datum,omitempty"`
	Unit        CoordUnit  `json:"unit,omitempty" jsonschema:"unit of eastings, northings and levels: m (default), ft or usft"`
	ScaleFactor string     `json:"scale_factor,omitempty" jsonschema:"combined scale factor grid/ground, for example 0.99963, or ground for 1"`
	ScaleFrom   string     `json:"scale_from,omitempty" jsonschema:"document id that the factor comes from"`
	Line        DrawnLine  `json:"line,omitzero" jsonschema:"which line of the run was drawn"`
	Origin      [2]float64 `json:"origin,omitzero" jsonschema:"subtracted from eastings and northings before anything is computed"`
}

// CoordUnit is the unit of coordinates.
type CoordUnit string

const (
	CoordMetres   CoordUnit = "m"
	CoordFeet     CoordUnit = "ft"
	CoordUSSurvey CoordUnit = "usft"
)

// DrawnLine says which line the route's coordinates describe. The zero value means that nobody said.
type DrawnLine struct {
	Kind   string         `json:"kind,omitempty" jsonschema:"centreline, inner-face, outer-face, trench-edge or offset"`
	Side   string         `json:"side,omitempty" jsonschema:"left or right: on which side of the centreline that line lies, looking along the legs"`
	Offset measure.Length `json:"offset,omitempty" jsonschema:"for trench-edge and offset: distance from that line to the centreline"`
	From   string         `json:"from,omitempty" jsonschema:"for offset: the kerb, fence or rail that was drawn"`
}

// Document is where figures come from.
type Document struct {
	ID        string `json:"id"`
	Title     string `json:"title"`
	Revision  string `json:"revision,omitempty"`
	Page      string `json:"page,omitempty"`
	EnteredBy string `json:"entered_by,omitempty" jsonschema:"who read the figures out of it"`
	EnteredOn string `json:"entered_on,omitempty" jsonschema:"when, YYYY-MM-DD"`
}

// Rules are the contract's figures. What is missing is said to be missing; nothing here has a default.
type Rules struct {
	From         string                `json:"from,omitempty" jsonschema:"document id these rules come from unless one says otherwise"`
	DriftReserve Entry[measure.Length] `json:"drift_reserve,omitzero" jsonschema:"part of every joint's window that is kept for drift"`
	LipLimit     Entry[measure.Length] `json:"lip_limit,omitzero" jsonschema:"largest step that the contract allows at a joint"`
	SawTolerance Entry[measure.Length] `json:"saw_tolerance,omitzero" jsonschema:"how true a cut has to be"`
	UnitScatter  Entry[measure.Length] `json:"unit_scatter,omitzero" jsonschema:"standard deviation of one unit's length with its gap"`
	Spares       []Spare               `json:"spares,omitempty"`
	Prefer       []string              `json:"prefer,omitempty" jsonschema:"order of tie-breaks; clearance, few-lengths, little-waste"`
}

// Spare is one rule for spares.
type Spare struct {
	What    string `json:"what" jsonschema:"units, covers, or the name of a loose part"`
	Percent string `json:"percent,omitempty" jsonschema:"per hundred of what is placed, rounded up"`
	AtLeast int    `json:"at_least,omitempty"`
	From    string `json:"from,omitempty" jsonschema:"document id, or common practice"`
}

// YardItem is stock that is already there: whole units or an offcut with its own mark.
type YardItem struct {
	Supply string         `json:"supply"`
	Length measure.Length `json:"length"`
	Count  int            `json:"count,omitempty" jsonschema:"1 when left out"`
	Mark   string         `json:"mark,omitempty" jsonschema:"painted on an offcut, for example B-017/a"`
	Ends   [2]YardEnd     `json:"ends,omitzero" jsonschema:"for an offcut: its two ends, A first"`
}

// YardEnd is one end of an offcut; the zero value is a square saw cut.
type YardEnd struct {
	Factory bool          `json:"factory,omitempty" jsonschema:"as cast, not sawn"`
	Angle   measure.Angle `json:"angle,omitempty" jsonschema:"saw angle of a mitred end, with the sign of its hand"`
}

// Attachment is a file of the job by its hash.
type Attachment struct {
	Name   string `json:"name"`
	SHA256 string `json:"sha256"`
	Role   string `json:"role,omitempty" jsonschema:"survey, picture, drawing"`
}
