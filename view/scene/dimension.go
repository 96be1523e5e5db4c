package scene

// A Dimension is a measured distance: two extension lines, a line with arrows
// and its figure beside the line, never on it. Where the figure does not fit
// between the arrows it stands outside, beyond To.
type Dimension struct {
	From, To Point
	Offset   float64 // mm of paper from the points to the line, positive to the left of From→To
	Text     string
	Size     float64 // height of the capitals; 0: 2.5 mm
	Weight   Weight
	Outside  bool // put the figure outside even where it would fit
}

// A Chain is a row of dimensions on one straight line. Figures that do not fit
// their stretch are raised to free rows above the line, each with a leader.
type Chain struct {
	Points []Point // at least two, in order
	Texts  []string
	Offset float64 // as in Dimension, seen from the first point to the last
	Size   float64 // 0: 2.5 mm
}

// A Leader is a note beside the drawing with a line that points at a thing.
type Leader struct {
	To     Point  // what is pointed at
	Knee   Point  // where the line turns level; the note stands beside it, away from To
	Text   string // lines parted by "\n"
	Size   float64
	Weight Weight
	Head   Head // NoHead: an arrow
	Halo   float64
}

func (Dimension) mark() {}
func (Chain) mark()     {}
func (Leader) mark()    {}
