package cutstock

import "trenchwright/base/measure"

// Where every piece keeps a cast end, it lies at an end of its unit: a unit yields one piece or two, and each cut is
// made at a known station.

// side is an end of a unit: 0 is end A, 1 is end B.
type side int

// inner lists the faces that a piece of a kind can turn to the middle of the unit when it keeps the cast end of a side
// and its other face is cut.
func (s *shop) inner(k *kind, u *unit, at side) []face {
	stock := u.A
	if at == 1 {
		stock = u.B
	}
	var out []face
	if stock.Cast == "" {
		return out
	}
	for _, sh := range s.turned(s.shapes[k.shape]) {
		outer, inner := sh[at], sh[1-at]
		if s.keeps(outer, stock) && s.ends[inner].Cast == "" && s.clearCut(u, at, k.length, s.ends[inner].Skew) {
			out = append(out, inner)
		}
	}
	return out
}

// keeps tells whether a face may be an end of the stock as it is.
func (s *shop) keeps(f face, stock End) bool {
	e := s.ends[f]
	return e.Skew == stock.Skew && (e.Cast == "" || e.Cast == stock.Cast)
}

// clearCut tells whether the cut at a length from a side meets no no-cut zone.
func (s *shop) clearCut(u *unit, at side, length measure.Length, skew measure.Angle) bool {
	half, kerf := nearest(float64(s.saw.width)/2*abs(slope(skew))), along(s.saw.kerf, skew)
	from, to := length-half, length+half+kerf
	if at == 1 {
		from, to = u.Length-to, u.Length-from
	}
	for _, zone := range u.NoCut {
		if zone.From < zone.To && from < zone.To && to > zone.From {
			return false
		}
	}
	return true
}

// whole tells whether a piece of a kind is the unit as it is, and which way round.
func (s *shop) whole(k *kind, u *unit) (shape, bool) {
	if k.length != u.Length || u.A.Cast == "" && u.B.Cast == "" {
		return shape{}, false
	}
	for _, sh := range s.turned(s.shapes[k.shape]) {
		if s.keeps(sh[0], u.A) && s.keeps(sh[1], u.B) {
			return sh, true
		}
	}
	return shape{}, false
}

// alone lays one piece on a unit; nil when it cannot be.
func (s *shop) alone(i int, u *unit) []laid {
	k := &s.kinds[i]
	if sh, ok := s.whole(k, u); ok {
		return []laid{{kind: i, shape: sh, length: k.length}}
	}
	for at, far := range []End{u.B, u.A} {
		for _, f := range s.inner(k, u, side(at)) {
			skew := s.ends[f].Skew
			left := u.Length - k.length - s.saw.atEnd(far.Skew, skew)
			if left > 0 && left >= s.saw.spare(far.Skew, skew) || left == 0 && skew != far.Skew {
				return []laid{s.atSide(i, u, side(at), f)}
			}
		}
	}
	return nil
}

// two lays two pieces on a unit, one at each end; nil when they cannot be.
func (s *shop) two(i, j int, u *unit) []laid {
	for _, order := range [2][2]int{{i, j}, {j, i}} {
		a, b := &s.kinds[order[0]], &s.kinds[order[1]]
		room := u.Length - a.length - b.length
		if room < 0 {
			return nil
		}
		for _, f := range s.inner(a, u, 0) {
			for _, g := range s.inner(b, u, 1) {
				if s.parted(room, f, g) {
					return []laid{s.atSide(order[0], u, 0, f), s.atSide(order[1], u, 1, g)}
				}
			}
		}
	}
	return nil
}

func (s *shop) atSide(i int, u *unit, at side, inner face) laid {
	k := &s.kinds[i]
	sh := s.shapes[k.shape]
	outer := sh[0]
	if outer == inner {
		outer = sh[1]
	}
	if !s.turn {
		outer = sh[at]
	}
	if at == 0 {
		return laid{kind: i, shape: shape{outer, inner}, at: 0, length: k.length}
	}
	return laid{kind: i, shape: shape{inner, outer}, at: u.Length - k.length, length: k.length}
}

// pairTable says which kinds a unit takes alone and in twos. It is filled once.
type pairTable struct {
	kinds int
	alone []bool
	two   []bool // kinds × kinds
	any   bool   // takes two pieces of some kinds
}

func (s *shop) newPairTable(u *unit) *pairTable {
	n := len(s.kinds)
	t := &pairTable{kinds: n, alone: make([]bool, n), two: make([]bool, n*n)}
	inner := make([][2][]face, n)
	for i := range s.kinds {
		t.alone[i] = s.alone(i, u) != nil
		inner[i] = [2][]face{s.inner(&s.kinds[i], u, 0), s.inner(&s.kinds[i], u, 1)}
	}
	fits := func(i, j int) bool {
		room := u.Length - s.kinds[i].length - s.kinds[j].length
		for _, f := range inner[i][0] {
			for _, g := range inner[j][1] {
				if s.parted(room, f, g) {
					return true
				}
			}
		}
		return false
	}
	for i := range n {
		for j := i; j < n; j++ {
			if s.kinds[i].length+s.kinds[j].length <= u.Length && (fits(i, j) || fits(j, i)) {
				t.two[i*n+j], t.two[j*n+i], t.any = true, true, true
			}
		}
	}
	return t
}
