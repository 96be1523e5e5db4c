package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// CrossSections are the sections of the dig, several to a page, each to its scale in both directions: one for all of a leg.
// There are none where no dig was computed, and none on A4.
func CrossSections(p planner.Plan, j job.Job, style Style) []scene.Page {
	d := newDraft(p, j, style)
	if p.Dig == nil || len(p.Dig.Sections) == 0 || style.Size == A4 {
		return nil
	}
	v := d.acrossOf()
	pages := v.pages()
	var out []scene.Page
	for i, rows := range pages {
		out = append(out, v.page(rows, i+1, len(pages)))
	}
	return out
}

// acrossOf measures the pages that the cross sections stand on.
func (d *draft) acrossOf() *across {
	v := &across{draft: d}
	blank := sheet{draft: d, kind: "across", title: "Cross sections", note: "-", general: d.concerns(general)}
	blank.frame(1)
	v.free = blank.free
	v.columns = 2
	if d.style.Size == A1 {
		v.columns = 3
	}
	v.width = (v.free.Width() - float64(v.gap()*float64(v.columns-1))) / float64(v.columns)
	return v
}

// across is a plan as its cross sections are drawn.
type across struct {
	*draft
	free    scene.Box
	columns int
	width   float64 // of one section with its figures, mm of paper
}

// cut is one section with the scale that it is drawn at.
type cut struct {
	planner.DigSection
	scale                float64
	wayScale             float64 // of the picture of what stands beside it; 0: nothing does
	left, right          float64 // of what is drawn, mm on the ground from the centreline
	low, high            float64 // and its levels in mm
	labels               []cutLabel
	lines                []string // what is written below it
	picture, below, wide float64  // heights on paper; width of the labels
}

// cutLabel is a level with its name.
type cutLabel struct {
	text  string
	level float64 // mm
}

func (v *across) k() float64    { return v.style.Size.small() / 1.8 }
func (v *across) gap() float64  { return float64(8 * v.k()) }
func (v *across) step() float64 { return scene.LineStep(v.style.Size.small()) }

// The room round a section in mm of paper, for lettering of 1.8 mm.
const (
	cutAxis   = 11.0 // figures of levels on the left
	cutSide   = 9.0  // ground on the left of the dig, with its depth
	cutRight  = 5.0  // and on the right
	cutAbove  = 7.5  // dimension over the ground
	cutUnder  = 10.3 // dimensions under the dig
	cutFigure = 6.0  // figures of offsets
)

// pages fills pages row by row; sections that take more than half a page are drawn smaller where that saves a page.
func (v *across) pages() [][][]cut {
	all := v.cuts()
	pages := v.filled(all)
	smaller := slices.Clone(all)
	for i := range smaller {
		v.within(&smaller[i])
	}
	if fewer := v.filled(smaller); len(fewer) < len(pages) {
		return fewer
	}
	return pages
}

func (v *across) filled(all []cut) [][][]cut {
	var pages [][][]cut
	y := 0.0
	for row := range slices.Chunk(all, v.columns) {
		high := v.highest(row)
		if len(pages) == 0 || y+high > v.free.Height()-v.keyHigh() {
			pages, y = append(pages, nil), 0
		}
		pages[len(pages)-1] = append(pages[len(pages)-1], row)
		y += high + v.gap()/4
	}
	return pages
}

// highest is the height of a row.
func (v *across) highest(row []cut) float64 {
	high := 0.0
	for _, c := range row {
		high = math.Max(high, v.high(c))
	}
	return high
}

// cuts are all sections, those of a leg at one scale: the largest at which all of them find their width, and at which most of
// them take no more than half a page; one that is deeper than the others may take more.
func (v *across) cuts() []cut {
	wide, high := map[string]float64{}, map[string][]float64{} // scales by leg
	all := make([]cut, len(v.plan.Dig.Sections))
	for i, s := range v.plan.Dig.Sections {
		c := &all[i]
		*c = cut{DigSection: s, labels: v.labels(s)}
		for _, l := range c.labels {
			c.wide = math.Max(c.wide, scene.TextWidth(l.text, v.style.Size.small(), scene.Regular))
		}
		c.wide += 5
		left, right := v.extent(s)
		scale := v.scaleFor(right-left, v.width-float64(v.k()*(cutAxis+cutSide+cutRight))-c.wide)
		wide[s.Leg] = math.Max(wide[s.Leg], scale)
		for _, larger := range v.scales() {
			if larger < scale {
				continue
			}
			scale = larger
			if v.scaled(c, scale); v.high(*c) <= v.half() {
				break
			}
		}
		high[s.Leg] = append(high[s.Leg], scale)
	}
	for leg := range high {
		slices.Sort(high[leg])
	}
	for i := range all {
		of := high[all[i].Leg]
		v.scaled(&all[i], math.Max(wide[all[i].Leg], of[(len(of)-1)/2]))
	}
	return all
}

// within puts a section that takes more than half a page to the next smaller scale at which it does not; where there is none
// it stays as it is.
func (v *across) within(c *cut) {
	scale := c.scale
	for _, smaller := range v.scales() {
		if smaller >= scale && smaller <= 4*scale {
			if v.scaled(c, smaller); v.high(*c) <= v.half() {
				return
			}
		}
	}
	v.scaled(c, scale)
}

// half is what a row may take for two to stand on a page.
func (v *across) half() float64 { return (v.free.Height() - v.keyHigh() - v.gap()/4) / 2 }

// scaled puts a section to a scale and measures it.
func (v *across) scaled(c *cut, scale float64) {
	c.scale = scale
	left, right := v.extent(c.DigSection)
	c.left, c.right = left-float64(float64(v.k()*cutSide)*scale), right+float64(float64(v.k()*cutRight)*scale)
	c.low, c.high = v.heights(c.DigSection, c.left, c.right)
	c.picture = (c.high-c.low)/scale + float64(v.k()*(cutAbove+cutUnder))
	c.wayScale = v.wayScaleOf(c)
	c.lines = v.below(c)
	c.below = math.Max(float64(v.step()*float64(len(c.lines))), v.wayHigh(c))
}

// high is the height of a section with all that belongs to it.
func (v *across) high(c cut) float64 {
	return float64(2.4*v.step()) + c.picture + float64(v.k()*cutFigure) + c.below + 1
}

// extent is how far left and right of the centreline the dig reaches; without sides, what is set and a little beside it.
func (v *across) extent(s planner.DigSection) (left, right float64) {
	if s.Top != nil && s.Bottom != nil {
		return math.Min(mm(s.Top.Left[0]), mm(s.Bottom.Left[0])), math.Max(mm(s.Top.Right[0]), mm(s.Bottom.Right[0]))
	}
	half := 500.0
	for _, a := range s.Areas {
		for _, p := range a.Parts {
			for _, k := range p {
				if a.Of != "heap" {
					half = math.Max(half, math.Abs(mm(k[0])))
				}
			}
		}
	}
	return -half - 300, half + 300
}

// heights are the levels between which a section is drawn: all that is set and dug, and the ground over it.
func (v *across) heights(s planner.DigSection, left, right float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	see := func(k [2]measure.MM) {
		if x := mm(k[0]); x >= left && x <= right {
			low, high = math.Min(low, mm(k[1])), math.Max(high, mm(k[1]))
		}
	}
	for _, a := range s.Areas {
		for _, p := range a.Parts {
			for _, k := range p {
				if a.Of != "heap" {
					see(k)
				}
			}
		}
	}
	for _, l := range s.Lines {
		if l.Of == "existing" || l.Of == "finished" {
			for _, p := range l.Parts {
				for _, k := range clipped(p, left, right) {
					see(k)
				}
			}
		}
	}
	for _, z := range []*measure.MM{s.Levels.Formation, s.Levels.Existing} {
		if z != nil {
			low, high = math.Min(low, mm(*z)), math.Max(high, mm(*z))
		}
	}
	if p := s.Pipe; p != nil {
		low = math.Min(low, mm(p.Level-p.Diameter/2))
	}
	bottom := low
	for _, one := range s.Services {
		if one.Bottom != nil && mm(*one.Bottom) > bottom-v.deep() {
			low, high = math.Min(low, mm(*one.Bottom)), math.Max(high, mm(*one.Top))
		}
	}
	return low - 40, high + 40
}

// deep is how far below the dig a service is still drawn, in mm: what lies deeper is told.
func (v *across) deep() float64 {
	if v.style.Format.System == measure.Imperial {
		return 2 * 304.8
	}
	return 600
}

// clipped is a line between two offsets.
func clipped(line [][2]measure.MM, left, right float64) [][2]measure.MM {
	var out [][2]measure.MM
	for i := range line {
		if i > 0 {
			for _, x := range [2]float64{left, right} {
				a, b := line[i-1], line[i]
				if (mm(a[0])-x)*(mm(b[0])-x) < 0 {
					w := (x - mm(a[0])) / (mm(b[0]) - mm(a[0]))
					out = append(out, [2]measure.MM{length(x), length(mm(a[1]) + float64(w*(mm(b[1])-mm(a[1]))))})
				}
			}
		}
		if x := mm(line[i][0]); x >= left && x <= right {
			out = append(out, line[i])
		}
	}
	return out
}

// page draws some rows of sections on one sheet.
func (v *across) page(rows [][]cut, n, of int) scene.Page {
	s := &sheet{draft: v.draft, kind: "across"}
	var legs []string
	used := 0.0
	for _, r := range rows {
		for _, c := range r {
			if !slices.Contains(legs, c.Leg) {
				legs = append(legs, c.Leg)
			}
			if i, ok := v.legs[c.Leg]; ok {
				at := stationAt(v.plan.Legs[i], mm(c.At))
				s.shown = append(s.shown, shown{i, at, at})
			}
		}
		used += v.highest(r)
	}
	s.title = "Cross sections: " + v.legWords(legs)
	if of > 1 {
		s.title = fmt.Sprintf("Cross sections %d of %d: %s", n, of, v.legWords(legs))
	}
	s.note = fmt.Sprintf("each section to the scale beside its name, the same in both directions; looking %s, left and right are those of somebody who stands so; offsets from the %s", v.words.upChainage, v.words.centreline)
	s.general = v.concerns(general)
	s.frame(n)
	spread := math.Max(v.gap()/4, math.Min(12, (s.free.Height()-v.keyHigh()-used)/float64(len(rows))))
	y := s.free.Top
	for _, r := range rows {
		for i, c := range r {
			x := s.free.Left + float64((v.width+v.gap())*float64(i))
			v.draw(s, c, scene.Point{X: x, Y: y})
		}
		y += v.highest(r) + spread
	}
	v.key(s, slices.Concat(rows...))
	return s.page
}

// labels are the levels of a section from the top down, each once.
func (v *across) labels(s planner.DigSection) []cutLabel {
	l := s.Levels
	var out []cutLabel
	add := func(name string, z *measure.MM) {
		if z != nil {
			m := measure.Length(*z).Metres()
			out = append(out, cutLabel{name + " " + v.levelFigure(&m), mm(*z)})
		}
	}
	add("finished ground", l.Finished)
	add("ground as it is", l.Existing)
	add("top of "+v.words.cover, l.Cover)
	add("wall top", l.Wall)
	add("invert", l.Invert)
	add(v.standsOn(s), l.Underside)
	add(v.words.underPad, l.PadBase)
	add(v.words.formation, l.Formation)
	if p := s.Pipe; p != nil {
		z := p.Level - p.Diameter/2
		add("drain underside", &z)
	}
	left, right := v.extent(s)
	low, _ := v.heights(s, left, right)
	for _, one := range []struct {
		name  string
		level *measure.MM
	}{{"rock", l.Rock}, {"water", l.Water}} {
		if one.level != nil && mm(*one.level) >= low {
			add(one.name, one.level)
		}
	}
	for _, one := range s.Services {
		switch {
		case one.Top == nil || zoneTop(one) < low:
		case mm(*one.Top) >= low:
			add(one.Name+", top", one.Top)
		default: // only its zone is drawn
			z := length(zoneTop(one))
			add("zone of "+one.Name, &z)
		}
	}
	sorting.By(out, func(a, b cutLabel) int {
		switch {
		case a.level > b.level:
			return -1
		case a.level < b.level:
			return 1
		}
		return 0
	})
	return out
}

// standsOn is what lies right under the unit of a section: the top of a pad, nothing between two of them, or the top of the bed.
func (v *across) standsOn(s planner.DigSection) string {
	supply := v.legSupply(s.Leg)
	if u, ok := v.place(s.Place); ok {
		supply = u.Supply
	}
	switch {
	case s.Levels.PadBase != nil:
		return v.words.padTop
	case v.made[supply].pads:
		return "underside"
	}
	return v.words.bedTop
}

// below is what is written under a section.
func (v *across) below(c *cut) []string {
	var all []string
	if c.Bottom != nil && c.Top != nil && c.Depth != nil {
		all = append(all, fmt.Sprintf("sides %s; dig %s deep%s, bottom %s wide, top %s wide: edges %s left and %s right of the %s",
			c.Sides, v.length(*c.Depth), v.trenchWords(c), v.length(c.Bottom.Width), v.length(c.Top.Width), v.length(-c.Top.Left[0]), v.length(c.Top.Right[0]), v.words.centreline))
		all = append(all, v.areaWords(c))
	}
	if line := v.roomWords(c); line != "" {
		all = append(all, line)
	}
	for _, n := range c.Beside {
		if len(n.Uses) > 0 {
			all = append(all, v.besideWords(n))
		}
	}
	for _, s := range c.Services {
		all = append(all, v.serviceWords(c, s))
	}
	for _, l := range [2]struct {
		name string
		at   *measure.MM
	}{{"rock", c.Levels.Rock}, {"water", c.Levels.Water}} {
		if l.at != nil && mm(*l.at) < c.low {
			m := measure.Length(*l.at).Metres()
			all = append(all, fmt.Sprintf("%s recorded deeper, at level %s", l.name, v.levelFigure(&m)))
		}
	}
	if w, f := c.Levels.Water, c.Levels.Formation; w != nil && f != nil && *w > *f {
		m := measure.Length(*w).Metres()
		all = append(all, fmt.Sprintf("WATER recorded at level %s, %s above the %s", v.levelFigure(&m), v.length(*w-*f), v.words.formation))
	}
	all = append(all, c.Missing...)
	room := v.width
	if c.wayScale > 0 {
		room -= v.wayWide(c) + float64(4*v.k())
	}
	var lines []string
	for _, text := range all {
		lines = append(lines, wrapped(text, v.style.Size.small(), room)...)
	}
	return lines
}

// trenchWords are how much of the depth leads to the formation, where the trench of the drain goes deeper.
func (v *across) trenchWords(c *cut) string {
	if c.Pipe == nil || c.Levels.Formation == nil {
		return ""
	}
	to := max(c.Top.Left[1], c.Top.Right[1]) - *c.Levels.Formation
	if mm(*c.Depth) < mm(to)+1 {
		return ""
	}
	return ", " + v.length(to) + " of it to the " + v.words.formation
}

func (v *across) roomWords(c *cut) string {
	if c.Room == nil || c.Place == "" {
		return ""
	}
	text := "working room " + v.length(*c.Room) + " on each side"
	if c.OverDig > 0 {
		text += ", and " + v.length(c.OverDig) + " dug beyond it"
	}
	return text
}

// areaWords are what is dug and filled of one metre or foot of run.
func (v *across) areaWords(c *cut) string {
	var parts []string
	for _, one := range [][2]string{{"dig", "dug"}, {"topsoil", "topsoil"}, {"soil", "soil"}, {"rock", "rock"}, {"bed", v.words.bed}, {"fill", "fill"}, {"topsoil back", "topsoil back"}} {
		for _, a := range c.Areas {
			if a.Of == one[0] && a.Area > 0 {
				parts = append(parts, one[1]+" "+v.areaFigure(a.Area))
			}
		}
	}
	return "areas: " + strings.Join(parts, ", ")
}

// areaFigure is an area with its unit.
func (v *across) areaFigure(m2 float64) string {
	if v.style.Format.System == measure.Imperial {
		return fmt.Sprintf("%.1f sq ft", m2/(0.3048*0.3048))
	}
	return fmt.Sprintf("%.2f m²", m2)
}

func (v *across) besideWords(n planner.StripNeed) string {
	var parts []string
	for _, u := range n.Uses {
		parts = append(parts, fmt.Sprintf("%s from %s to %s", u.What, v.along(u.From), v.along(u.From+u.Width)))
	}
	land := "no width of land on file"
	if n.Land != nil {
		land = "land to " + v.along(*n.Land)
	}
	return fmt.Sprintf("%s of the %s: %s; %s", n.Side, v.words.centreline, strings.Join(parts, ", "), land)
}

func (v *across) serviceWords(c *cut, s planner.SectionService) string {
	zone := notChecked + ": no tolerance zone on file. Ask: its owner"
	if s.Zone != nil {
		zone = "zone " + v.length(*s.Zone) + " each way"
	}
	if s.Top == nil {
		return fmt.Sprintf("%s %s: depth unknown, %s: it may lie at any level here. Ask: its owner", v.words.service, s.Name, notChecked)
	}
	m := measure.Length(*s.Top).Metres()
	text := fmt.Sprintf("%s %s: top at level %s by record, %s", v.words.service, s.Name, v.levelFigure(&m), zone)
	if s.Bottom != nil && mm(*s.Bottom) < c.low {
		text += ", deeper than what is drawn"
	}
	return text
}
