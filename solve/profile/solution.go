package profile

import (
	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// Verdict is what can be said of a Problem.
type Verdict string

const (
	Found      Verdict = "found"      // levels that hold every limit
	Impossible Verdict = "impossible" // proven: Conflict names limits that contradict each other
	Undecided  Verdict = "undecided"  // neither; Why says why
)

// Solution is the answer to a Problem.
type Solution struct {
	Verdict Verdict
	Why     string             // impossible: the conflict in words; undecided: what stands in the way
	Try     []string           // impossible: what resolves the conflict, each by itself
	Levels  [][]measure.Length // of record, by leg and joint
	Runs    []Run              // by leg, in rising chainage: together they are all units

	Cost   float64 // of the levels of record, in the caller's price
	Least  float64 // cost of the best levels before grades were put on their step
	Bound  float64 // no levels within the certificate's reach cost less
	Proven bool    // Bound lies within 1e-6 of Least, relative; or of a hundredth of a metre at the highest price
	Proof  *Certificate
	Reason *Conflict // impossible: what Why says, to be verified

	Lips     []Lip
	Lows     []Low
	Findings finding.List
}

// Run is units of one leg in a straight line on one grade.
type Run struct {
	Leg      int
	From, To int           // joints
	Grade    measure.Grade // exact, up-chainage
	OnStep   bool          // a whole number of Problem.Step
	Stepped  bool          // one unit that steps at its end; Grade is that of the unit
}

// Certificate proves a lower bound by weak duality: with the multipliers of grades and of changes of grade given, those of
// the levels follow, and no row is worth less than its own costs and limits allow (bound.go).
type Certificate struct {
	Unit    [][]float64    // by leg and unit: price of a metre of the unit's rise
	Change  [][]float64    // by leg and joint: price of l₀(z₂−z₁) − l₁(z₁−z₀), a square metre; ends are 0
	Through [][][2]float64 // by node and through: the same of its end units, for the change and for the sum of grades
	Mouth   [][]float64    // by node and arm: price of a metre of rise of its end unit, away from the node
	End     [][]float64    // by node and arm: price of a metre of its end's level; the last arm's follows from the rest
	Origin  measure.Length // the claim is about levels between Origin − Reach and Origin + Reach; costs being
	Reach   measure.Length // convex, levels beyond could only be better by as little as the bound leaves open
}

// Kind says what sort of limit a Limit is.
type Kind string

const (
	PinLimit    Kind = "pin"         // joints From to To, whichever of them are pinned
	LowLimit    Kind = "low"         // joints
	HighLimit   Kind = "high"        // joints
	LeastLimit  Kind = "least"       // units
	MostLimit   Kind = "most"        // units
	ChangeLimit Kind = "change"      // joints
	StepLimit   Kind = "step"        // units that step: their grade and the most of their step
	NodeChange  Kind = "node change" // Leg is the node, From the through
	NodeLip     Kind = "lip"         // likewise
	MouthLimit  Kind = "mouth"       // Leg is the node, From the arm
)

// Limit is a limit of the Problem, or several that are alike and lie beside each other, From and To included.
type Limit struct {
	Kind     Kind
	Leg      int
	From, To int
}

// Conflict is limits that contradict each other. Without any one of them the rest does not.
type Conflict struct {
	Limits []Limit
	Proof  Certificate // with the named limits alone, and no prices, it proves a cost above 0
	Short  float64     // what the proof comes to
}

// Lip is the lip at a mitred bend or at a change of crossfall: the levels of the two walls are off by it, opposite in sign.
type Lip struct {
	Node, Through int            // a bend; Node −1: at a joint
	Leg, Joint    int            // a change of crossfall; at an end of the leg, against the casting there
	Lip           measure.Length // magnitude, rounded up to the nanometre
	Most          *measure.Length
}

// Low is a local low of the inverts, with the length that drains to it.
type Low struct {
	Leg, From, To int            // joints: more than one where it is level
	Node          int            // the low is at this node; −1: it lies inside a leg
	Level         measure.Length // of the invert
	Drains        measure.Length // of all legs together, along the run
	Outlet        string         // "" where none is named
}
