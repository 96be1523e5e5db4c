package main

import (
	"fmt"
	"io"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
)

// showDown says how the run lies in height and what is dug for it, where the job has ground.
func showDown(w io.Writer, pl planner.Plan, j job.Job) {
	joints, low, high := 0, 0.0, 0.0
	for _, s := range pl.SetOut {
		if s.Levels == nil || s.Levels.Wall == nil {
			continue
		}
		z := *s.Levels.Wall
		if joints == 0 {
			low, high = z, z
		}
		low, high = min(low, z), max(high, z)
		joints++
	}
	if joints == 0 {
		return
	}
	level := func(m float64) string { return roughly(measure.MM(measure.FromMetres(m)), system(j)) }
	fmt.Fprintf(w, "  levels\t%s on %s, wall tops from %s to %s\n", plural(joints, "place", "places"), plural(len(pl.Grades), "grade", "grades"), level(low), level(high))
	d := pl.Dig
	if d == nil {
		return
	}
	deepest := measure.MM(0)
	for _, l := range d.Legs {
		deepest = max(deepest, l.Deepest)
	}
	rock := ""
	if d.Total.Rock > 0 {
		rock = ", of it " + bulky(d.Total.Rock, j) + " of rock"
	}
	fmt.Fprintf(w, "  dig\t%s%s, down to %s; %s of fill and %s of stone\n", bulky(d.Total.Dug, j), rock, roughly(deepest, system(j)), bulky(d.Total.Fill, j), bulky(d.Total.Stone, j))
	fmt.Fprintf(w, "  loads\t%s\n", loads(d))
}

// bulky writes a volume of a run: cubic metres, or cubic yards.
func bulky(m3 float64, j job.Job) string {
	v, unit := measure.Format{System: system(j)}.Volume(measure.Volume(m3))
	return fmt.Sprintf("%.1f %s", v, unit)
}

// loads says what leaves, material by material.
func loads(d *planner.Dig) string {
	var parts []string
	for _, b := range d.Balances {
		switch {
		case b.Loads != nil:
			parts = append(parts, fmt.Sprintf("%d of %s", *b.Loads, b.Of))
		case b.Leaves.Bank == nil || *b.Leaves.Bank > 0:
			parts = append(parts, b.Of+" NOT CHECKED: no bulking or no size of a load on file")
		}
	}
	if len(parts) == 0 {
		return "nothing leaves"
	}
	return strings.Join(parts, ", ") + " leave"
}
