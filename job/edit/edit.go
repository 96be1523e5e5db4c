// Package edit changes a job the way people do it on a screen: they drag, they type, and what they typed is read here. Apply
// answers with the changed job and says what was understood, or leaves the job as it was and says what is wrong. There is no
// undo in it: an older revision is one.
//
//	edit.go    Edit and its operations; apply.go Apply: all of a list of edits, or none
//	nodes.go   nodes moved, bends put in and taken out, legs added and removed
//	things.go  what lies along a leg, and items of any list: added, moved, removed
//	fields.go  fields set by path, from typed text; path.go finds them, typed.go reads them
//	along.go   what happens to chainages when a leg is parted or joined
//	carried.go what was recorded in the ground and went along with its leg, and how far
//	taken.go   an answer that was taken for a leg of which something lies, and what may not be done to such a leg
//	names.go   new ids, which are never those of something that was withdrawn; ids renamed wherever they stand
//	snap.go    Snap: where a dragged point wants to lie
package edit

import "trenchwright/job"

// Op is what an edit does.
type Op string

// The edits that there are. What each needs of Edit stands behind it.
const (
	MoveNode   Op = "move-node"   // Node; Place or Text ("1000.0, 2000.5")
	InsertBend Op = "insert-bend" // Leg, At: the leg becomes two that meet at a new node; Place moves it
	RemoveBend Op = "remove-bend" // Node: its two legs become one
	Draw       Op = "draw"        // Places, or Text with a semicolon between two places: legs from one to the next; on a node that is there they join it
	Extend     Op = "extend"      // Node, an end: a new leg from there to Place or Text
	Branch     Op = "branch"      // Leg, At: a new leg sawn into its wall, to Place or Text
	RemoveLeg  Op = "remove-leg"  // Leg, with nodes that nothing else meets
	Add        Op = "add"         // Kind, Leg, At, Fields; or Path of a list, Fields
	Move       Op = "move"        // Kind, Leg, ID, At; ToLeg where it goes to another leg
	Remove     Op = "remove"      // Kind, Leg, ID; or Path of an item
	Set        Op = "set"         // Path, Text, Level or Radius; From, Page, Note and Assumed where it is a figure with a source
	Clear      Op = "clear"       // Path: nobody entered it
	Rename     Op = "rename"      // Path, Text: of an id, wherever it is named; or the job's name
	Take       Op = "take"        // Leg, Built, Services: an answer of a replan
)

// Ops are all edits, in the order in which they are told above.
func Ops() []Op {
	return []Op{MoveNode, InsertBend, RemoveBend, Draw, Extend, Branch, RemoveLeg, Add, Move, Remove, Set, Clear, Rename, Take}
}

// Edit is one change. Fields that its Op does not need are left empty.
type Edit struct {
	Op      Op           `json:"op"`
	Kind    string       `json:"kind,omitempty"` // crossing, service, entry, support, zone, joint, pin, outlet
	ID      string       `json:"id,omitempty"`   // of the thing; of a new one: the id that it gets, or empty for the next free one
	Leg     string       `json:"leg,omitempty"`
	ToLeg   string       `json:"to_leg,omitempty"`
	Node    string       `json:"node,omitempty"`
	At      string       `json:"at,omitempty"`       // chainage on the leg, typed
	AtMM    *float64     `json:"at_mm,omitempty"`    // the same, dragged: strip position less that of the leg's start
	Place   *[2]float64  `json:"place_m,omitempty"`  // dragged: metres from Origin, as Screen.Plan has them
	Places  [][2]float64 `json:"places_m,omitempty"` // drawn, likewise
	Origin  [2]float64   `json:"origin_m,omitzero"`  // Screen.Plan's
	Level   *float64     `json:"level_m,omitempty"`  // dragged: metres above the height datum
	Radius  *float64     `json:"radius_m,omitempty"` // dragged: metres on the ground, kept to the millimetre
	Path    string       `json:"path,omitempty"`     // of a field: route.legs[A].crossings[X1].width; by ids, or by numbers from 0
	Text    string       `json:"text,omitempty"`     // typed
	From    string       `json:"from,omitempty"`     // document id that a figure comes from
	Page    string       `json:"page,omitempty"`
	Note    string       `json:"note,omitempty"`
	Assumed bool         `json:"assumed,omitempty"` // nobody has a document for it: it is printed so wherever it goes
	Fields  []Field      `json:"fields,omitempty"`  // of a new thing

	Built    *job.Built    `json:"built,omitempty"`    // of the answer that is taken
	Services []job.Service `json:"services,omitempty"` // that were found on the leg
}

// Field is one field of a new thing, as typed. A field of a group in it has dots: end.kind.
type Field struct {
	Name string `json:"name"`
	Text string `json:"text"`
}
