package local

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/wording"
	"trenchwright/place/route"
)

// drawn is a grid and a position within some kilometres of its middle.
func drawn(r *rand.Rand, kilometres float64) (Grid, Position) {
	middle := Position{160*r.Float64() - 80, 360*r.Float64() - 180}
	g, err := New(middle, 0)
	if err != nil {
		panic(err)
	}
	d := kilometres / 111
	lat := middle.Latitude + d*(2*r.Float64()-1)
	lon := middle.Longitude + d*(2*r.Float64()-1)/math.Cos(lat*math.Pi/180)
	return g, Position{lat, lon}
}

func TestThereAndBack(t *testing.T) {
	const seed = 1
	r := rand.New(rand.NewPCG(seed, 0))
	worst := 0.0
	for range 20_000 {
		g, p := drawn(r, 700)
		on, err := g.To(p)
		if err != nil {
			continue
		}
		back, err := g.From(on)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		north := (back.Latitude - p.Latitude) * 111_000
		across := east(p.Longitude, back.Longitude) * 111_000 * math.Cos(p.Latitude*math.Pi/180)
		worst = max(worst, math.Hypot(north, across))
	}
	if worst > 1e-6 {
		t.Errorf("there and back misses by %v m", worst)
	}
	t.Logf("there and back within %.1e m", worst)
}

// Against PROJ, an outside program (Debian's proj-bin).
func TestAgainstProj(t *testing.T) {
	if _, err := exec.LookPath("proj"); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("proj is not installed: tools/packages proj-bin")
		}
		t.Skip("SKIPPED: proj is not installed: tools/packages proj-bin")
	}
	const seed = 2
	r := rand.New(rand.NewPCG(seed, 0))
	worst, points := 0.0, 0
	for _, kilometres := range []float64{1, 30, 300, 700} {
		for range 12 {
			g, _ := drawn(r, kilometres)
			var ask bytes.Buffer
			var ours []route.Point
			for range 60 {
				d := kilometres / 111
				p := Position{g.middle.Latitude + d*(2*r.Float64()-1), 0}
				p.Longitude = g.middle.Longitude + d*(2*r.Float64()-1)/math.Cos(p.Latitude*math.Pi/180)
				if on, err := g.To(p); err == nil {
					ours = append(ours, on)
					fmt.Fprintf(&ask, "%.15f %.15f\n", p.Longitude, p.Latitude)
				}
			}
			cmd := exec.Command("proj", "-f", "%.9f", "+proj=tmerc", "+ellps=WGS84", "+k_0=1", fmt.Sprintf("+lat_0=%.15f", g.middle.Latitude), fmt.Sprintf("+lon_0=%.15f", g.middle.Longitude))
			cmd.Stdin = &ask
			out, err := cmd.Output()
			if err != nil {
				t.Fatal(err)
			}
			lines := strings.Split(strings.TrimSpace(string(out)), "\n")
			if len(lines) != len(ours) {
				t.Fatalf("%d answers to %d positions", len(lines), len(ours))
			}
			for i, line := range lines {
				var e, north float64
				if _, err := fmt.Sscan(line, &e, &north); err != nil {
					t.Fatalf("%q: %v", line, err)
				}
				worst = max(worst, math.Hypot(e-ours[i].E, north-ours[i].N))
				points++
			}
		}
	}
	if worst > 1e-4 {
		t.Errorf("seed %d: %v m apart", seed, worst)
	}
	t.Logf("%d positions within %.1e m of proj", points, worst)
}

// At the middle the grid is the ground: a short way north, east or across is as long as it is on the ellipsoid, at the
// height of the job.
func TestFactorOneAtTheMiddle(t *testing.T) {
	for _, height := range []float64{0, 800, -400} {
		for _, lat := range []float64{-63, 0, 12, 51.5, 80} {
			g, err := New(Position{lat, 25}, height)
			if err != nil {
				t.Fatal(err)
			}
			sin := math.Sin(lat * math.Pi / 180)
			w := 1 - e2*sin*sin
			meridian, across := axis*(1-e2)/(w*math.Sqrt(w)), axis/math.Sqrt(w)
			const step = 1e-4 // degrees, some 11 m
			a, _ := g.To(Position{lat - step, 25})
			b, _ := g.To(Position{lat + step, 25})
			c, _ := g.To(Position{lat, 25 + step})
			scale := 1 + height/g.radius
			if got, want := b.N-a.N, 2*radians(step)*meridian*scale; math.Abs(got-want) > 1e-7 {
				t.Errorf("latitude %v: %v m north, want %v", lat, got, want)
			}
			if got, want := c.E, radians(step)*across*math.Cos(lat*math.Pi/180)*scale; math.Abs(got-want) > 1e-7 {
				t.Errorf("latitude %v: %v m east, want %v", lat, got, want)
			}
			if o, _ := g.To(Position{lat, 25}); math.Hypot(o.E, o.N) > 1e-9 {
				t.Errorf("the middle lies at %v", o)
			}
		}
	}
}

// What a leg errs by: the closed form against many short steps, each with the factor that two near points of the grid
// have.
func TestErrorOfALeg(t *testing.T) {
	g, err := New(Position{52, 13}, 0)
	if err != nil {
		t.Fatal(err)
	}
	sinh1 := func(e float64) float64 {
		return 1 + e*e/(2*g.radius*g.radius) + e*e*e*e/(24*g.radius*g.radius*g.radius*g.radius)
	}
	for _, l := range [][2]route.Point{{{E: -5000}, {E: 5000}}, {{E: 20_000, N: 3000}, {E: 31_000, N: -4000}}, {{E: 100_000}, {E: 100_000, N: 500}}} {
		const steps = 1000
		slow := 0.0
		for k := range steps {
			e := l[0].E + (l[1].E-l[0].E)*(float64(k)+0.5)/steps
			slow += (sinh1(e) - 1) * l[0].Distance(l[1]) / steps
		}
		if got := g.Error(l[0], l[1]); math.Abs(got-slow) > 1e-4*slow+1e-9 {
			t.Errorf("%v: %v, by steps %v", l, got, slow)
		}
	}
	longest := g.Longest(Limit)
	if got := g.Error(route.Point{E: -longest / 2}, route.Point{E: longest / 2}); math.Abs(got-Limit) > 1e-12 {
		t.Errorf("%v m err by %v", longest, got)
	}
	if longest < 9900 || longest > 10_000 {
		t.Errorf("1 mm is reached at %v m", longest)
	}
	if _, told := g.Leg("A", []route.Point{{E: -4900}, {E: 4900}}, wording.Speech{}); told {
		t.Error("9.8 km are told of")
	}
	f, told := g.Leg("A", []route.Point{{E: -5000}, {E: 5100}, {E: 30_000}}, wording.Speech{})
	// By hand: 10,100·25.51e6/6R² + 24,900·1,079.01e6/6R² with R 6,380.6 km = 1.06 mm + 110.0 mm.
	if !told || f.Value != "0.111 m" {
		t.Errorf("%+v", f)
	}
	for _, f := range []finding.Finding{f, g.NoHeight(finding.Where{Path: "coordinates"})} {
		for _, wrong := range finding.Speech(f) {
			t.Errorf("%s: %s", f.Text, wrong)
		}
	}
}

func TestRefused(t *testing.T) {
	nan := math.NaN()
	for _, m := range []Position{{85, 0}, {-91, 0}, {0, 400}, {nan, 0}, {0, nan}} {
		if _, err := New(m, 0); err == nil {
			t.Errorf("a grid round %v", m)
		}
	}
	if _, err := New(Position{}, nan); err == nil {
		t.Error("a grid at no height")
	}
	g, _ := New(Position{52, 13}, 0)
	for _, p := range []Position{{0, 13}, {52, -167}, {52, 100}, {nan, 0}, {91, 13}, {-52, 13}} {
		if on, err := g.To(p); err == nil {
			t.Errorf("%v lies at %v", p, on)
		}
	}
	for _, p := range []route.Point{{E: 2e6}, {N: nan}} {
		if _, err := g.From(p); err == nil {
			t.Errorf("%v has a position", p)
		}
	}
	if _, err := (Grid{}).To(Position{}); err == nil {
		t.Error("a grid without a middle")
	}
	if _, err := Middle(nil); err == nil {
		t.Error("a middle of nothing")
	}
	if _, err := Middle([]Position{{nan, 0}}); err == nil {
		t.Error("a middle of no number")
	}
	m, err := Middle([]Position{{10, 179}, {12, -179}, {11, 178}})
	if err != nil || m != (Position{11, 179.5}) {
		t.Errorf("across the date line: %v, %v", m, err)
	}
}

// A grid called by its name is the same grid, to the last bit; other names are none.
func TestNames(t *testing.T) {
	const seed = 3
	r := rand.New(rand.NewPCG(seed, 0))
	for range 1000 {
		g, err := New(Position{math.Round(160e7*r.Float64()-80e7) / 1e7, math.Round(360e7*r.Float64()-180e7) / 1e7}, math.Round(4e3*r.Float64()-500)/10)
		if err != nil {
			t.Fatal(err)
		}
		if back, ok := Named(" " + g.Name()); !ok || back != g {
			t.Fatalf("seed %d: %s: %v, want %v", seed, g.Name(), back, g)
		}
	}
	for _, text := range []string{"", "site grid", "EPSG 4326", "local transverse Mercator on WGS 84, factor 1 at latitude 99, longitude 1, height 0 m",
		"local transverse Mercator on WGS 84, factor 1 at latitude NaN, longitude 1, height 0 m", "local transverse Mercator on WGS 84, factor 1 at latitude 1, longitude 1, height 99999 m"} {
		if g, ok := Named(text); ok {
			t.Errorf("%q is taken for %v", text, g)
		}
	}
}
