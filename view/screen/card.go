package screen

import "trenchwright/job/edit"

// Card is one thing on one small page. Lengths stand in both systems, the view's first.
type Card struct {
	Key      string      `json:"key"`
	Kind     string      `json:"kind"` // unit, cover, joint, node, leg, crossing, service, entry, support, zone, forced, pin, outlet, finding
	Title    string      `json:"title"`
	Lead     string      `json:"lead"` // the one thing to know
	Strip    [2]float64  `json:"strip"`
	Groups   []CardGroup `json:"groups"`
	Figure   *Figure     `json:"figure"`
	Proof    []string    `json:"proof"`   // what stands behind it
	Sources  []string    `json:"sources"` // documents
	Findings []Finding   `json:"findings"`
	Tries    []Try       `json:"tries"`
	Fields   []CardField `json:"fields"` // what can be typed here
}

// CardGroup is rows under one heading.
type CardGroup struct {
	Name string    `json:"name"`
	Rows []CardRow `json:"rows"`
}

// CardRow is one figure.
type CardRow struct {
	Label  string `json:"label"`
	Text   string `json:"text"`
	Other  string `json:"other"`  // the same in the other system; empty: it has none
	Source string `json:"source"` // document, where it is a figure that somebody entered
	Open   bool   `json:"open"`   // NOT CHECKED: nobody entered it
	Key    string `json:"key"`    // card of what it names
}

// CardField is a field of the job that belongs to the thing.
type CardField struct {
	Label string   `json:"label"`
	Path  string   `json:"path"` // for an edit
	Text  string   `json:"text"` // as it stands in the job
	Kind  string   `json:"kind"` // length, angle, text, level, choice, grade, number, yes
	From  []string `json:"from"` // of a choice: the words that it knows
	About string   `json:"about"`
}

// Try is a change that would help, ready to be made.
type Try struct {
	Said  string      `json:"said"`
	Edits []edit.Edit `json:"edits"` // empty: it has to be done by hand
}

// Figure is something drawn to scale, in millimetres, up and to the right positive.
type Figure struct {
	Box    [4]float64    `json:"box"` // left, bottom, right, top
	Lines  []FigureLine  `json:"lines"`
	Labels []FigureLabel `json:"labels"`
	Notes  []string      `json:"notes"`
}

// FigureLine is one line or one area.
type FigureLine struct {
	Of     string  `json:"of"`     // what it is: unit, cover, joint, zone, existing, rock, bed, …
	Points Numbers `json:"points"` // x and y of each
	Closed bool    `json:"closed"`
	Area   bool    `json:"area"` // to be filled with its hatch
}

// FigureLabel is a text beside a point.
type FigureLabel struct {
	At   [2]float64 `json:"at"`
	Text string     `json:"text"`
	Of   string     `json:"of"`
}

// Table is a table with rows that are ready to be shown, and figures that it can be sorted by.
type Table struct {
	Name    string        `json:"name"`
	Title   string        `json:"title"`
	Notes   []string      `json:"notes"`
	Columns []TableColumn `json:"columns"`
	Rows    int           `json:"rows"`
	Keys    []string      `json:"keys"` // of each row: the card that belongs to it; empty: none
}

// TableColumn is one column with all of its cells.
type TableColumn struct {
	Key     string   `json:"key"`
	Head    string   `json:"head"` // with its unit
	Numeric bool     `json:"numeric"`
	Texts   []string `json:"texts"`
	Sort    Gaps     `json:"sort"` // of a numeric column: one figure a row, null where there is none
}

// Sketch is what changed while something was dragged: legs that had to be laid anew. No levels, no cutting, no dig.
type Sketch struct {
	Hash    string     `json:"hash"`
	Length  float64    `json:"length_mm"`
	Legs    []Leg      `json:"legs"` // all, in walking order, with their new places on the strip; first and units as in Screen
	Touched []Redrawn  `json:"touched"`
	Nodes   []Node     `json:"nodes"`
	Extent  [4]float64 `json:"extent_m"`
	Faults  []Finding  `json:"faults"`
	Said    string     `json:"said"` // the run in one line
}

// Redrawn is one leg as it is laid now: its columns hold this leg alone, its strip positions are those of Sketch.Legs.
type Redrawn struct {
	Leg     int     `json:"leg"`
	Units   Units   `json:"units"`
	Covers  Covers  `json:"covers"`
	Joints  Joints  `json:"joints"`
	Zones   []Zone  `json:"zones"`
	Line    PlanLeg `json:"line"`
	Corners Numbers `json:"corners_m"`
}

// Edited is a job after edits, or why it is not.
type Edited struct {
	Job    string    `json:"job"` // canonical JSON; empty: nothing was changed, see Faults
	Hash   string    `json:"hash"`
	Faults []Finding `json:"faults"`
	Said   []string  `json:"said"` // what was understood
	Keys   []string  `json:"keys"` // what was made or changed
}

// Difference is what changed against an issued plan.
type Difference struct {
	Same   bool     `json:"same"`
	Said   []string `json:"said"` // one line for each kind of change
	Places []Change `json:"places"`
}

// Change is one place that is not what it was.
type Change struct {
	Kind string  `json:"kind"` // new, gone, changed, moved
	Of   string  `json:"of"`   // unit, cover, joint, leg, node, bill, finding
	Key  string  `json:"key"`
	Name string  `json:"name"`
	Leg  int     `json:"leg"`
	From float64 `json:"from"` // strip of the plan as it is now; of what is gone: where it was
	To   float64 `json:"to"`
	Was  string  `json:"was"`
	Now  string  `json:"now"`
}
