package load

import "math"

// Point is the vertical stress at depth z, m, and r aside, below a force on an elastic half space (Boussinesq): N give Pa.
func Point(force, z, r float64) float64 {
	x := 1 + float64((r/z)*(r/z))
	return 3 * force / (2 * math.Pi * z * z) / (x * x * math.Sqrt(x))
}

// Corner is the share of a pressure that arrives below a corner of the rectangle it stands on, with m and n its sides over the depth
// (Newmark 1935; the values that Fadum drew).
func Corner(m, n float64) float64 {
	mm, nn := float64(m*m), float64(n*n)
	v, s := mm+nn+1, float64(mm*nn)
	root := 2 * m * n * math.Sqrt(v)
	angle := math.Atan2(root, v-s) // beyond a right angle where m·n is large: the branch that the arc tangent alone misses
	return (float64(root/(v+s)*(v+1)/v) + angle) / (4 * math.Pi)
}

// Strip is the vertical stress under a pressure on an endless strip of a width, at depth z and x from its middle.
func Strip(pressure, width, z, x float64) float64 {
	alpha, beta := stripAngles(width, z, x)
	return pressure / math.Pi * (alpha + float64(math.Sin(alpha)*math.Cos(alpha+2*beta)))
}

// Beside is the pressure on a wall that does not give way, at depth z below the level of an endless strip that stands from near to far
// beside it: twice what the ground would have there without the wall.
func Beside(pressure, near, far, z float64) float64 {
	if z <= 0 {
		return 0
	}
	angle, to := stripAngles(far-near, z, (near+far)/2)
	middle := to + float64(angle/2) // of the strip, from the vertical
	return 2 * pressure / math.Pi * (angle - float64(math.Sin(angle)*math.Cos(2*middle)))
}

// stripAngles are the angle under which a strip is seen from depth z, x from its middle, and that from the vertical to its nearer edge.
func stripAngles(width, z, x float64) (angle, to float64) {
	to = math.Atan((x - float64(width/2)) / z)
	return math.Atan((x+float64(width/2))/z) - to, to
}

// Active is Rankine's coefficient of earth that a wall gives way to, by the angle of friction in radians.
func Active(phi float64) float64 {
	t := math.Tan(math.Pi/4 - float64(phi/2))
	return t * t
}

// AtRest is Jaky's coefficient of earth beside a wall that does not give way; from memory.
func AtRest(phi float64) float64 { return 1 - math.Sin(phi) }
