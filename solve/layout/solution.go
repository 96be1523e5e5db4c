package layout

import "trenchwright/base/measure"

// Verdict is what can be said of a leg.
type Verdict string

const (
	Found      Verdict = "found"      // laid out, and nothing is better
	Impossible Verdict = "impossible" // proven
	Undecided  Verdict = "undecided"  // the leg is too long for the programme; Why says so
)

// Solution is the answer to a Problem.
type Solution struct {
	Verdict     Verdict
	Why         string   // impossible: the smallest reason; found: why more than one closer is cut, if so
	Try         []string // impossible: what makes it possible, each found by solving again
	Units       []Unit   // in laying order
	Count       Count
	LeastUnits  int  // ⌈(L+g)/(l+g)⌉ with the widest gap g and the longest unit l: no layout has fewer
	Opened      bool // gaps differ from nominal because that saves a unit, a cut or a cut cover
	Clearance   Clearance
	Held        string       // with Hold: which closer is held and what speaks against its place, in words
	Certificate *Certificate // the proof of best or impossible
}

// Unit is one placed unit. Units that are alike share their Covers: read only.
type Unit struct {
	Supply   int
	Stock    measure.Length // the stock length that it is, or is cut from
	Start    measure.Length // chainage of its start on the axis
	Advance  measure.Length // what it covers of the chainage: its length, but for curves and slopes
	Length   measure.Length // of the unit itself, on its axis
	GapAfter measure.Length // clear width of the joint after it; 0 after the last
	Cut      bool
	Hold     bool    // ordered as a full unit, cut from a measurement
	Turned   bool    // its end A looks to the end of the leg
	Kept     Kept    // which factory end is left
	StartTan float64 // s of the cut line at its start; 0: square
	EndTan   float64
	Covers   []Cover
}

// Kept says which factory ends a placed unit still has.
type Kept int8

const (
	KeptBoth Kept = iota
	KeptA
	KeptB
	KeptNone
)

// Cover is one placed cover.
type Cover struct {
	Stock            measure.Length // the cover length that it is, or is cut from
	Start            measure.Length // from the unit's start, on its axis
	Length           measure.Length // on its axis
	Cut, Mitred      bool           // a mitred cover is cut
	StartTan, EndTan float64
}

// Count is what a layout costs, compared in this order.
type Count struct{ Units, Cuts, CutCovers int }

// Clearance is how far the joint nearest to a zone stays away from it.
type Clearance struct {
	Known      bool           // there are zones, and joints beside them
	Least      measure.Length // 0: a joint touches the edge of a zone
	Deviations float64        // the least clearance in standard deviations of drift; 0 if no Drift was given
	Joint      int            // the joint after Units[Joint] is the nearest
	Zone       int            // to Zones[Zone]
	Best       bool           // no other layout of the same cost keeps further away (to 1 mm or 0.01 deviations, or up to what is enough)
}
