// Package landxml reads alignments, plan features, points and surfaces from LandXML 1.0, 1.1 and 1.2 (an open standard),
// as a stream and within limits, and writes 1.2.
//
// LandXML writes a point as northing, easting and sometimes elevation; here it becomes easting and northing. Numbers go
// from their decimal text to whole nanometres in one rounding. Directions that a file states are not used: files count
// them from north or east, either way round. Parcels are passed over and counted, and so are surfaces and pipes unless they
// are asked for.
//
// Map of the package:
//
//	landxml.go   what is asked and what is answered
//	read.go      Read: the root, the containers, what is passed over
//	stream.go    tokens within limits; charset.go: their letters
//	geometry.go  elements of an alignment as they are written
//	line.go      from those to a route.Line
//	spiral.go    clothoids as arcs within a tolerance
//	pipes.go     pipes between the structures of their networks
//	profile.go   levels along an alignment; sampled.go: surfaces along it
//	points.go    points and the references to them
//	surface.go   surfaces; tin.go: their triangles, source.go: the survey that they were made of
//	number.go    decimal text to Length; units.go: in which unit
//	write.go     Write: the document, its units, figures and notes; writable.go: why one is not written
//	writeline.go alignments, profiles and set-out points; writeground.go: surfaces
package landxml

import (
	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/place/route"
)

// Options say how to read. The zero value reads files without spirals that state their unit.
type Options struct {
	// Origin that Points of the lines are relative to; nil: the whole kilometre south-west of the file's first point.
	Origin *route.Origin
	// Spiral is how far the arcs that stand for a spiral may leave it; 0: a spiral is refused.
	Spiral measure.Length
	// Gap is the greatest step between two elements, and the most that an arc may miss its ends by; 0: DefaultGap.
	Gap measure.Length
	// Unit of a file that states none; measure.NoUnit: such a file is refused.
	Unit     measure.Unit
	Surfaces bool   // surfaces are wanted; otherwise they are passed over and counted
	Pipes    bool   // pipes are wanted; otherwise they are passed over and counted
	NoLines  bool   // alignments and plan features are not wanted: passed over and counted
	Limits   Limits // 0 in a field: the default
	File     string // its name, for findings
}

// DefaultGap is the step that is closed without asking. Common practice, no source: coordinates are mostly given to the
// millimetre.
const DefaultGap = measure.Millimetre

// Limits hold a hostile or broken file off.
type Limits struct {
	Bytes    int64 // of the whole file
	Token    int64 // of one tag, or of one piece of text
	Elements int   // XML elements, passed over or not
	Depth    int   // of elements in elements
	Kept     int   // points and parts of lines that are kept
	Ground   int   // points and faces of surfaces that are kept
}

// Defaults are generous for a route and its ground, and small for a machine.
var defaults = Limits{Bytes: 256 << 20, Token: 16 << 20, Elements: 10_000_000, Depth: 64, Kept: 1_000_000, Ground: 8_000_000}

// File is what was read.
type File struct {
	Version    string       // 1.0, 1.1 or 1.2
	Unit       measure.Unit // of lengths and coordinates
	Elevations measure.Unit // of levels
	System     System
	Origin     route.Origin // that the lines are relative to
	Alignments []Alignment
	Features   []Alignment // plan features: kerbs, fences, rails
	Points     []Point
	Surfaces   []Surface
	Pipes      []Pipe
	Notes      finding.List // what was understood, assumed, passed over, refused
}

// System is the coordinate system as the file names it; empty where it says nothing.
type System struct{ Name, EPSG, Horizontal, Vertical string }

// Alignment is one alignment or plan feature.
type Alignment struct {
	Name, Desc, State string
	Line              route.Line     // grid lengths: the caller knows the scale factor
	StaStart          measure.Length // the file's station at the line's chainage 0
	Stated            measure.Length // the file's own length
	HasStated         bool
	Spirals           []Spiral
	Profiles          []Profile
	Ground            []Sampled // surfaces along the line
	Equations         int       // station equations; the line's chainages know nothing of them
	At                int       // line of the file
}

// Spiral says what stands for a spiral in a line.
type Spiral struct {
	From, To measure.Length // chainages
	Arcs     int
	Off      measure.Length // the furthest that the arcs leave it
}

// Point is one point.
type Point struct {
	Name, Code, Desc string
	Groups           []string // from the outermost
	At               route.Coordinates
	Level            measure.Length
	HasLevel         bool
	Line             int // of the file
}

// Refusal is why a file was not read: a finding with its sentence.
type Refusal struct{ finding.Finding }

// Error is the sentence, with its place and what to try.
func (r *Refusal) Error() string {
	text := r.Text
	if r.Where.Line > 0 {
		text = "line " + decimal(r.Where.Line) + ": " + text
	}
	if r.Try != "" {
		text += "; try: " + r.Try
	}
	return text
}
