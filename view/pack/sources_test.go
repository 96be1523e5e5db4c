package pack

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"regexp"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/groundin"
	"trenchwright/view/papers"
)

// sourced are the tables whose rows say where their figures come from: which columns have figures, and which has the source. A column is
// named without its unit.
var sourced = map[string]struct{ figures, from []string }{
	"bill":           {[]string{"mass of one", "mass of the order"}, []string{"figures from"}},
	"checks":         {[]string{"figure", "limit"}, []string{"limit from", "rule"}},
	"checks-working": {[]string{"is"}, []string{"from, or how"}},
	"cover-levels":   {[]string{"either way"}, []string{"document"}},
	"dig-balance":    {[]string{"loose", "compacted"}, []string{"factors from"}},
	"excavation":     {[]string{"value", "limit"}, []string{"rule, and the day it was read"}},
	"laydown":        {[]string{"on file"}, []string{"figures from"}},
	"orders":         {[]string{"mass"}, []string{"figures from"}},
	"pegs":           {[]string{"easting", "northing"}, []string{"from"}},
	"points":         {[]string{"easting", "northing", "level"}, []string{"from"}},
}

// ofThePlan are the tables whose figures the plan works out of the job that they name by its hash: their source is that job, whose entries
// each have a document.
var ofThePlan = []string{"ahead", "bundles", "covers", "cutting", "dig", "dig-fabric", "dig-fill", "dig-layers", "dig-running", "dig-strip", "drain-grades", "findings", "grades", "items", "joints",
	"ladders", "loads", "programme", "proof", "receiving", "schedule", "services", "set-out", "stretches", "things", "zones"}

var (
	aDigit = regexp.MustCompile(`\d`)
	aUnit  = regexp.MustCompile(` \[[^\]]*\]$`)
)

// No figure of a pack stands without where it comes from: in its row, in what its table says of itself, or on its line of a paper. Every
// document that an entry rests on is named, and every figure that nobody entered is among the findings.
func TestNoFigureStandsWithoutItsSource(t *testing.T) {
	for _, name := range demo.Names() {
		g, found := groundin.Survey(read(t, name), demo.Open)
		if found.Any(finding.Fault) {
			t.Fatalf("%s: %v", name, found)
		}
		p := planner.Make(g.Job, g.Surfaces...)
		tables, figures, all := 0, 0, ""
		for _, f := range Files(p, g.Job) {
			if !strings.HasSuffix(f.Name, ".csv") && f.Name != "papers.json" && f.Name != "findings.txt" && !strings.HasPrefix(f.Name, "svg/") {
				continue
			}
			b, err := f.Make()
			if err != nil {
				t.Fatal(err)
			}
			all += strings.Join(said(f, b), "\n")
			switch {
			case f.Name == "papers.json":
				figures += paperFigures(t, name, b)
			case strings.HasSuffix(f.Name, ".csv"):
				tables++
				figures += tableFigures(t, name, strings.TrimSuffix(strings.TrimPrefix(f.Name, "csv/"), ".csv"), p.Job.Hash[:12], b)
			}
		}
		for _, d := range g.Job.Documents {
			if !strings.Contains(all, d.Title) {
				t.Errorf("%s: nothing in the pack names document %s, %s", name, d.ID, d.Title)
			}
		}
		for _, m := range job.Missing(g.Job) {
			what, _, _ := strings.Cut(m.Text, " Ask: ") // a plan knows better than the job alone whom to ask
			if !strings.Contains(all, what) && !strings.Contains(all, g.Job.Speech().Reworded(what)) {
				t.Errorf("%s: nothing in the pack says: %s", name, m.Text)
			}
		}
		t.Logf("%s: %d figures of %d tables and of the papers, each with its source", name, figures, tables)
	}
}

// tableFigures counts the figures of a table whose source was seen.
func tableFigures(t *testing.T, name, table, hash string, b []byte) int {
	rows, err := csv.NewReader(bytes.NewReader(b)).ReadAll()
	if err != nil || len(rows) == 0 {
		t.Fatalf("%s, %s: %v", name, table, err)
	}
	notes, n := "", 0
	for _, row := range rows[1:] {
		notes += row[len(row)-1] + "\n"
	}
	if !strings.Contains(notes, "job "+hash) {
		t.Errorf("%s: table %s does not say of which job it is", name, table)
	}
	of, ok := sourced[table]
	if ok == slices.Contains(ofThePlan, table) {
		t.Errorf("%s: say where the figures of table %s come from: in its rows, or from the plan", name, table)
	}
	for i, row := range rows[1:] {
		from := ""
		for c, head := range rows[0] {
			if slices.Contains(of.from, aUnit.ReplaceAllString(head, "")) {
				from += row[c]
			}
		}
		for c, head := range rows[0][:len(row)-1] {
			if !aDigit.MatchString(row[c]) || ok && !slices.Contains(of.figures, aUnit.ReplaceAllString(head, "")) {
				continue
			}
			if n++; ok && from == "" && !strings.HasPrefix(row[c], "NOT CHECKED") {
				t.Errorf("%s, table %s, row %d: %s is %s, and nothing says from where", name, table, i+1, head, row[c])
			}
		}
	}
	return n
}

// paperFigures does so with the papers of a site.
func paperFigures(t *testing.T, name string, b []byte) int {
	var list []papers.Paper
	if err := json.Unmarshal(b, &list); err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, p := range list {
		for _, part := range p.Parts {
			for _, l := range part.Lines {
				if !aDigit.MatchString(l.Is) {
					continue
				}
				if n++; l.From == "" && !strings.HasPrefix(l.Is, "NOT CHECKED") {
					t.Errorf("%s, %s, %s: %s is %s, and nothing says from where", name, p.Name, part.Title, l.Name, l.Is)
				}
			}
			from := slices.IndexFunc(part.Heads, func(h papers.Head) bool {
				return slices.Contains([]string{"from", "limit from", "rule", "how, or from", "written in"}, h.Name)
			})
			for _, row := range part.Rows {
				if !aDigit.MatchString(strings.Join(row, " ")) {
					continue
				}
				if n++; part.From == "" && (from < 0 || row[from] == "" && !strings.Contains(strings.Join(row, " "), "NOT CHECKED")) {
					t.Errorf("%s, %s, %s: nothing says from where %q comes", name, p.Name, part.Title, row)
				}
			}
		}
	}
	return n
}
