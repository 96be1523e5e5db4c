package edit

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"
)

// found is a field of a job by its path.
type found struct {
	value reflect.Value // settable
	field reflect.StructField
	list  reflect.Value // that it is an item of; not valid: it is none
	index int
	name  string // as people say it: leg A, crossing X1, width
}

// step is one part of a path: a name, and behind a list the item's id or number.
type step struct {
	name, key string
	keyed     bool
}

// steps reads a path: route.legs[A].crossings[X1].width. An id may stand behind a dot as well: supplies.trough.saw.
func steps(path string) ([]step, error) {
	var out []step
	for part := range strings.SplitSeq(path, ".") {
		name, rest, keyed := strings.Cut(part, "[")
		key, closed := strings.CutSuffix(rest, "]")
		if name == "" || keyed && (!closed || key == "" || strings.ContainsAny(key, "[]")) {
			return nil, fmt.Errorf("%q is no path of a field", path)
		}
		out = append(out, step{name, key, keyed})
	}
	if len(out) > 0 && (out[0].name == "nodes" || out[0].name == "legs") {
		out = append([]step{{name: "route"}}, out...)
	}
	return out, nil
}

// find is the field of root at a path. What lies on the way there and is not there yet is made, if make says so.
func find(root reflect.Value, path string, make bool) (found, error) {
	all, err := steps(path)
	if err != nil {
		return found{}, err
	}
	at := found{value: root}
	for len(all) > 0 {
		s := all[0]
		all = all[1:]
		if at.value.Kind() == reflect.Pointer && at.value.IsNil() && !make {
			return at, fmt.Errorf("nobody entered %s", at.name)
		}
		at.value = made(at.value)
		if at.value.Kind() != reflect.Struct {
			return at, fmt.Errorf("%s has no field %s", orJob(at.name), s.name)
		}
		field, ok := named(at.value.Type(), s.name)
		if !ok {
			return at, fmt.Errorf("%s has no field %s", orJob(at.name), s.name)
		}
		at.value, at.field, at.list = at.value.FieldByIndex(field.Index), field, reflect.Value{}
		words := strings.ReplaceAll(s.name, "_", " ")
		isList := at.value.Kind() == reflect.Slice && at.value.Type().Elem().Kind() == reflect.Struct
		if isList && !s.keyed && len(all) > 0 {
			s.key, s.keyed, all = all[0].name, true, all[1:]
		}
		if s.keyed {
			i := item(at.value, s.key)
			if i < 0 {
				return at, fmt.Errorf("%s has no item %s among its %s", orJob(at.name), s.key, words)
			}
			at.list, at.index, at.value = at.value, i, at.value.Index(i)
			words = singular(words) + " " + s.key
			if s.name == "via" {
				words = "curve " + strconv.Itoa(i+1)
			}
		}
		if s.name != "route" {
			at.name = join(", ", at.name, words)
		}
	}
	return at, nil
}

func orJob(name string) string {
	if name == "" {
		return "the job"
	}
	return name
}

func join(by string, parts ...string) string {
	out := ""
	for _, p := range parts {
		if p != "" && out != "" {
			out += by
		}
		out += p
	}
	return out
}

// singular is what one item of a list is called.
func singular(list string) string {
	switch {
	case strings.HasSuffix(list, "ies"):
		return strings.TrimSuffix(list, "ies") + "y"
	case list == "crossings" || strings.HasSuffix(list, "s") && !strings.HasSuffix(list, "ches"):
		return strings.TrimSuffix(list, "s")
	case strings.HasSuffix(list, "ches"):
		return strings.TrimSuffix(list, "es")
	}
	return list
}

// made is what a pointer points to, made where it points to nothing.
func made(v reflect.Value) reflect.Value {
	for v.Kind() == reflect.Pointer {
		if v.IsNil() {
			v.Set(reflect.New(v.Type().Elem()))
		}
		v = v.Elem()
	}
	return v
}

// named is the field of a struct by its name in JSON.
func named(t reflect.Type, name string) (reflect.StructField, bool) {
	for i := range t.NumField() {
		f := t.Field(i)
		if tag, _, _ := strings.Cut(f.Tag.Get("json"), ","); tag == name && tag != "" && tag != "-" {
			return f, true
		}
	}
	return reflect.StructField{}, false
}

// item is an item of a list by its id, its mark or its name, else by its number from 0; -1: there is none.
func item(list reflect.Value, key string) int {
	if list.Kind() != reflect.Slice && list.Kind() != reflect.Array {
		return -1
	}
	for i := range list.Len() {
		if v := list.Index(i); v.Kind() == reflect.Struct && idOf(v) == key {
			return i
		}
	}
	n, err := strconv.Atoi(key)
	if err != nil || n < 0 || n >= list.Len() {
		return -1
	}
	return n
}

// idOf is what an item is called by.
func idOf(v reflect.Value) string {
	for _, name := range []string{"id", "mark", "name"} {
		if f, ok := named(v.Type(), name); ok && f.Type.Kind() == reflect.String {
			if s := v.FieldByIndex(f.Index).String(); s != "" || name == "id" {
				return s
			}
		}
	}
	return ""
}
