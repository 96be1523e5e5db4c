package levelling

import (
	"math/big"
	"strings"

	"trenchwright/base/measure"
)

// Figures is how a book writes its lengths: decimals of one unit. Without a unit (measure.NoUnit) nobody said what the
// figures are in; they are kept as if they were metres and shown bare, and whatever needs to know the unit cannot say.
type Figures struct {
	Unit   measure.Unit // metre, foot, US survey foot, or none
	Places int          // decimals that are shown, 0 to 9
}

// per is how many nanometres one unit holds, as a fraction (NIST SP 811: US survey foot 1200/3937 m).
func (f Figures) per() (num, den int64) {
	switch f.Unit {
	case measure.UnitFoot:
		return int64(measure.Foot), 1
	case measure.UnitSurveyFoot:
		return 1200 * int64(measure.Metre), 3937
	}
	return int64(measure.Metre), 1
}

// Bare is l in decimals of the unit, rounded half away from zero to f's places; trailing noughts stay.
func (f Figures) Bare(l measure.Length) string {
	num, den := f.per()
	n := big.NewInt(int64(l))
	n.Mul(n, big.NewInt(den)).Mul(n, new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(f.Places)), nil))
	text := rounded(n, big.NewInt(num)).String()
	negative := strings.HasPrefix(text, "-")
	text = strings.TrimPrefix(text, "-")
	if len(text) <= f.Places {
		text = strings.Repeat("0", f.Places+1-len(text)) + text
	}
	if f.Places > 0 {
		text = text[:len(text)-f.Places] + "." + text[len(text)-f.Places:]
	}
	if negative {
		return "-" + text
	}
	return text
}

// Say is Bare with the unit behind it.
func (f Figures) Say(l measure.Length) string {
	if f.Unit == measure.NoUnit {
		return f.Bare(l)
	}
	return f.Bare(l) + " " + f.Unit.String()
}

// Signed is Say with a plus before what is above nought.
func (f Figures) Signed(l measure.Length) string {
	if l > 0 {
		return "+" + f.Say(l)
	}
	return f.Say(l)
}

// AtLeast is f with no fewer than places decimals.
func (f Figures) AtLeast(places int) Figures {
	f.Places = max(f.Places, places)
	return f
}

// Exactly is f with as many decimals, up to nine, as l needs to be written without rounding.
func (f Figures) Exactly(l measure.Length) Figures {
	num, den := f.per()
	n := new(big.Int).Mul(big.NewInt(int64(l)), big.NewInt(den))
	for ; f.Places < 9; f.Places++ {
		scaled := new(big.Int).Mul(n, new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(f.Places)), nil))
		if scaled.Rem(scaled, big.NewInt(num)).Sign() == 0 {
			break
		}
	}
	return f
}

// rounded is n/d to the nearest whole number, half away from zero; d is above nought.
func rounded(n, d *big.Int) *big.Int {
	twice := new(big.Int).Lsh(new(big.Int).Abs(n), 1)
	twice.Add(twice, d)
	out := twice.Quo(twice, new(big.Int).Lsh(d, 1))
	if n.Sign() < 0 {
		out.Neg(out)
	}
	return out
}
