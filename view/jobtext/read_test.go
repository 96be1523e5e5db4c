package jobtext

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
)

// mustRead reads a job that has no faults.
func mustRead(t testing.TB, name, text string) job.Job {
	t.Helper()
	j, faults := Read(name, strings.NewReader(text))
	for _, f := range faults {
		t.Errorf("%s", printed(f))
	}
	if t.Failed() {
		t.FailNow()
	}
	return j
}

// printed is a fault as a person reads it.
func printed(f finding.Finding) string { return f.Render(measure.Metric) + "\n" }

func TestSamplesAreRead(t *testing.T) {
	walk := mustRead(t, "job.yaml", tenLines)
	if got := walk.Route.Walk; len(got) != 1 || got[0] != "24.3 m, right 90°, 12 m, arc left 30 m radius 45°" {
		t.Errorf("walk %q", got)
	}
	j := mustRead(t, "job.yaml", metric)
	s := j.Supplies[0]
	if s.Unit.Outer.Value != (job.Section{Width: 780 * measure.Millimetre, Height: 600 * measure.Millimetre}) || s.Unit.Outer.Page != "4" {
		t.Errorf("outer %+v", s.Unit.Outer)
	}
	if k := s.Saw.Kerf; !k.Assumed || k.Value != 5*measure.Millimetre || k.Note != "measured on two" {
		t.Errorf("kerf %+v", k)
	}
	if s.Unit.BatchNote != "lot 12: two corners\nwere mended\n" {
		t.Errorf("batch note %q", s.Unit.BatchNote)
	}
	if j.Route.Legs[0].Crossings[0].Strips[0].From != -1100*measure.Millimetre {
		t.Errorf("strips %+v", j.Route.Legs[0].Crossings[0].Strips)
	}
	us := mustRead(t, "job.yaml", imperial)
	if got := us.Route.Legs[0].Zones[0].To; got != 12*measure.Foot+measure.Inch/2 {
		t.Errorf("zone to %s", got)
	}
}

// A walk on a list of one and one text are the same job; so are YAML and JSON, whatever the name says of them.
func TestOneJobInManySpellings(t *testing.T) {
	want := mustRead(t, "a.yaml", tenLines)
	canonical := string(job.CanonicalJSON(want))
	for name, text := range map[string]string{
		"b.yaml": strings.Replace(tenLines, "walk: 24.3 m, right 90°, 12 m, arc left 30 m radius 45°", "walk: ['24.3 m, right 90°, 12 m, arc left 30 m radius 45°']", 1),
		"c.json": canonical,
		"d.yaml": canonical,
		"e":      "\n " + canonical,
		"f.YAML": "---\n# a remark\n" + tenLines + "...\n",
		"g.yml":  "\ufeff" + strings.ReplaceAll(tenLines, "\n", "\r\n"),
		"h":      strings.ReplaceAll(tenLines, "\n", "\r"),
	} {
		if diff := cmp.Diff(want, mustRead(t, name, text)); diff != "" {
			t.Errorf("%s differs (-want +got):\n%s", name, diff)
		}
	}
}

func TestDemoJobsAreRead(t *testing.T) {
	files, err := filepath.Glob("../../demo/*.yaml")
	if err != nil || len(files) < 3 {
		t.Fatalf("demo jobs: %v %v", files, err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		mustRead(t, filepath.Base(file), string(text))
	}
}

func TestFaultsAreCountedBeyondAHundred(t *testing.T) {
	text := tenLines + "yard:\n" + strings.Repeat("  - {supply: hand, length: 3}\n", 130)
	_, faults := Read("job.yaml", strings.NewReader(text))
	if len(faults) != 101 {
		t.Fatalf("%d faults", len(faults))
	}
	if got := printed(faults[100]); got != "job.yaml: fault: 30 more faults are not listed here.\n  try: Mend these first, and read the job again.\n" {
		t.Error(got)
	}
	if faults[0].Where.Line != 12 || faults[99].Where.Line != 111 {
		t.Errorf("the first is in line %d, the hundredth in line %d", faults[0].Where.Line, faults[99].Where.Line)
	}
}

// endless counts what is read of a stream that never ends.
type endless struct{ read int }

func (e *endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = '#'
	}
	e.read += len(p)
	return len(p), nil
}

func TestLargeFileIsRefusedUnread(t *testing.T) {
	large := &endless{}
	_, faults := Read("large.yaml", io.LimitReader(large, 200<<20))
	if len(faults) != 1 || printed(faults[0]) != "large.yaml: fault: This is larger than 8 MiB, which no job is.\n  try: Give the job file itself; surveys and pictures are attachments.\n" {
		t.Errorf("%v", faults)
	}
	if large.read > 2*job.MaxBytes {
		t.Errorf("%d bytes were read", large.read)
	}
}

type failing struct{}

func (failing) Read([]byte) (int, error) { return 0, errors.New("the disk is gone") }

func TestUnreadableStream(t *testing.T) {
	_, faults := Read("job.yaml", failing{})
	if len(faults) != 1 || printed(faults[0]) != "job.yaml: fault: It cannot be read: the disk is gone.\n" {
		t.Errorf("%v", faults)
	}
}

// Texts that are made to keep a reader busy are refused at once, or read.
func TestHostileTexts(t *testing.T) {
	fields := &bytes.Buffer{}
	for i := range 100_000 {
		fmt.Fprintf(fields, "k%d: v\n", i)
	}
	deeper := &bytes.Buffer{}
	for i := range 2000 {
		deeper.WriteString(strings.Repeat(" ", i) + "a:\n")
	}
	bomb := "a: &a [x, x]\n"
	for c := 'b'; c < 'z'; c++ {
		bomb += fmt.Sprintf("%c: &%c [*%c, *%c]\n", c, c, c-1, c-1)
	}
	for name, text := range map[string]string{
		"deep lists":      strings.Repeat("[", 1<<20),
		"deep groups":     strings.Repeat("{a: ", 1<<18),
		"deep dashes":     strings.Repeat("- ", 1<<18),
		"deep fields":     deeper.String(),
		"many fields":     fields.String(),
		"many documents":  strings.Repeat("---\na\n", 100_000),
		"names of groups": strings.Repeat("? ", 100_000),
		"alias bomb":      bomb,
		"one long line":   "name: " + strings.Repeat("word ", 500_000),
		"one long quote":  "name: \"" + strings.Repeat("word\n", 200_000),
		"many colons":     strings.Repeat(": ", 20_000),
		"blanks":          strings.Repeat(" ", 1<<20),
		"JSON lists":      "{\"a\":" + strings.Repeat("[", 1<<20),
		"JSON groups":     strings.Repeat("{\"a\":", 1<<18),
	} {
		_, faults := Read(name, strings.NewReader(text))
		if len(faults) == 0 {
			t.Errorf("%s: no fault", name)
			continue
		}
		if f := faults[0]; len(f.Text) > 400 || len(f.Where.Excerpt) > 1000 {
			t.Errorf("%s: a message of %d and %d bytes", name, len(f.Text), len(f.Where.Excerpt))
		}
	}
}
