// Package sited makes records of a run up on which a re-plan is timed: a part of every leg is set, and one unit is measured.
package sited

import (
	"encoding/json"

	"trenchwright/base/measure"
	"trenchwright/job/field"
)

var number int

func record(from, to string, by measure.Length) field.Record {
	number++
	says := field.SetSays{Within: true}
	if by != 0 {
		last := to
		if to == "" {
			last = from
		}
		says.Off = []field.Off{{Place: last, By: by}}
	}
	text, _ := json.Marshal(says) // lengths and a name: it can be written
	return field.Record{ID: field.ULID(int64(number), [10]byte{1}), Device: "bench", Number: number, Person: "bench", Kind: field.Set, From: from, To: to, Says: text}
}

// Begun are records by which one part in so many of every leg is set, and the place of the last unit of the first leg.
func Begun(run *field.Run, part int) (list []field.Record, last string) {
	for _, l := range run.Legs {
		n := len(l.Units) / part
		if n == 0 {
			continue
		}
		list = append(list, record(l.Units[0].Place, l.Units[n-1].Place, 2*measure.Millimetre))
		if last == "" {
			last = l.Units[n-1].Place
		}
	}
	return list, last
}

// Measured is a record that a unit ends so far ahead of its place.
func Measured(place string, by measure.Length) field.Record { return record(place, "", by) }
