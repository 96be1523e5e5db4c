package field

import (
	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// State is what the records come to. Every figure names the records behind it.
type State struct {
	Legs     []LegState     `json:"legs"`
	Yard     []Stock        `json:"yard"`     // by supply, what, length, mark
	Goods    []GoodsState   `json:"goods"`    // stone, fill and what else came, by what it is
	Services []ServiceState `json:"services"` // by leg and chainage
	Angles   []AngleState   `json:"angles"`   // by node
	Entries  []EntryState   `json:"entries"`  // conduit entries by place
	Shots    []ShotState    `json:"shots"`    // surveyed places by name
	Points   []PointState   `json:"points"`   // hold and witness points by name and stretch
	Matters  []MatterState  `json:"matters"`  // nonconformances by number
	Records  int            `json:"records"`
	Findings finding.List   `json:"findings"`
}

// LegState is one leg, unit by unit in laying order. What it points to is never changed: it is shared with the book and with other states.
type LegState struct {
	ID    string       `json:"id"`
	Units []*UnitState `json:"units"`
	Set   int          `json:"set"`  // units that are set
	Laid  int          `json:"laid"` // covers that lie
	Lids  int          `json:"lids"` // covers of the leg
}

// Answer is whether something is so.
type Answer string

const (
	No      Answer = "no"
	Yes     Answer = "yes"
	CantSay Answer = "cannot say" // records that did not know of each other say this and that
)

// Fact is an answer and the records that it stands on.
type Fact struct {
	Is Answer   `json:"is"`
	By []string `json:"by"`
}

// Measured is a length that somebody measured. Where records that did not know of each other differ by more than both are good
// for, there is no value, and the readings are all there is.
type Measured struct {
	Known    bool           `json:"known"`
	Value    measure.Length `json:"value"`
	Plus     measure.Length `json:"plus"`     // how well it is known, each way
	Readings []Reading      `json:"readings"` // those that stand; the one that the value is comes first
	Check    *Measured      `json:"check"`    // what the inspector read beside it; null: nothing
}

// Reading is one of them.
type Reading struct {
	Value measure.Length `json:"value"`
	Plus  measure.Length `json:"plus"`
	By    string         `json:"by"` // the record

	Planned *measure.Length `json:"planned"` // of a gap or a level: what it should be, as whoever read it had the plan; null: not told
}

// UnitState is one place.
type UnitState struct {
	Place    string            `json:"place"`
	Set      Fact              `json:"set"`
	Within   bool              `json:"within"` // it was said to be within its rule, without a figure
	End      *Measured         `json:"end"`    // how far its end is ahead of its place (below 0: behind); nil: nobody measured
	Ahead    *measure.Length   `json:"ahead"`  // and of the place that the plan has for it, where that is another since; nil: not known
	Length   *Measured         `json:"length"` // of the unit as it came
	Left     *Measured         `json:"left"`   // gap after it, at the left wall
	Right    *Measured         `json:"right"`
	Batch    string            `json:"batch"`
	Line     *Measured         `json:"line"` // how far it is off the line: left below 0
	Rock     *Measured         `json:"rock"` // by how much a low corner moves; the twist of its four corners
	Packer   string            `json:"packer"`
	Type     string            `json:"type"` // what was set, where it is not what the plan has
	Damaged  Fact              `json:"damaged"`
	Covers   []CoverState      `json:"covers"`
	Layers   []LayerState      `json:"layers"`
	Levels   []LevelState      `json:"levels"`
	Bonds    []TestState       `json:"bonds"` // of earthing, each thing that was tested by itself
	Tests    []TestState       `json:"tests"` // of covers
	Area     *AreaState        `json:"area"`  // whom it was handed over to last; null: to nobody
	Parts    []PartState       `json:"parts"` // loose parts that were fitted
	Photos   []string          `json:"photos"`
	Evidence map[Kind][]string `json:"evidence"` // records of the place that stand, by kind
}

// CoverState is one cover.
type CoverState struct {
	Place string `json:"place"`
	Laid  Fact   `json:"laid"`
}

// LayerState is one layer beside one unit.
type LayerState struct {
	Number int    `json:"number"`
	Side   string `json:"side"`
	Top    bool   `json:"top"` // the last one, up to its level
	Placed Fact   `json:"placed"`
	Met    Fact   `json:"met"` // a test that met its limit; No with By: a test that did not
}

// TestState is what the last tests of a thing came to.
type TestState struct {
	Method string   `json:"method"`
	Value  string   `json:"value"` // as the last that was told
	Limit  string   `json:"limit"`
	Met    Fact     `json:"met"`
	By     []string `json:"by"` // the last records, with a verdict or without
}

// AreaState is who has a stretch.
type AreaState struct {
	To string   `json:"to"`
	By []string `json:"by"` // several where people did not know of each other
}

// PartState is how many of a loose part were fitted. What a record says of a stretch stands at its first unit.
type PartState struct {
	Name  string   `json:"name"`
	Count int      `json:"count"`
	By    []string `json:"by"`
}

// LevelState are the readings of one thing at one unit.
type LevelState struct {
	Of   string       `json:"of"`
	Four [4]*Measured `json:"four"` // start left, start right, end left, end right
	Said Fact         `json:"said"` // that it is within the rule, without figures
}

// ServiceState is a buried service as it was found.
type ServiceState struct {
	ServiceSays
	By []string `json:"by"`
}

// AngleState is a bend as it was measured.
type AngleState struct {
	Node    string        `json:"node"`
	Known   bool          `json:"known"`
	Angle   measure.Angle `json:"angle"`
	Plus    measure.Angle `json:"plus"`
	By      []string      `json:"by"`
	Differs bool          `json:"differs"`
}

// Stock is what lies in the yard of one piece.
type Stock struct {
	Piece
	Have    int      `json:"have"` // what should be there and can be used
	Came    int      `json:"came"`
	Cut     int      `json:"cut,omitempty"` // of those that came: cut on site, and not delivered
	Used    int      `json:"used"`
	Damaged int      `json:"damaged"`
	By      []string `json:"by"`             // the count that it starts from; none: nobody counted
	Ends    *[2]Face `json:"ends,omitempty"` // of an offcut, as it was counted
}

// EntryState is a conduit entry as the last records have it.
type EntryState struct {
	Place string `json:"place"`
	EntrySays
	By []string `json:"by"`
}

// ShotState is a surveyed place as the last records have it.
type ShotState struct {
	Place string `json:"place"`
	ShotSays
	By []string `json:"by"`
}

// PointState is a hold or witness point of one stretch.
type PointState struct {
	Point    string    `json:"point"`
	From     string    `json:"from"`
	To       string    `json:"to"`
	Witness  bool      `json:"witness"`
	Noticed  []string  `json:"noticed"`
	Notices  []Noticed `json:"notices"`
	Looked   []string  `json:"looked"`   // inspections
	Result   string    `json:"result"`   // of the last one
	Releases []string  `json:"releases"` // the last ones, whether they still hold or not
	Released Fact      `json:"released"` // cannot say: by somebody else than the contract names
	By       []string  `json:"by"`       // who gave these, by name
	Lapsed   []string  `json:"lapsed"`   // what ended the release: an event's record, or its own where its time has run
	Why      string    `json:"why"`      // the first of them in words, and how many more
	Done     bool      `json:"done"`     // all that waits for it was done before its release ended: nothing is open
	Waits    []string  `json:"waits"`    // where its release ended, the places at which the work that waits for it was not done until then
}

// Noticed is a notice of a point: who sent it when, to whom, how long it runs, and who answered.
type Noticed struct {
	Person string `json:"person"`
	Made   string `json:"made"` // as the person's device had the time
	To     string `json:"to"`
	Period string `json:"period"`
	Answer string `json:"answer"`
}

// MatterState is a nonconformance.
type MatterState struct {
	Number string `json:"number"`
	Closed Fact   `json:"closed"`
}

// State is what the records come to. Now is the moment for what ends by itself, RFC 3339 in UTC; empty: nothing does. What records
// did not touch since somebody last asked is told again.
func (b *Book) State(now string) State {
	s := State{Records: b.records.n}
	b.workAll()
	for l := range b.run.Legs {
		s.Legs = append(s.Legs, b.leg(l))
	}
	s.Services = b.worked.services.get(b.services)
	s.Angles = b.worked.angles.get(b.angleStates)
	if b.worked.moment != now {
		b.worked.points.fresh, b.worked.moment = false, now
	}
	s.Entries = b.worked.entries.get(b.entryStates)
	s.Shots = b.worked.shots.get(b.shotStates)
	s.Points = b.worked.points.get(func() []PointState { return b.pointStates(now) })
	s.Matters = b.worked.matters.get(b.matterStates)
	s.Yard = b.stocks()
	s.Goods = b.worked.goods.get(b.goodsStates)
	s.Findings = b.findings(s)
	return s
}
