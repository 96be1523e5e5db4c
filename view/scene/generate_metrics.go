//go:build ignore

// This program writes metrics.bin, the advances and heights of the face that
// lettering.go lays text out by. Run it with "go generate ./view/scene".
//
// The file is made of big-endian 16-bit words: the number of ranges; for each
// range its first rune and its length; then for each rune of each range in
// order the advance in the regular and in the bold weight, in units of the
// face (2048 to the em), and one word of two bytes: how far the ink
// reaches above and below the baseline in either weight, in steps of 32
// such units rounded outwards.
package main

import (
	"encoding/binary"
	"log"
	"os"

	"codeberg.org/go-fonts/dejavu/dejavusanscondensed"
	"codeberg.org/go-fonts/dejavu/dejavusanscondensedbold"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// scripts are the blocks that need no shaping: Latin, Greek, Cyrillic,
// Armenian, Georgian, punctuation, figures, arrows, mathematics and signs.
var scripts = [][2]rune{
	{0x20, 0x7e}, {0xa0, 0x36f}, {0x370, 0x482}, {0x48a, 0x587}, {0x10a0, 0x10ff},
	{0x1e00, 0x1fff}, {0x2000, 0x200a}, {0x2010, 0x2027}, {0x202f, 0x205f},
	{0x2070, 0x20cf}, {0x2100, 0x2bff}, {0x2c60, 0x2c7f}, {0xfb00, 0xfb06}, {0xfffd, 0xfffd},
}

const unitsPerEm = 2048

func main() {
	regular, err := sfnt.Parse(dejavusanscondensed.TTF)
	if err != nil {
		log.Fatal(err)
	}
	bold, err := sfnt.Parse(dejavusanscondensedbold.TTF)
	if err != nil {
		log.Fatal(err)
	}
	var ranges, records []uint16
	last := rune(-2)
	for _, block := range scripts {
		for r := block[0]; r <= block[1]; r++ {
			record, ok := measure(r, regular, bold)
			if !ok {
				continue
			}
			if r != last+1 {
				ranges = append(ranges, uint16(r), 0)
			}
			ranges[len(ranges)-1]++
			records = append(records, record[:]...)
			last = r
		}
	}
	var out []byte
	for _, words := range [][]uint16{{uint16(len(ranges) / 2)}, ranges, records} {
		for _, w := range words {
			out = binary.BigEndian.AppendUint16(out, w)
		}
	}
	if err := os.WriteFile("metrics.bin", out, 0o644); err != nil {
		log.Fatal(err)
	}
}

func measure(r rune, faces ...*sfnt.Font) (record [3]uint16, ok bool) {
	above, below := fixed.Int26_6(0), fixed.Int26_6(0)
	var buf sfnt.Buffer
	for i, face := range faces {
		glyph, err := face.GlyphIndex(&buf, r)
		if err != nil || glyph == 0 {
			return record, false
		}
		// At a size of 2048/64 pixels a unit of the answer is a unit of the face.
		bounds, advance, err := face.GlyphBounds(&buf, glyph, unitsPerEm, font.HintingNone)
		if err != nil {
			log.Fatalf("%U: %v", r, err)
		}
		record[i] = uint16(advance)
		above, below = max(above, -bounds.Min.Y), max(below, bounds.Max.Y)
	}
	record[2] = uint16((above+31)/32)<<8 | uint16((below+31)/32)
	return record, true
}
