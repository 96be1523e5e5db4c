package local

import "math"

// n is the third flattening; e the eccentricity.
const (
	n  = flattening / (2 - flattening)
	e2 = flattening * (2 - flattening)
)

// around is the length of a meridian over 2π.
const around = axis / (1 + n) * (1 + n*n/4 + n*n*n*n/64 + n*n*n*n*n*n/256)

// to and from are the coefficients of the series, of the first multiple of the angle first. The compiler works them out
// exactly and rounds once.
var (
	to = [6]float64{
		n * (1.0/2 + n*(-2.0/3+n*(5.0/16+n*(41.0/180+n*(-127.0/288+n*7891.0/37800))))),
		n * n * (13.0/48 + n*(-3.0/5+n*(557.0/1440+n*(281.0/630+n*-1983433.0/1935360)))),
		n * n * n * (61.0/240 + n*(-103.0/140+n*(15061.0/26880+n*167603.0/181440))),
		n * n * n * n * (49561.0/161280 + n*(-179.0/168+n*6601661.0/7257600)),
		n * n * n * n * n * (34729.0/80640 + n*-3418889.0/1995840),
		n * n * n * n * n * n * 212378941.0 / 319334400,
	}
	from = [6]float64{
		-n * (1.0/2 + n*(-2.0/3+n*(37.0/96+n*(-1.0/360+n*(-81.0/512+n*96199.0/604800))))),
		-n * n * (1.0/48 + n*(1.0/15+n*(-437.0/1440+n*(46.0/105+n*-1118711.0/3870720)))),
		-n * n * n * (17.0/480 + n*(-37.0/840+n*(-209.0/4480+n*5569.0/90720))),
		-n * n * n * n * (4397.0/161280 + n*(-11.0/504+n*-830251.0/7257600)),
		-n * n * n * n * n * (4583.0/161280 + n*-108847.0/3991680),
		-n * n * n * n * n * n * 20648693.0 / 638668800,
	}
)

// forward is easting and northing from the equator.
func (g *Grid) forward(p Position) (e, north float64) {
	sin, cos := math.Sincos(radians(east(g.middle.Longitude, p.Longitude)))
	t := conformal(math.Tan(radians(p.Latitude)))
	h := hypot(t, cos)
	// On the sphere: ξ = atan2(t, cos λ) and η = asinh(sin λ/h), of which sine, cosine and sinh are known already.
	s := sin / h
	x, y := series(&to, t/h, cos/h, s)
	scale := float64(around * g.factor)
	return float64(scale * (math.Asinh(s) + y)), float64(scale * (math.Atan2(t, cos) + x))
}

// inverse is the position of easting and northing from the equator.
func (g *Grid) inverse(e, north float64) Position {
	scale := float64(around * g.factor)
	x, y := north/scale, e/scale
	sin, cos := math.Sincos(x)
	dx, dy := series(&from, sin, cos, sinh(y))
	sin, cos = math.Sincos(x + dx)
	s := sinh(y + dy)
	t := geographic(sin / hypot(s, cos))
	return Position{degrees(math.Atan(t)), turned(g.middle.Longitude + degrees(math.Atan2(s, cos)))}
}

// series is Σ c_j·sin(2jζ) for ζ = ξ + iη, of which sine and cosine of ξ and sinh η are given, by Clenshaw's rule.
func series(c *[6]float64, sin, cos, sh float64) (x, y float64) {
	ch := math.Sqrt(1 + float64(sh*sh))
	sin2, cos2 := float64(2*float64(sin*cos)), float64((cos-sin)*(cos+sin))
	sh2, ch2 := float64(2*float64(sh*ch)), 1+float64(2*float64(sh*sh))
	// 2·cos 2ζ = r + i·m
	r, m := float64(2*float64(cos2*ch2)), float64(-2*float64(sin2*sh2))
	var ax, ay, bx, by float64 // the last sum and the one before
	for j := len(c) - 1; j >= 0; j-- {
		nx := float64(r*ax) - float64(m*ay) - bx + c[j]
		ny := float64(r*ay) + float64(m*ax) - by
		ax, ay, bx, by = nx, ny, ax, ay
	}
	// sin 2ζ = sin 2ξ·cosh 2η + i·cos 2ξ·sinh 2η
	u, v := float64(sin2*ch2), float64(cos2*sh2)
	return float64(u*ax) - float64(v*ay), float64(u*ay) + float64(v*ax)
}

// conformal is the tangent of the conformal latitude of a latitude's tangent (Karney 2011, eq. 7 to 9).
func conformal(t float64) float64 {
	e := math.Sqrt(e2)
	sec := math.Sqrt(1 + float64(t*t))
	s := sinh(float64(e * math.Atanh(float64(e*t)/sec)))
	return float64(t*math.Sqrt(1+float64(s*s))) - float64(s*sec)
}

// geographic turns conformal round by Newton's rule (Karney 2011, eq. 19 to 21): every step doubles the digits, and the
// first guess is right to 0.7 %.
func geographic(c float64) float64 {
	t := c / (1 - e2)
	for range 5 {
		at := conformal(t)
		square := float64(t * t)
		t += float64((c - at) / math.Sqrt(1+float64(at*at)) * ((1 + float64((1-e2)*square)) / float64((1-e2)*math.Sqrt(1+square))))
	}
	return t
}

// sinh by its series up to the 15th power: right to the last digit for |x| ≤ 0.5, which twice the reach of the grid is not
// a third of.
func sinh(x float64) float64 {
	s := float64(x * x)
	sum := 1.0
	for k := 14.0; k > 0; k -= 2 {
		sum = 1 + float64(s/float64(k*(k+1))*sum)
	}
	return float64(x * sum)
}

func hypot(x, y float64) float64 { return math.Sqrt(float64(x*x) + float64(y*y)) }
