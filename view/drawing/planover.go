package drawing

import (
	"fmt"

	"trenchwright/view/scene"
)

// overviewPage is the whole run with its legs, nodes and the windows that the next sheets show.
func (d *draft) overviewPage(windows []window) scene.Page {
	trial := d.planSheet("Plan: overview", "-", nil, 1)
	w := d.wholeRun(trial.drawable())
	title := fmt.Sprintf("Plan 1 of %d: overview", len(windows)+1)
	s := d.planSheet(title, fmt.Sprintf("scale %s; the dashed frames are the sheets that follow", d.scaleWords(w.denominator)), nil, 1)
	p := plot{sheet: s, window: w, overview: true}
	frame := s.free
	frame.Bottom -= d.style.planFoot()
	p.room.within = frame
	p.v = view{centre: w.centre, middle: frame.Centre(), denominator: w.denominator}
	p.surveyPoints()
	p.foot()
	p.nodes()
	for _, u := range d.plan.Units {
		p.unit(u)
	}
	inner := trial.drawable().Inset(-labelRoom + 6)
	for i, win := range windows {
		p.windowFrame(win, i, inner)
	}
	p.nodeLabels()
	for _, l := range d.plan.Legs {
		if units := d.of[d.legs[l.Name]]; len(units) > 0 {
			u := d.plan.Units[units[len(units)/2]]
			text := fmt.Sprintf("leg %s, %s between its ends", l.Name, d.along(l.ClearLength))
			p.keep(text, p.fromEdges(u, text, scene.Bold)...)
		}
	}
	p.pointLabels()
	p.lostLabels()
	p.gridLabels(p.grid(frame))
	s.add(scene.Group{Name: "plan", Clip: scene.Rectangle(frame), Marks: p.body})
	s.add(p.labels...)
	return s.page
}

// windowFrame is the outline of a window's sheet on the overview, with the sheet's number at a corner.
func (p *plot) windowFrame(w window, i int, inner scene.Box) {
	there := view{centre: w.centre, middle: inner.Centre(), denominator: w.denominator, turn: w.turn}
	width, height, _ := extent(w.turn, p.footprints(w.units))
	pad := 5 * p.v.denominator / 1000
	k := 1000 / w.denominator / 2
	box := scene.Box{
		Left: there.middle.X - float64((width+pad)*k), Right: there.middle.X + float64((width+pad)*k),
		Top: there.middle.Y - float64((height+pad)*k), Bottom: there.middle.Y + float64((height+pad)*k),
	}
	ground := there.ground(box)
	c := p.v.points(ground[:]...)
	p.body = append(p.body, scene.Path{Outline: scene.Polygon(c...), Stroke: scene.Pen(scene.Thin).Dashed(2.2, 1.2)})
	for k := range c {
		p.room.line(c[k], c[(k+1)%4])
	}
	text := fmt.Sprintf("plan %d", i+2)
	var all []candidate
	for k := range c {
		out := c[k].Sub(p.v.point(w.centre)).Unit()
		for _, far := range []float64{2.5, 5, 8} {
			for _, align := range []scene.Align{scene.Centre, scene.Left, scene.Right} {
				all = append(all, candidate{marks: []scene.Mark{scene.Text{At: c[k].Add(out.Times(far)), String: text, Size: p.size * 1.2, Weight: scene.Bold, Align: align, VAlign: scene.Middle, Halo: 0.4}}})
			}
		}
	}
	p.set(all...)
	p.add(scene.Link{Area: convex(c...).box, To: fmt.Sprintf("#plan-%d", i+2)})
}
