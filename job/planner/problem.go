package planner

import (
	"cmp"
	"fmt"
	"slices"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/job"
	"trenchwright/solve/layout"
)

// question is one leg's problem, with the way back from its supplies to the job's.
type question struct {
	problem layout.Problem
	supply  []int // job supply of each of the problem's supplies
	zones   []zone
	forced  []string // ids of the problem's forced joints
	back    bool     // laid from the to end: the problem runs against the axis
	limits  []limit  // curves that keep the longest units off, in the order of the leg's axis
}

// ask puts the leg's problem together.
func (b *build) ask(leg int) question { return b.askOn(leg, b.axes[leg].curves()) }

// askOn is ask for curves that may be others than the leg's own.
func (b *build) askOn(leg int, curves []curve) question {
	l, a := b.leg(leg), &b.axes[leg]
	q := question{zones: b.zones(leg)}
	main := b.legSupply(leg)
	q.supply = []int{main.index}
	q.problem = layout.Problem{
		Length: a.clear,
		Start:  layoutEnd(a.start),
		End:    layoutEnd(a.end),
		First:  l.First,
		Hold:   l.Hold,
		Drift:  layout.Drift{Scatter: b.job.Rules.UnitScatter.Value},
		Prefer: layout.Prefer{Step: measure.Format{System: b.system()}.Step()}, // cut lengths that can be read off a rule
		Show:   b.show(),
		Words:  b.speech(),
	}
	for _, z := range q.zones {
		lz := layout.Zone{From: z.from, To: z.to, Why: z.why}
		if z.noJoint {
			q.problem.Zones = append(q.problem.Zones, lz)
		}
		if z.noCut {
			q.problem.NoCut = append(q.problem.NoCut, lz)
		}
	}
	for _, f := range l.Joints {
		q.problem.Joints = append(q.problem.Joints, layout.ForcedJoint{
			At: a.on(f.At), Tolerance: f.Tol, Why: f.Why,
		})
		q.forced = append(q.forced, f.ID)
	}
	b.demands(leg, &q)
	q.problem.Stretches, q.limits = b.stretches(leg, main, q.supply, curves)
	q.problem.Stretches = b.graded(leg, q.supply, q.problem.Stretches)
	q.problem.Stretches = b.pinned(leg, main, q.problem.Stretches)
	for _, i := range q.supply {
		q.problem.Supplies = append(q.problem.Supplies, layoutSupply(&b.sup[i]))
	}
	if l.LayFrom == l.To && l.LayFrom != l.From && l.LayFrom != "" {
		q.back = true
		q.problem = mirrored(q.problem)
		slices.Reverse(q.forced)
	}
	for i := range q.problem.Joints { // from the middle of a joint to the start of the unit after it
		j := &q.problem.Joints[i]
		j.At += pinnedGap(q.problem.Stretches, j.At, main) / 2
	}
	return q
}

// system is the job's own, in whatever view it is spoken of.
func (b *build) system() measure.System {
	if b.own.System == job.Imperial {
		return measure.Imperial
	}
	return measure.Metric
}

func layoutEnd(f face) layout.End {
	return layout.End{Mitred: f.mitred, Tan: f.tan, Fixed: f.beside}
}

// layoutSupply is a supply in the leg programme's terms. Where saw figures are missing nothing may be cut: the shortest
// cut unit is then longer than any unit.
func layoutSupply(s *supply) layout.Supply {
	out := layout.Supply{
		Name: s.ID, Gap: s.Joint.Gap.Value,
		ShortestCut: s.Saw.Shortest.Value, Kerf: s.Saw.Kerf.Value, LeastSlice: s.leastSlice(),
		KeepFactoryEnd: s.Saw.KeepFactoryEnd.Value, MayTurn: s.Unit.MayTurn.Value, Width: s.width,
		Covers: layoutCovers(s),
	}
	if !s.mayCut {
		out.ShortestCut = s.longest() + 1
	}
	for _, l := range s.Unit.Lengths.Value {
		st := layout.Stock{Length: l}
		for _, n := range s.Unit.NoCut {
			if n.Of == l {
				st.NoCut = append(st.NoCut, layout.Span{From: n.From, To: n.To})
			}
		}
		out.Stocks = append(out.Stocks, st)
	}
	return out
}

// layoutCovers is empty where the supply has no covers or a figure that laying them out needs is missing.
func layoutCovers(s *supply) layout.Covers {
	c := s.Cover
	if c == nil || !c.Shortest.Known || !c.Width.Known {
		return layout.Covers{}
	}
	return layout.Covers{
		Lengths: c.Lengths.Value, Gap: c.Gap.Value, ShortestCut: c.Shortest.Value,
		LeastSlice: s.leastSlice(), Width: c.Width.Value,
	}
}

// demands turns zones that ask for a supply into the problem's demands; what overlaps is one demand.
func (b *build) demands(leg int, q *question) {
	a := &b.axes[leg]
	for _, z := range q.zones {
		if z.supply < 0 || z.supply == q.supply[0] {
			continue
		}
		k := slices.Index(q.supply, z.supply)
		if k < 0 {
			k = len(q.supply)
			q.supply = append(q.supply, z.supply)
		}
		q.problem.Demands = append(q.problem.Demands, layout.Demand{From: max(z.from, 0), To: min(z.to, a.clear), Supply: k, Why: z.why})
	}
	sorting.By(q.problem.Demands, func(x, y layout.Demand) int { return cmp.Compare(x.From, y.From) })
	var out []layout.Demand
	for _, d := range q.problem.Demands {
		n := len(out)
		if n == 0 || out[n-1].To < d.From {
			out = append(out, d)
			continue
		}
		if out[n-1].Supply != d.Supply {
			b.add(finding.Finding{ID: "planner.two-supplies", Kind: finding.Fault,
				Text:  fmt.Sprintf("%s, but so does something else from %s to %s of leg %s: %s", d.Why, b.say(out[n-1].From), b.say(out[n-1].To), b.leg(leg).ID, out[n-1].Why),
				Where: at(b.leg(leg).ID, a.chainage(d.From)), Try: "one supply for both, or a shorter reach"})
			continue
		}
		out[n-1].To = max(out[n-1].To, d.To)
		if out[n-1].Why != d.Why {
			out[n-1].Why += "; " + d.Why
		}
	}
	q.problem.Demands = out
}

// sharedWindow is the joint window that all supplies laid on a leg have in common, aimed at the first one's gap. Where one
// of them has no window it is that supply's fixed gap: nothing can be shared out then.
func (b *build) sharedWindow(laid []int) measure.Window {
	w := b.sup[laid[0]].Joint.Gap.Value
	for _, i := range laid[1:] {
		g := b.sup[i].Joint.Gap.Value
		if g.Min == g.Max {
			return g
		}
		w.Min, w.Max = max(w.Min, g.Min), min(w.Max, g.Max)
	}
	w.Nominal = min(max(w.Nominal, w.Min), w.Max)
	return w
}

// widest is the leg's supply with the outer width and the unit lengths of the widest and longest that is laid on the leg:
// what opens a joint most.
func (b *build) widest(s *supply, laid []int) *supply {
	w := *s
	lengths := append([]measure.Length{}, s.Unit.Lengths.Value...)
	for _, i := range laid[1:] {
		w.width = max(w.width, b.sup[i].width)
		lengths = append(lengths, b.sup[i].Unit.Lengths.Value...)
	}
	w.Unit.Lengths.Value = lengths
	return &w
}

// fixedShares is what squareness and the reserve take of every joint, the most that any supply on the leg asks for.
func (b *build) fixedShares(laid []int) measure.Length {
	var most measure.Length
	for _, i := range laid {
		sh := b.shares(&b.sup[i])
		most = max(most, sh.square+sh.reserve)
	}
	return most
}

// pinned holds the gap of forced joints at its nominal width: a joint is asked for at its middle, the leg programme takes
// the start of the unit after it, and only a gap that does not move makes the two the same. The pin reaches the widest gap to
// either side, so that it holds the start behind a gap that a curve has widened, and serves a leg that is laid from its other
// end too; where it reaches over the end of a stretch, one gap that both allow is held on either side of it.
func (b *build) pinned(leg int, s *supply, stretches []layout.Stretch) []layout.Stretch {
	a, w := &b.axes[leg], s.Joint.Gap.Value
	if len(b.leg(leg).Joints) == 0 || w.Min == w.Max {
		return stretches
	}
	if len(stretches) == 0 {
		stretches = []layout.Stretch{{From: 0, To: a.clear}}
	}
	for _, f := range b.leg(leg).Joints {
		at := a.on(f.At)
		from, to := max(0, at-f.Tol-w.Max-1), min(a.clear, at+f.Tol+w.Max+1)
		g := gapOver(stretches, from, to, w)
		var out []layout.Stretch
		for _, st := range stretches {
			for _, part := range [][2]measure.Length{{st.From, min(st.To, from)}, {max(st.From, from), min(st.To, to)}, {max(st.From, to), st.To}} {
				if part[0] >= part[1] {
					continue
				}
				p := st
				p.From, p.To = part[0], part[1]
				if p.From >= from && p.To <= to {
					p.Gap = measure.Window{Nominal: g, Min: g, Max: g}
				}
				out = append(out, p)
			}
		}
		stretches = out
	}
	return stretches
}

// gapOver is the gap nearest to the nominal one that all stretches between two places allow.
func gapOver(stretches []layout.Stretch, from, to measure.Length, w measure.Window) measure.Length {
	for _, st := range stretches {
		if st.Gap != (measure.Window{}) && st.From < to && from < st.To { // what a curve leaves of the window
			w.Min, w.Max = max(w.Min, st.Gap.Min), min(w.Max, st.Gap.Max)
			w.Nominal = min(max(w.Nominal, w.Min), w.Max)
		}
	}
	return w.Nominal
}

// pinnedGap is the gap that a forced joint is held at.
func pinnedGap(stretches []layout.Stretch, at measure.Length, s *supply) measure.Length {
	for _, st := range stretches {
		if st.From <= at && at <= st.To && st.Gap != (measure.Window{}) {
			return st.Gap.Nominal
		}
	}
	return s.Joint.Gap.Value.Nominal
}
