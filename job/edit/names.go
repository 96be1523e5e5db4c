package edit

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"trenchwright/job"
	"trenchwright/place/route"
)

// used are all ids of the job, those of withdrawn things too, in small letters.
func (w *work) used() map[string]bool {
	out := map[string]bool{}
	everyID(reflect.ValueOf(&w.job).Elem(), func(id string) { out[strings.ToLower(id)] = true })
	for _, id := range w.given {
		out[strings.ToLower(id)] = true
	}
	return out
}

// everyID calls see with the ids of all things in lists.
func everyID(v reflect.Value, see func(id string)) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			everyID(v.Elem(), see)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			everyID(v.Field(i), see)
		}
	case reflect.Slice:
		if v.Type().Elem().Kind() != reflect.Struct {
			return
		}
		for i := range v.Len() {
			if f, ok := named(v.Type().Elem(), "id"); ok {
				see(v.Index(i).FieldByIndex(f.Index).String())
			}
			everyID(v.Index(i), see)
		}
	}
}

// fresh is the next id of a kind, by the pattern of those that there are: letters, then a number. It is none that is used or
// was ever withdrawn.
func (w *work) fresh(prefix string, like []string) string {
	taken := w.used()
	width := 1
	for _, id := range like {
		if stem := strings.TrimRight(id, "0123456789"); stem != id && stem != "" {
			prefix, width = stem, len(id)-len(stem)
		}
	}
	most := highest(taken, prefix)
	for n := most + 1; ; n++ {
		number := strconv.Itoa(n)
		id := prefix + strings.Repeat("0", max(0, width-len(number))) + number
		if !taken[strings.ToLower(id)] {
			w.given = append(w.given, id)
			return id
		}
	}
}

// highest is the greatest number behind a prefix that is used or was withdrawn: a new thing comes after all of them.
func highest(taken map[string]bool, prefix string) int {
	most := 0
	for id := range taken {
		if rest, ok := strings.CutPrefix(id, strings.ToLower(prefix)); ok {
			if n, err := strconv.Atoi(rest); err == nil && strconv.Itoa(n) == strings.TrimLeft(rest, "0") {
				most = max(most, n)
			}
		}
	}
	return most
}

// freshLeg is the next id of a leg: A, B, … or by the pattern of those that there are.
func (w *work) freshLeg() string {
	var all []string
	for _, l := range w.job.Route.Legs {
		all = append(all, l.ID)
	}
	if len(all) == 0 {
		all = []string{""}
	}
	if last := all[len(all)-1]; strings.TrimRight(last, "0123456789") != last {
		return w.fresh("L", all)
	}
	taken := w.used()
	for i := len(w.job.Route.Legs); ; i++ {
		if id := route.LegName(i); !taken[strings.ToLower(id)] {
			w.given = append(w.given, id)
			return id
		}
	}
}

func (w *work) freshNode() string {
	var all []string
	for _, n := range w.job.Route.Nodes {
		all = append(all, n.ID)
	}
	return w.fresh("N", all)
}

// withdraw keeps an id from ever being given again.
func (w *work) withdraw(what, id string) {
	if id == "" {
		return
	}
	for _, old := range w.job.Route.Withdrawn {
		if strings.EqualFold(old.ID, id) {
			return
		}
	}
	w.job.Route.Withdrawn = append(w.job.Route.Withdrawn, job.Withdrawn{ID: id, What: what})
}

// rename gives a thing another id, wherever it is named. The old id is withdrawn. Anything else that has a name is set.
func (w *work) rename(e *Edit) bool {
	at, ok := w.field(e.Path, true)
	if !ok {
		return false
	}
	if at.list.IsValid() {
		if at, ok = w.field(e.Path+".id", true); !ok {
			return false
		}
	}
	text := strings.TrimSpace(e.Text)
	old := at.value.String()
	if at.field.Name != "ID" {
		set := *e
		return w.set(&set)
	}
	if old == text {
		return w.say("", "%s: still %s", at.name, old)
	}
	for _, v := range w.job.Route.Withdrawn {
		if strings.EqualFold(v.ID, text) {
			return w.fault("withdrawn", e.Path, fmt.Sprintf("the id %s was that of a %s that was withdrawn, and stands in papers that people hold", text, v.What), "another id")
		}
	}
	kind := refKind(e.Path)
	if kind == "leg" {
		if i := slices.IndexFunc(w.job.Route.Legs, func(l job.Leg) bool { return l.ID == old }); i >= 0 && !w.lying(i, "its places are named by it") {
			return false
		}
	}
	at.value.SetString(text)
	if kind != "" {
		w.renamed(kind, old, text)
	}
	if old != "" {
		w.withdraw(orElse(kind, "thing"), old)
	}
	return w.say("", "%s %s is now %s", orElse(kind, "id"), old, text)
}

func orElse(a, b string) string {
	if a == "" {
		return b
	}
	return a
}

// refKind is what others call a thing by in their tags, by its path; empty: nothing names it.
func refKind(path string) string {
	all, err := steps(path)
	if err != nil {
		return ""
	}
	kind := ""
	for _, s := range all {
		switch s.name {
		case "nodes":
			kind = "node"
		case "legs":
			kind = "leg"
		case "supplies":
			kind = "supply"
		case "documents":
			kind = "document"
		case "fittings":
			kind = "fitting"
		case "id", "route":
		default:
			if s.name != "id" && kind != "" && !strings.HasPrefix(s.name, "supplies.") {
				kind = ""
			}
		}
	}
	return kind
}

// renamed changes every text that names a thing of a kind. A figure's document is named by its From.
func (w *work) renamed(kind, old, now string) {
	var walk func(v reflect.Value)
	name := func(v reflect.Value) {
		if v.Kind() == reflect.String && v.String() == old {
			v.SetString(now)
		}
	}
	walk = func(v reflect.Value) {
		switch v.Kind() {
		case reflect.Pointer:
			if !v.IsNil() {
				walk(v.Elem())
			}
		case reflect.Slice, reflect.Array:
			for i := range v.Len() {
				walk(v.Index(i))
			}
		case reflect.Struct:
			if _, entry := entryValue(v); entry && kind == "document" {
				name(v.FieldByName("From"))
			}
			for i := range v.NumField() {
				tag := v.Type().Field(i).Tag
				if tag.Get("ref") == kind || kind == "document" && tag.Get("rule") == "spare-source" {
					f := v.Field(i)
					name(f)
					for k := 0; f.Kind() == reflect.Slice && k < f.Len(); k++ {
						name(f.Index(k))
					}
				}
				walk(v.Field(i))
			}
		}
	}
	walk(reflect.ValueOf(&w.job).Elem())
}
