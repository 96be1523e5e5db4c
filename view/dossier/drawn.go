package dossier

import (
	"fmt"
	"math"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// What the drawings as built share: scales, stretches of a leg that find room side by side, figures of differences.

// small is the height of capitals on the drawings, in mm.
const small = 1.8

// stretchOf is a part of a leg that is drawn in one piece: units first to last of its state.
type stretchOf struct {
	leg         field.LegState
	number      int // of the leg
	first, last int
}

func (s stretchOf) title() string {
	return fmt.Sprintf("Leg %s, %s to %s", s.leg.ID, s.leg.Units[s.first].Place, s.leg.Units[s.last].Place)
}

// denominators are the scales that are drawn at, larger drawings first.
func (d *Dossier) denominators() []float64 {
	if d.speech.Imperial {
		return []float64{8, 12, 16, 24, 48, 60, 120, 240, 360, 480, 600, 1200, 2400, 6000}
	}
	return []float64{5, 10, 20, 25, 50, 100, 200, 250, 500, 1000, 2000, 2500, 5000, 10000}
}

// denominator is the largest scale at which so many mm take no more than room mm of paper.
func (d *Dossier) denominator(length, room float64) float64 {
	all := d.denominators()
	for _, s := range all {
		if length/s <= room {
			return s
		}
	}
	return all[len(all)-1]
}

// scaleSaid says a scale: 1:200, or 1 in = 20 ft.
func (d *Dossier) scaleSaid(denominator float64) string {
	if !d.speech.Imperial {
		return fmt.Sprintf("1:%v", denominator)
	}
	if denominator >= 60 {
		return fmt.Sprintf("1 in = %v ft", denominator/12)
	}
	inches := measure.Format{System: measure.Imperial, Fraction: 64}.Figure(measure.Length(math.Round(12 / denominator * float64(measure.Inch))))
	return strings.TrimSuffix(inches, `"`) + " in = 1 ft"
}

// alongScale is the smallest scale at which the figures of a usual unit find room under it.
func (d *Dossier) alongScale() float64 {
	const need = 9.5
	n, sum := 0, 0.0
	for _, u := range d.Plan.Units {
		n, sum = n+1, sum+measure.Length(u.Length).Millimetres()
	}
	best := d.denominators()[0]
	for _, s := range d.denominators() {
		if n > 0 && sum/float64(n)/s >= need {
			best = s
		}
	}
	return best
}

// stretches part every leg into pieces of at most room mm of paper, alike in length.
func (d *Dossier) stretches(denominator, room float64) []stretchOf {
	var out []stretchOf
	for k, l := range d.state.Legs {
		if len(l.Units) == 0 {
			continue
		}
		total := 0.0
		for _, u := range l.Units {
			total += d.long(u.Place) / denominator
		}
		parts := math.Ceil(total / room)
		first, used, so := 0, 0.0, 1.0
		for i, u := range l.Units {
			long := d.long(u.Place) / denominator
			if i > first && used+long > float64(so*total/parts)+0.5*long || i > first && used+long-float64((so-1)*total/parts) > room {
				out = append(out, stretchOf{l, k, first, i - 1})
				first, so = i, so+1
			}
			used += long
		}
		out = append(out, stretchOf{l, k, first, len(l.Units) - 1})
	}
	return out
}

// long is the length of a unit with the gap behind it, in mm.
func (d *Dossier) long(place string) float64 {
	return measure.Length(d.units[place].Length).Millimetres() + 10
}

// off is a difference as it stands on a drawing: +3, −1.5; in inches +1/8.
func (d *Dossier) off(l measure.Length) string {
	f := measure.Format{Places: 1, Plain: true}
	if d.speech.Imperial {
		f = measure.Format{System: measure.Imperial, Fraction: 32, Plain: true}
	}
	text := f.Figure(l.Abs())
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	switch {
	case !strings.ContainsAny(text, "123456789"):
		return "0"
	case l < 0:
		return "−" + text
	}
	return "+" + text
}

// offUnit is what differences on drawings are in.
func (d *Dossier) offUnit() string {
	if d.speech.Imperial {
		return "inches, in 32nds"
	}
	return "mm"
}

// levelFigure is a level as it stands on a drawing.
func (d *Dossier) levelFigure(l measure.Length) string {
	if d.speech.Imperial {
		return fmt.Sprintf("%.3f", l.Metres()/0.3048)
	}
	return fmt.Sprintf("%.3f", l.Metres())
}

func (d *Dossier) levelUnit() string {
	if d.speech.Imperial {
		return "feet"
	}
	return "metres"
}

// exaggerated is by how many times differences are drawn too large: a round number with which the largest takes room mm.
func exaggerated(largest measure.Length, denominator, room float64) float64 {
	times := 1.0
	for _, k := range []float64{2, 5, 10, 20, 50, 100} {
		if float64(k*largest.Abs().Millimetres())/denominator <= room {
			times = k
		}
	}
	return times
}

// enlarged says by how many times differences are drawn too large.
func enlarged(times float64) string {
	if times == 1 {
		return "drawn to the same scale"
	}
	return fmt.Sprintf("drawn %v times too large, so that it can be seen", times)
}

// missedBy are the places that have something measured that does not meet its figure, by what that is of.
func (d *Dossier) missedBy() map[string]map[string]bool {
	if d.missed == nil {
		d.missed = map[string]map[string]bool{}
		for _, h := range field.Open(d.held()) {
			if h.Verdict == field.NotChecked {
				continue
			}
			if d.missed[h.Place] == nil {
				d.missed[h.Place] = map[string]bool{}
			}
			d.missed[h.Place][h.Of] = true
		}
	}
	return d.missed
}

// known reports whether something was measured, with one figure.
func known(m *field.Measured) bool { return m != nil && m.Known }

// keyEntry is one sign of the key of a drawing.
type keyEntry struct {
	words string
	sign  func(scene.Box) []scene.Mark
}

// keyRow are the signs of a drawing in rows from a point on, and how high they are.
func keyRow(at scene.Point, width float64, all []keyEntry) ([]scene.Mark, float64) {
	var marks []scene.Mark
	x, y := at.X, at.Y
	for _, k := range all {
		wide := scene.TextWidth(k.words, small, scene.Regular)
		if x > at.X && x+11+wide > at.X+width {
			x, y = at.X, y+4
		}
		marks = append(marks, k.sign(scene.BoxAt(scene.Point{X: x, Y: y}, 8, 2.6))...)
		marks = append(marks, scene.Text{At: scene.Point{X: x + 9.5, Y: y + 1.3}, String: k.words, Size: small, VAlign: scene.Middle})
		x += 14 + wide
	}
	return marks, y + 4 - at.Y
}

func lineSign(pen scene.Stroke) func(scene.Box) []scene.Mark {
	return func(b scene.Box) []scene.Mark {
		y := b.Centre().Y
		return []scene.Mark{scene.Line(scene.Point{X: b.Left, Y: y}, scene.Point{X: b.Right, Y: y}, pen)}
	}
}

// The pens of the drawings: what was planned is broken, what was found or measured full.
func plannedPen() scene.Stroke  { return scene.Pen(scene.Thin).Dashed(1.4, 0.8) }
func measuredPen() scene.Stroke { return scene.Pen(scene.Medium) }

// missSign is a full square: it does not meet its figure, or that cannot be said.
func missSign(at scene.Point) scene.Mark {
	const half = 0.75
	return scene.Path{Outline: scene.Rectangle(scene.Box{Left: at.X - half, Top: at.Y - half, Right: at.X + half, Bottom: at.Y + half}), Fill: scene.Black}
}

func missKey(b scene.Box) []scene.Mark { return []scene.Mark{missSign(b.Centre())} }

// crossing is a service as planned or as found, where it meets a leg.
type crossing struct {
	leg   string
	at    measure.Length // chainage of its middle
	width measure.Length
	skew  float64
	top   *measure.Length
	found bool
	words string
}

// crossings are the services of a leg: those of the plan, then those that were found.
func (d *Dossier) crossings(leg string) []crossing {
	var out []crossing
	for _, s := range d.Plan.Services {
		if s.Leg != leg {
			continue
		}
		words := "planned: " + s.Name + " " + s.ID
		if s.Quality != "" {
			words += " (" + s.Quality + ")"
		}
		out = append(out, crossing{leg: leg, at: measure.Length(s.At), width: measure.Length(s.Width), skew: s.Skew, top: level(s.Top), words: words + d.topSaid(level(s.Top))})
	}
	for _, s := range d.state.Services {
		if s.Leg != leg {
			continue
		}
		c := crossing{leg: leg, at: s.At, skew: 90, top: s.Top, found: true}
		if s.Width != nil {
			c.width = *s.Width
		}
		c.words = "found: " + strings.TrimSpace(s.What+" "+s.Name) + map[bool]string{true: "", false: ", not met"}[s.Met] + ", " + strings.TrimSpace(string(s.Depth)) + d.topSaid(s.Top) + " · " + d.refs(s.By)
		out = append(out, c)
	}
	return out
}

func (d *Dossier) topSaid(top *measure.Length) string {
	if top == nil {
		return ", level of its top not known"
	}
	return ", top " + d.levelFigure(*top)
}

// lies are the middle of what a crossing meets and the way of the leg there, on the axis of its leg; ok is false beyond it.
func (d *Dossier) lies(leg string, chainage measure.Length) (at, way scene.Point, ok bool) {
	for _, u := range d.Plan.Units {
		if u.Leg != leg || measure.Length(u.Chainage) > chainage || chainage > measure.Length(u.Chainage+u.Length)+20*measure.Millimetre {
			continue
		}
		from, to := axisOf(u)
		along := (chainage - measure.Length(u.Chainage)).Metres()
		way = to.Sub(from).Unit()
		return from.Add(way.Times(along)), way, true
	}
	return at, way, false
}

// axisOf is the axis of a unit in metres, with y down as on paper: north is −y.
func axisOf(u planner.Unit) (from, to scene.Point) {
	return scene.Point{X: u.Axis[0][0], Y: -u.Axis[0][1]}, scene.Point{X: u.Axis[1][0], Y: -u.Axis[1][1]}
}

// halfWidth is half the outer width of the units of a supply, in metres; 250 mm where no width is on file, which the drawings say.
func (d *Dossier) halfWidth(supply string) float64 {
	if w, ok := d.outer(supply); ok {
		return w.Metres() / 2
	}
	return 0.25
}

func (d *Dossier) outer(supply string) (measure.Length, bool) {
	for _, s := range d.Job.Supplies {
		if s.ID == supply && s.Unit.Outer.Known {
			return s.Unit.Outer.Value.Width, true
		}
	}
	return 0, false
}

// cornersOf are the corners of a unit in metres, as axisOf has them, moved by so much: left start, left end, right end, right start.
func (d *Dossier) cornersOf(u planner.Unit, by scene.Point) [4]scene.Point {
	from, to := axisOf(u)
	from, to = from.Add(by), to.Add(by)
	way := to.Sub(from).Unit()
	left := way.Left().Times(d.halfWidth(u.Supply))
	slant := func(degrees float64) scene.Point {
		return way.Times(float64(d.halfWidth(u.Supply) * math.Tan(degrees*math.Pi/180)))
	}
	s, e := slant(u.StartAngle), slant(u.EndAngle)
	return [4]scene.Point{from.Add(left).Add(s), to.Add(left).Add(e), to.Sub(left).Sub(e), from.Sub(left).Sub(s)}
}

// widthsSaid says where a width is drawn that is not on file.
func (d *Dossier) widthsSaid() string {
	for _, s := range d.Job.Supplies {
		if !s.Unit.Outer.Known {
			return "; NOT CHECKED: no outer width of " + d.word(wording.Units) + " of " + s.ID + " on file, drawn 500 mm wide. Ask: the supplier"
		}
	}
	return ""
}
