package screen

// Leg is a leg on the strip.
type Leg struct {
	Key     string   `json:"key"` // leg/A: what a card is asked for by
	ID      string   `json:"id"`
	From    float64  `json:"from"`     // strip
	To      float64  `json:"to"`       // strip
	Follows bool     `json:"follows"`  // it goes on where the leg before it ends
	Start   string   `json:"start"`    // node
	End     string   `json:"end"`      // node
	First   int      `json:"first"`    // of units
	Units   int      `json:"units"`    // how many
	FromEnd bool     `json:"from_end"` // laid from its to node
	Supply  string   `json:"supply"`
	Verdict string   `json:"verdict"` // found, impossible, undecided
	Said    string   `json:"said"`    // one line: 24 units, 1 cut, 51.300 m
	Why     string   `json:"why"`     // where it is not found, or what the choice rests on
	Try     []string `json:"try"`
}

// Units are all units, by strip position; one entry of every column for each.
type Units struct {
	Mark   []string `json:"mark"` // A-017; its card is unit/A-017
	Leg    []int    `json:"leg"`  // of Screen.Legs
	From   Numbers  `json:"from"` // strip
	To     Numbers  `json:"to"`
	Supply []int    `json:"supply"` // of Screen.Supplies
	Flags  []int    `json:"flags"`  // sum of: 1 cut, 2 on hold, 4 mitred at its start, 8 mitred at its end, 16 laid because something asks for its supply, 32 a finding
}

// What a unit's flags say.
const (
	UnitCut = 1 << iota
	UnitHold
	UnitMitredStart
	UnitMitredEnd
	UnitDemanded
	UnitFound
)

// Covers are all covers, by strip position. A cover's name is its unit's mark and its number.
type Covers struct {
	Unit   []int   `json:"unit"`   // of Units
	Number []int   `json:"number"` // on its unit, from 1
	From   Numbers `json:"from"`   // strip
	To     Numbers `json:"to"`
	Flags  []int   `json:"flags"` // sum of: 1 cut, 4 mitred at its start, 8 mitred at its end
}

// Joints are all joints between two units, by strip position. A joint's name is that of both.
type Joints struct {
	Before []int   `json:"before"` // of Units: the unit before it; the one behind is the next
	At     Numbers `json:"at"`     // strip, its middle
	Gap    Numbers `json:"gap_mm"`
	Left   Numbers `json:"left_mm"` // what its budget leaves
	Flags  []int   `json:"flags"`   // sum of: 1 a pad lies under it, 2 the job asks for it, 4 its budget is overspent, 8 change of grade, 16 step
}

// What a joint's flags say.
const (
	JointPad = 1 << iota
	JointForced
	JointOver
	JointBreak
	JointStep
)

// Zone is a stretch where no joint may stand, or no cut piece may lie.
type Zone struct {
	Key   string  `json:"key"` // of the thing that it comes from
	Leg   int     `json:"leg"`
	From  float64 `json:"from"`
	To    float64 `json:"to"`
	Kind  string  `json:"kind"` // crossing, entry, service, support, zone, tee
	Joint bool    `json:"joint"`
	Cut   bool    `json:"cut"` // no cut unit or cover may lie in it
	Label string  `json:"label"`
}

// Thing is what somebody declared along a leg.
type Thing struct {
	Key   string  `json:"key"` // crossing/A/X1
	ID    string  `json:"id"`
	Leg   int     `json:"leg"`
	At    float64 `json:"at"`   // strip
	From  float64 `json:"from"` // strip: as wide as it is itself
	To    float64 `json:"to"`
	Side  string  `json:"side"`     // of an entry: left, right, floor
	Skew  float64 `json:"skew_deg"` // between the run and what crosses
	Label string  `json:"label"`    // its name and what is said of it, in one line
}

// Node is where legs end or meet.
type Node struct {
	Key   string     `json:"key"` // node/N2
	ID    string     `json:"id"`
	Kind  string     `json:"kind"`  // end, bend, tee, cross, transition
	Made  string     `json:"made"`  // mitred, casting, sawn, end plate, building, temporary, existing, open
	Strip Numbers    `json:"strip"` // every place of it there
	Legs  []int      `json:"legs"`
	At    [2]float64 `json:"at_m"` // plan
	Hand  string     `json:"hand"` // left or right: which way the run turns; empty: it does not
	Turn  float64    `json:"turn_deg"`
	Angle string     `json:"angle"` // 45.000°, in words
	Label string     `json:"label"`
	Moves bool       `json:"moves"` // it has coordinates of its own, and can be dragged
}

// Finding is one thing that the program has to say.
type Finding struct {
	Name  string   `json:"name"` // №3: its number in the plan
	ID    string   `json:"id"`
	Kind  string   `json:"kind"` // fault, impossible, attention, not checked, assumed, note
	Text  string   `json:"text"`
	Leg   int      `json:"leg"` // -1: none
	At    *float64 `json:"at"`  // strip; null: it speaks of no place on it
	Key   string   `json:"key"` // of the thing that it speaks of, if that is one
	Path  string   `json:"path"`
	Where string   `json:"where"` // in words: leg B, chainage 24.072 m; empty: nowhere on the run
	Limit string   `json:"limit"`
	Value string   `json:"value"`
	Rule  string   `json:"rule"`
	Ask   string   `json:"ask"`
	Try   string   `json:"try"`
	Stage string   `json:"stage"`
}
