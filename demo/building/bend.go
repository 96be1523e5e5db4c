package building

import (
	"math"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/job/field"
)

// bend is a mitred bend, as drawn and as it is.
type bend struct {
	node     string
	legs     []string
	pieces   [2]string // that meet there
	drawn    measure.Angle
	is       measure.Angle
	measured bool
}

// angleStep is what an angle is read to, and anglePlus how well.
const angleStep, anglePlus = measure.Degree / 20, measure.Degree / 10

// bendsOf are the mitred bends of the plan; some of them are not as drawn.
func (s *site) bendsOf() {
	for _, n := range s.plan.Nodes {
		if n.Bend == nil || n.Made != "mitred" {
			continue
		}
		drawn := measure.FromDegrees(math.Abs(n.Deflection))
		b := &bend{node: n.ID, legs: n.Legs, pieces: [2]string{n.Bend.In, n.Bend.Out}, drawn: drawn, is: drawn}
		if !s.calm && s.once(5) {
			b.is += measure.Angle(s.within(measure.Length(3 * measure.Degree / 2)))
		}
		s.bends = append(s.bends, b)
	}
}

// bendAt measures a bend before the leg that it begins is dug. Where it is not as drawn and the joint does not take it up, the faces
// that are not sawn yet are sawn to what was measured.
func (s *site) bendAt(g *gang, l *leg) {
	for _, b := range s.bends {
		if b.measured || !slices.Contains(b.legs, l.id) {
			continue
		}
		b.measured = true
		read := b.is + measure.Angle(s.within(measure.Length(anglePlus-angleStep/2)))
		read = (read + angleStep/2) / angleStep * angleStep
		s.write(g.device, entry{kind: field.Angle, from: b.node, says: field.AngleSays{Angle: read, Plus: anglePlus}})
		off := read - b.drawn
		if max(off, -off) <= anglePlus {
			continue
		}
		opens := measure.FromMillimetres(l.made.Unit.Outer.Value.Width.Millimetres() * math.Abs(float64(off)) / float64(measure.Degree) * math.Pi / 180)
		changed := 0
		if opens > l.endGap/2 {
			for _, piece := range b.pieces {
				if !s.lies(piece) {
					changed++
				}
			}
		}
		s.surprise("bend not as drawn", nil, changed)
		s.tell("The bend at %s is %s, drawn was %s: the joint would open by %s more; %s sawn to what was measured.", b.node, read, b.drawn, s.size(measure.MM(opens)), plural(changed, "face"))
	}
}

// lies tells whether a place is set.
func (s *site) lies(place string) bool {
	for _, l := range s.legs {
		for k := range l.laid {
			if l.laid[k].place == place {
				return true
			}
		}
	}
	return false
}
