package cutstock

import "trenchwright/base/measure"

// rests are the offcuts worth keeping of a unit on which pieces lie, and what is wasted of it.
func (s *shop) rests(u *unit, line []laid) (kept []Offcut, waste measure.Length) {
	waste = u.Length
	at, before := measure.Length(0), u.A
	sawn := false // whether the end before is a saw's work
	for i := 0; i <= len(line); i++ {
		to, after, cut := u.Length, u.B, false
		if i < len(line) {
			p := &line[i]
			waste -= p.length
			to, after, cut = p.at, End{Skew: s.ends[p.shape[0]].Skew}, true
		}
		if o := s.rest(at, before, sawn, to, after, cut); s.worthKeeping(o) {
			kept = append(kept, o)
			waste -= o.Length()
		}
		if i < len(line) {
			at, before, sawn = line[i].at+line[i].length, End{Skew: s.ends[line[i].shape[1]].Skew}, true
		}
	}
	return kept, waste
}

// rest is what lies between two faces, less the cuts that free it.
func (s *shop) rest(from measure.Length, before End, cutBefore bool, to measure.Length, after End, cutAfter bool) Offcut {
	if cutBefore {
		from += along(s.saw.kerf, before.Skew)
	}
	if cutAfter {
		to -= along(s.saw.kerf, after.Skew)
	}
	return Offcut{From: from, To: to, A: before, B: after}
}

// worthKeeping tells whether a rest is long enough on its shortest side; where pieces keep a cast end it needs one too.
func (s *shop) worthKeeping(o Offcut) bool {
	if s.keep <= 0 || s.factoryEnd && o.A.Cast == "" && o.B.Cast == "" {
		return false
	}
	return o.Length()-s.saw.wedge(o.A.Skew, o.B.Skew) >= s.keep
}

// layOut lays out a way on its unit; nil when the saw cannot cut it.
func (s *shop) layOut(u *unit, takes []take) []laid {
	if !s.factoryEnd {
		return s.arrange(u, takes)
	}
	switch {
	case len(takes) == 1 && takes[0].n == 1:
		return s.alone(takes[0].kind, u)
	case len(takes) == 1 && takes[0].n == 2:
		return s.two(takes[0].kind, takes[0].kind, u)
	case len(takes) == 2 && takes[0].n == 1 && takes[1].n == 1:
		return s.two(takes[0].kind, takes[1].kind, u)
	}
	return nil
}
