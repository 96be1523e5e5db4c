package plancheck

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	said "trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/groundin"
	"trenchwright/view/jobtext"
)

// levelledDemo is a demo planned on its survey: castings, bends on a grade, pads, two outlets; few changes of grade, so that
// covers lie off the finished ground.
var levelledDemo = sync.OnceValues(func() (levelled, error) {
	text, err := demo.File("tram-depot")
	if err != nil {
		return levelled{}, err
	}
	j, faults := jobtext.Read("tram-depot.yaml", bytes.NewReader(text))
	if len(faults) > 0 {
		return levelled{}, fmt.Errorf("%v", faults)
	}
	j.Levels.Break = job.Known(2 * measure.Metre)
	g, found := groundin.Survey(j, demo.Open)
	if found.Any(said.Fault) {
		return levelled{}, fmt.Errorf("%v", found)
	}
	plan, err := json.Marshal(planner.Make(g.Job, g.Surfaces...))
	if err != nil {
		return levelled{}, err
	}
	declared, err := json.Marshal(g.Job)
	return levelled{plan, declared}, err
})

// levelled is a plan with levels and its job, as they are written.
type levelled struct{ plan, job []byte }

func onSurvey(t *testing.T) levelled {
	t.Helper()
	l, err := levelledDemo()
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// tree is a part of plan.json that is spoiled.
type tree map[string]any

func (l levelled) tree(t *testing.T) tree {
	t.Helper()
	d := json.NewDecoder(bytes.NewReader(l.plan))
	d.UseNumber() // what is not spoiled keeps its digits
	var out tree
	if err := d.Decode(&out); err != nil {
		t.Fatal(err)
	}
	return out
}

// rows are those of a list that have a value under a key.
func (p tree) rows(list, key, value string) (out []tree) {
	for _, r := range p[list].([]any) {
		if row := tree(r.(map[string]any)); fmt.Sprint(row[key]) == value {
			out = append(out, row)
		}
	}
	return out
}

func (p tree) setOut(place string) tree { return p.rows("set_out", "place", place)[0] }

func (p tree) levels(place string) tree {
	return tree(p.setOut(place)["levels"].(map[string]any))
}

func (p tree) number(key string) float64 {
	v, _ := p[key].(json.Number).Float64()
	return v
}

// add moves a number; what is null stays so.
func (p tree) add(key string, by float64) {
	if p[key] != nil {
		p[key] = json.Number(written9(p.number(key) + by))
	}
}

func written9(v float64) string { return fmt.Sprintf("%.9f", math.Round(v*1e9)/1e9) }

// lift moves everything at a place by so many metres.
func (p tree) lift(place string, by float64) {
	row, lev := p.setOut(place), p.levels(place)
	row.add("level_m", by)
	for _, key := range []string{"cover_m", "wall_m", "underside_m", "pad_top_m", "pad_base_m", "formation_under_pad_m", "formation_m", "invert_m"} {
		lev.add(key, by)
	}
	for i := range 4 {
		p.wall(place, i, by)
	}
}

func (p tree) wall(place string, i int, by float64) {
	walls := p.levels(place)["walls_m"].([]any)
	v, _ := walls[i].(json.Number).Float64()
	walls[i] = json.Number(written9(v + by))
}

// before is what a place says of the unit before it, if anything.
func before(levels tree) []tree {
	if b, ok := levels["before"].(map[string]any); ok {
		return []tree{b}
	}
	return nil
}

// tilt lays a leg as much steeper about its start.
func (p tree) tilt(leg string, by float64) {
	runs := p.rows("grades", "leg", leg)
	zero := runs[0].number("from_mm")
	for _, r := range runs {
		more := by * (r.number("to_mm") - r.number("from_mm"))
		r["rise_mm"] = json.Number(fmt.Sprintf("%.6f", r.number("rise_mm")+more))
		r["on_step"], r["grade"] = false, fmt.Sprintf("%.4f %%", 100*r.number("rise_mm")/(r.number("to_mm")-r.number("from_mm")))
	}
	rows := p.rows("set_out", "leg", leg)
	for k, s := range rows {
		at := s.number("chainage_mm")
		switch k { // at a bend the levels are those on the node
		case 0:
			at = zero
		case len(rows) - 1:
			at = runs[len(runs)-1].number("to_mm")
		}
		p.lift(s["place"].(string), by*(at-zero)/1000)
	}
}

func TestLevelledDemoHolds(t *testing.T) {
	l := onSurvey(t)
	for _, line := range Check(l.plan, l.job) {
		t.Error(line)
	}
	again, err := json.Marshal(l.tree(t))
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range Check(again, l.job) { // reading and writing spoils nothing
		t.Error(line)
	}
}

// Levels, grades and pads that are spoiled in one place are found out.
func TestEveryMutationOfLevelsIsFound(t *testing.T) {
	const nm, mm = 1e-9, 1e-3
	const place, unlike = "B-004/B-005", "B-007/B-008"
	moved := func(key string, by float64) func(p tree) { return func(p tree) { p.levels(place).add(key, by) } }
	run := func(p tree, leg string, i int) tree { return p.rows("grades", "leg", leg)[i] }
	for _, m := range []struct {
		name  string
		spoil func(p tree)
		want  string
	}{
		{"a peg aside", func(p tree) { p.rows("pegs", "place", place)[0].add("easting_m", 1e-3) }, "peg B-004/B-005 stands"},
		{"a peg's ground", func(p tree) { p.rows("pegs", "place", place)[0].add("ground_m", 1e-3) }, "peg B-004/B-005: cut"},
		{"a peg's formation", func(p tree) { p.rows("pegs", "place", place)[0].add("formation_m", 1e-3) }, "set-out B-004/B-005, peg: the formation lies at"},
		{"a peg on the other side", func(p tree) { p.rows("pegs", "place", place)[0]["side"] = "left" }, "on the side"},
		{"a peg's edge", func(p tree) { p.rows("pegs", "place", "start of B-001")[0]["edge_mm"] = json.Number("1500") }, "peg start of B-001: the edge of the dig"},
		{"a peg that the dig takes", func(p tree) { p.rows("pegs", "place", place)[0]["edge_mm"] = json.Number("5000") }, "and nothing says so"},
		{"a benchmark's level", func(p tree) { p.rows("benchmarks", "id", "BM1")[0].add("level_m", 1e-3) }, "BM1 does not have the level of the job"},
		{"a row's level", func(p tree) { p.setOut(place).add("level_m", mm) }, "set-out B-004/B-005: its level at"},
		{"a row's level gone", func(p tree) { p.setOut(place)["level_m"] = nil }, "has no levels, though leg B has grades"},
		{"all that a row says", func(p tree) { p.lift(place, 3*nm) }, "set-out " + place + ": its wall top"},
		{"the left wall alone", func(p tree) { p.wall(place, 2, 2*mm) }, "the left wall behind it lies 2 mm over the right"},
		{"the right wall before", func(p tree) { p.wall(place, 1, mm) }, "the left wall before it lies -1 mm over the right"},
		{"the unit before ends lower", func(p tree) { p.wall(place, 0, -mm); p.wall(place, 1, -mm) }, "the unit before it ends at"},
		{"no walls", func(p tree) { p.levels(place)["walls_m"] = []any{nil, nil, nil, nil} }, "its wall tops are not known"},
		{"cover", moved("cover_m", nm), "the cover lies at"},
		{"wall", moved("wall_m", nm), "the wall lies at"},
		{"underside", moved("underside_m", nm), "the underside lies at"},
		{"pad top", moved("pad_top_m", nm), "the pad's top lies at"},
		{"pad base", moved("pad_base_m", nm), "the pad's base lies at"},
		{"under the pad", moved("formation_under_pad_m", nm), "the formation under the pad lies at"},
		{"formation", moved("formation_m", -nm), "the formation lies at"},
		{"invert", moved("invert_m", nm), "the invert lies at"},
		{"invert left out", func(p tree) { p.levels(place)["invert_m"] = nil }, "the invert has no level"},
		{"the unit before a joint left out", func(p tree) { delete(p.levels(unlike), "before") }, "set-out " + unlike + ", before: the "},
		{"its pad higher", func(p tree) { before(p.levels(unlike))[0].add("pad_top_m", nm) }, "set-out " + unlike + ", before: the pad's top lies at"},
		{"its formation lower", func(p tree) { before(p.levels(unlike))[0].add("formation_m", -nm) }, "set-out " + unlike + ", before: the formation lies at"},
		{"its wall higher", func(p tree) { before(p.levels(unlike))[0].add("wall_m", nm) }, "set-out " + unlike + ", before: the wall lies at"},
		{"a unit before that is like the one behind", func(p tree) { p.levels(place)["before"] = p.levels(unlike)["before"] }, "set-out " + place + ": levels before it are given"},
		{"a drain from nowhere", func(p tree) { p.levels(place)["drain_m"] = json.Number("30") }, "the drain lies at 30.000000000 m"},
		{"the pad falls less", func(p tree) { p.levels(place)["pad_fall_mm"] = []any{json.Number("-1.65"), json.Number("-1.5")} }, "the fall of its pad on the grade behind"},
		{"the pad's fall left out", func(p tree) { p.levels(place)["pad_fall_mm"] = []any{nil, json.Number("-1.65")} }, "the fall of its pad on the grade before"},
		{"a row without levels", func(p tree) { p.setOut(place)["levels"] = nil }, "has no levels, though leg B has grades"},
		{"a grade's text", func(p tree) { run(p, "J", 1)["grade"] = "-1.3100 %" }, "is said to be -1.3100 %"},
		{"a grade that is no number", func(p tree) { run(p, "J", 1)["grade"] = "gentle" }, `is "gentle"`},
		{"a grade's rise", func(p tree) {
			run(p, "J", 1)["rise_mm"] = json.Number(fmt.Sprintf("%.6f", run(p, "J", 1).number("rise_mm")+4e-6))
		}, "the grade from J-014/J-013 is no whole number of 0.05 %"},
		{"rises that do not add up", func(p tree) {
			run(p, "J", 1)["rise_mm"] = json.Number(fmt.Sprintf("%.6f", run(p, "J", 1).number("rise_mm")+3e-6))
		}, "leg J: it rises by -571.1"},
		{"a leg's rise", func(p tree) { p.rows("legs", "name", "J")[0]["slope_rise_mm"] = json.Number("-571") }, "leg J: it rises by -571 mm"},
		{"a grade from another place", func(p tree) { run(p, "J", 1)["from"] = "J-013/J-012" }, "a grade starts at J-013/J-012"},
		{"a grade to another place", func(p tree) { run(p, "J", 0)["to"] = "J-013/J-012" }, "a grade ends at J-013/J-012"},
		{"a grade to nowhere", func(p tree) { run(p, "J", 0)["to"] = "J-099" }, "which is no place of its set-out"},
		{"grades with a gap between", func(p tree) { run(p, "J", 1)["from_mm"] = json.Number("7216.6") }, "leg J: a grade starts at J-014/J-013, 7216.6 mm"},
		{"a grade that ends early", func(p tree) { run(p, "K", 0)["to_mm"] = json.Number("29000") }, "it should end at end of K-011"},
		{"a grade backwards", func(p tree) { run(p, "J", 1)["to_mm"] = json.Number("7000") }, "mm to 7000 mm"},
		{"the last grade gone", func(p tree) {
			p["grades"] = slices.DeleteFunc(p["grades"].([]any), func(r any) bool { return r.(map[string]any)["to"] == "end of J-001" })
		}, "it should end at end of J-001"},
		{"a leg without grades", func(p tree) {
			p["grades"] = slices.DeleteFunc(p["grades"].([]any), func(r any) bool { return r.(map[string]any)["leg"] == "J" })
		}, "leg J has no grades, other legs have"},
		{"no grades at all", func(p tree) { p["grades"] = []any{} }, "it has levels, and leg A has no grades"},
		{"grades of a leg that is not there", func(p tree) { run(p, "K", 0)["leg"] = "Z" }, "grades of leg Z, which is not in the plan"},
		{"a chainage in plan that is counted on the slope", func(p tree) { p.setOut("G-010/G-011")["chainage_mm"] = json.Number("28096.5") }, "set-out G-010/G-011: chainage"},
		{"a leg longer than its slope", func(p tree) {
			l := p.rows("legs", "name", "G")[0]
			l["clear_length_mm"] = json.Number("41496.295949")
		}, "leg G: set-backs"},
		{"a branch below its casting", func(p tree) {
			for _, s := range p.rows("set_out", "leg", "H") {
				p.lift(s["place"].(string), -nm)
			}
		}, "node T1: leg E lies there at"},
		{"a leg below its bend", func(p tree) {
			for _, s := range p.rows("set_out", "leg", "K") {
				p.lift(s["place"].(string), -mm)
			}
		}, "node B7: leg"},
		{"a bend that changes the grade", func(p tree) { p.tilt("K", -0.001) }, "node B7: the run comes in at -0.850000 % and goes out at -0.950000 %"},
		{"a lip", func(p tree) { p.tilt("K", -0.02) }, "node B7: a lip of 12.9"}, // 700/2·tan 45°·(0.85+2.85) %
		{"a leg that climbs to where its water runs", func(p tree) { p.tilt("K", 0.02) }, "it has to fall by 0.15 % towards E1"},
		{"a leg too steep", func(p tree) { p.tilt("H", -0.04) }, "the grade -4.4500 % is steeper than 4 %"},
		{"a leg too flat", func(p tree) { p.tilt("H", 0.004) }, "it has to fall by 0.15 % towards E2"},
		{"a leg whose water runs back to where none leaves", func(p tree) { p.tilt("E", 0.03); p.tilt("H", 0.01) }, "set-out end of D-010: water stands there"},
		{"more for a change of grade than it takes", func(p tree) { budget(p, "J-014/J-013", 2e-6) }, "a change of grade of"},
		{"less for a change of grade than it takes", func(p tree) { budget(p, "J-014/J-013", -0.1) }, "a change of grade of"},
		{"a change of grade where there is none", func(p tree) { budget(p, "B-002/B-003", 0.1) }, "takes 0 mm of the window, 0.1"},
		{"covers at worst better than they are", func(p tree) { p["cover_levels"].([]any)[0].(map[string]any)["worst_mm"] = json.Number("8") }, "8 mm at worst, its parts come to 9 mm"},
		{"a root rounded down", func(p tree) { p["cover_levels"].([]any)[1].(map[string]any)["root_mm"] = json.Number("6.633249") }, "is not the root of the sum of the squares, rounded up"},
		{"a verdict better than the figures", func(p tree) { p["cover_levels"].([]any)[1].(map[string]any)["verdict"] = "meets the stated figure" }, "by the figures \"cannot say\""},
		{"covers of a supply left out", func(p tree) { p["cover_levels"] = p["cover_levels"].([]any)[:1] }, "is told of 1 supplies, the job has 2"},
		{"silence about covers that may not lie true", func(p tree) {
			p["findings"] = slices.DeleteFunc(p["findings"].([]any), func(f any) bool { return f.(map[string]any)["id"] == "planner.cover-level" })
		}, "at worst against 10 mm, and no finding says so"},
		{"silence about covers that end low", func(p tree) {
			p["findings"] = slices.DeleteFunc(p["findings"].([]any), func(f any) bool {
				row := f.(map[string]any)
				return row["id"] == "planner.cover-off" && strings.HasPrefix(row["text"].(string), "leg K")
			})
		}, "leg K: at end of K-011 a cover lies 102.270808 mm off"},
		{"covers that end lower than is said", func(p tree) {
			f := p.rows("findings", "id", "planner.cover-off")[0]
			f["text"] = strings.Replace(f["text"].(string), "up to 16 mm", "up to 12 mm", 1)
		}, "leg A: at start of A-001 a cover lies 15.598944 mm off"},
		{"only the worst stretch of covers that lie off", func(p tree) {
			for _, f := range p.rows("findings", "id", "planner.cover-off") {
				text, _, _ := strings.Cut(f["text"].(string), "; ")
				f["text"] = text
			}
		}, "and no finding says so"},
		{"silence about the datum", func(p tree) {
			p["job"].(map[string]any)["height_datum"] = "NOT CHECKED: no height datum on file"
		}, "no datum is known"},
	} {
		t.Run(m.name, func(t *testing.T) {
			l := onSurvey(t)
			p := l.tree(t)
			m.spoil(p)
			text, err := json.Marshal(p)
			if err != nil {
				t.Fatal(err)
			}
			if lines := Check(text, l.job); !mentionsExactly(lines, m.want) {
				t.Errorf("nothing says %q; said was:\n%s", m.want, strings.Join(lines[:min(len(lines), 12)], "\n"))
			}
		})
	}
}

// budget moves what a joint sets aside for its change of grade, in millimetres; its sum still holds.
func budget(p tree, joint string, by float64) {
	b := tree(p.rows("joints", "name", joint)[0]["budget"].(map[string]any))
	for key, sign := range map[string]float64{"grade_mm": 1, "left_mm": -1} {
		b[key] = json.Number(fmt.Sprintf("%.6f", b.number(key)+sign*by))
	}
}

// What the job fixes, asks for or leaves out in height is held against the plan.
func TestEveryWishForLevelsIsHeldAgainstThePlan(t *testing.T) {
	const mm = measure.Millimetre
	grade := func(text string) job.Entry[measure.Grade] {
		g, err := measure.ParseGrade(text)
		if err != nil {
			t.Fatal(err)
		}
		return job.Known(g.Value)
	}
	pin := func(at measure.Length, level float64, of string) func(j *job.Job) {
		return func(j *job.Job) {
			j.Levels.Pins = []job.Pin{{ID: "P", Leg: "B", At: at, Level: level, Of: of}}
		}
	}
	made := onSurvey(t).tree(t)
	row := made.setOut("B-004/B-005") // its cover 70 mm over the wall, its invert 430 mm under it
	joint, wall := measure.Length(math.Round(row.number("chainage_mm")*1e6)), row.number("level_m")
	inside := wall - 0.0055*(13*measure.Metre-joint).Metres() // leg B falls by 0.55 %
	pads := func(thick float64) string {
		return fmt.Sprintf("%.9f m", made.levels("start of A-001").number("underside_m")-thick)
	}
	for _, m := range []struct {
		name string
		ask  func(j *job.Job)
		want string // "": nothing
	}{
		{"a pin that is kept at a joint", pin(joint, wall+0.07, ""), ""},
		{"the same by its invert", pin(joint, wall-0.43, "invert"), ""},
		{"a pin missed by a micrometre", pin(joint, wall+1e-6, "wall"), fmt.Sprintf("pin P asks for a wall top of %.9f m at %v, it lies -1000.000 nm off", wall+1e-6, nm(joint))},
		{"a pin that is kept inside a unit", pin(13*measure.Metre, inside, "wall"), ""},
		{"a pin inside a unit missed by 3 nm", pin(13*measure.Metre, inside+3e-9, "wall"), "nm off"},
		{"a pin on the cover of a heavier unit", pin(27086*mm, 35.758097436, "cover"), "pin P asks for"}, // 110 mm thick, not 70
		{"a node's level", func(j *job.Job) { z := 35.6; j.Route.Nodes[2].Level = &z }, "leg B: its wall top at B2 lies at"},
		{"an existing trench's level", func(j *job.Job) {
			z := 35.6
			j.Route.Nodes[10].End = &job.End{Kind: "existing", Level: &z}
		}, "leg H: its wall top at E2 lies at"},
		{"a greater least fall", func(j *job.Job) { j.Levels.Least = grade("0.6 %") }, "A-001: the grade is -0.5500 %, it has to fall by 0.6 % towards B1"},
		{"a greater least fall on one stretch", func(j *job.Job) { j.Levels.Stretches[1].Least = grade("0.6 %") }, "B-001: the grade is -0.5500 %"},
		{"water the other way", func(j *job.Job) { j.Levels.Stretches[0].Toward = "S" }, "A-001: the grade is -0.5500 %, it has to fall by 0.15 % towards S"},
		{"too flat", func(j *job.Job) { j.Levels.Least = grade("0.5 %") }, "H-001: the grade is -0.4500 %, it has to fall by 0.5 % towards E2"},
		{"a lesser steepest grade", func(j *job.Job) { j.Levels.Most = grade("2 %") }, "the grade -2.1500 % is steeper than 2 %"},
		{"steps everywhere", func(j *job.Job) { j.Levels.Grades = job.SteppedUnits }, "A-001: it lies on the grade -0.5500 %, the job asks for level units"},
		{"steps on one leg", func(j *job.Job) { j.Levels.Stretches[1].Grades = job.SteppedUnits }, "B-001: it lies on the grade -0.5500 %, the job asks for level units"},
		{"steps on steep legs", func(j *job.Job) { j.Levels.SteppedBeyond = grade("2 %") }, "the grade -2.1500 % is steeper than 2 %, where the job asks for steps"},
		{"another setting", func(j *job.Job) { j.Levels.Setting = grade("0.1 %") }, "is no whole number of 0.1 %"},
		{"a crossfall", func(j *job.Job) { j.Levels.Stretches[1].Crossfall = grade("2 %") }, "its crossfall makes 14 mm"},
		{"a smaller lip", func(j *job.Job) { j.Rules.LipLimit = job.Known(2 * mm) }, "node B7: a lip of 5.95"}, // 350·1·1.7 %
		{"no limit of lips", func(j *job.Job) { j.Rules.LipLimit = job.Entry[measure.Length]{} }, "no limit for it is known and no finding says NOT CHECKED"},
		{"no outlets", func(j *job.Job) { j.Levels.Outlets = nil }, "set-out end of K-011: water stands there"},
		{"one outlet less", func(j *job.Job) { j.Levels.Outlets = j.Levels.Outlets[:1] }, "set-out end of H-011: water stands there"},
		{"an outlet away from the low", func(j *job.Job) { j.Levels.Outlets[0].At = 20 * measure.Metre }, "set-out end of K-011: water stands there"},
		{"covers that lie truer", func(j *job.Job) { j.Rules.CoverTol = job.Known(8 * mm) }, "the limit is not the job's"},
		{"a height less true", func(j *job.Job) { j.Supplies[0].Unit.HeightTol = job.Known(4 * mm) }, "how true covers of standard can lie: height of a unit is not as the job has it"},
		{"a drain that lies deeper", func(j *job.Job) { j.Levels.Drain.Below = 400 * mm }, "below the unit, the job asks for 400 mm"},
		{"thicker covers", func(j *job.Job) { j.Supplies[0].Cover.Thickness = job.Known(80 * mm) }, "the cover lies at"},
		{"no pad's thickness", func(j *job.Job) { j.Supplies[0].Bearing.PadThick = job.Entry[measure.Length]{} }, "the pad's base lies at " + pads(0.02) + ", and a figure for that is not on file"},
		{"thicker pads", func(j *job.Job) { j.Supplies[0].Bearing.PadThick = job.Known(30 * mm) }, "the pad's base lies at " + pads(0.02) + ", its figures make " + pads(0.03)},
		{"longer pads", func(j *job.Job) { j.Supplies[0].Bearing.PadAlong = job.Known(400 * mm) }, "is -1.65 mm, the grade makes -2.2 mm"},
		{"on a bed, not on pads", func(j *job.Job) { j.Supplies[0].Bearing.On = job.Known("bed") }, "the pad's top lies at"},
		{"a thicker bed", func(j *job.Job) { j.Dig.Bed = job.Known(200 * mm) }, "the formation lies at"},
		{"no bed on file", func(j *job.Job) { j.Dig.Bed = job.Entry[measure.Length]{} }, "the formation under the pad lies at"},
		{"breaks further apart", func(j *job.Job) { j.Levels.Apart = 40 }, "and no finding says so"},
		{"less inside", func(j *job.Job) { j.Supplies[0].Unit.Inner = job.Known(job.Section{Width: 500 * mm, Height: 400 * mm}) }, "the invert lies at"},
	} {
		t.Run(m.name, func(t *testing.T) {
			l := onSurvey(t)
			var j job.Job
			if err := json.Unmarshal(l.job, &j); err != nil {
				t.Fatal(err)
			}
			m.ask(&j)
			lines := Check(l.plan, written(t, j))
			if m.want == "" && len(lines) > 0 || m.want != "" && !mentionsExactly(lines, m.want) {
				t.Errorf("wanted %q; said was:\n%s", m.want, strings.Join(lines[:min(len(lines), 12)], "\n"))
			}
		})
	}
}
