package scene

import (
	"bytes"
	"io"
	"math"
	"strconv"
	"strings"
)

// WriteSVG writes a page as SVG 1.1. Lettering is text in the face's own name
// with a length set for every line, so that it keeps its width, and stays
// clear of its neighbours, in whatever face a reader has. Nothing is written
// when the page cannot be drawn.
func WriteSVG(to io.Writer, p Page) error {
	s := svg{prefix: identifier(p.Name)}
	s.put(`<svg xmlns="http://www.w3.org/2000/svg" width="`, number(p.Width), `mm" height="`, number(p.Height),
		`mm" viewBox="0 0 `, number(p.Width), " ", number(p.Height),
		`" font-family="&quot;DejaVu Sans Condensed&quot;, sans-serif" style="font-kerning:none;font-variant-ligatures:none;font-stretch:condensed;white-space:pre" fill="none" stroke-miterlimit="4" xml:space="preserve">`, "\n")
	if p.Title != "" {
		s.put("<title>", escaped(p.Title), "</title>\n")
	}
	s.put(`<path fill="#fff" d="M0 0H`, number(p.Width), "V", number(p.Height), `H0z"/>`, "\n")
	if err := Draw(p, &s); err != nil {
		return err
	}
	s.put("</svg>\n")
	_, err := to.Write(s.out.Bytes())
	return err
}

type svg struct {
	out    bytes.Buffer
	prefix string // of ids, so that several pages can stand in one document
	clips  int
}

func (s *svg) put(pieces ...string) {
	for _, p := range pieces {
		s.out.WriteString(p)
	}
}

func (s *svg) Shape(o Outline, fill Colour, pen Stroke) {
	s.put("<path")
	if fill.Said() {
		s.put(` fill="`, hex(fill), `"`)
	}
	if pen.Width > 0 {
		s.put(` stroke="`, hex(pen.Colour), `" stroke-width="`, number(pen.Width), `"`)
		if pen.Round {
			s.put(` stroke-linecap="round" stroke-linejoin="round"`)
		}
		for i, d := range pen.Dash {
			s.put([]string{` stroke-dasharray="`, " "}[min(i, 1)], number(d))
		}
		if len(pen.Dash) > 0 {
			s.put(`"`)
		}
	}
	s.put(` d="`)
	s.outline(o)
	s.put(`"/>`, "\n")
}

func (s *svg) outline(o Outline) {
	for _, step := range o {
		switch step.Verb {
		case MoveTo:
			s.put("M", pair(step.To))
		case LineTo:
			s.put("L", pair(step.To))
		case CurveTo:
			s.put("C", pair(step.First), " ", pair(step.Second), " ", pair(step.To))
		case Close:
			s.put("z")
		}
	}
}

func (s *svg) Letter(l Lettering) {
	s.put(`<text x="`, number(l.Start.X), `" y="`, number(l.Start.Y), `" font-size="`, number(Em(l.Size)),
		`" textLength="`, number(l.Width), `" lengthAdjust="spacingAndGlyphs" fill="`, hex(l.Colour), `"`)
	if l.Weight == Bold {
		s.put(` font-weight="700"`)
	}
	if l.Angle != 0 {
		s.put(` transform="rotate(`, number(-l.Angle), " ", pair(l.Start), `)"`)
	}
	s.put(">", escaped(l.String), "</text>\n")
}

func (s *svg) Begin(scope Scope) {
	if len(scope.Clip) > 0 {
		s.clips++
		id := s.prefix + strconv.Itoa(s.clips)
		s.put(`<clipPath id="`, id, `"><path d="`)
		s.outline(scope.Clip)
		s.put(`"/></clipPath>`, "\n", `<g clip-path="url(#`, id, `)"`)
	} else {
		s.put("<g")
	}
	if scope.Name != "" {
		s.put(` data-name="`, escaped(scope.Name), `"`)
	}
	s.put(">\n")
}

func (s *svg) End() { s.put("</g>\n") }

// Link is an area without ink, on top of what was drawn so far.
func (s *svg) Link(area Box, to string) {
	s.put(`<a href="`, escaped(to), `"><path fill="#fff" fill-opacity="0" d="`)
	s.outline(Rectangle(area))
	s.put(`"/></a>`, "\n")
}

// number is a length in thousandths of a mm, as short as it goes.
func number(x float64) string {
	x = math.Round(x*1000) / 1000
	if x == 0 {
		return "0" // and not −0
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}

func pair(p Point) string { return number(p.X) + " " + number(p.Y) }

func hex(c Colour) string {
	const digits = "0123456789abcdef"
	r, g, b := c.Parts()
	out := []byte{'#'}
	short := r%17 == 0 && g%17 == 0 && b%17 == 0
	for _, v := range [3]uint8{r, g, b} {
		out = append(out, digits[v>>4])
		if !short {
			out = append(out, digits[v&15])
		}
	}
	return string(out)
}

// escaped is s as XML 1.0 may hold it: what is not a character there, and what
// is not UTF-8, becomes U+FFFD.
func escaped(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == '&':
			b.WriteString("&amp;")
		case r == '<':
			b.WriteString("&lt;")
		case r == '>':
			b.WriteString("&gt;")
		case r == '"':
			b.WriteString("&quot;")
		case r == '\t' || r == '\n' || r == '\r':
			b.WriteString("&#" + strconv.Itoa(int(r)) + ";")
		case r < 0x20 || r == 0xfffe || r == 0xffff:
			b.WriteRune(replacement)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// identifier makes a start for ids of a page's name: letters and figures only,
// the others by their numbers, so that two names never give one start.
func identifier(name string) string {
	var b strings.Builder
	b.WriteString("clip-")
	for _, r := range name {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' {
			b.WriteRune(r)
			continue
		}
		b.WriteString("_" + strconv.FormatInt(int64(r), 16) + "_")
	}
	if name != "" {
		b.WriteString("-")
	}
	return b.String()
}
