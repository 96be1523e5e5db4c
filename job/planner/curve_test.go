package planner

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/solve/layout"
)

var curveSeed = flag.Uint64("curves", 1, "seed of the random legs with a curve")

// curvedJob is one leg: a straight, an arc, a straight.
func curvedJob(s job.Supply, before, after, radius measure.Length, turn float64) job.Job {
	return job.Job{ID: "curve", Supplies: []job.Supply{s}, Route: job.Route{Walk: []string{
		before.String(), fmt.Sprintf("arc right %s radius %.9f°", radius, turn), after.String()}}}
}

func curveSupply() job.Supply {
	s := spotSupply()
	s.Unit.Outer = job.Known(job.Section{Width: 900 * mm, Height: 750 * mm})
	s.Joint.Gap = job.Known(measure.Window{Nominal: 10 * mm, Min: 8 * mm, Max: 14 * mm})
	s.Cover = &job.CoverMake{Lengths: job.Known([]measure.Length{996 * mm}), Gap: job.Known(measure.Window{Nominal: 4 * mm, Min: 4 * mm, Max: 4 * mm}),
		Width: job.Known(840 * mm), Shortest: job.Known(300 * mm)}
	return s
}

// Window 8 to 14 at width 900: 3 mm on either side are 3/450 = 6.667 mrad = 0.38197°. Piece and gap of 14 turn by no more
// on R 25 m if they are at most 2·25 000·sin(3/900) = 166.666 long: 152.666 for the piece. Pieces of 600 want
// R = 614/(2·sin(3/900)) = 92.100 m, of 3000 want 3014/(2·sin(3/900)) = 452.101 m. Worked by hand, no source.
func TestImpossibleCurveNamesItsFigures(t *testing.T) {
	p := Make(curvedJob(curveSupply(), 20*measure.Metre, 20*measure.Metre, 25*measure.Metre, 90))
	l := p.Legs[0]
	for _, want := range []string{
		"the curve of 25.000 m radius from chainage 20.000 m to 59.270 m: with a joint window of 8 mm to 14 mm at a width of 900 mm a joint may turn by 0.381°, and the longest unit whose joints do is 152 mm",
		"shortest cut 600 mm, shortest made 3000 mm",
	} {
		if l.Verdict != "impossible" || !strings.Contains(l.Why, want) {
			t.Errorf("%s: %s\nwant %s", l.Verdict, l.Why, want)
		}
	}
	for _, want := range []string{
		" instead of the curve at chainage 20.000 m, leaving its line by no more than ",
		"a radius of at least 92.200 m (now 25.000 m; ", "and from 452.200 m on units of 3000 mm can lie on it",
		"a joint window of 8 mm to ", "units of 152 mm with covers of 148 mm, if the supplier makes them (now 3000 mm; ",
	} {
		if !strings.Contains(strings.Join(l.Try, "\n"), want) {
			t.Errorf("nothing to try has %q in it:\n%s", want, strings.Join(l.Try, "\n"))
		}
	}
	if n := count(p.Findings, "planner.curve"); n != 0 {
		t.Errorf("the curve is said %d times more", n)
	}
}

func count(l finding.List, id string) int {
	n := 0
	for _, f := range l {
		if f.ID == id {
			n++
		}
	}
	return n
}

// What a leg that can be laid is told of its curve is the least that lets whole units lie on it.
func TestCurveFindingFigures(t *testing.T) {
	p := Make(curvedJob(curveSupply(), 20*measure.Metre, 20*measure.Metre, 100*measure.Metre, 90))
	i := slices.IndexFunc(p.Findings, func(f finding.Finding) bool { return f.ID == "planner.curve" })
	if i < 0 || p.Legs[0].Verdict != "found" {
		t.Fatalf("%s: %v", p.Legs[0].Verdict, p.Findings)
	}
	// 2·100 000·sin(3/900) = 666.665 less 14: 652.665
	f := p.Findings[i]
	if !strings.Contains(f.Text, "the longest unit whose joints do is 652 mm; those made are 3000 mm long") ||
		!strings.HasPrefix(f.Try, "a radius of at least 452.200 m, joints that may open to 36 mm, units no longer than 652 mm or small mitred bends") {
		t.Errorf("%s\n%s", f.Text, f.Try)
	}
	h := share{window: measure.Window{Nominal: 10 * mm, Min: 8 * mm, Max: 14 * mm}, width: 900 * mm, longest: 3000 * mm}
	c := limit{curve: curve{radius: 100 * measure.Metre}}
	for _, v := range []struct {
		max  measure.Length
		fits bool
	}{{35 * mm, false}, {36 * mm, true}} {
		w := h.window
		w.Max = v.max
		if _, ok := curveWindow(w, c.radius, h.longest, h.width, 0); ok != v.fits {
			t.Errorf("joints up to %s: %v", v.max, ok)
		}
	}
}

// Where something stands on the curve no small mitres are offered, and without saw figures nothing that would be cut: a leg
// that whole units fill if it is straight, 26·3010 - 10 = 78 250 mm, has its reason in the curve then too.
func TestCurveWithZoneOrWithoutSaw(t *testing.T) {
	j := job.Job{ID: "curve", Supplies: []job.Supply{curveSupply()}, Coordinates: job.Coordinates{Unit: job.CoordMetres, ScaleFactor: "ground"}}
	j.Route.Nodes = []job.Node{{ID: "N0", At: &[2]float64{0, 0}}, {ID: "N1", At: &[2]float64{45, 45}}}
	j.Route.Legs = []job.Leg{{ID: "A", From: "N0", To: "N1", Via: []job.Vertex{{At: [2]float64{0, 45}, Radius: 25 * measure.Metre}},
		Zones: []job.Zone{{ID: "Z", From: 30 * measure.Metre, To: 30_100 * mm, Why: "a pole"}}}}
	l := Make(j).Legs[0]
	if !strings.Contains(l.Why, "the curve of 25.000 m radius") || strings.Contains(strings.Join(l.Try, " "), "mitred") || len(l.Try) < 2 {
		t.Errorf("%s, %q", l.Why, l.Try)
	}
	bare := curveSupply()
	bare.Saw = job.SawRule{}
	l = Make(curvedJob(bare, 20*measure.Metre, 18_980_091_830, 25*measure.Metre, 90)).Legs[0]
	if !strings.Contains(l.Why, "none can be cut: no shortest cut unit on file") || strings.Contains(l.Why, "000001") || len(l.Try) != 1 {
		t.Errorf("%s, %q", l.Why, l.Try)
	}
}

var tries = struct{ mitres, radius, window, units, covers *regexp.Regexp }{
	regexp.MustCompile(`^(\d+) mitred bends? of (\S+?)°`),
	regexp.MustCompile(`^a radius of at least (\S+) m \(now`),
	regexp.MustCompile(`^a joint window of \S+ mm to (\S+) mm,`),
	regexp.MustCompile(`^units of (\S+) mm`),
	regexp.MustCompile(`^units of \S+ mm with covers of (\S+) mm,`),
}

func figure(re *regexp.Regexp, text string) (float64, bool) {
	f := re.FindStringSubmatch(text)
	var v float64
	if f != nil {
		fmt.Sscan(f[1], &v)
	}
	return v, f != nil
}

// Everything that is offered for a curve is put into the job, and the job can then be laid; a step less of it cannot.
func TestCurveTriesMakeItPossible(t *testing.T) {
	tried := map[string]int{}
	for i := range 30 {
		r := rand.New(rand.NewPCG(*curveSeed, uint64(i)))
		s := curveSupply()
		s.Joint.Gap.Value.Max += measure.Length(r.IntN(8)) * mm
		s.Unit.Outer.Value.Width = measure.Length(500+r.IntN(600)) * mm
		if r.IntN(2) == 0 {
			s.Cover = nil
		}
		before, after := measure.Length(9000+r.IntN(20_000))*mm, measure.Length(9000+r.IntN(20_000))*mm
		radius, turn := measure.Length(4000+r.IntN(80_000))*mm, 10+80*r.Float64()
		l := Make(curvedJob(s, before, after, radius, turn)).Legs[0]
		if l.Verdict != "impossible" || !strings.Contains(l.Why, "the curve of ") {
			continue
		}
		lays := func(what string, j job.Job) {
			t.Helper()
			tried[what]++
			for _, x := range Make(j).Legs {
				if x.Verdict != "found" {
					t.Fatalf("-curves %d, leg %d of radius %s, %s: leg %s is %s: %s\n%s", *curveSeed, i, radius, what, x.Name, x.Verdict, x.Why, strings.Join(l.Try, "\n"))
				}
			}
		}
		for _, text := range l.Try {
			changed := s
			if n, ok := figure(tries.mitres, text); ok {
				lays("mitres", mitredJob(s, before, after, radius, turn, int(n)))
			} else if v, ok := figure(tries.radius, text); ok {
				lays("radius", curvedJob(s, before, after, measure.FromMetres(v), turn))
			} else if v, ok := figure(tries.window, text); ok {
				changed.Joint.Gap.Value.Max = measure.FromMillimetres(v)
				lays("window", curvedJob(changed, before, after, radius, turn))
				changed.Joint.Gap.Value.Max -= mm
				if l := Make(curvedJob(changed, before, after, radius, turn)).Legs[0]; l.Verdict == "found" {
					t.Fatalf("-curves %d, leg %d: %q, and a millimetre less would do", *curveSeed, i, text)
				}
			} else if v, ok := figure(tries.units, text); ok {
				changed.Unit.Lengths = job.Known([]measure.Length{3000 * mm, measure.FromMillimetres(v)})
				if c, ok := figure(tries.covers, text); ok {
					own := *s.Cover
					own.Lengths = job.Known([]measure.Length{996 * mm, measure.FromMillimetres(c)})
					changed.Cover = &own
				}
				lays("units", curvedJob(changed, before, after, radius, turn))
			}
		}
	}
	t.Logf("-curves %d: %v", *curveSeed, tried)
	if len(tried) < 4 {
		t.Error("not everything was offered")
	}
}

// mitredJob walks the bends that stand for a curve: half a side, the sides, half a side.
func mitredJob(s job.Supply, before, after, radius measure.Length, turn float64, n int) job.Job {
	each := turn / float64(n)
	side := radius.Metres() * math.Tan(each/2*math.Pi/180)
	w := []string{fmt.Sprintf("%.9f m", before.Metres()+side)}
	for range n - 1 {
		w = append(w, fmt.Sprintf("right %.9f°", each), fmt.Sprintf("%.9f m", 2*side))
	}
	w = append(w, fmt.Sprintf("right %.9f°", each), fmt.Sprintf("%.9f m", after.Metres()+side))
	return job.Job{ID: "mitres", Supplies: []job.Supply{s}, Route: job.Route{Walk: w}}
}

// A part of a problem keeps what lies on it, moved.
func TestPartOfAProblem(t *testing.T) {
	p := layout.Problem{Length: 30_000 * mm, First: []measure.Length{1500 * mm},
		Zones:     []layout.Zone{{From: 1000 * mm, To: 2000 * mm}, {From: 21_000 * mm, To: 22_000 * mm}},
		Joints:    []layout.ForcedJoint{{At: 25_000 * mm}},
		Demands:   []layout.Demand{{From: 500 * mm, To: 900 * mm}, {From: 26_000 * mm, To: 27_000 * mm}},
		Stretches: []layout.Stretch{{To: 15_000 * mm}, {From: 15_000 * mm, To: 30_000 * mm}}}
	q := part(p, 20_000*mm, 30_000*mm, 700*mm, 0)
	if q.Length != 10_700*mm || len(q.First) != 0 || len(q.Zones) != 1 || q.Zones[0].From != 1700*mm || len(q.Joints) != 1 || q.Joints[0].At != 5700*mm ||
		len(q.Demands) != 1 || q.Demands[0].To != 7700*mm || len(q.Stretches) != 1 || q.Stretches[0].From != 0 || q.Stretches[0].To != q.Length {
		t.Errorf("%+v", q)
	}
}
