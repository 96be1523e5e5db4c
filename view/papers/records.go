package papers

import (
	"slices"
	"strings"

	"trenchwright/job/field"
)

// standing are the records of some kinds that no later one took the place of, in the order in which they are on file.
func (m *maker) standing(kinds ...field.Kind) []field.Record {
	gone := map[string]bool{}
	for _, r := range m.Records {
		if r.Corrects != "" {
			gone[r.Corrects] = true
		}
	}
	var out []field.Record
	for _, r := range m.Records {
		if slices.Contains(kinds, r.Kind) && !gone[r.ID] {
			out = append(out, r)
		}
	}
	return out
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
