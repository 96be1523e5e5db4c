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

// Proof proves a least cost for one class, by Case, or by Pairs where every piece keeps a cast end.
type Proof struct {
	Class string
	Step  int64 // every cost is a whole multiple of it, and is counted in it below
	None  bool  // stock counts as free and still the least cost is above 0: there is no way to cut the pieces at all
	Case  *Case
	Pairs *PairProof
}

// Case gives every piece a value and every unit that is limited in number a rent, in 1/Scale of a step, such that no
// way of cutting a unit is worth more than its price and its rent:
//
//	Σ over its pieces of Piece + Σ over the splits that count it of Rows
//	− Σ over Halves of Value·⌊its pieces of it/2⌋ ≤ Scale·price + Stock
//
// Then all pieces together cost at least (Σ Piece·count + Σ Rows·limit − Σ Halves·⌊count/2⌋ − Σ Stock·number) / Scale,
// rounded up to a whole step. With Split the proof goes on by two cases, and its own values count for nothing.
type Case struct {
	Scale  int64
	Piece  []int64 // by index into Problem.Pieces, at least 0; pieces that are the same to the saw have the same
	Stock  []int64 // by index into Problem.Stocks, at least 0; 0 where there is no limit
	Rows   []int64 // by split on the way down: at most 0 on its Low side, at least 0 on its High side
	Halves []Half
	Split  *Split
}

// Half is some pieces with all their copies: halves of them, rounded down unit by unit, come to at most half of all,
// rounded down.
type Half struct {
	Pieces []int
	Value  int64 // at least 0
}

// Split parts all cuttings into those with at most Most units whose way of cutting it counts, and those with more.
type Split struct {
	Stock     int         // index into Problem.Stocks: only units of it count; −1: of any
	AtLeast   []Threshold // only units with so many of these pieces count
	Most      int
	Low, High *Case
}

// Threshold is a number of a piece; pieces that are the same to the saw count together.
type Threshold struct{ Piece, Number int }

// PairProof gives a value to every copy of every piece, and a rent to every copy of stock that never takes two pieces
// and to all copies of other stock, in 1/Scale of a step. No way of cutting a unit is worth more than its price, its
// rent and the sets that hold all of it: of an odd number of copies at most half, rounded down, lie in such a set with
// each other. So all pieces cost at least (Σ Value − Σ Rent − Σ over sets of Value·⌊members/2⌋ − Σ Stock·number) / Scale.
type PairProof struct {
	Scale int64
	Value []CopyValue // of pieces
	Rent  []CopyValue // of copies of stock that is limited in number and never takes two pieces
	Stock []int64     // by index into Problem.Stocks, at least 0: rent of each copy of other stock that is limited
	Sets  []OddSet
}

// Copy is one copy of a piece or of stock. Number counts from 0.
type Copy struct {
	Stock  bool // of Problem.Stocks, else of Problem.Pieces
	Index  int
	Number int
}

// CopyValue is the value or the rent of a copy.
type CopyValue struct {
	Copy
	Value int64
}

// OddSet is an odd number of copies; of these no two ways of cutting have one in common.
type OddSet struct {
	Members []Copy
	Value   int64 // at least 0
}
