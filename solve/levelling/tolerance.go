package levelling

import (
	"fmt"
	"math/big"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// Rule is how an allowed misclosure grows with the length of a line. The zero value is no tolerance on file.
type Rule string

// The rules that contracts state.
const (
	Outright  Rule = "outright"    // the same for every line
	RootKm    Rule = "per √km"     // k·√K, K the length of the line in kilometres
	RootMile  Rule = "per √mile"   // k·√M, M in miles of 5280 ft
	PerSetup  Rule = "per set-up"  // k times the set-ups
	RootSetup Rule = "per √set-up" // k·√n, n the set-ups
)

// Tolerance is the misclosure that somebody allows. The zero value allows nothing and refuses nothing: NOT CHECKED.
type Tolerance struct {
	Rule   Rule
	K      measure.Length // above nought
	Source string         // the document that states it
}

// Mile is 5280 ft.
const Mile = 5280 * measure.Foot

// String is the tolerance as people write it: 12 mm·√K, K in km.
func (t Tolerance) String() string {
	switch t.Rule {
	case Outright:
		return t.K.String()
	case RootKm:
		return t.K.String() + "·√K, K in km"
	case RootMile:
		return t.K.String() + "·√M, M in miles"
	case PerSetup:
		return t.K.String() + " for each set-up"
	case RootSetup:
		return t.K.String() + "·√n, n set-ups"
	}
	return ""
}

// Fault is an error where t cannot be a tolerance.
func (t Tolerance) Fault() error {
	switch t.Rule {
	case "":
		return nil
	case Outright, RootKm, RootMile, PerSetup, RootSetup:
		if t.K <= 0 || t.K > longestReading {
			return fmt.Errorf("a tolerance of %s is none: more than 0 mm and at most %s", t.K, longestReading)
		}
		return nil
	}
	return fmt.Errorf("%q is no rule of a tolerance", string(t.Rule))
}

// Closed is a misclosure held against a tolerance.
type Closed struct {
	Verdict Verdict
	Allowed *measure.Length  // rounded down to the nanometre; nil where nothing could be held against it
	Missing *finding.Finding // what is not on file, where the verdict cannot be said
}

// Allowed is what t allows a line of this length and so many set-ups, to the nanometre below; false where it cannot be told.
func (t Tolerance) Allowed(distance *measure.Length, setups int) (measure.Length, bool) {
	if t.Rule == "" || t.lacks(distance, setups) {
		return 0, false
	}
	num, den := t.square(distance, setups)
	return measure.Length(num.Sqrt(num.Quo(num, den)).Int64()), true
}

func (t Tolerance) lacks(distance *measure.Length, setups int) bool {
	switch t.Rule {
	case RootKm, RootMile:
		return distance == nil || *distance <= 0
	case PerSetup, RootSetup:
		return setups <= 0
	}
	return false
}

// square is the square of what is allowed, in nm², as a fraction: exact, so that a misclosure at the limit meets it.
func (t Tolerance) square(distance *measure.Length, setups int) (num, den *big.Int) {
	k := big.NewInt(int64(t.K))
	num, den = new(big.Int).Mul(k, k), big.NewInt(1)
	n := big.NewInt(int64(setups))
	switch t.Rule {
	case RootKm:
		return num.Mul(num, big.NewInt(int64(*distance))), big.NewInt(int64(measure.Kilometre))
	case RootMile:
		return num.Mul(num, big.NewInt(int64(*distance))), big.NewInt(int64(Mile))
	case RootSetup:
		num.Mul(num, n)
	case PerSetup:
		num.Mul(num, n.Mul(n, n))
	}
	return num, den
}

// Close holds a misclosure against t. The misclosure is as read; a value on the limit meets it.
func (t Tolerance) Close(misclosure measure.Length, distance *measure.Length, setups int, where finding.Where) Closed {
	switch {
	case t.Rule == "":
		return Closed{CannotSay, nil, new(finding.NoneOnFile("tolerance for closing a line of levels", "whoever wrote the specification of the works", where))}
	case t.lacks(distance, setups) && (t.Rule == RootKm || t.Rule == RootMile):
		return Closed{CannotSay, nil, new(finding.NoneOnFile("length of the line that was levelled", "whoever kept the book", where))}
	case t.lacks(distance, setups):
		return Closed{CannotSay, nil, new(finding.NoneOnFile("count of set-ups of the line that was levelled", "whoever kept the book", where))}
	}
	m := big.NewInt(int64(misclosure))
	num, den := t.square(distance, setups)
	out := Closed{Verdict: Meets}
	if m.Mul(m, m).Mul(m, den).Cmp(num) > 0 {
		out.Verdict = DoesNot
	}
	allowed, _ := t.Allowed(distance, setups)
	out.Allowed = &allowed
	return out
}
