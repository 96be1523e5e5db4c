package main

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"time"

	"trenchwright/base/measure"
	"trenchwright/bench/process"
	"trenchwright/solve/layout"
)

const mm = measure.Millimetre

// longLeg is one leg with a service somewhere in every 250 m, which no joint may meet.
type longLeg struct {
	Kilometres int
	Seed       uint64
	Site       bool // go on: joints are measured, services are found
}

// legAnswer is what a worker says of a leg.
type legAnswer struct {
	Units, Zones, Levels int
	Check                time.Duration // processor time of the separate checker
	Next, Found          []time.Duration
}

func (l longLeg) problem() layout.Problem {
	exactly := func(v measure.Length) measure.Window { return measure.Window{Min: v, Nominal: v, Max: v} }
	p := layout.Problem{
		Length: measure.Length(l.Kilometres) * 1000 * measure.Metre,
		Supplies: []layout.Supply{{
			Name: "trough", Stocks: []layout.Stock{{Length: 3000 * mm}}, Gap: exactly(10 * mm),
			ShortestCut: 600 * mm, Kerf: 5 * mm, LeastSlice: 5 * mm, KeepFactoryEnd: true, Width: 600 * mm,
			Covers: layout.Covers{Lengths: []measure.Length{996 * mm}, Gap: exactly(4 * mm), ShortestCut: 300 * mm, Width: 600 * mm},
		}},
	}
	r := rand.New(rand.NewPCG(l.Seed, 0))
	for i := range 4 * l.Kilometres {
		from := measure.Length(250_000*i+r.IntN(240_000)) * mm
		p.Zones = append(p.Zones, layout.Zone{From: from, To: from + measure.Length(200+r.IntN(800))*mm, Why: "a service"})
	}
	return p
}

func legWorker(file string) (any, error) {
	var l longLeg
	if err := readJSON(file, &l); err != nil {
		return nil, err
	}
	p := l.problem()
	s, err := layout.Solve(p)
	if err != nil {
		return nil, err
	}
	if s.Verdict != layout.Found {
		return nil, fmt.Errorf("the leg is %s: %s", s.Verdict, s.Why)
	}
	a := legAnswer{Units: s.Count.Units, Zones: len(p.Zones), Levels: s.Certificate.Len()}
	if !l.Site {
		return a, nil
	}
	before := cpuTime()
	for _, f := range layout.Check(p, s) {
		return nil, fmt.Errorf("the checker says: %s", f.Text)
	}
	a.Check = cpuTime() - before
	return a, onSite(l, p, s, &a)
}

// onSite measures joints that came to lie some millimetres off, and finds services some 300 m ahead.
func onSite(l longLeg, p layout.Problem, s layout.Solution, a *legAnswer) error {
	r := rand.New(rand.NewPCG(l.Seed, 1))
	for range 1000 {
		x := s.Units[1+r.IntN(len(s.Units)-1)].Start + measure.Length(r.IntN(21)-10)*mm
		began := time.Now()
		_, _, ok := s.Certificate.Next(x)
		a.Next = append(a.Next, time.Since(began))
		if _, known := s.Certificate.ToGo(x); known && !ok {
			return fmt.Errorf("nothing can be laid from %v", x)
		}
	}
	for range 100 {
		here := s.Units[len(s.Units)/4+r.IntN(len(s.Units)/2)].Start
		changed := p
		at := here + 300*measure.Metre
		changed.Zones = append([]layout.Zone{{From: at, To: at + 700*mm, Why: "found"}}, p.Zones...)
		began := time.Now()
		c, err := s.Certificate.Upstream(changed, at+700*mm, here)
		if err != nil {
			return err
		}
		c.Next(here)
		a.Found = append(a.Found, time.Since(began))
	}
	return nil
}

func (b *bench) legs() error {
	l := longLeg{Kilometres: 1000, Seed: 1}
	runs := 5
	if b.quick {
		l.Kilometres, runs = 100, 1
	}
	file, err := b.file("leg.json", l)
	if err != nil {
		return err
	}
	var a legAnswer
	var costs []process.Cost
	for range runs {
		c, err := hire("leg", file, &a)
		if err != nil {
			return err
		}
		costs = append(costs, c)
	}
	c := process.Median(costs)
	of := fmt.Sprintf("%s km, %s units, %s zones", count(l.Kilometres), count(a.Units), count(a.Zones))
	b.report.row(row{
		what: "leg programme, one leg", size: of, ours: secs(c.User) + " user", target: "2 s user", verdict: within(c.User <= 2*time.Second),
	})
	b.report.row(row{
		what: "its memory", size: fmt.Sprintf("%s intervals a unit", three(float64(a.Levels)/float64(a.Units))), ours: size(c.Peak) + " at most",
	})
	l.Site = true
	if file, err = b.file("site.json", l); err != nil {
		return err
	}
	if _, err = hire("leg", file, &a); err != nil {
		return err
	}
	b.report.row(row{
		what: "its proof verified by the separate checker", size: of, ours: secs(a.Check),
	})
	for _, v := range []struct {
		what  string
		times []time.Duration
	}{{"on site: next unit behind a measured joint", a.Next}, {"on site: a service found 300 m ahead, next unit", a.Found}} {
		slices.Sort(v.times)
		middle, most := v.times[(len(v.times)-1)/2], v.times[len(v.times)-1]
		b.report.row(row{
			what: v.what, size: fmt.Sprintf("%s km, %s times", count(l.Kilometres), count(len(v.times))),
			ours: fmt.Sprintf("%s, slowest %s", secs(middle), secs(most)), target: "5 ms", verdict: within(middle <= 5*time.Millisecond),
		})
	}
	b.report.note("Leg programme: shortest cut 600 mm, gap 10 mm, covers of 996 mm; a zone of 0.2 to 1 m in every 250 m; one thread, median of %d processes, each of which makes the leg up and lays it out.", runs)
	b.report.note("Agreement with a slow twin on 10,000 random legs is a test: `go test ./solve/layout -run TestAgreesWithTwin -legs 10000 -v`.")
	return nil
}
