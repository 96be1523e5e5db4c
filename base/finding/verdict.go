package finding

// Verdict is what comes of holding a value against a stated figure. The zero value: it was not held against anything.
type Verdict string

// The three verdicts. There is no fourth.
const (
	Meets     Verdict = "meets the stated figure"
	DoesNot   Verdict = "does not meet the stated figure"
	CannotSay Verdict = "cannot say"
)
