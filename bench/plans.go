package main

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"time"

	"trenchwright/bench/process"
	"trenchwright/demo/longrun"
	"trenchwright/job"
)

const exitFound = 0

// plan runs the built program on a job, some times, into a folder of its own each time.
func (b *bench) plan(file string, runs int, flags ...string) (process.Cost, error) {
	if _, err := os.Stat(b.program); err != nil {
		return process.Cost{}, fmt.Errorf("%w: make build first", err)
	}
	var costs []process.Cost
	for range runs {
		out := filepath.Join(b.dir, "pack")
		ctx, stop := context.WithTimeout(context.Background(), 10*time.Minute)
		args := append([]string{b.program, "plan", file, "-o", out}, flags...)
		c, _, err := process.Run(ctx, process.Command{Args: args})
		stop()
		if process.ExitCode(err) != exitFound {
			return c, err
		}
		if err := os.RemoveAll(out); err != nil {
			return c, err
		}
		costs = append(costs, c)
	}
	return process.Median(costs), nil
}

// demo is the first demo job from its file to its complete pack.
func (b *bench) demo() error {
	runs := 7
	if b.quick {
		runs = 1
	}
	c, err := b.plan("demo/tram-depot.yaml", runs)
	if err != nil {
		return err
	}
	b.report.row(row{
		what: "demo tram-depot, from file to complete pack", size: "some 400 m of run", ours: secs(c.Wall) + " (" + secs(c.User) + " user)",
		target: "2 s", verdict: within(c.Wall <= 2*time.Second),
	})
	b.report.row(row{what: "its memory", size: "some 400 m of run", ours: size(c.Peak) + " at most"})
	return nil
}

// long plans long runs without sheets, and says how the time grows with the length.
func (b *bench) long() error {
	lengths := []struct{ kilometres, runs int }{{1, 7}, {10, 7}, {100, 5}, {1000, 3}}
	if b.quick {
		lengths = lengths[:3]
	}
	t := table{title: "Long runs, plan without sheets", head: []string{"length", "time", "user", "system", "memory at most"}}
	var km, wall, memory []float64
	var last process.Cost
	for _, l := range lengths {
		file := filepath.Join(b.dir, "long.json")
		if err := os.WriteFile(file, job.CanonicalJSON(longrun.Job(float64(l.kilometres), 1)), 0o644); err != nil {
			return err
		}
		runs := l.runs
		if b.quick {
			runs = 1
		}
		c, err := b.plan(file, runs, "--data")
		if err != nil {
			return err
		}
		last = c
		if l.kilometres >= 10 {
			km, wall, memory = append(km, float64(l.kilometres)), append(wall, c.Wall.Seconds()), append(memory, float64(c.Peak))
		}
		t.cells = append(t.cells, []string{count(l.kilometres) + " km", secs(c.Wall), secs(c.User), secs(c.System), size(c.Peak)})
	}
	b.report.tables = append(b.report.tables, t)
	of := count(lengths[len(lengths)-1].kilometres) + " km"
	time20, memory2 := within(last.Wall <= 20*time.Second), within(last.Peak <= 2<<30)
	if b.quick {
		time20, memory2 = unknown, unknown
	}
	b.report.row(row{what: "plan of a long run, no sheets", size: of, ours: fmt.Sprintf("%s (%s user)", secs(last.Wall), secs(last.User)), target: "20 s", verdict: time20})
	b.report.row(row{what: "its memory", size: of, ours: size(last.Peak) + " at most", target: "2 GiB", verdict: memory2})
	grows := slope(km, wall)
	b.report.row(row{
		what: "its growth: time as a power of length", size: "10 km to " + of, ours: fmt.Sprintf("%.2f (memory %.2f)", grows, slope(km, memory)),
		target: "1: linear", verdict: within(grows <= 1.1),
	})
	b.report.note("Long runs are made up by demo/longrun from seed 1, written as JSON and planned by the built program. Growth counts as linear up to a power of 1.1.")
	return nil
}

// slope is the power of x that fits y best: the slope of the least-squares line through their logarithms.
func slope(x, y []float64) float64 {
	var sx, sy, sxx, sxy float64
	for i := range x {
		lx, ly := math.Log(x[i]), math.Log(y[i])
		sx, sy, sxx, sxy = sx+lx, sy+ly, sxx+lx*lx, sxy+lx*ly
	}
	n := float64(len(x))
	return (n*sxy - sx*sy) / (n*sxx - sx*sx)
}

// wasm is what browsers are sent: the planning core, the writer of papers, and all files together.
func (b *bench) wasm() error {
	for _, of := range []struct {
		what, files, target string
		most                int64
	}{
		{"core.wasm.gz, as it is sent", "a/core-*.wasm.gz", "1.5 MB", 1_500_000},
		{"pack.wasm.gz, as it is sent", "a/pack-*.wasm.gz", "3 MB", 3_000_000},
		{"all files of the workspace, as they are sent", "*.gz a/*.gz", "5 MB", 5_000_000},
	} {
		v := row{what: of.what, target: of.target}
		sent := int64(0)
		for _, pattern := range strings.Fields(of.files) {
			found, err := filepath.Glob(filepath.Join("web", "dist", pattern))
			if err != nil {
				return err
			}
			for _, f := range found {
				size, err := os.Stat(f)
				if err != nil {
					return err
				}
				sent += size.Size()
			}
		}
		if sent == 0 {
			v.ours, v.verdict = "not measured: make workspace first", unknown
		} else {
			v.ours, v.verdict = three(float64(sent)/1e6)+" MB", within(sent <= of.most)
		}
		b.report.row(v)
	}
	return nil
}
