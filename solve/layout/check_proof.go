package layout

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"trenchwright/base/sorting"
)

// proof verifies the claim of a certificate: from no start does a piece lead on more cheaply than the cost to go of that
// start allows, and from the start of the leg nothing leads on more cheaply than the whole. Then, adding up along any layout
// from its end, no layout costs less. Starts that the certificate leaves out claim that there is no way on from them.
func (c *checker) proof(found bool) {
	cert := c.s.Certificate
	if cert == nil {
		c.say("layout.check.no-proof", 0, "%s is claimed without a certificate", c.s.Verdict)
		return
	}
	v := &verifier{checker: c, cert: cert}
	v.prepare()
	if !v.ordered() {
		return
	}
	v.strides()
	v.pieces()
	least := v.fromStart()
	switch {
	case !found && least != noCost:
		c.say("layout.check.possible", 0, "called impossible, but a way of %v is left open", least.count())
	case found && least < c.s.Count.cost():
		c.say("layout.check.not-best", 0, "called best at %v, but %v is left open", c.s.Count, least.count())
	}
}

// field is a range of starts that differ in nothing: the joint before them lies in one part of the free axis, they lie on one
// stretch and have the same rules ahead.
type field struct {
	lo, hi  nm
	part    int
	low     nm // where the part begins
	stretch Stretch
	ready   bool
	noCut   []Zone
	demands []Demand
	joints  []ForcedJoint
	ahead   []Stretch
	covers  [][2]nm // advances of every choice
}

type verifier struct {
	*checker
	cert   *Certificate
	parts  [][2]nm
	fields []field // ascending
	inner  []choice
	last   []choice
	reach  nm // of any piece and joint
	hint   []int
	short  []stride
	long   []stride
	now    Stretch // the stretch of the level at hand, and the joints before it by supply
	joints [][2]nm
}

func (v *verifier) prepare() {
	v.parts = freeParts(v.p)
	v.inner = v.choices(End{}, End{})
	v.last = v.choices(End{}, onlyMitre(v.p.End))
	for _, s := range v.p.Supplies {
		for _, k := range s.Stocks {
			v.reach = max(v.reach, 2*k.Length+s.Gap.Max)
		}
	}
	for _, s := range v.p.Stretches {
		v.reach = max(v.reach, v.reach+s.Gap.Max)
	}
	v.hint = make([]int, len(v.inner))
	v.makeFields()
}

func onlyMitre(e End) End {
	if e.Mitred {
		return e
	}
	return End{}
}

// freeParts walks the edges of zones and demands in order. Part of the axis is free where no zone is open; a new part begins
// behind a zone and at the edge of a demand.
func freeParts(p Problem) [][2]nm {
	type edge struct {
		at   nm
		kind int // 0 a zone closes, 1 a demand's edge, 2 a zone opens
	}
	edges := []edge{}
	for _, z := range p.Zones {
		if z.To > 0 && z.From < p.Length {
			edges = append(edges, edge{max(z.From, -1), 2}, edge{min(z.To, p.Length+1), 0})
		}
	}
	for _, d := range p.Demands {
		for _, at := range []nm{d.From, d.To} {
			if at > 0 && at < p.Length {
				edges = append(edges, edge{at, 1})
			}
		}
	}
	sorting.By(edges, func(a, b edge) int { return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.kind, b.kind)) })
	var out [][2]nm
	from, open := nm(0), 0
	for _, e := range edges {
		switch {
		case e.kind == 2:
			if open == 0 && from <= e.at {
				out = append(out, [2]nm{from, e.at})
			}
			open++
		case e.kind == 0:
			if open--; open == 0 {
				from = e.at
			}
		case open == 0 && from < e.at:
			out = append(out, [2]nm{from, e.at})
			from = e.at
		}
	}
	if from <= p.Length && open == 0 {
		out = append(out, [2]nm{from, p.Length})
	}
	return out
}

func (v *verifier) makeFields() {
	var marks []nm
	for _, z := range v.p.NoCut {
		marks = append(marks, z.To)
	}
	for _, j := range v.p.Joints {
		marks = append(marks, j.At-j.Tolerance)
	}
	for _, d := range v.p.Demands {
		marks = append(marks, d.To+1)
	}
	for _, s := range v.p.Stretches {
		marks = append(marks, s.From)
	}
	sorting.Ascending(marks)
	marks = slices.Compact(marks)
	for i, p := range v.parts {
		lo := max(p[0], 1)
		for lo <= min(p[1], v.p.Length-1) {
			hi := min(p[1], v.p.Length-1)
			if k := sort.Search(len(marks), func(k int) bool { return marks[k] > lo }); k < len(marks) {
				hi = min(hi, marks[k]-1)
			}
			f := field{lo: lo, hi: hi, part: i, low: p[0], stretch: v.on(lo)}
			narrow := nm(math.MaxInt64)
			for k := range v.p.Supplies {
				least, _ := v.opening(k, f.stretch)
				narrow = min(narrow, least)
			}
			lo = hi + 1
			if f.lo = max(f.lo, p[0]+narrow); f.lo <= f.hi {
				v.fields = append(v.fields, f)
			}
		}
	}
}

// opening is the window of a joint behind a unit of a supply, as chainage.
func (v *verifier) opening(supply int, s Stretch) (least, most nm) {
	w := v.p.Supplies[supply].Gap
	if s.Gap.Min != 0 || s.Gap.Max != 0 || s.Gap.Nominal != 0 {
		w = s.Gap
	}
	level := Stretch{Rise: s.Rise, Run: s.Run}
	return nm(math.Round(level.covers(w.Min))), nm(math.Round(level.covers(w.Max)))
}

// fill collects what lies ahead of a field.
func (v *verifier) fill(f *field) {
	f.ready = true
	for _, z := range v.near(v.p.NoCut, f.lo, f.hi+v.reach) {
		if f.lo < z.To {
			f.noCut = append(f.noCut, z)
		}
	}
	for _, d := range v.p.Demands {
		if d.From <= f.hi+v.reach && f.lo <= d.To {
			f.demands = append(f.demands, d)
		}
	}
	for _, j := range v.p.Joints {
		if at := j.At - j.Tolerance; at <= f.hi+v.reach && f.lo < at {
			f.joints = append(f.joints, j)
		}
	}
	for _, s := range v.p.Stretches {
		if s.MaxUnit > 0 && s.From > f.hi && s.From <= f.hi+v.reach {
			f.ahead = append(f.ahead, s)
		}
	}
	for _, o := range v.inner {
		f.covers = append(f.covers, f.stretch.advances(o.lo, o.hi))
	}
}

func (s Stretch) advances(lo, hi nm) [2]nm {
	return [2]nm{nm(math.Round(s.covers(lo))), nm(math.Round(s.covers(hi)))}
}

// ordered checks that the levels descend without overlap inside a part.
func (v *verifier) ordered() bool {
	for i := range v.cert.Len() {
		l := v.cert.at(i)
		if l.lo > l.hi || l.part < 0 || int(l.part) >= len(v.parts) || l.lo < v.parts[l.part][0] || l.hi > v.parts[l.part][1] {
			v.say("layout.check.level", l.lo, "the certificate's interval %d lies in no part of the free axis", i)
			return false
		}
		if i > 0 {
			if b := v.cert.at(i - 1); b.part < l.part || b.part == l.part && b.lo <= l.hi {
				v.say("layout.check.level", l.lo, "the certificate's interval %d is out of order", i)
				return false
			}
		}
	}
	return true
}

// pieces verifies every piece: those that end the leg, and those in front of every level.
func (v *verifier) pieces() {
	for i := len(v.fields) - 1; i >= 0 && v.fields[i].hi+v.reach >= v.p.Length; i-- {
		f := &v.fields[i]
		for _, o := range v.last {
			v.limited(f, o, f.stretch.advances(o.lo, o.hi), func(d [2]nm, l limit) {
				if l.from <= v.p.Length && l.to >= v.p.Length && l.next >= v.p.Length {
					v.claim(f, v.p.Length-d[1], v.p.Length-d[0], o.price(), nil)
				}
			})
		}
	}
	top := len(v.fields) - 1 // no piece in front of the level starts in a field above
	for i := range v.cert.Len() {
		l := v.cert.at(i)
		for top >= 0 && v.fields[top].lo > l.hi {
			top--
		}
		on := v.on(l.lo)
		for at := top; at >= 0 && v.fields[at].hi >= l.lo-v.reach; at-- {
			v.before(&v.fields[at], l, on)
		}
		if len(v.out) > 0 {
			return
		}
	}
}

// before verifies the pieces that start in a field and lead to a level.
func (v *verifier) before(f *field, l level, on Stretch) {
	if !f.ready {
		v.fill(f)
	}
	if v.joints == nil || v.now != on {
		v.now, v.joints = on, v.joints[:0]
		for k := range v.p.Supplies {
			least, most := v.opening(k, on)
			v.joints = append(v.joints, [2]nm{least, most})
		}
	}
	part := v.parts[l.part]
	for i, o := range v.inner {
		least, most := v.joints[o.supply][0], v.joints[o.supply][1]
		v.limited(f, o, f.covers[i], func(d [2]nm, lim limit) {
			hi := min(l.hi, lim.next)
			from, to := max(part[0], l.lo-most, lim.from), min(hi-least, lim.to)
			if hi >= l.lo && from <= to {
				v.claim(f, from-d[1], to-d[0], l.cost+o.price(), &v.hint[i])
			}
		})
	}
}
