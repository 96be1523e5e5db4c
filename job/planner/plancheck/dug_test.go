package plancheck

import (
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	said "trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/place/ground"
)

// jobs is how many random jobs are dug: go test ./job/planner/plancheck -run RandomDigs -jobs 1000.
var jobs = flag.Uint64("jobs", 40, "random jobs that are planned down to their dig")

// digger asks at random for a dig.
type digger struct {
	*rand.Rand
	d *job.Dig
}

func (w digger) oneIn(n int) bool { return w.IntN(n) == 0 }

func (w digger) mm(low, high int) job.Entry[measure.Length] {
	return job.Known(measure.Length(low+w.IntN(high-low+1)) * measure.Millimetre)
}

func (w digger) factor() string { return fmt.Sprintf("%.2f", 0.75+w.Float64()) }

// figures are those of the dig; each may be missing.
func (w digger) figures() {
	d := w.d
	d.From = "D1"
	d.Bed, d.Room = w.mm(80, 250), w.mm(150, 700)
	d.Sides = []string{"sloped", "sloped", "benched", "supported", "vertical"}[w.IntN(5)]
	d.Slope = job.Known(measure.Grade{Rise: measure.Metre, Run: measure.Length(500+100*w.IntN(16)) * measure.Millimetre})
	if d.Sides == "benched" {
		d.Bench = &job.Bench{Height: w.mm(300, 1200).Value, Width: w.mm(300, 1200).Value}
	}
	if w.oneIn(3) {
		d.OverDig = w.mm(20, 150)
	}
	if !w.oneIn(3) {
		d.Topsoil = w.mm(50, 400)
	}
	if !w.oneIn(3) {
		d.Layer = w.mm(90, 450)
	}
	if !w.oneIn(3) {
		d.Reuse = job.Known(!w.oneIn(3))
	}
	if !w.oneIn(3) {
		d.Load = job.Known(fmt.Sprintf("%.1f%s", 4+12*w.Float64(), []string{"", " m3", " yd3", " t", " short tons"}[w.IntN(5)]))
	}
	for _, of := range []string{"soil", "topsoil", "rock"} {
		if !w.oneIn(4) {
			one := job.Bulking{Of: of, Loose: w.factor(), Compacted: w.factor(), From: "D1"}
			if !w.oneIn(3) {
				one.Density = job.Known([]string{"1600 kg/m3", "1.45 t/m³", "2700 lb/yd3"}[w.IntN(3)])
			}
			d.Bulking = append(d.Bulking, one)
		}
	}
	if w.oneIn(3) {
		d.Fabric = &job.Fabric{Lap: 300 * measure.Millimetre, Sheet: 50 * measure.Metre, Up: w.mm(0, 500).Value}
	}
	if w.oneIn(2) {
		d.Influence, d.Tolerance = job.Known(measure.Grade{Rise: 1, Run: 1}), w.mm(100, 500)
	}
	if w.oneIn(2) {
		d.Strip = job.WorkStrip{Setback: w.mm(300, 1000), Heap: job.Known(measure.Grade{Rise: 2, Run: 3}), Uses: []job.StripUse{{What: "spoil", Side: "left"}}}
	}
}

// rough is a surface over the points of another, so much higher and up and down by chance; now and then it ends too early.
func (w digger) rough(t *testing.T, role ground.Role, like *ground.Surface, by, amp float64) *ground.Surface {
	t.Helper()
	short := math.Inf(1)
	m := like.Measures()
	if w.oneIn(8) {
		short = m.Max.E - 0.3*(m.Max.E-m.Min.E)
	}
	var s ground.Survey
	s.Role, s.Origin = role, like.Origin
	stands := map[ground.Point]bool{}
	for f := range like.FaceCount() {
		for _, p := range like.Corners(f) {
			if !stands[p] && p.E < short {
				stands[p] = true
				s.Points = append(s.Points, ground.Point{E: p.E + 2*w.Float64(), N: p.N + 2*w.Float64(), Z: p.Z + by + amp*(w.Float64()-0.5)})
			}
		}
	}
	out, found := ground.Triangulate(s)
	if out == nil {
		t.Fatal(found)
	}
	return out
}

// dug is the random job of a seed on ground with a dig asked for, and its surfaces.
func dug(t *testing.T, seed uint64) (job.Job, []*ground.Surface) {
	t.Helper()
	j, finished := onHills(t, seed)
	if finished == nil {
		return j, nil
	}
	w := digger{rand.New(rand.NewPCG(seed, 23)), &j.Dig}
	w.figures()
	for i := range j.Supplies { // without these nobody knows how deep to dig
		if b := &j.Supplies[i].Bearing; b.On.Value == "pads" {
			b.PadThick, b.PadAlong = job.Known(40*measure.Millimetre), job.Known(300*measure.Millimetre)
			if w.oneIn(2) {
				b.PadAcross = w.mm(200, 900)
			}
		}
	}
	all := []*ground.Surface{finished, w.rough(t, ground.Existing, finished, 0.6*w.Float64()-0.2, 0.4)}
	if w.oneIn(2) {
		all = append(all, w.rough(t, ground.Rock, finished, -0.9-w.Float64(), 1.5))
	}
	if w.oneIn(4) {
		all = append(all, w.rough(t, ground.Water, finished, -1.5, 0.2))
	}
	if w.oneIn(6) {
		all = all[1:2] // nothing will change but the dig: the fill ends at the ground as it is
		all = append(all, finished)
	}
	return j, all
}

// Random networks are planned down to their dig: levels hold on integers, the dig's separate checker has nothing to say,
// and its balances add up out of plan.json alone. A failure names its seed; dug gives the job and its ground again. A plan
// that calls itself faulty is nobody's plan: it is counted, and there may be one in two hundred.
func TestRandomDigsAddUp(t *testing.T) {
	if testing.Short() {
		*jobs = min(*jobs, 10)
	}
	var faulty, digs, legs, spans, balances, units, rows int
	var volume, layers float64
	for seed := range *jobs {
		j, surfaces := dug(t, seed)
		if surfaces == nil {
			continue
		}
		for _, f := range job.Faults(j) {
			t.Fatalf("seed %d: %s (%s)", seed, f.Text, f.Where.Path)
		}
		plan := planner.Make(j, surfaces...)
		for _, f := range plan.Findings {
			if f.ID == "planner.dig-check" {
				t.Errorf("seed %d: %s", seed, f.Text)
			}
		}
		if plan.Findings.Any(said.Fault) {
			faulty++
			t.Logf("seed %d calls itself faulty: %s", seed, plan.Findings.Say(j.Speech()))
			continue
		}
		text, err := json.Marshal(plan)
		if err != nil {
			t.Fatal(err)
		}
		if wrong := Check(text, written(t, j)); len(wrong) > 0 {
			t.Errorf("seed %d: %d things do not hold:\n  %s", seed, len(wrong), strings.Join(wrong[:min(len(wrong), 6)], "\n  "))
		}
		units += len(plan.Units)
		rows += len(plan.SetOut)
		if d := plan.Dig; d != nil && d.Total.Dug > 0 {
			digs, volume, balances = digs+1, volume+d.Total.Dug, balances+len(d.Balances)
			for _, l := range d.Legs {
				if n := len(l.Running); n > 1 {
					legs, spans = legs+1, spans+n-1
				}
			}
			for _, l := range d.Total.Layers {
				layers += l[0] + l[1]
			}
		}
	}
	t.Logf("%d jobs, %d units, %d places with levels; %d digs of %d legs in %d spans, %.0f m³ dug, %.0f m³ filled in layers, %d balances; %d faulty",
		*jobs, units, rows, digs, legs, spans, volume, layers, balances, faulty)
	if uint64(faulty)*200 > *jobs+199 {
		t.Errorf("%d of %d plans call themselves faulty", faulty, *jobs)
	}
	if uint64(digs)*2 < *jobs {
		t.Errorf("only %d of %d jobs are dug: too little is tested", digs, *jobs)
	}
}

// A plan whose dig was spoiled in one figure is found out.
func TestSpoiledDigsAreFoundOut(t *testing.T) {
	l := onSurvey(t)
	digOf := func(p tree) tree { return tree(p["dig"].(map[string]any)) }
	under := func(p tree, key string) tree { return tree(p[key].(map[string]any)) }
	first := func(p tree, list string) tree { return tree(p[list].([]any)[0].(map[string]any)) }
	for _, c := range []struct {
		what  string
		spoil func(d tree)
		want  string
	}{
		{"soil of the run", func(d tree) { under(d, "total").add("soil_m3", 1e-5) }, "against its materials"},
		{"fill of a leg", func(d tree) { under(first(d, "legs"), "volumes").add("fill_m3", 1e-5) }, "layers against the fill"},
		{"stone of a leg", func(d tree) { under(first(d, "legs"), "volumes").add("stone_m3", 1e-5) }, "figure 6 of the dig against its legs"},
		{"units of the run", func(d tree) { under(d, "total").add("unit_m3", 1e-5) }, "figure 9 of the dig against its legs"},
		{"a balance's dug", func(d tree) { under(first(d, "balances"), "dug").add("bank_m3", 1e-5) }, "dug, against the total"},
		{"a balance's loose", func(d tree) { under(first(d, "balances"), "leaves").add("loose_m3", 1e-5) }, "leaves: loose"},
		{"what goes back", func(d tree) { under(first(d, "balances"), "back").add("compacted_m3", 1e-5) }, "back in place, against the total"},
		{"loads", func(d tree) { first(d, "balances").add("loads", 1) }, "loads of"},
		{"a balance gone", func(d tree) { d["balances"] = d["balances"].([]any)[1:] }, "have no balance"},
		{"the end of a curve", func(d tree) {
			r := first(d, "legs")["running"].([]any)
			tree(r[len(r)-1].(map[string]any)).add("dug_m3", 1e-5)
		}, "the curve of what is dug, at its end"},
		{"the end of the masses", func(d tree) {
			r := first(d, "legs")["running"].([]any)
			tree(r[len(r)-1].(map[string]any)).add("mass_m3", 1e-5)
		}, "the curve of masses, at its end"},
	} {
		p := l.tree(t)
		c.spoil(digOf(p))
		text, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		if wrong := strings.Join(Check(text, l.job), "\n"); !strings.Contains(wrong, c.want) {
			t.Errorf("%s: %q is not in\n%s", c.what, c.want, wrong)
		}
	}
}
