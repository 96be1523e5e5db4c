package jobtext

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"
)

var rewrite = flag.Bool("rewrite", false, "write what the faults say now into testdata/faults.txt, to be read aloud before it is kept")

// spoiled is one slip in a good job: the first old text is replaced by the new one.
type spoiled struct{ name, file, text, old, new string }

var slips = []spoiled{
	{"a length without a unit", "job.yaml", metric, "shortest: 600 mm", "shortest: 3000"},
	{"a length with a unit that is none", "job.yaml", metric, "shortest: 600 mm", "shortest: 600 mn"},
	{"a length in kilograms", "job.yaml", metric, "gap: 15 mm", "gap: 15 kg"},
	{"metres where millimetres were meant", "job.yaml", metric, "lengths: [3000 mm, 1500 mm]", "lengths: [3000 m, 1500 mm]"},
	{"feet and inches gone wrong", "job.yaml", imperial, `10'-6"`, `10'-16"`},
	{"a comma that can be read two ways", "job.yaml", metric, "length: 1240 mm", "length: 1,240 mm"},
	{"a section with by", "job.yaml", metric, "inner: 600 mm x 500 mm", "inner: 600 mm by 500 mm"},
	{"half a section", "job.yaml", metric, "inner: 600 mm x 500 mm", "inner: 600 x 500 mm"},
	{"a field misspelt", "job.yaml", metric, "lengths: [3000 mm", "lenghts: [3000 mm"},
	{"a field in the wrong group", "job.yaml", metric, "    rating: {value", "    kerf: 5 mm\n    rating: {value"},
	{"a field that nobody knows", "job.yaml", metric, "owner:", "colour:"},
	{"a field missing", "job.yaml", metric, "joint: {gap: 10 mm in 8 mm..14 mm, ", "joint: {"},
	{"a field twice", "job.yaml", metric, "owner: invented works", "name: another"},
	{"a field left empty", "job.yaml", metric, "owner: invented works", "owner:"},
	{"text where a group belongs", "job.yaml", metric, "saw: {no_cuts: true}", "saw: none"},
	{"a group where a list belongs", "job.yaml", metric, "covers: [{name: C-1, count: 2, mass: 95 kg}]", "covers: {name: C-1, count: 2}"},
	{"yes for true", "job.yaml", metric, "may_turn: true", "may_turn: yes"},
	{"true for text", "job.yaml", metric, "owner: invented works", "owner: true"},
	{"one number for two", "job.yaml", metric, "at: [4000, 7000.5]", "at: 4000"},
	{"a decimal comma", "job.yaml", metric, "level: 101.25", "level: 101,25"},
	{"no number", "job.yaml", metric, "level: 101.25", "level: .nan"},
	{"a number beyond all numbers", "job.yaml", metric, "level: 101.25", "level: 1e999"},
	{"a number beyond all grids", "job.yaml", metric, "at: [4000, 7000.5]", "at: [4000000000, 7000.5]"},
	{"a count that is not whole", "job.yaml", metric, "count: 4", "count: 4.5"},
	{"a value that is also assumed", "job.yaml", metric, "{assumed: 5 mm,", "{assumed: 5 mm, value: 5 mm,"},
	{"an assumption with a document", "job.yaml", metric, "{assumed: 5 mm,", "{assumed: 5 mm, from: D1,"},
	{"a pedigree without a figure", "job.yaml", metric, "{value: 3 mm, page: 11}", "{page: 11}"},
	{"another format", "job.yaml", metric, "format: 1", "format: 2"},
	{"an id with a blank", "job.yaml", metric, "id: W1", "id: W 1"},
	{"a leg id too long to paint", "job.yaml", tenLines, "walk: 24.3 m, right 90°, 12 m, arc left 30 m radius 45°", "nodes: [{id: N1, at: [0, 0]}, {id: N2, at: [9, 0]}]\n  legs: [{id: behind-the-workshop, from: N1, to: N2}]"},
	{"two legs of one name", "job.yaml", metric, "{id: C, from", "{id: B, from"},
	{"a supply misspelt", "job.yaml", metric, "supply: heavy\n          reach", "supply: hevay\n          reach"},
	{"a node that does not exist", "job.yaml", metric, "from: N2, to: N3", "from: N2, to: N9"},
	{"a document that does not exist", "job.yaml", metric, "detail: D2", "detail: D7"},
	{"a word that is none of them", "job.yaml", metric, "kind: existing", "kind: exisitng"},
	{"a date that does not exist", "job.yaml", metric, "on: 2026-03-02", "on: 2026-02-30"},
	{"a negative length", "job.yaml", metric, "margin: 500 mm", "margin: -500 mm"},
	{"a window that leaves its value out", "job.yaml", metric, "gap: 4 mm in 2 mm..8 mm", "gap: 1 mm in 2 mm..8 mm"},
	{"an inside larger than the outside", "job.yaml", metric, "inner: 600 mm x 500 mm", "inner: 800 mm x 500 mm"},
	{"a shortest cut longer than any unit", "job.yaml", metric, "shortest: 600 mm", "shortest: 3100 mm"},
	{"covers that do not fill a unit", "job.yaml", metric, "lengths: [996 mm, 496 mm]", "lengths: [980 mm]"},
	{"a cover that falls in", "job.yaml", metric, "width: 700 mm", "width: 600 mm"},
	{"a slice thinner than the blade", "job.yaml", metric, "least_slice: 8 mm", "least_slice: 2 mm"},
	{"a strip that runs backwards", "job.yaml", metric, "from: -1100 mm, to: -700 mm", "from: -700 mm, to: -1100 mm"},
	{"a skew beyond square", "job.yaml", metric, "skew: 75°", "skew: 120°"},
	{"a skew of nought", "job.yaml", metric, "skew: 75°", "skew: 0°"},
	{"three parents", "job.yaml", metric, "parents: [r3, r2b]", "parents: [r3, r2b, r2c]"},
	{"a percentage in words", "job.yaml", metric, "percent: 2.5", "percent: two"},
	{"a tee with two arms", "job.yaml", metric, "          - {name: through-2, length: 900 mm}\n", ""},
	{"a straight way that is none", "job.yaml", metric, "through: [A, B]", "through: [A, D]"},
	{"a tee where two legs meet", "job.yaml", metric, "    - {id: C, from: N2, to: N4, supply: heavy}\n", ""},
	{"an end plate without thickness", "job.yaml", metric, "{kind: plate, thickness: 120 mm}", "{kind: plate}"},
	{"a wall without thickness", "job.yaml", metric, "{kind: building, thickness: 250 mm, face: outer}", "{kind: building, face: inner}"},
	{"a route told twice", "job.yaml", metric, "  nodes:", "  walk: 12 m\n  nodes:"},
	{"a hash cut short", "job.yaml", metric, "sha256: e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855", "sha256: e3b0c44298fc1c14"},
	{"an offcut longer than its unit", "job.yaml", metric, "length: 1240 mm", "length: 4240 mm"},
	{"a scale factor in parts per million", "job.yaml", metric, "scale_factor: 0.99963", "scale_factor: 370"},
	{"a conduit over the wall", "job.yaml", metric, "clear: 100 mm, level: 250 mm", "clear: 100 mm, level: 580 mm"},
	{"a cast-in thing in a unit that is not made", "job.yaml", metric, "of: 1500 mm", "of: 1400 mm"},
	{"an anchor and an alias", "job.yaml", metric, "at: [4000, 7000.5], level: 101.25, end: {kind: building, thickness: 250 mm, face: outer}", "at: &here [4000, 7000.5], level: *high, end: {kind: building, thickness: 250 mm, face: outer}"},
	{"a merge", "job.yaml", metric, "    cut_keeps_rating: false\n  - id", "    <<: *trough\n    cut_keeps_rating: false\n  - id"},
	{"a tag", "job.yaml", metric, "owner: invented", "owner: !!str invented"},
	{"two jobs in one file", "job.yaml", tenLines, "route:", "---\nroute:"},
	{"a tab", "job.yaml", metric, "    from: D1\n", "\tfrom: D1\n"},
	{"a bracket that is not closed", "job.yaml", metric, "lengths: [3000 mm, 1500 mm]", "lengths: [3000 mm, 1500 mm"},
	{"a quote that is not closed", "job.yaml", metric, `"Wash hall: feeder trench"`, `"Wash hall: feeder trench`},
	{"a colon in bare text", "job.yaml", metric, `"Wash hall: feeder trench"`, `Wash hall: feeder trench`},
	{"a line out of place", "job.yaml", metric, "owner: invented works", "owner invented works"},
	{"JSON that breaks off", "job.json", `{"format": 1, "name": "x", "supplies": [`, "", ""},
	{"JSON with a comma too many", "job.json", "{\n  \"format\": 1,\n  \"name\": \"x\",\n}", "", ""},
	{"JSON with a fault in the middle", "job.json", "{\n  \"format\": 1, \"name\": \"x\",\n  \"supplies\": [{\"id\": \"s\", \"unit\": {\"lengths\": 3000}, \"joint\": {\"gap\": \"10 mm\"}}],\n  \"route\": {\"walk\": \"3 m\"}\n}", "", ""},
	{"no job at all", "job.yaml", "# nothing yet\n", "", ""},
	{"a document of a word processor", "job.yaml", "PK\x03\x04\x14\x00", "", ""},
	{"a very long line", "job.yaml", tenLines, "name: Cable run behind the workshop", "name: " + strings.Repeat("Cable run behind the workshop. ", 10) + "\nyard: {supply: hand, length: 1240 mm, mark: " + strings.Repeat("B-017/a-", 12) + ", colour: red}"},
}

// Every fault is read as a whole, as a person reads it: the place, the sentence, the line with its caret, what to try.
func TestFaultsAsAPersonReadsThem(t *testing.T) {
	var got strings.Builder
	for _, s := range slips {
		if s.old != "" && !strings.Contains(s.text, s.old) {
			t.Fatalf("%s: %q is not in the job", s.name, s.old)
		}
		text := s.text
		if s.old != "" {
			text = strings.Replace(text, s.old, s.new, 1)
		}
		_, faults := Read(s.file, strings.NewReader(text))
		if len(faults) == 0 {
			t.Errorf("%s: no fault", s.name)
		}
		fmt.Fprintf(&got, "== %s\n", s.name)
		for _, f := range faults {
			got.WriteString(printed(f))
			if f.Try == "" || f.ID == "" || f.Text == "" {
				t.Errorf("%s: nothing to try, or no id: %+v", s.name, f)
			}
		}
		got.WriteString("\n")
	}
	const file = "testdata/faults.txt"
	if *rewrite {
		if err := os.WriteFile(file, []byte(got.String()), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	compareCases(t, got.String(), string(want))
}

// compareCases shows which cases differ, each as a whole.
func compareCases(t *testing.T, got, want string) {
	t.Helper()
	gots, wants := strings.Split(got, "== "), strings.Split(want, "== ")
	for i := range max(len(gots), len(wants)) {
		var g, w string
		if i < len(gots) {
			g = gots[i]
		}
		if i < len(wants) {
			w = wants[i]
		}
		if g != w {
			t.Errorf("got:\n%s\nwant:\n%s", g, w)
		}
	}
}
