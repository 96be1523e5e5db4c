package check

import (
	"strings"

	"trenchwright/base/finding"
)

// Rule is what says so: the law or the standard itself, with its clause.
type Rule struct {
	ID     string // stable: flotation.weight
	Says   string // the rule in our own words
	Law    string // the law or standard, its year, its clause; "" where none was found
	Source string // where it was read
	Status Status
	Only   string   // what it comes to, where that is not each of the three verdicts: "it can say no, and never yes"
	Tests  []string // the tests that hold it: package.Test
}

// Status is how far a figure of a rule can be trusted.
type Status string

// The statuses.
const (
	Read     Status = "read"                       // in a stored copy of the source
	ReadIn   Status = "inputs read, recomputed"    // the printed result is missing or wrong
	Memory   Status = "from memory"                // warns, and decides nothing
	Closed   Status = "closed form"                // follows from mechanics or geometry
	Practice Status = "common practice, no source" // never a default, never a verdict
)

// Decides tells whether a rule may come to a verdict.
func (s Status) Decides() bool { return s == Read || s == ReadIn || s == Closed }

// Comes is what a rule comes to, in words.
func (r Rule) Comes() string {
	switch {
	case !r.Status.Decides():
		return "never to a verdict: " + string(finding.CannotSay)
	case r.Only != "":
		return r.Only
	}
	return "each of the three"
}

// String is a rule as an answer cites it.
func (r Rule) String() string {
	parts := []string{}
	for _, p := range []string{r.Law, r.Source, string(r.Status)} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	return strings.Join(parts, "; ")
}
