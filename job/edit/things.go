package edit

import (
	"fmt"
	"math"
	"reflect"
	"strings"
)

// kinds are the kinds of things along a leg: the list that they stand in, and what their ids begin with.
var kinds = [...]struct{ kind, list, prefix string }{
	{"crossing", "crossings", "X"}, {"service", "services", "W"}, {"entry", "entries", "E"}, {"support", "supports", "P"},
	{"zone", "zones", "Z"}, {"joint", "joints", "J"}, {"pin", "pins", "L"}, {"outlet", "outlets", "O"},
}

// listOf is the path of the list of a kind on a leg.
func (w *work) listOf(kind, leg string) (string, bool) {
	if kind == "forced" { // as a screen calls it
		kind = "joint"
	}
	for _, k := range kinds {
		if k.kind != kind {
			continue
		}
		if kind == "pin" || kind == "outlet" {
			return "levels." + k.list, true
		}
		return "route.legs[" + leg + "]." + k.list, true
	}
	var all []string
	for _, k := range kinds {
		all = append(all, k.kind)
	}
	return "", w.fault("no-kind", "", fmt.Sprintf("%q lies along no leg", kind), "one of "+strings.Join(all, ", "))
}

// freshThing is the next id of a kind, like another one's.
func (w *work) freshThing(kind, like string) string {
	for _, k := range kinds {
		if k.kind == kind {
			return w.fresh(k.prefix, []string{like})
		}
	}
	return w.fresh("T", []string{like})
}

// listHere is the list that an edit speaks of, and its item if it names one.
func (w *work) listHere(e *Edit, leg string) (path string, ok bool) {
	if e.Path != "" {
		return e.Path, true
	}
	if !w.declared() {
		return "", false
	}
	if _, ok := w.leg(leg); !ok {
		return "", false
	}
	return w.listOf(e.Kind, leg)
}

// add puts a new thing on a leg, or a new item into any list.
func (w *work) add(e *Edit) bool {
	path, ok := w.listHere(e, e.Leg)
	if !ok {
		return false
	}
	at, ok := w.field(path, true)
	if !ok {
		return false
	}
	if at.value.Kind() != reflect.Slice || at.value.Type().Elem().Kind() != reflect.Struct {
		return w.fault("no-list", path, at.name+" is no list of things", "the path of a list")
	}
	one := reflect.New(at.value.Type().Elem()).Elem()
	if !w.fill(one, path, e) {
		return false
	}
	id := ""
	if f, ok := named(one.Type(), "id"); ok {
		v := one.FieldByIndex(f.Index)
		if e.ID != "" {
			v.SetString(e.ID)
		}
		if v.String() == "" {
			like := ""
			if n := at.value.Len(); n > 0 {
				like = idOf(at.value.Index(n - 1))
			}
			v.SetString(w.freshThing(e.Kind, like))
		}
		id = v.String()
	}
	said := ""
	if e.Kind != "" {
		if said, ok = w.put(one, e); !ok {
			return false
		}
	}
	at.value.Set(reflect.Append(at.value, one))
	name := strings.TrimSpace(singular(lastWord(path)) + " " + id)
	if said != "" {
		said = " at " + said
	}
	return w.say(w.key(e.Kind, e.Leg, id), "%s added%s", name, said)
}

func lastWord(path string) string {
	return strings.ReplaceAll(path[strings.LastIndexByte(path, '.')+1:], "_", " ")
}

// key is what a screen calls a thing along a leg.
func (w *work) key(kind, leg, id string) string {
	switch kind {
	case "":
		return ""
	case "pin", "outlet":
		return kind + "/" + id
	case "joint":
		kind = "forced"
	}
	return kind + "/" + leg + "/" + id
}

// put gives a thing its leg and its place there, where the edit says one.
func (w *work) put(one reflect.Value, e *Edit) (said string, ok bool) {
	leg := orElse(e.ToLeg, e.Leg)
	if f := one.FieldByName("Leg"); f.IsValid() {
		f.SetString(leg)
	}
	if e.Level != nil {
		if f := one.FieldByName("Level"); f.IsValid() && f.Kind() == reflect.Float64 {
			f.SetFloat(math.Round(*e.Level/w.job.Coordinates.Unit.Metres()*1000) / 1000)
		}
	}
	if e.AtMM == nil && strings.TrimSpace(e.At) == "" {
		return "", true
	}
	ch, said, ok := w.chainage(e)
	if !ok {
		return "", false
	}
	if p := length(one, "At"); p != nil {
		*p = ch
		return said, true
	}
	from, to := length(one, "From"), length(one, "To")
	if from != nil && to != nil { // it is moved as it is long
		*from, *to = ch, ch+max(0, *to-*from)
		return said, true
	}
	return said, true
}

// thing is an item by kind, leg and id, or by its path.
func (w *work) thing(e *Edit) (found, string, bool) {
	path, ok := w.listHere(e, e.Leg)
	if !ok {
		return found{}, "", false
	}
	if e.Path == "" {
		path += "[" + e.ID + "]"
	}
	at, ok := w.field(path, false)
	if ok && !at.list.IsValid() {
		ok = w.fault("no-item", path, at.name+" is no item of a list", "the path of an item: documents[D1]")
	}
	return at, path, ok
}

// move puts a thing elsewhere on its leg, or on another one.
func (w *work) move(e *Edit) bool {
	at, path, ok := w.thing(e)
	if !ok {
		return false
	}
	one := reflect.New(at.value.Type()).Elem()
	one.Set(at.value)
	said, ok := w.put(one, e)
	if !ok {
		return false
	}
	key := w.key(e.Kind, orElse(e.ToLeg, e.Leg), e.ID)
	if e.ToLeg == "" || e.ToLeg == e.Leg || e.Path != "" || strings.HasPrefix(path, "levels.") {
		at.value.Set(one)
		return w.say(key, "%s moved to %s", at.name, said)
	}
	to, ok := w.listHere(e, e.ToLeg)
	if !ok {
		return false
	}
	cut(at.list, at.index)
	list, ok := w.field(to, true)
	if !ok {
		return false
	}
	list.value.Set(reflect.Append(list.value, one))
	return w.say(key, "%s moved to leg %s at %s", at.name, e.ToLeg, said)
}

// remove takes a thing out; its id is withdrawn.
func (w *work) remove(e *Edit) bool {
	at, path, ok := w.thing(e)
	if !ok {
		return false
	}
	if strings.HasPrefix(path, "route.legs[") && strings.Count(path, ".") == 1 {
		return w.removeLeg(&Edit{Leg: idOf(at.value)})
	}
	id := ""
	if _, has := named(at.value.Type(), "id"); has {
		id = idOf(at.value)
	}
	cut(at.list, at.index)
	w.withdraw(orElse(e.Kind, singular(strings.ToLower(at.field.Name))), id)
	return w.say(w.key(e.Kind, e.Leg, e.ID), "%s taken out", at.name)
}

// cut takes an item out of a list.
func cut(list reflect.Value, i int) {
	for k := i; k+1 < list.Len(); k++ {
		list.Index(k).Set(list.Index(k + 1))
	}
	list.Index(list.Len() - 1).SetZero()
	list.SetLen(list.Len() - 1)
}
