package cutstock

import (
	"bufio"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"trenchwright/base/measure"
)

func TestTry(t *testing.T) {
	root := "/work/shared/data/cutting/bpp_dev"
	f, _ := os.Open(filepath.Join(root, "optimal.csv"))
	sc := bufio.NewScanner(f)
	sc.Scan()
	only := os.Getenv("SET")
	tot, good, fd := map[string]int{}, map[string]int{}, map[string]int{}
	var names []string
	for sc.Scan() {
		c := strings.Split(sc.Text(), ",")
		if only != "" && !strings.HasPrefix(c[0], only) {
			continue
		}
		opt, _ := strconv.ParseInt(c[5], 10, 64)
		p := readSet(filepath.Join(root, c[0], c[1]+".txt"))
		eff := int64(1500)
		if e := os.Getenv("EFF"); e != "" {
			eff, _ = strconv.ParseInt(e, 10, 64)
		}
		t0 := time.Now()
		sol, _ := Solve(p, Limits{Effort: eff * 1e6})
		if tot[c[0]] == 0 {
			names = append(names, c[0])
		}
		tot[c[0]]++
		if sol.Proven {
			good[c[0]]++
		}
		if sol.Cost == opt {
			fd[c[0]]++
		}
		fmt.Printf("%-16s %-22s opt %d got %d low %d  %v\n", c[0], c[1], opt, sol.Cost, sol.Bound, time.Since(t0).Round(time.Millisecond))
		if sol.Bound > opt || sol.Cost < opt {
			t.Error("wrong")
		}
	}
	for _, n := range names {
		fmt.Printf("%-16s %d proven %d found %d\n", n, tot[n], good[n], fd[n])
	}
}

func readSet(path string) Problem {
	b, err := os.ReadFile(path)
	if err != nil {
		panic(err)
	}
	var v []int
	for _, f := range strings.Fields(string(b)) {
		n, err := strconv.Atoi(f)
		if err != nil {
			panic(err)
		}
		v = append(v, n)
	}
	p := Problem{Stocks: []Stock{Unit("s", measure.Length(v[1])*measure.Millimetre)}}
	for i := 2; i+1 < len(v); i += 2 {
		p.Pieces = append(p.Pieces, Piece{Length: measure.Length(v[i]) * measure.Millimetre, Count: v[i+1]})
	}
	return p
}
