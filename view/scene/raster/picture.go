package raster

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"hash/crc32"
	"image"
	"math"
	"slices"

	"trenchwright/view/scene"
)

// picture is pixels row by row: greys as long as no other ink was laid on, then
// red, green and blue.
type picture struct {
	width, height int
	channels      int // 1 or 3
	pix           []uint8
}

// white makes the picture new.
func (p *picture) white(width, height int) {
	p.width, p.height, p.channels = width, height, 1
	p.pix = slices.Grow(p.pix[:0], width*height)[:width*height]
	if len(p.pix) == 0 {
		return
	}
	p.pix[0] = 0xff
	for n := 1; n < len(p.pix); n *= 2 {
		copy(p.pix[n:], p.pix[:n])
	}
}

// colour gives every pixel three channels.
func (p *picture) colour() {
	grey := p.pix
	p.pix, p.channels = make([]uint8, 3*len(grey)), 3
	for i, v := range grey {
		p.pix[3*i], p.pix[3*i+1], p.pix[3*i+2] = v, v, v
	}
}

func (p *picture) rect() image.Rectangle { return image.Rect(0, 0, p.width, p.height) }

// lay puts ink on the pixels from x0 to x1 of row y, as far as alpha and the
// clip let it.
func (p *picture) lay(ink scene.Colour, y, x0, x1 int, alpha uint8, within *clip) {
	r, g, b := ink.Parts()
	if p.channels == 1 && (r != g || g != b) {
		p.colour()
	}
	row := p.pix[(y*p.width+x0)*p.channels : (y*p.width+x1)*p.channels]
	if p.channels == 3 {
		for x := x0; x < x1; x++ {
			a, at := int(within.of(x, y, alpha)), row[3*(x-x0):3*(x-x0)+3]
			at[0], at[1], at[2] = blend(at[0], r, a), blend(at[1], g, a), blend(at[2], b, a)
		}
		return
	}
	if within == nil && alpha == 0xff {
		for i := range row {
			row[i] = r
		}
		return
	}
	for i := range row {
		row[i] = blend(row[i], r, int(within.of(x0+i, y, alpha)))
	}
}

func blend(under, ink uint8, a int) uint8 {
	return uint8((int(under)*(255-a) + int(ink)*a + 127) / 255)
}

// encoder writes pictures as PNG (PNG specification, third edition). Rows are
// not filtered: what is white and black with grey rims packs best as it is.
type encoder struct {
	packed bytes.Buffer
	zip    *zlib.Writer
}

func (e *encoder) write(to *bytes.Buffer, p *picture, dpi float64) error {
	if err := e.pack(p); err != nil {
		return err
	}
	const bits, grey, truecolour = 8, 0, 2
	kind := byte(grey)
	if p.channels == 3 {
		kind = truecolour
	}
	header := binary.BigEndian.AppendUint32(nil, uint32(p.width))
	header = binary.BigEndian.AppendUint32(header, uint32(p.height))
	perMetre := binary.BigEndian.AppendUint32(nil, uint32(math.Round(dpi*1000/mmPerInch)))
	const metre = 1
	to.Grow(e.packed.Len() + 100)
	to.WriteString("\x89PNG\r\n\x1a\n")
	chunk(to, "IHDR", append(header, bits, kind, 0, 0, 0))
	chunk(to, "pHYs", append(append(perMetre, perMetre...), metre))
	chunk(to, "IDAT", e.packed.Bytes())
	chunk(to, "IEND", nil)
	return nil
}

// pack puts the rows together, each behind the number of its filter.
func (e *encoder) pack(p *picture) error {
	e.packed.Reset()
	if e.zip == nil {
		var err error
		if e.zip, err = zlib.NewWriterLevel(&e.packed, zlib.BestSpeed); err != nil {
			return err
		}
	} else {
		e.zip.Reset(&e.packed)
	}
	length := p.width * p.channels
	row := make([]byte, 1+length)
	for at := 0; at < len(p.pix); at += length {
		copy(row[1:], p.pix[at:at+length])
		if _, err := e.zip.Write(row); err != nil {
			return err
		}
	}
	return e.zip.Close()
}

// chunk writes a chunk with its length before it and its check sum behind it.
func chunk(to *bytes.Buffer, kind string, data []byte) {
	to.Write(binary.BigEndian.AppendUint32(nil, uint32(len(data))))
	from := to.Len()
	to.WriteString(kind)
	to.Write(data)
	to.Write(binary.BigEndian.AppendUint32(nil, crc32.ChecksumIEEE(to.Bytes()[from:])))
}
