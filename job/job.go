// Package job holds what people declare: the supplies, the run, the contract's rules, the yard. A Job is a value with a
// canonical form (sorted JSON); ids stand on everything that records will later refer to. Nothing here computes a layout.
//
// The types:
//
//	job.go         the job, its documents, coordinates and rules
//	entry.go       a figure with the document it came from; a missing one and an assumed one say so
//	supply.go      what one supplier makes; section.go: a width and a height as text
//	route.go       nodes, legs and what lies along them; built.go: what of a leg lies already, and how the rest of it was chosen
//	ground.go      surveyed surfaces, and the levels that the run has to keep; dig.go: how the trench is dug; digstretch.go: where that differs; load.go: what is carted
//	delivery.go    what brings what is ordered, in which order, and where it is put down
//	checks.go      what the checks of loads, water, lifts and cables go by
//	programme.go   gangs, calendars, rates, windows and loads
//	override.go    hard stops that somebody answers for
//	setout.go      benchmarks, control points, and the pegs that outlast the dig
//
// A written job becomes a tree, the tree a job, and back; the tags of the types say how:
//
//	tree.go        the tree that readers build; place.go: where something stands, for programs and for people
//	fields.go      what the tags say: names, rules, references, words, intervals
//	decode*.go     FromTree, strict, with every fault at once; broken.go: one slip is reported once
//	encode.go      ToTree; canonical.go: CanonicalJSON and Hash; json.go: FromJSON
//
// What can be said of a job without geometry:
//
//	faults*.go     Faults, what is wrong; suggest.go: what was probably meant
//	missing*.go    Missing, what nobody entered and whom to ask
//	entries.go     Assumptions; Source, where a figure came from
//	docs.go        Docs, the reference of every field
package job

import (
	"strconv"

	"trenchwright/base/measure"
)

// Format is the only format of a job that this program reads.
const Format = 1

// Job is one run to be built, as declared. The zero value is an empty job and not valid: see Faults.
type Job struct {
	Format      int          `json:"format" example:"1" jsonschema:"always 1"`
	ID          string       `json:"id,omitempty" rule:"id" example:"depot-east" jsonschema:"stable name of this job, letters, digits and dashes"`
	Name        string       `json:"name" example:"Depot east, feeder trench" jsonschema:"what people call this job"`
	Owner       string       `json:"owner,omitempty" example:"City tram works" jsonschema:"who the run is built for"`
	By          string       `json:"by,omitempty" example:"site engineer" jsonschema:"who answers for this job file"`
	On          string       `json:"on,omitempty" rule:"date" example:"2026-03-02" jsonschema:"date of this state of the job, YYYY-MM-DD; printed on every sheet"`
	Revision    *Revision    `json:"revision,omitempty" jsonschema:"this state of the job and what it was made from"`
	System      System       `json:"system,omitempty" oneof:"metric|imperial" jsonschema:"how numbers are shown: metric (default) or imperial"`
	Words       Words        `json:"words,omitempty" oneof:"uk|us" jsonschema:"which of the trade's words are used: uk (default) or us"`
	Coordinates Coordinates  `json:"coordinates,omitzero" jsonschema:"what eastings, northings and levels mean"`
	Documents   []Document   `json:"documents,omitempty" jsonschema:"every drawing, letter or data sheet that figures come from"`
	Supplies    []Supply     `json:"supplies" jsonschema:"what the suppliers make; the first one is laid where nothing else is asked for"`
	Route       Route        `json:"route" jsonschema:"the run: nodes and legs, or a walk"`
	Ground      Ground       `json:"ground,omitzero" jsonschema:"what was surveyed"`
	SetOut      SetOut       `json:"set_out,omitzero" jsonschema:"what the run is set out from on site"`
	Levels      Levels       `json:"levels,omitzero" jsonschema:"where the run has to lie in height"`
	Dig         Dig          `json:"dig,omitzero" jsonschema:"how the trench is dug and filled again"`
	Delivery    Delivery     `json:"delivery,omitzero" jsonschema:"how what is ordered comes, and where it is put down"`
	Rules       Rules        `json:"rules,omitzero" jsonschema:"what the contract asks"`
	Checks      Checks       `json:"checks,omitzero" jsonschema:"what engineers and data sheets say for the checks of loads, lifts, water and cables"`
	Programme   *Programme   `json:"programme,omitempty" jsonschema:"by whom, how fast and when the run is built"`
	Overrides   []Override   `json:"overrides,omitempty" jsonschema:"hard stops that somebody answers for, so that the papers they hold back are written"`
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
	ID      string   `json:"id" rule:"id" example:"r7" jsonschema:"name of this state"`
	Parents []string `json:"parents,omitempty" rule:"id" example:"r6" jsonschema:"one or two revisions that this one was made from"`
	Author  string   `json:"author,omitempty" example:"site engineer" jsonschema:"who made it"`
	Device  string   `json:"device,omitempty" example:"office" jsonschema:"on which device"`
	Note    string   `json:"note,omitempty" example:"crossing moved by 2 m" jsonschema:"what changed"`
}

// Coordinates says what the numbers of the route mean.
type Coordinates struct {
	System      string     `json:"system,omitempty" example:"site grid" jsonschema:"name of the coordinate system, for example site grid"`
	HeightDatum string     `json:"height_datum,omitempty" example:"site datum" jsonschema:"what levels are measured from"`
	Unit        CoordUnit  `json:"unit,omitempty" oneof:"m|ft|usft" jsonschema:"unit of eastings, northings and levels: m (default), ft or usft"`
	ScaleFactor string     `json:"scale_factor,omitempty" rule:"scale" example:"0.99963" jsonschema:"combined scale factor grid/ground, for example 0.99963, or ground for 1"`
	ScaleFrom   string     `json:"scale_from,omitempty" ref:"document" example:"D3" jsonschema:"document id that the factor comes from"`
	Line        DrawnLine  `json:"line,omitzero" jsonschema:"which line of the run was drawn"`
	Origin      [2]float64 `json:"origin,omitzero" example:"[4500000, 5300000]" jsonschema:"subtracted from eastings and northings before anything is computed"`
}

// CoordUnit is the unit of coordinates.
type CoordUnit string

const (
	CoordMetres   CoordUnit = "m"
	CoordFeet     CoordUnit = "ft"
	CoordUSSurvey CoordUnit = "usft"
)

// Metres is how many metres one unit is; the US survey foot is 1200/3937 m exactly (NIST SP 811).
func (u CoordUnit) Metres() float64 {
	switch u {
	case CoordFeet:
		return 0.3048
	case CoordUSSurvey:
		return 1200.0 / 3937
	}
	return 1
}

// Word is the unit as people write it.
func (u CoordUnit) Word() string {
	switch u {
	case CoordFeet:
		return "ft"
	case CoordUSSurvey:
		return "US survey ft"
	}
	return "m"
}

// LevelPlaces is how many decimals levels have in the unit: millimetres, or hundredths of a foot.
func (u CoordUnit) LevelPlaces() int {
	if u == CoordFeet || u == CoordUSSurvey {
		return 2
	}
	return 3
}

// Level is a level in words.
func (u CoordUnit) Level(metres float64) string {
	return strconv.FormatFloat(metres/u.Metres(), 'f', u.LevelPlaces(), 64) + " " + u.Word()
}

// DrawnLine says which line the route's coordinates describe. The zero value means that nobody said.
type DrawnLine struct {
	Kind   string         `json:"kind,omitempty" oneof:"centreline|inner-face|outer-face|trench-edge|offset" jsonschema:"centreline, inner-face, outer-face, trench-edge or offset"`
	Side   string         `json:"side,omitempty" oneof:"left|right" jsonschema:"left or right: on which side of the centreline that line lies, looking along the legs"`
	Offset measure.Length `json:"offset,omitempty" in:"(0,)" example:"1200 mm" jsonschema:"for trench-edge and offset: distance from that line to the centreline"`
	From   string         `json:"from,omitempty" example:"kerb" jsonschema:"for offset: the kerb, fence or rail that was drawn"`
}

// Document is where figures come from.
type Document struct {
	ID        string `json:"id" rule:"id" example:"D1" jsonschema:"short name of the document, used in from"`
	Title     string `json:"title" example:"unit drawing" jsonschema:"what kind of paper it is"`
	Revision  string `json:"revision,omitempty" example:"B" jsonschema:"its revision"`
	Page      string `json:"page,omitempty" example:"3" jsonschema:"page or sheet, where all figures stand on one"`
	EnteredBy string `json:"entered_by,omitempty" example:"site engineer" jsonschema:"who read the figures out of it"`
	EnteredOn string `json:"entered_on,omitempty" rule:"date" example:"2026-03-02" jsonschema:"when, YYYY-MM-DD"`
}

// Rules are the contract's figures. What is missing is said to be missing; nothing here has a default.
type Rules struct {
	From         string                `json:"from,omitempty" ref:"document" example:"D2" jsonschema:"document id these rules come from unless one says otherwise"`
	DriftReserve Entry[measure.Length] `json:"drift_reserve,omitzero" example:"1 mm" jsonschema:"part of every joint's window that is kept for drift"`
	LipLimit     Entry[measure.Length] `json:"lip_limit,omitzero" example:"3 mm" jsonschema:"largest step that the contract allows at a joint"`
	FormationTol Entry[measure.Length] `json:"formation_tolerance,omitzero" in:"(0,)" example:"20 mm" jsonschema:"by how much the formation may lie off its level, either way"`
	BedTol       Entry[measure.Length] `json:"bed_tolerance,omitzero" in:"(0,)" example:"5 mm" jsonschema:"by how much a pad, or the bed where there are none, may lie off its level, either way"`
	CoverTol     Entry[measure.Length] `json:"cover_tolerance,omitzero" in:"(0,)" example:"6 mm" jsonschema:"by how much the top of a cover may lie off its level, either way"`
	WallTol      Entry[measure.Length] `json:"wall_tolerance,omitzero" in:"(0,)" example:"5 mm" jsonschema:"by how much the top of a wall may lie off its level, either way"`
	CrossTol     Entry[measure.Length] `json:"crossfall_tolerance,omitzero" in:"(0,)" example:"3 mm" jsonschema:"by how much the fall across a unit, from wall top to wall top, may differ from the planned one"`
	EndTol       Entry[measure.Length] `json:"end_tolerance,omitzero" in:"(0,)" example:"10 mm" jsonschema:"by how much the end of a unit may lie ahead of its place or behind it"`
	LineTol      Entry[measure.Length] `json:"line_tolerance,omitzero" in:"(0,)" example:"5 mm" jsonschema:"by how much a unit may lie off the line, either way"`
	RockLimit    Entry[measure.Length] `json:"rock_limit,omitzero" in:"(0,)" example:"3 mm" jsonschema:"by how much a low corner of a unit may move when it rocks"`
	CoverStep    Entry[measure.Length] `json:"cover_step,omitzero" in:"(0,)" example:"3 mm" jsonschema:"largest step from one cover to the next"`
	SawTolerance Entry[measure.Length] `json:"saw_tolerance,omitzero" example:"3 mm" jsonschema:"how true a cut has to be"`
	UnitScatter  Entry[measure.Length] `json:"unit_scatter,omitzero" example:"2 mm" jsonschema:"standard deviation of one unit's length with its gap"`
	Steps        []Step                `json:"steps,omitempty" jsonschema:"the steps that hide what was done before, in the order of this job, and what has to be recorded before each"`
	Readings     []ReadingRule         `json:"readings,omitempty" jsonschema:"how often something has to be measured"`
	Points       []Point               `json:"points,omitempty" jsonschema:"the hold and witness points of the contract"`
	Dates        []Due                 `json:"dates,omitempty" jsonschema:"the dates of the programme: by when what has to be done"`
	Spares       []Spare               `json:"spares,omitempty" jsonschema:"spares to be ordered"`
	Prefer       []string              `json:"prefer,omitempty" oneof:"clearance|few-lengths|little-waste" jsonschema:"order of tie-breaks; clearance, few-lengths, little-waste"`
}

// Step is one step that hides what was done before it, and what has to be recorded before.
type Step struct {
	Step  string   `json:"step" oneof:"bed|set|fill|cables|cover" example:"fill" jsonschema:"bed, set, fill, cables or cover"`
	Wants []string `json:"wants,omitempty" oneof:"formation|bed|pad|wall|invert|drain|end|line|length|gap|rock|fabric|bond|area|layer test|cover test|photo" example:"gap" jsonschema:"records that have to be there before it: levels by what they are of (formation, bed, pad, wall, invert, drain), end, line, length, gap, rock, fabric, bond, area, layer test, cover test; photo for any photo of the place"`
	From  string   `json:"from,omitempty" ref:"document" example:"D2" jsonschema:"document id that says so"`
}

// ReadingRule says how often something has to be measured along each leg.
type ReadingRule struct {
	Of    string `json:"of" oneof:"formation|bed|pad|wall|invert|drain|end|line|length|gap|rock" example:"gap" jsonschema:"what is measured: a level by what it is of (formation, bed, pad, wall, invert, drain), end, line, length, gap or rock"`
	First int    `json:"first,omitempty" in:"[1,)" example:"3" jsonschema:"at so many units from the start of each leg"`
	Every int    `json:"every,omitempty" in:"[1,)" example:"5" jsonschema:"at the first unit of each leg, and every so many from there"`
	From  string `json:"from,omitempty" ref:"document" example:"D2" jsonschema:"document id that says so"`
}

// Point is one hold or witness point of the contract. What is left out of it reads NOT CHECKED, with whom to ask.
type Point struct {
	Name    string   `json:"name" example:"formation" jsonschema:"what the contract calls it; records of it go by this name"`
	Kind    string   `json:"kind,omitempty" oneof:"hold|witness" example:"hold" jsonschema:"hold: no further work without a written release; witness: notice is given, and work may go on once its time has run"`
	Before  string   `json:"before,omitempty" oneof:"dig|bed|set|fill|cables|cover|handover" example:"bed" jsonschema:"the work that waits for it and hides what is looked at: dig, bed, set, fill, cables, cover or handover"`
	Notice  string   `json:"notice,omitempty" example:"24 h" jsonschema:"how long notice of it runs, as the contract has it"`
	To      string   `json:"to,omitempty" example:"engineer's representative" jsonschema:"to whom notice goes"`
	Release string   `json:"release,omitempty" example:"engineer's representative" jsonschema:"who releases it; for a witness point who comes to see it"`
	Lapses  []string `json:"lapses,omitempty" oneof:"rain|frost|water|shift" example:"rain" jsonschema:"what ends a release of it where the release itself names nothing: rain, frost, water, shift"`
	Hours   int      `json:"hours,omitempty" in:"[1,)" example:"24" jsonschema:"how many hours a release of it holds where it names no end of its own"`
	From    string   `json:"from,omitempty" ref:"document" example:"D2" jsonschema:"document id that says so"`
}

// Due says by when a leg, or the whole run, has to be set, filled, covered or proven.
type Due struct {
	Leg  string `json:"leg,omitempty" ref:"leg" example:"A" jsonschema:"the leg; the whole run where left out"`
	Step string `json:"step" oneof:"set|filled|covered|proven" example:"set" jsonschema:"what has to be done: set, filled, covered, or proven, with everything that is asked of it on record"`
	By   string `json:"by" rule:"date" example:"2026-04-17" jsonschema:"the last day for it, YYYY-MM-DD"`
	From string `json:"from,omitempty" ref:"document" example:"D2" jsonschema:"document id that says so"`
}

// At tells whether a reading is wanted at a unit of a leg, the first being 0.
func (r ReadingRule) At(unit int) bool {
	return unit < r.First || r.Every > 0 && unit%r.Every == 0
}

// Spare is one rule for spares.
type Spare struct {
	What    string `json:"what" example:"covers" jsonschema:"units, covers, or the name of a loose part"`
	Percent string `json:"percent,omitempty" rule:"percent" example:"2.5" jsonschema:"per hundred of what is placed, rounded up"`
	AtLeast int    `json:"at_least,omitempty" example:"1" jsonschema:"no fewer than this many"`
	From    string `json:"from,omitempty" rule:"spare-source" example:"common practice" jsonschema:"document id, or common practice"`
}

// YardItem is stock that is already there: whole units or an offcut with its own mark.
type YardItem struct {
	Supply string         `json:"supply" ref:"supply" example:"trough" jsonschema:"supply that it was made for"`
	Length measure.Length `json:"length" in:"(0,)" example:"1240 mm" jsonschema:"its length, on the axis where an end is mitred"`
	Count  int            `json:"count,omitempty" in:"[1,)" example:"4" jsonschema:"1 when left out"`
	Mark   string         `json:"mark,omitempty" example:"B-017/a" jsonschema:"painted on an offcut, for example B-017/a"`
	Ends   [2]YardEnd     `json:"ends,omitzero" jsonschema:"for an offcut: its two ends, A first"`
}

// YardEnd is one end of an offcut; the zero value is a square saw cut.
type YardEnd struct {
	Factory bool          `json:"factory,omitempty" example:"true" jsonschema:"as cast, not sawn"`
	Angle   measure.Angle `json:"angle,omitempty" in:"(-90,90)" example:"22.5°" jsonschema:"saw angle of a mitred end, with the sign of its hand"`
}

// Attachment is a file of the job by its hash.
type Attachment struct {
	Name   string `json:"name" example:"survey.csv" jsonschema:"name of the file"`
	SHA256 string `json:"sha256" rule:"sha256" example:"e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855" jsonschema:"SHA-256 of its bytes, 64 hexadecimal digits"`
	Role   string `json:"role,omitempty" oneof:"survey|ground|picture|drawing" jsonschema:"survey, ground (a clip along the run), picture or drawing"`
}
