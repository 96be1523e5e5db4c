package field

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job"
)

// contract is a job that wants something before every step, and has some tolerances.
func contract() job.Job {
	each := func(l measure.Length) job.Entry[measure.Length] { return job.Known(l) }
	return job.Job{
		Documents: []job.Document{{ID: "D1", Title: "specification"}},
		Rules: job.Rules{From: "D1", EndTol: each(5 * mm), BedTol: each(4 * mm), LipLimit: each(3 * mm),
			Steps: []job.Step{{Step: "set", Wants: []string{"pad"}}, {Step: "cover", Wants: []string{"bond", "photo"}}, {Step: "fill", Wants: []string{"gap", "fabric"}}},
		},
	}
}

func (s *Run) planned(of string, at measure.Length) *Run {
	for l := range s.Legs {
		for u := range s.Legs[l].Units {
			s.Legs[l].Units[u].Levels = append(s.Legs[l].Units[u].Levels, Planned{of, [4]measure.Length{at, at, at, at}})
			s.Legs[l].Units[u].GapLeast, s.Legs[l].Units[u].GapMost, s.Legs[l].Units[u].GapFrom = 5*mm, 15*mm, "drawing 7"
		}
	}
	return s
}

func heldOf(list []Held, place, of string) Held {
	i := slices.IndexFunc(list, func(h Held) bool { return h.Place == place && h.Of == of })
	if i < 0 {
		return Held{}
	}
	return list[i]
}

// A value is held against its limit with what it is known by: it meets it where it does at both ends of that, does not where it does at
// neither; else nobody can say. Without a limit it is not checked. Worked by hand.
func TestHeldAgainstLimits(t *testing.T) {
	g := people(t)
	off := func(by, plus measure.Length) Record {
		return g.makes("a", Set, "A-001", "", SetSays{Off: []Off{{Place: "A-001", By: by}}, Plus: plus})
	}
	for _, c := range []struct {
		r    Record
		of   string
		want string
	}{
		{off(4*mm, mm), "end", "meets the stated figure"}, {off(-4*mm, mm), "end", "meets the stated figure"}, {off(5*mm, mm), "end", "cannot say"},
		{off(6*mm, mm), "end", "cannot say"}, {off(-6*mm, 999*measure.Micrometre), "end", "does not meet the stated figure"}, {off(5*mm, 0), "end", "meets the stated figure"},
		{g.makes("a", Gap, "A-001", "", GapSays{Left: new(14 * mm), Right: new(9 * mm)}), "gap", "meets the stated figure"},
		{g.makes("a", Gap, "A-001", "", GapSays{Left: new(20 * mm), Right: new(9 * mm)}), "gap", "does not meet the stated figure"},
		{g.makes("a", Level, "A-001", "", LevelSays{Of: "pad", Four: []measure.Length{1000 * mm, 1001 * mm, 995 * mm, 1000 * mm}}), "pad", "does not meet the stated figure"},
		{g.makes("a", Set, "A-001", "", SetSays{Line: new(2 * mm)}), "line", NotChecked},
		{g.makes("a", CoverTest, "A-001", "", TestSays{Method: "step", Value: "2 mm", Limit: "3 mm"}), "test", "meets the stated figure"},
		{g.makes("a", Bond, "A-001", "", TestSays{Value: "0.2 ohm"}), "test", NotChecked},
		{g.makes("a", Bond, "A-001", "", TestSays{Value: "0.2 ohm", Met: new(false)}), "test", "does not meet the stated figure"},
	} {
		b := NewBook(small().planned("pad", 1000*mm))
		b.Add(c.r)
		h := heldOf(b.Held(Asks(contract())), "A-001", c.of)
		if h.Verdict != c.want || !slices.Equal(h.By, []string{c.r.ID}) && c.of != "test" {
			t.Errorf("%s: %+v\nwant %s", c.r.Says, h, c.want)
		}
		if c.want == NotChecked && !strings.Contains(h.Say(exact), "NOT CHECKED: no ") {
			t.Error(h.Say(exact))
		}
		if len(Open([]Held{h})) == 0 != (c.want == "meets the stated figure") {
			t.Errorf("open: %v", Open([]Held{h}))
		}
	}
	own := g.makes("a", Set, "A-001", "", SetSays{Line: new(2 * mm)})
	own.Rule = "± 3 mm, drawing 9"
	b := NewBook(small())
	b.Add(own)
	if h := heldOf(b.HeldAt(Asks(contract()), "A-001"), "A-001", "line"); h.Verdict != "meets the stated figure" || h.Say(exact) != "line 2 mm, limit 3 mm (drawing 9, as the record has it): meets the stated figure" {
		t.Errorf("%+v %s", h, h.Say(exact))
	}
}

// A gap is held wall by wall: what is good on the axis may be shut at one wall and gape at the other. Window 5 to 15 mm.
func TestGapIsHeldAtEachWall(t *testing.T) {
	for _, c := range []struct {
		left, right, plus measure.Length
		want              string
	}{
		{0, 20 * mm, 0, "does not meet the stated figure, does not meet the stated figure"}, // 10 mm on the axis
		{6 * mm, 16 * mm, mm / 2, "meets the stated figure, does not meet the stated figure"},
		{5 * mm, 15 * mm, 0, "meets the stated figure, meets the stated figure"},
		{5 * mm, 10 * mm, mm, "cannot say, meets the stated figure"},
	} {
		b := NewBook(small().planned("pad", 0))
		b.Add(people(t).makes("a", Gap, "A-001", "", GapSays{&c.left, &c.right, c.plus}))
		list := b.HeldAt(Asks(contract()), "A-001")
		if len(list) != 2 || list[0].Verdict+", "+list[1].Verdict != c.want || list[0].Value != c.left || list[1].Value != c.right || !strings.Contains(list[0].What, "left wall") || !strings.Contains(list[1].What, "right wall") {
			t.Errorf("%v and %v: %+v", c.left, c.right, list)
		}
	}
	run := small().planned("pad", 0)
	run.Legs[0].Units[0].GapLeast = 0
	b := NewBook(run)
	b.Add(people(t).makes("a", Gap, "A-001", "", GapSays{Left: new(16 * mm), Right: new(16 * mm)}))
	if said := b.HeldAt(Asks(contract()), "A-001")[1].Say(exact); said != "gap after it, right wall, 16 mm, it may be 0 mm to 15 mm (drawing 7): does not meet the stated figure" {
		t.Error(said)
	}
}

// Where two people did not know of each other and read different things there is no figure: what each read stands, with who and when.
func TestNoFigureWhereReadingsDiffer(t *testing.T) {
	g := people(t)
	b := NewBook(small().planned("pad", 1000*mm))
	one, other := g.makes("a", Gap, "A-001", "", GapSays{Left: new(3 * mm), Right: new(17 * mm)}), g.makes("b", Gap, "A-001", "", GapSays{Left: new(9 * mm), Right: new(9 * mm)})
	one.Person, one.Made, other.Person, other.Made = "R. Ganger", "2026-11-27T08:00:00Z", "T. Mason", "2026-11-27T09:00:00Z"
	low, high := g.makes("a", Level, "A-001", "", LevelSays{Of: "pad", Level: new(990 * mm)}), g.makes("b", Level, "A-001", "", LevelSays{Of: "pad", Level: new(1004 * mm)})
	b.Add(one, other, low, high)
	list := b.HeldAt(Asks(contract()), "A-001")
	if len(list) != 3 {
		t.Fatalf("%+v", list)
	}
	for _, h := range list {
		if h.Known || h.Value != 0 || len(h.Read) != 2 || h.Verdict != "cannot say" {
			t.Errorf("%+v", h)
		}
	}
	if said := list[0].Say(exact); !strings.Contains(said, "3 mm by R. Ganger 2026-11-27T08:00:00Z") || !strings.Contains(said, "9 mm by T. Mason 2026-11-27T09:00:00Z") || !strings.HasSuffix(said, ", which differ by more than they are good for, it may be 5 mm to 15 mm (drawing 7): cannot say") {
		t.Error(said)
	}
	if h := list[2]; h.Of != "pad" || h.Read[0].Value+h.Read[1].Value != -6*mm || h.Read[0].Value*h.Read[1].Value > 0 {
		t.Errorf("how far each is off its level: %+v", h)
	}
}

// A lip that comes from a level which two people read differently is not known, unless the other wall tells enough.
func TestLipFromLevelsThatDiffer(t *testing.T) {
	g := people(t)
	wall := func(device, place string, four ...measure.Length) Record {
		return g.makes(device, Level, place, "", LevelSays{Of: "wall", Four: four})
	}
	near, far, next := wall("a", "A-001", 0, 0, 1000*mm, 1000*mm), wall("b", "A-001", 0, 0, 1009*mm, 1000*mm), wall("a", "A-002", 1000*mm, 1001*mm, 0, 0)
	b := NewBook(small())
	b.Add(near, far, next)
	if h := heldOf(b.Held(Asks(contract())), "A-001", "lip"); h.Known || h.Verdict != "cannot say" || !strings.Contains(h.Say(exact), "not known") || strings.Contains(h.Say(exact), "0 mm") {
		t.Errorf("%+v %s", h, h.Say(exact))
	}
	b.Add(wall("a", "A-002", 1000*mm, 1007*mm, 0, 0))
	if h := heldOf(b.Held(Asks(contract())), "A-001", "lip"); !h.Known || h.Value != 7*mm || h.Verdict != "does not meet the stated figure" {
		t.Errorf("%+v", h)
	}
}

// The lip from one unit to the next is the greater of both walls, with what both ends are known by.
func TestLip(t *testing.T) {
	g := people(t)
	b := NewBook(small())
	b.Add(g.makes("a", Level, "A-001", "", LevelSays{Of: "wall", Four: []measure.Length{1000 * mm, 1000 * mm, 1000 * mm, 1002 * mm}, Plus: mm}),
		g.makes("a", Level, "A-002", "", LevelSays{Of: "wall", Four: []measure.Length{1001 * mm, 1006 * mm, 1000 * mm, 1000 * mm}, Plus: mm}))
	h := heldOf(b.Held(Asks(contract())), "A-001", "lip")
	if h.Value != 4*mm || h.Plus != 2*mm || h.Verdict != "cannot say" || len(h.By) != 2 || h.What != "lip to A-002" {
		t.Errorf("%+v", h)
	}
}

// Progress and what lacks its record before something hides it, against a plain account of what was done, step by step.
func TestProgressAndHidingAgainstAPlainAccount(t *testing.T) {
	g := people(t)
	asks := Asks(contract())
	for range 30 {
		run := small()
		b := NewBook(run)
		has, done, top := map[string]map[string]bool{}, map[string]map[string]bool{}, map[string]map[string]bool{}
		for _, l := range run.Legs {
			for _, u := range l.Units {
				has[u.Place], done[u.Place], top[u.Place] = map[string]bool{}, map[string]bool{}, map[string]bool{}
			}
		}
		for range 40 {
			l := run.Legs[g.r.IntN(2)]
			i := g.r.IntN(4)
			from, to := i, min(3, i+g.r.IntN(3))
			write := func(kind Kind, says any, has func(place string)) {
				r := g.makes("a", kind, l.Units[from].Place, l.Units[to].Place, says)
				if kind == Bond && g.r.IntN(2) == 0 {
					r.Photos = []string{"ab"}
				}
				b.Add(r)
				for _, u := range l.Units[from : to+1] {
					has(u.Place)
				}
				if len(r.Photos) > 0 {
					for _, u := range l.Units[from : to+1] {
						done[u.Place]["photo"] = true
					}
				}
			}
			switch g.r.IntN(7) {
			case 0:
				write(Level, LevelSays{Of: "pad", Within: new(true)}, func(p string) { has[p]["pad"] = true })
			case 1:
				write(Set, SetSays{Within: true}, func(p string) { done[p]["set"] = true })
			case 2:
				write(Gap, GapSays{new(10 * mm), new(10 * mm), mm}, func(p string) { has[p]["gap"] = true })
			case 3:
				write(Fabric, struct{}{}, func(p string) { has[p]["fabric"] = true })
			case 4:
				write(Bond, TestSays{Met: new(true)}, func(p string) { has[p]["bond"] = true })
			case 5:
				write(Cover, CoverSays{Done: "laid"}, func(p string) { done[p]["cover"] = true })
			case 6:
				side, last := []string{"left", "right", "both"}[g.r.IntN(3)], g.r.IntN(2) == 0
				write(Layer, LayerSays{Number: 1, Side: side, Top: last}, func(p string) {
					done[p]["fill"] = true
					for _, s := range sides(side) {
						top[p][s] = top[p][s] || last
					}
				})
			}
		}
		for _, p := range b.Progress(asks) {
			var want LegProgress
			for _, l := range run.Legs {
				for i := range l.Units {
					u := &l.Units[i]
					if l.ID != p.Leg {
						continue
					}
					want.All.add(u)
					for step, amount := range map[string]*Amount{"set": &want.Set, "fill": &want.Begun, "cover": &want.Covered} {
						amount.count(u, done[u.Place][step])
					}
					want.Filled.count(u, top[u.Place]["left"] && top[u.Place]["right"])
				}
			}
			if p.All != want.All || p.Set != want.Set || p.Begun != want.Begun || p.Covered != want.Covered || p.Filled != want.Filled {
				t.Fatalf("leg %s:\n%+v, want\n%+v", p.Leg, p, want)
			}
		}
		for _, h := range b.Hiding(asks) {
			for _, l := range run.Legs {
				for i, u := range l.Units {
					gone := done[u.Place][h.Step]
					var lacks []string
					for _, w := range h.Wants {
						there := has[u.Place][w] || w == "photo" && done[u.Place]["photo"] || (w == "gap" || w == "bond") && i == 3
						if !there {
							lacks = append(lacks, w)
						}
					}
					k := slices.IndexFunc(h.Lacking, func(l Lack) bool { return l.Place == u.Place })
					if gone && len(lacks) > 0 && (k < 0 || !h.Lacking[k].Hidden || len(h.Lacking[k].By) == 0 || !slices.Equal(h.Lacking[k].Wants, lacks)) {
						t.Fatalf("%s is hidden by %s without %v, and that is not told: %+v", u.Place, h.Step, lacks, h.Lacking)
					}
					if k >= 0 && h.Lacking[k].Hidden != gone {
						t.Fatalf("%s before %s: %+v, done %v", u.Place, h.Step, h.Lacking[k], gone)
					}
				}
			}
		}
	}
}

// What a contract wants is proven where all of it is there and meets its figure; one reading too few, and it is not.
func TestProven(t *testing.T) {
	g := people(t)
	bond := g.makes("a", Bond, "A-001", "", TestSays{Met: new(true)})
	bond.Photos = []string{"ab"}
	all := []Record{
		g.makes("a", Level, "A-001", "", LevelSays{Of: "pad", Level: new(1000 * mm)}), g.makes("a", Set, "A-001", "", SetSays{Off: []Off{{Place: "A-001", By: mm}}}),
		bond, g.makes("a", Cover, "A-001", "", CoverSays{Done: "laid"}), g.makes("a", Gap, "A-001", "", GapSays{new(10 * mm), new(10 * mm), mm}),
		g.makes("a", Fabric, "A-001", "", struct{}{}), g.makes("a", Layer, "A-001", "", LayerSays{Number: 1, Side: "both", Top: true}),
	}
	proven := func(records ...Record) Reached {
		b := NewBook(small().planned("pad", 1000*mm))
		b.Add(records...)
		r, _ := b.ReachedAt(Asks(contract()), "A-001")
		return r
	}
	if r := proven(all...); !r.Proven || !r.Filled {
		t.Fatalf("%+v", r)
	}
	for i := range all {
		if r := proven(slices.Delete(slices.Clone(all), i, i+1)...); r.Proven && i != 6 {
			t.Errorf("without %s it is proven", all[i].Kind)
		}
	}
	matter := g.makes("b", Nonconforming, "A-001", "A-002", MatterSays{Number: "N1"})
	if r := proven(append(all, matter)...); r.Proven || !slices.Equal(r.Open, []string{"nonconformance N1"}) {
		t.Errorf("%+v", r)
	}
	closed := g.makes("b", Repair, "", "", MatterSays{Number: "N1", Closed: true})
	if r := proven(append(all, matter, closed)...); !r.Proven {
		t.Errorf("%+v", r)
	}
}

// Readings are wanted as often as the contract says: the first two, then one in three.
func TestWanted(t *testing.T) {
	g := people(t)
	j := contract()
	j.Rules.Readings = []job.ReadingRule{{Of: "gap", First: 2, Every: 3}}
	b := NewBook(small())
	b.Add(g.makes("a", Set, "A-001", "A-003", SetSays{Within: true}), g.makes("a", Gap, "A-001", "", GapSays{new(10 * mm), new(10 * mm), mm}))
	w := b.Wanted(Asks(j))
	if len(w) != 1 || w[0].Wanted != 4 || w[0].Read != 1 || !slices.Equal(w[0].Lacking, []string{"A-002"}) || w[0].Ahead != 2 || w[0].Source != "specification D1" {
		t.Errorf("%+v", w) // behind A-004 and B-004 there is no joint
	}
	if got := b.WantsAt(Asks(j), "B-003"); got != nil {
		t.Error(got)
	}
}

// When an instrument is doubted, everything is read again but what is known to be older than its last good check.
func TestDoubt(t *testing.T) {
	g := people(t)
	with := func(r Record, setUp string) Record {
		r.Instrument = &Instrument{ID: "L7", SetUp: setUp}
		return r
	}
	level := func(device, from, to string) Record {
		return with(g.makes(device, Level, from, to, LevelSays{Of: "pad", Level: new(mm)}), "1")
	}
	old, seen, unseen := level("a", "A-001", ""), level("b", "A-001", "A-002"), level("c", "B-001", "B-003")
	good := with(g.makes("a", Check, "", "", CheckSays{Method: "two pegs", Met: new(true), Seen: map[string]int{"b": 1}}), "")
	young, more := level("a", "A-002", "A-003"), level("a", "A-004", "")
	bad := with(g.makes("a", Check, "", "", CheckSays{Met: new(false), Off: new(4 * mm)}), "")
	other := g.makes("a", Level, "B-004", "", LevelSays{Of: "pad", Level: new(mm)})
	b := NewBook(small())
	b.Add(old, seen, unseen, good, young, more, bad, other)
	d := b.Doubt("L7", "")
	if d.Before != 2 || len(d.Records) != 3 || len(d.Checks) != 2 || d.Checks[1].Off != "4 mm" || len(d.Again) != 2 {
		t.Fatalf("%+v", d)
	}
	if a := d.Again[0]; a.What != "level of pad" || a.From != "A-002" || a.To != "A-004" || a.Places != 3 || len(a.Records) != 2 {
		t.Errorf("%+v", a)
	}
	if a := d.Again[1]; a.From != "B-001" || a.To != "B-003" {
		t.Errorf("%+v", a)
	}
	if d := b.Doubt("L7", "2"); len(d.Records) != 0 {
		t.Errorf("%+v", d)
	}
}

func says(r *Record) string { return string(r.Kind) + " " + r.ID }

// A day's report has that day's records and no others; what was between two moments is what came to be between them.
func TestDayAndMonth(t *testing.T) {
	g := people(t)
	on := func(day string, r Record) Record {
		r.Made = day + "T14:05:00+02:00"
		return r
	}
	b := NewBook(small())
	b.Add(on("2026-11-26", g.makes("a", Set, "A-001", "A-002", SetSays{Within: true})), on("2026-11-27", g.makes("a", Set, "A-003", "", SetSays{Within: true, Off: []Off{{Place: "A-003", By: -2 * mm}}})),
		on("2026-11-27", g.makes("b", Event, "", "", EventSays{"rain"})), on("2026-11-28", g.makes("a", Set, "A-001", "", SetSays{Lifted: true})))
	d := b.Day("2026-11-27", "", "", says)
	if d.Records != 2 || len(d.People) != 2 || len(d.Stages) != 2 || !strings.HasPrefix(d.Stages[0].Lines[0].Text, "event ") || !strings.HasPrefix(d.Stages[1].Lines[0].Text, "set ") || d.Stages[1].Lines[0].Time != "14:05" {
		t.Errorf("%+v", d)
	}
	if d := b.Day("2026-11-27", "b", "", says); d.Records != 1 {
		t.Errorf("%+v", d)
	}
	until := func(day string) []LegProgress {
		return b.Upto(func(r *Record) bool { return r.Made[:10] <= day }).Progress(Asks(contract()))
	}
	if p := Since(until("2026-11-26"), until("2026-11-27")); p[0].Set.Units != 1 || p[0].Set.Length != 3010*mm || p[0].Set.Next != "A-004" {
		t.Errorf("%+v", p[0])
	}
	if p := Since(until("2026-11-27"), until("2026-11-28")); p[0].Set.Units != -1 {
		t.Errorf("%+v", p[0])
	}
}

// Whatever is recorded, every list can be asked for, and comes out the same in whatever order the records arrived.
func TestListsDoNotDependOnOrder(t *testing.T) {
	g := people(t)
	j := contract()
	j.Rules.Readings = []job.ReadingRule{{Of: "gap", Every: 2}, {Of: "pad", First: 1}}
	asks := Asks(j)
	lists := func(records []Record) string {
		b := NewBook(small().planned("pad", 3*measure.Metre))
		b.Add(records...)
		return text(t, b.Held(asks), b.Hiding(asks), b.Wanted(asks), b.Progress(asks), b.Measured(nil), b.Beside(), b.Doubt("L1", ""), b.Doubt("L2", "1"), b.SetUps(), b.Day("20", "", "", says))
	}
	for range 30 {
		records := g.made(60)
		want := lists(records)
		for range 3 {
			g.r.Shuffle(len(records), func(i, k int) { records[i], records[k] = records[k], records[i] })
			if got := lists(records); got != want {
				t.Fatalf("another order, other lists:\n%s\n%s", want, got)
			}
		}
	}
}

func text(t *testing.T, of ...any) string {
	t.Helper()
	b, err := json.Marshal(of)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// The crossfall of a unit is held where its two walls were read each by itself: against the planned one, at the end where it is further
// off, the inspector's beside it; without a tolerance it is not checked, and a record's own rule for levels is none for it.
func TestCrossfall(t *testing.T) {
	g := people(t)
	run := small()
	run.Legs[0].Units[0].Levels = []Planned{{Of: "wall", Four: [4]measure.Length{1010 * mm, 1000 * mm, 1010 * mm, 1000 * mm}}} // 10 mm to the right
	wall := func(four ...measure.Length) Record {
		return g.makes("a", Level, "A-001", "", LevelSays{Of: "wall", Four: four, Plus: mm})
	}
	held := func(j job.Job, records ...Record) Held {
		b := NewBook(run)
		b.Add(records...)
		return heldOf(b.HeldAt(Asks(j), "A-001"), "A-001", "crossfall")
	}
	j := contract()
	one := wall(1011*mm, 1000*mm, 1006*mm, 1002*mm) // 11 mm at its start, 4 mm at its end
	one.Rule = "± 20 mm, drawing 9"
	if h := held(j, one); h.Value != -6*mm || h.Plus != 2*mm || h.Verdict != NotChecked || h.What != "crossfall off the planned one at its end" || len(h.By) != 1 {
		t.Errorf("without a tolerance: %+v", h)
	}
	j.Rules.CrossTol = job.Entry[measure.Length]{Known: true, Value: 3 * mm}
	for _, c := range []struct {
		read []measure.Length
		want string
	}{
		{[]measure.Length{1011 * mm, 1000 * mm, 1006 * mm, 1002 * mm}, "does not meet the stated figure"}, // 6 ± 2 mm off
		{[]measure.Length{1011 * mm, 1000 * mm, 1010 * mm, 1000 * mm}, "meets the stated figure"},         // 1 ± 2
		{[]measure.Length{1013 * mm, 1000 * mm, 1010 * mm, 1000 * mm}, "cannot say"},                      // 3 ± 2
	} {
		if h := held(j, wall(c.read...)); h.Verdict != c.want {
			t.Errorf("%v: %+v, not %q", c.read, h, c.want)
		}
	}
	for _, says := range []LevelSays{{Of: "wall", Level: new(1005 * mm)}, {Of: "wall", Level: new(1005 * mm), End: "start"}, {Of: "wall", Height: new(2000 * mm), Rod: []measure.Length{995 * mm}}} {
		if h := held(j, g.makes("a", Level, "A-001", "", says)); h.What != "" {
			t.Errorf("read once for both walls, and yet held: %+v", h)
		}
	}
	left := g.makes("a", Level, "A-001", "", LevelSays{Of: "wall", Level: new(1010 * mm), End: "start left"})
	if h := held(j, left); h.What != "" {
		t.Errorf("of one wall alone: %+v", h)
	}
	right := g.makes("b", Level, "A-001", "", LevelSays{Of: "wall", Level: new(998 * mm), End: "start right"})
	if h := held(j, left, right); h.Value != 2*mm || h.Verdict != "meets the stated figure" || len(h.By) != 2 {
		t.Errorf("of both, each by a record of its own: %+v", h)
	}
}
