//go:build ignore

// This program cuts the face of all lettering down to the signs that need no shaping, face/regular.ttf and face/bold.ttf, and
// writes metrics.bin, the advances and heights that lettering.go lays text out by. Run it with "go generate ./view/scene"; it
// needs pyftsubset, of Debian's package fonttools.
//
// metrics.bin is made of big-endian 16-bit words: the number of ranges; for each
// range its first rune and its length; then for each rune of each range in
// order the advance in the regular and in the bold weight, in units of the
// face (2048 to the em), and one word of two bytes: how far the ink
// reaches above and below the baseline in either weight, in steps of 32
// such units rounded outwards.
package main

import (
	"encoding/binary"
	"fmt"
	"log"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"codeberg.org/go-fonts/dejavu/dejavusanscondensed"
	"codeberg.org/go-fonts/dejavu/dejavusanscondensedbold"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// scripts are the signs that sheets are lettered with: Latin with the accents of all its languages, Greek and Cyrillic of
// today, punctuation, figures above and below, fractions, currencies, arrows, mathematics, plain shapes, diameter and tick.
var scripts = [][2]rune{
	{0x20, 0x7e}, {0xa0, 0x24f}, {0x2b0, 0x36f}, {0x370, 0x3ff}, {0x400, 0x482}, {0x48a, 0x4ff},
	{0x1e00, 0x1eff}, {0x2000, 0x200a}, {0x2010, 0x2027}, {0x202f, 0x205f},
	{0x2070, 0x20cf}, {0x2100, 0x22ff}, {0x2300, 0x2300}, {0x25a0, 0x25ff}, {0x2713, 0x2713}, {0xfb00, 0xfb06}, {0xfffd, 0xfffd},
}

const unitsPerEm = 2048

func main() {
	regular := cut(dejavusanscondensed.TTF, "face/regular.ttf")
	bold := cut(dejavusanscondensedbold.TTF, "face/bold.ttf")
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

// cut writes a face with those signs alone: no hints for screens, no rules for shaping, none of its names but its own and its
// makers'.
func cut(whole []byte, to string) *sfnt.Font {
	folder, err := os.MkdirTemp("", "face")
	if err != nil {
		log.Fatal(err)
	}
	defer os.RemoveAll(folder)
	from := filepath.Join(folder, "whole.ttf")
	if err := os.WriteFile(from, whole, 0o644); err != nil {
		log.Fatal(err)
	}
	var signs []string
	for _, s := range scripts {
		signs = append(signs, fmt.Sprintf("%X-%X", s[0], s[1]))
	}
	c := exec.Command("pyftsubset", from, "--output-file="+to, "--unicodes="+strings.Join(signs, ","), "--no-hinting", "--layout-features=",
		"--drop-tables+=GSUB,GPOS,GDEF,kern,FFTM,gasp", "--name-IDs=0,1,2,4,6")
	c.Stderr = os.Stderr
	if err := c.Run(); err != nil {
		log.Fatalf("pyftsubset: %v", err)
	}
	b, err := os.ReadFile(to)
	if err != nil {
		log.Fatal(err)
	}
	f, err := sfnt.Parse(b)
	if err != nil {
		log.Fatal(err)
	}
	return f
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
