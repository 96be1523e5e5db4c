package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// figureLine is one line of the band of figures below a section.
type figureLine struct {
	head   string
	lines  int // of lettering
	weight scene.Weight
	of     func(p sectionPlace) string
}

// figureLines are those for which the plan has any figure.
func (v *section) figureLines() []figureLine {
	level := func(name string, of func(*planner.Levels) *float64) figureLine {
		return figureLine{v.levelHead(name), 1, scene.Regular, func(p sectionPlace) string {
			if p.Levels == nil {
				return ""
			}
			return v.levelFigure(of(p.Levels))
		}}
	}
	depth := func(fill bool, head string) figureLine {
		return figureLine{v.depthHead(head), 1, scene.Bold, func(p sectionPlace) string {
			g, ok := digAt(p.Levels)
			if !ok || g.fill != fill {
				return ""
			}
			return v.depthFigure(g.depth)
		}}
	}
	all := []figureLine{
		{"place", 2, scene.Bold, func(p sectionPlace) string { return placeWords(p.SetOut, "\n") }},
		{v.chainageHead(v.words.chainage), 1, scene.Regular, func(p sectionPlace) string { return v.chainageFigure(p.Chainage) }},
		level("finished ground", func(l *planner.Levels) *float64 { return l.Finished }),
		level("ground as it is", func(l *planner.Levels) *float64 { return l.Existing }),
		level("top of "+v.words.cover, func(l *planner.Levels) *float64 { return l.Cover }),
		level("wall top", func(l *planner.Levels) *float64 { return l.Wall }),
		level("invert", func(l *planner.Levels) *float64 { return l.Invert }),
		level(v.words.padTop, padTopOf),
		level(v.words.bedTop, v.bedTop),
		level(v.words.formation, formationOf),
		level("drain, underside", func(l *planner.Levels) *float64 { return l.Drain }),
		level("rock", func(l *planner.Levels) *float64 { return l.Rock }),
		depth(false, "cut ↓ from ground to "+v.words.formation),
		depth(true, "fill ↑ from ground to "+v.words.formation),
		{v.depthHead("cut ↓ from ground to drain"), 1, scene.Regular, func(p sectionPlace) string {
			if l := p.Levels; l != nil && l.Existing != nil && l.Drain != nil {
				return v.depthFigure(measure.MM(measure.FromMetres(*l.Existing) - measure.FromMetres(*l.Drain)))
			}
			return ""
		}},
	}
	var out []figureLine
	for _, f := range all {
		if v.anyFigure(f) {
			out = append(out, f)
		}
	}
	return out
}

// bedTop is what a unit without pads is set on: what a rod is read on there.
func (v *section) bedTop(l *planner.Levels) *float64 {
	if l.PadTop != nil {
		return nil
	}
	return l.Underside
}

func (v *section) anyFigure(f figureLine) bool {
	for leg, rows := range v.rowsOf {
		for k := range rows {
			if f.of(sectionPlace{SetOut: rows[k], leg: leg, k: k}) != "" {
				return true
			}
		}
	}
	return false
}

// bandHigh is the height of the band with its leads and its grades.
func (v *section) bandHigh() float64 {
	lines := 0
	for _, f := range v.figures {
		lines += f.lines
	}
	return float64(v.k()*(sectionLead+gradeHigh)) + v.curveHigh() + v.drainHigh() + float64(v.lineHigh()*float64(lines)) + 1
}

// drainHigh is the height of the grades of the drain.
func (v *section) drainHigh() float64 {
	if !v.drained() {
		return 0
	}
	return float64(v.k() * gradeHigh)
}

func (v *section) lineHigh() float64 { return scene.LineStep(v.style.Size.small()) }

// kept reports whether the figures of a place always stand.
func (v *section) kept(p sectionPlace) bool {
	rows := v.rowsOf[p.leg]
	if p.k == 0 || p.k == len(rows)-1 || v.gradeBegins(p) || v.lowAt(p) {
		return true
	}
	_, steps := stepAt(rows, p.k)
	return steps
}

// gradeBegins reports whether a leg changes its grade at a place.
func (v *section) gradeBegins(p sectionPlace) bool {
	if p.k == 0 || p.k == len(v.rowsOf[p.leg])-1 {
		return false
	}
	before, _ := v.gradeBehind(v.rowsOf[p.leg][p.k-1])
	g, ok := v.gradeBehind(p.SetOut)
	return ok && g != before
}

// thin counts what finds no room side by side, and takes one in so many of the common places until the rest fits.
func (v *section) thin(r *sectionRow) {
	all := r.places
	for r.thick = 1; r.thick <= len(all); r.thick++ {
		fit := v.printed(r)
		r.left = len(all) - len(fit)
		if float64(v.column*float64(len(fit))) <= v.width()+4 {
			return
		}
	}
}

// printed are the places whose figures stand.
func (v *section) printed(r *sectionRow) []sectionPlace {
	var out []sectionPlace
	for i, p := range r.places {
		if r.thick <= 1 || i%r.thick == 0 || v.kept(p) {
			out = append(out, p)
		}
	}
	return out
}

// spreadOut are the middles of columns of one width, as near as can be to where they are wanted, in order and within the
// row: neighbours that would lie on each other are pooled and share the shift (least squares on an ordered line).
func spreadOut(wanted []float64, width, left, right float64) []float64 {
	type pool struct {
		sum float64
		n   int
	}
	var pools []pool
	mean := func(p pool) float64 { return p.sum / float64(p.n) }
	for i, x := range wanted {
		pools = append(pools, pool{x - float64(width*float64(i)), 1})
		for n := len(pools); n > 1 && mean(pools[n-2]) > mean(pools[n-1]); n = len(pools) {
			pools[n-2].sum += pools[n-1].sum
			pools[n-2].n += pools[n-1].n
			pools = pools[:n-1]
		}
	}
	var out []float64
	last := right - float64(width*float64(len(wanted)-1))
	for _, p := range pools {
		base := math.Max(left, math.Min(mean(p), last))
		for range p.n {
			out = append(out, base+float64(width*float64(len(out))))
		}
	}
	return out
}

// columnsOf are the places whose figures stand, and the middles of their columns.
func (v *section) columnsOf(r *sectionRow) (fit []sectionPlace, at []float64) {
	fit = v.printed(r)
	wanted := make([]float64, len(fit))
	for i, p := range fit {
		wanted[i] = p.x
	}
	half := v.column / 2
	return fit, spreadOut(wanted, v.column, half-2, v.width()-half+2)
}

// band draws the figures of a row from y down, and the grades below them. top is where the drawing of levels ends.
func (v *section) band(s *sheet, r sectionRow, top float64) []scene.Mark {
	fit, at := v.columnsOf(&r)
	half := v.column / 2
	y := top + float64(v.k()*sectionLead)
	fine := scene.Pen(scene.Fine)
	var marks []scene.Mark
	for i, p := range fit {
		marks = append(marks, scene.Path{Outline: scene.Polyline(scene.Point{X: p.x, Y: top}, scene.Point{X: p.x, Y: top + 0.8}, scene.Point{X: at[i], Y: y - 0.6}), Stroke: scene.Pen(scene.Thin)})
	}
	right := r.width
	if len(at) > 0 {
		right = math.Max(right, at[len(at)-1]+half)
	}
	for _, f := range v.figures {
		high := float64(v.lineHigh() * float64(f.lines))
		marks = append(marks, scene.Line(scene.Point{X: -v.label, Y: y}, scene.Point{X: right, Y: y}, fine),
			scene.Text{At: scene.Point{X: -v.label, Y: y + high/2}, String: f.head, Size: s.size, VAlign: scene.Middle})
		for i, p := range fit {
			text := f.of(p)
			if text == "" && strings.HasSuffix(f.head, "]") && f.lines == 1 && p.Levels == nil {
				text = noGround
			}
			if text != "" {
				marks = append(marks, scene.Text{At: scene.Point{X: at[i], Y: y + high/2}, String: text, Size: s.size, Weight: f.weight, Align: scene.Centre, VAlign: scene.Middle})
			}
		}
		y += high
	}
	marks = append(marks, scene.Line(scene.Point{X: -v.label, Y: y}, scene.Point{X: right, Y: y}, scene.Pen(scene.Thin)))
	marks = append(marks, v.gradeBand(s, r, y+1)...)
	y += float64(v.k()*gradeHigh) + 1
	if high := v.curveHigh(); high > 0 {
		marks = append(marks, v.curveBand(s, r, y)...)
		y += high
	}
	if v.drained() {
		marks = append(marks, v.drainBand(s, r, y)...)
		y += v.drainHigh()
	}
	if v.volume > 0 {
		marks = append(marks, v.volumeBand(s, &r, y)...)
	}
	return marks
}

// gradeHead is written before the band of grades.
const gradeHead = "grade, from place to place in plan"

// gradeBand are the grades of a row in boxes on the axis of chainage, each with its fall and its length.
func (v *section) gradeBand(s *sheet, r sectionRow, y float64) []scene.Mark {
	high := float64(v.k()*gradeHigh) - 0.6
	marks := []scene.Mark{scene.Text{At: scene.Point{X: -v.label, Y: y + high/2}, String: gradeHead, Size: s.size, VAlign: scene.Middle}}
	for i := 0; i < len(r.places); {
		p := r.places[i]
		g, ok := v.gradeBehind(p.SetOut)
		n := i
		for n+1 < len(r.places) && r.places[n+1].leg == p.leg {
			if h, _ := v.gradeBehind(r.places[n].SetOut); n > i && h != g {
				break
			}
			n++
			if h, _ := v.gradeBehind(r.places[n].SetOut); h != g {
				break
			}
		}
		if n == i {
			i++
			continue
		}
		if ok {
			marks = append(marks, v.gradeBox(s, gradeBar{GradeRun: g, long: v.placeToPlace(p.leg, g)}, scene.BoxAt(scene.Point{X: p.x, Y: y}, r.places[n].x-p.x, high))...)
		}
		i = n
		if n+1 >= len(r.places) || r.places[n+1].leg != p.leg {
			i = n + 1
		}
	}
	return marks
}

// gradeBar is one grade as it stands in a box.
type gradeBar struct {
	planner.GradeRun
	long  measure.MM // from place to place, in plan: as the chainages of the section and of the cards have it
	drain bool
}

// placeToPlace is how long a grade of the units or of the drain is between the places that it is named by. The plan's chainages
// of the outermost lie at a node, in the middle of the gap before the unit.
func (v *section) placeToPlace(leg int, g planner.GradeRun) measure.MM {
	return v.placedNear(leg, g.To, g.ToMM) - v.placedNear(leg, g.From, g.FromMM)
}

// placedNear is the chainage of a place of a leg that lies within a gap of another one; that one, where no such place does.
func (v *section) placedNear(leg int, place string, at measure.MM) measure.MM {
	const near = measure.MM(100 * measure.Millimetre)
	rows := v.rowsOf[leg]
	k, _ := slices.BinarySearchFunc(rows, at-near, func(r planner.SetOut, at measure.MM) int { return cmp.Compare(r.Chainage, at) })
	for ; k < len(rows) && rows[k].Chainage <= at+near; k++ {
		if rows[k].Place == place {
			return rows[k].Chainage
		}
	}
	return at
}

// gradeBox is one grade in its box. One too short for its figure and its length has a number, and a note below the section.
func (v *section) gradeBox(s *sheet, g gradeBar, box scene.Box) []scene.Mark {
	marks := []scene.Mark{scene.Path{Outline: scene.Rectangle(box), Stroke: scene.Pen(scene.Medium)}}
	sl := slopeOf(g.GradeRun)
	long := v.along(g.long)
	all := []string{sl.String() + " over " + long, sl.String() + ", " + long}
	if g.Stepped {
		all = []string{"stepped, " + all[0], "stepped, " + all[1]}
	}
	whole := all[0]
	number := fmt.Sprintf("(%d)", len(v.shortGrades)+1)
	all = append(all, sl.String()+" "+number, joined(" ", sl.size, sl.arrow, number), joined(" ", sl.size, number), number)
	for k, text := range all {
		size := s.size
		if k == len(all)-1 {
			text, size = numberIn(number, size, box.Width()-0.3)
		}
		last := k == len(all)-1
		if !last && scene.TextWidth(text, size, scene.Bold)+0.3 > box.Width() {
			continue
		}
		if last || strings.HasSuffix(text, number) {
			if g.drain {
				whole = "drain " + whole
			}
			v.shortGrades = append(v.shortGrades, number+" "+whole)
		}
		return append(marks, scene.Text{At: box.Centre(), String: text, Size: size, Weight: scene.Bold, Align: scene.Centre, VAlign: scene.Middle})
	}
	return marks
}

// numberIn is the number of a note as it finds room in a narrow box: smaller, and without its brackets where that is not enough.
func numberIn(number string, size, room float64) (string, float64) {
	if _, small, ok := scene.Fit(number, size, 1.6, scene.Bold, room); ok {
		return number, small
	}
	number = strings.Trim(number, "()")
	_, size, _ = scene.Fit(number, size, 1.2, scene.Bold, room)
	return number, size
}
