package planner

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/place/ground"
	"trenchwright/place/route"
)

// lying is a cover at one place of a leg, held against the finished ground.
type lying struct {
	at   measure.Length // chainage
	off  measure.Length // above the wanted level positive
	unit int            // of the profile, on which the cover lies
	part float64        // of that unit's length, 0 at its start; of a unit that steps always 0
}

// coversOff is a stretch of a leg on which covers lie off the finished ground the same way.
type coversOff struct {
	leg      int
	from, to measure.Length
	worst    lying
}

// mostStretches are named of one leg, the worst of them; of what is left the number is told.
const mostStretches = 20

// sayCoversOff says of each leg where covers lie lower or higher than the finished ground asks by more than the job lets them lie
// off their level, every such stretch, and what makes it so where it is worst. Where the job states no such figure, it says
// the largest of the run alone.
func (b *build) sayCoversOff() {
	tol, least := b.job.Rules.CoverTol, b.nearest()
	if tol.Known {
		least = tol.Value
	}
	var legs [][]coversOff
	for i := range b.heights.problem.Legs {
		if all := b.legOff(i, least); len(all) > 0 {
			legs = append(legs, all)
		}
	}
	if len(legs) == 0 {
		return
	}
	if !tol.Known {
		one := slices.MaxFunc(legs, func(a, b []coversOff) int { return cmp.Compare(a[0].worst.off.Abs(), b[0].worst.off.Abs()) })
		legs = [][]coversOff{one[:1]}
	}
	why := b.whyOff()
	for _, all := range legs {
		b.sayLegOff(all, why)
	}
}

// sayLegOff tells of one leg, the worst stretch first.
func (b *build) sayLegOff(all []coversOff, why *whyOff) {
	tol, worst := b.job.Rules.CoverTol, all[0]
	name := b.leg(worst.leg).ID
	f := finding.Finding{ID: "planner.cover-off", Kind: finding.Note, Where: at(name, worst.worst.at)}
	var said, short []string
	for _, off := range all {
		if len(said) == mostStretches {
			rest := fmt.Sprintf("and %d more, less far off", len(all)-len(said))
			said, short = append(said, rest), append(short, rest)
			break
		}
		said = append(said, b.tell("%s to %s up to %s at %s", b.chainageOf(off.from), b.chainageOf(off.to), b.howOff(off.worst.off), b.placeOff(off)))
		short = append(short, b.tell("%s at %s", b.howOff(off.worst.off), b.placeOff(off)))
	}
	f.Text = b.tell("leg %s: covers lie off the level that the finished ground asks for, by %s: ", name, wording.Chainage) + strings.Join(said, "; ")
	f.Value = strings.Join(short, "; ")
	if tol.Known {
		f.Kind, f.Limit = finding.Attention, b.tell("%s either way", tol.Value)
		f.Rule = "tolerance for the level of covers, " + job.SourceFrom(b.job, b.job.Rules.From, tol)
	}
	if why != nil {
		text, try := why.said(worst)
		f.Text, f.Try = f.Text+text, try
	}
	b.add(f)
}

// howOff is how far a cover lies off and which way, as near as a level is read.
func (b *build) howOff(by measure.Length) string {
	way := "high"
	if by < 0 {
		way = "low"
	}
	tol, near := b.job.Rules.CoverTol, b.near(by.Abs())
	if tol.Known && near <= tol.Value {
		return b.tell("just over %s %s", tol.Value, way)
	}
	return b.tell("%s %s", near, way)
}

// placeOff is where a stretch is worst: at a joint where covers step, on the unit that ends there or on the one behind.
func (b *build) placeOff(off coversOff) string {
	w, joints := off.worst, b.heights.problem.Legs[off.leg].Joints
	text := b.chainageOf(w.at)
	if w.at == joints[w.unit+1].At && w.unit+2 < len(joints) {
		return text + b.tell(", on the %s before it", wording.Unit)
	}
	return text
}

// nearest is as near as a level is read.
func (b *build) nearest() measure.Length {
	if b.imperial() {
		return measure.Sixteenth
	}
	return measure.Millimetre
}

// chainageOf is a place along a leg in a sentence.
func (b *build) chainageOf(at measure.Length) string {
	if b.imperial() {
		return measure.Chainage(at, measure.Imperial, 2)
	}
	return measure.Format{Survey: true, Places: 3}.Length(at)
}

// near is a length to the nearest of these.
func (b *build) near(l measure.Length) measure.Length {
	step := b.nearest()
	return measure.Length(math.Round(float64(l)/float64(step))) * step
}

// legOff is every stretch of a leg on which covers lie off by more than a tolerance, the worst first.
func (b *build) legOff(leg int, tol measure.Length) []coversOff {
	var out []coversOff
	open := false
	add := func(from, to, worst lying) {
		n := len(out) - 1
		if open && (out[n].worst.off < 0) == (worst.off < 0) && from.at-out[n].to <= measure.Millimetre {
			if out[n].to = to.at; worst.off.Abs() > out[n].worst.off.Abs() {
				out[n].worst = worst
			}
			return
		}
		out, open = append(out, coversOff{leg: leg, from: from.at, to: to.at, worst: worst}), true
	}
	for u := range b.heights.problem.Legs[leg].Units {
		for _, piece := range b.unitOff(leg, u) {
			if len(piece) == 1 && piece[0].off.Abs() > tol {
				joints := b.heights.problem.Legs[leg].Joints
				add(lying{at: joints[u].At}, lying{at: joints[u+1].At}, piece[0])
			}
			for i := 1; i < len(piece); i++ {
				signs := [2]measure.Length{-1, 1} // in the order in which they are met
				if piece[i-1].off > piece[i].off {
					signs = [2]measure.Length{1, -1}
				}
				for _, sign := range signs {
					if from, to, ok := beyond(piece[i-1], piece[i], sign*tol); ok {
						worst := from
						if to.off.Abs() > from.off.Abs() {
							worst = to
						}
						add(from, to, worst)
					}
				}
			}
		}
	}
	sorting.By(out, func(a, b coversOff) int { return cmp.Compare(b.worst.off.Abs(), a.worst.off.Abs()) })
	return out
}

// beyond is what of a straight piece lies beyond a limit: above it where that is positive, else below it.
func beyond(a, c lying, limit measure.Length) (from, to lying, ok bool) {
	over := func(l lying) measure.Length {
		if limit < 0 {
			return limit - l.off
		}
		return l.off - limit
	}
	x, y := over(a), over(c)
	if x <= 0 && y <= 0 {
		return from, to, false
	}
	if x > 0 && y > 0 {
		return a, c, true
	}
	u := x.Metres() / (x - y).Metres()
	cut := lying{at: a.at + partOf(c.at-a.at, u), off: limit, unit: a.unit, part: a.part + float64((c.part-a.part)*u)}
	if x > 0 {
		return a, cut, true
	}
	return cut, c, true
}

// partOf is a part of a length.
func partOf(l measure.Length, part float64) measure.Length {
	return measure.FromMetres(float64(l.Metres() * part))
}

// unitOff is how the covers of one unit of the profile lie against the finished ground: places between which both are straight,
// a chain for each stretch of ground. A unit that steps is wanted by its middle, and has that one place.
func (b *build) unitOff(leg, unit int) [][]lying {
	q := &b.heights.problem
	j0, j1 := &q.Legs[leg].Joints[unit], &q.Legs[leg].Joints[unit+1]
	if j0.Wanted == nil && j1.Wanted == nil || j0.At == j1.At {
		return nil
	}
	if q.Legs[leg].Units[unit].Step != nil {
		if j0.Wanted == nil {
			return nil
		}
		return [][]lying{{{at: j0.At + (j1.At-j0.At)/2, off: b.profile.Levels[leg][unit] - *j0.Wanted, unit: unit}}}
	}
	_, start := b.profile.Faces(*q, leg, unit, nil)
	end, _ := b.profile.Faces(*q, leg, unit+1, nil)
	up := b.coverOn(leg, unit) - b.job.Levels.Above.Value
	surface := b.ground.Of(ground.Finished)
	from, to := b.planAt(leg, j0.At), b.planAt(leg, j1.At)
	section := surface.Section([]route.Point{from, to})
	var out [][]lying
	for _, stretch := range section.Stretches {
		var chain []lying
		for _, c := range stretch {
			u := snapped(c.Along / section.Length)
			l := lying{at: j0.At + partOf(j1.At-j0.At, u), unit: unit, part: u}
			l.off = start.Level + partOf(end.Level-start.Level, u) + up - ground.Record(c.Level)
			chain = append(chain, l)
		}
		out = append(out, chain)
	}
	return out
}

// snapped is a part of a unit's length; within a nanometre or so of its ends it is the end.
func snapped(part float64) float64 {
	const hair = 1e-9
	switch {
	case part < hair:
		return 0
	case part > 1-hair:
		return 1
	}
	return part
}

// coverOn is the thickness of the cover on a unit of the profile.
func (b *build) coverOn(leg, unit int) measure.Length {
	return b.sup[b.heights.legs[leg].supply[unit]].Cover.Thickness.Value
}
