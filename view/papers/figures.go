package papers

import (
	"fmt"
	"strconv"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/solve/check"
)

// Where figures come from that are nobody's entry.
const (
	fromPlan    = "the plan of this job"
	fromRecords = "the records of this job"
)

// length is a size as people measure it.
func (m *maker) length(l measure.Length) string { return m.speech.Length(l) }

// both is a quantity in both systems, the job's first.
func (m *maker) both(q check.Quantity) string { return q.Both(m.speech.Imperial) }

func (m *maker) mass(kg float64) string { return m.both(check.Mass.Of(kg)) }

func (m *maker) far(l measure.Length) string { return m.both(check.Length.Of(l.Metres())) }

// chainage is one on a leg, as sheets have it.
func (m *maker) chainage(at measure.MM) string {
	if m.speech.Imperial {
		return measure.Chainage(measure.Length(at), measure.Imperial, 2)
	}
	return measure.Format{Survey: true, Places: 3}.Length(measure.Length(at))
}

func (m *maker) stretch(from, to measure.MM) string {
	return m.chainage(from) + " to " + m.chainage(to)
}

// deep is a depth or a width to the centimetre or to the inch.
func (m *maker) deep(l measure.MM) string {
	if m.speech.Imperial {
		return measure.Format{System: measure.Imperial, Survey: true, Places: 1}.Length(measure.Length(l))
	}
	return measure.Format{Survey: true, Places: 2}.Length(measure.Length(l))
}

// level is a level in the job's coordinates.
func (m *maker) level(metres float64) string { return m.Job.Coordinates.Unit.Level(metres) }

// volume is one in the job's system.
func (m *maker) volume(cubicMetres float64) string {
	f := measure.Format{}
	if m.speech.Imperial {
		f.System = measure.Imperial
	}
	n, unit := f.Volume(measure.Volume(cubicMetres))
	return strconv.FormatFloat(n, 'f', 1, 64) + " " + unit
}

// entry is a line of a figure that somebody entered, or says who could.
func entry[T any](m *maker, name, document string, e job.Entry[T], say func(T) string, what, ask string) Line {
	if !e.Known {
		return Line{Name: name, Is: none(what, ask)}
	}
	return Line{name, say(e.Value), job.SourceFrom(m.Job, document, e)}
}

// document is one of the job as a source; "" for none.
func (m *maker) document(id string) string {
	if id == "" {
		return ""
	}
	return job.SourceFrom(m.Job, id, job.Known(""))
}

func text(s string) string { return s }

func number(n int) string { return strconv.Itoa(n) }

func counted(n int, one, several string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, several)
}

// strung are the parts that say something.
func strung(by string, parts ...string) string {
	var said []string
	for _, p := range parts {
		if p != "" {
			said = append(said, p)
		}
	}
	return strings.Join(said, by)
}

// blanks are lines that a person fills in.
func blanks(names ...string) []Line {
	var out []Line
	for _, n := range names {
		out = append(out, Line{Name: n})
	}
	return out
}

// appendOnce appends what is not there yet.
func appendOnce(list []string, s string) []string {
	for _, one := range list {
		if one == s {
			return list
		}
	}
	return append(list, s)
}

// sized is a length of the plan as people measure it.
func (m *maker) sized(l measure.MM) string { return m.length(measure.Length(l)) }
