package pdf

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"codeberg.org/go-pdf/fpdf"

	"trenchwright/view/scene"
)

// fontSize is the one size that the face is set in, in points; each line of
// lettering is scaled from it, so that no size is rounded.
const fontSize = 10.0

// canvas paints one page: its own drawing operators, collected in out, and
// fpdf's for text, so that fpdf knows which letters the subset needs.
type canvas struct {
	*writer
	height float64 // of the page in mm
	out    []byte
	now    state
	saved  []state
	err    error
}

// state is what the page's readers hold at this point of the content. The
// zero value is what they start with, but for the width of the pen.
type state struct {
	fill, ink scene.Colour // 0: the black they start with
	width     float64
	round     bool
	dash      []float64
	font      scene.Weight
}

func (c *canvas) put(pieces ...string) {
	for _, p := range pieces {
		c.out = append(c.out, p...)
	}
}

func (c *canvas) numbers(values ...float64) {
	for _, v := range values {
		v = math.Round(v*10000) / 10000
		if v == 0 {
			v = 0 // and not −0
		}
		c.out = strconv.AppendFloat(c.out, v, 'f', -1, 64)
		c.out = append(c.out, ' ')
	}
}

func (c *canvas) point(p scene.Point) {
	c.numbers(p.X*pointsPerMM, (c.height-p.Y)*pointsPerMM)
}

func (c *canvas) flush() {
	if len(c.out) > 0 {
		c.pdf.RawWriteStr(string(c.out))
		c.out = c.out[:0]
	}
}

func (c *canvas) Shape(o scene.Outline, fill scene.Colour, pen scene.Stroke) {
	stroke := pen.Width > 0
	if !fill.Said() && !stroke {
		return
	}
	if fill.Said() {
		c.fill(fill)
	}
	if stroke {
		c.pen(pen)
	}
	c.outline(o)
	switch {
	case fill.Said() && stroke:
		c.put("B\n")
	case stroke:
		c.put("S\n")
	default:
		c.put("f\n")
	}
}

func (c *canvas) outline(o scene.Outline) {
	for _, s := range o {
		switch s.Verb {
		case scene.MoveTo:
			c.point(s.To)
			c.put("m\n")
		case scene.LineTo:
			c.point(s.To)
			c.put("l\n")
		case scene.CurveTo:
			c.point(s.First)
			c.point(s.Second)
			c.point(s.To)
			c.put("c\n")
		case scene.Close:
			c.put("h\n")
		}
	}
}

// colour writes an ink: greys as such, so that printers use black alone.
func (c *canvas) colour(ink scene.Colour, grey, full string) {
	r, g, b := ink.Parts()
	part := func(v uint8) float64 { return float64(v) / 255 }
	if r == g && g == b {
		c.numbers(part(r))
		c.put(grey, "\n")
		return
	}
	c.numbers(part(r), part(g), part(b))
	c.put(full, "\n")
}

func said(ink scene.Colour) scene.Colour {
	if !ink.Said() {
		return scene.Black
	}
	return ink
}

func (c *canvas) fill(ink scene.Colour) {
	if said(ink) != said(c.now.fill) {
		c.colour(ink, "g", "rg")
	}
	c.now.fill = ink
}

func (c *canvas) pen(p scene.Stroke) {
	if said(p.Colour) != said(c.now.ink) {
		c.colour(p.Colour, "G", "RG")
	}
	if p.Width != c.now.width {
		c.numbers(p.Width * pointsPerMM)
		c.put("w\n")
	}
	if p.Round != c.now.round {
		if p.Round {
			c.put("1 J 1 j\n")
		} else {
			c.put("0 J 0 j\n")
		}
	}
	if !slices.Equal(p.Dash, c.now.dash) {
		c.put("[")
		for _, d := range p.Dash {
			c.numbers(d * pointsPerMM)
		}
		c.put("] 0 d\n")
	}
	c.now.ink, c.now.width, c.now.round, c.now.dash = p.Colour, p.Width, p.Round, p.Dash
}

// Letter sets a line from the origin of coordinates turned and scaled for it.
func (c *canvas) Letter(l scene.Lettering) {
	c.fill(l.Colour)
	if l.Weight != c.now.font {
		c.flush()
		c.pdf.SetFont(faceName, [2]string{"", "B"}[l.Weight&1], fontSize)
		c.now.font = l.Weight
	}
	k := scene.Em(l.Size) * pointsPerMM / fontSize
	u := scene.Direction(l.Angle)
	c.put("q ")
	c.numbers(u.X*k, -u.Y*k, u.Y*k, u.X*k)
	c.point(l.Start)
	c.put("cm\n")
	c.flush()
	_, pageHeight := c.pdf.GetPageSize()
	c.pdf.Text(0, pageHeight, l.String)
	c.put("Q\n")
}

func (c *canvas) Begin(s scene.Scope) {
	c.saved = append(c.saved, c.now)
	c.put("q\n")
	if len(s.Clip) > 0 {
		c.outline(s.Clip)
		c.put("W n\n")
	}
}

func (c *canvas) End() {
	before := c.saved[len(c.saved)-1]
	c.saved = c.saved[:len(c.saved)-1]
	c.put("Q\n")
	if before.font != c.now.font { // fpdf does not know that Q brings the old font back
		c.flush()
		c.pdf.SetFont(faceName, [2]string{"", "B"}[before.font&1], fontSize)
	}
	c.now = before
}

// Photo shows a picture; one that several pages show is in the file once.
func (c *canvas) Photo(area scene.Box, jpeg []byte) {
	sum := sha256.Sum256(jpeg)
	name, kind := hex.EncodeToString(sum[:]), fpdf.ImageOptions{ImageType: "JPG"}
	c.pdf.RegisterImageOptionsReader(name, kind, bytes.NewReader(jpeg))
	if err := c.pdf.Error(); err != nil {
		if c.err == nil {
			c.err = fmt.Errorf("a photo cannot be shown: %w", err)
		}
		return
	}
	c.flush()
	c.pdf.ImageOptions(name, area.Left*pointsPerMM, area.Top*pointsPerMM, area.Width()*pointsPerMM, area.Height()*pointsPerMM, false, kind, 0, "")
}

func (c *canvas) Link(area scene.Box, to string) {
	x, y := area.Left*pointsPerMM, area.Top*pointsPerMM
	w, h := area.Width()*pointsPerMM, area.Height()*pointsPerMM
	if !strings.HasPrefix(to, "#") {
		c.pdf.LinkString(x, y, w, h, to)
		return
	}
	id, known := c.links[to]
	if !known && c.err == nil {
		c.err = fmt.Errorf("a link leads to %q, but no page of the document has that name", to)
	}
	c.pdf.Link(x, y, w, h, id)
}
