package drawing

import (
	"fmt"
	"math"
	"slices"

	"trenchwright/base/finding"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// PlanSheets are the run in plan, units true to scale. A run that cannot be read on one sheet is shown whole on an
// overview and then in windows that follow the run, each with match lines to its neighbours.
func PlanSheets(p planner.Plan, j job.Job, style Style) []scene.Page {
	d := newDraft(p, j, style)
	if len(p.Units) == 0 {
		return nil
	}
	trial := d.planSheet("Plan", "-", nil, 1)
	inner := trial.drawable()
	readable := d.windowScale()
	whole := d.wholeRun(inner)
	if whole.denominator <= readable {
		return []scene.Page{d.windowPage([]window{whole}, 0, 1)}
	}
	windows := d.windows(inner, readable)
	if len(windows) == 1 { // turned, it fits one sheet after all
		windows[0].whole = true
		return []scene.Page{d.windowPage(windows, 0, 1)}
	}
	d.windowOf = make([]int, len(p.Units))
	for i, w := range windows {
		for _, u := range w.units {
			d.windowOf[u] = i
		}
	}
	pages := []scene.Page{d.overviewPage(windows)}
	for i := range windows {
		pages = append(pages, d.windowPage(windows, i, i+2))
	}
	return pages
}

// window is a part of the run on one sheet: units one after another along a chain, in a view of its own; behind them those of
// whole chains that lie on it too.
type window struct {
	units       []int
	chain       int
	first, last int // places in the chain's row of units
	whole       bool
	centre      spot
	denominator float64
	turn        float64
}

// ends are the first and the last unit along the window's own chain.
func (w window) ends() (first, last int) { return w.units[0], w.units[w.last-w.first] }

// labelRoom is what labels need round the units, in mm of paper.
const labelRoom = 15.0

// planFoot is the foot of the drawing with scale bar and key, in mm of paper: the key takes two rows, or one on A1.
func (s Style) planFoot() float64 {
	if s.Size == A1 {
		return 9
	}
	return 14.5
}

// drawable is where units may lie on a sheet.
func (s *sheet) drawable() scene.Box {
	b := s.free.Inset(labelRoom)
	b.Bottom -= s.style.planFoot()
	return b
}

// planSheet is the empty sheet.
func (d *draft) planSheet(title, note string, parts []shown, n int) *sheet {
	s := &sheet{draft: d, kind: "plan", title: title, note: note, shown: parts}
	seen := map[string]bool{}
	for _, part := range parts {
		seen[d.plan.Legs[part.leg].Name] = true
	}
	s.concerns = d.concerns(func(f finding.Finding) bool {
		return !general(f) && (len(parts) == 0 || seen[f.Where.Leg] || seen[d.legOf(f.Where.Place)])
	})
	s.general = d.concerns(general)
	s.frame(n)
	return s
}

// windowScale is the smallest scale at which places and cuts can be read on a unit of the usual length.
func (d *draft) windowScale() float64 {
	_, usual := d.stripScale()
	need := 9.5 * d.style.Size.small() / 1.8
	best := d.scales()[0]
	for _, s := range d.scales() {
		if usual/s >= need {
			best = s
		}
	}
	return best
}

// footprints are the corners of units, and of the fittings beside them.
func (d *draft) footprints(units []int) []spot {
	var out []spot
	for _, u := range units {
		c := d.corners(d.plan.Units[u])
		out = append(out, c[:]...)
	}
	return out
}

// wholeRun is the largest window that shows everything, north up.
func (d *draft) wholeRun(inner scene.Box) window {
	var all []int
	for i := range d.plan.Units {
		all = append(all, i)
	}
	w := window{units: all, chain: -1, whole: true}
	spots := d.footprints(all)
	for _, n := range d.plan.Nodes {
		spots = append(spots, at(n.At))
	}
	w.centre, w.denominator = d.fit(spots, 0, inner)
	return w
}

// fit is the middle of places and the largest scale at which they lie in a box.
func (d *draft) fit(spots []spot, turn float64, inner scene.Box) (spot, float64) {
	width, height, middle := extent(turn, spots)
	return middle, math.Max(d.scaleFor(width*1000, inner.Width()), d.scaleFor(height*1000, inner.Height()))
}

// windows part every chain into stretches that fit a sheet at a scale, each as long as it goes. North is up unless a turned
// window shows a third more. A chain that finds its place on the sheet of another one has none of its own.
func (d *draft) windows(inner scene.Box, denominator float64) []window {
	var out []window
	for c, chain := range d.chains {
		var units []int
		for _, leg := range chain {
			units = append(units, d.of[leg]...)
		}
		if d.joined(out, units, inner) {
			continue
		}
		for first := 0; first < len(units); {
			up := d.reach(units[first:], inner, denominator, false)
			slanted := d.reach(units[first:], inner, denominator, true)
			w := up
			if 3*len(slanted.units) >= 4*len(up.units) {
				w = slanted
			}
			w.chain, w.first, w.last = c, first, first+len(w.units)-1
			w.denominator = denominator
			out = append(out, w)
			first = w.last + 1
		}
	}
	return out
}

// joined adds the units of a whole chain to the first window on whose sheet they all find room beside its own, and reports
// whether there is one.
func (d *draft) joined(windows []window, units []int, inner scene.Box) bool {
	for i := range windows {
		w := &windows[i]
		all := slices.Concat(w.units, units)
		width, height, middle := extent(w.turn, d.footprints(all))
		if len(units) > 0 && width*1000/w.denominator <= inner.Width() && height*1000/w.denominator <= inner.Height() {
			w.units, w.centre = all, middle
			return true
		}
	}
	return false
}

// reach is the longest start of a row of units that fits, at least one; turned so that it runs to the right, or north up.
func (d *draft) reach(units []int, inner scene.Box, denominator float64, along bool) window {
	best := window{units: units[:1]}
	for n := 1; n <= len(units); n++ {
		w := window{units: units[:n]}
		if along {
			first, last := d.plan.Units[units[0]], d.plan.Units[units[n-1]]
			way := at(last.Axis[1]).sub(at(first.Axis[0]))
			w.turn = way.bearing() - 90
		}
		width, height, middle := extent(w.turn, d.footprints(w.units))
		if n > 1 && (width*1000/denominator > inner.Width() || height*1000/denominator > inner.Height()) {
			break
		}
		w.centre, best = middle, w
		if n == 1 {
			best.centre = middle
		}
		best = w
	}
	return best
}

// shownIn are the parts of legs that a window shows.
func (d *draft) shownIn(w window) []shown {
	if w.whole {
		return nil
	}
	var out []shown
	for _, i := range w.units {
		u := d.plan.Units[i]
		part := shown{d.legs[u.Leg], mm(u.Start), mm(u.Start) + mm(u.Length)}
		if n := len(out); n > 0 && out[n-1].leg == part.leg {
			out[n-1].to = part.to
			continue
		}
		out = append(out, part)
	}
	return out
}

// legsIn names the legs of a window.
func (d *draft) legsIn(w window) []string {
	var names []string
	for _, i := range w.units {
		if name := d.plan.Units[i].Leg; !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return names
}

func (d *draft) windowTitle(w window, n, of int) string {
	if w.whole {
		return "Plan"
	}
	return fmt.Sprintf("Plan %d of %d: %s", n, of, d.legWords(d.legsIn(w)))
}

func (d *draft) planNote(w window) string {
	note := "scale " + d.scaleWords(w.denominator)
	if !w.whole {
		first, last := w.ends()
		note = fmt.Sprintf("%s; %s to %s", note, d.plan.Units[first].Mark, d.plan.Units[last].Mark)
		for rest := w.units[w.last-w.first+1:]; len(rest) > 0; {
			n := 1
			for n < len(rest) && d.plan.Units[rest[n]].Leg == d.plan.Units[rest[0]].Leg {
				n++
			}
			note += fmt.Sprintf(", %s to %s", d.plan.Units[rest[0]].Mark, d.plan.Units[rest[n-1]].Mark)
			rest = rest[n:]
		}
	}
	if w.turn != 0 {
		note += "; turned on the sheet, see the north arrow"
	}
	note += "; " + d.words.units + " true to scale, gaps too narrow to show"
	if d.plan.Dig != nil {
		note += "; edges of the dig straight from mark to mark of the dig sheet"
	}
	return note
}
