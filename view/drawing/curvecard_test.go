package drawing

import (
	"math"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job/planner"
)

// taped is a length read off a card, in metres: 1.939, or 6'-4 5/16".
func taped(t *testing.T, text string, feet bool) float64 {
	t.Helper()
	if !feet {
		return number(t, text)
	}
	l, err := measure.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	return l.Length.Metres()
}

// inColumn are the cells of a column of a card's grid, under its head, as they are drawn.
func inColumn(lines []string, head, unit string, n int) []string {
	cells := after(lines, head, 0)
	if unit != "" && cells[0] == unit {
		cells = cells[1:]
	}
	return slices.DeleteFunc(slices.Clone(cells), func(s string) bool { return s == "" })[:n]
}

// The law of the curve cards: a joint that is measured off as its card says, along a string between two pegs and square to it,
// by their coordinates in the plan, is where the plan has the joint; and every joint on a curve stands on a card.
func TestJointsMeasuredFromTheStringsOfACurveAreThoseOfThePlan(t *testing.T) {
	checked := 0
	for _, run := range cardViews()[:2] {
		d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
		feet := d.lengthUnit() != "mm"
		fine := 0.00075 // m: half of what is printed, in two directions
		if feet {
			fine = 0.0013 // a sixteenth of an inch is 1.6 mm
		}
		texts := cardTexts(t, run.plan, run.job)
		factor := number(t, run.plan.Job.ScaleFactor)
		peg := map[string]planner.Peg{}
		for _, p := range run.plan.Pegs {
			peg[p.Leg+" "+shortPlace(planner.SetOut{Leg: p.Leg, Place: p.Place})] = p
		}
		for _, rows := range d.places() {
			leg := d.plan.Legs[d.legs[rows[0].Leg]]
			seen := map[string]bool{}
			for name, lines := range texts {
				if !strings.HasPrefix(name, "levels-"+leg.Name+"-curve-") {
					continue
				}
				joined := strings.Join(lines, "\n")
				_, said, _ := strings.Cut(joined, "from the peg at ")
				from, said, _ := strings.Cut(said, " to the peg at ")
				to, _, _ := strings.Cut(said, ", ")
				a, b := peg[leg.Name+" "+from], peg[leg.Name+" "+to]
				chord := math.Hypot(b.E-a.E, b.N-a.N)
				if chord == 0 || chord > longestString/1000 {
					t.Fatalf("%s: a string of %.3f m from %q to %q", name, chord, from, to)
				}
				e, n := (b.E-a.E)/chord, (b.N-a.N)/chord
				first := slices.IndexFunc(rows, func(r planner.SetOut) bool { return shortPlace(r) == from })
				last := slices.IndexFunc(rows, func(r planner.SetOut) bool { return shortPlace(r) == to })
				places := inColumn(lines, "place", "", last-first+1)
				alongs, offsets := inColumn(lines, "along", "[m]", len(places)), inColumn(lines, "offset", "[m]", len(places))
				for i, r := range rows[first : last+1] {
					place := shortPlace(r)
					if places[i] != place {
						t.Fatalf("%s: row %d is of %s, not of %s", name, i, places[i], place)
					}
					seen[place] = true
					along := taped(t, alongs[i], feet) * factor
					arrow, figure, _ := strings.Cut(offsets[i], " ")
					off := taped(t, figure, feet) * factor
					if arrow == "→" {
						off = -off
					}
					east, north := a.E+along*e-off*n, a.N+along*n+off*e
					if apart := math.Hypot(east-r.E, north-r.N); apart > fine {
						t.Errorf("%s, %s: measured off it lies %.4f m from the joint of the plan", name, place, apart)
					}
					checked++
				}
			}
			for _, part := range leg.Axis {
				for _, r := range rows {
					if part.Radius != 0 && r.Chainage >= part.FromChainage && r.Chainage <= part.ToChainage && !seen[shortPlace(r)] {
						t.Errorf("%s lies on a curve and on no card of it", r.Place)
					}
				}
			}
		}
	}
	if checked < 40 {
		t.Errorf("only %d joints were measured off", checked)
	}
}

// Where a curve begins and ends and how sharp it is, as the start card and the cards of its joints say, agrees with the joints
// of the plan: the circle through any three of them on the curve has the printed radius (circumscribed circle, closed form),
// and joints before it and behind it lie on its tangents.
func TestTheCurveOnTheCardsIsThatOfItsJoints(t *testing.T) {
	run := surveyed()
	d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
	texts := cardTexts(t, run.plan, run.job)
	factor := number(t, run.plan.Job.ScaleFactor)
	curves := 0
	for _, rows := range d.places() {
		leg := d.plan.Legs[d.legs[rows[0].Leg]]
		for _, c := range d.curvesOf(leg) {
			curves++
			words := d.curveSaid(c)
			for _, name := range []string{"levels-" + leg.Name + "-start", "levels-" + leg.Name + "-curve-1", "levels-" + leg.Name + "-2"} {
				if text := strings.Join(texts[name], " "); !strings.Contains(strings.ToLower(text), strings.ToLower(words)) {
					t.Errorf("%s does not say %q: %s", name, words, text)
				}
			}
			var on []planner.SetOut
			for _, r := range rows {
				if r.Chainage >= c.from && r.Chainage <= c.to {
					on = append(on, r)
				}
			}
			p, q, r := on[0], on[len(on)/2], on[len(on)-1]
			cross := (q.E-p.E)*(r.N-p.N) - (q.N-p.N)*(r.E-p.E) // left positive
			far := func(a, b planner.SetOut) float64 { return math.Hypot(b.E-a.E, b.N-a.N) }
			radius := far(p, q) * far(q, r) * far(r, p) / (2 * math.Abs(cross)) / factor
			if math.Abs(radius-measure.Length(c.radius).Metres()) > 0.02 || (cross > 0) != (c.hand == "left") {
				t.Errorf("%s: the joints lie on a circle of %.3f m, %q is printed", leg.Name, radius, words)
			}
		}
	}
	if curves == 0 {
		t.Error("no curve was looked at")
	}
}

// The gaps at the walls are those between the corners of the units as they lie in the plan, and half their difference is what
// the turn takes of the joint's budget: the budget reckons it with the joint's angle, the corners lie where they lie.
func TestGapsAtTheWallsAreBetweenTheCornersOfTheUnits(t *testing.T) {
	turned := 0
	for _, run := range cardViews() {
		d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
		factor := d.groundFactor()
		for leg, rows := range d.places() {
			c := levelCard{cardSheet: cardSheet{draft: d}, leg: d.plan.Legs[leg], rows: rows}
			for k := range rows {
				left, right, ok := c.wallGaps(k)
				if !ok {
					continue
				}
				turned++
				a, b := d.plan.Units[d.of[leg][k-1]], d.plan.Units[d.of[leg][k]]
				before, behind := d.corners(a), d.corners(b)
				for _, w := range []struct {
					wall     string
					from, to spot
					gap      measure.MM
				}{{"left", before[1], behind[0], left}, {"right", before[2], behind[3], right}} {
					if apart := w.to.sub(w.from).length() * 1000 / factor; math.Abs(apart-mm(w.gap)) > 0.05 { // the width is drawn on the grid
						t.Errorf("%s, %s wall: %.3f mm between the corners, %.3f is printed", rows[k].Place, w.wall, apart, mm(w.gap))
					}
				}
				for _, j := range d.plan.Joints {
					if half := math.Abs(mm(left)-mm(right)) / 2; j.Name == rows[k].Place && math.Abs(half-mm(j.Budget.Turn)) > 0.01 {
						t.Errorf("%s: the walls differ by twice %.4f mm, the turn takes %.4f", j.Name, half, mm(j.Budget.Turn))
					}
				}
			}
		}
	}
	if turned < 30 {
		t.Errorf("only %d joints turn", turned)
	}
}
