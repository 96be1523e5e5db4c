package job

import (
	"bytes"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"trenchwright/base/measure"
)

func TestBrokenJSON(t *testing.T) {
	for text, want := range map[string]string{
		"":                            "1:1 The job is empty.",
		" \n ":                        "1:1 The job is empty.",
		"{":                           "1:2 The JSON ends before the job does.",
		"{\"a\": [1,\n 2":             "2:3 The JSON ends before the job does.",
		"{\"a\": 1,}":                 "1:9 A name in double quotes was expected here.",
		"{\"a\": ü}":                  "1:7 A value was expected here.",
		"{\"a\" 1}":                   "1:6 A colon was expected here.",
		"{\"a\": [1 2]}":              "1:10 A comma or ] was expected here.",
		"{\"ü\": 1 \"b\"}":            "1:9 A comma or } was expected here.",
		"{\"a\": \"\x01\"}":           "1:7 This cannot stand in a text.",
		"{} {}":                       "1:4 The job is finished before this.",
		"{\"a\": \"\xff\"}":           "1:8 The text is no UTF-8 from here on.",
		strings.Repeat("[", 1000):     "1:33 Groups and lists are nested more than 32 deep here.",
		strings.Repeat(" ", 8<<20+10): "1:1 This is larger than 8 MiB, which no job is.",
	} {
		_, fault := TreeFromJSON([]byte(text))
		got := "no fault"
		if fault != nil {
			got = bareInt(fault.Where.Line) + ":" + bareInt(fault.Where.Column) + " " + fault.Text
		}
		if got != want {
			t.Errorf("%.40q: got %s, want %s", text, got, want)
		}
	}
}

func bareInt(n int) string { return bare(float64(n)) }

func TestPositions(t *testing.T) {
	tree, fault := TreeFromJSON([]byte("{\n \"ü\": {\"value\": [10,\n  20]},\n \"b\": null, \"c\": \"x\"\n}"))
	if fault != nil {
		t.Fatal(fault)
	}
	for path, want := range map[string][2]int{
		"": {1, 1}, "ü": {2, 17}, "ü[0]": {2, 18}, "ü[1]": {3, 3}, "ü[7]": {2, 7}, "ü.value": {2, 17}, "b": {4, 7}, "c": {4, 18},
		"c[0]": {4, 18}, "c[1]": {4, 18}, "nowhere": {1, 1}, "ü[x": {2, 7}, "ü[-1]": {2, 7}, ".": {1, 1}, "..": {1, 1}, "[": {1, 1}, "b.c.d": {4, 7},
	} {
		line, column := tree.Position(path)
		if [2]int{line, column} != want {
			t.Errorf("%s: %d:%d, want %v", path, line, column, want)
		}
	}
}

func TestSection(t *testing.T) {
	want := Section{Width: 900 * measure.Millimetre, Height: 750 * measure.Millimetre}
	for _, text := range []string{"900 mm x 750 mm", "900mm×750mm", "0.9 m X 75 cm", " 900 mm x  750 mm "} {
		var s Section
		if err := s.UnmarshalText([]byte(text)); err != nil || s != want {
			t.Errorf("%s: %v %v", text, s, err)
		}
	}
	for text, want := range map[string]string{
		"900 mm":                 `cannot read "900 mm" as a width and a height: column 1: two lengths with one x between them were expected; write for example 900 mm x 750 mm`,
		"900 mm x 750":           `cannot read "900 mm x 750" as a width and a height: column 12: a number without a unit; write for example 900 mm x 750 mm`,
		"1 mm x 2 mm x 3 mm":     `cannot read "1 mm x 2 mm x 3 mm" as a width and a height: column 1: two lengths with one x between them were expected; write for example 900 mm x 750 mm`,
		strings.Repeat("x", 200): "",
	} {
		var s Section
		err := s.UnmarshalText([]byte(text))
		if err == nil || want != "" && err.Error() != want {
			t.Errorf("%s: %v", text, err)
		}
	}
}

// FuzzJSON: whatever the bytes, faults, or a job that survives its own canonical text.
func FuzzJSON(f *testing.F) {
	f.Add([]byte(sampleText))
	for _, text := range []string{"", "{}", "[]", "null", `{"format":2}`, `{"":"", `, `{"a[b":0,"":{"":[]}}`, `{"name":"\ud800"}`, "1 2"} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		j, faults := FromJSON(data)
		for _, fault := range faults {
			if fault.Text == "" || len(fault.Text) > 1000 {
				t.Fatalf("%+v", fault)
			}
		}
		if len(faults) > 0 {
			return
		}
		text := CanonicalJSON(j)
		again, faults := FromJSON(text)
		if diff := cmp.Diff(j, again); diff != "" || len(faults) > 0 || !bytes.Equal(text, CanonicalJSON(again)) {
			t.Fatalf("%s\n%v", diff, faults)
		}
	})
}
