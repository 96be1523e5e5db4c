package drawing

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/view/scene"
)

type smallest struct{ least *scene.Lettering }

func (smallest) Shape(scene.Outline, scene.Colour, scene.Stroke) {}
func (smallest) Begin(scene.Scope)                               {}
func (smallest) End()                                            {}
func (smallest) Link(scene.Box, string)                          {}
func (s smallest) Letter(l scene.Lettering) {
	if s.least.String == "" || l.Size < s.least.Size {
		*s.least = l
	}
}

// No letter on a card is smaller than can be read in gloves and rain without glasses: capitals of 1.8 mm, a face of 7 points
// (common practice, no source).
func TestLettersOnCardsAreLargeEnough(t *testing.T) {
	for _, run := range append(cardViews(), onItsGround("hand-troughs")) {
		for _, cards := range [][]scene.Page{LevelCards(run.plan, run.job, StyleFor(run.job, A4)), CutCards(run.plan, run.job, StyleFor(run.job, A4))} {
			for _, c := range cards {
				var least scene.Lettering
				if err := scene.Draw(c, smallest{&least}); err != nil {
					t.Fatal(err)
				}
				if least.Size < cardSize-1e-6 {
					t.Errorf("%s, %s: %q has capitals of %.2f mm", run.name, c.Name, least.String, least.Size)
				}
			}
		}
	}
}

// A sign never parts from its figure at the end of a line, whatever the width.
func TestSignsStayWithTheirFigures(t *testing.T) {
	text := "cut = ground at that one − 35.276 (formation), − 35.182 (drain), and staff on BM2 + 1.581 m ↓ 0.812"
	for width := 20.0; width < 140; width += 0.5 {
		for _, line := range wrappedIn(text, 2.1, scene.Bold, width) {
			for _, sign := range []string{"−", "+", "↓"} {
				if strings.HasSuffix(line, sign) {
					t.Errorf("%.1f mm wide, a line ends in %q", width, line)
				}
			}
		}
	}
}

// The place, the chainage and the edge of the dig of every peg stand on its card, and with a drain the level of the bottom of
// its trench: the underside of the pipe less the stone below it.
func TestPegCardsSayWherePegsAndEdgesAre(t *testing.T) {
	trenches, edges := 0, 0
	for _, run := range cardViews() {
		d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
		texts := cardTexts(t, run.plan, run.job)
		for _, p := range run.plan.Pegs {
			said := "\n" + strings.Join(strings.Fields(legSaid(texts, p.Leg, "pegs")), " ")
			wants := []string{d.pegPlace(p)}
			if p.Place != "" {
				wants = append(wants, "at "+d.chainageFigure(p.Chainage))
			}
			if e := p.Edges; e != nil {
				wants = append(wants, fmt.Sprintf("dig edge ← %s at %s, → %s at %s", d.depthFigure(e.Left.Offset), d.levelFigure(&e.Left.Level), d.depthFigure(e.Right.Offset), d.levelFigure(&e.Right.Level)))
				edges++
			}
			if z := d.drainAt(p); z != nil && p.Formation != nil {
				if bottom := *z - run.job.Levels.Drain.Bedding.Metres(); bottom < *p.Formation-0.0005 {
					trenches++
					wants = append(wants, "trench "+d.levelFigure(&bottom))
				}
			}
			for _, want := range wants {
				if !strings.Contains(said, want) {
					t.Errorf("%s: the peg cards of leg %s do not say %q: %s", run.name, p.Leg, want, said)
				}
			}
		}
	}
	if trenches < 50 || edges < 100 {
		t.Errorf("%d trenches of the drain were looked for", trenches)
	}
}

// What the plan found of all pegs of a leg stands on its peg cards by the number of the finding, and on no others; one peg alone is
// not told of as from itself to itself.
func TestPegCardsNameWhatWasFoundOfPegs(t *testing.T) {
	found, alone := 0, 0
	for _, run := range cardViews() {
		d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
		texts := cardTexts(t, run.plan, run.job)
		for _, l := range run.plan.Legs {
			said := legSaid(texts, l.Name, "pegs")
			want := map[string]bool{}
			for _, f := range d.concerns(func(f finding.Finding) bool {
				return f.Where.Leg == l.Name && f.ID == "planner.peg-near" && f.Kind == finding.Attention
			}) {
				want[f.name] = true
				if len(d.pegsOf(l.Name)) > 0 {
					found++
					if !strings.Contains(said, "see "+f.name) {
						t.Errorf("%s, leg %s: %q does not name %s", run.name, l.Name, said, f.name)
					}
				}
			}
			few := slices.ContainsFunc(run.plan.Findings, func(f finding.Finding) bool { return f.Where.Leg == l.Name && f.ID == "planner.pegs-few" })
			if few = few && len(d.pegsOf(l.Name)) > 0; strings.Contains(said, "NOT AT EVERY JOINT") != few {
				t.Errorf("%s, leg %s: places without a peg: %v, and %q", run.name, l.Name, few, said)
			} else if few {
				alone++
			}
			if len(want) == 0 && strings.Contains(said, "room is kept for pegs") {
				t.Errorf("%s, leg %s: %q", run.name, l.Name, said)
			}
			for _, p := range d.pegsOf(l.Name) {
				if twice := d.pegPlace(p) + " to " + d.pegPlace(p); strings.Contains(said, twice+",") {
					t.Errorf("%s, leg %s: %q", run.name, l.Name, twice)
				}
			}
		}
	}
	if found < 2 || alone == 0 {
		t.Errorf("%d findings of pegs, %d legs with pegs at some joints alone", found, alone)
	}
}
