package screen

import (
	"fmt"
	"math"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/planner"
)

// Across is the trench cut across at one place, looking up-chainage: x to the right, y the level, in millimetres above the
// height datum less Level.
type Across struct {
	Title  string      `json:"title"`
	Strip  float64     `json:"strip"`
	Level  float64     `json:"level_mm"` // that y counts from
	Figure Figure      `json:"figure"`
	Groups []CardGroup `json:"groups"`
}

// across is the section at a place of a leg. Where no dig was computed it shows what is set, and says what is not on file.
func (d *draft) across(leg string, at float64, answers *planner.Answers) (Across, error) {
	i, ok := d.legs[leg]
	if !ok {
		return Across{}, fmt.Errorf("there is no leg %s", leg)
	}
	l := measure.MM(min(max(measure.FromMillimetres(at), 0), measure.Length(d.plan.Legs[i].NodeLength)))
	out := Across{Title: "leg " + leg + ", " + d.speech.Word(wording.Chainage) + " " + d.chainage(l), Strip: d.strip(i, l), Groups: []CardGroup{}}
	if answers != nil {
		if s, ok := answers.At(leg, measure.Length(l)); ok {
			if cut, ok := answers.Across(s); ok {
				d.dug(&cut, &out)
				return out, nil
			}
		}
	}
	d.bare(i, out.Strip, &out)
	return out, nil
}

// dug draws a section of the dig.
func (d *draft) dug(s *planner.DigSection, out *Across) {
	p := newPicture()
	base := math.Inf(1)
	for _, a := range s.Areas {
		for _, part := range a.Parts {
			for _, k := range part {
				base = math.Min(base, mm(k[1]))
			}
		}
	}
	if math.IsInf(base, 0) {
		base = 0
		if s.Levels.Formation != nil {
			base = mm(*s.Levels.Formation)
		}
	}
	out.Level = math.Floor(base)
	flat := func(line [][2]measure.MM) Numbers {
		var points Numbers
		for _, k := range line {
			points = append(points, mm(k[0]), mm(k[1])-out.Level)
		}
		return points
	}
	for _, a := range s.Areas {
		for _, part := range a.Parts {
			p.line(a.Of, true, true, flat(part)...)
		}
	}
	for _, l := range s.Lines {
		for _, part := range l.Parts {
			p.line(l.Of, false, false, flat(part)...)
		}
	}
	if s.Bottom != nil {
		_, n := filledTo(s)
		for _, z := range s.Layers[:n] {
			p.line("layer", false, false, math.Min(p.Box[0], mm(s.Bottom.Left[0])), mm(z)-out.Level, math.Max(p.Box[2], mm(s.Bottom.Right[0])), mm(z)-out.Level)
		}
		p.label("bottom", d.size(s.Bottom.Width), (mm(s.Bottom.Left[0])+mm(s.Bottom.Right[0]))/2, mm(s.Bottom.Left[1])-out.Level)
	}
	if s.Top != nil {
		p.label("top", d.size(s.Top.Width), (mm(s.Top.Left[0])+mm(s.Top.Right[0]))/2, mm(s.Top.Left[1])-out.Level)
	}
	if q := s.Pipe; q != nil {
		p.circle("drain", mm(q.Offset), mm(q.Level)+mm(q.Diameter)/2-out.Level, mm(q.Diameter)/2)
	}
	d.crossed(p, s, out)
	d.sectionLevels(p, s, out)
	p.Notes = filled(s.Missing)
	out.Figure = p.Figure
	d.sectionRows(s, out)
}

// filledTo is how high the fill of a section reaches, and how many of its layers do not lie wholly above that.
func filledTo(s *planner.DigSection) (high measure.MM, layers int) {
	for _, a := range s.Areas {
		for _, part := range a.Parts {
			for _, k := range part {
				if a.Of == "fill" {
					high = max(high, k[1])
				}
			}
		}
	}
	for layers < len(s.Layers) && (layers == 0 || s.Layers[layers-1] < high) {
		layers++
	}
	return high, layers
}

// circle draws one by sixteen corners.
func (p *picture) circle(of string, x, y, r float64) {
	var points []float64
	for k := range 16 {
		sin, cos := math.Sincos(float64(k) * math.Pi / 8)
		points = append(points, x+float64(r*cos), y+float64(r*sin))
	}
	p.line(of, true, false, points...)
}

// crossed draws services where they cross.
func (d *draft) crossed(p *picture, s *planner.DigSection, out *Across) {
	for _, v := range s.Services {
		if v.Top == nil || v.Bottom == nil {
			p.Notes = append(p.Notes, "NOT CHECKED: no depth of "+v.Name+" on file. Ask: whoever owns it")
			continue
		}
		half := math.Max(math.Abs(p.Box[0]), math.Abs(p.Box[2]))
		if v.Half != nil {
			half = mm(*v.Half)
		}
		top, bottom := mm(*v.Top)-out.Level, mm(*v.Bottom)-out.Level
		p.line("service", true, false, -half, bottom, half, bottom, half, top, -half, top)
		if v.Zone != nil {
			z := mm(*v.Zone)
			p.line("zone", true, false, -half-z, bottom-z, half+z, bottom-z, half+z, top+z, -half-z, top+z)
		}
		p.label("service", v.Name, 0, (top+bottom)/2)
	}
}

// sectionLevels names the levels on the centreline beside the drawing.
func (d *draft) sectionLevels(p *picture, s *planner.DigSection, out *Across) {
	l, w := &s.Levels, d.speech.Word
	right := p.Box[2]
	under := "underside"
	if l.PadBase != nil {
		under = d.speech.StandsOn(true)
	}
	for _, one := range []struct {
		of, name string
		z        *measure.MM
	}{{"finished", "finished ground", l.Finished}, {"existing", "ground as it is", l.Existing}, {"rock", "rock", l.Rock}, {"water", "water", l.Water}, {"cover", "top of cover", l.Cover},
		{"wall", "wall top", l.Wall}, {"invert", "invert", l.Invert}, {"underside", under, l.Underside}, {"pad", d.speech.UnderPad(), l.PadBase}, {"formation", w(wording.Formation), l.Formation}} {
		if one.z != nil {
			p.label(one.of, one.name+" "+d.levelText(measure.Length(*one.z).Metres()), right, mm(*one.z)-out.Level)
		}
	}
}

// sectionRows are the figures of a section.
func (d *draft) sectionRows(s *planner.DigSection, out *Across) {
	m := maker{draft: d, other: wording.Speech{US: d.speech.US, Imperial: !d.speech.Imperial}}
	m.group("the dig")
	if s.Depth != nil {
		m.measured("deepest, from the higher edge", *s.Depth)
	}
	if s.Bottom != nil {
		m.measured("width at the bottom", s.Bottom.Width)
	}
	if s.Top != nil {
		m.measured("width at the top", s.Top.Width)
	}
	m.row("sides", s.Sides, "")
	if s.Room != nil {
		m.measured("working room on each side", *s.Room)
	}
	m.group("areas")
	for _, a := range s.Areas {
		if a.Of != "heap" {
			v, unit := d.format().Surface(a.Area)
			m.row(a.Of, fmt.Sprintf("%.2f %s", v, unit), "")
		}
	}
	for _, b := range s.Beside {
		m.group("beside it on the " + b.Side)
		for _, u := range b.Uses {
			m.row(u.What, d.size(u.From)+" to "+d.size(u.From+u.Width)+" from the "+d.speech.Word(wording.Centreline), "")
		}
		if b.Land != nil {
			m.measured("land that may be used", *b.Land)
		}
	}
	for _, g := range m.card.Groups {
		if len(g.Rows) > 0 {
			out.Groups = append(out.Groups, g)
		}
	}
}

// bare draws what is set where no dig was computed: the unit and its cover, by the figures of the supply.
func (d *draft) bare(leg int, strip float64, out *Across) {
	p := newPicture()
	p.Notes = append(p.Notes, "NOT CHECKED: no dig on file. Ask: whoever has the survey and the levels")
	for u := d.first[leg]; u < d.first[leg+1]; u++ {
		a, b := d.ends(u)
		if strip < a-20 || strip > b+20 {
			continue
		}
		h := d.plan.Supplies[d.supply[d.plan.Units[u].Supply]]
		if h.OuterWidth == nil || h.OuterHeight == nil {
			p.Notes = append(p.Notes, "NOT CHECKED: no outer section of supply "+h.ID+" on file. Ask: the supplier")
			break
		}
		w, high := mm(*h.OuterWidth)/2, mm(*h.OuterHeight)
		if h.InnerWidth != nil && h.InnerHeight != nil {
			i, floor := mm(*h.InnerWidth)/2, high-mm(*h.InnerHeight)
			p.line("unit", true, true, -w, high, -w, 0, w, 0, w, high, i, high, i, floor, -i, floor, -i, high)
		} else {
			p.line("unit", true, true, -w, 0, w, 0, w, high, -w, high)
		}
		for _, s := range d.job.Supplies {
			if s.ID == h.ID && s.Cover != nil && s.Cover.Thickness.Known && h.CoverWidth != nil {
				c, t := mm(*h.CoverWidth)/2, s.Cover.Thickness.Value.Millimetres()
				p.line("cover", true, true, -c, high, c, high, c, high+t, -c, high+t)
			}
		}
		p.label("unit", d.size(*h.OuterWidth), 0, 0)
		p.label("unit", d.size(*h.OuterHeight), w, high/2)
		break
	}
	out.Figure = p.Figure
}
