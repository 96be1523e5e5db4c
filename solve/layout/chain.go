package layout

// A chain is a route whose pieces are settled and whose places are still to be chosen: every start, end and joint stays
// between bounds, so what is possible is one interval for each start, found from the end of the leg backwards.

// joint is the window of the joint after link i.
func (r *route) joint(i int) window {
	return r.g.kindAt(r.links[i+1].start.lo).windows[r.links[i].piece.supply]
}

// room is where the joint after link i may lie. Given first units settle theirs without regard to clearance.
func (r *route) room(i int) interval {
	if i < len(r.g.p.First) {
		return r.g.parts[r.links[i].part]
	}
	return r.parts[r.links[i].part]
}

// held narrows a window to openings within off of what is aimed at.
func (w window) held(off nm) window {
	return window{w.aim, max(w.min, w.aim-off), min(w.max, w.aim+off)}
}

// ends is where link i, or one that may stand for it, may end so that the next one can start in s.
func (r *route) ends(i int, k *link, s interval, off nm) interval {
	w, room := r.joint(i).held(off), r.room(i)
	if s = s.and(interval{room.lo, min(room.hi, k.next)}); s.empty() {
		return s
	}
	return interval{s.lo - w.max, s.hi - w.min}.and(k.end).and(interval{room.lo, forever})
}

// starts is where each link may start with all joints within off of what is aimed at; false if there is no way. Given
// advances hold; without them cut pieces are free.
func (r *route) starts(off nm, given []nm) ([]interval, bool) {
	n := len(r.links)
	out := make([]interval, n)
	for i := n - 1; i >= 0; i-- {
		k := &r.links[i]
		end := interval{r.g.end, r.g.end}
		if i < n-1 {
			end = r.ends(i, k, out[i+1], off)
		}
		d := k.piece.advance
		if given != nil {
			d = interval{given[i], given[i]}
		}
		s := interval{end.lo - d.hi, end.hi - d.lo}.and(k.start)
		if i > 0 {
			before := &r.links[i-1]
			part := r.room(i - 1)
			s = s.and(interval{part.lo, min(part.hi, before.next)})
		}
		if out[i] = s; s.empty() || end.empty() {
			return nil, false
		}
	}
	return out, true
}

// settle chooses lengths and places: joints as near to what is aimed at as the worst of them allows, cut lengths as wished
// for or as equal as may be, then openings spread evenly.
func (r *route) settle() {
	off, ok := r.leastOpening()
	if !ok {
		panic("layout: a sequence that was found does not fit")
	}
	s, _ := r.starts(off, nil)
	r.choose(s, off)
	if off > 0 {
		r.even(off)
	}
}

// leastOpening is the least opening beside what is aimed at that lets the sequence fit, to the nanometre.
func (r *route) leastOpening() (nm, bool) {
	if _, ok := r.starts(0, nil); ok {
		return 0, true
	}
	var hi nm
	for _, k := range r.g.kinds {
		for _, w := range k.windows {
			hi = max(hi, w.max-w.aim, w.aim-w.min)
		}
	}
	if _, ok := r.starts(hi, nil); !ok {
		return 0, false
	}
	for lo := nm(0); hi-lo > 1; {
		mid := lo + (hi-lo)/2
		if _, ok := r.starts(mid, nil); ok {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi, true
}

// choose walks forward through the possible starts.
func (r *route) choose(s []interval, off nm) {
	r.x, r.d = r.x[:0], r.d[:0]
	x := s[0].lo
	for i := range r.links {
		k := &r.links[i]
		end := interval{r.g.end, r.g.end}
		if i < len(r.links)-1 {
			end = r.ends(i, k, s[i+1], off)
		}
		d := r.pick(k, interval{end.lo - x, end.hi - x}.and(k.piece.advance))
		r.x, r.d = append(r.x, x), append(r.d, d)
		if i == len(r.links)-1 {
			return
		}
		w := r.joint(i).held(off)
		e := x + d
		x = min(max(e+w.aim, s[i+1].lo, e+w.min), s[i+1].hi, e+w.max, k.next)
	}
}

// pick chooses the advance of a piece from what is possible.
func (r *route) pick(k *link, v interval) nm {
	if !k.piece.cut || v.lo == v.hi {
		return v.lo
	}
	geo := r.g.kindAt(k.start.lo).geometry
	for _, wish := range r.g.p.Prefer.Cuts {
		if a := geo.advance(wish); v.holds(a) {
			return a
		}
	}
	return geo.rounded(v.lo+(v.hi-v.lo)/2, v, r.g.p.Prefer.Step)
}
