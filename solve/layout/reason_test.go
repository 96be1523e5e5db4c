package layout

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

func TestReasons(t *testing.T) {
	for _, c := range []struct{ leg, why, try string }{
		{"500", "leg 500 mm is shorter than the shortest cut unit 600 mm", "a leg of 600 mm"}, // layout.md §9 case 7
		{"11000 | zone 4000..7001 the road", "3001 mm without a joint between 4000 mm and 7001 mm (the road); longest unit 3000 mm",
			"ending at 7000 mm instead of 7001 mm"}, // case 10
		{"11000 | zone 4000..5000 a road | zone 5005..7001 a drain", "3001 mm without a joint between 4000 mm and 7001 mm (a road and a drain)", "ending at"},
		{"1800 | mitre start 1 | mitre end 1 | coverwidth 0", "between two mitres has no factory end, and two need 1810 mm", "a piece without a factory end"}, // case 20
		{"1810 | mitre start 1 | mitre end 1", "the shortest that can be laid is 1827.656854 mm", "a cut cover of 295 mm"},
		{"3500 | cmin 2000", "the nearest that can be laid are 3000 mm and 4010 mm", "a leg of 4010 mm"},
		{"9000 | cmin 3001", "nothing can be cut, and no number of whole units comes to 9000 mm", "a leg of 9020 mm"},
		{"9030 | nocut 10..9010 the road", "this cannot be met: no cut unit from 10 mm to 9010 mm (the road)", "joints that may open to 15 mm"},
		{"20000 | joint 3500 | nocut 0..8000 road", "these cannot be met together: no cut unit from 0 mm to 8000 mm (road) and a joint at 3500 mm", "without this: a joint at 3500 mm"},
		{"9500 | first 100", "this cannot be met: the lengths of the first units", "without this"},
		{"12000 | mitre start 3 | kmin 400", "a cover seam would cross the mitre at the start: 400 mm on either wall need a cover of 2200 mm, longest 996 mm", ""},
		{"12000 | mitre end 6", "no unit is long enough for the mitre at the end: 600 mm on its shorter side need 4200 mm, longest unit 3000 mm", ""},
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
	from := seed()
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
