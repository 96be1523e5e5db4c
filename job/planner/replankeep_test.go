package planner

import (
	"math/rand/v2"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/solve/layout"
	"trenchwright/tools/seed"
)

// Whether the same pieces do with other gaps, against a walk through every gap of small runs in steps of one.
func TestKeptFindsEveryWay(t *testing.T) {
	seed := seed.Of(t)
	r := rand.New(rand.NewPCG(seed, 3))
	yes, no := 0, 0
	for range 4000 {
		n := 2 + r.IntN(4)
		h := ahead{units: make([]Unit, n)}
		at := measure.Length(0)
		for i := range n {
			take := measure.Length(5 + r.IntN(8))
			h.units[i] = Unit{Cut: r.IntN(3) == 0}
			h.starts, h.takes = append(h.starts, at), append(h.takes, take)
			if at += take; i < n-1 {
				least := measure.Length(r.IntN(3))
				most := least + measure.Length(r.IntN(4))
				gap := least + measure.Length(r.IntN(int(most-least)+1))
				h.joints = append(h.joints, Joint{Gap: measure.MM(gap), GapMin: measure.MM(least), GapMax: measure.MM(most)})
				at += gap
			}
		}
		h.length = at + measure.Length(r.IntN(3)-1)
		p := &h.q.problem
		for range r.IntN(3) {
			from := measure.Length(r.IntN(int(at)))
			p.Zones = append(p.Zones, layout.Zone{From: from, To: from + measure.Length(1+r.IntN(6))})
		}
		for range r.IntN(2) {
			from := measure.Length(r.IntN(int(at)))
			p.NoCut = append(p.NoCut, layout.Zone{From: from, To: from + measure.Length(1+r.IntN(9))})
		}
		end := h.takes[0] + measure.Length(r.IntN(9)-4)
		way, ok := h.kept(1, end)
		if want := h.walked(1, end); ok != want {
			t.Fatalf("%+v from %d: %t, by every gap %t", h, end, ok, want)
		}
		if !ok {
			no++
			continue
		}
		yes++
		for k, s := range way {
			if !h.fits(1+k, end, s) {
				t.Fatalf("%+v from %d: %v is no way at %d", h, end, way, k)
			}
			end = s + h.takes[1+k]
		}
		if end != h.length {
			t.Fatalf("%+v: the way ends at %d", h, end)
		}
	}
	if yes < 200 || no < 200 {
		t.Errorf("%d could be kept, %d could not: too few of one to say anything", yes, no)
	}
}

// walked tries every start.
func (h *ahead) walked(i int, end measure.Length) bool {
	if i == len(h.units) {
		return end == h.length
	}
	for s := end; s <= end+8; s++ {
		if h.fits(i, end, s) && h.walked(i+1, s+h.takes[i]) {
			return true
		}
	}
	return false
}

// fits tells whether a unit may start at s behind an end.
func (h *ahead) fits(i int, end, s measure.Length) bool {
	j := h.joints[i-1]
	if gap := measure.MM(s - end); gap < j.GapMin || gap > j.GapMax {
		return false
	}
	for _, z := range h.q.problem.Zones {
		if end < z.To && s > z.From {
			return false
		}
	}
	for _, z := range h.q.problem.NoCut {
		if h.units[i].Cut && s < z.To && s+h.takes[i] > z.From {
			return false
		}
	}
	return true
}
