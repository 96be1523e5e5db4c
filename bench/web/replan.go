package main

import (
	"bytes"
	"fmt"
	"strings"
	"time"

	"trenchwright/base/measure"
	"trenchwright/bench/sited"
	"trenchwright/demo/longrun"
	"trenchwright/job/field"
	"trenchwright/job/planner"
)

// replan times what is left of a run of 5 km, planned again in the browser after one record: the first time and once the core is warm.
func (b *bench) replan() error {
	const mm = measure.Millimetre
	times := 100
	if b.quick {
		times = 10
	}
	plan, _ := planner.Ask(longrun.Job(5, 1))
	begun, at := sited.Begun(plan.Places(), 4)
	s := b.serve(b.filled())
	p := b.page()
	defer p.Kill()
	drawn(p, s.address+"/jobs/"+site+"/set")
	p.Until(time.Minute, "return !!watched.worker")
	time.Sleep(3 * time.Second) // the service worker is done with its work
	lines := func(list ...field.Record) string {
		var text bytes.Buffer
		if err := field.Write(&text, list); err != nil {
			b.Fatal(err)
		}
		return text.String()
	}
	var first float64
	p.Await(&first, "const began = performance.now(); await watched.ask('site', {lines: arguments[0]}); await watched.ask('ways', {}); return performance.now() - began", lines(begun...))
	for _, of := range []struct {
		what string
		from measure.Length
		says string
	}{{"other gaps", 3 * mm, planner.OtherGaps}, {"other pieces", 403 * mm, planner.OtherPiece}} {
		var took []float64
		for n := range times {
			var a struct {
				Took float64
				Said string
			}
			p.Await(&a, "const began = performance.now(); await watched.ask('site', {lines: arguments[0], more: true}); const a = await watched.ask('ways', {}); return {took: performance.now() - began, said: a.legs[0].said}",
				lines(sited.Measured(at, of.from+measure.Length(n%5)*mm)))
			if !strings.HasSuffix(a.Said, of.says) {
				return fmt.Errorf("the first leg: %s, and not %s", a.Said, of.says)
			}
			took = append(took, a.Took)
		}
		b.report.timed("a run planned again after one record, "+of.what, fmt.Sprintf("5 km, %d units", len(plan.Units)), took, 300, 95)
	}
	b.report.note("The first time, the core handed all records of the run of 5 km, the answers were there after %s.", shown(first))
	return nil
}
