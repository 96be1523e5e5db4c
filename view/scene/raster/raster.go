// Package raster paints a scene.Page as pixels and writes PNG. Coverage is
// computed exactly from straight pieces, in plain Go and in a fixed order, so
// that the same page gives the same bytes everywhere.
//
// Map of the package: raster.go writes pages, picture.go has the pixels and
// writes them as PNG, canvas.go paints marks, pen.go turns strokes into pieces
// to fill, coverage.go fills, face.go has the outlines of letters.
package raster

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"sync"

	"trenchwright/view/scene"
)

// maxPixels bounds the memory of one picture: at most 3 bytes each.
const maxPixels = 250e6

const mmPerInch = 25.4

// Painter writes pages one after the other or side by side, and keeps what one
// page leaves for the next: memory and the letters' outlines, never a pixel.
// The zero value is ready.
type Painter struct{ tools sync.Pool }

// tools are what one page is painted with.
type tools struct {
	canvas  canvas
	encoder encoder
}

// WritePNG writes a page as PNG at so many dots per inch, which the file says.
// When the page cannot be drawn nothing is written.
func WritePNG(to io.Writer, p scene.Page, dpi float64) error {
	return new(Painter).WritePNG(to, p, dpi)
}

// WritePNG is the function of that name.
func (q *Painter) WritePNG(to io.Writer, p scene.Page, dpi float64) error {
	t, kept := q.tools.Get().(*tools)
	if !kept {
		t = &tools{canvas: canvas{cover: &coverage{}, face: newFace()}}
	}
	defer q.tools.Put(t)
	if err := t.canvas.page(p, dpi); err != nil {
		return err
	}
	var out bytes.Buffer
	if err := t.encoder.write(&out, &t.canvas.picture, dpi); err != nil {
		return fmt.Errorf("PNG of page %q: %w", p.Title, err)
	}
	_, err := to.Write(out.Bytes())
	return err
}

// page paints a page on white.
func (c *canvas) page(p scene.Page, dpi float64) error {
	width, height := math.Round(p.Width*dpi/mmPerInch), math.Round(p.Height*dpi/mmPerInch)
	if !(width >= 1 && height >= 1 && width*height <= maxPixels) {
		return fmt.Errorf("page %q: %v × %v mm at %v dots per inch is %.0f × %.0f pixels; at least 1 × 1 and at most %.0f million are painted, so try fewer dots per inch",
			p.Title, p.Width, p.Height, dpi, width, height, maxPixels/1e6)
	}
	c.begin(int(width), int(height), dpi/mmPerInch)
	if err := scene.Draw(p, c); err != nil {
		return err
	}
	if c.err != nil {
		return fmt.Errorf("page %q: %w", p.Title, c.err)
	}
	return nil
}
