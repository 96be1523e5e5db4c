package planner_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"sync"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/place/ground"
	"trenchwright/place/route"
	"trenchwright/tools/seed"
	"trenchwright/view/groundin"
)

// made is a demo with its plan and its answers.
type made struct {
	ground  groundin.Surveyed
	plan    planner.Plan
	answers *planner.Answers
}

// once plans a demo for all tests that ask it; nothing in Answers changes.
func once(name string) func() (made, error) {
	return sync.OnceValues(func() (made, error) {
		g, err := demo.Surveyed(name)
		if err != nil {
			return made{}, err
		}
		p, a := planner.Ask(g.Job, g.Surfaces...)
		if a == nil {
			return made{}, fmt.Errorf("%s: %v", name, p.Findings)
		}
		return made{g, p, a}, nil
	})
}

var demos = map[string]func() (made, error){"tram-depot": once("tram-depot"), "battery-yard": once("battery-yard"), "hand-troughs": once("hand-troughs")}

func asked(t testing.TB, name string) (groundin.Surveyed, planner.Plan, *planner.Answers) {
	t.Helper()
	m, err := demos[name]()
	if err != nil {
		t.Fatal(err)
	}
	return m.ground, m.plan, m.answers
}

func percent(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(strings.TrimSuffix(text, " %"), 64)
	if err != nil {
		t.Fatal(err)
	}
	return v / 100
}

// thick are the thicknesses of the demo's two supplies as their data sheets in tram-depot.yaml have them, in metres: cover,
// outer height, base; then bed and pad.
var thick = map[string][3]float64{"standard": {0.070, 0.560, 0.130}, "heavy": {0.110, 0.590, 0.160}}

const bedThick, padThick = 0.150, 0.020

// Levels at any chainage are those that plan.json's grades give, worked out here from the grade, the level where it begins and
// the thicknesses alone.
func TestDepthFollowsTheGrades(t *testing.T) {
	_, p, a := asked(t, "tram-depot")
	seed := seed.Of(t)
	rng := rand.New(rand.NewPCG(seed, 1))
	rows := map[string]planner.SetOut{}
	for _, r := range p.SetOut {
		rows[r.Leg+r.Place] = r
	}
	for _, g := range p.Grades {
		first := rows[g.Leg+g.From]
		if (first.Chainage-g.FromMM) != 0 || first.Levels == nil {
			continue
		}
		for range 20 {
			at := measure.Length(g.FromMM) + measure.Length(rng.Int64N(int64(g.ToMM-g.FromMM)))
			s, err := a.Find(g.Leg+" "+at.MString()+" m", "")
			if err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
			d := a.Depth(s)
			if d.Unit == "" {
				continue
			}
			wall := *first.Levels.Wall + percent(t, g.Grade)*(at-measure.Length(g.FromMM)).Metres()
			k := thick[d.Supply]
			for _, c := range []struct {
				what string
				got  *float64
				want float64
			}{{"wall", d.Levels.Wall, wall}, {"cover", d.Levels.Cover, wall + k[0]}, {"underside", d.Levels.Underside, wall - k[1]},
				{"invert", d.Levels.Invert, wall - k[1] + k[2]}, {"formation", d.Levels.Formation, wall - k[1] - padThick - bedThick}} {
				if c.got == nil || math.Abs(*c.got-c.want) > 5e-9 {
					t.Errorf("seed %d: leg %s, %s, %s: %v, by hand %.9f", seed, g.Leg, at.MString(), c.what, show(c.got), c.want)
				}
			}
			if got := percent(t, d.Grade); math.Abs(got-percent(t, g.Grade)) > 5e-5 {
				t.Errorf("leg %s: grade %s, the plan has %s", g.Leg, d.Grade, g.Grade)
			}
		}
	}
}

func show(v *float64) string {
	if v == nil {
		return "none"
	}
	return fmt.Sprintf("%.9f", *v)
}

// At a joint the answer is the plan's set-out row, figure for figure, by the joint's name and by its chainage.
func TestDepthAtJointsIsTheSetOut(t *testing.T) {
	_, p, a := asked(t, "tram-depot")
	for _, r := range p.SetOut {
		byName, err := a.Find(r.Place, r.Leg)
		if err != nil {
			t.Fatal(err)
		}
		byChainage, err := a.Find(measure.Length(r.Chainage).MString()+"m", r.Leg)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range []planner.Spot{byName, byChainage} {
			d := a.Depth(s)
			got, want := d.Levels, *r.Levels
			for _, c := range []struct {
				what      string
				got, want *float64
			}{{"cover", got.Cover, want.Cover}, {"wall", got.Wall, want.Wall}, {"pad top", got.PadTop, want.PadTop}, {"pad base", got.PadBase, want.PadBase}, {"formation", got.Formation, want.Formation},
				{"existing", got.Existing, want.Existing}, {"finished", got.Finished, want.Finished}, {"rock", got.Rock, want.Rock}} {
				if show(c.got) != show(c.want) {
					t.Errorf("%s on leg %s: %s %s, the plan has %s", r.Place, r.Leg, c.what, show(c.got), show(c.want))
				}
			}
			if math.Abs(d.E-r.E) > 1e-9 || math.Abs(d.N-r.N) > 1e-9 {
				t.Errorf("%s: %f %f, the plan has %f %f", r.Place, d.E, d.N, r.E, r.N)
			}
		}
	}
}

// The section is worked out by hand: the bottom is the unit, twice the room and twice the over-dig; a side at 1:1 meets the
// ground where it has gone out as far as up, on the surveyed ground itself.
func TestDepthSectionByHand(t *testing.T) {
	g, p, a := asked(t, "tram-depot")
	existing := surfaceOf(t, g, ground.Existing)
	outer := map[string]measure.Length{"standard": 700 * measure.Millimetre, "heavy": 760 * measure.Millimetre}
	digs := 0
	for i, l := range p.Legs {
		for _, part := range []float64{0.11, 0.37, 0.52, 0.73, 0.9} {
			at := measure.FromMetres(part * measure.Length(l.NodeLength).Metres())
			s, err := a.Find(at.MString()+" m", l.Name)
			if err != nil {
				t.Fatal(err)
			}
			d := a.Depth(s)
			if d.Dig == nil || d.Unit == "" {
				continue
			}
			digs++
			bottom := outer[d.Supply] + 2*(400+30)*measure.Millimetre
			if d.Dig.Bottom != measure.MM(bottom) || d.Dig.Slope != "1:1" {
				t.Errorf("leg %d, %s: bottom %v, by hand %v; slope %s", i, at, measure.Length(d.Dig.Bottom), bottom, d.Dig.Slope)
			}
			if want := *d.Levels.Existing - *d.Levels.Formation; math.Abs(measure.Length(d.Dig.Centre).Metres()-want) > 2e-9 {
				t.Errorf("leg %s, %s: %v deep, by hand %.9f", l.Name, at, measure.Length(d.Dig.Centre), want)
			}
			right := route.Towards(measure.FromDegrees(d.Bearing)).Right()
			here := existing.Origin.Point(route.Coordinates{E: measure.FromMetres(d.E), N: measure.FromMetres(d.N)})
			deepest, low := 0.0, *d.Levels.Formation
			if d.Levels.Drain != nil { // its trench goes 50 mm below the pipe
				low = min(low, *d.Levels.Drain-0.05)
			}
			for _, side := range []struct {
				edge measure.MM
				sign float64
			}{{d.Dig.Left, -1}, {d.Dig.Right, 1}} {
				out := measure.Length(side.edge).Metres()
				z, ok := existing.At(here.Plus(right.Times(side.sign * out * 0.99972)))
				if up, across := z.Z-*d.Levels.Formation, out-bottom.Metres()/2; !ok || math.Abs(up-across) > 1e-6 {
					t.Errorf("leg %s, %s: the side goes %.7f up and %.7f out", l.Name, at, up, across)
				}
				deepest = max(deepest, z.Z-low)
			}
			if got := measure.Length(d.Dig.Deepest).Metres(); math.Abs(got-deepest) > 1e-6 {
				t.Errorf("leg %s, %s: deepest %.7f, by hand %.7f", l.Name, at, got, deepest)
			}
		}
	}
	if digs < 40 {
		t.Errorf("only %d sections were looked at", digs)
	}
}

// Added up along a leg by Simpson's rule, what the sections hold is what the plan digs there.
func TestDepthAddsUpToTheDig(t *testing.T) {
	_, p, a := asked(t, "tram-depot")
	for _, l := range p.Dig.Legs[:2] {
		sum, planned := 0.0, 0.0
		for k := 4; k < len(l.Running)-3; k++ { // where no bend takes its share
			planned += l.Running[k].Dug - l.Running[k-1].Dug
			from, to := measure.Length(l.Running[k-1].At), measure.Length(l.Running[k].At)
			const parts = 8
			for i := range parts + 1 {
				at := from + (to-from)*measure.Length(i)/parts
				if i == 0 {
					at++
				} else if i == parts {
					at--
				}
				s, err := a.Find(at.MString()+" m", l.Leg)
				if err != nil {
					t.Fatal(err)
				}
				d := a.Depth(s)
				if d.Dig == nil {
					t.Fatalf("leg %s, %s: no dig", l.Leg, at)
				}
				weight := 2.0 + 2*float64(i%2)
				if i == 0 || i == parts {
					weight = 1
				}
				sum += weight * d.Dig.DugArea * (to - from).Metres() / (3 * parts)
			}
		}
		t.Logf("leg %s: %.6f m³ from sections, %.6f m³ in the plan", l.Leg, sum, planned)
		if math.Abs(sum-planned) > 1e-4*planned || planned == 0 {
			t.Errorf("leg %s: %.4f m³ from sections, %.4f m³ in the plan", l.Leg, sum, planned)
		}
		s, err := a.Find(measure.Length(l.DeepestAt).MString()+" m", l.Leg)
		if err != nil {
			t.Fatal(err)
		}
		if d := a.Depth(s); math.Abs(float64(d.Dig.Deepest-l.Deepest)) > 100 {
			t.Errorf("leg %s: deepest %v, the plan has %v", l.Leg, measure.Length(d.Dig.Deepest), measure.Length(l.Deepest))
		}
	}
}

// A deep bed takes the same dig over the limits of the rules: protection from 5 ft on, a ladder from 4 ft on and never further
// along than 25 ft (29 CFR 1926.652(a)(1) and 651(c)(2)).
func TestDepthHoldsTheRules(t *testing.T) {
	g, _, _ := asked(t, "tram-depot")
	j := g.Job
	j.Dig.Jurisdiction, j.Dig.Soil, j.Dig.Bed = "osha", job.Known("B"), job.Known(950*measure.Millimetre)
	_, a := planner.Ask(j, g.Surfaces...)
	if a == nil {
		t.Fatal("no plan")
	}
	needed, not, ladders := 0, 0, 0
	for at := 500 * measure.Millimetre; at < 51*measure.Metre; at += 750 * measure.Millimetre {
		s, err := a.Find("B "+at.MString()+" m", "")
		if err != nil {
			t.Fatal(err)
		}
		d := a.Depth(s)
		if d.Dig == nil || d.Rules == nil {
			t.Fatalf("%s: %+v", at, d.Rules)
		}
		deep := measure.Length(d.Dig.Deepest)
		over := d.Rules.Needed != nil && *d.Rules.Needed // short of the limit nobody can say without a word about signs of a cave-in
		if over != (deep >= 5*measure.Foot) || !over && d.Rules.Needed != nil {
			t.Errorf("%s: %s deep, protection needed: %v", at, deep, d.Rules.Needed)
		}
		if over {
			needed++
		} else {
			not++
		}
		if n := d.Rules.Ladder; deep >= 4*measure.Foot {
			if n == nil || measure.Length(n.Away).Abs() > 25*measure.Foot || n.Chainage != d.Place.Chainage+n.Away {
				t.Errorf("%s: %s deep, nearest ladder %+v", at, deep, n)
			}
			ladders++
		}
	}
	t.Logf("%d places over 5 ft, %d short of it, %d over 4 ft", needed, not, ladders)
	if needed == 0 || not == 0 {
		t.Error("one side of the limit was not met")
	}
}

func surfaceOf(t *testing.T, g groundin.Surveyed, role ground.Role) *ground.Surface {
	t.Helper()
	for _, s := range g.Surfaces {
		if s.Role == role {
			return s
		}
	}
	t.Fatalf("no surface %s", role)
	return nil
}

// unsurveyed is a demo of which nobody has a survey.
func unsurveyed(t *testing.T) *planner.Answers {
	t.Helper()
	j := readDemo(t, "hand-troughs")
	j.Ground = job.Ground{}
	_, a := planner.Ask(j)
	if a == nil {
		t.Fatal("no plan")
	}
	return a
}

// Without a survey an answer says what is not on file, and holds no figure in its place.
func TestDepthWithoutGround(t *testing.T) {
	a := unsurveyed(t)
	s, err := a.Find("A-001", "")
	if err != nil {
		t.Fatal(err)
	}
	d := a.Depth(s)
	if d.Levels.Existing != nil || d.Dig != nil || d.Rules != nil || d.Levels.Formation != nil {
		t.Errorf("%+v", d)
	}
	if !strings.Contains(strings.Join(d.NotChecked, "\n"), "NOT CHECKED: no survey of the ground as it is on file. Ask: the surveyor") {
		t.Error(d.NotChecked)
	}
}

// Where the survey does not reach, there is no ground and no dig: a run that goes on past it says so.
func TestDepthBeyondTheGround(t *testing.T) {
	g, p, _ := asked(t, "tram-depot")
	line := []route.Point{{E: p.Nodes[0].At[0], N: p.Nodes[0].At[1]}, {E: p.Nodes[1].At[0], N: p.Nodes[1].At[1]}}
	existing := surfaceOf(t, g, ground.Existing).Clip(line, 3) // leg A alone was surveyed
	if existing == nil {
		t.Fatal("nothing is left of the survey")
	}
	existing.Role = ground.Existing
	surfaces := []*ground.Surface{existing}
	for _, s := range g.Surfaces {
		if s.Role != ground.Existing {
			surfaces = append(surfaces, s)
		}
	}
	p, a := planner.Ask(g.Job, surfaces...)
	if a == nil {
		t.Fatal(p.Findings)
	}
	said, dug := 0, 0
	for _, l := range p.Legs {
		for part := range 41 {
			at := measure.Length(l.NodeLength) * measure.Length(part) / 40
			s, err := a.Find(at.String(), l.Name)
			if err != nil {
				t.Fatal(err)
			}
			d := a.Depth(s)
			_, ok := existing.At(existing.Origin.Point(route.Coordinates{E: measure.FromMetres(d.E), N: measure.FromMetres(d.N)}))
			if ok != (d.Levels.Existing != nil) || !ok && (d.Dig != nil || len(d.NoGround) == 0) {
				t.Errorf("leg %s, %s: ground %v, %+v", l.Name, at, ok, d.NoGround)
			}
			if len(d.NoGround) > 0 {
				said++
			}
			if d.Dig != nil {
				dug++
			}
		}
	}
	t.Logf("no ground said at %d places, a dig at %d", said, dug)
	if said < 100 || dug < 20 {
		t.Error("one of the two was hardly met")
	}
}

func TestFindSaysWhatIsKnown(t *testing.T) {
	_, _, a := asked(t, "tram-depot")
	for _, c := range []struct{ text, leg, want string }{
		{"12.5 m", "", "lies on 10 legs"},
		{"12.5 m", "", "A (S to B1, 38.200 m)"},
		{"12.5 m", "Z", "there is no leg Z; the legs are A (S to B1"},
		{"500", "", "no leg has a chainage 500.000 m"},
		{"38.5", "A", "leg A has no chainage 38.500 m: it runs from 0.000 m to 38.200 m"},
		{"A-077", "", "leg A has the units A-001 to A-014"},
		{"B9", "", "near to it are"},
		{"A-004", "B", "A-004 does not lie on leg B but on leg A"},
		{"1+2+3", "", "is no place"},
		{"", "", "is no place"},
	} {
		if s, err := a.Find(c.text, c.leg); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q on leg %q: %v, %v; %q was expected", c.text, c.leg, s, err, c.want)
		}
	}
	for _, c := range []struct{ text, leg, kind, at string }{
		{"a-004", "", "unit", ""}, {"A-004/A-005", "", "joint", ""}, {"A-004.2", "", "cover", ""}, {"start of A-001", "", "end", ""}, {"end of A-001", "", "joint", ""}, {"T1", "H", "node", "0"},
		{"D-w1", "", "service", "12.4"}, {"B-x1", "", "crossing", "27.5"}, {"A-e1", "", "entry", "2.9"}, {"0+012.500", "C", "chainage", "12.5"}, {"C 12.5", "", "chainage", "12.5"}, {"60", "", "chainage", "60"}, {"c 12500mm", "", "chainage", "12.5"},
	} {
		s, err := a.Find(c.text, c.leg)
		if err != nil || s.Kind != c.kind || c.at != "" && s.At.MString() != c.at {
			t.Errorf("%q: %+v, %v", c.text, s, err)
		}
	}
}

// Stations of a job in feet are hundreds of feet.
func TestFindInFeet(t *testing.T) {
	_, p, a := asked(t, "battery-yard")
	longest := p.Legs[0]
	for _, l := range p.Legs {
		if l.NodeLength > longest.NodeLength {
			longest = l
		}
	}
	for text, want := range map[string]measure.Length{"0+25.5": 25*measure.Foot + measure.Foot/2, "25.5": 25*measure.Foot + measure.Foot/2, "25'-6\"": 25*measure.Foot + measure.Foot/2} {
		if s, err := a.Find(text, longest.Name); err != nil || s.At != want {
			t.Errorf("%s: %v, %v", text, s.At, err)
		}
	}
	if _, err := a.Find("9+99", ""); err == nil || !strings.Contains(err.Error(), "station 9+99.00") {
		t.Error(err)
	}
}

// Whatever is typed is a place on a leg or a sentence.
func FuzzFind(f *testing.F) {
	_, p, a := asked(f, "hand-troughs")
	for _, s := range []string{"A-004", "A-004/A-005", "12.5 m", "0+012.500", "A 3", "start of A-001", "N1", "A-004.2", "", "+", "-1", "A-", "1e9", "\x00"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := a.Find(text, "")
		if err != nil {
			if err.Error() == "" {
				t.Error("an error that says nothing")
			}
			return
		}
		if s.Leg < 0 || s.Leg >= len(p.Legs) || s.At < 0 || s.At > measure.Length(p.Legs[s.Leg].NodeLength) || s.From > s.At || s.To < s.At {
			t.Errorf("%q: %+v", text, s)
		}
		a.Depth(s)
	})
}

// How fast a question is answered once a job is planned.
func BenchmarkDepth(b *testing.B) {
	_, _, a := asked(b, "tram-depot")
	s, err := a.Find("F 40 m", "")
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		a.Depth(s)
	}
}
