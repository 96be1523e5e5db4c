package earthwork

import (
	"fmt"
	"math"
)

// The approximations of the trade (published.md §2). Units are the caller's: areas times lengths are volumes.

// AverageEndArea is L(A1+A2)/2: exact for prisms and wedges, too much for pyramids.
func AverageEndArea(a1, a2, length float64) float64 { return float64(length * (a1 + a2) / 2) }

// Prismoidal is L(A1+4Am+A2)/6. Am is the area of the section half way, from the mean of the dimensions: not the mean of areas.
func Prismoidal(a1, am, a2, length float64) float64 {
	return float64(length * (a1 + float64(4*am) + a2) / 6)
}

// Frustum is L(A1+A2+√(A1A2))/3; a pyramid has one area of 0.
func Frustum(a1, a2, length float64) float64 {
	return length * (a1 + a2 + math.Sqrt(float64(a1*a2))) / 3
}

// EndAreas is the average end area over sections at one spacing.
func EndAreas(areas []float64, spacing float64) float64 {
	sum := 0.0
	for i := 1; i < len(areas); i++ {
		sum += AverageEndArea(areas[i-1], areas[i], spacing)
	}
	return sum
}

// Simpson is Simpson's rule over sections at one spacing: an odd number of sections, three at least.
func Simpson(areas []float64, spacing float64) (float64, error) {
	if len(areas) < 3 || len(areas)%2 == 0 {
		return 0, fmt.Errorf("Simpson's rule needs an odd number of sections, 3 at least; there are %d. Take the average end area for the last bay", len(areas))
	}
	sum := 0.0
	for i := 2; i < len(areas); i += 2 {
		sum += Prismoidal(areas[i-2], areas[i-1], areas[i], 2*spacing)
	}
	return sum, nil
}

// Prism is an upright triangular prism of that area in plan with heights at its corners: A(h1+h2+h3)/3.
func Prism(area, h1, h2, h3 float64) float64 { return area * (h1 + h2 + h3) / 3 }

// Grid is a square grid of heights: s²/4·(S1+2S2+3S3+4S4), S1 to S4 the sums of the heights that one to four cells share.
func Grid(cell, s1, s2, s3, s4 float64) float64 {
	return float64(cell*cell) / 4 * (s1 + float64(2*s2) + float64(3*s3) + float64(4*s4))
}
