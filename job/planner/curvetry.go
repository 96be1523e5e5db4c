package planner

import (
	"math"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/place/route"
	"trenchwright/solve/layout"
)

// What lets a leg with a curve be laid is found by asking for it again with one figure moved, no further than needed. The
// clear length of the leg and its stations stay; what is offered was laid out so.

// curveReason gives an impossible leg the reason that lies in its curves, and what would help; false where it lies elsewhere.
func (b *build) curveReason(leg int, q question, s layout.Solution) (layout.Solution, bool) {
	if len(q.limits) == 0 || s.Verdict != layout.Impossible {
		return s, false
	}
	if _, ok := layout.Possible(b.askOn(leg, b.straightened(leg, q)).problem); !ok {
		return s, false // nor could it be laid straight
	}
	h := b.share(b.legSupply(leg), q.supply)
	tight := slices.MinFunc(q.limits, func(x, y limit) int { return int(min(1, max(-1, x.longest-y.longest))) })
	why := b.curveSaid(leg, h, tight)
	main := b.legSupply(leg)
	switch {
	case !main.mayCut:
		why += b.tell("; those made are %s long, and none can be cut: %s", slices.Min(h.lengths), main.cutWhy)
	case tight.longest < min(main.Saw.Shortest.Value, slices.Min(h.lengths)):
		why += b.tell(", shortest cut %s, shortest made %s", main.Saw.Shortest.Value, slices.Min(h.lengths))
	default:
		why += "; " + s.Why
	}
	s.Why = why
	s.Try = append(b.curveTries(leg, q, h), s.Try...)
	if len(s.Try) > mostOffers {
		s.Try = s.Try[:mostOffers]
	}
	return s, true
}

// mostOffers is how many ways out of one impossible leg are said.
const mostOffers = 6

// straightened are the leg's curves with those that limit units laid straight.
func (b *build) straightened(leg int, q question) []curve {
	out := b.axes[leg].curves()
	for i := range out {
		if slices.ContainsFunc(q.limits, func(l limit) bool { return l.from == out[i].from }) {
			out[i].radius = 0
		}
	}
	return out
}

// suppose tells what a leg would come to with its supplies changed, and no curve sharper than a radius.
func (b *build) suppose(leg int, q question, change func(*supply), radius measure.Length) (layout.Count, bool) {
	t := *b
	t.found, t.sup = nil, slices.Clone(b.sup)
	for _, i := range q.supply {
		change(&t.sup[i])
	}
	curves := b.axes[leg].curves()
	for i := range curves {
		if r := &curves[i].radius; *r != 0 && r.Abs() < radius {
			*r = radius
		}
	}
	asked := t.askOn(leg, curves)
	n, ok := layout.Possible(asked.problem)
	if a := &b.axes[leg]; ok && (a.start.mitred || a.end.mitred) {
		// the cut of an end piece that reaches into a curve may want another cut
		s, err := t.solveLeg(leg, &asked)
		return s.Count, err == nil && s.Verdict == layout.Found
	}
	return n, ok
}

func asTheyAre(*supply) {}

// curveTries are small mitres, a larger radius, a wider window and shorter units, each as far as it has to go.
func (b *build) curveTries(leg int, q question, h share) []string {
	if q.problem.Length/h.longest > mostLong {
		return nil
	}
	var out []string
	add := func(text string, ok bool) {
		if ok {
			out = append(out, text)
		}
	}
	add(b.smallMitres(leg, q, h))
	add(b.largerRadius(leg, q, h))
	add(b.widerWindow(leg, q, h))
	add(b.shorterUnits(leg, q, h))
	return out
}

// mostLong is the number of units up to which a leg is asked for again and again.
const mostLong = 4_000

// least is the least value above bad, in steps up to good, that will do; false if good does not.
func least(bad, good, step measure.Length, do func(measure.Length) (layout.Count, bool)) (measure.Length, layout.Count, bool) {
	n, ok := do(good)
	if !ok {
		return 0, n, false
	}
	for k := (good - bad) / step; k > 1; k = (good - bad) / step {
		mid := good - k/2*step
		if c, ok := do(mid); ok {
			good, n = mid, c
		} else {
			bad = mid
		}
	}
	return good, n, true
}

// sharpest is the limit of the least radius.
func (q question) sharpest() limit {
	return slices.MinFunc(q.limits, func(x, y limit) int { return int(min(1, max(-1, x.radius.Abs()-y.radius.Abs()))) })
}

func (b *build) largerRadius(leg int, q question, h share) (string, bool) {
	l, step := q.sharpest(), b.radiusStep()
	whole, ok := h.leastRadius(l, step)
	if !ok {
		return "", false
	}
	r, n, ok := least(l.radius.Abs(), whole, step, func(r measure.Length) (layout.Count, bool) { return b.suppose(leg, q, asTheyAre, r) })
	text := b.tell("a radius of at least %s (now %s; %s)", wording.Far(r), wording.Far(l.radius.Abs()), b.comesTo(n))
	if r < whole {
		text += b.tell(", and from %s on %s of %s can lie on it", wording.Far(whole), wording.Units, h.longest)
	}
	return text, ok
}

func (b *build) widerWindow(leg int, q question, h share) (string, bool) {
	step := b.shown()
	most, ok := h.leastMax(q.sharpest(), step)
	if !ok {
		return "", false
	}
	g, n, ok := least(h.window.Max, most, step, func(g measure.Length) (layout.Count, bool) {
		return b.suppose(leg, q, func(s *supply) { s.Joint.Gap.Value.Max = max(s.Joint.Gap.Value.Max, g) }, 0)
	})
	return b.tell("a joint window of %s to %s, if the supplier allows it (now to %s; %s)", h.window.Min, g, h.window.Max, b.comesTo(n)), ok
}

// shorterUnits is the longest unit that the supplier could make for the curve. On a leg that is all curve no closer takes
// up what is left, so lengths that divide it are tried as well. Where no whole covers fill it, it gets a cover of its own.
func (b *build) shorterUnits(leg int, q question, h share) (string, bool) {
	step, gap := b.shown(), h.window.Max
	most := b.below(slices.MinFunc(q.limits, func(x, y limit) int { return int(min(1, max(-1, x.most-y.most))) }).most)
	tries := []measure.Length{most}
	for k, n := 0, (q.problem.Length+gap)/(most+gap)+1; k < 4; k, n = k+1, n+1 {
		tries = append(tries, ((q.problem.Length+gap)/n-gap)/step*step)
	}
	for _, l := range tries {
		if l <= 0 {
			continue
		}
		for _, own := range []bool{false, true} {
			var cover measure.Length
			n, ok := b.suppose(leg, q, func(s *supply) {
				s.Unit.Lengths.Value = append(slices.Clone(s.Unit.Lengths.Value), l)
				if own && s.Cover != nil && s.Cover.Lengths.Known {
					c := *s.Cover
					cover = l - c.Gap.Value.Nominal
					c.Lengths.Value = append(slices.Clone(c.Lengths.Value), cover)
					s.Cover = &c
				}
			}, 0)
			switch {
			case ok && cover > 0:
				return b.tell("%s of %s with covers of %s, if the supplier makes them (now %s; %s)", wording.Units, l, cover, slices.Min(h.lengths), b.comesTo(n)), true
			case ok:
				return b.tell("%s of %s, if the supplier makes them (now %s; %s)", wording.Units, l, slices.Min(h.lengths), b.comesTo(n)), true
			}
		}
	}
	return "", false
}

// mostMitres is how many bends may stand for one curve.
const mostMitres = 200

// smallMitres stands bends for the curves that limit units, as many and so as small as the shortest leg between two allows:
// the more there are, the less the line leaves the curve. Nothing is offered where something crosses the curve.
func (b *build) smallMitres(leg int, q question, h share) (string, bool) {
	if h.width <= 0 || q.touched() {
		return "", false
	}
	p := b.askOn(leg, b.straightened(leg, q)).problem
	turns := make([]polygon, len(q.limits))
	most := 0
	for i, l := range q.limits {
		t := b.polygon(leg, l, h)
		for t.n > 1 && !t.between(p) {
			t.n--
		}
		turns[i], most = t, max(most, t.n)
	}
	for ; most > 0; most -= max(1, most/16) {
		for i := range turns {
			turns[i].n = max(1, min(turns[i].n, most))
		}
		if n, ok := q.instead(p, turns); ok {
			var each []string
			for _, t := range turns {
				each = append(each, b.mitresFor(leg, t))
			}
			return strings.Join(each, " and ") + " (" + b.comesTo(n) + ")", true
		}
	}
	return "", false
}

// mitresFor says which bends stand for one curve.
func (b *build) mitresFor(leg int, t polygon) string {
	text := b.tell("%s of %s", plural(t.n, b.tell("%s bend", wording.Mitred), b.tell("%s bends", wording.Mitred)), degrees(t.turn()))
	if t.n > 1 {
		text += b.tell(", %s from one to the next,", b.below(2*t.tangent()))
	}
	return text + b.tell(" instead of the curve at %s %s, leaving its line by no more than %s", wording.Chainage, wording.Far(b.axes[leg].chainage(t.from)), b.above(t.leaves()))
}

// touched tells whether anything that is asked for along the leg meets a curve that limits units.
func (q question) touched() bool {
	p := q.problem
	for _, l := range q.limits {
		from, to := l.from, l.to
		if q.back {
			from, to = p.Length-to, p.Length-from
		}
		meets := func(a, z measure.Length) bool { return a < to && from < z }
		if slices.ContainsFunc(slices.Concat(p.Zones, p.NoCut), func(z layout.Zone) bool { return meets(z.From, z.To) }) ||
			slices.ContainsFunc(p.Demands, func(d layout.Demand) bool { return meets(d.From, d.To) }) ||
			slices.ContainsFunc(p.Joints, func(j layout.ForcedJoint) bool { return meets(j.At-j.Tolerance, j.At+j.Tolerance) }) {
			return true
		}
	}
	return false
}

// polygon is n equal bends about one curve: each stands over the middle of an nth of it, and its sides touch the curve.
type polygon struct {
	limit
	n       int
	total   float64 // radians
	stretch float64
	width   measure.Length
	seam    measure.Length // between two mitred faces
	gap     measure.Window // of the joints between two bends, less the fixed shares
}

func (b *build) polygon(leg int, l limit, h share) polygon {
	a := &b.axes[leg]
	stretch := a.lie.stretch(a.chainage((l.from + l.to) / 2))
	arc := float64(l.to-l.from) / stretch
	t := polygon{limit: l, total: arc / float64(l.radius.Abs()), stretch: stretch, width: h.width, seam: b.legSupply(leg).mitreGap()}
	t.gap, _ = curveWindow(h.window, 0, 0, h.width, h.fixed)
	t.n = int(max(1, min(mostMitres, arc/float64(max(measure.Millimetre, min(h.longest, b.legSupply(leg).Saw.Shortest.Value))))))
	return t
}

func (t polygon) turn() measure.Angle { return measure.FromRadians(t.total / float64(t.n)) }

// tangent is from a bend to where its sides touch the curve, R·tan of half the turn, along the slope.
func (t polygon) tangent() measure.Length {
	return measure.Length(float64(t.radius.Abs()) * math.Tan(t.total/float64(2*t.n)) * t.stretch)
}

// leaves is how far a bend stands off the curve.
func (t polygon) leaves() measure.Length {
	return measure.Length(math.Ceil(float64(t.radius.Abs()) * (1/math.Cos(t.total/float64(2*t.n)) - 1)))
}

// faces are the cut lines into a bend and out of it, as a saw is set; back: the leg is laid against its axis.
func (t polygon) faces(back bool) (in, out layout.End) {
	tan := slope(sawSetting(t.turn() / 2))
	if (t.radius < 0) != back {
		tan = -tan
	}
	return layout.End{Mitred: true, Tan: tan, Fixed: true}, layout.End{Mitred: true, Tan: -tan, Fixed: true}
}

// side is from where a side touches the curve to the face of its end piece.
func (t polygon) side() measure.Length {
	return t.tangent() - route.Corner{Deflection: t.turn(), Width: t.width}.SetBack(t.seam)
}

// between tells whether the leg between two of the bends can be laid.
func (t polygon) between(p layout.Problem) bool {
	_, ok := layout.Possible(t.leg(p))
	return ok
}

func (t polygon) leg(p layout.Problem) layout.Problem {
	in, out := t.faces(false)
	q := part(p, 0, 0, 0, 0)
	q.Start, q.End, q.Length = out, in, 2*t.side()
	q.Stretches = []layout.Stretch{{To: q.Length, Gap: t.gap}}
	return q
}

// instead tells what the leg comes to with bends instead of its curves; the problem has these laid straight.
func (q question) instead(p layout.Problem, turns []polygon) (layout.Count, bool) {
	var sum layout.Count
	good := true
	lay := func(p layout.Problem) {
		n, ok := layout.Possible(p)
		good = good && ok
		sum.Units, sum.Cuts, sum.CutCovers = sum.Units+n.Units, sum.Cuts+n.Cuts, sum.CutCovers+n.CutCovers
	}
	turns = slices.Clone(turns)
	if q.back {
		slices.Reverse(turns)
	}
	pos, head, start := measure.Length(0), measure.Length(0), p.Start
	for _, t := range turns {
		from, to := t.from, t.to
		if q.back {
			from, to = p.Length-to, p.Length-from
		}
		in, out := t.faces(q.back)
		leg := part(p, pos, from, head, t.side())
		leg.Start, leg.End = start, in
		lay(leg)
		n, ok := layout.Possible(t.leg(p))
		good = good && (ok || t.n < 2)
		sum.Units, sum.Cuts, sum.CutCovers = sum.Units+(t.n-1)*n.Units, sum.Cuts+(t.n-1)*n.Cuts, sum.CutCovers+(t.n-1)*n.CutCovers
		pos, head, start = to, t.side(), out
	}
	leg := part(p, pos, p.Length, head, 0)
	leg.Start = start
	lay(leg)
	return sum, good
}

// part is a leg from one station of a problem to another one, made longer at its head and its tail.
func part(p layout.Problem, from, to, head, tail measure.Length) layout.Problem {
	by := head - from
	q := p
	q.Length = head + to - from + tail
	if from > 0 {
		q.First = nil
	}
	zones := func(all []layout.Zone) []layout.Zone {
		var out []layout.Zone
		for _, z := range all {
			if z.From < to && z.To > from {
				out = append(out, layout.Zone{From: z.From + by, To: z.To + by, Why: z.Why})
			}
		}
		return out
	}
	q.Zones, q.NoCut, q.Demands, q.Joints, q.Stretches = zones(p.Zones), zones(p.NoCut), nil, nil, nil
	for _, d := range p.Demands {
		if d.From < to && d.To > from {
			d.From, d.To = d.From+by, d.To+by
			q.Demands = append(q.Demands, d)
		}
	}
	for _, j := range p.Joints {
		if j.At > from && j.At < to {
			j.At += by
			q.Joints = append(q.Joints, j)
		}
	}
	for _, s := range p.Stretches {
		if s.From < to && s.To > from {
			s.From, s.To = max(s.From, from)+by, min(s.To, to)+by
			q.Stretches = append(q.Stretches, s)
		}
	}
	if n := len(q.Stretches); n > 0 {
		q.Stretches[0].From, q.Stretches[n-1].To = 0, q.Length
	}
	return q
}
