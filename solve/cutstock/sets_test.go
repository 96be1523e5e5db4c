package cutstock

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/tools/published"
)

// The published sets of ../shared/data/cutting: what they are and where they come from stands in SOURCES.md there.
// allSets asks for all of them; otherwise those run that are quick.
var allSets = os.Getenv("TRENCHWRIGHT_ALL_SETS") != ""

// slowSets are bin packing sets that are hard, or large, and run with allSets only. In the rest every optimum is proven.
var slowSets = []string{"ai402", "ani201", "ani402", "gi", "hard28"}

// atLeast is how many of a set have to be proven within the usual effort: all, but for these.
var atLeast = map[string]int{"ai402": 0, "ani201": 0, "ani402": 0, "gi": 2, "hard28": 7}

// outside is the folder of outside data; the test is skipped when it is not there.
func outside(t testing.TB, path string) string {
	t.Helper()
	return published.Dir(t, "data/cutting/"+path)
}

// instance is one published problem with its proven optimum.
type instance struct {
	set, name string
	problem   Problem
	optimum   int64
}

func table(t testing.TB, path string) []map[string]string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, row := range rows[1:] {
		m := map[string]string{}
		for i, v := range row {
			m[strings.TrimPrefix(rows[0][i], "\ufeff")] = strings.TrimSpace(v)
		}
		out = append(out, m)
	}
	return out
}

func number(t testing.TB, text string) int64 {
	t.Helper()
	n, err := strconv.ParseInt(text, 10, 64)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func numbers(t testing.TB, path string) []int64 {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var out []int64
	for _, field := range strings.Fields(string(text)) {
		out = append(out, number(t, field))
	}
	return out
}

// binPacking reads the sets of bin packing: one length of stock, no kerf, no least slice.
func binPacking(t testing.TB) []instance {
	dir := outside(t, "bpp_dev")
	var out []instance
	for _, row := range table(t, filepath.Join(dir, "optimal.csv")) {
		in := instance{set: row["set"], name: row["instance"], optimum: number(t, row["optimal_bins"])}
		v := numbers(t, filepath.Join(dir, in.set, in.name+".txt"))
		in.problem.Stocks = []Stock{Unit("stock", measure.Length(v[1])*millimetre)}
		in.problem.Pieces = pairsOf(v[2:])
		out = append(out, in)
	}
	return out
}

func pairsOf(v []int64) (out []Piece) {
	for i := 0; i+1 < len(v); i += 2 {
		out = append(out, Piece{Length: measure.Length(v[i]) * millimetre, Count: int(v[i+1])})
	}
	return out
}

// variableStock reads the sets of several lengths of stock, each with a number and a price.
func variableStock(t testing.TB) []instance {
	dir := outside(t, "variable_stock")
	var out []instance
	for _, row := range table(t, filepath.Join(dir, "optimal.csv")) {
		in := instance{set: "variable_stock", name: row["instance"], optimum: number(t, row["optimal_cost"])}
		v := numbers(t, filepath.Join(dir, in.name+".txt"))
		kinds := int(v[0])
		for i := range kinds {
			s := Unit("", measure.Length(v[1+3*i])*millimetre)
			s.Count, s.Price = int(v[2+3*i]), v[3+3*i]
			in.problem.Stocks = append(in.problem.Stocks, s)
		}
		in.problem.Pieces = pairsOf(v[2+3*kinds:])
		out = append(out, in)
	}
	return out
}

// withKerf reads the lists with a kerf: a nesting length of −k says that Σ (length + k) is at most the stock and k.
func withKerf(t testing.TB) []instance {
	dir := outside(t, "kerf")
	var out []instance
	for _, row := range table(t, filepath.Join(dir, "optimal.csv")) {
		in := instance{set: "kerf", name: row["instance"], optimum: number(t, row["optimal_cost"])}
		in.problem.Kerf = measure.Length(number(t, row["kerf_mm"])) * millimetre
		for _, bin := range table(t, filepath.Join(dir, in.name+"_bins.csv")) {
			s := Unit(bin["ID"], measure.Length(number(t, bin["X"]))*millimetre)
			if s.Price = number(t, bin["X"]); bin["COST"] != "" {
				s.Price = number(t, bin["COST"])
			}
			s.Count = 1
			if bin["COPIES"] != "" {
				s.Count = int(number(t, bin["COPIES"]))
			}
			in.problem.Stocks = append(in.problem.Stocks, s)
		}
		for _, item := range table(t, filepath.Join(dir, in.name+"_items.csv")) {
			in.problem.Pieces = append(in.problem.Pieces, Piece{Length: measure.Length(number(t, item["X"])) * millimetre, Count: int(number(t, item["COPIES"]))})
		}
		out = append(out, in)
	}
	return out
}

// tally is what came of a set.
type tally struct{ solved, proven, total int }

func TestPublishedSets(t *testing.T) {
	var names []string
	sums := map[string]*tally{}
	for _, in := range slices.Concat(binPacking(t), variableStock(t), withKerf(t)) {
		if !allSets && slices.Contains(slowSets, in.set) {
			continue
		}
		if sums[in.set] == nil {
			sums[in.set] = &tally{}
			names = append(names, in.set)
		}
		sum := sums[in.set]
		sum.total++
		got, err := Solve(in.problem, Limits{})
		if err != nil {
			t.Fatalf("%s: %v", in.name, err)
		}
		for _, f := range Check(in.problem, got) {
			t.Errorf("%s: %s: %s (%s, limit %s)", in.name, f.Where.Path, f.Text, f.Value, f.Limit)
		}
		if got.Bound > in.optimum || got.Verdict == Found && got.Cost < in.optimum {
			t.Errorf("%s: cost %d, bound %d, published optimum %d", in.name, got.Cost, got.Bound, in.optimum)
		}
		if got.Verdict == Found && got.Cost == in.optimum {
			sum.solved++
		}
		if got.Proven {
			sum.proven++
		} else {
			t.Logf("%s: cost %d, bound %d, published optimum %d", in.name, got.Cost, got.Bound, in.optimum)
		}
	}
	t.Logf("%-18s %6s %6s %6s", "set", "solved", "proven", "total")
	for _, name := range names {
		sum := sums[name]
		t.Logf("%-18s %6d %6d %6d", name, sum.solved, sum.proven, sum.total)
		least, some := atLeast[name]
		if !some {
			least = sum.total
		}
		if sum.proven < least {
			t.Errorf("%s: %d of %d proven, at least %d were", name, sum.proven, sum.total, least)
		}
	}
}
