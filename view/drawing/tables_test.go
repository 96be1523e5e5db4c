package drawing

import (
	"fmt"
	"strings"
	"testing"

	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/job/planner/randomjob"
)

// squeezed is text without its spaces and line ends, so that wrapping does not count.
func squeezed(text string) string { return strings.Join(strings.Fields(text), "") }

// Whatever a list holds, every cell of it and every note is on its sheets, at every size.
func TestListsPrintEveryCell(t *testing.T) {
	cells := 0
	everyRun(t, func(name string, p planner.Plan, j job.Job) {
		size := []Size{A3, A1, A4}[len(name)%3]
		d := newDraft(p, j, StyleFor(j, size))
		for _, l := range d.listings() {
			pages := d.listed(l)
			text := squeezed(printed(t, pages...))
			for _, one := range l.ledgers {
				if one.most > 0 && len(pages) > one.most {
					continue // left to the workbook
				}
				want := func(cell string) {
					cells++
					if !strings.Contains(text, squeezed(cell)) {
						t.Errorf("%s %s, %s: %q is not on the sheets", name, size, l.kind, cell)
					}
				}
				for _, g := range one.groups {
					want(g.name)
					for _, r := range g.rows {
						for _, c := range r.cells {
							want(c)
						}
					}
				}
				if len(one.groups) > 0 {
					for _, n := range one.notes {
						want(n.text)
					}
				}
			}
		}
	})
	if cells < 20000 {
		t.Errorf("only %d cells were looked for", cells)
	}
}

// The schedule has one row for every unit, the cutting list one for every piece that is cut and every offcut, the joints
// one for every joint, the set-out one for every place.
func TestListsHaveEveryRowOnce(t *testing.T) {
	everyRun(t, func(name string, p planner.Plan, j job.Job) {
		d := newDraft(p, j, StyleFor(j, A3))
		rows := func(column int, ledgers ...ledger) map[string]int {
			n := map[string]int{}
			for _, l := range ledgers {
				for _, g := range l.groups {
					for _, r := range g.rows {
						if !r.total {
							n[g.name+" "+r.cells[column]]++
						}
					}
				}
			}
			return n
		}
		once := func(list string, n map[string]int, key string) {
			if n[key] != 1 {
				t.Errorf("%s: %q stands in %d rows of the %s", name, key, n[key], list)
			}
			delete(n, key)
		}
		schedule := rows(0, d.scheduleLedger())
		for _, u := range p.Units {
			once("schedule", schedule, u.Leg+" "+u.Mark)
		}
		cutting := rows(1, d.cutLedgers()...)
		for _, c := range p.Cutting {
			for _, q := range c.Patterns {
				for _, k := range q.Pieces {
					once("cutting list", cutting, q.Name+" "+k.Mark)
				}
				for _, o := range q.Left {
					once("cutting list", cutting, q.Name+" "+o.Mark)
				}
			}
		}
		joints := rows(0, d.jointLedger())
		for _, j := range p.Joints {
			once("joints", joints, j.Leg+" "+shortJoint(j))
		}
		places := rows(0, d.setOutLedger())
		for _, r := range p.SetOut {
			once("set-out", places, r.Leg+" "+r.Place)
		}
		found := 0
		for _, g := range d.findingLedger().groups {
			found += len(g.rows)
		}
		if found != len(p.Findings) {
			t.Errorf("%s: %d findings, %d in the list", name, len(p.Findings), found)
		}
		for list, left := range map[string]map[string]int{"cutting list": cutting, "joints": joints, "set-out": places} {
			for row := range left {
				t.Errorf("%s: %q is in the %s and not in the plan", name, row, list)
			}
		}
	})
}

// Where one end of a piece is slanted, the words say long of the side that is longer.
func TestWordsOfAFaceNameTheLongSide(t *testing.T) {
	looked := 0
	check := func(mark string, start, end, left, right float64) {
		if start != 0 && end != 0 || left == right {
			return
		}
		looked++
		words := faceWords(start, true, true)
		if end != 0 {
			words = faceWords(end, true, false)
		}
		side := "left long"
		if right > left {
			side = "right long"
		}
		if !strings.Contains(words, side) {
			t.Errorf("%s: sides %.1f and %.1f, in words %q", mark, left, right, words)
		}
	}
	everyRun(t, func(name string, p planner.Plan, _ job.Job) {
		for _, u := range p.Units {
			if u.Piece != nil {
				check(name+" "+u.Mark, u.StartAngle, u.EndAngle, mm(u.Piece.LeftSide), mm(u.Piece.RightSide))
			}
		}
		for _, c := range p.Covers {
			check(name+" "+c.Mark, c.StartAngle, c.EndAngle, mm(c.LeftSide), mm(c.RightSide))
		}
	})
	if looked < 100 {
		t.Errorf("only %d slanted faces were looked at", looked)
	}
}

// Letters go on after z, and one sentence has one letter.
func TestLettersOfNotes(t *testing.T) {
	var l letters
	for i := range 800 {
		l.letter(fmt.Sprintf("sentence %d", i))
	}
	for i, want := range map[int]string{0: "a", 25: "z", 26: "aa", 51: "az", 52: "ba", 701: "zz", 702: "aaa"} {
		if got := l.letter(fmt.Sprintf("sentence %d", i)); got != want || l.notes[i].letter != want {
			t.Errorf("sentence %d has the letter %q, %q was expected", i, got, want)
		}
	}
	if l.letter("") != "" || len(l.notes) != 800 {
		t.Error("nothing said has a letter, or a sentence has two")
	}
}

// Whatever is planned, impossible legs among it: every sheet and card can be read.
func TestRandomPlansCanBeRead(t *testing.T) {
	for seed := range uint64(9) {
		j := randomjob.Job(2000 + seed)
		p := planner.Make(j)
		size := []Size{A3, A4, A1}[seed%3]
		for _, page := range Bind(pagesOf(p, j, StyleFor(j, size)), "revision "+p.Job.Revision) {
			checkPage(t, fmt.Sprintf("random job %d %s", 2000+seed, size), page)
		}
	}
}

// Notes stand under the ledger that they belong to: on no page of volumes do they stand at the top without it.
func TestNotesStandUnderTheirLedger(t *testing.T) {
	for _, run := range []triedRun{surveyed(), yard(), onItsGround("hand-troughs")} {
		for _, size := range []Size{A3, A1} {
			d := newDraft(run.plan, run.job, StyleFor(run.job, size))
			for _, p := range Sheets(run.plan, run.job, d.style) {
				if !strings.HasPrefix(p.Name, "volumes") {
					continue
				}
				for _, l := range d.digListings()[0].ledgers {
					text := printed(t, p)
					for _, n := range l.notes {
						first := wrapped(n.text, 1, 20)[0]
						if strings.Contains(text, first) && !strings.Contains(text, l.title) {
							t.Errorf("%s on %v, %s: %q stands without %q", run.name, size, p.Name, n.text, l.title)
						}
					}
				}
			}
		}
	}
}
