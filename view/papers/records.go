package papers

import (
	"strings"

	"trenchwright/view/recorded"
)

// saying is how records are said here.
func (m *maker) saying() recorded.Speaker {
	return recorded.Speaker{Speech: m.speech, Unit: m.Job.Coordinates.Unit, Supplies: len(m.Job.Supplies)}
}

// bySeveral are who recorded something by the ids of their records.
func (m *maker) bySeveral(ids []string) string {
	var out []string
	for _, id := range ids {
		if r, ok := m.book.Record(id); ok {
			out = appendOnce(out, recorded.By(&r))
		}
	}
	return strings.Join(out, "; ")
}
