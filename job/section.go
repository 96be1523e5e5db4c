package job

import (
	"errors"
	"strings"

	"trenchwright/base/measure"
)

// String is s as `900 mm x 750 mm`.
func (s Section) String() string { return s.Width.String() + " x " + s.Height.String() }

// MarshalText is s as it is written in a job, exact.
func (s Section) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads a width and a height with x or × between them, each with its own unit.
func (s *Section) UnmarshalText(text []byte) error {
	written := string(text)
	fault := func(column int, problem string) error {
		return &measure.ParseError{Text: written, What: "a width and a height", Column: column, Problem: problem, Example: "900 mm x 750 mm"}
	}
	parts := strings.FieldsFunc(written, func(r rune) bool { return r == 'x' || r == 'X' || r == '×' })
	if len(parts) != 2 {
		return fault(1, "two lengths with one x between them were expected")
	}
	var read [2]measure.Length
	column := 0
	for i, part := range parts {
		trimmed := strings.TrimSpace(part)
		if err := read[i].UnmarshalText([]byte(trimmed)); err != nil {
			var reason *measure.ParseError
			if errors.As(err, &reason) {
				return fault(column+reason.Column, reason.Problem)
			}
			return err
		}
		column += len([]rune(part)) + 1
	}
	*s = Section{Width: read[0], Height: read[1]}
	return nil
}

// longest is the longest of lengths, 0 of none.
func longest(lengths []measure.Length) measure.Length {
	var most measure.Length
	for _, l := range lengths {
		most = max(most, l)
	}
	return most
}
