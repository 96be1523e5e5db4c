package levelling

import (
	"fmt"
	"math/big"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// TwoPeg is a test of a level: two pegs A and B are read from two places, at different differences of sight lengths.
type TwoPeg struct {
	Mid Sights // usually half way: then the sights are equally long, and their difference is true
	End Sights // beyond a peg, or close to it
}

// Sights are the readings onto both pegs from one place, and how far they are.
type Sights struct {
	A, B                 measure.Length // readings
	DistanceA, DistanceB measure.Length // from the instrument to the peg
}

// MidAndBeyond is the usual test: half way between pegs that stand apart, and then beyond B by so much, on their line. A
// place between the pegs, at a distance from B, is beyond by less than nought.
func MidAndBeyond(apart, beyond measure.Length, midA, midB, endA, endB measure.Length) TwoPeg {
	return TwoPeg{Mid: Sights{midA, midB, apart / 2, apart / 2}, End: Sights{endA, endB, apart + beyond, beyond.Abs()}}
}

// Collimation is what a two-peg test finds: the line of sight rises by Rise over Run, exactly. Curvature of the earth and
// refraction are left in it: below 0.1 mm for sights under 35 m (closed form, with a radius of 6370 km).
type Collimation struct {
	measure.Grade
	True      measure.Length // reading on A less reading on B with a level line of sight: how much B stands above A
	Apparent  measure.Length // the same as read from the second place
	Corrected Sights         // the second place, with a level line of sight
}

// Test works a two-peg test out. Both unknowns, the true difference and the collimation, follow from the two differences.
func (t TwoPeg) Test() (Collimation, finding.List) {
	if f := t.faults(); len(f) > 0 {
		return Collimation{}, f
	}
	mid, end := t.Mid.A-t.Mid.B, t.End.A-t.End.B
	longerMid, longerEnd := t.Mid.DistanceA-t.Mid.DistanceB, t.End.DistanceA-t.End.DistanceB
	c := Collimation{Grade: measure.Grade{Rise: end - mid, Run: longerEnd - longerMid}, Apparent: end}
	if c.Run < 0 {
		c.Rise, c.Run = -c.Rise, -c.Run
	}
	c.True = mid - over(c.Grade, longerMid)
	c.Corrected = Sights{c.Correct(t.End.A, t.End.DistanceA), c.Correct(t.End.B, t.End.DistanceB), t.End.DistanceA, t.End.DistanceB}
	return c, nil
}

// Correct is a reading as a level line of sight would have given it.
func (c Collimation) Correct(reading, distance measure.Length) measure.Length {
	return reading - over(c.Grade, distance)
}

// Over is by how much readings at a distance are too great: the collimation error, rounded once to the nanometre.
func (c Collimation) Over(distance measure.Length) measure.Length { return over(c.Grade, distance) }

// Judge holds the error over a distance against what somebody allows over it; nil: none on file.
func (c Collimation) Judge(distance measure.Length, allowed *measure.Length) Closed {
	if allowed == nil {
		return Closed{CannotSay, nil, new(finding.NoneOnFile("limit for the collimation error", "whoever answers for the instruments", finding.Where{Path: "twopeg.limit"}))}
	}
	rise, limit := new(big.Int).Mul(big.NewInt(int64(c.Rise.Abs())), big.NewInt(int64(distance))), new(big.Int).Mul(big.NewInt(int64(*allowed)), big.NewInt(int64(c.Run)))
	if rise.Cmp(limit) > 0 {
		return Closed{Verdict: DoesNot, Allowed: allowed}
	}
	return Closed{Verdict: Meets, Allowed: allowed}
}

// over is a grade over a distance; the faults keep everything far from the edge of what a Length holds.
func over(g measure.Grade, distance measure.Length) measure.Length {
	l, err := g.Over(distance)
	if err != nil {
		panic("levelling: " + err.Error())
	}
	return l
}

// leastRun keeps a collimation from being drawn from sights that differ by next to nothing.
const (
	leastRun     = measure.Metre
	longestSight = measure.Kilometre
)

func (t TwoPeg) faults() finding.List {
	bad := func(id, text, limit, value, try string) finding.List {
		return finding.List{{ID: "levelling." + id, Kind: finding.Fault, Text: text, Where: finding.Where{Path: "twopeg"}, Limit: limit, Value: value, Try: try}}
	}
	for _, s := range []Sights{t.Mid, t.End} {
		if beyond(s.A, longestReading) || beyond(s.B, longestReading) {
			return bad("out-of-reach", "a reading lies out of reach", longestReading.String(), s.A.String()+" and "+s.B.String(), "its decimal point and its unit")
		}
		if s.DistanceA < 0 || s.DistanceB < 0 || max(s.DistanceA, s.DistanceB) > longestSight {
			return bad("sight-length", "a sight of a two-peg test has no length that can be", "0 m to "+longestSight.String(), fmt.Sprintf("%s and %s", s.DistanceA, s.DistanceB), "the distance from the instrument to the peg")
		}
	}
	run := (t.End.DistanceA - t.End.DistanceB) - (t.Mid.DistanceA - t.Mid.DistanceB)
	if run.Abs() < leastRun {
		return bad("same-sights", "both places have sights that differ by the same: they tell nothing of the collimation", "at least "+leastRun.String(), run.Abs().String(), "half way between the pegs, then close to one of them")
	}
	return nil
}
