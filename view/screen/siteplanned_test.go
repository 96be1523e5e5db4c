package screen

import (
	"strings"
	"testing"
)

// A reading at one place alone carries what the plan has there, and one of a stretch does not: an answer that is taken later moves the
// plan, and what was measured is still held against what people had.
func TestReadingsCarryWhatWasPlanned(t *testing.T) {
	o, s := atSite(t, "tram-depot")
	place, next := s.Units.Mark[0], s.Units.Mark[1]
	for _, one := range []struct {
		args map[string]any
		want bool
	}{
		{map[string]any{"form": "gap", "from": place + "/" + next, "fields": map[string]string{"left": "9", "right": "9"}}, true},
		{map[string]any{"form": "wall", "from": place, "fields": map[string]string{"a": "50", "b": "50", "c": "50", "d": "50"}}, true},
		{map[string]any{"form": "pad", "from": place, "to": next, "fields": map[string]string{"within": "all within"}}, false},
	} {
		if h := o.say(one.args); h.Record == "" || strings.Contains(h.Record, `"planned":{`) != one.want {
			t.Errorf("%v: %s %v", one.args, h.Record, h.Missing)
		}
	}
}
