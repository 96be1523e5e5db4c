package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"trenchwright/base/measure"
	"trenchwright/bench/peer"
	"trenchwright/bench/process"
	"trenchwright/solve/profile"
)

// hills is one leg over made-up ground: slow hills, and noise of 20 mm as a survey of open ground has it.
type hills struct {
	Joints, Pins int
	Squares      bool
	Seed         uint64
	Record       bool // go on to levels of record, and verify all of it
}

// profileAnswer is what a worker says of a leg.
type profileAnswer struct {
	Least         float64
	Record, Check time.Duration // processor time of grades and levels of record, and of the separate checker
	Runs          int
	Cost          float64
}

func (h hills) problem() profile.Problem {
	r := rand.New(rand.NewPCG(h.Seed, 0))
	limit := func(rise measure.Length) *measure.Grade { return &measure.Grade{Rise: rise, Run: 1000} }
	least, most, change := limit(-100), limit(100), limit(8)
	wanted := make([]measure.Length, h.Joints)
	l := profile.Leg{Joints: make([]profile.Joint, h.Joints), Units: make([]profile.Unit, h.Joints-1)}
	z, slope := 100.0, 0.0
	for j := range l.Joints {
		slope += (r.Float64()-0.5)*0.004 - 0.05*slope
		z += slope * 3
		wanted[j] = measure.Length(math.Round((z+0.02*r.NormFloat64())*1e6)) * measure.Micrometre
		l.Joints[j] = profile.Joint{At: measure.Length(j) * 3010 * mm, Wanted: &wanted[j], Above: 1000, Below: 1000, Change: change, Break: 30_000}
		if h.Pins > 0 && j%max(h.Joints/h.Pins, 1) == h.Joints/h.Pins/2 {
			l.Joints[j].Pin = &wanted[j]
		}
	}
	for k := range l.Units {
		l.Units[k] = profile.Unit{Least: least, Most: most}
	}
	p := profile.Problem{Legs: []profile.Leg{l}, Squares: h.Squares}
	if h.Record {
		p.Step, p.Apart = measure.Grade{Rise: 5, Run: 10_000}, 4
	}
	return p
}

func profileWorker(file string) (any, error) {
	var h hills
	if err := readJSON(file, &h); err != nil {
		return nil, err
	}
	p := h.problem()
	if !h.Record {
		s, err := profile.Best(p)
		if err == nil && s.Verdict != profile.Found {
			err = fmt.Errorf("the profile is %s: %s", s.Verdict, s.Why)
		}
		return profileAnswer{Least: s.Least}, err
	}
	before := cpuTime()
	s, err := profile.Solve(p)
	if err != nil || s.Verdict != profile.Found {
		return nil, fmt.Errorf("the profile is %s: %s %w", s.Verdict, s.Why, err)
	}
	a := profileAnswer{Least: s.Least, Record: cpuTime() - before, Runs: len(s.Runs), Cost: s.Cost}
	before = cpuTime()
	for _, f := range profile.Check(p, s) {
		return nil, fmt.Errorf("the checker says: %s", f.Text)
	}
	a.Check = cpuTime() - before
	return a, nil
}

func (b *bench) profile() error {
	var peers []peer.Solver
	for _, find := range []func() (peer.Solver, error){peer.Clp, func() (peer.Solver, error) { return peer.HiGHS("bench") }} {
		s, err := find()
		if err != nil {
			b.report.note("A peer is missing: %v.", err)
			continue
		}
		peers = append(peers, s)
		if s.Name == "clp" {
			b.report.versions = append(b.report.versions, s.Name+" "+s.Version)
		}
	}
	scale := 1
	if b.quick {
		scale = 30
	}
	for _, c := range []struct {
		what   string
		h      hills
		least  map[string]float64 // how many times a peer's time ours must be
		most   time.Duration
		beside bool
	}{
		{"profile, one leg", hills{Joints: 30_000 / scale, Pins: 100, Seed: 1}, map[string]float64{"clp": 15, "HiGHS": 20}, 0, true},
		{"profile, one long leg", hills{Joints: 330_000 / scale, Pins: 1000 / scale, Seed: 2}, nil, 3 * time.Second, false},
		{"profile by squares", hills{Joints: 3000 / scale, Pins: 10, Seed: 3, Squares: true}, nil, 50 * time.Millisecond, true},
		{"profile by squares, short", hills{Joints: 100, Pins: 10, Seed: 3, Squares: true}, nil, 0, true},
	} {
		if err := b.profileDuel(c.what, c.h, c.least, c.most, c.beside, peers); err != nil {
			return err
		}
	}
	return b.profileRecord(hills{Joints: 30_000 / scale, Pins: 100, Seed: 1, Record: true})
}

func (b *bench) profileDuel(what string, h hills, least map[string]float64, most time.Duration, beside bool, peers []peer.Solver) error {
	file, err := b.file("hills.json", h)
	if err != nil {
		return err
	}
	var a profileAnswer
	var costs []process.Cost
	for range 5 {
		c, err := hire("profile", file, &a)
		if err != nil {
			return err
		}
		costs = append(costs, c)
	}
	ours := process.Median(costs)
	size := fmt.Sprintf("%s joints, %d pins, %s", count(h.Joints), h.Pins, memoryOf(ours))
	if most > 0 {
		b.report.row(row{what: what, size: size, ours: secs(ours.User) + " user", target: secs(most) + " user", verdict: within(ours.User <= most)})
	}
	if !beside {
		return nil
	}
	model := filepath.Join(b.dir, "profile.lp")
	f, err := os.Create(model)
	if err != nil {
		return err
	}
	if err := peer.WriteProfile(f, h.problem()); err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	theirs := make([]peer.Real, len(peers))
	failed := make([]error, len(peers))
	var all sync.WaitGroup
	for i, s := range peers {
		if h.Squares && s.Name == "clp" {
			continue
		}
		all.Go(func() { theirs[i], failed[i] = s.AskReal(model, b.limit) })
	}
	all.Wait()
	for i, s := range peers {
		b.profileRow(what, size, s, a, ours, theirs[i], failed[i], least[s.Name])
	}
	return nil
}

func memoryOf(c process.Cost) string { return bytesAtMost(c.Peak) }

func bytesAtMost(n int64) string { return size(n) + " at most" }

// profileRow is ours beside one peer.
func (b *bench) profileRow(what, of string, s peer.Solver, a profileAnswer, ours process.Cost, theirs peer.Real, failed error, least float64) {
	v := row{what: what + " beside " + s.Name, size: of, ours: secs(ours.User) + " user"}
	if least > 0 {
		v.target, v.verdict = fmt.Sprintf("≥ %s ×", three(least)), unknown
	}
	switch {
	case failed != nil:
		_, why, _ := strings.Cut(failed.Error(), "Error: ")
		why, _, _ = strings.Cut(why, "\n")
		b.report.note("%s failed on %s, %s, after %s: %s.", s.Name, what, of, secs(theirs.Cost.User), why)
		v.peer = "failed after " + secs(theirs.Cost.User)
	case theirs.Verdict == "":
		return // was not asked
	case theirs.Verdict == peer.NotEnded:
		v.peer, v.ratio = "not ended after "+secs(theirs.Cost.User), "> "+times(theirs.Cost.User, ours.User)
		if least > 0 && float64(theirs.Cost.User) >= least*float64(ours.User) {
			v.verdict = meets
		}
	case theirs.Verdict == peer.Best:
		v.peer, v.ratio = secs(theirs.Cost.User)+" user, "+bytesAtMost(theirs.Cost.Peak), times(theirs.Cost.User, ours.User)
		if least > 0 {
			v.verdict = within(float64(theirs.Cost.User) >= least*float64(ours.User))
		}
		if math.Abs(a.Least-theirs.Least) > 1e-6*math.Abs(theirs.Least) {
			b.report.wrong = append(b.report.wrong, fmt.Sprintf("%s: ours %.9g, %s %.9g", what, a.Least, s.Name, theirs.Least))
		}
		b.report.note("%s: ours costs %.9g, %s %.9g.", what, a.Least, s.Name, theirs.Least)
	default:
		b.report.wrong = append(b.report.wrong, fmt.Sprintf("%s: %s finds no levels", what, s.Name))
	}
	b.report.row(v)
}

// profileRecord times what comes behind the best levels: grades on their step, levels of record, and the checker.
func (b *bench) profileRecord(h hills) error {
	file, err := b.file("record.json", h)
	if err != nil {
		return err
	}
	var a profileAnswer
	c, err := hire("profile", file, &a)
	if err != nil {
		return err
	}
	of := fmt.Sprintf("%s joints, %d pins, %s grades", count(h.Joints), h.Pins, count(a.Runs))
	b.report.row(row{what: "profile: levels of record on steps of 0.05 %", size: of, ours: secs(a.Record) + ", " + bytesAtMost(c.Peak)})
	b.report.row(row{what: "profile: all of it verified by the separate checker", size: of, ours: secs(a.Check)})
	b.report.note("Levels of record on steps of 0.05 %%, breaks four units apart: %.6g against %.6g for the best levels without.", a.Cost, a.Least)
	return nil
}
