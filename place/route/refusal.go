package route

import (
	"strings"

	"trenchwright/base/wording"
)

// Refusal says why a line cannot be made: one sentence with its place, the limit against the value, and what to try. Its
// texts are in UK words and metres; In has others.
type Refusal struct {
	ID     string // route.arc-does-not-fit
	Vertex int    // index of the vertex or element it speaks of; -1: the whole line
	Text   string
	Limit  string
	Value  string
	Try    string

	text, limit, value, try phrase // the same, before they are worded
}

// In is r in the words and the system of a job.
func (r Refusal) In(s wording.Speech) Refusal {
	r.Text, r.Limit, r.Value, r.Try = r.text.in(s), r.limit.in(s), r.value.in(s), r.try.in(s)
	return r
}

// against holds a value against its limit; either is a length, a text or nothing.
func (r Refusal) against(limit, value any) Refusal {
	r.limit, r.value = alone(limit), alone(value)
	return r.In(wording.Speech{})
}

// trying says what to try.
func (r Refusal) trying(form string, args ...any) Refusal {
	r.try = phrase{form, args}
	return r.In(wording.Speech{})
}

// phrase is a sentence before it is worded: its words and lengths are still values.
type phrase struct {
	form string
	args []any
}

func (p phrase) in(s wording.Speech) string {
	args := make([]any, len(p.args))
	for i, a := range p.args {
		if v, ok := a.(worded); ok {
			a = v.in(s)
		}
		args[i] = a
	}
	return s.Say(p.form, args...)
}

// worded is what words itself.
type worded interface{ in(wording.Speech) string }

// alone is a phrase of one value.
func alone(v any) phrase {
	if v == nil {
		return phrase{}
	}
	return phrase{"%s", []any{v}}
}

// Error is the sentence with what to try.
func (r Refusal) Error() string {
	if r.Try == "" {
		return r.Text
	}
	return r.Text + "; try: " + r.Try
}

// Refusals are all reasons at once. An empty list is never returned as an error.
type Refusals []Refusal

// Error joins the sentences, one a line.
func (r Refusals) Error() string {
	lines := make([]string, len(r))
	for i, one := range r {
		lines[i] = one.Error()
	}
	return strings.Join(lines, "\n")
}

func refuse(id string, vertex int, form string, args ...any) Refusal {
	return Refusal{ID: "route." + id, Vertex: vertex, text: phrase{form, args}}.In(wording.Speech{})
}
