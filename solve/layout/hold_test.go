package layout

import (
	"math"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

func TestCloserGoesWhereItCanBeReached(t *testing.T) {
	for _, c := range []struct{ name, leg, want, held string }{
		{"open end: cut last", "10000", "3000 3000 3000 c970 =", "unit 4, 970 mm by the plan"},
		{"not beside a fixed end", "10000 | fixed end", "3000 3000 c970 3000 =", "unit 3, 970 mm by the plan"},
		{"not beside either", "10000 | fixed start | fixed end", "3000 3000 c970 3000 =", "unit 3, 970 mm by the plan"},
		{"two cuts apart", "9620", "3000 c1000 3000 c2590 =", "unit 4, 2590 mm by the plan"},
		{"nowhere good", "3600 | fixed start | fixed end", "=", "although it lies beside a fixed end and it lies beside another cut unit"},
		{"nothing cut", "9020", "3000 3000 3000 =", "no unit is cut, so none can be held"},
	} {
		p := leg(t, c.leg)
		p.Hold = true
		s := solved(t, p)
		if !strings.Contains(shown(s), c.want) || !strings.Contains(s.Held, c.held) {
			t.Errorf("%s: %s, held %q\nwant %s, held %q", c.name, shown(s), s.Held, c.want, c.held)
		}
		if said := Check(p, s); len(said) > 0 {
			t.Errorf("%s: %v", c.name, said)
		}
	}
}

func TestWishedLengthsAreTaken(t *testing.T) {
	p := leg(t, "9620 | nocover")
	p.Prefer.Cuts = []measure.Length{mm(1234)}
	if s := solved(t, p); !strings.Contains(shown(s), "c1234") {
		t.Errorf("1234 was wished for: %s", shown(s))
	}
	p = leg(t, "9624.3 | nocover")
	p.Prefer.Step = mm(1)
	if s := solved(t, p); s.Units[1].Length%mm(1) != 0 {
		t.Errorf("the first cut is not in whole millimetres: %s", shown(s))
	}
}

// More clearance than is enough is not bought with a closer at the start; less than enough is.
func TestEnoughClearance(t *testing.T) {
	p := leg(t, "10000 | zone 2900..2950")
	if s := solved(t, p); shown(s) != "c970 3000 3000 3000 = 4 1 1" || s.Clearance.Least != mm(1030) || !s.Clearance.Best {
		t.Errorf("as much as can be: %s, %+v", shown(s), s.Clearance)
	}
	p.Clear = mm(40)
	if s := solved(t, p); shown(s) != "3000 3000 3000 c970 = 4 1 1" || s.Clearance.Least != mm(50) {
		t.Errorf("40 is enough: %s, %+v", shown(s), s.Clearance)
	}
	p.Clear, p.Drift = 0, Drift{Scatter: mm(3)} // one unit laid: 50 mm are 16 deviations
	s := solved(t, p)
	if shown(s) != "3000 3000 3000 c970 = 4 1 1" || math.Abs(s.Clearance.Deviations-50/(3*math.Sqrt(2950.0/3010))) > 0.5 {
		t.Errorf("3.29 deviations are enough: %s, %+v", shown(s), s.Clearance)
	}
	p.Drift.Scatter = mm(30)
	if s := solved(t, p); shown(s) != "c970 3000 3000 3000 = 4 1 1" {
		t.Errorf("50 mm are less than two deviations: %s, %+v", shown(s), s.Clearance)
	}
}

// A length stands once in a sentence of a metric job, to a hundredth of a millimetre; in feet the fraction has its exact inches beside it.
func TestLengthsAreSaidOnce(t *testing.T) {
	l := nm(1302_425_500)
	for want, p := range map[string]Problem{
		"1302.43 mm":            {Show: &measure.Format{Places: 1}},
		`4'-3 1/4" (51.277 in)`: {Show: &measure.Format{System: measure.Imperial}, Words: wording.Speech{Imperial: true}},
	} {
		if got := p.say(l); got != want {
			t.Errorf("%s, %s was expected", got, want)
		}
	}
}
