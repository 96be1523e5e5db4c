package planner

import (
	"math"

	"trenchwright/base/measure"
	"trenchwright/solve/earthwork"
)

// areas are what is dug, what is filled and what is set.
func (c *cross) areas() []SectionArea {
	s, a := c.sheet, c.sheet.Areas
	out := []SectionArea{}
	add := func(of string, area float64, parts []earthwork.Outline) {
		if len(parts) > 0 {
			lines := make([][]earthwork.Corner, len(parts))
			for i, p := range parts {
				lines[i] = plain(p)
			}
			out = append(out, SectionArea{of, area, polylines(lines)})
		}
	}
	add("dig", a.Dug(), s.Dig)
	add("topsoil", a.Topsoil, s.Topsoil)
	add("soil", a.Soil, s.Soil)
	add("rock", a.Rock, s.Rock)
	add("bed", a.Stone, s.Stone)
	add("fill", a.Fill, s.Fill)
	add("topsoil back", a.TopsoilBack, s.TopsoilBack)
	if c.of == nil {
		return out
	}
	pads := 0.0
	for _, p := range c.cutPads() {
		pads += float64(p.Across.Metres() * p.Thick.Metres())
	}
	add("pad", pads, s.Pads)
	o, in := c.of.Unit.Outer, c.of.Unit.Inner
	switch {
	case o.Known && in.Known:
		whole, hollow := float64(o.Value.Width.Metres()*o.Value.Height.Metres()), float64(in.Value.Width.Metres()*in.Value.Height.Metres())
		add("unit", whole-hollow, []earthwork.Outline{c.trough(o.Value.Width, o.Value.Height, in.Value.Width, in.Value.Height)})
	case o.Known:
		add("unit", o.Value.Width.Metres()*o.Value.Height.Metres(), []earthwork.Outline{c.block(o.Value.Width, c.levels.Underside, o.Value.Height)})
	}
	if k := c.of.Cover; !c.cast && k != nil && k.Thickness.Known && k.Width.Known {
		add("cover", k.Width.Value.Metres()*k.Thickness.Value.Metres(), []earthwork.Outline{c.block(k.Width.Value, c.levels.Top-k.Thickness.Value, k.Thickness.Value)})
	}
	return out
}

// cutPads are the pads that the section cuts.
func (c *cross) cutPads() []earthwork.Pad {
	var out []earthwork.Pad
	for _, p := range c.problem.Legs[c.place.leg].Pads {
		if low := p.At - p.Along/2; c.place.at >= low && c.place.at <= low+p.Along {
			out = append(out, p)
		}
	}
	return out
}

// fallen is a level on the centreline carried to an offset by the crossfall.
func (c *cross) fallen(level, offset measure.Length) measure.Length {
	g := c.span.Cross
	if g.Run == 0 || g.Rise == 0 {
		return level
	}
	return level - measure.FromMetres(float64(offset.Metres()*float64(g.Rise)/float64(g.Run)))
}

// block is a rectangle about the centreline that leans with the crossfall.
func (c *cross) block(width, bottom, high measure.Length) earthwork.Outline {
	l, r := -width/2, width-width/2
	a, b := c.fallen(bottom, l), c.fallen(bottom, r)
	return earthwork.Outline{{Offset: l, Level: a}, {Offset: r, Level: b}, {Offset: r, Level: b + high}, {Offset: l, Level: a + high}}
}

// trough is a unit: walls and floor round the hollow.
func (c *cross) trough(width, high, wide, deep measure.Length) earthwork.Outline {
	out := c.block(width, c.levels.Underside, high)
	in := c.block(wide, c.levels.Underside+high-deep, deep)
	return earthwork.Outline{out[0], out[1], out[2], in[2], in[1], in[0], in[3], out[3]}
}

// heaps are the heaps of spoil on one side: triangles on the ground between their two toes, as high as half their width
// times the slope that is on file.
func (c *cross) heaps(n *earthwork.StripNeed) []SectionArea {
	g := c.problem.Strip.Heap
	if g == nil || g.Run == 0 {
		return nil
	}
	slope := float64(g.Rise) / float64(g.Run)
	var parts []earthwork.Outline
	area := 0.0
	for _, u := range n.Uses {
		if u.What != earthwork.Spoil || u.Width <= 0 {
			continue
		}
		near, far := u.From, u.From+u.Width
		if n.Side == earthwork.Left {
			near, far = -near, -far
		}
		a, okA := levelOf(c.sheet.Ground, near)
		b, okB := levelOf(c.sheet.Ground, far)
		if !okA || !okB {
			continue
		}
		w := u.Width.Metres()
		top := earthwork.Corner{Offset: near + (far-near)/2, Level: a + (b-a)/2 + measure.FromMetres(float64(w/2*slope))}
		parts = append(parts, earthwork.Outline{{Offset: near, Level: a}, {Offset: far, Level: b}, top})
		area += float64(w * w / 4 * slope)
	}
	if len(parts) == 0 {
		return nil
	}
	lines := make([][]earthwork.Corner, len(parts))
	for i, p := range parts {
		lines[i] = p
	}
	return []SectionArea{{"heap", area, polylines(lines)}}
}

// levelOf is the level of a line at an offset.
func levelOf(parts [][]earthwork.Corner, y measure.Length) (measure.Length, bool) {
	for _, line := range parts {
		for i := 1; i < len(line); i++ {
			a, b := line[i-1], line[i]
			if a.Offset <= y && y <= b.Offset && b.Offset > a.Offset {
				return a.Level + measure.FromMetres(float64((b.Level-a.Level).Metres()*((y-a.Offset).Metres()/(b.Offset-a.Offset).Metres()))), true
			}
		}
	}
	return 0, false
}

// plain is an outline without the corners at which it does not bend: those that lie within two nanometres of the straight
// between their neighbours, which is what rounding does.
func plain(o earthwork.Outline) earthwork.Outline {
	var out earthwork.Outline
	for i, k := range o {
		if n := len(out); n == 0 || i == len(o)-1 || bends(out[n-1], k, o[i+1]) {
			out = append(out, k)
		}
	}
	return out
}

func bends(a, k, b earthwork.Corner) bool {
	x, y := (b.Offset - a.Offset).Metres(), (b.Level - a.Level).Metres()
	u, v := (k.Offset - a.Offset).Metres(), (k.Level - a.Level).Metres()
	long := math.Sqrt(float64(x*x) + float64(y*y))
	return math.Abs(float64(x*v)-float64(y*u)) > 2e-9*long || float64(u*x)+float64(v*y) < 0 || float64(u*x)+float64(v*y) > float64(long*long)
}

func polylines(parts [][]earthwork.Corner) [][][2]measure.MM {
	out := make([][][2]measure.MM, len(parts))
	for i, line := range parts {
		for _, k := range line {
			out[i] = append(out[i], pairOf(k))
		}
	}
	return out
}

func pairOf(c earthwork.Corner) [2]measure.MM {
	return [2]measure.MM{measure.MM(c.Offset), measure.MM(c.Level)}
}

func widthOf(l, r earthwork.Corner) *SectionWidth {
	return &SectionWidth{Width: measure.MM(r.Offset - l.Offset), Left: pairOf(l), Right: pairOf(r)}
}
