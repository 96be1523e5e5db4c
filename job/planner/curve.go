package planner

import (
	"fmt"
	"math"
	"slices"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/base/wording"
	"trenchwright/solve/layout"
)

// limit is what one curve does to the joints on it and as far beside it as a unit reaches.
type limit struct {
	curve
	gap     measure.Window // what the turn leaves of the joint window
	most    measure.Length // the longest piece whose joints the window takes
	longest measure.Length // that may lie on it: the longest unit that is made and no longer than most, else most
	need    measure.Length // what the longest unit of all would ask for on either side
}

// share is what a leg's joint window is shared out from.
type share struct {
	window         measure.Window // that all supplies on the leg have in common
	width, longest measure.Length // of the widest and of the longest unit that is laid
	lengths        []measure.Length
	fixed          measure.Length // of every joint, for squareness and drift
}

func (b *build) share(s *supply, laid []int) share {
	w := b.widest(s, laid)
	return share{b.sharedWindow(laid), w.width, w.longest(), w.Unit.Lengths.Value, b.fixedShares(laid)}
}

// half is what either side of a joint's window has for the turn in plan.
func (h share) half() measure.Length { return (h.window.Max-h.window.Min)/2 - h.fixed }

// stretches shares out the joint window along the leg: the fixed shares everywhere, the turn in plan on curves and as far
// beside them as a unit reaches. A curve that the longest unit's joints cannot take limits the units on it.
func (b *build) stretches(leg int, s *supply, laid []int, curves []curve) ([]layout.Stretch, []limit) {
	h := b.share(s, laid)
	w := h.window
	curved := slices.ContainsFunc(curves, func(c curve) bool { return c.radius != 0 })
	if w.Min == w.Max {
		if !curved {
			return nil, nil
		}
		b.add(finding.Finding{ID: "planner.no-window", Kind: finding.NotChecked,
			Text:  b.tell("NOT CHECKED: no joint window of supply %s on file (its gap is fixed at %s): whether its joints can take the curve on leg %s cannot be said", s.ID, w.Nominal, b.leg(leg).ID),
			Where: finding.Where{Leg: b.leg(leg).ID}, Ask: "the supplier: least and greatest gap, measured at the face"})
		return plainStretches(curves, h.longest), nil
	}
	straight, ok := curveWindow(w, 0, 0, h.width, h.fixed)
	if !ok {
		b.add(finding.Finding{ID: "planner.window-spent", Kind: finding.Fault,
			Text:  b.tell("supply %s: out of square and the reserve for drift take %s on either side, more than the joint window %s to %s has", s.ID, h.fixed, w.Min, w.Max),
			Where: finding.Where{Leg: b.leg(leg).ID}, Limit: b.say((w.Max - w.Min) / 2), Value: b.say(h.fixed), Try: "a smaller reserve, or ask the supplier for a wider window"})
		return nil, nil
	}
	if !curved && h.fixed == 0 && len(laid) == 1 {
		return nil, nil
	}
	return h.shared(curves, straight, b.axes[leg].clear)
}

// plainStretches bend units only as far as a chord can lie in a circle.
func plainStretches(curves []curve, longest measure.Length) []layout.Stretch {
	var out []layout.Stretch
	for _, c := range curves {
		st := layout.Stretch{From: c.from, To: c.to, Radius: c.radius.Abs()}
		if c.radius != 0 && 2*st.Radius <= longest {
			st.MaxUnit = 2*st.Radius - 1
		}
		out = append(out, st)
	}
	return out
}

// limit is what a curve does.
func (h share) limit(c curve, straight measure.Window) limit {
	l := limit{curve: c, longest: h.longest, most: h.longest}
	gap, ok := curveWindow(h.window, c.radius, h.longest, h.width, h.fixed)
	if !ok {
		l.most = longestOnCurve(h.window, c.radius, h.width, h.fixed)
		l.need = opening(turnOnCurve(c.radius, h.longest+h.window.Max), h.width)
		l.longest = max(1, l.most) // where no piece fits, none may: the leg is then impossible
		var made measure.Length
		for _, x := range h.lengths {
			if x <= l.most {
				made = max(made, x)
			}
		}
		if made > 0 {
			l.longest = made
		}
		if gap, ok = curveWindow(h.window, c.radius, l.longest, h.width, h.fixed); !ok {
			gap = straight
		}
	}
	l.gap = gap
	return l
}

// shared are the stretches of a leg with what is left of the joint window on each, and the curves that limit units.
func (h share) shared(curves []curve, straight measure.Window, clear measure.Length) (out []layout.Stretch, short []limit) {
	var limits []limit
	cuts := []measure.Length{0, clear}
	for _, c := range curves {
		cuts = append(cuts, c.from, c.to)
		if c.radius == 0 {
			continue
		}
		l := h.limit(c, straight)
		limits = append(limits, l)
		cuts = append(cuts, max(c.from-h.longest, 0), min(c.to+h.longest, clear))
		if l.longest < h.longest {
			short = append(short, l)
		}
	}
	sorting.Ascending(cuts)
	cuts = slices.Compact(cuts)
	for i := range len(cuts) - 1 {
		st := layout.Stretch{From: cuts[i], To: cuts[i+1], Gap: straight}
		for _, l := range limits {
			if l.from-h.longest <= st.From && st.To <= l.to+h.longest {
				st.Gap.Min, st.Gap.Max = max(st.Gap.Min, l.gap.Min), min(st.Gap.Max, l.gap.Max)
				st.Gap.Nominal = min(max(st.Gap.Nominal, st.Gap.Min), st.Gap.Max)
			}
			if l.from <= st.From && st.To <= l.to {
				st.Radius = l.radius.Abs()
				if l.longest < h.longest { // only units that touch the curve itself are limited, not those beside it
					st.MaxUnit = l.longest
				}
			}
		}
		out = append(out, st)
	}
	return out, short
}

// curveSaid says what the joint window allows on a curve, figures rounded to the careful side.
func (b *build) curveSaid(leg int, h share, l limit) string {
	a := &b.axes[leg]
	text := b.tell("the curve of %s radius from %s %s to %s: with a joint window of %s to %s at a width of %s", wording.Far(l.radius.Abs()), wording.Chainage,
		wording.Far(a.chainage(l.from)), wording.Far(a.chainage(l.to)), h.window.Min, h.window.Max, h.width)
	if h.fixed > 0 {
		text += b.tell(", %s of either side taken by squareness and drift,", h.fixed)
	}
	turn := measure.FromRadians(2*float64(max(0, h.half()))/float64(h.width)) / sawStep * sawStep
	if b.below(l.most) == 0 {
		return text + b.tell(" a joint may turn by %s, and no %s is so short that its joints do", degrees(turn), wording.Unit)
	}
	return text + b.tell(" a joint may turn by %s, and the longest %s whose joints do is %s", degrees(turn), wording.Unit, b.below(l.most))
}

// below is a length rounded down to what sentences show.
func (b *build) below(l measure.Length) measure.Length { return l / b.shown() * b.shown() }

// above is a length rounded up to it.
func (b *build) above(l measure.Length) measure.Length { return b.below(l + b.shown() - 1) }

// shown is what lengths that are asked for are rounded to.
func (b *build) shown() measure.Length {
	f := measure.Format{}
	if b.imperial() {
		f.System = measure.Imperial
	}
	return f.Step()
}

// degrees writes an angle to the thousandth of a degree, without idle zeros.
func degrees(a measure.Angle) string { return (a / sawStep * sawStep).DegString() + "°" }

// curveFindings says of every curve that keeps the longest units off a leg what it does, and what would let them lie on it.
func (b *build) curveFindings(leg int, q question) {
	h := b.share(b.legSupply(leg), q.supply)
	for _, l := range q.limits {
		f := b.curveFinding(leg, h, l)
		f.ID, f.Kind = "planner.curve", finding.Attention
		f.Text = b.tell("%s; those made are %s long and would open a joint by %s more at one wall", b.curveSaid(leg, h, l), h.longest, l.need)
		var try []string
		if r, ok := h.leastRadius(l, b.radiusStep()); ok {
			try = append(try, b.tell("a radius of at least %s", wording.Far(r)))
		}
		if m, ok := h.leastMax(l, b.shown()); ok {
			try = append(try, b.tell("joints that may open to %s", m))
		}
		f.Try = listed(append(try, b.tell("%s no longer than %s", wording.Units, b.below(l.most)), b.tell("small %s bends along the curve", wording.Mitred)))
		b.add(f)
	}
}

func (b *build) curveFinding(leg int, h share, l limit) finding.Finding {
	return finding.Finding{
		Where: at(b.leg(leg).ID, b.axes[leg].chainage(l.from)), Limit: b.say(max(0, h.half())), Value: b.say(l.need),
		Rule: "one window for each joint: turn, grade, squareness and drift share it",
	}
}

// listed joins alternatives.
func listed(words []string) string {
	out := words[0]
	for i, w := range words[1:] {
		if i == len(words)-2 {
			out += " or " + w
		} else {
			out += ", " + w
		}
	}
	return out
}

// radiusStep is what radii are rounded up to: 0.1 m or a foot.
func (b *build) radiusStep() measure.Length {
	if b.imperial() {
		return measure.Foot
	}
	return measure.Metre / 10
}

// leastRadius is the least radius, in whole steps, at which the longest units' joints keep to the window: their chord and
// gap d turn by 2·asin(d/2R), which is half the window over half the width at most.
func (h share) leastRadius(l limit, step measure.Length) (measure.Length, bool) {
	if h.half() <= 0 {
		return 0, false
	}
	d := h.longest + h.window.Max
	r := measure.Length(float64(d) / 2 / math.Sin(min(math.Pi/2, float64(h.half())/float64(h.width))))
	for r = r / step * step; r < 1_000*measure.Kilometre; r += step {
		if _, ok := curveWindow(h.window, r, h.longest, h.width, h.fixed); ok && r > l.radius.Abs() {
			return r, true
		}
	}
	return 0, false
}

// widestGap is how far a joint may be asked to open.
const widestGap = measure.Metre

// leastMax is the least greatest gap, in whole steps, with which the longest units' joints take a curve.
func (h share) leastMax(l limit, step measure.Length) (measure.Length, bool) {
	for w := h.window; w.Max <= widestGap; {
		w.Max = (w.Max/step + 1) * step
		if _, ok := curveWindow(w, l.radius, h.longest, h.width, h.fixed); ok {
			return w.Max, true
		}
	}
	return 0, false
}

// comesTo is what a leg comes to, in brackets behind what is offered.
func (b *build) comesTo(n layout.Count) string {
	return fmt.Sprintf("%s, %s, %s", plural(n.Units, b.tell("%s", wording.Unit), b.tell("%s", wording.Units)), plural(n.Cuts, "cut", "cuts"), plural(n.CutCovers, "cut cover", "cut covers"))
}
