// Package scene is a drawing before paper: strokes, fills, hatches and text on
// pages measured in millimetres, and the bytes of SVG. The folders below it
// write the same pages as PDF (scene/pdf) and PNG (scene/raster); all three
// follow the one walk in Draw, so they look alike, and the same page always
// gives the same bytes.
//
// A page's origin is its upper left corner, x runs to the right and y runs
// down, both in millimetres of paper. Angles are in degrees, counter-clockwise
// as the reader sees them. Pens, dashes, lettering and hatch spacings are
// always millimetres of paper, whatever the transform around them.
//
// Map of the package:
//
//	scene.go      Page, Document, Mark, Colour
//	geometry.go   Point, Box, Transform
//	outline.go    Outline: the contours that paths, clips and hatches are made of
//	marks.go      Path, Text, Hatch, Group, Link and their pens
//	lettering.go  the face: advances, capital height, Wrap, Fit (metrics.bin is generated)
//	dimension.go  Dimension, Chain and Leader
//	table.go      Table: columns, wrapped cells, a head repeated over pages
//	flow.go       Flow: blocks laid down the frames of as many pages as they need
//	draw.go       Canvas and Draw: marks resolved into what a writer can write
//	heads.go      what stands at the ends of lines
//	hatch.go      patterns, cut to their area
//	check.go      Overlaps, Outside and Crossed: lettering that cannot be read
//	separation.go how far turned boxes and areas lie in each other
//	svg.go        WriteSVG
//
// The lettering is DejaVu Sans Condensed; its licence is FONT-LICENCE.txt.
package scene

import "time"

// A Page is one sheet or card. The zero value has no size and is refused by
// every writer.
type Page struct {
	Width, Height float64 // mm
	Title         string  // for people: the bookmark and the title of the SVG
	Name          string  // short and unique in its document: the target of links, "#name"
	Level         int     // depth of the bookmark, 0 outermost; negative: no bookmark
	Frame         Box     // where lettering must stay; the zero Box is the whole page
	Marks         []Mark  // painted in this order, later ones on top
}

// A Document is a bound set of pages with what a PDF says about itself.
type Document struct {
	Title, Subject, Author string
	Keywords               string
	Language               string    // a BCP 47 tag such as "en-GB"
	Date                   time.Time // the date declared for the issue; the zero Time is written as 1970-01-01
	Pages                  []Page
}

// A Mark is one thing on a page: Path, Text, Hatch, Group, Link, Dimension,
// Chain or Leader. The set is closed; what other packages draw is a Group.
type Mark interface{ mark() }

// Colour is opaque ink. The zero value says nothing: pens and lettering are
// then black, areas stay empty.
type Colour uint32

// The inks that every printer has.
const (
	Black Colour = 0xff000000
	White Colour = 0xffffffff
)

// RGB is the ink of those parts of red, green and blue.
func RGB(r, g, b uint8) Colour {
	return Black | Colour(r)<<16 | Colour(g)<<8 | Colour(b)
}

// Grey is an ink between black (0) and white (255).
func Grey(level uint8) Colour { return RGB(level, level, level) }

// Said reports whether a colour was given at all.
func (c Colour) Said() bool { return c != 0 }

// Parts are the red, green and blue of the ink, those of black where nothing
// was said.
func (c Colour) Parts() (r, g, b uint8) {
	return uint8(c >> 16), uint8(c >> 8), uint8(c)
}
