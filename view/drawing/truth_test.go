package drawing

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"sync"
	"testing"

	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/jobtext"
	"trenchwright/view/scene"
)

// triedRun is one plan of these tests.
type triedRun struct {
	name string
	plan planner.Plan
	job  job.Job
}

// allRuns are the plans of these tests: built by hand, from seeds, and planned from the demo jobs. They are made once.
var allRuns = sync.OnceValue(func() []triedRun {
	var all []triedRun
	for _, run := range runs() {
		p, j := run.make()
		all = append(all, triedRun{run.name, p, j})
	}
	for seed := range uint64(20) {
		p, j := randomRun(seed)
		all = append(all, triedRun{fmt.Sprintf("seed %d", seed), p, j})
	}
	for _, name := range demo.Names() {
		text, err := demo.File(name)
		if err != nil {
			panic(err)
		}
		j, faults := jobtext.Read(name+".yaml", bytes.NewReader(text))
		if len(faults) > 0 {
			panic(faults[0].String())
		}
		all = append(all, triedRun{name, planner.Make(j), j})
	}
	return all
})

// everyRun calls try with every plan of these tests.
func everyRun(t *testing.T, try func(name string, p planner.Plan, j job.Job)) {
	t.Helper()
	for _, run := range allRuns() {
		try(run.name, run.plan, run.job)
	}
}

// The outline that is drawn of a cut unit has the sides and diagonals that its card prints (closed form, no source): a
// wrong hand would swap them.
func TestDrawnCornersAgreeWithPrintedSides(t *testing.T) {
	everyRun(t, func(name string, p planner.Plan, j job.Job) {
		d := newDraft(p, j, Style{})
		factor := groundOverGrid(p)
		for _, u := range p.Units {
			if u.Piece == nil {
				continue
			}
			half := d.unitWidth(u.Supply) / 2000
			c := footprint(at(u.Axis[0]), at(u.Axis[0]).to(at(u.Axis[1]), factor), half, u.StartAngle, u.EndAngle)
			for _, m := range []struct {
				what string
				a, b spot
				want float64
			}{
				{"left side", c[0], c[1], mm(u.Piece.LeftSide)}, {"right side", c[3], c[2], mm(u.Piece.RightSide)},
				{"diagonal from left start", c[0], c[2], mm(u.Piece.DiagonalA)}, {"diagonal from right start", c[3], c[1], mm(u.Piece.DiagonalB)},
			} {
				if got := m.b.sub(m.a).length() * 1000; math.Abs(got-m.want) > 2 {
					t.Errorf("%s, %s: %s drawn %.2f mm, printed %.2f mm", name, u.Mark, m.what, got, m.want)
				}
			}
		}
	})
}

// groundOverGrid is how much longer lengths are on the ground than between the plan's coordinates.
func groundOverGrid(p planner.Plan) float64 {
	for _, l := range p.Legs {
		if len(l.Axis) == 1 && l.Axis[0].Radius == 0 && l.SlopeRise == 0 {
			return mm(l.NodeLength) / 1000 / at(l.Axis[0].End).sub(at(l.Axis[0].Start)).length()
		}
	}
	return 1
}

// At a mitre the two faces that are drawn are parallel and the gap apart: the closed form of a mitre, whatever the angle
// and the hand.
func TestMitredFacesAreDrawnParallelAndTheGapApart(t *testing.T) {
	faces := 0
	everyRun(t, func(name string, p planner.Plan, j job.Job) {
		d := newDraft(p, j, Style{})
		for _, n := range p.Nodes {
			if n.Bend == nil {
				continue
			}
			ends := d.endsAt(n)
			if len(ends) != 2 || ends[0].first || !ends[1].first {
				continue
			}
			in, out := d.corners(ends[0].unit), d.corners(ends[1].unit)
			a, b := in[2].sub(in[1]), out[3].sub(out[0])
			faces++
			if turn := math.Mod(b.bearing()-a.bearing()+540, 360) - 180; math.Abs(turn) > 0.02 {
				t.Errorf("%s, %s: the faces of %s and %s are %.3f° out of parallel", name, n.ID, ends[0].unit.Mark, ends[1].unit.Mark, turn)
			}
			u := unitVector(a)
			way := out[0].to(out[3], 0.5).sub(in[1].to(in[2], 0.5))
			gap := math.Abs(float64(way.e*u.n)-float64(way.n*u.e)) * 1000
			if math.Abs(gap-mm(n.Bend.Gap)) > 1 {
				t.Errorf("%s, %s: gap drawn %.2f mm, planned %.2f mm", name, n.ID, gap, mm(n.Bend.Gap))
			}
		}
	})
	if faces < 30 {
		t.Errorf("only %d mitres were looked at", faces)
	}
}

// A part of an axis begins and ends where it says, and an arc bulges to the outside of its turn.
func TestAxisPartsEndWhereTheySay(t *testing.T) {
	arcs := 0
	everyRun(t, func(name string, p planner.Plan, _ job.Job) {
		for _, l := range p.Legs {
			for _, part := range l.Axis {
				from, _ := onAxis(l, mm(part.FromChainage))
				to, _ := onAxis(l, mm(part.ToChainage)-1e-6)
				if from.sub(at(part.Start)).length() > 1e-6 || to.sub(at(part.End)).length() > 1e-6 {
					t.Errorf("%s, leg %s: part from %v drawn from %v to %v", name, l.Name, part, from, to)
				}
				if part.Radius == 0 {
					continue
				}
				arcs++
				middle, _ := onAxis(l, (mm(part.FromChainage)+mm(part.ToChainage))/2)
				chord := at(part.End).sub(at(part.Start))
				off := middle.sub(at(part.Start))
				left := float64(chord.e*off.n) - float64(chord.n*off.e)
				if (left > 0) != (part.Radius > 0) {
					t.Errorf("%s, leg %s: an arc of radius %v bulges to the wrong side", name, l.Name, part.Radius)
				}
			}
		}
	})
	if arcs < 3 {
		t.Errorf("only %d arcs were looked at", arcs)
	}
}

// printed is all lettering of pages.
func printed(t *testing.T, pages ...scene.Page) string {
	t.Helper()
	var b strings.Builder
	for _, p := range pages {
		if err := scene.Draw(p, reader{&b}); err != nil {
			t.Fatal(err)
		}
	}
	return b.String()
}

type reader struct{ b *strings.Builder }

func (r reader) Shape(scene.Outline, scene.Colour, scene.Stroke) {}
func (r reader) Begin(scene.Scope)                               {}
func (r reader) End()                                            {}
func (r reader) Link(scene.Box, string)                          {}
func (r reader) Letter(l scene.Lettering)                        { r.b.WriteString(l.String + "\n") }

// The strip loses no leg, no node and no special unit, whatever else it leaves out.
func TestTheStripLosesNothingSpecial(t *testing.T) {
	everyRun(t, func(name string, p planner.Plan, j job.Job) {
		text := printed(t, Strip(p, j, StyleFor(j, A4))...)
		want := func(what string) {
			if !strings.Contains(text, what) {
				t.Errorf("%s: %q is not on the strip", name, what)
			}
		}
		for _, l := range p.Legs {
			want("Leg " + l.Name + ", ")
		}
		for _, n := range p.Nodes {
			want(n.ID + " ")
		}
		for _, u := range p.Units {
			if u.Hold {
				want(u.Mark + ", HOLD")
			} else if u.Cut {
				want(u.Mark + ", ")
			}
		}
	})
}

// Every cut unit is named on the plan sheets of the demo jobs, with its length.
func TestThePlanNamesEveryCut(t *testing.T) {
	for _, name := range demo.Names() {
		p, j := planned(t, name)
		d := newDraft(p, j, StyleFor(j, A3))
		text := printed(t, PlanSheets(p, j, d.style)...)
		for _, u := range p.Units {
			if want := u.Mark + ", " + d.length(u.Length); u.Cut && !strings.Contains(text, want) {
				t.Errorf("%s: %q is not on the plan", name, want)
			}
		}
	}
}

// The plan sheets name every node, everything that lies along the run and every special unit.
func TestThePlanLosesNothingSpecial(t *testing.T) {
	everyRun(t, func(name string, p planner.Plan, j job.Job) {
		size := []Size{A3, A1, A4}[len(p.Units)%3]
		d := newDraft(p, j, StyleFor(j, size))
		text := printed(t, PlanSheets(p, j, d.style)...)
		want := func(what string) {
			if !strings.Contains(text, what) {
				t.Errorf("%s %s: %q is not on the plan", name, size, what)
			}
		}
		for _, n := range p.Nodes {
			want(d.nodeWords(n))
		}
		for _, u := range p.Units {
			if d.special(u) {
				want(u.Mark)
			}
		}
		for _, g := range d.things {
			want(g.words)
		}
	})
}

// There is one card for each piece that is cut, with its mark and both sides on it.
func TestEveryCutHasItsCard(t *testing.T) {
	everyRun(t, func(name string, p planner.Plan, j job.Job) {
		d := newDraft(p, j, StyleFor(j, A4))
		cards := map[string]string{}
		for _, c := range CutCards(p, j, d.style) {
			cards[c.Name] = printed(t, c)
		}
		count := 0
		check := func(mark string, sides ...string) {
			count++
			for _, want := range append(sides, mark, "Silica dust", "CUT WET", "SAW", "face up, looking up-", "to the nearest") {
				if !strings.Contains(cards["card-"+nameOf(mark)], want) {
					t.Errorf("%s: card of %s does not say %q", name, mark, want)
				}
			}
		}
		for _, u := range p.Units {
			if u.Cut && u.Piece != nil {
				figures := []string{d.length(u.Piece.DiagonalA), d.length(u.Piece.DiagonalB)}
				if u.Hold { // those of the cut are not known
					figures = []string{"HOLD", "MEASURE", "TAKE OFF", "planned clear", d.length(u.Length) + " on the axis"}
				}
				check(u.Mark, append(figures, "left "+d.length(u.Piece.LeftSide), "right "+d.length(u.Piece.RightSide))...)
			}
		}
		for _, c := range p.Covers {
			if c.Cut {
				check(c.Mark, "left "+d.length(c.LeftSide), "right "+d.length(c.RightSide))
			}
		}
		if count != len(cards) {
			t.Errorf("%s: %d pieces are cut, there are %d cards", name, count, len(cards))
		}
	})
}

// Every bend, tee and cross has its detail.
func TestEveryNodeHasItsDetail(t *testing.T) {
	everyRun(t, func(name string, p planner.Plan, j job.Job) {
		text := printed(t, Details(p, j, StyleFor(j, A3))...)
		for _, n := range p.Nodes {
			if n.Kind != "end" && !strings.Contains(text, n.ID+"  ") {
				t.Errorf("%s: no detail of %s", name, n.ID)
			}
		}
	})
}

// Every sheet says whose job it shows, in which state, and what is not known of its coordinates.
func TestEverySheetSaysWhereItComesFrom(t *testing.T) {
	p, j := smallRun()
	for _, page := range pagesOf(p, j, StyleFor(j, A3)) {
		text := strings.ReplaceAll(printed(t, page), "\n", " ")
		want := []string{p.Job.Name, p.Job.Hash[:12], p.Job.Revision, p.Job.On}
		if kindOf(page) != "card" {
			want = append(want, p.Job.DrawnLine, p.Job.Grid, p.Job.HeightDatum, "no combined scale factor on file", "to the nearest 1 mm")
		}
		for _, w := range want {
			if !strings.Contains(text, w) {
				t.Errorf("%s does not say %q", page.Name, w)
			}
		}
	}
}

// The same plan gives the same bytes.
func TestSamePlanSameBytes(t *testing.T) {
	write := func() []byte {
		p, j := smallRun()
		var b bytes.Buffer
		for _, page := range Bind(pagesOf(p, j, StyleFor(j, A3)), "P02") {
			if err := scene.WriteSVG(&b, page); err != nil {
				t.Fatal(err)
			}
		}
		return b.Bytes()
	}
	if !bytes.Equal(write(), write()) {
		t.Error("two drawings of one plan differ")
	}
}

// A leg that nothing could be laid on is drawn as an empty frame with the reason; a plan without legs has no sheets.
func TestWhatCouldNotBeLaidIsSaid(t *testing.T) {
	p, j := smallRun()
	p.Legs[3].Verdict, p.Legs[3].Why = "impossible", "3001 mm without a joint, longest unit 3000 mm"
	var units []planner.Unit
	for _, u := range p.Units {
		if u.Leg != "D" {
			units = append(units, u)
		}
	}
	p.Units = units
	pages := pagesOf(p, j, StyleFor(j, A3))
	if text := printed(t, pages...); !strings.Contains(text, "IMPOSSIBLE: "+p.Legs[3].Why) {
		t.Error("the strip does not say why leg D was not laid")
	}
	for _, page := range pages {
		checkPage(t, "impossible", page)
	}
	if pages := pagesOf(planner.Plan{}, job.Job{}, Style{}); len(pages) > 0 {
		t.Errorf("an empty plan has %d sheets", len(pages))
	}
}

// Words follow the region.
func TestWordsFollowTheRegion(t *testing.T) {
	p, j := smallRun()
	uk, us := printed(t, CutCards(p, j, Style{Words: job.UK})...), printed(t, CutCards(p, j, Style{Words: job.US})...)
	for _, pair := range [][2]string{{"mitred trough unit", "mitered trench section"}, {"up-chainage", "up-station"}, {"closer on hold", "closure on hold"}, {"centre of gravity", "center of gravity"}} {
		if !strings.Contains(uk, pair[0]) || strings.Contains(uk, pair[1]) {
			t.Errorf("the UK cards do not say %q, or say %q", pair[0], pair[1])
		}
		if !strings.Contains(us, pair[1]) || strings.Contains(us, pair[0]) {
			t.Errorf("the US cards do not say %q, or say %q", pair[1], pair[0])
		}
	}
}

// No sheet or card of the US says what is only said elsewhere, nor the other way round. What the plan brings along is made
// neutral first.
func TestSheetsKeepToTheirWords(t *testing.T) {
	depot := func() (planner.Plan, job.Job) { return planned(t, "tram-depot") }
	yard := func() (planner.Plan, job.Job) { return planned(t, "battery-yard") }
	for i, make := range []func() (planner.Plan, job.Job){smallRun, yardRun, depot, yard} {
		p, j := make()
		p.Job.DrawnLine, p.Findings, p.Proof.Legs, p.Bill = "as drawn", nil, nil, nil
		for i := range p.Cutting {
			p.Cutting[i].Text = "so many are bought"
		}
		for i := range p.Zones {
			p.Zones[i].Why = "in the way"
		}
		for i := range p.Nodes {
			if p.Nodes[i].Bend != nil {
				p.Nodes[i].Bend.Seams = "cut along the joint"
			}
			p.Nodes[i].Note = ""
		}
		for words, foreign := range map[job.Words][]string{
			job.US: {"mitre", "chainage", "trough unit", "centre", "metres", "closer", "stop end", "taper", "buried service", "neighbour", "nought", " units", "Setting out"},
			job.UK: {"miter", "up-station", "trench section", "center", " meters", "closure", "leveling", "utility", "zero"},
		} {
			style := StyleFor(j, A3)
			if i >= 2 && words != style.Words {
				continue // a plan that was made has sentences in its own words
			}
			style.Words = words
			text := printed(t, pagesOf(p, j, style)...)
			for _, w := range foreign {
				if i := strings.Index(text, w); i >= 0 {
					t.Errorf("%s says %q: … %s …", words, w, text[max(0, i-40):min(len(text), i+40)])
				}
			}
		}
	}
}

// Four cards lie on a page, none outside its quarter.
func TestImposedCards(t *testing.T) {
	p, j := smallRun()
	cards := Bind(CutCards(p, j, StyleFor(j, A4)), "")
	pages := Impose(cards)
	if want := (len(cards) + 3) / 4; len(pages) != want {
		t.Errorf("%d cards on %d pages, %d were expected", len(cards), len(pages), want)
	}
	all := printed(t, pages...)
	for _, c := range cards {
		if mark := strings.TrimPrefix(c.Title, "Cut card "); !strings.Contains(all, mark) {
			t.Errorf("%s is lost", mark)
		}
	}
	for _, page := range pages {
		checkPage(t, "imposed", page)
	}
}

func BenchmarkSheets(b *testing.B) {
	p, j := longRun()
	for b.Loop() {
		Sheets(p, j, StyleFor(j, A3))
	}
}
