package job

import (
	"encoding"
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"trenchwright/base/finding"
)

// FromTree decodes a written job. It is strict, and it says everything at once: what cannot be read where it stands, and,
// of what could be read, everything that Faults says, each with the line and the column that the reader gave its values.
// What cannot be read is left out of the job that is returned.
func FromTree(v Value) (Job, finding.List) {
	var j Job
	d := decoder{broken: brokenPlaces{}}
	if other, said := d.otherFormat(v); said {
		return j, finding.List{other}
	}
	d.decode(reflect.ValueOf(&j).Elem(), field{}, v, nil)
	faults := append(d.faults, faultsOf(j, d.broken)...)
	for i := range faults {
		if w := &faults[i].Where; w.Line == 0 {
			w.Line, w.Column = v.Position(w.Path)
		}
	}
	faults.Sort()
	return j, faults
}

// decoder fills a job from a tree and gathers what is wrong.
type decoder struct {
	faults finding.List
	broken brokenPlaces
}

// otherFormat says that a job of another format is not read, which makes everything else about it idle.
func (d *decoder) otherFormat(v Value) (finding.Finding, bool) {
	f, _ := v.get("format")
	n, err := strconv.Atoi(f.Value.Text)
	if f.Value.Kind != KindNumber || err != nil || n == Format {
		return finding.Finding{}, false
	}
	return finding.Finding{
		ID: "job.format", Kind: finding.Fault,
		Text:  fmt.Sprintf("This job says format %s; this program reads format %d.", shortened(f.Value.Text), Format),
		Where: finding.Where{Line: f.Value.Line, Column: f.Value.Column, Path: "format"},
		Try:   fmt.Sprintf("Use the program that wrote it, or write the job anew as format %d.", Format),
	}, true
}

// say adds a fault about the value v at p, and remembers that nothing more is known there.
func (d *decoder) say(id string, v Value, p *place, text, try string) {
	path := p.path()
	d.broken.add(path)
	d.faults = append(d.faults, finding.Finding{
		ID: "job." + id, Kind: finding.Fault, Text: sentence(p.holder() + text), Try: try,
		Where: finding.Where{Line: v.Line, Column: v.Column, Path: path},
	})
}

// decode sets dst, declared as f, from v.
func (d *decoder) decode(dst reflect.Value, f field, v Value, p *place) {
	t := dst.Type()
	switch {
	case v.Kind == KindUnusable:
		d.broken.add(p.path())
	case isEntry(t):
		d.entry(dst, f, v, p)
	case v.Kind == KindEmpty:
		d.say("empty", v, p, p.leaf()+" is empty.", tryExample(f, "Leave the field out, or write "))
	case t.Kind() == reflect.Pointer:
		dst.Set(reflect.New(t.Elem()))
		d.decode(dst.Elem(), f, v, p)
	case isText(t):
		d.text(dst, f, v, p)
	default:
		d.plain(dst, f, v, p)
	}
}

// plain decodes what is neither an entry nor a text of its own form.
func (d *decoder) plain(dst reflect.Value, f field, v Value, p *place) {
	switch dst.Kind() {
	case reflect.Struct:
		d.group(dst, f, v, p)
	case reflect.Slice:
		d.list(dst, f, v, p)
	case reflect.Array:
		d.array(dst, f, v, p)
	case reflect.String:
		d.word(dst, f, v, p)
	case reflect.Bool:
		d.yesNo(dst, f, v, p)
	case reflect.Int:
		d.whole(dst, f, v, p)
	case reflect.Float64:
		d.number(dst, f, v, p)
	default:
		panic("job: no way to read a " + dst.Type().String())
	}
}

// group decodes the fields of a struct.
func (d *decoder) group(dst reflect.Value, f field, v Value, p *place) {
	if v.Kind != KindMap {
		d.otherKind(dst.Type(), f, v, p)
		return
	}
	fields := fieldsOf(dst.Type())
	seen := make(map[string]bool, len(v.Fields))
	for _, written := range v.Fields {
		at := p.field(written.Name)
		i := indexOf(fields, written.Name)
		switch {
		case i < 0:
			if meant := d.unknown(fields, written, at); meant != "" {
				seen[meant] = true
				d.broken.add(p.field(meant).path())
			}
		case seen[written.Name]:
			d.twice(written, at)
		default:
			d.decode(dst.Field(fields[i].index), fields[i], written.Value, at)
		}
		seen[written.Name] = true
	}
	for _, one := range fields {
		if one.required && !seen[one.name] {
			d.missing(one, v, p.field(one.name))
		}
	}
}

func indexOf(fields []field, name string) int {
	for i := range fields {
		if fields[i].name == name {
			return i
		}
	}
	return -1
}

func (d *decoder) missing(f field, v Value, at *place) {
	d.say("missing-field", v, at, fmt.Sprintf("%q is missing.", f.name), belongs(f))
}

func (d *decoder) twice(written Field, at *place) {
	here := Value{Line: written.Line, Column: written.Column}
	d.say("written-twice", here, at, fmt.Sprintf("%s is written twice.", quoted(written.Name)), "Keep the one that is meant.")
}

// unknown says that there is no such field here, and gives back the one that might be meant.
func (d *decoder) unknown(fields []field, written Field, at *place) (meant string) {
	here := Value{Line: written.Line, Column: written.Column}
	if written.Name != "" && written.Name[0] >= '0' && written.Name[0] <= '9' {
		d.say("unknown-field", here, at, fmt.Sprintf("%s stands where the name of a field belongs.", quoted(written.Name)),
			"A comma ends a value between { and }: write numbers with a point and without groups, or put the value in quotes.")
		return ""
	}
	names := make([]string, len(fields))
	for i := range fields {
		names[i] = fields[i].name
	}
	text := fmt.Sprintf("there is no field %s here.", quoted(written.Name))
	if inside := d.belongsIn(fields, written.Name); inside != "" {
		text += fmt.Sprintf(" It belongs in %q.", inside)
	} else {
		meant = suggestion(written.Name, names)
		text += didYouMean(written.Name, names)
	}
	d.say("unknown-field", here, at, text, "Known here: "+strings.Join(names, ", ")+".")
	return meant
}

// belongsIn is the field one level down that has a field of that name.
func (d *decoder) belongsIn(fields []field, name string) string {
	for _, f := range fields {
		t := f.typ
		if t.Kind() == reflect.Pointer {
			t = t.Elem()
		}
		if t.Kind() != reflect.Struct || isText(t) || isEntry(t) {
			continue
		}
		if indexOf(fieldsOf(t), name) >= 0 {
			return f.name
		}
	}
	return ""
}

// list decodes a list; one scalar alone is a list of one.
func (d *decoder) list(dst reflect.Value, f field, v Value, p *place) {
	items := v.Items
	inner := dst.Type().Elem()
	switch {
	case v.Kind == KindList:
	case v.scalar() && (inner.Kind() != reflect.Struct || isText(inner)):
		items = []Value{v}
	default:
		d.otherKind(dst.Type(), f, v, p)
		return
	}
	if len(items) == 0 {
		return
	}
	dst.Set(reflect.MakeSlice(dst.Type(), len(items), len(items)))
	for i, item := range items {
		d.decode(dst.Index(i), f.one(), item, p.item(i, nameIn(item)))
	}
}

// one is f as declared for one item of its list.
func (f field) one() field {
	f.required = true
	if f.example != "" && f.example[0] == '[' {
		f.example = ""
	}
	return f
}

// nameIn is what a written item is called by, for messages.
func nameIn(v Value) string {
	for _, name := range []string{"id", "name", "mark", "what"} {
		if f, ok := v.get(name); ok && (f.Value.Kind == KindText || f.Value.Kind == KindNumber) {
			return shortened(f.Value.Text)
		}
	}
	return ""
}

// array decodes a list of a fixed number of items.
func (d *decoder) array(dst reflect.Value, f field, v Value, p *place) {
	if v.Kind != KindList || len(v.Items) != dst.Len() {
		d.otherKind(dst.Type(), f, v, p)
		return
	}
	for i, item := range v.Items {
		d.decode(dst.Index(i), f.one(), item, p.item(i, ""))
	}
}

// entry decodes a figure in one of its three forms.
func (d *decoder) entry(dst reflect.Value, f field, v Value, p *place) {
	parts := partsOf(dst)
	if v.Kind == KindMap {
		d.pedigree(parts, f, v, p)
	} else {
		d.decode(parts.value, f.one(), v, p)
	}
	if d.broken.touches(p.path()) {
		dst.SetZero()
		return
	}
	*parts.known = true
}

// pedigree decodes {value, from, page, by, on, note} or {assumed, by, on, note}.
func (d *decoder) pedigree(parts pedigree, f field, v Value, p *place) {
	names := append([]string{"value", "assumed"}, pedigreeNames[:]...)
	value, hasValue := v.get("value")
	assumed, hasAssumed := v.get("assumed")
	switch {
	case hasValue && hasAssumed:
		d.say("entry", v, p, p.leaf()+" has a value and an assumed value.", "Keep value where a document gives it, assumed where none does.")
		return
	case !hasValue && !hasAssumed:
		d.say("entry", v, p, p.leaf()+" has neither a value nor an assumed value.", `Write {value: …, page: 3} or {assumed: …, note: why}. Known here: `+strings.Join(names, ", ")+".")
		return
	case hasAssumed:
		value = assumed
	}
	*parts.assumed = hasAssumed
	seen := map[string]bool{}
	for _, written := range v.Fields {
		at := p.field(written.Name)
		i := pedigreeIndex(written.Name)
		switch {
		case seen[written.Name]:
			d.twice(written, at)
		case written.Name == "value" || written.Name == "assumed":
		case i < 0:
			here := Value{Line: written.Line, Column: written.Column}
			d.say("unknown-field", here, at, fmt.Sprintf("there is no field %s here.", quoted(written.Name))+didYouMean(written.Name, names),
				"Known here: "+strings.Join(names, ", ")+".")
		default:
			d.decode(reflect.ValueOf(parts.texts[i]).Elem(), field{name: written.Name}, written.Value, at)
		}
		seen[written.Name] = true
	}
	d.decode(parts.value, f.one(), value.Value, p)
}

func pedigreeIndex(name string) int {
	for i, n := range pedigreeNames {
		if n == name {
			return i
		}
	}
	return -1
}

// text decodes a text of its own form: a length, an angle, a window.
func (d *decoder) text(dst reflect.Value, f field, v Value, p *place) {
	if v.Kind != KindText && v.Kind != KindNumber {
		d.otherKind(dst.Type(), f, v, p)
		return
	}
	if err := dst.Addr().Interface().(encoding.TextUnmarshaler).UnmarshalText([]byte(v.Text)); err != nil {
		dst.SetZero()
		d.notUnderstood(dst.Type(), f, v, p, err)
		return
	}
	if !f.required && dst.IsZero() {
		d.nought(dst, f, v, p)
	}
}

// nought refuses a written nought in an optional field that may not be nought: it would read as if it were left out.
func (d *decoder) nought(dst reflect.Value, f field, v Value, p *place) {
	if in := f.within(); in != nil && !in.holds(0) {
		_, unit, _ := figure(dst)
		d.say("range", v, p, fmt.Sprintf("%s is %s. It has to be %s.", p.leaf(), v.Text, in.words(unit)), f.says())
		d.faults[len(d.faults)-1].Value, d.faults[len(d.faults)-1].Limit = v.Text, in.words(unit)
	}
}
