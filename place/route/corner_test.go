package route

import (
	"math"
	"testing"

	"trenchwright/base/measure"
)

// published.md 8.6 (closed form): w·tan(θ/2) for w = 0.5 m, and 3.16: ±0.25 m at 90° for a width of 0.5 m.
func TestMitreAsPublished(t *testing.T) {
	for _, c := range []struct{ deflection, metres float64 }{{30, .1340}, {45, .2071}, {90, .5000}, {-90, .5000}} {
		corner := Corner{measure.FromDegrees(c.deflection), 500 * measure.Millimetre}
		if got := corner.SidesDiffer().Metres(); math.Abs(got-c.metres) > 5e-5 {
			t.Errorf("sides at %v° differ by %v m, published %v", c.deflection, got, c.metres)
		}
		if got := 2 * corner.Outer(); (got - corner.SidesDiffer()).Abs() > 1 {
			t.Errorf("at %v°: outer and inner face %v nm apart, sides differ by %v nm", c.deflection, got, corner.SidesDiffer())
		}
	}
	if got := (Corner{90 * measure.Degree, 500 * measure.Millimetre}).Outer(); got != 250*measure.Millimetre {
		t.Errorf("outer face at 90° %v nm, want 250 mm", got)
	}
}

// The trade's figure for a pad below a mitre (design notes, computed): W/cos α = 849 mm for W 600 at 90°.
func TestPadBelowMitre(t *testing.T) {
	if got := (Corner{90 * measure.Degree, 600 * measure.Millimetre}).Face().Millimetres(); math.Abs(got-848.528) > 1e-3 {
		t.Errorf("face %v mm, want 600·√2 = 848.528", got)
	}
	if got := (Corner{90 * measure.Degree, 600 * measure.Millimetre}).SetBack(10 * measure.Millimetre).Millimetres(); math.Abs(got-7.071068) > 1e-6 {
		t.Errorf("set-back %v mm, want 5·√2", got)
	}
}
