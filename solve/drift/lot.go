package drift

import (
	"math"

	"trenchwright/base/measure"
)

// Bias is what measured units say about their lot.
type Bias struct {
	Units    int
	Mean     measure.Length // of what they are longer (above 0) or shorter than their length on paper
	Scatter  measure.Length // standard deviation about that mean; 0 with one unit: not known
	Error    measure.Length // standard deviation of the mean: how well it is known; 0 with one unit: not known
	Verdict  Verdict
	MoreFor  int            // cannot say: how many units measured in all would tell a bias of half the band's room; 0: not asked
	Possible measure.Length // how far off the lot may be at the most (95 %): |mean| and what is not known of it; 0: not known
}

// Verdict tells bias from scatter.
type Verdict string

const (
	Biased   Verdict = "biased"     // the mean is further from 0 than chance makes it, in 95 of 100 lots
	Scatters Verdict = "scatters"   // the mean may well be 0, and is known well enough to say so
	CantSay  Verdict = "cannot say" // too few units, or they vary too much
)

// LotOf looks at units of one lot, each by how much it is longer than its length on paper. A bias of worth or less does not
// matter to whoever asks: above 0, a lot whose mean is known to lie within it is said to scatter only. By the t law of Student,
// 95 %.
func LotOf(off []measure.Length, worth measure.Length) Bias {
	n := len(off)
	b := Bias{Units: n, Verdict: CantSay}
	if n == 0 {
		return b
	}
	var sum float64
	for _, l := range off {
		sum += inMM(l)
	}
	mean := sum / float64(n)
	b.Mean = millimetres(mean)
	if n < 2 {
		return b
	}
	var squares float64
	for _, l := range off {
		d := inMM(l) - mean
		squares += float64(d * d)
	}
	sd := math.Sqrt(squares / float64(n-1))
	known := sd / math.Sqrt(float64(n))
	room := float64(student(n-1) * known)
	b.Scatter, b.Error = millimetres(sd), millimetres(known)
	b.Possible = millimetres(math.Abs(mean) + room)
	switch {
	case math.Abs(mean) > room:
		b.Verdict = Biased
	case worth > 0 && b.Possible <= worth:
		b.Verdict = Scatters
	}
	if b.Verdict == CantSay && worth > 0 {
		b.MoreFor = unitsFor(sd, inMM(worth))
	}
	return b
}

// unitsFor is how many units have to be measured for their mean to be known to within half of what matters, mm.
func unitsFor(sd, worth float64) int {
	for n := 2; n < 1000; n++ {
		if float64(student(n-1)*sd)/math.Sqrt(float64(n)) <= worth/2 {
			return n
		}
	}
	return 1000
}

// student is the two-sided 95 % point of Student's t: the usual table, written from memory and held by its law in the tests; beyond
// its rows the next smaller number of degrees of freedom, which is on the careful side.
func student(degrees int) float64 {
	points := [...]float64{12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228,
		2.201, 2.179, 2.160, 2.145, 2.131, 2.120, 2.110, 2.101, 2.093, 2.086,
		2.080, 2.074, 2.069, 2.064, 2.060, 2.056, 2.052, 2.048, 2.045, 2.042}
	switch {
	case degrees <= len(points):
		return points[degrees-1]
	case degrees >= 100:
		return 1.984
	case degrees >= 60:
		return 2.000
	case degrees >= 40:
		return 2.021
	}
	return points[len(points)-1]
}
