package main

import (
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"trenchwright/base/measure"
	"trenchwright/bench/peer"
	"trenchwright/solve/cutstock"
)

const published = "../shared/data/cutting"

// group is a published set as the table shows it.
type group struct {
	name    string
	folders []string // a set's folder is one of these and a number
	target  int      // per cent proven within a second; 0: reported only
	peers   int      // how many of its lists the peers get too
}

var groups = []group{
	{"Falkenauer U", []string{"falkenauer_u"}, 100, 2},
	{"Falkenauer T", []string{"falkenauer_t"}, 91, 2},
	{"Scholl 1", []string{"scholl1"}, 100, 2},
	{"Scholl 2", []string{"scholl2"}, 92, 1},
	{"Scholl 3", []string{"scholl3"}, 0, 0},
	{"Schwerin", []string{"schwerin"}, 100, 1},
	{"Hard28", []string{"hard28"}, 29, 1},
	{"Wäscher", []string{"waescher"}, 0, 0},
	{"random", []string{"random"}, 0, 1},
	{"GI", []string{"gi"}, 0, 0},
	{"AI, ANI", []string{"ai", "ani"}, 0, 0},
	{"several stocks, limited", []string{"variable_stock"}, 0, 0},
	{"lists with kerf", []string{"kerf"}, 0, 0},
}

// instance is one published list with the least that it is known to cost.
type instance struct {
	set, name string
	problem   cutstock.Problem
	least     int64
}

func (b *bench) sets() error {
	if _, err := os.Stat(published); err != nil {
		b.report.row(row{what: "published cutting sets", ours: "SKIPPED: " + published + " is not here"})
		return nil
	}
	all, err := readSets()
	if err != nil {
		return err
	}
	t := table{title: "Published cutting sets", head: []string{"set", "lists", "proven within 1 s", "proven with the usual effort", "cheapest found", "median", "slowest", "target", ""}}
	var duels []duel
	for _, g := range groups {
		in := slices.DeleteFunc(slices.Clone(all), func(i instance) bool { return !g.holds(i.set) })
		if b.quick {
			in = in[:min(1, len(in))]
		}
		if len(in) == 0 {
			continue
		}
		if err := b.set(g, in, &t); err != nil {
			return err
		}
		for k := range min(g.peers, len(in)) {
			i := in[k*len(in)/g.peers]
			began := time.Now()
			m, err := peer.ArcFlow(i.problem, 400_000)
			if err != nil {
				b.report.note("%s was not given to the peers: %v.", i.name, err)
				continue
			}
			d, err := b.duel(i.name, i.problem, m, time.Since(began))
			if err != nil {
				return err
			}
			duels = append(duels, d)
		}
	}
	b.report.tables = append(b.report.tables, t)
	b.report.duels("Published cutting sets: a flow along the stock as an integer programme", duels)
	b.report.duelRow("published cutting sets beside cbc", duels, 20)
	b.report.note("Published sets are read from %s; each list is cut in a process of its own on one thread, and the time is that of solving. Peers get the flow along the stock (Valério de Carvalho 1999, places reached only) and %s each (cbc of processor time, HiGHS on the clock), both at once; a peer's time and ours are then those of whole processes, ours with reading and checking.", published, secs(b.limit))
	return nil
}

func (g group) holds(set string) bool {
	return slices.ContainsFunc(g.folders, func(f string) bool {
		rest, ok := strings.CutPrefix(set, f)
		return ok && strings.Trim(rest, "0123456789") == ""
	})
}

// set cuts all lists of one group.
func (b *bench) set(g group, in []instance, t *table) error {
	var times []time.Duration
	inTime, proven, found := 0, 0, 0
	for _, i := range in {
		a, _, err := b.cut(i.name, i.problem)
		if err != nil {
			return fmt.Errorf("%s: %w", i.name, err)
		}
		if a.Verdict != cutstock.Found || a.Cost < i.least || a.Bound > i.least {
			b.report.wrong = append(b.report.wrong, fmt.Sprintf("%s: %s, cost %d, bound %d; published %d", i.name, a.Verdict, a.Cost, a.Bound, i.least))
		}
		times = append(times, a.Solve)
		if a.Proven {
			proven++
		}
		if a.Proven && a.Solve <= time.Second {
			inTime++
		}
		if a.Cost == i.least {
			found++
		}
	}
	slices.Sort(times)
	middle, most := times[(len(times)-1)/2], times[len(times)-1]
	share := fmt.Sprintf("%d of %d (%d %%)", inTime, len(in), inTime*100/len(in))
	v := row{what: "published set " + g.name, size: fmt.Sprintf("%d lists", len(in)), ours: share + " proven within 1 s", verdict: noTarget}
	if g.target > 0 {
		v.target, v.verdict = fmt.Sprintf("%d %%", g.target), within(inTime*100 >= g.target*len(in))
		if g.target < 100 {
			v.target = "≥ " + v.target
		}
	}
	b.report.row(v)
	t.cells = append(t.cells, []string{g.name, fmt.Sprint(len(in)), fmt.Sprint(inTime), fmt.Sprint(proven), fmt.Sprint(found), secs(middle), secs(most), v.target, string(v.verdict)})
	return nil
}

// readSets reads every list whose least cost is known.
func readSets() ([]instance, error) {
	var out []instance
	for _, kind := range []struct {
		folder string
		read   func(folder string, line map[string]string) (instance, error)
	}{{"bpp_dev", readOneStock}, {"variable_stock", readSeveralStocks}, {"kerf", readWithKerf}} {
		folder := filepath.Join(published, kind.folder)
		lines, err := readCSV(filepath.Join(folder, "optimal.csv"))
		if err != nil {
			return nil, err
		}
		for _, line := range lines {
			i, err := kind.read(folder, line)
			if err != nil {
				return nil, fmt.Errorf("%s: %w", line["instance"], err)
			}
			i.name = line["instance"]
			out = append(out, i)
		}
	}
	slices.SortFunc(out, func(a, b instance) int { return strings.Compare(a.set+" "+a.name, b.set+" "+b.name) })
	return out, nil
}

// readOneStock reads a bin-packing list: how many kinds, the stock's length, then length and number of each kind.
func readOneStock(folder string, line map[string]string) (instance, error) {
	i := instance{set: line["set"]}
	v, err := numbers(filepath.Join(folder, line["set"], line["instance"]+".txt"))
	if err != nil || len(v) < 2 {
		return i, fmt.Errorf("not a list: %v", err)
	}
	i.problem.Stocks = []cutstock.Stock{cutstock.Unit("", measure.Length(v[1])*mm)}
	i.problem.Pieces = pieces(v[2:])
	i.least, err = strconv.ParseInt(line["optimal_bins"], 10, 64)
	return i, err
}

// readSeveralStocks reads how many stocks, length, number and price of each, how many kinds, length and number of each.
func readSeveralStocks(folder string, line map[string]string) (instance, error) {
	i := instance{set: "variable_stock"}
	v, err := numbers(filepath.Join(folder, line["instance"]+".txt"))
	if err != nil || len(v) == 0 || len(v) < 2+3*int(v[0]) {
		return i, fmt.Errorf("not a list: %v", err)
	}
	n := int(v[0])
	for k := range n {
		s := cutstock.Unit(fmt.Sprint(k), measure.Length(v[1+3*k])*mm)
		s.Count, s.Price = int(v[2+3*k]), v[3+3*k]
		i.problem.Stocks = append(i.problem.Stocks, s)
	}
	i.problem.Pieces = pieces(v[2+3*n:])
	i.least, err = strconv.ParseInt(line["optimal_cost"], 10, 64)
	return i, err
}

// readWithKerf reads a list with prices and a kerf: pieces l on a stock L keep Σ(l + kerf) ≤ L + kerf.
func readWithKerf(folder string, line map[string]string) (instance, error) {
	i := instance{set: "kerf"}
	number := func(m map[string]string, column string) int64 {
		n, _ := strconv.ParseInt(m[column], 10, 64)
		return n
	}
	stocks, err := readCSV(filepath.Join(folder, line["instance"]+"_bins.csv"))
	if err != nil {
		return i, err
	}
	items, err := readCSV(filepath.Join(folder, line["instance"]+"_items.csv"))
	if err != nil {
		return i, err
	}
	for _, s := range stocks {
		u := cutstock.Unit(s["ID"], measure.Length(number(s, "X"))*mm)
		u.Price, u.Count = number(s, "COST"), int(number(s, "COPIES"))
		i.problem.Stocks = append(i.problem.Stocks, u)
	}
	for _, p := range items {
		i.problem.Pieces = append(i.problem.Pieces, cutstock.Piece{ID: p["ID"], Length: measure.Length(number(p, "X")) * mm, Count: int(number(p, "COPIES"))})
	}
	i.problem.Kerf = measure.Length(number(line, "kerf_mm")) * mm
	i.least = number(line, "optimal_cost")
	return i, nil
}

func pieces(v []int64) []cutstock.Piece {
	var out []cutstock.Piece
	for k := 0; k+1 < len(v); k += 2 {
		out = append(out, cutstock.Piece{Length: measure.Length(v[k]) * mm, Count: int(v[k+1])})
	}
	return out
}

func numbers(file string) ([]int64, error) {
	b, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	var out []int64
	for _, w := range strings.Fields(string(b)) {
		n, err := strconv.ParseInt(w, 10, 64)
		if err != nil {
			return nil, err
		}
		out = append(out, n)
	}
	return out, nil
}

// readCSV reads a table by the names of its columns.
func readCSV(file string) ([]map[string]string, error) {
	f, err := os.Open(file)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) == 0 {
		return nil, fmt.Errorf("%s: empty or broken: %v", file, err)
	}
	var out []map[string]string
	for _, r := range rows[1:] {
		m := map[string]string{}
		for k, name := range rows[0] {
			m[name] = r[k]
		}
		out = append(out, m)
	}
	return out, nil
}
