// Package seed gives tests that make things up the number they begin with.
package seed

import (
	"os"
	"strconv"
	"testing"
	"time"
)

// Variable is the environment variable that says with which number: a number that a test printed, or "new" for one that nobody drew yet.
const Variable = "TRENCHWRIGHT_SEED"

// Of is the number a test begins with, and is printed with it. Without the variable it is the same every time: a test that turns red speaks
// of what was changed. `make search` draws new ones.
func Of(t testing.TB) uint64 {
	t.Helper()
	n := uint64(1)
	switch said := os.Getenv(Variable); said {
	case "":
	case "new":
		n = uint64(time.Now().UnixNano())
	default:
		var err error
		if n, err = strconv.ParseUint(said, 10, 64); err != nil {
			t.Fatalf("%s=%q: it is a whole number or new", Variable, said)
		}
	}
	t.Logf("seed %d: %s=%d go test -run '^%s$' begins with it again", n, Variable, n, t.Name())
	return n
}
