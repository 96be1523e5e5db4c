package drawing

import (
	"math"
	"strings"
	"testing"

	"trenchwright/job/planner"
)

// meets is how far along a line from a point, in a direction, the line through two other points lies, m.
func meets(from, way, a, b spot) float64 {
	face, to := b.sub(a), a.sub(from)
	return (to.e*face.n - to.n*face.e) / (way.e*face.n - way.n*face.e)
}

// The law of the cards of units on hold: what the plan expects to be measured along each wall, as the card prints it, is how
// far the faces of the two neighbours lie apart on the line of that wall, where the plan has these; and less the gaps it is the
// side of the unit.
func TestUnitsOnHoldAreMeasuredBetweenTheFacesOfTheirNeighbours(t *testing.T) {
	looked := 0
	for _, run := range cardViews() {
		d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
		factor := groundOverGrid(run.plan)
		texts := map[string]string{}
		for _, c := range CutCards(run.plan, run.job, d.style) {
			texts[c.Name] = printed(t, c)
		}
		for _, u := range run.plan.Units {
			if !u.Hold || u.Piece == nil {
				continue
			}
			h := d.heldUnit(u)
			start := at(u.Axis[0])
			way := unitVector(at(u.Axis[1]).sub(start))
			var faces [2][2]spot
			for i, e := range h.ends {
				next, ok := d.place(e.mark)
				if !ok {
					t.Fatalf("%s: %q stands at its end %d", u.Mark, e.mark, i)
				}
				c := d.corners(next)
				here := at(u.Axis[i])
				faces[i] = [2]spot{c[0], c[3]}
				if at(next.Axis[1]).sub(here).length() < at(next.Axis[0]).sub(here).length() {
					faces[i] = [2]spot{c[1], c[2]}
				}
			}
			half := d.unitWidth(u.Supply) / 2000
			for _, w := range []struct {
				wall string
				side float64
				out  spot
			}{{"left", mm(u.Piece.LeftSide), way.left().times(half)}, {"right", mm(u.Piece.RightSide), way.left().times(-half)}} {
				from := start.add(w.out)
				clear := (meets(from, way, faces[1][0], faces[1][1]) - meets(from, way, faces[0][0], faces[0][1])) * 1000 * factor
				want := w.side + mm(h.off())
				if math.Abs(clear-want) > 0.5 { // the width is drawn on the grid, and a leg that slopes is longer than in plan
					t.Errorf("%s, %s wall: the faces lie %.2f mm apart, %.2f mm is expected", u.Mark, w.wall, clear, want)
				}
				if text := texts["card-"+u.Mark]; !strings.Contains(text, "\n"+d.rounded(want)+"\n") || !strings.Contains(text, "\n− "+d.gapLength(h.off())+"\n") {
					t.Errorf("the card of %s does not say %s less %s: %s", u.Mark, d.rounded(want), d.gapLength(h.off()), text)
				}
				looked++
			}
		}
	}
	if looked < 6 {
		t.Errorf("only %d walls were looked at", looked)
	}
}

// A leg with a unit on hold says on its card of laying that it waits, for which units, and what is begun with instead; no
// other leg speaks of it.
func TestTheCardOfLayingSaysWhatWaits(t *testing.T) {
	waits := 0
	for _, run := range cardViews() {
		texts := cardTexts(t, run.plan, run.job)
		on := map[string]planner.Unit{}
		for _, u := range run.plan.Units {
			if u.Hold {
				on[u.Leg] = u
			}
		}
		for _, l := range run.plan.Legs {
			text := strings.Join(texts["levels-"+l.Name+"-laying-1"], " ")
			u, held := on[l.Name]
			if strings.Contains(text, "HOLD ") != held {
				t.Errorf("%s: the card of leg %s says %q", run.name, l.Name, text)
			}
			if !held {
				continue
			}
			waits++
			for _, want := range []string{shortMark(u) + " waits", "leave it out until", "see cut card " + u.Mark, "are set"} {
				if !strings.Contains(text, want) {
					t.Errorf("%s: the card of leg %s does not say %q: %s", run.name, l.Name, want, text)
				}
			}
		}
	}
	if waits != 3 {
		t.Errorf("%d legs wait", waits)
	}
}

// What a unit on hold lies on is levelled before the unit beside it covers the place of the laser: its card of laying says so, with
// both ends of the unit as the set-out names them.
func TestTheCardOfLayingSaysWhenTheBedUnderAHeldUnitIsLevelled(t *testing.T) {
	looked := 0
	for _, run := range cardViews() {
		d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
		texts := cardTexts(t, run.plan, run.job)
		for _, u := range run.plan.Units {
			if !u.Hold || !d.solvedLevels() {
				continue
			}
			looked++
			var ends []string
			for _, r := range run.plan.SetOut {
				if r.Leg == u.Leg && strings.Contains(r.Place, u.Mark) {
					ends = append(ends, shortPlace(r))
				}
			}
			want := "under " + shortMark(u) + ", at " + strings.Join(ends, " and at ") + ", while the laser of their setting stands"
			if said := legSaid(texts, u.Leg, "laying"); len(ends) != 2 || !strings.Contains(said, want) {
				t.Errorf("%s: %q does not say %q", u.Mark, said, want)
			}
		}
	}
	if looked < 3 {
		t.Errorf("%d units on hold", looked)
	}
}
