package scene

import "math"

// A Stroke is a pen. Width 0 draws nothing.
type Stroke struct {
	Width  float64   // mm
	Colour Colour    // black where nothing is said
	Dash   []float64 // mm drawn, mm left out, and so on; none: a full line
	Round  bool      // round ends and corners; otherwise square ends and mitred corners
}

// Pen widths in mm that stay apart on an A3 copy in black and white.
const (
	Fine   = 0.13 // hatches, extension lines, rules of a table
	Thin   = 0.18 // dimensions, leaders, what lies behind
	Medium = 0.35 // outlines of things
	Thick  = 0.5  // what the sheet is about, frames
	Broad  = 0.7  // cuts, match lines
)

// Pen is a full black line.
func Pen(width float64) Stroke { return Stroke{Width: width} }

// Dashed is the pen with dashes and gaps of the given mm.
func (s Stroke) Dashed(mm ...float64) Stroke { s.Dash = mm; return s }

// Ink is the pen in another colour.
func (s Stroke) Ink(c Colour) Stroke { s.Colour = c; return s }

// A Head is what stands at the end of a line.
type Head uint8

// The heads. An arrow points along the line away from it.
const (
	NoHead    Head = iota
	Arrow          // slender and filled
	OpenArrow      // two strokes
	Dot            // filled
	Slash          // a short stroke across at 45°
)

// headLength is the length of an arrow head in mm.
const headLength = 2.2

// A Path is an outline, filled and then stroked.
type Path struct {
	Outline    Outline
	Fill       Colour // empty where nothing is said
	Stroke     Stroke
	Start, End Head // at the first and the last point of the outline
}

// Weight is how heavy lettering is.
type Weight uint8

// The two weights of the face.
const (
	Regular Weight = iota
	Bold
)

// Align says which end of a line of lettering lies at its point.
type Align uint8

// The three alignments.
const (
	Left Align = iota
	Centre
	Right
)

// VAlign says what of a block of lettering lies at its point, up and down.
type VAlign uint8

// The four heights: Baseline is that of the first line, Middle lies halfway
// between the top of the capitals of the first line and the last baseline.
const (
	Baseline VAlign = iota
	Top             // the top of the capitals of the first line
	Middle
	Bottom // the last baseline
)

// A Text is lettering of one or more lines, parted by "\n".
type Text struct {
	At     Point
	String string
	Size   float64 // height of the capitals in mm, as drawing standards count it
	Weight Weight
	Align  Align
	VAlign VAlign
	Angle  float64 // degrees, counter-clockwise; see Upright
	Colour Colour  // black where nothing is said
	Halo   float64 // mm of white behind and round the lettering; 0: none
}

// A Pattern is a hatch, by word.
type Pattern string

// The patterns. All are strokes and print in black and white.
const (
	NoHatch    Pattern = ""         // nothing
	Diagonal   Pattern = "diagonal" // lines rising to the right
	Backward   Pattern = "backward" // lines falling to the right
	CrossHatch Pattern = "cross"    // both
	Uprights   Pattern = "upright"  // lines up and down
	Levels     Pattern = "level"    // lines across
	Stone      Pattern = "stone"    // dots in staggered rows
	Soil       Pattern = "soil"     // short strokes by threes
)

// A Hatch fills an area with a pattern, cut at the area's edge. Patterns are
// laid from the page's corner, so that two areas side by side run through.
type Hatch struct {
	Area    Outline // even-odd: a contour inside another is a hole
	Pattern Pattern
	Spacing float64 // mm of paper between lines; 0: 1.5 mm
	Stroke  Stroke  // Width 0: Fine (dots: three times Fine)
}

// A Group is marks in coordinates of their own.
type Group struct {
	Name      string    // for readers of the SVG: kept as data-name
	Transform Transform // the zero value changes nothing
	Clip      Outline   // in the group's coordinates; what lies outside is not drawn; none: nothing is cut
	Frame     Box       // in the group's coordinates: lettering must stay inside; for Outside only
	Stacked   bool      // lettering inside may lie on other lettering inside, on purpose
	Marks     []Mark
}

// A Photo is a picture taken with a camera. Canvases that show none leave it
// out: those of drawings, which are lines and words.
type Photo struct {
	Area Box
	JPEG []byte // ISO/IEC 10918-1, baseline, upright as it stands
}

// A Link makes an area lead somewhere: to an address, or with "#name" to
// another page of the document.
type Link struct {
	Area Box
	To   string
}

func (Path) mark()  {}
func (Text) mark()  {}
func (Hatch) mark() {}
func (Group) mark() {}
func (Link) mark()  {}
func (Photo) mark() {}

// Line is a straight line with a pen.
func Line(from, to Point, pen Stroke) Path { return Path{Outline: Polyline(from, to), Stroke: pen} }

// Upright is the angle of lettering along a line in that direction, turned
// half round where it would stand on its head: −90 < angle ≤ 90.
func Upright(angle float64) float64 {
	angle = math.Mod(angle, 180)
	switch {
	case angle > 90:
		return angle - 180
	case angle <= -90:
		return angle + 180
	}
	return angle
}
