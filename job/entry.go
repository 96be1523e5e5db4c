package job

import "reflect"

// Entry is one figure with its pedigree. In a job it is written bare (`kerf: 5 mm`: it then comes from the document of
// the thing it stands in), as `{value: 5 mm, from: D2, page: 7}`, or as `{assumed: 5 mm, note: measured on two}`.
// The zero value is a figure that nobody entered.
type Entry[T any] struct {
	Value   T
	Known   bool   // somebody entered it or assumed it
	Assumed bool   // assumed on the spot: printed so wherever it goes
	From    string // document id; empty: the document of the supply or rules it stands in
	Page    string
	By      string // who entered it, where it differs from the document's
	On      string // when, YYYY-MM-DD
	Note    string
}

// Known makes an entered figure, for code that builds jobs.
func Known[T any](v T) Entry[T] { return Entry[T]{Value: v, Known: true} }

// IsZero tells encoding/json to leave out what nobody entered.
func (e Entry[T]) IsZero() bool { return !e.Known }

// pedigree is an Entry of any type, taken apart.
type pedigree struct {
	value          reflect.Value
	known, assumed *bool
	texts          [5]*string // as pedigreeNames has them
}

// pedigreeNames are the fields beside the figure itself, in the order in which they are written.
var pedigreeNames = [5]string{"from", "page", "by", "on", "note"}

// entry is any *Entry.
type entry interface{ parts() pedigree }

func (e *Entry[T]) parts() pedigree {
	return pedigree{
		value: reflect.ValueOf(&e.Value).Elem(), known: &e.Known, assumed: &e.Assumed,
		texts: [5]*string{&e.From, &e.Page, &e.By, &e.On, &e.Note},
	}
}

// isEntry tells whether t is an Entry.
func isEntry(t reflect.Type) bool {
	return t.Kind() == reflect.Struct && reflect.PointerTo(t).Implements(reflect.TypeFor[entry]())
}

// entryType is the type of the figure in entry type t.
func entryType(t reflect.Type) reflect.Type {
	f, _ := t.FieldByName("Value")
	return f.Type
}

// partsOf takes the entry v apart. A value that cannot be addressed is copied first.
func partsOf(v reflect.Value) pedigree {
	if !v.CanAddr() {
		held := reflect.New(v.Type()).Elem()
		held.Set(v)
		v = held
	}
	return v.Addr().Interface().(entry).parts()
}
