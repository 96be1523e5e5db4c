package levelling

import (
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

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
