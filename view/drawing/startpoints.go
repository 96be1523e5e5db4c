package drawing

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"trenchwright/base/sorting"
	"trenchwright/job/planner"
)

// mostPoints is how many benchmarks a card names: those nearest to its leg.
const mostPoints = 3

// asPrinted is a coordinate or a level as paper has it, in metres: what is worked out from it then agrees with what anybody
// works out from the paper.
func (d *draft) asPrinted(m float64) float64 {
	metres, _, places := d.coordinateUnit()
	scale := 1.0
	for range places {
		scale *= 10
	}
	return math.Round(m/metres*scale) / scale * metres
}

// placed reports whether a point has coordinates.
func placed(p planner.SurveyPoint) bool { return p.E != nil && p.N != nil }

// apart is how far a point lies from a place, on the grid, by the coordinates that are printed; without end where the point
// has none.
func (d *draft) apart(p planner.SurveyPoint, e, n float64) float64 {
	if !placed(p) {
		return math.Inf(1)
	}
	_, far := d.polar(*p.E, *p.N, e, n)
	return far
}

// polar is the bearing, in degrees, and the distance, in metres on the grid, from one point to another, by the coordinates
// that are printed.
func (d *draft) polar(fromE, fromN, toE, toN float64) (bearing, distance float64) {
	east, north := d.asPrinted(toE)-d.asPrinted(fromE), d.asPrinted(toN)-d.asPrinted(fromN)
	return math.Mod(math.Atan2(east, north)*180/math.Pi+360, 360), math.Hypot(east, north)
}

// nearest are the points by how far they lie from a place; those without coordinates last.
func (d *draft) nearest(all []planner.SurveyPoint, e, n float64) []planner.SurveyPoint {
	out := slices.Clone(all)
	sorting.By(out, func(a, b planner.SurveyPoint) int { return cmp.Compare(d.apart(a, e, n), d.apart(b, e, n)) })
	return out
}

func (c *levelCard) benchmarkRows() [][]string {
	if len(c.plan.Benchmarks) == 0 {
		return [][]string{{notChecked + ": no " + c.words.benchmark + " on file. Ask: the surveyor"}}
	}
	var out [][]string
	at := c.rows[0]
	all := c.nearest(c.plan.Benchmarks, at.E, at.N)
	for _, p := range all[:min(mostPoints, len(all))] {
		far, where := "–", p.Where
		if placed(p) {
			far = c.eastNorth(c.apart(p, at.E, at.N))
		} else {
			where = joined("; ", where, notChecked+": no easting and northing on file")
		}
		out = append(out, []string{p.ID, c.orNone(p.Level), c.orNone(p.E), c.orNone(p.N), far, where})
	}
	if len(out) == 1 {
		out = append(out, []string{notChecked + ": no second " + c.words.benchmark + " to check it against on file. Ask: the surveyor"})
	}
	return out
}

// sight is how one end of a leg is found: from which control point, and which one is looked back to.
type sight struct {
	to   planner.SetOut
	from planner.SurveyPoint
	back *planner.SurveyPoint // nil: no second one on file
}

// sights are those to both ends of the leg: from the control point nearest to each, looking back to the one that is nearest to
// the end among the others.
func (c *levelCard) sights() []sight {
	var out []sight
	for _, to := range []planner.SetOut{c.rows[0], c.rows[len(c.rows)-1]} {
		all := c.nearest(c.plan.Control, to.E, to.N)
		all = slices.DeleteFunc(all, func(p planner.SurveyPoint) bool { return !placed(p) })
		if len(all) == 0 {
			return nil
		}
		s := sight{to: to, from: all[0]}
		if len(all) > 1 {
			s.back = &all[1]
		}
		out = append(out, s)
	}
	return out
}

// controlRows are the control points that the leg is found from or that are looked back to.
func (c *levelCard) controlRows() [][]string {
	if len(c.plan.Control) == 0 {
		return [][]string{{notChecked + ": no control point on file. Ask: the surveyor"}}
	}
	var used []planner.SurveyPoint
	use := func(p planner.SurveyPoint) {
		if !slices.ContainsFunc(used, func(o planner.SurveyPoint) bool { return o.ID == p.ID }) {
			used = append(used, p)
		}
	}
	for _, s := range c.sights() {
		use(s.from)
		if s.back != nil {
			use(*s.back)
		}
	}
	if len(used) == 0 {
		used = c.plan.Control[:1]
	}
	var out [][]string
	for _, p := range used {
		out = append(out, []string{p.ID, c.orNone(p.E), c.orNone(p.N), c.orNone(p.Level), p.Where})
	}
	if len(out) == 1 {
		out = append(out, []string{notChecked + ": no second control point to look back to on file. Ask: the surveyor"})
	}
	return out
}

// polarRows are how the two ends of the leg are found: bearing and distance, on the grid and as a tape on the ground has it,
// and the bearing to the control point that is looked back to.
func (c *levelCard) polarRows() [][]string {
	var out [][]string
	for _, s := range c.sights() {
		bearing, far := c.polar(*s.from.E, *s.from.N, s.to.E, s.to.N)
		row := []string{shortPlace(s.to), s.from.ID, c.bearing(bearing), c.eastNorth(far), c.groundFigure(far), "–", "–"}
		if s.back != nil {
			back, _ := c.polar(*s.from.E, *s.from.N, *s.back.E, *s.back.N)
			row[5], row[6] = s.back.ID, c.bearing(back)
		}
		out = append(out, row)
	}
	return out
}

// groundFigure is a grid distance as it is on the ground; a stroke where no factor is on file.
func (d *draft) groundFigure(m float64) string {
	factor, err := strconv.ParseFloat(d.plan.Job.ScaleFactor, 64)
	switch {
	case d.plan.Job.ScaleFactor == "ground":
		factor = 1
	case err != nil || factor <= 0:
		return "–" // the foot says why
	}
	return d.eastNorth(m / factor)
}
