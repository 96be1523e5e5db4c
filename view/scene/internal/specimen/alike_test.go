package specimen_test

import (
	"bytes"
	"image"
	"image/png"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"trenchwright/view/scene"
	"trenchwright/view/scene/internal/specimen"
	"trenchwright/view/scene/pdf"
	"trenchwright/view/scene/raster"
)

// The three writers give one picture: our own PNG against the PDF and the SVG
// as other programs paint them. Ink is compared in squares of 1 mm, so that
// each program's way with the edges of lines does not count, and every line,
// dash, dot and letter does.
func TestThreeWritersGiveOnePicture(t *testing.T) {
	const dpi = "300"
	dir := t.TempDir()
	write := func(name string, to func(io.Writer) error) string {
		var out bytes.Buffer
		if err := to(&out); err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(dir, name)
		if err := os.WriteFile(file, out.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
		return file
	}
	own := func(page scene.Page) [][]float64 {
		return squares(t, write("own.png", func(w io.Writer) error { return raster.WritePNG(w, page, 300) }))
	}
	t.Run("PDF", func(t *testing.T) {
		page := specimen.Page()
		pdfFile := write("page.pdf", func(w io.Writer) error { return pdf.Write(w, scene.Document{Pages: []scene.Page{page}}) })
		run(t, "pdftoppm", "-r", dpi, "-png", "-singlefile", pdfFile, filepath.Join(dir, "pdf"))
		compare(t, own(page), squares(t, filepath.Join(dir, "pdf.png")), 0.2, 0.1)
	})
	t.Run("SVG", func(t *testing.T) {
		if out, err := exec.Command("fc-list", "DejaVu Sans Condensed").Output(); err != nil || len(strings.TrimSpace(string(out))) == 0 {
			t.Skip("SKIPPED: the face DejaVu Sans Condensed is not on this machine, so no other program can paint this SVG in it")
		}
		page := specimen.Page()
		page.Marks = page.Marks[:len(page.Marks)-1] // librsvg kerns, whatever an SVG says
		svgFile := write("page.svg", func(w io.Writer) error { return scene.WriteSVG(w, page) })
		run(t, "rsvg-convert", "-d", dpi, "-p", dpi, svgFile, "-o", filepath.Join(dir, "svg.png"))
		compare(t, own(page), squares(t, filepath.Join(dir, "svg.png")), 0.13, 0.03)
	})
}

func run(t *testing.T, tool string, args ...string) {
	t.Helper()
	if _, err := exec.LookPath(tool); err != nil {
		t.Skipf("SKIPPED: %s is not on this machine, so nothing was compared", tool)
	}
	if out, err := exec.Command(tool, args...).CombinedOutput(); err != nil {
		t.Fatalf("%s: %v\n%s", tool, err, out)
	}
}

// squares is the part of ink in each square of 12 pixels: 1.016 mm at 300 dpi.
func squares(t *testing.T, file string) [][]float64 {
	t.Helper()
	content, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	picture, err := png.Decode(bytes.NewReader(content))
	if err != nil {
		t.Fatal(err)
	}
	const side = 12
	size := picture.Bounds().Size().Div(side)
	rows := make([][]float64, size.Y)
	for y := range rows {
		rows[y] = make([]float64, size.X)
		for x := range rows[y] {
			sum := 0.0
			for k := range side * side {
				sum += 1 - luma(picture, x*side+k%side, y*side+k/side)
			}
			rows[y][x] = sum / side / side
		}
	}
	return rows
}

func luma(picture image.Image, x, y int) float64 {
	r, g, b, _ := picture.At(x, y).RGBA()
	return (0.299*float64(r) + 0.587*float64(g) + 0.114*float64(b)) / 0xffff
}

// compare takes the most that one square and that all ink may differ. The PDF
// reader moves each thin line to whole pixels, so more is allowed there.
func compare(t *testing.T, a, b [][]float64, square, all float64) {
	t.Helper()
	rows, columns := min(len(a), len(b)), min(len(a[0]), len(b[0]))
	worst, sum, inkA, inkB := 0.0, 0.0, 0.0, 0.0
	var where image.Point
	for y := range rows {
		for x := range columns {
			d := math.Abs(a[y][x] - b[y][x])
			if d > worst {
				worst, where = d, image.Pt(x, y)
			}
			sum, inkA, inkB = sum+d, inkA+a[y][x], inkB+b[y][x]
		}
	}
	t.Logf("worst square %.3f at %v, mean difference %.2f %% of the ink, ink %.1f against %.1f", worst, where, 100*sum/inkA, inkA, inkB)
	if worst > square || sum > all*inkA || math.Abs(inkA-inkB) > 0.04*inkA {
		t.Errorf("the pictures differ: worst square %.3f at (%d, %d) mm, %.1f %% of the ink lies elsewhere", worst, where.X, where.Y, 100*sum/inkA)
	}
}
