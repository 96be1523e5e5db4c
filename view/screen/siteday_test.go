package screen

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

// TestEveryStageSaysWhatComesNext asks for the next thing where levels are read and where covers are laid: the planned levels at both
// ends, or what the rod shows there; how many covers, and each that is cut.
func TestEveryStageSaysWhatComesNext(t *testing.T) {
	o, _ := atSite(t, "tram-depot")
	for stage, of := range map[string]string{"dig": "formation", "bed": "pad"} {
		n := o.next(map[string]any{"name": stage})
		level := o.p.plan.SetOut[0].Levels.Of(of)
		if want := fixed3(*level); figure(n, of+", start") != want+" m" {
			t.Errorf("%s: %s, start %q, want %s m", stage, of, figure(n, of+", start"), want)
		}
		if rod := figure(o.next(map[string]any{"name": stage, "height": "37.450"}), "staff reading, "+of+", start"); rod != fixed3(37.450-*level)+" m" {
			t.Errorf("%s: the rod shows %q at the start, want %s m", stage, rod, fixed3(37.450-*level))
		}
	}
	n := o.next(map[string]any{"name": "cover"})
	lids := slices.DeleteFunc(slices.Clone(o.p.plan.Covers), func(c planner.Cover) bool { return c.Unit != n.Place })
	if !strings.HasPrefix(n.What, count(len(lids), "cover", "covers")) {
		t.Errorf("next to cover %s has %d covers; said %q", n.Place, len(lids), n.What)
	}
	o.keep(map[string]any{"form": "cover", "from": n.Place, "rows": []map[string]string{{"place": lids[0].Mark}}})
	if left := o.next(map[string]any{"name": "cover"}); !strings.HasPrefix(left.What, "1 cover of ") || figure(left, "missing")+figure(left, lids[0].Mark) == "" {
		t.Errorf("with %s alone missing: %q %+v", lids[0].Mark, left.What, left.Figures)
	}
}

// TestAFoundServiceIsSaidBack records a service: with the leg it is on, with all that was said of it, and with a look at what was said
// of its depth where the level of its top contradicts that.
func TestAFoundServiceIsSaidBack(t *testing.T) {
	o, _ := atSite(t, "tram-depot")
	args := map[string]any{"form": "service", "leg": "B", "fields": map[string]string{"name": "old drain", "at": "39.15", "depth": "below the bed", "width": "300", "keep": "400", "top": "34.950", "owner": "the city"}}
	h := o.say(args)
	want := `old drain found at leg B, 0+039.150, below the bed, 300 mm (11 13/16") wide, no joint within 400 mm (1'-3 3/4") each side, its top at level 34.950 m, owner the city`
	if h.Words != want {
		t.Errorf("said %q, want %q", h.Words, want)
	}
	if !slices.ContainsFunc(h.Echo, func(e Echo) bool { return e.Name == "at" && e.Text == "leg B, 0+039.150" }) {
		t.Errorf("the leg is not said back: %+v", h.Echo)
	}
	warned := func(h Heard, what string) bool {
		return slices.ContainsFunc(h.Warn, func(t string) bool { return strings.Contains(t, what) })
	}
	if !warned(h, "Its top at level 34.950 m is in bed or pad by the plan") {
		t.Errorf("a top above the bottom of the dig is taken for below the bed: %q", h.Warn)
	}
	fields := args["fields"].(map[string]string)
	if fields["depth"] = "in bed or pad"; warned(o.say(args), "by the plan") {
		t.Error("looked at where nothing contradicts")
	}
	if fields["at"] = "80"; !warned(o.say(args), "Leg B ends at 0+") {
		t.Error("a chainage behind the end of its leg is taken as it is")
	}
}

// TestWhatIsRecordedIsNotSaidToBeMissing looks at the line that says that a stage has no record, before and after it has one.
func TestWhatIsRecordedIsNotSaidToBeMissing(t *testing.T) {
	o, s := atSite(t, "tram-depot")
	open := func(stage string) string {
		var a Along
		asked(t, o.d, "along", map[string]any{"name": stage}, &a, o.p)
		return a.Open
	}
	if open("order") == "" || open("bed") == "" {
		t.Fatal("nothing is said of what is not recorded")
	}
	var forms []Form
	asked(t, o.d, "forms", map[string]any{"name": "order"}, &forms, o.p)
	piece := forms[0].Rows[0].Choice[0]
	o.keep(map[string]any{"form": "delivery", "rows": []map[string]string{{"piece": piece, "came": "4"}}})
	if open("order") != "" || open("bed") == "" {
		t.Errorf("after a delivery: order %q, bed %q", open("order"), open("bed"))
	}
	o.keep(map[string]any{"form": "pad", "from": s.Units.Mark[0], "fields": map[string]string{"within": "all within"}})
	if open("bed") != "" {
		t.Errorf("after a level: bed %q", open("bed"))
	}
}

// TestALevelOfOneCornerIsNoLevelOfAnother keys a level at the far end in: the card has it read on the left, so nothing is known of the right.
func TestALevelOfOneCornerIsNoLevelOfAnother(t *testing.T) {
	o, s := atSite(t, "tram-depot")
	mark := s.Units.Mark[0]
	var k Keyed
	asked(t, o.d, "keyed", map[string]any{"rows": []map[string]string{{"place": mark, "off": ".", "level": "36.020"}}, "fields": map[string]string{"of": "wall"}}, &k, o.p)
	i := slices.IndexFunc(k.Rows[0].Records, func(r string) bool { return strings.Contains(r, `"end left"`) })
	if i < 0 {
		t.Fatalf("no record of a level on the left: %q", k.Rows[0].Records)
	}
	o.n++
	var is Site
	asked(t, o.d, "site", map[string]any{"lines": kept(t, Heard{Record: k.Rows[0].Records[i]}, o.n), "more": true}, &is, o.p)
	var r struct{ Says field.LevelSays }
	if err := json.Unmarshal([]byte(k.Rows[0].Records[i]), &r); err != nil || r.Says.Level == nil {
		t.Fatal(err, r)
	}
	records, _ := field.Read(strings.NewReader(kept(t, Heard{Record: k.Rows[0].Records[i]}, 1)))
	b := field.NewBook(o.p.plan.Places())
	b.Add(records...)
	four := b.State("").Legs[0].Units[0].Levels[0].Four
	if four[2] == nil || four[0] != nil || four[1] != nil || four[3] != nil {
		t.Errorf("one reading at the end on the left came to %v", four)
	}
}

// TestGapsOfOneKindAreOneLine shows an answer whose gaps change joint after joint: each stretch of equal ones is one line.
func TestGapsOfOneKindAreOneLine(t *testing.T) {
	v := &siteView{draft: new(draft)}
	for _, c := range []struct {
		a, b string
		is   bool
	}{{"B-001/B-002", "B-002/B-003", true}, {"B-002/B-003", "B-001/B-002", true}, {"B-001/B-002", "B-003/B-004", false}, {"", "B-001/B-002", false}} {
		if v.follows(c.a, c.b) != c.is {
			t.Errorf("%q and then %q: %t", c.a, c.b, !c.is)
		}
	}
	o, _ := atSite(t, "tram-depot")
	first := o.next(map[string]any{"name": "set", "leg": "B"})
	o.keep(map[string]any{"form": "set", "from": first.Place, "to": first.Onward[4], "fields": map[string]string{"within": "all within"}})
	o.keep(map[string]any{"form": "service", "leg": "B", "fields": map[string]string{"name": "old drain", "at": "39.15", "depth": "below the bed", "width": "300", "keep": "400"}})
	var all SiteAnswers
	asked(t, o.d, "ways", map[string]any{}, &all, o.p)
	runs := 0
	for _, l := range all.Legs {
		for _, f := range l.Offers {
			for i, c := range f.Changes {
				if strings.Contains(c.Place, " to ") {
					runs++
				}
				if i > 0 && c.Said == f.Changes[i-1].Said && v.follows(f.Changes[i-1].Place, c.Place) {
					t.Errorf("leg %s, %s: %s and %s are two lines", l.Leg, f.Name, f.Changes[i-1].Place, c.Place)
				}
			}
		}
	}
	if runs == 0 {
		t.Errorf("no stretch of gaps in any answer: %+v", all)
	}
	if n := o.next(map[string]any{"name": "dig", "leg": "B"}); !n.Answers || len(n.Open) == 0 {
		t.Errorf("whoever digs is not told that the plan does not come right: %+v", n)
	}
}

func fixed3(x float64) string { return fixed(x, 3) }

// TestTheYardIsCounted has a delivery come with damage, sets units out of it, cuts an offcut, and counts: what should lie there follows
// from the records, a count takes the place of that, what was not counted stays as it was, and the offcut keeps its ends.
func TestTheYardIsCounted(t *testing.T) {
	o, _ := atSite(t, "tram-depot")
	yard := func() (y Yard) {
		t.Helper()
		asked(t, o.d, "yard", map[string]any{}, &y, o.p)
		return y
	}
	row := func(piece string) YardRow {
		t.Helper()
		y := yard()
		i := slices.IndexFunc(y.Rows, func(r YardRow) bool { return r.Piece == piece })
		if i < 0 {
			t.Fatalf("no %q in the yard: %+v", piece, y)
		}
		return y.Rows[i]
	}
	const whole, declared = "standard unit 3000 mm", "standard offcut Z-003/a"
	if y := yard(); len(y.Rows) != 2 || y.Said != "2 whole units, 0 covers, 1 with a mark" {
		t.Errorf("what the job says was there before: %+v", y)
	}
	if r := row(declared); r.Size != "1380 mm; end A as cast; end B sawn square" || r.Have != "1" {
		t.Errorf("the offcut that the job declares: %+v", r)
	}
	o.keep(map[string]any{"form": "delivery", "rows": []map[string]string{{"piece": whole, "came": "12", "damaged": "2"}}})
	unit := o.p.plan.Units[slices.IndexFunc(o.p.plan.Units, func(u planner.Unit) bool { return u.Cut && u.Supply == "standard" && u.Stock == 3_000_000_000 })]
	o.keep(map[string]any{"form": "cut", "from": unit.Mark, "fields": map[string]string{"piece": whole, "left": "1000", "right": "1000", "offcut": "1990"}})
	r := row(whole)
	if r.Have != "11" || r.Count != 11 || r.Said != "12 came, 2 damaged, 1 used, 2 there before, by the job" || r.Counted != "" || !strings.Contains(r.Bought, "on the bill") {
		t.Errorf("after a delivery and a cut: %+v", r)
	}
	left := "standard offcut " + unit.Mark + "/a"
	if r := row(left); r.Have != "1" || !strings.Contains(r.Size, "end B") {
		t.Errorf("what was left of the cut: %+v", r)
	}
	is := o.keep(map[string]any{"form": "count", "rows": []map[string]string{{"piece": whole, "count": "9"}, {"piece": declared, "count": ""}, {"piece": left, "count": "0"}}})
	if is.Log[0].Words != "counted in the yard: 9 of "+whole+", 0 of "+left {
		t.Errorf("counted: %q", is.Log[0].Words)
	}
	if r := row(whole); r.Have != "9" || r.Counted != "9 counted by a foreman, 2026-11-26 20:00" {
		t.Errorf("after the count: %+v", r)
	}
	if row(declared).Have != "1" || slices.ContainsFunc(yard().Rows, func(r YardRow) bool { return r.Piece == left }) {
		t.Errorf("offcuts after the count: %+v", yard().Rows)
	}
	o.hand(`{"id":"01KB0000000000000000000042","job":"demo","device":"p2","number":1,"person":"Ada","made":"2026-11-25T10:00:00Z","kind":"count","says":{"lines":[` +
		`{"supply":"standard","what":"unit","length":"1500 mm","mark":"Z-009/a","count":1,"ends":[{"angle":"-45°"},{"angle":"45°"}]}]}}`)
	width := int(*o.p.plan.Supplies[slices.IndexFunc(o.p.plan.Supplies, func(s planner.SupplyHead) bool { return s.ID == "standard" })].OuterWidth / 1e6)
	if r, want := row("standard offcut Z-009/a"), fmt.Sprintf("left wall %d mm, right wall %d mm; end A sawn 45°, left side long; end B sawn 45°, left side long", 1500+width, 1500-width); r.Size != want {
		t.Errorf("an offcut with two mitred ends: %q, want %q", r.Size, want)
	}
	o.keep(map[string]any{"form": "count", "rows": []map[string]string{{"piece": "standard offcut Z-009/a", "count": "1"}}})
	if r := row("standard offcut Z-009/a"); !strings.Contains(r.Size, "end A sawn 45°") {
		t.Errorf("counted once more, its ends are lost: %+v", r)
	}
	if h := o.say(map[string]any{"form": "count", "rows": []map[string]string{{"piece": whole, "count": ""}}}); h.Record != "" || !slices.Contains(h.Missing, "what was counted") {
		t.Errorf("a count of nothing: %+v", h)
	}
}

// TestWantedReadingsAreAsked sets three units of a job whose contract wants the gap and the invert at every joint and the line of 1 in 10:
// the phone asks for just those, and no longer once they were read.
func TestWantedReadingsAreAsked(t *testing.T) {
	o, _ := atSite(t, "hand-troughs")
	first := o.next(map[string]any{"name": "set"})
	if len(first.Asks) != 0 {
		t.Errorf("before anything is set: %+v", first.Asks)
	}
	names := func() (names []string) {
		for _, a := range o.next(map[string]any{"name": "set"}).Asks {
			names = append(names, a.Place+" "+a.Form)
		}
		return names
	}
	o.keep(map[string]any{"form": "set", "from": first.Place, "fields": map[string]string{"within": "all within"}})
	if got, want := names(), []string{"A-001 set", "A-001 figures", "A-001 invert", "A-001 rock"}; !slices.Equal(got, want) {
		t.Errorf("of the first unit alone: %q, want %q", got, want)
	}
	o.keep(map[string]any{"form": "set", "from": "A-002", "fields": map[string]string{"within": "all within"}, "rows": []map[string]string{{"place": "A-002", "by": "2"}}})
	if got, want := names(), []string{"A-002 invert"}; !slices.Equal(got, want) {
		t.Errorf("of the last one: %q, want %q", got, want)
	}
	for _, place := range []string{"A-001", "A-002"} {
		o.keep(map[string]any{"form": "invert", "from": place, "height": "62.0 m", "fields": map[string]string{"one": "1.1", "end": "end"}})
	}
	o.keep(map[string]any{"form": "figures", "from": "A-001", "fields": map[string]string{"line": "-3 mm"}})
	if got, want := names(), []string{"A-001 set", "A-001/A-002 gap", "A-001 rock"}; !slices.Equal(got, want) {
		t.Errorf("of the one before: %q, want %q", got, want)
	}
	o.keep(map[string]any{"form": "gap", "from": "A-001/A-002", "fields": map[string]string{"left": "6", "right": "6"}})
	o.keep(map[string]any{"form": "rock", "from": "A-001", "fields": map[string]string{"a": "1", "b": "1", "c": "1", "d": "1"}})
	if got, want := names(), []string{"A-001 set"}; !slices.Equal(got, want) {
		t.Errorf("of the one before, read: %q, want %q", got, want)
	}
}

// TestAnInstrumentIsSetUpAndClosed sets one up on a benchmark of the job: its height follows from the list and the rod, what is read from
// it makes a level book with it, and what it closes by on another one is told.
func TestAnInstrumentIsSetUpAndClosed(t *testing.T) {
	o, _ := atSite(t, "hand-troughs")
	up := map[string]any{"form": "setup", "instrument": "level L7", "fields": map[string]string{"benchmark": "TBM1", "rod": "1.432"}}
	h := o.say(up)
	if h.Height != "62.75 m" || !strings.Contains(h.Words, "set up on TBM1, height of instrument 62.75") || !strings.Contains(h.Record, `"set_up":"height of collimation 62.75 m"`) {
		t.Errorf("%+v", h)
	}
	o.keep(up)
	o.keep(map[string]any{"form": "invert", "from": "A-001", "instrument": "level L7", "height": h.Height, "fields": map[string]string{"one": "1.655", "end": "end"}})
	closes := map[string]any{"form": "closing", "instrument": "level L7", "height": h.Height, "fields": map[string]string{"benchmark": "TBM2", "rod": "1.701"}}
	if c := o.say(closes); c.Height != "" || len(c.Warn) != 2 || !strings.Contains(c.Warn[0], "3 mm (1/8\") below the 62.75") || !strings.HasPrefix(c.Warn[1], "NOT CHECKED: no tolerance for what an instrument closes by on file") {
		t.Errorf("%+v", c)
	}
	o.keep(closes)
	ups := o.d.site.book.SetUps()
	if len(ups) != 1 || len(ups[0].Closes) != 1 || ups[0].Closes[0].Off != -3*measure.Millimetre {
		t.Errorf("%+v", ups)
	}
	rows := o.d.site.book.LevelBook("")
	if len(rows) != 3 || rows[1].Point != "A-001 invert end" || rows[1].Inter != "1.655" || rows[2].Fore != "1.701" {
		t.Errorf("%+v", rows)
	}
	if c := o.say(map[string]any{"form": "check", "fields": map[string]string{"met": "yes"}}); c.Record != "" || len(c.Missing) != 1 {
		t.Errorf("a check of an instrument that nobody named: %+v", c)
	}
	if c := o.say(map[string]any{"form": "check", "instrument": "level L7", "fields": map[string]string{"met": "no", "off": "4"}}); c.Words != `level L7 checked, out by 4 mm (3/16"), not as it has to be` {
		t.Errorf("%+v", c)
	}
}

// TestAStopSaysWhere finds a service in the envelope of a unit ahead: on the phone the stop says the leg, the chainage, the place, who
// found it and when, and whose it is.
func TestAStopSaysWhere(t *testing.T) {
	o, _ := atSite(t, "hand-troughs")
	first := o.next(map[string]any{"name": "set"})
	o.keep(map[string]any{"form": "set", "from": first.Place, "fields": map[string]string{"within": "all within"}})
	o.keep(map[string]any{"form": "service", "leg": first.Leg, "fields": map[string]string{"name": "old main", "at": "12.5 m", "depth": "in the unit's envelope", "owner": "the water board"}})
	for _, stage := range []string{"set", "bed"} {
		n := o.next(map[string]any{"name": stage})
		for _, want := range []string{"STOP: leg A, chainage 12.500 m, place A-0", "old main was found in the unit's envelope", " Recorded by a foreman, 2026-11-26 ", "tell its owner, the water board."} {
			if len(n.Stop) != 1 || !strings.Contains(n.Stop[0], want) {
				t.Errorf("%s: %q says no %q", stage, n.Stop, want)
			}
		}
	}
}
