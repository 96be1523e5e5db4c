package schedule

import (
	"bytes"
	"math"
	"strconv"
	"strings"
	"sync"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/place/ground"
	"trenchwright/view/groundin"
	"trenchwright/view/jobtext"
)

type groundRun struct {
	plan planner.Plan
	job  job.Job
}

// depot is the largest demo planned on its ground, in its own system or in feet.
func depot(feet bool) groundRun {
	text, err := demo.File("tram-depot")
	if err != nil {
		panic(err)
	}
	j, _ := jobtext.Read("tram-depot.yaml", bytes.NewReader(text))
	g, found := groundin.Survey(j, demo.Open)
	if found.Any(finding.Fault) {
		panic(found[0].String())
	}
	if feet {
		g.Job.Words, g.Job.System = job.US, job.Imperial
	}
	return groundRun{planner.Make(g.Job, g.Surfaces...), g.Job}
}

var (
	depotInMetres = sync.OnceValue(func() groundRun { return depot(false) })
	depotInFeet   = sync.OnceValue(func() groundRun { return depot(true) })
)

// tableNamed is one table of a plan, read back from CSV.
func tableNamed(t *testing.T, r groundRun, name string) sheet {
	t.Helper()
	for _, one := range Of(r.plan, r.job).All() {
		if one.Name == name {
			return readBack(t, one)
		}
	}
	t.Fatalf("no table %s", name)
	return sheet{}
}

// figure is a cell as a number.
func (s sheet) figure(t *testing.T, row []string, head string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(row[s.column(t, head)], 64)
	if err != nil {
		t.Fatalf("%s: %v", head, err)
	}
	return v
}

// 1 yd³ = 0.9144³ m³ and 1 yd² = 0.9144² m², by definition of the international yard: worked here anew.
func yards(metres float64, power int) float64 { return metres / math.Pow(0.9144, float64(power)) }

// What the tables say of the dig is what the plan says, in cubic metres and in cubic yards, leg by leg and in all.
func TestDigTablesSayWhatThePlanSays(t *testing.T) {
	for unit, r := range map[string]groundRun{"m": depotInMetres(), "yd": depotInFeet()} {
		in := func(v float64, power int) float64 {
			if unit == "yd" {
				return yards(v, power)
			}
			return v
		}
		near := func(what string, got, want float64) {
			if math.Abs(got-want) > 6e-7 {
				t.Errorf("%s: %s is %v, the plan says %v", unit, what, got, want)
			}
		}
		s, fill := tableNamed(t, r, "dig"), tableNamed(t, r, "dig-fill")
		volumes := func(name string, dug, back []string, v planner.DigVolumes) {
			for head, want := range map[string]float64{"dug": v.Dug, "topsoil": v.Topsoil, "soil": v.Soil, "rock": v.Rock} {
				near(name+" "+head, s.figure(t, dug, head+" ["+unit+"³]"), in(want, 3))
			}
			near(name+" opened", s.figure(t, dug, "ground opened ["+unit+"²]"), in(v.Opened, 2))
			for head, want := range map[string]float64{"fill": v.Fill, "topsoil back": v.TopsoilBack, "drain": v.Pipe} {
				near(name+" "+head, fill.figure(t, back, head+" ["+unit+"³]"), in(want, 3))
			}
		}
		for i, l := range r.plan.Dig.Legs {
			row := s.rows[i]
			volumes(l.Leg, row, fill.rows[i], l.Volumes)
			near("exact", s.figure(t, row, "exact, without ends and bends ["+unit+"³]"), in(l.Exact, 3))
			near("average end area", s.figure(t, row, "average end area ["+unit+"³]"), in(l.EndArea, 3))
			near("prismoidal", s.figure(t, row, "prismoidal ["+unit+"³]"), in(l.Prismoidal, 3))
		}
		last := len(r.plan.Dig.Legs)
		volumes(WholeRun, s.rows[last], fill.rows[last], r.plan.Dig.Total)
		layers(t, unit, r, in, near)
		running(t, unit, r, in, near)
	}
}

// The layers of a leg add up to its fill.
func layers(t *testing.T, unit string, r groundRun, in func(float64, int) float64, near func(string, float64, float64)) {
	layer := tableNamed(t, r, "dig-layers")
	sum := map[string]float64{}
	for _, row := range layer.rows {
		both := layer.figure(t, row, "both ["+unit+"³]")
		if apart := layer.figure(t, row, "left ["+unit+"³]") + layer.figure(t, row, "right ["+unit+"³]") - both; math.Abs(apart) > 2e-6 {
			t.Errorf("%s: left and right are %v apart from both", row[0], apart)
		}
		sum[row[0]] += both
	}
	for _, l := range r.plan.Dig.Legs {
		if got, want := sum[l.Leg], in(l.Volumes.Fill, 3); math.Abs(got-want) > 1e-5 {
			t.Errorf("leg %s: layers of %v, fill of %v %s³", l.Leg, got, want, unit)
		}
	}
}

func running(t *testing.T, unit string, r groundRun, in func(float64, int) float64, near func(string, float64, float64)) {
	run, k := tableNamed(t, r, "dig-running"), 0
	for _, l := range r.plan.Dig.Legs {
		for _, at := range l.Running {
			near(l.Leg+" so far", run.figure(t, run.rows[k], "dug up to here ["+unit+"³]"), in(at.Dug, 3))
			k++
		}
	}
	if k != len(run.rows) {
		t.Errorf("%d rows of the running curve, the plan has %d", len(run.rows), k)
	}
}

// Of each material dug and brought in are what goes back and what leaves; where no factor is on file nothing is said but
// what is known, and nothing is nought that nobody knows.
func TestBalancesAddUpAndInventNothing(t *testing.T) {
	r := depotInMetres()
	s := tableNamed(t, r, "dig-balance")
	for i := 0; i < len(s.rows); i += 4 {
		bank := func(k int) float64 { return s.figure(t, s.rows[i+k], "in the ground [m³]") }
		if off := bank(0) + bank(2) - bank(1) - bank(3); math.Abs(off) > 3e-6 {
			t.Errorf("%s: off by %v m³", s.rows[i][0], off)
		}
	}
	j := r.job
	j.Dig.Bulking = nil
	bare := groundRun{planner.Make(j, surfacesOf(t)...), j}
	s = tableNamed(t, bare, "dig-balance")
	for i := 0; i < len(s.rows); i += 4 {
		if s.rows[i][0] != "soil" {
			continue
		}
		for k, what := range []string{"dug", "goes back", "brought in", "leaves"} {
			row := s.rows[i+k]
			loose, ground := row[s.column(t, "loose [m³]")], row[s.column(t, "in the ground [m³]")]
			if row[1] != what || !strings.HasPrefix(loose, "NOT CHECKED: no bulking of soil") || k > 0 && !strings.HasPrefix(ground, "NOT CHECKED") {
				t.Errorf("without a factor: %q", row)
			}
		}
	}
}

func surfacesOf(t *testing.T) []*ground.Surface {
	t.Helper()
	g, err := demo.Surveyed("tram-depot")
	if err != nil {
		t.Fatal(err)
	}
	return g.Surfaces
}

// The strip and the rules of the place stand as the plan has them; land that nobody entered cannot be held against anything.
func TestStripAndRulesAreThePlans(t *testing.T) {
	r := depotInMetres()
	s, k := tableNamed(t, r, "dig-strip"), 0
	for _, n := range r.plan.Dig.Strip {
		if len(n.Uses) == 0 {
			continue
		}
		row := s.rows[k]
		k++
		if !sameMetres(t, row[s.column(t, "needed [m]")], n.Need) || !sameMetres(t, row[s.column(t, "land [m]")], *n.Land) || row[s.column(t, "verdict")] != meets {
			t.Errorf("%s %s: %q", n.Leg, n.Side, row)
		}
	}
	if k == 0 || k != len(s.rows) {
		t.Errorf("%d rows of the strip, %d in the plan", len(s.rows), k)
	}
	for _, c := range []struct {
		land  *measure.MM
		whole bool
		want  string
	}{{nil, true, cannotSay}, {new(measure.MM(5)), true, meets}, {new(measure.MM(4)), true, doesNot}, {new(measure.MM(5)), false, cannotSay}, {new(measure.MM(4)), false, doesNot}} {
		if got := stripVerdict(planner.StripNeed{Need: 5, Land: c.land, Whole: c.whole}); got != c.want {
			t.Errorf("land %v, whole %v: %s", c.land, c.whole, got)
		}
	}
	rules, n := tableNamed(t, r, "excavation"), 0
	for _, x := range r.plan.Excavation {
		for _, v := range x.Results {
			if row := rules.rows[n]; row[0] != x.Leg || row[rules.column(t, "verdict")] != v.Verdict || !strings.Contains(row[rules.column(t, "rule, and the day it was read")], x.Read) {
				t.Errorf("leg %s: %q", x.Leg, row)
			}
			n++
		}
	}
}

func sameMetres(t *testing.T, text string, l measure.MM) bool {
	t.Helper()
	return exact(t, text).Cmp(exact(t, measure.Length(l).MString())) == 0
}

// A rod that reads what a row of the grades says gives the pad tops of the plan at every joint of the row: worked from the
// levels of the plan alone, with a beam of 1.2 m.
func TestOneReadingGivesEveryPadTop(t *testing.T) {
	r := depotInMetres()
	j := r.job
	j.Levels.Beam, j.Rules.BedTol, j.Levels.Setting = job.Known(1200*measure.Millimetre), job.Known(3*measure.Millimetre), job.Known(measure.Grade{Rise: 1, Run: 2000})
	joints, over := 0, 0.0
	covered := map[string]bool{}
	for _, l := range Of(r.plan, j).Lasers() {
		if l.Impossible != "" || l.Setting.Reading != 1200*measure.Millimetre || l.Setting.Verdict != "meets the stated figure" {
			t.Errorf("%s to %s: %+v %s", l.From.Place, l.To.Place, l.Setting, l.Impossible)
		}
		low := l.Joints[0]
		if !l.Setting.Up {
			low = l.Joints[len(l.Joints)-1]
		}
		dial := float64(l.Setting.Dial.Rise) / float64(l.Setting.Dial.Run)
		for k, at := range l.Joints {
			beam := low.Level.Metres() + 1.2 + dial*math.Abs((at.Chainage-low.Chainage).Metres())
			row := rowAt(r.plan, l.Grade.Leg, at.Name)
			if k+1 < len(l.Joints) { // the row tells the level of the unit behind its joint
				off := beam - 1.2 - *row.Levels.PadTop
				over = max(over, math.Abs(off))
				joints++
				if depth := *row.Levels.PadTop - *row.Levels.Formation - l.Formation.Metres(); math.Abs(depth) > 1e-6 {
					t.Errorf("%s: the formation lies %v m off what the rod would say", at.Name, depth)
				}
			}
			covered[l.Grade.Leg+at.Name] = true
		}
	}
	for _, s := range r.plan.SetOut {
		if !covered[s.Leg+s.Place] {
			t.Errorf("%s has no reading", s.Place)
		}
	}
	if joints < 100 || over > 0.0005 {
		t.Errorf("%d joints, the reading is up to %.6f m off", joints, over)
	}
	t.Logf("%d joints, at most %.6f m off", joints, over)
}

func rowAt(p planner.Plan, leg, place string) planner.SetOut {
	for _, r := range p.SetOut {
		if r.Leg == leg && r.Place == place {
			return r
		}
	}
	return planner.SetOut{}
}

// Nothing of the dig stands where there is none.
func TestNoDigNoTables(t *testing.T) {
	s := Of(planner.Plan{}, job.Job{})
	if n := len(s.Dig()) + len(s.Grades()) + len(s.Excavation()); n > 0 {
		t.Errorf("%d tables of a dig that is not", n)
	}
}
