package field

import (
	"testing"

	"trenchwright/base/measure"
)

// An instrument stands as the device that reads it has it; what it reads on another benchmark closes on it. Of set-ups of two others
// nobody can say which holds.
func TestHowAnInstrumentStands(t *testing.T) {
	g := people(t)
	up := func(device string, level, rod measure.Length, closes bool) Record {
		r := g.makes(device, SetUp, "", "", SetUpSays{Benchmark: "BM", Level: level, Rod: rod, Closes: closes})
		r.Instrument = &Instrument{ID: "L7", SetUp: device}
		return r
	}
	b := NewBook(small())
	b.Add(up("a", 100*measure.Metre, 1500*mm, false), up("a", 101*measure.Metre, 503*mm, true))
	for device, want := range map[string]bool{"a": true, "b": true} {
		if s, ok := b.SetUp("L7", device); ok != want || s.Height != 101500*mm || len(s.Closes) != 1 || s.Closes[0].Off != 3*mm {
			t.Errorf("%s: %+v, %v", device, s, ok)
		}
	}
	b.Add(up("c", 100*measure.Metre, 1200*mm, false))
	if s, ok := b.SetUp("L7", "b"); ok {
		t.Errorf("two stand, and b takes %+v", s)
	}
	if s, ok := b.SetUp("L7", "c"); !ok || s.Height != 101200*mm {
		t.Errorf("c set it up itself: %+v", s)
	}
}
