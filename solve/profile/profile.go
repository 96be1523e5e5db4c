// Package profile says the level of every joint of a network of legs, at the least cost of leaving the wanted levels and of
// changing grade, and proves it; or says in words which few of the limits contradict each other.
//
// The map of the package:
//
//	asked       profile.go Problem, Leg, Joint, Unit, Node · faults.go what is out of order in one
//	answered    solution.go Solution, Run, Certificate, Conflict · solve.go Solve, and the order of work
//	numbers     part….go costs and limits of many rows · rows.go the rows of one leg · chain.go its banded matrix, eliminated
//	            towards its ends · net.go the sparse matrix of what is left there · build.go, ends.go a Problem made into
//	            rows, along legs and across nodes · interior.go the primal-dual interior point · certificate.go
//	record      draw.go the order of work · straight.go breaks few and apart · path.go legs that bear one grade · grades.go,
//	            walk.go grades on their step, from pin to pin · thrift.go no break too many · record.go levels in whole
//	            nanometres · misses.go limits, exactly
//	kept        keep.go the grades of an earlier answer, on joints that have moved a little · lies.go what lies already
//	impossible  conflict.go what is in the way · only.go, filter.go the smallest conflict · reason.go, try.go in words
//	explained   bearing.go limits that the proof has a price for
//	said        lips.go bends and crossfall · lows.go low points · findings.go · speech.go
//	checked     check.go, checksaid.go: apart, nothing shared but the types · bound.go, boundlevel.go the lower bound, exact
//
// Levels and chainages are exact nanometres. Grades are rise over run in the direction of growing chainage, rising positive.
// float64 lives in metres from a near origin inside the solver, and levels of record are rounded once (record.go, settle).
// Grades of record are exact fractions: limits are held by them, and every level lies within a nanometre of its grade.
//
// Units of price are the caller's: whole numbers, for a metre of level at one joint (or its square), and for a change of
// grade by 100 %. A limit that is nil is not on file: nothing is held by it, and it is never given a value here.
package profile

import (
	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// Problem is a network of legs whose levels are wanted.
type Problem struct {
	Legs     []Leg
	Nodes    []Node
	Squares  bool            // the cost of leaving a wanted level goes by the square
	Step     measure.Grade   // grades are printed in whole steps: 0.05 %, or 1/16 in over one unit; 0: not rounded
	Width    measure.Length  // outer width of the section, for lips at a change of crossfall; 0: not on file
	CrossLip *measure.Length // the most that a lip at a change of crossfall may be; nil: none on file

	Apart int // in straight stretches, breaks of grade are kept at least so many units apart; below 2: anywhere

	Show  *measure.Format // how lengths are written in sentences; nil: as Words has them
	Words wording.Speech
}

// Leg is a chain of units: len(Units) = len(Joints) − 1.
type Leg struct {
	Name   string
	Joints []Joint // by rising chainage; the first and the last are the leg's ends
	Units  []Unit
}

// Joint is where two units meet, or where a leg ends.
type Joint struct {
	At     measure.Length  // chainage, horizontal
	Wanted *measure.Length // level that is wanted; nil: none
	Above  int64           // price of each metre that it lies above (layout.md §7: w_cut)
	Below  int64           // and below (w_fill)
	Pin    *measure.Length // exact level at a structure or a road; it is never moved
	Low    *measure.Length // it may not lie lower
	High   *measure.Length // nor higher
	Change *measure.Grade  // the most that the grade may change here: what is left of the joint's budget. Not used at ends
	Break  int64           // price of a change of grade by 100 %; 0: follow the wanted levels
	Name   string          // of what pins or limits it, in words that fit into a sentence ("the road"); "" for none
	Outlet string          // where water leaves here; "" for none named
}

// Unit is what lies between two joints.
type Unit struct {
	Least *measure.Grade // Δz/l up-chainage is at least this
	Most  *measure.Grade // and at most this
	Cross measure.Grade  // its one crossfall, falling to the right positive
	Below measure.Length // its invert lies so far below the levels; low points go by inverts
	Step  *Step          // it steps at its joints: it lies at a stated grade, whatever its neighbours do
	Lies  *measure.Grade // it lies already, on this grade, with both its joints pinned on it to the nanometre: no limit holds for it (lies.go)
}

// Step lets a unit lie at a stated grade, with a step at the joint at its end. Least and Most do not hold for it, nor
// Change at its joints. The level of a joint is that of the unit which starts there.
type Step struct {
	Grade measure.Grade
	Most  *measure.Length // of the step, up or down; nil: none on file
}

// Node is where ends of legs meet.
type Node struct {
	Name     string
	Arms     []Arm
	Throughs []Through
}

// Arm is one end of a leg at a node. An end of a leg lies at one node at most.
type Arm struct {
	Leg  int
	End  bool           // its last joint, else its first
	Rise measure.Length // its level above the node's: a transition's offset, or what the fall of a casting makes there
	Cast *Cast          // the node is a casting, and this is one of its mouths
}

// Cast is one mouth of a casting: a rigid plane, level unless its drawing states a fall.
type Cast struct {
	Grade  measure.Grade  // of the casting along this arm, away from the node, rising positive
	Cross  measure.Grade  // its fall to the right, looking away from the node
	Change *measure.Grade // the most that the leg's grade may differ from Grade
}

// Through is a pair of arms through which the run goes on: a bend, a transition, the main leg past a tee.
type Through struct {
	In, Out int            // indices into Node.Arms
	Change  *measure.Grade // the most that the grade may change; nil: none on file. At a mitre 0 unless something else is stated
	Break   int64          // price of a change of grade by 100 %
	Bend    *Bend
}

// Bend is a mitred pair.
type Bend struct {
	Tan   float64         // tan α, α half the deflection; above 0
	Width measure.Length  // outer width of the section
	Lip   *measure.Length // the most that the contract allows at a wall; nil: none on file
}
