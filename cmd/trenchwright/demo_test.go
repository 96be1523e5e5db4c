package main

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"encoding/xml"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"trenchwright/demo"
	"trenchwright/job/planner/plancheck"
)

// contract are files that every pack of a job with cut pieces holds.
var contract = []string{
	"plan.json", "job.json", "findings.txt", "sheets-A3.pdf", "sheets-A1.pdf", "cut-cards-A4.pdf", "tables.xlsx",
	"csv/cutting.csv", "csv/schedule.csv", "csv/set-out.csv", "csv/bill.csv", "svg/strip-1.svg", "png/strip-1.png",
}

// TestDemoPacks plans every demo as `make demo` does, twice: the packs are whole, the same, and what other readers make of
// them is what the plan says.
func TestDemoPacks(t *testing.T) {
	one, two := t.TempDir(), t.TempDir()
	for _, dir := range []string{one, two} {
		if code, out, complaint := run("demo", "-o", dir); code != exitFound {
			t.Fatalf("it ended with %d\n%s%s", code, out, complaint)
		}
	}
	for _, name := range demo.Names() {
		t.Run(name, func(t *testing.T) {
			dir := filepath.Join(one, name)
			sameFiles(t, dir, filepath.Join(two, name))
			for _, f := range contract {
				if at, err := os.Stat(filepath.Join(dir, f)); err != nil || at.Size() == 0 {
					t.Errorf("%s is not in the pack, or empty", f)
				}
			}
			plan := read(t, filepath.Join(dir, "plan.json"))
			for _, bad := range plancheck.Check(plan, read(t, filepath.Join(dir, "job.json"))) {
				t.Error(bad)
			}
			places := placesOf(t, plan)
			readPDF(t, dir, places)
			readWorkbook(t, filepath.Join(dir, "tables.xlsx"), places)
		})
	}
}

func read(t *testing.T, name string) []byte {
	t.Helper()
	b, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// filesOf are the files below a folder.
func filesOf(t *testing.T, dir string) []string {
	t.Helper()
	var out []string
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			rel, _ := filepath.Rel(dir, path)
			out = append(out, rel)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// sameFiles compares two folders byte by byte.
func sameFiles(t *testing.T, a, b string) {
	t.Helper()
	names, other := filesOf(t, a), filesOf(t, b)
	if !slices.Equal(names, other) {
		t.Fatalf("%q and %q", names, other)
	}
	for _, n := range names {
		if !bytes.Equal(read(t, filepath.Join(a, n)), read(t, filepath.Join(b, n))) {
			t.Errorf("%s is not the same a second time", n)
		}
	}
}

// placesOf are the places of all units, and of those that are cut.
func placesOf(t *testing.T, plan []byte) (out struct{ all, cut []string }) {
	t.Helper()
	var p struct {
		Units []struct {
			Mark string
			Cut  bool
		}
	}
	if err := json.Unmarshal(plan, &p); err != nil || len(p.Units) == 0 {
		t.Fatalf("%d units: %v", len(p.Units), err)
	}
	for _, u := range p.Units {
		out.all = append(out.all, u.Mark)
		if u.Cut {
			out.cut = append(out.cut, u.Mark)
		}
	}
	return out
}

// readPDF has another program look at every PDF, and finds every place in the sheets and every cut one on a card.
func readPDF(t *testing.T, dir string, places struct{ all, cut []string }) {
	for _, f := range []struct {
		name  string
		holds []string
	}{{"sheets-A3.pdf", places.all}, {"sheets-A1.pdf", places.all}, {"cut-cards-A4.pdf", places.cut}} {
		at := filepath.Join(dir, f.name)
		if tool(t, "qpdf") {
			if out, err := exec.Command("qpdf", "--check", at).CombinedOutput(); err != nil {
				t.Errorf("qpdf: %s: %v\n%s", f.name, err, out)
			}
		}
		if tool(t, "pdftotext") {
			text, err := exec.Command("pdftotext", "-layout", at, "-").Output()
			if err != nil {
				t.Errorf("pdftotext: %s: %v", f.name, err)
			}
			missing(t, f.name, string(text), f.holds)
		}
	}
}

func missing(t *testing.T, where, text string, places []string) {
	t.Helper()
	var not []string
	for _, p := range places {
		if !strings.Contains(text, p) {
			not = append(not, p)
		}
	}
	if len(not) > 0 {
		t.Errorf("%s: nothing is said of %q", where, not)
	}
}

// readWorkbook opens the workbook as what it is, a zip of XML (ISO/IEC 29500), and finds every place in its cells.
func readWorkbook(t *testing.T, name string, places struct{ all, cut []string }) {
	t.Helper()
	z, err := zip.OpenReader(name)
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	var text strings.Builder
	sheets := 0
	for _, f := range z.File {
		if !strings.HasSuffix(f.Name, ".xml") {
			continue
		}
		if strings.HasPrefix(f.Name, "xl/worksheets/") {
			sheets++
		}
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		for d := xml.NewDecoder(r); ; {
			token, err := d.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatalf("%s: %v", f.Name, err)
			}
			if c, ok := token.(xml.CharData); ok {
				text.Write(c)
				text.WriteByte('\n')
			}
		}
		r.Close()
	}
	if sheets < 5 {
		t.Errorf("%d sheets in the workbook", sheets)
	}
	missing(t, "tables.xlsx", text.String(), places.all)
}
