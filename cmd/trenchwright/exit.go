package main

import (
	"errors"
	"fmt"
)

// The one table from outcome to exit code.
const (
	exitFound      = 0 // planned, proven, nothing stands in the way
	exitBroken     = 1 // the program itself or the machine failed: disk full, our own broken invariant
	exitUsage      = 2 // the command line cannot be understood
	exitFaults     = 3 // the input has faults; nothing was written
	exitImpossible = 4 // proven impossible, in whole or in part
	exitUndecided  = 5 // neither found nor ruled out
)

// outcome ends a command with an exit code. Its text has been shown already where it is empty.
type outcome struct {
	code int
	text string
}

func (o outcome) Error() string { return o.text }

// fail shows an error that has not been shown and gives its exit code.
func (p program) fail(err error) int {
	var o outcome
	if errors.As(err, &o) {
		if o.text != "" {
			fmt.Fprintln(p.err, o.text)
		}
		return o.code
	}
	fmt.Fprintf(p.err, "trenchwright: %v\n", err)
	return exitBroken
}
