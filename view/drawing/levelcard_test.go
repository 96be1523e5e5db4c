package drawing

import (
	"fmt"
	"math"
	"regexp"
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

// surveyed is the plan of the largest demo on its ground: with the level of everything.
var surveyed = sync.OnceValue(func() triedRun { return onItsGround("tram-depot") })

// yard is the plan of the demo in feet on its ground.
var yard = sync.OnceValue(func() triedRun { return onItsGround("battery-yard") })

func onItsGround(name string) triedRun {
	g, err := demo.Surveyed(name)
	if err != nil {
		panic(err)
	}
	return triedRun{name, planner.Make(g.Job, g.Surfaces...), g.Job}
}

// inFeet is a job as people of the other side of the ocean have it.
func inFeet(j job.Job) job.Job {
	j.System, j.Words, j.Coordinates.Unit = job.Imperial, job.US, job.CoordFeet
	return j
}

// Every set-out card can be read, in millimetres and in feet and inches, and four to a page.
func TestLevelCardsCanBeRead(t *testing.T) {
	for _, run := range cardViews() {
		cards := Bind(LevelCards(run.plan, run.job, StyleFor(run.job, A4)), "")
		for _, c := range append(cards, Impose(cards)...) {
			checkPage(t, "levels "+run.name, c)
		}
	}
}

// ofJoints reports whether a set-out card holds joints with their levels: its name ends in nothing but its number.
func ofJoints(name string) bool { return jointCard.MatchString(name) }

var jointCard = regexp.MustCompile(`^levels-[^-]+-\d+$`)

// Every place of the set-out stands on a card with its figures: a joint that steps as two rows, and only one that ends a
// grade on two cards, the second beginning with it.
func TestEveryPlaceStandsOnItsCard(t *testing.T) {
	run := surveyed()
	d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
	cards := map[string]string{}
	for _, c := range LevelCards(run.plan, run.job, d.style) {
		cards[c.Name] = "\n" + printed(t, c)
	}
	steps, twice := 0, 0
	for _, rows := range d.places() {
		all := d.cardRows(rows)
		steps += len(all) - len(rows)
		for i, r := range all {
			on := 0
			for name, text := range cards {
				if !strings.HasPrefix(name, "levels-"+r.row.Leg+"-") || !ofJoints(name) || !strings.Contains(text, "\n"+r.place+"\n") {
					continue
				}
				on++
				for _, want := range []string{d.chainageFigure(r.row.Chainage), d.levelFigure(r.formation), d.levelFigure(r.on), d.levelFigure(r.wall)} {
					if !strings.Contains(text, "\n"+want+"\n") {
						t.Errorf("%s: %s does not say %s", r.place, name, want)
					}
				}
			}
			if on == 2 && i > 0 && all[i-1].grade != r.grade {
				twice++
			} else if on != 1 {
				t.Errorf("%s of leg %s stands on %d cards", r.place, r.row.Leg, on)
			}
		}
	}
	if steps == 0 || twice == 0 {
		t.Errorf("%d steps and %d ends of grades were seen", steps, twice)
	}
}

// Worked by hand: what lies in a row at a step is what the unit of its side stands on.
func TestTheSidesOfAStepHaveRowsOfTheirOwn(t *testing.T) {
	run := surveyed()
	d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
	looked := 0
	for _, rows := range d.places() {
		for k, r := range rows {
			if r.Levels == nil || r.Levels.Before == nil || r.Levels.Before.PadTop == nil || k == 0 || k == len(rows)-1 {
				continue
			}
			for _, c := range d.cardRows(rows) {
				want := r.Levels.PadTop
				if strings.HasPrefix(c.place, "end ") {
					want = r.Levels.Before.PadTop
				}
				if c.k == k && math.Abs(*c.on-*want) > 0.0005 {
					t.Errorf("%s, %s: %.4f, %.4f was expected", r.Place, c.place, *c.on, *want)
				}
			}
			looked++
		}
	}
	if looked == 0 {
		t.Error("no joint steps")
	}
}

// Worked by hand: the beam of a laser is told by where it goes.
func TestDialled(t *testing.T) {
	for rise, want := range map[measure.Length]string{11: "0.550 % RISING to start 001", -11: "0.550 % FALLING to start 001", 0: "0.000 %, LEVEL"} {
		if got := dialled(measure.Grade{Rise: rise, Run: 2000}, "start 001"); got != want {
			t.Errorf("%q, %q was expected", got, want)
		}
	}
}

// Without levels there is nothing to set out by.
func TestNoCardsWithoutLevels(t *testing.T) {
	p, j := smallRun()
	if n := len(LevelCards(p, j, StyleFor(j, A4))); n > 0 {
		t.Errorf("%d cards without levels", n)
	}
}

// The line of the laser is on every card with its own reading: that of the beam where one is on file, else a line to write on.
func TestCardsSayTheOneReading(t *testing.T) {
	run := surveyed()
	for reading, j := range map[string]job.Job{"________": withoutBeam(run.job), "1.200 m": withBeam(run.job), "3.94 ft": withBeam(inFeet(run.job))} {
		cards := LevelCards(run.plan, j, StyleFor(j, A4))
		said := 0
		cards = slices.DeleteFunc(cards, func(c scene.Page) bool {
			return !ofJoints(c.Name)
		})
		for _, c := range cards {
			checkPage(t, "laser "+reading, c)
			text := printed(t, c)
			if !strings.Contains(text, "LASER") {
				t.Errorf("%s says nothing of the laser", c.Name)
			}
			if strings.Contains(text, "· staff "+reading) || strings.Contains(text, "· rod "+reading) {
				said++
			}
		}
		if said < len(cards)/2 {
			t.Errorf("%d of %d cards say %s", said, len(cards), reading)
		}
	}
}

func withoutBeam(j job.Job) job.Job {
	j.Levels.Beam = job.Entry[measure.Length]{}
	return j
}

func withBeam(j job.Job) job.Job {
	j.Levels.Beam = job.Known(1200 * measure.Millimetre)
	return j
}

// Every peg stands on one peg card with its figures; every leg begins with what it is set out from, and where nothing is on
// file that card, the section and the list say so.
func TestPegsAndPointsStandOnPaper(t *testing.T) {
	run := surveyed()
	d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
	cards := map[string]string{}
	for _, c := range LevelCards(run.plan, run.job, d.style) {
		cards[c.Name] = "\n" + printed(t, c)
	}
	for _, p := range run.plan.Pegs {
		on := 0
		for name, text := range cards {
			if strings.HasPrefix(name, "levels-"+p.Leg+"-pegs-") && strings.Contains(text, "\n"+d.pegPlace(p)+"\n") {
				on++
				fourth := d.levelFigure(p.Ground)
				for _, r := range run.plan.SetOut { // with a drain, how far down it lies
					if r.Leg == p.Leg && r.Place == p.Place && r.Levels != nil && r.Levels.Drain != nil && p.Ground != nil {
						fourth = fmt.Sprintf("↓ %.3f", *p.Ground-*r.Levels.Drain)
					}
				}
				for _, want := range []string{d.eastNorth(p.E), d.eastNorth(p.N), fourth, d.pegFigure(p.ToFormation), d.pegFigure(p.ToWall)} {
					if !strings.Contains(text, "\n"+want+"\n") {
						t.Errorf("%s: %s does not say %s", p.Place, name, want)
					}
				}
				if len(p.Lost) > 0 && !strings.Contains(text, "DOES NOT LAST: "+d.pegPlace(p)) {
					t.Errorf("%s: %s does not say that it is lost", p.Place, name)
				}
			}
		}
		if on != 1 {
			t.Errorf("peg %s stands on %d cards", p.Place, on)
		}
	}
	for _, l := range run.plan.Legs {
		text := cards["levels-"+l.Name+"-start"]
		for _, p := range run.plan.Benchmarks {
			if !strings.Contains(text, "\n"+p.ID+"\n"+d.levelFigure(p.Level)+"\n") {
				t.Errorf("the first card of leg %s does not have %s", l.Name, p.ID)
			}
		}
	}
	bare := run.plan
	bare.Benchmarks, bare.Control, bare.Pegs = nil, nil, nil
	for _, c := range append(LevelCards(bare, run.job, d.style), LongSection(bare, run.job, StyleFor(run.job, A3))...) {
		checkPage(t, "bare", c)
		if text := printed(t, c); strings.HasSuffix(c.Name, "-start") || strings.HasPrefix(c.Name, "section") {
			for _, want := range []string{"no temporary benchmark on file. Ask: the surveyor", "no control point on file. Ask: the surveyor"} {
				if !strings.Contains(text, "NOT CHECKED: "+want) {
					t.Errorf("%s does not say: %s", c.Name, want)
				}
			}
		}
	}
}

// The cards of the dig of each leg say how wide the driver digs: the bottom of every section of the plan is on it, as a whole and to
// each side, and how far off the centreline the pipe lies.
func TestDigCardsSayHowWideTheDigIs(t *testing.T) {
	run := surveyed()
	for name, j := range map[string]job.Job{"metric": run.job, "feet": inFeet(run.job)} {
		d := newDraft(run.plan, j, StyleFor(j, A4))
		said := map[string]string{}
		for _, c := range LevelCards(run.plan, j, d.style) {
			if leg, _, ok := strings.Cut(strings.TrimPrefix(c.Name, "levels-"), "-dig-"); ok {
				said[leg] += " " + strings.Join(strings.Fields(printed(t, c)), " ")
			}
		}
		for _, s := range run.plan.Dig.Sections {
			if s.Bottom == nil {
				continue
			}
			want := fmt.Sprintf("bottom %s wide, %s left and %s right, %s", d.length(s.Bottom.Width), d.length(-s.Bottom.Left[0]), d.length(s.Bottom.Right[0]), s.Sides)
			if !strings.Contains(said[s.Leg], want) {
				t.Errorf("%s, leg %s: %q does not say %q", name, s.Leg, said[s.Leg], want)
			}
			if s.Pipe == nil {
				continue
			}
			if want := d.length(-s.Pipe.Offset) + " left of the " + d.words.centreline; !strings.Contains(said[s.Leg], want) {
				t.Errorf("%s, leg %s: %q does not say %q", name, s.Leg, said[s.Leg], want)
			}
		}
	}
}

// Where the formation steps at a joint, the peg card says the cut for the unit on either side of it.
func TestPegCardsSayBothSidesOfAStep(t *testing.T) {
	run := surveyed()
	d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
	all := ""
	for _, c := range LevelCards(run.plan, run.job, d.style) {
		if strings.Contains(c.Name, "-pegs-") {
			all += " " + strings.Join(strings.Fields(printed(t, c)), " ")
		}
	}
	steps := 0
	for _, r := range run.plan.SetOut {
		if r.Levels == nil || r.Levels.Before == nil || r.Levels.Before.Formation == nil || r.Levels.Formation == nil || math.Abs(*r.Levels.Before.Formation-*r.Levels.Formation) < 0.0005 {
			continue
		}
		for _, p := range run.plan.Pegs {
			if p.Leg != r.Leg || p.Place != r.Place || p.Ground == nil {
				continue
			}
			steps++
			want := fmt.Sprintf("for %s ↓ %.3f to formation", placeAside(r, true), *p.Ground-*r.Levels.Before.Formation)
			if !strings.Contains(all, want) {
				t.Errorf("%s: no peg card says %q", r.Place, want)
			}
		}
	}
	if steps < 4 {
		t.Errorf("%d steps with pegs: four heavy units' ends were meant", steps)
	}
}
