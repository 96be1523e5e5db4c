package geojson

import (
	"cmp"
	"math"
	"slices"

	"trenchwright/base/sorting"
)

// crosses tells whether a ring of a body steps across 180° of longitude.
func crosses(body [][]Position) bool {
	return slices.ContainsFunc(body, func(ring []Position) bool {
		return len(ring) > 0 && acrossFault(append(slices.Clone(ring), ring[0])) != ""
	})
}

// cutBody cuts a polygon along 180° of longitude (RFC 7946, 3.1.9) into polygons that lie on one side of it. Its rings
// are laid out without the jump, each side keeps the chains of positions that lie on it, and the ends of these, all on the
// meridian, are joined two by two from south to north: between the first and the second lies ground, between the second
// and the third lies none, and so on.
func cutBody(body [][]Position) (bodies [][][]Position, why string) {
	var laid [][]Position
	for i, ring := range body {
		r, why := laidOut(ring)
		if why != "" {
			return nil, why
		}
		if i > 0 {
			r = beside(r, laid[0])
		}
		if r, why = ringOf(r, i == 0); why != "" {
			return nil, why
		}
		laid = append(laid, r[:len(r)-1])
	}
	west, east := extent(laid[0])
	if west < -180 {
		for i := range laid {
			laid[i] = moved(laid[i], 360)
		}
		west, east = west+360, east+360
	}
	if west < -180 || east > 540 {
		return nil, "a ring goes more than once round the earth"
	}
	for _, side := range []float64{-1, 1} {
		some, ok := half(laid, side)
		if !ok {
			return nil, "a ring crosses itself where it crosses 180° of longitude: give it in two polygons, one on each side"
		}
		for _, b := range some {
			for i := range b {
				b[i] = moved(b[i], float64(-180*(1+side))) // the eastern side counts from -180
			}
			bodies = append(bodies, b)
		}
	}
	return bodies, ""
}

// laidOut is a ring whose longitudes go on beyond 180° instead of jumping.
func laidOut(ring []Position) ([]Position, string) {
	out := slices.Clone(ring)
	turns := 0.0
	for i := range out {
		if i > 0 {
			switch step := ring[i].Lon - ring[i-1].Lon; {
			case step > 180:
				turns -= 360
			case step < -180:
				turns += 360
			}
		}
		out[i].Lon += turns
	}
	if len(ring) > 0 {
		if last := out[len(out)-1].Lon - out[0].Lon; math.Abs(last) > 180 {
			return nil, "a ring goes round a pole, which no polygon in longitude and latitude does"
		}
	}
	return out, ""
}

// beside is a ring moved by whole turns to where the outer one lies.
func beside(ring, outer []Position) []Position {
	w, e := extent(outer)
	for _, turn := range []float64{0, 360, -360} {
		if rw, re := extent(ring); rw+turn >= w && re+turn <= e {
			return moved(ring, turn)
		}
	}
	return ring
}

func extent(ring []Position) (west, east float64) {
	west, east = math.Inf(1), math.Inf(-1)
	for _, p := range ring {
		west, east = min(west, p.Lon), max(east, p.Lon)
	}
	return west, east
}

func moved(ring []Position, by float64) []Position {
	out := slices.Clone(ring)
	for i := range out {
		out[i].Lon += by
	}
	return out
}

// chain is a stretch of a ring on one side; its first and its last position lie on the meridian.
type chain struct {
	at   []Position
	next int // the chain whose first position follows upon its last
	used bool
}

// end is an end of a chain.
type end struct {
	lat   float64
	chain int
	first bool
}

// half is what of a polygon lies on one side of 180°: -1 west, 1 east. ok is false where its ends do not alternate, which
// only a ring that crosses itself brings about.
func half(rings [][]Position, side float64) (bodies [][][]Position, ok bool) {
	on := func(p Position) bool { return p.Lon > 180 == (side > 0) }
	var chains []chain
	var holes [][]Position
	for i, ring := range rings {
		switch n := slices.IndexFunc(ring, func(p Position) bool { return !on(p) }); {
		case n < 0 && i == 0:
			return [][][]Position{closedAll(rings)}, true
		case n < 0:
			holes = append(holes, ring)
		default:
			chains = append(chains, chainsOf(ring, n, on)...)
		}
	}
	if !join(chains) {
		return nil, false
	}
	for i := range chains {
		var ring []Position
		for k := i; !chains[k].used; k = chains[k].next {
			chains[k].used = true
			ring = append(ring, chains[k].at...)
		}
		if made, why := ringOf(ring, true); len(ring) > 0 && why == "" { // one that bounds nothing only touches the meridian
			bodies = append(bodies, [][]Position{made})
		}
	}
	for _, h := range holes {
		// The corner furthest from the meridian lies within its polygon; others may lie on the cut.
		far := slices.MaxFunc(h, func(a, b Position) int { return cmp.Compare(math.Abs(a.Lon-180), math.Abs(b.Lon-180)) })
		if b := slices.IndexFunc(bodies, func(b [][]Position) bool { return holds(b[0], far) }); b >= 0 {
			bodies[b] = append(bodies[b], closedAll([][]Position{h})...)
		}
	}
	return bodies, true
}

func closedAll(rings [][]Position) [][]Position {
	var out [][]Position
	for _, r := range rings {
		out = append(out, append(slices.Clone(r), r[0]))
	}
	return out
}

// chainsOf are the chains of a ring, walked from position off, which lies on the other side.
func chainsOf(ring []Position, off int, on func(Position) bool) []chain {
	var out []chain
	for k := range ring {
		a, b := ring[(off+k)%len(ring)], ring[(off+k+1)%len(ring)]
		switch {
		case on(a) && on(b):
			out[len(out)-1].at = append(out[len(out)-1].at, b)
		case on(b):
			out = append(out, chain{at: []Position{onMeridian(a, b), b}})
		case on(a):
			out[len(out)-1].at = append(out[len(out)-1].at, onMeridian(a, b))
		}
	}
	return out
}

// onMeridian is where a step crosses 180°, rounded as it will be written: the same on both sides. It has no height.
func onMeridian(a, b Position) Position {
	lat := between(a.Lat, b.Lat, (180-a.Lon)/(b.Lon-a.Lon))
	return Position{Lon: 180, Lat: float64(whole(lat, degreeDecimals)) / 1e7}
}

// join finds which chain follows upon which.
func join(chains []chain) bool {
	var ends []end
	for i, c := range chains {
		ends = append(ends, end{c.at[0].Lat, i, true}, end{c.at[len(c.at)-1].Lat, i, false})
	}
	sorting.By(ends, func(a, b end) int { return cmp.Compare(a.lat, b.lat) })
	for i := 0; i+1 < len(ends); i += 2 {
		// Of ends at one latitude any may come next; the two of a pair are a first one and a last one.
		k := i + 1
		for k < len(ends)-1 && ends[k].first == ends[i].first && ends[k+1].lat == ends[i+1].lat {
			k++
		}
		ends[i+1], ends[k] = ends[k], ends[i+1]
		a, b := ends[i], ends[i+1]
		if a.first == b.first {
			return false
		}
		if a.first {
			a, b = b, a
		}
		chains[a.chain].next = b.chain
	}
	return true
}

// holds tells whether a closed ring goes round a position, by the steps that pass east of it.
func holds(ring []Position, p Position) bool {
	in := false
	for i := 1; i < len(ring); i++ {
		a, b := ring[i-1], ring[i]
		if a.Lat > p.Lat != (b.Lat > p.Lat) && p.Lon < a.Lon+float64((p.Lat-a.Lat)/(b.Lat-a.Lat)*(b.Lon-a.Lon)) {
			in = !in
		}
	}
	return in
}
