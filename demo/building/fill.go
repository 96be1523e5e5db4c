package building

import (
	"trenchwright/base/measure"
	"trenchwright/job/field"
)

// join makes what the joints of a stretch want before they are hidden: bonds, fabric, and wall tops read.
func (s *site) join(g *gang, l *leg, x *stretch) {
	from, to := l.places[x.from].name, l.places[x.to].name
	for k := x.from; k <= x.to && k < len(l.laid); k++ {
		s.tops(l, k)
		if k == 0 || s.wanted(l.places[k].before, "bond") && s.forgets(l.places[k].before, "bond") {
			continue
		}
		met := s.calm || !s.once(40)
		bond := entry{kind: field.Bond, from: l.places[k].joint, says: field.TestSays{Method: "continuity", Value: pick(&s.dice, []string{"0.02 ohm", "0.03 ohm", "0.04 ohm"}), Met: &met}}
		if !met {
			s.surprise("test failed", nil, 0)
			bond.says = field.TestSays{Method: "continuity", Value: "open", Met: &met}
			s.note(g, bond)
			bond.says = field.TestSays{Method: "continuity", Value: "0.03 ohm", Met: new(true)}
		}
		s.note(g, bond)
	}
	s.note(g, entry{kind: field.Fabric, from: from, to: to, says: struct{}{}, text: "both walls, laps as drawn", photos: s.photos(1)})
}

// fill fills beside a stretch, layer by layer, both sides together; each layer is tested, and those that fail once more.
func (s *site) fill(g *gang, l *leg, x *stretch) bool {
	from, to := l.places[x.from].name, l.places[x.to].name
	thick := s.job.Dig.Layer.Value
	if thick <= 0 {
		thick = 150 * mm
	}
	high := l.made.Unit.Outer.Value.Height
	layers := max(1, int((high+thick-1)/thick))
	for n := 1; n <= layers; n++ {
		for _, side := range []string{"left", "right"} {
			s.note(g, entry{kind: field.Layer, from: from, to: to, says: field.LayerSays{Number: n, Side: side, Thick: min(thick, high-thick*measure.Length(n-1)), Plant: "plate", Passes: 4, Top: n == layers}})
		}
		if !s.calm && s.once(12) {
			s.surprise("test failed", nil, 0)
			s.tell("Layer %d beside %s to %s did not come to its density; it was compacted and tested again.", n, from, to)
			s.note(g, entry{kind: field.LayerTest, from: from, to: to, says: field.TestSays{Number: n, Side: "both", Method: "density", Value: "91 %", Limit: "95 %", Met: new(false)}})
			s.note(g, entry{kind: field.Layer, from: from, to: to, says: field.LayerSays{Number: n, Side: "both", Plant: "plate", Passes: 3}, text: "compacted again"})
		}
		s.note(g, entry{kind: field.LayerTest, from: from, to: to, says: field.TestSays{Number: n, Side: "both", Method: "density", Value: "97 %", Limit: "95 %", Met: new(true)}})
	}
	return true
}
