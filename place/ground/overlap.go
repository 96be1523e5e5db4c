package ground

import (
	"slices"

	"trenchwright/base/finding"
)

// findOverlaps looks for faces that lie over each other. How often the ground covers a place changes only where an edge
// has nothing beyond, so that a place covered twice has such an edge somewhere on its rim, with a face of the ground on
// that edge's own side: it is enough to hold the faces at such edges against all others.
func (s *Surface) findOverlaps(t *teller, fold []int32) {
	var doubtful []int32
	for i := range s.faces {
		if b := s.faces[i].beyond; b[0] == none || b[1] == none || b[2] == none {
			doubtful = append(doubtful, int32(i))
		}
	}
	doubtful = append(doubtful, fold...)
	slices.Sort(doubtful)
	seen := map[[2]int32]bool{}
	for _, f := range slices.Compact(doubtful) {
		for g := range s.over(f) {
			pair := [2]int32{min(f, g), max(f, g)}
			if f == g || seen[pair] || !s.overlap(f, g) {
				continue
			}
			seen[pair] = true
			s.tidy = false
			a, _, _ := s.corners(f)
			t.add(finding.Finding{ID: "ground.faces-overlap", Kind: finding.Attention,
				Text: t.say("two faces lie over each other near %s; the first one given holds, and volumes are not given", t.at(*a)),
				Rule: "of faces that lie over each other the first one given holds",
				Try:  "export the surface anew, or make it from its points and breaklines"}, t.whole())
		}
	}
	if s.tidy {
		return
	}
	for i := range s.faces { // nobody walks here
		s.faces[i].beyond = [3]int32{none, none, none}
	}
}

// over yields the faces in the cells of a face's box, some of them several times.
func (s *Surface) over(f int32) func(yield func(int32) bool) {
	a, b, c := s.corners(f)
	return s.over3(a.XY, b.XY, c.XY)
}

// overlap tells whether two faces have area in common: no edge of either has the other one wholly on its far side.
func (s *Surface) overlap(f, g int32) bool {
	return !s.apart(f, g) && !s.apart(g, f)
}

func (s *Surface) apart(f, g int32) bool {
	a, b, c := s.corners(g)
	for k := range 3 {
		if s.inside(f, k, a.XY) <= 0 && s.inside(f, k, b.XY) <= 0 && s.inside(f, k, c.XY) <= 0 {
			return true
		}
	}
	return false
}
