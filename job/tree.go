package job

import (
	"strconv"
	"strings"
)

// Value is one node of a written job, whatever it was written in. Readers of YAML and JSON build it, FromTree decodes it,
// ToTree makes it again. The zero value is an empty place.
type Value struct {
	Kind   Kind
	Text   string  // of a scalar: as it was written, a number too
	Items  []Value // of a list
	Fields []Field // of a map, in the order in which they were written
	Line   int     // from 1; 0: unknown
	Column int     // in characters from 1; 0: unknown
}

// Field is one name of a map with what stands behind it.
type Field struct {
	Name   string
	Value  Value
	Line   int
	Column int
}

// Kind says what a Value is.
type Kind uint8

// The kinds of values. Unusable is one that its reader complained about already: nothing more is said of it.
const (
	KindEmpty Kind = iota
	KindBool
	KindNumber
	KindText
	KindList
	KindMap
	KindUnusable
)

// String is the kind in words, for messages.
func (k Kind) String() string {
	switch k {
	case KindBool:
		return "yes or no"
	case KindNumber:
		return "a number"
	case KindText:
		return "text"
	case KindList:
		return "a list"
	case KindMap:
		return "a group of fields"
	}
	return "nothing"
}

// scalar tells whether v is one written word or number.
func (v Value) scalar() bool {
	return v.Kind == KindBool || v.Kind == KindNumber || v.Kind == KindText
}

// get is the first field of that name.
func (v Value) get(name string) (Field, bool) {
	for _, f := range v.Fields {
		if f.Name == name {
			return f, true
		}
	}
	return Field{}, false
}

// Position is the line and column where path (route.legs[2].from) is written, or the nearest thing around it that is.
func (v Value) Position(path string) (line, column int) {
	line, column = v.Line, v.Column
	for path != "" {
		var part string
		part, path = firstPart(path)
		f, found := v.step(part)
		if !found {
			return line, column
		}
		v = f.Value
		line, column = v.Line, v.Column
		if line == 0 {
			line, column = f.Line, f.Column
		}
	}
	if inner := v.figure(); inner.Line != 0 {
		return inner.Line, inner.Column
	}
	return line, column
}

// figure is the figure in v where v is one with a pedigree, else v.
func (v Value) figure() Value {
	for _, name := range []string{"value", "assumed"} {
		if f, ok := v.get(name); ok && v.Kind == KindMap {
			return f.Value
		}
	}
	return v
}

// firstPart splits "legs[2].from" into "legs" and "[2].from", and "[2].from" into "[2]" and "from".
func firstPart(path string) (part, rest string) {
	end := strings.IndexAny(path[1:], ".[")
	if end < 0 {
		return path, ""
	}
	return path[:end+1], strings.TrimPrefix(path[end+1:], ".")
}

// step goes one part of a path down. Figures with a pedigree and lists of one are stepped through without being named.
func (v Value) step(part string) (Field, bool) {
	if part[0] != '[' {
		return v.get(part)
	}
	n, err := strconv.Atoi(strings.Trim(part, "[]"))
	if err != nil || n < 0 {
		return Field{}, false
	}
	v = v.figure()
	if v.Kind == KindList && n < len(v.Items) {
		item := v.Items[n]
		return Field{Value: item, Line: item.Line, Column: item.Column}, true
	}
	return Field{Value: v, Line: v.Line, Column: v.Column}, v.scalar() && n == 0
}
