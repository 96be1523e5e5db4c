package field

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/tools/seed"
)

func by(r Record, i Instrument, made string) Record {
	r.Instrument, r.Made = &i, made
	return r
}

// A reading with an instrument whose calibration had run out on its day is a finding with who, when, which certificate and both days, and
// stays a reading; on the last day it had not. Where no end is on file it is said whom to ask. A check of the instrument is no reading.
func TestReadingsWithACalibrationThatRanOut(t *testing.T) {
	g := people(t)
	level := func(place string) Record { return g.makes("a", Level, place, "", LevelSays{Of: "bed", Plus: mm}) }
	out := by(level("A-001"), Instrument{ID: "L7", Certificate: "C-12", Due: "2026-11-20"}, "2026-11-21T07:00:00+01:00")
	out.Person = "R. Mason"
	last := by(level("A-002"), Instrument{ID: "L7", Certificate: "C-12", Due: "2026-11-20"}, "2026-11-20T23:59:00-08:00")
	none := by(level("A-003"), Instrument{ID: "L9"}, "2026-11-21T07:00:00Z")
	odd := by(level("A-004"), Instrument{ID: "L8", Due: "soon"}, "2026-11-21T07:00:00Z")
	check := by(g.makes("a", Check, "", "", CheckSays{Method: "two pegs"}), Instrument{ID: "L7", Due: "2026-11-20"}, "2026-11-30T07:00:00Z")
	b := NewBook(small())
	b.Add(out, last, none, odd, check)
	s := b.State("")
	want := "R. Mason recorded level of the bed at A-001 on 2026-11-21 with L7, whose calibration (certificate C-12) ran out on 2026-11-20 (" + out.ID + ")."
	ran := kindOf(s.Findings, CalibrationRanOut)
	if len(ran) != 1 || ran[0].Text != want || ran[0].Where.Place != "A-001" || !out.RanOut() || last.RanOut() || none.RanOut() {
		t.Fatalf("%v\nwant %s", ran, want)
	}
	for _, id := range []string{"L8", "L9"} {
		want := "NOT CHECKED: no day on which the calibration of " + id + " runs out on file. Ask: whoever keeps the instruments"
		if !slices.ContainsFunc(s.Findings, func(f finding.Finding) bool { return f.Sentence() == want && f.Kind == finding.NotChecked }) {
			t.Errorf("%s: %s", want, said(s))
		}
	}
	if len(b.Unended()) != 2 || !slices.ContainsFunc(s.Legs[0].Units[0].Evidence[Level], func(id string) bool { return id == out.ID }) {
		t.Errorf("%v; the reading: %v", b.Unended(), s.Legs[0].Units[0].Evidence)
	}
	gone := g.makes("a", Level, "A-001", "", LevelSays{Of: "bed", Level: new(mm)})
	gone.Corrects = out.ID
	b.Add(gone)
	if ran := kindOf(b.State("").Findings, CalibrationRanOut); len(ran) != 0 {
		t.Errorf("of a reading that was taken back: %v", ran)
	}
}

func kindOf(list finding.List, id string) (some finding.List) {
	for _, f := range list {
		if f.ID == id {
			some = append(some, f)
		}
	}
	return some
}

// Whatever came in whatever order and in however many parts, what ran out is what each record by itself says.
func TestRanOutAgainstEveryRecordByItself(t *testing.T) {
	seed := seed.Of(t)
	r := rand.New(rand.NewPCG(seed, 5))
	for range 20 {
		g := people(t)
		records := g.made(60)
		for i := range records {
			if records[i].Instrument != nil {
				c := *records[i].Instrument
				c.Due = []string{"", "2026-11-10", "2026-11-20", "never"}[r.IntN(4)]
				records[i].Instrument = &c
			}
			records[i].Made = fmt.Sprintf("2026-11-%02dT08:00:00Z", 1+r.IntN(30))
		}
		slices.SortStableFunc(records, func(a, b Record) int { return strings.Compare(a.ID, b.ID) })
		records = slices.CompactFunc(records, func(a, b Record) bool { return a.ID == b.ID }) // of two that share an id one stands
		b := NewBook(small())
		for _, i := range r.Perm(len(records)) {
			b.Add(records[i])
			if r.IntN(9) == 0 {
				b.State("")
			}
		}
		var want, got []string
		undated := map[string]bool{}
		for i := range records {
			e := b.records.of(records[i].ID)
			if e.gone || e.Instrument == nil || e.Kind == Check {
				continue
			}
			switch due := e.Instrument.Due; {
			case len(due) != 10:
				undated[e.Instrument.ID] = true
			case e.Made[:10] > due:
				want = append(want, e.ID)
			}
		}
		for _, o := range b.RanOut() {
			got = append(got, o.By)
		}
		slices.Sort(want)
		slices.Sort(got)
		if !slices.Equal(got, want) || len(b.Unended()) != len(undated) {
			t.Fatalf("seed %d: %v\nwant %v; no end on file: %v, want %v", seed, got, want, b.Unended(), undated)
		}
	}
}

// Readings with one instrument of one device are told in one line, with how many, the first and the last; where the device's clock runs
// far ahead of what it knew of others, by the records that it names or that the server had before, the clock is what is doubted.
func TestReadingsOfOneInstrumentAreToldOnce(t *testing.T) {
	old := Instrument{ID: "tape 3", Certificate: "C-3", Due: "2027-03-30"}
	for _, c := range []struct {
		what  string
		knew  func(first *Record, mine []Record)
		year  string
		ahead bool
	}{
		{"nothing of others is known to it", func(*Record, []Record) {}, "2028", false},
		{"it names the record of another", func(first *Record, mine []Record) { mine[0].After = []string{first.ID} }, "2028", true},
		{"a later one names it", func(first *Record, mine []Record) { mine[2].After = []string{first.ID} }, "2028", true},
		{"the server had one before, and nobody named it", func(first *Record, mine []Record) { first.Seq, mine[1].Seq = 3, 9 }, "2028", false},
		{"no more than a day after the other", func(first *Record, mine []Record) {
			first.Made, mine[0].After = "2028-04-04T09:00:00Z", []string{first.ID}
		}, "2028", false},
	} {
		g := people(t)
		first := g.makes("z", Level, "A-001", "", LevelSays{Of: "bed", Level: new(mm)})
		first.Made = "2026-04-05T08:00:00Z"
		mine := []Record{by(g.makes("a", Set, "A-001", "", SetSays{Within: true}), old, c.year+"-04-05T08:00:00Z"), by(g.makes("a", Set, "A-002", "A-003", SetSays{Within: true}), old, c.year+"-04-07T08:00:00Z"),
			by(g.makes("a", Gap, "A-002", "", GapSays{Left: new(mm), Right: new(mm)}), Instrument{ID: "gauge 1", Due: "2027-03-30"}, c.year+"-04-06T08:00:00Z")}
		c.knew(&first, mine)
		b := NewBook(small())
		b.Add(first)
		b.Add(mine...)
		ran := kindOf(b.State("").Findings, CalibrationRanOut)
		if want := map[bool]int{false: 2, true: 1}[c.ahead]; len(ran) != want {
			t.Fatalf("%s: %v", c.what, ran)
		}
		if c.ahead != strings.Contains(ran[0].Text, "clock of a ") || c.ahead && (!strings.Contains(ran[0].Text, "gauge 1, tape 3") || !strings.Contains(ran[0].Text, "731 days") || !strings.Contains(ran[0].Text, "3 readings")) {
			t.Errorf("%s: %s", c.what, ran[0].Text)
		}
		if !c.ahead && !strings.Contains(ran[0].Text, "2 readings with tape 3 on a, whose calibration (certificate C-3) ran out on 2027-03-30: the first on 2028-04-05 (set at A-001), the last on 2028-04-07 (set at A-002 to A-003).") {
			t.Errorf("%s: %s", c.what, ran[0].Text)
		}
	}
}
