package e2e

import (
	"bytes"
	"fmt"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"
	"time"
)

// TestPrint prints what a person prints: a paper that is open, what lies between two places, and the page as it stands. Every
// print has pages, and none of them is blank.
func TestPrint(t *testing.T) {
	for _, tool := range []string{"pdfinfo", "pdftoppm", "pdftotext"} {
		if _, err := exec.LookPath(tool); err != nil {
			if os.Getenv("CI") != "" {
				t.Fatal(err)
			}
			t.Skipf("SKIPPED: no %s on this machine: nothing that is printed was looked at. Install: poppler-utils", tool)
		}
	}
	s := serve(t, "--data", t.TempDir(), "--addr", "127.0.0.1:0")
	p := open(t, "chromium", "", s.address)
	p.to("/jobs/" + small + "/route")

	looked(t, "the page as it stands", p.Printed(), "Signal cable troughs")

	p.press("Between two places")
	p.Fill(".between label:nth-of-type(1) input", "A-001")
	p.Fill(".between label:nth-of-type(2) input", "A-004")
	p.press("say what lies there")
	p.Until(wait, "return document.querySelector('.between .printed')")
	looked(t, "between two places", p.Printed(), "A-001")

	p.press("Papers and files")
	p.Run(nil, "const make = URL.createObjectURL; URL.createObjectURL = (b) => ((globalThis.shown = b), make.call(URL, b))")
	p.Until(time.Minute, `return document.querySelector('[aria-label="open cut-cards-A4.pdf"]')`)
	p.Run(nil, `document.querySelector('[aria-label="open cut-cards-A4.pdf"]').click()`)
	p.Until(2*time.Minute, "return globalThis.shown && document.querySelector('dialog.viewer[open] iframe')")
	var paper []byte
	p.Await(&paper, "const b = new Uint8Array(await globalThis.shown.arrayBuffer()); let s = ''; for (const c of b) s += String.fromCharCode(c); return btoa(s)")
	looked(t, "a paper", paper, "")
	p.faultless()
}

// looked looks at every page of a print: something is on it. Says, where it is not empty, is said somewhere.
func looked(t *testing.T, what string, pdf []byte, says string) {
	t.Helper()
	dir := t.TempDir()
	at := filepath.Join(dir, "print.pdf")
	if err := os.WriteFile(at, pdf, 0o644); err != nil {
		t.Fatal(err)
	}
	run := func(name string, args ...string) []byte {
		out, err := exec.Command(name, args...).Output()
		if err != nil {
			t.Fatalf("%s: %s: %v", what, name, err)
		}
		return out
	}
	found := regexp.MustCompile(`(?m)^Pages:\s+(\d+)`).FindSubmatch(run("pdfinfo", at))
	if found == nil {
		t.Fatalf("%s: pdfinfo names no pages", what)
	}
	pages, _ := strconv.Atoi(string(found[1]))
	run("pdftoppm", "-r", "40", "-png", "-gray", at, filepath.Join(dir, "page"))
	drawn, _ := filepath.Glob(filepath.Join(dir, "page*.png"))
	if pages < 1 || len(drawn) != pages {
		t.Fatalf("%s: %d pages, %d of them drawn", what, pages, len(drawn))
	}
	for i, name := range drawn {
		if dark := darkPart(t, name); dark < 0.0005 {
			t.Errorf("%s: page %d of %d is blank (%.4f %% of it are dark)", what, i+1, pages, dark*100)
		}
	}
	if text := run("pdftotext", at, "-"); says != "" && !bytes.Contains(text, []byte(says)) {
		t.Errorf("%s: it does not say %q but %.400q", what, says, text)
	}
	t.Log(fmt.Sprintf("%s: %d pages", what, pages))
}

// darkPart is how much of a picture is darker than half.
func darkPart(t *testing.T, name string) float64 {
	t.Helper()
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	m, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	dark, all := 0, 0
	for y := m.Bounds().Min.Y; y < m.Bounds().Max.Y; y++ {
		for x := m.Bounds().Min.X; x < m.Bounds().Max.X; x++ {
			if r, _, _, _ := m.At(x, y).RGBA(); r < 0x8000 {
				dark++
			}
			all++
		}
	}
	return float64(dark) / float64(all)
}
