package edit

import (
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/job"
	"trenchwright/job/planner"
)

// field is a field of the job by its path.
func (w *work) field(path string, make bool) (found, bool) {
	at, err := find(reflect.ValueOf(&w.job).Elem(), path, make)
	if err != nil {
		return at, w.fault("no-field", path, err.Error(), "a path of the job: route.legs[A].crossings[X1].width")
	}
	return at, true
}

// set reads typed text into a field, with the document that a figure comes from.
func (w *work) set(e *Edit) bool {
	at, ok := w.field(e.Path, true)
	if !ok {
		return false
	}
	if at.field.Tag.Get("rule") == "id" && at.field.Name == "ID" || at.field.Tag.Get("rule") == "leg-id" {
		return w.rename(e)
	}
	var before *job.Job // of a curve: what it is changed from
	if at.field.Name == "Radius" && strings.Contains(e.Path, "via") {
		before = new(copied(w.job))
	}
	text := e.Text
	if e.Level != nil {
		text = number(math.Round(*e.Level/w.job.Coordinates.Unit.Metres()*1000) / 1000)
	}
	if e.Radius != nil {
		text = strconv.FormatFloat(math.Round(*e.Radius*1000), 'f', -1, 64) + " mm"
	}
	said, err := w.typist().read(at.value, at.field, text)
	if err != nil {
		return w.misread(e.Path, err)
	}
	w.source(at.value, e)
	if before != nil && !w.stillFits(*before) {
		return false
	}
	return w.say("", "%s: %s", at.name, said)
}

// stillFits tells whether the curves of a run that fitted before fit now. Where they do not, why stands among the faults.
func (w *work) stillFits(before job.Job) bool {
	if _, _, faults := planner.Run(before); faults.Any(finding.Fault) {
		return true // it was not this edit
	}
	w.net = nil
	_, ok := w.network()
	return ok
}

// source notes where a figure comes from.
func (w *work) source(v reflect.Value, e *Edit) {
	v = made(v)
	if _, ok := entryValue(v); !ok {
		return
	}
	v.FieldByName("Known").SetBool(true)
	v.FieldByName("Assumed").SetBool(e.Assumed)
	v.FieldByName("From").SetString(e.From)
	v.FieldByName("Page").SetString(e.Page)
	v.FieldByName("Note").SetString(e.Note)
}

// clear makes a field one that nobody entered.
func (w *work) clear(e *Edit) bool {
	at, ok := w.field(e.Path, false)
	if !ok {
		return false
	}
	if at.list.IsValid() {
		return w.fault("clear-item", e.Path, at.name+" is an item, not a field", "remove it")
	}
	at.value.SetZero()
	return w.say("", "%s: nobody entered it", at.name)
}

// fill sets fields of a new thing from typed text.
func (w *work) fill(v reflect.Value, path string, e *Edit) bool {
	for _, f := range e.Fields {
		if strings.TrimSpace(f.Text) == "" {
			continue
		}
		at, err := find(v, f.Name, true)
		if err != nil {
			return w.fault("no-field", path, fmt.Sprintf("%s: %v", path, err), "one of its fields")
		}
		if _, err := w.typist().read(at.value, at.field, f.Text); err != nil {
			return w.misread(join(".", path, f.Name), err)
		}
		w.source(at.value, e)
	}
	return true
}
