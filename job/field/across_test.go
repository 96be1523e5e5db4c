package field

import (
	"strings"
	"testing"
)

// A stretch over a bend counts nowhere, and how to record it is said leg by leg.
func TestStretchAcrossABend(t *testing.T) {
	b := NewBook(small())
	b.Add(people(t).makes("a", Set, "A-003", "B-002", SetSays{Within: true}))
	list := b.State("").Findings
	if len(list) != 1 || !strings.Contains(list[0].Try, "A-003 to A-004 and B-001 to B-002") {
		t.Errorf("%v", list)
	}
}
