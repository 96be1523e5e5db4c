package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job/planner"
	"trenchwright/view/groundin"
	"trenchwright/view/scene"
)

// dugRuns are the demo jobs that are planned on surveys of their own.
var dugRuns = sync.OnceValue(func() []triedRun {
	var out []triedRun
	for _, run := range allRuns() {
		if len(run.job.Ground.Surfaces) == 0 {
			continue
		}
		g, found := groundin.Survey(run.job, demo.Open)
		if found.Any(finding.Fault) {
			continue
		}
		if p := planner.Make(g.Job, g.Surfaces...); p.Dig != nil {
			out = append(out, triedRun{name: run.name, plan: p, job: g.Job})
		}
	}
	return out
})

// everyDig calls try with every demo job that is dug, in its own system and in the other.
func everyDig(t *testing.T, size Size, try func(name string, d *draft)) {
	t.Helper()
	if len(dugRuns()) == 0 {
		t.Fatal("no demo job is dug")
	}
	for _, run := range dugRuns() {
		try(run.name, newDraft(run.plan, run.job, StyleFor(run.job, size)))
		if run.job.System != "imperial" {
			j := inFeet(run.job)
			try(run.name+" in feet", newDraft(run.plan, j, StyleFor(j, size)))
		}
	}
}

// Every sheet of the dig can be read, on both sizes and in both systems.
func TestSheetsOfTheDigCanBeRead(t *testing.T) {
	for _, size := range []Size{A3, A1} {
		everyDig(t, size, func(name string, d *draft) {
			pages := digPages(d)
			if len(pages) == 0 {
				t.Errorf("%s: no sheet of the dig", name)
			}
			for _, p := range Bind(pages, "revision P02") {
				checkPage(t, name+" "+size.String(), p)
				for _, l := range letteringsOf(t, p) {
					if l.Size < 1.8-1e-9 || strings.Contains(l.String, "…") {
						t.Errorf("%s %s, %s: %q is %.2f mm high", name, size, p.Name, l.String, l.Size)
					}
				}
			}
		})
	}
}

func digPages(d *draft) []scene.Page {
	return slices.Concat(CrossSections(d.plan, d.job, d.style), DigSheets(d.plan, d.job, d.style), RunningVolumes(d.plan, d.job, d.style))
}

// A dig sheet pegs the edges where the plan has them, and says what every rule says; the running volumes end with the plan's.
func TestDigSheetsSayWhatThePlanSays(t *testing.T) {
	figures := 0
	everyDig(t, A3, func(name string, d *draft) {
		text := strings.ReplaceAll("\n"+printed(t, slices.Concat(DigSheets(d.plan, d.job, d.style), RunningVolumes(d.plan, d.job, d.style))...), "\n", " ")
		look := func(what, want string) {
			figures++
			if !strings.Contains(text, " "+want+" ") {
				t.Errorf("%s, %s: %q is not on the sheets", name, what, want)
			}
		}
		metres, _, places := d.coordinateUnit()
		for _, l := range d.plan.Dig.Legs {
			for _, m := range l.Marks {
				row := []string{d.chainageFigure(m.At), d.figure(m.ToFormation)}
				if float64(m.Depth-m.ToFormation) >= 1e6 {
					row = append(row, d.figure(m.Depth)) // of the drain's trench
				}
				row = append(row, fmt.Sprintf("%.*f", places, float64(m.Formation)/1e9/metres), d.figure(-m.EdgeLeft), d.figure(m.EdgeRight), d.figure(m.BottomRight), d.figure(m.BottomRight-m.BottomLeft), d.figure(m.EdgeRight-m.EdgeLeft))
				look("mark of leg "+l.Leg, strings.Join(row, " "))
			}
			end := l.Running[len(l.Running)-1]
			look("leg "+l.Leg, "dug "+d.volumeFigure(l.Volumes.Dug))
			look("leg "+l.Leg, "fill and topsoil put back "+d.volumeFigure(l.Volumes.Fill+l.Volumes.TopsoilBack))
			look("leg "+l.Leg, d.words.bed+", in place "+d.volumeFigure(l.Volumes.Stone))
			if end.Leaves != nil {
				look("leg "+l.Leg, "leaves "+d.volumeFigure(*end.Leaves))
			}
		}
		for _, x := range d.plan.Excavation {
			for _, r := range x.Results {
				look("rule of leg "+x.Leg, r.What+": "+r.Verdict)
			}
		}
	})
	if figures < 200 {
		t.Errorf("only %d figures were looked for", figures)
	}
}

// Without factors, sides or room nothing is made up: the sheets say what is not on file.
func TestSheetsOfTheDigInventNothing(t *testing.T) {
	run := dugRuns()[0]
	p := run.plan
	dig := *p.Dig
	dig.Legs, dig.Sections = slices.Clone(dig.Legs), slices.Clone(dig.Sections)
	for i := range dig.Legs {
		dig.Legs[i].Marks, dig.Legs[i].Running = nil, slices.Clone(dig.Legs[i].Running)
		for k := range dig.Legs[i].Running {
			dig.Legs[i].Running[k].Leaves, dig.Legs[i].Running[k].Mass = nil, nil
		}
	}
	for i := range dig.Sections {
		s := &dig.Sections[i]
		s.Bottom, s.Top, s.Depth, s.Sides, s.Beside = nil, nil, nil, "", nil
		s.Missing = []string{"NOT CHECKED: no slope of the sides on file. Ask: the competent person"}
		s.Areas = slices.DeleteFunc(slices.Clone(s.Areas), func(a planner.SectionArea) bool { return a.Of != "unit" && a.Of != "cover" })
	}
	p.Dig = &dig
	d := newDraft(p, run.job, StyleFor(run.job, A3))
	pages := digPages(d)
	text := strings.ReplaceAll(printed(t, pages...), "\n", " ")
	for _, want := range []string{"no slope of the sides on file", "what leaves: NOT CHECKED: no factor for bulking on file", "no edge of the dig is given here"} {
		if !strings.Contains(text, want) {
			t.Errorf("nothing says %q", want)
		}
	}
	for _, not := range []string{" deep, bottom ", "edges "} {
		if strings.Contains(text, not) {
			t.Errorf("%q is said of sides that nobody entered", not)
		}
	}
	for _, page := range Bind(pages, "") {
		checkPage(t, "bare", page)
	}
}

// What stands on a cross section is what the plan says: levels, widths, areas, edges, and what is missing.
func TestCrossSectionsSayWhatThePlanSays(t *testing.T) {
	figures := 0
	everyDig(t, A3, func(name string, d *draft) {
		text := printed(t, CrossSections(d.plan, d.job, d.style)...)
		for _, s := range d.plan.Dig.Sections {
			wants := []string{d.chainage(s.At)}
			for _, z := range []*measure.MM{s.Levels.Cover, s.Levels.Wall, s.Levels.Invert, s.Levels.Underside, s.Levels.Formation, s.Levels.Existing, s.Levels.Finished, s.Levels.PadBase} {
				if z != nil {
					metres, _, places := d.coordinateUnit()
					wants = append(wants, fmt.Sprintf(" %.*f", places, float64(*z)/1e9/metres))
				}
			}
			if s.Depth != nil {
				wants = append(wants, d.length(*s.Depth)+" deep", "bottom "+d.length(s.Bottom.Width)+" wide", "edges "+d.length(-s.Top.Left[0])+" left", d.length(s.Top.Right[0])+" right")
			}
			for _, w := range append(s.Missing, wants...) {
				figures++
				if !strings.Contains(strings.ReplaceAll(text, "\n", " "), w) {
					t.Errorf("%s, section %s %s: %q is not on the sheets", name, s.Leg, d.chainage(s.At), w)
				}
			}
		}
	})
	if figures < 300 {
		t.Errorf("only %d figures were looked for", figures)
	}
}

// A section is drawn where the plan has it: corners of the dig at their offsets and levels, to the scale that is said.
func TestCrossSectionsAreToScale(t *testing.T) {
	d := newDraft(dugRuns()[0].plan, dugRuns()[0].job, StyleFor(dugRuns()[0].job, A3))
	c := cut{DigSection: d.plan.Dig.Sections[0], scale: 25, left: -2000, right: 2000}
	p := cutPaper{frame: scene.Box{Left: 10, Top: 20, Right: 170, Bottom: 100}, c: &c}
	c.low, c.high = mm(*c.Levels.Formation), mm(*c.Levels.Formation)+1000
	a, b := p.of(c.Bottom.Left), p.of(c.Bottom.Right)
	if got, want := (b.X-a.X)*25, mm(c.Bottom.Width); got < want-1e-6 || got > want+1e-6 {
		t.Errorf("the bottom is drawn %.6f mm wide, it is %.6f mm", got, want)
	}
	top := p.of(c.Top.Right)
	if got, want := (b.Y-top.Y)*25, mm(c.Top.Right[1])-mm(c.Bottom.Right[1]); got < want-1e-6 || got > want+1e-6 {
		t.Errorf("the right edge is drawn %.6f mm up, it is %.6f mm", got, want)
	}
}

// Two rows of sections stand on a page wherever two find room: before the last one a page holds one row only where it or the next
// is higher than half a page, which few are; and the smallest run takes no more pages than its deepest section asks for.
func TestCrossSectionsFillTheirPages(t *testing.T) {
	for _, run := range []triedRun{surveyed(), yard()} {
		v := newDraft(run.plan, run.job, StyleFor(run.job, A3)).acrossOf()
		pages, alone := v.pages(), 0
		for i, rows := range pages[:len(pages)-1] {
			if len(rows) > 1 {
				continue
			}
			if alone++; math.Max(v.highest(rows[0]), v.highest(pages[i+1][0])) <= v.half() {
				t.Errorf("%s: page %d of %d holds one row", run.name, i+1, len(pages))
			}
		}
		if alone > len(pages)/5 {
			t.Errorf("%s: %d of %d pages hold one row", run.name, alone, len(pages))
		}
	}
	hand := onItsGround("hand-troughs")
	v := newDraft(hand.plan, hand.job, StyleFor(hand.job, A3)).acrossOf()
	if pages := v.pages(); len(pages) > 4 {
		t.Errorf("%d pages for %d sections of hand-troughs", len(pages), len(v.cuts()))
	}
}

// A face has one name: the sections of the dig speak of the top of a pad at a joint and of the bed where a unit has none, as the
// long section and the cards do.
func TestFacesHaveOneName(t *testing.T) {
	for _, c := range []struct {
		run       triedRun
		says, not []string
	}{
		{surveyed(), []string{"pad top 3", "bed under the pad 3"}, []string{"pad base"}},
		{yard(), []string{"bedding stone top 4"}, []string{"underside 4", "pad base"}},
	} {
		text := printed(t, CrossSections(c.run.plan, c.run.job, StyleFor(c.run.job, A3))...)
		for _, want := range c.says {
			if !strings.Contains(text, want) {
				t.Errorf("%s: no section says %q", c.run.name, want)
			}
		}
		for _, word := range c.not {
			if strings.Contains(text, word) {
				t.Errorf("%s: a section says %q", c.run.name, word)
			}
		}
	}
}
