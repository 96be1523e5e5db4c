package raster

import (
	"fmt"
	"math"

	"golang.org/x/image/font/sfnt"

	"trenchwright/view/scene"
	ttf "trenchwright/view/scene/face"
)

// face has the outlines of the letters, in units of the face, y down.
type face struct {
	fonts  [2]*sfnt.Font // by weight
	buffer sfnt.Buffer
	known  map[letter]sfnt.Segments
}

type letter struct {
	rune   rune
	weight scene.Weight
}

func newFace() *face { return &face{known: map[letter]sfnt.Segments{}} }

// outline is that of one letter.
func (f *face) outline(l letter) (sfnt.Segments, error) {
	if s, known := f.known[l]; known {
		return s, nil
	}
	weight := l.weight & 1
	if f.fonts[weight] == nil {
		font, err := sfnt.Parse([2][]byte{ttf.Regular, ttf.Bold}[weight])
		if err != nil {
			return nil, fmt.Errorf("the face does not read: %w", err)
		}
		f.fonts[weight] = font
	}
	font := f.fonts[weight]
	index, err := font.GlyphIndex(&f.buffer, l.rune)
	if err != nil {
		return nil, fmt.Errorf("letter %q: %w", l.rune, err)
	}
	// At a size of that many 64ths of a pixel, an answer's unit is the face's.
	loaded, err := font.LoadGlyph(&f.buffer, index, unitsPerEm, nil)
	if err != nil {
		return nil, fmt.Errorf("letter %q: %w", l.rune, err)
	}
	s := append(sfnt.Segments{}, loaded...)
	f.known[l] = s
	return s, nil
}

const unitsPerEm = 2048

// place carries units of the face into pixels.
type place struct{ origin, x, y point }

func (p place) point(x, y float64) point {
	return point{
		p.origin.x + float64(x*p.x.x) + float64(y*p.y.x),
		p.origin.y + float64(x*p.x.y) + float64(y*p.y.y),
	}
}

// fill adds a letter's outline.
func (p place) fill(into *coverage, segments sfnt.Segments) {
	var start, at point
	line := func(to point) { into.edge(at, to); at = to }
	for _, s := range segments {
		var q [3]point
		for i, a := range s.Args {
			q[i] = p.point(float64(a.X), float64(a.Y))
		}
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			line(start)
			start, at = q[0], q[0]
		case sfnt.SegmentOpLineTo:
			line(q[0])
		case sfnt.SegmentOpQuadTo:
			from := at
			dx, dy := from.x-2*q[0].x+q[1].x, from.y-2*q[0].y+q[1].y
			n := min(32, 1+int(math.Sqrt((math.Abs(dx)+math.Abs(dy))*5)))
			for i := 1; i <= n; i++ {
				t := float64(i) / float64(n)
				line(mix(mix(from, q[0], t), mix(q[0], q[1], t), t))
			}
		case sfnt.SegmentOpCubeTo: // the face is TrueType and has none
			line(q[2])
		}
	}
	line(start)
}

func mix(a, b point, t float64) point {
	return point{a.x + float64((b.x-a.x)*t), a.y + float64((b.y-a.y)*t)}
}
