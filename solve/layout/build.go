package layout

// builder turns a route into units. What is alike is worked out once and shared.
type builder struct {
	g      *ground
	covers map[coverKey][]Cover
	saws   map[sawKey][]sawn
}

type coverKey struct {
	supply int
	length nm
	shape  shape
}

type sawKey struct {
	supply int
	shape  shape
}

func newBuilder(g *ground) *builder {
	return &builder{g, map[coverKey][]Cover{}, map[sawKey][]sawn{}}
}

// units places the pieces of a route.
func (r *route) units() []Unit {
	b := newBuilder(r.g)
	out := make([]Unit, len(r.links))
	for i := range r.links {
		last := r.links[i].part < 0
		var s shape
		if r.x[i] == 0 {
			s.start = mitre(r.g.p.Start)
		}
		if last {
			s.end = mitre(r.g.p.End)
		}
		out[i] = b.place(r.links[i].piece, s, r.x[i], r.d[i])
		if last {
			continue
		}
		next := r.next
		if i < len(r.links)-1 {
			next = r.x[i+1]
		}
		out[i].GapAfter = r.g.kindAt(next).geometry.width(next - r.x[i] - r.d[i])
	}
	return out
}

// place is a piece laid at x over the advance d, without the joint after it.
func (b *builder) place(piece *entry, s shape, x, d nm) Unit {
	u := Unit{
		Supply: piece.supply, Start: x, Advance: d, Cut: piece.cut,
		Length:   min(max(b.g.kindAt(x).geometry.length(d), piece.length.lo), piece.length.hi),
		StartTan: s.start.Tan, EndTan: s.end.Tan,
	}
	u.Stock = u.Length
	if u.Cut {
		w := b.saw(u.Supply, s, u.Length)
		u.Stock, u.Turned, u.Kept = w.stock, w.turned, w.kept
	}
	u.Covers = b.covered(u.Supply, s, u.Length)
	return u
}

// mitre is an end as the piece beside it sees it.
func mitre(e End) End {
	if !e.Mitred {
		return End{}
	}
	return End{Mitred: true, Tan: e.Tan, Seam: e.Seam}
}

func (b *builder) saw(supply int, s shape, l nm) sawn {
	key := sawKey{supply, s}
	all, ok := b.saws[key]
	if !ok {
		all = b.g.p.Supplies[supply].sawnFrom(s)
		b.saws[key] = all
	}
	for _, w := range all {
		if w.fits.holds(l) {
			return w
		}
	}
	panic("layout: a cut length that was chosen cannot be sawn")
}

func (b *builder) covered(supply int, s shape, l nm) []Cover {
	key := coverKey{supply, l, s}
	out, ok := b.covers[key]
	if !ok {
		if out, ok = b.g.p.Supplies[supply].Covers.arrange(s, l); !ok {
			panic("layout: a length that was chosen cannot be covered")
		}
		b.covers[key] = out
	}
	return out
}

// count is what units cost.
func count(units []Unit) Count {
	c := Count{Units: len(units)}
	for _, u := range units {
		if u.Cut {
			c.Cuts++
		}
		for _, k := range u.Covers {
			if k.Cut {
				c.CutCovers++
			}
		}
	}
	return c
}
