package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"trenchwright/bench/kept"
)

func TestPartOfValues(t *testing.T) {
	v := make([]float64, 100)
	for i := range v {
		v[i] = float64(100 - i)
	}
	for hundredths, want := range map[int]float64{0: 1, 50: 50, 95: 95, 100: 100} {
		if got := part(v, hundredths); got != want {
			t.Errorf("%d of 100: %g, not %g", hundredths, got, want)
		}
	}
	if got := part([]float64{3, 1, 2}, 95); got != 3 {
		t.Errorf("of three values the 95th percentile is the greatest, not %g", got)
	}
}

// The table goes between the marks of the README and nothing else there changes.
func TestTableGoesIntoTheReadme(t *testing.T) {
	dir := t.TempDir()
	var r report
	r.timed("drag", "5,000 units", []float64{10, 20, 70}, 60, 95)
	readme, results := filepath.Join(dir, "README.md"), filepath.Join(dir, "results.md")
	for name, text := range map[string]string{readme: "before\n" + "<!-- bench-web -->\n" + "old\n" + "<!-- end of bench-web -->" + "after\n", results: r.markdown()} {
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := kept.IntoReadme(readme, results, "bench-web"); err != nil {
		t.Fatal(err)
	}
	b, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	got := string(b)
	if !strings.HasPrefix(got, "before\n"+"<!-- bench-web -->\n") || !strings.HasSuffix(got, "<!-- end of bench-web -->"+"after\n") || strings.Contains(got, "old") {
		t.Errorf("the README became\n%s", got)
	}
	if want := "| drag | 5,000 units, 3 times | 20.0 ms | 70.0 ms | p95 60.0 ms | does not meet |"; !strings.Contains(got, want) {
		t.Errorf("no line %q in\n%s", want, got)
	}
	if err := kept.IntoReadme(results, results, "bench-web"); err == nil {
		t.Error("a file without the marks was taken")
	}
}
