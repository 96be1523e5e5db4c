package edit

import (
	"reflect"

	"trenchwright/job"
)

// copied is a job that shares nothing with the first one. Empty lists become none, so that it is written as it reads back.
func copied(j job.Job) job.Job {
	copier{}.part(reflect.ValueOf(&j).Elem())
	return j
}

// copier remembers of types what of them could be shared.
type copier map[reflect.Type]shape

// shape is how values of a type are told apart once one was assigned to the other: flat ones need nothing, structs only these
// of their fields.
type shape struct {
	flat   bool
	fields []int
}

func (c copier) of(v reflect.Value) reflect.Value {
	out := reflect.New(v.Type()).Elem()
	out.Set(v)
	c.part(out)
	return out
}

// part takes a value that was assigned from another apart from it.
func (c copier) part(v reflect.Value) {
	t := v.Type()
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			own := reflect.New(t.Elem())
			own.Elem().Set(v.Elem())
			v.Set(own)
			c.part(own.Elem())
		}
	case reflect.Slice:
		if v.Len() == 0 {
			v.SetZero()
			return
		}
		own := reflect.MakeSlice(t, v.Len(), v.Len())
		reflect.Copy(own, v)
		v.Set(own)
		c.each(own)
	case reflect.Array:
		c.each(v)
	case reflect.Struct:
		for _, i := range c.shape(t).fields {
			c.part(v.Field(i))
		}
	}
}

func (c copier) each(v reflect.Value) {
	if c.shape(v.Type().Elem()).flat {
		return
	}
	for i := range v.Len() {
		c.part(v.Index(i))
	}
}

func (c copier) shape(t reflect.Type) shape {
	if known, ok := c[t]; ok {
		return known
	}
	s := shape{flat: true}
	switch t.Kind() {
	case reflect.Pointer, reflect.Slice, reflect.Map, reflect.Interface:
		s.flat = false
	case reflect.Array:
		s.flat = c.shape(t.Elem()).flat
	case reflect.Struct:
		for i := range t.NumField() {
			if !c.shape(t.Field(i).Type).flat {
				s.flat, s.fields = false, append(s.fields, i)
			}
		}
	}
	c[t] = s
	return s
}
