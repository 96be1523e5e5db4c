package job

import (
	"math"
	"reflect"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// texts is what a list of findings says, one line each.
func texts(l finding.List) string {
	lines := make([]string, len(l))
	for i, f := range l {
		lines[i] = f.Where.Path + " | " + f.Text
	}
	return strings.Join(lines, "\n")
}

func TestEmptyJobSaysWhatItLacks(t *testing.T) {
	const want = `name | "name" is missing.
supplies | "supplies" is empty.
format | This job says format 0; this program reads format 1.
route | The route has no legs.`
	if got := texts(Faults(Job{})); got != want {
		t.Errorf("got:\n%s", got)
	}
}

// Jobs that code builds are held to the same rules as written ones.
func TestFaultsOfBuiltJobs(t *testing.T) {
	mm := measure.Millimetre
	for _, c := range []struct {
		name  string
		spoil func(*Job)
		want  string
	}{
		{"nothing", func(*Job) {}, ""},
		{"a coordinate that is no number", func(j *Job) { j.Route.Nodes[0].At[1] = math.NaN() },
			`route.nodes[0].at[1] | Node N1: at number 2 is no number.`},
		{"an endless level", func(j *Job) { l := math.Inf(1); j.Route.Nodes[0].Level = &l },
			`route.nodes[0].level | Node N1: level is no number.`},
		{"bytes that are no text", func(j *Job) { j.Name = "caf\xe9" },
			`name | Name holds a character that cannot be printed.`},
		{"a control character", func(j *Job) { j.Supplies[0].Title = "a\x07b" },
			`supplies[0].title | Supply trough: title holds a character that cannot be printed.`},
		{"a node without a place", func(j *Job) { j.Route.Nodes[3].At = nil },
			`route.nodes[3].at | Node N4: "at" is missing.`},
		{"a negative minimum", func(j *Job) { j.Supplies[0].Joint.Gap = Known(measure.Window{Nominal: mm, Min: -mm, Max: 3 * mm}) },
			`supplies[0].joint.gap | Supply trough, joint: gap is -1 mm at its least. It has to be at least 0 mm.`},
		{"a window that runs backwards", func(j *Job) {
			j.Supplies[0].Joint.Gap = Known(measure.Window{Nominal: 5 * mm, Min: 8 * mm, Max: 3 * mm})
		},
			`supplies[0].joint.gap | Supply trough, joint: the window of gap runs backwards: 8 mm..3 mm.`},
		{"a value outside its window", func(j *Job) { j.Supplies[0].Joint.Gap = Known(measure.Window{Nominal: mm, Min: 2 * mm, Max: 30 * mm}) },
			`supplies[0].joint.gap | Supply trough, joint: gap 1 mm lies outside its own window 2 mm..30 mm.`},
		{"a reserve that leaves nothing", func(j *Job) { j.Rules.DriftReserve = Known(4 * mm) },
			`supplies[0].joint.gap | Supply trough, joint: the window 8 mm..14 mm is 6 mm wide, and the rules keep 4 mm on each side for drift.`},
		{"a gap that is not entered", func(j *Job) { j.Supplies[1].Joint.Gap = Entry[measure.Window]{} },
			`supplies[1].joint.gap | Supply heavy, joint: "gap" is missing.`},
		{"ids in other capitals", func(j *Job) { j.Route.Legs[2].ID = "b" },
			`route.legs[2].id | Leg b: ids B and b differ in capitals alone, at route.legs[1] and at route.legs[2].`},
		{"a dash at the end of an id", func(j *Job) { j.ID = "yard-" },
			`id | Id "yard-" is not made of letters a to z, digits and dashes alone.`},
		{"a leg that comes back", func(j *Job) { j.Route.Legs[3].To = "N6" },
			`route.legs[3].to | Leg D: it starts and ends at node N6.` + "\nroute.nodes[4] | Node N5: no leg starts or ends here."},
		{"laying from elsewhere", func(j *Job) { j.Route.Legs[0].LayFrom = "N4" },
			`route.legs[0].lay_from | Leg A: laying starts at node N4, which is no end of this leg.`},
		{"a first unit too long", func(j *Job) { j.Route.Legs[0].First[0] = 3001 * mm },
			`route.legs[0].first[0] | Leg A: a first unit of 3001 mm is longer than the longest that supply trough makes, 3000 mm.`},
		{"a first unit too short", func(j *Job) { j.Route.Legs[0].First[0] = 599 * mm },
			`route.legs[0].first[0] | Leg A: a first unit of 599 mm is shorter than the shortest cut unit of supply trough, 600 mm.`},
		{"a first unit that would be cut", func(j *Job) { j.Route.Legs[2].First = []measure.Length{1500 * mm} },
			`route.legs[2].first[0] | Leg C: a first unit of 1500 mm would be cut, and supply heavy may not be cut.`},
		{"reach without a supply", func(j *Job) { j.Route.Legs[0].Crossings[0].Supply = "" },
			`route.legs[0].crossings[0].reach | Leg A, crossing X1: reach says how far another supply goes beyond the path, and no supply is named.`},
		{"a zone without length", func(j *Job) { j.Route.Legs[0].Zones[0].To = j.Route.Legs[0].Zones[0].From },
			`route.legs[0].zones[0] | Leg A, zone Z1: it starts and ends at 20 m and has no length.`},
		{"an end where legs meet", func(j *Job) { j.Route.Nodes[1].End = &End{Kind: "open"} },
			`route.nodes[1].end | Node N2: an end stands where nothing follows, and legs A, B, C meet here.`},
		{"a branch sawn into itself", func(j *Job) { j.Route.Nodes[5].Sawn.Into = "D" },
			`route.nodes[5].sawn.into | Node N6, sawn: leg D is the branch itself.`},
		{"a branch both sawn and cast", func(j *Job) { j.Route.Nodes[5].Fitting = "bend-45" },
			"route.nodes[5].sawn | Node N6: a branch is either sawn or a casting, and fitting bend-45 is named too.\n" +
				`route.nodes[5].fitting | Node N6: fitting bend-45 is a bend with 2 arms, and 1 leg meets here.`},
		{"one straight way only", func(j *Job) { j.Route.Nodes[1].Through = []string{"A"} },
			`route.nodes[1].through | Node N2: two different legs go straight through a tee.`},
		{"a conduit with a level in the floor", func(j *Job) { j.Route.Legs[0].Entries[0].Side = "floor" },
			`route.legs[0].entries[0].level | Leg A, conduit entry E1: a conduit through the floor has no level.`},
		{"a bend without an angle", func(j *Job) { j.Supplies[0].Fittings[1].Angle = 0 },
			`supplies[0].fittings[1].angle | Supply trough, fitting bend-45: "angle" is missing: a cast bend has one.`},
		{"a tee with an angle", func(j *Job) { j.Supplies[0].Fittings[0].Angle = 5 * measure.Degree },
			`supplies[0].fittings[0].angle | Supply trough, fitting tee-1: a tee has no angle; only a bend has.`},
		{"two arms of one name", func(j *Job) { j.Supplies[0].Fittings[0].Arms[1].Name = "through" },
			`supplies[0].fittings[0].arms[1].name | Supply trough, fitting tee-1, arm through: two arms are called "through".`},
		{"a length twice", func(j *Job) { j.Supplies[0].Unit.Lengths.Value = []measure.Length{3000 * mm, 3000 * mm, 1500 * mm} },
			`supplies[0].unit.lengths[1] | Supply trough, unit: 3000 mm is written twice in lengths.`},
		{"an insert beyond the unit", func(j *Job) { j.Supplies[0].Unit.CastIn[0].At = 3001 * mm },
			`supplies[0].unit.cast_in[0].at | Supply trough, unit, cast-in thing L1: 3001 mm from end B lies outside a unit of 3000 mm.`},
		{"a no-cut stretch beyond the unit", func(j *Job) { j.Supplies[0].Unit.NoCut[0].To = 3001 * mm },
			`supplies[0].unit.no_cut[0].to | Supply trough, unit, no-cut stretch number 1: 3001 mm from end A lies outside a unit of 3000 mm.`},
		{"marks on many", func(j *Job) { j.Yard[1].Count = 2 },
			`yard[1].count | Yard item B-017/a: 2 pieces carry one mark.`},
		{"an end as cast at an angle", func(j *Job) { j.Yard[1].Ends[1].Factory = true },
			`yard[1].ends[1] | Yard item B-017/a, end number 2: an end as cast is square and has no saw angle.`},
		{"an offcut without a mark", func(j *Job) { j.Yard[1].Mark = "" },
			`yard[1].length | Yard item number 2: supply trough makes no unit of 1240 mm.`},
		{"a spare of nothing", func(j *Job) { j.Rules.Spares[0] = Spare{What: "covers"} },
			`rules.spares[0] | Rules, spare rule covers: it says neither percent nor at_least.`},
		{"a spare of an unknown part", func(j *Job) { j.Rules.Spares[1].What = "joint seel" },
			`rules.spares[1].what | Rules, spare rule joint seel: what is "joint seel", which is no loose part of any supply. Did you mean "joint seal"?`},
		{"a tie-break twice", func(j *Job) { j.Rules.Prefer[1] = "clearance" },
			`rules.prefer[1] | Rules: clearance is written twice in prefer.`},
		{"a step twice", func(j *Job) { j.Rules.Steps = []Step{{Step: "fill"}, {Step: "fill"}} },
			`rules.steps[1] | Rules: fill is written twice in steps.`},
		{"readings how often", func(j *Job) { j.Rules.Readings = []ReadingRule{{Of: "gap"}} },
			`rules.readings[0] | Rules: it says neither first nor every.`},
		{"a pressure, and a pad as well", func(j *Job) {
			j.Checks.Lifts = []Lift{{ID: "L1", Of: "units", Pressure: Known("90 kPa"), Pad: Known(Section{Width: 1000 * mm, Height: 1000 * mm})}}
		},
			`checks.lifts[0].pressure | Checks, lifts L1: the pressure on the ground is given, and outrigger or pad as well.`},
		{"a point twice", func(j *Job) { j.Rules.Points = append(j.Rules.Points, Point{Name: "Formation", Kind: "hold"}) },
			`rules.points[1].name | Rules, point Formation: point "Formation" is written twice.`},
		{"a point that is neither hold nor witness", func(j *Job) { j.Rules.Points[0].Kind = "hald" },
			`rules.points[0].kind | Rules, point formation: kind is "hald", which is none of its words. Did you mean "hold"?`},
		{"a point of an unknown document", func(j *Job) { j.Rules.Points[0].From = "D22" },
			`rules.points[0].from | Rules, point formation: "from" names document "D22", which does not exist.`},
		{"a point without a name", func(j *Job) { j.Rules.Points[0].Name = "" },
			`rules.points[0].name | Rules, point number 1: "name" is missing.`},
		{"a drawn line half told", func(j *Job) { j.Coordinates.Line = DrawnLine{Kind: "trench-edge"} },
			"coordinates.line.side | Coordinates, line: \"side\" is missing: on which side of the centreline does the trench edge lie?\n" +
				`coordinates.line.offset | Coordinates, line: "offset" is missing: how far is the trench edge from the centreline?`},
		{"a centreline beside itself", func(j *Job) { j.Coordinates.Line = DrawnLine{Kind: "centreline", Offset: mm} },
			`coordinates.line | Coordinates: a centreline has no side, offset or from.`},
		{"an attachment twice", func(j *Job) { j.Attachments = append(j.Attachments, j.Attachments[0]) },
			`attachments[1].name | Attachment survey.csv: two attachments are called survey.csv.`},
		{"an assumption from a document", func(j *Job) { j.Supplies[0].Saw.Kerf.From = "D1" },
			`supplies[0].saw.kerf | Supply trough, saw: kerf is assumed and names a document.`},
	} {
		j := sample(t)
		c.spoil(&j)
		if got := texts(Faults(j)); got != c.want {
			t.Errorf("%s:\ngot  %s\nwant %s", c.name, got, c.want)
		}
	}
}

func TestOneSlipIsOneFault(t *testing.T) {
	for old, written := range map[string]string{
		`"id": "D1", "title"`:                     `"id": 5.5e, "title"`,
		`"id": "N3"`:                              `"id": {}`,
		`{"id": "B", "from": "N2"`:                `{"id": "B", "from": []`,
		`"lengths": ["3000 mm", "1500 mm"]`:       `"lengths": ["3000", "1500 mm"]`,
		`"id": "trough", "title"`:                 `"id": true, "title"`,
		`"documents": [`:                          `"documents": 7, "yard": [], "attachments": [`,
		`"from": "-1100 mm", "to": "-700 mm"`:     `"from": -1100, "to": "-700 mm"`,
		`"skew": "75°"`:                           `"skew": 75`,
		`"spares": [{"what": "covers"`:            `"spares": [{"what": false`,
		`"kind": "tee", "title"`:                  `"kind": "te", "title"`,
		`"inner": "600 mm x 500 mm"`:              `"inner": "600 mm x 5000 m"`,
		`"offset": "1200 mm"`:                     `"offset": "1200 kg"`,
		`"scale_factor": 0.99963`:                 `"scale_factor": true`,
		`"level": "250 mm"}`:                      `"level": "-250 mm"}`,
		`"length": "1240 mm", "mark": "B-017/a"`:  `"length": "1240", "mark": "B-017/a"`,
		`{"kind": "building", "thickness": "250`:  `{"kind": "bulding", "thickness": "250`,
		`"gap": "10 mm in 8 mm..14 mm", "mitre_g`: `"gap": "10 mm in 8 mm..14", "mitre_g`,
	} {
		if !strings.Contains(sampleText, old) {
			t.Fatalf("%s is not in the sample", old)
		}
		_, faults := FromJSON([]byte(strings.Replace(sampleText, old, written, 1)))
		if len(faults) != 1 && !strings.Contains(written, `"documents": 7`) {
			t.Errorf("%s: %d faults:\n%s", written, len(faults), texts(faults))
		}
	}
}

// The closed search for whole covers against trying every number of every cover, on a coarse grid where that is possible.
func TestWholeCoversAgainstEveryCombination(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		covers := rapid.SliceOfNDistinct(rapid.Int64Range(2, 12), 1, 3, rapid.ID).Draw(t, "covers")
		least := rapid.Int64Range(0, 3).Draw(t, "least gap")
		most := rapid.Int64Range(least, 4).Draw(t, "most gap")
		unit := rapid.Int64Range(1, 60).Draw(t, "unit")
		possible := false
		var try func(i int, sum, count int64)
		try = func(i int, sum, count int64) {
			if i == len(covers) {
				possible = possible || count > 0 && sum+count*least <= unit && unit <= sum+count*most
				return
			}
			for n := int64(0); sum+n*covers[i] <= unit; n++ {
				try(i+1, sum+n*covers[i], count+n)
			}
		}
		try(0, 0, 0)
		lengths := make([]measure.Length, len(covers))
		for i, c := range covers {
			lengths[i] = measure.Length(c)
		}
		got := coversFit(measure.Length(unit), lengths, measure.Window{Nominal: measure.Length(least), Min: measure.Length(least), Max: measure.Length(most)})
		if got != possible {
			t.Fatalf("unit %d, covers %v, gap %d..%d: %v, by trying %v", unit, covers, least, most, got, possible)
		}
	})
}

func TestDatesAgainstTheCalendar(t *testing.T) {
	for day := time.Date(1896, 1, 1, 0, 0, 0, 0, time.UTC); day.Year() < 2105; day = day.AddDate(0, 0, 1) {
		if text := day.Format(time.DateOnly); !isDate(text) {
			t.Fatalf("%s is a date", text)
		}
	}
	for _, text := range []string{"", "2026-02-29", "1900-02-29", "2026-13-01", "2026-00-10", "2026-04-31", "2026-1-01", "26-01-01", "2026/01/01", "2026-01-0x", "+026-01-01"} {
		if _, err := time.Parse(time.DateOnly, text); isDate(text) != (err == nil) {
			t.Errorf("%s: %v, but the calendar says %v", text, isDate(text), err)
		}
	}
}

// slips against the definition, letter by letter from the end.
func TestSlipsAgainstTheirDefinition(t *testing.T) {
	var slow func(a, b string) int
	slow = func(a, b string) int {
		if a == "" || b == "" {
			return len(a) + len(b)
		}
		differ := 1
		if a[len(a)-1] == b[len(b)-1] {
			differ = 0
		}
		n := min(slow(a[:len(a)-1], b[:len(b)-1])+differ, slow(a[:len(a)-1], b)+1, slow(a, b[:len(b)-1])+1)
		if i, j := len(a)-1, len(b)-1; i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
			n = min(n, slow(a[:i-1], b[:j-1])+1)
		}
		return n
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.StringMatching("[abc]{0,6}").Draw(t, "a"), rapid.StringMatching("[abc]{0,6}").Draw(t, "b")
		if got, want := slips([]rune(a), []rune(b)), slow(a, b); got != want {
			t.Fatalf("%q to %q: %d, by definition %d", a, b, got, want)
		}
	})
}

func TestSuggestions(t *testing.T) {
	known := []string{"lengths", "inner", "outer", "mass", "kerf"}
	for written, want := range map[string]string{"lenghts": "lengths", "Inner": "inner", "innr": "inner", "colour": "", "x": "", "masss": "mass", "kref": "kerf", "": "", strings.Repeat("kerf", 100): ""} {
		if got := suggestion(written, known); got != want {
			t.Errorf("%q: %q, wanted %q", written, got, want)
		}
	}
	if suggestion("N3", []string{"N1", "N2"}) != "" {
		t.Error("N3 is no slip for N1")
	}
}

func TestIntervals(t *testing.T) {
	for text, c := range map[string]struct {
		in, out []float64
		words   string
	}{
		"(0,)":     {[]float64{1e-6, 5, 1e20}, []float64{0, -1}, "more than 0 mm"},
		"[1,)":     {[]float64{1, 2}, []float64{0}, "at least 1 mm"},
		"(0,90]":   {[]float64{0.5, 90}, []float64{0, 90.5}, "more than 0 mm and at most 90 mm"},
		"(-90,90)": {[]float64{0, -89}, []float64{-90, 90}, "more than -90 mm and less than 90 mm"},
		"(,)":      {[]float64{-1e20, 0, 1e20}, nil, ""},
	} {
		i := mustInterval(text)
		for _, x := range c.in {
			if !i.holds(x) {
				t.Errorf("%g lies in %s", x, text)
			}
		}
		for _, x := range c.out {
			if i.holds(x) {
				t.Errorf("%g does not lie in %s", x, text)
			}
		}
		if got := i.words(" mm"); got != c.words {
			t.Errorf("%s: %q", text, got)
		}
	}
}

// The tags of the types are read only when something is walked: here all of them are.
func TestTagsAreWellFormed(t *testing.T) {
	rules := map[string]bool{"": true, "id": true, "leg-id": true, "date": true, "decimal": true, "load": true, "density": true, "percent": true, "scale": true, "sha256": true, "spare-source": true, "force": true, "pressure": true, "stress": true, "unit-weight": true, "temperature": true, "cable": true, "clock": true, "hours": true, "rate": true}
	refs := map[string]bool{"": true, "document": true, "supply": true, "node": true, "leg": true, "fitting": true, "vehicle": true}
	types := map[reflect.Type]bool{}
	var walk func(typ reflect.Type)
	walk = func(typ reflect.Type) {
		types[typ] = true
		for _, f := range fieldsOf(typ) {
			if !rules[f.rule] || !refs[f.ref] || f.name == "" {
				t.Errorf("%s.%s: rule %q, ref %q", typ.Name(), f.name, f.rule, f.ref)
			}
			inner := f.typ
			for inner.Kind() == reflect.Pointer || inner.Kind() == reflect.Slice || inner.Kind() == reflect.Array {
				inner = inner.Elem()
			}
			if inner.Kind() == reflect.Struct && !isText(inner) && !isEntry(inner) {
				walk(inner)
			}
		}
	}
	walk(typeOf[Job]())
	if len(types) < 25 {
		t.Errorf("only %d types", len(types))
	}
}

// Faults of a job in feet and inches speak in feet and inches.
func TestFaultsInTheSystemOfTheJob(t *testing.T) {
	j := sample(t)
	j.System = Imperial
	j.Route.Legs[0].First = []measure.Length{13 * measure.Foot}
	got := texts(Faults(j))
	if strings.Contains(got, " mm") || !strings.Contains(got, `a first unit of 13'-0" is longer`) {
		t.Error(got)
	}
}
