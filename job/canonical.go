package job

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"slices"
	"strings"
	"unicode/utf8"

	"trenchwright/base/sorting"
)

// CanonicalJSON is j as the one text that stands for it: sorted keys, lengths exact with their unit, no space between
// things, a line break at the end. Equal jobs have equal bytes, and FromJSON gives j back if j has no faults.
func CanonicalJSON(j Job) []byte {
	return append(appendJSON(nil, ToTree(j)), '\n')
}

// Hash is the SHA-256 of j's canonical text, in 64 small hexadecimal digits.
func Hash(j Job) string {
	sum := sha256.Sum256(CanonicalJSON(j))
	return hex.EncodeToString(sum[:])
}

// MarshalJSON is the canonical text, so that a job inside another value is written no other way.
func (j Job) MarshalJSON() ([]byte, error) { return appendJSON(nil, ToTree(j)), nil }

// UnmarshalJSON is FromJSON for a job inside another value. It fails with the first fault.
func (j *Job) UnmarshalJSON(data []byte) error {
	read, faults := FromJSON(data)
	if len(faults) > 0 {
		return errors.New(faults[0].Text)
	}
	*j = read
	return nil
}

func appendJSON(b []byte, v Value) []byte {
	switch v.Kind {
	case KindBool, KindNumber:
		return append(b, v.Text...)
	case KindText:
		return appendQuoted(b, v.Text)
	case KindList:
		b = append(b, '[')
		for i, item := range v.Items {
			if i > 0 {
				b = append(b, ',')
			}
			b = appendJSON(b, item)
		}
		return append(b, ']')
	case KindMap:
		fields := slices.Clone(v.Fields)
		sorting.By(fields, func(a, b Field) int { return strings.Compare(a.Name, b.Name) })
		b = append(b, '{')
		for i, f := range fields {
			if i > 0 {
				b = append(b, ',')
			}
			b = append(appendQuoted(b, f.Name), ':')
			b = appendJSON(b, f.Value)
		}
		return append(b, '}')
	}
	return append(b, "null"...)
}

// appendQuoted writes text as a JSON string (RFC 8259): quotes, backslashes and control characters escaped, all else as
// it is. Bytes that are no UTF-8 become U+FFFD.
func appendQuoted(b []byte, text string) []byte {
	b = append(b, '"')
	for _, r := range text {
		switch {
		case r == '"' || r == '\\':
			b = append(b, '\\', byte(r))
		case r == '\n':
			b = append(b, '\\', 'n')
		case r < 0x20:
			const hexDigits = "0123456789abcdef"
			b = append(b, '\\', 'u', '0', '0', hexDigits[r>>4], hexDigits[r&15])
		default:
			b = utf8.AppendRune(b, r)
		}
	}
	return append(b, '"')
}
