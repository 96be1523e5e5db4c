package route

import (
	"math"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/tools/published"
)

// w·tan(θ/2), and half of it to each side.
func TestMitreAsPublished(t *testing.T) {
	published.Hold(t, "corner.mitre", func(g published.Given) []float64 {
		corner := Corner{measure.FromDegrees(g.N(0)), measure.FromMetres(g.N(1))}
		if got := 2 * corner.Outer(); (got - corner.SidesDiffer()).Abs() > 1 {
			t.Errorf("at %s°: outer and inner face %v nm apart, sides differ by %v nm", g[0], got, corner.SidesDiffer())
		}
		return []float64{corner.SidesDiffer().Metres()}
	})
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
