package finding

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

func onLeg(leg string, chainage measure.Length) Where { return Where{Leg: leg, Chainage: &chainage} }

// Whole text is asserted, as people read it.
func TestRender(t *testing.T) {
	_, unread := measure.Parse("10 furlong")
	for _, c := range []struct {
		name   string
		f      Finding
		system measure.System
		want   string
	}{
		{"a fault in a file", Finding{ID: "job.gap", Kind: Fault, Text: "the gap window is upside down, from 14 mm to 8 mm",
			Where: Where{File: "job.yaml", Line: 12, Column: 8, Path: "supply.gap", Excerpt: Caret("  gap: 14 mm..8 mm", 8)}, Try: "8 mm..14 mm"},
			measure.Metric, `job.yaml:12:8: fault: the gap window is upside down, from 14 mm to 8 mm
      gap: 14 mm..8 mm
           ^
  try: 8 mm..14 mm`},
		{"impossible on a leg", Finding{ID: "layout.no-joint", Kind: Impossible, Text: "3001 mm without a joint between two crossings",
			Where: onLeg("B", 12_345*measure.Millimetre), Limit: "longest unit 3000 mm", Value: "3001 mm",
			Rule: "a joint may not lie in a crossing", Ask: "the supplier for a longer unit", Try: "move a crossing by 1 mm"},
			measure.Metric, `leg B, chainage 12.345 m: impossible: 3001 mm without a joint between two crossings
  limit: longest unit 3000 mm, value: 3001 mm
  rule: a joint may not lie in a crossing
  ask: the supplier for a longer unit
  try: move a crossing by 1 mm`},
		{"in feet", Finding{ID: "layout.no-clearance", Kind: Attention, Text: "the joint touches the zone",
			Where: Where{Leg: "B", Place: "B-017", Chainage: new(123 * measure.Foot)}, Limit: "0"},
			measure.Imperial, "leg B, chainage 1+23.00, place B-017: attention: the joint touches the zone\n  limit: 0"},
		{"not checked", NoneOnFile("combined scale factor", "the surveyor", Where{Path: "coordinates"}),
			measure.Metric, "coordinates: NOT CHECKED: no combined scale factor on file. Ask: the surveyor"},
		{"not checked, explained", Finding{ID: "a.b", Kind: NotChecked, Text: "NOT CHECKED: no mass on file; 0 is printed", Ask: "the supplier"},
			measure.Metric, "NOT CHECKED: no mass on file; 0 is printed. Ask: the supplier"},
		{"misread", Misread("list.length", unread, Where{File: "list.csv", Line: 3, Column: 5}),
			measure.Metric, `list.csv:3:8: fault: "10 furlong" cannot be read as a length: "furlong" is no unit of length; mm, cm, m, km, in, ft, yd or usft was expected
    10 furlong
       ^
  try: write for example 3.061 m, 3061 mm, 10'-0 1/2" or 67 3/8 in`},
		{"a value alone, no name for the text", Finding{Kind: Note, Text: "counted", Value: "5", Where: Where{Line: 3, Column: 4}},
			measure.Metric, "line 3, column 4: note: counted\n  value: 5"},
		{"nothing", Finding{}, measure.Metric, ""},
	} {
		if got := c.f.Render(c.system); got != c.want {
			t.Errorf("%s: got\n%s\nwant\n%s", c.name, got, c.want)
		}
		if first, _, _ := strings.Cut(c.want, "\n"); c.system == measure.Metric && c.f.String() != first {
			t.Errorf("%s: on one line %q, want %q", c.name, c.f.String(), first)
		}
	}
	american := Finding{Kind: Attention, Text: "the joint touches the zone", Where: onLeg("B", 123*measure.Foot)}
	if got, want := american.Say(wording.Speech{US: true, Imperial: true}), "leg B, station 1+23.00: attention: the joint touches the zone"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	l := List{{Kind: Note, Text: "one"}, {Kind: Note, Text: "two", Try: "three"}}
	if got, want := l.Render(measure.Metric), "note: one\nnote: two\n  try: three\n"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if l.Count(Note) != 2 || l.Count(Fault) != 0 {
		t.Error("counted wrongly")
	}
}

func TestWhere(t *testing.T) {
	for want, w := range map[string]Where{
		"":                      {},
		"a.csv":                 {File: "a.csv", Column: 7},
		"a.csv:3":               {File: "a.csv", Line: 3},
		"line 3":                {Line: 3},
		"route.legs[2].zones":   {Path: "route.legs[2].zones"},
		"leg A, chainage 5.5 m": {Leg: "A", ChainageM: "5.5"},
	} {
		if got := w.String(); got != want {
			t.Errorf("%+v: got %q, want %q", w, got, want)
		}
	}
}

func TestCaret(t *testing.T) {
	long := strings.Repeat("a", 80) + "X" + strings.Repeat("b", 80)
	for _, c := range []struct {
		line   string
		column int
		want   string
	}{
		{"gap: 5", 6, "gap: 5\n     ^"},
		{"gap: 5\r\n", 0, "gap: 5\n^"},
		{"gap", 99, "gap\n   ^"},
		{"", 1, "\n^"},
		{"½\tx\x1b[2J", 3, "½ x [2J\n  ^"},
		{long, 81, "…" + strings.Repeat("a", 49) + "X" + strings.Repeat("b", 48) + "…\n" + strings.Repeat(" ", 50) + "^"},
	} {
		if got := Caret(c.line, c.column); got != c.want {
			t.Errorf("%q at %d: got\n%s\nwant\n%s", c.line, c.column, got, c.want)
		}
	}
}

func TestJSONIsStable(t *testing.T) {
	f := Finding{ID: "layout.joint-in-zone", Kind: Impossible, Text: "no joint fits", Where: onLeg("B", 12_345_678_900), Limit: "10 mm", Value: "11 mm"}
	const want = `{"id":"layout.joint-in-zone","kind":"impossible","text":"no joint fits","where":{"leg":"B","chainage_m":"12.3456789"},"limit":"10 mm","value":"11 mm"}`
	data, err := json.Marshal(f)
	if err != nil || string(data) != want {
		t.Fatalf("got %s, %v\nwant %s", data, err, want)
	}
	var back Finding
	if err := json.Unmarshal(data, &back); err != nil || *back.Where.Chainage != *f.Where.Chainage || back.Text != f.Text {
		t.Errorf("came back as %+v, %v", back, err)
	}
	if data, _ := json.Marshal(Finding{ID: "a.b", Kind: Note, Text: "x", Where: Where{Excerpt: "y"}}); strings.Contains(string(data), "where") {
		t.Errorf("nowhere is written: %s", data)
	}
	if err := json.Unmarshal([]byte(`{"where":{"chainage_m":"far"}}`), &back); err == nil {
		t.Error("a chainage of far was read")
	}
	rapid.Check(t, func(t *rapid.T) {
		w := onLeg(rapid.String().Draw(t, "leg"), measure.Length(rapid.Int64().Draw(t, "chainage")))
		w.Leg = strings.ToValidUTF8(w.Leg, "?")
		data, err := json.Marshal(w)
		var back Where
		if err != nil || json.Unmarshal(data, &back) != nil || back.Chainage == nil || *back.Chainage != *w.Chainage || back.Leg != w.Leg {
			t.Fatalf("%s came back as %+v", data, back)
		}
	})
}

// Sorting is by place and gives one order, whatever the order was before.
func TestSortIsOneOrder(t *testing.T) {
	sorted := List{
		{ID: "a.c", Text: "z"},
		{ID: "b.a", Where: Where{Leg: "A"}},
		{ID: "a.a", Where: onLeg("A", 5)},
		{ID: "a.a", Where: onLeg("A", 7), Text: "a"},
		{ID: "a.a", Where: onLeg("A", 7), Text: "b"},
		{ID: "a.b", Where: onLeg("A", 7)},
		{ID: "a.a", Where: onLeg("B", 5)},
		{ID: "a.a", Where: Where{File: "x", Line: 2, Column: 9}},
		{ID: "a.a", Where: Where{File: "x", Line: 10}},
	}
	rapid.Check(t, func(t *rapid.T) {
		l := List(rapid.Permutation(sorted).Draw(t, "order"))
		l.Sort()
		if !slices.EqualFunc(l, sorted, func(a, b Finding) bool { return a.String() == b.String() && a.ID == b.ID }) {
			t.Fatalf("sorted to %v", l)
		}
	})
	if !sorted.Any("", Fault) || sorted.Any(Fault, Note) {
		t.Error("Any is wrong about kinds")
	}
}

func TestSpeech(t *testing.T) {
	place := Where{Leg: "A"}
	good := []Finding{
		NoneOnFile("load rating of the cover", "the supplier", place),
		{ID: "a.b", Kind: NotChecked, Text: "NOT CHECKED: no depth of the drain on file. It counts as lying in the way", Where: place, Ask: "its owner"},
		{ID: "layout.short", Kind: Impossible, Text: "the clear length of 500 mm is shorter than the shortest cut unit", Where: place, Limit: "600 mm", Value: "500 mm", Try: "a shorter unit"},
		{ID: "layout.why", Kind: Note, Text: "nothing recorded here"},
		{ID: "list.id", Kind: Fault, Text: `the id "all clear!" stands in line 2, as "5\" safe.  " does`, Where: place, Try: "another"},
		{ID: "layout.kerf", Kind: Assumed, Text: "kerf 5 mm assumed, no supplier's figure"},
		{ID: "layout.touch", Kind: Attention, Text: "no clearance to the zone; the clear opening stays", Where: place},
	}
	for _, f := range good {
		if out := Speech(f); len(out) > 0 {
			t.Errorf("%s: %q", f, out)
		}
	}
	base := Finding{ID: "a.b", Kind: Fault, Text: "too short", Where: place, Try: "longer"}
	for want, change := range map[string]func(*Finding){
		"the text uses safe as a verdict":                         func(f *Finding) { f.Text = "the trench is safe to enter" },
		"the text uses Approved as a verdict":                     func(f *Finding) { f.Text = "Approved for lifting" },
		"the try uses is clear as a verdict":                      func(f *Finding) { f.Try = "dig where the ground is clear of services" },
		"the text uses clear to dig as a verdict":                 func(f *Finding) { f.Text = "clear to dig" },
		"the text uses all clear as a verdict":                    func(f *Finding) { f.Text = "services: all clear" },
		"the text ends in a full stop":                            func(f *Finding) { f.Text = "too short." },
		"the text has an exclamation mark, a tab or a line break": func(f *Finding) { f.Text = "too short!" },
		"the rule has spaces too many":                            func(f *Finding) { f.Rule = "one  budget" },
		"no place":                                                func(f *Finding) { f.Where = Where{Excerpt: "x\n^"} },
		"no text":                                                 func(f *Finding) { f.Text = "" },
		"neither what to try nor whom to ask":                     func(f *Finding) { f.Try = "" },
		"a limit without the value held against it":               func(f *Finding) { f.Limit = "600 mm" },
		"the kind warning is none of ours":                        func(f *Finding) { f.Kind = "warning" },
		"the id Short is not dotted small letters":                func(f *Finding) { f.ID = "Short" },
		`not of the form "NOT CHECKED: no … on file. Ask: …"`:     func(f *Finding) { f.Kind, f.Ask = NotChecked, "me" },
		"NOT CHECKED in a finding of kind fault":                  func(f *Finding) { f.Text = "NOT CHECKED: no mass on file" },
	} {
		f := base
		change(&f)
		if out := Speech(f); !slices.Equal(out, []string{want}) {
			t.Errorf("%+v: got %q, want %q", f, out, want)
		}
	}
	if out := Speech(Finding{ID: "a.b", Kind: NotChecked, Text: "NOT CHECKED: no mass on file", Where: place}); !slices.Contains(out, "nobody to ask") {
		t.Errorf("nobody to ask goes unnoticed: %q", out)
	}
}

func TestNoneOnFile(t *testing.T) {
	f := NoneOnFile("cover's load rating (D400)", "the supplier", Where{})
	if f.ID != "none-on-file.cover-s-load-rating-d400" || f.Text != "NOT CHECKED: no cover's load rating (D400) on file. Ask: the supplier" || f.Kind != NotChecked {
		t.Errorf("%+v", f)
	}
	if f := NoneOnFile("½", "x", Where{}); f.ID != "none-on-file.figure" {
		t.Errorf("%+v", f)
	}
}
