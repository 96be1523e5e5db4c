package screen

// Sketch is what changed while something was dragged: legs that had to be laid anew. No levels, no cutting, no dig; places in
// plan are relative to the origin of the opened screen.
type Sketch struct {
	Hash    string      `json:"hash"` // of the opened job
	Length  float64     `json:"length_mm"`
	Legs    []Leg       `json:"legs"` // all, in walking order, with their new places on the strip
	Touched []Redrawn   `json:"touched"`
	Nodes   []Node      `json:"nodes"`
	Extent  [4]float64  `json:"extent_m"`
	Faults  []Finding   `json:"faults"`   // then there is nothing else: the last sketch stands
	Said    string      `json:"said"`     // the run in one line
	Told    []string    `json:"told"`     // what the edits were understood as
	Place   *[2]float64 `json:"place_m"`  // where what was dragged came to lie, if it was drawn to something
	Drawn   string      `json:"drawn"`    // to what: point, straight, right angle, grid, step; empty: to nothing
	DrawnTo string      `json:"drawn_to"` // the same in words: square to leg B
	Guide   *[2]float64 `json:"guide_m"`  // where the leg ends that it is straight on from, or square to
	Radius  *float64    `json:"radius_m"` // likewise of a dragged radius
}

// Redrawn is one leg as it is laid now: its columns hold this leg alone, its strip positions are those of Sketch.Legs.
type Redrawn struct {
	Leg     int     `json:"leg"`
	Units   Units   `json:"units"`
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

// Difference is what changed against an earlier plan.
type Difference struct {
	Same   bool     `json:"same"`
	Said   []string `json:"said"` // one line for each kind of change
	Places []Change `json:"places"`
}

// Change is one place that is not what it was.
type Change struct {
	Kind  string  `json:"kind"` // new, gone, changed, moved
	Of    string  `json:"of"`   // unit, cover, leg, node, bill, finding, note
	Key   string  `json:"key"`
	Name  string  `json:"name"`
	Where string  `json:"where"` // of a finding: where it is found, in words
	About string  `json:"about"` // of a finding with another figure: what it says
	Leg   int     `json:"leg"`
	From  float64 `json:"from"` // strip of the plan as it is now; of what is gone: where it was
	To    float64 `json:"to"`
	Was   string  `json:"was"`
	Now   string  `json:"now"`
}
