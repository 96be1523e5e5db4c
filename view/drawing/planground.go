package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// What stands and is dug beside the run in plan: the points that it is set out from, its pegs, the edges of the dig.

// digEdges are the edges of the dig, drawn straight from mark to mark of the dig sheet. They run under lettering.
func (p *plot) digEdges() {
	if p.plan.Dig == nil || p.overview {
		return
	}
	for _, dug := range p.plan.Dig.Legs {
		i, ok := p.legs[dug.Leg]
		if !ok {
			continue
		}
		l := p.plan.Legs[i]
		var left, right []scene.Point
		for _, m := range dug.Marks {
			if !p.nearWindow(i, stationAt(l, mm(m.At))) {
				continue
			}
			where, way := onAxis(l, mm(m.At))
			left = append(left, p.v.point(where.add(way.left().times(-mm(m.EdgeLeft)/1000))))
			right = append(right, p.v.point(where.sub(way.left().times(mm(m.EdgeRight)/1000))))
		}
		for _, side := range [2][]scene.Point{left, right} {
			if len(side) > 1 {
				p.edges = append(p.edges, side)
				p.body = append(p.body, scene.Path{Outline: scene.Polyline(side...), Stroke: digEdgePen()})
			}
		}
	}
}

func digEdgePen() scene.Stroke { return scene.Pen(scene.Fine).Dashed(0.6, 0.6) }

// nearWindow reports whether a station of a leg lies on the window's units, or so little beyond them that an edge drawn
// to it ends outside what the window is about.
func (p *plot) nearWindow(leg int, station float64) bool {
	const beyond = 6000 // mm: marks stand every five metres, or twenty feet, and where the dig changes
	return slices.ContainsFunc(p.units, func(i int) bool {
		u := p.plan.Units[i]
		return p.legs[u.Leg] == leg && station >= mm(u.Start)-beyond && station <= mm(u.Start)+mm(u.Length)+beyond
	})
}

// keepOffEdges makes what is set from now on keep off the edges of the dig.
func (p *plot) keepOffEdges() {
	for _, side := range p.edges {
		for k := 1; k < len(side); k++ {
			p.room.line(side[k-1], side[k])
		}
	}
}

// pegs are the pegs beside the window's units: full where they outlast the dig, open where they do not.
func (p *plot) pegs() {
	if p.overview {
		return
	}
	for _, g := range p.plan.Pegs {
		i, ok := p.legs[g.Leg]
		if !ok || !p.inWindow(i, stationAt(p.plan.Legs[i], mm(g.Chainage))) {
			continue
		}
		at := p.onGround(g.E, g.N)
		p.body = append(p.body, pegSign(at, p.size/1.8, len(g.Lost) > 0)...)
		p.room.things = append(p.room.things, boxShape(scene.BoxAt(at.Sub(scene.Point{X: 0.6, Y: 0.6}), 1.2, 1.2)))
	}
}

// onGround is the point on paper of a place in the job's coordinates, m.
func (p *plot) onGround(e, n float64) scene.Point {
	return p.v.point(spot{e, n}.sub(spot{p.plan.Job.Origin[0], p.plan.Job.Origin[1]}))
}

// pegSign is a small square, k times as large as on A3; open for a peg that does not outlast the dig.
func pegSign(at scene.Point, k float64, lost bool) []scene.Mark {
	fill := scene.Black
	if lost {
		fill = scene.White
	}
	return []scene.Mark{scene.Path{Outline: scene.Rectangle(scene.BoxAt(at.Sub(scene.Point{X: 0.45 * k, Y: 0.45 * k}), 0.9*k, 0.9*k)), Fill: fill, Stroke: scene.Pen(scene.Thin)}}
}

// benchmarkSign is a triangle on its point, controlSign one on its side with a dot in it.
func benchmarkSign(at scene.Point) []scene.Mark {
	return []scene.Mark{scene.Path{Outline: triangle(at, 1), Fill: scene.Black, Stroke: scene.Pen(scene.Thin)}}
}

func controlSign(at scene.Point) []scene.Mark {
	return []scene.Mark{scene.Path{Outline: triangle(at, -1), Fill: scene.White, Stroke: scene.Pen(scene.Medium)},
		scene.Path{Outline: scene.Circle(at, 0.3), Fill: scene.Black}}
}

// triangle stands round a point, its tip down where way is 1 and up where it is −1.
func triangle(at scene.Point, way float64) scene.Outline {
	return scene.Polygon(at.Add(scene.Point{X: -1.4, Y: -0.8 * way}), at.Add(scene.Point{X: 1.4, Y: -0.8 * way}), at.Add(scene.Point{Y: 1.6 * way}))
}

// surveyPoints draws the benchmarks and control points that lie on the sheet. It keeps their places for pointLabels, and
// those that do not lie on it in words.
func (p *plot) surveyPoints() {
	for _, kind := range []struct {
		all  []planner.SurveyPoint
		name string
		sign func(scene.Point) []scene.Mark
	}{{p.plan.Benchmarks, p.words.benchmark, benchmarkSign}, {p.plan.Control, "control point", controlSign}} {
		for _, s := range kind.all {
			text := s.ID
			if s.Level != nil {
				text += ", level " + p.levelFigure(s.Level)
			}
			if !placed(s) {
				p.away = append(p.away, fmt.Sprintf("%s %s, %s, no easting and northing on file", kind.name, text, s.Where))
				continue
			}
			at := p.onGround(*s.E, *s.N)
			box := boxShape(scene.BoxAt(at.Sub(scene.Point{X: 1.7, Y: 1.9}), 3.4, 3.8))
			if !box.inside(p.room.within.Inset(1)) {
				p.away = append(p.away, fmt.Sprintf("%s %s, %s %s of its middle: E %s N %s", kind.name, text, p.far(s), p.towards(s), p.eastNorth(*s.E), p.eastNorth(*s.N)))
				continue
			}
			p.body = append(p.body, kind.sign(at)...)
			p.room.things = append(p.room.things, box)
			p.points = append(p.points, surveyLabel{at, text, kind.name})
		}
	}
}

// surveyLabel is what is written beside a point.
type surveyLabel struct {
	at         scene.Point
	text, kind string
}

// pointLabels write the names of the points on the sheet, and list in a corner those beyond it.
func (p *plot) pointLabels() {
	for _, s := range p.points {
		p.keep(s.kind+" "+s.text, note(s.at, s.text, p.size, scene.Bold, 45, scene.NoHead)...)
	}
	if len(p.away) > 0 {
		p.list("not on this sheet:\n" + strings.Join(p.away, "\n"))
	}
}

// far is how far a point lies from the middle of the window, to a whole unit; towards is the way, in eight directions.
func (p *plot) far(s planner.SurveyPoint) string {
	metres, unit, _ := p.coordinateUnit()
	return fmt.Sprintf("%.0f %s", p.from(s).length()/metres, unit)
}

func (p *plot) from(s planner.SurveyPoint) spot {
	return spot{*s.E, *s.N}.sub(spot{p.plan.Job.Origin[0], p.plan.Job.Origin[1]}).sub(p.v.centre)
}

func (p *plot) towards(s planner.SurveyPoint) string {
	names := [8]string{"north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"}
	return names[int(math.Round(math.Mod(p.from(s).bearing()+360, 360)/45))%8]
}

// groundKey explains what stands and is dug beside the run.
func (p *plot) groundKey() []keyItem {
	peg := func(lost bool) (string, bool, func(scene.Box) []scene.Mark) {
		word := "peg"
		if lost {
			word = "peg that does not outlast the dig"
		}
		here := !p.overview && slices.ContainsFunc(p.plan.Pegs, func(g planner.Peg) bool {
			i, ok := p.legs[g.Leg]
			return ok && len(g.Lost) > 0 == lost && p.inWindow(i, stationAt(p.plan.Legs[i], mm(g.Chainage)))
		})
		return word, here, func(b scene.Box) []scene.Mark { return pegSign(b.Centre(), 1, lost) }
	}
	point := func(name string, sign func(scene.Point) []scene.Mark) keyItem {
		here := slices.ContainsFunc(p.points, func(s surveyLabel) bool { return s.kind == name })
		return keyItem{name, here, func(b scene.Box) []scene.Mark { return sign(b.Centre()) }}
	}
	items := []keyItem{{"edge of the dig", len(p.edges) > 0, level(digEdgePen())}}
	for _, lost := range []bool{false, true} {
		word, here, sign := peg(lost)
		items = append(items, keyItem{word, here, sign})
	}
	return append(items, point(p.words.benchmark, benchmarkSign), point("control point", controlSign))
}
