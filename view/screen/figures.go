package screen

import (
	"math"

	"trenchwright/place/route"
)

// picture is a figure in the making. Its x runs up-chainage, its y to the left, in millimetres.
type picture struct {
	Figure
	seen bool
}

func (p *picture) see(x, y float64) {
	if !p.seen {
		p.Box, p.seen = [4]float64{x, y, x, y}, true
	}
	p.Box = [4]float64{math.Min(p.Box[0], x), math.Min(p.Box[1], y), math.Max(p.Box[2], x), math.Max(p.Box[3], y)}
}

func (p *picture) line(of string, closed, area bool, points ...float64) {
	for k := 0; k+1 < len(points); k += 2 {
		p.see(points[k], points[k+1])
	}
	p.Lines = append(p.Lines, FigureLine{Of: of, Points: points, Closed: closed, Area: area})
}

func (p *picture) label(of, text string, x, y float64) {
	if text != "" {
		p.see(x, y)
		p.Labels = append(p.Labels, FigureLabel{At: [2]float64{x, y}, Text: text, Of: of})
	}
}

func newPicture() *picture {
	return &picture{Figure: Figure{Lines: []FigureLine{}, Labels: []FigureLabel{}, Notes: []string{}}}
}

// piece draws a body of a length and a width whose ends lean.
func (p *picture) piece(of string, x, length, width, start, end float64, area bool) {
	h := width / 2
	s, e := float64(h*slant(start)), float64(h*slant(end))
	p.line(of, true, area, x+s, h, x+length+e, h, x+length-e, -h, x-s, -h)
}

// unitFigure is a unit from above with its covers, what is left of its neighbours, and the stretches where no joint may stand.
func (d *draft) unitFigure(i int) *Figure {
	u := &d.plan.Units[i]
	leg := d.legs[u.Leg]
	w := d.widths[d.supply[u.Supply]]
	p := newPicture()
	long := mm(u.Length)
	p.piece("unit", 0, long, w, u.StartAngle, u.EndAngle, true)
	cover := w
	if c := d.plan.Supplies[d.supply[u.Supply]].CoverWidth; c != nil {
		cover = mm(*c)
	}
	for k := d.covers[i]; k < d.covers[i+1]; k++ {
		c := &d.plan.Covers[k]
		p.piece("cover", mm(c.Start), mm(c.Length), cover, c.StartAngle, c.EndAngle, false)
		p.label("cover", d.size(c.Length), mm(c.Start)+mm(c.Length)/2, 0)
	}
	for _, z := range d.plan.Zones {
		from, to := math.Max(mm(z.From-u.Start), -200), math.Min(mm(z.To-u.Start), long+200)
		if z.Leg == u.Leg && from < to {
			p.line("zone", true, true, from, -w/2-160, to, -w/2-160, to, -w/2-60, from, -w/2-60)
		}
	}
	d.besides(p, i, leg)
	if u.Piece != nil && u.Piece.LeftSide != u.Piece.RightSide {
		p.label("side", d.size(u.Piece.LeftSide), long/2, w/2+120)
		p.label("side", d.size(u.Piece.RightSide), long/2, -w/2-220)
	} else {
		p.label("side", d.size(u.Length), long/2, w/2+120)
	}
	if u.StartAngle != 0 {
		p.label("angle", degrees(u.StartAngle), 0, w/2+120)
	}
	if u.EndAngle != 0 {
		p.label("angle", degrees(u.EndAngle), long, w/2+120)
	}
	if u.Piece != nil {
		x, y := mm(u.Piece.CentreX), mm(u.Piece.CentreY)
		p.line("centre", false, false, x-40, y, x+40, y)
		p.line("centre", false, false, x, y-40, x, y+40)
		for _, s := range u.Piece.Inserts {
			at := map[string]float64{"left": w / 2, "right": -w / 2}[s.Side]
			p.line("insert", false, false, mm(s.X)-30, at, mm(s.X)+30, at)
		}
	}
	return &p.Figure
}

// besides draws the ends of a unit's neighbours beyond their gaps.
func (d *draft) besides(p *picture, i, leg int) {
	const shown = 250.0
	u := &d.plan.Units[i]
	below := 280.0 // clear of where no joint may stand
	if u.Piece != nil && u.Piece.LeftSide != u.Piece.RightSide {
		below = 120 // the length of its right side is written there
	}
	if i > d.first[leg] {
		b := &d.plan.Units[i-1]
		end := mm(b.Start) + mm(b.Length) - mm(u.Start)
		w := d.widths[d.supply[b.Supply]]
		p.piece("beside", end-shown, shown, w, 0, b.EndAngle, false)
		p.label("gap", d.small(d.plan.Joints[d.joints[leg]+i-1-d.first[leg]].Gap), end/2, -w/2-below)
	}
	if i+1 < d.first[leg+1] {
		b := &d.plan.Units[i+1]
		at := mm(b.Start) - mm(u.Start)
		w := d.widths[d.supply[b.Supply]]
		p.piece("beside", at, shown, w, b.StartAngle, 0, false)
		p.label("gap", d.small(d.plan.Joints[d.joints[leg]+i-d.first[leg]].Gap), (mm(u.Length)+at)/2, -w/2-below)
	}
}

// jointFigure is the joint behind a unit from above.
func (d *draft) jointFigure(i int) *Figure {
	const shown = 400.0
	a, b := &d.plan.Units[i], &d.plan.Units[i+1]
	p := newPicture()
	gap := mm(b.Start) - mm(a.Start) - mm(a.Length)
	p.piece("unit", -shown-gap/2, shown, d.widths[d.supply[a.Supply]], 0, a.EndAngle, true)
	p.piece("unit", gap/2, shown, d.widths[d.supply[b.Supply]], b.StartAngle, 0, true)
	half := d.widths[d.supply[a.Supply]] / 2
	p.label("unit", a.Mark, -shown/2, 0)
	p.label("unit", b.Mark, shown/2, 0)
	leg := d.legs[a.Leg]
	p.label("gap", d.small(d.plan.Joints[d.joints[leg]+i-d.first[leg]].Gap), 0, half+80)
	return &p.Figure
}

// nodeFigure is what meets at a node from above, north up: the units beside it and the centrelines.
func (d *draft) nodeFigure(n Node) *Figure {
	p := newPicture()
	at := route.Point{E: n.At[0], N: n.At[1]}
	for _, r := range n.Legs {
		leg := d.order[r]
		first, last := d.first[leg], d.first[leg+1]-1
		x, dir := d.begins[leg], 1.0
		units := []int{first, first + 1}
		if d.plan.Legs[leg].To == n.ID {
			x, dir = d.begins[leg]+mm(d.plan.Legs[leg].NodeLength), -1
			units = []int{last, last - 1}
		}
		for _, u := range units {
			if u < first || u > last {
				continue
			}
			c := d.corners(nil, u)
			for k := range c {
				c[k] = (c[k] - []float64{at.E, at.N}[k%2]) * 1000
			}
			p.line("unit", true, true, c...)
			p.label("unit", d.plan.Units[u].Mark, (c[0]+c[4])/2, (c[1]+c[5])/2)
		}
		far := d.lines[leg].at(x + float64(dir*3000)).Minus(at)
		p.line("centreline", false, false, 0, 0, far.E*1000, far.N*1000)
	}
	p.label("node", n.ID, 0, 0)
	if n.Angle != "" {
		p.label("angle", n.Angle, 0, -400)
	}
	return &p.Figure
}
