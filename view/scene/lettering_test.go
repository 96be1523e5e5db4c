package scene_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"codeberg.org/go-fonts/dejavu/dejavusanscondensed"
	"codeberg.org/go-fonts/dejavu/dejavusanscondensedbold"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"pgregory.net/rapid"

	"trenchwright/view/scene"
	"trenchwright/view/scene/face"
	"trenchwright/view/scene/internal/specimen"
)

// words are strings as people write them, with signs, long words and line ends.
func words(t *rapid.T) string {
	letters := rapid.SampledFrom([]rune("abcdefgWAVil .-–½′″°⌀−±≤Δα0123456789  \n\t李\xff"))
	return string(rapid.SliceOfN(letters, 0, 80).Draw(t, "text"))
}

func weightOf(t *rapid.T) scene.Weight {
	return rapid.SampledFrom([]scene.Weight{scene.Regular, scene.Bold}).Draw(t, "weight")
}

// The advances and heights in metrics.bin are the face's own, for every rune
// that the table claims to know.
func TestMetricsAreThoseOfTheFace(t *testing.T) {
	var faces [2]*sfnt.Font
	for weight, bytes := range [][]byte{scene.Regular: dejavusanscondensed.TTF, scene.Bold: dejavusanscondensedbold.TTF} {
		faces[weight] = parsed(t, bytes)
	}
	known := 0
	var buf sfnt.Buffer
	for r := rune(0x20); r < 0x10000; r++ {
		if len(scene.Missing(string(r))) > 0 {
			continue
		}
		const size = 1493.0 // an em of 2048 mm: a unit of the face is a mm
		high, low := 0.0, 0.0
		for weight, face := range faces {
			glyph, _ := face.GlyphIndex(&buf, r)
			if glyph == 0 {
				t.Fatalf("%U is not in the face, but is not missing", r)
			}
			known++
			bounds, advance, err := face.GlyphBounds(&buf, glyph, 2048, font.HintingNone)
			if err != nil {
				t.Fatal(err)
			}
			if got := scene.TextWidth(string(r), size, scene.Weight(weight)); got != float64(advance) {
				t.Errorf("%U is %v units wide, in the face %v", r, got, float64(advance))
			}
			high, low = math.Max(high, float64(-bounds.Min.Y)), math.Max(low, float64(bounds.Max.Y))
		}
		above, below := scene.Reach(string(r), size)
		if above < high || above >= high+32 || below < low || below >= low+32 {
			t.Errorf("%U reaches %v above and %v below; in the face %v and %v", r, above, below, high, low)
		}
	}
	if known < 4000 {
		t.Errorf("only %d runes in two weights were compared", known)
	}
	if missing := scene.Missing(specimen.Signs); len(missing) > 0 {
		t.Errorf("the signs of the trade are missing: %q", missing)
	}
}

// Every letter that is drawn has the outline that it has in the whole face, and the same advance.
func TestTheCutFaceIsDrawnAsTheWhole(t *testing.T) {
	for _, of := range []struct{ whole, cut []byte }{{dejavusanscondensed.TTF, face.Regular}, {dejavusanscondensedbold.TTF, face.Bold}} {
		whole, cut := parsed(t, of.whole), parsed(t, of.cut)
		var buf sfnt.Buffer
		glyph := func(f *sfnt.Font, r rune) (sfnt.Segments, fixed.Int26_6) {
			at, err := f.GlyphIndex(&buf, r)
			if err != nil || at == 0 {
				t.Fatalf("%U is not in a face: %v", r, err)
			}
			advance, err := f.GlyphAdvance(&buf, at, 2048, font.HintingNone)
			if err != nil {
				t.Fatal(err)
			}
			outline, err := f.LoadGlyph(&buf, at, 2048, nil)
			if err != nil {
				t.Fatal(err)
			}
			return slices.Clone(outline), advance
		}
		drawn := 0
		for r := rune(0x20); r < 0x10000; r++ {
			if len(scene.Missing(string(r))) > 0 {
				continue
			}
			outline, advance := glyph(cut, r)
			wantOutline, wantAdvance := glyph(whole, r)
			if !slices.Equal(outline, wantOutline) || advance != wantAdvance {
				t.Errorf("%U differs: %v wide in the cut face, %v in the whole", r, advance, wantAdvance)
			}
			drawn++
		}
		if drawn < 2000 {
			t.Errorf("only %d letters were compared", drawn)
		}
	}
}

func parsed(t *testing.T, ttf []byte) *sfnt.Font {
	f, err := sfnt.Parse(ttf)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// The size of lettering is the height of flat capitals.
func TestSizeIsTheHeightOfCapitals(t *testing.T) {
	above, below := scene.Reach("HTIE", 2.5)
	if above < 2.5 || above > 2.5+scene.Em(2.5)/64 || below != 0 {
		t.Errorf("capitals of 2.5 mm reach %v above and %v below the baseline", above, below)
	}
}

func TestTextWidthAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, w := words(t), words(t), weightOf(t)
		whole, parts := scene.TextWidth(a+b, 2.5, w), scene.TextWidth(a, 2.5, w)+scene.TextWidth(b, 2.5, w)
		if math.Abs(whole-parts) > 1e-9 {
			t.Fatalf("%q + %q: %v together, %v apart", a, b, whole, parts)
		}
		if p := scene.Printable(a); scene.TextWidth(p, 2.5, w) != scene.TextWidth(a, 2.5, w) {
			t.Fatalf("%q is as wide as %v, set as %q it is %v", a, scene.TextWidth(a, 2.5, w), p, scene.TextWidth(p, 2.5, w))
		}
	})
}

func TestWrapNeverExceedsAndLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, w := words(t), weightOf(t)
		width := rapid.Float64Range(4, 60).Draw(t, "width") // a W of 2.5 mm is 3.9 mm wide
		lines := scene.Wrap(s, 2.5, w, width)
		for _, l := range lines {
			if got := scene.TextWidth(l, 2.5, w); got > width+1e-6 {
				t.Fatalf("line %q is %v mm wide, more than %v", l, got, width)
			}
		}
		blank := strings.NewReplacer(" ", "", "\n", "", "\t", "")
		if got, want := blank.Replace(strings.Join(lines, "")), blank.Replace(s); got != want {
			t.Fatalf("wrapped %q\nhas  %q\nwant %q", s, got, want)
		}
	})
}

// No line ends between a figure and what belongs to it, at any width that has room for both.
func TestWrapKeepsFiguresWithWhatBelongsToThem(t *testing.T) {
	for _, c := range []struct{ text, kept string }{
		{"grades are whole steps of 0.05 %. Ask", "0.05 %."},
		{"a change by 1 % counts as much", "1 %"},
		{"on the right at 1'-1 13/16\" (13.787 in) is 7\"", "1'-1 13/16\""},
		{"on the right at 1'-1 13/16\" (13.787 in) is 7\"", "(13.787 in)"},
		{"from yard-C7 · 2 × 1'-11 7/8\" and so on", "2 × 1'-11 7/8\""},
		{"areas: dug 18.4 sq ft, topsoil", "18.4 sq ft,"},
		{"wall top − 0.070 and invert", "− 0.070"},
	} {
		least := scene.TextWidth(c.kept, 2.5, scene.Regular)
		for width := least; width < 3*least; width += 0.7 {
			if lines := scene.Wrap(c.text, 2.5, scene.Regular, width); !slices.ContainsFunc(lines, func(l string) bool { return strings.Contains(l, c.kept) }) {
				t.Errorf("%q is parted in %q at %.1f mm", c.kept, lines, width)
			}
		}
	}
}

func TestWrapKeepsWordsWhole(t *testing.T) {
	width := scene.TextWidth("factory end", 2.5, scene.Regular)
	got := scene.Wrap("keep the factory end\nup", 2.5, scene.Regular, width)
	if want := "keep the|factory end|up"; strings.Join(got, "|") != want {
		t.Errorf("got %q, want %q", strings.Join(got, "|"), want)
	}
}

func TestFitFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := strings.NewReplacer("\n", "", "\t", "").Replace(words(t))
		w, width := weightOf(t), rapid.Float64Range(5, 80).Draw(t, "width")
		line, size, whole := scene.Fit(s, 3.5, 1.8, w, width)
		if size > 3.5 || size < 1.8 {
			t.Fatalf("%q was set at %v mm", s, size)
		}
		if whole != (line == s) {
			t.Fatalf("%q became %q, whole: %v", s, line, whole)
		}
		if got := scene.TextWidth(line, size, w); got > width+1e-6 {
			t.Fatalf("%q at %v mm is %v wide, more than %v", line, size, got, width)
		}
	})
	if _, size, whole := scene.Fit("A-017", 3.5, 1.8, scene.Bold, 100); size != 3.5 || !whole {
		t.Errorf("what fits was changed to %v mm, whole: %v", size, whole)
	}
}

func TestMissingNamesWhatTheFaceLacks(t *testing.T) {
	if got := string(scene.Missing("a 李\tb\x00李𝔄\n")); got != "李\x00𝔄" {
		t.Errorf("missing: %q", got)
	}
	if got := scene.Printable("a\t李\xff"); got != "a \ufffd\ufffd" {
		t.Errorf("printable: %q", got)
	}
}
