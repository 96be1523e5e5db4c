package measure

import "math"

// Metres is l in metres, for trigonometry and drawing. Not for sums of record.
func (l Length) Metres() float64 { return float64(l) / 1e9 }

// Millimetres is l in millimetres, for drawing. Not for sums of record.
func (l Length) Millimetres() float64 { return float64(l) / 1e6 }

// FromMetres rounds m metres to the nanometre, half away from zero.
func FromMetres(m float64) Length { return Length(math.Round(m * 1e9)) }

// FromMillimetres rounds mm millimetres to the nanometre, half away from zero.
func FromMillimetres(mm float64) Length { return Length(math.Round(mm * 1e6)) }

// Degrees is a in degrees.
func (a Angle) Degrees() float64 { return float64(a) / 1e9 }

// Radians is a in radians.
func (a Angle) Radians() float64 { return float64(a) / 1e9 * (math.Pi / 180) }

// FromDegrees rounds d degrees to 1e-9 degree.
func FromDegrees(d float64) Angle { return Angle(math.Round(d * 1e9)) }

// FromRadians rounds r radians to 1e-9 degree.
func FromRadians(r float64) Angle { return Angle(math.Round(r * (180 / math.Pi) * 1e9)) }

// Kilograms is m in kilograms.
func (m Mass) Kilograms() float64 { return float64(m) / 1e3 }

// Abs is l without its sign.
func (l Length) Abs() Length {
	if l < 0 {
		return -l
	}
	return l
}
