// Package cutstock decides which stock is cut into which pieces, buys least, and proves it.
//
// The map of the package:
//
//	asked       cutstock.go  Problem, Piece, Stock, End · faults.go what is wrong with one
//	answered    solution.go  Solution, Pattern, and the Certificate in integers · solve.go Solve · write.go
//	saw         saw.go the one rule, exact · shop.go a Problem made ready · joins.go what the cuts take in the best order
//	            arrange.go, clear.go (no-cut zones), pairs.go (a cast end kept): where each piece lies · rests.go offcuts
//	cast ends   pairing.go, rent.go pieces in twos · match.go, weigh.go, blossom.go matching in general graphs
//	free        free.go the course · fill.go, table.go the best way to cut a unit · master.go, swaps.go columns on demand,
//	            simplex.go their programme, prove.go its bound in integers · extra.go, halves.go odd sets · cutting.go,
//	            dive.go cuttings from it · tree.go proof by cases · thrift.go less waste at the same cost
//	checked     check.go Check, and check….go: apart, nothing shared but the types
//
// Units and stations: lengths are on the axis of the unit, in exact nanometres, from end A of the stock. y is measured
// across the unit from its axis, left positive when looking from A to B. A cut line is x = a + tan(skew)·y.
//
// One rule for the saw, everywhere: pieces from one unit are parted by one cut where their faces are parallel and by
// two where they are not; what is left over is either nothing or at least the least slice that the saw can take off.
package cutstock

import (
	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// Plain is the kind of a cast end that is neither tongue nor groove. Any other name is a kind of its own.
const Plain = "plain"

// Problem is what has to be cut and what it can be cut from.
type Problem struct {
	Pieces []Piece
	Stocks []Stock

	Width      measure.Length // of the section, across the unit; only mitred ends use it
	Kerf       measure.Length // thickness that one cut takes away, square to the cut
	LeastSlice measure.Length // thinnest slice that the saw can take off a square end, kerf included; square to the cut
	KeepFrom   measure.Length // shortest side of a rest worth keeping as an offcut; 0: every rest is waste

	FactoryEnd bool // every placed piece keeps a cast end; then a unit yields at most two pieces
	MayTurn    bool // a piece may be cut with its start towards either end of the unit

	Words wording.Speech // of the sentences that come back; the zero value is UK words and millimetres
}

// Piece is one kind of piece that is needed, Count times. The zero Count asks for none.
type Piece struct {
	ID     string
	Class  string         // cut from stock of the same class only
	Length measure.Length // on the axis, between its cut lines
	Count  int
	Start  End
	End    End
}

// Stock is what can be bought, or lies in the yard.
type Stock struct {
	ID     string
	Class  string
	Length measure.Length // on the axis
	Count  int            // how many there are; below 0: as many as are asked for
	Price  int64          // in any whole unit; 1 everywhere: the count is what is kept least. Never below 0
	Offcut bool           // already there: counted as used, not as bought
	A, B   End
	NoCut  []Span // no saw may enter here: stations on the axis from end A, open intervals
}

// End is one end of a piece or of a unit of stock. The zero value is square and sawn (stock), square and free (piece).
type End struct {
	Skew measure.Angle // s = tan(Skew) of the end's line x = a + s·y; the same however the unit is turned
	Cast string        // stock: kind of its cast end, "" where it is sawn. Piece: kind of cast end that must stay, "" any face
}

// Span is a stretch of a unit of stock, open at both ends.
type Span struct{ From, To measure.Length }

// Unit is plain stock with two cast ends of which as many can be bought as are needed, at a price of 1 each.
func Unit(id string, length measure.Length) Stock {
	return Stock{ID: id, Length: length, Count: -1, Price: 1, A: End{Cast: Plain}, B: End{Cast: Plain}}
}

// Limits bounds the effort by a count of steps, never by a clock: the same Problem always gives the same answer. The
// zero value is the usual effort.
type Limits struct {
	Effort int64 // elementary steps (a state of the search, an entry of a pivot row); 0: 1.5e9, some seconds
}
