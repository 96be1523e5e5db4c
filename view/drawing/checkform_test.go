package drawing

import (
	"math"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
)

// Every place has its wanted level on the page of the formation, of the pads and of the covers, as the plan has it; nothing
// lies on anything else, and no row is lower than what a gloved hand writes in.
func TestCheckingPagesWantWhatThePlanWants(t *testing.T) {
	run := surveyed()
	rows := 0
	bare := inFeet(run.job)
	bare.Rules = job.Rules{}
	for name, j := range map[string]job.Job{"metric": run.job, "feet": bare} {
		d := newDraft(run.plan, j, StyleFor(j, A4))
		pages := CheckPages(run.plan, j, d.style)
		for _, page := range pages {
			checkPage(t, "checks "+name, page)
		}
		for _, k := range d.checkKinds() {
			text := ""
			for _, page := range pages {
				if strings.HasPrefix(page.Name, "check-"+k.name+"-") {
					text += "\n" + printed(t, page)
				}
			}
			for _, r := range run.plan.SetOut {
				place := r.Place
				if first, second, ok := strings.Cut(r.Place, "/"); ok && strings.Contains(text, "\nend of "+first+"\n"+d.chainageFigure(r.Chainage)+"\n") {
					place = "start of " + second // a step: the unit before has a row of its own
				}
				want := "\n" + place + "\n" + d.chainageFigure(r.Chainage) + "\n" + d.levelFigure(k.level(r.Levels)) + "\n"
				rows++
				if !strings.Contains(text, want) {
					t.Errorf("%s, %s: no %q", name, k.of, want)
				}
			}
			if k.tolerance.Known == strings.Contains(squeezed(text), squeezed("NOT CHECKED: no tolerance for the level of the "+k.of+" on file")) {
				t.Errorf("%s, %s: NOT CHECKED stands where there is a tolerance, or does not where there is none", name, k.of)
			}
		}
	}
	if rows < 600 || checkRowHigh < 8 {
		t.Errorf("%d rows, %v mm high", rows, checkRowHigh)
	}
}

// Where the units change their height the unit before a joint has a row of its own, with its own pad: worked from the plan,
// whose units are rigid.
func TestAStepHasARowOfItsOwn(t *testing.T) {
	run := surveyed()
	d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
	k := d.checkKinds()[1]
	steps := 0
	for _, rows := range d.places() {
		for i := 1; i+1 < len(rows); i++ {
			a, b := rows[i-1].Levels, rows[i].Levels
			deep := func(l, m float64) float64 { return l - m }
			if drop := deep(*a.Wall, *a.PadTop) - deep(*b.Wall, *b.PadTop); drop < 0.0005 && drop > -0.0005 {
				continue
			}
			steps++
			mark, _, _ := strings.Cut(rows[i].Place, "/")
			found := false
			for _, r := range d.checkRows(k) {
				if r.place == "end of "+mark && r.at == rows[i].Chainage {
					found = true
					if want := *b.Walls[0] - deep(*a.Wall, *a.PadTop); r.left-want > 1e-6 || want-r.left > 1e-6 {
						t.Errorf("under %s: %v is wanted, the unit before asks for %v", mark, r.left, want)
					}
				}
			}
			if !found {
				t.Errorf("no row under %s, where the pads step", mark)
			}
		}
	}
	if steps == 0 {
		t.Error("nothing steps in this run, and nothing was tried")
	}
}

// A tolerance that is on file is printed as it was entered, on its own pages alone; without levels there is nothing to check.
func TestToleranceOfTheContract(t *testing.T) {
	run := surveyed()
	j := run.job
	j.Rules = job.Rules{BedTol: job.Known(5 * measure.Millimetre)}
	for _, p := range CheckPages(run.plan, j, StyleFor(j, A4)) {
		bed := strings.HasPrefix(p.Name, "check-bed")
		if text := printed(t, p); strings.Contains(text, "Either way 5.0 mm") != bed || strings.Contains(text, "NOT CHECKED") == bed {
			t.Errorf("%s: %s", p.Name, text[:200])
		}
	}
	p, small := smallRun()
	if pages := CheckPages(p, small, StyleFor(small, A4)); len(pages) > 0 {
		t.Errorf("%d pages without levels", len(pages))
	}
}

// A page is levelled from the benchmarks that lie near what stands on it: the nearest to its first row and the nearest to its
// last, and no benchmark from which a leg is set out is on no page.
func TestCheckingPagesNameTheBenchmarksNearTheirRows(t *testing.T) {
	for _, run := range cardViews() {
		d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
		said := map[string]bool{}
		pages := CheckPages(run.plan, run.job, d.style)
		at := map[string]planner.SetOut{}
		for _, r := range run.plan.SetOut {
			at[r.Place] = r
		}
		for _, page := range pages {
			lines := strings.Split(printed(t, page), "\n")
			text := strings.Join(lines, "\n")
			var on []planner.SetOut
			for _, l := range lines {
				if r, ok := at[l]; ok {
					on = append(on, r)
				}
			}
			for _, r := range []planner.SetOut{on[0], on[len(on)-1]} {
				best, far := "", math.Inf(1)
				for _, b := range run.plan.Benchmarks {
					if apart := math.Hypot(*b.E-r.E, *b.N-r.N); apart < far {
						best, far = b.ID, apart
					}
				}
				if want := "benchmark " + best + ", level"; !strings.Contains(strings.ToLower(text), strings.ToLower(want)) {
					t.Errorf("%s, %s: %s lies nearest to %s and is not on the page", run.name, page.Name, best, r.Place)
				}
			}
			for _, b := range run.plan.Benchmarks {
				said[b.ID] = said[b.ID] || strings.Contains(text, " "+b.ID+", level "+d.levelFigure(b.Level))
			}
		}
		for _, b := range run.plan.Benchmarks {
			if !said[b.ID] {
				t.Errorf("%s: %s is on no page", run.name, b.ID)
			}
		}
	}
}

// The foot of a card of joints says by how much each of the levels on it may be off, and which of them has no tolerance.
func TestCardsSayOfWhichLevelTheToleranceIs(t *testing.T) {
	run := surveyed()
	j := run.job
	j.Rules.BedTol, j.Rules.FormationTol = job.Known(3*measure.Millimetre), job.Known(20*measure.Millimetre)
	both := cardTexts(t, run.plan, j)
	j.Rules.FormationTol = job.Entry[measure.Length]{}
	one := cardTexts(t, run.plan, j)
	looked := 0
	for name := range both {
		if !ofJoints(name) {
			continue
		}
		looked++
		for text, want := range map[string]string{
			strings.Join(both[name], " "): "either way: pad top 3.0 mm, formation 20.0 mm",
			strings.Join(one[name], " "):  "either way: pad top 3.0 mm; NOT CHECKED: no tolerance on file for the level of: formation",
		} {
			if !strings.Contains(text, want) {
				t.Errorf("%s does not say %q: %s", name, want, text)
			}
		}
	}
	if looked < 30 {
		t.Errorf("%d cards were looked at", looked)
	}
}
