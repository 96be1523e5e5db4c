//go:build js && wasm

// Command corewasm is the planning core for browsers: jobs as JSON in, plans as JSON out. It holds no
// state: every call gets the whole job, so that a worker may be thrown away at any time.
package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"syscall/js"

	"trenchwright/base/finding"
	"trenchwright/job"
	"trenchwright/job/planner"
)

func main() {
	js.Global().Set("trenchwrightCore", js.ValueOf(map[string]any{
		"version": planner.Core,
		"plan":    js.FuncOf(func(_ js.Value, args []js.Value) any { return answer(args, plan) }),
	}))
	select {}
}

// answer gives the result as bytes, or an object with the error in words. The job comes as JSON text; its attachments, where
// it has any, as an object that holds the bytes of each under its name.
func answer(args []js.Value, f func([]byte, attachments) ([]byte, error)) any {
	if len(args) < 1 || len(args) > 2 || args[0].Type() != js.TypeString || len(args) == 2 && args[1].Type() != js.TypeObject {
		return js.ValueOf(map[string]any{"error": "the job is expected as JSON text, and behind it an object with the bytes of its attachments"})
	}
	var with attachments
	if len(args) == 2 {
		with.held = args[1]
	}
	b, err := f([]byte(args[0].String()), with)
	if err != nil {
		return js.ValueOf(map[string]any{"error": err.Error()})
	}
	a := js.Global().Get("Uint8Array").New(len(b))
	js.CopyBytesToJS(a, b)
	return a
}

// attachments are files of a job by their names; the zero value holds none.
type attachments struct{ held js.Value }

func (a attachments) get(name string) ([]byte, error) {
	if a.held.IsUndefined() || a.held.Get(name).IsUndefined() {
		return nil, errors.New("it was not given")
	}
	v := a.held.Get(name)
	b := make([]byte, v.Length())
	js.CopyBytesToGo(b, v)
	return b, nil
}

func read(text []byte) (job.Job, error) {
	j, faults := job.FromJSON(text)
	if faults.Any(finding.Fault) {
		b, _ := json.Marshal(faults)
		return j, fmt.Errorf("%s", b)
	}
	return j, nil
}

func plan(text []byte, with attachments) ([]byte, error) {
	j, err := read(text)
	if err != nil {
		return nil, err
	}
	surfaces, err := planner.Surfaces(j, with.get)
	if err != nil {
		return nil, err
	}
	return json.Marshal(planner.Make(j, surfaces...))
}
