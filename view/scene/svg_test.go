package scene_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"trenchwright/view/scene"
	"trenchwright/view/scene/internal/specimen"
)

func svgOf(t testing.TB, p scene.Page) string {
	t.Helper()
	var out bytes.Buffer
	if err := scene.WriteSVG(&out, p); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

func TestSVGOfASmallCard(t *testing.T) {
	card := scene.Page{Width: 105, Height: 74, Title: "Cut card <B-017>", Name: "B-017", Marks: []scene.Mark{
		scene.Path{Outline: scene.Rectangle(scene.Box{Left: 5, Top: 5, Right: 100, Bottom: 69}), Stroke: scene.Pen(scene.Thick)},
		scene.Group{Name: "unit", Transform: scene.Shift(10, 20), Clip: scene.Rectangle(scene.Box{Right: 30, Bottom: 10}), Marks: []scene.Mark{
			scene.Hatch{Area: scene.Rectangle(scene.Box{Right: 3, Bottom: 3}), Pattern: scene.Diagonal},
		}},
		scene.Text{At: scene.Point{X: 10, Y: 15}, String: "B-017 & 3 ½″", Size: 3.5, Weight: scene.Bold},
		scene.Text{At: scene.Point{X: 90, Y: 60}, String: "up", Size: 2.5, Angle: 90, Align: scene.Right, Colour: scene.RGB(0x80, 0x30, 0x50)},
		scene.Path{Outline: scene.Polyline(scene.Point{X: 10, Y: 50}, scene.Point{X: 40, Y: 50}), Stroke: scene.Pen(scene.Thin).Dashed(2, 1), End: scene.Arrow},
		scene.Link{Area: scene.Box{Left: 10, Top: 10, Right: 30, Bottom: 16}, To: "#strip"},
	}}
	want, err := os.ReadFile("testdata/card.svg")
	if err != nil {
		t.Fatal(err)
	}
	got := svgOf(t, card)
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("the card changed (look at it, then keep it as testdata/card.svg):\n%s", diff)
		if os.Getenv("KEEP_GOLDEN") != "" {
			if err := os.WriteFile("testdata/card.svg", []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
}

func TestSamePageSameBytes(t *testing.T) {
	if svgOf(t, specimen.Page()) != svgOf(t, specimen.Page()) {
		t.Error("two writings of one page differ")
	}
}

func TestSVGIsWellFormed(t *testing.T) {
	if err := wellFormed(svgOf(t, specimen.Page())); err != nil {
		t.Error(err)
	}
}

// wellFormed reads a whole document as XML.
func wellFormed(document string) error {
	d := xml.NewDecoder(strings.NewReader(document))
	for {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			return nil
		} else if err != nil {
			return err
		}
	}
}

func FuzzSVGOfAnyString(f *testing.F) {
	for _, s := range []string{"", "a<b>&\"'", "\x00\x1b\x7f", "\xff\xfe", "]]>", "\ufffe\uffff", "a\tb\nc\rd", "☃ 李 𝔄", "--><script>", "\u202e\u200b"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		text := svgOf(t, scene.Page{Width: 10, Height: 10, Title: s, Name: s, Marks: []scene.Mark{
			scene.Group{Name: s, Clip: scene.Circle(scene.Point{}, 3), Marks: []scene.Mark{scene.Text{String: s, Size: 2}}},
			scene.Link{To: "#" + s, Area: scene.Box{Right: 1, Bottom: 1}},
		}})
		if err := wellFormed(text); err != nil {
			t.Errorf("%q: %v\n%s", s, err, text)
		}
	})
}

func TestWhatCannotBeDrawnIsRefused(t *testing.T) {
	nan := math.NaN()
	for want, p := range map[string]scene.Page{
		`page "x": a page of 0 × 0 mm cannot be drawn`: {Title: "x"},
		`page "x": mark 2: group "leg A": mark 1: point (NaN, NaN) cannot be drawn`: {Title: "x", Width: 1, Height: 1, Marks: []scene.Mark{
			scene.Text{String: "fine", Size: 1}, scene.Group{Name: "leg A", Marks: []scene.Mark{scene.Path{Outline: scene.Polyline(scene.Point{X: nan}, scene.Point{})}}}}},
		`mark 1: point (3e+06, 0) cannot be drawn; the limit is 1e+06 mm`: {Width: 1, Height: 1, Marks: []scene.Mark{
			scene.Group{Transform: scene.Stretch(1000, 1), Marks: []scene.Mark{scene.Line(scene.Point{}, scene.Point{X: 3000}, scene.Pen(1))}}}},
		`no hatch is called "bricks"; there are "diagonal"`: {Width: 1, Height: 1, Marks: []scene.Mark{scene.Hatch{Pattern: "bricks"}}},
		`a hatch with lines 0.05 mm apart`:                  {Width: 1, Height: 1, Marks: []scene.Mark{scene.Hatch{Pattern: scene.Diagonal, Spacing: 0.05}}},
		`lettering "a" with capitals of 0 mm`:               {Width: 1, Height: 1, Marks: []scene.Mark{scene.Text{String: "a"}}},
		`a pen of -1 mm`:                                    {Width: 1, Height: 1, Marks: []scene.Mark{scene.Line(scene.Point{}, scene.Point{X: 1}, scene.Pen(-1))}},
		`a pen of 1 mm with dashes [0 0]`:                   {Width: 1, Height: 1, Marks: []scene.Mark{scene.Line(scene.Point{}, scene.Point{X: 1}, scene.Pen(1).Dashed(0, 0))}},
		`a link to "javascript:alert(1)" is not written`:    {Width: 1, Height: 1, Marks: []scene.Mark{scene.Link{To: "javascript:alert(1)"}}},
		`an outline must start with a move`:                 {Width: 1, Height: 1, Marks: []scene.Mark{scene.Path{Outline: scene.Outline{{Verb: scene.Close}}}}},
	} {
		var out bytes.Buffer
		err := scene.WriteSVG(&out, p)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got error %v\nwant %s", err, want)
		}
		if out.Len() > 0 {
			t.Errorf("%d bytes were written in spite of: %v", out.Len(), err)
		}
	}
}

func TestGroupsMayNotNestWithoutEnd(t *testing.T) {
	m := scene.Mark(scene.Text{String: "deep", Size: 1})
	for range 100 {
		m = scene.Group{Marks: []scene.Mark{m}}
	}
	if err := scene.WriteSVG(io.Discard, scene.Page{Width: 1, Height: 1, Marks: []scene.Mark{m}}); err == nil {
		t.Error("100 groups within groups were drawn")
	}
}
