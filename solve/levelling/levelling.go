// Package levelling reduces, checks and adjusts levels, and turns levels into what people on site read and do: rod
// readings, cut and fill from a peg, packers under a unit that rocks.
//
// The map of the package:
//
//	level books      book.go    Book, Row · faults.go what is wrong with one · reduce.go Reduce, by rise and fall
//	                 height.go  ByHeight, by height of instrument · pages.go every page check · bookpages.go pages to print · ties.go what known levels say
//	closing          tolerance.go the figure that somebody stated · spread.go a misclosure shared out, or refused
//	corrections      correct.go a benchmark that was wrong: what moves, which verdicts flip
//	instrument       twopeg.go  the two-peg test and what it does to a reading
//	networks         network.go Network, Adjusted · netfaults.go, parts.go, loops.go · normal.go, order.go, cholesky.go, inverse.go
//	                 adjust.go  least squares · suspect.go blunders, one at a time · netcheck.go checked apart
//	rod work         rod.go readings for an instrument or a laser plane · gradeline.go one reading for a whole grade
//	                 peg.go cut or fill and where the peg stands · rock.go four corners · stack.go tolerances added up
//	notation         figures.go lengths as a book has them · verdict.go the three verdicts
//
// Levels, readings and lengths of record are measure.Length, in whole nanometres; sums of them are exact. float64 lives in
// the least squares alone, in metres, on corrections to exact provisional levels, and is rounded once (normal.go, settle).
// A misclosure is what was found less what is known: positive where the levels came out too high.
//
// Nobody's figure is a default here: a check without a figure answers NOT CHECKED and whom to ask.
package levelling
