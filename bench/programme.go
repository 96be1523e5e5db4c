package main

import (
	"fmt"
	"slices"
	"time"

	"trenchwright/solve/programme"
	invented "trenchwright/solve/programme/made"
)

// dated is some made-up programmes, one behind the other.
type dated struct {
	Seeds, Activities, Effort int
}

// datedAnswer is what a worker says of them; times are processor time.
type datedAnswer struct {
	Proven int             // that end at their bound; the tests verify bounds apart, which takes longer than to find them
	Above  []float64       // by how much each ends above its bound, of the time from its start to that
	Took   []time.Duration // for each
}

const (
	dateWithin   = time.Second
	dateOver     = 3    // in 100 above what is proven
	dateSearch   = 8000 // programmes that are looked at
	dateTogether = 10_000
)

// programme times how gangs are dated along a run: looked for with few activities and with many, and dated once with very many.
func (b *bench) programme() error {
	for _, v := range []struct {
		what   string
		ask    dated
		target bool
		once   bool
	}{
		{"programme: order and directions of gangs looked for", dated{50, 30, dateSearch}, true, false},
		{"the same, larger", dated{10, 120, dateSearch}, false, false},
		{"time against chainage, dated once in a given order", dated{1, dateTogether, 0}, true, true},
	} {
		if b.quick {
			v.ask.Seeds = min(v.ask.Seeds, 3)
		}
		file, err := b.file("programme.json", v.ask)
		if err != nil {
			return err
		}
		var a datedAnswer
		if _, err := hire("programme", file, &a); err != nil {
			return err
		}
		slowest, worst := slices.Max(a.Took), slices.Max(a.Above)
		var all time.Duration
		for _, t := range a.Took {
			all += t
		}
		r := row{what: v.what, size: fmt.Sprintf("%s of %s activities", plural(v.ask.Seeds, "programme"), count(v.ask.Activities))}
		if v.once {
			r.ours, r.target, r.verdict = secs(slowest), secs(dateWithin), within(slowest <= dateWithin)
		} else {
			r.ours = fmt.Sprintf("%s, slowest %s; %d of %d proven best, the others at most %.1f in 100 above the bound", secs(all/time.Duration(len(a.Took))), secs(slowest), a.Proven, len(a.Took), 100*worst)
		}
		if v.target && !v.once {
			r.target, r.verdict = fmt.Sprintf("%s each, at most %d in 100 above the bound", secs(dateWithin), dateOver), within(slowest <= dateWithin && 100*worst <= dateOver)
		}
		b.report.row(r)
	}
	return nil
}

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func programmeWorker(file string) (any, error) {
	var d dated
	if err := readJSON(file, &d); err != nil {
		return nil, err
	}
	var a datedAnswer
	for seed := range d.Seeds {
		p := invented.Problem(seed, d.Activities)
		p.Effort = d.Effort
		began := cpuTime()
		s := programme.Solve(p)
		a.Took = append(a.Took, cpuTime()-began)
		if d.Effort > 0 { // dates of very many are checked in the tests, on fewer: looking at each place of each takes far longer
			if bad := programme.Check(p, &s); len(bad) > 0 {
				return nil, fmt.Errorf("programme %d: %w", seed, bad[0])
			}
		}
		if s.Bound <= p.Start || d.Effort == 0 {
			a.Above = append(a.Above, 0)
			continue
		}
		if s.End == s.Bound {
			a.Proven++
		}
		a.Above = append(a.Above, float64(s.End-s.Bound)/float64(s.Bound-p.Start))
	}
	return a, nil
}
