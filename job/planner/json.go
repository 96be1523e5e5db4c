package planner

import (
	"encoding/json"
	"io"
	"reflect"
	"strings"
)

// WriteJSON writes plan.json: every key of the plan on a line of its own, and every unit, cover and joint on one too, so
// that two plans can be compared line by line and a long run needs no second copy of itself in memory.
func (p Plan) WriteJSON(w io.Writer) error {
	v, first := reflect.ValueOf(p), true
	for i := range v.NumField() {
		if !v.Type().Field(i).IsExported() {
			continue
		}
		key, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("json"), ",")
		begin := ",\n"
		if first {
			begin, first = "{\n", false
		}
		if _, err := io.WriteString(w, begin+`"`+key+`": `); err != nil {
			return err
		}
		if err := writeValue(w, v.Field(i)); err != nil {
			return err
		}
	}
	_, err := io.WriteString(w, "\n}\n")
	return err
}

func writeValue(w io.Writer, v reflect.Value) error {
	if v.Kind() != reflect.Slice || v.Len() == 0 {
		if v.Kind() == reflect.Slice { // an empty list, never null
			_, err := io.WriteString(w, "[]")
			return err
		}
		return writeOne(w, "", v)
	}
	for i := range v.Len() {
		begin := ",\n "
		if i == 0 {
			begin = "[\n "
		}
		if err := writeOne(w, begin, v.Index(i)); err != nil {
			return err
		}
	}
	_, err := io.WriteString(w, "\n]")
	return err
}

func writeOne(w io.Writer, begin string, v reflect.Value) error {
	b, err := json.Marshal(v.Interface())
	if err != nil {
		return err
	}
	if _, err := io.WriteString(w, begin); err != nil {
		return err
	}
	_, err = w.Write(b)
	return err
}
