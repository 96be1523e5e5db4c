package planner

import (
	"trenchwright/base/finding"
	"trenchwright/place/ground"
	"trenchwright/place/route"
)

// strayed tells where the run and a surface of its ground do not belong to each other, a fault, and where a leg has no ground.
// Rock and water are nowhere sought where nobody found them.
func (b *build) strayed() {
	for _, s := range b.ground {
		src := ground.Source{Name: s.Name, Origin: s.Origin, Speech: b.speech(), Where: finding.Where{Path: "ground.surfaces." + s.Name}}
		var run []route.Point
		for _, l := range b.net.Legs {
			run = append(run, l.Line.Points(0, l.Line.Length(), clipSagitta)...)
		}
		if far := ground.Stray(run, s, src); len(far) > 0 {
			b.add(far...)
			continue
		}
		if s.Role == ground.Rock || s.Role == ground.Water {
			continue
		}
		for _, l := range b.net.Legs {
			b.add(ground.Covered(l.ID, s.Section(l.Line.Points(0, l.Line.Length(), clipSagitta)), src)...)
		}
	}
}
