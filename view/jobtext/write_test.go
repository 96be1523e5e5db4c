package jobtext

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"trenchwright/base/measure"
	"trenchwright/job"
)

func written(t testing.TB, j job.Job) string {
	t.Helper()
	var out bytes.Buffer
	if err := WriteYAML(&out, j); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

func TestWrittenJobIsReadAgain(t *testing.T) {
	texts := map[string]string{"ten lines": tenLines, "metric": metric, "imperial": imperial}
	files, _ := filepath.Glob("../../demo/*.yaml")
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		texts[file] = string(text)
	}
	for name, text := range texts {
		j := mustRead(t, "job.yaml", text)
		first := written(t, j)
		again := mustRead(t, "again.yaml", first)
		if diff := cmp.Diff(j, again); diff != "" {
			t.Errorf("%s: read(write(j)) differs (-j +again):\n%s\n%s", name, diff, first)
		}
		if second := written(t, again); first != second {
			t.Errorf("%s: the second writing differs", name)
		}
		for line := range strings.Lines(first) {
			if n := utf8.RuneCountInString(line) - 1; n > lineWidth && strings.ContainsAny(line, "[{") {
				t.Errorf("%s: a group in one line of %d: %s", name, n, line)
			}
		}
	}
}

func TestWrittenJobReadsWell(t *testing.T) {
	const want = `format: 1
name: Cable run behind the workshop

supplies:
  - id: hand
    unit:
      lengths: [1000 mm]
      inner: 200 mm x 150 mm
      outer: 290 mm x 200 mm
      mass: 70 kg/m
    joint: {gap: 4 mm in 0 mm..9 mm, mitre_gap: 5 mm}
    saw: {shortest: 250 mm, kerf: 4 mm}
    cover:
      lengths: [496 mm]
      gap: 4 mm
      width: 250 mm
      lifted_by: hand

route: {walk: ["24.3 m, right 90°, 12 m, arc left 30 m radius 45°"]}
`
	got := written(t, mustRead(t, "job.yaml", tenLines))
	if got != want {
		t.Errorf("got:\n%s", got)
	}
}

// Whatever stands in the free texts of a job, YAML gives it back.
func TestAnyTextSurvivesYAML(t *testing.T) {
	good := mustRead(t, "job.yaml", metric)
	canonical := job.CanonicalJSON(good)
	signs := []rune("ab0 19.-,:#'\"{}[]&*!|>%@`\\/?~=<\n\t°½×äß中🚧\u00a0\u0300")
	random := rapid.OneOf(
		rapid.StringOfN(rapid.RuneFrom(signs), 1, 12, -1),
		rapid.StringOfN(rapid.RuneFrom(nil, unicode.PrintRanges...), 1, 20, -1),
		rapid.SampledFrom([]string{"true", "No", "~", "null", ".nan", "0x1F", "1_000", "1e3", "-1", "+5", "007", "2026-03-02", "12:30", "- a", "a: b", "a #b", "#", "<<", "---", "...", "? a", "'", "\"", "\n", " ", "a ", "\ta", "a\n", "\na", "a\n\nb\n"}),
	)
	rapid.Check(t, func(t *rapid.T) {
		j, _ := job.FromJSON(canonical)
		fillTexts(reflect.ValueOf(&j).Elem(), func() string { return random.Draw(t, "text") })
		var out bytes.Buffer
		if err := WriteYAML(&out, j); err != nil {
			t.Fatal(err)
		}
		again, faults := Read("job.yaml", &out)
		if diff := cmp.Diff(j, again); diff != "" {
			t.Fatalf("read(write(j)) differs (-j +again):\n%s\n%v", diff, faults)
		}
	})
}

// fillTexts gives every text that is there another one.
func fillTexts(v reflect.Value, text func() string) {
	switch v.Kind() {
	case reflect.String:
		if v.String() != "" {
			v.SetString(text())
		}
	case reflect.Pointer:
		if !v.IsNil() {
			fillTexts(v.Elem(), text)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			fillTexts(v.Index(i), text)
		}
	case reflect.Struct:
		if v.Type() != reflect.TypeFor[measure.Window]() {
			for i := range v.NumField() {
				fillTexts(v.Field(i), text)
			}
		}
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("the disk is full") }

func TestWriteErrorIsGivenBack(t *testing.T) {
	if err := WriteYAML(full{}, mustRead(t, "job.yaml", metric)); err == nil || err.Error() != "the disk is full" {
		t.Errorf("got %v", err)
	}
}
