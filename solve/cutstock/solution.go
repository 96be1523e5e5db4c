package cutstock

import "trenchwright/base/measure"

// Verdict is what Solve can say.
type Verdict string

const (
	Found      Verdict = "found"      // the patterns cut everything; Proven says whether anything cheaper is ruled out
	Impossible Verdict = "impossible" // proven: these pieces cannot be cut from this stock
	Undecided  Verdict = "undecided"  // neither found nor ruled out within the limits
)

// Solution is the answer to a Problem, with what stands behind it.
type Solution struct {
	Verdict     Verdict
	Why         string
	Patterns    []Pattern
	Bought      int            // units that are not offcuts
	Used        int            // offcuts
	Cost        int64          // Σ price; what is kept least, first
	Bound       int64          // no cutting costs less: verified from the certificate by Check
	Proven      bool           // Cost == Bound
	Waste       measure.Length // Σ over patterns: stock − pieces − offcuts worth keeping; kept low, second
	Certificate Certificate
}

// Pattern is one way to cut one kind of stock, Times over.
type Pattern struct {
	Stock   int // index into Problem.Stocks
	Times   int
	Cuts    []Placed // from end A to end B
	Offcuts []Offcut
	Waste   measure.Length // of one unit
}

// Placed is a piece at its place on the stock.
type Placed struct {
	Piece  int            // index into Problem.Pieces
	At     measure.Length // station of the face of the piece that is nearer end A, on the axis
	Turned bool           // its End, not its Start, is towards end A
}

// Offcut is a rest worth keeping: what lies between From and To, with the ends that it has.
type Offcut struct {
	From, To measure.Length // on the axis
	A, B     End
}

// Length is the offcut's length on its axis.
func (o Offcut) Length() measure.Length { return o.To - o.From }

// Certificate proves that nothing cheaper exists, in integers, one Proof for each class of stock.
type Certificate struct{ Proofs []Proof }

// Proof gives every piece a value and every limited unit a rent, in 1/Scale of the price's unit, such that no way of
// cutting a unit is worth more than its price and its rent:
//
//	Σ over its pieces of Piece + Σ of the Sets it counts for ≤ Scale·price + Stock
//
// Then all pieces together cost at least (Σ Piece·count + Σ Sets·their limit − Σ Stock·number) / Scale, rounded up to a
// whole multiple of Step. With Split, the proof is by cases: both sides have to be proven.
type Proof struct {
	Class string
	Scale int64
	Step  int64   // every cost is a whole multiple of it
	Piece []int64 // by index into Problem.Pieces; at least 0
	Stock []int64 // by index into Problem.Stocks; 0 where there is no limit, else at least 0
	Odd   []OddSet
	Rows  []int64 // one for each Split on the way down: the value of a pattern that its rule counts
	None  bool    // the price counts as 0 and the sum is above 0: there is no way at all
	Split *Split
}

// OddSet says that of an odd number of pieces at most half, rounded down, can be paired among themselves. It is used
// where a unit yields at most two pieces: a pair inside the set may be worth its Value more than its price.
type OddSet struct {
	Members []Copy
	Value   int64 // at least 0, in 1/Scale
}

// Copy is one of the Count copies of a piece.
type Copy struct{ Piece, Number int }

// Split parts all cuttings into two: those with at most Most units whose pattern the rule counts, those with more.
type Split struct {
	Stock     int         // only patterns on this stock count; −1: on any
	AtLeast   []Threshold // only patterns with at least so many of these pieces count
	Most      int
	Low, High *Proof
}

// Threshold is a piece and a number of it.
type Threshold struct{ Piece, Number int }
