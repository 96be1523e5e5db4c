package drawing

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
)

// cardViews are the largest demo, as it is and in feet, and the one that was made in feet.
func cardViews() []triedRun {
	tram := surveyed()
	return []triedRun{tram, {tram.name + " in feet", tram.plan, inFeet(tram.job)}, yard()}
}

// cardTexts are the words of all set-out cards by their names, one to a line.
func cardTexts(t *testing.T, p planner.Plan, j job.Job) map[string][]string {
	t.Helper()
	out := map[string][]string{}
	for _, c := range LevelCards(p, j, StyleFor(j, A4)) {
		out[c.Name] = strings.Split(printed(t, c), "\n")
	}
	return out
}

// after is what stands behind a word on a card, the nth time that it stands there.
func after(lines []string, word string, nth int) []string {
	for i, l := range lines {
		if l == word {
			if nth == 0 {
				return lines[i+1:]
			}
			nth--
		}
	}
	return make([]string, 8)
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatalf("%q is no figure", text)
	}
	return x
}

var quadrant = regexp.MustCompile(`^([NS])(\d+)-(\d+)-(\d+)([EW])$`)

// degrees reads a bearing off paper: 189.4955°, or S18-08-54E.
func degrees(t *testing.T, text string) float64 {
	t.Helper()
	m := quadrant.FindStringSubmatch(text)
	if m == nil {
		return number(t, strings.TrimSuffix(text, "°"))
	}
	x := number(t, m[2]) + number(t, m[3])/60 + number(t, m[4])/3600
	if m[1] == "S" {
		x = 180 - x
	}
	if m[5] == "W" {
		x = 360 - x
	}
	return x
}

// The law of the start cards: whoever works bearings and distances out from the coordinates that a card prints comes to those
// that it prints, on the grid and on the ground; and benchmarks stand the nearest first.
func TestStartCardsAgreeWithTheirOwnCoordinates(t *testing.T) {
	checked := 0
	for _, run := range cardViews() {
		texts := cardTexts(t, run.plan, run.job)
		d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
		_, _, places := d.coordinateUnit()
		fine := 0.51 * math.Pow(10, -float64(places))
		for _, rows := range d.places() {
			name := "levels-" + rows[0].Leg + "-start"
			lines := texts[name]
			at := func(id string, from int) (e, n float64) {
				row := after(lines, id, 0)[from:]
				return number(t, row[0]), number(t, row[1])
			}
			before := 0.0
			for _, id := range lines {
				if !slices.ContainsFunc(run.plan.Benchmarks, func(p planner.SurveyPoint) bool { return p.ID == id }) {
					continue
				}
				e, n := at(id, 1)
				e0, n0 := at(shortPlace(rows[0]), 0)
				far := number(t, after(lines, id, 0)[3])
				if math.Abs(math.Hypot(e0-e, n0-n)-far) > fine {
					t.Errorf("%s, %s: %s lies %.4f off, %.4f is printed", run.name, name, id, math.Hypot(e0-e, n0-n), far)
				}
				if far < before {
					t.Errorf("%s, %s: %s is nearer than the one above it", run.name, name, id)
				}
				before = far
				checked++
			}
			for _, r := range []planner.SetOut{rows[0], rows[len(rows)-1]} {
				row := after(lines, shortPlace(r), 1) // from, bearing, on the grid, on the ground, back to, bearing
				e0, n0 := at(row[0], 0)
				for _, one := range []struct{ id, bearing string }{{"", row[1]}, {row[4], row[5]}} {
					e, n := at(shortPlace(r), 0)
					if one.id != "" {
						e, n = at(one.id, 0)
					}
					want := math.Mod(math.Atan2(e-e0, n-n0)*180/math.Pi+360, 360)
					off := math.Abs(math.Mod(degrees(t, one.bearing)-want+540, 360) - 180)
					if off > 1.0/3600*0.51+1e-9 && off > 0.000051 {
						t.Errorf("%s, %s: from %s to %s%s bears %.5f, %s is printed", run.name, name, row[0], shortPlace(r), one.id, want, one.bearing)
					}
					checked++
				}
				e, n := at(shortPlace(r), 0)
				far := math.Hypot(e-e0, n-n0)
				if math.Abs(far-number(t, row[2])) > fine {
					t.Errorf("%s, %s: %s lies %.4f off, %s is printed", run.name, name, shortPlace(r), far, row[2])
				}
				factor, err := strconv.ParseFloat(run.plan.Job.ScaleFactor, 64)
				if err != nil {
					if row[3] != "–" {
						t.Errorf("%s, %s: %s on the ground without a scale factor", run.name, name, row[3])
					}
					continue
				}
				if math.Abs(far/factor-number(t, row[3])) > fine {
					t.Errorf("%s, %s: %s lies %.4f off on the ground, %s is printed", run.name, name, shortPlace(r), far/factor, row[3])
				}
			}
		}
	}
	if checked < 100 {
		t.Errorf("%d figures were worked out", checked)
	}
}

// A point without coordinates stands last and says so.
func TestAPointWithoutCoordinatesStandsLast(t *testing.T) {
	run := surveyed()
	p := run.plan
	p.Benchmarks = slices.Clone(p.Benchmarks)
	p.Benchmarks[0].E, p.Benchmarks[0].N = nil, nil
	for name, lines := range cardTexts(t, p, run.job) {
		if !strings.HasSuffix(name, "-start") {
			continue
		}
		text := strings.Join(lines, "\n")
		if !strings.Contains(text, "NOT CHECKED: no easting and northing on file") {
			t.Errorf("%s does not say that %s has no coordinates", name, p.Benchmarks[0].ID)
		}
		if strings.Index(text, "\n"+p.Benchmarks[0].ID+"\n") < strings.Index(text, "\n"+p.Benchmarks[1].ID+"\n") {
			t.Errorf("%s: %s stands first", name, p.Benchmarks[0].ID)
		}
	}
}

// One control point alone cannot be looked back from.
func TestOneControlPointAloneSaysSo(t *testing.T) {
	run := surveyed()
	p := run.plan
	p.Control = p.Control[:1]
	for name, lines := range cardTexts(t, p, run.job) {
		if text := strings.Join(lines, "\n"); strings.HasSuffix(name, "-start") && !strings.Contains(text, "no second control point to look back to on file. Ask: the surveyor") {
			t.Errorf("%s: %s", name, text)
		}
	}
}

// The law of the laying cards: the beam runs the reading above the level that is printed at the laser, and over the benchmark
// by what is printed, or the pad lies so far below it; no benchmark lies nearer.
func TestLasersGetTheirHeightFromABenchmark(t *testing.T) {
	checked := 0
	for _, run := range cardViews() {
		texts := cardTexts(t, run.plan, run.job)
		d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
		for _, rows := range d.places() {
			leg := rows[0].Leg
			for name, lines := range texts {
				if !strings.HasPrefix(name, "levels-"+leg+"-laying-") {
					continue
				}
				for i, l := range lines {
					if !strings.Contains(l, " % RISING to ") && !strings.Contains(l, " % FALLING to ") {
						continue
					}
					place, on, beam, staff := lines[i-3], number(t, lines[i-2]), number(t, lines[i-1]), lines[i+1]
					reading := number(t, strings.Fields(d.rodFigure(run.job.Levels.Beam.Value))[0])
					if math.Abs(on+reading-beam) > 1e-6 {
						t.Errorf("%s, %s, %s: %v and %v make %v", run.name, name, place, on, reading, beam)
					}
					id := strings.Fields(staff)[0]
					if id == d.words.rod {
						id = strings.Fields(staff)[2]
					}
					bench := number(t, after(texts["levels-"+leg+"-start"], id, 0)[0])
					over := beam - bench
					want := fmt.Sprintf("%s on %s %s", d.words.rod, id, d.rodFigure(measure.FromMetres(over*metresOf(d))))
					if over < 0 {
						want = fmt.Sprintf("%s ↓ %s", id, d.rodFigure(measure.FromMetres((bench-on)*metresOf(d))))
					}
					if staff != want {
						t.Errorf("%s, %s, %s: %q, %q was expected", run.name, name, place, staff, want)
					}
					k := slices.IndexFunc(rows, func(r planner.SetOut) bool {
						return shortPlace(r) == place || placeAside(r, true) == place || placeAside(r, false) == place
					})
					for _, p := range run.plan.Benchmarks { // the obvious way: none is nearer
						own := slices.IndexFunc(run.plan.Benchmarks, func(o planner.SurveyPoint) bool { return o.ID == id })
						mine := run.plan.Benchmarks[own]
						if math.Hypot(*p.E-rows[k].E, *p.N-rows[k].N) < math.Hypot(*mine.E-rows[k].E, *mine.N-rows[k].N)-0.01 {
							t.Errorf("%s, %s, %s: %s is nearer than %s", run.name, name, place, p.ID, id)
						}
					}
					checked++
				}
			}
		}
	}
	if checked < 60 {
		t.Errorf("%d settings were worked out", checked)
	}
}

func metresOf(d *draft) float64 {
	m, _, _ := d.coordinateUnit()
	return m
}

var laserLine = regexp.MustCompile(`^LASER at (.+) · dial ([0-9.]+) % (RISING|FALLING) to (.+) · (?:staff|rod) ([0-9.]+) `)

// Whatever level a card prints to stand on, one laser of its own foot gives it: the beam there, less the reading. So no row
// stands over a setting that does not serve it.
func TestEveryRowIsServedByALaserOfItsCard(t *testing.T) {
	rowsSeen, steps := 0, 0
	for _, run := range cardViews() {
		d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
		_, _, places := d.coordinateUnit()
		near := map[int]float64{3: 0.004, 2: 0.021}[places] // what the step of the dial may leave, and the last place of the figures
		texts := cardTexts(t, run.plan, run.job)
		for _, rows := range d.places() {
			all := d.cardRows(rows)
			for name, lines := range texts {
				if !strings.HasPrefix(name, "levels-"+rows[0].Leg+"-") || !strings.Contains(strings.Join(lines, "\n"), "\nLASER at ") {
					continue
				}
				for _, r := range all {
					text := strings.Join(lines, "\n")
					if !strings.Contains(text, "\n"+r.place+"\n") {
						continue
					}
					rowsSeen++
					if strings.HasPrefix(r.place, "end ") && r.k < len(rows)-1 {
						steps++
					}
					served := false
					for _, l := range lines {
						m := laserLine.FindStringSubmatch(l)
						if m == nil {
							continue
						}
						at := slices.IndexFunc(all, func(o cardRow) bool { return o.place == m[1] })
						dial := number(t, m[2]) / 100
						if m[3] == "FALLING" {
							dial = -dial
						}
						metres := metresOf(d)
						wanted := *all[at].on/metres + dial*math.Abs(float64(r.row.Chainage-all[at].row.Chainage))/1e9/metres
						served = served || math.Abs(wanted-*r.on/metres) < near
					}
					if !served {
						t.Errorf("%s, %s: no laser of the card serves %s", run.name, name, r.place)
					}
				}
			}
		}
	}
	if rowsSeen < 300 || steps == 0 {
		t.Errorf("%d rows and %d ends at steps were seen", rowsSeen, steps)
	}
}

// The width of the drain's trench is that on file, or it is asked for.
func TestTheDrainsTrenchIsAsWideAsOnFile(t *testing.T) {
	run := surveyed()
	none := run.job
	drain := *none.Levels.Drain
	drain.Trench = job.Entry[measure.Length]{}
	none.Levels.Drain = &drain
	for want, j := range map[string]job.Job{"DRAIN trench 350 mm wide": run.job, "NOT CHECKED: no width of the drain's trench on file. Ask: the engineer": none} {
		said := 0
		for name, lines := range cardTexts(t, run.plan, j) {
			if strings.Contains(name, "-dig-") && strings.Contains(strings.Join(lines, " "), want) {
				said++
			}
		}
		if said != len(run.plan.Legs) {
			t.Errorf("%d of %d legs say %q", said, len(run.plan.Legs), want)
		}
	}
}

// Every peg tells the ground at it, with a drain too.
func TestEveryPegTellsItsGround(t *testing.T) {
	for _, run := range cardViews() {
		d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
		texts := cardTexts(t, run.plan, run.job)
		for _, p := range run.plan.Pegs {
			told := false
			for name, lines := range texts {
				if strings.HasPrefix(name, "levels-"+p.Leg+"-pegs-") && slices.Contains(lines, d.pegPlace(p)) {
					told = slices.Contains(lines, d.orNone(p.Ground)) || slices.Contains(lines, "ground "+d.orNone(p.Ground))
				}
			}
			if !told {
				t.Errorf("%s: no card tells the ground at %s", run.name, p.Place)
			}
		}
	}
}

// A gap at an end of a leg says between what it is.
func TestGapsAtEndsSayBetweenWhat(t *testing.T) {
	run := surveyed()
	all := ""
	for _, lines := range cardTexts(t, run.plan, run.job) {
		all += strings.Join(lines, "\n")
	}
	for _, want := range []string{"gap at start 001: between S building wall (substation wall) and A-001", "gap at end 014: between the mitred faces of A-014 and B-001, square to them"} {
		if !strings.Contains(all, want) {
			t.Errorf("no card says %q", want)
		}
	}
}

// A card on which a benchmark stands above the beam says what is done there, once; and so does one with any other height what a
// staff reads: what explains a figure stands with it.
func TestWhatAFigureAtTheLaserMeansStandsOnItsCard(t *testing.T) {
	arrows := 0
	for _, run := range cardViews() {
		for name, lines := range cardTexts(t, run.plan, run.job) {
			if !strings.Contains(name, "-laying-") {
				continue
			}
			text := strings.Join(lines, " ")
			down, notes := 0, strings.Count(text, "↓: ")
			for _, l := range lines {
				if regexp.MustCompile(`^\S+ ↓ [0-9.]+ `).MatchString(l) {
					down++
				}
			}
			if want := min(down, 1); notes != want {
				t.Errorf("%s, %s: %d figures at ↓ and %d notes: %s", run.name, name, down, notes, text)
			}
			if n := strings.Count(text, "HEIGHT: "); n > 1 || n == 0 && strings.Contains(text, " on BM") {
				t.Errorf("%s, %s: the height is told %d times: %s", run.name, name, n, text)
			}
			arrows += down
		}
	}
	if arrows < 10 {
		t.Errorf("%d figures", arrows)
	}
}
