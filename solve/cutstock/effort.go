package cutstock

// effort is what is left to spend of the Limits. It counts elementary steps and never looks at a clock, so that the
// same Problem ends at the same place everywhere.
type effort struct{ left int64 }

func (e *effort) spend(steps int64) { e.left -= steps }
func (e *effort) spent() bool       { return e.left <= 0 }
