// Package raster paints a scene.Page as pixels and writes PNG. Coverage is
// computed exactly from straight pieces, in plain Go and in a fixed order, so
// that the same page gives the same bytes everywhere.
//
// Map of the package: raster.go writes pages, canvas.go paints marks, pen.go
// turns strokes into pieces to fill, coverage.go fills, face.go has the
// outlines of letters.
package raster

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/png"
	"io"
	"math"

	"trenchwright/view/scene"
)

// maxPixels bounds the memory of one picture: 4 bytes each.
const maxPixels = 250e6

const mmPerInch = 25.4

// WritePNG writes a page as PNG at so many dots per inch, which the file says.
// When the page cannot be drawn nothing is written.
func WritePNG(to io.Writer, p scene.Page, dpi float64) error {
	picture, err := Paint(p, dpi)
	if err != nil {
		return err
	}
	var out bytes.Buffer
	encoder := png.Encoder{CompressionLevel: png.BestSpeed}
	if err := encoder.Encode(&out, plain(picture)); err != nil {
		return fmt.Errorf("PNG of page %q: %w", p.Title, err)
	}
	_, err = to.Write(withResolution(out.Bytes(), dpi))
	return err
}

// Paint is the page on white.
func Paint(p scene.Page, dpi float64) (*image.RGBA, error) {
	width, height := math.Round(p.Width*dpi/mmPerInch), math.Round(p.Height*dpi/mmPerInch)
	if !(width >= 1 && height >= 1 && width*height <= maxPixels) {
		return nil, fmt.Errorf("page %q: %v × %v mm at %v dots per inch is %.0f × %.0f pixels; at least 1 × 1 and at most %.0f million are painted, so try fewer dots per inch",
			p.Title, p.Width, p.Height, dpi, width, height, maxPixels/1e6)
	}
	c := newCanvas(int(width), int(height), dpi/mmPerInch)
	if err := scene.Draw(p, c); err != nil {
		return nil, err
	}
	if c.err != nil {
		return nil, fmt.Errorf("page %q: %w", p.Title, c.err)
	}
	return c.picture, nil
}

// plain is the picture as greys where it has no colour: a third of the bytes.
func plain(picture *image.RGBA) image.Image {
	grey := image.NewGray(picture.Rect)
	for i := range grey.Pix {
		p := picture.Pix[4*i : 4*i+3 : 4*i+3]
		if p[0] != p[1] || p[1] != p[2] {
			return picture
		}
		grey.Pix[i] = p[0]
	}
	return grey
}

// withResolution puts a pHYs chunk behind the header (PNG specification,
// third edition, 11.3.4.3: pixels per metre).
func withResolution(file []byte, dpi float64) []byte {
	const header = 8 + 25 // signature and IHDR
	chunk := []byte("\x00\x00\x00\x09pHYs")
	perMetre := uint32(math.Round(dpi * 1000 / mmPerInch))
	chunk = binary.BigEndian.AppendUint32(chunk, perMetre)
	chunk = binary.BigEndian.AppendUint32(chunk, perMetre)
	chunk = append(chunk, 1)
	chunk = binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(chunk[4:]))
	out := append([]byte{}, file[:header]...)
	out = append(out, chunk...)
	return append(out, file[header:]...)
}
