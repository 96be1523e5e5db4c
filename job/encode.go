package job

import (
	"encoding"
	"math"
	"reflect"
	"strconv"
)

// ToTree is j as a tree in the order of the types' fields, with everything left out that nobody entered. FromTree of it
// is j again, if j has no faults.
func ToTree(j Job) Value {
	e := encoder{}
	return e.value(reflect.ValueOf(&j).Elem())
}

type encoder struct{}

func (e encoder) value(v reflect.Value) Value {
	t := v.Type()
	switch {
	case isEntry(t):
		return e.entry(partsOf(v))
	case isText(t):
		text, err := v.Interface().(encoding.TextMarshaler).MarshalText()
		if err != nil {
			panic("job: a quantity that cannot be written: " + err.Error())
		}
		return Value{Kind: KindText, Text: string(text)}
	}
	switch v.Kind() {
	case reflect.Pointer:
		return e.value(v.Elem())
	case reflect.Struct:
		return e.group(v)
	case reflect.Slice, reflect.Array:
		list := Value{Kind: KindList, Items: make([]Value, v.Len())}
		for i := range list.Items {
			list.Items[i] = e.value(v.Index(i))
		}
		return list
	case reflect.Bool:
		return Value{Kind: KindBool, Text: strconv.FormatBool(v.Bool())}
	case reflect.Int:
		return Value{Kind: KindNumber, Text: strconv.FormatInt(v.Int(), 10)}
	case reflect.Float64:
		return number(v.Float())
	}
	return Value{Kind: KindText, Text: v.String()}
}

// number is x in the fewest digits that read back as x. What is no number at all is an empty place, which no reader takes.
func number(x float64) Value {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return Value{}
	}
	if x == 0 {
		x = 0 // not -0
	}
	format := byte('f')
	if math.Abs(x) >= 1e15 {
		format = 'e'
	}
	return Value{Kind: KindNumber, Text: strconv.FormatFloat(x, format, -1, 64)}
}

func (e encoder) group(v reflect.Value) Value {
	group := Value{Kind: KindMap}
	for _, f := range fieldsOf(v.Type()) {
		held := v.Field(f.index)
		if nothingIn(held) && (!f.required || isEntry(f.typ)) {
			continue
		}
		group.Fields = append(group.Fields, Field{Name: f.name, Value: e.value(held)})
	}
	return group
}

// nothingIn tells whether v is what a field holds that was left out.
func nothingIn(v reflect.Value) bool {
	if isEntry(v.Type()) {
		return !*partsOf(v).known
	}
	if v.Kind() == reflect.Slice {
		return v.Len() == 0
	}
	return v.IsZero()
}

// entry is a figure: bare if nothing stands beside it.
func (e encoder) entry(parts pedigree) Value {
	figure := e.value(parts.value)
	group := Value{Kind: KindMap, Fields: []Field{{Name: choose(*parts.assumed, "assumed", "value"), Value: figure}}}
	for i, text := range parts.texts {
		if *text != "" {
			group.Fields = append(group.Fields, Field{Name: pedigreeNames[i], Value: Value{Kind: KindText, Text: *text}})
		}
	}
	if len(group.Fields) == 1 && !*parts.assumed {
		return figure
	}
	return group
}
