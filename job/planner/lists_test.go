package planner_test

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/planner"
)

// In JSON an empty list is [] however it is written, so that a reader may count it.
func TestNoListIsNull(t *testing.T) {
	jobs := map[string]job.Job{"nothing": {}}
	for _, name := range demo.Names() {
		jobs[name] = readDemo(t, name)
	}
	short := readDemo(t, "hand-troughs")
	short.Supplies[0].Unit.Lengths = job.Known([]measure.Length{measure.Metre * 1_000})
	jobs["nothing fits"] = short
	for name, j := range jobs {
		for _, at := range nulls(reflect.ValueOf(planner.Make(j)), "plan") {
			t.Errorf("%s: %s is null", name, at)
		}
	}
}

// nulls are the lists of a value that its JSON would show as null.
func nulls(v reflect.Value, at string) []string {
	var out []string
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			out = nulls(v.Elem(), at)
		}
	case reflect.Slice:
		for i := range min(v.Len(), 2000) {
			out = append(out, nulls(v.Index(i), fmt.Sprintf("%s[%d]", at, i))...)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			f := v.Type().Field(i)
			tag := f.Tag.Get("json")
			if f.IsExported() && f.Type.Kind() == reflect.Slice && v.Field(i).IsNil() && !strings.Contains(tag, "omitempty") {
				out = append(out, at+"."+f.Name)
			}
			out = append(out, nulls(v.Field(i), at+"."+f.Name)...)
		}
	}
	return out
}
