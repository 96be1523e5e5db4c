package drawing

import (
	"fmt"
	"math"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// flags are the words over a row: legs, nodes, what crosses, changes of supply, pins, outlets, low points, findings.
func (v *section) flags(r *sectionRow) []pennant {
	var out []pennant
	add := func(x float64, weight scene.Weight, text string) {
		out = append(out, pennant{x: x, text: text, weight: weight})
	}
	last := -1
	for _, c := range r.cells {
		if c.node != "" {
			add(v.nodePole(c), scene.Bold, v.nodeWords(v.node(c.node)))
			continue
		}
		if c.leg != last {
			last = c.leg
			text := "Leg " + v.plan.Legs[c.leg].Name
			if c.from > 0 {
				text += " goes on"
			}
			add(c.x+0.6, scene.Bold, text)
		}
	}
	for _, t := range v.things {
		if x, ok := r.at(t.leg, t.at); ok && (t.kind == "crossing" || t.kind == "service" || t.kind == "entry" || t.kind == "support") {
			words := t.words
			if t.kind == "service" || t.kind == "entry" {
				words = joined(" ", t.words, "at", v.chainage(v.chainageOf(t)))
			}
			add(x, scene.Regular, words)
		}
	}
	out = append(out, v.supplyFlags(&r.row)...)
	out = append(out, v.findingFlags(&r.row)...)
	for _, p := range v.pinsOn(r) {
		add(p.x, scene.Regular, p.text)
	}
	for _, p := range v.outletsOn(r) {
		add(p.x, scene.Regular, p.text)
	}
	for _, p := range r.places {
		if v.lowAt(p) {
			add(p.x, scene.Regular, "low point, invert "+v.levelFigure(invertOf(p.SetOut)))
		}
		if s, ok := stepAt(v.rowsOf[p.leg], p.k); ok {
			text := joined(", ", prefixed(v.words.padTop+" ", v.levelFigure(s.padTop)), prefixed(v.words.formation+" ", v.levelFigure(s.formation)))
			if b := p.Levels.Before; b != nil && b.Cover != nil && p.Levels.Cover != nil && v.levelFigure(b.Cover) != v.levelFigure(p.Levels.Cover) {
				text = joined(", ", "top of "+v.words.cover+" "+v.levelFigure(b.Cover), text)
			}
			add(p.x, scene.Regular, joined("; ", "step: "+placeAside(p.SetOut, true)+" "+text, v.coverStep(p.SetOut)))
		}
	}
	return out
}

// chainageOf is where the middle of a service or of a conduit's entry lies along its leg, as the job has it.
func (v *section) chainageOf(t thing) measure.MM {
	l := v.asked[v.plan.Legs[t.leg].Name]
	for _, s := range l.Services {
		if t.kind == "service" && s.ID == t.id {
			return measure.MM(s.At)
		}
	}
	for _, e := range l.Entries {
		if t.kind == "entry" && e.ID == t.id {
			return measure.MM(e.At)
		}
	}
	return 0
}

// coverStep says by how much covers step at a joint, and whether the walls do.
func (v *section) coverStep(r planner.SetOut) string {
	b := r.Levels.Before
	if b == nil || b.Cover == nil || r.Levels.Cover == nil {
		return ""
	}
	by := measure.FromMetres(v.asPrinted(*r.Levels.Cover) - v.asPrinted(*b.Cover))
	if by.Abs() < measure.Millimetre/2 {
		return ""
	}
	way := "up"
	if by < 0 {
		way = "down"
	}
	text := fmt.Sprintf("%s step %s %s from %s to %s", v.words.covers, way, v.length(measure.MM(by.Abs())), strings.TrimPrefix(placeAside(r, true), "end "), strings.TrimPrefix(placeAside(r, false), "start "))
	if b.Wall != nil && r.Levels.Wall != nil && v.levelFigure(b.Wall) == v.levelFigure(r.Levels.Wall) {
		text += ", wall tops flush"
	}
	return text
}

// pinned is a sign at a level with its words.
type pinned struct {
	x, level float64
	text     string
}

// pinsOn are the levels that were given on a row.
func (v *section) pinsOn(r *sectionRow) []pinned {
	var out []pinned
	metres, unit, _ := v.coordinateUnit()
	for _, p := range v.job.Levels.Pins {
		x, ok := v.xOf(r, p.Leg, p.At)
		if !ok {
			continue
		}
		of := p.Of
		if of == "" {
			of = v.words.cover
		}
		z := p.Level * metres
		out = append(out, pinned{x, z, joined(", ", fmt.Sprintf("pin %s: %s at %s %s", p.ID, of, v.levelFigure(&z), unit), p.Why)})
	}
	return out
}

// outletsOn are where water leaves the run on a row, at its invert.
func (v *section) outletsOn(r *sectionRow) []pinned {
	var out []pinned
	for _, o := range v.job.Levels.Outlets {
		x, ok := v.xOf(r, o.Leg, o.At)
		if !ok {
			continue
		}
		at := pinned{x: x, level: math.NaN(), text: joined(" into ", "outlet "+o.ID, o.Into)}
		if z, ok := v.levelAt(r, x, func(l *planner.Levels) *float64 { return l.Invert }); ok {
			at.level = z
		}
		out = append(out, at)
	}
	return out
}

// xOf is where a chainage of a leg stands on a row.
func (v *section) xOf(r *sectionRow, leg string, at measure.Length) (float64, bool) {
	i, ok := v.legs[leg]
	if !ok {
		return 0, false
	}
	return r.at(i, stationAt(v.plan.Legs[i], at.Millimetres()))
}

// levelAt is a level between the two places of a row beside x, on the straight line.
func (v *section) levelAt(r *sectionRow, x float64, of func(*planner.Levels) *float64) (float64, bool) {
	for i := range r.places {
		p := r.places[i]
		if p.Levels == nil || of(p.Levels) == nil {
			continue
		}
		if math.Abs(p.x-x) < 1e-6 {
			return *of(p.Levels), true
		}
		if i+1 == len(r.places) {
			break
		}
		q := r.places[i+1]
		if p.x <= x && x <= q.x && q.x > p.x && q.Levels != nil && of(q.Levels) != nil {
			return *of(p.Levels) + float64((*of(q.Levels)-*of(p.Levels))*(x-p.x)/(q.x-p.x)), true
		}
	}
	return 0, false
}

// service is a buried service where it crosses the run; known: its top has a level.
type service struct {
	job.Service
	x, top float64
	known  bool
}

// servicesOn are the services of a row. A depth counts from the ground as it is.
func (v *section) servicesOn(r *sectionRow) []service {
	var out []service
	metres, _, _ := v.coordinateUnit()
	last := -1
	for _, c := range r.cells {
		l := v.plan.Legs[c.leg]
		if c.leg == last {
			continue
		}
		last = c.leg
		for _, s := range v.asked[l.Name].Services {
			x, ok := v.xOf(r, l.Name, s.At)
			if !ok {
				continue
			}
			one := service{Service: s, x: x}
			if ground, ok := v.levelAt(r, x, func(l *planner.Levels) *float64 { return l.Existing }); ok && s.Depth != nil {
				one.top, one.known = ground-s.Depth.Metres(), true
			}
			if s.Level != nil {
				one.top, one.known = *s.Level*metres, true
			}
			out = append(out, one)
		}
	}
	return out
}
