package measure

// Cubic and square yards in metres: 0.9144 m to the yard, exactly (international yard and pound agreement of 1959).
const (
	CubicYard  = 0.764554857984
	SquareYard = 0.83612736
)

// Volume is a number of cubic metres as people of f's system count them: cubic metres or cubic yards.
func (f Format) Volume(v Volume) (number float64, unit string) {
	if f.System == Imperial {
		return float64(v) / CubicYard, "yd³"
	}
	return float64(v), "m³"
}

// Surface is a number of square metres as people of f's system count them: square metres or square yards.
func (f Format) Surface(squareMetres float64) (number float64, unit string) {
	if f.System == Imperial {
		return squareMetres / SquareYard, "yd²"
	}
	return squareMetres, "m²"
}
