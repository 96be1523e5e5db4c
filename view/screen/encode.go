package screen

import (
	"math"
	"reflect"
	"strconv"
	"strings"
	"unicode/utf8"
)

// encode writes an answer as JSON: what encoding/json writes, but for numbers, which have three decimals at most, and for what
// HTML would want escaped, which is left as it is. Long columns are why it is written here: they are most of an answer.
func encode(v any) []byte {
	e := encoder{fields: map[reflect.Type][]encoded{}}
	return e.value(make([]byte, 0, 1<<16), reflect.ValueOf(v))
}

// encoder remembers the fields of types.
type encoder struct{ fields map[reflect.Type][]encoded }

// encoded is a field as it is written.
type encoded struct {
	index     int
	begin     string // "name":
	omitEmpty bool
}

func (e *encoder) value(out []byte, v reflect.Value) []byte {
	switch x := v.Interface().(type) {
	case Numbers:
		return column(out, x)
	case Gaps:
		return column(out, x)
	case []int:
		out = append(out, '[')
		for i, n := range x {
			if i > 0 {
				out = append(out, ',')
			}
			out = strconv.AppendInt(out, int64(n), 10)
		}
		return append(out, ']')
	case []string:
		out = append(out, '[')
		for i, s := range x {
			if i > 0 {
				out = append(out, ',')
			}
			out = quoted(out, s)
		}
		return append(out, ']')
	}
	switch v.Kind() {
	case reflect.Struct:
		return e.group(out, v)
	case reflect.Slice, reflect.Array:
		out = append(out, '[')
		for i := range v.Len() {
			if i > 0 {
				out = append(out, ',')
			}
			out = e.value(out, v.Index(i))
		}
		return append(out, ']')
	case reflect.Pointer:
		if v.IsNil() {
			return append(out, "null"...)
		}
		return e.value(out, v.Elem())
	case reflect.String:
		return quoted(out, v.String())
	case reflect.Bool:
		return strconv.AppendBool(out, v.Bool())
	case reflect.Int:
		return strconv.AppendInt(out, v.Int(), 10)
	case reflect.Float64:
		return appendThousandths(out, v.Float())
	}
	panic("screen: no JSON for " + v.Type().String())
}

func (e *encoder) group(out []byte, v reflect.Value) []byte {
	fields, known := e.fields[v.Type()]
	if !known {
		for i := range v.NumField() {
			name, options, _ := strings.Cut(v.Type().Field(i).Tag.Get("json"), ",")
			fields = append(fields, encoded{i, `"` + name + `":`, options != ""})
		}
		e.fields[v.Type()] = fields
	}
	out = append(out, '{')
	first := true
	for _, f := range fields {
		one := v.Field(f.index)
		if f.omitEmpty && (one.IsZero() || one.Kind() == reflect.Slice && one.Len() == 0) {
			continue
		}
		if !first {
			out = append(out, ',')
		}
		first = false
		out = e.value(append(out, f.begin...), one)
	}
	return append(out, '}')
}

// quoted writes text as a JSON string (RFC 8259). Bytes that are no UTF-8 become U+FFFD.
func quoted(out []byte, text string) []byte {
	out = append(out, '"')
	for _, r := range text {
		switch {
		case r == '"' || r == '\\':
			out = append(out, '\\', byte(r))
		case r < 0x20:
			const digits = "0123456789abcdef"
			out = append(out, '\\', 'u', '0', '0', digits[r>>4], digits[r&15])
		default:
			out = utf8.AppendRune(out, r)
		}
	}
	return append(out, '"')
}

// column writes numbers, an empty column as [].
func column(out []byte, n []float64) []byte {
	out = append(out, '[')
	for i, v := range n {
		if i > 0 {
			out = append(out, ',')
		}
		out = appendThousandths(out, v)
	}
	return append(out, ']')
}

// appendThousandths writes v rounded to its third decimal, without idle noughts; what is no number is null.
func appendThousandths(out []byte, v float64) []byte {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return append(out, "null"...)
	}
	t := int64(math.Round(v * 1000))
	if t < 0 {
		out, t = append(out, '-'), -t
	}
	out = strconv.AppendInt(out, t/1000, 10)
	part := t % 1000
	if part == 0 {
		return out
	}
	out = append(out, '.', byte('0'+part/100))
	if part %= 100; part == 0 {
		return out
	}
	out = append(out, byte('0'+part/10))
	if part %= 10; part == 0 {
		return out
	}
	return append(out, byte('0'+part))
}
