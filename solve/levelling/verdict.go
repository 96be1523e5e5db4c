package levelling

import "trenchwright/base/finding"

// Verdict is what comes of holding a value against a stated figure. The zero value is none.
type Verdict = finding.Verdict

// The three verdicts. A check without a figure cannot say.
const (
	Meets     = finding.Meets
	DoesNot   = finding.DoesNot
	CannotSay = finding.CannotSay
)

// worst is the verdict of several checks together: one that is not met decides, then one that could not be made.
func worst(vs ...Verdict) Verdict {
	out := Meets
	for _, v := range vs {
		if v == DoesNot || v == CannotSay && out == Meets {
			out = v
		}
	}
	if len(vs) == 0 {
		return CannotSay
	}
	return out
}
