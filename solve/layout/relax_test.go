package layout

import (
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/tools/seed"
)

// sentence is one sentence of what could be tried, how its figures change a problem, and how the problem looks one step short
// of that; nil: nothing is claimed of one step less.
type sentence struct {
	pattern string
	change  func(p *Problem, figures []string, short nm) (claimsLeast bool)
}

func lengthIn(text string) nm {
	var v float64
	fmt.Sscan(text, &v)
	return mm(v)
}

var sentences = []sentence{
	{`^a unit of (\S+) mm with a cover of (\S+) mm,`, func(p *Problem, f []string, _ nm) bool {
		addCover(p, lengthIn(f[1]))
		addUnit(p, lengthIn(f[0]))
		return false
	}},
	{`^a unit of (\S+) mm,`, func(p *Problem, f []string, _ nm) bool { addUnit(p, lengthIn(f[0])); return false }},
	{`^a cover of (\S+) mm,`, func(p *Problem, f []string, short nm) bool { addCover(p, lengthIn(f[0])-short); return true }},
	{`^a bend of at most (\S+)°,`, func(p *Problem, f []string, short nm) bool {
		var turn float64
		fmt.Sscan(f[0], &turn)
		a := measure.FromDegrees(turn)/2 + measure.Angle(short/1_000_000)*sawStep
		for _, e := range []*End{&p.Start, &p.End} {
			if math.Abs(e.Tan) > math.Tan(a.Radians()) {
				e.Tan = math.Copysign(math.Tan(a.Radians()), e.Tan)
			}
		}
		return true
	}},
	{`^a cut unit of (\S+) mm,`, func(p *Problem, f []string, short nm) bool {
		for i := range p.Supplies {
			p.Supplies[i].ShortestCut = min(p.Supplies[i].ShortestCut, lengthIn(f[0])+short)
		}
		return false
	}},
	{`^a cut cover of (\S+) mm,`, func(p *Problem, f []string, _ nm) bool {
		for i := range p.Supplies {
			c := &p.Supplies[i].Covers
			c.ShortestCut = min(c.ShortestCut, max(lengthIn(f[0]), 0))
		}
		return false
	}},
	{`^a saw that takes a slice of (\S+) mm `, func(p *Problem, f []string, _ nm) bool {
		for i := range p.Supplies {
			p.Supplies[i].LeastSlice = min(p.Supplies[i].LeastSlice, lengthIn(f[0]))
		}
		return false
	}},
	{`^joints that may open to (\S+) mm,`, func(p *Problem, f []string, _ nm) bool {
		for i := range p.Supplies {
			p.Supplies[i].Gap.Max = max(p.Supplies[i].Gap.Max, lengthIn(f[0]))
		}
		for i := range p.Stretches {
			if g := &p.Stretches[i].Gap; g.Max > 0 {
				g.Max = max(g.Max, lengthIn(f[0]))
			}
		}
		return false
	}},
	{`^a piece without a factory end,`, func(p *Problem, _ []string, _ nm) bool {
		for i := range p.Supplies {
			p.Supplies[i].KeepFactoryEnd = false
		}
		return false
	}},
	{`^a leg of (\S+) mm `, func(p *Problem, f []string, _ nm) bool { p.Length = lengthIn(f[0]); return false }},
	{`^no joint from (\S+) mm to (\S+) mm.* ending at (\S+) mm instead`, func(p *Problem, f []string, short nm) bool {
		moveZone(p, lengthIn(f[0]), lengthIn(f[1]), lengthIn(f[0]), lengthIn(f[2])+short)
		return false
	}},
	{`^no joint from (\S+) mm to (\S+) mm.* beginning at (\S+) mm instead`, func(p *Problem, f []string, short nm) bool {
		moveZone(p, lengthIn(f[0]), lengthIn(f[1]), lengthIn(f[2])-short, lengthIn(f[1]))
		return false
	}},
}

func addUnit(p *Problem, l nm) {
	for i := range p.Supplies {
		if s := &p.Supplies[i]; !slices.ContainsFunc(s.Stocks, func(k Stock) bool { return k.Length == l }) {
			s.Stocks = append(slices.Clone(s.Stocks), Stock{Length: l})
		}
	}
}

func addCover(p *Problem, l nm) {
	for i := range p.Supplies {
		if c := &p.Supplies[i].Covers; len(c.Lengths) > 0 {
			c.Lengths = append(slices.Clone(c.Lengths), l)
		}
	}
}

func moveZone(p *Problem, from, to, newFrom, newTo nm) {
	p.Zones = slices.Clone(p.Zones)
	for i := range p.Zones {
		if p.Zones[i].From == from && p.Zones[i].To == to {
			p.Zones[i].From, p.Zones[i].To = newFrom, newTo
			return
		}
	}
}

var counts = regexp.MustCompile(`(\d+) units?, (\d+) cuts?, (\d+) cut covers?\)$`)

// checkTries applies every sentence that can be read back to the problem that it was offered for.
func checkTries(t *testing.T, p Problem, tries []string, read map[string]int) {
	t.Helper()
	for _, text := range tries {
		for _, o := range sentences {
			figures := regexp.MustCompile(o.pattern).FindStringSubmatch(text)
			if figures == nil {
				continue
			}
			read[o.pattern]++
			q := p
			q.Supplies = slices.Clone(p.Supplies)
			q.Stretches = slices.Clone(p.Stretches)
			least := o.change(&q, figures[1:], 0)
			s, err := Solve(q)
			if err != nil || s.Verdict != Found {
				t.Fatalf("%q does not make it possible: %v %s", text, err, s.Why)
			}
			var n Count
			fmt.Sscanf(strings.Join(counts.FindStringSubmatch(text)[1:], " "), "%d %d %d", &n.Units, &n.Cuts, &n.CutCovers)
			if n != s.Count {
				t.Fatalf("%q: it comes to %v", text, s.Count)
			}
			if least && len(p.Supplies) == 1 {
				q = p
				q.Supplies = slices.Clone(p.Supplies)
				o.change(&q, figures[1:], mm(1))
				if _, ok, _ := q.possible(); ok {
					t.Fatalf("%q: a step less would do", text)
				}
			}
			break
		}
	}
}

// What is offered for a leg with a mitre that cannot be made lets it be made, by no more than is needed.
func TestMitreTries(t *testing.T) {
	for _, c := range []struct {
		leg   string
		tries []string
	}{
		// W 900, 60° from square: h = 450·tan 60° = 779.423; unit 600 + 2h = 2158.8 of 2000, 2h ≤ 1400 at 57.264°
		{"12000 | stock 2000 | width 900 | nocover | mitre start 1.7320508075688772", []string{
			"a unit of 2159 mm, if the supplier makes it (now 2000 mm;",
			"a bend of at most 114.528°, its faces 57.264° from square (now 120°;",
			"the bend at the start split into 2 of 60°, with at least 1730 mm between two", // 2·(600 + 450·tan 30°) + 10 = 1729.6
		}},
		// cover of 640 on h = 320·tan 60° = 554.256: 300 + 2h = 1408.5 of 996; 2h ≤ 696 at 47.4002°
		{"12000 | coverwidth 640 | mitre end -1.7320508075688772", []string{
			"a cover of 1409 mm, if the supplier makes it (now 996 mm;",
			"a bend of at most 94.8°, its faces 47.4° from square (now 120°;",
			"the bend at the end split into 2 of 60°, with at least ",
		}},
		{"12000 | stock 2000 | width 900 | nocover | mitre start 1.7320508075688772 | mitre end 2.7474774194546216", []string{ // 60° and 70°
			"a unit of 3073 mm, if", // 600 + 900·tan 70° = 3072.7
			"a bend of at most 114.528°, its faces 57.264° from square (now 140°;",
			"the bend at the start split into 2 of 60° and the bend at the end split into 2 of 70°, with at least 1841 mm between two", // 2·(600 + 450·tan 35°) + 10 = 1840.2
		}},
		{"12000 | cmin 3001 | mitre start 1 | nocover", nil}, // nothing may be cut
	} {
		p := leg(t, c.leg)
		s := solved(t, p)
		read := map[string]int{}
		checkTries(t, p, s.Try, read)
		for _, want := range c.tries {
			if !slices.ContainsFunc(s.Try, func(try string) bool { return strings.HasPrefix(try, want) }) {
				t.Errorf("%s: %s\nnothing to try begins with %q:\n%s", c.leg, s.Why, want, strings.Join(s.Try, "\n"))
			}
		}
		if len(c.tries) > 0 && len(read) < 2 {
			t.Errorf("%s: only %v could be tried", c.leg, read)
		}
	}
}

// A bend that is split can be laid: the leg between two of its parts in the least length that is said, and the leg itself.
func TestSplitBendCanBeLaid(t *testing.T) {
	from := seed.Of(t)
	tried := 0
	for i := range 300 {
		r := rand.New(rand.NewPCG(from, uint64(i)))
		a := measure.Angle(40+r.IntN(45)) * measure.Degree
		p := leg(t, "30000 | width 900 | coverwidth 840")
		p.Start = End{Mitred: true, Tan: math.Tan(a.Radians())}
		s := solved(t, p)
		for _, text := range s.Try {
			f := regexp.MustCompile(`split into (\d+) of (\S+)°, with at least (\S+) mm`).FindStringSubmatch(text)
			if f == nil {
				continue
			}
			tried++
			var n, turn float64
			fmt.Sscan(f[1], &n)
			fmt.Sscan(f[2], &turn)
			if math.Abs(n*turn-2*a.Degrees()) > 0.001*n {
				t.Errorf("%v° in %v parts of %v°", 2*a.Degrees(), n, turn)
			}
			tan := math.Tan(turn / 2 * math.Pi / 180)
			q, between := p, p
			q.Start.Tan = tan
			between.Start, between.End, between.Length = End{Mitred: true, Tan: tan}, End{Mitred: true, Tan: -tan}, lengthIn(f[3])
			for _, q := range []Problem{q, between} {
				if s := solved(t, q); s.Verdict != Found {
					t.Fatalf("seed %d leg %d: %q: %s", from, i, text, s.Why)
				}
			}
			between.Length -= mm(1)
			if s := solved(t, between); s.Verdict == Found {
				t.Fatalf("seed %d leg %d: %q: 1 mm less would do", from, i, text)
			}
		}
	}
	t.Logf("seed %d: %d bends split", from, tried)
	if tried < 100 {
		t.Error("hardly a bend is split")
	}
}

// Whatever is offered for a random leg makes it possible, for what it says that it comes to.
func TestTriesMakeItPossible(t *testing.T) {
	from := seed.Of(t)
	read := map[string]int{}
	for i := range 1_500 {
		r := rand.New(rand.NewPCG(from, uint64(i)))
		p, tick := randomLeg(r)
		for l := range lengthsOf(&p) { // a tick being a whole millimetre, so that every figure is printed whole
			*l = *l / tick * 1_000_000
		}
		if s, err := Solve(p); err == nil && s.Verdict == Impossible {
			checkTries(t, p, s.Try, read)
		}
	}
	total := 0
	for _, n := range read {
		total += n
	}
	t.Logf("seed %d: %d sentences tried, %v", from, total, read)
	if total < 100 || len(read) < 5 {
		t.Error("hardly anything is offered")
	}
}
