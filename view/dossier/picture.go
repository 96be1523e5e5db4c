package dossier

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"image/draw"
	"image/jpeg"
	"image/png"
	"io"
)

// picture is a photo made small enough for a page.
type picture struct {
	jpeg          []byte
	width, height int    // pixels
	why           string // it cannot be shown; empty: it can
}

// What a photo may be, and what of it is shown.
const (
	mostPhoto  = 64 << 20 // bytes
	mostPixels = 60_000_000
	shownLong  = 960 // pixels along the longer side: on 87 mm some 280 an inch
	shownWell  = 78  // of 100, as the encoder has it
)

// pictureOf reads a photo and holds its bytes against its hash.
func pictureOf(p Photo) picture {
	from, err := p.Open()
	if err != nil {
		return picture{why: "it cannot be opened: " + err.Error()}
	}
	defer from.Close()
	b, err := io.ReadAll(io.LimitReader(from, mostPhoto+1))
	switch {
	case err != nil:
		return picture{why: "it cannot be read: " + err.Error()}
	case len(b) > mostPhoto:
		return picture{why: fmt.Sprintf("it is larger than %d MiB", mostPhoto>>20)}
	case hashOf(b) != p.Hash:
		return picture{why: "its bytes are not those of its hash"}
	}
	return shown(b)
}

// shown is a JPEG or PNG upright and small.
func shown(b []byte) picture {
	read, size := jpeg.Decode, jpeg.DecodeConfig
	switch {
	case bytes.HasPrefix(b, []byte("\x89PNG\r\n\x1a\n")):
		read, size = png.Decode, png.DecodeConfig
	case !bytes.HasPrefix(b, []byte("\xff\xd8")):
		return picture{why: "it is neither JPEG nor PNG"}
	}
	c, err := size(bytes.NewReader(b))
	if err == nil && (c.Width < 1 || c.Height < 1 || c.Width > mostPixels/c.Height) {
		err = errors.New("it has too many pixels")
	}
	var m image.Image
	if err == nil {
		m, err = read(bytes.NewReader(b))
	}
	if err != nil {
		return picture{why: "it is damaged: " + err.Error()}
	}
	small := upright(shrunk(m), turnOf(b))
	var out bytes.Buffer
	if err := jpeg.Encode(&out, small, &jpeg.Options{Quality: shownWell}); err != nil {
		return picture{why: err.Error()}
	}
	return picture{jpeg: out.Bytes(), width: small.Rect.Dx(), height: small.Rect.Dy()}
}

// shrunk is a picture with at most shownLong pixels a side, each the mean of those that it stands for; what lets light through stands
// on white.
func shrunk(m image.Image) *image.RGBA {
	w, h := m.Bounds().Dx(), m.Bounds().Dy()
	all := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(all, all.Rect, image.White, image.Point{}, draw.Src)
	draw.Draw(all, all.Rect, m, m.Bounds().Min, draw.Over)
	long := max(w, h)
	if long <= shownLong {
		return all
	}
	to := image.NewRGBA(image.Rect(0, 0, max(1, w*shownLong/long), max(1, h*shownLong/long)))
	for y := range to.Rect.Dy() {
		top, bottom := y*h/to.Rect.Dy(), (y+1)*h/to.Rect.Dy()
		for x := range to.Rect.Dx() {
			left, right := x*w/to.Rect.Dx(), (x+1)*w/to.Rect.Dx()
			var sum [3]int
			for v := top; v < bottom; v++ {
				row := all.Pix[v*all.Stride+4*left : v*all.Stride+4*right]
				for i := 0; i < len(row); i += 4 {
					sum[0], sum[1], sum[2] = sum[0]+int(row[i]), sum[1]+int(row[i+1]), sum[2]+int(row[i+2])
				}
			}
			n := (bottom - top) * (right - left)
			at := to.Pix[y*to.Stride+4*x:]
			at[0], at[1], at[2], at[3] = uint8((sum[0]+n/2)/n), uint8((sum[1]+n/2)/n), uint8((sum[2]+n/2)/n), 255
		}
	}
	return to
}

// upright turns a picture as its camera was held: 1 to 8, as Exif (JEITA CP-3451) counts.
func upright(m *image.RGBA, turn int) *image.RGBA {
	w, h := m.Rect.Dx(), m.Rect.Dy()
	if turn < 2 || turn > 8 {
		return m
	}
	to := image.NewRGBA(image.Rect(0, 0, w, h))
	if turn > 4 {
		to = image.NewRGBA(image.Rect(0, 0, h, w))
	}
	for y := range h {
		for x := range w {
			u, v := x, y
			switch turn {
			case 2:
				u = w - 1 - x
			case 3:
				u, v = w-1-x, h-1-y
			case 4:
				v = h - 1 - y
			case 5:
				u, v = y, x
			case 6:
				u, v = h-1-y, x
			case 7:
				u, v = h-1-y, w-1-x
			case 8:
				u, v = y, w-1-x
			}
			copy(to.Pix[v*to.Stride+4*u:][:4], m.Pix[y*m.Stride+4*x:][:4])
		}
	}
	return to
}

// turnOf is how the camera of a JPEG was held, by its Exif (JEITA CP-3451, tag 0x0112 of the first directory); 1: upright, or it does
// not say.
func turnOf(b []byte) int {
	for at := 2; at+4 <= len(b) && b[at] == 0xff && b[at+1] != 0xda; {
		n := int(binary.BigEndian.Uint16(b[at+2:]))
		if n < 2 || at+2+n > len(b) {
			return 1
		}
		if exif, ok := bytes.CutPrefix(b[at+4:at+2+n], []byte("Exif\x00\x00")); ok && b[at+1] == 0xe1 {
			return turnIn(exif)
		}
		at += 2 + n
	}
	return 1
}

// turnIn finds it in the TIFF structure of an Exif.
func turnIn(t []byte) int {
	var order binary.ByteOrder = binary.BigEndian
	switch {
	case len(t) < 8:
		return 1
	case t[0] == 'I':
		order = binary.LittleEndian
	}
	at := int(order.Uint32(t[4:]))
	if at < 8 || at > len(t)-2 {
		return 1
	}
	entries := t[at+2:]
	for n := int(order.Uint16(t[at:])); n > 0 && len(entries) >= 12; n, entries = n-1, entries[12:] {
		if turn := int(order.Uint16(entries[8:])); order.Uint16(entries) == 0x0112 && turn >= 1 && turn <= 8 {
			return turn
		}
	}
	return 1
}
