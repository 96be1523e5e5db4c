package planner

import (
	"fmt"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/solve/layout"
)

// A replan works on those legs that something happened to: what a leg came to is kept, by where it is set, what was measured and what
// was found; and so is the cost to go of its every start, which a service that was found changes only before it.

// knownWays are the ways on of a leg, and what they were found for.
type knownWays struct {
	of   string
	ways []Offer
}

// mostKnown is how many answers and how many costs are kept.
const mostKnown = 4096

// knownWays are the ways on behind a measured end, from the last time if nothing happened since.
func (h *ahead) knownWays(r *LegReplan, end measure.Length, there *inYard) []Offer {
	of := fmt.Sprint(r.Set, end, h.lie, h.read, h.found, h.moved, h.beyond, r.Meets, h.lots, there.lengths(h))
	h.a.again.Lock()
	known, ok := h.a.ways[r.Leg]
	h.a.again.Unlock()
	if !ok || known.of != of {
		known = knownWays{of, h.ways(r, end, there)}
		h.a.again.Lock()
		if h.a.ways == nil {
			h.a.ways = map[string]knownWays{}
		}
		h.a.ways[r.Leg] = known
		h.a.again.Unlock()
	}
	return slices.Clone(known.ways)
}

// lengths is how many of each length the yard has for a leg, as far as that may change its ways on.
func (y *inYard) lengths(h *ahead) string {
	if y == nil {
		return ""
	}
	text := ""
	for _, s := range h.q.problem.Supplies {
		for _, k := range s.Stocks {
			if len(s.Stocks) > 1 {
				text += fmt.Sprint(" ", y.have[made{s.Name, k.Length}])
			}
		}
	}
	return text
}

// costs is the cost to go of every start of a problem of the leg; nil: the leg is too long for one programme.
func (h *ahead) costs(q layout.Problem, end measure.Length) *layout.Certificate {
	base := q
	base.Zones = h.asked
	key := fmt.Sprint(h.i, q.Start.Tan, q.End.Tan, q.Supplies, h.beyond)
	h.a.again.Lock()
	cert, ok := h.a.costsOf[key]
	h.a.again.Unlock()
	if !ok {
		cert = layout.Costs(base)
		h.a.again.Lock()
		if h.a.costsOf == nil || len(h.a.costsOf) > mostKnown {
			h.a.costsOf = map[string]*layout.Certificate{}
		}
		h.a.costsOf[key] = cert
		h.a.again.Unlock()
	}
	if cert == nil || len(h.found)+len(h.moved) == 0 {
		return cert
	}
	var changed measure.Length
	for _, of := range [][2][]layout.Zone{{q.Zones, base.Zones}, {base.Zones, q.Zones}} {
		for _, z := range of[0] {
			if !slices.Contains(of[1], z) {
				changed = max(changed, z.To)
			}
		}
	}
	again, err := cert.Upstream(q, min(changed, q.Length), max(end, 1))
	if err != nil {
		return nil
	}
	return again
}
