// Package screen is a plan as a screen draws it: positions as numbers, every text ready in the job's system and words. It
// formats whatever a browser shows, so that the browser formats nothing of record, and it is the same in the browser and here.
//
//	screen.go   Screen: the whole of an opened job; numbers.go: columns of numbers as short JSON
//	strip.go    its parts on the strip: legs, units, covers, joints, zones, things, nodes, findings
//	curves.go   arcs that a hand drags; snapping.go: what draws a dragged place
//	section.go  the long section on the strip's axis; planview.go the plan, with the ground's contours
//	card.go     one thing on a card; figure.go: what is drawn on it, and across the trench
//	along.go    what a stage shows along the run, alongstages.go, alongrest.go; here.go: what counts for it where the peg stands
//	fresh.go    what a change made be found anew, and what it made go
//	fields.go   what can be typed on a card, labels.go: what it is called; lengths.go: how lengths are rounded
//	answers.go  tables, ticks, what lies between two places; difference.go against an issued plan
//	site.go     what the records of the job come to; sitenext.go the next thing to do; sitestrip.go the strip as the work fills it
//	siteforms.go what each kind of record asks; sitehear.go, sitesays.go what was typed, as it is understood; sitewords.go records in words
//	siteyard.go what lies in the yard; siteanswers.go ways on from what lies
//	officegrid.go what the office keys day cards into; officekeyed.go what was keyed, as it is understood
//	office.go   the site on one page; officemeasure.go what was done between two days; officeday.go the daily report
//	officeopen.go what is out of tolerance, what is hidden without its record
//	desk.go     Desk: keeps the opened plan as a cache, and answers by name
//
// The strip is one axis in millimetres: legs end to end in walking order, each by its chainage from its from node.
// Positions in plan are metres east and north of Plan.Origin. Both are for drawing; figures of record stand in texts.
package screen

// Screen is an opened job with its plan, drawn nowhere yet.
type Screen struct {
	Core      string      `json:"core"` // version of the planning core
	Hash      string      `json:"hash"` // of the job: every later question names it
	Job       JobHead     `json:"job"`
	Words     Words       `json:"words"`     // the trade's words where the two sides of the ocean differ
	Length    float64     `json:"length_mm"` // of the strip
	Axis      Axis        `json:"axis"`
	Supplies  []Supply    `json:"supplies"`
	Legs      []Leg       `json:"legs"` // in walking order
	Units     Units       `json:"units"`
	Covers    Covers      `json:"covers"`
	Joints    Joints      `json:"joints"`
	Zones     []Zone      `json:"zones"`
	Crossings []Thing     `json:"crossings"`
	Services  []Thing     `json:"services"`
	Entries   []Thing     `json:"entries"`
	Supports  []Thing     `json:"supports"`
	Forced    []Thing     `json:"forced"` // joints that the job asks for
	Nodes     []Node      `json:"nodes"`
	Findings  []Finding   `json:"findings"`
	Open      []string    `json:"open"` // how much stands open: 0 impossible, 41 for attention, …
	Section   Section     `json:"section"`
	Plan      Plan        `json:"plan"`
	Stages    []Stage     `json:"stages"`
	Tables    []TableHead `json:"tables"`
	Sheets    []Sheet     `json:"sheets"` // files of the pack
}

// JobHead is whose job this is.
type JobHead struct {
	ID       string `json:"id"`
	Name     string `json:"name"`
	Owner    string `json:"owner"`
	Revision string `json:"revision"`
	System   string `json:"system"` // metric or imperial, as these texts are
	Words    string `json:"words"`  // uk or us, likewise
	Own      View   `json:"own"`    // what the job itself says of both
	Said     string `json:"said"`   // the run in one line: 4 legs, 163 units, 2 cut
}

// View is how texts are shown. It never changes a number of record.
type View struct {
	System string `json:"system"` // metric or imperial
	Words  string `json:"words"`  // uk or us
}

// Words are the trade's words of this view, in small letters.
type Words struct {
	Unit        string `json:"unit"`
	Units       string `json:"units"`
	Closer      string `json:"closer"`
	Mitre       string `json:"mitre"`
	Mitred      string `json:"mitred"`
	Chainage    string `json:"chainage"`
	UpChainage  string `json:"up_chainage"`
	Pad         string `json:"pad"`
	Pads        string `json:"pads"`
	EndPlate    string `json:"end_plate"`
	Transition  string `json:"transition"`
	Service     string `json:"service"`
	Services    string `json:"services"`
	Centreline  string `json:"centreline"`
	SetOut      string `json:"set_out"`
	Formation   string `json:"formation"`
	Bed         string `json:"bed"`
	Layer       string `json:"layer"`
	Layers      string `json:"layers"`
	RodReading  string `json:"rod_reading"`
	Instrument  string `json:"instrument"`
	Benchmark   string `json:"benchmark"`
	Levelling   string `json:"levelling"`
	LengthUnit  string `json:"length_unit"`  // that a bare number is taken in: mm or in
	CoordUnit   string `json:"coord_unit"`   // of eastings, northings and levels: m, ft, US survey ft
	LevelPlaces int    `json:"level_places"` // decimals that levels are shown with
}

// Axis says how the axis of chainage is divided.
type Axis struct {
	Unit  string  `json:"unit"`    // m or ft
	InMM  float64 `json:"unit_mm"` // one of it
	Major float64 `json:"major"`   // of it: a full station, 100 ft or 100 m
}

// Stage is one of the nine, with how much of it is known.
type Stage struct {
	ID     string   `json:"id"` // route, order, dig, bed, set, fill, cables, cover, handover
	Name   string   `json:"name"`
	Said   string   `json:"said"` // fixed, 14 of 30, nothing recorded yet
	Done   int      `json:"done"` // of Of; both 0 where nothing is counted
	Of     int      `json:"of"`
	Open   int      `json:"open"`   // findings of this stage that ask something
	Tables []string `json:"tables"` // names of the tables that belong to it
}

// TableHead names a table that can be asked for.
type TableHead struct {
	Name  string `json:"name"`
	Title string `json:"title"`
	Rows  int    `json:"rows"`
}

// Sheet is a file of the pack.
type Sheet struct {
	Name   string `json:"name"`
	About  string `json:"about"`
	Stage  string `json:"stage"`  // where it is looked for first
	Server bool   `json:"server"` // only the server can write it
	Kind   string `json:"kind"`   // of papers that are made from the records where there are any; empty: of the plan alone
}

// Supply is what a drawing needs of a supply; null: not on file.
type Supply struct {
	ID          string   `json:"id"`
	Title       string   `json:"title"`
	OuterWidth  *float64 `json:"outer_width_mm"`
	OuterHeight *float64 `json:"outer_height_mm"`
	InnerWidth  *float64 `json:"inner_width_mm"`
	InnerHeight *float64 `json:"inner_height_mm"`
	CoverWidth  *float64 `json:"cover_width_mm"`
	CoverThick  *float64 `json:"cover_thickness_mm"`
	PadAlong    *float64 `json:"pad_along_mm"`
	PadAcross   *float64 `json:"pad_across_mm"`
	PadThick    *float64 `json:"pad_thick_mm"`
	OnPads      bool     `json:"on_pads"`
	DrawnWidth  float64  `json:"drawn_width_mm"` // that outlines in plan have: the outer one, or a made-up one where that is not on file
}
