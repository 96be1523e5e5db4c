package planner_test

import (
	"math"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job/planner"
)

// levelOf is what plan.json's row says of a level.
var levelOf = map[string]func(planner.Levels) *float64{
	"formation": func(l planner.Levels) *float64 { return l.Formation }, "bed": func(l planner.Levels) *float64 { return l.PadBase }, "pad": func(l planner.Levels) *float64 { return l.PadTop },
	"underside": func(l planner.Levels) *float64 { return l.Underside }, "invert": func(l planner.Levels) *float64 { return l.Invert }, "top": func(l planner.Levels) *float64 { return l.Wall }, "cover": func(l planner.Levels) *float64 { return l.Cover },
	"drain": func(l planner.Levels) *float64 { return l.Drain },
}

func rodOf(t *testing.T, a *planner.Answers, q planner.RodQuestion) planner.RodAnswer {
	t.Helper()
	r, err := a.Rod(q)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// A reading is the height of the instrument less the level in plan.json, at every joint and for every level.
func TestRodReadingsByHand(t *testing.T) {
	_, p, a := asked(t, "tram-depot")
	height, rod := 36200*measure.Millimetre, 2*measure.Metre
	for _, of := range planner.RodLevels() {
		r := rodOf(t, a, planner.RodQuestion{Height: &height, Rod: &rod, Of: of})
		if len(r.Readings) != len(p.SetOut) {
			t.Fatalf("%s: %d readings, %d places", of, len(r.Readings), len(p.SetOut))
		}
		unseen := 0
		for k, x := range r.Readings {
			want := measure.FromMetres(*levelOf[of](*p.SetOut[k].Levels))
			for side := range 2 { // no unit of this job has a crossfall
				if measure.Length(x.Readings[side]) != height-want {
					t.Errorf("%s at %s: %v, by hand %v", of, x.Place, measure.Length(x.Readings[side]), height-want)
				}
			}
			if b := p.SetOut[k].Levels.Before; b != nil {
				z := measure.FromMetres(*levelOf[of](planner.Levels{Cover: b.Cover, Wall: b.Wall, Underside: b.Underside, PadTop: b.PadTop, PadBase: b.PadBase, Formation: b.Formation, Invert: b.Invert}))
				if (z != want) != (x.Before != nil) || x.Before != nil && measure.Length(*x.Before) != height-z {
					t.Errorf("%s at %s: %v before the joint, by hand %v", of, x.Place, x.Before, height-z)
				}
			} else if x.Before != nil {
				t.Errorf("%s at %s: %v before the joint", of, x.Place, x.Before)
			}
			if seen := height-want >= 0 && height-want <= rod; seen != x.Seen || seen != (x.Why == "") {
				t.Errorf("%s at %s: seen %v, %q", of, x.Place, x.Seen, x.Why)
			}
			if !x.Seen {
				unseen++
			}
		}
		if (unseen > 0) != (len(r.Setups) > 0) {
			t.Errorf("%s: %d are not seen, %d places for the instrument", of, unseen, len(r.Setups))
		}
		holdSetups(t, of, r, rod)
	}
}

// holdSetups holds that every place is read from its place of the instrument, and that fewer do not do: how many are needed is
// counted apart, over all ways to part the places.
func holdSetups(t *testing.T, of string, r planner.RodAnswer, rod measure.Length) {
	t.Helper()
	k := 0
	for _, s := range r.Setups {
		if r.Readings[k].Place != s.From {
			t.Fatalf("%s: a place begins at %s, %s was expected", of, s.From, r.Readings[k].Place)
		}
		for ; ; k++ {
			z := r.Readings[k].Levels[0]
			if s.Lowest < z-1e-9 || *s.Highest > z+rod.Metres()+1e-9 || s.Lowest > *s.Highest {
				t.Errorf("%s: %s at %f cannot be read from %f to %f", of, r.Readings[k].Place, z, s.Lowest, *s.Highest)
			}
			if r.Readings[k].Place == s.To {
				k++
				break
			}
		}
	}
	if len(r.Setups) == 0 {
		return
	}
	n := len(r.Readings)
	least := make([]int, n+1)
	for i := 1; i <= n; i++ {
		least[i] = n + 1
		low, high := math.Inf(1), math.Inf(-1)
		for j := i; j > 0; j-- {
			z := r.Readings[j-1].Levels[0]
			if low, high = min(low, z), max(high, z); high-low > rod.Metres() {
				break
			}
			least[i] = min(least[i], least[j-1]+1)
		}
	}
	if k != n || least[n] != len(r.Setups) {
		t.Errorf("%s: %d of %d places, %d times set up, %d would do", of, k, n, len(r.Setups), least[n])
	}
}

// On a grade the one reading is right at every joint: the beam that rises by the dial, less the level in plan.json.
func TestLaserReadingServesItsGrade(t *testing.T) {
	_, p, a := asked(t, "tram-depot")
	rows := map[string]planner.SetOut{}
	for _, r := range p.SetOut {
		rows[r.Leg+r.Place] = r
	}
	height, beam := 40*measure.Metre, 1250*measure.Millimetre
	for _, q := range []planner.RodQuestion{{Height: &height}, {Beam: &beam}, {Beam: &beam, Of: "formation"}, {Height: &height, Of: "cover"}} {
		r := rodOf(t, a, q)
		served := map[string]bool{}
		for _, g := range r.Grades {
			laser := rows[g.Leg+g.Laser]
			if g.Laser != g.From && g.Laser != g.To {
				t.Errorf("%s to %s: the laser stands at %s", g.From, g.To, g.Laser)
			}
			if q.Beam != nil && measure.Length(g.Reading) != beam {
				t.Errorf("%s: %v on the rod, the beam runs %v above", g.From, measure.Length(g.Reading), beam)
			}
			if q.Height != nil && math.Abs(*g.Beam-40) > 1e-12 {
				t.Errorf("%s: the beam stands at %f", g.From, *g.Beam)
			}
			for _, s := range p.SetOut {
				if s.Leg != g.Leg || s.Chainage < rows[g.Leg+g.From].Chainage || s.Chainage > rows[g.Leg+g.To].Chainage {
					continue
				}
				run := measure.Length(s.Chainage - laser.Chainage).Metres()
				if !g.Up {
					run = -run
				}
				level := *levelOf[r.Of](*s.Levels)
				if b := s.Levels.Before; b != nil && s.Place == g.To { // the stretch ends under the unit before
					level = *levelOf[r.Of](planner.Levels{Formation: b.Formation, PadTop: b.PadTop, Cover: b.Cover})
				}
				want := *g.Beam + run*percent(t, g.Dial) - level
				if math.Abs(want-measure.Length(g.Reading).Metres()) > math.Abs(measure.Length(g.Worst).Metres())+1e-8 {
					t.Errorf("%s, %s: the rod shows %.9f, told is %.9f, off by at most %.9f", g.Leg, s.Place, want, measure.Length(g.Reading).Metres(), measure.Length(g.Worst).Metres())
				}
				served[g.Leg+s.Place] = true
			}
		}
		if len(served) < len(p.SetOut) {
			t.Errorf("%s: %d of %d joints lie on a grade", r.Of, len(served), len(p.SetOut))
		}
	}
}

// A laser whose plane slopes as the run does shows one reading all along a grade of a straight leg.
func TestSlopingPlane(t *testing.T) {
	_, p, a := asked(t, "tram-depot")
	held := 0
	for _, g := range p.Grades {
		if g.Leg != "B" {
			continue
		}
		s, err := a.Find("B1", "B")
		if err != nil {
			t.Fatal(err)
		}
		slope, err := measure.ParseGrade(g.Grade)
		if err != nil {
			t.Fatal(err)
		}
		height := 37 * measure.Metre
		r := rodOf(t, a, planner.RodQuestion{Height: &height, Slope: &slope.Value, At: s, Leg: "B", Of: "top"})
		var on []planner.RodAt // the levels at the mitres are those in their middle
		for i, x := range r.Readings[1 : len(r.Readings)-1] {
			if len(on) > 0 || x.Place == g.From || i == 0 && r.Readings[0].Place == g.From {
				on = append(on, x)
			}
			if x.Place == g.To {
				break
			}
		}
		held += max(len(on)-1, 0)
		for _, x := range on {
			if off := measure.Length(x.Readings[0] - on[0].Readings[0]).Abs(); off > measure.Micrometre {
				t.Errorf("%s: %v, at %s %v", x.Place, measure.Length(x.Readings[0]), on[0].Place, measure.Length(on[0].Readings[0]))
			}
		}
	}
	if held < 10 {
		t.Errorf("%d joints are held against the first of their grade", held)
	}
}

// A peg says cut or fill by its top less the level in plan.json, and stands square to the line.
func TestPegsByHand(t *testing.T) {
	_, p, a := asked(t, "tram-depot")
	for _, row := range p.SetOut[:20] {
		s, err := a.Find(row.Place, row.Leg)
		if err != nil {
			t.Fatal(err)
		}
		top := 35700 * measure.Millimetre
		r := rodOf(t, a, planner.RodQuestion{Pegs: []planner.PegAt{{Spot: s, Level: top}}, Offset: -1500 * measure.Millimetre})
		g := r.Pegs[0]
		if len(g.Marks) != 8 || g.Side != "left" {
			t.Fatalf("%+v", g)
		}
		for _, m := range g.Marks {
			want := row.Levels.Finished
			if of := levelOf[m.What]; of != nil {
				want = of(*row.Levels)
			}
			d := top - measure.FromMetres(*want)
			way, arrow := "cut", "↓"
			if d < 0 {
				way, arrow = "fill", "↑"
			}
			if measure.Length(m.Amount) != d.Abs() || m.Way != way || m.Arrow != arrow {
				t.Errorf("%s, %s: %s %s %v; by hand %v", row.Place, m.What, m.Arrow, m.Way, measure.Length(m.Amount), d)
			}
		}
		// left of the bearing, on the grid: 1.5 m on the ground are 1.49958 m there
		sin, cos := math.Sincos(row.Bearing * math.Pi / 180)
		e, n := row.E-1.5*0.99972*cos, row.N+1.5*0.99972*sin
		if math.Hypot(e-g.E, n-g.N) > 1e-8 {
			t.Errorf("%s: the peg stands at %f %f, by hand %f %f", row.Place, g.E, g.N, e, n)
		}
	}
}

func TestRodRefuses(t *testing.T) {
	_, _, a := asked(t, "tram-depot")
	height := 36 * measure.Metre
	for _, c := range []struct {
		q    planner.RodQuestion
		want string
	}{{planner.RodQuestion{Height: &height, Of: "kerb"}, "there is formation, bed, pad, underside, invert, top, cover"}, {planner.RodQuestion{Height: &height, Leg: "Q"}, "there is no leg Q; the legs are A"}} {
		if _, err := a.Rod(c.q); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v", err)
		}
	}
	r := rodOf(t, unsurveyed(t), planner.RodQuestion{Height: &height, Of: "formation"})
	if len(r.Readings) != 0 || !strings.Contains(strings.Join(r.NotChecked, "\n"), "NOT CHECKED: no level of the formation on leg A on file") {
		t.Errorf("%d readings; %v", len(r.Readings), r.NotChecked)
	}
}
