package drawing

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/planner"
)

// Every page of the long section can be read, on every size, in both systems.
func TestSectionsCanBeRead(t *testing.T) {
	run := surveyed()
	for name, j := range map[string]job.Job{"metric": run.job, "feet": inFeet(run.job)} {
		for _, size := range []Size{A3, A1} {
			style := StyleFor(j, size)
			pages := Bind(append(LongSection(run.plan, j, style), TableSheets(run.plan, j, style)...), "revision P02")
			if kindOf(pages[0]) != "section" {
				t.Errorf("%s %s: no long section", name, size)
			}
			for _, p := range pages {
				if kindOf(p) == "section" || kindOf(p) == "setout" {
					checkPage(t, "section "+name+" "+size.String(), p)
				}
			}
		}
	}
}

// hilly is the demo's plan with pins, drains, water and a fill that it does not have, and ground that is missing in places.
func hilly() (planner.Plan, job.Job) {
	run := surveyed()
	p, j := run.plan, run.job
	p.SetOut = slices.Clone(p.SetOut)
	for i := range p.SetOut {
		l := *p.SetOut[i].Levels
		z := func(under float64) *float64 { x := *l.Formation - under; return &x }
		switch l.Drain, l.Water = z(0.08), z(-0.3); {
		case i%17 == 3:
			l.Existing, l.Finished = nil, nil
		case i%11 == 5:
			l.Existing = z(0.12)
		}
		p.SetOut[i].Levels = &l
	}
	j.Levels.Pins = []job.Pin{{ID: "L1", Leg: "A", At: 12 * measure.Metre, Level: 36.05, Why: "kerb of the yard"}, {ID: "L2", Leg: "F", At: 40 * measure.Metre, Level: 34.2, Of: "invert"}}
	return p, j
}

// What the demo does not have is drawn so that it can be read too, on sheets and on cards.
func TestFillsPinsAndDrainsCanBeRead(t *testing.T) {
	p, j := hilly()
	for _, j := range []job.Job{j, inFeet(j)} {
		style := StyleFor(j, A3)
		pages := append(LongSection(p, j, style), LevelCards(p, j, style)...)
		text := printed(t, pages...)
		for _, want := range []string{"fill ↑ from ground to ", "pin L1: ", "kerb of the yard", "drain", "water, down to", noGround} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: nothing says %q", j.Words, want)
			}
		}
		for _, page := range Bind(append(pages, TableSheets(p, j, style)...), "") {
			checkPage(t, "hilly", page)
		}
	}
}

// The band of figures says of each joint what the plan says of it: on A1 of every one, on A3 of all that are not counted as
// left out.
func TestEveryJointHasItsFigures(t *testing.T) {
	run := surveyed()
	for _, j := range []job.Job{run.job, inFeet(run.job)} {
		for _, size := range []Size{A1, A3} {
			v := newSection(newDraft(run.plan, j, StyleFor(j, size)))
			seen, left := map[string]bool{}, 0
			for _, rows := range v.pages() {
				for _, r := range rows {
					left += r.left
					for _, p := range v.printed(&r) {
						seen[p.Place] = true
					}
				}
			}
			if size == A1 && (left > 0 || len(seen) != len(run.plan.SetOut)) {
				t.Errorf("A1: figures of %d of %d places, %d left out", len(seen), len(run.plan.SetOut), left)
			}
			if len(seen)+left < len(run.plan.SetOut) {
				t.Errorf("%s: %d places have figures, %d are said to be left out, there are %d", size, len(seen), left, len(run.plan.SetOut))
			}
			text := "\n" + printed(t, LongSection(run.plan, j, v.style)...)
			for _, r := range run.plan.SetOut {
				g, _ := digAt(r.Levels)
				for _, want := range []string{v.chainageFigure(r.Chainage), v.levelFigure(r.Levels.PadTop), v.levelFigure(r.Levels.Wall), v.levelFigure(r.Levels.Finished), v.depthFigure(g.depth)} {
					if seen[r.Place] && !strings.Contains(text, "\n"+want+"\n") {
						t.Errorf("%s: %s of %s is not on the section", size, want, r.Place)
					}
				}
			}
		}
	}
}

// What is drawn of a joint lies at the level that the plan has: unit, pad and bed run from joint to joint as a rigid unit does.
func TestDrawnLevelsAreThePlans(t *testing.T) {
	run := surveyed()
	v := newSection(newDraft(run.plan, run.job, StyleFor(run.job, A3)))
	for leg, rows := range v.rowsOf {
		for k := range rows[:len(rows)-1] {
			a, b := rows[k].Levels, rows[k+1].Levels
			from, to, ok := rigid(rows, k, padTopOf)
			if !ok || from != *a.PadTop {
				t.Fatalf("leg %d, %s: no pad top", leg, rows[k].Place)
			}
			fall := *b.Walls[0] - *a.Wall
			if math.Abs(to-from-fall) > 1e-9 {
				t.Errorf("%s: the pad falls by %.6f m under a wall that falls by %.6f m", rows[k].Place, to-from, fall)
			}
			if _, steps := stepAt(rows, k+1); k+2 < len(rows) && steps != (math.Abs(to-*b.PadTop) > 0.0005) {
				t.Errorf("%s: step %v, but pad tops %.6f and %.6f", rows[k+1].Place, steps, to, *b.PadTop)
			}
		}
	}
}

// Columns stand in order, never nearer than their width, within the row, and as near to where they are wanted as any
// order of pushing gets them: no sum of squares of shifts that a search finds is smaller.
func TestColumnsAreSpreadLeast(t *testing.T) {
	for seed := range uint64(300) {
		r := rand.New(rand.NewPCG(seed, 11))
		n := 1 + r.IntN(6)
		wanted := make([]float64, n)
		for i := range wanted {
			wanted[i] = float64(r.IntN(60))
		}
		slices.Sort(wanted)
		got := spreadOut(wanted, 7, 0, 60)
		sum := func(at []float64) (s float64) {
			for i := range at {
				s += (at[i] - wanted[i]) * (at[i] - wanted[i])
			}
			return s
		}
		fits := func(at []float64) bool {
			for i := range at {
				if at[i] < -1e-9 || at[i] > 60+1e-9 || i > 0 && at[i]-at[i-1] < 7-1e-9 {
					return false
				}
			}
			return true
		}
		if !fits(got) {
			t.Fatalf("seed %d: %v of %v", seed, got, wanted)
		}
		for range 400 {
			other := slices.Clone(got)
			for i := range other {
				other[i] += 2 * (r.Float64() - 0.5)
			}
			if fits(other) && sum(other) < sum(got)-1e-9 {
				t.Fatalf("seed %d: %v of %v, but %v is nearer", seed, got, wanted, other)
			}
		}
	}
}

// Low points are those of the invert: in the demo the two ends where its outlets are.
func TestLowPointsOfTheDemo(t *testing.T) {
	run := surveyed()
	v := newSection(newDraft(run.plan, run.job, StyleFor(run.job, A3)))
	var got []string
	for _, l := range v.lows {
		got = append(got, v.rowsOf[l.leg][l.k].Place)
	}
	slices.Sort(got)
	if want := []string{"end of H-011", "end of K-011"}; !slices.Equal(got, want) {
		t.Errorf("low points %v, want %v", got, want)
	}
}

// A demo without a survey has no sheet of levels, and its set-out no column of them.
func TestNothingOfLevelsWithoutLevels(t *testing.T) {
	for _, name := range demo.Names() {
		p, j := planned(t, name)
		d := newDraft(p, j, StyleFor(j, A3))
		if d.solvedLevels() {
			continue
		}
		if len(LongSection(p, j, d.style)) > 0 || len(LevelCards(p, j, d.style)) > 0 || len(d.setOutLedger().columns) != 8 {
			t.Errorf("%s: something is said of levels that nobody solved", name)
		}
	}
}

// Sheets and cards of levels keep to the words of their side of the ocean.
func TestLevelsKeepToTheirWords(t *testing.T) {
	run := surveyed()
	run.plan.Job.DrawnLine, run.plan.Job.HeightDatum, run.plan.Findings = "as drawn", "datum", nil
	run.plan.Excavation = nil // in the plan's own words
	run.plan.Nodes = slices.Clone(run.plan.Nodes)
	for i := range run.plan.Nodes {
		run.plan.Nodes[i].Note = ""
	}
	for _, one := range []struct {
		job     job.Job
		foreign []string
		own     string
	}{
		{run.job, []string{"subgrade", "station", "leveling", "trench section", "bedding stone", "utility", "feet", "zero"}, "formation"},
		{inFeet(run.job), []string{"formation", "chainage", "trough", " unit ", "buried service", "stop end", "metre", "nought", " mm", " m "}, "subgrade"},
	} {
		style := StyleFor(one.job, A3)
		text := printed(t, append(LongSection(run.plan, one.job, style), LevelCards(run.plan, one.job, style)...)...)
		for _, w := range one.foreign {
			if i := strings.Index(text, w); i >= 0 {
				t.Errorf("%s says %q: … %s …", style.Words, w, text[max(0, i-40):min(len(text), i+40)])
			}
		}
		if !strings.Contains(text, one.own) {
			t.Errorf("%s does not say %q", style.Words, one.own)
		}
	}
}

// The legend of a sheet of the long section has a sign for what that sheet shows and for nothing else: outlets, pins, lows and
// changes of grade are looked up in the plan by the legs that it names.
func TestTheLegendOfASectionIsThatOfItsSheet(t *testing.T) {
	with, without := 0, 0
	everyDig(t, A3, func(name string, d *draft) {
		v := newSection(d)
		if !d.solvedLevels() {
			return
		}
		for _, rows := range v.pages() {
			signs := map[string]bool{}
			for _, k := range v.keyItems(rows) {
				signs[k.word] = k.used
			}
			shown := func(leg string, at measure.Length) bool {
				for i := range rows {
					for _, one := range rows[i].parts() {
						if p := one.places; d.plan.Legs[one.leg].Name == leg && measure.MM(at) >= p[0].Chainage-1e9 && measure.MM(at) <= p[len(p)-1].Chainage+1e9 {
							return true
						}
					}
				}
				return false
			}
			want := false
			for _, o := range d.job.Levels.Outlets {
				want = want || shown(o.Leg, o.At)
			}
			if signs["outlet"] != want {
				t.Errorf("%s: the legend of a sheet has an outlet: %v, the sheet: %v", name, signs["outlet"], want)
			}
			if want {
				with++
			} else {
				without++
			}
		}
	})
	if with < 3 || without < 3 {
		t.Errorf("%d sheets with an outlet, %d without", with, without)
	}
}
