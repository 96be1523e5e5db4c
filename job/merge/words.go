package merge

import (
	"fmt"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
)

// teller puts values of a job's tree into words.
type teller struct {
	speech  wording.Speech
	lengths map[string]bool // fields that are lengths, by their path in the reference
	exact   bool            // lengths as the job has them, to the last digit
}

func newTeller(s wording.Speech) teller {
	t := teller{speech: s, lengths: map[string]bool{}}
	for _, d := range job.Docs() {
		if d.Form == "a length" || d.Form == "a list of lengths" {
			t.lengths[d.Path] = true
		}
	}
	return t
}

// inWords is clashes as people read them, in the order of the job.
func inWords(raw []rawClash, s wording.Speech) []Clash {
	if len(raw) == 0 {
		return nil
	}
	t := newTeller(s)
	list := make([]Clash, len(raw))
	for i, r := range raw {
		said := t.apart(r.at, r.was, r.one, r.other)
		c := Clash{Path: r.at.String(), Was: said[0], One: said[1], Other: said[2]}
		c.Text = fmt.Sprintf("%s was %s; %s on one side, %s on the other", called(r.at), orNothing(c.Was), now(c.Was, c.One), now(c.Was, c.Other))
		if r.why != "" {
			c.Text = fmt.Sprintf("%s is %s on one side and %s on the other; the second does not fit what the first side changed. %s",
				called(r.at), orNothing(c.One), orNothing(c.Other), strings.TrimRight(r.why, "."))
		}
		list[i] = c
	}
	return list
}

func saidDifferences(raw []change, s wording.Speech) []Difference {
	if len(raw) == 0 {
		return nil
	}
	t := newTeller(s)
	list := make([]Difference, len(raw))
	for i, r := range raw {
		said := t.apart(r.at, r.was, r.is)
		d := Difference{Path: r.at.String(), Was: said[0], Is: said[1]}
		switch {
		case r.was == nil:
			d.Text = fmt.Sprintf("%s was added: %s", called(r.at), d.Is)
		case r.is == nil:
			d.Text = fmt.Sprintf("%s was removed: %s", called(r.at), d.Was)
		default:
			d.Text = fmt.Sprintf("%s was %s and is %s", called(r.at), d.Was, d.Is)
		}
		list[i] = d
	}
	return list
}

func orNothing(text string) string {
	if text == "" {
		return "not there"
	}
	return text
}

// now is what became of a thing: a value, "removed", or "not there" for what never was.
func now(was, is string) string {
	switch {
	case is != "":
		return "now " + is
	case was != "":
		return "removed"
	}
	return "not there"
}

// called is p as people say it: "Leg A, crossing X1, path".
func called(p path) string {
	last := p[len(p)-1]
	if last == ordered {
		return "The order in " + job.Called(p[:len(p)-1]...)
	}
	name := job.Called(p...)
	return strings.ToUpper(name[:1]) + name[1:]
}

// most is how much of one value is told.
const most = 200 // characters

// apart is values in words, exactly where two that differ would read the same.
func (t teller) apart(p path, values ...*job.Value) []string {
	said := make([]string, len(values))
	for i, v := range values {
		said[i] = t.value(p, v)
		for k := range i {
			if said[k] == said[i] && !t.exact && !same(values[k], v) {
				t.exact = true
				return t.apart(p, values...)
			}
		}
	}
	return said
}

// value is v in words; empty for what is not there.
func (t teller) value(p path, v *job.Value) string {
	if v == nil {
		return ""
	}
	if len(p) > 0 && p[len(p)-1] == ordered {
		p = p[:len(p)-1]
	}
	text := []rune(t.tell(reference(p), v))
	if len(text) > most {
		return string(text[:most-1]) + "…"
	}
	return string(text)
}

// reference is p as the reference of fields writes it.
func reference(p path) string {
	var b strings.Builder
	for _, step := range p {
		switch {
		case step[0] == '[':
			b.WriteString("[]")
		case b.Len() > 0:
			b.WriteString("." + step)
		default:
			b.WriteString(step)
		}
	}
	return b.String()
}

func (t teller) tell(field string, v *job.Value) string {
	switch v.Kind {
	case job.KindList:
		if len(v.Items) == 0 {
			return "none"
		}
		parts := make([]string, len(v.Items))
		for i := range v.Items {
			parts[i] = t.tell(field+"[]", &v.Items[i])
			if v.Items[i].Kind == job.KindMap {
				parts[i] = "(" + parts[i] + ")"
			}
		}
		return strings.Join(parts, ", ")
	case job.KindMap:
		if !isGroup(v) {
			return t.figure(field, v)
		}
		parts := make([]string, len(v.Fields))
		for i, f := range v.Fields {
			parts[i] = strings.ReplaceAll(f.Name, "_", " ") + " " + t.tell(field+"."+f.Name, &f.Value)
		}
		return strings.Join(parts, ", ")
	}
	return t.scalar(field, v)
}

// figure is a figure with its pedigree: "5 mm, from D2, page 7".
func (t teller) figure(field string, v *job.Value) string {
	var parts []string
	for _, f := range v.Fields {
		switch f.Name {
		case "value":
			parts = append(parts, t.tell(field, &f.Value))
		case "assumed":
			parts = append(parts, t.tell(field, &f.Value)+" (assumed)")
		default:
			parts = append(parts, f.Name+" "+f.Value.Text)
		}
	}
	return strings.Join(parts, ", ")
}

// scalar is one written thing, a length in the job's system.
func (t teller) scalar(field string, v *job.Value) string {
	if v.Text == "" {
		return "empty"
	}
	if !t.exact && t.lengths[strings.TrimSuffix(field, "[]")] {
		var l measure.Length
		if l.UnmarshalText([]byte(v.Text)) == nil {
			return t.speech.Length(l)
		}
	}
	return v.Text
}
