package job

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"trenchwright/base/measure"
)

func TestSampleSurvivesItsCanonicalText(t *testing.T) {
	j := sample(t)
	text := CanonicalJSON(j)
	again, faults := FromJSON(text)
	if len(faults) > 0 {
		t.Fatalf("the canonical text has faults: %v", faults)
	}
	if diff := cmp.Diff(j, again); diff != "" {
		t.Errorf("decode(encode(j)) differs (-j +again):\n%s", diff)
	}
	if !bytes.Equal(text, CanonicalJSON(again)) {
		t.Error("the second writing has other bytes than the first")
	}
	if Hash(j) != Hash(again) || len(Hash(j)) != 64 {
		t.Errorf("hashes %s and %s", Hash(j), Hash(again))
	}
}

// Sorted keys, no blanks and plain numbers are asked of encoding/json, which sorts the keys of maps.
func TestCanonicalTextIsTheSortedJSONOfItself(t *testing.T) {
	text := CanonicalJSON(sample(t))
	var any map[string]any
	d := json.NewDecoder(bytes.NewReader(text))
	d.UseNumber()
	if err := d.Decode(&any); err != nil {
		t.Fatal(err)
	}
	var sorted bytes.Buffer
	e := json.NewEncoder(&sorted)
	e.SetEscapeHTML(false)
	if err := e.Encode(any); err != nil {
		t.Fatal(err)
	}
	if sorted.String() != string(text) {
		t.Errorf("canonical:\n%s\nsorted by encoding/json:\n%s", text, sorted.String())
	}
}

func TestCanonicalTextIsExact(t *testing.T) {
	j := sample(t)
	j.Supplies[0].Saw.Kerf = Known(measure.Length(4_762_500)) // 3/16 in
	j.Route.Nodes[0].At = &[2]float64{412350.1, -0.0}
	text := string(CanonicalJSON(j))
	for _, want := range []string{`"kerf":"4.7625 mm"`, `"at":[412350.1,0]`, `"mass":"612.5 kg/m"`, `"scale_factor":"0.99963"`, `"first":["1500 mm"]`} {
		if !strings.Contains(text, want) {
			t.Errorf("%s is not in %s", want, text)
		}
	}
	if !strings.HasSuffix(text, "}\n") {
		t.Error("no line break at the end")
	}
}

func TestJobInsideOtherJSON(t *testing.T) {
	j := sample(t)
	held, err := json.Marshal(map[string]Job{"job": j})
	if err != nil {
		t.Fatal(err)
	}
	var again map[string]Job
	if err := json.Unmarshal(held, &again); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(j, again["job"]); diff != "" {
		t.Error(diff)
	}
	err = json.Unmarshal([]byte(`{"format":1}`), &j)
	if err == nil || err.Error() != `"name" is missing.` {
		t.Errorf("got %v", err)
	}
}

// Whatever a job holds, faulty or not, its tree decodes to the same job: only texts, numbers and quantities that cannot
// be written at all are kept out of the drawing.
func TestAnyJobSurvivesItsTree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var j Job
		draw{t}.value(reflect.ValueOf(&j).Elem(), field{})
		j.Format = Format
		again, _ := FromTree(ToTree(j))
		if diff := cmp.Diff(j, again); diff != "" {
			t.Fatalf("FromTree(ToTree(j)) differs (-j +again):\n%s\n%s", diff, CanonicalJSON(j))
		}
		text := CanonicalJSON(j)
		if again, _ = FromJSON(text); !bytes.Equal(text, CanonicalJSON(again)) {
			t.Fatalf("the canonical text changed:\n%s\n%s", text, CanonicalJSON(again))
		}
	})
}

// draw fills values of any type that a job is made of.
type draw struct {
	t *rapid.T
}

func (d draw) value(v reflect.Value, f field) {
	if v.Type() == typeOf[int]() || v.Kind() == reflect.Int64 {
		n := rapid.Int64Range(-1e17, 1e17).Draw(d.t, f.name)
		if v.Kind() == reflect.Int {
			n %= 1e9
		}
		if in := f.within(); n == 0 && in != nil && !in.holds(0) {
			n = 1
		}
		v.SetInt(n)
		return
	}
	switch {
	case isEntry(v.Type()):
		d.entry(partsOf(v), f)
		return
	case v.Type() == typeOf[measure.Grade]():
		rise, run := rapid.Int64Range(0, 1000).Draw(d.t, "rise"), rapid.Int64Range(1, 1000).Draw(d.t, "run")
		g, err := measure.ParseGrade(fmt.Sprintf("%d:%d", rise, run))
		if err != nil {
			d.t.Fatal(err)
		}
		v.Set(reflect.ValueOf(g.Value))
		return
	case v.Type() == typeOf[measure.Window]():
		most := rapid.Int64Range(0, 1e9).Draw(d.t, "max")
		least := rapid.Int64Range(0, most).Draw(d.t, "min")
		v.Set(reflect.ValueOf(measure.Window{Nominal: measure.Length(least + (most-least)/3), Min: measure.Length(least), Max: measure.Length(most)}))
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		if rapid.Bool().Draw(d.t, f.name+" is there") {
			v.Set(reflect.New(v.Type().Elem()))
			d.value(v.Elem(), f)
		}
	case reflect.Struct:
		if isText(v.Type()) {
			for i := range v.NumField() {
				d.value(v.Field(i), field{name: f.name, typ: v.Field(i).Type()})
			}
			return
		}
		for _, inner := range fieldsOf(v.Type()) {
			d.value(v.Field(inner.index), inner)
		}
	case reflect.Slice:
		n := rapid.IntRange(0, 2).Draw(d.t, f.name+" count")
		if n > 0 {
			v.Set(reflect.MakeSlice(v.Type(), n, n))
		}
		for i := range n {
			d.value(v.Index(i), f.one())
		}
	case reflect.Array:
		for i := range v.Len() {
			d.value(v.Index(i), f)
		}
	case reflect.Bool:
		v.SetBool(rapid.Bool().Draw(d.t, f.name))
	case reflect.Float64:
		x := rapid.Float64().Draw(d.t, f.name)
		v.SetFloat(x + 0)
	case reflect.String:
		text := rapid.StringN(0, 12, -1).Draw(d.t, f.name)
		if text == "" && f.required {
			text = "x"
		}
		v.SetString(text)
	}
}

func (d draw) entry(parts pedigree, f field) {
	if *parts.known = rapid.Bool().Draw(d.t, f.name+" is known"); !*parts.known {
		return
	}
	*parts.assumed = rapid.Bool().Draw(d.t, f.name+" is assumed")
	for i, text := range parts.texts {
		*text = rapid.StringN(0, 6, -1).Draw(d.t, pedigreeNames[i])
	}
	d.value(parts.value, f.one())
}
