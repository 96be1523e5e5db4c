package main

import (
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"trenchwright/base/measure"
	"trenchwright/bench/kept"
	"trenchwright/bench/peer"
	"trenchwright/solve/cutstock"
)

// TestMain lets the tests' own program be hired as a worker.
func TestMain(m *testing.M) {
	if len(os.Args) > 1 && os.Args[1] == workerWord {
		end(work(os.Args[2:]))
		return
	}
	os.Exit(m.Run())
}

func TestWorkers(t *testing.T) {
	b := &bench{dir: t.TempDir()}
	file, err := b.file("leg.json", longLeg{Kilometres: 2, Seed: 3, Site: true})
	if err != nil {
		t.Fatal(err)
	}
	var leg legAnswer
	c, err := hire("leg", file, &leg)
	if err != nil || leg.Units < 665 || leg.Zones != 8 || len(leg.Next) != 1000 || len(leg.Found) != 100 || c.CPU() <= 0 || c.Peak < 1<<20 {
		t.Errorf("2 km: %d units, %d zones, %d and %d times, %+v, %v", leg.Units, leg.Zones, len(leg.Next), len(leg.Found), c, err)
	}
	p := cutstock.Problem{Stocks: []cutstock.Stock{cutstock.Unit("", 3000*mm)}, Kerf: 5 * mm, LeastSlice: 5 * mm, FactoryEnd: true}
	p.Pieces = []cutstock.Piece{{Length: 1497 * mm, Count: 2}, {Length: 1498 * mm, Count: 2}}
	cut, _, err := b.cut("by hand", p)
	if err != nil || !cut.Proven || cut.Cost != 2 || len(b.report.wrong) > 0 {
		t.Errorf("1497 + 1498, twice: %+v, %v, %v", cut, b.report.wrong, err)
	}
	if _, err := hire("dig", file, &cut); err == nil {
		t.Error("a worker for nothing was hired")
	}
}

func TestMadeUpJobs(t *testing.T) {
	mitred, kept := 0, 0
	for seed := range uint64(300) {
		p := madeUpJob(seed)
		if f := cutstock.Faults(p); len(f) > 0 {
			t.Fatalf("seed %d: %s: %s", seed, f[0].Where.Path, f[0].Text)
		}
		if n := len(p.Pieces); n < 50 || n > 500 {
			t.Errorf("seed %d has %d pieces", seed, n)
		}
		for _, piece := range p.Pieces {
			if piece.Start.Skew != 0 || piece.End.Skew != 0 {
				mitred++
			}
		}
		if p.FactoryEnd {
			kept++
		}
	}
	if mitred < 10_000 || kept < 100 || kept > 200 {
		t.Errorf("%d pieces are mitred, %d jobs keep a cast end", mitred, kept)
	}
	if !reflect.DeepEqual(madeUpJob(7), madeUpJob(7)) {
		t.Error("one seed makes two jobs")
	}
}

func TestSlope(t *testing.T) {
	x := []float64{10, 100, 1000}
	for _, power := range []float64{0.5, 1, 1.7} {
		var y []float64
		for _, v := range x {
			y = append(y, 3*math.Pow(v, power))
		}
		if got := slope(x, y); math.Abs(got-power) > 1e-9 {
			t.Errorf("power %v came out as %v", power, got)
		}
	}
}

// The published lists are read as they are meant: no list is known to cost less than its pieces' lengths alone ask for.
func TestPublishedSets(t *testing.T) {
	t.Chdir("..")
	if _, err := os.Stat(published); err != nil {
		t.Skip("SKIPPED: the published cutting sets are not here: ", err)
	}
	all, err := readSets()
	if err != nil {
		t.Fatal(err)
	}
	per := map[string]int{}
	for _, i := range all {
		if f := cutstock.Faults(i.problem); len(f) > 0 {
			t.Errorf("%s %s: %s", i.set, i.name, f[0].Text)
		}
		for _, g := range groups {
			if g.holds(i.set) {
				per[i.set]++
			}
		}
		var pieces measure.Length
		for _, p := range i.problem.Pieces {
			pieces += p.Length * measure.Length(p.Count)
		}
		if len(i.problem.Stocks) == 1 && int64(i.problem.Stocks[0].Length)*i.least < int64(pieces) {
			t.Errorf("%s %s: %d units of %v cannot hold %v", i.set, i.name, i.least, i.problem.Stocks[0].Length, pieces)
		}
	}
	if len(all) < 100 || per["hard28"] != 14 || per["kerf"] != 4 || per["variable_stock"] != 10 {
		t.Errorf("%d lists: %v", len(all), per)
	}
	t.Logf("%d lists: %v", len(all), per)
}

func TestReportGoesIntoTheReadme(t *testing.T) {
	dir := t.TempDir()
	readme, results := filepath.Join(dir, "README.md"), filepath.Join(dir, "results.md")
	r := report{machine: "a machine", versions: []string{"cbc 1"}}
	r.row(row{what: "a thing", ours: "1 s", target: "2 s", verdict: within(true)})
	r.row(row{what: "another | thing", ours: "3 s", target: "2 s", verdict: within(false)})
	r.tables = []table{{title: "detail", head: []string{"a", ""}, cells: [][]string{{"", "meets"}}}}
	r.note("said %d times", 1)
	for file, text := range map[string]string{results: r.markdown(), readme: "before\n" + "<!-- bench -->\n" + "stale\n" + "<!-- end of bench -->" + "\nafter\n"} {
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for range 2 { // twice makes no difference
		if err := kept.IntoReadme(readme, results, "bench"); err != nil {
			t.Fatal(err)
		}
	}
	got, _ := os.ReadFile(readme)
	for _, want := range []string{
		"before\n" + "<!-- bench -->\n" + "a machine", "cbc 1", "| a thing | – | 1 s | – | – | 2 s | meets |\n",
		"| another / thing | – | 3 s | – | – | 2 s | does not meet |\n", "<!-- end of bench -->" + "\nafter\n",
	} {
		if !strings.Contains(string(got), want) {
			t.Errorf("%q is not in\n%s", want, got)
		}
	}
	if strings.Contains(string(got), "detail") || strings.Contains(string(got), "stale") {
		t.Errorf("too much in\n%s", got)
	}
	if err := os.WriteFile(readme, []byte("no place"), 0o644); err != nil {
		t.Fatal(err)
	}
	if kept.IntoReadme(readme, results, "bench") == nil {
		t.Error("a README without a place was taken")
	}
}

func TestFigures(t *testing.T) {
	for got, want := range map[string]string{
		secs(123456 * time.Nanosecond): "123 µs", secs(1500 * time.Millisecond): "1.50 s", secs(20 * time.Second): "20.0 s", secs(750 * time.Nanosecond): "750 ns",
		size(3 << 29): "1.50 GiB", size(200 << 20): "200 MiB", count(333500): "333,500", count(1000000): "1,000,000", count(12): "12",
		times(3*time.Second, 2*time.Millisecond): "1500 ×", three(0.0123): "0.0123",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Answers that cannot both be right are found.
func TestContradictions(t *testing.T) {
	found := func(cost, bound int64) cutAnswer {
		return cutAnswer{Verdict: cutstock.Found, Proven: cost == bound, Cost: cost, Bound: bound}
	}
	for _, c := range []struct {
		ours   cutAnswer
		theirs peer.Answer
		wrong  bool
	}{
		{found(5, 5), peer.Answer{Verdict: peer.Best, Least: 5}, false},
		{found(6, 4), peer.Answer{Verdict: peer.Best, Least: 5}, false},
		{found(6, 6), peer.Answer{Verdict: peer.Best, Least: 5}, true},
		{found(4, 4), peer.Answer{Verdict: peer.Best, Least: 5}, true},
		{found(4, 4), peer.Answer{Verdict: peer.None}, true},
		{found(4, 4), peer.Answer{Verdict: peer.NotEnded}, false},
		{cutAnswer{Verdict: cutstock.Impossible}, peer.Answer{Verdict: peer.Best, Least: 5}, true},
		{cutAnswer{Verdict: cutstock.Impossible}, peer.Answer{Verdict: peer.None}, false},
	} {
		b := &bench{}
		b.compare(duel{answer: c.ours, theirs: []peerAnswer{{name: "peer", Answer: c.theirs}}})
		if len(b.report.wrong) > 0 != c.wrong {
			t.Errorf("ours %+v, theirs %+v: %v", c.ours, c.theirs, b.report.wrong)
		}
	}
}
