package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// legSaid is `trenchwright leg --json`, read by its documented keys and nothing else of ours.
type legSaid struct {
	Verdict string `json:"verdict"`
	Why     string `json:"why"`
	Units   []struct {
		Start  float64 `json:"start_mm"`
		Length float64 `json:"length_mm"`
		Cut    bool    `json:"cut"`
		Covers []struct {
			Length float64 `json:"length_mm"`
			Cut    bool    `json:"cut"`
		} `json:"covers"`
	} `json:"units"`
	Count struct {
		Units     int `json:"units"`
		Cuts      int `json:"cuts"`
		CutCovers int `json:"cut_covers"`
		Bought    int `json:"bought"`
	} `json:"count"`
	Assumed []string `json:"assumed"`
}

// lengths are the lengths of the units, those of cut ones or of all.
func (s legSaid) lengths(all bool) []float64 {
	var out []float64
	for _, u := range s.Units {
		if all || u.Cut {
			out = append(out, u.Length)
		}
	}
	return out
}

func sum(of []float64) float64 {
	total := 0.0
	for _, x := range of {
		total += x
	}
	return total
}

// anyNumber stands where layout.md says none.
const anyNumber = -1

// handCase is a leg as typed, and what comes of it.
type handCase struct {
	name, line              string
	units, cuts, cutCovers  int
	bought                  int
	cutLengths              []float64 // sorted
	cutsSum                 float64
	why                     string
	unitLengths, unitStarts []float64
}

// The cases of layout.md §9 that are about a leg, worked by hand there, as somebody types them. Defaults there and here:
// stock 3000, gap 10, shortest cut 600, kerf 5, least slice 5, cover pitch 1000 and gap 4, shortest cover 300.
func TestCasesByHand(t *testing.T) {
	mitres := " --start-bend left90° --end-bend right90° --width 600mm"
	for _, c := range []handCase{
		{name: "1", line: "9020mm", units: 3, cuts: 0, cutCovers: 0, bought: 3, unitLengths: []float64{3000, 3000, 3000}, unitStarts: []float64{0, 3010, 6020}},
		{name: "2", line: "10000mm", units: 4, cuts: 1, cutCovers: 1, bought: 4, cutLengths: []float64{970}},
		{name: "3", line: "10030mm", units: 4, cuts: 1, cutCovers: 0, bought: 4, cutLengths: []float64{1000}},
		{name: "4", line: "9620mm", units: 4, cuts: 2, cutCovers: 1, bought: anyNumber, cutsSum: 3590, why: "one closing piece would be 590 mm, shortest 600 mm"},
		{name: "5", line: "3600mm", units: 2, cuts: 2, cutCovers: 1, bought: anyNumber, cutsSum: 3590},
		{name: "6 no slice of 2", line: "2998mm", units: 2, cuts: 2, cutCovers: 1, bought: anyNumber},
		{name: "6 slice of 5", line: "2995mm", units: 1, cuts: 1, cutCovers: 1, bought: 1},
		{name: "7", line: "600mm", units: 1, cuts: 1, cutCovers: 1, bought: 1},
		{name: "8 two shared out", line: "1200mm", units: 1, cuts: 1, cutCovers: 2, bought: 1},
		{name: "8 one just fits", line: "1304mm", units: 1, cuts: 1, cutCovers: 1, bought: 1},
		{name: "8 one just not", line: "1303.999mm", units: 1, cuts: 1, cutCovers: 2, bought: 1},
		{name: "9 met", line: "9020mm --zone 3010mm..6010mm", units: 3, cuts: 0, cutCovers: 0, bought: 3},
		{name: "9 missed by 1", line: "9020mm --zone 3011mm..6011mm", units: 5, cuts: 4, cutCovers: 2, bought: anyNumber},
		{name: "11", line: "9020mm --zone 2500mm..3600mm", units: 4, cuts: 2, cutCovers: 1, bought: 3, cutLengths: []float64{1000, 1990}},
		{name: "12", line: "12030mm --zone 2900mm..3100mm --zone 5800mm..6100mm", units: 5, cuts: 2, cutCovers: 1, bought: anyNumber},
		{name: "13 two zones", line: "6010mm --zone 2900mm..3500mm --zone 5000mm..6010mm", units: 3, cuts: 2, cutCovers: 1, bought: anyNumber},
		{name: "13 one way", line: "3660mm --zone 2400mm..3100mm", units: 2, cuts: 1, cutCovers: 1, bought: 2, unitLengths: []float64{650, 3000}},
		{name: "16 measured at 6034", line: "2986mm", units: 1, cuts: 1, cutCovers: 1, bought: 1, cutLengths: []float64{2986}},
		{name: "16 measured at 6016", line: "3004mm", units: 2, cuts: 2, cutCovers: 1, bought: anyNumber},
		{name: "20 two", line: "5410mm" + mitres, units: 2, cuts: anyNumber, cutCovers: anyNumber, bought: anyNumber},
		{name: "20 three", line: "5420mm" + mitres, units: 3, cuts: anyNumber, cutCovers: anyNumber, bought: anyNumber},
		{name: "20 four", line: "8430mm" + mitres, units: 4, cuts: anyNumber, cutCovers: anyNumber, bought: anyNumber},
		{name: "20 four still", line: "9020mm" + mitres, units: 4, cuts: 2, cutCovers: anyNumber, bought: anyNumber, cutsSum: 2990},
		{name: "20 shortest sides", line: "1810mm" + mitres, units: 2, cuts: 2, cutCovers: anyNumber, bought: anyNumber, cutLengths: []float64{900, 900}},
		{name: "21", line: "8020mm --stock 3000mm,2000mm", units: 3, cuts: 0, cutCovers: 0, bought: 3},
		{name: "22 gaps of 13", line: "9026mm --gap-window 8mm..14mm", units: 3, cuts: 0, cutCovers: 0, bought: 3, unitStarts: []float64{0, 3013, 6026}},
		{name: "22 gaps of 14", line: "9028mm --gap-window 8mm..14mm", units: 3, cuts: 0, cutCovers: 0, bought: 3, unitStarts: []float64{0, 3014, 6028}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := legOf(t, c.line, exitFound)
			if n := s.Count; s.Verdict != "found" || n.Units != c.units || c.cuts != anyNumber && n.Cuts != c.cuts || c.cutCovers != anyNumber && n.CutCovers != c.cutCovers || c.bought != anyNumber && n.Bought != c.bought {
				t.Errorf("%s: %s %+v, want %d units, %d cuts, %d cut covers, %d bought", c.line, s.Verdict, n, c.units, c.cuts, c.cutCovers, c.bought)
			}
			if got := slices.Sorted(slices.Values(s.lengths(false))); c.cutLengths != nil && !slices.Equal(got, c.cutLengths) || c.cutsSum != 0 && sum(got) != c.cutsSum {
				t.Errorf("cut to %v, want %v, sum %v", got, c.cutLengths, c.cutsSum)
			}
			if got := s.lengths(true); c.unitLengths != nil && !slices.Equal(got, c.unitLengths) {
				t.Errorf("units of %v, want %v", got, c.unitLengths)
			}
			for i, want := range c.unitStarts {
				if s.Units[i].Start != want {
					t.Errorf("unit %d starts at %v, want %v", i+1, s.Units[i].Start, want)
				}
			}
			if !strings.Contains(s.Why, c.why) {
				t.Errorf("why: %q, want %q", s.Why, c.why)
			}
			s.addsUp(t)
		})
	}
}

// addsUp counts again what the answer says of itself.
func (s legSaid) addsUp(t *testing.T) {
	t.Helper()
	cuts, cutCovers := 0, 0
	for i, u := range s.Units {
		if u.Cut {
			cuts++
		}
		covers := 0.0
		for _, c := range u.Covers {
			covers += c.Length
			if c.Cut {
				cutCovers++
			}
		}
		if covers > u.Length {
			t.Errorf("unit %d is %v long and its covers %v", i+1, u.Length, covers)
		}
		if i > 0 && u.Start < s.Units[i-1].Start+s.Units[i-1].Length {
			t.Errorf("unit %d starts in the one before it", i+1)
		}
	}
	if n := s.Count; len(s.Units) != n.Units || cuts != n.Cuts || cutCovers != n.CutCovers {
		t.Errorf("%+v, and %d units, %d cuts, %d cut covers are listed", n, len(s.Units), cuts, cutCovers)
	}
}

// The cases of layout.md §9 that are impossible, with their reason.
func TestImpossibleCasesByHand(t *testing.T) {
	for _, c := range []struct{ name, line, why string }{
		{"7", "500mm", "leg 500 mm is shorter than the shortest cut unit 600 mm"},
		{"10", "11000mm --zone 4000mm..7001mm", "3001 mm without a joint between 4000 mm and 7001 mm"},
		{"20 two mitres", "1800mm --start-bend left90° --end-bend right90° --width 600mm", "factory end"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := legOf(t, c.line, exitImpossible)
			if s.Verdict != "impossible" || !strings.Contains(s.Why, c.why) || len(s.Units) > 0 || s.Units == nil {
				t.Errorf("%+v, want %q", s, c.why)
			}
		})
	}
	if s := legOf(t, "9029mm --gap-window 8mm..14mm", exitFound); s.Count.Cuts == 0 {
		t.Errorf("22: 9029 was laid without a cut: %+v", s)
	}
}

// legOf runs a leg as typed; a turn is written without its blank here.
func legOf(t *testing.T, line string, code int) legSaid {
	t.Helper()
	args := strings.Fields("leg " + line + " --json")
	for i := range args {
		for _, side := range []string{"left", "right"} {
			if angle, ok := strings.CutPrefix(args[i], side); ok {
				args[i] = side + " " + angle
			}
		}
	}
	got, out, complaint := run(args...)
	if got != code {
		t.Fatalf("%q ended with %d, want %d\n%s%s", args, got, code, out, complaint)
	}
	var s legSaid
	if err := json.Unmarshal([]byte(out), &s); err != nil {
		t.Fatal(err)
	}
	return s
}

// The cases of layout.md §9 that are about cutting.
func TestCuttingCasesByHand(t *testing.T) {
	dir := t.TempDir()
	for _, c := range []struct {
		name, list, ends string
		bought           int
	}{
		{"14 one unit", "length,count\n1497,1\n1498,1\n", "factory", 1},
		{"14 one unit, free", "length,count\n1497,1\n1498,1\n", "any", 1},
		{"14 two units", "length,count\n1498,2\n", "factory", 2},
		{"14 a slice of 1", "length,count\n1000,1\n1994,1\n", "factory", 2},
		{"15 two right bends", "length,count,hand,angle\n1400,2,left,45\n1400,2,right,45\n", "factory", 2},
		{"15 one bend", "length,count,hand,angle\n1400,1,left,45\n1400,1,right,45\n", "factory", 2},
		{"11 the two cuts", "length,count\n1000,1\n1990,1\n", "factory", 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			file := filepath.Join(dir, "list.csv")
			if err := os.WriteFile(file, []byte(c.list), 0o644); err != nil {
				t.Fatal(err)
			}
			code, out, complaint := run("cut", file, "--stock", "3000mm", "--kerf", "5mm", "--ends", c.ends, "--width", "600mm", "--json")
			var got struct {
				Bought   int               `json:"bought"`
				Bound    int               `json:"bound"`
				Cost     int               `json:"cost"`
				Patterns []json.RawMessage `json:"patterns"`
			}
			if code != exitFound || json.Unmarshal([]byte(out), &got) != nil {
				t.Fatalf("%d %s%s", code, out, complaint)
			}
			if got.Bought != c.bought || got.Bound != c.bought || got.Cost != c.bought || len(got.Patterns) == 0 {
				t.Errorf("%+v, want %d", got, c.bought)
			}
		})
	}
}

// Every outcome has its exit code, and `help exit` explains it.
func TestExitCodes(t *testing.T) {
	for verdict, want := range map[string]int{"found": exitFound, "impossible": exitImpossible, "undecided": exitUndecided, "": exitUndecided} {
		got := exitFound
		if err := verdictEnds(verdict); err != nil {
			got = program{err: &strings.Builder{}}.fail(err)
		}
		if got != want {
			t.Errorf("%q ends with %d, want %d", verdict, got, want)
		}
	}
	_, out, _ := run("help", "exit")
	if lines := strings.Split(strings.TrimSpace(out), "\n"); len(lines) != 6 {
		t.Errorf("%q", lines)
	}
}
