package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// LongSection is the run from its side, below its strip and on the strip's axis of chainage: the ground as it is and as it
// will be, covers, walls, pads, bed and formation, with a band of figures for the joints and one of grades. Levels are
// those of the joints; between joints everything is drawn straight. There is none where no levels were solved, and none on
// A4, where it would find no room.
func LongSection(p planner.Plan, j job.Job, style Style) []scene.Page {
	d := newDraft(p, j, style)
	if !d.solvedLevels() || style.Size == A4 {
		return nil
	}
	v := newSection(d)
	parts := v.pages()
	var out []scene.Page
	for i, rows := range parts {
		out = append(out, v.page(rows, i+1, len(parts)))
	}
	return out
}

// section is a plan as its long section is drawn.
type section struct {
	*draft
	rowsOf  [][]planner.SetOut // of each leg, along it
	ordinal []int              // of each unit on its leg
	lows    []low
	isLow   map[low]bool
	figures []figureLine
	column  float64 // width of one column of figures, mm of paper
	label   float64 // width of what is written left of the drawing
	free    scene.Box
	scale   float64 // along the run
	upright float64 // of heights
	volume  float64 // height of the running volumes below a row, mm of paper; 0: they find no room

	shortGrades []string // of the page that is drawn: what its boxes have no room for
}

// sectionRow is one row of the strip with what is drawn below it.
type sectionRow struct {
	row
	places      []sectionPlace
	low, high   float64 // metres: the levels that are drawn
	left, thick int     // places whose figures are left out; every how many of the common ones stand
}

// sectionPlace is a place of the set-out on a row.
type sectionPlace struct {
	planner.SetOut
	x      float64
	leg, k int  // row k of its leg
	first  bool // of this leg here
}

// The heights of a section in mm of paper, for lettering of 1.8 mm.
const (
	sectionGap   = 4.0 // between strip and section
	sectionLead  = 4.0 // where lines lead from the joints to their figures
	sectionBelow = 4.5 // between rows
	gradeHigh    = 4.6
)

func newSection(d *draft) *section {
	v := &section{draft: d, rowsOf: d.places(), ordinal: make([]int, len(d.plan.Units))}
	for _, units := range d.of {
		for k, u := range units {
			v.ordinal[u] = k
		}
	}
	v.lows, v.isLow = v.lowPoints(), map[low]bool{}
	for _, l := range v.lows {
		v.isLow[l] = true
	}
	v.figures = v.figureLines()
	size := d.style.Size.small()
	for _, f := range v.figures {
		v.label = math.Max(v.label, scene.TextWidth(f.head, size, scene.Regular))
		for leg := range v.rowsOf {
			for k := range v.rowsOf[leg] {
				for text := range strings.SplitSeq(f.of(sectionPlace{SetOut: v.rowsOf[leg][k], leg: leg, k: k}), "\n") {
					v.column = math.Max(v.column, scene.TextWidth(text, size, f.weight))
				}
			}
		}
	}
	v.column += 0.8 * size
	v.label = math.Max(v.label, scene.TextWidth(gradeHead, size, scene.Regular)) + 2.6
	if v.drained() {
		v.label = math.Max(v.label, scene.TextWidth(drainHead, size, scene.Regular)+2.6)
	}
	if v.curved() {
		v.label = math.Max(v.label, scene.TextWidth(curveHead, size, scene.Regular)+2.6)
	}
	blank := sheet{draft: d, kind: "section", title: "Long section", note: "-", start: d.startLines()}
	blank.concerns, blank.general = d.concerns(func(f finding.Finding) bool { return !general(f) }), d.concerns(general)
	blank.frame(1)
	v.free = blank.free
	v.free.Bottom -= v.keyHigh() + 1
	return v
}

// deepest is how far under the lowest formation of a row rock, water and services are still drawn, in metres: 1.2 m, or 4 ft.
func (v *section) deepest() float64 {
	if v.style.Format.System == measure.Imperial {
		return 4 * 0.3048
	}
	return 1.2
}

// k is how much larger than on A3 everything is.
func (v *section) k() float64 { return v.style.Size.small() / 1.8 }

// width is how long a row may be, mm of paper.
func (v *section) width() float64 { return v.free.Width() - v.label - v.style.strip().margin }

// pages chooses the scales and parts the rows. Along the run the section has the scale of a strip; a larger one where the
// figures of neighbouring joints would not find room side by side, and where they would stand far from their joints if that takes
// one page more at most.
func (v *section) pages() [][]sectionRow {
	least, _ := v.stripScale()
	best, scales := v.sectionAt(least), v.scales()
	for i := len(scales) - 1; i >= 0 && best.left() > 0; i-- { // from low to high
		if scales[i] < best.scale {
			best = v.sectionAt(scales[i])
		}
	}
	for i := len(scales) - 1; i >= 0 && v.astray(best.pages) > strayColumns*v.column; i-- {
		if scales[i] >= best.scale {
			continue
		}
		next := v.sectionAt(scales[i])
		if len(next.pages) > len(best.pages)+1 || next.left() > 0 {
			break
		}
		best = next
	}
	v.scale, v.upright = best.scale, best.upright
	return best.pages
}

// sectionScaled is a section at two scales: along the run, and of heights.
type sectionScaled struct {
	pages          [][]sectionRow
	scale, upright float64
}

// left counts the joints whose figures find no room.
func (c sectionScaled) left() int {
	n := 0
	for _, rows := range c.pages {
		for _, r := range rows {
			n += r.left
		}
	}
	return n
}

// astray is how far on paper figures stand from their joint at most.
func (v *section) astray(pages [][]sectionRow) float64 {
	far := 0.0
	for _, rows := range pages {
		for i := range rows {
			fit, at := v.columnsOf(&rows[i])
			for k := range fit {
				far = math.Max(far, math.Abs(at[k]-fit[k].x))
			}
		}
	}
	return far
}

// strayColumns is how many columns figures may stand from their joint where a larger scale would do.
const strayColumns = 1.5

// sectionAt parts the rows into pages at a scale along the run. Heights are drawn up to ten times larger, less where a row
// would not fit a page or where that saves pages.
func (v *section) sectionAt(scale float64) sectionScaled {
	v.scale = scale
	rows, scales := v.evenRows(), v.scales()
	v.upright = v.scale
	best, fits := v.stacked(rows)
	for i := len(scales) - 1; i >= 0; i-- { // from low to high
		times := v.scale / scales[i]
		if times <= 1 || times > mostTimes {
			continue
		}
		was := v.upright
		v.upright = scales[i]
		pages, ok := v.stacked(rows)
		if fits && (!ok || times > enoughTimes && len(pages) > len(best)) {
			v.upright = was
			break
		}
		best, fits = pages, ok
	}
	return sectionScaled{best, v.scale, v.upright}
}

// volumeRoom is the height that the running volumes may have below each of the rows of a page with so much to spare.
func (v *section) volumeRoom(rows []sectionRow, spare float64) float64 {
	if !slices.ContainsFunc(rows, func(r sectionRow) bool { legs, _ := v.runningOn(&r); return len(legs) > 0 }) {
		return 0
	}
	for _, high := range volumeHighs {
		if h := float64(high * v.k()); float64(h*float64(len(rows))) <= spare {
			return h
		}
	}
	return 0
}

// Heights are drawn at most so many times larger than lengths, and so many times where more would take more pages.
const mostTimes, enoughTimes = 10.0, 5.0

// stacked parts rows into pages and tells whether each of them is whole.
func (v *section) stacked(rows []sectionRow) (pages [][]sectionRow, fits bool) {
	y, fits := 0.0, true
	for _, r := range rows {
		h := v.high(r)
		if len(pages) == 0 || y+h > v.free.Height() {
			pages, y = append(pages, nil), 0
		}
		pages[len(pages)-1] = append(pages[len(pages)-1], r)
		y += h
		fits = fits && h <= v.free.Height()
	}
	return pages, fits
}

// evenRows are the rows at the section's scale. Few of them are filled alike as far as that takes no more rows and parts no
// more legs, so that no last row is a stub.
func (v *section) evenRows() []sectionRow {
	const few = 12
	parted := func(rows []sectionRow) (n int) {
		for _, r := range rows {
			if r.goesOn && r.cells[len(r.cells)-1].node == "" {
				n++
			}
		}
		return n
	}
	best := v.rowsWithin(v.width())
	if len(best) < 2 || len(best) > few {
		return best
	}
	for part := 0.95; part > 0.5; part -= 0.05 {
		rows := v.rowsWithin(part * v.width())
		if len(rows) > len(best) {
			break
		}
		if parted(rows) <= parted(best) {
			best = rows
		}
	}
	return best
}

// rowsWithin are the rows of the strip no wider than so many mm of paper, with what stands below them.
func (v *section) rowsWithin(width float64) []sectionRow {
	var out []sectionRow
	for _, r := range v.stripRows(width, math.Inf(1), v.scale) {
		s := sectionRow{row: r}
		v.place(&s)
		v.reach(&s)
		s.up, s.ups = fly(v.flags(&s), 0, v.width(), v.style.Size.small())
		s.down, s.downs = nil, 0
		v.thin(&s)
		out = append(out, s)
	}
	return out
}

// place finds the places of the set-out on a row: one before each unit and one behind it.
func (v *section) place(r *sectionRow) {
	for _, c := range r.cells {
		if c.unit < 0 || len(v.rowsOf[c.leg]) == 0 {
			continue
		}
		k := v.ordinal[c.unit]
		for n, x := range [2]float64{c.x, c.x + c.width} {
			last := len(r.places) - 1
			if last >= 0 && r.places[last].leg == c.leg && r.places[last].k == k+n || k+n >= len(v.rowsOf[c.leg]) {
				continue
			}
			r.places = append(r.places, sectionPlace{SetOut: v.rowsOf[c.leg][k+n], x: x, leg: c.leg, k: k + n, first: last < 0 || r.places[last].leg != c.leg})
		}
	}
}

// reach finds the levels that a row has to show. Rock, water and services deeper than a stated depth are left out.
func (v *section) reach(r *sectionRow) {
	r.low, r.high = math.Inf(1), math.Inf(-1)
	see := func(m *float64) {
		if m != nil {
			r.low, r.high = math.Min(r.low, *m), math.Max(r.high, *m)
		}
	}
	for _, p := range r.places {
		l := p.Levels
		if l == nil {
			continue
		}
		for _, m := range []*float64{l.Existing, l.Finished, l.Cover, l.Wall, l.Underside, l.UnderPad, l.Formation, l.Drain} {
			see(m)
		}
	}
	bottom := r.low
	for _, p := range r.places {
		if l := p.Levels; l != nil {
			for _, m := range []*float64{l.Rock, l.Water} {
				if m != nil && *m >= bottom-v.deepest() {
					see(m)
				}
			}
		}
	}
	for _, s := range v.servicesOn(r) {
		if s.known && s.top >= bottom-v.deepest() {
			see(&s.top)
		}
	}
	if r.low > r.high {
		r.low, r.high = 0, 0
	}
	r.low, r.high = r.low-0.1, r.high+0.1
}

// profile is the height of the drawn levels of a row on paper.
func (v *section) profile(r sectionRow) float64 { return (r.high - r.low) * 1000 / v.upright }

// high is the height of a row on paper.
func (v *section) high(r sectionRow) float64 {
	step := scene.LineStep(v.style.Size.small())
	z := v.style.strip()
	return float64(step*float64(r.ups)) + z.above() + z.unit + v.profile(r) + v.bandHigh() + v.volume + float64(v.k()*(sectionGap+sectionBelow))
}

// page draws some rows on one sheet.
func (v *section) page(rows []sectionRow, n, of int) scene.Page {
	s := sheet{draft: v.draft, kind: "section", start: v.startLines()}
	seen := map[string]bool{}
	for _, r := range rows {
		for _, c := range r.cells {
			if c.node != "" {
				continue
			}
			seen[v.plan.Legs[c.leg].Name] = true
			if k := len(s.shown) - 1; k >= 0 && s.shown[k].leg == c.leg && s.shown[k].to <= c.from {
				s.shown[k].to = c.to
			} else {
				s.shown = append(s.shown, shown{c.leg, c.from, c.to})
			}
		}
	}
	var names []string
	for _, l := range v.plan.Legs {
		if seen[l.Name] {
			names = append(names, l.Name)
		}
	}
	s.title = "Long section: " + v.legWords(names)
	if of > 1 {
		s.title = fmt.Sprintf("Long section %d of %d: %s", n, of, v.legWords(names))
	}
	s.note = v.note()
	s.concerns = v.concerns(func(f finding.Finding) bool { return seen[f.Where.Leg] || seen[v.legOf(f.Where.Place)] })
	s.general = v.concerns(general)
	s.frame(n)
	v.volume, v.shortGrades = 0, nil
	used := 0.0
	for _, r := range rows {
		used += v.high(r)
	}
	bottom := s.free.Bottom - v.keyHigh() - 1
	v.volume = v.volumeRoom(rows, bottom-s.free.Top-1-used)
	used += float64(v.volume * float64(len(rows)))
	spread := math.Max(0, math.Min(14, (bottom-s.free.Top-used)/float64(len(rows))))
	y := s.free.Top + 1
	for _, r := range rows {
		v.draw(&s, r, y)
		y += v.high(r) + spread
	}
	v.key(&s, rows, v.caution(rows))
	return s.page
}

// note says at what scales a section is drawn.
func (v *section) note() string {
	times := plainNumber(math.Round(v.scale/v.upright*10) / 10)
	return fmt.Sprintf("seen from its right side, looking left; %s of each leg from left to right; lengths along the run %s, heights %s, %s times larger; gaps not to scale",
		v.words.chainage, v.scaleWords(v.scale), v.scaleWords(v.upright), times)
}

// caution says what a reader has to know before any line or gap of figures is believed.
func (v *section) caution(rows []sectionRow) string {
	text := "Levels are solved at the joints, and ground is read there: between two joints everything is drawn straight. Figures at a joint are those of the " + v.words.unit + " that starts there, " + v.words.upChainage + ", and of its left wall" + v.rightWall() + "; flags at steps tell of the one that ends there."
	most, left := 1, 0
	for _, r := range rows {
		most, left = max(most, r.thick), left+r.left
	}
	if left > 0 {
		text += fmt.Sprintf(" Figures of %s are left out for want of room: those of ends, changes of grade, steps and low points stand, of the others one in %d; all stand on A1 and under %q.", count(left, "joint", "joints"), most, capital(v.words.setOut))
	}
	return text
}

// rightWall tells how the right walls of the run lie against the left ones.
func (v *section) rightWall() string {
	if v.crossfalls() {
		return "; the right wall lies otherwise where the " + v.words.units + " fall crosswise: see the checking pages"
	}
	return "; the right one lies level with it everywhere, no crossfall"
}
