package route

import (
	"fmt"
	"math"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// LeastSkew is the flattest angle between a run and what crosses it that is still a crossing: 5°. Below it the two run
// beside each other. Common practice, no source.
const LeastSkew = 5 * measure.Degree

// JointFree is the length of run that a crossing keeps free of joints: (path + 2·margin)/sin φ + W/tan φ, with φ the
// angle between the run and the axis of what crosses it (90°: square), path the width that is swept square to that
// axis, margin what is kept on either side, and W the width of the unit, whose two walls meet the path at different
// chainages.
func JointFree(path, margin, width measure.Length, skew measure.Angle) (measure.Length, error) {
	φ := math.Abs(skew.Radians())
	switch {
	case path < 0 || margin < 0 || width < 0:
		return 0, Refusals{refuse("crossing-negative", -1, "a crossing has a negative width: path %s, margin %s, %s %s",
			path, margin, wording.Unit, width)}
	case path.Metres()+2*margin.Metres()+width.Metres() > Reach:
		return 0, Refusals{refuse("crossing-wide", -1, "a crossing is wider than %.0f km", Reach/1000)}
	case φ < LeastSkew.Radians() || φ > math.Pi-LeastSkew.Radians():
		r := refuse("crossing-flat", -1, "a crossing at %.2f° to the run runs beside it more than across", skew.Degrees())
		return 0, Refusals{r.against(fmt.Sprintf("%.0f°", LeastSkew.Degrees()), fmt.Sprintf("%.2f°", skew.Degrees())).
			trying("a zone from %s to %s instead", wording.Chainage, wording.Chainage)}
	}
	φ = math.Min(φ, math.Pi-φ)
	m := (path.Metres()+2*margin.Metres())/math.Sin(φ) + float64(width.Metres()*math.Cos(φ))/math.Sin(φ)
	return toLength(m), nil
}
