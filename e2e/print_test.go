package e2e

import (
	"encoding/json"
	"fmt"
	"image"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"trenchwright/tools/browser"
)

// TestPrint prints what a person prints: every paper that is open, what lies between two places, and the page as it stands. Every
// print says which state of the job it is of, and none of its pages is blank; a paper has each of its pages on one, of its size.
func TestPrint(t *testing.T) {
	t.Parallel()
	needPoppler(t)
	p, s := begun(t, "chromium", "/jobs/"+small+"/route")

	p.Until(wait, "return document.querySelector('.stamp .brief')?.textContent")
	looked(t, "the page as it stands", p.Printed(), "NOT ISSUED: state 1")

	p.press("Between two places")
	p.Fill(".between label:nth-of-type(1) input", "A-001")
	p.Fill(".between label:nth-of-type(2) input", "A-004")
	p.press("say what lies there")
	p.Until(wait, "return document.querySelector('.between .printed')")
	looked(t, "between two places", p.Printed(), "NOT ISSUED: state 1")

	p.press("Print, papers and files")
	p.press("of the other stages")
	for _, document := range []string{"sheets-A3.pdf", "cut-cards-A4.pdf", "set-out-cards-A4.pdf", "checking-pages-A4.pdf", "sheets-A1.pdf"} {
		var want []struct {
			Width  float64 `json:"width_mm"`
			Height float64 `json:"height_mm"`
		}
		if err := json.Unmarshal(fileOf(t, s, "DEMO-"+small, document+"/pages.json"), &want); err != nil {
			t.Fatal(err)
		}
		p.Until(time.Minute, "const b = document.querySelector(arguments[0]); if (b && !b.disabled) b.click(); return b && !b.disabled", `[aria-label="open `+document+`"]`)
		p.Until(2*time.Minute, "return [...document.querySelectorAll('dialog.viewer[open] button')].find(b => b.innerText === 'print' && !b.disabled)")
		pdf := p.Printed()
		looked(t, document, pdf, "")
		sizes := sizesOf(t, pdf)
		if len(sizes) != len(want) {
			t.Errorf("%s: printed on %d pages, it has %d", document, len(sizes), len(want))
		}
		for i := range min(len(sizes), len(want)) {
			if math.Abs(sizes[i][0]-want[i].Width) > 1 || math.Abs(sizes[i][1]-want[i].Height) > 1 {
				t.Errorf("%s: page %d is printed on %.1f mm x %.1f mm, it has %.0f mm x %.0f mm", document, i+1, sizes[i][0], sizes[i][1], want[i].Width, want[i].Height)
			}
		}
		printed, paper := inkOf(t, pdf), inkOf(t, fileOf(t, s, "DEMO-"+small, document))
		for i := range min(len(printed), len(paper)) {
			for side := range printed[i] {
				if math.Abs(printed[i][side]-paper[i][side]) > 3 {
					t.Errorf("%s: what stands on page %d reaches from left, top to right, bottom %.0f mm, on the paper itself %.0f mm", document, i+1, printed[i], paper[i])
					break
				}
			}
		}
		p.press("close")
		p.Until(wait, "return !document.querySelector('dialog.viewer')")
	}

	// a subject, a single sheet and a single card are papers of the size that stands in them
	p.press("every sheet and card by itself")
	var card string
	p.Until(wait, "return document.querySelector('[aria-label^=\"open svg/card-\"]')")
	p.Run(&card, "return document.querySelector('[aria-label^=\"open svg/card-\"]').ariaLabel.slice(5)")
	for _, one := range []struct {
		name  string
		sizes [][2]float64
	}{{"the strip", [][2]float64{{420, 297}}}, {"svg/strip-1.svg", [][2]float64{{420, 297}}}, {card, [][2]float64{{148, 105}}}} {
		p.Until(wait, "const b = document.querySelector(arguments[0]); if (b && !b.disabled) b.click(); return b && !b.disabled", `[aria-label="open `+one.name+`"]`)
		p.Until(wait, "return [...document.querySelectorAll('dialog.viewer[open] button')].find(b => b.innerText === 'print' && !b.disabled)")
		pdf := p.Printed()
		looked(t, one.name, pdf, "NOT ISSUED")
		sizes := sizesOf(t, pdf)
		if len(sizes) != len(one.sizes) {
			t.Fatalf("%s: printed on %d pages %.0f, want %.0f mm", one.name, len(sizes), sizes, one.sizes)
		}
		for i, want := range one.sizes {
			if math.Abs(sizes[i][0]-want[0]) > 1 || math.Abs(sizes[i][1]-want[1]) > 1 {
				t.Errorf("%s: page %d is printed on %.1f mm, it has %.0f mm", one.name, i+1, sizes[i], want)
			}
			if ink := inkOf(t, pdf)[i]; ink[2]-ink[0] < 0.8*want[0] {
				t.Errorf("%s: what stands on page %d reaches over %.0f mm of %.0f mm", one.name, i+1, ink[2]-ink[0], want[0])
			}
		}
		p.press("close")
		p.Until(wait, "return !document.querySelector('dialog.viewer')")
	}

	// the card of a cut piece leads to its cut card
	mark := strings.TrimSuffix(strings.TrimPrefix(card, "svg/card-"), ".svg")
	kind := "unit/"
	if strings.Contains(mark, ".") {
		kind = "cover/"
	}
	p.Go(s.address + "/jobs/" + small + "/order#" + kind + mark)
	p.press("cut card")
	p.Until(wait, "return document.querySelector('dialog.viewer[open] img')?.complete && document.querySelector('dialog.viewer strong').innerText.includes(arguments[0])", mark)
	p.faultless()
}

// TestPrintWaitsForAllPages prints from the list: the button counts the pages, can be stopped, and nothing is opened or printed before
// all of them are there; what a browser prints of its own while an opened paper is still being made has none of its pages.
func TestPrintWaitsForAllPages(t *testing.T) {
	t.Parallel()
	needPoppler(t)
	p, s := begun(t, "chromium", "/jobs/"+small+"/order", 360, 780)
	p.press("Print, papers and files")
	p.press("of the other stages")
	const document = "sheets-A3.pdf"
	var want []struct{}
	if err := json.Unmarshal(fileOf(t, s, "DEMO-"+small, document+"/pages.json"), &want); err != nil {
		t.Fatal(err)
	}
	p.Run(nil, `globalThis.prints = []; globalThis.print = () => prints.push(document.querySelectorAll('.on-paper .leaf').length);
		globalThis.counts = new Set(); globalThis.held = true;
		const real = globalThis.fetch;
		globalThis.fetch = async (a, ...more) => { while (held && /\/[2-9]\.svg/.test(String(a?.url ?? a))) await new Promise(later => setTimeout(later, 50)); return real(a, ...more); };
		new MutationObserver(() => { for (const b of document.querySelectorAll('.papers button')) if (/^making pages, /.test(b.innerText)) counts.add(b.innerText); }).observe(document.body, {subtree: true, childList: true, characterData: true})`)
	pressed := func(name string) {
		t.Helper()
		p.Until(wait, "const b = document.querySelector(`[aria-label=\"${arguments[0]}\"]`); if (b && !b.disabled) b.click(); return b && !b.disabled", name)
	}
	made := fmt.Sprintf("making pages, 1 of %d", len(want))
	pressed("print " + document)
	p.Until(wait, "return counts.has(arguments[0]) && !document.querySelector('dialog.viewer')", made)
	pressed("stop making " + document)
	p.Until(wait, "return document.querySelector(`[aria-label=\"print ${arguments[0]}\"]`).innerText === 'print'", document)

	pressed("open " + document)
	p.Until(wait, "return [...document.querySelectorAll('dialog.viewer[open] button')].find(b => b.innerText === arguments[0] && b.disabled)", made)
	pdf := p.Printed()
	looked(t, "while pages are made", pdf, fmt.Sprintf("Not printed: only 1 of %d pages", len(want)))
	if sizes := sizesOf(t, pdf); len(sizes) != 1 {
		t.Errorf("printed while 1 of %d pages was there: %d pages, want one that says so", len(want), len(sizes))
	}
	p.press("close")
	p.Until(wait, "return !document.querySelector('dialog.viewer')")

	pressed("print " + document)
	p.Run(nil, "globalThis.held = false")
	p.Until(wait, "return prints.length > 0")
	var prints []int
	p.Run(&prints, "return prints")
	if len(prints) != 1 || prints[0] != len(want) {
		t.Errorf("printed %v pages, want %d once", prints, len(want))
	}
	p.faultless()
}

// The other engine prints the same pages, on paper of any margins: as many, none of them blank, none cut; and what is drawn on the
// screen is on paper, too.
func TestPrintInWebKit(t *testing.T) {
	t.Parallel()
	needPoppler(t)
	s := serve(t, "--data", t.TempDir(), "--addr", "127.0.0.1:0")
	at := s.address + "/jobs/" + small + "/order"
	const planned = "!!document.querySelector('.stamp .brief')?.textContent && document.querySelectorAll('.rows td').length > 0 && !/planning|working the run out/.test(document.body.innerText)"
	read := func(file string) []byte {
		b, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	screen := read(browser.PrintedInWebKit(t, at, planned, browser.Paper{Width: 297, Height: 210, Margin: 8}))
	looked(t, "the page as it stands", screen, "NOT ISSUED: state 1")
	for _, one := range []struct {
		document string
		on       browser.Paper
	}{{"svg/strip-1.svg", browser.Paper{Width: 420, Height: 297}}, {"sheets-A3.pdf", browser.Paper{Width: 420, Height: 297}}, {"cut-cards-A4.pdf", browser.Paper{Width: 297, Height: 210, Margin: 10}}, {"svg/strip-1.svg", browser.Paper{Width: 210, Height: 297, Margin: 6}}} {
		want := make([]struct{}, 1)
		sheet := strings.HasSuffix(one.document, ".svg")
		if !sheet {
			if err := json.Unmarshal(fileOf(t, s, "DEMO-"+small, one.document+"/pages.json"), &want); err != nil {
				t.Fatal(err)
			}
		}
		opened := `(() => {
			const print = [...document.querySelectorAll('dialog.viewer[open] button')].find((b) => b.innerText === 'print');
			if (print) return !print.disabled;
			for (const f of document.querySelectorAll('details')) f.open = f.matches('.hand > .fold') ? /^Print/.test(f.innerText) : f.open || !!f.closest('.hand');
			const open = document.querySelector('[aria-label="open ` + one.document + `"]');
			if (open && !open.disabled && !globalThis.pressed) globalThis.pressed = !open.click();
			return false;
		})()`
		pdf := read(browser.PrintedInWebKit(t, at, opened, one.on))
		what := fmt.Sprintf("%s on %v", one.document, one.on)
		looked(t, what, pdf, "NOT ISSUED")
		if sizes := sizesOf(t, pdf); len(sizes) != len(want) {
			t.Errorf("%s: printed on %d pages, it has %d", what, len(sizes), len(want))
		}
		if sheet {
			one.document = "sheets-A3.pdf" // the strip is its first page
		}
		paper := inkOf(t, fileOf(t, s, "DEMO-"+small, one.document))
		for i, printed := range inkOf(t, pdf) {
			ratio := (printed[3] - printed[1]) / (printed[2] - printed[0]) * (paper[i][2] - paper[i][0]) / (paper[i][3] - paper[i][1])
			if math.Abs(ratio-1) > 0.03 {
				t.Errorf("%s: page %d is cut or squeezed: %.0f mm, on the paper itself %.0f mm", what, i+1, printed, paper[i])
			}
		}
	}
}

// needPoppler skips loudly where there is nothing to look at a PDF with.
func needPoppler(t *testing.T) {
	t.Helper()
	for _, tool := range []string{"pdfinfo", "pdftoppm", "pdftotext"} {
		if _, err := exec.LookPath(tool); err != nil {
			if os.Getenv("CI") != "" {
				t.Fatal(err)
			}
			t.Skipf("SKIPPED: no %s on this machine: nothing that is printed was looked at. Install: poppler-utils", tool)
		}
	}
}

// sizesOf are width and height of every page in mm.
func sizesOf(t *testing.T, pdf []byte) (sizes [][2]float64) {
	t.Helper()
	at := filepath.Join(t.TempDir(), "print.pdf")
	if err := os.WriteFile(at, pdf, 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("pdfinfo", "-f", "1", "-l", "999", at).Output()
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range regexp.MustCompile(`(?m)^Page +\d+ size: +([\d.]+) x ([\d.]+) pts`).FindAllSubmatch(out, -1) {
		w, _ := strconv.ParseFloat(string(m[1]), 64)
		h, _ := strconv.ParseFloat(string(m[2]), 64)
		sizes = append(sizes, [2]float64{w * 25.4 / 72, h * 25.4 / 72})
	}
	return sizes
}

// inkOf is how far what is drawn on every page reaches: left, top, right, bottom in mm.
func inkOf(t *testing.T, pdf []byte) (boxes [][4]float64) {
	t.Helper()
	dir := t.TempDir()
	at := filepath.Join(dir, "print.pdf")
	if err := os.WriteFile(at, pdf, 0o644); err != nil {
		t.Fatal(err)
	}
	const dpi = 40
	if err := exec.Command("pdftoppm", "-r", fmt.Sprint(dpi), "-png", "-gray", at, filepath.Join(dir, "page")).Run(); err != nil {
		t.Fatal(err)
	}
	names, _ := filepath.Glob(filepath.Join(dir, "page*.png"))
	for _, name := range names {
		box := [4]float64{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
		m := pictureOf(t, name)
		for y := m.Bounds().Min.Y; y < m.Bounds().Max.Y; y++ {
			for x := m.Bounds().Min.X; x < m.Bounds().Max.X; x++ {
				if r, _, _, _ := m.At(x, y).RGBA(); r < 0xf800 {
					at := [2]float64{float64(x) * 25.4 / dpi, float64(y) * 25.4 / dpi}
					box = [4]float64{min(box[0], at[0]), min(box[1], at[1]), max(box[2], at[0]), max(box[3], at[1])}
				}
			}
		}
		boxes = append(boxes, box)
	}
	return boxes
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
	tight := func(text string) string { return strings.Join(strings.Fields(text), "") } // small letters may be set one by one
	if text := run("pdftotext", at, "-"); !strings.Contains(tight(string(text)), tight(says)) {
		t.Errorf("%s: it does not say %q but %.400q", what, says, text)
	}
	t.Log(fmt.Sprintf("%s: %d pages", what, pages))
}

func pictureOf(t *testing.T, name string) image.Image {
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
	return m
}

// darkPart is how much of a picture is darker than half.
func darkPart(t *testing.T, name string) float64 {
	t.Helper()
	m := pictureOf(t, name)
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
