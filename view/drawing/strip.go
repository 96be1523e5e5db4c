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

// Strip is the run unrolled on straight rows, chainage from left to right, looking on it from above: what lies to the
// left of the run is up. Lengths along the run are to scale; gaps, widths and notches are not.
func Strip(p planner.Plan, j job.Job, style Style) []scene.Page {
	d := newDraft(p, j, style)
	first := sheet{draft: d, kind: "strip", title: "Strip", note: "-"}
	first.concerns = d.concerns(func(finding.Finding) bool { return true })
	first.frame(1)
	if len(p.Legs) == 0 {
		return nil
	}
	parts, scale := d.stripParts(first.free)
	var pages []scene.Page
	for _, part := range parts {
		pages = append(pages, d.stripPage(part, scale, len(pages)+1, len(parts)))
	}
	return pages
}

// stripSizes are the heights of a strip's row in mm of paper, drawn about the top edge of its units.
type stripSizes struct {
	unit      float64 // the cells
	cover     float64 // the covers above them
	coverLift float64 // between covers and units
	lane      float64 // pads, and hatches where no joint may stand
	laneDrop  float64 // between units and that lane
	rule      float64 // from the units down to the line of chainage
	figures   float64 // to the base of its figures
	flags     float64 // to where pennants begin
	gap       float64 // between rows
	key       float64 // the key under the rows
	margin    float64 // at each end of a row
}

// strip is the sizes for the style's paper.
func (s Style) strip() stripSizes {
	k := s.Size.small() / 1.8
	return stripSizes{unit: 8 * k, cover: 2.6 * k, coverLift: k, lane: 2.4 * k, laneDrop: 0.9 * k, rule: 4.6 * k, figures: 8.4 * k,
		flags: 9.6 * k, gap: 4.5 * k, key: 11 * k, margin: 5 * k}
}

// above is the height of the strip over the top edge of its units.
func (z stripSizes) above() float64 { return z.cover + z.coverLift + 0.6 }

// stripParts are the rows of each page. The scale is the smallest at which the usual unit still holds its name, or a larger
// one that takes no page more.
func (d *draft) stripParts(free scene.Box) ([][]row, float64) {
	z := d.style.strip()
	least, usual := d.stripScale()
	set := func(scale float64) [][]row {
		height := free.Height() - z.key - 1
		return d.stack(d.stripRows(free.Width()-float64(2*z.margin), height, scale), height)
	}
	wide := func(r row) bool { return r.width > free.Width()-float64(2*z.margin) } // one cell alone is wider than a row
	parts, at := set(least), least
	scales := d.scales()
	for i := len(scales) - 1; i >= 0; i-- {
		if s := scales[i]; s < at && usual/s <= 6*z.unit {
			larger := set(s)
			if len(larger) > len(parts) || slices.ContainsFunc(larger, func(rows []row) bool { return slices.ContainsFunc(rows, wide) }) {
				break
			}
			parts, at = larger, s
		}
	}
	return parts, at
}

// stripScale is the smallest scale at which the usual unit still holds its place name.
func (d *draft) stripScale() (scale, usual float64) {
	var all []float64
	for _, u := range d.plan.Units {
		all = append(all, mm(u.Length))
	}
	usual = 3000
	if len(all) > 0 {
		slices.Sort(all)
		usual = all[len(all)/2]
	}
	need := scene.TextWidth("M-000", d.style.Size.small(), scene.Regular) + 1.6
	scales := d.scales()
	scale = scales[0]
	for _, s := range scales {
		if usual/s >= need {
			scale = s
		}
	}
	return scale, usual
}

// cell is one thing in a row of the strip: a unit, a node, or the empty stretch of a leg that nothing could be laid on.
type cell struct {
	leg      int
	unit     int    // index in the plan; -1: none
	node     string // "": none
	from, to float64
	x, width float64 // mm of paper
}

// row is one row of the strip with its flags.
type row struct {
	cells    []cell
	up, down []pennant
	ups      int // lanes above
	downs    int // lanes below
	width    float64
	goesOn   bool // the leg goes on in the next row
}

func (d *draft) rowHeight(r row) float64 {
	z := d.style.strip()
	return float64(scene.LineStep(d.style.Size.small())*float64(r.ups+r.downs)) + z.above() + z.unit + z.flags + z.gap
}

// cells of a chain of legs, one after another.
func (d *draft) cellsOf(chain []int, scale float64) []cell {
	var out []cell
	for i, leg := range chain {
		l := d.plan.Legs[leg]
		if i == 0 {
			out = append(out, d.nodeCell(leg, l.From))
		}
		units := d.of[leg]
		if len(units) == 0 {
			out = append(out, cell{leg: leg, unit: -1, to: mm(l.ClearLength), width: math.Max(mm(l.ClearLength)/scale, 12)})
		}
		for k, u := range units {
			c := cell{leg: leg, unit: u, from: mm(d.plan.Units[u].Start)}
			c.to = c.from + mm(d.plan.Units[u].Length)
			next := c.to
			if k+1 < len(units) {
				next = mm(d.plan.Units[units[k+1]].Start)
			}
			c.width = (next - c.from) / scale
			out = append(out, c)
		}
		out = append(out, d.nodeCell(leg, l.To))
	}
	return out
}

// nodeCell is as wide as its sign needs.
func (d *draft) nodeCell(leg int, id string) cell {
	n := d.node(id)
	c := cell{leg: leg, unit: -1, node: id, width: 5}
	z := d.style.strip()
	switch {
	case n.Made == "mitred":
		c.width = float64(z.unit*math.Abs(slant(n.Deflection/2))) + 0.9
	case n.Kind == "tee" || n.Kind == "cross":
		c.width = 1.4 * z.unit
	case n.Kind == "bend" || n.Kind == "transition":
		c.width = 1.1 * z.unit
	case n.Made == "open" || n.Made == "joint":
		c.width = 1
	}
	return c
}

// slant is the tangent of a saw angle as the strip shows it: never so flat that nobody sees it, never so steep that it
// eats the cell.
func slant(degrees float64) float64 {
	if degrees == 0 {
		return 0
	}
	t := math.Tan(math.Abs(degrees) * math.Pi / 180)
	return math.Copysign(math.Min(math.Max(t, 0.3), 1.3), degrees)
}

// stripRows breaks the chains into rows no wider than width, where it can at a node. A chain that fits whole beside the end
// of another shares its row. A row with so many words that it would be higher than a page is broken earlier.
func (d *draft) stripRows(width, height, scale float64) []row {
	var rows []row
	for _, chain := range d.chains {
		cells := d.cellsOf(chain, scale)
		if n := len(rows); n > 0 {
			if r, ok := d.shared(rows[n-1], cells, width); ok && d.rowHeight(r) <= height {
				rows[n-1] = r
				continue
			}
		}
		for len(cells) > 0 {
			r := d.stripCells(cells, width, width)
			for less := 0.75 * width; d.rowHeight(r) > height && len(r.cells) > 1; less *= 0.75 {
				r = d.stripCells(cells, less, width)
			}
			cells = cells[len(r.cells):]
			rows = append(rows, r)
		}
	}
	return rows
}

// shared is a row with another chain after it, if there is room for all of that.
func (d *draft) shared(r row, cells []cell, width float64) (row, bool) {
	between := float64(2.5 * d.style.strip().margin)
	out := row{cells: slices.Clone(r.cells), width: r.width + between}
	for _, c := range cells {
		c.x = out.width
		out.width += c.width
		out.cells = append(out.cells, c)
	}
	if r.goesOn || out.width > width {
		return row{}, false
	}
	d.raiseFlags(&out, width)
	return out, true
}

// stripCells is the row that the first cells make, up to a width; its words have the whole width.
func (d *draft) stripCells(cells []cell, upTo, width float64) row {
	n := breakAfter(cells, upTo-d.lean(cells[0]))
	r := row{cells: slices.Clone(cells[:n]), width: d.lean(cells[0]), goesOn: n < len(cells)}
	for i := range r.cells {
		r.cells[i].x = r.width
		r.width += r.cells[i].width
	}
	d.raiseFlags(&r, width)
	return r
}

// lean is how far the first cell of a row reaches out to the left.
func (d *draft) lean(c cell) float64 {
	if c.unit < 0 {
		return 0
	}
	return math.Abs(slant(d.plan.Units[c.unit].StartAngle)) * d.style.strip().unit / 2
}

// breakAfter is how many cells go into one row: as many as fit, but back to the last node where that leaves the row at
// least seven tenths full.
func breakAfter(cells []cell, width float64) int {
	x, n, node := 0.0, 0, 0
	for i, c := range cells {
		if x+c.width > width && i > 0 {
			break
		}
		x += c.width
		n = i + 1
		if c.node != "" && x >= 0.7*width {
			node = n
		}
	}
	if n < len(cells) && node > 0 {
		return node
	}
	return n
}

// stack parts rows into pages no higher than height.
func (d *draft) stack(rows []row, height float64) [][]row {
	var pages [][]row
	y := 0.0
	for _, r := range rows {
		h := d.rowHeight(r)
		if len(pages) == 0 || y+h > height {
			pages = append(pages, nil)
			y = 0
		}
		pages[len(pages)-1] = append(pages[len(pages)-1], r)
		y += h
	}
	return pages
}

// stripPage draws some rows on one sheet.
func (d *draft) stripPage(rows []row, scale float64, n, of int) scene.Page {
	s := sheet{draft: d, kind: "strip", title: "Strip", level: 0}
	seen := map[string]bool{}
	for _, r := range rows {
		for _, c := range r.cells {
			if c.node != "" {
				continue
			}
			seen[d.plan.Legs[c.leg].Name] = true
			if k := len(s.shown) - 1; k >= 0 && s.shown[k].leg == c.leg && s.shown[k].to <= c.from {
				s.shown[k].to = c.to // over the joint
			} else {
				s.shown = append(s.shown, shown{c.leg, c.from, c.to})
			}
		}
	}
	var names []string
	for _, l := range d.plan.Legs {
		if seen[l.Name] {
			names = append(names, l.Name)
		}
	}
	s.title = "Strip: " + d.legWords(names)
	if of > 1 {
		s.title = fmt.Sprintf("Strip %d of %d: %s", n, of, d.legWords(names))
	}
	unit := s.words.metres
	if s.style.Format.System == measure.Imperial {
		unit = "feet"
	}
	untrue := "gaps, widths and notches"
	if d.onPads() {
		untrue = "gaps, widths, notches and " + s.words.pads
	}
	s.note = fmt.Sprintf("seen from above; %s of each leg in %s from left to right; lengths along the run %s; %s not to scale",
		s.words.chainage, unit, d.scaleWords(scale), untrue)
	s.concerns = d.concerns(func(f finding.Finding) bool {
		return n == 1 && general(f) || seen[f.Where.Leg] || seen[d.legOf(f.Where.Place)]
	})
	if n > 1 {
		s.general = d.concerns(general)
	}
	s.frame(n)
	used := s.style.strip().key
	for _, r := range rows {
		used += d.rowHeight(r)
	}
	spread := math.Min(12, (s.free.Height()-used)/float64(len(rows)))
	y := s.free.Top + 1
	for _, r := range rows {
		s.stripRow(r, y, scale)
		y += d.rowHeight(r) + spread
	}
	s.stripKey(rows)
	return s.page
}

// onPads reports whether any unit stands on pads.
func (d *draft) onPads() bool {
	return d.any(func(u planner.Unit) bool { return d.made[u.Supply].pads })
}

func (d *draft) legOf(place string) string {
	u, _ := d.place(place)
	return u.Leg
}

// legWords names legs: a row of three or more that follow each other in the plan as the first to the last.
func (d *draft) legWords(names []string) string {
	n := len(names)
	switch {
	case n == 0:
		return "nothing laid"
	case n == 1:
		return "leg " + names[0]
	case n > 2 && d.legs[names[n-1]]-d.legs[names[0]] == n-1 && (n > 8 || slices.IsSorted(names)): // G to H would not tell of J and K
		return "legs " + names[0] + " to " + names[n-1]
	}
	return "legs " + strings.Join(names[:n-1], ", ") + " and " + names[n-1]
}
