// Package wording is how one job's sentences are worded: the trade's words where the two sides of the ocean differ, and
// lengths in the job's own system.
//
//	wording.go the one table of both spellings
//	speech.go  Speech: words and lengths put into a sentence
//	reword.go  sentences of UK words in the words of the United States
//	faces.go   the names of the faces that a unit stands on
package wording

// Word is one word of the trade that is not the same on both sides of the ocean.
type Word int

// The words, by the names that this program's code has for them.
const (
	Unit  Word = iota // one trough body
	Units             // several
	Body              // one trough body where it stands by itself, as a title
	Bodies
	Closer // the piece that closes a leg
	Closers
	Mitre // a bend that is sawn
	Mitres
	Mitred
	Chainage // how far along a leg
	Chainages
	UpChainage // the way in which chainage grows
	Pad        // under a joint
	Pads
	EndPlate // closes the end of a run
	EndPlates
	Transition // from one section to another
	Service    // a pipe or a cable in the ground
	Services
	Centre // as in centre of gravity
	Centreline
	Metre
	Metres
	Millimetre
	Millimetres
	SetOut    // telling the ground where the run lies
	Nought    // the figure 0 in a sentence
	Formation // the bottom of the dig
	Bed       // what the units or their pads stand on
	Layer     // of fill, compacted at once
	Layers
	Rod        // that a level is read on
	RodReading // what it shows
	Instrument // how high the line of sight of an instrument is: the way of keeping a level book
	Benchmark  // a point whose level is on file
	Levelling  // measuring levels
	count      // how many there are
)

// spelling is one word in the United Kingdom, Ireland and Australia, and in the United States.
type spelling struct{ uk, us string }

// spellings is indexed by Word and never written to.
var spellings = [count]spelling{
	Unit:        {"unit", "trench section"},
	Units:       {"units", "trench sections"},
	Body:        {"trough unit", "trench section"},
	Bodies:      {"trough units", "trench sections"},
	Closer:      {"closer", "closure"},
	Closers:     {"closers", "closures"},
	Mitre:       {"mitre", "miter"},
	Mitres:      {"mitres", "miters"},
	Mitred:      {"mitred", "mitered"},
	Chainage:    {"chainage", "station"},
	Chainages:   {"chainages", "stations"},
	UpChainage:  {"up-chainage", "up-station"},
	Pad:         {"pad", "leveling pad"},
	Pads:        {"pads", "leveling pads"},
	EndPlate:    {"stop end", "end plate"},
	EndPlates:   {"stop ends", "end plates"},
	Transition:  {"taper", "transition"},
	Service:     {"buried service", "utility"},
	Services:    {"buried services", "utilities"},
	Centre:      {"centre", "center"},
	Centreline:  {"centreline", "centerline"},
	Metre:       {"metre", "meter"},
	Metres:      {"metres", "meters"},
	Millimetre:  {"millimetre", "millimeter"},
	Millimetres: {"millimetres", "millimeters"},
	SetOut:      {"setting out", "layout"},
	Nought:      {"nought", "zero"},
	Formation:   {"formation", "subgrade"},
	Bed:         {"bed", "bedding stone"},
	Layer:       {"layer", "lift"},
	Layers:      {"layers", "lifts"},
	Rod:         {"staff", "rod"},
	RodReading:  {"staff reading", "rod reading"},
	Instrument:  {"height of collimation", "height of instrument"},
	Benchmark:   {"temporary benchmark", "benchmark"},
	Levelling:   {"levelling", "leveling"},
}
