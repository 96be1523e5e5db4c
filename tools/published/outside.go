package published

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// Status is how far a value from outside can be trusted.
type Status string

// The statuses, by their letters.
const (
	R  Status = "R"  // inputs and value were read in a stored copy of the source
	Ri Status = "Ri" // inputs were read; the value is missing or wrong there, and was worked out again
	M  Status = "M"  // from memory: nothing comes to a verdict by it
	C  Status = "C"  // closed form
)

// Set is values of one quantity from outside. They are written here and nowhere else: the test that it names walks them by Hold, and
// docs/checks.md lists them.
type Set struct {
	Name   string  // load.point
	ID     string  // where the values were gathered: 4.6
	What   string  // what each line gives, and what it comes to, with units
	Lines  string  // "400 2 0 = 47.746 28.6±0.05"; "none" is no value
	Within float64 // of values that do not say so themselves
	Source string  // standard and clause, or book
	Status Status
	Test   string // solve/check/load.TestSoilAsPublished
}

// Row is one line of a set.
type Row struct {
	Given  Given
	Comes  []float64 // NaN: no value
	Within []float64
}

// Given are the words before the equals sign.
type Given []string

// N is a word that is a number; NaN where it is none.
func (g Given) N(i int) float64 {
	x, err := strconv.ParseFloat(g[i], 64)
	if err != nil {
		return math.NaN()
	}
	return x
}

// Rows reads the lines of a set.
func (s *Set) Rows() ([]Row, error) {
	var rows []Row
	for _, line := range strings.Split(strings.TrimSpace(s.Lines), "\n") {
		given, comes, ok := strings.Cut(line, "=")
		r := Row{Given: strings.Fields(given)}
		for _, word := range strings.Fields(comes) {
			word, plus, own := strings.Cut(word, "±")
			x, err := strconv.ParseFloat(word, 64)
			if word == "none" {
				x, err = math.NaN(), nil
			}
			within := s.Within
			if err == nil && own {
				within, err = strconv.ParseFloat(plus, 64)
			}
			if err != nil {
				return nil, fmt.Errorf("%s: %q: %w", s.Name, line, err)
			}
			r.Comes, r.Within = append(r.Comes, x), append(r.Within, within)
		}
		if !ok || len(r.Comes) == 0 {
			return nil, fmt.Errorf("%s: %q gives no value", s.Name, line)
		}
		rows = append(rows, r)
	}
	return rows, nil
}

// Sets are all values from outside, by their ids.
func Sets() []Set {
	return slices.Concat(excavation, load, lifting, cable, compaction, geometry, programme)
}

// lines are the set of a name and its lines.
func lines(t testing.TB, name string) (Set, []Row) {
	t.Helper()
	all := Sets()
	i := slices.IndexFunc(all, func(s Set) bool { return s.Name == name })
	if i < 0 {
		t.Fatalf("no values from outside are called %s", name)
	}
	rows, err := all[i].Rows()
	if err != nil {
		t.Fatal(err)
	}
	return all[i], rows
}

// Lines is what all lines of a set give, for a test that has to have it at once.
func Lines(t testing.TB, name string) (all []Given) {
	t.Helper()
	_, rows := lines(t, name)
	for _, r := range rows {
		all = append(all, r.Given)
	}
	return all
}

// Hold holds what comes of each line of a set against what is written behind it. It is called by the test that the set names.
func Hold(t testing.TB, name string, comes func(g Given) []float64) {
	t.Helper()
	s, rows := lines(t, name)
	if test, _, _ := strings.Cut(t.Name(), "/"); !strings.HasSuffix(s.Test, "."+test) {
		t.Errorf("%s says that %s holds it, and %s does", name, s.Test, test)
	}
	for _, r := range rows {
		got := comes(r.Given)
		if len(got) != len(r.Comes) {
			t.Errorf("%s (%s, %s): %s: %v, want %v", name, s.Source, s.Status, strings.Join(r.Given, " "), got, r.Comes)
			continue
		}
		for k, want := range r.Comes {
			if math.IsNaN(want) != math.IsNaN(got[k]) || math.Abs(got[k]-want) > r.Within[k] {
				t.Errorf("%s (%s, %s): %s: %.8g, want %v within %g", name, s.Source, s.Status, strings.Join(r.Given, " "), got[k], want, r.Within[k])
			}
		}
	}
}
