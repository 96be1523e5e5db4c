package drawing

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job/field"
	"trenchwright/job/planner"
)

// Every day card can be read, in both systems, on its own paper.
func TestDayCardsCanBeRead(t *testing.T) {
	hi := 37 * measure.Metre
	for _, run := range append(cardViews(), yard()) {
		for _, of := range []Day{{}, {Leg: run.plan.Legs[0].Name, HI: &hi}} {
			cards, err := DayCards(run.plan, run.job, StyleFor(run.job, A4), of)
			if err != nil || len(cards) == 0 {
				t.Fatalf("%s: %d cards, %v", run.name, len(cards), err)
			}
			for _, c := range cards {
				checkPage(t, "day "+run.name, c)
			}
		}
	}
}

// A row of a day card maps to records one to one: each group of its boxes is a record of its kind at its place, which the book takes
// without a finding and which comes to what was written, at that place alone.
func TestARowOfADayCardIsRecords(t *testing.T) {
	for _, run := range []triedRun{surveyed(), yard()} {
		d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
		stretches, err := d.dayStretches(Day{})
		if err != nil {
			t.Fatal(err)
		}
		groups := d.dayGroups(Day{})
		b, number := field.NewBook(run.plan.Places()), 0
		wrote := map[string]bool{}
		for _, s := range stretches {
			for _, u := range s.units {
				place := run.plan.Units[u].Mark
				for _, g := range groups {
					at, says, ok := keyed(d, s, u, g)
					if !ok {
						continue
					}
					number++
					text, err := json.Marshal(says)
					if err != nil {
						t.Fatal(err)
					}
					b.Add(field.Record{ID: field.ULID(int64(number), [10]byte{byte(number)}), Job: run.job.ID, Device: "card", Number: number, Person: "P. Holm", Made: "2026-11-26T17:00:00Z", Kind: g.kind, From: at, Says: text})
				}
				wrote[place] = true
			}
		}
		state := b.State("")
		for _, f := range state.Findings {
			if strings.Contains(f.ID, "odd") || strings.Contains(f.ID, "place") || strings.Contains(f.ID, "differ") {
				t.Errorf("%s: %s", run.name, f.Text)
			}
		}
		set, gaps, walls, laid := 0, 0, 0, 0
		for _, l := range state.Legs {
			for _, u := range l.Units {
				if u.Set.Is == field.Yes && wrote[u.Place] {
					set++
				}
				if u.Left != nil && u.Left.Known && u.Right != nil && u.Right.Known {
					gaps++
				}
				for _, v := range u.Levels {
					if v.Of == "wall" {
						walls++
					}
				}
			}
			laid += l.Laid
		}
		if set != len(run.plan.Units) || gaps != len(run.plan.Joints) || walls != len(run.plan.Units) || laid != len(run.plan.Covers) {
			t.Errorf("%s: %d set, %d gaps, %d walls, %d covers of %d, %d, %d, %d", run.name, set, gaps, walls, laid, len(run.plan.Units), len(run.plan.Joints), len(run.plan.Units), len(run.plan.Covers))
		}
	}
}

// keyed is what somebody keys in for one group of boxes, everything as planned: where, and what it says.
func keyed(d *draft, s dayStretch, u int, g dayGroup) (at string, says any, ok bool) {
	place := d.plan.Units[u].Mark
	switch g.kind {
	case field.Set:
		return place, field.SetSays{Within: true, Off: []field.Off{{Place: place, By: 0}}}, true
	case field.Gap:
		j := d.farJoint(s, u)
		if j == nil {
			return "", nil, false
		}
		return j.Name, field.GapSays{Left: new(measure.Length(j.Gap)), Right: new(measure.Length(j.Gap))}, true
	case field.Level:
		z := measure.Metre
		return place, field.LevelSays{Of: g.of, Four: []measure.Length{z, z, z, z}}, true
	case field.Cover:
		return place, field.CoverSays{Done: "laid"}, true
	}
	return "", nil, false
}

// What is printed on a day card is the plan's: gap, chainage and level at the far end, as the leg is laid, and what a rod reads.
func TestDayCardsHaveThePlansFigures(t *testing.T) {
	run := surveyed()
	d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
	hi := 37 * measure.Metre
	figures := 0
	for _, leg := range []string{"A", "J"} { // J is laid against its chainage
		of := Day{Leg: leg, HI: &hi}
		stretches, err := d.dayStretches(of)
		if err != nil {
			t.Fatal(err)
		}
		s := stretches[0]
		for n, u := range s.units {
			one := run.plan.Units[u]
			name := ""
			if n+1 < len(s.units) {
				next := run.plan.Units[s.units[n+1]].Mark
				name = one.Mark + "/" + next
				if s.back {
					name = next + "/" + one.Mark
				}
			}
			k := slices.IndexFunc(run.plan.SetOut, func(r planner.SetOut) bool {
				return r.Leg == leg && (r.Place == name || name == "" && (r.Place == "end of "+one.Mark && !s.back || r.Place == "start of "+one.Mark && s.back))
			})
			if k < 0 {
				t.Fatalf("no place %q", name)
			}
			r := run.plan.SetOut[k]
			wall := r.Levels.Walls[0]
			if s.back {
				wall = r.Levels.Walls[2]
			}
			for _, g := range d.dayGroups(of) {
				got := g.figures(s, u)
				switch {
				case g.kind == field.Set && got[1] != d.chainageFigure(r.Chainage):
					t.Errorf("%s: far end at %s, planned %s", one.Mark, got[1], d.chainageFigure(r.Chainage))
				case g.of == "wall":
					want := []string{fmt.Sprintf("%.3f", *wall), fmt.Sprintf("%.3f", 37-*wall)}
					if got[0] != want[0] || got[1] != want[1] {
						t.Errorf("%s: wall %v, planned %v", one.Mark, got, want)
					}
					figures++
				}
			}
		}
	}
	if figures < 25 {
		t.Errorf("%d figures compared", figures)
	}
}

// What is not on the run is said; a stretch may be named from either end.
func TestDayCardsOfAStretch(t *testing.T) {
	run := surveyed()
	style := StyleFor(run.job, A4)
	for of, want := range map[Day]string{{From: "Q-001"}: `no place "Q-001"`, {From: "A-001", To: "B-001"}: "B-001 is not on leg A", {Leg: "Z"}: `no leg "Z"`} {
		if _, err := DayCards(run.plan, run.job, style, of); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%+v: %v", of, err)
		}
	}
	for _, of := range []Day{{From: "A-003", To: "A-006"}, {From: "A-006", To: "A-003"}, {From: "A-003", Count: 4}} {
		cards, err := DayCards(run.plan, run.job, style, of)
		if err != nil || len(cards) != 1 || cards[0].Title != "Day card A-003 to A-006" {
			t.Errorf("%+v: %d cards, %v", of, len(cards), err)
		}
	}
}
