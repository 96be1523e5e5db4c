package check

import "trenchwright/base/finding"

// AtMost holds a value that may be as large as its limit. Plus is what the value is good for, either way: within that of the limit
// nobody can say.
func AtMost(value, plus, limit float64) finding.Verdict {
	value = float64(value) // rounded, where it is a product that the compiler would carry on into the sums below
	switch {
	case value != value || limit != limit:
		return finding.CannotSay
	case value+plus <= limit:
		return finding.Meets
	case value-plus > limit:
		return finding.DoesNot
	}
	return finding.CannotSay
}

// AtLeast holds a value that may be as small as its limit.
func AtLeast(value, plus, limit float64) finding.Verdict { return AtMost(-value, plus, -limit) }

// Hold puts a value and its limit in an answer, and what comes of it where nothing is missing and the rule may decide.
func (a *Answer) Hold(value, limit Quantity, from string, verdict finding.Verdict) {
	a.Value, a.Limit, a.From = value, limit, from
	switch {
	case len(a.Missing) > 0:
		a.Verdict = ""
	case !a.Rule.Status.Decides():
		a.Verdict = finding.CannotSay
	default:
		a.Verdict = verdict
	}
}
