package earthwork

import (
	"math"
	"sync"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// Solve says what is dug, what goes back and what leaves. A Problem with faults is not solved; a leg of which something is
// not on file is left out, and said to be.
func Solve(p *Problem) Solution {
	var out Solution
	out.Findings = Faults(p)
	if out.Findings.Any(finding.Fault) {
		return out
	}
	walkers, said := walkers(p)
	out.Findings = append(out.Findings, said...)
	if out.Findings.Any(finding.Fault) {
		return out
	}
	out.Legs = dug(p, walkers)
	for l, w := range walkers {
		if w != nil {
			out.Findings = append(out.Findings, w.findings(&p.Legs[l])...)
		}
		out.Total.add(out.Legs[l].Total)
	}
	out.balance(p)
	out.order(p)
	out.strip(p, walkers)
	out.meets(p, walkers)
	return out
}

// dug is every leg by itself. Legs share nothing but the ground, which they only read: they are walked side by side.
func dug(p *Problem, walkers []*walker) []LegDig {
	out := make([]LegDig, len(walkers))
	var wait sync.WaitGroup
	for l, w := range walkers {
		out[l].Name = p.Legs[l].Name
		if w != nil {
			wait.Go(func() {
				out[l] = w.leg(&p.Legs[l])
				w.deepest(&out[l])
			})
		}
	}
	wait.Wait()
	return out
}

// Part is a part of a leg.
type Part struct {
	Leg      int
	From, To measure.Length
}

// Portion is what Solve says of volumes, for parts of the run.
type Portion struct {
	Total    Quantities
	Balances []Balance
	Fabric   *FabricOrder // sheets that would be ordered for these parts alone; nil: no fabric asked for
	Findings finding.List
}

// Between is what lies in parts of the run. What a node or a free end adds belongs to a part that reaches the end of the
// last span there.
func Between(p *Problem, parts []Part) Portion {
	out := Portion{Findings: Faults(p)}
	if out.Findings.Any(finding.Fault) {
		return out
	}
	ws, said := walkers(p)
	out.Findings = append(out.Findings, said...)
	if p.Fabric != nil {
		out.Fabric = &FabricOrder{}
	}
	for _, part := range parts {
		if part.Leg < 0 || part.Leg >= len(ws) || ws[part.Leg] == nil {
			continue
		}
		w, leg := ws[part.Leg], &p.Legs[part.Leg]
		for i, s := range leg.Spans {
			if from, to := max(part.From, s.From), min(part.To, s.To); from < to {
				out.Total.add(w.quantities(leg, i, from, to))
			}
		}
		if out.Fabric != nil {
			out.Fabric.leg(p.Fabric, leg, part.From, part.To)
		}
		out.Findings = append(out.Findings, w.findings(leg)...)
		w.told = told{}
	}
	b, said := balances(p, out.Total)
	out.Balances, out.Findings = b, append(out.Findings, said...)
	return out
}

// walkers are ready to go along the legs; nil for one that cannot be dug for lack of a figure.
func walkers(p *Problem) ([]*walker, finding.List) {
	axes := make([]axis, len(p.Legs))
	for i := range p.Legs {
		axes[i] = newAxis(p.Legs[i].Line)
	}
	ends, said := shares(p, axes)
	out := make([]*walker, len(p.Legs))
	for i := range p.Legs {
		if missing := unknown(p, i); len(missing) > 0 {
			said = append(said, missing...)
			continue
		}
		leg := &p.Legs[i]
		w := &walker{p: p, axis: axes[i], ends: ends[i]}
		if p.Topsoil != nil {
			w.measures.topsoil = p.Topsoil.Metres()
		}
		if p.Layer != nil {
			w.measures.layer = p.Layer.Metres()
		}
		for k := range leg.Spans {
			w.spans = append(w.spans, newTemplate(&leg.Spans[k]))
		}
		first, last := w.spans[0], w.spans[len(w.spans)-1]
		if ends[i][0] == nil {
			first.openFrom = &closing{first.from - leg.Start.Beyond.Metres(), leg.Start.Sloped}
		}
		if ends[i][1] == nil {
			last.openTo = &closing{last.to + leg.End.Beyond.Metres(), leg.End.Sloped}
		}
		out[i] = w
	}
	return out, said
}

// leg adds up a whole leg.
func (w *walker) leg(leg *Leg) LegDig {
	out := LegDig{Name: leg.Name, Running: []Running{{At: leg.Spans[0].From}}}
	for i, s := range leg.Spans {
		q := w.quantities(leg, i, s.From, s.To)
		out.Spans = append(out.Spans, q)
		out.Total.add(q)
		out.Approx.approximate(w, w.spans[i])
		out.Running = append(out.Running, Running{At: s.To, Dug: out.Total.Dug(), Fill: out.Total.Fill + out.Total.TopsoilBack})
	}
	if f := factorOf(w.p, Soil); f != nil {
		out.masses(f)
	}
	return out
}

// masses fills the ordinates of the running curve.
func (l *LegDig) masses(f *Factor) {
	soil, fill := 0.0, 0.0
	for i := range l.Running {
		if i > 0 {
			soil += float64(l.Spans[i-1].Soil)
			fill += float64(l.Spans[i-1].Fill)
		}
		l.Running[i].Mass = new(measure.Volume(soil - fill/f.Compacted))
	}
}

// quantities are what lies between two chainages of span i.
func (w *walker) quantities(leg *Leg, i int, from, to measure.Length) Quantities {
	t := w.spans[i]
	var r rates
	w.run(t, from.Metres(), to.Metres(), &r)
	q := Quantities{
		Run:     (to - from).Metres(),
		Topsoil: measure.Volume(r.q[qTopsoil]), Soil: measure.Volume(r.q[qSoil]), Rock: measure.Volume(r.q[qRock]),
		Stone: measure.Volume(r.q[qStone]), Unit: measure.Volume(r.q[qUnit]), Fill: measure.Volume(r.q[qFill]), TopsoilBack: measure.Volume(r.q[qTopBack]),
		Raised: measure.Volume(r.q[qRaised]), Lowered: measure.Volume(r.q[qLowered]),
		Width: r.q[qWidth], Faces: r.face,
	}
	for _, l := range r.layers {
		q.Layers = append(q.Layers, LayerFill{measure.Volume(l[0]), measure.Volume(l[1])})
	}
	q.displace(leg, t, from, to, w.uncounted(from, to))
	return q
}

// displace takes pads and pipe out of the stone, but not where no stone is counted.
func (q *Quantities) displace(leg *Leg, t *template, from, to measure.Length, uncounted []stretch) {
	counted := func(a, b measure.Length) float64 {
		sum := (b - a).Metres()
		for _, s := range uncounted {
			sum -= max(0, min(s.to, b.Metres())-max(s.from, a.Metres()))
		}
		return max(sum, 0)
	}
	for _, pad := range leg.Pads {
		low := pad.At - pad.Along/2
		a, b := max(low, from), min(low+pad.Along, to)
		if a >= b {
			continue
		}
		// under its first or last joint a pad reaches past the leg's end
		if from == leg.Spans[0].From {
			a = min(a, low)
		}
		if to == leg.Spans[len(leg.Spans)-1].To {
			b = max(b, low+pad.Along)
		}
		q.Pads += measure.Volume(float64(counted(a, b)*pad.Across.Metres()) * pad.Thick.Metres())
	}
	if t.drain {
		grade := (t.end[lDrain] - t.start[lDrain]) / (t.to - t.from)
		slope := math.Sqrt(1 + float64(grade*grade))
		q.Pipe = measure.Volume(float64(t.pipe*slope) * counted(from, to))
	}
	q.Stone -= q.Pads + q.Pipe
}

// approximate adds what the formulas of the trade make of a span, and the exact figure for the same length.
func (a *Approximations) approximate(w *walker, t *template) {
	var area [3]float64
	for i, u := range [3]float64{0, 0.5, 1} {
		x := mix(t.from, t.to, u)
		sh := w.shape(w.axis.part(min(x, math.Nextafter(t.to, t.from))), x)
		r, _ := w.measures.rates(sh)
		area[i] = r.dug()
	}
	a.Exact += measure.Volume(w.plain)
	a.EndArea += measure.Volume(AverageEndArea(area[0], area[2], t.to-t.from))
	a.Prismoidal += measure.Volume(Prismoidal(area[0], area[1], area[2], t.to-t.from))
}

func (r *rates) dug() float64 { return r.q[qTopsoil] + r.q[qSoil] + r.q[qRock] }

// deepest looks along every span.
func (w *walker) deepest(leg *LegDig) {
	depth := func(x float64) float64 { return w.depth(x).Metres() }
	for i, t := range w.spans {
		x, _ := peak(w.looks(t), depth)
		x = w.shownAt(i, x, depth)
		var deep DeepestCut
		if d := w.depth(x); d > 0 {
			deep = DeepestCut{record(x), d}
		}
		leg.Deep = append(leg.Deep, deep)
		if deep.Depth > leg.Deepest.Depth {
			leg.Deepest = deep
		}
	}
}

// depth is how far the bottom of the dig lies below the higher of its two edges at chainage x.
func (w *walker) depth(x float64) measure.Length {
	sh := w.alone(x)
	cols := sh.columns()
	e := sh.extent(cols)
	high, low := math.Inf(-1), math.Inf(1)
	for i := range cols {
		c := &cols[i]
		if c.y1-c.y0 <= thin || c.y1 <= e.left || c.y0 >= e.right || !c.has[fGround] || !c.has[fDig] {
			continue
		}
		low = min(low, c.v[fDig][0], c.v[fDig][1])
		a, b := max(c.y0, e.left), min(c.y1, e.right)
		if a == e.left {
			high = max(high, c.at(fGround, a))
		}
		if b == e.right {
			high = max(high, c.at(fGround, b))
		}
	}
	if high <= low {
		return 0
	}
	return record(high - low)
}
