package field

import (
	"cmp"
	"slices"
	"strings"

	"trenchwright/base/measure"
)

// What the kinds say. Lengths are exact, written with their unit as they were read; what was not measured is left out (nil).

// Piece names units or covers of one make, by what they are and not by where they go.
type Piece struct {
	Supply string         `json:"supply"`
	What   string         `json:"what"`             // "unit" or "cover"
	Length measure.Length `json:"length,omitempty"` // 0: a mark of its own
	Mark   string         `json:"mark,omitempty"`   // of a cut, mitred or special piece, or of an offcut
}

// Delivered is one line of a delivery: so many came, so many of them cannot be used.
type Delivered struct {
	Piece
	Came    int    `json:"came"`
	Short   int    `json:"short,omitempty"`   // on the ticket, and not on the load
	Damaged int    `json:"damaged,omitempty"` // of those that came, set aside
	Batch   string `json:"batch,omitempty"`
}

// Goods is one line of a delivery that is neither units nor covers: stone, fill, concrete. How much is as the ticket has it.
type Goods struct {
	What   string `json:"what"`
	Amount string `json:"amount"` // 18.5 t, 12 m³, 4 bags
	Batch  string `json:"batch,omitempty"`
}

// DeliverySays is a load that came.
type DeliverySays struct {
	Ticket string      `json:"ticket"`
	Lines  []Delivered `json:"lines"`
	Goods  []Goods     `json:"goods,omitempty"`
}

// DamageSays is what is broken: in the yard by what it is, or in the ground by the record's place.
type DamageSays struct {
	Piece
	Count  int  `json:"count,omitempty"` // 0: one
	Usable bool `json:"usable"`          // it may still be laid as it is
}

// CountSays is what lies in the yard of each piece that is named; others are not spoken of. Seen are the records that were known to
// whoever counted, by device up to a number: what they brought and took is in the count already.
type CountSays struct {
	Lines []Counted      `json:"lines"`
	Seen  map[string]int `json:"seen,omitempty"`
}

// Counted is one line of a count.
type Counted struct {
	Piece
	Count int      `json:"count"`
	Ends  *[2]Face `json:"ends,omitempty"` // of an offcut: A first; nil: as the plan has it that it came from
}

// Face is one end of an offcut; the zero value is a square saw cut.
type Face struct {
	Factory bool          `json:"factory,omitempty"` // as cast
	Angle   measure.Angle `json:"angle,omitempty"`   // saw angle, with the sign of its hand
}

// Depth is where a service lies against the run.
type Depth string

const (
	BelowBed   Depth = "below the bed"
	InBed      Depth = "in bed or pad"
	InEnvelope Depth = "in the unit's envelope"
	NotKnown   Depth = "unknown" // counts as in the envelope
)

// ServiceSays is a buried service where the run crosses it. In a trial hole that met nothing, Met is false.
type ServiceSays struct {
	Name   string          `json:"name"`
	What   string          `json:"what,omitempty"`
	Met    bool            `json:"met"`
	Leg    string          `json:"leg"`
	At     measure.Length  `json:"at"` // chainage of its middle on the leg
	Width  *measure.Length `json:"width,omitempty"`
	Keep   *measure.Length `json:"keep,omitempty"` // no joint within, each side
	Top    *measure.Length `json:"top,omitempty"`  // level of its top
	Depth  Depth           `json:"depth"`
	Owner  string          `json:"owner,omitempty"`
	Ticket string          `json:"ticket,omitempty"`

	Planned string `json:"planned,omitempty"` // id of the service of the plan that it is, by whoever found it
}

// SetUpSays is an instrument as it was set up: the rod on a benchmark, and the height of instrument that this gives.
type SetUpSays struct {
	Benchmark string         `json:"benchmark"`
	Level     measure.Length `json:"level"`            // of the benchmark, as whoever set it up had it
	Rod       measure.Length `json:"rod"`              // as read on it
	Closes    bool           `json:"closes,omitempty"` // no new set-up: this one was read on another benchmark, or on the same once more
	Plus      measure.Length `json:"plus,omitempty"`   // how well a rod is read, each way
}

// Height is the height of instrument.
func (s SetUpSays) Height() measure.Length { return s.Level + s.Rod }

// CheckSays is an instrument that was held against what it should read: two pegs, a known level, a calibration.
type CheckSays struct {
	Method string          `json:"method,omitempty"`
	Off    *measure.Length `json:"off,omitempty"`  // by how much it is out
	Met    *bool           `json:"met,omitempty"`  // it is as it has to be; nil: not told
	Seen   map[string]int  `json:"seen,omitempty"` // the records that were known to whoever checked it, by device up to a number
}

// VoiceSays is what was spoken.
type VoiceSays struct {
	SHA256  string `json:"sha256"`
	Seconds int    `json:"seconds,omitempty"`
}

// EntrySays is a conduit entry as it was made.
type EntrySays struct {
	Wall     string          `json:"wall,omitempty"` // "left", "right", "end"
	Diameter *measure.Length `json:"diameter,omitempty"`
	At       *measure.Length `json:"at,omitempty"`     // from the start of the unit
	Invert   *measure.Length `json:"invert,omitempty"` // level
	Made     string          `json:"made,omitempty"`   // "cast", "cored", "sawn"
	Sealed   bool            `json:"sealed,omitempty"`
}

// LevelSays are levels at the record's places: one for all, or four corners (start left, start right, end left, end right), or those of
// them that were read. What was read on a rod is kept beside: then the levels are the height of instrument less that.
type LevelSays struct {
	Of     string           `json:"of"` // "formation", "bed", "pad", "wall", "invert", "drain"
	Level  *measure.Length  `json:"level,omitempty"`
	Four   []measure.Length `json:"four,omitempty"`
	Within *bool            `json:"within,omitempty"` // all within the rule, without figures
	Plus   measure.Length   `json:"plus,omitempty"`   // how well it was read, each way
	End    string           `json:"end,omitempty"`    // "start", "end", "start left", "end right": Level was read there alone

	Height *measure.Length  `json:"height,omitempty"` // of instrument
	Rod    []measure.Length `json:"rod,omitempty"`    // as read: one, or at four corners
	Read   []string         `json:"read,omitempty"`   // the corners that Four or Rod were read at, in their order; empty: one for all, or all four
}

// Corners are the corners of a unit, in the order in which they are read.
var Corners = [4]string{"start left", "start right", "end left", "end right"}

// AtCorners puts readings at the corners that they were taken at; without names of those, one stands for all and four for each.
func AtCorners(of []measure.Length, names []string) (four [4]measure.Length, read [4]bool) {
	switch {
	case len(names) > 0:
		for i, l := range of {
			if i < len(names) {
				if k := slices.Index(Corners[:], names[i]); k >= 0 {
					four[k], read[k] = l, true
				}
			}
		}
	case len(of) == 1:
		four, read = [4]measure.Length{of[0], of[0], of[0], of[0]}, [4]bool{true, true, true, true}
	case len(of) == 4:
		four, read = [4]measure.Length(of), [4]bool{true, true, true, true}
	}
	return four, read
}

// At are the levels at the four corners, and at which of them one was read.
func (s *LevelSays) At() (four [4]measure.Length, read [4]bool) {
	switch {
	case len(s.Four) > 0:
		four, read = AtCorners(s.Four, s.Read)
	case s.Level != nil:
		four, read = AtCorners([]measure.Length{*s.Level}, nil)
	case s.Height != nil:
		four, read = AtCorners(s.Rod, s.Read)
		for i := range four {
			four[i] = *s.Height - four[i]
		}
	}
	for i, c := range Corners {
		read[i] = read[i] && strings.HasPrefix(c, s.End)
	}
	return four, read
}

// RockSays is a unit that rocks, and the packer under it. By how much is known where all four corners were read.
type RockSays struct {
	Four   []measure.Length `json:"four,omitempty"` // levels of its corners, or readings at them from one set-up
	Read   []string         `json:"read,omitempty"` // the corners that Four were read at, in their order; empty: all four
	Packer *measure.Length  `json:"packer,omitempty"`
	Corner string           `json:"corner,omitempty"`
	Plus   measure.Length   `json:"plus,omitempty"` // how well each corner was read, each way
}

// whole tells whether all four corners were read.
func (s *RockSays) whole() bool {
	_, read := AtCorners(s.Four, s.Read)
	return len(s.Four) == 4 && read == atAll
}

// Off is how far the end of a unit, where the next one is laid on, is off its place: ahead along the laying above 0, behind below.
type Off struct {
	Place string          `json:"place"`
	By    measure.Length  `json:"by"`
	At    *measure.Length `json:"at,omitempty"` // that place as whoever wrote it had it, along the laying; nil: as the plan has it
}

// SetSays are units that were set, from one place to another.
type SetSays struct {
	Within  bool            `json:"within"` // all within the rule but for what Off names
	Off     []Off           `json:"off,omitempty"`
	Line    *measure.Length `json:"line,omitempty"`    // the most that one is off the line: left below 0, right above
	Measure *measure.Length `json:"measure,omitempty"` // of one unit alone: its length as measured
	Plus    measure.Length  `json:"plus,omitempty"`    // how well Off was read, each way
	Supply  string          `json:"supply,omitempty"`
	Batch   string          `json:"batch,omitempty"`
	Turned  bool            `json:"turned,omitempty"`
	Lifted  bool            `json:"lifted,omitempty"` // they were taken out again

	Type  string           `json:"type,omitempty"`  // what was set, in words, where it is not what the plan has there
	Left  *measure.Length  `json:"left,omitempty"`  // of one unit alone: the gap after it, at the left wall
	Right *measure.Length  `json:"right,omitempty"` // and at the right
	Walls []measure.Length `json:"walls,omitempty"` // of one unit alone: levels of the wall tops at its four corners
	Read  []string         `json:"read,omitempty"`  // the corners that Walls were read at, in their order; empty: all four
}

// GapSays is the gap of a joint, at both walls, at one of them, or at the axis (both alike).
type GapSays struct {
	Left  *measure.Length `json:"left,omitempty"`
	Right *measure.Length `json:"right,omitempty"`
	Plus  measure.Length  `json:"plus,omitempty"`
}

// AngleSays is the angle of a bend as it was measured, left or right as drawn.
type AngleSays struct {
	Angle measure.Angle `json:"angle"`
	Plus  measure.Angle `json:"plus,omitempty"`
}

// CutSays is a piece that was cut, with its lengths on the walls where it was read.
type CutSays struct {
	Mark    string          `json:"mark"`
	From    Piece           `json:"from"`
	Left    *measure.Length `json:"left,omitempty"`
	Right   *measure.Length `json:"right,omitempty"`
	Offcut  measure.Length  `json:"offcut,omitempty"` // what is left of it, shorter wall
	Spoiled bool            `json:"spoiled,omitempty"`
	Kept    string          `json:"kept,omitempty"` // which end of what it was cut from the piece kept: "A", "B", "neither"; empty: not told
}

// Sawn is where the saw went through what the piece was cut from, from its end A, on the wall where it is nearer to that end and on the
// other: by the end that the piece kept, and where nobody told that by either. Where a wall was not read nobody knows where it went there,
// and what is known is where it went on the other.
func (s *CutSays) Sawn() [][2]measure.Length {
	if s.Left == nil && s.Right == nil {
		return nil
	}
	from := func(l measure.Length) measure.Length { return s.From.Length - l }
	left, right := *cmp.Or(s.Left, s.Right), *cmp.Or(s.Right, s.Left)
	a := [2]measure.Length{min(left, right), max(left, right)}
	b := [2]measure.Length{from(a[1]), from(a[0])}
	switch s.Kept {
	case "A":
		return [][2]measure.Length{a}
	case "B":
		return [][2]measure.Length{b}
	}
	return [][2]measure.Length{a, b}
}

// rest is what is left of the unit as a piece of the yard, under the mark of the piece that was cut and a letter; nothing: none was told.
func (s *CutSays) rest() Piece {
	if s == nil || s.Offcut <= 0 || s.Mark == "" {
		return Piece{}
	}
	return Piece{Supply: s.From.Supply, What: "unit", Length: s.Offcut, Mark: s.Mark + "/a"}
}

// LayerSays is one layer of fill on one side, from place to place.
type LayerSays struct {
	Number int            `json:"number"` // from the bottom, 1
	Side   string         `json:"side"`   // "left", "right", "both"
	Thick  measure.Length `json:"thick,omitempty"`
	Plant  string         `json:"plant,omitempty"`
	Passes int            `json:"passes,omitempty"`
	Top    bool           `json:"top,omitempty"` // the last one: it comes up to its level
}

// TestSays is a test with its verdict by whoever made it: of a layer, a bond, a cover.
type TestSays struct {
	Number int    `json:"number,omitempty"` // the layer
	Side   string `json:"side,omitempty"`
	Method string `json:"method,omitempty"`
	Value  string `json:"value,omitempty"`
	Limit  string `json:"limit,omitempty"`
	Met    *bool  `json:"met,omitempty"` // nil: not told
}

// CoverSays are covers of the units from place to place, or one cover.
type CoverSays struct {
	Done    string   `json:"done"` // "laid", "lifted"
	Trimmed []string `json:"trimmed,omitempty"`
	Missing []string `json:"missing,omitempty"` // covers of the stretch that are not there
}

// AreaSays is a stretch that goes from one trade to another.
type AreaSays struct {
	To        string `json:"to"` // "cables", "civil", "client"
	By        string `json:"by,omitempty"`
	Condition string `json:"condition,omitempty"`
	Keys      int    `json:"keys,omitempty"`   // lifting keys that went with it
	Spares    string `json:"spares,omitempty"` // what else did
}

// PartSays are loose parts that were fitted.
type PartSays struct {
	Name  string `json:"name"`
	Count int    `json:"count,omitempty"`
}

// PointSays is a hold or witness point: an inspection, a notice, a release.
type PointSays struct {
	Point  string   `json:"point"`
	Result string   `json:"result,omitempty"` // an inspection's: "meets", "does not meet", "cannot say"
	Party  string   `json:"party,omitempty"`  // to whom a notice went; who released
	Until  string   `json:"until,omitempty"`  // RFC 3339: a release or a ticket ends then
	Lapses []string `json:"lapses,omitempty"` // events that end it: "rain", "frost", "water", "shift"

	Witness bool           `json:"witness,omitempty"` // work may go on without an answer once the notice has run
	Period  string         `json:"period,omitempty"`  // how long a notice runs, in words
	Answer  string         `json:"answer,omitempty"`  // who answered a notice or came, and how
	Seen    map[string]int `json:"seen,omitempty"`    // the records that were known to whoever released, by device up to a number
}

// EventSays is what makes releases lapse.
type EventSays struct {
	What string `json:"what"`
}

// MatterSays is what is not as it has to be, or what was done about one.
type MatterSays struct {
	Number string `json:"number"` // of the nonconformance
	Closed bool   `json:"closed,omitempty"`
	By     string `json:"by,omitempty"` // who decided
	What   string `json:"what,omitempty"`
	Answer string `json:"answer,omitempty"` // what was decided
}

// ShotSays is a surveyed place in the job's coordinates.
type ShotSays struct {
	Of       string         `json:"of"`
	Easting  measure.Length `json:"easting"`
	Northing measure.Length `json:"northing"`
	Level    measure.Length `json:"level"`
}
