// Package field is the record of what was done and measured on site: facts that are only added to, from devices that were offline,
// and what they come to.
//
//	record.go   one record: who, when, where, with what
//	says.go     what each kind of record says
//	read.go     records from lines of JSON: a fact that is not understood is kept all the same; scan*.go: read quickly
//	numbered.go the number that a server gave a record, round its line
//	ulid.go     the ids of records
//	after.go    which record is later than which, without asking a clock; before.go: what a new one comes after
//	run.go      what the records are about: the places of a plan; places.go: found by name
//	book.go     the records of one job: what arrives is filed, and what it touches is worked out again; entry.go: as a book holds it;
//	            byid.go: found by its id; taking.go: what came, sorted and filed; listening.go: what it says, read
//	shelf.go    the records of one leg, unit by unit, and narrow questions about them
//	state.go    what the records come to: in the ground, in the yard, open
//	fold_*.go   how
//	asks.go     what the job asks of the records: limits, frequency, what has to be there before a step hides it
//	held.go     everything that was measured, held against its limit; heldthings.go: what was made, against what was planned
//	hiding.go   what lacks its record before it is hidden, and what was not read that had to be
//	progress.go how far the work is; measure.go: what was done between two moments (moment.go); day.go: what a day did
//	doubt.go    what to read again when an instrument turns out wrong
//	calibration.go readings with an instrument whose calibration had run out; overdue.go: told once for each device, or its clock doubted
//	matter.go   nonconformances and what is broken, in words
//	odd_point.go points and work where a stop stands; unserved.go: what a record names and nothing comes of
//	beside.go   what two people read, and the inspector beside those who build
//	standing.go how instruments stand: heights, and what closes on them
//	shoot.go    levels on site: what the rod shows next, cut and fill, rock, lip, what it does to the next joints; the same as a level book
//	differ.go   two people who measured the same
//
// A record is never changed: a correction is a new record that names the old one. A fact is never refused; what is odd about it is
// a finding. No clock chooses between two readings: both stay. The same records come to the same state in whatever order they
// arrived, and every figure of the state names the records behind it.
package field

import (
	"encoding/json"
	"slices"

	"trenchwright/base/measure"
)

// Record is one thing that somebody measured or did.
type Record struct {
	ID         string      `json:"id"` // ULID, made on the device: the same record sent twice is one
	Job        string      `json:"job"`
	Device     string      `json:"device"`
	Number     int         `json:"number"` // counts up on its device, from 1
	Person     string      `json:"person"`
	Role       string      `json:"role,omitempty"`
	Made       string      `json:"made"` // by the device's clock, RFC 3339; shown to people, and decides nothing
	Seq        int64       `json:"-"`    // in which order the server took records in, as it gave the line out (Numbered); 0: it said nothing of it
	Kind       Kind        `json:"kind"`
	From       string      `json:"from,omitempty"`       // a place: a unit, a cover, a joint, a node, an entry
	To         string      `json:"to,omitempty"`         // the last place of a stretch; empty: From alone
	After      []string    `json:"after,omitempty"`      // the last records of the same place that whoever wrote this one had seen
	Corrects   string      `json:"corrects,omitempty"`   // the record that this one takes the place of
	Fix        *Fix        `json:"fix,omitempty"`        // where the device was
	Instrument *Instrument `json:"instrument,omitempty"` // what was measured with
	Plan       string      `json:"plan,omitempty"`       // the state of the job that whoever wrote it had
	Places     string      `json:"places,omitempty"`     // the places of its leg as they had them (Leg.List)
	Rule       string      `json:"rule,omitempty"`       // what it is held against, as whoever wrote it had it
	Planned    *Then       `json:"planned,omitempty"`    // what the plan had there, as they had it: an answer that is taken later moves it
	Photos     []string    `json:"photos,omitempty"`     // SHA-256
	Text       string      `json:"text,omitempty"`       // in the person's own words

	Says json.RawMessage `json:"says,omitempty"` // of its kind; kept as it came, known or not

	line string // as it came, where it has members that this version does not know
}

// Attachments are the SHA-256 of all that belongs to a record and stands apart from it: photos, and what was spoken.
func (r *Record) Attachments() []string {
	if r.Kind != Voice {
		return r.Photos
	}
	if says, ok := SaysOf[VoiceSays](r); ok && says.SHA256 != "" && !slices.Contains(r.Photos, says.SHA256) {
		return append(slices.Clone(r.Photos), says.SHA256)
	}
	return r.Photos
}

// Then is what a plan had where something was measured, of one unit or joint alone.
type Then struct {
	Gap  *measure.Length  `json:"gap,omitempty"`  // of the joint after the unit
	Four []measure.Length `json:"four,omitempty"` // levels of what was read, at the corners of the unit
}

// Fix is where a device says that it was.
type Fix struct {
	Latitude  float64 `json:"latitude"`
	Longitude float64 `json:"longitude"` // WGS 84, degrees
	Within    float64 `json:"within_m"`  // as the device says
}

// Instrument is what a reading was taken with.
type Instrument struct {
	ID      string `json:"id"`
	Checked string `json:"checked,omitempty"` // the day of its last check or calibration
	SetUp   string `json:"set_up,omitempty"`  // which standing of it: readings of one set-up are right or wrong together

	Certificate string `json:"certificate,omitempty"` // of that calibration
	Due         string `json:"due,omitempty"`         // the last day on which that holds, as the certificate or whoever keeps it says
}

// Kind is what a record is about.
type Kind string

// The kinds, by stage.
const (
	Delivery Kind = "delivery" // what came
	Damage   Kind = "damage"   // what is broken
	Count    Kind = "count"    // what lies in the yard, counted

	SetUp Kind = "set-up" // an instrument set up: what it reads on a benchmark
	Check Kind = "check"  // an instrument held against what it should read

	Service   Kind = "service"    // a buried service that was found
	TrialHole Kind = "trial hole" // looked for, found or not

	Level  Kind = "level"  // of formation, bed, pads, walls
	Rock   Kind = "rock"   // how a unit rocks, and what was packed under it
	Set    Kind = "set"    // units that were set
	Gap    Kind = "gap"    // the gap of a joint
	Angle  Kind = "angle"  // of a bend, as it is
	Cut    Kind = "cut"    // a closer or another piece that was cut
	Entry  Kind = "entry"  // a conduit entry that was made
	Bond   Kind = "bond"   // an earthing bond and its test
	Fabric Kind = "fabric" // laid over joints or under the bed

	Layer     Kind = "layer"      // of fill
	LayerTest Kind = "layer test" // of a layer

	Area      Kind = "area"       // handed over to or by the cable gang
	Part      Kind = "part"       // loose parts that were fitted
	Cover     Kind = "cover"      // covers laid, lifted, laid again
	CoverTest Kind = "cover test" // rock, steps, gap, bearing

	Inspection    Kind = "inspection"
	Notice        Kind = "notice"        // of a hold or witness point
	Release       Kind = "release"       // of a hold point
	Event         Kind = "event"         // what makes releases lapse: rain, frost, water, a new shift
	Nonconforming Kind = "nonconforming" // what is not as it has to be
	Repair        Kind = "repair"        // what was done about it
	Shot          Kind = "shot"          // a surveyed place, as built

	Diary Kind = "diary"
	Note  Kind = "note"       // words
	Photo Kind = "photo"      // the photos of the record, of its place
	Voice Kind = "voice note" // what was spoken, of its place
)
