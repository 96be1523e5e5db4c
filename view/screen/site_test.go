package screen

import (
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/field"
)

// kept is a record as a device keeps it.
func kept(t testing.TB, h Heard, number int) string {
	t.Helper()
	if h.Record == "" {
		t.Fatalf("no record came of it: %+v", h)
	}
	var r map[string]any
	if err := json.Unmarshal([]byte(h.Record), &r); err != nil {
		t.Fatal(err)
	}
	r["id"], r["device"], r["number"], r["person"], r["made"], r["job"] = field.ULID(int64(number), [10]byte{}), "phone", number, "a foreman", "2026-11-26T20:00:00Z", "demo"
	b, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// onSite asks a desk about the site, and hands records over.
type onSite struct {
	t *testing.T
	d *Desk
	p demoed
	n int
}

func atSite(t *testing.T, name string) (*onSite, Screen) {
	d, p, s := opened(t, name)
	o := &onSite{t: t, d: d, p: p}
	var is Site
	asked(t, d, "site", map[string]any{"hash": s.Hash}, &is, p)
	return o, s
}

func (o *onSite) say(args map[string]any) Heard {
	var h Heard
	asked(o.t, o.d, "say", args, &h, o.p)
	return h
}

func (o *onSite) keep(args map[string]any) Site {
	o.t.Helper()
	o.n++
	var is Site
	asked(o.t, o.d, "site", map[string]any{"lines": kept(o.t, o.say(args), o.n), "more": true}, &is, o.p)
	return is
}

func (o *onSite) next(args map[string]any) Next {
	var n Next
	asked(o.t, o.d, "next", args, &n, o.p)
	nulls(o.t, "next", reflect.ValueOf(n))
	return n
}

func figure(n Next, label string) string {
	for _, f := range n.Figures {
		if strings.HasPrefix(f.Label, label) {
			return f.Text
		}
	}
	return ""
}

// TestAStretchIsRecorded sets the first units of a leg in one record with one of them off its place: the next thing moves on, the
// gap to hold takes up what the last joint is off, and the strip shows what is set.
func TestAStretchIsRecorded(t *testing.T) {
	o, s := atSite(t, "tram-depot")
	first := o.next(map[string]any{"name": "set"})
	if first.Place == "" || first.Form != "set" || len(first.Onward) < 6 || figure(first, gapToHold) != "" {
		t.Fatalf("the first thing to set: %+v", first)
	}
	to, off := first.Onward[4], first.Onward[4]
	args := map[string]any{"form": "set", "from": first.Place, "to": to, "fields": map[string]string{"within": "all within"}, "rows": []map[string]string{{"place": off, "by": "4"}}}
	h := o.say(args)
	if want := fmt.Sprintf("%s to %s set, the rest within; %s 4 mm (3/16\") ahead", first.Place, to, off); h.Words != want {
		t.Errorf("said %q, want %q", h.Words, want)
	}
	if len(h.Echo) != 1 || h.Echo[0].Text != "4 mm (3/16\") ahead of its place" {
		t.Errorf("echoed %+v", h.Echo)
	}
	is := o.keep(args)
	if is.Records != 1 || len(is.Stages) != 1 || is.Stages[0].Said != fmt.Sprintf("5 of %d set", len(s.Units.Mark)) {
		t.Errorf("the site after it: %+v", is)
	}
	n := o.next(map[string]any{"name": "set"})
	if n.Place != first.Onward[5] || figure(n, lastJoint) != "4 mm ahead" {
		t.Errorf("the next thing after it: %+v", n)
	}
	if figure(n, gapToHold) == "" {
		t.Errorf("no gap to hold: %+v", n)
	}
	var a Along
	asked(t, o.d, "along", map[string]any{"name": "set"}, &a, o.p)
	set := slices.IndexFunc(a.Kinds, func(k AlongKind) bool { return k.Name == "set" })
	if set < 0 || a.Kinds[set].Count != 5 {
		t.Errorf("the strip does not show five set: %+v", a.Kinds)
	}
	for i, k := range a.Units {
		if in := slices.Contains(first.Onward[:5], s.Units.Mark[i]); in != (k == set) {
			t.Errorf("%s is drawn as %q", s.Units.Mark[i], a.Kinds[k].Name)
		}
	}
}

// TestACorrectionTakesTheRecordsPlace undoes a record by another one that names it.
func TestACorrectionTakesTheRecordsPlace(t *testing.T) {
	o, _ := atSite(t, "hand-troughs")
	n := o.next(map[string]any{"name": "set"})
	is := o.keep(map[string]any{"form": "set", "from": n.Place, "to": n.Onward[3]})
	is = o.keep(map[string]any{"form": "lifted", "from": n.Place, "to": n.Onward[3], "corrects": is.Log[0].ID})
	if again := o.next(map[string]any{"name": "set"}); again.Place != n.Place {
		t.Errorf("after the correction %s comes next, not %s", again.Place, n.Place)
	}
	if len(is.Log) != 2 || !is.Log[1].Gone {
		t.Errorf("the log does not say that the first is gone: %+v", is.Log)
	}
}

// TestRecordsAreHandedOverAgain asks a desk that lost its records.
func TestRecordsAreHandedOverAgain(t *testing.T) {
	d, _, s := opened(t, "hand-troughs")
	for _, name := range []string{"next", "say", "yard", "forms"} {
		if _, err := d.Ask(name, []byte(`{"hash":"`+s.Hash+`","name":"set"}`), nil); err != ErrNoRecords {
			t.Errorf("%s on a desk without records: %v", name, err)
		}
	}
	if _, err := d.Ask("site", []byte(`{"more":true}`), nil); err != ErrNoRecords {
		t.Errorf("more records on a desk without any: %v", err)
	}
}

// TestEveryFormIsHeard fills every form of every stage of the demo jobs, in both systems: a record comes of it whose words name
// its place, and the desk takes it in without a finding that it is not understood.
func TestEveryFormIsHeard(t *testing.T) {
	typed := map[string]string{"length": "120 mm", "off": "-5 mm", "reading": "1.493 m", "chainage": "12.5 m", "coordinate": "101.25 m", "angle": "43.6° left", "count": "2", "text": "words", "some": "rain", "line": "-3 mm", "level": "61.318 m", "rod": "1.432 m"}
	for _, name := range demo.Names() {
		o, s := atSite(t, name)
		joint := s.Units.Mark[0] + "/" + s.Units.Mark[1]
		for _, system := range []string{"metric", "imperial"} {
			for _, stage := range s.Stages {
				var forms []Form
				asked(t, o.d, "forms", map[string]any{"name": stage.ID, "system": system}, &forms, o.p)
				for _, f := range forms {
					fill := func(fields []FormField) map[string]string {
						out := map[string]string{}
						for _, x := range fields {
							switch x.Kind {
							case "choice":
								out[x.Name] = x.Choice[len(x.Choice)-1]
							case "place":
								out[x.Name] = s.Units.Mark[1]
							case "cover":
								out[x.Name] = s.Units.Mark[1] + ".1"
							default:
								out[x.Name] = typed[x.Kind]
							}
						}
						return out
					}
					args := map[string]any{"form": f.ID, "instrument": "level L7", "system": system, "leg": s.Legs[0].ID, "fields": fill(f.Fields), "text": "in my words", "from": map[string]string{"units": s.Units.Mark[0], "unit": s.Units.Mark[0], "joint": joint, "node": s.Nodes[0].ID, "entry": "E1"}[f.At]}
					if f.At == "units" {
						args["to"] = s.Units.Mark[2]
					}
					if len(f.Rows) > 0 {
						args["rows"] = []map[string]string{fill(f.Rows)}
					}
					h := o.say(args)
					if h.Record == "" || h.Words == "" {
						t.Errorf("%s, %s: %s came to nothing: %+v", name, system, f.ID, h)
						continue
					}
					for _, e := range h.Echo {
						if e.Fault != "" || e.Text == "" {
							t.Errorf("%s: %s: %+v", name, f.ID, e)
						}
					}
					if is := o.keep(args); slices.ContainsFunc(is.Findings, func(f SiteFinding) bool { return strings.Contains(f.Text, "does not say what this version can count") }) {
						t.Errorf("%s: %s is not understood: %+v", name, f.ID, is.Findings)
					}
				}
			}
		}
		var is Site
		asked(t, o.d, "site", map[string]any{"more": true}, &is, o.p)
		nulls(t, "site", reflect.ValueOf(is))
		var y Yard
		asked(t, o.d, "yard", map[string]any{}, &y, o.p)
		if len(y.Rows) == 0 {
			t.Errorf("%s: nothing lies in the yard", name)
		}
	}
}

// TestWhatIsMissingIsSaid asks for no more than the fact, and says what cannot be read.
func TestWhatIsMissingIsSaid(t *testing.T) {
	o, s := atSite(t, "battery-yard")
	if h := o.say(map[string]any{"form": "gap", "from": s.Units.Mark[0] + "/" + s.Units.Mark[1], "fields": map[string]string{"left": "3/8\""}}); !strings.Contains(h.Record, `"says":{"left":"9.525 mm"}`) || !strings.Contains(h.Words, "right wall not read") {
		t.Errorf("a gap at one wall: %+v", h)
	}
	if h := o.say(map[string]any{"form": "rock", "from": s.Units.Mark[0], "fields": map[string]string{"a": "1.2", "d": "1.3"}}); !strings.Contains(h.Record, `"read":["start left","end right"]`) || !slices.Contains(h.Warn, "Not read: start right, end left. What was read is kept.") {
		t.Errorf("a rock at two corners: %+v", h)
	}
	h := o.say(map[string]any{"form": "gap", "from": "A-001/A-002", "fields": map[string]string{"left": "3/8", "right": "three"}})
	if h.Record != "" || len(h.Echo) != 2 || h.Echo[0].Text != "3/8\" (10 mm)" || h.Echo[1].Fault == "" {
		t.Errorf("a gap that cannot be read: %+v", h)
	}
	if h := o.say(map[string]any{"form": "note", "from": s.Units.Mark[0]}); h.Record != "" {
		t.Errorf("a note that says nothing: %+v", h)
	}
	if h := o.say(map[string]any{"form": "service", "leg": s.Legs[0].ID, "fields": map[string]string{"name": "water", "at": "20 ft", "depth": "unknown"}}); len(h.Stop) == 0 {
		t.Errorf("a service of unknown depth stops nothing: %+v", h)
	}
	if h := o.say(map[string]any{"form": "set", "from": "Z-999"}); h.Record == "" || len(h.Warn) == 0 {
		t.Errorf("a place that is not of the plan: a fact is never refused, and it is said: %+v", h)
	}
}

// TestReadingsAreEchoedThreeTimes types a reading in tenths, from a height of the instrument, and gets the level and what it is off.
func TestReadingsAreEchoedThreeTimes(t *testing.T) {
	o, s := atSite(t, "tram-depot")
	h := o.say(map[string]any{"form": "pad", "from": s.Units.Mark[0], "height": "50", "fields": map[string]string{"one": "4.90 ft"}})
	if len(h.Echo) != 1 || h.Echo[0].Text != "1.494 m · 4.90 ft · 4'-10 13/16\": level 48.506 m" {
		t.Errorf("echoed %+v", h.Echo)
	}
	if len(h.Warn) == 0 || !strings.Contains(strings.Join(h.Warn, " "), "At its end: ") {
		t.Errorf("held against nothing: %+v", h.Warn)
	}
}

// TestFourCornersAreHeldAgainstThePlan reads the four wall tops of a unit: each corner is held against its own planned level, and the fall
// across against the planned one, at the phone and at the office; nobody entered a tolerance for that, until somebody does.
func TestFourCornersAreHeldAgainstThePlan(t *testing.T) {
	o, s := atSite(t, "tram-depot")
	place := s.Units.Mark[0]
	planned := *o.d.plan.Places().Level(place, "wall")
	fields := map[string]string{}
	for i, up := range []measure.Length{0, 0, 4, -4} { // mm: 8 mm more to the right at its end
		fields[string("abcd"[i])] = fmt.Sprintf("%.9f", (planned[i] + up*measure.Millimetre).Metres())
	}
	args := map[string]any{"form": "wall", "from": place, "fields": fields}
	warn := strings.Join(o.say(args).Warn, "\n")
	for _, want := range []string{"Start left: at its level", "End left: 4 mm (3/16\") high, meets the stated", "End right: 4 mm (3/16\") low", "8 mm (5/16\") off.", "NOT CHECKED: no tolerance for the crossfall of units on file. Ask: whoever wrote the contract"} {
		if !strings.Contains(warn, want) {
			t.Errorf("the phone does not say %q:\n%s", want, warn)
		}
	}
	fields["c"] = fmt.Sprintf("%.9f", (planned[2] + 6300*measure.Micrometre).Metres())
	if warn := strings.Join(o.say(args).Warn, "\n"); !strings.Contains(warn, "End left: 6 mm (1/4\") high, cannot say: read to 1 mm each way, the stated is 6 mm.") {
		t.Errorf("within how well the job says that a rod is read, this is told:\n%s", warn)
	}
	args["plus"] = "0.1"
	if h := o.say(args); h.Warn[0] != "End left: 6 mm (1/4\") high, does not meet the stated 6 mm: 6.3 mm." || !strings.Contains(h.Record, `"plus":"0.1 mm"`) {
		t.Errorf("what does not meet is not read first, or not told apart from its limit: %q, %s", h.Warn, h.Record)
	}
	args["plus"] = "one"
	if h := o.say(args); h.Record == "" || !strings.Contains(strings.Join(h.Warn, " "), "How well it is read was not understood") {
		t.Errorf("a slip in how well it is read: %+v", h)
	}
	args["plus"] = ""
	fields["c"] = fmt.Sprintf("%.9f", (planned[2] + 4*measure.Millimetre).Metres())
	o.keep(args)
	out := o.office(nil).listed(t, "outof")
	if len(out.Rows) != 0 || !slices.Contains(out.Open, "NOT CHECKED: no tolerance for the crossfall of units on file. Ask: the owner (1 reading)") {
		t.Errorf("at the office, without a tolerance: %+v", out)
	}
	for _, d := range o.d.drafts {
		d.job.Rules.CrossTol = job.Entry[measure.Length]{Known: true, Value: 5 * measure.Millimetre}
	}
	if warn := strings.Join(o.say(args).Warn, "\n"); !strings.Contains(warn, "8 mm (5/16\") off, does not meet the stated 5 mm") {
		t.Errorf("with a tolerance the phone says:\n%s", warn)
	}
	if out := o.office(nil).listed(t, "outof"); len(out.Rows) != 1 || out.Rows[0].Said != "does not meet the stated figure" || !strings.Contains(out.Rows[0].Text, "crossfall off the planned one at its end 8 mm (± 2 mm), limit 5 mm") {
		t.Errorf("with a tolerance the office has %+v", out.Rows)
	}
}

// TestAnAnswerIsTaken sets units of a leg so far off that another answer than the plan's own comes: it is told, and the job that is
// taken has the same places set when it is opened, with the last joint where it was measured.
func TestAnAnswerIsTaken(t *testing.T) {
	o, s := atSite(t, "tram-depot")
	n := o.next(map[string]any{"name": "set"})
	last := n.Onward[4]
	o.keep(map[string]any{"form": "set", "from": n.Place, "to": last, "fields": map[string]string{"within": "all within"}, "rows": []map[string]string{{"place": last, "by": "12"}}})
	var w SiteAnswers
	asked(t, o.d, "ways", map[string]any{}, &w, o.p)
	nulls(t, "ways", reflect.ValueOf(w))
	if len(w.Legs) != 1 || len(w.Legs[0].Offers) == 0 || len(w.Legs[0].Offers) > 3 || w.Legs[0].From != last+" ends 12 mm ahead of its place" {
		t.Fatalf("the ways on: %+v", w)
	}
	first := w.Legs[0].Offers[0]
	if first.Same || len(first.Changes) == 0 || len(first.Spends) == 0 {
		t.Errorf("what the first answer says: %+v", first)
	}
	var lines []string
	for _, r := range o.d.site.book.All() {
		b, _ := json.Marshal(r)
		lines = append(lines, string(b))
	}
	var taken Taken
	asked(t, o.d, "taken", map[string]any{"leg": w.Legs[0].Leg, "number": first.Number}, &taken, o.p)
	var again Screen
	asked(t, o.d, "open", map[string]any{"job": taken.Job}, &again, o.p)
	if again.Hash == s.Hash || taken.Note == "" {
		t.Fatalf("the job was not changed by the answer: %q", taken.Note)
	}
	var is Site
	asked(t, o.d, "site", map[string]any{"lines": strings.Join(lines, "\n")}, &is, o.p)
	if after := o.next(map[string]any{"name": "set"}); after.Place != n.Onward[5] || figure(after, lastJoint) == "" {
		t.Errorf("after the answer was taken: %+v", after)
	}
	if _, err := o.d.Ask("taken", []byte(`{"leg":"A","number":9}`), nil); err == nil {
		t.Error("an answer that nobody offers was taken")
	}
}

// A record in the list says what it was read with and where its device was, with how far off that may be; what nobody entered, it says.
func TestRecordsSayWhatTheyWereReadWith(t *testing.T) {
	for _, one := range []struct {
		r    field.Record
		want string
	}{
		{field.Record{}, ""},
		{field.Record{Instrument: &field.Instrument{ID: "level 3", Checked: "2026-11-02"}}, "read with level 3, checked 2026-11-02"},
		{field.Record{Made: "2026-11-21T08:00:00Z", Instrument: &field.Instrument{ID: "level 3", Certificate: "C-12", Due: "2026-11-20"}}, "read with level 3, certificate C-12, calibration runs out 2026-11-20, before this reading"},
		{field.Record{Instrument: &field.Instrument{ID: "not named"}, Fix: &field.Fix{Latitude: 51.5, Longitude: -0.125, Within: 4}}, "read with what nobody named, no check on file · the device at 51.500000, -0.125000, within 4.0 m as it says"},
	} {
		if got := withWhat(&one.r); got != one.want {
			t.Errorf("%q, not %q", got, one.want)
		}
	}
}
