package raster

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"trenchwright/view/scene"
	"trenchwright/view/scene/internal/specimen"
)

// ink is how much black a coverage of polygons holds, in pixels.
func ink(c *coverage) float64 {
	sum := 0.0
	c.spans(func(_, x0, x1 int, alpha uint8) { sum += float64(x1-x0) * float64(alpha) / 255 })
	return sum
}

// A triangle anywhere, also reaching out of the picture: every pixel's coverage
// is that of 16 × 16 places looked at one by one.
func TestCoverageAgainstLookingAtPlaces(t *testing.T) {
	const size, fine = 12, 16
	rapid.Check(t, func(t *rapid.T) {
		var p [3]point
		for i := range p {
			p[i] = point{rapid.Float64Range(-8, 20).Draw(t, "x"), rapid.Float64Range(-8, 20).Draw(t, "y")}
		}
		c := newCoverage(size, size)
		c.polygon(p[:]...)
		var got [size][size]float64
		c.spans(func(y, x0, x1 int, alpha uint8) {
			for x := x0; x < x1; x++ {
				got[y][x] = float64(alpha) / 255
			}
		})
		side := func(a, b point, x, y float64) bool { return (b.x-a.x)*(y-a.y)-(b.y-a.y)*(x-a.x) > 0 }
		for y := range size {
			for x := range size {
				n := 0
				for k := range fine * fine {
					px, py := float64(x)+(float64(k%fine)+0.5)/fine, float64(y)+(float64(k/fine)+0.5)/fine
					s := side(p[0], p[1], px, py)
					if s == side(p[1], p[2], px, py) && s == side(p[2], p[0], px, py) {
						n++
					}
				}
				if want := float64(n) / fine / fine; math.Abs(got[y][x]-want) > 0.1 {
					t.Fatalf("pixel (%d, %d) is covered by %.2f, want %.2f", x, y, got[y][x], want)
				}
			}
		}
	})
}

func TestInkOfShapesIsTheirArea(t *testing.T) {
	for name, c := range map[string]struct {
		draw func(c *canvas)
		want float64 // mm² at 10 pixels a mm
	}{
		"a disc": {func(c *canvas) { c.fill(c.flat(scene.Circle(scene.Point{X: 10, Y: 10}, 5))) }, 25 * math.Pi},
		"a ring": {func(c *canvas) {
			c.fill(c.flat(scene.Circle(scene.Point{X: 10, Y: 10}, 5).Without(scene.Circle(scene.Point{X: 10, Y: 10}, 3))))
		}, 16 * math.Pi},
		"a disc half off":           {func(c *canvas) { c.fill(c.flat(scene.Circle(scene.Point{X: 0, Y: 10}, 5))) }, 12.5 * math.Pi},
		"a disc off right and down": {func(c *canvas) { c.fill(c.flat(scene.Circle(scene.Point{X: 20, Y: 20}, 5))) }, 6.25 * math.Pi},
		"a line": {func(c *canvas) {
			pen{c.cover, 2.5, false}.stroke(c.flat(scene.Polyline(scene.Point{X: 3, Y: 3}, scene.Point{X: 15, Y: 8})), nil)
		}, 13 * 0.5},
		"a round line": {func(c *canvas) {
			pen{c.cover, 10, true}.stroke(c.flat(scene.Polyline(scene.Point{X: 3, Y: 3}, scene.Point{X: 15, Y: 8})), nil)
		}, 13*2 + math.Pi},
		"a frame with mitred corners": {func(c *canvas) {
			pen{c.cover, 10, false}.stroke(c.flat(scene.Rectangle(scene.Box{Left: 4, Top: 4, Right: 16, Bottom: 14})), nil)
		}, 14*12 - 10*8},
		"dashes": {func(c *canvas) {
			pen{c.cover, 5, false}.stroke(c.flat(scene.Polyline(scene.Point{X: 2, Y: 3}, scene.Point{X: 10, Y: 3}, scene.Point{X: 10, Y: 12})), []float64{20, 10})
		}, 12},
		"dots": {func(c *canvas) {
			pen{c.cover, 5, true}.stroke(c.flat(scene.Polyline(scene.Point{X: 2, Y: 3}, scene.Point{X: 11.5, Y: 3})), []float64{0, 20})
		}, 5 * math.Pi / 4},
		"two that lie on each other": {func(c *canvas) {
			c.fill(c.flat(scene.Rectangle(scene.Box{Left: 1, Top: 1, Right: 5, Bottom: 5})))
			c.fill(c.flat(scene.Rectangle(scene.Box{Left: 3, Top: 1, Right: 7, Bottom: 5})))
		}, 24},
	} {
		canvas := newCanvas(200, 200, 10)
		c.draw(canvas)
		if got := ink(canvas.cover) / 100; math.Abs(got-c.want) > 0.01*c.want+0.01 {
			t.Errorf("%s: %.3f mm² of ink, want %.3f", name, got, c.want)
		}
	}
}

// A mitre longer than four pens is cut off; a shorter one is not.
func TestMitres(t *testing.T) {
	reach := func(half float64) float64 { // how far left of its corner a sharp angle's ink goes
		c := newCanvas(400, 400, 1)
		b := point{200, 200}
		far := func(s float64) point {
			return point{200 + 150*math.Cos(half), 200 + s*150*math.Sin(half)}
		}
		pen{c.cover, 5, false}.line([]point{far(1), b, far(-1)}, false)
		left := 400
		c.cover.spans(func(_, x0, _ int, _ uint8) { left = min(left, x0) })
		return 200 - float64(left)
	}
	if got, want := reach(math.Asin(1/3.0)), 15.0; math.Abs(got-want) > 1 {
		t.Errorf("a mitre of three pens reaches %v pixels, want %v", got, want)
	}
	if got := reach(math.Asin(1 / 4.5)); got > 6 {
		t.Errorf("a mitre of 4.5 pens was not cut off: %v pixels", got)
	}
}

func newCanvas(width, height int, scale float64) *canvas {
	c := &canvas{cover: &coverage{}, face: newFace()}
	c.begin(width, height, scale)
	return c
}

// written is what a reader of PNG makes of a page.
func written(t testing.TB, q *Painter, p scene.Page, dpi float64) image.Image {
	t.Helper()
	var out bytes.Buffer
	if err := q.WritePNG(&out, p, dpi); err != nil {
		t.Fatal(err)
	}
	picture, err := png.Decode(&out)
	if err != nil {
		t.Fatal(err)
	}
	return picture
}

func paint(t testing.TB, dpi float64, marks ...scene.Mark) *image.RGBA {
	t.Helper()
	return written(t, new(Painter), scene.Page{Width: 25.4, Height: 25.4, Marks: marks}, dpi).(*image.RGBA)
}

func at(x, y, w, h float64) scene.Outline {
	return scene.Rectangle(scene.BoxAt(scene.Point{X: x, Y: y}, w, h))
}

func TestClipsCutAndClipsInClips(t *testing.T) {
	fill := scene.Path{Outline: at(-5, -5, 100, 100), Fill: scene.RGB(200, 0, 0)}
	picture := paint(t, 100, scene.Group{Clip: at(2.54, 2.54, 50, 5.08), Marks: []scene.Mark{
		scene.Group{Clip: at(-5, 5.08, 10.08, 50), Marks: []scene.Mark{fill}},
	}})
	red, white := color.RGBA{200, 0, 0, 255}, color.RGBA{255, 255, 255, 255}
	for p, want := range map[image.Point]color.RGBA{{10, 20}: red, {19, 29}: red, {9, 20}: white, {10, 19}: white, {10, 30}: white, {21, 25}: white} {
		if got := picture.RGBAAt(p.X, p.Y); got != want {
			t.Errorf("at %v is %v, want %v", p, got, want)
		}
	}
	whole := paint(t, 100, scene.Group{Clip: at(-5, -5, 100, 100), Marks: []scene.Mark{fill}}, scene.Group{Clip: at(50, 50, 1, 1), Marks: []scene.Mark{scene.Path{Outline: at(0, 0, 9, 9), Fill: scene.Black}}})
	for _, p := range []image.Point{{0, 0}, {99, 0}, {99, 99}, {50, 50}} {
		if got := whole.RGBAAt(p.X, p.Y); got != red {
			t.Errorf("a clip wider than the page: at %v is %v", p, got)
		}
	}
}

func TestTheFileSaysItsSizeAndIsGreyWhereItCan(t *testing.T) {
	page := scene.Page{Width: 25.4, Height: 50.8, Marks: []scene.Mark{scene.Text{At: scene.Point{X: 2, Y: 9}, String: "A", Size: 5}}}
	var out bytes.Buffer
	if err := WritePNG(&out, page, 100); err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(out.Bytes(), []byte("pHYs\x00\x00\x0f\x61\x00\x00\x0f\x61\x01")) { // 3937 pixels a metre
		t.Error("the file does not say 100 dots per inch")
	}
	picture, err := png.Decode(&out)
	if err != nil {
		t.Fatal(err)
	}
	if _, grey := picture.(*image.Gray); !grey || picture.Bounds() != image.Rect(0, 0, 100, 200) {
		t.Errorf("got %T of %v", picture, picture.Bounds())
	}
	page.Marks = append(page.Marks, scene.Path{Outline: at(1, 1, 1, 1), Fill: scene.RGB(1, 2, 3)})
	if err := WritePNG(&out, page, 100); err != nil {
		t.Fatal(err)
	}
	if picture, err := png.Decode(&out); err != nil || picture.(*image.RGBA).RGBAAt(5, 5) != (color.RGBA{1, 2, 3, 255}) {
		t.Errorf("the colour was lost, error %v", err)
	}
}

// A page gives the same bytes whatever its painter painted before: pages in colour and in grey, larger and smaller ones.
func TestSamePageSameBytes(t *testing.T) {
	grey := scene.Page{Width: 70, Height: 40, Marks: []scene.Mark{scene.Text{At: scene.Point{X: 2, Y: 9}, String: "A 12", Size: 5}}}
	pages := []scene.Page{specimen.Page(), grey, specimen.Sheet(1), grey, specimen.Page(), {Width: 5, Height: 300}}
	var kept Painter
	for i, p := range pages {
		var a, b bytes.Buffer
		if err := kept.WritePNG(&a, p, 90); err != nil {
			t.Fatal(err)
		}
		if err := WritePNG(&b, p, 90); err != nil || !bytes.Equal(a.Bytes(), b.Bytes()) {
			t.Errorf("page %d: two paintings differ, error %v", i, err)
		}
	}
}

// Cells of a row are sorted by column, and those of one pixel stay in the order in which they came.
func TestSortingKeepsTheOrderWithinAPixel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cells := make([]cell, rapid.IntRange(0, 300).Draw(t, "cells"))
		wide := rapid.IntRange(1, 400).Draw(t, "columns")
		for i := range cells {
			cells[i] = cell{x: int32(rapid.IntRange(0, wide-1).Draw(t, "x")), area: float64(i)}
		}
		sortByColumn(cells)
		for i := 1; i < len(cells); i++ {
			if a, b := cells[i-1], cells[i]; a.x > b.x || a.x == b.x && a.area > b.area {
				t.Fatalf("%v stands before %v", a, b)
			}
		}
	})
}

func TestWhatIsNotPainted(t *testing.T) {
	for want, c := range map[string]struct {
		page scene.Page
		dpi  float64
	}{
		"try fewer dots per inch": {scene.Page{Width: 841, Height: 594}, 1200},
		"at least 1 × 1":          {scene.Page{Width: 10, Height: 10}, math.NaN()},
		"0 × 0 pixels":            {scene.Page{}, 100},
		"mark 1: lettering":       {scene.Page{Width: 9, Height: 9, Marks: []scene.Mark{scene.Text{String: "x"}}}, 100},
	} {
		if err := WritePNG(io.Discard, c.page, c.dpi); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want %q", err, want)
		}
	}
}

func BenchmarkA1At100(b *testing.B) {
	sheet := specimen.Sheet(1)
	for b.Loop() {
		if err := WritePNG(io.Discard, sheet, 100); err != nil {
			b.Fatal(err)
		}
	}
}
