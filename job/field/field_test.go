package field

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"trenchwright/base/measure"
)

var seed = flag.Uint64("seed", 0, "of what is made up; 0: by the clock")

func chance(t testing.TB) *rand.Rand {
	n := *seed
	if n == 0 {
		n = uint64(time.Now().UnixNano())
	}
	t.Logf("-seed %d", n)
	return rand.New(rand.NewPCG(n, 1))
}

const mm = measure.Millimetre

var plain, lid = Piece{Supply: "T3", What: "unit", Length: 3000 * mm}, Piece{Supply: "T3", What: "cover", Length: 500 * mm}

// small is a run of two legs, four units each, two covers a unit; the last unit of each leg is a cut piece.
func small() *Run {
	run := &Run{}
	for _, id := range []string{"A", "B"} {
		l := Leg{ID: id}
		for i := range 4 {
			u := Unit{Place: fmt.Sprintf("%s-%03d", id, i+1), Start: measure.Length(i) * 3010 * mm, Gap: 10 * mm, Piece: plain, Stock: plain}
			u.End = u.Start + 3000*mm
			if i == 3 {
				u.Piece = Piece{Supply: "T3", What: "unit", Mark: u.Place}
			}
			for c := range 2 {
				u.Covers = append(u.Covers, fmt.Sprintf("%s.%d", u.Place, c+1))
				u.Lids = append(u.Lids, lid)
			}
			l.Units = append(l.Units, u)
		}
		run.Legs = append(run.Legs, l)
	}
	return run
}

// gang is people with devices, who make records.
type gang struct {
	t      testing.TB
	r      *rand.Rand
	number map[string]int
}

func people(t testing.TB) *gang { return &gang{t, chance(t), map[string]int{}} }

// makes is a record of a device, with an id of its own.
func (g *gang) makes(device string, kind Kind, from, to string, says any, after ...string) Record {
	g.t.Helper()
	b, err := json.Marshal(says)
	if err != nil {
		g.t.Fatal(err)
	}
	g.number[device]++
	var ten [10]byte
	for i := range ten {
		ten[i] = byte(g.r.IntN(256))
	}
	return Record{ID: ULID(1_790_000_000_000+int64(g.r.IntN(1e9)), ten), Job: "j", Device: device, Number: g.number[device], Person: "p of " + device,
		Made: fmt.Sprintf("20%02d-01-01T00:00:00Z", g.r.IntN(90)), Kind: kind, From: from, To: to, After: after, Says: b}
}

func stateOf(records ...Record) State {
	b := NewBook(small())
	b.Add(records...)
	return b.State("")
}

func (s State) at(place string) UnitState {
	for _, l := range s.Legs {
		for _, u := range l.Units {
			if u.Place == place {
				return *u
			}
		}
	}
	return UnitState{}
}

func (s State) has(p Piece) Stock {
	for _, y := range s.Yard {
		if y.Piece == p {
			return y
		}
	}
	return Stock{}
}

func said(s State) string { return s.Findings.Render(measure.Metric) }

// Whatever order records arrive in, and however often, they come to the same state, worked out at once or bit by bit; written and
// read again they are the same.
func TestOrderOfArrivalMeansNothing(t *testing.T) {
	g := people(t)
	for range 60 {
		records := g.made(40)
		want := asText(t, stateOf(records...))
		for range 4 {
			g.r.Shuffle(len(records), func(i, j int) { records[i], records[j] = records[j], records[i] })
			b := NewBook(small())
			for i, r := range records {
				b.Add(r)
				if g.r.IntN(4) == 0 {
					b.Add(records[g.r.IntN(i+1)]) // once more
				}
				if g.r.IntN(5) == 0 {
					b.State("") // a look between
				}
			}
			if got := asText(t, b.State("")); got != want {
				t.Fatalf("another order, another state:\n%s\n%s", want, got)
			}
		}
		var file bytes.Buffer
		if err := Write(&file, records); err != nil {
			t.Fatal(err)
		}
		back, faults := Read(&file)
		if len(faults) > 0 || asText(t, stateOf(back...)) != want {
			t.Fatalf("read again they are not the same: %v", faults)
		}
	}
}

func asText(t *testing.T, s State) string {
	t.Helper()
	b, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// What people do who know of each other comes to what is there, step by step, against a plain account of it.
func TestWhatIsRecordedIsWhatIsThere(t *testing.T) {
	g := people(t)
	for range 40 {
		run := small()
		b := NewBook(run)
		set, laid, broken, in := map[string]bool{}, map[string]bool{}, map[string]bool{}, map[Piece]int{}
		lastOf := map[string][]string{} // by what it is of
		seen := map[string]int{}
		do := func(of string, kind Kind, from, to string, says any) {
			r := g.makes(string(rune('a'+g.r.IntN(3))), kind, from, to, says, lastOf[of]...)
			if lastOf[of] = []string{r.ID}; kind == Damage {
				lastOf[of] = append(r.After, r.ID) // whoever lifts it knows of the damage and of when it was set
			}
			seen[r.Device] = r.Number
			b.Add(r)
		}
		for range 50 {
			l := run.Legs[g.r.IntN(2)]
			i := g.r.IntN(4)
			u := l.Units[i]
			switch g.r.IntN(6) {
			case 0, 1:
				lift := set[u.Place]
				do(u.Place, Set, u.Place, "", SetSays{Within: true, Lifted: lift})
				switch set[u.Place] = !lift; {
				case !lift:
					in[u.Piece]--
				case !broken[u.Place]: // else it stays out
					in[u.Piece]++
				}
				broken[u.Place] = false
			case 5:
				if set[u.Place] {
					do(u.Place, Damage, u.Place, "", DamageSays{Count: 1})
					broken[u.Place] = true
				}
			case 2:
				c := u.Covers[g.r.IntN(2)]
				done := map[bool]string{true: "lifted", false: "laid"}[laid[c]]
				do(c, Cover, c, "", CoverSays{Done: done})
				if laid[c] = !laid[c]; laid[c] {
					in[lid]--
				} else {
					in[lid]++
				}
			case 3:
				n := g.r.IntN(12)
				do("yard", Delivery, "", "", DeliverySays{"t", []Delivered{{Piece: plain, Came: n, Damaged: n / 4}, {Piece: lid, Came: 2 * n}}})
				in[plain] += n - n/4
				in[lid] += 2 * n
			case 4:
				n := g.r.IntN(20)
				do("yard", Count, "", "", CountSays{[]Counted{{Piece: plain, Count: n}}, map[string]int{"a": seen["a"], "b": seen["b"], "c": seen["c"]}})
				in[plain] = n
			}
			s := b.State("")
			for _, l := range run.Legs {
				for _, u := range l.Units {
					got := s.at(u.Place)
					if (got.Set.Is == Yes) != set[u.Place] || set[u.Place] && (got.Damaged.Is == Yes) != broken[u.Place] {
						t.Fatalf("%s is set: %v, broken: %v, recorded as %+v", u.Place, set[u.Place], broken[u.Place], got)
					}
					for i, c := range u.Covers {
						if got := s.at(u.Place).Covers[i]; (got.Laid.Is == Yes) != laid[c] {
							t.Fatalf("%s is laid: %v, recorded as %+v", c, laid[c], got.Laid)
						}
					}
				}
			}
			for piece, want := range in {
				if got := s.has(piece).Have; got != want {
					t.Fatalf("%d of %s lie there, recorded are %d", want, piece.Name(exact), got)
				}
			}
		}
	}
}

// Whoever counts starts anew: what was known before is in the count, what comes after moves it. A unit that is set again takes one.
func TestCountStartsAnew(t *testing.T) {
	g := people(t)
	came := g.makes("a", Delivery, "", "", DeliverySays{"t1", []Delivered{{Piece: plain, Came: 10, Damaged: 1}}})
	set := g.makes("b", Set, "A-001", "A-003", SetSays{Within: true})
	if got := stateOf(came, set).has(plain); got.Have != 6 || got.Came != 10 || got.Used != 3 || got.Damaged != 1 {
		t.Fatalf("10 came, 1 broken, 3 set: %+v", got)
	}
	count := g.makes("a", Count, "", "", CountSays{[]Counted{{Piece: plain, Count: 5}}, map[string]int{"a": 1, "b": 1}})
	if got := stateOf(came, set, count).has(plain); got.Have != 5 || !slices.Equal(got.By, []string{count.ID}) {
		t.Fatalf("5 were counted: %+v", got)
	}
	more := g.makes("a", Delivery, "", "", DeliverySays{"t2", []Delivered{{Piece: plain, Came: 4}}})
	next := g.makes("b", Set, "B-001", "", SetSays{Within: true})
	if got := stateOf(next, more, count, set, came).has(plain); got.Have != 8 {
		t.Fatalf("5 were counted, 4 came, 1 was set: %+v", got)
	}
	few := g.makes("a", Delivery, "", "", DeliverySays{"t3", []Delivered{{Piece: plain, Came: 2}}})
	if s := stateOf(set, few); !strings.Contains(said(s), "More of T3 unit 3000 mm was used than there was: came 2, damaged 0, set or cut 3.") {
		t.Errorf("nothing is said of units that never came:\n%s", said(s))
	}
	if s := stateOf(set); len(s.Findings) > 0 {
		t.Errorf("where nobody records what comes, something is short:\n%s", said(s))
	}
}

// What lay when somebody counted did not come out of the yard once more, whether it was lifted and put back since, or its record was
// put right; nor did what came then.
func TestCountKnowsWhatLayAlready(t *testing.T) {
	g := people(t)
	came := g.makes("yard", Delivery, "", "", DeliverySays{"T1", []Delivered{{Piece: lid, Came: 9}, {Piece: plain, Came: 5}}})
	set := g.makes("a", Set, "A-001", "", SetSays{Within: true})
	laid := g.makes("a", Cover, "A-001", "", CoverSays{Done: "laid"})
	count := g.makes("yard", Count, "", "", CountSays{[]Counted{{Piece: lid, Count: 7}, {Piece: plain, Count: 4}}, map[string]int{"yard": 1, "a": 2}})
	lifted := g.makes("a", Cover, "A-001", "", CoverSays{Done: "lifted"})
	back := g.makes("b", Cover, "A-001", "", CoverSays{Done: "laid"}, lifted.ID)
	right := g.makes("a", Set, "A-001", "", SetSays{Within: true})
	right.Corrects = set.ID
	ticket := g.makes("yard", Delivery, "", "", DeliverySays{"T1", []Delivered{{Piece: lid, Came: 8}, {Piece: plain, Came: 5}}})
	ticket.Corrects = came.ID
	more := g.makes("b", Cover, "A-002", "", CoverSays{Done: "laid"})
	put := g.makes("c", Cover, "A-003", "", CoverSays{Done: "laid"}) // counted as gone too: its lids are told by three who knew each of the one before
	off := g.makes("0", Cover, "A-003", "", CoverSays{Done: "lifted"}, put.ID)
	on := g.makes("1", Cover, "A-003", "", CoverSays{Done: "laid"}, off.ID)
	count.Says = json.RawMessage(strings.Replace(string(count.Says), `"a":2`, `"a":2,"c":1`, 1))
	all := []Record{came, set, laid, count, lifted, back, right, ticket, more, put, off, on}
	for range 20 {
		g.r.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
		s := stateOf(all...)
		if n := s.has(lid).Have; n != 5 {
			t.Errorf("%d covers in the yard: 7 were counted, 2 were laid since", n)
		}
		if n := s.has(plain).Have; n != 4 {
			t.Errorf("%d units in the yard: 4 were counted, none was set since", n)
		}
	}
}

// What somebody wrote of another cover, another place or another thing does not stand for what he wrote of this one: whoever knows of
// both comes after both.
func TestWhatIsKnownIsKnownThingByThing(t *testing.T) {
	g := people(t)
	b := NewBook(small())
	add := func(device string, kind Kind, from, to string, says any) Record {
		r := g.makes(device, kind, from, to, says, b.Before(kind, from, to)...)
		b.Add(r)
		return r
	}
	laid, not := CoverSays{Done: "laid"}, CoverSays{Done: "lifted"}
	alone := g.makes("office", Cover, "A-001", "", not) // from a card, without knowing of anything
	add("a", Cover, "A-001", "", laid)
	b.Add(alone)
	for _, c := range []string{"A-001.1", "A-001.2"} {
		if is := b.State("").at("A-001").Covers[int(c[6]-'1')].Laid.Is; is != CantSay {
			t.Fatalf("%s: %s", c, is)
		}
		add("c", Cover, c, "", laid) // somebody looked, and knew of both
		if is := b.State("").at("A-001").Covers[int(c[6]-'1')].Laid.Is; is != Yes {
			t.Errorf("%s: %s", c, is)
		}
	}
	level := func(of string, z measure.Length) LevelSays { return LevelSays{Of: of, Level: &z, Plus: mm} }
	add("a", Level, "A-002", "", level("pad", 9*mm))
	add("b", Level, "A-002", "", level("formation", 2*mm))
	add("c", Level, "A-002", "", level("pad", 30*mm))
	for _, v := range b.State("").at("A-002").Levels {
		if !v.Four[0].Known {
			t.Errorf("%s: who knew of the first reading has the last word: %+v", v.Of, v.Four[0])
		}
	}
	off := func(place string, by measure.Length) SetSays {
		return SetSays{Within: true, Plus: mm, Off: []Off{{Place: place, By: by}}}
	}
	add("a", Set, "A-002", "", off("A-002", 5*mm))
	add("a", Set, "A-003", "", off("A-003", 5*mm))
	both := off("A-002", 15*mm)
	both.Off = append(both.Off, Off{Place: "A-003", By: 15 * mm})
	add("c", Set, "A-002", "A-003", both)
	for _, place := range []string{"A-002", "A-003"} {
		if u := b.State("").at(place); !u.End.Known || u.End.Value != 15*mm {
			t.Errorf("%s: who knew of the first readings has the last word: %+v", place, u.End)
		}
	}
}

// Two people who measured the same without knowing of each other: both stay, and what they differ by is told. Where the readings
// agree as well as they can, the better one counts. Who knew of the other has the last word; a correction takes its record away.
func TestTwoWhoMeasuredTheSame(t *testing.T) {
	g := people(t)
	off := func(by measure.Length, plus measure.Length) SetSays {
		return SetSays{Off: []Off{{Place: "A-002", By: by}}, Plus: plus}
	}
	one := g.makes("a", Set, "A-002", "", off(7*mm, mm))
	two := g.makes("b", Set, "A-002", "", off(12*mm, mm))
	s := stateOf(one, two)
	if e := s.at("A-002").End; e == nil || e.Known || len(e.Readings) != 2 || !strings.Contains(said(s), "Readings of the end of A-002 differ by more than they are good for") ||
		!strings.Contains(said(s), "p of a") || !strings.Contains(said(s), "p of b") {
		t.Errorf("7 and 12 mm: %+v\n%s", e, said(s))
	}
	near := g.makes("b", Set, "A-002", "", off(84*mm/10, mm/2))
	if e := stateOf(one, near).at("A-002").End; e == nil || !e.Known || e.Value != 84*mm/10 {
		t.Errorf("7±1 and 8.4±0.5 mm: %+v", e)
	}
	knew := g.makes("c", Set, "A-002", "", off(9*mm, mm), one.ID, two.ID)
	if e := stateOf(knew, two, one).at("A-002").End; e == nil || !e.Known || e.Value != 9*mm || len(e.Readings) != 1 {
		t.Errorf("who knew of both read 9 mm: %+v", e)
	}
	corrected := g.makes("c", Set, "A-002", "", off(7*mm, mm))
	corrected.Corrects = two.ID
	if e := stateOf(corrected, two, one).at("A-002").End; e == nil || !e.Known || e.Value != 7*mm {
		t.Errorf("the 12 mm were a slip: %+v", e)
	}
}

// A stretch is one record; what is off in it is named. It may be named from either end, and covers by themselves.
func TestStretches(t *testing.T) {
	g := people(t)
	s := stateOf(g.makes("a", Set, "A-004", "A-002", SetSays{Within: true, Off: []Off{{Place: "A-003", By: 7 * mm}}}),
		g.makes("a", Cover, "A-002.2", "A-003", CoverSays{Done: "laid", Missing: []string{"A-003.1"}}))
	for place, want := range map[string]Answer{"A-001": No, "A-002": Yes, "A-003": Yes, "A-004": Yes, "B-002": No} {
		if got := s.at(place).Set.Is; got != want {
			t.Errorf("%s is set: %s, want %s", place, got, want)
		}
	}
	if u := s.at("A-003"); u.End == nil || u.End.Value != 7*mm || s.at("A-002").End != nil || !s.at("A-002").Within {
		t.Errorf("A-003 is 7 mm ahead, the others within: %+v", u)
	}
	var laid []string
	for _, l := range s.Legs {
		for _, u := range l.Units {
			for _, c := range u.Covers {
				if c.Laid.Is == Yes {
					laid = append(laid, c.Place)
				}
			}
		}
	}
	if want := []string{"A-002.2", "A-003.2"}; !slices.Equal(laid, want) || s.Legs[0].Laid != 2 || s.Legs[0].Lids != 8 || s.Legs[0].Set != 3 {
		t.Errorf("laid are %v, want %v; %+v", laid, want, s.Legs[0].Laid)
	}
}

// What an inspector reads stands beside what was read by those who build, whoever knew of whom; where the two differ by more than both
// are good for, that is said. Where nobody else read it, it counts.
func TestInspectorBeside(t *testing.T) {
	g := people(t)
	read := func(device string, of measure.Length, after ...string) Record {
		return g.makes(device, Gap, "A-001", "", GapSays{of, of, mm}, after...)
	}
	ours := read("a", 10*mm)
	theirs := read("b", 13*mm, ours.ID)
	theirs.Role = "Inspector of the owner"
	s := stateOf(theirs, ours)
	if m := s.at("A-001").Left; !m.Known || m.Value != 10*mm || m.Check == nil || m.Check.Value != 13*mm {
		t.Fatalf("%+v", m)
	}
	if !strings.Contains(said(s), "10 mm by p of a") || !strings.Contains(said(s), "13 mm by p of b") {
		t.Error(said(s))
	}
	again := read("a", 13*mm, ours.ID, theirs.ID)
	if s := stateOf(theirs, again, ours); len(s.Findings) > 0 || s.at("A-001").Left.Value != 13*mm {
		t.Error(said(s))
	}
	if m := stateOf(theirs).at("A-001").Left; m.Value != 13*mm || m.Check != nil {
		t.Errorf("%+v", m)
	}
}

// What can be said in the record of a unit that was set counts as if it were recorded by itself; levels are worked out from the rod.
func TestOneRecordSaysMore(t *testing.T) {
	g := people(t)
	four := []measure.Length{1000 * mm, 1001 * mm, 1002 * mm, 1004 * mm}
	set := g.makes("a", Set, "A-001", "", SetSays{Within: true, Type: "plain", Line: new(-2 * mm), Left: new(9 * mm), Right: new(11 * mm), Walls: four, Plus: mm})
	rod := g.makes("a", Level, "A-001", "", LevelSays{Of: "pad", Height: new(3 * measure.Metre), Rod: []measure.Length{2 * measure.Metre}})
	rock := g.makes("a", Rock, "A-001", "", RockSays{Four: four, Packer: new(mm), Corner: "start right"})
	u := stateOf(set, rod, rock).at("A-001")
	if u.Left.Value != 9*mm || u.Right.Value != 11*mm || u.Line.Value != -2*mm || u.Type != "plain" || u.Rock.Value != mm || u.Packer != "1 mm start right" {
		t.Errorf("%+v", u)
	}
	if len(u.Levels) != 2 || u.Levels[0].Of != "pad" || u.Levels[0].Four[2].Value != 1000*mm || u.Levels[1].Of != "wall" || u.Levels[1].Four[3].Value != 1004*mm {
		t.Errorf("%+v", u.Levels)
	}
}

// An instrument stands as the device that reads it has it; what it reads on another benchmark closes on it. Of set-ups of two others
// nobody can say which holds.
func TestHowAnInstrumentStands(t *testing.T) {
	g := people(t)
	up := func(device string, level, rod measure.Length, closes bool) Record {
		r := g.makes(device, SetUp, "", "", SetUpSays{Benchmark: "BM", Level: level, Rod: rod, Closes: closes})
		r.Instrument = &Instrument{ID: "L7", SetUp: device}
		return r
	}
	b := NewBook(small())
	b.Add(up("a", 100*measure.Metre, 1500*mm, false), up("a", 101*measure.Metre, 503*mm, true))
	for device, want := range map[string]bool{"a": true, "b": true} {
		if s, ok := b.SetUp("L7", device); ok != want || s.Height != 101500*mm || len(s.Closes) != 1 || s.Closes[0].Off != 3*mm {
			t.Errorf("%s: %+v, %v", device, s, ok)
		}
	}
	b.Add(up("c", 100*measure.Metre, 1200*mm, false))
	if s, ok := b.SetUp("L7", "b"); ok {
		t.Errorf("two stand, and b takes %+v", s)
	}
	if s, ok := b.SetUp("L7", "c"); !ok || s.Height != 101200*mm {
		t.Errorf("c set it up itself: %+v", s)
	}
}

// A release ends with an event of its kinds that whoever released did not know of, and with its time.
func TestReleasesLapse(t *testing.T) {
	g := people(t)
	release := PointSays{Point: "bed A", Party: "engineer", Lapses: []string{"rain"}, Until: "2026-11-27T18:00:00Z"}
	first := g.makes("a", Release, "", "", release)
	rain := g.makes("b", Event, "", "", EventSays{"rain"})
	frost := g.makes("b", Event, "", "", EventSays{"frost"})
	again := g.makes("a", Release, "", "", release, rain.ID)
	for i, c := range []struct {
		now     string
		records []Record
		want    Answer
	}{
		{"", []Record{first}, Yes}, {"", []Record{first, frost}, Yes}, {"", []Record{first, rain}, No}, {"", []Record{again, rain, first}, Yes},
		{"2026-11-27T17:00:00Z", []Record{first}, Yes}, {"2026-11-27T18:00:01Z", []Record{first}, No},
	} {
		b := NewBook(small())
		b.Add(c.records...)
		if p := b.State(c.now).Points; len(p) != 1 || p[0].Released.Is != c.want {
			t.Errorf("%d: %+v, want %s", i, p, c.want)
		}
	}
}

// A layer is there once somebody placed it; a test that it did not meet stands until a later one.
func TestLayers(t *testing.T) {
	g := people(t)
	no, yes := false, true
	placed := g.makes("a", Layer, "A-001", "A-002", LayerSays{Number: 1, Side: "both"})
	failed := g.makes("b", LayerTest, "A-002", "", TestSays{Number: 1, Side: "left", Met: &no})
	s := stateOf(placed, failed)
	if l := s.at("A-002").Layers; len(l) != 2 || l[0].Side != "left" || l[0].Met.Is != No || len(l[0].Met.By) != 1 || l[1].Placed.Is != Yes || len(l[1].Met.By) != 0 {
		t.Errorf("%+v", l)
	}
	if l := stateOf(placed, failed, g.makes("b", LayerTest, "A-002", "", TestSays{Number: 1, Side: "left", Met: &yes})).at("A-002").Layers; l[0].Met.Is != Yes {
		t.Errorf("tested again: %+v", l)
	}
}

// The records of one thing that are the last, against the rule as it is said: no other is later.
func TestLastAgainstItsRule(t *testing.T) {
	g, b := people(t), NewBook(&Run{})
	for range 2000 {
		var of []*entry
		for i := range g.r.IntN(9) {
			r := Record{ID: fmt.Sprint(i), Device: []string{"", "a", "b", "c"}[g.r.IntN(4)], Number: 1 + g.r.IntN(4)}
			for range g.r.IntN(3) {
				r.After = append(r.After, fmt.Sprint(g.r.IntN(9)))
			}
			e := &entry{}
			e.enter(&r, nil)
			b.known(e)
			of = append(of, e)
		}
		of = standing(of)
		var want []*entry
		for _, s := range of {
			if !slices.ContainsFunc(of, func(r *entry) bool { return r != s && later(r, s) && !later(s, r) }) {
				want = append(want, s)
			}
		}
		if len(want) == 0 {
			want = of
		}
		if got := last(of); !slices.Equal(got, want) {
			t.Fatalf("%d of %d, want %d", len(got), len(of), len(want))
		}
	}
}

// What a book tells of one unit, of one leg and of what changed is what its state says, and what was told before stays as it was.
func TestNarrowQuestions(t *testing.T) {
	g := people(t)
	for range 40 {
		b := NewBook(small())
		b.Add(g.made(20)...)
		before := b.State("")
		was, version := asText(t, before), b.Version()
		b.Add(g.made(5)...)
		if u, ok := b.Unit("A-003.1"); !ok || u.Place != "A-003" {
			t.Fatalf("%+v, %v", u, ok)
		}
		changed := b.Changed(version)
		after := b.State("")
		if asText(t, before) != was {
			t.Fatal("a state that was told has changed")
		}
		for l, leg := range after.Legs {
			if got, _ := b.Leg(leg.ID); asText(t, State{Legs: []LegState{got}}) != asText(t, State{Legs: []LegState{leg}}) {
				t.Fatal("a leg is not what the state says")
			}
			for i, u := range leg.Units {
				if got, _ := b.Unit(u.Place); got != u {
					t.Fatal("a unit is not what the state says")
				}
				same := asText(t, State{Legs: []LegState{{Units: []*UnitState{u}}}}) == asText(t, State{Legs: []LegState{{Units: before.Legs[l].Units[i : i+1]}}})
				if !same && !slices.Contains(changed, u.Place) {
					t.Fatalf("%s changed, and is not told as changed", u.Place)
				}
			}
		}
	}
	if _, ok := NewBook(small()).Unit("Z-001"); ok {
		t.Error("there is no Z-001")
	}
}
