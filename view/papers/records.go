package papers

import (
	"strings"

	"trenchwright/job/field"
	"trenchwright/view/recorded"
)

// saying is how records are said here.
func (m *maker) saying() recorded.Speaker {
	return recorded.Speaker{Speech: m.speech, Unit: m.Job.Coordinates.Unit, Supplies: len(m.Job.Supplies)}
}

// byRecord is who recorded something, and when, as a source.
func byRecord(r *field.Record) string {
	return "recorded by " + strung(", ", r.Person, r.Role, strings.Replace(r.Made[:min(16, len(r.Made))], "T", " ", 1))
}

// bySeveral are who recorded something by the ids of their records.
func (m *maker) bySeveral(ids []string) string {
	var out []string
	for _, id := range ids {
		if r, ok := m.book.Record(id); ok {
			out = appendOnce(out, byRecord(&r))
		}
	}
	return strings.Join(out, "; ")
}
