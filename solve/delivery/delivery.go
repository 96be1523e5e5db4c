// Package delivery says how what is ordered comes to a run: in which bundles, on which vehicles, in which order, where it is put
// down, and what can still be laid where some of it has not come.
//
//	delivery.go  Problem and Solution          bundle.go   pieces of one kind put into the supplier's bundles
//	solve.go     loads in laying order         deck.go     what stands where on one vehicle; axle.go: what its axles then bear
//	bound.go     with how many loads at least  check.go    Check: a second look at all of it, by other means
//	laydown.go   Lay: what lies where          short.go    Short: how far each leg can be laid without what is missing
//	faults.go    figures that cannot be
//
// Bundles are boxes that lie lengthwise on the deck: in rows across it, beside one another and, where the supplier says so, on one
// another. What has no mass on file is on no load; where one size is not on file nothing is placed, and loads go by mass alone.
//
// Lengths are nanometres, masses grams; all comparisons are of whole numbers.
package delivery

import (
	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// Problem is what comes, and on what.
type Problem struct {
	Kinds    []Kind
	Pieces   []Piece        // in the order in which they are laid: turns never go back
	Ahead    measure.Length // of laid run that a bundle may come before its turn; 0: everything comes in laying order
	Vehicles []Vehicle
	Words    wording.Speech
}

// Kind is pieces that may be taken for one another: plain units of one length, or one special piece alone. A size or a mass of 0
// is not on file.
type Kind struct {
	Name                  string
	Length, Width, Height measure.Length // of one piece as it lies on a deck
	Mass                  measure.Mass   // of one
	Bundle                int            // pieces in a whole bundle; 0: each comes by itself
	Wide                  int            // of them side by side in one layer; 0 with a bundle: not on file
	Bearer                measure.Length // thickness of what lies under each layer
	Bearers               int            // lines of bearers under one bundle; 0: not on file
	Tare                  measure.Mass   // of bearers, pallet and straps of one bundle
	High                  int            // bundles on one another at most; 0: none was stated, and they stand by themselves
	On                    []int          // kinds whose bundles may carry one of this kind
}

// Piece is one thing that is laid, or a spare behind all of them.
type Piece struct {
	Name string
	Kind int
	Turn measure.Length // of run that is laid before it
	Leg  int            // where it is laid
	At   measure.Length // chainage there
}

// Vehicle is what brings them.
type Vehicle struct {
	Name    string
	Payload measure.Mass
	Deck    *Deck  // nil: not on file
	Axles   *Axles // nil: not on file
}

// Deck is the room for the load.
type Deck struct{ Length, Width, Height measure.Length }

// Axles are two groups of axles as two supports of a beam, the first in front. Empty is what they bear without a load.
type Axles struct {
	Ahead measure.Length // from the first group back to the front of the deck; below 0: the deck begins before it
	Apart measure.Length // from the first group to the second
	Empty [2]measure.Mass
	Limit [2]measure.Mass
}

// Bundle is pieces that are lifted together.
type Bundle struct {
	Kind                  int
	Pieces                []int // of Problem.Pieces
	Turn                  measure.Length
	Length, Width, Height measure.Length
	Mass                  measure.Mass
}

// Load is one vehicle with what it brings.
type Load struct {
	Vehicle int
	Placed  []Placed // from the front of the deck backwards
	Mass    measure.Mass
	Used    measure.Length   // of the deck, from its front to the end of the last bundle; 0: nothing is placed
	Axles   *[2]measure.Mass // nil: not on file
}

// Placed is a bundle on a vehicle: its front left lower corner from that of the deck.
type Placed struct {
	Bundle  int
	X, Y, Z measure.Length
}

// Solution is how everything comes.
type Solution struct {
	Bundles  []Bundle // in the order of their turns
	Loads    []Load   // in the order in which they come
	Left     []int    // bundles on no load: without a mass, or too large for every vehicle
	Sized    bool     // every size is on file: bundles are placed on decks
	Bound    Bound
	Findings finding.List
}
