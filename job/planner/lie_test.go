package planner

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"trenchwright/base/measure"
)

// On two grades of 3 : 4 up and down, 4 m in plan are 5 m along the run, and its middle lies 3 m higher.
func TestLieOnTwoGrades(t *testing.T) {
	m := measure.Metre
	l := newLie([]knot{{level: 100 * m}, {chainage: 4 * m, level: 103 * m}, {chainage: 8 * m, level: 100 * m}})
	for _, c := range []struct{ chainage, along, level measure.Length }{
		{0, 0, 100 * m}, {4 * m, 5 * m, 103 * m}, {6 * m, 7500 * mm, 101_500 * mm}, {8 * m, 10 * m, 100 * m},
		{-4 * m, -5 * m, 97 * m}, {12 * m, 15 * m, 97 * m}, // beyond its ends the run goes on as it ends
	} {
		z, ok := l.level(c.chainage)
		if s := l.slope(c.chainage); s != c.along || z != c.level || !ok || l.chainage(s) != c.chainage {
			t.Errorf("chainage %s: %s along, level %s, back %s", c.chainage, s, z, l.chainage(s))
		}
	}
	if l.stretch(m) != 1.25 || l.rise() != 0 {
		t.Errorf("stretch %v, rise %s", l.stretch(m), l.rise())
	}
}

// There and back again is off by no more than a rounding, and a longer way in plan is never a shorter one on the slope.
func TestLieThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		knots := []knot{{level: measure.Length(rapid.Int64Range(-1e12, 1e12).Draw(t, "level"))}}
		for range rapid.IntRange(1, 8).Draw(t, "grades") {
			last := knots[len(knots)-1]
			run := rapid.Int64Range(1e6, 1e12).Draw(t, "run")
			rise := int64(float64(run) * rapid.Float64Range(-0.5, 0.5).Draw(t, "grade"))
			knots = append(knots, knot{chainage: last.chainage + measure.Length(run), level: last.level + measure.Length(rise)})
		}
		l := newLie(knots)
		whole := l[len(l)-1].chainage
		before := measure.Length(math.MinInt64)
		for k := range 20 {
			c := whole / 20 * measure.Length(k)
			s := l.slope(c)
			if back := l.chainage(s); (back - c).Abs() > 2 {
				t.Fatalf("%d nm, back %d nm", c, back)
			}
			if s < before || s < c {
				t.Fatalf("at %s: %s along, before it %s", c, s, before)
			}
			before = s
		}
	})
}
