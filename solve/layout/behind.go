package layout

import "slices"

// Behind is what is left of a leg when a unit starts at x and all before it lies: a leg of its own, from 0 at x. What lies before
// asks for nothing any more, and First is what was given of the whole leg: whoever asks knows how many of those lie.
func (p Problem) Behind(x nm) Problem {
	p.Length -= x
	p.Start, p.First = End{}, nil
	p.Stretches = slices.Clone(p.Stretches)
	p.Stretches = slices.DeleteFunc(p.Stretches, func(s Stretch) bool { return s.To <= x })
	for i := range p.Stretches {
		s := &p.Stretches[i]
		s.From, s.To = max(s.From-x, 0), s.To-x
	}
	p.Zones, p.NoCut = zonesBehind(p.Zones, x), zonesBehind(p.NoCut, x)
	p.Demands = slices.DeleteFunc(slices.Clone(p.Demands), func(d Demand) bool { return d.To <= x })
	for i := range p.Demands {
		d := &p.Demands[i]
		d.From, d.To = max(d.From-x, 0), d.To-x
	}
	p.Joints = slices.DeleteFunc(slices.Clone(p.Joints), func(j ForcedJoint) bool { return j.At-j.Tolerance <= x })
	for i := range p.Joints {
		p.Joints[i].At -= x
	}
	return p
}

func zonesBehind(zones []Zone, x nm) []Zone {
	zones = slices.DeleteFunc(slices.Clone(zones), func(z Zone) bool { return z.To <= x })
	for i := range zones {
		zones[i].From, zones[i].To = max(zones[i].From-x, 0), zones[i].To-x
	}
	return zones
}

// Advance is the chainage that a unit of a length covers when it starts at x.
func (p *Problem) Advance(x, length nm) nm { return p.stretchAt(x).geometry().advance(length) }

// Opening is the chainage that a joint of a clear width covers where the unit behind it starts at x; Width is its inverse.
func (p *Problem) Opening(x, width nm) nm { return p.stretchAt(x).geometry().opening(width) }

// Width is the clear width of a joint that covers an opening of the chainage where the unit behind it starts at x.
func (p *Problem) Width(x, opening nm) nm { return p.stretchAt(x).geometry().width(opening) }

// Window is the least and the most chainage that a joint may cover, after a unit of a supply and before one that starts at x.
func (p *Problem) Window(x nm, supply int) (least, most nm) {
	s := p.stretchAt(x)
	w := s.Gap
	if w.Min == 0 && w.Max == 0 && w.Nominal == 0 {
		w = p.Supplies[supply].Gap
	}
	g := s.geometry()
	return g.opening(w.Min), g.opening(w.Max)
}

// MayOpen tells whether a joint may lie between an end and the start behind it, after a unit of a supply: within its window, and in no
// zone.
func (p *Problem) MayOpen(end, start nm, supply int) bool {
	if least, most := p.Window(start, supply); start-end < least || start-end > most {
		return false
	}
	return !slices.ContainsFunc(p.Zones, func(z Zone) bool { return end < z.To && start > z.From })
}

func (p *Problem) stretchAt(x nm) Stretch {
	for i := len(p.Stretches) - 1; i >= 0; i-- {
		if p.Stretches[i].From <= x {
			return p.Stretches[i]
		}
	}
	return Stretch{}
}

// Piece is a unit of a length of a supply that starts at x, with how it is sawn and covered: as the first or the last of the leg as its
// ends ask. Where no stock can be sawn to it or no covers fill it, it is false, and the unit is told without what is missing.
func (p *Problem) Piece(x nm, supply int, length nm, cut, first, last bool) (Unit, bool) {
	s := &p.Supplies[supply]
	var f shape
	if first {
		f.start = mitre(p.Start)
	}
	if last {
		f.end = mitre(p.End)
	}
	u := Unit{Supply: supply, Start: x, Advance: p.Advance(x, length), Length: length, Stock: length, Cut: cut, StartTan: f.start.Tan, EndTan: f.end.Tan}
	whole := slices.ContainsFunc(s.Stocks, func(k Stock) bool { return k.Length == length })
	ok := cut || whole && !f.start.Mitred && !f.end.Mitred
	if cut {
		ways := s.sawnFrom(f)
		i := slices.IndexFunc(ways, func(w sawn) bool { return w.fits.holds(length) })
		if ok = i >= 0; ok {
			u.Stock, u.Turned, u.Kept = ways[i].stock, ways[i].turned, ways[i].kept
		}
	}
	covers, covered := s.Covers.arrange(f, length)
	u.Covers = covers
	return u, ok && covered
}
