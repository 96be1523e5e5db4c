package programme

import (
	"math"
	"slices"

	"trenchwright/base/measure"
)

// run is one activity as one gang works it: how long it has worked when it has come so far.
type run struct {
	gang  int
	down  bool
	hours int       // calendar
	at    []float64 // m that it has come, from 0
	done  []float64 // whole seconds of work until there
	total int64
}

// metres of a length: exact enough, a millimetre in a thousand kilometres is kept to a ten-thousandth.
func metres(l measure.Length) float64 { return l.Metres() }

// pace makes a run of an activity at a rate. The seconds at every change of content are rounded up: no front is said to be further than
// it is.
func pace(a *Activity, perHour float64, gang int, down bool, hours int) *run {
	r := &run{gang: gang, down: down, hours: hours}
	first, last := a.Content[0], a.Content[len(a.Content)-1]
	n := len(a.Content)
	for k := range n {
		c := a.Content[k]
		at, done := metres(c.At-first.At), c.Done-first.Done
		if down {
			c = a.Content[n-1-k]
			at, done = metres(last.At-c.At), last.Done-c.Done
		}
		// 1e-6 s is more than what is lost in the quotient, and less than anybody sees
		r.at, r.done = append(r.at, at), append(r.done, math.Ceil(done*3600/perHour-1e-6))
	}
	r.total = int64(r.done[n-1])
	return r
}

// until is how long it has worked when it has come so far.
func (r *run) until(u float64) float64 { return between(r.at, r.done, u) }

// between is y at x on a line of corners; beyond its ends as at them.
func between(xs, ys []float64, x float64) float64 {
	n := len(xs)
	if x <= xs[0] {
		return ys[0]
	}
	if x >= xs[n-1] {
		return ys[n-1]
	}
	k, _ := slices.BinarySearch(xs, x)
	if xs[k] == x {
		return ys[k]
	}
	part := (x - xs[k-1]) / (xs[k] - xs[k-1])
	return ys[k-1] + float64(part*(ys[k]-ys[k-1]))
}
