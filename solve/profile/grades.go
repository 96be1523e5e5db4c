package profile

import (
	"cmp"
	"math"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
)

// grader puts grades on their step, path by path, from levels that are known (pins, and ends that an earlier path has settled)
// towards those that are not. Between two known levels one run, the longest that will do, takes what the others leave: it
// closes, and its grade is what it has to be.
type grader struct {
	p      *Problem
	origin measure.Length
	exact  bool // no step
	rec    record
	known  [][]bool
	paths  []*path
	runs   [][]Run // by leg, once it is done
	failed []stretch
}

// How far straight runs may pass the best levels by, in metres: with grades on a step a micrometre means nothing; without one
// it has to be less than what hair leaves over the shortest units.
const (
	stepSlack  = 1e-6
	exactSlack = 5e-9
)

// slope is the grade of a run beside another; unset: there is none, or it steps.
type slope struct {
	set bool
	is  measure.Grade
}

func (p *Problem) grades(z [][]float64, origin measure.Length, exact bool) (*record, []stretch) {
	g := &grader{p: p, origin: origin, exact: exact || p.Step.Rise == 0, runs: make([][]Run, len(p.Legs)), paths: p.paths(z)}
	for i := range p.Legs {
		g.rec.levels = append(g.rec.levels, make([]measure.Length, len(z[i])))
		g.known = append(g.known, make([]bool, len(z[i])))
	}
	for i := range p.Legs {
		for j := range p.Legs[i].Joints {
			if pin := p.Legs[i].Joints[j].Pin; pin != nil {
				g.know(i, j, *pin)
			}
		}
	}
	for q := g.next(); q != nil; q = g.next() {
		g.path(q)
	}
	for i := range p.Legs {
		g.rec.runs = append(g.rec.runs, g.runs[i]...)
	}
	g.rec.merge(p)
	if !g.exact {
		g.rec.thrift(p)
	}
	return &g.rec, g.failed
}

// know settles a level, and with it all ends at its node.
func (g *grader) know(leg, joint int, level measure.Length) {
	g.rec.levels[leg][joint], g.known[leg][joint] = level, true
	if joint > 0 && joint < len(g.known[leg])-1 {
		return
	}
	for _, node := range g.p.Nodes {
		for _, a := range node.Arms {
			if at, _ := g.p.ends(a); a.Leg != leg || at != joint {
				continue
			}
			for _, b := range node.Arms {
				at, _ := g.p.ends(b)
				g.rec.levels[b.Leg][at], g.known[b.Leg][at] = level-a.Rise+b.Rise, true
			}
		}
	}
}

// load takes what is known into a path; anything: something is.
func (g *grader) load(q *path) (anything bool) {
	for _, part := range q.parts {
		l := &g.p.Legs[part.leg]
		for v := part.first; v <= part.first+len(l.Units); v++ {
			if j := part.joint(l, v); g.known[part.leg][j] {
				q.level[v], q.known[v], anything = g.rec.levels[part.leg][j]-part.lift, true, true
			}
		}
	}
	return anything
}

// next is the first path not yet done that has a known level; failing that the first not done, whose start is settled as it
// comes; nil: all are done.
func (g *grader) next() *path {
	var fresh *path
	for _, q := range g.paths {
		if g.runs[q.parts[0].leg] != nil {
			continue
		}
		if g.load(q) {
			return q
		}
		if fresh == nil {
			fresh = q
		}
	}
	if fresh != nil {
		g.settle(fresh, 0)
		g.load(fresh)
	}
	return fresh
}

// settle makes the best level at a joint of a path the one of record.
func (g *grader) settle(q *path, v int) {
	for _, part := range q.parts {
		l := &g.p.Legs[part.leg]
		if part.first <= v && v <= part.first+len(l.Units) {
			g.know(part.leg, part.joint(l, v), settle(q.best[v], g.origin)+part.lift)
			return
		}
	}
}

// meetings settles the levels of nodes that a path comes to more than once.
func (g *grader) meetings(q *path) {
	for _, node := range g.p.Nodes {
		seen := -1
		for _, a := range node.Arms {
			for _, part := range q.parts {
				if part.leg != a.Leg {
					continue
				}
				v := part.first
				if a.End != part.back {
					v += len(g.p.Legs[a.Leg].Units)
				}
				if seen >= 0 && seen != v && !q.known[v] {
					g.settle(q, v)
					g.load(q)
				}
				seen = v
			}
		}
	}
}

// path lays all runs of a path.
func (g *grader) path(q *path) {
	g.lips(q)
	g.meetings(q)
	marks := q.marks(g.exact)
	var anchors []int
	for k, v := range marks {
		if q.known[v] {
			anchors = append(anchors, k)
		}
	}
	var runs []Run
	var before slope
	for k := range len(anchors) - 1 {
		part := g.close(q, marks[anchors[k]:anchors[k+1]+1], before, q.liesAt(marks[anchors[k+1]]))
		runs = append(runs, part...)
		before = slopeOf(part[len(part)-1])
	}
	first, last := anchors[0], anchors[len(anchors)-1]
	after := slope{}
	if len(runs) > 0 {
		after = slopeOf(runs[0])
	}
	head := slices.Clone(marks[:first+1])
	slices.Reverse(head)
	back := g.open(q, head, after)
	slices.Reverse(back)
	if len(runs) == 0 && len(back) > 0 {
		before = slopeOf(back[len(back)-1])
	}
	all := slices.Concat(back, runs, g.open(q, marks[last:], before))
	for _, r := range all {
		for v := r.From + 1; v < r.To && !r.Stepped; v++ {
			q.level[v] = q.level[r.From] + climb(r.Grade, q.at[v]-q.at[r.From])
		}
	}
	q.runs(g.p, all, g.runs)
	for _, part := range q.parts {
		l := &g.p.Legs[part.leg]
		for v := part.first; v <= part.first+len(l.Units); v++ {
			if j := part.joint(l, v); !g.known[part.leg][j] {
				g.know(part.leg, j, q.level[v]+part.lift)
			}
		}
	}
}

// open lays runs from a known level to the path's end.
func (g *grader) open(q *path, marks []int, before slope) []Run {
	runs, ok := g.walk(q, marks, before)
	if !ok {
		runs = g.asTheyCome(q, marks, before)
		g.fail(q, marks[0], marks[len(marks)-1])
	}
	return runs
}

// fail notes the stretches of legs between two joints of a path.
func (g *grader) fail(q *path, from, to int) {
	if g.exact {
		return
	}
	for _, part := range q.parts {
		l := &g.p.Legs[part.leg]
		a, b := max(min(from, to), part.first), min(max(from, to), part.first+len(l.Units))
		if a < b {
			x, y := part.joint(l, a), part.joint(l, b)
			g.failed = append(g.failed, stretch{part.leg, min(x, y), max(x, y)})
		}
	}
}

func slopeOf(r Run) slope { return slope{!r.Stepped, r.Grade} }

// liesAt is the grade of what lies behind a joint of a path.
func (q *path) liesAt(v int) slope {
	if v == len(q.units) || q.units[v].lies == nil {
		return slope{}
	}
	return slope{true, *q.units[v].lies}
}

// close lays the runs between two known levels, behind a run with a slope and before what lies.
func (g *grader) close(q *path, marks []int, before, after slope) []Run {
	n := len(marks) - 1
	if n == 1 {
		run := g.straight(q, marks[0], marks[1])
		if !g.fits(q, run, before, after) {
			g.fail(q, marks[0], marks[1])
		}
		return []Run{run}
	}
	if !g.exact {
		for _, all := range append([][]int{marks}, q.parted(marks)...) {
			for _, c := range closers(q, all) {
				if runs, ok := g.closeAt(q, all, c, before, after); ok {
					return runs
				}
			}
		}
		g.fail(q, marks[0], marks[n])
	}
	return g.asTheyCome(q, marks, before)
}

// mostParted is at how many joints it is tried to part runs once more.
const mostParted = 24

// parted are marks with one more between, the nearest to those that there are first: what comes out of one thing that lies and runs into
// another is bound at both ends, and what closes has to lie between. None where nothing lies at both ends.
func (q *path) parted(marks []int) (out [][]int) {
	first, last := marks[0], marks[len(marks)-1]
	if first == 0 || q.units[first-1].lies == nil || last == len(q.units) || q.units[last].lies == nil {
		return nil
	}
	for off := 1; off < last-first && len(out) < mostParted; off++ {
		for _, m := range marks {
			for _, v := range [2]int{m + off, m - off} {
				if at, hit := slices.BinarySearch(marks, v); !hit && v > first && v < last && !slices.ContainsFunc(out, func(o []int) bool { return slices.Contains(o, v) }) {
					out = append(out, slices.Insert(slices.Clone(marks), at, v))
				}
			}
		}
	}
	return out
}

const mostClosers = 6

// closers are the runs that may close, the longest first; those that step or whose grade is given come last.
func closers(q *path, marks []int) []int {
	order := make([]int, len(marks)-1)
	for k := range order {
		order[k] = k
	}
	length := func(k int) measure.Length {
		if q.units[marks[k]].step != nil || q.given(marks[k], marks[k+1]) {
			return 0
		}
		return q.at[marks[k+1]] - q.at[marks[k]]
	}
	sorting.By(order, func(a, b int) int { return cmp.Compare(length(b), length(a)) })
	return order[:min(len(order), mostClosers)]
}

// given tells whether limits leave units of a path one grade, but for what is rounded.
func (q *path) given(from, to int) bool {
	low, high := math.Inf(-1), math.Inf(1)
	for _, u := range q.units[from:to] {
		if u.least != nil {
			low = max(low, ratio(*u.least))
		}
		if u.most != nil {
			high = min(high, ratio(*u.most))
		}
	}
	return high-low <= 4*rounded
}

// closeAt lays the runs before run c forwards, those behind it backwards, and c between.
func (g *grader) closeAt(q *path, marks []int, c int, before, after slope) ([]Run, bool) {
	left, ok := g.walk(q, marks[:c+1], before)
	if !ok {
		return nil, false
	}
	if len(left) > 0 {
		before = slopeOf(left[len(left)-1])
	}
	behind := slices.Clone(marks[c+1:])
	slices.Reverse(behind)
	right, ok := g.walk(q, behind, after)
	if !ok {
		return nil, false
	}
	slices.Reverse(right)
	if len(right) > 0 {
		after = slopeOf(right[0])
	}
	run := g.straight(q, marks[c], marks[c+1])
	if !g.fits(q, run, before, after) {
		return nil, false
	}
	return slices.Concat(left, []Run{run}, right), true
}

// line is a run between two levels: on the whole step that they lie on, else on what they make.
func (p *Problem) line(from, to int, up, along measure.Length) Run {
	r := Run{From: from, To: to, Grade: between(up, along)}
	if r.OnStep = p.onStep(r.Grade); !r.OnStep && p.Step.Rise != 0 {
		if on := p.steps(int64(math.Round(ratio(r.Grade) / ratio(p.Step)))); OnGrade(on, up, along) {
			r.Grade, r.OnStep = on, true
		}
	}
	return r
}

// straight is the run between two settled levels.
func (g *grader) straight(q *path, from, to int) Run {
	if s := q.units[from].step; s != nil {
		return Run{From: from, To: to, Grade: s.Grade, Stepped: true}
	}
	if lies := q.units[from].lies; lies != nil {
		return Run{From: from, To: to, Grade: *lies, OnStep: g.p.onStep(*lies)}
	}
	return g.p.line(from, to, q.level[to]-q.level[from], q.at[to]-q.at[from])
}

// asTheyCome lays the runs on the grades of the best levels; marks may run either way from a settled level. Where limits
// leave one grade alone, it is that.
func (g *grader) asTheyCome(q *path, marks []int, before slope) []Run {
	var out []Run
	for k := range len(marks) - 1 {
		here, to := marks[k], marks[k+1]
		low, high := min(here, to), max(here, to)
		switch only := g.room(q, here, to, before).only(); {
		case q.known[to]:
		case q.units[low].step != nil:
			g.step(q, here, to)
		case only != nil:
			q.level[to] = q.level[here] + climb(*only, q.at[to]-q.at[here])
			out, before = append(out, Run{From: low, To: high, Grade: *only, OnStep: g.p.onStep(*only)}), slope{true, *only}
			continue
		default:
			q.level[to] = settle(q.best[to], g.origin)
		}
		run := g.straight(q, low, high)
		out, before = append(out, run), slopeOf(run)
	}
	return out
}
