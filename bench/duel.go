package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"time"

	"trenchwright/bench/peer"
	"trenchwright/bench/process"
	"trenchwright/solve/cutstock"
)

// duel is one cutting by us and by the peers.
type duel struct {
	name          string
	rows, columns int           // of the peers' model
	made          time.Duration // how long it took to make the model
	ours          process.Cost
	solving       time.Duration // our time without starting, reading and checking
	answer        cutAnswer
	theirs        []peerAnswer
}

type peerAnswer struct {
	name string
	peer.Answer
	failed error
}

// duel lets us cut first and alone, then all peers at the same time, each in one process on one thread.
func (b *bench) duel(name string, p cutstock.Problem, m *peer.Model, made time.Duration) (duel, error) {
	d := duel{name: name, made: made}
	d.rows, d.columns = m.Size()
	var costs, solving []process.Cost
	for range 5 {
		a, c, err := b.cut(name, p)
		if err != nil {
			return d, err
		}
		d.answer, costs, solving = a, append(costs, c), append(solving, process.Cost{User: a.Solve})
	}
	d.ours, d.solving = process.Median(costs), process.Median(solving).User
	model := filepath.Join(b.dir, "model.lp")
	f, err := os.Create(model)
	if err != nil {
		return d, err
	}
	if err := m.WriteLP(f); err != nil {
		return d, err
	}
	if err := f.Close(); err != nil {
		return d, err
	}
	d.theirs = make([]peerAnswer, len(b.peers))
	var all sync.WaitGroup
	for i, s := range b.peers {
		all.Go(func() { d.theirs[i] = b.askOften(s, model) })
	}
	all.Wait()
	b.compare(d)
	return d, nil
}

// askOften asks five times where the answer comes quickly.
func (b *bench) askOften(s peer.Solver, model string) peerAnswer {
	out := peerAnswer{name: s.Name}
	var costs []process.Cost
	for n := 1; len(costs) < n; {
		out.Answer, out.failed = s.AskFile(model, b.limit)
		if out.failed != nil {
			return out
		}
		costs = append(costs, out.Cost)
		if n == 1 && out.Cost.Wall < 3*time.Second && !b.quick {
			n = 5
		}
	}
	out.Cost = process.Median(costs)
	return out
}

// compare notes answers that cannot both be right.
func (b *bench) compare(d duel) {
	for _, t := range d.theirs {
		a := d.answer
		bad := false
		switch {
		case t.failed != nil:
			b.report.note("%s failed on %s: %v.", t.name, d.name, t.failed)
		case t.Verdict == peer.Best:
			bad = a.Verdict == cutstock.Impossible || a.Verdict == cutstock.Found && (a.Cost < t.Least || a.Bound > t.Least)
		case t.Verdict == peer.None:
			bad = a.Verdict == cutstock.Found
		}
		if bad {
			b.report.wrong = append(b.report.wrong, fmt.Sprintf("%s: ours %s, cost %d, bound %d; %s %s %d", d.name, a.Verdict, a.Cost, a.Bound, t.name, t.Verdict, t.Least))
		}
	}
}

func (r *report) duels(title string, all []duel) {
	t := table{title: title, head: []string{"what", "ours", "of it solving", "answer", "rows", "columns", "model made in"}}
	if len(all) == 0 {
		return
	}
	for _, p := range all[0].theirs {
		t.head = append(t.head, p.name, "ratio")
	}
	for _, d := range all {
		answer := fmt.Sprintf("%s %d", d.answer.Verdict, d.answer.Cost)
		if d.answer.Proven {
			answer += ", proven"
		}
		cells := []string{d.name, secs(d.ours.CPU()), secs(d.solving), answer, count(d.rows), count(d.columns), secs(d.made)}
		for _, p := range d.theirs {
			cells = append(cells, p.cells(d.ours.CPU())...)
		}
		t.cells = append(t.cells, cells)
	}
	r.tables = append(r.tables, t)
}

// cells are a peer's time and how many times ours it is.
func (p peerAnswer) cells(ours time.Duration) []string {
	switch {
	case p.failed != nil:
		return []string{"failed", ""}
	case p.Verdict == peer.NotEnded:
		return []string{"not ended after " + secs(p.Cost.CPU()), "> " + times(p.Cost.CPU(), ours)}
	}
	return []string{secs(p.Cost.CPU()), times(p.Cost.CPU(), ours)}
}

// duelRow sums up how we stand beside the first peer; least is the ratio that each duel must reach which it ended, 0: none.
func (r *report) duelRow(what string, all []duel, least float64) {
	v := row{what: what, size: fmt.Sprintf("%d of them", len(all))}
	if least > 0 {
		v.target = fmt.Sprintf("≥ %s × where it ends", three(least))
	}
	var ratios []float64
	var ours, theirs []process.Cost
	for _, d := range all {
		if len(d.theirs) == 0 || d.theirs[0].failed != nil {
			continue
		}
		ours, theirs = append(ours, d.ours), append(theirs, d.theirs[0].Cost)
		if d.theirs[0].Verdict != peer.NotEnded {
			ratios = append(ratios, float64(d.theirs[0].Cost.CPU())/float64(max(1, d.ours.CPU())))
		}
	}
	if len(theirs) == 0 {
		v.ours, v.verdict = "not measured: no peer", unknown
		r.row(v)
		return
	}
	v.ours = secs(process.Median(ours).CPU())
	v.peer = fmt.Sprintf("%s %s, ended %d of %d", all[0].theirs[0].name, secs(process.Median(theirs).CPU()), len(ratios), len(theirs))
	if len(ratios) > 0 {
		slices.Sort(ratios)
		v.ratio = fmt.Sprintf("%s × (%s to %s)", three(ratios[(len(ratios)-1)/2]), three(ratios[0]), three(ratios[len(ratios)-1]))
	}
	if least > 0 {
		v.verdict = unknown
		if len(ratios) > 0 {
			v.verdict = within(ratios[0] >= least)
		}
	}
	r.row(v)
}
