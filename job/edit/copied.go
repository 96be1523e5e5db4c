package edit

import (
	"reflect"

	"trenchwright/job"
)

// copied is a job that shares nothing with the first one. Empty lists become none, so that it is written as it reads back.
func copied(j job.Job) job.Job {
	c := copier{}
	return c.of(reflect.ValueOf(j)).Interface().(job.Job)
}

// copier remembers which types hold nothing that could be shared.
type copier map[reflect.Type]bool

func (c copier) of(v reflect.Value) reflect.Value {
	if c.flat(v.Type()) {
		return v
	}
	out := reflect.New(v.Type()).Elem()
	c.into(out, v)
	return out
}

func (c copier) into(out, v reflect.Value) {
	out.Set(v)
	if c.flat(v.Type()) {
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			out.Set(reflect.New(v.Type().Elem()))
			c.into(out.Elem(), v.Elem())
		}
	case reflect.Slice:
		if v.Len() == 0 {
			out.SetZero()
		} else {
			out.Set(reflect.MakeSlice(v.Type(), v.Len(), v.Len()))
			if c.flat(v.Type().Elem()) {
				reflect.Copy(out, v)
				return
			}
			for i := range v.Len() {
				c.into(out.Index(i), v.Index(i))
			}
		}
	case reflect.Array:
		for i := range v.Len() {
			c.into(out.Index(i), v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			c.into(out.Field(i), v.Field(i))
		}
	}
}

// flat tells whether two values of a type share nothing once one is assigned to the other.
func (c copier) flat(t reflect.Type) bool {
	if known, ok := c[t]; ok {
		return known
	}
	flat := true
	switch t.Kind() {
	case reflect.Pointer, reflect.Slice, reflect.Map, reflect.Interface:
		flat = false
	case reflect.Array:
		flat = c.flat(t.Elem())
	case reflect.Struct:
		for i := range t.NumField() {
			flat = flat && c.flat(t.Field(i).Type)
		}
	}
	c[t] = flat
	return flat
}
