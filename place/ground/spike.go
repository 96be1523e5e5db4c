package ground

import (
	"math"

	"trenchwright/base/finding"
)

// spikes tells of points that rise above all of their neighbours, or fall below all, more steeply than a slope. They stay
// in the surface.
func (d *draft) spikes(s *Surface) {
	slope := d.survey.SpikeSlope
	if slope == 0 {
		slope = SpikeSlope
	}
	const above, below = 1, 2
	stands := make([]uint8, len(s.vertices))
	for i := range s.faces {
		for _, c := range s.faces[i].corner {
			stands[c] = above | below
		}
	}
	for i := range s.faces {
		c := &s.faces[i].corner
		for k := range 3 {
			u, v := c[k], c[after[k]]
			if stands[u]|stands[v] == 0 {
				continue
			}
			a, b := &s.vertices[u], &s.vertices[v]
			dx, dy, rise := metres(b.X-a.X), metres(b.Y-a.Y), metres(b.Z-a.Z)
			steep := float64(rise*rise) > float64(float64(slope*slope)*(float64(dx*dx)+float64(dy*dy)))
			switch {
			case !steep:
				stands[u], stands[v] = 0, 0
			case rise > 0:
				stands[u], stands[v] = stands[u]&below, stands[v]&above
			default:
				stands[u], stands[v] = stands[u]&above, stands[v]&below
			}
		}
	}
	some := map[int32]int64{} // of each spike the least it stands out by
	for v, how := range stands {
		if how != 0 {
			some[int32(v)] = math.MaxInt64
		}
	}
	if len(some) > 0 {
		d.tellSpikes(s, some, slope)
	}
}

// tellSpikes works out by how much each spike stands out, and tells of them in their order.
func (d *draft) tellSpikes(s *Surface, least map[int32]int64, slope float64) {
	for i := range s.faces {
		for _, u := range s.faces[i].corner {
			l, spike := least[u]
			if !spike {
				continue
			}
			for _, v := range s.faces[i].corner {
				if off := s.vertices[u].Z - s.vertices[v].Z; v != u && max(off, -off) < max(l, -l) {
					l = off
				}
			}
			least[u] = l
		}
	}
	for i := range s.vertices {
		off, spike := least[int32(i)]
		if !spike {
			continue
		}
		v, how := s.vertices[i], "above"
		if off < 0 {
			how = "below"
		}
		d.add(finding.Finding{ID: "ground.spike", Kind: finding.Attention,
			Text:  d.say("a point at %s, level %s, stands %s or more %s all of its neighbours", d.at(v), level(v.Z), level(max(off, -off)), how),
			Limit: d.say("a slope of %.2f to a neighbour at least", slope), Value: d.say("steeper to every neighbour"),
			Rule: "a point steeper than that to every neighbour is told as a spike; the slope is common practice, no source",
			Try:  "look at the point's level; leave it out where it is no ground"}, d.whole())
	}
}
