package profile

import (
	"errors"
	"math/big"

	"trenchwright/base/measure"
)

// VerticalCurve is a parabola between two grades, as roads and finished surfaces have it: the grade changes evenly from In at
// From to Out at From + Length. Before and behind it the grades go straight on.
type VerticalCurve struct {
	From, Length measure.Length // horizontal
	Level        measure.Length // at From
	In, Out      measure.Grade
}

// CurveAt is the vertical curve whose grades meet at a chainage and a level, half its length on either side.
func CurveAt(meet, level, length measure.Length, in, out measure.Grade) (VerticalCurve, error) {
	if length <= 0 || in.Rise != 0 && in.Run <= 0 || out.Rise != 0 && out.Run <= 0 {
		return VerticalCurve{}, errors.New("a vertical curve needs a length above 0 and two grades")
	}
	down := new(big.Rat).Mul(fraction(in), big.NewRat(int64(length), 2))
	return VerticalCurve{From: meet - length/2, Length: length, Level: level - nearest(down), In: in, Out: out}, nil
}

// At is the level at a chainage, rounded once to the nanometre, half away from nought: Level + g₁·d + (g₂−g₁)·d²/2L.
func (c VerticalCurve) At(chainage measure.Length) measure.Length {
	d := big.NewRat(int64(chainage-c.From), 1)
	switch {
	case chainage <= c.From:
		return c.Level + nearest(d.Mul(d, fraction(c.In)))
	case chainage >= c.From+c.Length:
		mean := new(big.Rat).Add(fraction(c.In), fraction(c.Out))
		rise := mean.Mul(mean, big.NewRat(int64(c.Length), 2))
		beyond := new(big.Rat).Mul(fraction(c.Out), big.NewRat(int64(chainage-c.From-c.Length), 1))
		return c.Level + nearest(rise.Add(rise, beyond))
	}
	bend := new(big.Rat).Sub(fraction(c.Out), fraction(c.In))
	bend.Mul(bend, d).Mul(bend, big.NewRat(1, 2*int64(c.Length)))
	bend.Add(bend, fraction(c.In))
	return c.Level + nearest(bend.Mul(bend, d))
}

// Turning is the highest or lowest point of the curve, to the nanometre: where its grade is nought. false: it has none.
func (c VerticalCurve) Turning() (chainage, level measure.Length, ok bool) {
	in, out := fraction(c.In), fraction(c.Out)
	if in.Sign()*out.Sign() > 0 || in.Sign() == 0 && out.Sign() == 0 {
		return 0, 0, false
	}
	d := new(big.Rat).Quo(in, new(big.Rat).Sub(in, out))
	at := c.From + nearest(d.Mul(d, big.NewRat(int64(c.Length), 1)))
	return at, c.At(at), true
}

// nearest is v to the next whole number, half away from nought.
func nearest(v *big.Rat) measure.Length {
	twice := new(big.Int).Abs(v.Num())
	twice.Lsh(twice, 1).Add(twice, v.Denom())
	twice.Quo(twice, new(big.Int).Lsh(v.Denom(), 1))
	if v.Sign() < 0 {
		twice.Neg(twice)
	}
	return measure.Length(twice.Int64())
}
