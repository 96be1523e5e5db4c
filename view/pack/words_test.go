package pack

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"html"
	"regexp"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/groundin"
)

// What a job of one side of the ocean does not say. A word is whole; what people wrote themselves is not among them.
var (
	notAmerican = regexp.MustCompile(`(?i)\b(units?|closers?|mitres?|mitred|centre|centreline|chainages?|up-chainage|stop ends?|buried services?|services?|setting out|metres?|millimetres?|levelling|nought|tapers?|formation|staff|collimation|temporary benchmarks?|layers?|mm|cm|km)\b|\bbed (under|thickness)|\bof the bed\b|\bthe bed\b`)
	notBritish  = regexp.MustCompile(`(?i)\b(trench sections?|closures?|miters?|mitered|center|centerline|stations?|up-station|end plates?|utility|utilities|meters?|millimeters?|leveling|transitions?|subgrade|bedding stone|rods?|height of instrument|lifts of fill|in lifts|inch|inches|feet)\b|\d"`)
)

// names are keys, paths in the job and words of the job's own form: they are the same everywhere.
var names = regexp.MustCompile(`[a-z_]+(\[\d+\])?(\.[a-z_]+(\[\d+\])?)+|\[mm\]|\[m\]`)

// said are all texts of a file that a person may read.
func said(f File, b []byte) []string {
	switch {
	case strings.HasSuffix(f.Name, ".svg"):
		var out []string
		for _, m := range svgText.FindAllSubmatch(b, -1) {
			out = append(out, html.UnescapeString(string(svgTag.ReplaceAll(m[1], nil))))
		}
		return append(out, f.About)
	case strings.HasSuffix(f.Name, ".xml"): // what the standard names is in its own words
		var out []string
		for _, m := range xmlText.FindAllSubmatch(b, -1) {
			out = append(out, html.UnescapeString(string(m[1])))
		}
		return append(out, f.About)
	case f.Name == "plan.json" || f.Name == "papers.json" || strings.HasSuffix(f.Name, ".geojson"):
		var v any
		if err := json.Unmarshal(b, &v); err != nil {
			return []string{err.Error()}
		}
		return sentences("", v)
	case strings.HasSuffix(f.Name, ".csv"):
		rows, err := csv.NewReader(bytes.NewReader(b)).ReadAll()
		if err != nil {
			return []string{err.Error()}
		}
		return append(slices.Concat(rows...), f.About)
	}
	return append(strings.Split(string(b), "\n"), f.About)
}

var (
	xmlText = regexp.MustCompile(` (?:name|desc|code)="([^"]*)"`)
	svgText = regexp.MustCompile(`(?s)<text[^>]*>(.*?)</text>`)
	svgTag  = regexp.MustCompile(`<[^>]*>`)
)

// sentences are the texts of a value with their keys. What a key says in one word of the format is no sentence.
func sentences(key string, v any) []string {
	var out []string
	switch x := v.(type) {
	case string:
		if !words[key[strings.LastIndex(key, ".")+1:]] {
			out = append(out, key+": "+x)
		}
	case []any:
		for _, e := range x {
			out = append(out, sentences(key, e)...)
		}
	case map[string]any:
		for k, e := range x {
			out = append(out, sentences(key+"."+k, e)...)
		}
	}
	return out
}

// words are the keys of plan.json whose values are words of its format: no sentences.
var words = map[string]bool{"kind": true, "of": true, "made": true, "system": true, "words": true, "id": true, "path": true, "format": true}

// theirs is what the demo jobs' own texts say in words of the other side.
var theirs = []string{"owners of buried services (invented)", "plate, 350 mm wide", "service drive", "Service drive", "Trough units and covers", "Heavy-duty units for crossings", "pin for stop end", "250 mm x 250 mm"}

// otherSystem is a figure of a check in the system that the job does not have, behind the one that it has; and cables lie in layers on both
// sides of the ocean.
var otherSystem = regexp.MustCompile(`\([\d.]+ [a-zA-Z/²³]+\)|\bits\s+layer\b|\blayers of compartment\b|\bheight of all layers\b|\bin layers\b|\ba layer is as\b|rule - layer|^layers?$|working.name: layers?$`)

// Every text of a pack is in the words and the system of its job.
func TestEveryTextIsInTheWordsOfTheJob(t *testing.T) {
	for _, one := range []struct {
		name string
		us   bool // said as in the United States, whatever the job says
		not  *regexp.Regexp
	}{{"battery-yard", true, notAmerican}, {"tram-depot", false, notBritish}, {"hand-troughs", false, notBritish}, {"tram-depot", true, notAmerican}} {
		name, not := one.name, one.not
		g, found := groundin.Survey(read(t, name), demo.Open)
		if found.Any(finding.Fault) {
			t.Fatalf("%s: %v", name, found)
		}
		j := g.Job
		if one.us {
			j.Words, j.System = job.US, job.Imperial
		}
		p := planner.Make(j, g.Surfaces...)
		seen := map[string]bool{}
		for _, f := range Files(p, j) {
			if strings.HasPrefix(f.Name, "png/") || strings.HasSuffix(f.Name, ".pdf") || strings.HasSuffix(f.Name, ".xlsx") || f.Name == "job.json" || f.Name == "job.yaml" {
				continue // the same marks and cells as svg/ and csv/; the job is what people wrote
			}
			b, err := f.Make()
			if err != nil {
				t.Fatal(err)
			}
			for _, text := range said(f, b) {
				ours := otherSystem.ReplaceAllString(text, "")
				for _, w := range theirs {
					ours = strings.ReplaceAll(ours, w, "")
				}
				if word := not.FindString(names.ReplaceAllString(ours, "")); word != "" && !seen[text] {
					seen[text] = true
					t.Errorf("%s, %s: %q in %s", name, f.Name, word, text)
				}
			}
		}
	}
}
