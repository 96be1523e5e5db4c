package drawing

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job/planner"
)

// Every grade of the drain stands below the long section, and a driver's depth to the formation is never that of its trench.
func TestTheDrainHasItsGradesOnTheSection(t *testing.T) {
	drains := 0
	everyDig(t, A1, func(name string, d *draft) {
		if !d.drained() {
			return
		}
		text := printed(t, LongSection(d.plan, d.job, d.style)...)
		for _, g := range d.plan.Drain.Grades {
			drains++
			want := slopeOf(planner.GradeRun{Grade: g.Grade}).size
			if !strings.Contains(text, strings.TrimSuffix(want, " %")) {
				t.Errorf("%s: no grade %s of the drain of leg %s on the section", name, want, g.Leg)
			}
		}
		for _, l := range d.plan.Dig.Legs {
			for _, m := range l.Marks {
				if m.ToFormation > m.Depth+1e6 {
					t.Errorf("%s, leg %s: formation %v deep, all %v", name, l.Leg, m.ToFormation, m.Depth)
				}
			}
		}
	})
	if drains < 10 {
		t.Errorf("only %d grades were looked for", drains)
	}
}

// A running volume stands where its place stands on the section's axis, as high as the plan has it.
func TestRunningVolumesStandOnTheSectionsAxis(t *testing.T) {
	seen := 0
	everyDig(t, A3, func(name string, d *draft) {
		if !d.solvedLevels() {
			return
		}
		v := newSection(d)
		for _, rows := range v.pages() {
			for _, r := range rows {
				legs, on := v.runningOn(&r)
				for i, l := range legs {
					line := runningLine(l, v.runningCurves(l)[0], on[i], func(value float64) float64 { return -value })
					for _, p := range on[i].places {
						for n, run := range l.Running {
							if run.At != p.Chainage {
								continue
							}
							seen++
							want, _ := d.style.Format.Volume(measure.Volume(run.Dug))
							if math.Abs(line[n].X-p.x) > 1e-6 || math.Abs(line[n].Y+want) > 1e-9 {
								t.Errorf("%s, %s: %.3f at %.3f mm, want %.3f at %.3f mm", name, p.Place, -line[n].Y, line[n].X, want, p.x)
							}
						}
					}
				}
			}
		}
	})
	if seen < 100 {
		t.Errorf("only %d places were looked at", seen)
	}
}

var gradeSaidOver = regexp.MustCompile(`(?:over|,) ([0-9.]+) m$`)

// A grade on the long section is as long as the chainages of its two places, which the section and the cards print, lie apart, and
// none stands without its unit.
func TestGradesOnTheSectionAreAsLongAsTheirPlacesLieApart(t *testing.T) {
	boxes := 0
	everyDig(t, A3, func(name string, d *draft) {
		if !d.solvedLevels() || d.style.Format.System == measure.Imperial {
			return
		}
		at := map[string]float64{}
		for _, r := range d.plan.SetOut {
			at[r.Leg+" "+r.Place] = number(t, d.chainageFigure(r.Chainage))
		}
		var said []string
		want := map[string]int{}
		for _, g := range d.plan.Grades {
			want[fmt.Sprintf("%.3f", at[g.Leg+" "+g.To]-at[g.Leg+" "+g.From])]++
		}
		for _, page := range LongSection(d.plan, d.job, d.style) {
			for _, x := range letteringsOf(t, page) {
				said = append(said, strings.Split(strings.TrimPrefix(x.String, "Grades: "), "; ")...)
			}
		}
		found := map[string]bool{}
		for _, text := range said {
			if regexp.MustCompile(`^[0-9.]+ (?:[↘↗] )?\([0-9]+\)$`).MatchString(text) {
				t.Errorf("%s: %q has no unit", name, text)
			}
			if m := gradeSaidOver.FindStringSubmatch(text); m != nil && strings.ContainsAny(text, "↘↗→") {
				boxes++
				found[m[1]] = true
			}
		}
		for long := range want {
			near := false
			for _, off := range []float64{-0.001, 0, 0.001} { // both chainages were rounded
				near = near || found[fmt.Sprintf("%.3f", number(t, long)+off)]
			}
			if !near {
				t.Errorf("%s: no grade is %s m long on the section: %v", name, long, found)
			}
		}
	})
	if boxes < 30 {
		t.Errorf("only %d grades were looked at", boxes)
	}
}
