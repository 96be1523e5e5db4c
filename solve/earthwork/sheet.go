package earthwork

import (
	"math"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// Corner is a place in a section: offset from the centreline (right positive) and level.
type Corner struct{ Offset, Level measure.Length }

// Outline is a polygon in a section; the last corner joins the first. Where a side is upright it has two corners at one offset.
type Outline []Corner

// Area is the area of an outline in m², from its corners of record.
func (o Outline) Area() float64 {
	sum := 0.0
	for i, a := range o {
		b := o[(i+1)%len(o)]
		y0, y1 := (a.Offset - o[0].Offset).Metres(), (b.Offset - o[0].Offset).Metres()
		z0, z1 := (a.Level - o[0].Level).Metres(), (b.Level - o[0].Level).Metres()
		sum += float64(y0*z1) - float64(y1*z0)
	}
	return math.Abs(sum) / 2
}

// Sheet is the section at one chainage, for drawing: what is dug, what is filled, and the lines of the ground.
type Sheet struct {
	At measure.Length

	Dig                 []Outline // everything that is dug
	Topsoil, Soil, Rock []Outline // what of it is which
	Stone, Fill, Unit   []Outline // filled; the stone before pads and pipe take from it
	TopsoilBack         []Outline
	Pads                []Outline
	Layers              []measure.Length // levels on the centreline of the tops of the layers of fill
	Pipe                *Circle

	Ground, Finished, RockHead, WaterHead [][]Corner // as far as the section was looked at; a line for each stretch without a gap

	Left, Right             Corner // edges of the dig, on the ground as it is
	BottomLeft, BottomRight Corner
	Bottom                  measure.Length // width
	Areas                   Areas
	Beside                  []StripNeed // what is needed left and right of it just here
	Bare                    bool        // what sets the sides is not on file: there are lines of the ground and nothing else
}

// Circle is a pipe in section.
type Circle struct {
	Offset, Level measure.Length // of its middle
	Diameter      measure.Length
}

// Areas of a section in m², not weighted by any curve.
type Areas struct{ Topsoil, Soil, Rock, Stone, Fill, TopsoilBack, Unit float64 }

// Dug is what is dug.
func (a Areas) Dug() float64 { return a.Topsoil + a.Soil + a.Rock }

// SectionAt is the section of a leg at a chainage. At a step of the levels it is that behind it.
func SectionAt(p *Problem, leg int, at measure.Length) (Sheet, finding.List) {
	said := Faults(p)
	if said.Any(finding.Fault) {
		return Sheet{}, said
	}
	ws, more := walkers(p)
	said = append(said, more...)
	if leg < 0 || leg >= len(ws) || ws[leg] == nil {
		return Sheet{}, said
	}
	w, l := ws[leg], &p.Legs[leg]
	if at < l.Spans[0].From || at > l.Spans[len(l.Spans)-1].To {
		return Sheet{}, append(said, noSection(p, l, at))
	}
	s := w.section(l, at, 0)
	if s.Areas.Dug() == 0 {
		said = append(said, finding.Finding{ID: "earthwork.nothing-dug", Kind: finding.Note, Text: "nothing is dug here, or there is no ground on file"})
	}
	return s, said
}

func (w *walker) sheet(sh *shape) Sheet {
	r, e := w.measures.rates(sh)
	if e.bare || e.short { // nothing is counted here, and nobody knows where the sides come out
		return Sheet{}
	}
	s := Sheet{Areas: Areas{r.q[qTopsoil], r.q[qSoil], r.q[qRock], r.q[qStone], r.q[qFill], r.q[qTopBack], r.q[qUnit]}}
	cols := sh.columns()
	n := w.measures.layers(sh, cols, e)
	to := [nBands]*[]Outline{&s.Topsoil, &s.Soil, &s.Rock, &s.Stone, &s.Fill, &s.TopsoilBack, &s.Unit, &s.Dig}
	var open [nBands]band
	var pairs []pair
	for i := range cols {
		c, ok := w.measures.within(sh, &cols[i], e)
		if !ok || !c.has[fGround] || !c.has[fDig] {
			continue
		}
		pairs = w.measures.all(sh, &c, n, pairs)
		cuts := crossings(&c, pairs, nil)
		for k := 1; k < len(cuts); k++ {
			a, b := cuts[k-1], cuts[k]
			half := a + float64((b-a)/2)
			inside := sh.unit > 0 && math.Abs(half) < sh.unit
			at0, mid, at1 := w.measures.bands(&c, a, inside), w.measures.bands(&c, half, inside), w.measures.bands(&c, b, inside)
			for j := range open {
				if mid[j][1]-mid[j][0] > thin && b-a > thin {
					open[j].add(a, at0[j])
					open[j].add(b, at1[j])
				} else if b-a > thin {
					open[j].close(to[j])
				}
			}
		}
	}
	for j := range open {
		open[j].close(to[j])
	}
	for k := range r.layers {
		s.Layers = append(s.Layers, record(sh.under+float64(float64(k+1)*w.measures.layer)))
	}
	s.edges(sh, e)
	return s
}

// The bands of a section, from lower to upper line.
const (
	bTopsoil = iota
	bSoil
	bRock
	bStone
	bFill
	bTopBack
	bUnit
	bDig
	nBands
)

func (m *measures) bands(c *column, y float64, inside bool) [nBands][2]float64 {
	g, t, u, f := c.at(fGround, y), c.at(fDig, y), c.at(fUnder, y), c.at(fFinished, y)
	var out [nBands][2]float64
	rock := t
	if c.has[fRock] {
		rock = max(t, min(g, c.at(fRock, y)))
	}
	strip := max(rock, g-m.topsoil)
	out[bRock], out[bSoil], out[bTopsoil] = [2]float64{t, rock}, [2]float64{rock, strip}, [2]float64{strip, g}
	out[bStone], out[bDig] = [2]float64{t, min(u, f)}, [2]float64{t, g}
	low := max(u, t)
	if inside {
		top := c.at(fTop, y)
		out[bUnit] = [2]float64{low, min(top, f)}
		low = max(low, top)
	}
	high := max(low, f-m.topsoil)
	out[bFill], out[bTopBack] = [2]float64{low, min(high, f)}, [2]float64{high, f}
	return out
}

// band is an outline that grows from left to right.
type band struct{ low, high []Corner }

func (b *band) add(y float64, z [2]float64) {
	grow := func(to *[]Corner, z float64) {
		c := Corner{record(y), record(z)}
		if n := len(*to); n == 0 || (*to)[n-1] != c {
			*to = append(*to, c)
		}
	}
	grow(&b.low, z[0])
	grow(&b.high, max(z[0], z[1]))
}

func (b *band) close(to *[]Outline) {
	if len(b.low) > 0 {
		out := Outline(b.low)
		for i := len(b.high) - 1; i >= 0; i-- {
			if b.high[i] != out[len(out)-1] && b.high[i] != out[0] {
				out = append(out, b.high[i])
			}
		}
		*to = append(*to, out)
	}
	*b = band{}
}

// corners are the knots of a line as lines without a gap.
func corners(k []knot) [][]Corner {
	var out [][]Corner
	for i, p := range k {
		if i == 0 || p.gap {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], Corner{record(p.y), record(p.z)})
	}
	return out
}

// edges are where the sides meet the ground, and the corners of the bottom.
func (s *Sheet) edges(sh *shape, e extent) {
	on := func(line []knot, y float64) Corner {
		z, _ := levelAt(line, y)
		return Corner{record(y), record(z)}
	}
	s.Left, s.Right = on(sh.lines[fGround], e.left), on(sh.lines[fGround], e.right)
	bottom := func(y float64) Corner {
		low := math.Inf(1)
		for _, k := range sh.lines[fDig] {
			if k.y == y {
				low = min(low, k.z)
			}
		}
		return Corner{record(y), record(low)}
	}
	s.BottomLeft, s.BottomRight = bottom(sh.bottom[0]), bottom(sh.bottom[1])
	s.Bottom = s.BottomRight.Offset - s.BottomLeft.Offset
}

// pads adds the pad that is cut, and the pipe.
func (s *Sheet) pads(l *Leg, at measure.Length, t *template, sh *shape) {
	for _, p := range l.Pads {
		if low := p.At - p.Along/2; at < low || at > low+p.Along {
			continue
		}
		a, b := -p.Across/2, p.Across-p.Across/2
		top := func(y measure.Length) measure.Length { return record(sh.under - float64(sh.cross*y.Metres())) }
		s.Pads = append(s.Pads, Outline{{a, top(a) - p.Thick}, {b, top(b) - p.Thick}, {b, top(b)}, {a, top(a)}})
	}
	if pipe := spanOf(l, t).Section.Pipe; t.drain && pipe != nil {
		s.Pipe = &Circle{Offset: pipe.Offset, Level: record(t.level(lDrain, at.Metres())) + pipe.Bedding + pipe.Diameter/2, Diameter: pipe.Diameter}
	}
}

// spanOf is the span that a template was made of.
func spanOf(l *Leg, t *template) *Span {
	for i := range l.Spans {
		if l.Spans[i].From.Metres() == t.from {
			return &l.Spans[i]
		}
	}
	return &l.Spans[0]
}
