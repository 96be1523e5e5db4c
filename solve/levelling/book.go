package levelling

import "trenchwright/base/measure"

// Book is a level book as it was kept: a line for each point, in the order in which the rod went.
//
// It begins with a backsight onto a benchmark whose level is known, and ends with a foresight. A line with a foresight and
// a backsight is a change point. A later line with a backsight and a known level, and no foresight, begins afresh from that
// benchmark: what comes behind it hangs on it and on nothing before it.
type Book struct {
	Rows    []Row
	Figures Figures
	Whole   *measure.Length // how long the line is, where the foresights have no distances; for a book of one stretch
	Totals  *Totals         // the sums at its foot, where it has them
	Step    measure.Length  // what the readings were read to: 1 mm, 0.01 ft; 0: a nanometre
}

// Row is one line of a book. Nil is a cell that was left empty.
type Row struct {
	Point string
	Line  int // of the text that it came from, for findings; 0: unknown

	Back, Inter, Fore *measure.Length // readings; below nought with the rod upside down against something overhead
	Known             *measure.Length // the level on file, of a benchmark
	Distance          *measure.Length // levelled from the change point before to this one

	// What the person who kept the book has worked out already.
	Rise, Fall, Level, Height *measure.Length

	Design *Design // what the level should be, where it is a level of the works
}

// Totals are the sums that were booked at the foot of a book. Nil is one that was not.
type Totals struct {
	Line                          int
	Back, Inter, Fore, Rise, Fall *measure.Length
}

// Design is the level that somebody asks for, and by how much it may be off. A nil tolerance is none on file.
type Design struct {
	Level     measure.Length
	Tolerance *measure.Length // either way
}

// What a book may hold; more is a slip of the pen, and would not fit the sums.
const (
	mostRows       = 100_000
	longestReading = 100 * measure.Metre
	highestLevel   = 10 * measure.Kilometre
	longestLine    = 80 * measure.Kilometre // between two points, levelled
)

// beyond tells whether l lies further from nought than limit; the least Length has no absolute value.
func beyond(l, limit measure.Length) bool { return l > limit || l < -limit }

// starts tells whether the line begins afresh from a benchmark.
func (r Row) starts() bool { return r.Back != nil && r.Known != nil && r.Fore == nil && r.Inter == nil }

// fore is the reading that brings the level here: the foresight or the intermediate sight; nil where there is none.
func (r Row) fore() *measure.Length {
	if r.Fore != nil {
		return r.Fore
	}
	return r.Inter
}
