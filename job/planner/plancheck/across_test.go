package plancheck

import (
	"bytes"
	"encoding/json"
	"slices"
	"strconv"
	"strings"
	"testing"

	said "trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/groundin"
	"trenchwright/view/jobtext"
)

func (p tree) in(key string) tree { return tree(p[key].(map[string]any)) }

// move moves a number of millimetres.
func (p tree) move(key string, by float64) {
	p[key] = json.Number(strconv.FormatFloat(p.number(key)+by, 'f', 6, 64))
}

// of is the ith of a list.
func (p tree) of(list string, i int) tree { return tree(p[list].([]any)[i].(map[string]any)) }

// last is the last of a list.
func (p tree) last(list string) tree { return p.of(list, len(p[list].([]any))-1) }

// Sections, marks and running volumes that are spoiled in one place are found out.
func TestEveryMutationOfSectionsIsFound(t *testing.T) {
	section := func(p tree) tree { return p.in("dig").of("sections", 1) }
	for _, m := range []struct {
		name  string
		spoil func(p tree)
		want  string
	}{
		{"an area", func(p tree) { section(p).of("areas", 0).add("area_m2", 1e-6) }, "dig is said to be"},
		{"an outline", func(p tree) {
			corner := section(p).of("areas", 0)["parts_mm"].([]any)[0].([]any)[0].([]any)
			corner[0] = json.Number("-1500")
		}, "dig is said to be"},
		{"the bottom", func(p tree) { section(p).in("bottom").move("width_mm", 1) }, "it is not 1561 mm wide"},
		{"the depth", func(p tree) { section(p).move("depth_mm", 1) }, "its outline makes"},
		{"the edge", func(p tree) { section(p).in("top")["left_mm"].([]any)[1] = json.Number("36000") }, "its left edge lies at"},
		{"the wall top", func(p tree) { section(p).in("levels").move("wall_mm", 0.00001) }, "the wall top lies at"},
		{"the formation", func(p tree) { section(p).in("levels").move("formation_mm", 1) }, "the formation lies at"},
		{"the invert", func(p tree) { section(p).in("levels").move("invert_mm", -1) }, "the invert lies at"},
		{"silence about sides", func(p tree) { section(p)["bottom"], section(p)["missing"] = nil, []any{} }, "it has no sides"},
		{"a mark", func(p tree) { p.in("dig").of("legs", 0).of("marks", 1).move("edge_left_mm", -1) }, "it differs from the section there"},
		{"a mark's bottom", func(p tree) { p.in("dig").of("legs", 0).of("marks", 1).move("bottom_mm", 1) }, "1561 mm wide"},
		{"what is dug so far", func(p tree) { p.in("dig").of("legs", 0).of("running", 5).add("dug_m3", -9) }, "goes back at"},
		{"what is dug in the end", func(p tree) { p.in("dig").of("legs", 0).last("running").add("dug_m3", 0.001) }, "dug runs up to"},
		{"what leaves", func(p tree) { p.in("dig").of("legs", 2).last("running").add("leaves_m3", 0.001) }, "the balances make"},
	} {
		t.Run(m.name, func(t *testing.T) {
			l := onSurvey(t)
			p := l.tree(t)
			m.spoil(p)
			text, err := json.Marshal(p)
			if err != nil {
				t.Fatal(err)
			}
			if lines := Check(text, l.job); !slices.ContainsFunc(lines, func(s string) bool { return strings.Contains(s, m.want) }) {
				t.Errorf("nothing says %q; said was:\n%s", m.want, strings.Join(lines[:min(len(lines), 12)], "\n"))
			}
		})
	}
}

// Sides of every form, figures that nobody entered and places that somebody asked for: every plan's sections hold.
func TestSectionsOfEveryForm(t *testing.T) {
	const mm, m = measure.Millimetre, measure.Metre
	for _, one := range []struct {
		name  string
		ask   func(j *job.Job)
		sides string // of every section outside the demo's upright stretch; empty: none is drawn
		say   string // what is missing
	}{
		{"gentler, every 7 m and one more", func(j *job.Job) {
			j.Dig.Slope = job.Known(measure.Grade{Rise: 2, Run: 3})
			j.Dig.Sections = job.DigSections{Every: 7 * m, At: []job.SectionAt{{Leg: "B", At: 12345 * mm, Why: "mast"}}}
		}, "sloped 1:1.5", ""},
		{"benched", func(j *job.Job) { j.Dig.Sides, j.Dig.Bench = "benched", &job.Bench{Height: 400 * mm, Width: 300 * mm} }, "benched 400 mm up, 300 mm out", ""},
		{"supported", func(j *job.Job) { j.Dig.Sides = "supported" }, "supported", ""},
		{"no slope", func(j *job.Job) { j.Dig.Slope = job.Entry[measure.Grade]{} }, "", "no slope of the sides on file"},
		{"no soil", func(j *job.Job) { j.Dig.Soil = job.Entry[string]{} }, "sloped 1:1", "no class of the soil on file"},
		{"no working room", func(j *job.Job) { j.Dig.Room = job.Entry[measure.Length]{} }, "", "no working room beside the unit on file"},
	} {
		t.Run(one.name, func(t *testing.T) {
			text, err := demo.File("tram-depot")
			if err != nil {
				t.Fatal(err)
			}
			j, faults := jobtext.Read("tram-depot.yaml", bytes.NewReader(text))
			if len(faults) > 0 {
				t.Fatal(faults)
			}
			one.ask(&j)
			g, found := groundin.Survey(j, demo.Open)
			if found.Any(said.Fault) {
				t.Fatal(found)
			}
			p := planner.Make(g.Job, g.Surfaces...)
			text, err = json.Marshal(p)
			if err != nil {
				t.Fatal(err)
			}
			for _, line := range Check(text, written(t, g.Job)) {
				t.Error(line)
			}
			if p.Dig == nil || len(p.Dig.Sections) < 20 {
				t.Fatal("hardly any sections")
			}
			upright := 0
			for _, s := range p.Dig.Sections {
				drawn := s.Bottom != nil
				sides := one.sides
				if at := measure.Length(s.At); s.Leg == "C" && at >= 25*m && at < 31*m { // there the demo itself asks for upright sides
					upright, sides = upright+1, "vertical"
				}
				if drawn != (one.sides != "") || drawn && s.Sides != sides {
					t.Errorf("section %s %v: sides %q, drawn %v", s.Leg, s.At, s.Sides, drawn)
				}
				if one.say != "" && !slices.ContainsFunc(s.Missing, func(m string) bool { return strings.Contains(m, one.say) }) {
					t.Errorf("section %s %v: nothing says %q: %q", s.Leg, s.At, one.say, s.Missing)
				}
			}
			if upright == 0 {
				t.Error("no section of the upright stretch of leg C")
			}
		})
	}
}
