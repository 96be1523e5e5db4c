package landxml

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/place/route"
)

// shape is a drawing on its way to a line: its elements, which part each came from, and the spirals among them.
type shape struct {
	elements []route.Element
	owner    []int // index of drawn.parts
	spirals  []spiralAt
}

type spiralAt struct {
	first, count int // elements
	off          float64
}

// alignment makes the line of a drawing. What cannot be read is said, and the drawing left out.
func (r *reader) alignment(d drawn, known *places) (Alignment, bool) {
	a := Alignment{Name: d.name, Desc: d.desc, State: d.state, Equations: d.equations, At: d.line}
	before := len(r.file.Notes)
	if len(d.parts) == 0 {
		why := "it has no geometry"
		if d.byPIs {
			why = "it is given by its intersection points alone, which are not read"
		}
		r.fault(d.line, "no-geometry", "%s: %s", d.called(), why)
		return a, false
	}
	s := r.shape(d, known)
	if faulty(r.file.Notes[before:]) {
		return a, false
	}
	line, err := route.Chain(s.elements, r.opts.Gap.Metres())
	if err != nil {
		r.refused(d, s, err)
		return a, false
	}
	a.Line = line
	a.Spirals = s.settled(line)
	r.stations(d, &a)
	r.lengths(d, s, &a)
	for _, sp := range a.Spirals {
		f := r.finding(finding.Note, d.line, "spiral", "%s: the spiral from %.3f m to %.3f m is drawn as %d arcs, at most %.3f mm off (%.3f mm allowed)",
			d.called(), sp.From.Metres(), sp.To.Metres(), sp.Arcs, sp.Off.Millimetres(), r.opts.Spiral.Millimetres())
		r.say(f)
	}
	a.Profiles, a.Ground = r.profilesOf(d, a), r.sampledOf(d, a)
	return a, true
}

func faulty(list finding.List) bool { return list.Any(finding.Fault) }

func (d drawn) called() string {
	if d.name == "" {
		return "the drawing without a name"
	}
	return fmt.Sprintf("%q", d.name)
}

// refused turns the reasons of a chain into faults with their lines.
func (r *reader) refused(d drawn, s shape, err error) {
	var all route.Refusals
	if !errors.As(err, &all) {
		r.fault(d.line, "no-line", "%s: %s", d.called(), err)
		return
	}
	for _, one := range all {
		line, text := d.line, one.Text
		if one.Vertex >= 0 && one.Vertex < len(s.owner) {
			p := d.parts[s.owner[one.Vertex]]
			line = p.line
			text = fmt.Sprintf("its %s, number %d: %s", p.kind, s.owner[one.Vertex]+1, text)
		}
		f := r.finding(finding.Fault, line, strings.TrimPrefix(one.ID, "route."), "%s: %s", d.called(), text)
		f.Limit, f.Value, f.Try = one.Limit, one.Value, one.Try
		if f.Limit != "" && f.Try == "" {
			f.Try = "allow a greater gap, where the drawing is meant to be that coarse"
		}
		r.say(f)
	}
}

// shape reads the parts of a drawing.
func (r *reader) shape(d drawn, known *places) shape {
	var s shape
	for i, p := range d.parts {
		elements, off, why := r.part(d, p, known)
		if why != "" {
			r.fault(p.line, "part", "%s: its %s, number %d: %s", d.called(), p.kind, i+1, why)
			continue
		}
		if p.kind == "Spiral" {
			s.spirals = append(s.spirals, spiralAt{len(s.elements), len(elements), off})
		}
		for _, e := range elements {
			s.elements = append(s.elements, e)
			s.owner = append(s.owner, i)
		}
	}
	return s
}

// part is one part as elements; why says why it is not.
func (r *reader) part(d drawn, p part, known *places) (elements []route.Element, off float64, why string) {
	point := func(at place) route.Point {
		c, _, _, bad := r.coordinates(at, known)
		if bad != "" && why == "" {
			why = bad
		}
		return r.file.Origin.Point(c)
	}
	switch p.kind {
	case "Line":
		elements = []route.Element{route.Straight(point(p.start), point(p.end))}
	case "IrregularLine":
		elements, why = r.irregular(p, known)
	case "Curve":
		var bad string
		if elements, bad = r.curve(d, p, point); why == "" {
			why = bad
		}
	case "Spiral":
		from, pi, to := point(p.start), point(p.pi), point(p.end)
		if why == "" {
			elements, off, why = r.spiral(p, from, pi, to)
		}
	default:
		why = "this kind of element is not read"
	}
	return elements, off, why
}

// curve is an arc: by its centre, or by its radius where there is none.
func (r *reader) curve(d drawn, p part, point func(place) route.Point) ([]route.Element, string) {
	right := p.rot == "cw"
	if !right && p.rot != "ccw" {
		return nil, fmt.Sprintf("it does not say which way it turns: rot is %q, cw or ccw was expected", clipped(p.rot))
	}
	from, to := point(p.start), point(p.end)
	stated, hasRadius := length(p.radius, r.file.Unit)
	radius := math.Abs(stated.Metres())
	if p.centre.given() {
		e := route.Arc(from, to, point(p.centre), right)
		if off := math.Abs(math.Abs(e.Radius) - radius); hasRadius && off > r.opts.Gap.Metres() {
			r.say(r.finding(finding.Attention, p.line, "radius-differs", "%s: the file says radius %.4f m, its centre gives %.4f m; drawn about the centre",
				d.called(), radius, math.Abs(e.Radius)))
		}
		return []route.Element{e}, ""
	}
	chord := to.Minus(from)
	half := float64(chord.Length() / 2)
	if !hasRadius || radius < half || half < route.Least {
		return nil, "it has no centre, and its radius does not give one"
	}
	// Two circles of the radius pass through both ends; the arc of less than half a circle has its centre on the side it
	// turns to.
	side := math.Sqrt(float64((radius - half) * (radius + half)))
	if l, ok := length(p.length, r.file.Unit); ok && l.Metres() > float64(math.Pi*radius) {
		side = -side
	}
	if !right {
		side = -side
	}
	centre := from.Plus(chord.Times(0.5)).Plus(chord.Unit().Right().Times(side))
	r.say(r.finding(finding.Attention, p.line, "no-centre", "%s: a curve has no centre; drawn by its radius of %.4f m", d.called(), radius))
	return []route.Element{route.Arc(from, to, centre, right)}, ""
}

// irregular is a chain of straights through a list of points.
func (r *reader) irregular(p part, known *places) ([]route.Element, string) {
	numbers := strings.Fields(p.through)
	if p.width == 0 || len(numbers) < 2*p.width || len(numbers)%p.width != 0 {
		return nil, fmt.Sprintf("%d numbers are no list of points", len(numbers))
	}
	var out []route.Element
	var last route.Point
	for i := 0; i < len(numbers); i += p.width {
		c, _, _, why := r.coordinates(place{text: strings.Join(numbers[i:i+p.width], " ")}, known)
		if why != "" {
			return nil, why
		}
		at := r.file.Origin.Point(c)
		if i > 0 && at.Distance(last) >= route.Least {
			out = append(out, route.Straight(last, at))
		}
		last = at
	}
	return out, ""
}

// settled finds the chainages of the spirals by the ends of their elements, which a chain keeps.
func (s shape) settled(line route.Line) []Spiral {
	var out []Spiral
	elements := line.Elements()
	k := 0
	for _, sp := range s.spirals {
		first, last := s.elements[sp.first], s.elements[sp.first+sp.count-1]
		for k < len(elements) && elements[k].To != first.To {
			k++
		}
		from := k
		for k < len(elements) && elements[k].To != last.To {
			k++
		}
		if from >= len(elements) || k >= len(elements) {
			break
		}
		out = append(out, Spiral{elements[from].Start, elements[k].End(), sp.count, rounded(sp.off)})
	}
	return out
}

// stations reads where the file's stations begin.
func (r *reader) stations(d drawn, a *Alignment) {
	if d.equations > 0 {
		r.say(r.finding(finding.Attention, d.line, "equations", "%s has %d station equations; chainages here count on without them", d.called(), d.equations))
	}
	if d.staStart == "" {
		return
	}
	sta, ok := length(d.staStart, r.file.Unit)
	if !ok {
		r.say(r.finding(finding.Attention, d.line, "station", "%s begins at station %q, which is no number; taken as 0", d.called(), clipped(d.staStart)))
		return
	}
	a.StaStart = sta
}

// lengths compares what the file says of lengths with what its coordinates give.
func (r *reader) lengths(d drawn, s shape, a *Alignment) {
	tell := func(line int, what string, stated, drawn float64, allowed float64) {
		if math.Abs(stated-drawn) <= allowed {
			return
		}
		f := r.finding(finding.Attention, line, "length-differs", "%s: the file says that %s is %.4f m long, its coordinates give %.4f m",
			d.called(), what, stated, drawn)
		f.Limit, f.Value = fmt.Sprintf("%.1f mm", allowed*1e3), fmt.Sprintf("%.1f mm", math.Abs(stated-drawn)*1e3)
		r.say(f)
	}
	gap := r.opts.Gap.Metres()
	drawn := make([]float64, len(d.parts))
	for i, e := range s.elements {
		drawn[s.owner[i]] += gridLength(e)
	}
	for i, p := range d.parts {
		if stated, ok := length(p.length, r.file.Unit); ok {
			tell(p.line, fmt.Sprintf("its %s, number %d,", p.kind, i+1), stated.Metres(), drawn[i], 2*gap)
		}
	}
	if stated, ok := length(d.length, r.file.Unit); ok {
		a.Stated, a.HasStated = stated, true
		tell(d.line, "the whole", stated.Metres(), a.Line.Length().Metres(), float64(gap*float64(1+len(d.parts))))
	}
}

func gridLength(e route.Element) float64 {
	if e.Radius == 0 {
		return e.From.Distance(e.To)
	}
	return math.Abs(e.Radius) * e.Sweep
}

func clipped(text string) string {
	const few = 24
	text = strings.ToValidUTF8(text, "?")
	if r := []rune(text); len(r) > few {
		return string(r[:few]) + "…"
	}
	return text
}
