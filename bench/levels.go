package main

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"slices"
	"time"

	"trenchwright/base/measure"
	"trenchwright/bench/process"
	"trenchwright/solve/levelling"
)

// levelNet is a made-up network of levels: points side by side in rows, each tied to its neighbours by a line with an error of
// about a millimetre, one point held.
type levelNet struct {
	Side int // points in a row, and rows
	Seed uint64
}

// levelAnswer is what a worker says of a network; the time is processor time.
type levelAnswer struct {
	Points, Lines, Loops, Redundant int
	M0                              float64
	Make, Check                     time.Duration // adjusted with loops, deviations and a look for blunders; checked apart
}

func (n levelNet) network() levelling.Network {
	r := rand.New(rand.NewPCG(n.Seed, 0))
	name := func(i, k int) string { return fmt.Sprintf("%d/%d", i, k) }
	out := levelling.Network{
		Weigh: levelling.BySD, Fixed: []levelling.Fixed{{Point: name(0, 0), Level: 100 * measure.Metre}},
		Close: levelling.Tolerance{Rule: levelling.RootSetup, K: 5 * measure.Millimetre}, Suspect: 6,
	}
	line := func(i, k, j, m int) {
		rise := measure.FromMillimetres(float64(750*(j-i)+250*(m-k)) + r.NormFloat64())
		out.Lines = append(out.Lines, levelling.Line{From: name(i, k), To: name(j, m), Rise: rise, SD: measure.Millimetre, Setups: 2})
	}
	for i := range n.Side {
		for k := range n.Side {
			if k+1 < n.Side {
				line(i, k, i, k+1)
			}
			if i+1 < n.Side {
				line(i, k, i+1, k)
			}
		}
	}
	return out
}

func levelWorker(file string) (any, error) {
	var n levelNet
	if err := readJSON(file, &n); err != nil {
		return nil, err
	}
	q := n.network()
	before := cpuTime()
	got, said := levelling.Adjust(q)
	a := levelAnswer{Make: cpuTime() - before, Points: len(got.Points), Lines: len(q.Lines), Loops: len(got.Loops), Redundant: got.Redundant, M0: got.M0}
	if len(said) > 0 {
		return nil, fmt.Errorf("the network was not adjusted: %v", said)
	}
	before = cpuTime()
	if bad := levelling.CheckNetwork(q, got); len(bad) > 0 {
		return nil, fmt.Errorf("the network did not pass its check: %s", bad[0])
	}
	a.Check = cpuTime() - before
	return a, nil
}

func (b *bench) levels() error {
	n, runs := levelNet{Side: 100, Seed: 1}, 5
	if b.quick {
		runs = 1
	}
	file, err := b.file("levels.json", n)
	if err != nil {
		return err
	}
	var answers []levelAnswer
	var costs []process.Cost
	for range runs {
		var a levelAnswer
		cost, err := hire("levels", file, &a)
		if err != nil {
			return err
		}
		answers, costs = append(answers, a), append(costs, cost)
	}
	slices.SortFunc(answers, func(a, b levelAnswer) int { return cmp.Compare(a.Make, b.Make) })
	a := answers[(runs-1)/2]
	of := fmt.Sprintf("%s points, %s lines", count(a.Points), count(a.Lines))
	b.report.row(row{what: "network of levels, adjusted with every loop and deviation", size: of, ours: secs(a.Make) + " of processor time", target: "1 s", verdict: within(a.Make <= time.Second)})
	b.report.row(row{what: "its check apart", size: of, ours: secs(a.Check)})
	b.report.row(row{what: "its memory", size: of, ours: size(process.Median(costs).Peak) + " at most"})
	return nil
}
