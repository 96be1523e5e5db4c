package pdf_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"trenchwright/view/scene"
	"trenchwright/view/scene/face"
	"trenchwright/view/scene/internal/specimen"
	"trenchwright/view/scene/pdf"
)

func written(t testing.TB, d scene.Document) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := pdf.Write(&out, d); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// ask runs a reader of PDF on a document; the test is skipped where the
// machine does not have it.
func ask(t *testing.T, document []byte, tool string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(tool); err != nil {
		t.Skipf("SKIPPED: %s is not on this machine, so nobody else has read this PDF", tool)
	}
	file := filepath.Join(t.TempDir(), "document.pdf")
	if err := os.WriteFile(file, document, 0o600); err != nil {
		t.Fatal(err)
	}
	for i, a := range args {
		if a == "FILE" {
			args[i] = file
		}
	}
	out, err := exec.Command(tool, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s %v: %v\n%s", tool, args, err, out)
	}
	return string(out)
}

func bundle() scene.Document {
	page := func(w, h float64, title, name string, level int, marks ...scene.Mark) scene.Page {
		return scene.Page{Width: w, Height: h, Title: title, Name: name, Level: level, Marks: marks}
	}
	text := scene.Text{At: scene.Point{X: 20, Y: 20}, String: "Zug 1 (unten) \\ 100 %", Size: 2.5, Weight: scene.Bold}
	back := scene.Link{Area: scene.Box{Left: 10, Top: 10, Right: 30, Bottom: 20}, To: "#strip"}
	return scene.Document{
		Title: "Depot East ⌀", Subject: "issued 7", Author: "Jörg (planner)", Keywords: "run, cut list", Language: "en-GB",
		Date: time.Date(2031, 5, 6, 7, 8, 9, 0, time.UTC),
		Pages: []scene.Page{
			specimen.Page(),
			page(841, 594, "Strip ½", "strip", 0, text),
			page(105, 148, "Cut cards", "", 2, text), // deeper than its place allows
			page(105, 148, "A-017", "A-017", 1, text, back),
			page(105, 148, "unlisted", "", -1, text),
			page(297, 420, "Schedule", "", 0, text, scene.Link{Area: scene.Box{Right: 9, Bottom: 9}, To: "https://example.org/a?b=(c)"}),
		},
	}
}

func TestOtherProgramsReadTheFile(t *testing.T) {
	out := ask(t, written(t, bundle()), "qpdf", "--check", "FILE")
	if strings.Contains(out, "WARNING") || !strings.Contains(out, "No syntax or stream encoding errors") {
		t.Error(out)
	}
}

func TestTextCanBeFoundAndCopied(t *testing.T) {
	text := ask(t, written(t, bundle()), "pdftotext", "-layout", "FILE", "-")
	for _, want := range []string{specimen.Signs, "Specimen of marks", "12′-3 ½″", "AV To fi ff ffi: no kerning", "7′-10 15/16″", "Zug 1 (unten) \\ 100 %", "14 994"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in the text", want)
		}
	}
	if n := strings.Count(text, specimen.Signs); n != 2 {
		t.Errorf("the signs stand %d times, want once in each weight", n)
	}
}

func TestWhatTheFileSaysAboutItself(t *testing.T) {
	info := ask(t, written(t, bundle()), "pdfinfo", "-isodates", "-f", "1", "-l", "3", "FILE")
	for _, want := range []string{"Title: +Depot East ⌀", "Subject: +issued 7", "Author: +Jörg \\(planner\\)", "Keywords: +run, cut list",
		"Producer: +Trenchwright", "CreationDate: +2031-05-06T07:08:09", "Pages: +6",
		"Page +1 size: +595.28 x 841.89 pts", "Page +2 size: +2383.94 x 1683.78 pts", "Page +3 size: +297.64 x 419.53 pts"} {
		if !regexp.MustCompile(want).MatchString(info) {
			t.Errorf("%q is not in\n%s", want, info)
		}
	}
	if info := ask(t, written(t, scene.Document{Pages: []scene.Page{{Width: 10, Height: 10}}}), "pdfinfo", "-isodates", "FILE"); !strings.Contains(info, "1970-01-01") {
		t.Errorf("a document without a date says\n%s", info)
	}
}

func TestFacesAreSubsetsInside(t *testing.T) {
	document := written(t, bundle())
	fonts := ask(t, document, "pdffonts", "FILE")
	if n := len(regexp.MustCompile(`(?m)^\S.* yes .* yes +\d+ +\d+$`).FindAllString(fonts, -1)); n != 2 {
		t.Errorf("%d faces are inside and have their letters' names:\n%s", n, fonts)
	}
	if len(document) > 120e3 {
		t.Errorf("six pages take %d bytes; the whole faces would take %d", len(document), len(face.Regular)+len(face.Bold))
	}
}

// Bookmarks lead to the top of their own page, whatever the sizes of pages.
func TestBookmarksAndLinks(t *testing.T) {
	text := ask(t, written(t, bundle()), "qpdf", "--json=1", "--json-key=outlines", "--json-key=objects", "FILE")
	type outline struct {
		Title    string
		Page     int `json:"destpageposfrom1"`
		Dest     []any
		Children []outline `json:"kids"`
	}
	var file struct {
		Outlines []outline
		Objects  map[string]any
	}
	if err := json.Unmarshal([]byte(text), &file); err != nil {
		t.Fatal(err)
	}
	var got []string
	var list func(indent string, marks []outline)
	list = func(indent string, marks []outline) {
		for _, m := range marks {
			got = append(got, fmt.Sprint(indent, m.Title, " ", m.Page, " ", m.Dest[3]))
			list(indent+"-", m.Children)
		}
	}
	list("", file.Outlines)
	want := []string{"Specimen 1 841.89", "Strip ½ 2 1683.78", "-Cut cards 3 419.53", "-A-017 4 419.53", "Schedule 6 1190.55"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if w := `"/URI": "https://example.org/a?b=(c)"`; !strings.Contains(text, w) {
		t.Errorf("no %s", w)
	}
	if n := strings.Count(text, `"/Subtype": "/Link"`); n != 3 {
		t.Errorf("%d links, want 3", n)
	}
}

func TestSameDocumentSameBytes(t *testing.T) {
	fonts := func() [32]byte {
		return sha256.Sum256(append(bytes.Clone(face.Regular), face.Bold...))
	}
	before, first := fonts(), written(t, bundle())
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			var out bytes.Buffer
			if err := pdf.Write(&out, bundle()); err != nil || !bytes.Equal(out.Bytes(), first) {
				t.Errorf("another writing differs, error %v", err)
			}
		})
	}
	all.Wait()
	if fonts() != before {
		t.Error("writing changed the faces in memory")
	}
}

func TestWhatIsRefused(t *testing.T) {
	ok := scene.Page{Width: 10, Height: 10}
	bad := scene.Page{Title: "bad", Width: 10, Height: 10, Marks: []scene.Mark{scene.Text{String: "x"}}}
	astray := scene.Page{Title: "astray", Width: 10, Height: 10, Marks: []scene.Mark{scene.Link{To: "#nowhere"}}}
	for want, d := range map[string]scene.Document{
		"a document without a page":                             {},
		"page \"bad\": mark 1: lettering":                       {Pages: []scene.Page{ok, bad}},
		"page \"astray\": a link leads to \"#nowhere\", but no": {Pages: []scene.Page{astray}},
		"two pages have the name \"a\"":                         {Pages: []scene.Page{{Name: "a", Width: 1, Height: 1}, {Name: "a", Width: 1, Height: 1}}},
		"language \"en) /X (\" is not a tag":                    {Language: "en) /X (", Pages: []scene.Page{ok}},
		"sides of at most 5080 mm":                              {Pages: []scene.Page{{Width: 6000, Height: 10}}},
	} {
		var out bytes.Buffer
		if err := pdf.Write(&out, d); err == nil || !strings.Contains(err.Error(), want) || out.Len() > 0 {
			t.Errorf("error %v and %d bytes, want %q", err, out.Len(), want)
		}
	}
}

// Lettering of any string goes through, and what the face lacks is marked.
func FuzzAnyLettering(f *testing.F) {
	for _, s := range []string{"", "a(b)\\c\r\n", "\x00\xff", "李 𝔄 \ufffd", "\u0301", "(((", "\u00ad\u200b"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		page := scene.Page{Width: 50, Height: 50, Title: s, Marks: []scene.Mark{scene.Text{String: s, Size: 2, Weight: scene.Bold}}}
		if err := pdf.Write(io.Discard, scene.Document{Title: s, Author: s, Pages: []scene.Page{page}}); err != nil {
			t.Error(err)
		}
	})
}

func BenchmarkTwentySheetsA1(b *testing.B) {
	d := scene.Document{Title: "bench"}
	for i := range 20 {
		d.Pages = append(d.Pages, specimen.Sheet(i))
	}
	var size int
	for b.Loop() {
		size = len(written(b, d))
	}
	b.ReportMetric(float64(size)/1e6, "MB")
}
