package drawing

import (
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"trenchwright/job/planner"
	"trenchwright/view/schedule"
	"trenchwright/view/table"
)

var drainDial = regexp.MustCompile(`^([0-9.]+) % (RISING|FALLING) to (.+)$`)

// The law of the drain cards: from the beam that is printed, along the dial, the one reading comes out on every level of the drain
// that the plan has between the places of its line; what is printed adds up, and where the bed's laser stands at the same place, its
// beam is printed as high.
func TestTheDrainIsLaidFromItsCard(t *testing.T) {
	lines, levels, shared := 0, 0, 0
	for _, run := range cardViews() {
		d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
		if !d.drained() {
			continue
		}
		metres := metresOf(d)
		_, _, places := d.coordinateUnit()
		near := 1.1 * math.Pow(10, -float64(places)) // what is printed was rounded, and so was the drain
		texts := cardTexts(t, run.plan, run.job)
		for _, rows := range d.places() {
			leg := rows[0].Leg
			all := d.cardRows(rows)
			chainage := func(place string) float64 {
				k := slices.IndexFunc(all, func(r cardRow) bool { return r.place == place })
				if k < 0 {
					t.Fatalf("%s, leg %s: no place %q", run.name, leg, place)
				}
				return float64(all[k].row.Chainage) / 1e9 / metres
			}
			beds := map[string]string{}
			for name, card := range texts {
				for i, l := range card {
					if strings.HasPrefix(name, "levels-"+leg+"-laying-") && drainDial.MatchString(l) {
						beds[card[i-3]] = card[i-1]
					}
				}
			}
			for name, card := range texts {
				if !strings.HasPrefix(name, "levels-"+leg+"-drain-") {
					continue
				}
				if text := strings.Join(card, "\n"); strings.Contains(text, "…") {
					t.Errorf("%s, %s: something is cut: %s", run.name, name, text)
				}
				for i, l := range card {
					m := drainDial.FindStringSubmatch(l)
					if m == nil {
						continue
					}
					lines++
					place, on, beam, staff := card[i-3], number(t, card[i-2]), number(t, card[i-1]), number(t, strings.Fields(card[i+1])[0])
					if math.Abs(on+staff-beam) > 1e-6 {
						t.Errorf("%s, %s, %s: %v and %v make %v", run.name, name, place, on, staff, beam)
					}
					if bed, ok := beds[place]; ok {
						if shared++; bed != card[i-1] {
							t.Errorf("%s, %s, %s: the beam stands at %s, for the bed at %s", run.name, name, place, card[i-1], bed)
						}
					}
					dial := number(t, m[1]) / 100
					if m[2] == "FALLING" {
						dial = -dial
					}
					a, b := chainage(place), chainage(m[3])
					for _, r := range rows {
						at := float64(r.Chainage) / 1e9 / metres
						if r.Levels == nil || r.Levels.Drain == nil || at < min(a, b)-1e-6 || at > max(a, b)+1e-6 {
							continue
						}
						levels++
						if got := beam + dial*math.Abs(at-a) - staff; math.Abs(got-*r.Levels.Drain/metres) > near+0.00005*math.Abs(at-a) {
							t.Errorf("%s, %s: at %s the reading gives %v, the drain lies at %v", run.name, name, r.Place, got, *r.Levels.Drain/metres)
						}
					}
				}
			}
		}
	}
	if lines < 15 || levels < 150 || shared < 10 {
		t.Errorf("%d lines, %d levels, %d beams shared with the bed", lines, levels, shared)
	}
}

// Every grade of the drain stands on the drain card of its leg, with the chainages of its two places.
func TestDrainCardsHaveEveryGrade(t *testing.T) {
	run := surveyed()
	texts := cardTexts(t, run.plan, run.job)
	d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
	for _, g := range run.plan.Drain.Grades {
		s := slopeOf(planner.GradeRun{Grade: g.Grade})
		said := legSaid(texts, g.Leg, "drain")
		for _, place := range []string{g.From, g.To} {
			k := slices.IndexFunc(run.plan.SetOut, func(r planner.SetOut) bool { return r.Leg == g.Leg && r.Place == place })
			if k < 0 {
				t.Errorf("no place %q", place)
				continue
			}
			if want := "at " + d.chainage(run.plan.SetOut[k].Chainage); !strings.Contains(said, want) {
				t.Errorf("leg %s: %q does not say %q", g.Leg, said, want)
			}
		}
		if !strings.Contains(said, s.word+" "+s.size+" from ") {
			t.Errorf("leg %s: %q does not say %s %s", g.Leg, said, s.word, s.size)
		}
	}
}

// The table of the drain's settings has the readings of the cards, leg by leg: as printed there, in metres.
func TestDrainTableHasTheReadingsOfTheCards(t *testing.T) {
	readings := 0
	name := regexp.MustCompile(`^levels-(.+)-drain-\d+$`)
	for _, run := range cardViews() {
		d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
		if !d.drained() {
			continue
		}
		onCards, inTable := map[string][]float64{}, map[string][]float64{}
		for n, card := range cardTexts(t, run.plan, run.job) {
			for i, l := range card {
				if m := name.FindStringSubmatch(n); m != nil && drainDial.MatchString(l) {
					onCards[m[1]] = append(onCards[m[1]], number(t, strings.Fields(card[i+1])[0])*metresOf(d))
				}
			}
		}
		for _, one := range schedule.Of(run.plan, run.job).DrainGrades() {
			k := slices.IndexFunc(one.Columns, func(c table.Column) bool { return c.Key == "reading" })
			_, rows := one.Shown()
			for _, row := range rows {
				inTable[row[0]] = append(inTable[row[0]], number(t, row[k])*map[string]float64{"m": 1, "ft": 0.3048}[one.Columns[k].Unit])
			}
		}
		for leg, got := range inTable {
			want := onCards[leg]
			slices.Sort(got)
			slices.Sort(want)
			readings += len(got)
			if len(got) != len(want) {
				t.Fatalf("%s, leg %s: the table reads %v, the cards %v", run.name, leg, got, want)
			}
			for i := range got {
				if math.Abs(got[i]-want[i]) > 0.0006 { // the table has feet of a metric plan in whole millimetres
					t.Errorf("%s, leg %s: the table reads %v, the cards %v", run.name, leg, got, want)
				}
			}
		}
		if len(inTable) != len(onCards) {
			t.Errorf("%s: %d legs in the table, %d on cards", run.name, len(inTable), len(onCards))
		}
	}
	if readings < 28 {
		t.Errorf("%d readings compared", readings)
	}
}
