package main

import (
	"fmt"
	"slices"
	"time"

	"trenchwright/base/measure"
	"trenchwright/bench/sited"
	"trenchwright/demo/longrun"
	"trenchwright/job/field"
	"trenchwright/job/planner"
)

// replanning is a run of so many kilometres, a quarter of each leg set, on which one unit is measured again and again.
type replanning struct{ Kilometres, Times int }

// replanAnswer is what a worker says of a replanning: wall times on one thread, from a record to the answers of all legs.
type replanAnswer struct {
	Units       int
	Gaps, Other []time.Duration // answered with other gaps, with other pieces
}

const replanWithin = 50 * time.Millisecond

// replan times what is left of a run, planned again after one record.
func (b *bench) replan() error {
	r := replanning{Kilometres: 5, Times: 200}
	if b.quick {
		r.Times = 20
	}
	file, err := b.file("replanning.json", r)
	if err != nil {
		return err
	}
	var a replanAnswer
	if _, err := hire("replan", file, &a); err != nil {
		return err
	}
	for _, v := range []struct {
		what  string
		times []time.Duration
	}{{"on site: a run planned again after one record, other gaps", a.Gaps}, {"the same, other pieces", a.Other}} {
		slices.Sort(v.times)
		middle, p95 := v.times[(len(v.times)-1)/2], v.times[(len(v.times)*95+99)/100-1]
		b.report.row(row{what: v.what, size: fmt.Sprintf("%d km, %s units, %d times", r.Kilometres, count(a.Units), len(v.times)),
			ours: fmt.Sprintf("%s, 95 of 100 within %s", secs(middle), secs(p95)), target: secs(replanWithin), verdict: within(p95 <= replanWithin)})
	}
	return nil
}

func replanWorker(file string) (any, error) {
	var r replanning
	if err := readJSON(file, &r); err != nil {
		return nil, err
	}
	plan, answers := planner.Ask(longrun.Job(float64(r.Kilometres), 1))
	if answers == nil {
		return nil, fmt.Errorf("the made-up run cannot be planned")
	}
	run := plan.Places()
	book := field.NewBook(run)
	begun, at := sited.Begun(run, 4)
	book.Add(begun...)
	answers.Replan(book.State(""))
	a := replanAnswer{Units: len(plan.Units)}
	for _, v := range []struct {
		from  measure.Length
		times *[]time.Duration
		want  string
	}{{3 * mm, &a.Gaps, planner.OtherGaps}, {403 * mm, &a.Other, planner.OtherPiece}} {
		for n := range r.Times {
			began := time.Now()
			book.Add(sited.Measured(at, v.from+measure.Length(n%5)*mm))
			legs := answers.Replan(book.State(""))
			*v.times = append(*v.times, time.Since(began))
			if legs[0].Answer != v.want {
				return nil, fmt.Errorf("leg %s: %s, and not %s", legs[0].Leg, legs[0].Answer, v.want)
			}
		}
	}
	return a, nil
}
