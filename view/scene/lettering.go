package scene

import (
	_ "embed"
	"math"
	"slices"
	"strings"
	"unicode/utf8"
)

//go:generate go run generate_face.go

// metrics holds the advances and heights of the face for every rune that can
// be set without shaping; generate_face.go says how it is laid out.
//
//go:embed metrics.bin
var metrics string

// The proportions of the face, in units of which 2048 make an em.
const (
	unitsPerEm    = 2048
	unitsPerCap   = 1493 // height of the flat capitals, from the face's OS/2 table
	inkStep       = 32   // step of the ink heights in metrics
	replacement   = '\ufffd'
	lineStep      = 1.7 // baseline to baseline in capital heights: accents and descenders never meet
	textTolerance = 1e-9
)

// Em is the size of the face in mm that gives capitals of that height.
func Em(capital float64) float64 { return float64(capital * unitsPerEm / unitsPerCap) }

// LineStep is the distance in mm from baseline to baseline.
func LineStep(size float64) float64 { return float64(size * lineStep) }

func word(i int) int { return int(metrics[2*i])<<8 | int(metrics[2*i+1]) }

// glyphAt is where metrics speaks of a rune, and of the replacement sign for others: advances by weight, then the ink over
// and under the baseline.
func glyphAt(r rune) int {
	i := glyphIndex(r)
	if i < 0 {
		i = glyphIndex(replacement)
	}
	return 1 + 2*word(0) + 3*i
}

func known(r rune) bool { return glyphIndex(r) >= 0 }

// glyphIndex counts the runes of metrics before r; −1 where r is not there.
func glyphIndex(r rune) int {
	if r >= ' ' && r <= '~' {
		return int(r - ' ') // the first range of metrics, held by a test
	}
	before := 0
	for i := range word(0) {
		first, count := rune(word(1+2*i)), rune(word(2+2*i))
		if r < first {
			return -1
		}
		if r < first+count {
			return before + int(r-first)
		}
		before += int(count)
	}
	return -1
}

// Printable is s as it will be lettered on one line: tabs and line ends become
// spaces, and what the face does not have becomes the sign �.
func Printable(s string) string {
	clean := true
	for i, r := range s {
		if !known(r) || r == utf8.RuneError && !strings.HasPrefix(s[i:], "\ufffd") {
			clean = false
			break
		}
	}
	if clean {
		return s
	}
	return strings.Map(func(r rune) rune {
		if r == '\t' || r == '\n' || r == '\r' {
			return ' '
		}
		if !known(r) {
			return replacement
		}
		return r
	}, s)
}

// Missing lists the runes of s that would be lettered as �, each once, in the
// order of their first appearance. Line ends and tabs are not missing.
func Missing(s string) []rune {
	var missing []rune
	for _, r := range s {
		if known(r) && r != replacement || r == '\t' || r == '\n' || r == '\r' {
			continue
		}
		if !strings.ContainsRune(string(missing), r) {
			missing = append(missing, r)
		}
	}
	return missing
}

// TextWidth is the width in mm of a line of lettering with capitals of that
// height: the sum of the face's own advances.
func TextWidth(s string, size float64, weight Weight) float64 {
	return float64(Em(size) * float64(units(s, weight)) / unitsPerEm)
}

func units(s string, weight Weight) int {
	sum := 0
	for _, r := range s {
		if r == '\t' || r == '\n' || r == '\r' {
			r = ' '
		}
		sum += word(glyphAt(r) + int(weight&1))
	}
	return sum
}

// Reach is how far the ink of a line goes above and below its baseline, in mm,
// rounded outwards by at most 1/64 em.
func Reach(s string, size float64) (above, below float64) {
	up, down := 0, 0
	for _, r := range s {
		ink := word(glyphAt(r) + 2)
		up, down = max(up, ink>>8*inkStep), max(down, ink&0xff*inkStep)
	}
	em := Em(size)
	return float64(em * float64(up) / unitsPerEm), float64(em * float64(down) / unitsPerEm)
}

// Wrap parts s into lines no wider than width mm, at spaces and at "\n". A
// word that is wider by itself is parted between its letters; only a single
// letter may stand out.
func Wrap(s string, size float64, weight Weight, width float64) []string {
	fits := func(line string) bool { return TextWidth(line, size, weight) <= width+textTolerance }
	var lines []string
	for _, paragraph := range strings.Split(s, "\n") {
		if fits(paragraph) {
			lines = append(lines, paragraph)
			continue
		}
		line := ""
		for _, w := range held(strings.FieldsFunc(paragraph, func(r rune) bool { return r == ' ' || r == '\t' || r == '\r' })) {
			if line != "" && fits(line+" "+w) {
				line += " " + w
				continue
			}
			if line != "" {
				lines = append(lines, line)
			}
			for line = w; !fits(line); {
				if k := strings.LastIndexByte(line, ' '); k > 0 { // what is held together is parted before a word is
					lines = append(lines, Wrap(line[:k], size, weight, width)...)
					line = line[k+1:]
					continue
				}
				head := longest(line, fits)
				if head == line {
					break
				}
				lines = append(lines, head)
				line = line[len(head):]
			}
		}
		lines = append(lines, line)
	}
	return lines
}

// held are words with those in one that no line may part: a figure and its unit, feet and the fraction of an inch, a sign or
// a count and what it is of.
func held(words []string) []string {
	var out []string
	for _, w := range words {
		if n := len(out); n > 0 && holds(out[n-1], w) {
			out[n-1] += " " + w
			continue
		}
		out = append(out, w)
	}
	return out
}

// unitNames are those that stand behind a figure with a space between.
var unitNames = []string{"mm", "m", "km", "kg", "t", "lb", "ft", "in", "yd", "sq", "%", "‰", "m²", "m³", "ft²", "ft³", "yd²", "yd³", "kN", "kPa", "ppm"}

func holds(before, w string) bool {
	last := before[len(before)-1]
	figure := last >= '0' && last <= '9'
	switch {
	case figure && slices.Contains(unitNames, strings.TrimRight(w, ".,;:)")):
		return true
	case figure && w[0] >= '0' && w[0] <= '9' && strings.Contains(w, "/") && strings.ContainsAny(w, `"`): // 4'-11 15/16"
		return true
	case w == "×":
		return figure
	}
	return before == "×" || before == "−" || strings.HasSuffix(before, " ×") || strings.HasSuffix(before, " sq") && strings.HasPrefix(w, "ft")
}

// longest is the longest start of s that fits, at least one letter.
func longest(s string, fits func(string) bool) string {
	_, end := utf8.DecodeRuneInString(s)
	for end < len(s) {
		_, n := utf8.DecodeRuneInString(s[end:])
		if !fits(s[:end+n]) {
			break
		}
		end += n
	}
	return s[:end]
}

// Fit makes one line fit a width: by smaller capitals, in steps of 0.05 mm and
// no smaller than smallest, and where that is not enough by leaving letters
// out at the end, marked with "…". whole is false when letters were left out.
func Fit(s string, size, smallest float64, weight Weight, width float64) (line string, fitted float64, whole bool) {
	const step = 0.05
	for fitted = size; ; {
		if TextWidth(s, fitted, weight) <= width+textTolerance {
			return s, fitted, true
		}
		next := math.Floor(fitted/step-0.5) * step
		if next < smallest {
			break
		}
		fitted = next
	}
	fitted = math.Min(size, smallest)
	head := longest(s, func(head string) bool {
		return TextWidth(head+"…", fitted, weight) <= width+textTolerance
	})
	if TextWidth(s, fitted, weight) <= width+textTolerance {
		return s, fitted, true
	}
	return strings.TrimRight(head, " ") + "…", fitted, false
}
