package drawing

import (
	"math"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/measure"
)

// What the rules of the place say of a leg, all of it, stands on its dig cards: every check with its verdict, every ladder; what
// nobody can say names whom to ask. So does water that the plan found above the formation, with the number of its finding.
func TestDigCardsSayHowPeopleGetOutAndWhereWaterStands(t *testing.T) {
	ladders, wet := 0, 0
	for _, run := range append(cardViews(), onItsGround("hand-troughs")) {
		texts := cardTexts(t, run.plan, run.job)
		d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
		for _, x := range run.plan.Excavation {
			said := squeezed(legSaid(texts, x.Leg, "dig"))
			for _, m := range x.Ladders {
				ladders++
				if want := d.chainage(length(m * 1000)); !strings.Contains(said, squeezed(want)) {
					t.Errorf("%s: the dig cards of leg %s know no ladder at %s: %s", run.name, x.Leg, want, said)
				}
			}
			for _, r := range x.Results {
				if want := resultSaid(r); !strings.Contains(said, squeezed(want)) {
					t.Errorf("%s: the dig cards of leg %s do not say %q: %s", run.name, x.Leg, want, said)
				}
			}
		}
		for i, f := range run.plan.Findings {
			if f.ID != "earthwork.water" || f.Where.Leg == "" {
				continue
			}
			wet++
			said := squeezed(legSaid(texts, f.Where.Leg, "dig"))
			for _, want := range []string{strings.TrimPrefix(f.Text, "water "), findingName(i), d.chainage(measure.MM(*f.Where.Chainage)), f.Ask} {
				if !strings.Contains(said, squeezed(want)) {
					t.Errorf("%s: the dig cards of leg %s do not say %q: %s", run.name, f.Where.Leg, want, said)
				}
			}
		}
	}
	if ladders < 4 || wet == 0 {
		t.Errorf("%d ladders and %d findings of water were looked for", ladders, wet)
	}
}

// Where a leg's dig card tells of rock, above the formation or in the drain's trench alone, the dig sheet has its depth at every
// mark there: below the higher edge, which is the level of the edge less that of the rock.
func TestTheDigSheetHasRockWhereTheCardHasIt(t *testing.T) {
	run := surveyed()
	d := newDraft(run.plan, run.job, StyleFor(run.job, A3))
	inTrench := 0
	for leg, rows := range d.places() {
		c := levelCard{cardSheet: cardSheet{draft: d}, leg: d.plan.Legs[leg], rows: rows}
		formation, _ := over(c.rockLines(func(k int) (float64, float64, bool) { return rigid(c.rows, k, formationOf) }))
		trench, _ := over(c.rockLines(c.trenchBottom))
		for _, l := range run.plan.Dig.Legs {
			for _, m := range l.Marks {
				const near = 50 // mm: the ground bends between joints
				within := func(all [][2]measure.MM) bool {
					return slices.ContainsFunc(all, func(s [2]measure.MM) bool { return m.At >= s[0]+near*1e6 && m.At <= s[1]-near*1e6 })
				}
				if l.Leg != c.leg.Name || m.Rock == nil || !within(slices.Concat(formation, trench)) || math.Abs(mm(*m.Rock-(m.Formation+m.ToFormation-m.Depth))) < 5 {
					continue
				}
				if !within(formation) {
					inTrench++
				}
				if want := d.figure(m.Formation + m.ToFormation - *m.Rock); d.rockFigure(m) != want {
					t.Errorf("leg %s at %s: rock %q below the edge, the card has rock there and it lies %s below", l.Leg, d.chainage(m.At), d.rockFigure(m), want)
				}
			}
		}
	}
	if inTrench == 0 {
		t.Error("no mark has rock in the drain's trench alone")
	}
}

// The drain's outlets stand on the dig card of their leg with the level that the plan has the pipe at there; the invert is what
// the job asked for.
func TestDigCardsSayWhereTheDrainLeaves(t *testing.T) {
	run := surveyed()
	d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
	texts := cardTexts(t, run.plan, run.job)
	outlets := 0
	for _, o := range run.job.Levels.Outlets {
		for _, low := range run.plan.Drain.Lows {
			if low.Leg != o.Leg || low.Outlet != o.Into {
				continue
			}
			outlets++
			said := squeezed(legSaid(texts, o.Leg, "dig"))
			for _, want := range []string{"OUTLET " + o.ID, "into " + o.Into, "underside of the pipe " + d.levelFigure(&low.Level), "its invert " + d.levelFigure(o.Drain), notChecked + ": no level of what it runs into on file"} {
				if !strings.Contains(said, squeezed(want)) {
					t.Errorf("the dig cards of leg %s do not say %q: %s", o.Leg, want, said)
				}
			}
		}
	}
	if outlets != 2 {
		t.Errorf("%d outlets were looked for", outlets)
	}
}

// A cross section says at which level water is recorded where that is above the formation, and by how much; the plan's own
// levels of the section tell.
func TestCrossSectionsSayWhereWaterIsAboveTheFormation(t *testing.T) {
	run := onItsGround("hand-troughs")
	d := newDraft(run.plan, run.job, StyleFor(run.job, A3))
	text := squeezed(printed(t, CrossSections(run.plan, run.job, d.style)...))
	wet := 0
	for _, s := range run.plan.Dig.Sections {
		w, f := s.Levels.Water, s.Levels.Formation
		if w == nil || f == nil || *w <= *f {
			continue
		}
		wet++
		m := measure.Length(*w).Metres()
		if want := "WATER recorded at level " + d.levelFigure(&m) + ", " + d.length(*w-*f) + " above"; !strings.Contains(text, squeezed(want)) {
			t.Errorf("leg %s at %s: no section says %q", s.Leg, d.chainage(s.At), want)
		}
	}
	if wet == 0 {
		t.Error("no section is wet")
	}
}
