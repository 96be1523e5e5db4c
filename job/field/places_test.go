package field

import (
	"strings"
	"testing"
)

// Places are found as a table of the language finds them: short names and long ones, some of them put again, some of them not there.
func TestPlacesAgainstATable(t *testing.T) {
	g := people(t)
	name := func() string {
		letters := make([]byte, g.r.IntN(20))
		for i := range letters {
			letters[i] = "A-01.\x00"[g.r.IntN(6)]
		}
		return strings.Repeat("B-", g.r.IntN(2)) + string(letters)
	}
	const n = 3000
	p, want := placesFor(n), map[string]mark{}
	for i := range n {
		m := mark{spot{i % 7, i}, i%4 - 1}
		at := name()
		p.put(at, m)
		want[at] = m
	}
	for at, m := range want {
		if got, ok := p.of(at); !ok || got != m {
			t.Fatalf("%q: %v %v, want %v", at, got, ok, m)
		}
	}
	for range n {
		at := name()
		_, here := want[at]
		if got, ok := p.of(at); ok != here || !ok && got != (mark{}) {
			t.Fatalf("%q: %v %v, and it is there: %v", at, got, ok, here)
		}
	}
}
