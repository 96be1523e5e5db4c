package levelling

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// shared is a file of the folder of outside checks beside the repository; without it the test is skipped, loudly.
func shared(t testing.TB, name string) []byte {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			break
		}
		if dir == filepath.Dir(dir) {
			t.Fatal("no go.mod above the test")
		}
		dir = filepath.Dir(dir)
	}
	data, err := os.ReadFile(filepath.Join(dir, "..", "shared", name))
	if err != nil {
		t.Skipf("SKIPPED, NOT CHECKED AGAINST THE OUTSIDE: no ../shared/%s", name)
	}
	return data
}

// vector is one published value of ../shared/checks/vectors.json.
type vector struct {
	ID, Kind, Source string
	Input, Expect    json.RawMessage
	Tol              float64
}

func vectors(t *testing.T, kind string, least int) []vector {
	t.Helper()
	var all, out []vector
	decode(t, shared(t, "checks/vectors.json"), &all)
	for _, v := range all {
		if v.Kind == kind {
			out = append(out, v)
		}
	}
	if len(out) < least {
		t.Fatalf("%d published values of kind %s, want %d", len(out), kind, least)
	}
	return out
}

func decode(t *testing.T, raw []byte, into any) {
	t.Helper()
	if err := json.Unmarshal(raw, into); err != nil {
		t.Fatal(err)
	}
}

// units is a figure of a book without a unit: as if in metres.
func units(x float64) measure.Length { return measure.FromMetres(x) }

// opt is an optional figure; nil where x is nil.
func opt(x *float64) *measure.Length {
	if x == nil {
		return nil
	}
	return new(units(*x))
}

// none fails the test where anything was said.
func none(t testing.TB, l finding.List) {
	t.Helper()
	if len(l) > 0 {
		t.Fatalf("unexpected:\n%s", l.Render(measure.Metric))
	}
}

// spoken holds findings to the rules of speech.
func spoken(t testing.TB, l finding.List) {
	t.Helper()
	for _, f := range l {
		for _, bad := range finding.Speech(f) {
			t.Errorf("%s: %s", f, bad)
		}
	}
}

func near(t testing.TB, what string, got measure.Length, want, tol float64) {
	t.Helper()
	if d := got.Metres() - want; d > tol || d < -tol {
		t.Errorf("%s: got %s, want %v ± %v", what, got.MString(), want, tol)
	}
}
