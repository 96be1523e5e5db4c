package drawing

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"trenchwright/base/measure"
)

// legSaid is all that the cards of a leg of one kind say, in one line.
func legSaid(texts map[string][]string, leg, kind string) string {
	var out []string
	for n := 1; ; n++ {
		lines, ok := texts[fmt.Sprintf("levels-%s-%s-%d", leg, kind, n)]
		if !ok {
			return strings.Join(strings.Fields(strings.Join(out, " ")), " ")
		}
		out = append(out, lines...)
	}
}

var rockSaid = regexp.MustCompile(`ROCK (.*?): level on file`)
var fromTo = regexp.MustCompile(`([0-9.]+) m to ([0-9.]+) m`)

// Where the marks of the dig have rock above the formation, and only there, a dig card says so (the marks are the earthwork's, the
// card goes by the joints).
func TestDigCardsSayWhereRockIs(t *testing.T) {
	run := surveyed()
	texts := cardTexts(t, run.plan, run.job)
	inside, outside := 0, 0
	for _, l := range run.plan.Dig.Legs {
		said := ""
		if m := rockSaid.FindStringSubmatch(legSaid(texts, l.Leg, "dig")); m != nil {
			said, _, _ = strings.Cut(strings.TrimPrefix(m[1], "above the formation "), "; in the drain's trench")
			if strings.HasPrefix(m[1], "in the drain's") {
				said = ""
			}
		}
		for _, m := range l.Marks {
			if m.Rock == nil || math.Abs(mm(*m.Rock-m.Formation)) < 25 { // the ground bends between joints
				continue
			}
			told := false
			for _, s := range fromTo.FindAllStringSubmatch(said, -1) {
				at := mm(m.At) / 1000
				told = told || number(t, s[1])-0.02 <= at && at <= number(t, s[2])+0.02
			}
			if over := *m.Rock > m.Formation; over != told {
				t.Errorf("leg %s at %s: rock lies %s above the formation, %q is said", l.Leg, measure.Length(m.At), measure.Length(*m.Rock-m.Formation), said)
			} else if over {
				inside++
			} else {
				outside++
			}
		}
	}
	if inside < 10 || outside < 10 {
		t.Errorf("%d marks in rock and %d above it were looked at", inside, outside)
	}
}

// Worked by hand: rock that rises through the bottom half way along a unit, stands over it along the next and leaves at the end.
func TestOver(t *testing.T) {
	at := func(m float64) measure.MM { return length(m * 1000) }
	got, most := over([]rockLine{{at(0), at(3), -0.1, 0.1}, {at(3), at(6), 0.1, 0.2}, {at(6), at(9), 0.2, -0.2}, {at(9), at(12), -0.2, -0.1}})
	if len(got) != 1 || got[0] != [2]measure.MM{at(1.5), at(7.5)} || math.Abs(most-0.2) > 1e-9 {
		t.Errorf("%v, %v", got, most)
	}
}

// Every buried service stands on the dig card of its leg, on one peg card and on the long section, with its chainage; where the plan
// has a level for it the card says how it lies to the bottom of the dig, as the finding's two levels give it.
func TestBuriedServicesStandOnTheCards(t *testing.T) {
	for _, run := range cardViews() {
		d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
		texts := cardTexts(t, run.plan, run.job)
		section := ""
		for _, p := range LongSection(run.plan, run.job, StyleFor(run.job, A3)) {
			section += strings.Join(strings.Fields(printed(t, p)), " ")
		}
		for _, l := range run.job.Route.Legs {
			for _, s := range l.Services {
				at := d.chainage(measure.MM(s.At))
				want := "BEFORE ANY MACHINE: " + s.Name + " crosses at " + at
				if !strings.Contains(legSaid(texts, l.ID, "dig"), want) {
					t.Errorf("%s, leg %s: no dig card says %q", run.name, l.ID, want)
				}
				if pegs := legSaid(texts, l.ID, "pegs"); len(d.pegsOf(l.ID)) > 0 && strings.Count(pegs, want) != 1 {
					t.Errorf("%s, leg %s: not one peg card says %q", run.name, l.ID, want)
				}
				if s.Depth == nil && s.Level == nil && !strings.Contains(legSaid(texts, l.ID, "dig"), "depth NOT CHECKED: expose it by hand. Ask: its owner") {
					t.Errorf("%s, leg %s: the depth of %s is not asked for", run.name, l.ID, s.Name)
				}
				if !strings.Contains(section, "at "+at) {
					t.Errorf("%s, leg %s: the long section does not say %s", run.name, l.ID, at)
				}
			}
		}
	}
	if said := legSaid(cardTexts(t, surveyed().plan, surveyed().job), "D", "dig"); !strings.Contains(said, "0.487 m below the bottom of the dig") { // 34.333 − 33.846
		t.Error(said)
	}
}

// Vertical sides without a document of their support ask for one before anybody goes in.
func TestVerticalSidesAskForTheirSupport(t *testing.T) {
	said := legSaid(cardTexts(t, surveyed().plan, surveyed().job), "C", "dig")
	if !strings.Contains(said, "SIDES from 25.000 m to 31.000 m vertical, soil classed") || strings.Count(said, "support: NOT CHECKED: none on file. Ask: the temporary works engineer, before anybody goes in") != 1 {
		t.Error(said)
	}
}

// Both pads of every joint that steps stand in the order of laying, with the plan's levels.
func TestLayingCardsSayThePadsAtSteps(t *testing.T) {
	run := surveyed()
	d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
	texts := cardTexts(t, run.plan, run.job)
	steps := 0
	for _, r := range run.plan.SetOut {
		if r.Levels == nil || r.Levels.Before == nil || r.Levels.Before.PadTop == nil || !strings.Contains(r.Place, "/") || d.levelFigure(r.Levels.Before.PadTop) == d.levelFigure(r.Levels.PadTop) {
			continue
		}
		steps++
		want := fmt.Sprintf("%s %s, %s %s", placeAside(r, true), d.levelFigure(r.Levels.Before.PadTop), placeAside(r, false), d.levelFigure(r.Levels.PadTop))
		if said := legSaid(texts, r.Leg, "laying"); !strings.Contains(said, want) {
			t.Errorf("%s: %q does not say %q", r.Place, said, want)
		}
	}
	if steps < 4 {
		t.Errorf("%d steps", steps)
	}
}

// Whoever sets another peg has the three levels that it is dug down from.
func TestLostPegsSayWhatAnotherIsDugFrom(t *testing.T) {
	run := surveyed()
	d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
	texts := cardTexts(t, run.plan, run.job)
	lost := 0
	for _, p := range run.plan.Pegs {
		if len(p.Lost) == 0 {
			continue
		}
		lost++
		another := "; NOT CHECKED: no place for it found on either side. Ask: the surveyor"
		if o := p.Instead; o != nil {
			another = fmt.Sprintf(" %s %s %s at %s, %s", d.along(o.Offset), o.Arrow, o.Side, d.eastNorth(o.E), d.eastNorth(o.N))
		}
		want := fmt.Sprintf("DOES NOT LAST: %s, %s; before the dig reaches it set another%s; cut = ground at that one − %s (formation), − %s (drain), − %s (wall top)", d.pegPlace(p), strings.Join(p.Lost, ", "), another, d.levelFigure(p.Formation), d.levelFigure(d.drainAt(p)), d.levelFigure(p.Wall))
		if said := legSaid(texts, p.Leg, "pegs"); !strings.Contains(said, want) {
			t.Errorf("%s: %q does not say %q", p.Place, said, want)
		}
	}
	if lost < 8 {
		t.Errorf("%d pegs do not last", lost)
	}
}

// The pit of a casting stands on the dig card of every leg that ends at it, with its levels as the plan has them and the chainage
// of its middle, which is that of the leg's node; no other leg speaks of one.
func TestDigCardsSayThePitsOfCastings(t *testing.T) {
	said, legs := 0, 0
	for _, run := range cardViews() {
		if run.plan.Dig == nil {
			continue
		}
		d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
		texts := cardTexts(t, run.plan, run.job)
		for _, l := range run.plan.Legs {
			legs++
			text, pits := legSaid(texts, l.Name, "dig"), 0
			for _, p := range run.plan.Dig.Pits {
				for _, a := range p.Arms {
					if a.Leg != l.Name {
						continue
					}
					pits++
					for _, want := range []string{"PIT for " + p.Node, "easting " + d.eastNorth(p.E) + ", northing " + d.eastNorth(p.N), d.words.formation + " " + d.levelFigure(&a.Middle) + " at the middle", "no outline of the underside of the casting at " + p.Node} {
						if !strings.Contains(text, want) {
							t.Errorf("%s, leg %s: %q does not say %q", run.name, l.Name, text, want)
						}
					}
				}
			}
			if got := strings.Count(text, "PIT for "); got != pits {
				t.Errorf("%s, leg %s: %d pits are told of, %d are dug", run.name, l.Name, got, pits)
			}
			said += pits
		}
	}
	if said < 9 || legs < 20 {
		t.Errorf("%d pits on %d legs", said, legs)
	}
}
