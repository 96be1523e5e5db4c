package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// letteringsOf are all lines of lettering of a page.
func letteringsOf(t *testing.T, p scene.Page) []scene.Lettering {
	t.Helper()
	var all lines
	if err := scene.Draw(p, &all); err != nil {
		t.Fatal(err)
	}
	return all
}

type lines []scene.Lettering

func (l *lines) Shape(scene.Outline, scene.Colour, scene.Stroke) {}
func (l *lines) Begin(scene.Scope)                               {}
func (l *lines) End()                                            {}
func (l *lines) Link(scene.Box, string)                          {}
func (l *lines) Letter(one scene.Lettering)                      { *l = append(*l, one) }

// demoSheets are all sheets of the demo jobs on A3 and A1, by what they are called in a fault. They are made once.
var demoSheets = sync.OnceValue(func() (all []struct {
	name string
	page scene.Page
}) {
	for _, run := range allRuns() {
		if !slices.Contains(demo.Names(), run.name) {
			continue
		}
		for _, size := range []Size{A3, A1} {
			style, head := StyleFor(run.job, size), "revision "+run.plan.Job.Revision
			for _, page := range append(Bind(Sheets(run.plan, run.job, style), head), Bind(ProgrammeSheets(run.plan, run.job, style), head)...) {
				all = append(all, struct {
					name string
					page scene.Page
				}{fmt.Sprintf("%s %s, %s", run.name, size, page.Name), page})
			}
		}
	}
	return all
})

// everySheet calls try with every sheet of the demo jobs on A3 and A1.
func everySheet(t *testing.T, try func(name string, page scene.Page)) {
	t.Helper()
	if len(demoSheets()) < 60 {
		t.Fatalf("only %d sheets", len(demoSheets()))
	}
	for _, s := range demoSheets() {
		try(s.name, s.page)
	}
}

// Whoever reads a sheet on A3 at arm's length reads capitals of 1.8 mm: the smallest height of technical lettering (ISO 3098,
// from memory).
func TestNoSheetLettersSmallerThanCanBeRead(t *testing.T) {
	everySheet(t, func(name string, page scene.Page) {
		for _, l := range letteringsOf(t, page) {
			if l.Size < 1.8-1e-9 {
				t.Errorf("%s: %q is %.2f mm high", name, l.String, l.Size)
			}
		}
	})
}

// Nothing on a sheet of the demo jobs is cut short for want of room.
func TestNothingOnASheetIsCutShort(t *testing.T) {
	everySheet(t, func(name string, page scene.Page) {
		for _, l := range letteringsOf(t, page) {
			if strings.Contains(l.String, "…") {
				t.Errorf("%s: %q", name, l.String)
			}
		}
	})
}

// Every unit, plain ones too, is named on a plan of the demo jobs, by a label of its own.
func TestThePlanNamesEveryUnit(t *testing.T) {
	for _, name := range demo.Names() {
		p, j := planned(t, name)
		for _, size := range []Size{A3, A1} {
			named := map[string]bool{}
			for _, page := range PlanSheets(p, j, StyleFor(j, size)) {
				for _, l := range letteringsOf(t, page) {
					mark, _, _ := strings.Cut(l.String, ",")
					named[mark] = true
				}
			}
			for _, u := range p.Units {
				if !named[u.Mark] {
					t.Errorf("%s %s: %s is not on the plan", name, size, u.Mark)
				}
			}
		}
	}
}

// Where a branch leaves a plan sheet, the sheet says where it goes on; where the branch finds its place on it, it has no sheet of
// its own.
func TestABranchSaysWhereItGoesOn(t *testing.T) {
	run := onItsGround("tram-depot")
	for size, sheets := range map[Size]int{A3: 2, A1: 1} {
		tee := 0
		for i, page := range PlanSheets(run.plan, run.job, StyleFor(run.job, size))[1:] { // the first one is the overview
			text := printed(t, page)
			if !strings.Contains(text, "T1 cast tee") {
				continue
			}
			tee++
			for _, leg := range []string{"D", "E", "H"} {
				title := strings.Contains(page.Title, "leg "+leg) || strings.Contains(page.Title, "legs C to E") && leg != "H" || strings.HasSuffix(page.Title, "D, E and H")
				if !title && !strings.Contains(text, "leg "+leg+": plan ") {
					t.Errorf("%s: plan %d does not say where leg %s is", size, i+2, leg)
				}
			}
		}
		if tee != sheets {
			t.Errorf("%s: the tee is on %d sheets", size, tee)
		}
	}
}

// A radius is a ground length, as the job states it, although the plan keeps it between coordinates.
func TestARadiusIsSaidOnTheGround(t *testing.T) {
	p, j := planned(t, "tram-depot")
	text := printed(t, PlanSheets(p, j, StyleFor(j, A3))...)
	arcs := 0
	for _, l := range j.Route.Legs {
		for _, v := range l.Via {
			if v.Radius == 0 {
				continue
			}
			arcs++
			if want := "R " + (measure.Format{Survey: true, Places: 3}).Length(v.Radius); !strings.Contains(text, want) {
				t.Errorf("leg %s: %q is not on the plan", l.ID, want)
			}
		}
	}
	if arcs == 0 {
		t.Error("no leg has a curve")
	}
}

// Of two places that are as near, a label takes the one from which its leader crosses no other line.
func TestALabelCrossesALineOnlyWhereItMust(t *testing.T) {
	to := scene.Point{X: 50, Y: 50}
	all := note(to, "word", 1.8, scene.Regular, 0, scene.Arrow)
	crosses := func(r *room) bool {
		fence := convex(scene.Point{X: 52, Y: 0}, scene.Point{X: 52, Y: 100})
		r.line(fence.points[0], fence.points[1])
		marks, ok := r.put(all...)
		if !ok {
			t.Fatal("no room")
		}
		return slices.ContainsFunc(noted(0, marks...).strokes, func(s shape) bool { return s.meets(fence) })
	}
	if crosses(&room{within: scene.BoxAt(scene.Point{}, 100, 100)}) {
		t.Error("the leader crosses a line, with room on the other side of it")
	}
	if !crosses(&room{within: scene.BoxAt(scene.Point{X: 49}, 51, 100)}) {
		t.Error("the leader does not cross the line, and has nowhere else to go")
	}
}

// The word of an end stands under its sign, on the side of the leg that it ends.
func TestPolesOfEndsStandAtTheirSigns(t *testing.T) {
	ends := 0
	everyRun(t, func(name string, p planner.Plan, j job.Job) {
		d := newDraft(p, j, StyleFor(j, A3))
		for _, part := range d.chains {
			for _, c := range d.cellsOf(part, 200) {
				n := d.node(c.node)
				if c.node == "" || n.Kind != "end" {
					continue
				}
				ends++
				x := d.nodePole(c)
				box, _ := endBox(c, p.Legs[c.leg].From == c.node)
				if n.Made == "open" {
					box = scene.Box{Left: c.x, Right: c.x + c.width}
				}
				if x < box.Left-1e-9 || x > box.Right+1e-9 {
					t.Errorf("%s, %s %s: pole at %.2f, sign from %.2f to %.2f", name, n.ID, n.Made, x, box.Left, box.Right)
				}
			}
		}
	})
	if ends < 40 {
		t.Errorf("only %d ends were looked at", ends)
	}
}

// The elbow of a cast bend reaches half the width over cos of half the turn, on the outside: the closed form of two walls
// that meet.
func TestACastBendIsClosedOnTheOutside(t *testing.T) {
	const half = 0.35
	for turn := -150.0; turn <= 150; turn += 15 {
		in, out := heading(90).times(-1), heading(90+turn) // coming from the west
		c, ok := elbow(spot{3, 4}, arm{out: in, half: half}, arm{out: out, half: half})
		if math.Abs(turn) < 10 {
			if ok {
				t.Errorf("a turn of %v° has an elbow", turn)
			}
			continue
		}
		corner := c[2].sub(spot{3, 4})
		want := half / math.Cos(turn/2*math.Pi/180)
		if !ok || math.Abs(corner.length()-want) > 1e-9 {
			t.Errorf("a turn of %v°: the corner is %.4f m off, %.4f was expected", turn, corner.length(), want)
		}
		if dot(corner, in) > 0 || dot(corner, out) > 0 {
			t.Errorf("a turn of %v°: the corner lies inside the bend", turn)
		}
	}
}

// A unit that waits for a measurement waits on its detail too: its planned length is not for the saw.
func TestAHeldUnitIsHeldOnItsDetail(t *testing.T) {
	p, j := planned(t, "tram-depot")
	d := newDraft(p, j, StyleFor(j, A3))
	s := d.detailSheet(nil, 1)
	held := 0
	for _, u := range p.Units {
		if fact := s.unitFact(u); u.Hold != strings.HasPrefix(fact, "HOLD, cut from measurement") {
			t.Errorf("%s: %q", u.Mark, fact)
		} else if u.Hold {
			held++
		}
	}
	if held == 0 {
		t.Error("no unit is on hold")
	}
}

// What must not be undercut is rounded up.
func TestAtLeastRoundsUp(t *testing.T) {
	for _, c := range []struct {
		mm       float64
		imperial bool
		want     string
	}{
		{704.186976, false, "at least 705 mm"}, {704, false, "at least 704 mm"}, {704.000001, false, "at least 705 mm"},
		{824.782857, true, `at least 2'-8 1/2"`}, {25.4, true, `at least 1"`}, {25.400001, true, `at least 1 1/16"`},
	} {
		var style Style
		if c.imperial {
			style.Format.System = measure.Imperial
		}
		d := newDraft(planner.Plan{}, job.Job{}, style)
		if got := d.atLeast(length(c.mm)); got != c.want {
			t.Errorf("%v mm: %q, %q was expected", c.mm, got, c.want)
		}
	}
}
