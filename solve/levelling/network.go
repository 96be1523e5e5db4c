package levelling

import (
	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// Network is lines of levels between points, more than are needed, to be adjusted together.
type Network struct {
	Lines   []Line
	Fixed   []Fixed // benchmarks that are held
	Free    bool    // nothing is held: each part is laid so that its points stand about where Fixed has them, on average
	Weigh   Weigh
	Close   Tolerance // for every loop, and between benchmarks
	Suspect float64   // normalised residual from which a line is suspected of a blunder; 0: none on file
	Figures Figures
}

// Line is one line of levels, from a point to another.
type Line struct {
	From, To string
	Rise     measure.Length // of To above From, as levelled
	Distance measure.Length // levelled; 0: not on file
	Setups   int            // 0: not on file
	SD       measure.Length // standard deviation of Rise, as somebody states it; 0: none on file
	Row      int            // of the text that it came from; 0: unknown
}

// Fixed is a point whose level is known.
type Fixed struct {
	Point string
	Level measure.Length
	Row   int
}

// Weigh is what a line's weight comes from. There is no default.
type Weigh string

// The weights.
const (
	ByDistance Weigh = "distance" // 1/K, K in km: m0 is for a line of 1 km, in metres
	BySetup    Weigh = "set-ups"  // 1/n: m0 is for one set-up, in metres
	BySD       Weigh = "sd"       // 1/sd²: m0 is a bare number, 1 where the stated deviations are right
)

// Adjusted is a network adjusted by least squares.
type Adjusted struct {
	Verdict   Verdict // that of loops and suspects together; cannot say where no tolerance is on file
	Points    []Point // in the order in which they first come up; without levels where the network is refused
	Residuals []Residual
	M0        float64 // a-posteriori standard deviation of unit weight (see Weigh); 0 where Redundant is 0
	Redundant int     // lines beyond the ones that are needed: degrees of freedom
	Parts     []Part
	Loops     []Loop    // a set from which every loop can be put together; between benchmarks too
	Suspects  []Suspect // in the order in which they were found, one at a time
	Said      finding.List
}

// Refused tells that no levels are given, because a loop does not close or a line is suspected of a blunder.
func (a Adjusted) Refused() bool { return a.Verdict == DoesNot }

// Point is one adjusted point.
type Point struct {
	Name  string
	Part  int
	Held  bool            // a benchmark
	Level *measure.Length // nil: not tied to a benchmark, or refused
	SD    *float64        // metres; from m0, or from the stated deviations where nothing is redundant; nil: nothing tells
}

// Residual is what the adjustment does to one line: adjusted rise less levelled rise.
type Residual struct {
	Line       int
	V          measure.Length
	SD         float64 // of V, metres; 0 where nothing controls the line
	Share      float64 // redundancy: 0 nothing controls the line, towards 1 it is controlled wholly
	Normalised float64 // |V| over its standard deviation; 0 where nothing controls the line
}

// Part is points that lines tie together.
type Part struct {
	Points []string
	Tied   bool // to a benchmark, or laid freely
}

// Loop is a way along lines back to where it began, or from one benchmark to another.
type Loop struct {
	Points     []string // the first one again at the end of a loop
	Lines      []int
	Misclosure measure.Length // sum of rises on the way, less the known difference between benchmarks
	Distance   *measure.Length
	Setups     int  // 0 where a line has none
	Between    bool // from one benchmark to another
	Closed
}

// Suspect is a line that may hold a blunder.
type Suspect struct {
	Line       int
	Normalised float64        // when it was the worst of those that were left
	Off        measure.Length // levelled less what all the other lines make of it
}

// What a network may hold.
const (
	mostLines = 100_000
	leastSD   = measure.Micrometre // of a line; below it weights would no longer add up
)
