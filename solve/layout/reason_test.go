package layout

import (
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"trenchwright/tools/seed"
)

func TestReasons(t *testing.T) {
	for _, c := range []struct{ leg, why, try string }{
		{"500", "leg 500 mm is shorter than the shortest cut unit 600 mm", "a leg of 600 mm"}, // layout.md §9 case 7
		{"11000 | zone 4000..7001 the road", "3001 mm without a joint between 4000 mm and 7001 mm (the road); longest unit 3000 mm",
			"ending at 7000 mm instead of 7001 mm"}, // case 10
		{"11000 | zone 4000..5000 a road | zone 5005..7001 a drain", "3001 mm without a joint between 4000 mm and 7001 mm (a road and a drain)", "ending at"},
		{"3048 | zone 304.8..3048", "3048 mm without a joint between 0 mm and 3048 mm; a joint before 304.8 mm would leave a first unit of at most 294.8 mm, shortest 600 mm; longest unit 3000 mm", "beginning at 610"},
		{"3048 | zone 0..2743.2", "3048 mm without a joint between 0 mm and 3048 mm; a joint behind 2743.2 mm would leave a last unit of at most 294.8 mm, shortest 600 mm; longest unit 3000 mm", "ending at 2438"},
		{"3048 | zone 304.8..2743.2", "a joint before 304.8 mm would leave a first unit of at most 294.8 mm, shortest 600 mm; a joint behind 2743.2 mm would leave a last unit of at most 294.8 mm", "instead of"},
		{"3048 | zone 0..3048 the hall", "3048 mm without a joint between 0 mm and 3048 mm (the hall); longest unit 3000 mm", "ending at 2438 mm"},
		{"9020 | zone 5900..8700", "3120 mm without a joint between 5900 mm and 9020 mm; a joint behind 8700 mm would leave a last unit of at most 310 mm, shortest 600 mm; longest unit 3000 mm", "beginning at 6020"},
		{"9020 | zone 300..3200", "3200 mm without a joint between 0 mm and 3200 mm; a joint before 300 mm would leave a first unit of at most 290 mm, shortest 600 mm; longest unit 3000 mm", "ending at 3000"},
		{"9020 | zone 0..3001", "3001 mm without a joint between 0 mm and 3001 mm; longest unit 3000 mm", "ending at 3000 mm"},
		{"9020 | zone 6019..9020", "3001 mm without a joint between 6019 mm and 9020 mm; longest unit 3000 mm", "beginning at 6020 mm"},
		{"9020 | mitre start 1 | zone 890..2800 | nocover", "2800 mm without a joint between 0 mm and 2800 mm; a joint before 890 mm would leave a first unit of at most 880 mm, shortest 900 mm; longest unit there 2700 mm", "instead of"},
		{"2998 | zone 600..2400 | nocover", "one unit of 2998 mm has to reach from 0 mm to 2998 mm; the nearest that can be made are 2995 mm and 3000 mm", "a saw that takes a slice of 2 mm"},
		{"5998 | zone 0..2997 a wall | zone 3007..5998", "one unit of 2997 mm has to reach from 0 mm to 2997 mm (a wall); the nearest that can be made are 2995 mm and 3000 mm", "a saw that takes a slice of 3 mm"},
		{"30000 | nocover | curve 0..10000 | curve 10000..20000 r 25000 max 152 | curve 20000..30000",
			"no unit longer than 152 mm from 10000 mm to 20000 mm, a curve of 25 m radius; the shortest that can be made is 600 mm", "a cut unit of 152 mm"},
		{"30000 | nocover | curve 0..10000 | curve 10000..11570 r 1000 max 152 | curve 11570..30000", // longer units are no chords there
			"no unit longer than 152 mm from 10000 mm to 11570 mm, a curve of 1 m radius; the shortest that can be made is 600 mm", "a cut unit of 152 mm"},
		{"30000 | nocover | zone 12000..13000 a pipe | curve 0..10000 | curve 10000..20000 r 25000 max 900 | curve 20000..30000",
			"1000 mm without a joint between 12000 mm and 13000 mm (a pipe); longest unit there 900 mm", "ending at 12900 mm"},
		{"30000 | nocover | cmin 880 | zone 12000..12890 a pipe | zone 12900..13000 a drain | zone 13750..13850 a duct | curve 0..10000 | curve 10000..20000 r 250000 max 900 | curve 20000..30000",
			"one unit of 100 mm to 840 mm has to reach from 12900 mm to 13000 mm (a drain); the nearest that can be made is 880 mm", "instead of 12890 mm"},
		{"1800 | mitre start 1 | mitre end 1 | coverwidth 0", "between two mitres has no factory end, and two need 1810 mm", "a piece without a factory end"}, // case 20
		{"1810 | mitre start 1 | mitre end 1", "the shortest that can be laid is 1827.656854 mm", "a cut cover of 295 mm"},
		{"3500 | cmin 2000", "the nearest that can be laid are 3000 mm and 4010 mm", "a leg of 4010 mm"},
		{"9000 | cmin 3001", "nothing can be cut, and no number of whole units comes to 9000 mm", "a leg of 9020 mm"},
		{"9030 | nocut 10..9010 the road", "this cannot be met: no cut unit from 10 mm to 9010 mm (the road)", "joints that may open to 15 mm"},
		{"20000 | joint 3500 | nocut 0..8000 road", "these cannot be met together: no cut unit from 0 mm to 8000 mm (road) and a joint at 3500 mm", "without this: a joint at 3500 mm"},
		{"9500 | first 100", "this cannot be met: the lengths of the first units", "without this"},
		{"12000 | mitre start 3 | kmin 400", "a cover seam would cross the mitre at the start: 400 mm on either wall need a cover of 2200 mm, longest 996 mm", "a cover of 2200 mm, if the supplier makes it"},
		{"12000 | mitre end 6", "no unit is long enough for the mitre at the end: 600 mm on its shorter side need 4200 mm, longest unit 3000 mm", "a unit of 4904 mm with a cover of 3900 mm, if"},
	} {
		p := leg(t, c.leg)
		s := solved(t, p)
		if s.Verdict != Impossible || !strings.Contains(s.Why, c.why) {
			t.Errorf("%s\n got %s\nwant %s", c.leg, shown(s), c.why)
		}
		if !strings.Contains(strings.Join(s.Try, "\n"), c.try) {
			t.Errorf("%s: nothing to try has %q in it:\n%s", c.leg, c.try, strings.Join(s.Try, "\n"))
		}
		if said := Check(p, s); len(said) > 0 {
			t.Errorf("%s: %v", c.leg, said)
		}
	}
}

// Sentences use the words of the job: no word of the other side of the ocean is left in them.
func TestReasonsInUSWords(t *testing.T) {
	for _, c := range []struct{ leg, want string }{
		{"500", "shorter than the shortest cut trench section 600 mm"},
		{"3048 | zone 304.8..3048", "would leave a first trench section of at most 294.8 mm, shortest 600 mm; longest trench section 3000 mm"},
		{"12000 | mitre end 6", "no trench section is long enough for the miter at the end"},
		{"12000 | mitre start 3 | kmin 400", "a cover seam would cross the miter"},
		{"1800 | mitre start 1 | mitre end 1 | coverwidth 0", "between two miters has no factory end"},
		{"9000 | cmin 3001", "no number of whole trench sections comes to"},
		{"9030 | nocut 10..9010 the road", "no cut trench section from 10 mm"},
		{"30000 | nocover | curve 0..10000 | curve 10000..20000 r 25000 max 152 | curve 20000..30000", "no trench section longer than 152 mm"},
		{"9020 | zone 2500..3600", "it would come to 3 trench sections"},
	} {
		p := leg(t, c.leg)
		p.Words.US, p.Hold = true, true
		s := solved(t, p)
		said := strings.Join(append(s.Try, s.Why, s.Held), "\n")
		if !strings.Contains(said, c.want) {
			t.Errorf("%s: nothing has %q in it:\n%s", c.leg, c.want, said)
		}
		if foreign := regexp.MustCompile(`\b(units?|mitre\w*|closers?|chainage)\b`).FindString(said); foreign != "" {
			t.Errorf("%s: %q in\n%s", c.leg, foreign, said)
		}
	}
}

func TestWhyTwoAreCut(t *testing.T) {
	for _, c := range []struct{ leg, why string }{
		{"9620", "one closing piece would be 590 mm, shortest 600 mm, so two are cut"}, // layout.md §9 case 4
		{"2998", "one closing piece would be 2998 mm, and the saw cannot take less than 5 mm off 3000 mm, so two are cut"},
		{"9020 | zone 2500..3600", "without zones, crossings and what else is asked for along the leg it would come to 3 units, 0 cuts and 0 cut covers"},
		{"10000", ""},
		{"9020 | mitre start 1 | mitre end 1", ""},
	} {
		if s := solved(t, leg(t, c.leg)); s.Why != c.why {
			t.Errorf("%s: %q, want %q", c.leg, s.Why, c.why)
		}
	}
}

// What is said to conflict cannot be met, and can as soon as any one of it is left out.
func TestConflictIsSmallest(t *testing.T) {
	from := seed.Of(t)
	tried, sizes := 0, [5]int{}
	for i := range 600 {
		p, tick := randomLeg(rand.New(rand.NewPCG(from, uint64(i))))
		if _, ok, _ := p.possible(); ok {
			continue
		}
		c := p.conflict()
		if len(c) == 0 {
			continue
		}
		tried++
		sizes[min(len(c), 4)]++
		var demands, others []wish
		for _, w := range p.wishes() {
			if w.kind == demandWish {
				demands = append(demands, w)
			}
		}
		for _, w := range c {
			if w.kind != demandWish {
				others = append(others, w)
			}
		}
		if p.meets(slices.Concat(others, demands)) {
			t.Fatalf("seed %d leg %d: %v can be met\n%s", from, i, c, inTicks(p, tick))
		}
		for _, w := range others {
			if !p.meets(slices.Concat(leftOut(others, w), demands)) {
				t.Fatalf("seed %d leg %d: %v is not needed\n%s", from, i, w, inTicks(p, tick))
			}
		}
	}
	t.Logf("seed %d: %d conflicts, by size %v", from, tried, sizes[1:])
}

// What is said of a stretch, a curve, the ends or the sum of lengths is never said of a leg that can be laid.
func TestReasonsHold(t *testing.T) {
	from := seed.Of(t)
	said := map[string]int{}
	for i := range 2_500 {
		r := rand.New(rand.NewPCG(from, uint64(i)))
		p, tick := randomLeg(r)
		if i%3 == 0 {
			p.Stretches = randomStretches(r, p)
		}
		if i%4 == 0 { // zones that touch the ends
			p.Zones = append(p.Zones, Zone{-tick, nm(r.IntN(25)) * tick, "the start"}, Zone{p.Length - nm(r.IntN(25))*tick, p.Length, "the end"})
		}
		if p.faults() != nil {
			continue
		}
		_, ok, _ := p.possible()
		g := newGround(&p, false)
		whys := map[string]string{"curve": p.curveReason(), "span": g.spanReason(), "sum": g.sumReason(), "short": p.shortReason()}
		named := false
		for kind, why := range whys {
			if why == "" {
				continue
			}
			named = true
			said[kind]++
			if ok {
				t.Fatalf("seed %d leg %d: %s, and it can be laid\n%s", from, i, why, inTicks(p, tick))
			}
		}
		if !ok && !named {
			said["none of them"]++
		}
	}
	t.Logf("seed %d: said of impossible legs %v", from, said)
	if said["span"] == 0 || said["curve"] == 0 {
		t.Error("the generator has gone astray")
	}
}
