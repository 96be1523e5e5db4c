package screen

import (
	"reflect"
	"strings"
	"testing"

	"trenchwright/demo"
	"trenchwright/job"
)

// TestLabelsAreOfTheJob holds every label to a field that the job has: a word that is renamed there must not leave its label behind.
func TestLabelsAreOfTheJob(t *testing.T) {
	have := map[string]bool{}
	seen := map[reflect.Type]bool{}
	var walk func(t reflect.Type)
	walk = func(of reflect.Type) {
		switch of.Kind() {
		case reflect.Pointer, reflect.Slice:
			walk(of.Elem())
			return
		case reflect.Struct:
		default:
			return
		}
		if seen[of] {
			return
		}
		seen[of] = true
		for i := range of.NumField() {
			f := of.Field(i)
			name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			have[of.Name()+"."+name] = true
			walk(f.Type)
		}
	}
	walk(reflect.TypeFor[job.Job]())
	for at, said := range labels {
		if !have[at] {
			t.Errorf("%s is no field of the job, and is called %q", at, said)
		}
		if said == "" || strings.ToLower(said[:1]) != said[:1] || strings.HasSuffix(said, ".") || len(said) > 44 {
			t.Errorf("%s: %q is not the name of a field", at, said)
		}
	}
}

// TestFieldsAreSpoken looks at everything along the legs of the demo jobs: each of its fields has a name in whole words that tells
// it from the others, the job's own word, and an example or words to choose from; no two of a card are called alike.
func TestFieldsAreSpoken(t *testing.T) {
	for _, name := range demo.Names() {
		d, p, s := opened(t, name)
		for n, key := range keysOf(s) {
			view := map[string]any{"id": key, "hash": s.Hash}
			if n%2 == 1 {
				view["system"], view["words"] = "imperial", "us"
			}
			var c Card
			asked(t, d, "card", view, &c, p)
			called := map[string]bool{}
			for _, f := range c.Fields {
				switch {
				case called[f.Label]:
					t.Errorf("%s: %s: two fields are called %q", name, key, f.Label)
				case f.Word == "" || !strings.HasSuffix(f.Path, f.Word):
					t.Errorf("%s: %s: %s: the job's word is %q", name, key, f.Path, f.Word)
				case f.Like == "" && len(f.Choice) == 0 && f.Kind != "yes" && f.Kind != "texts":
					t.Errorf("%s: %s: %s: no example", name, key, f.Path)
				case n%2 == 1 && strings.Contains(f.Label+f.About, "chainage"):
					t.Errorf("%s: %s: %s: chainage in US words: %q, %q", name, key, f.Path, f.Label, f.About)
				case f.Kind == "length" && f.Bare != s.Words.LengthUnit, f.Kind == "chainage" && f.Bare != map[string]string{"mm": "m", "in": "ft"}[s.Words.LengthUnit]:
					t.Errorf("%s: %s: %s: a bare number is taken in %q", name, key, f.Path, f.Bare)
				}
				called[f.Label] = true
			}
		}
	}
}
