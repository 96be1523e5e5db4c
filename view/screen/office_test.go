package screen

import (
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"trenchwright/job"
	"trenchwright/job/field"
)

func (o *onSite) grid(args map[string]any) Grid {
	o.t.Helper()
	var g Grid
	asked(o.t, o.d, "grid", args, &g, o.p)
	nulls(o.t, "grid", reflect.ValueOf(g))
	return g
}

func (o *onSite) keyed(args map[string]any) Keyed {
	o.t.Helper()
	var k Keyed
	asked(o.t, o.d, "keyed", args, &k, o.p)
	nulls(o.t, "keyed", reflect.ValueOf(k))
	return k
}

// keepKeyed keeps every record of a card as the office's browser does.
func (o *onSite) keepKeyed(k Keyed) Site {
	o.t.Helper()
	var lines []string
	for _, r := range k.Rows {
		for _, text := range r.Records {
			o.n++
			lines = append(lines, kept(o.t, Heard{Record: text}, o.n))
		}
	}
	var is Site
	asked(o.t, o.d, "site", map[string]any{"lines": strings.Join(lines, "\n"), "more": true}, &is, o.p)
	return is
}

var cardTop = map[string]string{"person": "a foreman", "date": "2026-11-24", "time": "16:30"}

// TestADayCardIsKeyedIn keys thirty places of every demo job as they stand on paper: each figure becomes the record that a phone
// would have made, and the grid says afterwards what is recorded. Keystrokes are counted as the page takes them: a row costs its
// figures and no more than six keys.
func TestADayCardIsKeyedIn(t *testing.T) {
	for _, name := range []string{"tram-depot", "battery-yard", "hand-troughs"} {
		t.Run(name, func(t *testing.T) {
			o, _ := atSite(t, name)
			g := o.grid(map[string]any{})
			if len(g.Rows) == 0 || g.Back != "" || g.Rows[0].Place != g.From || len(g.Heads) != 4 {
				t.Fatalf("the grid begins with %+v", g)
			}
			most := 0
			var rows []map[string]string
			for i, r := range g.Rows {
				row := map[string]string{"place": r.Place, "off": fmt.Sprint(i%7 - 3)}
				if i%5 == 0 {
					row["off"] = "."
				}
				if r.Joint != "" {
					row["left"], row["right"] = "8", "="
				}
				keys := 0
				for i, h := range g.Heads {
					if len(row[h.Name]) > 0 && row[h.Name][0] < '0' || row[h.Name] == "=" {
						keys++
					}
					if !r.Boxes[i].Shut {
						keys++ // Enter
					}
				}
				most = max(most, keys)
				rows = append(rows, row)
			}
			if most > 6 {
				t.Errorf("a row takes %d keys beside its figures", most)
			}
			k := o.keyed(map[string]any{"rows": rows, "fields": cardTop})
			if !k.Full || k.Made != "2026-11-24T16:30:00" {
				t.Fatalf("the card cannot be kept: %+v", k)
			}
			is := o.keepKeyed(k)
			want := 0
			for _, r := range g.Rows {
				want++
				if r.Joint != "" {
					want++
				}
			}
			if is.Records != want || len(is.Unread) > 0 {
				t.Errorf("%d records came of %d figures: %v", is.Records, want, is.Unread)
			}
			for i, r := range o.grid(map[string]any{"from": g.From}).Rows {
				if r.Boxes[0].Has == "" || r.Joint != "" && r.Boxes[1].Has == "" {
					t.Fatalf("%s has %+v recorded", r.Place, r.Boxes)
				}
				if have := r.Boxes[0].Has; i%5 == 0 && have != "within" || i == 6 && have != "3 mm ahead" && have != "1/8\" ahead" && have != "3\" ahead" {
					t.Errorf("%s: %q", r.Place, have)
				}
			}
			if next := o.grid(map[string]any{}); next.From == g.From {
				t.Errorf("after the card the grid begins again at %s", next.From)
			}
		})
	}
}

// TestFiguresOfACardAreEchoed types figures as people write them, in both systems, and holds what is said of them.
func TestFiguresOfACardAreEchoed(t *testing.T) {
	o, _ := atSite(t, "tram-depot")
	g := o.grid(map[string]any{})
	place := g.Rows[0].Place
	echo := func(system, box, text string) string {
		k := o.keyed(map[string]any{"system": system, "words": "us", "fields": cardTop, "rows": []map[string]string{{"place": place, "off": ".", box: text}}})
		for _, e := range k.Rows[0].Echo {
			if e.Name == box {
				return e.Text + e.Fault
			}
		}
		return "not echoed: " + k.Rows[0].Missing
	}
	for _, c := range []struct{ system, box, text, want string }{
		{"metric", "off", "7", "7 mm (1/4\") ahead of its place"},
		{"metric", "off", "-7", "7 mm (1/4\") behind its place"},
		{"metric", "off", "1/4\"", "6 mm (1/4\") ahead of its place"},
		{"imperial", "off", "-1/4", "1/4\" (6 mm) behind its place"},
		{"imperial", "off", "0'-0 3/8\"", "3/8\" (10 mm) ahead of its place"},
		{"metric", "off", ".", "set, within"},
	} {
		if have := echo(c.system, c.box, c.text); have != c.want {
			t.Errorf("%s %q in %s: %q, want %q", c.box, c.text, c.system, have, c.want)
		}
	}
	if have := echo("metric", "off", "7 loads"); !strings.Contains(have, "loads") {
		t.Errorf("what cannot be read is said to be %q", have)
	}
}

// TestLevelsOfACardAreHeldAgainstThePlan types a level and the reading of a rod for the same place: both come to the same record,
// and what it is off its planned level is said.
func TestLevelsOfACardAreHeldAgainstThePlan(t *testing.T) {
	o, _ := atSite(t, "tram-depot")
	g := o.grid(map[string]any{"fields": map[string]string{"of": "pad"}})
	if g.Of != "pad" || !strings.HasSuffix(g.Rows[0].Boxes[3].Planned, " m") {
		t.Fatalf("no planned level of pads: %s %+v", g.Of, g.Rows[0])
	}
	var planned float64
	if _, err := fmt.Sscanf(g.Rows[0].Boxes[3].Planned, "%f m", &planned); err != nil {
		t.Fatal(err)
	}
	top := map[string]string{"person": "a foreman", "date": "2026-11-24", "time": "16:30", "of": "pad"}
	says := func(height, typed string) (KeyedRow, string) {
		k := o.keyed(map[string]any{"fields": top, "height": height, "rows": []map[string]string{{"place": g.Rows[0].Place, "level": typed}}})
		if len(k.Rows[0].Records) != 1 {
			t.Fatalf("%+v", k.Rows[0])
		}
		var r struct {
			Says struct {
				Of    string `json:"of"`
				Level string `json:"level"`
			} `json:"says"`
		}
		if err := json.Unmarshal([]byte(k.Rows[0].Records[0]), &r); err != nil {
			t.Fatal(err)
		}
		return k.Rows[0], r.Says.Of + " " + r.Says.Level
	}
	row, level := says("", fmt.Sprintf("%.3f", planned+0.012))
	_, rod := says(fmt.Sprintf("%.3f", planned+1.5), "1.488")
	if level != rod {
		t.Errorf("as a level it is %s, read on the rod %s", level, rod)
	}
	if odd := strings.Join(row.Odd, " "); !strings.Contains(odd, "12 mm (1/2\") high: take out, "+doesNotMeet) {
		t.Errorf("12 mm above the planned level: %q, odd %q", row.Words, odd)
	}
}

// TestOddRowsAreToldAndKept types what is odd: each is said in its row, and each is a record all the same.
func TestOddRowsAreToldAndKept(t *testing.T) {
	o, _ := atSite(t, "tram-depot")
	g := o.grid(map[string]any{})
	at := func(n int) string { return g.Rows[n].Place }
	k := o.keyed(map[string]any{"fields": cardTop, "rows": []map[string]string{
		{"place": at(0), "off": "12 in"}, // more than a whole gap
		{"place": at(1), "left": "90", "right": "8"},
		{"place": at(4), "off": "0"}, // the one before it is not on the card
		{"place": at(5), "off": "2"},
	}})
	for i, want := range []string{"was it typed in another unit?", doesNotMeet, "is not recorded as set", ""} {
		r := k.Rows[i]
		odd := strings.Join(r.Odd, " ")
		if want == "" && odd != "" || !strings.Contains(odd, want) || len(r.Records) != 1 {
			t.Errorf("%s: odd %q, want %q, records %d", r.Place, odd, want, len(r.Records))
		}
	}
	if !k.Full || !strings.Contains(k.Said, "3 odd rows") {
		t.Errorf("said %q, full %v", k.Said, k.Full)
	}
	o.keepKeyed(k)
	again := o.keyed(map[string]any{"fields": cardTop, "rows": []map[string]string{{"place": at(0), "off": "3"}}})
	if !strings.Contains(strings.Join(again.Rows[0].Odd, " "), "recorded as set already") {
		t.Errorf("keyed twice: %+v", again.Rows[0])
	}
	var r map[string]any
	if err := json.Unmarshal([]byte(again.Rows[0].Records[0]), &r); err != nil || len(r["after"].([]any)) == 0 {
		t.Errorf("the later record does not name what it came after: %v %v", r, err)
	}
}

// TestWhatACardLacksHoldsItBack is a card without its day, its hour or its person, and rows that cannot be read: none can be kept,
// and each says why.
func TestWhatACardLacksHoldsItBack(t *testing.T) {
	o, _ := atSite(t, "hand-troughs")
	g := o.grid(map[string]any{})
	row := []map[string]string{{"place": g.Rows[0].Place, "off": "."}}
	for _, lacks := range []string{"person", "date", "time"} {
		top := map[string]string{}
		for k, v := range cardTop {
			if k != lacks {
				top[k] = v
			}
		}
		if o.keyed(map[string]any{"fields": top, "rows": row}).Full {
			t.Errorf("a card without its %s can be kept", lacks)
		}
	}
	for _, r := range []map[string]string{{"place": "Z-001", "off": "."}, {"place": g.Rows[0].Place, "off": "seven"}} {
		k := o.keyed(map[string]any{"fields": cardTop, "rows": []map[string]string{r}})
		if k.Full || k.Rows[0].Missing == "" || len(k.Rows[0].Records) > 0 {
			t.Errorf("%v: %+v", r, k.Rows[0])
		}
	}
	half := o.keyed(map[string]any{"fields": cardTop, "rows": []map[string]string{{"place": g.Rows[0].Place, "off": ".", "left": "8"}}})
	if k := half.Rows[0]; !half.Full || len(k.Records) != 2 || !strings.Contains(k.Words, "left, right wall not read, drawn ") {
		t.Errorf("a gap at one wall: %+v", half)
	}
	if _, err := o.d.Ask("grid", []byte(`{"from":"Z-001"}`), nil); err == nil {
		t.Error("a grid begins at a place that is none")
	}
}

// TestDaysOfCards reads days as both sides of the ocean write them.
func TestDaysOfCards(t *testing.T) {
	now := time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		text string
		us   bool
		want string
	}{
		{"2026-02-27", false, "Friday, 27 February 2026"}, {"27 Feb", false, "Friday, 27 February 2026"}, {"Feb 27", true, "Friday, February 27, 2026"},
		{"1/3", false, "Sunday, 1 March 2026"}, {"1/3", true, "Saturday, January 3, 2026"}, {"1/3/26", true, "Saturday, January 3, 2026"},
		{"27.2.", false, "Friday, 27 February 2026"}, {"30 Nov", false, "Sunday, 30 November 2025"}, {"February 27, 2026", true, "Friday, February 27, 2026"},
	} {
		d, err := dayOf(c.text, c.us, now)
		if have := dayWords(d, c.us); err != nil || have != c.want {
			t.Errorf("%q: %q, want %q (%v)", c.text, have, c.want, err)
		}
	}
	for _, bad := range []string{"30 Feb 2026", "yesterday", "32.1.2026"} {
		if d, err := dayOf(bad, false, now); err == nil {
			t.Errorf("%q is read as %v", bad, d)
		}
	}
	if hours := []string{"16:30", "16.30", "1630", "4:30 pm", "4:30PM"}; slices.ContainsFunc(hours, func(h string) bool { at, err := hourOf(h); return err != nil || at.Format("15:04") != "16:30" }) {
		t.Errorf("one of %v is not half past four", hours)
	}
}

func (o *onSite) office(fields map[string]string) Office {
	o.t.Helper()
	var out Office
	asked(o.t, o.d, "office", map[string]any{"fields": fields}, &out, o.p)
	nulls(o.t, "office", reflect.ValueOf(out))
	return out
}

// listed is one of the lists of the site.
func (o Office) listed(t *testing.T, id string) OfficeList {
	t.Helper()
	i := slices.IndexFunc(o.Lists, func(l OfficeList) bool { return l.ID == id })
	if i < 0 {
		t.Fatalf("there is no list %q", id)
	}
	return o.Lists[i]
}

func (o *onSite) hand(lines ...string) {
	o.t.Helper()
	var is Site
	asked(o.t, o.d, "site", map[string]any{"lines": strings.Join(lines, "\n"), "more": true}, &is, o.p)
	if len(is.Unread) > 0 {
		o.t.Fatalf("unread: %v", is.Unread)
	}
}

// TestTheSiteOnOnePage keys a card of two days ago, lays covers today, and holds what the page of the site counts against the plan:
// by leg, for the whole run, and between two days.
func TestTheSiteOnOnePage(t *testing.T) {
	o, s := atSite(t, "tram-depot")
	if none := o.office(nil); none.Records != 0 || none.Done[len(none.Done)-1].Units != len(s.Units.Mark) || len(none.Measure) != 0 {
		t.Fatalf("before any record: %+v", none.Done)
	}
	g := o.grid(map[string]any{})
	var rows []map[string]string
	for _, r := range g.Rows[:6] {
		rows = append(rows, map[string]string{"place": r.Place, "off": "2", "left": "10", "right": "="})
	}
	k := o.keyed(map[string]any{"fields": cardTop, "rows": rows})
	var lines []string
	for _, r := range k.Rows { // by the clock of the card
		for _, text := range r.Records {
			o.n++
			lines = append(lines, strings.Replace(kept(t, Heard{Record: text}, o.n), "2026-11-26T20:00:00Z", k.Made+"Z", 1))
			o.hand(lines[len(lines)-1])
		}
	}
	o.keep(map[string]any{"form": "cover", "from": g.Rows[0].Place, "to": g.Rows[2].Place})
	all := o.office(nil)
	leg, run := all.Done[0], all.Done[len(all.Done)-1]
	if leg.Leg != g.Leg || leg.Steps[0].Done != 6 || run.Steps[0].Done != 6 || leg.Steps[0].Next != g.Rows[6].Place || leg.Steps[2].Done != 3 {
		t.Errorf("done: %+v, whole run %+v", leg, run)
	}
	sum := func(of Office, name string) (string, string) {
		for _, m := range of.Measure {
			if strings.HasSuffix(m.Name, name) {
				return m.Count, m.Where
			}
		}
		return "", ""
	}
	first, last := g.Rows[0].Place, g.Rows[5].Place
	if n, where := sum(all, "s set"); n != "6" || where != first+" to "+last {
		t.Errorf("set in all: %s at %q", n, where)
	}
	today := o.office(map[string]string{"from": "2026-11-26", "to": "2026-11-26"})
	if n, _ := sum(today, "s set"); n != "" {
		t.Errorf("%s set on a day on which nobody set any", n)
	}
	if n, _ := sum(today, "covers laid"); n == "" {
		t.Errorf("no covers laid today: %+v", today.Measure)
	}
	if bad := o.office(map[string]string{"from": "2026-11-26", "to": "2026-11-25"}); bad.Fault == "" {
		t.Error("days the wrong way round are measured between")
	}

	// by the server's numbers, once it told them of records that are here already: what the lines between the two say, and no later one
	if none := o.office(map[string]string{"from": "2"}); !strings.Contains(none.Fault, "none of these records says") {
		t.Errorf("without numbers: %q", none.Fault)
	}
	for i, line := range lines {
		o.hand(string(field.Numbered(int64(i+1), []byte(line))))
	}
	for from := range len(lines) {
		for _, to := range []int{from + 1, len(lines)} {
			want := ""
			if n := strings.Count(strings.Join(lines[from:to], "\n"), `"kind":"set"`); n > 0 {
				want = fmt.Sprint(n)
			}
			fields := map[string]string{"to": fmt.Sprint(to)}
			if from > 0 {
				fields["from"] = fmt.Sprint(from)
			}
			if got, _ := sum(o.office(fields), "s set"); got != want {
				t.Errorf("after record %d until %d: %q set, not %q", from, to, got, want)
			}
		}
	}
	if far := o.office(map[string]string{"to": fmt.Sprint(len(lines) + 9)}); !strings.Contains(far.Fault, fmt.Sprintf("has the number %d", len(lines))) {
		t.Errorf("until a number that nobody told: %q", far.Fault)
	}
}

// TestTheOfficeHoldsDatesAndQuantities states dates for legs, sets units, and holds what the office says against them, with what is used
// of what was bought: units by kind, covers, and the stone under what stands.
func TestTheOfficeHoldsDatesAndQuantities(t *testing.T) {
	o, _ := atSite(t, "tram-depot")
	of := func(list []OfficeUsed, piece string) OfficeUsed {
		t.Helper()
		i := slices.IndexFunc(list, func(u OfficeUsed) bool { return u.Piece == piece })
		if i < 0 {
			t.Fatalf("no %q among %+v", piece, list)
		}
		return list[i]
	}
	if l := o.office(nil).listed(t, "dates"); len(l.Rows) != 0 || !slices.Equal(l.Open, []string{"NOT CHECKED: no dates on file. Ask: whoever keeps the programme"}) {
		t.Errorf("without dates: %+v", l)
	}
	const whole, stone = "standard unit 3000 mm", "stone of the bed in place"
	n := o.next(map[string]any{"name": "set"})
	set := func(from, to string) {
		o.keep(map[string]any{"form": "set", "from": from, "to": to, "fields": map[string]string{"within": "all within"}})
	}
	set(n.Place, n.Onward[len(n.Onward)-1]) // all of its leg
	next := o.next(map[string]any{"name": "set"})
	set(next.Place, next.Onward[1])
	is := o.office(nil)
	var order string
	for _, l := range o.p.plan.Bill {
		if l.Supply == "standard" && l.Kind == "unit" && *l.Length == 3_000_000_000 {
			order = l.Order
		}
	}
	if u := of(is.Stock, whole); u.Bought != order || u.Came != "0" || u.Planned == "" || u.Have == notRecorded { // two are there by the job
		t.Errorf("whole units: %+v, the bill orders %s", u, order)
	}
	if !slices.ContainsFunc(is.Stock, func(u OfficeUsed) bool {
		return strings.Contains(u.Piece, "cover") && u.Bought != "" && u.Came == notRecorded
	}) || !strings.Contains(strings.Join(is.Untold, "\n"), "NOT CHECKED: no delivery of "+stone+" on file. Ask: whoever takes loads in") {
		t.Errorf("covers and stone of which nothing came: %+v, %q", is.Stock, is.Untold)
	}
	said := o.keep(map[string]any{"form": "goods", "fields": map[string]string{"ticket": "Q 12"}, "rows": []map[string]string{
		{"what": "stone", "amount": "18.5 t"}, {"what": "stone", "amount": "12 m3"}, {"what": elseKind, "else": "joint sealant", "amount": "4 tins"},
	}})
	if text := said.Log[0].Words; !strings.Contains(text, "came, ticket Q 12: 18.5 t of stone, 12 m3 of stone, 4 tins of joint sealant") {
		t.Errorf("what came is told as %q", text)
	}
	is = o.office(nil)
	if u := of(is.Stock, stone); u.Came != "18.5 t and 12.0 m³ as it came in 1 load" || u.Have != loose || u.Planned == "" {
		t.Errorf("stone that came: %+v", u)
	}
	if u := of(is.Stock, "joint sealant"); u.Came != "4 tins in 1 load" || u.Planned != "" {
		t.Errorf("what else came: %+v", u)
	}
	if strings.Contains(strings.Join(is.Untold, "\n"), stone) {
		t.Errorf("stone came, and is said not to have: %q", is.Untold)
	}
	if h := o.say(map[string]any{"form": "goods", "rows": []map[string]string{{"what": elseKind, "amount": "3 t"}}}); !slices.Contains(h.Missing, "what else, in your words") {
		t.Errorf("something else without a name: %+v", h)
	}
	some := of(is.Stock, stone)
	for _, m := range o.p.plan.Legs { // the rest of the run
		for at := o.next(map[string]any{"name": "set", "leg": m.Name}); at.Place != ""; at = o.next(map[string]any{"name": "set", "leg": m.Name}) {
			set(at.Place, at.Onward[len(at.Onward)-1])
		}
	}
	all := of(o.office(nil).Stock, stone)
	var a, b, planned float64
	for text, to := range map[string]*float64{some.Used: &a, all.Used: &b, all.Planned: &planned} {
		if _, err := fmt.Sscanf(text, "%f m³", to); err != nil {
			t.Fatal(text, err)
		}
	}
	if !(0 < a && a < b && b <= planned+0.05 && b > 0.9*planned) { // castings and ends stand on the rest
		t.Errorf("stone under some units %s, under all %s, planned %s", some.Used, all.Used, all.Planned)
	}

	o, _ = atSite(t, "tram-depot")
	set(n.Place, n.Onward[len(n.Onward)-1])
	set(next.Place, next.Onward[1])
	dates := []job.Due{{Leg: n.Leg, Step: "set", By: "2026-11-26"}, {Leg: n.Leg, Step: "set", By: "2026-11-25"}, {Leg: next.Leg, Step: "set", By: "2026-11-26"}, {Step: "covered", By: "2026-12-24"}}
	for _, d := range o.d.drafts {
		d.job.Rules.Dates = dates
	}
	o.d.site.now = "2026-11-27T08:00:00Z"
	rows := o.office(nil).listed(t, "dates").Rows
	for i, want := range []string{"meets the stated date leg A false", "does not meet it leg A true", "does not meet it leg B true", "not due yet the run false"} {
		if have := fmt.Sprint(rows[i].Said, " ", rows[i].Place, " ", rows[i].Asks); have != want {
			t.Errorf("%+v: %q: %+v", dates[i], have, rows[i])
		}
	}
	if !strings.Contains(rows[2].Text, "set by 2026-11-26") || !strings.Contains(rows[2].Text, ": 2 of ") {
		t.Errorf("how far it was: %q", rows[2].Text)
	}
}

// TestReadingsOfTwoPeopleAndTheInspector hands over a gap that two people measured apart, and an inspector's reading of another one.
func TestReadingsOfTwoPeopleAndTheInspector(t *testing.T) {
	o, _ := atSite(t, "tram-depot")
	g := o.grid(map[string]any{})
	rec := func(n int, device, person, role, joint, gap string) string {
		return fmt.Sprintf(`{"id":%q,"job":"demo","device":%q,"number":%d,"person":%q,"role":%q,"made":"2026-11-25T10:0%d:00Z","kind":"gap","from":%q,"says":{"left":%q,"right":%q}}`,
			fmt.Sprintf("01KB%022d", n), device, n, person, role, n%10, joint, gap, gap)
	}
	a, b := g.Rows[0].Joint, g.Rows[1].Joint
	o.hand(rec(1, "p1", "Ada", "foreman", a, "8 mm"), rec(2, "p2", "Bo", "foreman", a, "12 mm"), rec(3, "p1", "Ada", "foreman", b, "9 mm"), rec(4, "p3", "Cy", "inspector", b, "13 mm"))
	is := o.office(nil)
	if l := is.listed(t, "differ"); len(l.Rows) == 0 || !strings.Contains(l.Rows[0].Text, "Ada") || !strings.Contains(l.Rows[0].Text, "Bo") || l.Rows[0].Key == "" {
		t.Errorf("two readings of %s: %+v", a, l.Rows)
	}
	if l := is.listed(t, "calibration"); len(l.Rows) != 0 || len(l.Open) != 0 {
		t.Errorf("without instruments: %+v", l)
	}
	with := func(line, instrument string) string {
		return strings.Replace(line, `"kind"`, `"instrument":`+instrument+`,"kind"`, 1)
	}
	o.hand(with(rec(5, "p1", "Ada", "foreman", a, "8 mm"), `{"id":"gauge 4","certificate":"C-12","due":"2026-11-24"}`), with(rec(6, "p1", "Ada", "foreman", b, "9 mm"), `{"id":"gauge 5"}`))
	late := o.office(nil).listed(t, "calibration")
	if len(late.Rows) != 1 || late.Rows[0].Said != "ran out 2026-11-24" || late.Rows[0].Place != a || late.Rows[0].Key == "" || !strings.Contains(late.Rows[0].Text, "gauge 4, whose calibration (certificate C-12)") ||
		!slices.Equal(late.Open, []string{"NOT CHECKED: no day on which the calibration of gauge 5 runs out on file. Ask: whoever keeps the instruments"}) {
		t.Errorf("a calibration that had run out: %+v", late)
	}
	l := is.listed(t, "inspector")
	if len(l.Rows) != 2 || l.Rows[0].Said != "differ" || !strings.Contains(l.Rows[0].Text, "9 mm, inspector 13 mm") || !strings.HasPrefix(l.Rows[0].By, "Cy, 2026-11-25 10:04") {
		t.Errorf("the inspector's reading of %s: %+v", b, l.Rows)
	}
}

// TestHoldPointsWait sends a notice, releases one point, and lets rain end that: each is said with who, when and to whom.
func TestHoldPointsWait(t *testing.T) {
	o, _ := atSite(t, "hand-troughs")
	said := func() string {
		var said []string
		for _, r := range o.office(nil).listed(t, "points").Rows {
			if strings.HasPrefix(r.Text, "formation: ") {
				said = append(said, r.Said+": "+r.Text)
			}
		}
		if len(said) != 1 {
			t.Fatalf("%+v", said)
		}
		return said[0]
	}
	o.keep(map[string]any{"form": "notice", "fields": map[string]string{"point": "formation", "party": "the clerk of works"}})
	if s := said(); !strings.HasPrefix(s, "waits for release: formation: not on the contract's list; notice 2026-11-26 20:00 by a foreman, to the clerk of works") {
		t.Error(s)
	}
	o.keep(map[string]any{"form": "release", "fields": map[string]string{"point": "formation", "party": "C. Works", "lapses": "rain"}})
	if s := said(); !strings.HasPrefix(s, "released: ") || !strings.Contains(s, "released by C. Works") {
		t.Error(s)
	}
	o.keep(map[string]any{"form": "event", "fields": map[string]string{"what": "rain"}})
	if s := said(); !strings.HasPrefix(s, "lapsed: ") || !strings.Contains(s, "rain") {
		t.Error(s)
	}
}

// TestListedPointsAreLookedFor sets units before the bed was released: the office says so until the release is recorded, offers the
// points of the contract as choices, and says what the contract leaves open.
func TestListedPointsAreLookedFor(t *testing.T) {
	o, _ := atSite(t, "hand-troughs")
	var forms []Form
	asked(t, o.d, "forms", map[string]any{"name": "handover"}, &forms, o.p)
	for _, f := range forms {
		if slices.Contains([]string{"inspection", "notice", "release"}, f.ID) && (f.Fields[0].Kind != "choice" || f.Fields[0].First != "" || !slices.Equal(f.Fields[0].Choice, []string{"bed", "covers walked"})) {
			t.Errorf("%s asks for its point so: %+v", f.ID, f.Fields[0])
		}
	}
	said := func() (out []string) {
		for _, r := range o.office(nil).listed(t, "points").Rows {
			out = append(out, r.Said+": "+r.Text)
		}
		return out
	}
	const walked = "nothing recorded: covers walked: before handover"
	if s := said(); !slices.Equal(s, []string{"nothing recorded: bed: hold point, before setting, notice 24 h to the works office, released by works inspector", walked}) {
		t.Errorf("%q", s)
	}
	if open := o.office(nil).listed(t, "points").Open; len(open) != 4 || open[0] != "NOT CHECKED: no word on file whether point covers walked is a hold or a witness point. Ask: the owner" {
		t.Errorf("%q", open)
	}
	n := o.next(map[string]any{"name": "set"})
	o.keep(map[string]any{"form": "set", "from": n.Place, "to": n.Onward[2], "fields": map[string]string{"within": "all within"}})
	if s := said(); len(s) != 3 || s[0] != "hidden without release: bed: hold point, before setting, notice 24 h to the works office, released by works inspector: no release on record for "+n.Place+" to "+n.Onward[2]+", and it was hidden by setting" {
		t.Errorf("%q", s)
	}
	o.keep(map[string]any{"form": "release", "from": n.Place, "to": n.Onward[2], "fields": map[string]string{"point": "bed", "party": "C. Works"}})
	if s := said(); len(s) != 2 || s[0] != "cannot say: bed: no notice recorded; cannot say: released by C. Works (a foreman) 2026-11-26 20:00; the contract has works inspector release it" {
		t.Errorf("by somebody else: %q", s)
	}
	o.keep(map[string]any{"form": "release", "from": n.Place, "to": n.Onward[2], "fields": map[string]string{"point": "bed", "party": "works inspector"}})
	if s := said(); !slices.Equal(s, []string{walked, "released: bed: no notice recorded; released by works inspector (a foreman) 2026-11-26 20:00"}) {
		t.Errorf("%q", s)
	}
}

// TestTheDailyReportIsWrittenFromRecords records a day and reads its report: who, what, where as stretches, and what nobody recorded.
func TestTheDailyReportIsWrittenFromRecords(t *testing.T) {
	o, _ := atSite(t, "hand-troughs")
	n := o.next(map[string]any{"name": "set"})
	o.keep(map[string]any{"form": "set", "from": n.Place, "to": n.Onward[4], "fields": map[string]string{"within": "all within"}})
	o.keep(map[string]any{"form": "set", "from": n.Onward[5], "to": n.Onward[9], "fields": map[string]string{"within": "all within"}})
	o.keep(map[string]any{"form": "event", "fields": map[string]string{"what": "rain"}})
	o.keep(map[string]any{"form": "diary", "text": "the pump stood still for an hour"})
	var d Day
	asked(t, o.d, "day", map[string]any{}, &d, o.p)
	nulls(t, "day", reflect.ValueOf(d))
	if d.Date != "2026-11-26" || d.Said != "Thursday, 26 November 2026" || len(d.Days) != 1 || d.Days[0].Records != 4 || !slices.Equal(d.People, []string{"a foreman: 20:00, 4 records"}) {
		t.Errorf("the day: %+v", d)
	}
	var all []string
	for _, g := range d.Groups {
		for _, l := range g.Lines {
			all = append(all, g.Name+": "+l.Text)
		}
	}
	text := strings.Join(all, "\n")
	for _, want := range []string{fmt.Sprintf("Work: set: %s to %s (10 places)", n.Place, n.Onward[9]), "Weather and shifts: rain", "the pump stood still"} {
		if !strings.Contains(text, want) {
			t.Errorf("the report does not say %q:\n%s", want, text)
		}
	}
	if !strings.Contains(d.Not, "deliveries and yard") || !strings.Contains(d.Not, "visitors") {
		t.Errorf("not recorded: %q", d.Not)
	}
}

// TestWhatIsOutAndWhatIsHidden keys a gap that does not meet its window beside one that does, and sets units on pads that nobody
// levelled: the first is listed with its limit, the second place by place, and what the contract wants to be read with what was.
func TestWhatIsOutAndWhatIsHidden(t *testing.T) {
	o, _ := atSite(t, "tram-depot")
	g := o.grid(map[string]any{})
	rows := []map[string]string{{"place": g.Rows[0].Place, "off": "3", "left": "10", "right": "="}, {"place": g.Rows[1].Place, "off": "1", "left": "19", "right": "="}}
	o.keepKeyed(o.keyed(map[string]any{"fields": cardTop, "rows": rows}))
	is := o.office(nil)
	out := is.listed(t, "outof")
	if len(out.Rows) != 2 || out.Rows[0].Place != g.Rows[1].Place || !out.Rows[0].Asks || !strings.Contains(out.Rows[0].Text, "gap after it, left wall, 19 mm, it may be 6 mm to 16 mm") {
		t.Errorf("out of tolerance: %+v", out.Rows)
	}
	if len(out.Open) != 0 {
		t.Errorf("not held against anything: %q", out.Open)
	}
	hidden := is.listed(t, "hidden")
	if len(hidden.Open) != 0 || !slices.ContainsFunc(hidden.Rows, func(r OfficeRow) bool {
		return r.Place == g.Rows[0].Place && r.Said == "hidden by setting" && r.Text == "hidden without a record: pad" && r.By != "" && r.Key == "unit/"+r.Place
	}) {
		t.Errorf("hidden without a record: %+v", hidden)
	}
	w := is.listed(t, "wanted")
	for of, n := range map[string]string{"end": "2 of 53", "pad: set and not read at " + g.Rows[0].Place + ", " + g.Rows[1].Place: "0 of 148"} {
		if !slices.ContainsFunc(w.Rows, func(r OfficeRow) bool { return r.Text == of && (r.Said == n || of == "end") }) {
			t.Errorf("readings that the contract wants, %s: %+v", of, w)
		}
	}
	if len(w.Open) != 0 {
		t.Errorf("readings that nobody asked for: %q", w.Open)
	}
}

// TestALevelAtOneEndIsHeldThere keys the level of a wall top at the far end of the units of a graded run, as planned: none is out of
// its tolerance, although the start of each lies higher or lower.
func TestALevelAtOneEndIsHeldThere(t *testing.T) {
	o, _ := atSite(t, "tram-depot")
	of := map[string]string{"of": "pad"}
	g := o.grid(map[string]any{"fields": of})
	top := map[string]string{"person": "a foreman", "date": "2026-11-24", "time": "16:30", "of": "pad"}
	var rows []map[string]string
	for _, r := range g.Rows[:5] {
		rows = append(rows, map[string]string{"place": r.Place, "level": r.Boxes[3].Planned})
	}
	o.keepKeyed(o.keyed(map[string]any{"fields": top, "rows": rows}))
	if out := o.office(nil).listed(t, "outof"); len(out.Rows) > 0 {
		t.Errorf("as planned, and yet: %+v", out.Rows)
	}
	for i, r := range o.grid(map[string]any{"from": g.From, "fields": of}).Rows[:5] {
		if r.Boxes[3].Has != g.Rows[i].Boxes[3].Planned {
			t.Errorf("%s: keyed %s, has %q", r.Place, g.Rows[i].Boxes[3].Planned, r.Boxes[3].Has)
		}
	}
}

// What stands on top of a card of the instrument goes into its records: days as records have them, whichever way they were written.
func TestACardSaysWhatWasReadWith(t *testing.T) {
	o, _ := atSite(t, "hand-troughs")
	place := o.grid(map[string]any{}).Rows[0].Place
	ask := func(checked, due string) Keyed {
		return o.keyed(map[string]any{"fields": cardTop, "rows": []map[string]string{{"place": place, "off": "2"}}, "instrument": "rod 2", "checked": checked, "certificate": "C-17", "due": due, "now": "2026-11-25T08:00:00Z"})
	}
	k := ask("20/11", "1/3")
	if !k.Full || len(k.Rows[0].Records) == 0 {
		t.Fatalf("%+v", k)
	}
	for _, text := range k.Rows[0].Records {
		var r field.Record
		if err := json.Unmarshal([]byte(text), &r); err != nil {
			t.Fatal(err)
		}
		if want := (field.Instrument{ID: "rod 2", Checked: "2026-11-20", Certificate: "C-17", Due: "2027-03-01"}); r.Instrument == nil || *r.Instrument != want {
			t.Errorf("read with %+v, want %+v", r.Instrument, want)
		}
	}
	if k := ask("20/11", "soon"); k.Full || !slices.ContainsFunc(k.Head, func(e Echo) bool { return e.Name == "due" && e.Fault != "" }) {
		t.Errorf("a day that is none is kept: %+v", k.Head)
	}
}
